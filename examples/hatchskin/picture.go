package main

import (
	"fmt"
	"html"
	"io"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/flat/rivet"
	"github.com/hangarflat/hangarflat/material/measure"
)

// The page is A3 across; the patch takes its left two thirds.
const (
	pageWide, pageHigh = 420.0, 297.0
	mainWide, mainHigh = 278.0, 214.0
	mainX, mainY       = 12.0, 26.0
	sideX              = 300.0
)

// A pen gathers SVG, in mm of the page, y down.
type pen struct {
	strings.Builder
	origin r2.Vec // of the drawing on the page
	scale  float64
}

func (p *pen) page(q r2.Vec) r2.Vec {
	return r2.Vec{X: p.origin.X + p.scale*q.X, Y: p.origin.Y - p.scale*q.Y}
}

// show places a box of the drawing in the middle of a frame of the page.
func (p *pen) show(box r2.Box, x, y, wide, high float64) {
	size, middle := box.Size(), r2.Scale(0.5, r2.Add(box.Min, box.Max))
	p.scale = math.Min(wide/size.X, high/size.Y)
	p.origin = r2.Vec{X: x + wide/2 - p.scale*middle.X, Y: y + high/2 + p.scale*middle.Y}
}

// outline draws paths as one figure, arcs as chords finer than the pen.
func (p *pen) outline(style string, paths ...outline.Path) {
	p.WriteString(`<path fill-rule="evenodd" d="`)
	for _, path := range paths {
		for i, q := range drawing.Chords(path, 0.02/p.scale) {
			at := p.page(q)
			letter := "L"
			if i == 0 {
				letter = "M"
			}
			fmt.Fprintf(p, "%s%.2f %.2f", letter, at.X, at.Y)
		}
		if path.Closed {
			p.WriteString("Z")
		}
	}
	fmt.Fprintf(p, "\" %s/>\n", style)
}

// write letters a line; anchor is start, middle or end.
func (p *pen) write(x, y, size float64, anchor, style, text string) {
	fmt.Fprintf(p, "<text x=\"%.2f\" y=\"%.2f\" font-size=\"%.2f\" text-anchor=\"%s\" %s>%s</text>\n", x, y, size, anchor, style, html.EscapeString(text))
}

func (p *pen) rect(x, y, wide, high float64, style string) {
	fmt.Fprintf(p, "<rect x=\"%.2f\" y=\"%.2f\" width=\"%.2f\" height=\"%.2f\" %s/>\n", x, y, wide, high, style)
}

func (p *pen) dot(at r2.Vec, radius float64, style string) {
	fmt.Fprintf(p, "<circle cx=\"%.2f\" cy=\"%.2f\" r=\"%.2f\" %s/>\n", at.X, at.Y, radius, style)
}

func (p *pen) group(name string, draw func()) {
	fmt.Fprintf(p, "<g id=\"%s\">\n", html.EscapeString(name))
	draw()
	p.WriteString("</g>\n")
}

const (
	patchStyle   = `fill="#dfe6ea" stroke="#102a38" stroke-width="0.4"`
	openingStyle = `fill="none" stroke="#8a5a00" stroke-width="0.3" stroke-dasharray="2.4 1.2"`
	memberStyle  = `fill="none" stroke="#b5c3cc" stroke-width="5"`
	clipped      = `clip-path="url(#main)" `
	keepStyle    = clipped + `fill="#f3d9d4" stroke="#a0392b" stroke-width="0.2" stroke-dasharray="1 0.8"`
	hiddenStyle  = `fill="none" stroke="#102a38" stroke-width="0.25" stroke-dasharray="1.2 0.8"`
	oldStyle     = `fill="none" stroke="#c0392b" stroke-width="0.35"`
	greyText     = `fill="#555555"`
	boldText     = `font-weight="bold"`
)

// turnColor goes from dark blue, driven first, to orange, driven last.
func turnColor(turn, of int) string {
	t := 0.0
	if of > 1 {
		t = float64(turn-1) / float64(of-1)
	}
	mix := func(a, b float64) int { return int(math.Round(a + t*(b-a))) }
	return fmt.Sprintf("#%02x%02x%02x", mix(0x14, 0xe8), mix(0x3f, 0x8a), mix(0x8f, 0x1c))
}

