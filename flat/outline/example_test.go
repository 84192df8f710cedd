package outline_test

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
)

// The floor intercostal of the Corrie's keel bay (invented): a web with a lightening hole.
func ExamplePath() {
	web := outline.Rect(r2.Vec{}, r2.Vec{X: 220, Y: 80})
	hole := outline.Circle(r2.Vec{X: 110, Y: 40}, 25)
	fmt.Printf("perimeter %.1f mm, area %.1f mm²\n", web.Length(), web.Area()-hole.Area())
	fmt.Println(web.Side(r2.Vec{X: 110, Y: 80}), web.Side(r2.Vec{X: 110, Y: 80.001}))
	fmt.Println(outline.Polygon(r2.Vec{}, r2.Vec{X: 9, Y: 9}, r2.Vec{X: 9}, r2.Vec{Y: 9}).Validate())
	// Output:
	// perimeter 600.0 mm, area 15636.5 mm²
	// on edge outside
	// outline.Validate: segments 0 and 2 at (4.5, 4.5): must not touch or cross
}

// An arc from (0,0) to (10,0) that turns a quarter to the left.
func ExampleSegment() {
	s := outline.Segment{B: r2.Vec{X: 10}, Bulge: math.Tan(math.Pi / 8)}
	fmt.Printf("radius %.4f, sweep %v, length %.4f\n", s.Radius(), s.Sweep(), s.Length())
	fmt.Printf("center (%.1f, %.1f), middle (%.1f, %.4f)\n", s.Center().X, s.Center().Y, s.At(0.5).X, s.At(0.5).Y)
	// Output:
	// radius 7.0711, sweep 90°, length 11.1072
	// center (5.0, 5.0), middle (5.0, -2.0711)
}

// Trim allowance round a blank, its hole drawn in by as much. Arcs stay arcs.
func ExampleOffset() {
	blank := []outline.Path{
		outline.Rect(r2.Vec{}, r2.Vec{X: 100, Y: 60}),
		outline.Circle(r2.Vec{X: 50, Y: 30}, 15).Reverse(), // a hole runs clockwise
	}
	out, err := outline.Offset(blank, 2, outline.OffsetOptions{Miter: 1.5})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range out {
		fmt.Printf("%d segments, area %.2f mm²\n", p.NumSegments(), p.Area())
	}
	_, err = outline.Offset(blank, -31, outline.OffsetOptions{})
	fmt.Println(errors.Is(err, outline.ErrNothingLeft))
	// Output:
	// 4 segments, area 6656.00 mm²
	// 2 segments, area -530.93 mm²
	// true
}

// A channel too narrow for the distance parts the outline in two.
func ExamplePath_Offset() {
	p := outline.Polygon(r2.Vec{}, r2.Vec{X: 40}, r2.Vec{X: 40, Y: 15}, r2.Vec{X: 60, Y: 15}, r2.Vec{X: 60},
		r2.Vec{X: 100}, r2.Vec{X: 100, Y: 40}, r2.Vec{X: 60, Y: 40}, r2.Vec{X: 60, Y: 25}, r2.Vec{X: 40, Y: 25},
		r2.Vec{X: 40, Y: 40}, r2.Vec{Y: 40})
	for _, d := range []float64{-4.9, -5.1} {
		loops, err := p.Offset(d, outline.OffsetOptions{})
		fmt.Println(d, len(loops), err)
	}
	// Output:
	// -4.9 1 <nil>
	// -5.1 2 <nil>
}

