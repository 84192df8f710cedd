package rivet_test

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"pgregory.net/rapid"

	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/flat/rivet"
	"github.com/hangarflat/hangarflat/material"
)

func at(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }

func line(pts ...r2.Vec) outline.Path { return outline.Polyline(pts...) }

// chords is a path as many short straight lines, made without the package's own geometry but for
// the centre-free point of an arc: chord, bulge and the half-angle rule.
func chords(p outline.Path) (pts []r2.Vec) {
	const n = 4000
	last := len(p.Vertices)
	if !p.Closed {
		last--
	}
	for i := range last {
		a, b := p.Vertices[i], p.Vertices[(i+1)%len(p.Vertices)].P
		sweep := 4 * math.Atan(a.Bulge)
		c := r2.Sub(b, a.P)
		for k := range n {
			t := float64(k) / n
			if a.Bulge == 0 {
				pts = append(pts, r2.Add(a.P, r2.Scale(t, c)))
				continue
			}
			// The chord to the point at t is sin(t·s/2)/sin(s/2) of the whole, turned by (1-t)·s/2
			// to the right.
			f := math.Sin(t*sweep/2) / math.Sin(sweep/2)
			sin, cos := math.Sincos(-(1 - t) * sweep / 2)
			pts = append(pts, r2.Add(a.P, r2.Scale(f, at(c.X*cos-c.Y*sin, c.X*sin+c.Y*cos))))
		}
	}
	if !p.Closed {
		pts = append(pts, p.Vertices[last].P)
	}
	return pts
}

func nearestOf(pts []r2.Vec, q r2.Vec) float64 {
	least := math.Inf(1)
	for _, p := range pts {
		least = math.Min(least, r2.Norm(r2.Sub(p, q)))
	}
	return least
}

// A straight edge 10 in long, 1/8 rivets 1/4 in from its ends and from the edge: 9.5 in between
// the outer rivets are 10 spaces of .95 in at a pitch of 1 in.
func TestStraightRow(t *testing.T) {
	edge := line(at(0, 0), at(10*inch, 0))
	l, err := rivet.Pattern{Name: "lap", Edge: edge, Inset: inch / 4, Pitch: inch, End: inch / 4}.Lay(eighth)
	require.NoError(t, err)
	require.Len(t, l.Rows, 1)
	require.Equal(t, 11, l.Count())
	for i, h := range l.Rows[0].Holes {
		assert.InDelta(t, .25+.95*float64(i), h.At.X/inch, 1e-9)
		assert.InDelta(t, .25, h.At.Y/inch, 1e-9, "left of the travel")
	}
	// An exact number of spaces stays: 9 in at 1 in is 9 spaces and not 10.
	l, err = rivet.Pattern{Edge: edge, Inset: inch / 4, Pitch: inch, End: inch / 2}.Lay(eighth)
	require.NoError(t, err)
	assert.Equal(t, 10, l.Count())
}

// Never closer than 3 diameters for the sake of the pitch: 1.1 in at a pitch of 1 in with 1/4
// rivets, 3 diameters .75, is one space of 1.1 and not two of .55.
func TestPitchIsNotHalved(t *testing.T) {
	quarter := rivet.Rivet{Diameter: inch / 4}
	l, err := rivet.Pattern{Edge: line(at(0, 0), at(1.1*inch, 0)), Pitch: inch}.Lay(quarter)
	require.NoError(t, err)
	assert.Equal(t, 2, l.Count())
	// Shorter than 3 diameters there is room for one, in the middle.
	l, err = rivet.Pattern{Edge: line(at(0, 0), at(.7*inch, 0)), Pitch: inch}.Lay(quarter)
	require.NoError(t, err)
	require.Equal(t, 1, l.Count())
	assert.InDelta(t, .35, l.Rows[0].Holes[0].At.X/inch, 1e-12)
}

