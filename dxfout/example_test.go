package dxfout_test

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/hangarflat/hangarflat/dxfout"
	"github.com/hangarflat/hangarflat/flat/drawing"
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

// A strip 50.8 mm long, for a shop whose old control counts inches and for one that takes the
// later files in millimetres. 50.8 mm are 2 in, and the word at the head of the file that says
// what it counts, $INSUNITS, is 1 for inches and 4 for millimetres.
func ExampleOptions() {
	strip := drawing.Drawing{Name: "strip"}
	strip.Add(drawing.Cut, "edge", outline.Rect(r2.Vec{}, r2.Vec{X: 50.8, Y: 25.4}))
	for _, o := range []dxfout.Options{{Version: dxfout.R12, Unit: dxfout.Inch}, {}} {
		var file strings.Builder
		if err := dxfout.Write(&file, strip, o); err != nil {
			fmt.Println(err)
			return
		}
		var found []string
		for _, group := range []string{"AC1009", "AC1015", "$INSUNITS\r\n 70\r\n1", "$INSUNITS\r\n 70\r\n4", " 10\r\n2.0", " 10\r\n50.8"} {
			if strings.Contains(file.String(), group+"\r\n") {
				found = append(found, group)
			}
		}
		fmt.Printf("%q\n", found)
	}
	// Output:
	// ["AC1009" "$INSUNITS\r\n 70\r\n1" " 10\r\n2.0"]
	// ["AC1015" "$INSUNITS\r\n 70\r\n4" " 10\r\n50.8"]
}

// What lettering a file cannot hold as it stands is written by its number in Unicode, which
// readers turn back: Ø is 00D8, and % and ^, which they would take for commands, are 0025 and
// 005E. A line break is a space, for a value is one line.
func ExampleText() {
	var file strings.Builder
	w, err := dxfout.NewWriter(&file, dxfout.Sheet{
		Layers: []dxfout.Layer{{Name: "NOTE", Color: 9}},
		Bounds: r2.Box{Max: r2.Vec{X: 100, Y: 20}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	w.Text("NOTE", dxfout.Text{At: r2.Vec{X: 50, Y: 10}, Height: 3, Align: dxfout.Middle, Text: "Ø 4.8\nfeed 50% ^"})
	if err := w.Close(); err != nil {
		fmt.Println(err)
		return
	}
	for line := range strings.Lines(file.String()) {
		if strings.Contains(line, "feed") {
			fmt.Println(strings.TrimSpace(line))
		}
	}
	// Output:
	// \U+00D8 4.8 feed 50\U+0025 \U+005E
}
