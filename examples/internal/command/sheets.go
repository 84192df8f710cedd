package command

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"strings"

	"github.com/hangarflat/hangarflat/dxfout"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/paper"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// Sheets is what the command line says of full-size patterns. Its Paper is the one that is
// taken where none is asked for.
type Sheets struct{ Paper, Bars string }

// Flags adds -paper and -bars.
func (s *Sheets) Flags(flags *flag.FlagSet) {
	flags.StringVar(&s.Paper, "paper", s.Paper, "for full-size patterns: A4, A3, Letter, or the width of a roll such as \"24 in\"")
	flags.StringVar(&s.Bars, "bars", s.Bars, "what the 100 mm bars of an earlier print measured, across x upright: \"99.4 mm x 100.1 mm\"")
}

// Options reads the paper and what the bars of an earlier print measured.
func (s Sheets) Options() (opt paper.PatternOptions, err error) {
	switch strings.ToLower(strings.TrimSpace(s.Paper)) {
	case "a4":
		opt.Paper = paper.A4
	case "a3":
		opt.Paper = paper.A3
	case "letter":
		opt.Paper = paper.Letter
	default:
		opt.Paper = paper.Roll
		if opt.RollWidth, err = measure.ParseLength(s.Paper); err != nil {
			return opt, fmt.Errorf("-paper %q: must be A4, A3, Letter or the width of a roll: %w", s.Paper, err)
		}
	}
	if s.Bars == "" {
		return opt, nil
	}
	across, upright, two := strings.Cut(s.Bars, "x")
	if !two {
		return opt, fmt.Errorf("-bars %q: must be two lengths, across x upright: \"99.4 mm x 100.1 mm\"", s.Bars)
	}
	x, errX := measure.ParseLength(across)
	y, errY := measure.ParseLength(upright)
	if err := errors.Join(errX, errY); err != nil {
		return opt, fmt.Errorf("-bars: %w", err)
	}
	opt.Measured = r2.Vec{X: x, Y: y}
	return opt, nil
}

// Drawn are the files of a drawing, called by its name: the DXF and, for a shop without a cutter, the
// full-size pattern beside it, a PDF for each drawing. Blank and block of one piece differ
// by little more than the sheet's thickness, and their sheets would be mixed up in one stack.
func Drawn(d drawing.Drawing, dxf dxfout.Options, pattern paper.PatternOptions) []paper.File {
	return []paper.File{
		{Name: d.Name + ".dxf", Write: func(w io.Writer) error { return dxfout.Write(w, d, dxf) }},
		{Name: d.Name + "-pattern.pdf", Write: func(w io.Writer) error { return paper.PatternOf(w, d, pattern) }},
	}
}
