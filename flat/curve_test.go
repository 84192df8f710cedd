package flat_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/flat/survey"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// vaulted is a bay between a keel and two frames, 200 apart, under a skin that is a
// circle of radius 600 about (100, -480), read every 10 mm from beyond the one frame
// to beyond the other.
func vaulted(turn flat.Turn) flat.Surroundings {
	skin := flat.Curve{}
	for x := -10.0; x <= 210; x += 10 {
		skin.Points = append(skin.Points, r3.Vec{X: x, Y: -480 + math.Sqrt(600*600-(x-100)*(x-100))})
	}
	flange := func() *flat.Flange { return &flat.Flange{Height: 18, Turn: turn} }
	return flat.Surroundings{
		Web: survey.Plane{Normal: r3.Vec{Z: 1}}, MarkingSide: r3.Vec{Z: 50},
		Faces: []flat.Face{
			{Name: "keel", Plane: survey.Plane{Normal: r3.Vec{Y: -1}}, Flange: flange()},
			{Name: "fwd", Plane: survey.Plane{Point: r3.Vec{X: 200}, Normal: r3.Vec{X: 1}}, Flange: flange()},
			{Name: "skin", Curve: &skin, Clearance: 2},
			{Name: "aft", Plane: survey.Plane{Normal: r3.Vec{X: -1}}, Flange: flange()},
		},
	}
}

// The edge follows the circle moved in by the clearance, radius 598, from frame to
// frame: its ends lie at y = -480 + √(598² - 100²) = 109.580. A line that runs out
// straight leaves a circle read every h by at most h²/(12·r) in its end spans,
// 0.014 mm, and the arcs may lie another 0.02 mm off.
func TestCurvedFace(t *testing.T) {
	for _, turn := range []flat.Turn{flat.Up, flat.Down} {
		for _, turned := range []bool{false, true} {
			s := vaulted(turn)
			if turned { // listed clockwise
				s.Faces[1], s.Faces[3] = s.Faces[3], s.Faces[1]
			}
			p, err := flat.Between(stock(), s)
			require.NoError(t, err)
			b, err := flat.Develop(p)
			require.NoError(t, err)
			assert.Less(t, b.Proof.Largest(), 1e-9)
			for _, f := range b.Findings {
				assert.NotEqual(t, flat.Stop, f.Severity, f.String())
			}
			const within = 0.034
			arcs := 0
			for i, e := range p.Web.Edges {
				if p.Site.FaceOf[i] != 2 {
					continue
				}
				arcs++
				assert.True(t, strings.HasPrefix(e.Name, "skin"), e.Name)
				from := p.Site.Point(r3.Vec{X: e.Start.X, Y: e.Start.Y})
				assert.InDelta(t, 598, math.Hypot(from.X-100, from.Y+480), within)
			}
			assert.Greater(t, arcs, 0)
			assert.Less(t, arcs, 12, "arcs, not facets")
			// The top of the vault, off the middle of its chord in the web's own axes.
			top := r2.Vec{X: 100, Y: 118}
			least := math.Inf(1)
			for _, seg := range b.Outline.Segments() {
				least = min(least, seg.Distance(top))
			}
			assert.InDelta(t, 0, least, within)
		}
	}
}

// Two curved faces that meet, a chine between side and bottom, find their corner.
func TestTwoCurvesMeet(t *testing.T) {
	s := vaulted(flat.Up)
	s.Faces[1].Flange = nil
	line := flat.Curve{}
	for y := -20.0; y <= 130; y += 10 {
		line.Points = append(line.Points, r3.Vec{X: 200 - 10*math.Pow(y/100, 2), Y: y})
	}
	s.Faces[1].Plane, s.Faces[1].Curve = survey.Plane{}, &line
	p, err := flat.Between(stock(), s)
	require.NoError(t, err)
	b, err := flat.Develop(p)
	require.NoError(t, err)
	assert.Less(t, b.Proof.Largest(), 1e-9)
	for i := range p.Web.Edges {
		if p.Site.FaceOf[i] == 2 {
			corner := p.Site.Point(r3.Vec{X: p.Web.Edges[i].Start.X, Y: p.Web.Edges[i].Start.Y})
			assert.InDelta(t, 598, math.Hypot(corner.X-100, corner.Y+480), 0.02)
			assert.InDelta(t, 200-10*math.Pow(corner.Y/100, 2), corner.X, 0.02)
			break
		}
	}
}

