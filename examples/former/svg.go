package main

import (
	"bytes"
	"fmt"
	"html"
	"io"
	"math"

	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
)

// A view places drawing coordinates on a page: y up becomes y down.
type view struct {
	at    r2.Vec // where the origin lies on the page, mm
	scale float64
}

func (v view) page(p r2.Vec) r2.Vec {
	return r2.Vec{X: v.at.X + v.scale*p.X, Y: v.at.Y - v.scale*p.Y}
}

// fit shows a box in a frame of the page, x right and y down from a corner.
func fit(box r2.Box, x, y, w, h float64) view {
	size := r2.Sub(box.Max, box.Min)
	s := math.Min(w/size.X, h/size.Y)
	middle := r2.Scale(0.5, r2.Add(box.Min, box.Max))
	return view{r2.Vec{X: x + w/2 - s*middle.X, Y: y + h/2 + s*middle.Y}, s}
}

// A page gathers SVG.
type page struct{ bytes.Buffer }

func (p *page) group(name string) { fmt.Fprintf(p, "<g id=\"%s\">\n", html.EscapeString(name)) }
func (p *page) end()              { p.WriteString("</g>\n") }

// path draws an outline with its arcs.
func (p *page) path(v view, q outline.Path, style string) {
	if q.NumSegments() == 0 {
		return
	}
	fmt.Fprintf(p, "<path d=\"%s\" %s/>\n", data(v, q), style)
}

// paths draws outlines as one figure, so that openings stay open.
func (p *page) paths(v view, list []outline.Path, style string) {
	var d string
	for _, q := range list {
		d += data(v, q)
	}
	fmt.Fprintf(p, "<path d=\"%s\" fill-rule=\"evenodd\" %s/>\n", d, style)
}

func data(v view, q outline.Path) string {
	var b bytes.Buffer
	start := v.page(q.Vertices[0].P)
	fmt.Fprintf(&b, "M%.3f %.3f", start.X, start.Y)
	for _, s := range q.Segments() {
		e := v.page(s.B)
		if s.IsLine() {
			fmt.Fprintf(&b, "L%.3f %.3f", e.X, e.Y)
			continue
		}
		large, sweep := 0, 0
		if math.Abs(float64(s.Sweep())) > math.Pi {
			large = 1
		}
		if s.Bulge < 0 { // clockwise, y up: clockwise on the page too
			sweep = 1
		}
		r := s.Radius() * v.scale
		fmt.Fprintf(&b, "A%.3f %.3f 0 %d %d %.3f %.3f", r, r, large, sweep, e.X, e.Y)
	}
	if q.Closed {
		b.WriteString("Z")
	}
	return b.String()
}

func (p *page) line(a, b r2.Vec, style string) {
	fmt.Fprintf(p, "<line x1=\"%.3f\" y1=\"%.3f\" x2=\"%.3f\" y2=\"%.3f\" %s/>\n", a.X, a.Y, b.X, b.Y, style)
}

func (p *page) circle(v view, at r2.Vec, diameter float64, style string) {
	c := v.page(at)
	fmt.Fprintf(p, "<circle cx=\"%.3f\" cy=\"%.3f\" r=\"%.3f\" %s/>\n", c.X, c.Y, math.Max(diameter/2*v.scale, 0.25), style)
}

// text letters a line of the given size; anchor is start, middle or end.
func (p *page) text(x, y, size float64, anchor, style, s string) {
	fmt.Fprintf(p, "<text x=\"%.3f\" y=\"%.3f\" font-size=\"%.2f\" text-anchor=\"%s\" %s>%s</text>\n", x, y, size, anchor, style, html.EscapeString(s))
}

func (p *page) write(w io.Writer, width, height float64, title string) error {
	_, err := fmt.Fprintf(w, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%gmm\" height=\"%gmm\" viewBox=\"0 0 %g %g\" font-family=\"DejaVu Sans, Arial, sans-serif\">\n<title>%s</title>\n<rect width=\"%g\" height=\"%g\" fill=\"white\"/>\n%s</svg>\n",
		width, height, width, height, html.EscapeString(title), width, height, p.String())
	return err
}
