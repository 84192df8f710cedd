package drawing_test

import (
	"fmt"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
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