// One point of the skin wrong by 0.5 mm moves the line there by about that, whatever
// the corners do; the fair line through the points follows it.
func TestDoubtsOfACurve(t *testing.T) {
	s := vaulted(flat.Up)
	s.ReadingError = 0.5
	list, total, err := flat.Doubts(stock(), s)
	require.NoError(t, err)
	require.Len(t, list, len(s.Faces[2].Curve.Points))
	assert.InDelta(t, 0.5, list[0].Shift, 0.15)
	assert.GreaterOrEqual(t, total.Shift, list[0].Shift)
	assert.Zero(t, list[0].Turn)
}

func TestCurvedFaceRefuses(t *testing.T) {
	ran := 0
	for path, spoil := range map[string]func(*flat.Face){
		"surroundings.faces[2].curve.points":    func(f *flat.Face) { f.Curve.Points = f.Curve.Points[:2] },
		"surroundings.faces[2].curve.points[3]": func(f *flat.Face) { f.Curve.Points[3].Z = math.NaN() },
		"surroundings.faces[2].curve.points[4]": func(f *flat.Face) { f.Curve.Points[4].Z = 26 },
		"surroundings.faces[2].curve.within":    func(f *flat.Face) { f.Curve.Within = math.NaN() },
		"surroundings.faces[2].plane":           func(f *flat.Face) { f.Plane.Normal.X = 1 },
		"surroundings.faces[2].flange":          func(f *flat.Face) { f.Flange = &flat.Flange{Height: 9} },
		"surroundings.faces":                    func(f *flat.Face) { f.Curve.Points = f.Curve.Points[5:17] }, // far from the frames
	} {
		s := vaulted(flat.Up)
		spoil(&s.Faces[2])
		_, err := flat.Between(stock(), s)
		var fault *flat.Error
		if assert.ErrorAs(t, err, &fault, path) {
			assert.Equal(t, path, fault.Path)
		}
		ran++
	}
	assert.Equal(t, 7, ran)
	for _, beside := range []func(*flat.Face){ // a curve is all that lays its face
		func(f *flat.Face) { f.Readings = []r3.Vec{{}, {X: 1}, {Y: 1}} },
		func(f *flat.Face) { f.Measured = survey.Levelled{} },
	} {
		s := vaulted(flat.Up)
		beside(&s.Faces[2])
		_, err := flat.Between(stock(), s)
		var fault *flat.Error
		if assert.ErrorAs(t, err, &fault) {
			assert.Equal(t, "surroundings.faces[2].plane", fault.Path)
		}
	}
	s := vaulted(flat.Up) // turning back on itself
	s.Faces[2].Curve.Points[6], s.Faces[2].Curve.Points[7] = s.Faces[2].Curve.Points[7], s.Faces[2].Curve.Points[6]
	_, err := flat.Between(stock(), s)
	assert.Error(t, err)
}

// An intercostal whose free edge follows the skin, read at five places and faired
// within a sixty-fourth of an inch.
func ExampleCurve() {
	skin := flat.Curve{Within: measure.Inch / 64}
	for i, y := range []float64{98, 104.2, 106, 104, 98.1} {
		skin.Points = append(skin.Points, r3.Vec{X: -10 + 55*float64(i), Y: y})
	}
	s := vaulted(flat.Up)
	s.Faces[2].Curve = &skin
	p, err := flat.Between(stock(), s)
	if err != nil {
		fmt.Println(err)
		return
	}
	b, err := flat.Develop(p)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(len(b.Bends), "bends; the first and last edge:", p.Web.Edges[0].Name, "and", p.Web.Edges[len(p.Web.Edges)-1].Name)
	// Output:
	// 3 bends; the first and last edge: keel and aft
}