// The rivet row 6 mm inside the chine edge.
func ExamplePath_Parallel() {
	edge := outline.Polyline(r2.Vec{}, r2.Vec{X: 300}, r2.Vec{X: 500, Y: 60})
	row, err := edge.Parallel(-6, outline.OffsetOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	// 300 + √(200²+60²) less 2·6·tan of half the 16.7 degrees turned.
	fmt.Printf("%d line, %.2f mm long\n", len(row), row[0].Length())
	// Output:
	// 1 line, 507.04 mm long
}

func ExamplePath_Fillet() {
	p, err := outline.Rect(r2.Vec{}, r2.Vec{X: 40, Y: 30}).Fillet(2, 5)
	fmt.Printf("%.3f %v\n", p.Area(), err)
	_, err = p.Fillet(1, 40)
	fmt.Println(err)
	// Output:
	// 1194.635 <nil>
	// outline.Fillet: vertex 1: radius 40 at (40, 0): is too large: the arc must end on both segments that meet here
}

// A relief hole of 3 mm radius where two bend lines meet, opened into the corner.
func ExamplePath_Relieve() {
	l := outline.Polygon(r2.Vec{}, r2.Vec{X: 60}, r2.Vec{X: 60, Y: 20}, r2.Vec{X: 20, Y: 20}, r2.Vec{X: 20, Y: 60}, r2.Vec{Y: 60})
	p, err := l.Relieve(3, r2.Vec{X: 19, Y: 19}, 3)
	fmt.Printf("%.3f mm² less, %v\n", l.Area()-p.Area(), err)
	// Output:
	// 26.093 mm² less, <nil>
}

// A flange's flat laid to its web: the common edge vanishes.
func ExampleUnion() {
	web := outline.Rect(r2.Vec{}, r2.Vec{X: 100, Y: 60})
	flange := outline.Polygon(r2.Vec{X: 5, Y: 60}, r2.Vec{X: 95, Y: 60}, r2.Vec{X: 88, Y: 78}, r2.Vec{X: 12, Y: 78})
	blank, err := outline.Union([]outline.Path{web}, []outline.Path{flange})
	fmt.Println(len(blank), blank[0].NumSegments(), blank[0].Area(), err)
	// Output:
	// 1 8 7494 <nil>
}

func ExampleDifference() {
	skin := outline.Rect(r2.Vec{}, r2.Vec{X: 300, Y: 200})
	hatch, err := outline.Difference([]outline.Path{skin}, []outline.Path{outline.Circle(r2.Vec{X: 150, Y: 100}, 70)})
	fmt.Println(len(hatch), err)
	// Output:
	// 2 <nil>
}

// The chine as loftsmen's arcs: a whole sine wave within a tenth of a millimetre.
func ExampleFitCurve() {
	chine := func(x float64) (p, d r2.Vec) {
		s, c := math.Sincos(x * math.Pi / 1000)
		return r2.Vec{X: x, Y: 60 * s}, r2.Vec{X: 1, Y: 60 * math.Pi / 1000 * c}
	}
	p, err := outline.FitCurve(chine, 0, 2000, 0.1)
	fmt.Println(p.NumSegments() < 20, err)
	// Output:
	// true <nil>
}

// A hull frame's bilge as a conic: rho 0.41421 on a right angle is the quarter circle.
func ExampleConic() {
	p, err := outline.Conic(r2.Vec{X: 10}, r2.Vec{X: 10, Y: 10}, r2.Vec{Y: 10}, math.Sqrt2-1, 0.001)
	fmt.Printf("%d arc of radius %.3f, %v\n", p.NumSegments(), p.Segment(0).Radius(), err)
	// Output:
	// 1 arc of radius 10.000, <nil>
}

// The left-hand part from the right-hand one.
func ExampleMirror() {
	right := outline.Path{Closed: true, Vertices: []outline.Vertex{{P: r2.Vec{}}, {P: r2.Vec{X: 30}, Bulge: 0.5}, {P: r2.Vec{X: 30, Y: 20}}}}
	left := right.Transform(outline.Mirror(r2.Vec{}, 90*measure.Degree))
	fmt.Printf("%.3f %.3f %g\n", right.Area(), left.Area(), left.Vertices[1].Bulge)
	// Output:
	// 369.890 -369.890 -0.5
}

func ExampleOrient() {
	a, b := r2.Vec{}, r2.Vec{X: 3, Y: 1}
	fmt.Println(outline.Orient(a, b, r2.Vec{X: 6, Y: 2}), outline.Orient(a, b, r2.Vec{X: 6, Y: math.Nextafter(2, 3)}))
	// Output:
	// 0 1
}

func ExampleClearance() {
	d, a, b := outline.Clearance(outline.Circle(r2.Vec{}, 10), outline.Circle(r2.Vec{X: 30, Y: 40}, 15))
	fmt.Printf("%.3f from (%.0f, %.0f) to (%.0f, %.0f)\n", d, a.X, a.Y, b.X, b.Y)
	// Output:
	// 25.000 from (6, 8) to (21, 28)
}

func ExampleInscribed() {
	_, r, err := outline.Inscribed([]outline.Path{outline.Polygon(r2.Vec{}, r2.Vec{X: 30}, r2.Vec{Y: 40})}, 1e-6)
	fmt.Printf("%.3f %v\n", r, err)
	// Output:
	// 10.000 <nil>
}

func ExampleJoin() {
	pieces := []outline.Path{
		outline.Polyline(r2.Vec{X: 10.004}, r2.Vec{X: 10, Y: 5}),
		outline.Polyline(r2.Vec{}, r2.Vec{X: 10}),
		outline.Polyline(r2.Vec{}, r2.Vec{X: 9.998, Y: 5.001}),
	}
	loops, err := outline.Join(pieces, 0.01)
	fmt.Println(len(loops), loops[0].Closed, loops[0].NumSegments(), err)
	// Output:
	// 1 true 3 <nil>
}

// A quarter turn counter-clockwise about the origin, then 5 mm up.
func ExampleRotate() {
	p := outline.Rotate(r2.Vec{}, 90*measure.Degree).Apply(r2.Vec{X: 10})
	p = outline.Translate(r2.Vec{Y: 5}).Apply(p)
	fmt.Printf("%.1f, %.1f\n", math.Abs(p.X), p.Y)
	// Output: 0.0, 15.0
}

// Two sheets of 10 by 10 mm that overlap by 5 in one direction share 5 by 10.
func ExampleIntersection() {
	a := outline.Polygon(r2.Vec{}, r2.Vec{X: 10}, r2.Vec{X: 10, Y: 10}, r2.Vec{Y: 10})
	b := outline.Polygon(r2.Vec{X: 5}, r2.Vec{X: 15}, r2.Vec{X: 15, Y: 10}, r2.Vec{X: 5, Y: 10})
	both, err := outline.Intersection([]outline.Path{a}, []outline.Path{b})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d loop of %.1f mm²\n", len(both), both[0].Area())
	// Output: 1 loop of 50.0 mm²
}

// The rim of a round hatch as it was touched with a probe every 5 degrees: arcs of the radius of 150 mm it was
// cut to, not facets.
func ExampleFitRing() {
	var touched []r2.Vec
	for i := range 72 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 72)
		touched = append(touched, r2.Vec{X: 150 * cos, Y: 150 * sin})
	}
	rim, err := outline.FitRing(touched, 0.02)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v arcs rather than 72 facets, radius %.1f mm\n", rim.NumSegments() < 8, rim.Segment(0).Radius())
	// Output:
	// true arcs rather than 72 facets, radius 150.0 mm
}

