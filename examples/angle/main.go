// Command angle is as small a shop tool as there is: it makes an angle bracket from
// four sizes, says what a good foreman would say of it, and writes DXF, picture and
// card. The tutorial for those who write shop tools goes through it.
//
//	go run ./examples/angle -length "6 in" -legs "1 in" -turned "97 30'"
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"

	"gonum.org/v1/gonum/spatial/r2"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/dxfout"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/paper"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

func main() {
	if err := run(os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(args []string, screen io.Writer) error {
	flags := flag.NewFlagSet("angle", flag.ExitOnError)
	folder := flags.String("o", "out", "folder the files are written to")
	length := flags.String("length", "6 in", "length of the bracket")
	legs := flags.String("legs", "1 in", "both legs, to the mold line")
	turned := flags.String("turned", "90 deg", "bend angle, turned from flat")
	radius := flags.String("radius", "1/4 in", "inside radius")
	if err := flags.Parse(args); err != nil {
		return err
	}
	part, err := bracket(*length, *legs, *turned, *radius)
	if err != nil {
		return err
	}
	blank, err := flat.Develop(part)
	if err != nil {
		return err
	}
	for _, f := range blank.Findings {
		fmt.Fprintln(screen, f)
	}
	for _, line := range blank.Bends {
		fmt.Fprintf(screen, "%s: %s turned, allowance %s\n", line.Name, line.Bend.Angle, measure.Both(line.Allowance.Length))
	}
	return paper.SaveAll(*folder, []paper.File{
		{Name: part.Name + ".dxf", Write: func(w io.Writer) error { return dxfout.Write(w, drawing.Of(blank), dxfout.Options{}) }},
		{Name: part.Name + ".svg", Write: func(w io.Writer) error { return paper.SVG(w, blank, paper.PictureOptions{}) }},
		{Name: part.Name + "-card.txt", Write: func(w io.Writer) error { return paper.Card(w, blank, paper.CardOptions{}) }},
	})
}

// bracket reads the sizes, all faults at once, and makes the part of them.
func bracket(length, legs, turned, radius string) (flat.Part, error) {
	l, err1 := measure.ParseLength(length)
	h, err2 := measure.ParseLength(legs)
	a, err3 := measure.ParseAngle(turned)
	r, err4 := measure.ParseLength(radius)
	sheet, err5 := material.Lookup("2024-T3")
	if err := errors.Join(err1, err2, err3, err4, err5); err != nil {
		return flat.Part{}, err
	}
	return flat.Part{
		Name:   "angle",
		Sheet:  material.Sheet{Material: sheet, Thickness: 0.040 * measure.Inch},
		Rule:   bend.Handbook{},
		Radius: r,
		Web: flat.Web{Edges: []flat.Edge{
			{Name: "bend", Start: r2.Vec{}, Flanges: []flat.Flange{{Angle: a, Height: h}}},
			{Name: "right", Start: r2.Vec{X: l}},
			{Name: "top", Start: r2.Vec{X: l, Y: h}},
			{Name: "left", Start: r2.Vec{Y: h}},
		}},
	}, nil
}