// Three rows along a quarter circle of radius 100 mm: the row 10 mm inside the edge has radius 90, the
// next 80 and 70; rivets of odd rows stand on the radii of the first, those of even rows midway.
func TestStaggeredRowsOnAnArc(t *testing.T) {
	quarter := outline.Path{Vertices: []outline.Vertex{{P: at(100, 0), Bulge: math.Tan(math.Pi / 8)}, {P: at(0, 100)}}}
	l, err := rivet.Pattern{Name: "rim", Edge: quarter, Inset: 10, Rows: 3, Spacing: 10, Pitch: 20, Stagger: true}.Lay(eighth)
	require.NoError(t, err)
	require.Len(t, l.Rows, 3)
	// 90·π/2 = 141.37 mm: 8 spaces, of 11.25 degrees.
	for k, n := range []int{9, 8, 9} {
		row := l.Rows[k]
		require.Len(t, row.Holes, n, row.Name)
		for i, h := range row.Holes {
			assert.InDelta(t, 90-10*float64(k), r2.Norm(h.At), 1e-7)
			want := 11.25 * float64(i)
			if k == 1 {
				want += 11.25 / 2
			}
			assert.InDelta(t, want, math.Atan2(h.At.Y, h.At.X)*180/math.Pi, 1e-6, "%s %d", row.Name, i)
		}
	}
	// Chain riveting: all on the same radii.
	l, err = rivet.Pattern{Name: "rim", Edge: quarter, Inset: 10, Rows: 2, Spacing: 10, Pitch: 20}.Lay(eighth)
	require.NoError(t, err)
	for i, h := range l.Rows[1].Holes {
		assert.InDelta(t, 11.25*float64(i), math.Atan2(h.At.Y, h.At.X)*180/math.Pi, 1e-6)
	}
}

// Round a circle there is no first and no last: 2π·50 = 314.2 mm are 16 spaces of at most 20. Around a
// clockwise opening the row lies outside it.
func TestClosedRow(t *testing.T) {
	l, err := rivet.Pattern{Edge: outline.Circle(at(5, 7), 60), Inset: 10, Pitch: 20}.Lay(eighth)
	require.NoError(t, err)
	require.Equal(t, 16, l.Count())
	for _, d := range l.Rows[0].Pitches() {
		assert.InDelta(t, 2*50*math.Sin(math.Pi/16), d, 1e-6)
	}
	assert.Len(t, l.Rows[0].Pitches(), 16)
	l, err = rivet.Pattern{Edge: outline.Circle(at(5, 7), 60).Reverse(), Inset: 10, Pitch: 20}.Lay(eighth)
	require.NoError(t, err)
	for _, h := range l.Rows[0].Holes {
		assert.InDelta(t, 70, r2.Norm(r2.Sub(h.At, at(5, 7))), 1e-6)
	}
}

// Round a rectangle a rivet stands in every corner, and opposite sides have the same.
func TestCornersGetRivets(t *testing.T) {
	l, err := rivet.Pattern{Edge: outline.Rect(at(0, 0), at(300, 200)), Inset: 10, Pitch: 25}.Lay(eighth)
	require.NoError(t, err)
	has := func(p r2.Vec) bool {
		for _, h := range l.Rows[0].Holes {
			if r2.Norm(r2.Sub(h.At, p)) < 1e-6 {
				return true
			}
		}
		return false
	}
	for _, p := range []r2.Vec{at(10, 10), at(290, 10), at(290, 190), at(10, 190)} {
		assert.True(t, has(p), "%v", p)
	}
	// 280 mm: 12 spaces; 180 mm: 8. 2·(12+8) rivets.
	assert.Equal(t, 40, l.Count())
	for _, h := range l.Rows[0].Holes {
		assert.True(t, has(at(300-h.At.X, h.At.Y)) && has(at(h.At.X, 200-h.At.Y)), "mirror of %v", h.At)
	}
}

// Rows far inside a small ring have less room than the first: what stands opposite it is thinned to 3
// diameters and not gathered in one place. Outside 2π·50 at 10 mm, 32 rivets; at radius 20, 126 mm hold 13
// at 9.525 mm at most.
func TestCrowdedInnerRow(t *testing.T) {
	l, err := rivet.Pattern{Edge: outline.Circle(at(0, 0), 50), Rows: 2, Spacing: 30, Pitch: 10}.Lay(eighth)
	require.NoError(t, err)
	require.Len(t, l.Rows[0].Holes, 32)
	inner := l.Rows[1]
	assert.Greater(t, len(inner.Holes), 6, "not gathered")
	for _, d := range inner.Pitches() {
		assert.GreaterOrEqual(t, d, 3*eighth.Diameter-1e-6)
		assert.LessOrEqual(t, d, 2*3*eighth.Diameter)
	}
}

// Six on a circle of 2.9 diameters are 3.04 apart along it and 2.9 from centre to centre: five.
func TestPitchAcrossASmallRing(t *testing.T) {
	l, err := rivet.Pattern{Edge: outline.Circle(at(0, 0), 2.9*eighth.Diameter), Pitch: 3 * eighth.Diameter}.Lay(eighth)
	require.NoError(t, err)
	assert.Equal(t, 5, l.Count())
}

