package flat_test

import (
	"math"
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// besidePlain is a plate whose lower edge has a flange and whose next, plain edge turns
// from it by so much, as far as an inch upward.
func besidePlain(turn measure.Angle) flat.Part {
	p := plate(6, 4, .040, .16, [4]*flat.Flange{{Angle: 90 * measure.Degree, Height: 1 * inch}})
	shoulder := r2.Add(r2.Vec{X: 6 * inch}, r2.Scale(1*inch/math.Sin(turn.Radians()), r2.Vec{X: math.Cos(turn.Radians()), Y: math.Sin(turn.Radians())}))
	if turn == 45*measure.Degree {
		shoulder = r2.Vec{X: 7 * inch, Y: 1 * inch} // to the bit
	}
	e := p.Web.Edges
	e[2].Start.X = shoulder.X
	p.Web.Edges = []flat.Edge{e[0], e[1], {Name: "shoulder", Start: shoulder}, e[2], e[3]}
	return p
}

// From a turn of 45° on a plain edge is followed into the flange beside it; at less the
// bend is parted from it by a slot. 45° itself belongs to the first.
func TestPlainEdgeIsFollowedFrom45(t *testing.T) {
	corners := func(turn measure.Angle) int {
		b, err := flat.Develop(besidePlain(turn))
		require.NoError(t, err, "%v", turn)
		assert.Less(t, b.Proof.Largest(), 1e-6)
		return len(b.Outline.Vertices)
	}
	followed := corners(60 * measure.Degree)
	assert.Equal(t, followed, corners(45*measure.Degree))
	assert.Greater(t, corners(44*measure.Degree), followed)
	// The same with the plain edge before the flange: mirrored.
	mirrored := func(turn measure.Angle) int {
		b, err := flat.Develop(besidePlain(turn).Mirrored())
		require.NoError(t, err)
		return len(b.Outline.Vertices)
	}
	assert.Equal(t, followed, mirrored(60*measure.Degree))
	assert.Equal(t, followed, mirrored(45*measure.Degree))
	assert.Greater(t, mirrored(44*measure.Degree), followed)
}

// A bend whose bevel changes ends where its own curved tangent line crosses the plain
// edge beside it, not where that of its mean bevel would: the end of the line lies on
// the edge, and the line through it makes the bevel of that very station.
func TestTwistedBendEndsOnThePlainEdge(t *testing.T) {
	p := besidePlain(60 * measure.Degree)
	f := &p.Web.Edges[0].Flanges[0]
	f.Angle, f.AngleEnd = 75*measure.Degree, 105*measure.Degree
	b, err := flat.Develop(p)
	require.NoError(t, err)
	near := b.Bends[0].Near.Vertices
	first, last := near[0].P, near[len(near)-1].P
	assert.InDelta(t, 0, first.X, 1e-9, "on the left edge")
	from := r2.Vec{X: 6 * inch}
	along := r2.Vec{X: math.Cos(math.Pi / 3), Y: math.Sin(math.Pi / 3)}
	assert.InDelta(t, 0, r2.Cross(along, r2.Sub(last, from)), 1e-9, "on the plain edge")
	// The bevel runs evenly along the edge; the setback of the station is how far the
	// tangent line lies inside it there.
	for _, end := range []r2.Vec{first, last} {
		bevel := (75 + 30*end.X/(6*inch)) * math.Pi / 180
		assert.InDelta(t, .2*inch*math.Tan(bevel/2), end.Y, 1e-6, "at %v", end)
	}
}

// Two bends meet at a turn of 170° at most: a web that runs out over 6 in to a point of .5 in turns by
// 180° - atan(.5/6) = 175.2° there, one of 1.5 in by 166.0°. That is too sharp for a notch still, which takes 150°.
func TestTooSharpAPointForTwoBends(t *testing.T) {
	pointed := func(high float64, kind flat.CornerKind) error {
		p := plate(6, high, .040, .16, [4]*flat.Flange{})
		e := p.Web.Edges
		f := []flat.Flange{{Angle: 90 * measure.Degree, Height: 1 * inch}}
		p.Web.Edges = []flat.Edge{{Name: "lower", Start: e[0].Start, Flanges: f}, {Name: "upper", Start: e[1].Start, Flanges: f}, {Name: "left", Start: e[3].Start}}
		p.Web.Edges[1].Corner.Kind = kind
		_, err := flat.Develop(p)
		return err
	}
	const rule = "two bends meet at a turn of 5° to 170°, else a plain piece parts them"
	assert.ErrorContains(t, pointed(.5, flat.Drilled), rule)
	if err := pointed(1.5, flat.Drilled); err != nil {
		assert.NotContains(t, err.Error(), rule)
	}
	assert.ErrorContains(t, pointed(1.5, flat.Notched), "a notch needs a turn of 30° to 150°, drill the corner instead")
}
