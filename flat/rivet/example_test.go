package rivet_test

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r2"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/flat/rivet"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

func ExamplePattern_Lay() {
	const inch = measure.Inch
	edge := outline.Polyline(r2.Vec{}, r2.Vec{X: 10 * inch})
	rim := rivet.Pattern{Name: "lap", Edge: edge, Inset: inch / 4, Pitch: inch, End: inch / 4}
	l, err := rim.Lay(rivet.Rivet{Diameter: inch / 8})
	if err != nil {
		fmt.Println(err)
		return
	}
	first, second := l.Rows[0].Holes[0], l.Rows[0].Holes[1]
	fmt.Printf("%d rivets, first %s from the end, pitch %s\n", l.Count(), measure.InchText(first.At.X, 3), measure.InchText(second.At.X-first.At.X, 3))
	// Output: 11 rivets, first 0.250 in from the end, pitch 0.950 in
}

func ExampleRequire() {
	sheet := material.Sheet{Material: material.Material{Alloy: "2024", Temper: "T3", Clad: true}, Thickness: 0.032 * measure.Inch}
	need, err := rivet.Require(sheet, 10*measure.Inch, rivet.Rivet{Diameter: measure.Inch / 8}, rivet.SingleLap)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(need.Needed, "rivets on each side, two rows of", need.PerRow(2))
	fmt.Println(need.Steps[1])
	// Output:
	// 37 rivets on each side, two rows of 19
	// rivets on each side, single-lap sheet joint: Ns = round up(N·p/100) = round up(49·75/100) = 37 [FAA AC 43.13-1B, notes to Table 4-10: single-lap sheet joint, rounded up twice]
}

func ExampleRivet_Shank() {
	five := rivet.Rivet{Diameter: 5. / 32 * measure.Inch}
	s, err := five.Shank(2 * 0.050 * measure.Inch)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(measure.InchText(s.Wanted, 3), "wanted,", measure.InchText(s.Stock, 4), "from stock")
	_, err = five.Shank(-1)
	fmt.Println(err)
	// Output:
	// 0.334 in wanted, 0.3750 in from stock
	// grip -1 mm: must be above 0 and at most 50 mm
}

func ExampleDrivingOrder() {
	var rows []rivet.Row
	for _, y := range []float64{0, 30, 60} {
		l, err := rivet.Pattern{Name: fmt.Sprintf("row at %g", y), Edge: outline.Polyline(r2.Vec{Y: y}, r2.Vec{X: 80, Y: y}), Pitch: 20}.Lay(rivet.Rivet{Diameter: 3})
		if err != nil {
			fmt.Println(err)
			return
		}
		rows = append(rows, l.Rows...)
	}
	order, err := rivet.DrivingOrder(rows)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, d := range order[:6] {
		fmt.Println(rows[d.Row].Name, "x", d.At.X)
	}
	// Output:
	// row at 30 x 40
	// row at 30 x 60
	// row at 30 x 20
	// row at 30 x 80
	// row at 30 x 0
	// row at 0 x 40
}

func ExamplePatch_Fit() {
	alclad := material.Sheet{Material: material.Material{Alloy: "2024", Temper: "T3", Clad: true}, Thickness: 0.040 * measure.Inch}
	f, err := rivet.Patch{
		Name: "port hatch", Opening: outline.Circle(r2.Vec{}, 60), Skin: alclad, Sheet: alclad,
		Rivet: rivet.Rivet{Diameter: measure.Inch / 8}, Rows: 2, Pitch: 18, Stagger: true,
	}.Fit()
	if err != nil {
		fmt.Println(err)
		return
	}
	size := f.Pieces[0].Outline.Bounds().Size()
	fmt.Printf("%d rivets 1/8 x %s, patch %s across, stopped %v\n", f.Rivets, measure.InchText(f.Groups[0].Shank.Stock, 4), measure.MmText(size.X, 1), f.Stopped())
	// Output: 56 rivets 1/8 x 0.3125 in, patch 172.4 mm across, stopped false
}

