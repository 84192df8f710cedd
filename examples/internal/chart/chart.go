// Package chart draws the example programs' plain line charts as SVG: panels one
// above the other, with axes, lines, points and words.
package chart

import (
	"fmt"
	"html"
	"io"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
)

// An Ink is what something is drawn with.
type Ink uint8

const (
	Fair    Ink = iota // the answer: a heavy dark line
	Measure            // what was measured: grey
	Good               // within tolerance: green
	Bad                // out of tolerance, or doubtful: red
	Guide              // base lines and marks: thin, dashed
	Second             // another line beside the answer: blue
)

func (i Ink) color() string {
	return [...]string{"#1b2a3a", "#8a8f94", "#2e7d4f", "#c0392b", "#9aa7b4", "#2f6fb0"}[min(i, Second)]
}

func (i Ink) stroke() string {
	width := "1"
	if i == Fair {
		width = "1.8"
	}
	if i == Guide {
		return `stroke-width="0.8" stroke-dasharray="4 3"`
	}
	return `stroke-width="` + width + `"`
}

// A Line is a chain of points, in the panel's units.
type Line struct {
	Ink  Ink
	Name string // in the key; may be empty
	P    []r2.Vec
}

// Dots are separate points.
type Dots struct {
	Ink  Ink
	Name string
	Size float64 // radius, in thousandths of the page's width; 0 is 2.2
	P    []r2.Vec
}

// A Word is lettering at a point.
type Word struct {
	Ink  Ink
	At   r2.Vec
	Text string
}

// A Panel is one pair of axes.
type Panel struct {
	Title, X, Y string
	Height      float64 // share of the page's width; 0 is 0.3
	Equal       bool    // one scale for both axes
	Lines       []Line
	Dots        []Dots
	Words       []Word
}

const (
	page   = 1000.0
	left   = 78.0
	right  = 24.0
	header = 44.0
	top    = 34.0
	bottom = 46.0
)

// Draw writes the panels under a title, the notes below them.
func Draw(w io.Writer, title string, panels []Panel, notes []string) error {
	var b strings.Builder
	height := header
	for _, p := range panels {
		height += p.height()
	}
	total := height + 18*float64(len(notes)) + 14
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %s %s" width="%s" height="%s" font-family="sans-serif" font-size="12">`+"\n",
		num(page), num(total), num(page), num(total))
	b.WriteString(`<rect width="100%" height="100%" fill="#ffffff"/>` + "\n")
	fmt.Fprintf(&b, `<text x="%s" y="28" font-size="19" font-weight="bold" fill="#1b2a3a">%s</text>`+"\n", num(left), html.EscapeString(title))
	y := header
	for _, p := range panels {
		p.draw(&b, y)
		y += p.height()
	}
	for i, n := range notes {
		fmt.Fprintf(&b, `<text x="%s" y="%s" fill="#444">%s</text>`+"\n", num(left), num(y+18*float64(i)+12), html.EscapeString(n))
	}
	b.WriteString("</svg>\n")
	_, err := io.WriteString(w, b.String())
	return err
}

func (p Panel) height() float64 {
	h := p.Height
	if h == 0 {
		h = 0.3
	}
	return h*page + top + bottom
}

func (p Panel) bounds() (lo, hi r2.Vec) {
	lo, hi = r2.Vec{X: math.Inf(1), Y: math.Inf(1)}, r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)}
	take := func(ps []r2.Vec) {
		for _, q := range ps {
			if math.IsNaN(q.X + q.Y) {
				continue
			}
			lo = r2.Vec{X: min(lo.X, q.X), Y: min(lo.Y, q.Y)}
			hi = r2.Vec{X: max(hi.X, q.X), Y: max(hi.Y, q.Y)}
		}
	}
	for _, l := range p.Lines {
		take(l.P)
	}
	for _, d := range p.Dots {
		take(d.P)
	}
	if !(hi.X > lo.X) {
		lo.X, hi.X = lo.X-1, lo.X+1
	}
	if !(hi.Y > lo.Y) {
		lo.Y, hi.Y = lo.Y-1, lo.Y+1
	}
	my, mx := 0.08*(hi.Y-lo.Y), 0.02*(hi.X-lo.X)
	return r2.Vec{X: lo.X - mx, Y: lo.Y - my}, r2.Vec{X: hi.X + mx, Y: hi.Y + my}
}