// A stringer crosses a row square: the rivets beside it stand exactly its clearance away, and each side
// is divided evenly. 100 - 10 = 90 mm at 20 are 5 spaces of 18.
func TestKeepout(t *testing.T) {
	stringer := rivet.Keepout{Name: "stringer 3", Shape: line(at(100, -50), at(100, 50)), Clear: 10}
	l, err := rivet.Pattern{Edge: line(at(0, 0), at(220, 0)), Pitch: 20, Keep: []rivet.Keepout{stringer}}.Lay(eighth)
	require.NoError(t, err)
	var xs []float64
	for _, h := range l.Rows[0].Holes {
		xs = append(xs, h.At.X)
	}
	// 110 to 220 is 110 mm: 6 spaces of 18 1/3.
	want := []float64{0, 18, 36, 54, 72, 90, 110, 128.3333, 146.6667, 165, 183.3333, 201.6667, 220}
	require.Len(t, xs, len(want))
	assert.InDeltaSlice(t, want, xs, 1e-3)
	// A relief hole, given clockwise, and a region without clearance.
	for _, shape := range []outline.Path{outline.Circle(at(100, 0), 10).Reverse(), outline.Rect(at(90, -5), at(110, 5))} {
		l, err = rivet.Pattern{Edge: line(at(0, 0), at(220, 0)), Pitch: 20, Keep: []rivet.Keepout{{Shape: shape}}}.Lay(eighth)
		require.NoError(t, err)
		assert.Len(t, l.Rows[0].Holes, len(want))
	}
	// Nothing left.
	l, err = rivet.Pattern{Name: "lost", Edge: line(at(0, 0), at(220, 0)), Pitch: 20, Keep: []rivet.Keepout{{Shape: outline.Circle(at(100, 0), 200)}}}.Lay(eighth)
	require.NoError(t, err)
	assert.Zero(t, l.Count())
	require.Len(t, l.Findings, 1)
	assert.Contains(t, l.Findings[0].Text, "no room")
}

// In a staggered second row a wide keep-out leaves no more than three quarters of a pitch bare on
// either side of it: the rivet that would stand opposite the middle of the first row's gap is lost, and where
// the next is too far, one stands at the keep-out. Region 40 mm wide, leaning over by 12 mm from row to row.
func TestSecondRowAtAKeepout(t *testing.T) {
	lean := rivet.Keepout{Shape: outline.Polygon(at(80, -10), at(120, -10), at(140, 40), at(100, 40))}
	l, err := rivet.Pattern{Edge: line(at(0, 0), at(220, 0)), Inset: 0, Rows: 2, Spacing: 30, Pitch: 20, Stagger: true, Keep: []rivet.Keepout{lean}}.Lay(eighth)
	require.NoError(t, err)
	// At y = 0 the region spans 84 to 124, at y = 30 96 to 136.
	below, above := 0.0, 1e9
	for _, h := range l.Rows[1].Holes {
		if h.At.X < 100 {
			below = math.Max(below, h.At.X)
		} else {
			above = math.Min(above, h.At.X)
		}
	}
	assert.InDelta(t, 96, below, 15+1e-9)
	assert.InDelta(t, 136, above, 15+1e-9)
	assert.LessOrEqual(t, below, 96+1e-6)
	assert.GreaterOrEqual(t, above, 136-1e-6)
}

// A keep-out over the start of a closed line parts it in one place and not in two.
func TestKeepoutOverTheStart(t *testing.T) {
	ring := outline.Circle(at(0, 0), 100) // starts at (100, 0)
	l, err := rivet.Pattern{Edge: ring, Pitch: 25, Keep: []rivet.Keepout{{Shape: line(at(80, 0), at(120, 0)), Clear: 15}}}.Lay(eighth)
	require.NoError(t, err)
	// Blocked is ± asin(.15); what is left, 2π - 2·.15057 = 5.982 of 100 mm, is divided in 24.
	want := 2 * 100 * math.Sin((2*math.Pi-2*math.Asin(.15))/24/2)
	p := l.Rows[0].Pitches()
	require.Len(t, p, 25)
	wide := 0
	for _, d := range p {
		if math.Abs(d-want) > 1e-6 {
			assert.InDelta(t, 30, d, 1e-6, "across the keep-out")
			wide++
		}
	}
	assert.Equal(t, 1, wide)
}