// picture draws the rivets numbered in the order they are driven, and what they go
// through.
func (r result) picture(w io.Writer) error {
	p := &pen{}
	f := r.fitted
	p.write(mainX, 13, 6, "start", boldText, f.Patch.Title)
	p.write(mainX, 19.5, 3.4, "start", greyText, fmt.Sprintf("%s; seen from outside. Numbers: order of driving. %d rivets.", f.Patch.Fitting, f.Rivets))
	if f.Stopped() {
		p.write(pageWide-12, 13, 7, "end", `font-weight="bold" fill="#c0392b"`, flat.NotForCutting)
	}
	shapes := r.shapes()
	box := shapes[0].path.Bounds()
	for _, row := range f.Layout.Rows {
		for _, h := range row.Holes {
			box.Min.X, box.Min.Y = math.Min(box.Min.X, h.At.X-5), math.Min(box.Min.Y, h.At.Y-5)
			box.Max.X, box.Max.Y = math.Max(box.Max.X, h.At.X+5), math.Max(box.Max.Y, h.At.Y+5)
		}
	}
	p.show(box, mainX, mainY, mainWide, mainHigh)
	fmt.Fprintf(p, "<clipPath id=\"main\"><rect x=\"%g\" y=\"%g\" width=\"%g\" height=\"%g\"/></clipPath>\n", mainX-3, mainY-3, mainWide+6, mainHigh+6)
	p.group("patch", func() { r.drawPatch(p, shapes, box) })
	p.group("rivets", func() { r.drawRivets(p, shapes[0].path) })
	y := 30.0
	p.group("sections", func() { y = r.drawStacks(p, y) })
	p.group("slack", func() { r.drawSlack(p, y+6) })
	p.group("legend", func() { r.drawLegend(p, len(shapes) > 1) })
	_, err := fmt.Fprintf(w, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%gmm\" height=\"%gmm\" viewBox=\"0 0 %g %g\" font-family=\"DejaVu Sans, Arial, sans-serif\">\n<title>%s</title>\n<rect width=\"%g\" height=\"%g\" fill=\"white\"/>\n%s</svg>\n",
		pageWide, pageHigh, pageWide, pageHigh, html.EscapeString(f.Patch.Title), pageWide, pageHigh, p.String())
	return err
}

// A shape is a sheet's edge as it lies on the skin, not laid flat.
type shape struct {
	path, hole outline.Path
}

// shapes draws the sheets on the skin. The pieces know them laid flat; on the skin
// they are their own flat roll.
func (r result) shapes() (list []shape) {
	flatPatch := r.patch
	flatPatch.Roll = rivet.Roll{}
	f, err := flatPatch.Fit()
	if err != nil { // it could be worked out rolled, so it can flat
		f = r.fitted
	}
	for _, p := range f.Pieces {
		s := shape{path: p.Outline}
		if len(p.Openings) > 0 {
			s.hole = p.Openings[0]
		}
		list = append(list, s)
	}
	if len(list) > 1 { // the doubler reaches farther than the insert
		list[0], list[1] = list[1], list[0]
	}
	return list
}

func (r result) drawPatch(p *pen, shapes []shape, box r2.Box) {
	for _, s := range shapes {
		paths := []outline.Path{s.path}
		if len(s.hole.Vertices) > 0 {
			paths = append(paths, s.hole)
		}
		p.outline(patchStyle, paths...)
	}
	for _, s := range shapes {
		if len(s.hole.Vertices) > 0 && len(shapes) > 1 {
			p.outline(hiddenStyle, s.hole) // the doubler's inner edge, behind the insert
		}
	}
	for _, m := range r.patch.Members {
		p.outline(memberStyle, m.Edge)
	}
	p.outline(openingStyle, r.patch.Opening)
	for _, k := range r.patch.Keep {
		region, err := k.Shape.Strip(math.Max(k.Clear, 0.1))
		if k.Shape.Closed {
			region, err = k.Shape.Offset(k.Clear, outline.OffsetOptions{})
		}
		if err == nil {
			p.outline(keepStyle, region...)
		}
		c := k.Shape.Centroid()
		at := p.page(r2.Vec{X: math.Max(box.Min.X+8, math.Min(c.X, box.Max.X-8)), Y: math.Max(box.Min.Y+8, math.Min(c.Y, box.Max.Y-8))})
		p.write(at.X, at.Y+0.8, 2.3, "middle", `fill="#a0392b"`, k.Name)
	}
	for _, g := range r.fitted.Groups {
		if n := g.To - g.From; n > 0 && g.Name != "" {
			line := r.fitted.Layout.Rows[g.From].Line
			if line.Closed {
				continue
			}
			at := p.page(line.Vertices[0].P)
			p.write(at.X, at.Y-4.4, 2.5, "start", `fill="#4a5a64"`, g.Name)
		}
	}
}

