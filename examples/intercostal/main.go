// Command intercostal turns a part file into a blank: a DXF for the cutter, a
// picture, and a bench card, which it also prints.
//
//	go run ./examples/intercostal                  # the demo, into out/
//	go run ./examples/intercostal -o DIR FILE.toml # another part, another folder
//
// Each part comes as a DXF, a picture, a full-size paper pattern and a bench card, as
// text and as a page to print. The pattern is for A4 paper; -paper takes A3, Letter, or
// the width of a roll, such as "24 in". Where the bars on a print do not measure
// 100 mm, -bars "99.4 mm x 100.1 mm" (across, then upright) makes up for the printer.
//
// With -brake FILE the bends are tried in the shop's own hand brake, whose dimensions
// the file gives; brakes/hand-brake.toml is one to copy. Each bend is swung to the angle of
// the first try, as the card has it.
//
// Nothing is written unless the part can be developed and every file rendered.
package main

import (
	"bytes"
	"flag"
	"fmt"
	"io"
	"os"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/dxfout"
	"github.com/hangarflat/hangarflat/examples/internal/command"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/brake"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/paper"
	"github.com/hangarflat/hangarflat/flat/partfile"
	"github.com/hangarflat/hangarflat/material"
)

// demo is read when no file is named, from the root of the repository.
const demo = "examples/intercostal/keel-bay-7.toml"

func main() {
	command.End(run(os.Args[1:], os.Stdout))
}

func run(args []string, card io.Writer) error {
	var own string
	var opt paper.CardOptions
	line, err := command.Read("intercostal", demo, args, func(f *flag.FlagSet) {
		f.BoolVar(&opt.Fractions, "fractions", false, "give the card's lengths to the 1/64 inch as well")
		f.StringVar(&own, "brake", "", "file with the dimensions of your hand brake, to try the bends in")
	})
	if err != nil {
		return err
	}
	for _, name := range line.Files {
		blank, err := develop(name)
		if err != nil {
			return err
		}
		if own != "" {
			if opt.Brake, opt.Plan, err = try(blank, own); err != nil {
				return err
			}
		}
		if opt.Doubts, opt.Doubt, err = doubts(blank.Part); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		if err := write(line, blank, opt, card); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
	}
	return nil
}

// develop reads a part file and lays the part out flat. Faults come out with the
// line of the file they concern.
func develop(name string) (flat.Blank, error) {
	f, err := os.Open(name)
	if err != nil {
		return flat.Blank{}, err
	}
	defer f.Close()
	doc, err := partfile.Read(name, f)
	if err != nil {
		return flat.Blank{}, err
	}
	blank, err := flat.Develop(doc.Part)
	if err != nil {
		return flat.Blank{}, doc.Locate(err)
	}
	return blank, nil
}

// doubts tells what the errors of the readings behind a part may do to its fit; nothing
// where none were stated.
func doubts(p flat.Part) ([]flat.Doubt, flat.Doubt, error) {
	if p.Site == nil || p.Site.Surroundings.ReadingError == 0 && p.Site.Surroundings.AngleError == 0 {
		return nil, flat.Doubt{}, nil
	}
	return flat.Doubts(p, p.Site.Surroundings)
}

// try looks for an order of the bends in the brake of a file.
func try(b flat.Blank, name string) (brake.Brake, *brake.Plan, error) {
	f, err := os.Open(name)
	if err != nil {
		return brake.Brake{}, nil, err
	}
	defer f.Close()
	own, err := partfile.ReadBrake(name, f)
	if err != nil {
		return brake.Brake{}, nil, err
	}
	plan, err := own.Order(b, firstTry(b.Part.Sheet))
	return own, &plan, err
}

// firstTry is the springback of the sheet round noses of the part's own radii, and none for a
// material without figures.
func firstTry(s material.Sheet) bend.FirstTry {
	spring, _, err := bend.SheetSpringback(s)
	if err != nil {
		return bend.FirstTry{}
	}
	return bend.FirstTry{Springback: bend.SameNose{ElasticPlastic: spring}}
}

// write renders every file of the part before it saves the first, and prints the card.
func write(line command.Line, b flat.Blank, opt paper.CardOptions, screen io.Writer) error {
	var card bytes.Buffer
	if err := paper.Card(&card, b, opt); err != nil {
		return err
	}
	name := b.Part.Name
	err := paper.SaveAll(line.Folder, []paper.File{
		{Name: name + ".dxf", Write: func(w io.Writer) error { return dxfout.Write(w, drawing.Of(b), line.DXF) }},
		{Name: name + ".svg", Write: func(w io.Writer) error { return paper.SVG(w, b, paper.PictureOptions{}) }},
		{Name: name + "-pattern.pdf", Write: func(w io.Writer) error { return paper.Pattern(w, b, line.Pattern) }},
		{Name: name + "-card.pdf", Write: func(w io.Writer) error { return paper.CardPDF(w, b, opt) }},
		{Name: name + "-card.txt", Write: func(w io.Writer) error { _, err := w.Write(card.Bytes()); return err }},
	})
	if err != nil {
		return err
	}
	_, err = screen.Write(card.Bytes())
	return err
}
