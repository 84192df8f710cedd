// Command hatchskin makes a skin patch from a file: every sheet of it for the cutter (DXF) with the
// rivets' pilot holes and at full size on paper (PDF), a picture of the rivets numbered in the order they are driven (SVG), and
// a card with everything that is to be known at the bench, which it also prints.
//
//	go run ./examples/hatchskin                  # the demo, into out/
//	go run ./examples/hatchskin -o DIR FILE.toml # another patch, another folder
//
// The paper is A4; -paper takes A3, Letter, or the width of a roll, such as "24 in", and -bars
// what the bars of an earlier print measured.
//
// Nothing is written unless the patch can be worked out and every file rendered.
package main

import (
	"bytes"
	"fmt"
	"io"
	"os"

	"github.com/hangarflat/hangarflat/examples/internal/command"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/paper"
	"github.com/hangarflat/hangarflat/flat/rivet"
)

// demo is read when no file is named, from the root of the repository.
const demo = "examples/hatchskin/hatch-skin.toml"

func main() {
	command.End(run(os.Args[1:], os.Stdout))
}

func run(args []string, screen io.Writer) error {
	line, err := command.Read("hatchskin", demo, args, nil)
	if err != nil {
		return err
	}
	for _, name := range line.Files {
		if err := one(name, line, screen); err != nil {
			return err
		}
	}
	return nil
}

// A result is a patch worked out, with what is said of its driving.
type result struct {
	job
	fitted rivet.Fitted
	pins   []rivet.Drive // temporary fasteners
	// The slack by the driving order, and by the worst of habits: ends first.
	slack, endsFirst rivet.Slack
}

func work(name string, data []byte) (result, error) {
	j, err := read(name, data)
	if err != nil {
		return result{}, err
	}
	r := result{job: j}
	if r.fitted, err = j.patch.Fit(); err != nil {
		return result{}, j.locate(err)
	}
	rows := r.fitted.Layout.Rows
	if r.pins, err = rivet.Temporary(rows, r.fitted.Order, j.temporary); err != nil {
		return result{}, j.locate(err)
	}
	if r.slack, err = rivet.EstimateSlack(rows, r.fitted.Order, j.perSpace); err != nil {
		j.in.refuse("rivets.slack", "", err.Error(), err)
		return result{}, j.in.err()
	}
	r.endsFirst, err = rivet.EstimateSlack(rows, endsFirst(rows), j.perSpace)
	return r, err
}

// endsFirst drives both ends of each row, and then from one of them to the other.
func endsFirst(rows []rivet.Row) (order []rivet.Drive) {
	for k, row := range rows {
		n := len(row.Holes)
		for i := range n {
			hole := i
			if i == 1 {
				hole = n - 1
			} else if i > 1 {
				hole = i - 1
			}
			order = append(order, rivet.Drive{Row: k, Hole: hole, At: row.Holes[hole].At})
		}
	}
	return order
}

func one(name string, line command.Line, screen io.Writer) error {
	data, err := os.ReadFile(name)
	if err != nil {
		return err
	}
	r, err := work(name, data)
	if err != nil {
		return err
	}
	var card bytes.Buffer
	if err := r.card(&card); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	files := []paper.File{
		{Name: r.patch.Name + ".svg", Write: r.picture},
		{Name: r.patch.Name + "-card.txt", Write: func(w io.Writer) error { _, err := w.Write(card.Bytes()); return err }},
	}
	for _, p := range r.fitted.Pieces {
		d := r.drawing(p)
		files = append(files, command.Drawn(d, line.DXF, line.Pattern)...)
	}
	if err := paper.SaveAll(line.Folder, files); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	_, err = screen.Write(card.Bytes())
	return err
}

// drawing lays a piece out for the cutter: its edge, the pilots, and what is marked.
func (r result) drawing(p rivet.Piece) drawing.Drawing {
	d := drawing.Drawing{Name: r.patch.Name + "-" + p.Name, Title: r.patch.Title, NotForCutting: r.fitted.Stopped()}
	d.Add(drawing.Cut, p.Name, p.Outline)
	for _, o := range p.Openings {
		d.Add(drawing.Cut, "opening of the "+p.Name, o)
	}
	for _, l := range p.Lines {
		d.Add(drawing.Note, l.Name, l.Path)
	}
	for i, h := range p.Holes {
		d.Circles = append(d.Circles, drawing.Circle{Layer: drawing.Rivet, Name: fmt.Sprintf("pilot %d", i+1), Center: h, Diameter: r.pilotHole()})
	}
	d.Labels = append(d.Labels, drawing.Label{Layer: drawing.Note, Text: []string{r.patch.Name, p.Name}, At: p.Outline.Centroid()})
	d.Notes = append([]string{
		r.patch.Title + ", " + p.Name,
		drawing.SheetText(p.Sheet),
		"OUTER FACE TOWARD YOU. RIVET: pilots of " + drawing.Dual(r.pilotHole()) + ", opened when the parts are together.",
	}, drawing.Cautions()...)
	if r.patch.Roll.Radius > 0 {
		d.Notes = append(d.Notes[:3:3], append([]string{"Laid flat; roll to " + drawing.Dual(r.patch.Roll.Radius) + " on the outer face of the skin, short lines parallel to the rolls."}, d.Notes[3:]...)...)
	}
	return d
}

// pilotHole is the diameter that is drilled before the parts are together, mm.
func (r result) pilotHole() float64 {
	if r.pilot > 0 {
		return r.pilot
	}
	return r.patch.Rivet.Pilot()
}