// drawRivets numbers each rivet at its upper right, or at its upper left where the number
// would cross the edge of the sheet.
func (r result) drawRivets(p *pen, sheet outline.Path) {
	turn, pinned := turns(r.fitted), map[[2]int]bool{}
	for _, d := range r.pins {
		pinned[[2]int{d.Row, d.Hole}] = true
	}
	radius := math.Max(r.patch.Rivet.Diameter/2*p.scale, 0.6)
	for k, row := range r.fitted.Layout.Rows {
		for i, h := range row.Holes {
			at := p.page(h.At)
			p.dot(at, radius, fmt.Sprintf("fill=\"%s\"", turnColor(turn[k][i], r.fitted.Rivets)))
			if pinned[[2]int{k, i}] {
				p.dot(at, radius*0.45, `fill="white"`)
			}
			clear := radius * 0.9
			if h.Found {
				p.dot(at, radius+0.7, oldStyle)
				clear += 0.7
			}
			text := fmt.Sprint(turn[k][i])
			x, anchor := at.X+clear, "start"
			const size = 2.1
			corner := r2.Vec{X: (clear + 0.65*size*float64(len(text))) / p.scale, Y: (clear + size) / p.scale}
			if sheet.Side(r2.Add(h.At, corner)) != outline.Inside {
				x, anchor = at.X-clear, "end"
			}
			p.write(x, at.Y-clear, size, anchor, `fill="#202020" stroke="#ffffff" stroke-width="0.5" paint-order="stroke"`, text)
		}
	}
}

// drawStacks draws what each group of rivets goes through, many times its size.
func (r result) drawStacks(p *pen, y float64) float64 {
	p.write(sideX, y, 4, "start", boldText, "What the rivets go through")
	y += 5
	const mag = 5.0 // sizes on the page to a size of the part
	for n := 0; n < len(r.fitted.Groups) && y < 150; {
		g := r.fitted.Groups[n]
		names, count := []string{g.Name}, g.Count
		for n++; n < len(r.fitted.Groups) && sameStack(g, r.fitted.Groups[n]); n++ {
			names, count = append(names, r.fitted.Groups[n].Name), count+r.fitted.Groups[n].Count
		}
		p.write(sideX, y+3, 3, "start", "", strings.Join(names, ", "))
		p.write(sideX, y+7, 2.6, "start", greyText, fmt.Sprintf("%d rivets %s x %s", count, inches(r.patch.Rivet.Diameter), inches(g.Shank.Stock)))
		d := r.patch.Rivet.Diameter * mag
		top := y + 9 + d/2
		at := top
		for i, s := range g.Stack {
			high := s.Thickness * mag
			r.drawSheet(p, sideX, at, high, d, fmt.Sprintf(`fill="%s" stroke="#102a38" stroke-width="0.2"`, [...]string{"#c5d2da", "#e7d9b8", "#cfdcc4"}[i%3]))
			p.write(sideX+52, at+high/2+0.9, 2.6, "start", "", fmt.Sprintf("%s  %s", measure.InchText(s.Thickness, 3), s.Material))
			at += high
		}
		at += r.sunk(d)
		r.drawRivet(p, sideX+25, top, at, d)
		y = at + d*0.5 + 5
	}
	return y
}

func sameStack(a, b rivet.Group) bool {
	if len(a.Stack) != len(b.Stack) {
		return false
	}
	for i := range a.Stack {
		if a.Stack[i] != b.Stack[i] {
			return false
		}
	}
	return true
}

// flushHead is the depth of a flush head, in diameters, as it is drawn.
const flushHead = 0.42

// sunk is how deep the middle of a dimple lies below its sheet; nothing for heads that stand
// proud of it or in a countersink.
func (r result) sunk(d float64) float64 {
	if r.patch.Rivet.Head == rivet.Dimpled {
		return flushHead * d
	}
	return 0
}

// drawSheet draws one sheet of a stack, 50 wide about its rivet, flat or dimpled.
func (r result) drawSheet(p *pen, x, top, high, d float64, style string) {
	const half = 25
	sunk := r.sunk(d)
	if sunk == 0 {
		p.rect(x, top, 2*half, high, style)
		return
	}
	for _, side := range [2]float64{-1, 1} {
		at := func(off, down float64) r2.Vec { return r2.Vec{X: x + half + side*off, Y: top + down} }
		p.WriteString("<path d=\"")
		for i, q := range []r2.Vec{at(half, 0), at(0.95*d, 0), at(0.5*d, sunk), at(0.5*d, sunk+high), at(0.95*d, high), at(half, high)} {
			fmt.Fprintf(p, "%s%.2f %.2f", [2]string{"M", "L"}[min(i, 1)], q.X, q.Y)
		}
		fmt.Fprintf(p, "Z\" %s/>\n", style)
	}
}

