// Command chine fairs a chine line from a table of measured offsets and makes a loft
// jig of it: a board with a straight top and the chine's curve below, over which
// the chine angle is bent.
//
//	go run ./examples/chine                              # the demo, into out/
//	go run ./examples/chine -o DIR FILE.csv              # another table
//	go run ./examples/chine -drop "72 in" FILE.csv       # leave a station out
//
// It writes the faired offsets and the marks for a chalk line (CSV), the board for
// the cutter (DXF), full-size paper sheets with match marks (PDF; -paper and -bars as in
// example intercostal) and a picture of readings, line and curvature (SVG). On board and sheets
// each station and the ends of the joint are ticked at chine and rail and named. It says on the screen which reading to take
// again. Nothing is written unless every file can be made.
package main

import (
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/hangarflat/hangarflat/dxfout"
	"github.com/hangarflat/hangarflat/examples/internal/command"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/loft"
	"github.com/hangarflat/hangarflat/flat/paper"
	"github.com/hangarflat/hangarflat/material/measure"
)

// demo is read when no file is named, from the root of the repository.
const demo = "examples/chine/chine.csv"

func main() {
	command.End(run(os.Args[1:], os.Stdout))
}

// options are what the maker may say on the command line.
type options struct {
	folder string
	drop   []float64 // stations left out, mm
	dxf    dxfout.Options
	chalk  float64 // step of the chalk marks, mm
	paper  paper.PatternOptions
}

func run(args []string, screen io.Writer) error {
	flags := flag.NewFlagSet("chine", flag.ContinueOnError)
	var opt options
	flags.StringVar(&opt.folder, "o", "out", "folder the files are written to")
	drop := flags.String("drop", "", `stations to leave out, such as "72 in" or "72 in, 84 in"`)
	step := flags.String("step", "6 in", "most distance between chalk marks")
	inches := flags.Bool("inch", false, "write the DXF in inches, not millimetres")
	sheets := command.Sheets{Paper: "A3"}
	sheets.Flags(flags)
	if err := command.Parse(flags, "[offsets.csv]", args); err != nil {
		return err
	}
	if *inches {
		opt.dxf.Unit = dxfout.Inch
	}
	var err error
	if opt.paper, err = sheets.Options(); err != nil {
		return err
	}
	if opt.chalk, err = measure.ParseLength(*step); err != nil {
		return fmt.Errorf("-step: %w", err)
	}
	for _, s := range strings.Split(*drop, ",") {
		if strings.TrimSpace(s) == "" {
			continue
		}
		at, err := measure.ParseLength(s)
		if err != nil {
			return fmt.Errorf("-drop: %w", err)
		}
		opt.drop = append(opt.drop, at)
	}
	name := demo
	if flags.NArg() > 1 {
		return fmt.Errorf("%q: one table is faired at a time, and what begins with - stands before its name", flags.Arg(1))
	}
	if flags.NArg() > 0 {
		name = flags.Arg(0)
	}
	table, err := read(name)
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	j, err := fair(table, opt.drop)
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	j.name = strings.TrimSuffix(filepath.Base(name), filepath.Ext(name))
	return j.write(opt, screen)
}

func read(name string) (loft.Table, error) {
	f, err := os.Open(name)
	if err != nil {
		return loft.Table{}, err
	}
	defer f.Close()
	return loft.ReadTable(f, measure.Inch/32)
}

func (j jig) write(opt options, screen io.Writer) error {
	board, err := j.board()
	if err != nil {
		return err
	}
	blank, err := flat.Develop(board)
	if err != nil {
		return err
	}
	marks, err := j.chine.ChalkLine(opt.chalk)
	if err != nil {
		return err
	}
	drawn := drawing.Of(blank)
	j.mark(&drawn)
	if len(j.chine.Doubts) > 0 {
		drawn.NotForCutting = true
	}
	files := []paper.File{
		{Name: j.name + "-offsets.csv", Write: j.offsets},
		{Name: j.name + "-chalk.csv", Write: func(w io.Writer) error { return j.chalkTable(w, marks) }},
		{Name: j.name + "-board.dxf", Write: func(w io.Writer) error { return dxfout.Write(w, drawn, opt.dxf) }},
		{Name: j.name + "-fair.svg", Write: j.draw},
	}
	// A paper pattern of a doubtful line would be cut all the same.
	if len(j.chine.Doubts) == 0 {
		files = append(files, paper.File{Name: j.name + "-board-full-size.pdf", Write: func(w io.Writer) error {
			return paper.PatternOf(w, drawn, opt.paper)
		}})
	}
	if err := paper.SaveAll(opt.folder, files); err != nil {
		return err
	}
	return j.report(screen)
}
