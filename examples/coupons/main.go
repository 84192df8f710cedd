// Command coupons is a small shop tool that bends by the shop's own test strips. The
// strips stand in strips.csv; shopgen turns them into the package shopbends, which this
// program imports. It prints what the strips say, sets it beside the handbook, answers for one
// bend, and plots every strip's residual.
//
//	go generate ./examples/coupons         # after a change of strips.csv
//	go run ./examples/coupons              # writes out/strip-residuals.svg
//	go run ./examples/coupons -angle "82 30'" -sheet "0.032 in" -radius "5/32 in"
//
// The strips are invented, for the demonstration.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"text/tabwriter"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/examples/coupons/shopbends"
	"github.com/hangarflat/hangarflat/examples/internal/command"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/paper"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

//go:generate go run ../../bend/shopgen -package shopbends -out shopbends/shopbends.go strips.csv

func main() {
	command.End(run(os.Args[1:], os.Stdout))
}

func run(args []string, w io.Writer) error {
	flags := flag.NewFlagSet("coupons", flag.ContinueOnError)
	folder := flags.String("o", "out", "folder the plot is written to")
	alloy := flags.String("material", "alclad 2024-T3", "material of the bend asked for")
	sheet := flags.String("sheet", "0.040 in", "its thickness, with unit or gauge")
	radius := flags.String("radius", "3/16 in", "its inside radius, with unit")
	angle := flags.String("angle", "97 30'", "its angle turned through from flat, with unit")
	if err := command.Parse(flags, "", args); err != nil {
		return err
	}
	b, s, err := asked(*alloy, *sheet, *radius, *angle)
	if err != nil {
		return err
	}
	if err := report(w); err != nil {
		return err
	}
	if err := answer(w, s, b); err != nil {
		return err
	}
	return paper.SaveAll(*folder, []paper.File{{Name: "strip-residuals.svg", Write: plot}})
}

// asked reads the bend of the command line; all faults are reported at once.
func asked(alloy, sheet, radius, angle string) (b bend.Bend, s material.Sheet, err error) {
	var e1, e2, e3, e4 error
	s.Material, e1 = material.Lookup(alloy)
	s.Thickness, s.Gauge, e2 = material.ParseGauged(sheet)
	b.Thickness = s.Thickness
	b.Radius, e3 = measure.ParseLength(radius)
	b.Angle, e4 = measure.ParseAngle(angle)
	if err = errors.Join(e1, e2, e3, e4); err == nil {
		err = b.Validate()
	}
	return b, s, err
}

// report sets the strips' K beside the handbook, by what it changes of a square bend.
func report(w io.Writer) error {
	fmt.Fprintf(w, "%d test strips of %s (sha256 %.12s)\n\n", shopbends.StripCount, shopbends.Log, shopbends.LogSHA256)
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "material\tsheet\tradius\tstrips\tK\t±\tdeduction at 90°\thandbook's\tleg ±")
	for _, e := range shopbends.Entries() {
		square := bend.Bend{Angle: 90 * measure.Degree, Radius: e.Radius, Thickness: e.Thickness}
		ours, err1 := bend.Deduction(e, square)
		book, err2 := bend.Deduction(bend.Handbook{}, square)
		leg, err3 := e.LegError(square)
		if err := errors.Join(err1, err2, err3); err != nil {
			return err
		}
		fmt.Fprintf(t, "%s\t%s\t%s\t%d\t%.3f\t%.3f\t%s\t%s\t%s\n", e.Material, measure.InchText(e.Thickness, 3), measure.InchText(e.Radius, 3),
			e.Strips-e.Outliers, e.K, e.StdErr, measure.InchText(ours, 4), measure.InchText(book, 4), measure.InchText(leg, 4))
	}
	if err := t.Flush(); err != nil {
		return err
	}
	for _, s := range shopbends.Strips() {
		if s.Outlier {
			fmt.Fprintf(w, "\nstrip %s (line %d) was left out: it is %s off\n", s.Name, s.Line, measure.Both(s.Residual))
		}
	}
	return nil
}

// answer gives one bend with its working.
func answer(w io.Writer, s material.Sheet, b bend.Bend) error {
	m := s.Material
	fmt.Fprintf(w, "\n%s, %s, R %s, %s turned (%s between the legs)\n", m, measure.Both(b.Thickness), measure.Both(b.Radius), b.Angle, b.Angle.Opening())
	steps, err := bend.Working(shopbends.Rule{Material: m}, b, "this bend")
	if err != nil {
		return err
	}
	for _, step := range steps {
		fmt.Fprintln(w, " ", step)
	}
	if f, asked := flat.AskGauge("sheet", s); asked {
		fmt.Fprintln(w, " ", f)
	}
	limit, err := m.MinBendRadius(b.Thickness)
	switch {
	case err != nil:
		fmt.Fprintln(w, "  no smallest radius:", err)
	case limit.NotRecommended:
		fmt.Fprintln(w, "  not recommended for bending by", limit.Source)
	case material.Sharper(b.Radius, limit.Value):
		fmt.Fprintf(w, "  SHARPER than the strictest table, %s by %s\n", measure.Both(limit.Value), limit.Source)
	}
	for _, line := range drawing.Cautions() {
		fmt.Fprintln(w, line)
	}
	return nil
}
