package flat_test

import (
	"math"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/flat/survey"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
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

// A web whose flange ends within an edge has the two corners of its slot.
func TestWebGoesRoundASlot(t *testing.T) {
	p := plate(6, 4, .040, .16, [4]*flat.Flange{{Angle: 90 * measure.Degree, Height: 1 * inch, From: 1 * inch, To: 6 * inch}})
	b, err := flat.Develop(p)
	require.NoError(t, err)
	web := outline.Polygon(b.Panels[0].Outline...)
	// 6 in by 4 in, less .2 in by 5 in of bend and .2 in by .32 in of slot.
	assert.InDelta(t, (24-.2*5-.2*.32)*inch*inch, web.Area(), 1e-9)
}

// The lip of a flanged hole starts to bend half the sheet and the radius outside the hole, which is
// measured to the middle of its lip: 50/2 + 3 + 1/2.
func TestRoomForTheLip(t *testing.T) {
	p := stock()
	p.Sheet.Thickness = 1
	p.Web.Edges = plate(8, 8, .04, .1, [4]*flat.Flange{}).Web.Edges
	p.Web.Edges[0].Flanges = leg(90)
	p.Web.Lightening = []flat.LighteningHole{{Name: "light", At: r2.Vec{X: 100, Y: 100}, Diameter: 50, Height: 6, Radius: 3}}
	b, err := flat.Develop(p)
	require.NoError(t, err)
	require.Len(t, b.Holes, 1)
	assert.InDelta(t, 28.5, b.Holes[0].Keep, 1e-12)
}

// A relief that does not fit says how large it is: 2R = .32 in beside a tangent line of
// .5 - 2·.2 = .1 in, its own edge less the setbacks of both neighbours.
func TestReliefThatDoesNotFitSaysSo(t *testing.T) {
	leg := &flat.Flange{Angle: 90 * measure.Degree, Height: 1 * inch}
	_, err := flat.Develop(plate(.5, 4, .040, .16, [4]*flat.Flange{leg, leg, nil, leg}))
	assert.ErrorContains(t, err, "its tangent line of 2.54 mm is shorter than the relief hole of 8.128 mm")
}

// The vaulted bay, turned and moved as a whole, has the same blank.
func TestCurvedFaceDoesNotCareWhereItLies(t *testing.T) {
	straight, err := flat.Between(stock(), vaulted(flat.Up))
	require.NoError(t, err)
	want, err := flat.Develop(straight)
	require.NoError(t, err)
	for _, a := range []float64{0.4, 2, 4.1} {
		turn := r3.NewRotation(a, r3.Vec{X: 0.3, Y: -0.5, Z: 1})
		at := func(p r3.Vec) r3.Vec { return r3.Add(turn.Rotate(p), r3.Vec{X: 1000, Y: -300, Z: 250}) }
		s := vaulted(flat.Up)
		plane := func(p survey.Plane) survey.Plane {
			return survey.Plane{Point: at(p.Point), Normal: turn.Rotate(p.Normal)}
		}
		s.Web, s.MarkingSide = plane(s.Web), at(s.MarkingSide)
		for i := range s.Faces {
			if c := s.Faces[i].Curve; c != nil {
				for k := range c.Points {
					c.Points[k] = at(c.Points[k])
				}
				continue
			}
			s.Faces[i].Plane = plane(s.Faces[i].Plane)
		}
		p, err := flat.Between(stock(), s)
		require.NoError(t, err)
		got, err := flat.Develop(p)
		require.NoError(t, err)
		assert.InDelta(t, want.Area, got.Area, 0.05)
		assert.InDelta(t, want.Outline.Length(), got.Outline.Length(), 0.05)
	}
}

// What is wrong with the faces is said of the faces by number, as they are listed.
func TestFacesAreNamedByNumber(t *testing.T) {
	s := vaulted(flat.Up)
	s.Faces[2].Curve.Points = s.Faces[2].Curve.Points[5:17] // far from the frames
	_, err := flat.Between(stock(), s)
	assert.ErrorContains(t, err, "faces 2 and 3 do not meet")
	s = vaulted(flat.Up)
	c := s.Faces[2].Curve.Points
	c[6], c[7] = c[7], c[6] // turning back on itself
	_, err = flat.Between(stock(), s)
	assert.ErrorContains(t, err, "face 3")
}

// A slot 10 wide from (70, 60) to (100, 100), 3-4-5 askew: its sides lie 5 along (4/5, -3/5) to either side
// of its middle (85, 80), and its round ends reach 5 along (3/5, 4/5) past its own ends.
func TestSlotAskew(t *testing.T) {
	p := stock()
	p.Web.Edges = plate(8, 8, .04, .1, [4]*flat.Flange{}).Web.Edges
	p.Web.Edges[0].Flanges = leg(90)
	p.Web.Slots = []flat.Slot{{Name: "askew", From: r2.Vec{X: 70, Y: 60}, To: r2.Vec{X: 100, Y: 100}, Width: 10}}
	b, err := flat.Develop(p)
	require.NoError(t, err)
	require.Len(t, b.Cutouts, 1)
	cut := b.Cutouts[0].Path
	for _, q := range []r2.Vec{{X: 85 + 4, Y: 80 - 3}, {X: 85 - 4, Y: 80 + 3}, {X: 70 - 3, Y: 60 - 4}, {X: 100 + 3, Y: 100 + 4}} {
		assert.InDelta(t, 0, cut.Distance(q), 1e-9, "%v", q)
	}
	assert.InDelta(t, 50*10+math.Pi*25, -cut.Area(), 1e-9)
}
