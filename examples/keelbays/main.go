// Command keelbays is a shop tool built on a family of parts: the keel bays of the
// Corrie, which package keelbays holds as Go functions. It lists their blanks, all of
// them longer by what is asked for.
//
//	go generate ./examples/keelbays               # after a change of the table
//	go run ./examples/keelbays
//	go run ./examples/keelbays -longer "1/4 in"
//
// The bays are invented, for the demonstration.
package main

import (
	"flag"
	"fmt"
	"io"
	"os"
	"text/tabwriter"

	"github.com/hangarflat/hangarflat/examples/internal/command"
	"github.com/hangarflat/hangarflat/examples/keelbays/keelbays"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/material/measure"
)

//go:generate go run ../../flat/family/familygen -package keelbays ../kit/keel-bay.toml ../kit/keel-bays.csv

func main() {
	command.End(run(os.Args[1:], os.Stdout))
}

func run(args []string, w io.Writer) error {
	flags := flag.NewFlagSet("keelbays", flag.ContinueOnError)
	longer := flags.String("longer", "0 in", "how much longer than the table every bay is, with unit")
	if err := command.Parse(flags, "", args); err != nil {
		return err
	}
	more, err := measure.ParseLength(*longer)
	if err != nil {
		return err
	}
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "bay\tkeel\tblank\tmass\tfolds back to")
	for _, bay := range keelbays.All() {
		bay.KeelLength += more
		bay.SkinLength += more
		if err := list(t, bay); err != nil {
			return fmt.Errorf("bay %s: %w", bay.Bay, err)
		}
	}
	if err := t.Flush(); err != nil {
		return err
	}
	for _, line := range drawing.Cautions() {
		fmt.Fprintln(w, line)
	}
	return nil
}

func list(w io.Writer, bay keelbays.Params) error {
	part, err := keelbays.New(bay)
	if err != nil {
		return err
	}
	b, err := flat.Develop(part)
	if err != nil {
		return err
	}
	box := b.Outline.Bounds()
	fmt.Fprintf(w, "%s\t%s\t%s x %s\t%.0f g\t%.0e mm\n", bay.Bay, measure.Both(bay.KeelLength),
		measure.InchText(box.Max.X-box.Min.X, 3), measure.InchText(box.Max.Y-box.Min.Y, 3), b.Mass, max(b.Proof.Largest(), 1e-9))
	return nil
}
