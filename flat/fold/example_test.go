package fold_test

import (
	"fmt"
	"math"

	"github.com/hangarflat/hangarflat/flat/fold"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// angle is an angle of 1 mm sheet, 100 mm long, bent up 90° round 3 mm: mold-line legs
// of 50 and 20 mm, so flats of 46 and 16 with the setback of 4 off. The bend takes up
// π/2·(3 + 1/2) = 5.498 mm, its neutral line in the middle of the sheet.
func angle() fold.Flat {
	const bend = math.Pi / 2 * 3.5
	return fold.Flat{
		Thickness: 1,
		Panels: [][]r2.Vec{
			{{X: 0, Y: 0}, {X: 100, Y: 0}, {X: 100, Y: 46}, {X: 0, Y: 46}},
			{{X: 0, Y: -bend}, {X: 0, Y: -bend - 16}, {X: 100, Y: -bend - 16}, {X: 100, Y: -bend}},
		},
		Bends: []fold.Bend{{
			Parent: 0, Child: 1, A: r2.Vec{}, B: r2.Vec{X: 100},
			Width: bend, Angle: 90 * measure.Degree, Radius: 3, Up: true,
			Zone: []r2.Vec{{}, {Y: -bend}, {X: 100, Y: -bend}, {X: 100}},
		}},
	}
}

func ExampleFold() {
	s, err := fold.Fold(angle())
	if err != nil {
		fmt.Println(err)
		return
	}
	f := s.Frames[1]
	fmt.Printf("the flange's marking face looks along x %.0f, y %.0f, z %.0f\n", f.Z.X, f.Z.Y, f.Z.Z)

	bad := angle()
	bad.Bends[0].Angle = 190 * measure.Degree
	bad.Thickness = math.NaN()
	_, err = fold.Fold(bad)
	fmt.Println(err)
	// Output:
	// the flange's marking face looks along x 0, y 1, z 0
	// thickness NaN: must be above 0 mm
	// bend 0 angle 190: must be above 0 and at most 180 degrees
}

// The outside of the flange stands on its mold line, 4 mm out from the tangent line,
// and ends 20 mm above the outside of the web.
func ExampleSolid_Panel() {
	s, err := fold.Fold(angle())
	if err != nil {
		fmt.Println(err)
		return
	}
	tip := s.Flat.Panels[1][1]
	fmt.Printf("%.3f\n", s.Panel(1, tip, -s.Flat.Thickness))
	// Output:
	// {0.000 -4.000 19.000}
}

// Halfway round a bend of 90°, the outside lies R + T from the axis, at 45°.
func ExampleSolid_Zone() {
	s, err := fold.Fold(angle())
	if err != nil {
		fmt.Println(err)
		return
	}
	half := r2.Vec{X: 50, Y: -s.Flat.Bends[0].Width / 2}
	p := s.Zone(0, half, -1)
	fmt.Printf("y %.4f, z %.4f; 4·sin 45° = %.4f\n", p.Y, p.Z, 4*math.Sqrt2/2)
	// Output:
	// y -2.8284, z 0.1716; 4·sin 45° = 2.8284
}

func ExampleSolid_Clashes() {
	// Two lips turned in over a web of 20 mm, 12 mm wide each and one 0.4 mm lower than
	// the other: they lap by 4 mm, and the sheet is 1 mm thick. The inside of the first
	// lip stands at z = 1 + 8 + 1, that of the second 0.4 mm lower.
	s, err := fold.Fold(lipped(20, 12, 12, 0.4))
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range s.Clashes(0.05, nil) {
		fmt.Printf("panel %d stands in panel %d at z %.1f, %.1f mm deep\n", c.A.Index, c.B.Index, c.At.Z, c.Deep)
	}
	s, err = fold.Fold(lipped(20, 12, 12, 1.2))
	fmt.Println(len(s.Clashes(0.05, nil)), err)
	// Output:
	// panel 3 stands in panel 4 at z 10.0, 0.4 mm deep
	// 0 <nil>
}

func ExampleSolid_Bulk() {
	s, err := fold.Fold(angle())
	if err != nil {
		fmt.Println(err)
		return
	}
	b, err := s.Bulk([]fold.Hole{{Panel: 0, Circle: fold.Circle{Center: r2.Vec{X: 50, Y: 25}, Radius: 10}}})
	if err != nil {
		fmt.Println(err)
		return
	}
	// 100·(46 + 16)·1 + π/2·3.5·100 - π·10² = 6435.6. The bend, a quarter ring from 3 to
	// 4 mm, balances (4³ - 3³)/3/3.5·2/π = 2.243 mm out from its axis both ways, so
	// y = (4600·23 - 1600·3.5 - 549.8·2.243 - 314.2·25)/6435.6 = 14.16 and
	// z = (-4600/2 + 1600·11 + 549.8·(3 - 2.243) + 314.2/2)/6435.6 = 2.47.
	fmt.Printf("%.1f mm³, %.1f g in aluminium of 2.78 g/cm³\n", b.Volume, b.Mass(2.78))
	fmt.Printf("balances at x %.2f, y %.2f, z %.2f\n", b.Center.X, b.Center.Y, b.Center.Z)
	// Output:
	// 6435.6 mm³, 17.9 g in aluminium of 2.78 g/cm³
	// balances at x 50.00, y 14.16, z 2.47
}