// FAA AC 43.13-1B Table 4-10, clad 2024 .032 thick, 1/8 rivets: 4.9 an inch. A sheet of .036
// lies on its own row: 5.6.
func ExamplePerInch() {
	for _, t := range []float64{0.032, 0.036} {
		n, err := rivet.PerInch(t*measure.Inch, measure.Inch/8)
		fmt.Println(n, err)
	}
	// Output:
	// 4.9 <nil>
	// 5.6 <nil>
}

// .032 on .040 is .072.
func ExampleGrip() {
	stack := []material.Sheet{{Thickness: 0.032 * measure.Inch}, {Thickness: 0.040 * measure.Inch}}
	fmt.Println(measure.InchText(rivet.Grip(stack), 3))
	// Output: 0.072 in
}

// Every other rivet of a row of nine, and its ends, hold a temporary fastener until its turn comes. Driving starts at the
// middle, rivet 5, so from there 1, 3, 5, 7 and 9 in are pinned.
func ExampleTemporary() {
	rows := []rivet.Row{{Name: "stringer", Line: outline.Polyline(r2.Vec{}, r2.Vec{X: 160})}}
	for i := range 9 {
		rows[0].Holes = append(rows[0].Holes, rivet.Hole{At: r2.Vec{X: 20 * float64(i)}})
	}
	order, err := rivet.DrivingOrder(rows)
	if err != nil {
		fmt.Println(err)
		return
	}
	pins, err := rivet.Temporary(rows, order, 2)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("first driven:", order[0].Hole+1, "pins:", len(pins))
	// Driven from the middle out, slack never is shut in between driven rivets.
	slack, err := rivet.EstimateSlack(rows, order, 0.02)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("shut in: %.2f mm\n", slack.Trapped)
	// Output:
	// first driven: 5 pins: 5
	// shut in: 0.00 mm
}

// What the handbooks ask of a 1/8 rivet: 2 and 4 diameters from the edge, 3 to 10 apart, 2½ between rows.
func ExampleRivet() {
	eighth := rivet.Rivet{Diameter: measure.Inch / 8}
	in := func(mm float64) string { return measure.InchText(mm, 4) }
	drill, _ := eighth.Drill()
	fmt.Println("drill", drill.Name, in(drill.Diameter))
	least, most := eighth.EdgeDistance()
	fmt.Println("edge distance", in(least), "to", in(most))
	least, most = eighth.Pitch()
	fmt.Println("pitch", in(least), "to", in(most))
	least, usual := eighth.RowSpacing(measure.Inch)
	fmt.Println("rows", in(least), "at least, at 1 in pitch usually", in(usual))
	// Output:
	// drill No. 30 0.1285 in
	// edge distance 0.2500 in to 0.5000 in
	// pitch 0.3750 in to 1.2500 in
	// rows 0.3125 in at least, at 1 in pitch usually 0.7500 in
}

// A row that stands 5 mm from the edge where 1/8 rivets want 6.35.
func ExampleCheck_Findings() {
	edge := outline.Polyline(r2.Vec{}, r2.Vec{X: 100})
	row, err := rivet.Pattern{Name: "lap", Edge: edge, Inset: 5, Pitch: 20, End: 10}.Lay(rivet.Rivet{Diameter: measure.Inch / 8})
	if err != nil {
		fmt.Println(err)
		return
	}
	alclad := material.Sheet{Material: material.Material{Alloy: "2024", Temper: "T3", Clad: true}, Thickness: 0.040 * measure.Inch}
	findings, err := rivet.Check{
		Layout: row, Stack: []material.Sheet{alclad, alclad},
		Edges: []rivet.SheetEdge{{Name: "skin edge", Path: edge}},
	}.Findings()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range findings {
		if f.Severity == flat.Stop {
			fmt.Printf("%s, %s: %.2f against %.2f mm\n", f.Severity, f.Place, f.Figure, f.Limit)
		}
	}
	// Output: STOP, lap, 5 places, worst at rivet 1: 5.00 against 6.35 mm
}

