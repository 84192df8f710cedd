// Command former makes blanks, form blocks, cover plates and splice plates of a former
// with curved flanges from a file, in as many ways of splitting it as are asked for,
// with a picture of each way and one card for all, which it also prints.
//
//	go run ./examples/former                  # the demo, into out/
//	go run ./examples/former -o DIR FILE.toml # another former, another folder
//
// Each blank, block, cover and set of splice plates comes as a DXF and, for a shop without a
// cutter, as a full-size paper pattern of the same name, a file for each: blank and block
// differ by so little that their sheets must not lie in one stack. The pattern is for A4;
// -paper takes A3, Letter, or the width of a roll, such as "36 in", and -bars what the bars of
// an earlier print measured.
//
// Nothing is written unless the former can be laid out every way and every file
// rendered.
package main

import (
	"bytes"
	"flag"
	"fmt"
	"io"
	"os"

	"github.com/hangarflat/hangarflat/examples/internal/command"
	"github.com/hangarflat/hangarflat/examples/internal/hand"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/former"
	"github.com/hangarflat/hangarflat/flat/paper"
)

// demo is read when no file is named, from the root of the repository.
const demo = "examples/former/frame-8.toml"

func main() {
	command.End(run(os.Args[1:], os.Stdout))
}

func run(args []string, out io.Writer) error {
	otherHand := false
	line, err := command.Read("former", demo, args, func(flags *flag.FlagSet) {
		flags.BoolVar(&otherHand, "other-hand", false, "write the blanks and blocks of the other side of the aircraft as well")
	})
	if err != nil {
		return err
	}
	for _, name := range line.Files {
		if err := one(name, line, otherHand, out); err != nil {
			return err
		}
	}
	return nil
}

// one makes the files of one former.
func one(name string, line command.Line, otherHand bool, out io.Writer) error {
	data, err := os.ReadFile(name)
	if err != nil {
		return err
	}
	j, err := read(name, data)
	if err != nil {
		return err
	}
	choices, err := lay(j)
	if err != nil {
		return err
	}
	var files []paper.File
	for _, c := range choices {
		if files, err = appendRing(files, c.Ring, line, otherHand); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
	}
	text, err := cardOf(j, choices)
	if err != nil {
		return err
	}
	files = append(files, paper.File{
		Name:  j.former.Name + "-card.txt",
		Write: func(w io.Writer) error { _, err := w.Write(text); return err },
	})
	if err := paper.SaveAll(line.Folder, files); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	_, err = out.Write(text)
	return err
}

// lay lays the former out in every number of pieces; faults come out with their line.
func lay(j job) ([]former.Choice, error) {
	if len(j.former.Split.Joints) > 0 {
		j.former.Split.Pieces = j.pieces[0]
		r, err := former.Develop(j.former)
		if err != nil {
			return nil, j.reader.locate(err, j.former)
		}
		return []former.Choice{r.Choice()}, nil
	}
	choices, err := former.Compare(j.former, j.pieces...)
	if err != nil {
		return nil, j.reader.locate(err, j.former)
	}
	return choices, nil
}

func cardOf(j job, choices []former.Choice) ([]byte, error) {
	var swap []former.Change
	if j.substitute != nil {
		f := j.former
		f.Split.Pieces, f.Split.Joints = 0, nil
		var err error
		if swap, err = former.Substitute(f, *j.substitute); err != nil {
			return nil, fmt.Errorf("substitute: %w", err)
		}
	}
	var b bytes.Buffer
	err := writeCard(&b, choices, swap, j.substitute)
	return b.Bytes(), err
}

// appendRing adds the files of one way of making the former.
func appendRing(files []paper.File, r former.Ring, line command.Line, otherHand bool) ([]paper.File, error) {
	base := fmt.Sprintf("%s-in-%d", r.Former.Name, len(r.Pieces))
	for i, p := range r.Pieces {
		p.Name = base
		if len(r.Pieces) > 1 {
			p.Name = fmt.Sprintf("%s-piece-%d", base, i+1)
		}
		hands := []former.Piece{p}
		if otherHand {
			m := p.Mirrored()
			m.Name += hand.Suffix
			hands = append(hands, m)
		}
		for _, h := range hands {
			for _, draw := range []func(former.Ring, former.Piece) (drawing.Drawing, error){blank, block, cover} {
				drawn, err := draw(r, h)
				if err != nil {
					return nil, err
				}
				files = append(files, command.Drawn(drawn, line.DXF, line.Pattern)...)
			}
		}
	}
	if len(r.Splices) > 0 {
		files = append(files, command.Drawn(plates(r, base), line.DXF, line.Pattern)...)
	}
	return append(files, paper.File{Name: base + ".svg", Write: func(w io.Writer) error { return picture(w, r) }}), nil
}