// Old holes stay where they were measured; between two of them the nearest number of spaces is taken,
// because an old pitch of 26.5 at a nominal 25 is one space and not two.
func TestFoundHoles(t *testing.T) {
	found := []rivet.Found{{At: at(52, .4), Diameter: 3.3}, {At: at(78.5, -.3), Diameter: 3.3}, {At: at(154, 0)}}
	l, err := rivet.Pattern{Name: "old", Edge: line(at(0, 0), at(300, 0)), Pitch: 25, Found: found}.Lay(eighth)
	require.NoError(t, err)
	var xs []float64
	var old []bool
	for _, h := range l.Rows[0].Holes {
		xs, old = append(xs, h.At.X), append(old, h.Found)
	}
	// 0 to 52: 3 spaces. 52 to 78.5: 26.5/25 rounds to 1. 78.5 to 154: 75.5/25 = 3.02 rounds to 3. 154
	// to 300: 146/25 = 5.84, 6 spaces.
	want := []float64{0, 17.333, 34.667, 52, 78.5, 103.667, 128.833, 154, 178.333, 202.667, 227, 251.333, 275.667, 300}
	require.Len(t, xs, len(want))
	assert.InDeltaSlice(t, want, xs, 1e-3)
	assert.Equal(t, []bool{3: true, 4: true, 7: true, 13: false}, old)
	assert.InDelta(t, .4, l.Rows[0].Holes[3].Off, 1e-12)
	assert.Equal(t, at(52, .4), l.Rows[0].Holes[3].At, "not pulled onto the line")
	assert.Empty(t, l.Findings)

	// An old hole near the end takes the end rivet's place; one off the row by more than half a
	// diameter is remarked on; one that belongs to no row is left out and said.
	found = []rivet.Found{{At: at(4, 0)}, {At: at(150, 1.7)}, {At: at(200, 40)}}
	l, err = rivet.Pattern{Name: "old", Edge: line(at(0, 0), at(300, 0)), Pitch: 25, Found: found}.Lay(eighth)
	require.NoError(t, err)
	assert.InDelta(t, 4, l.Rows[0].Holes[0].At.X, 1e-12)
	assert.GreaterOrEqual(t, l.Rows[0].Pitches()[0], 3*eighth.Diameter)
	require.Len(t, l.Findings, 2)
	assert.Contains(t, l.Findings[0].Text, "off its row")
	assert.Contains(t, l.Findings[1].Text, "left out")
	for _, h := range l.Rows[0].Holes {
		assert.False(t, h.Found && h.At.Y > 30)
	}
	// Rows would be 18.75 mm apart: 10 mm off is nearer to where the next would be.
	l, err = rivet.Pattern{Name: "old", Edge: line(at(0, 0), at(300, 0)), Pitch: 25, Found: []rivet.Found{{At: at(150, 10)}}}.Lay(eighth)
	require.NoError(t, err)
	require.Len(t, l.Findings, 1)
	assert.Contains(t, l.Findings[0].Text, "left out")
	// With a second row each old hole goes to the row it is nearest to.
	l, err = rivet.Pattern{Edge: line(at(0, 0), at(300, 0)), Rows: 2, Spacing: 40, Pitch: 25, Found: found}.Lay(eighth)
	require.NoError(t, err)
	assert.True(t, l.Rows[1].Holes[8].Found || l.Rows[1].Holes[7].Found, "200 mm along")
	assert.Len(t, l.Findings, 1)
}

// randomEdge is an open line of straight and curved pieces that does not cross itself: it goes
// right all the time.
func randomEdge(t *rapid.T) outline.Path {
	n := rapid.IntRange(1, 5).Draw(t, "pieces")
	p := outline.Path{}
	x := 0.0
	for i := range n + 1 {
		p.Vertices = append(p.Vertices, outline.Vertex{
			P:     at(x, rapid.Float64Range(-30, 30).Draw(t, fmt.Sprintf("y%d", i))),
			Bulge: rapid.SampledFrom([]float64{0, 0.2, -0.15, 0.05}).Draw(t, fmt.Sprintf("bulge%d", i)),
		})
		x += rapid.Float64Range(80, 200).Draw(t, fmt.Sprintf("run%d", i))
	}
	return p
}