// Where a hull's bottom was read by hand every 100 mm along a sweep of radius 2 m.
func ExampleFitPoints() {
	var readings []r2.Vec
	for i := range 9 {
		x := 100*float64(i) - 400
		readings = append(readings, r2.Vec{X: x, Y: 2000 - math.Sqrt(2000*2000-x*x)})
	}
	sweep, err := outline.FitPoints(readings, 0.1)
	if err != nil {
		fmt.Println(err)
		return
	}
	// 2·2000·asin(400/2000) = 805.4 mm
	fmt.Printf("%.1f mm along\n", sweep.Length())
	// Output:
	// 805.4 mm along
}

// Which of many rivets stand in the metal of a web with a hole, and how far each is from an edge.
func ExampleNewIndex() {
	web := outline.Rect(r2.Vec{}, r2.Vec{X: 220, Y: 80})
	hole := outline.Circle(r2.Vec{X: 110, Y: 40}, 25).Reverse()
	metal := outline.NewIndex(web, hole)
	for _, at := range []r2.Vec{{X: 8, Y: 40}, {X: 110, Y: 30}, {X: 141, Y: 40}} {
		fmt.Printf("%v, %.0f mm from an edge\n", metal.Side(at), metal.Distance(at))
	}
	// Output:
	// inside, 8 mm from an edge
	// outside, 15 mm from an edge
	// inside, 6 mm from an edge
}

