package flat_test

import (
	"math"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// The lines of a bend of the handbook's channel, from the mold line at y = 0 of the lower edge:
// the near tangent a setback of .16 + .04 = .20 in inside it, the far one an allowance of .279072 in
// (see TestHandbookChannel) further out, the centre midway, and the sight line one radius, .16 in,
// from the near tangent into the bend (FAA-H-8083-31 ch. 4).
func TestLinesOfABend(t *testing.T) {
	b, err := flat.Develop(channel(bend.Handbook{}))
	require.NoError(t, err)
	l := b.Bends[0]
	for name, c := range map[string]struct {
		path outline.Path
		y    float64
	}{
		"near": {l.Near, .20}, "center": {l.Center, .20 - .279072/2}, "far": {l.Far, .20 - .279072}, "sight": {l.Sight, .20 - .16},
	} {
		require.Len(t, c.path.Vertices, 2, name)
		for _, v := range c.path.Vertices {
			assert.InDelta(t, c.y*inch, v.P.Y, 1e-9, name)
		}
		assert.InDelta(t, 6*inch, c.path.Length(), 1e-9, name)
	}
}

// Where the bevel changes the lines are curves: halfway along a bevel from 75° to 105° the setback is
// that of 90°, .20 in, where the chord between the ends would lie .2·(tan 37.5° + tan 52.5°)/2 = .207 in
// inside the mold line.
func TestLinesOfATwistedBend(t *testing.T) {
	p := plate(6, 4, .040, .16, [4]*flat.Flange{{Angle: 75 * measure.Degree, AngleEnd: 105 * measure.Degree, Height: 1 * inch}})
	b, err := flat.Develop(p)
	require.NoError(t, err)
	near := b.Bends[0].Near
	require.Greater(t, len(near.Vertices), 2)
	for _, x := range []float64{1.5, 3, 4.5} { // in
		bevel := (75 + 30*x/6) * math.Pi / 180
		assert.InDelta(t, 0, near.Distance(r2.Vec{X: x * inch, Y: .2 * inch * math.Tan(bevel/2)}), 0.006, "%g in along", x)
	}
}

// A bevel may open as far as the limit of 170° and run on to the tip of its flange.
func TestWideBevel(t *testing.T) {
	p := plate(6, 4, .040, .16, [4]*flat.Flange{{Angle: 160 * measure.Degree, AngleEnd: 169 * measure.Degree, Height: 3 * inch}})
	b, err := flat.Develop(p)
	require.NoError(t, err)
	require.NoError(t, b.Outline.Validate())
}

// A web whose flange ends within an edge has the two corners of its slot.
func TestWebGoesRoundASlot(t *testing.T) {
	p := plate(6, 4, .040, .16, [4]*flat.Flange{{Angle: 90 * measure.Degree, Height: 1 * inch, From: 1 * inch, To: 6 * inch}})
	b, err := flat.Develop(p)
	require.NoError(t, err)
	web := outline.Polygon(b.Panels[0].Outline...)
	// 6 in by 4 in, less .2 in by 5 in of bend and .2 in by .32 in of slot.
	assert.InDelta(t, (24-.2*5-.2*.32)*inch*inch, web.Area(), 1e-9)
}