// Rows beside any edge: every rivet lies at its row's distance from the edge (measured against chords),
// no two neighbours are nearer than 3 diameters from centre to centre, and no rivet is in a keep-out.
func TestRowsBesideAnyEdge(t *testing.T) {
	ran := 0
	rapid.Check(t, func(t *rapid.T) {
		edge := randomEdge(t)
		if edge.ValidateOpen() != nil {
			return
		}
		d := rapid.Float64Range(2, 5).Draw(t, "diameter")
		r := rivet.Rivet{Diameter: d}
		p := rivet.Pattern{
			Name: "row", Edge: edge, Inset: rapid.Float64Range(0, 4).Draw(t, "inset") * d, Rows: rapid.IntRange(1, 3).Draw(t, "rows"),
			Pitch: rapid.Float64Range(3, 10).Draw(t, "pitch") * d, Stagger: rapid.Bool().Draw(t, "stagger"), End: 2 * d,
		}
		box := edge.Bounds()
		mid := at(box.Min.X+rapid.Float64Range(.2, .8).Draw(t, "keep at")*(box.Max.X-box.Min.X), box.Min.Y)
		p.Keep = []rivet.Keepout{{Name: "stringer", Shape: line(r2.Sub(mid, at(10, 60)), r2.Add(mid, at(25, 200))), Clear: rapid.Float64Range(1, 30).Draw(t, "clear")}}
		l, err := p.Lay(r)
		if err != nil {
			// An inset that no parallel has room for is refused by name.
			var bad *rivet.Error
			if !errors.As(err, &bad) {
				t.Fatal(err)
			}
			return
		}
		pts, keep := chords(edge), chords(p.Keep[0].Shape)
		for k, row := range l.Rows {
			want := 1.0
			if p.Rows > 1 {
				if _, err := fmt.Sscanf(row.Name, "row row %f", &want); err != nil {
					t.Fatal(err)
				}
			}
			want = p.Inset + (want-1)*.75*p.Pitch
			for i, h := range row.Holes {
				// Chords of an arc of radius r over 1/4000 of at most 46 degrees and 300 mm fall short
				// by less than 300²/(8·r·4000²), and neighbours on the line lie 0.08 mm apart: the
				// nearest of them is farther by less than 0.08²/(2·want) or, on the edge itself, 0.05.
				if got := nearestOf(pts, h.At); math.Abs(got-want) > .06 {
					t.Fatalf("%s rivet %d lies %.4f from the edge, want %.4f", row.Name, i, got, want)
				}
				if got := nearestOf(keep, h.At); got < p.Keep[0].Clear-1e-6 {
					t.Fatalf("%s rivet %d lies %.6f from the stringer, want %.6f", row.Name, i, got, p.Keep[0].Clear)
				}
				if i == 0 {
					continue
				}
				if apart := r2.Norm(r2.Sub(h.At, row.Holes[i-1].At)); apart < math.Min(3*d, p.Pitch)-1e-4 {
					t.Fatalf("%s: centres %.4f apart, least %.4f", row.Name, apart, 3*d)
				}
			}
			if k == 0 && len(row.Holes) > 0 && row.Holes[0].Station < p.End-1e-9 {
				t.Fatalf("first rivet %.3f from the end", row.Holes[0].Station)
			}
		}
		ran++
	})
	least := 40
	if testing.Short() {
		least = 8 // of the twenty that are tried
	}
	require.Greater(t, ran, least, "the generator misses")
}

