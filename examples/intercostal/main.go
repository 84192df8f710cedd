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
// A part file whose rule is "test strips" names the shop's log of them, a CSV file such as
// examples/coupons/strips.csv, from its own folder: the bends are allowed for by its K.
//
// With -brake FILE the bends are tried in the shop's own hand brake, whose dimensions
// the file gives; brakes/hand-brake.toml is one to copy. Each bend is swung to the angle of
// the first try, as the card has it.
//
// With -other-hand the part of the other side of the aircraft is made as well, its files
// called NAME-other-hand, and with -png the picture is written as PNG too.
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
	"github.com/hangarflat/hangarflat/examples/internal/hand"
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

// A making is what the command line asks for.
type making struct {
	command.Line
	brake     string // file of the shop's own
	fractions bool
	otherHand bool
	png       bool
}

func run(args []string, screen io.Writer) error {
	var m making
	var err error
	m.Line, err = command.Read("intercostal", demo, args, func(f *flag.FlagSet) {
		f.BoolVar(&m.fractions, "fractions", false, "give the card's lengths to the 1/64 inch as well")
		f.StringVar(&m.brake, "brake", "", "file with the dimensions of your hand brake, to try the bends in")
		f.BoolVar(&m.otherHand, "other-hand", false, "make the part of the other side of the aircraft as well")
		f.BoolVar(&m.png, "png", false, "write the picture as PNG as well, for what shows no SVG")
	})
	if err != nil {
		return err
	}
	for _, name := range m.Files {
		if err := m.one(name, screen); err != nil {
			return err
		}
	}
	return nil
}

// one makes the part of a file. Every file of both hands is rendered before the first is
// saved; then the cards are printed.
func (m making) one(name string, screen io.Writer) error {
	blanks, err := develop(name, m.otherHand)
	if err != nil {
		return err
	}
	var files []paper.File
	var cards bytes.Buffer
	for _, b := range blanks {
		opt := paper.CardOptions{Fractions: m.fractions}
		if m.brake != "" {
			if opt.Brake, opt.Plan, err = try(b, m.brake); err != nil {
				return err
			}
		}
		if opt.Doubts, opt.Doubt, err = doubts(b.Part); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		var card bytes.Buffer
		if err := paper.Card(&card, b, opt); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		cards.Write(card.Bytes())
		files = append(files, m.files(b, opt, card.Bytes())...)
	}
	if err := paper.SaveAll(m.Folder, files); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	_, err = screen.Write(cards.Bytes())
	return err
}

// files are those of a blank, its card as text among them.
func (m making) files(b flat.Blank, opt paper.CardOptions, card []byte) []paper.File {
	name := b.Part.Name
	files := []paper.File{
		{Name: name + ".dxf", Write: func(w io.Writer) error { return dxfout.Write(w, drawing.Of(b), m.DXF) }},
		{Name: name + ".svg", Write: func(w io.Writer) error { return paper.SVG(w, b, paper.PictureOptions{}) }},
		{Name: name + "-pattern.pdf", Write: func(w io.Writer) error { return paper.Pattern(w, b, m.Pattern) }},
		{Name: name + "-card.pdf", Write: func(w io.Writer) error { return paper.CardPDF(w, b, opt) }},
		{Name: name + "-card.txt", Write: func(w io.Writer) error { _, err := w.Write(card); return err }},
	}
	if m.png {
		files = append(files, paper.File{Name: name + ".png", Write: func(w io.Writer) error { return paper.PNG(w, b, paper.PictureOptions{}, 0) }})
	}
	return files
}

// develop reads a part file and lays the part out flat, and that of the other hand where it is
// wanted. Faults come out with the line of the file they concern.
func develop(name string, otherHand bool) ([]flat.Blank, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	doc, err := partfile.Read(name, f)
	if err != nil {
		return nil, err
	}
	if file, asked := doc.Strips(); asked {
		log, err := command.Strips(name, file)
		if err != nil {
			return nil, err
		}
		doc.Calibrate(log)
	}
	var blanks []flat.Blank
	for _, p := range hand.Hands(doc.Part, otherHand) {
		b, err := flat.Develop(p)
		if err != nil {
			return nil, doc.Locate(err)
		}
		blanks = append(blanks, b)
	}
	return blanks, nil
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
