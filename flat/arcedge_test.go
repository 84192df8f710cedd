package flat_test

import (
	"math"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// The curved end of a channel stays an arc of its own circle, round or hollow, nearly a half circle or slight,
// and whichever of its two neighbours carries a flange. Over a chord of 2 in its radius is (1 + b²)/(2b) in.
func TestArcsStayOnTheirCircle(t *testing.T) {
	for _, bulge := range []float64{0.4, -0.3, 0.9, 0.05, -0.05} {
		for _, bare := range []int{-1, 0, 2} { // the edge that loses its flange
			p := channel(bend.Handbook{})
			p.Web.Edges[1].Bulge = bulge
			if bare >= 0 {
				p.Web.Edges[bare].Flanges = nil
			}
			b, err := flat.Develop(p)
			require.NoError(t, err, "%g, %d", bulge, bare)
			require.NoError(t, b.Outline.Validate())
			radius := (1 + bulge*bulge) / (2 * math.Abs(bulge)) * inch
			h := (1 - bulge*bulge) / (2 * bulge) * inch // from the chord to the centre, to the left
			center := r2.Vec{X: 6*inch - h, Y: 1 * inch}
			arcs := 0
			for _, s := range b.Outline.Segments() {
				if s.Bulge == 0 || math.Abs(s.Radius()-.16*inch) < 1e-6 { // a slot's round bottom
					continue
				}
				arcs++
				assert.Equal(t, bulge > 0, s.Bulge > 0)
				assert.InDelta(t, radius, s.Radius(), 1e-8)
				assert.InDelta(t, 0, r2.Norm(r2.Sub(s.Center(), center)), 1e-8)
			}
			assert.Equal(t, 1, arcs, "bulge %g, without the flange of edge %d", bulge, bare)
		}
	}
}

// It is the direction in which an arc leaves, not its chord, that tells whether a bend runs out through it or
// is parted from it: a plain edge that turns 35° by its chord leaves at 35° and half its sweep, 22.6° for a bulge of
// -.2, so more than 45° when it is hollow and less when it is round.
func TestArcLeavesByItsTangent(t *testing.T) {
	slots := func(bulge float64) (n int) {
		p := besidePlain(degrees(35))
		p.Web.Edges[1].Bulge = bulge
		b, err := flat.Develop(p)
		require.NoError(t, err)
		for _, s := range b.Outline.Segments() {
			if s.Bulge == -1 {
				n++
			}
		}
		return n
	}
	assert.Equal(t, 0, slots(-.2))
	assert.Equal(t, 1, slots(.2))
}

// Of a bevel from 80° to 100° between stations 1 and 5 in the tangent line lies .2·tan(A/2) in inside the mold
// line, where A is 80° at station 1, 90° at 3 and 100° at 5.
func TestBevelGoesByTheFlangesOwnStations(t *testing.T) {
	p := lowerFlange(flat.Flange{Angle: degrees(80), AngleEnd: degrees(100), Height: 1 * inch, From: 1 * inch, To: 5 * inch})
	b, err := flat.Develop(p)
	require.NoError(t, err)
	for x, bevel := range map[float64]float64{1.02: 80.1, 3: 90, 4.98: 99.9} {
		at := r2.Vec{X: x * inch, Y: .2 * inch * math.Tan(bevel/2*math.Pi/180)}
		assert.InDelta(t, 0, b.Bends[0].Near.Distance(at), 0.006, "%g in", x)
	}
	assert.Less(t, b.Proof.Largest(), 1e-3)
}

// Where the web turns back over a flange at an inner corner, the flange, flat, is cut clear of it by the gap.
func TestFlangeBesideTheWebItself(t *testing.T) {
	p := plate(6, 4, .040, .16, [4]*flat.Flange{})
	p.Gap = 1
	e := p.Web.Edges
	p.Web.Edges = []flat.Edge{e[0], e[1],
		{Name: "shelf", Start: r2.Vec{X: 6 * inch, Y: 1 * inch}, Flanges: []flat.Flange{{Angle: degrees(90), Height: 1 * inch}}},
		// It leans over the shelf, 1 in in 1.
		{Name: "lean", Start: r2.Vec{X: 2 * inch, Y: 1 * inch}},
		{Name: "upper", Start: r2.Vec{X: 5 * inch, Y: 4 * inch}}, e[3]}
	b, err := flat.Develop(p)
	require.NoError(t, err)
	require.NoError(t, b.Outline.Validate())
	assert.NotContains(t, texts(b, flat.Stop), "overlaps itself")
	lean := outline.Segment{A: r2.Vec{X: 2 * inch, Y: 1 * inch}, B: r2.Vec{X: 5 * inch, Y: 4 * inch}}
	least := math.Inf(1)
	for _, q := range b.Panels[1].Outline {
		if q.Y > 1.1*inch { // out of the bend
			least = min(least, lean.Distance(q))
		}
	}
	assert.InDelta(t, 1, least, 1e-9)
}

// A plain edge between two bends must have something left of it. Slots of 2R = .32 in from both its ends leave
// .06 in of .7 and nothing of .5; two bends of 150°, with setbacks of .2·tan 75° = .746 in, run out through a
// straight edge of 1.3 in, or a hollow one, past each other, and leave some of 2 in.
func TestNothingLeftBetweenBends(t *testing.T) {
	pieces := func(gap float64) error {
		p := plate(6, 4, .040, .16, [4]*flat.Flange{})
		p.Web.Edges[0].Flanges = []flat.Flange{
			{Angle: degrees(90), Height: 1 * inch, From: .5 * inch, To: 2 * inch},
			{Angle: degrees(90), Height: 1 * inch, From: (2 + gap) * inch, To: 5 * inch},
		}
		_, err := flat.Develop(p)
		return err
	}
	assert.NoError(t, pieces(.7))
	assert.ErrorContains(t, pieces(.5), `flange 1: with what lies beyond, it leaves nothing of the plain edge beside it, 12.7 mm long`)
	between := func(length, bulge float64) error {
		leg := &flat.Flange{Angle: degrees(150), Height: 1.5 * inch}
		p := plate(6, length, .040, .16, [4]*flat.Flange{leg, nil, leg})
		p.Web.Edges[1].Bulge = bulge
		_, err := flat.Develop(p)
		return err
	}
	for _, bulge := range []float64{0, -.1, .1} {
		assert.NoError(t, between(2, bulge), "%g", bulge)
		assert.ErrorContains(t, between(1.3, bulge), "it leaves nothing of the plain edge beside it", "%g", bulge)
	}
}

// The web without its bends follows its curved end: every corner of it there lies on the arc of
// TestCurvedEndBesideFlanges, radius 1.45 in about (4.95, 1) in.
func TestWebFollowsItsCurvedEnd(t *testing.T) {
	p := channel(bend.Handbook{})
	p.Web.Edges[1].Bulge = 0.4
	b, err := flat.Develop(p)
	require.NoError(t, err)
	on, last := 0, -math.MaxFloat64
	for _, q := range b.Panels[0].Outline {
		if q.X < 5*inch {
			continue
		}
		assert.InDelta(t, 1.45*inch, r2.Norm(r2.Sub(q, r2.Vec{X: 4.95 * inch, Y: 1 * inch})), 1e-9)
		assert.Greater(t, q.Y, last, "in order up the end")
		last = q.Y
		on++
	}
	assert.Greater(t, on, 10)
	assert.InDelta(t, 1.8*inch, last, 1e-9, "as far as the upper tangent line")
}

// The tangent line, .2 in inside the edge, crosses a plain edge that rises over a hump of .5 in and falls again at
// both flanks. The bend ends at the nearer one: over a chord of 2 in a bulge of -.5 has the radius 1.25 in about a centre
// .75 in below the edge, so its near flank stands 1 - √(1.25² - .95²) = 1 - √.66 in past the corner at that height.
func TestBendEndsAtTheNearFlankOfAHump(t *testing.T) {
	p := plate(6, 4, .040, .16, [4]*flat.Flange{{Angle: degrees(90), Height: 1 * inch}})
	e := p.Web.Edges
	e[2].Start.X = 8 * inch
	p.Web.Edges = []flat.Edge{e[0], {Name: "hump", Start: e[1].Start, Bulge: -.5}, {Name: "end", Start: r2.Vec{X: 8 * inch}}, e[2], e[3]}
	want := r2.Vec{X: (7 - math.Sqrt(.66)) * inch, Y: .2 * inch}
	b, err := flat.Develop(p)
	require.NoError(t, err)
	assert.InDelta(t, 0, r2.Norm(r2.Sub(b.Bends[0].Near.Vertices[1].P, want)), 1e-9)
	// The other hand has the hump before the flange.
	b, err = flat.Develop(p.Mirrored())
	require.NoError(t, err)
	want.X = -want.X
	assert.InDelta(t, 0, r2.Norm(r2.Sub(b.Bends[0].Near.Vertices[0].P, want)), 1e-9)
}

// The corners of a panel are those of its flat: of a web of 6 by 4 in with one flange of 1 in, and a lip along that, bends of
// .2 in setback take .2 in off the web, and off the flange at either side.
func TestCornersOfPanels(t *testing.T) {
	lip := flat.Flange{Name: "lip", Angle: degrees(90), Height: .5 * inch}
	p := plate(6, 4, .040, .16, [4]*flat.Flange{{Angle: degrees(90), Height: 1 * inch, Flanges: []flat.Flange{lip}}})
	b, err := flat.Develop(p)
	require.NoError(t, err)
	for panel, want := range [][]r2.Vec{
		{{X: 0, Y: .2}, {X: 6, Y: .2}, {X: 6, Y: 4}, {X: 0, Y: 4}},
		{{X: 0, Y: .2}, {X: 6, Y: .2}, {X: 6, Y: .8}, {X: 0, Y: .8}},
		{{X: 0, Y: .2}, {X: 6, Y: .2}, {X: 6, Y: .5}, {X: 0, Y: .5}},
	} {
		q := b.Panels[panel]
		assert.Len(t, q.Outline, len(want), q.Name)
		for _, c := range want {
			least := math.Inf(1)
			for _, o := range q.Outline {
				d := r2.Sub(o, q.Origin)
				least = min(least, math.Hypot(r2.Dot(d, q.Along)-c.X*inch, r2.Dot(d, q.Out)-c.Y*inch))
			}
			assert.InDelta(t, 0, least, 1e-9, "%s: %v", q.Name, c)
		}
	}
}

// A bevel that falls from 60° to 1° toward a corner, 9.8° in an inch, comes to nothing .1 in past it. A neighbour that is
// hardly bent lets the free edge run on past the corner by nearly the flange's height, where it would be bent the other way.
func TestBevelThatComesToNothingAtTheTip(t *testing.T) {
	tip := func(angle float64) error {
		p := plate(6, 4, .040, .16, [4]*flat.Flange{
			{Angle: degrees(60), AngleEnd: degrees(angle), Height: 1 * inch}, {Angle: degrees(5), Height: 1 * inch}})
		_, err := flat.Develop(p)
		return err
	}
	assert.ErrorContains(t, tip(1), "is what the bevel comes to, carried on to the tip of the flange: it must stay above 0°")
	assert.NoError(t, tip(30))
}