// The working tells how far the farthest reading lies from the fair line. Measured anew
// from the edge that was made: a reading lies the clearance and its own residual off it.
// The tolerance bounds it.
func TestFarthestReadingOfACurve(t *testing.T) {
	for _, within := range []float64{0.1, 0.4} {
		s := vaulted(flat.Up)
		s.Faces[2].Curve.Within = within
		p, err := flat.Between(stock(), s)
		require.NoError(t, err)
		told := math.NaN()
		for _, step := range p.Site.Working {
			if step.Symbol == "e" {
				told = step.Value
			}
		}
		var edge outline.Path
		for i, e := range p.Web.Edges {
			if p.Site.FaceOf[i] == 2 {
				edge.Vertices = append(edge.Vertices, outline.Vertex{P: e.Start, Bulge: e.Bulge})
				edge.Vertices = append(edge.Vertices, outline.Vertex{P: p.Web.Edges[(i+1)%len(p.Web.Edges)].Start})
			}
		}
		require.NotEmpty(t, edge.Vertices)
		worst := 0.0
		for _, q := range s.Faces[2].Curve.Points {
			nearest := math.Inf(1)
			for i := 0; i < len(edge.Vertices); i += 2 {
				seg := outline.Segment{A: edge.Vertices[i].P, B: edge.Vertices[i+1].P, Bulge: edge.Vertices[i].Bulge}
				for k := range 2001 {
					at := seg.At(float64(k) / 2000)
					nearest = min(nearest, r3.Norm(r3.Sub(q, p.Site.Point(r3.Vec{X: at.X, Y: at.Y}))))
				}
			}
			if q.X > 5 && q.X < 195 { // the others stand beyond the frames
				worst = max(worst, math.Abs(nearest-2))
			}
		}
		assert.InDelta(t, worst, told, 0.04)
		assert.LessOrEqual(t, told, within+1e-9)
		assert.Greater(t, told, within/2, "the line uses what it is given to be fair")
	}
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

// skinThrough is the bay of vaulted with the skin read at other places.
func skinThrough(xs ...float64) flat.Surroundings {
	s := vaulted(flat.Up)
	c := &flat.Curve{}
	for _, x := range xs {
		c.Points = append(c.Points, r3.Vec{X: x, Y: -480 + math.Sqrt(600*600-(x-100)*(x-100))})
	}
	s.Faces[2].Curve = c
	return s
}

// As few points as three and as many as a thousand lay a line, and one may be as far as 25 mm off the web.
func TestLimitsOfACurveAreAllowed(t *testing.T) {
	_, err := flat.Between(stock(), skinThrough(-10, 100, 210))
	assert.NoError(t, err)
	s := vaulted(flat.Up)
	s.Faces[2].Curve.Points[4].Z = -25
	_, err = flat.Between(stock(), s)
	assert.NoError(t, err)
	many := make([]float64, 1000)
	for i := range many {
		many[i] = -10 + 220*float64(i)/999
	}
	_, err = flat.Between(stock(), skinThrough(many...))
	assert.NoError(t, err)
	_, err = flat.Between(stock(), skinThrough(append(many, 211)...))
	assert.ErrorContains(t, err, "must be 3 to 1000 points along the line")
}

// Read from 10 mm inside either frame, 180 mm in all, the skin is carried straight on to them, for which 18 mm would do. The
// circle of radius 598 ends there at 100 - .15·598 = 10.3 with a slope of .15/√(1 - .15²), so the corner
// lies at y = -480 + 598·√(1 - .15²) - 10.3·.15/√(1 - .15²) = 109.672. The fair line bends less toward its end than the
// circle: by half the turn of 10 mm, 1/120, at the most, which is .086 mm there.
func TestCurveIsCarriedOnToTheNextFace(t *testing.T) {
	var xs []float64
	for x := 10.0; x <= 190; x += 10 {
		xs = append(xs, x)
	}
	p, err := flat.Between(stock(), skinThrough(xs...))
	require.NoError(t, err)
	found := false
	for i, e := range p.Web.Edges {
		if p.Site.FaceOf[i] == 3 { // the aft frame starts where the skin ends
			at := p.Site.Point(r3.Vec{X: e.Start.X, Y: e.Start.Y})
			assert.InDelta(t, 0, at.X, 1e-9)
			assert.InDelta(t, 109.672, at.Y, 0.09)
			found = true
		}
	}
	assert.True(t, found)
}

// Frames that lean together meet at y = 115: above the chord of the skin, at 109.8, but below its top at 118. They
// cross before they reach it.
func TestFacesThatCrossBelowACurve(t *testing.T) {
	s := vaulted(flat.Up)
	size := math.Hypot(100, 115)
	s.Faces[1].Plane.Normal = r3.Vec{X: 115 / size, Y: 100 / size}
	s.Faces[3].Plane.Normal = r3.Vec{X: -115 / size, Y: 100 / size}
	_, err := flat.Between(stock(), s)
	assert.ErrorContains(t, err, "the faces next to it leave nothing of face 3")
}

// The arcs of a curved face carry its name, from the second on with their number; those of one without a name carry none.
func TestNamesOfArcs(t *testing.T) {
	s := vaulted(flat.Up)
	names := func() (list []string) {
		p, err := flat.Between(stock(), s)
		require.NoError(t, err)
		for i, e := range p.Web.Edges {
			if p.Site.FaceOf[i] == 2 {
				list = append(list, e.Name)
			}
		}
		require.Greater(t, len(list), 1)
		return list
	}
	for i, name := range names() {
		want := "skin"
		if i > 0 {
			want = fmt.Sprintf("skin, arc %d", i+1)
		}
		assert.Equal(t, want, name)
	}
	s.Faces[2].Name = ""
	for _, name := range names() {
		assert.Empty(t, name)
	}
}