// drawRivet draws a driven rivet through a stack that reaches from top to bottom.
func (r result) drawRivet(p *pen, x, top, bottom, d float64) {
	const style = `fill="#8d99a1" stroke="#202020" stroke-width="0.2"`
	across, high := r.patch.Rivet.DrivenHead()
	wide, low := across/r.patch.Rivet.Diameter*d, high/r.patch.Rivet.Diameter*d
	switch r.patch.Rivet.Head {
	case rivet.Protruding:
		fmt.Fprintf(p, "<path d=\"M%.2f %.2fa%.2f %.2f 0 0 1 %.2f 0z\" %s/>\n", x-d, top, d, d*0.45, 2*d, style)
	default:
		deep := math.Min(d*flushHead, bottom-top)
		fmt.Fprintf(p, "<path d=\"M%.2f %.2fh%.2fl%.2f %.2fh%.2fz\" %s/>\n", x-d*0.95, top, d*1.9, -d*0.45, deep, -d, style)
	}
	p.rect(x-d/2, top, d, bottom-top, style)
	p.rect(x-wide/2, bottom, wide, low, style+` rx="1"`)
}

func inches(mm float64) string {
	text, rest := measure.FractionText(mm)
	if math.Abs(rest) > 0.02 {
		return measure.MmText(mm, 2)
	}
	return text
}

// drawSlack compares the orders.
func (r result) drawSlack(p *pen, y float64) {
	if r.perSpace == 0 || r.slack.Pushed == 0 && r.endsFirst.Trapped == 0 {
		return
	}
	p.write(sideX, y, 4, "start", boldText, "Why from the middle outward")
	p.write(sideX, y+4.5, 2.5, "start", greyText, fmt.Sprintf("model: %.3f mm slack from hole to hole, open rows only", r.perSpace))
	most := math.Max(math.Max(r.slack.Bulge, r.endsFirst.Bulge), 1e-9)
	for i, s := range []struct {
		name string
		rivet.Slack
	}{{"from the middle out", r.slack}, {"both ends first", r.endsFirst}} {
		at := y + 10 + 11*float64(i)
		p.write(sideX, at, 2.8, "start", "", s.name)
		style := `fill="#2e7d4f"`
		if s.Trapped > 0 {
			style = `fill="#c0392b"`
		}
		long := math.Max(60*s.Bulge/most, 0.4)
		p.rect(sideX, at+1.2, long, 3.2, style)
		p.write(sideX+long+2, at+3.8, 2.6, "start", "", fmt.Sprintf("bulge %.2f mm, %.2f mm shut in", s.Bulge, s.Trapped))
	}
}

// drawLegend names what the picture shows, and nothing that it does not.
func (r result) drawLegend(p *pen, doubler bool) {
	y := 250.0
	type sheetLine struct{ style, name string }
	lines := []sheetLine{{patchStyle, "new sheet"}, {openingStyle, "edge of the opening in the skin"}}
	if doubler {
		lines = append(lines, sheetLine{hiddenStyle, "inner edge of the doubler, behind"})
	}
	if len(r.patch.Keep) > 0 {
		lines = append(lines, sheetLine{keepStyle, "no rivet's centre within"})
	}
	for i, l := range lines {
		yy := y + 5*float64(i)
		p.rect(mainX, yy-2.2, 9, 2.4, strings.TrimPrefix(l.style, clipped))
		p.write(mainX+12, yy, 2.8, "start", "", l.name)
	}
	type mark struct {
		fill, ring bool
		name       string
	}
	marks := []mark{{true, false, "temporary fastener before driving"}}
	if r.found() {
		marks = append(marks, mark{false, true, "old hole, kept where it was measured"})
	}
	for i, l := range marks {
		at := r2.Vec{X: mainX + 84, Y: y + 5*float64(i) - 1}
		p.dot(at, 1.2, fmt.Sprintf("fill=\"%s\"", turnColor(1, 2)))
		if l.fill {
			p.dot(at, 0.55, `fill="white"`)
		}
		if l.ring {
			p.dot(at, 1.9, oldStyle)
		}
		p.write(at.X+4, at.Y+1, 2.8, "start", "", l.name)
	}
	for i := range 30 {
		p.rect(mainX+164+2*float64(i), y-2.2, 2.05, 2.4, fmt.Sprintf("fill=\"%s\"", turnColor(i+1, 30)))
	}
	p.write(mainX+164, y+4, 2.8, "start", "", "driven first")
	p.write(mainX+224, y+4, 2.8, "end", "", "last")
	for i, c := range drawing.Cautions() {
		p.write(mainX, 274+4.6*float64(i), 3, "start", boldText, c)
	}
	p.write(pageWide-12, 290, 2.6, "end", greyText, "Picture, not to scale. Every number stands on the card.")
}

// found tells that some rivet goes into a hole of the old structure.
func (r result) found() bool {
	for _, row := range r.fitted.Layout.Rows {
		for _, h := range row.Holes {
			if h.Found {
				return true
			}
		}
	}
	return false
}