// The middle of a flange of 20 on R .160, T .040: the tangent line lies 5.08 from the mold line, so the row is 12.54 from
// it, and begins 6 from either end.
func ExampleFlangeLine() {
	b, err := flat.Develop(flat.Part{
		Name:   "clip",
		Sheet:  material.Sheet{Material: material.Material{Alloy: "2024", Temper: "T3"}, Thickness: 0.040 * measure.Inch},
		Radius: 0.160 * measure.Inch,
		Web: flat.Web{Edges: []flat.Edge{
			{Name: "lower", Flanges: []flat.Flange{{Angle: 90 * measure.Degree, Height: 20}}},
			{Name: "right", Start: r2.Vec{X: 60}},
			{Name: "upper", Start: r2.Vec{X: 60, Y: 40}},
			{Name: "left", Start: r2.Vec{Y: 40}},
		}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	const flange = 1
	line, err := rivet.FlangeLine(b, flange, 0, 6)
	if err != nil {
		fmt.Println(err)
		return
	}
	s := line.Segment(0)
	fmt.Printf("from (%.2f, %.2f) to (%.2f, %.2f)\n", s.A.X, s.A.Y, s.B.X, s.B.Y)
	// Output: from (6.00, 12.54) to (54.00, 12.54)
}

// A doubler behind a skin of R 1000 lies 2 mm inside its outer face: 100 mm round the skin is
// 100·998/1000 on it; along the axis nothing changes.
func ExampleRoll_Flatten() {
	hull := rivet.Roll{Radius: 1000}
	sheet, err := hull.Flatten(outline.Polyline(r2.Vec{}, r2.Vec{X: 50, Y: 100}), -2)
	if err != nil {
		fmt.Println(err)
		return
	}
	end := sheet.Segment(0).B
	fmt.Printf("%.1f along, %.1f round\n", end.X, end.Y)
	// Output: 50.0 along, 99.8 round
}

// A flange 6 in long asks for 1/8 in rivets no farther apart than 3/4 in. Between ends of two diameters, 5 1/2 in, that
// makes 8 spaces; with the part their pilots are developed, proved and drawn.
func ExampleFlangeRows() {
	const inch = measure.Inch
	rows := rivet.FlangeRows{Rivet: rivet.Rivet{Diameter: inch / 8}, Pitch: 0.75 * inch, FromMold: 0.5 * inch}
	b, err := flat.Develop(flat.Part{
		Name: "clip", Radius: 0.125 * inch,
		Sheet: material.Sheet{Material: material.Material{Alloy: "2024", Temper: "T3"}, Thickness: 0.040 * inch},
		Web: flat.Web{Edges: []flat.Edge{
			{Name: "lower", Flanges: []flat.Flange{{Name: "lower", Angle: 90 * measure.Degree, Height: 0.75 * inch, Rivets: []flat.Riveting{rows}}}},
			{Start: r2.Vec{X: 6 * inch}}, {Start: r2.Vec{X: 6 * inch, Y: 2 * inch}}, {Start: r2.Vec{Y: 2 * inch}},
		}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	row := b.Rows[0]
	fmt.Printf("row %s: %d rivets, %s, pitch %s\n", row.Name, len(row.Centers), row.Rivet, measure.InchText(row.Centers[1].X-row.Centers[0].X, 4))
	fmt.Printf("%d %ss of %s\n", len(b.Holes), b.Holes[0].Purpose, measure.InchText(b.Holes[0].Diameter, 4))
	// Output:
	// row lower: 9 rivets, 1/8 in, protruding head, pitch 0.6875 in
	// 9 rivet pilots of 0.0938 in
}
