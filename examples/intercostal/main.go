// Command intercostal turns a part file into a blank: a DXF for the cutter, a
// picture, and a bench card, which it also prints.
//
//	go run ./examples/intercostal                  # the demo, into out/
//	go run ./examples/intercostal -o DIR FILE.toml # another part, another folder
//
// With -brake FILE the bends are tried in the shop's own hand brake, whose dimensions
// the file gives; brakes/hand-brake.toml is one to copy.
//
// Nothing is written unless the part can be developed and every file rendered.
package main

import (
	"bytes"
	"flag"
	"fmt"
	"io"
	"os"

	"github.com/hangarflat/hangarflat/dxfout"
	"github.com/hangarflat/hangarflat/examples/internal/command"
	"github.com/hangarflat/hangarflat/examples/internal/output"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/brake"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/paper"
	"github.com/hangarflat/hangarflat/flat/partfile"
)

// demo is read when no file is named, from the root of the repository.
const demo = "examples/intercostal/keel-bay-7.toml"

func main() {
	if err := run(os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(args []string, card io.Writer) error {
	var own string
	line, err := command.Read("intercostal", demo, args, func(f *flag.FlagSet) {
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
		plan, err := try(blank, own)
		if err != nil {
			return err
		}
		if err := write(line, blank, plan, card); err != nil {
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

// try looks for an order of the bends in the brake of a file; none is asked for
// without one.
func try(b flat.Blank, name string) (*brake.Plan, error) {
	if name == "" {
		return nil, nil
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	own, err := partfile.ReadBrake(name, f)
	if err != nil {
		return nil, err
	}
	plan, err := own.Order(b, nil)
	return &plan, err
}

// write renders every file of the part before it saves the first, and prints the card.
func write(line command.Line, b flat.Blank, plan *brake.Plan, screen io.Writer) error {
	var card bytes.Buffer
	if err := paper.Card(&card, b, paper.CardOptions{Plan: plan}); err != nil {
		return err
	}
	name := b.Part.Name
	err := output.Save(line.Folder, []output.File{
		{Name: name + ".dxf", Write: func(w io.Writer) error { return dxfout.Write(w, drawing.Of(b), line.DXF) }},
		{Name: name + ".svg", Write: func(w io.Writer) error { return paper.SVG(w, b, paper.PictureOptions{}) }},
		{Name: name + "-card.txt", Write: func(w io.Writer) error { _, err := w.Write(card.Bytes()); return err }},
	})
	if err != nil {
		return err
	}
	_, err = screen.Write(card.Bytes())
	return err
}
