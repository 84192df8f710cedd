package main

import (
	"fmt"
	"strings"

	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/former"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// blank draws the blank of a piece.
func blank(r former.Ring, p former.Piece) (drawing.Drawing, error) {
	d := drawing.Drawing{Name: p.Name + "-blank", Title: r.Former.Title + ", blank", NotForCutting: r.Stopped()}
	d.Add(drawing.Cut, "blank", p.Outline)
	for _, o := range p.Openings {
		d.Add(drawing.Cut, "opening", o)
	}
	add := func(on drawing.Layer, name string, list []outline.Path) {
		for _, q := range list {
			d.Add(on, name, q)
		}
	}
	add(drawing.BendTangent, "tangent line beside the web", p.Near)
	add(drawing.BendTangent, "tangent line beside the flange", p.Far)
	add(drawing.Mold, "mold line", p.Mold)
	add(drawing.Note, "trim to here after forming", p.Finished)
	add(drawing.Note, "cut-out, marked only", p.Marks)
	pins(&d, p)
	for _, m := range p.Rivets {
		d.Circles = append(d.Circles, drawing.Circle{Layer: drawing.Rivet, Name: m.Name, Center: m.At, Diameter: m.Diameter})
	}
	for _, m := range p.Helps {
		cross(&d, m.Name, m.At, 2)
	}
	label(&d, p, p.Name, "blank")
	d.Notes = append([]string{
		r.Former.Title + ", " + p.Name, drawing.SheetText(r.Former.Sheet),
		"FLANGES " + strings.ToUpper(r.Turn().String()) + ", SEEN FROM THIS SIDE",
		"RIVET marks are drilled after forming. Crosses on the edge: " + helps(p) + ".",
	}, drawing.Cautions()...)
	return d, nil
}

func helps(p former.Piece) string {
	if len(p.Helps) == 0 {
		return "none"
	}
	return p.Helps[0].Name
}

func pins(d *drawing.Drawing, p former.Piece) {
	for i, q := range p.Pins {
		d.Circles = append(d.Circles, drawing.Circle{Layer: drawing.Hole, Name: fmt.Sprintf("tooling pin %d", i+1), Center: q, Diameter: p.Pin})
	}
}

func cross(d *drawing.Drawing, name string, at r2.Vec, arm float64) {
	d.Add(drawing.Note, name, outline.Polyline(r2.Vec{X: at.X - arm, Y: at.Y}, r2.Vec{X: at.X + arm, Y: at.Y}))
	d.Add(drawing.Note, name, outline.Polyline(r2.Vec{X: at.X, Y: at.Y - arm}, r2.Vec{X: at.X, Y: at.Y + arm}))
}

// label letters beside the first tooling pin, which is on the web.
func label(d *drawing.Drawing, p former.Piece, lines ...string) {
	at := p.Outline.Centroid()
	if len(p.Pins) > 0 {
		at = p.Pins[0]
	}
	d.Labels = append(d.Labels, drawing.Label{Layer: drawing.Note, Text: lines, At: at})
}

// block draws the form block of a piece: its top and its bottom, and round both of them
// what the saw follows. Where a bevel opens and closes along the edge neither lies
// within the other.
func block(r former.Ring, p former.Piece) (drawing.Drawing, error) {
	b := p.Block
	d := drawing.Drawing{Name: p.Name + "-block", Title: r.Former.Title + ", form block", NotForCutting: r.Stopped()}
	saw, err := outline.Union(b.Top, b.Bottom)
	if err != nil {
		return d, fmt.Errorf("%s: outside of top and bottom: %w", d.Name, err)
	}
	for _, q := range saw {
		d.Add(drawing.Cut, "outside of the block", q)
	}
	for _, q := range b.Top {
		d.Add(drawing.Block, "top of the block", q)
	}
	for _, q := range b.Bottom {
		d.Add(drawing.Note, "bottom of the block", q)
	}
	for i, q := range b.Segments {
		d.Add(drawing.Note, fmt.Sprintf("part %d of the block, top", i+1), q)
	}
	pins(&d, p)
	label(&d, p, p.Name, "form block")
	d.Notes = append([]string{
		r.Former.Title + ", form block of " + p.Name,
		"CUT: saw the blank of the block square to this line; top and bottom lie within it.",
		"BLOCK: the top, which the web lies on. The curves on NOTE: the bottom, " + measure.Both(b.Depth) + " below, and the joints of a block in parts.",
		"Dress the wall straight from top to bottom. Round the top edge to " + measure.Both(b.Edge) + ".",
		"The block is smaller than the part by the sheet that goes round it.",
	}, drawing.Cautions()...)
	return d, nil
}

// cover draws the cover plate of a piece.
func cover(r former.Ring, p former.Piece) (drawing.Drawing, error) {
	d := drawing.Drawing{Name: p.Name + "-cover", Title: r.Former.Title + ", cover plate", NotForCutting: r.Stopped()}
	for _, q := range p.Block.Cover {
		d.Add(drawing.Cut, "cover plate", q)
	}
	pins(&d, p)
	label(&d, p, p.Name, "cover plate")
	d.Notes = append([]string{r.Former.Title + ", cover plate of " + p.Name}, drawing.Cautions()...)
	return d, nil
}

// plates draws the splice plates of a ring of the name given, in their places.
func plates(r former.Ring, ring string) drawing.Drawing {
	d := drawing.Drawing{Name: ring + "-splices", Title: r.Former.Title + ", splice plates", NotForCutting: r.Stopped()}
	for _, s := range r.Splices {
		if len(s.Plate.Vertices) > 0 {
			d.Add(drawing.Cut, "splice plate "+s.Name, s.Plate)
		}
		for _, h := range s.Holes {
			d.Circles = append(d.Circles, drawing.Circle{Layer: drawing.Rivet, Name: "splice rivet " + s.Name, Center: h, Diameter: s.Rivet})
		}
		d.Labels = append(d.Labels, drawing.Label{Layer: drawing.Note, Text: []string{s.Name}, At: s.Plate.Centroid()})
	}
	d.Notes = append([]string{r.Former.Title + ", splice plates on the web"}, drawing.Cautions()...)
	return d
}
