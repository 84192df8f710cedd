package main

import (
	"fmt"
	"io"
	"math"

	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/former"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

const (
	pageWidth, pageHeight = 420.0, 297.0 // A3

	cutStyle    = `fill="#dfe6ea" stroke="#102a38" stroke-width="0.35"`
	bendStyle   = `fill="none" stroke="#1f6fb2" stroke-width="0.15"`
	moldStyle   = `fill="none" stroke="#8a5a00" stroke-width="0.15" stroke-dasharray="2 0.7 0.5 0.7"`
	noteStyle   = `fill="none" stroke="#777777" stroke-width="0.15"`
	rivetStyle  = `fill="none" stroke="#a01515" stroke-width="0.12"`
	pinStyle    = `fill="white" stroke="#102a38" stroke-width="0.3"`
	helpStyle   = `fill="#d07000" stroke="none"`
	plateStyle  = `fill="#c9b26b" fill-opacity="0.45" stroke="#6b5a1e" stroke-width="0.2"`
	blockStyle  = `fill="#e8d3ae" stroke="#6b4a12" stroke-width="0.3"`
	sheetStyle  = `fill="#b9c7d0" stroke="#102a38" stroke-width="0.25"`
	frameStyle  = `stroke="#999999" stroke-width="0.2"`
	strainStyle = `stroke="#102a38" stroke-width="0.45" fill="none"`
	safeStyle   = `fill="#dcefdc" stroke="none"`
	edgyStyle   = `fill="#fbeecb" stroke="none"`
)

// picture shows a ring on one sheet: the blanks drawn apart, the strain round both edges, and
// the sheet on its block in section.
func picture(w io.Writer, r former.Ring) error {
	var p page
	title := fmt.Sprintf("%s: %s", r.Former.Title, pieces(len(r.Pieces)))
	p.text(12, 14, 6, "start", `font-weight="bold"`, title)
	p.text(12, 20, 3.2, "start", "", drawing.SheetText(r.Former.Sheet)+", formed "+r.Former.Method.String()+". Seen from the marking face, flanges "+r.Turn().String()+".")
	p.blanks(r, 10, 26, 250, 200)
	p.section(r, 272, 28, 138, 88)
	p.strains(r, "outer flange", &r.Outer, 284, 134, 122, 44)
	p.strains(r, "inner flange", &r.Inner, 284, 196, 122, 44)
	p.legend(r)
	return p.write(w, pageWidth, pageHeight, title)
}

func pieces(n int) string {
	if n == 1 {
		return "in one piece"
	}
	return fmt.Sprintf("in %d pieces", n)
}

// blanks draws the pieces, moved apart from the middle of the ring.
func (p *page) blanks(r former.Ring, x, y, w, h float64) {
	box := r.Outer.Edge.Bounds()
	middle := r2.Scale(0.5, r2.Add(box.Min, box.Max))
	apart := make([]r2.Vec, len(r.Pieces))
	all := box
	if len(r.Pieces) > 1 {
		for i, q := range r.Pieces {
			away := r2.Unit(r2.Sub(q.Outline.Centroid(), middle))
			apart[i] = r2.Scale(0.09*r2.Norm(r2.Sub(box.Max, box.Min)), away)
			b := q.Outline.Transform(outline.Translate(apart[i])).Bounds()
			all = drawing.Join(all, b)
		}
	}
	all.Max.Y += 30
	all.Min.Y -= 30
	v := fit(all, x, y, w, h)
	for i, q := range r.Pieces {
		p.group(q.Name)
		own := view{v.page(apart[i]), v.scale}
		p.paths(own, append([]outline.Path{q.Outline}, q.Openings...), cutStyle)
		for _, list := range []struct {
			paths []outline.Path
			style string
		}{{q.Near, bendStyle}, {q.Far, bendStyle}, {q.Mold, moldStyle}, {q.Finished, noteStyle}, {q.Marks, noteStyle + ` stroke-dasharray="1 0.6"`}} {
			for _, line := range list.paths {
				p.path(own, line, list.style)
			}
		}
		for _, m := range q.Rivets {
			p.circle(own, m.At, m.Diameter, rivetStyle)
		}
		for _, m := range q.Helps {
			p.circle(own, m.At, 5, helpStyle)
		}
		for _, pin := range q.Pins {
			p.circle(own, pin, q.Pin, pinStyle)
		}
		if len(r.Pieces) == 1 {
			at := own.page(middle)
			p.text(at.X, at.Y, 3.2, "middle", `font-weight="bold"`, q.Name)
		} else {
			p.inside(r, own, midway(r, q), 3.2, `font-weight="bold"`, q.Name)
		}
		p.end()
	}
	p.joints(r, v, apart)
	p.cutoutNames(r, v, apart)
	if len(r.Pieces) == 1 {
		at := v.page(middle)
		size := r.Pieces[0].Size
		p.text(at.X, at.Y+5, 2.8, "middle", "", fmt.Sprintf("comes out of %.0f × %.0f mm", size.Length, size.Width))
	}
	if r.Stopped() {
		p.text(x+w/2, y+h/2, 16, "middle", `fill="#c00000" font-weight="bold" opacity="0.8"`, "NOT FOR CUTTING")
	}
}

// midway is the girth in the middle of a piece.
func midway(r former.Ring, q former.Piece) float64 {
	around := r.Former.Outer.Contour.Length()
	span := q.To - q.From
	if span <= 0 {
		span += around
	}
	return math.Mod(q.From+span/2, around)
}

// inside letters a line in the opening of the ring, beside the web at a girth.
func (p *page) inside(r former.Ring, v view, girth, size float64, style, s string) {
	f := stationOf(r.Former.Outer.Contour, girth)
	edge, _, _ := r.Inner.Edge.Nearest(f.at)
	at := v.page(r2.Sub(edge, r2.Scale(7/v.scale, f.out)))
	anchor := "middle"
	if f.out.X > 0.5 {
		anchor = "end"
	} else if f.out.X < -0.5 {
		anchor = "start"
	}
	p.text(at.X, at.Y+size/3, size, anchor, style, s)
}

type placed struct{ at, out r2.Vec }

// stationOf is a place on a contour and the direction away from the material.
func stationOf(c outline.Path, girth float64) placed {
	i, t, err := c.Locate(girth)
	if err != nil {
		return placed{at: c.Vertices[0].P}
	}
	along := c.Segment(i).Tangent(t)
	return placed{c.Segment(i).At(t), r2.Vec{X: along.Y, Y: -along.X}}
}

// joints draws the splice plates between the pieces and names them.
func (p *page) joints(r former.Ring, v view, apart []r2.Vec) {
	n := len(r.Pieces)
	for i, s := range r.Splices {
		// Joint i begins piece i and ends the one before.
		mid := r2.Scale(0.5, r2.Add(apart[i], apart[(i+n-1)%n]))
		own := view{v.page(mid), v.scale}
		p.path(own, s.Plate, plateStyle)
		for _, h := range s.Holes {
			p.circle(own, h, s.Rivet, rivetStyle)
		}
		p.inside(r, own, s.Girth, 2.8, "", fmt.Sprintf("%s at %.0f", s.Name, s.Girth))
	}
}

func (p *page) cutoutNames(r former.Ring, v view, apart []r2.Vec) {
	around := r.Former.Outer.Contour.Length()
	for _, c := range r.Former.Cutouts {
		girth := math.Mod(c.Girth+around, around)
		f := stationOf(r.Former.Outer.Contour, girth)
		shift := r2.Vec{}
		for i, q := range r.Pieces {
			if to := math.Mod(q.To-q.From+around, around); len(r.Pieces) > 1 && math.Mod(girth-q.From+around, around) < to {
				shift = apart[i]
			}
		}
		at := v.page(r2.Add(shift, r2.Add(f.at, r2.Scale(34, f.out))))
		anchor := "middle"
		if f.out.X > 0.5 {
			anchor = "start"
		} else if f.out.X < -0.5 {
			anchor = "end"
		}
		p.text(at.X, at.Y+0.8, 2.2, anchor, `fill="#555555"`, fmt.Sprintf("%.0f", c.Girth))
	}
}

// section draws the sheet on its block, cut across the outer flange at the start of the contour.
func (p *page) section(r former.Ring, x, y, w, h float64) {
	strip, name := &r.Outer, "outer"
	fl := r.Former.Outer.Flange
	if fl == nil {
		if fl = r.Former.Inner.Flange; fl == nil {
			return
		}
		strip, name = &r.Inner, "inner"
	}
	s := strip.Strains[0].Section
	t, a := r.Former.Sheet.Thickness, float64(s.Bend.Angle)
	b := r.Pieces[0].Block
	sin, cos := math.Sincos(a)
	const back = -34.0
	off := former.OffsetForBlock(t, s.Bend.Angle)
	held := r.Former.ToolBend(s.Bend)
	wallSin, wallCos := math.Sincos(float64(held.Angle))
	top := -off
	blockPath := outline.Polygon(r2.Vec{X: back}, r2.Vec{X: back, Y: -b.Depth}, r2.Vec{X: top + b.Depth*wallCos/wallSin, Y: -b.Depth}, r2.Vec{X: top})
	if f, err := blockPath.Fillet(3, held.Radius); err == nil {
		blockPath = f
	}
	end := r2.Vec{X: fl.Height * cos, Y: t - fl.Height*sin}
	in := r2.Sub(end, r2.Vec{X: t * sin, Y: t * cos})
	part := outline.Polygon(r2.Vec{X: back, Y: t}, r2.Vec{X: back}, r2.Vec{X: top}, in, end, r2.Vec{Y: t})
	if f, err := part.Fillet(5, s.Bend.Radius+t); err == nil {
		part = f
	}
	if f, err := part.Fillet(2, s.Bend.Radius); err == nil {
		part = f
	}
	box := drawing.Join(blockPath.Bounds(), part.Bounds())
	box.Max.Y += 8
	v := fit(box, x, y+10, w*0.58, h-14)
	p.group("block in section")
	p.text(x, y+3, 3.4, "start", `font-weight="bold"`, "Sheet on its block, "+name+" edge, in section")
	p.path(v, blockPath, blockStyle)
	p.path(v, part, sheetStyle)
	mold := v.page(r2.Vec{Y: t})
	p.line(r2.Vec{X: mold.X, Y: mold.Y - 5}, r2.Vec{X: mold.X, Y: mold.Y + 4}, `stroke="#8a5a00" stroke-width="0.25"`)
	edge := v.page(r2.Vec{X: top})
	p.line(r2.Vec{X: edge.X, Y: mold.Y - 5}, r2.Vec{X: edge.X, Y: edge.Y + 4}, `stroke="#6b4a12" stroke-width="0.25"`)
	p.text(mold.X+1, mold.Y-3, 2.6, "start", `fill="#8a5a00"`, "mold line")
	p.text(edge.X-1, mold.Y-3, 2.6, "end", `fill="#6b4a12"`, "block")
	tx := x + w*0.66
	for i, line := range []string{
		"block inside the mold line", measure.Both(off),
		"edge rounded to", measure.Both(held.Radius),
		"wall turned from the top", held.Angle.Text(2),
		"part's bend angle, turned", s.Bend.Angle.Text(2),
		"between its legs", s.Bend.Angle.Opening().Text(2),
		"depth of the block", measure.Both(b.Depth),
	} {
		style := `fill="#555555"`
		if i%2 == 1 {
			style = `font-weight="bold"`
		}
		p.text(tx, y+12+float64(i)*5+float64(i/2)*1.5, 2.7, "start", style, line)
	}
	p.end()
}

// strains draws the strain of an edge by girth, against the guidance.
func (p *page) strains(r former.Ring, name string, s *former.Strip, x, y, w, h float64) {
	if len(s.Strains) == 0 {
		return
	}
	stretch, shrink, _ := s.Worst()
	g, known := former.GuideFor(r.Former.Sheet.Material, r.Former.Method)
	hi, lo := math.Max(stretch.Value(), 0.01), math.Min(shrink.Value(), -0.01)
	if known {
		hi, lo = math.Max(hi, math.Min(g.StretchMost, 3*hi)), math.Min(lo, math.Max(-g.ShrinkMost, 3*lo))
	}
	hi, lo = hi*1.15, lo*1.15
	around := s.Mold.Length()
	py := func(e float64) float64 { return y + h*(hi-math.Min(math.Max(e, lo), hi))/(hi-lo) }
	px := func(girth float64) float64 { return x + w*girth/around }
	p.group("strain of " + name)
	p.text(x, y-3, 3.2, "start", `font-weight="bold"`, "Strain of the edge, "+name)
	band := func(a, b float64, style string) {
		if top, bottom := py(b), py(a); bottom > top {
			fmt.Fprintf(p, "<rect x=\"%.3f\" y=\"%.3f\" width=\"%.3f\" height=\"%.3f\" %s/>\n", x, top, w, bottom-top, style)
		}
	}
	if known {
		band(-g.ShrinkMost, g.StretchMost, edgyStyle)
		band(-g.ShrinkCareful, g.StretchCareful, safeStyle)
	}
	p.line(r2.Vec{X: x, Y: py(0)}, r2.Vec{X: x + w, Y: py(0)}, frameStyle)
	p.line(r2.Vec{X: x, Y: y}, r2.Vec{X: x, Y: y + h}, frameStyle)
	d := ""
	for i, e := range s.Strains {
		d += fmt.Sprintf("%s%.3f %.3f", map[bool]string{true: "M", false: "L"}[i == 0], px(e.Girth), py(e.Value()))
	}
	fmt.Fprintf(p, "<path d=\"%s\" %s/>\n", d, strainStyle)
	step := 0.01
	for (hi-lo)/step > 8 {
		step *= 2
	}
	for k := math.Ceil(lo / step); k*step <= hi; k++ {
		p.line(r2.Vec{X: x - 1, Y: py(k * step)}, r2.Vec{X: x, Y: py(k * step)}, frameStyle)
		p.text(x-1.6, py(k*step)+0.9, 2.3, "end", "", tick(100*k*step))
	}
	for k := 0.0; k*250 <= around; k++ {
		p.line(r2.Vec{X: px(k * 250), Y: y + h}, r2.Vec{X: px(k * 250), Y: y + h + 1}, frameStyle)
		p.text(px(k*250), y+h+3.8, 2.3, "middle", "", fmt.Sprintf("%.0f", k*250))
	}
	p.text(x+w, y-3, 2.3, "end", `fill="#555555"`, "girth from the datum, mm; stretch up, shrink down")
	p.end()
}

func tick(percent float64) string {
	if math.Abs(percent) < 1e-9 {
		return "0 %"
	}
	return fmt.Sprintf("%+.0f %%", percent)
}

// legend explains the lines and repeats the cautions.
func (p *page) legend(r former.Ring) {
	p.group("legend")
	x, y := 14.0, 238.0
	for i, l := range []struct{ style, name string }{
		{cutStyle, "cut"}, {bendStyle, "bend tangent lines"}, {moldStyle, "mold line"}, {noteStyle, "trim after forming; cut-outs marked only (dashed)"},
		{rivetStyle, "rivets, drilled after forming"}, {plateStyle, "splice plate"},
	} {
		yy := y + float64(i)*4.6
		fmt.Fprintf(p, "<rect x=\"%.3f\" y=\"%.3f\" width=\"8\" height=\"2.2\" %s/>\n", x, yy-2.2, l.style)
		p.text(x+11, yy, 2.7, "start", "", l.name)
	}
	fmt.Fprintf(p, "<circle cx=\"%.3f\" cy=\"%.3f\" r=\"0.8\" %s/>\n", x+104, y-1, helpStyle)
	p.text(x+108, y, 2.7, "start", "", "flute, notch or part of the flange")
	fmt.Fprintf(p, "<circle cx=\"%.3f\" cy=\"%.3f\" r=\"0.8\" %s/>\n", x+104, y+3.6, pinStyle)
	p.text(x+108, y+4.6, 2.7, "start", "", "tooling pin, through blank, block and cover")
	p.text(x+108, y+9.2, 2.7, "start", "", "green: careful work; yellow: skilled work (remembered guidance)")
	p.text(x+108, y+13.8, 2.7, "start", `fill="#555555"`, "small figures: girth of the cut-outs, mm")
	for i, c := range drawing.Cautions() {
		p.text(14, 275+float64(i)*4.4, 3, "start", `font-weight="bold"`, c)
	}
	p.text(pageWidth-12, 291, 2.6, "end", `fill="#555555"`, "Picture, not to scale. Every number stands on the card.")
	p.end()
}
