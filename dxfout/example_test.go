package dxfout_test

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/hangarflat/hangarflat/dxfout"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// A shop tool with geometry of its own puts a washer on two layers, in inches.
func ExampleWriter() {
	var file bytes.Buffer
	w, err := dxfout.NewWriter(&file, dxfout.Sheet{
		Options: dxfout.Options{Version: dxfout.R12, Unit: dxfout.Inch},
		Layers:  []dxfout.Layer{{Name: "CUT", Color: 7}, {Name: "NOTE", Color: 9}},
		Bounds:  r2.Box{Min: r2.Vec{X: -10, Y: -10}, Max: r2.Vec{X: 10, Y: 10}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	w.Path("CUT", outline.Rect(r2.Vec{X: -10, Y: -10}, r2.Vec{X: 10, Y: 10}))
	w.Circle("CUT", r2.Vec{}, 0.125*measure.Inch)
	w.Text("NOTE", dxfout.Text{At: r2.Vec{X: -8, Y: 5}, Height: 2, Text: "1/4 in"})
	fmt.Println(w.Close())
	fmt.Println(strings.Count(file.String(), "VERTEX"), strings.Contains(file.String(), " 40\r\n0.125\r\n"))

	// What a file cannot hold is refused, and the first refusal sticks.
	w, _ = dxfout.NewWriter(&file, dxfout.Sheet{})
	w.Circle("HOLE", r2.Vec{}, 1)
	fmt.Println(w.Close())
	// Output:
	// <nil>
	// 4 true
	// dxfout: circle 1: layer "HOLE": must be declared in the sheet
}
