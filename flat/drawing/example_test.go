package drawing_test

import (
	"fmt"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// An angle of 90° bent up along one edge of a plate: what stands on which layer.
func ExampleOf() {
	b, err := flat.Develop(flat.Part{
		Name:   "clip",
		Sheet:  material.Sheet{Material: material.Material{Alloy: "2024", Temper: "T3"}, Thickness: 0.040 * measure.Inch},
		Radius: 0.16 * measure.Inch,
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
	for _, p := range drawing.Of(b).Paths {
		fmt.Printf("%-12s %s\n", p.Layer, p.Name)
	}
	// Output:
	// CUT          blank
	// BEND_TANGENT lower
	// BEND_TANGENT lower
	// BEND_CENTER  lower
	// SIGHT        lower
	// MOLD         web
}

// 3/16 in is 4.7625 mm.
func ExampleDual() {
	fmt.Println(drawing.Dual(3 * measure.Inch / 16))
	// Output:
	// 0.188 [4.76]
}

// A half circle of radius 50 in chords that leave it by no more than 2 mm: each may span 2·acos(1 - 2/50) = 32.5°,
// so six of 30°.
func ExampleChords() {
	half := outline.Path{Vertices: []outline.Vertex{{P: r2.Vec{X: 50}, Bulge: 1}, {P: r2.Vec{X: -50}}}}
	fmt.Println(len(drawing.Chords(half, 2))-1, "chords")
	// Output:
	// 6 chords
}

// Two lines of lettering, one slanted: whether they would lie on each other.
func ExampleFrame() {
	upright := drawing.Frame{Center: r2.Vec{}, Along: r2.Vec{X: 1}, Half: r2.Vec{X: 20, Y: 2}}
	slanted := drawing.Frame{Center: r2.Vec{Y: 10}, Along: r2.Vec{X: 0.8, Y: 0.6}, Half: r2.Vec{X: 20, Y: 2}}
	fmt.Println(upright.Overlaps(slanted))
	slanted.Center.Y = 20
	fmt.Println(upright.Overlaps(slanted))
	// Output:
	// true
	// false
}

// A template drawn by hand, that never was a blank.
func ExampleDrawing() {
	d := drawing.Drawing{Name: "template"}
	d.Add(drawing.Cut, "edge", outline.Rect(r2.Vec{}, r2.Vec{X: 100, Y: 60}))
	d.AddLine(drawing.Mark, "middle", r2.Vec{X: 50, Y: -10}, r2.Vec{X: 50, Y: 70})
	cut, _ := d.Bounds(drawing.Cut)
	all, _ := d.Bounds()
	fmt.Println("cut", cut.Min, cut.Max)
	fmt.Println("all", all.Min, all.Max)
	fmt.Println("nothing else", drawing.Join(cut, all) == all)
	// Output:
	// cut {0 0} {100 60}
	// all {0 -10} {100 70}
	// nothing else true
}

// Two labels for the middle of one plate, lettered at 5 mm. A letter takes 0.6 of that: PLATE is
// 15 mm long and UP 6, and a line is 1.25 of it high. UP finds PLATE in its way and goes a quarter of
// the 50 mm from the middle to the plate's end, 12.5, where 7.5 + 3 keeps clear.
func ExampleDrawing_Lay() {
	d := drawing.Drawing{Name: "plate"}
	plate := outline.Rect(r2.Vec{}, r2.Vec{X: 100, Y: 50})
	d.Add(drawing.Cut, "edge", plate)
	var room []r2.Vec
	for _, v := range plate.Vertices {
		room = append(room, v.P)
	}
	for _, text := range []string{"PLATE", "UP"} {
		d.Labels = append(d.Labels, drawing.Label{Layer: drawing.Note, Text: []string{text}, At: r2.Vec{X: 50, Y: 25}, Along: r2.Vec{X: 1}, Room: room})
	}
	laid := d.Lay(drawing.Style{Size: 5})
	for _, t := range laid.Texts {
		fmt.Printf("%-5s at (%.1f, %.1f), %.0f x %.2f mm\n", t.Text, t.Center.X, t.Center.Y, 2*t.Half.X, 2*t.Half.Y)
	}
	fmt.Println("no room for", laid.Left)
	// Output:
	// PLATE at (50.0, 25.0), 15 x 6.25 mm
	// UP    at (37.5, 25.0), 6 x 6.25 mm
	// no room for []
}