func TestPatternRefuses(t *testing.T) {
	good := rivet.Pattern{Name: "lap", Edge: line(at(0, 0), at(100, 0)), Pitch: 20}
	ran := 0
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1e6} {
		for field, change := range map[string]func(*rivet.Pattern){
			"inset":                    func(p *rivet.Pattern) { p.Inset = bad },
			"pitch":                    func(p *rivet.Pattern) { p.Pitch = bad },
			"spacing":                  func(p *rivet.Pattern) { p.Spacing = bad },
			"end distance":             func(p *rivet.Pattern) { p.End = bad },
			"edge":                     func(p *rivet.Pattern) { p.Edge = line(at(0, 0), at(bad, math.Inf(1))) },
			"found hole 1":             func(p *rivet.Pattern) { p.Found = []rivet.Found{{At: at(0, bad)}} },
			"found hole 1 diameter":    func(p *rivet.Pattern) { p.Found = []rivet.Found{{Diameter: bad}} },
			`keep-out 1 "k" clearance`: func(p *rivet.Pattern) { p.Keep = []rivet.Keepout{{"k", outline.Circle(at(50, 0), 5), bad}} },
		} {
			p := good
			change(&p)
			_, err := p.Lay(eighth)
			var fault *rivet.Error
			require.ErrorAs(t, err, &fault, field)
			assert.Equal(t, `pattern "lap" `+field, fault.Field)
			ran++
		}
	}
	assert.Equal(t, 32, ran)
	p := good
	p.Rows, p.Pitch, p.Inset = -1, .001, math.NaN()
	_, err := p.Lay(rivet.Rivet{Diameter: .125, Head: 7})
	for _, says := range []string{"rows", "pitch", "inset", "rivet diameter", "rivet head"} {
		assert.ErrorContains(t, err, says)
	}
	p = good
	p.Keep = []rivet.Keepout{{Name: "line", Shape: line(at(0, 5), at(9, 9))}}
	_, err = p.Lay(eighth)
	assert.ErrorContains(t, err, "above 0 round a line")
	_, err = rivet.Pattern{Name: "thin", Edge: outline.Circle(at(0, 0), 10), Inset: 20, Pitch: 10}.Lay(eighth)
	assert.ErrorIs(t, err, outline.ErrNothingLeft)
	_, err = rivet.Pattern{Edge: line(at(0, 0), at(9e4, 0)), Rows: 10000, Pitch: 1}.Lay(eighth)
	assert.ErrorContains(t, err, "more than")
}

// The last leg, 6 mm, is shorter than three diameters, 9.525, so that its corner gives way to the end. Round the corner
// spaces of 106/9 = 11.78 and 106/8 = 13.25 mm would bring the last two to √(5.78² + 6²) = 8.33 and √(7.25² + 6²) = 9.41 mm;
// 106/7 leaves √(9.14² + 6²) = 10.94.
func TestSpacesRoundACornerKeepThreeDiameters(t *testing.T) {
	p := rivet.Pattern{Name: "flap", Edge: line(at(0, 0), at(100, 0), at(100, 6)), Pitch: 11.8}
	l, err := p.Lay(eighth)
	require.NoError(t, err)
	require.Len(t, l.Rows[0].Holes, 8)
	assert.InDelta(t, 106./7, l.Rows[0].Holes[1].Station, 1e-9)
	assert.InDelta(t, 10.935, slices.Min(l.Rows[0].Pitches()), 1e-3)
}

// A corner of 60° with a drain in it: rivets on both sides stand three diameters apart, straight across, which is as far
// from the corner as from each other.
func TestRivetsApartAcrossASharpCorner(t *testing.T) {
	half := 100 * math.Sqrt(3) / 2
	p := rivet.Pattern{Name: "gusset", Edge: line(at(0, 0), at(100, 0), at(50, half)), Pitch: 20,
		Keep: []rivet.Keepout{{Name: "drain", Shape: outline.Circle(at(100, 0), 1)}}}
	l, err := p.Lay(eighth)
	require.NoError(t, err)
	var from []float64
	for _, h := range l.Rows[0].Holes {
		from = append(from, r2.Norm(r2.Sub(h.At, at(100, 0))))
	}
	slices.Sort(from)
	assert.InDelta(t, 9.525, from[0], 1e-5)
	assert.InDelta(t, 9.525, from[1], 1e-5)
	findings, err := rivet.Check{Layout: l, Stack: []material.Sheet{clad(.040), clad(.040)}}.Findings()
	require.NoError(t, err)
	assert.Empty(t, worded(findings, "below 3 diameters"))
}

// Round a drain of radius 12 rows lie at 20, 40, 60 and 80 mm. The first, 40π = 125.66 mm at 18 at most, has 7 spaces; the
// second opposite it 7 of 35.9, which is two of 18, so 14 are set; the third, 53.9, three each, the fourth, 71.8, four. Each
// ring's pitch is the chord of its share of the turn.
func TestOuterRowsRoundADrainAreFilled(t *testing.T) {
	p := rivet.Pattern{Name: "drain", Edge: outline.Circle(at(0, 0), 12).Reverse(), Inset: 8, Rows: 4, Spacing: 20, Pitch: 18}
	l, err := p.Lay(eighth)
	require.NoError(t, err)
	require.Len(t, l.Rows, 4)
	for k, n := range []int{7, 14, 21, 28} {
		require.Len(t, l.Rows[k].Holes, n)
		for _, d := range l.Rows[k].Pitches() {
			assert.InDelta(t, 2*20*float64(k+1)*math.Sin(math.Pi/float64(n)), d, 1e-6)
		}
	}
}