func (p Panel) draw(b *strings.Builder, y0 float64) {
	lo, hi := p.bounds()
	wide, high := page-left-right, p.height()-top-bottom
	sx, sy := wide/(hi.X-lo.X), high/(hi.Y-lo.Y)
	if p.Equal {
		s := min(sx, sy)
		midX, midY := (lo.X+hi.X)/2, (lo.Y+hi.Y)/2
		lo = r2.Vec{X: midX - wide/s/2, Y: midY - high/s/2}
		hi = r2.Vec{X: midX + wide/s/2, Y: midY + high/s/2}
		sx, sy = s, s
	}
	at := func(q r2.Vec) (x, y float64) { return left + (q.X-lo.X)*sx, y0 + top + (hi.Y-q.Y)*sy }
	fmt.Fprintf(b, `<text x="%s" y="%s" font-weight="bold" fill="#333">%s</text>`+"\n", num(left), num(y0+top-10), html.EscapeString(p.Title))
	for _, v := range ticks(lo.X, hi.X) {
		x, _ := at(r2.Vec{X: v})
		fmt.Fprintf(b, `<path d="M%s %sV%s" stroke="#e6e9ec"/><text x="%s" y="%s" text-anchor="middle" fill="#555">%s</text>`+"\n",
			num(x), num(y0+top), num(y0+top+high), num(x), num(y0+top+high+16), tick(v))
	}
	for _, v := range ticks(lo.Y, hi.Y) {
		_, y := at(r2.Vec{Y: v})
		fmt.Fprintf(b, `<path d="M%s %sH%s" stroke="#e6e9ec"/><text x="%s" y="%s" text-anchor="end" fill="#555">%s</text>`+"\n",
			num(left), num(y), num(left+wide), num(left-7), num(y+4), tick(v))
	}
	fmt.Fprintf(b, `<rect x="%s" y="%s" width="%s" height="%s" fill="none" stroke="#b8c0c8"/>`+"\n", num(left), num(y0+top), num(wide), num(high))
	fmt.Fprintf(b, `<text x="%s" y="%s" text-anchor="middle" fill="#333">%s</text>`+"\n", num(left+wide/2), num(y0+top+high+34), html.EscapeString(p.X))
	fmt.Fprintf(b, `<text transform="translate(%s %s) rotate(-90)" text-anchor="middle" fill="#333">%s</text>`+"\n", num(18), num(y0+top+high/2), html.EscapeString(p.Y))
	for _, l := range p.Lines {
		fmt.Fprintf(b, `<path fill="none" stroke="%s" %s d="`, l.Ink.color(), l.Ink.stroke())
		pen := "M"
		for _, q := range l.P {
			if math.IsNaN(q.X + q.Y) { // lifts the pen
				pen = "M"
				continue
			}
			x, y := at(q)
			b.WriteString(pen + num(x) + " " + num(y))
			pen = "L"
		}
		b.WriteString("\"/>\n")
	}
	for _, d := range p.Dots {
		size := d.Size
		if size == 0 {
			size = 2.2
		}
		fmt.Fprintf(b, `<g fill="%s">`, d.Ink.color())
		for _, q := range d.P {
			x, y := at(q)
			fmt.Fprintf(b, `<circle cx="%s" cy="%s" r="%s"/>`, num(x), num(y), num(size))
		}
		b.WriteString("</g>\n")
	}
	for _, t := range p.Words {
		x, y := at(t.At)
		anchor := "start"
		if x > left+0.7*wide {
			anchor = "end"
		}
		fmt.Fprintf(b, `<text x="%s" y="%s" text-anchor="%s" fill="%s" stroke="#ffffff" stroke-width="3" paint-order="stroke">%s</text>`+"\n",
			num(x), num(y-7), anchor, t.Ink.color(), html.EscapeString(t.Text))
	}
	p.key(b, y0)
}

// key names the lines at the right of the panel's title.
func (p Panel) key(b *strings.Builder, y0 float64) {
	type entry struct {
		ink  Ink
		name string
		dot  bool
	}
	var all []entry
	for _, l := range p.Lines {
		if l.Name != "" {
			all = append(all, entry{l.Ink, l.Name, false})
		}
	}
	for _, d := range p.Dots {
		if d.Name != "" {
			all = append(all, entry{d.Ink, d.Name, true})
		}
	}
	x := page - right
	for i := len(all) - 1; i >= 0; i-- {
		e := all[i]
		x -= 6.6 * float64(len([]rune(e.name)))
		fmt.Fprintf(b, `<text x="%s" y="%s" fill="#333">%s</text>`+"\n", num(x), num(y0+top-10), html.EscapeString(e.name))
		if e.dot {
			fmt.Fprintf(b, `<circle cx="%s" cy="%s" r="3" fill="%s"/>`, num(x-10), num(y0+top-14), e.ink.color())
		} else {
			fmt.Fprintf(b, `<path d="M%s %sh16" stroke="%s" %s/>`, num(x-20), num(y0+top-14), e.ink.color(), e.ink.stroke())
		}
		x -= 34
	}
}

// ticks are round numbers that divide a range into four to nine.
func ticks(lo, hi float64) []float64 {
	step := math.Pow(10, math.Floor(math.Log10((hi-lo)/4)))
	for _, k := range []float64{5, 2} {
		if (hi-lo)/(step*k) >= 4 {
			step *= k
			break
		}
	}
	var out []float64
	for v := math.Ceil(lo/step) * step; v <= hi && len(out) < 50; v += step {
		if math.Abs(v) < step/1e6 {
			v = 0
		}
		out = append(out, v)
	}
	return out
}

func tick(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }

func num(v float64) string { return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64) }