// The section of an angle of 20 by 20 by 2: A = 76 mm², and its centre by its two legs, 40 mm² at 10 and
// 36 mm² at 1 mm, so (400 + 36)/76 = 5.737 mm off either back.
func ExamplePath_Moments() {
	p := outline.Polygon(r2.Vec{}, r2.Vec{X: 20}, r2.Vec{X: 20, Y: 2}, r2.Vec{X: 2, Y: 2}, r2.Vec{X: 2, Y: 20}, r2.Vec{Y: 20})
	m := p.Moments()
	fmt.Printf("A %.0f mm², centre (%.3f, %.3f) mm\n", m.Area, m.Centroid.X, m.Centroid.Y)
	// Output:
	// A 76 mm², centre (5.737, 5.737) mm
}

// A slot 6 wide along 100 mm: 100·6 and the two half circles, π·9.
func ExamplePath_Strip() {
	slot, err := outline.Polyline(r2.Vec{}, r2.Vec{X: 100}).Strip(3)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d path, %.2f mm²\n", len(slot), slot[0].Area())
	// Output: 1 path, 628.27 mm²
}

// A line at height 30 crosses a circle of radius 50 at ±40.
func ExamplePath_Crossings() {
	line := outline.Polyline(r2.Vec{X: -100, Y: 30}, r2.Vec{X: 100, Y: 30})
	for _, c := range line.Crossings(outline.Circle(r2.Vec{}, 50), 1e-9) {
		fmt.Printf("%.3f, %.3f\n", c.P.X, c.P.Y)
	}
	// Output:
	// -40.000, 30.000
	// 40.000, 30.000
}

// A digitized straight edge with points it does not need.
func ExamplePath_Simplify() {
	edge := outline.Polyline(r2.Vec{}, r2.Vec{X: 10, Y: 0.02}, r2.Vec{X: 25, Y: -0.01}, r2.Vec{X: 40}, r2.Vec{X: 40, Y: 30})
	simple, err := edge.Simplify(0.05)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(edge.NumSegments(), "segments, then", simple.NumSegments())
	// Output: 4 segments, then 2
}

// From 50 mm along an angle of two legs of 100 to 150 mm along it.
func ExamplePath_Trim() {
	p, err := outline.Polyline(r2.Vec{}, r2.Vec{X: 100}, r2.Vec{X: 100, Y: 100}).Trim(50, 150)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range p.Segments() {
		fmt.Println(s.A, "to", s.B)
	}
	// Output:
	// {50 0} to {100 0}
	// {100 0} to {100 50}
}

// A blank turned a quarter and laid on the sheet, and where a point of the sheet is on the blank.
func ExampleAffine() {
	onSheet := outline.Rotate(r2.Vec{}, 90*measure.Degree).Then(outline.Translate(r2.Vec{X: 500, Y: 20}))
	p := onSheet.Apply(r2.Vec{X: 100, Y: 30})
	back := onSheet.Inverse().Apply(p)
	fmt.Printf("(%.0f, %.0f), back at (%.0f, %.0f), mirrored %v\n", p.X, p.Y, back.X, back.Y, onSheet.Mirrors())
	// Output: (470, 120), back at (100, 30), mirrored false
}
