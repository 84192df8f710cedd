package flat_test

import (
	"math"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// twisted is the handbook channel with the bevel of its lower flange going from 86°
// to 97° along the edge.
func twisted() flat.Part {
	p := channel(bend.Handbook{})
	p.Web.Edges[0].Flanges = []flat.Flange{{
		Angle: degrees(86), AngleEnd: degrees(97), Height: 25.4,
		Features: flat.Features{Holes: []flat.Hole{{At: r2.Vec{X: 70, Y: 15}, Diameter: 3}}},
	}}
	return p
}

// The blank of a twisted flange, against the formula at each station: the free
// edge lies h - 2·SB(A) + BA(A) out from the mold line.
func TestTwistedFlange(t *testing.T) {
	b, err := flat.Develop(twisted())
	require.NoError(t, err)
	width := func(u float64) float64 {
		a := 86 + 11*u/152.4 // degrees
		sb := (0.16 + 0.040) * 25.4 * math.Tan(a/2*math.Pi/180)
		ba := (0.01743*0.16 + 0.0078*0.040) * 25.4 * a
		return 25.4 - 2*sb + ba
	}
	seen := 0
	for _, v := range b.Panels[1].Outline {
		if u := v.X; -v.Y > 15 {
			assert.InDelta(t, width(u), -v.Y, 1e-9, "station %v", u)
			seen++
		}
	}
	require.Greater(t, seen, 20)
	// Chords between sections leave the mold-line proof well inside a micron.
	assert.Less(t, b.Proof.Largest(), 1e-4)
	assert.Positive(t, b.Proof.Largest())
	assert.Contains(t, texts(b, flat.Note), "twist of 7.22° in 100 mm") // 11°/1.524
	require.NoError(t, b.Outline.Validate())

	// The cut line is arcs, not facets: a handful of them, each on the curve.
	arcs := 0
	for _, s := range b.Outline.Segments() {
		if s.Bulge != 0 && s.Bulge > -0.5 { // not a relief
			arcs++
			mid := s.At(0.5)
			assert.InDelta(t, width(mid.X), -mid.Y, 0.005)
		}
	}
	assert.Positive(t, arcs)
	assert.Less(t, arcs, 12)
}

// The same bevel given from the other end is the mirror image.
func TestTwistMirrors(t *testing.T) {
	b, err := flat.Develop(twisted())
	require.NoError(t, err)
	m, err := flat.Develop(twisted().Mirrored())
	require.NoError(t, err)
	assert.InDelta(t, b.Area, m.Area, 1e-6)
	assert.InDelta(t, -b.Holes[0].Center.X, m.Holes[0].Center.X, 1e-9)
	assert.InDelta(t, b.Holes[0].Center.Y, m.Holes[0].Center.Y, 1e-9)
}

// The free edge of a flange whose bevel and height both change runs through what either is midway: 90° and 1.25 in, which lie
// (.01743·.16 + .0078·.04)·90 - 2·.2 = -.12093 in from that off the mold line on the blank.
func TestTaperedFlangeWhoseBevelChanges(t *testing.T) {
	p := lowerFlange(flat.Flange{Angle: degrees(80), AngleEnd: degrees(100), Height: 1 * inch, HeightEnd: 1.5 * inch})
	b, err := flat.Develop(p)
	require.NoError(t, err)
	deduction := .4 - (.01743*.16+.0078*.04)*90
	assert.InDelta(t, 0, b.Outline.Distance(r2.Vec{X: 3 * inch, Y: -(1.25 - deduction) * inch}), 0.01)
}
