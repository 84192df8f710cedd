package partfile_test

import (
	"errors"
	"fmt"
	"os"
	"strings"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/partfile"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

func ExampleRead() {
	const file = `
kind = "section"
name = "angle"
[sheet]
material  = "6061-T4"
thickness = "0.040 in"
[bends]
radius = "1/8 in"
[section]
length = "10 in"
[[section.leg]]
width = "1 in"
bend  = "90 deg"
turn  = "up"
[[section.leg]]
width = "2 in"
`
	doc, err := partfile.Read("angle.toml", strings.NewReader(file))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(doc.Kind, doc.Part.Name, doc.Part.Sheet.Material)
	fmt.Println(measure.Both(doc.Part.Web.Edges[0].Flanges[0].Height))
	// Output:
	// section angle 6061-T4
	// 1.0000 in (25.400 mm)
}

// Every fault of a file comes out at once, each with its place.
func ExampleFaults() {
	const file = `kind = "edges"
name = "gusset"
[sheet]
material  = "2024-T3"
thickness = 0.040
[[edge]]
at = ["0 mm", "0 mm"]
[[edge]]
at = [80, "0 mm"]
[[edge]]
at = ["0 mm", "50 mm"]
bulgde = 0.2
`
	_, err := partfile.Read("gusset.toml", strings.NewReader(file))
	for _, f := range partfile.Faults(err) {
		fmt.Printf("line %d, column %d: %s: %s\n", f.Line, f.Column, f.Field, f.Rule)
	}
	// Output:
	// line 5, column 13: sheet thickness: a bare number has no unit: write "0.040 in" or "0.040 mm", with the quotation marks
	// line 9, column 7: edge 2 at x: a bare number has no unit: write "80 in" or "80 mm", with the quotation marks
	// line 12, column 1: edge 3 bulgde: is not known here: did you mean "bulge"? (one of "arc", "at", "bulge", "corner", "corner_cut_before", "flange", "length", "name")
}

func ExampleWrite() {
	err := partfile.Write(os.Stdout, flat.Part{
		Name:   "clip",
		Sheet:  material.Sheet{Material: material.Material{Alloy: "2024", Temper: "T3"}, Thickness: 0.040 * measure.Inch},
		Rule:   bend.Handbook{},
		Radius: 5. / 32 * measure.Inch,
		Web: flat.Web{Edges: []flat.Edge{
			{Start: r2.Vec{}, Flanges: []flat.Flange{{Turn: flat.Up, Angle: 97.5 * measure.Degree, Height: 20}}},
			{Start: r2.Vec{X: 50}},
			{Start: r2.Vec{X: 50, Y: 2 * measure.Inch}},
		}},
	})
	if err != nil {
		fmt.Println(err)
	}
	// Output:
	// kind = "edges"
	// name = "clip"
	//
	// [sheet]
	// material = "2024-T3"
	// thickness = "0.040 in"
	//
	// [bends]
	// radius = "5/32 in"
	// rule = "handbook"
	//
	// [[edge]]
	// at = ["0 mm", "0 mm"]
	//
	// [[edge.flange]]
	// turn = "up"
	// angle = "97.5 deg"
	// height = "20 mm"
	//
	// [[edge]]
	// at = ["50 mm", "0 mm"]
	//
	// [[edge]]
	// at = ["50 mm", "2 in"]
}

func ExampleDocument_Locate() {
	data, err := os.ReadFile("../../examples/intercostal/keel-bay-7-edges.toml")
	if err != nil {
		fmt.Println(err)
		return
	}
	doc, err := partfile.Read("bay.toml", strings.NewReader(string(data)))
	if err != nil {
		fmt.Println(err)
		return
	}
	// As developing the part would find it.
	found := &flat.Error{Path: "web.edges[1].flanges[0].height", Value: "19.05 mm", Rule: "is shorter than its setback"}
	var fault *partfile.Error
	fmt.Println(errors.As(doc.Locate(found), &fault), fault)
	// Output:
	// true bay.toml:50:13: edge 2 flange 1 height: "3/4 in": is shorter than its setback
}

// A hand brake's dimensions, as the shop measured them.
func ExampleReadBrake() {
	own, err := partfile.ReadBrake("brake.toml", strings.NewReader(`
length = "36 in"
clear  = "1 mm"
[nose]
depth  = "1 3/4 in"
height = "2 1/2 in"
most   = "135 deg"
lift   = "1 1/4 in"
[bed]
depth  = "8 in"
height = "3 in"
[leaf]
depth  = "3 in"
height = "2 in"
`))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f mm long, turns to %v\n", own.Length, own.Nose.Most)
	// Output:
	// 914.4 mm long, turns to 135°
}
