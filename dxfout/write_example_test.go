package dxfout_test

import (
	"fmt"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"github.com/hangarflat/hangarflat/dxfout"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/outline"
)

// A plate 100 by 50 mm with a round hole: one closed polyline on layer CUT, one circle.
func ExampleWrite() {
	d := drawing.Drawing{Name: "plate"}
	d.Add(drawing.Cut, "edge", outline.Polygon(r2.Vec{}, r2.Vec{X: 100}, r2.Vec{X: 100, Y: 50}, r2.Vec{Y: 50}))
	d.Circles = append(d.Circles, drawing.Circle{Layer: drawing.Hole, Name: "hole", Center: r2.Vec{X: 20, Y: 25}, Diameter: 6})
	var text strings.Builder
	err := dxfout.Write(&text, d, dxfout.Options{})
	kinds := map[string]int{}
	for _, word := range strings.Fields(text.String()) {
		kinds[word]++
	}
	fmt.Println(kinds["LWPOLYLINE"], kinds["CIRCLE"], err)
	// Output: 1 1 <nil>
}
