package main

import (
	"bytes"
	"fmt"
	"html"
	"math"
	"strings"

	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

func rectangle(length, width float64) outline.Path {
	return outline.Rect(r2.Vec{}, r2.Vec{X: length, Y: width})
}

// sheetPicture draws a sheet of stock, millimetres as the units of the picture, y
// turned down as pictures have it.
func sheetPicture(w *bytes.Buffer, s laidSheet, d drawing.Drawing) {
	const frame = 30.0
	length, width := s.stock.Length, s.stock.Width
	size := length / 80 // of the lettering
	fmt.Fprintf(w, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="%s %s %s %s" font-family="sans-serif" font-size="%s">`+"\n",
		decimals(-frame, 0), decimals(-width-frame-2*size, 1), decimals(length+2*frame, 1), decimals(width+2*frame+4*size, 1), decimals(size, 1))
	fmt.Fprintf(w, `<rect x="0" y="%s" width="%s" height="%s" fill="#f3f5f6" stroke="#8a949c" stroke-width="2"/>`+"\n", decimals(-width, 2), decimals(length, 2), decimals(width, 2))
	reach := min(s.sheet.Reach+s.stock.Gap, length)
	fmt.Fprintf(w, `<path d="M%s 0V%s" stroke="#8a949c" stroke-width="2" stroke-dasharray="14 8"/>`+"\n", decimals(reach, 2), decimals(-width, 2))
	for _, p := range d.Paths {
		switch p.Layer {
		case drawing.Cut:
			fmt.Fprintf(w, `<path d="%s" fill="#ffffff" stroke="#1c2126" stroke-width="1.5"/>`+"\n", svgPath(p.Path))
		case drawing.BendTangent:
			fmt.Fprintf(w, `<path d="%s" fill="none" stroke="#2f7d4f" stroke-width="0.8"/>`+"\n", svgPath(p.Path))
		}
	}
	for _, c := range d.Circles {
		fmt.Fprintf(w, `<circle cx="%s" cy="%s" r="%s" fill="#f3f5f6" stroke="#1c2126"/>`+"\n", decimals(c.Center.X, 2), decimals(-c.Center.Y, 2), decimals(c.Diameter/2, 2))
	}
	for _, l := range d.Labels {
		fmt.Fprintf(w, `<text x="%s" y="%s" text-anchor="middle" fill="#1c2126">%s</text>`+"\n", decimals(l.At.X, 1), decimals(-l.At.Y+size/3, 1), html.EscapeString(strings.Join(l.Text, " ")))
	}
	fmt.Fprintf(w, `<text x="0" y="%s" fill="#1c2126">%s</text>`+"\n", decimals(-width-size, 1), html.EscapeString(s.String()))
	arrow := 3 * size
	fmt.Fprintf(w, `<path d="M0 %[1]sh%[2]sm%[3]s %[3]sl%[4]s %[4]sl%[3]s %[4]s" fill="none" stroke="#b4581b" stroke-width="3"/>`+"\n", decimals(1.5*size, 1), decimals(arrow, 1), decimals(-size/2, 1), decimals(size/2, 1))
	fmt.Fprintf(w, `<text x="%s" y="%s" fill="#b4581b">grain, along the length of %s x %s</text>`+"\n", decimals(arrow+size, 1), decimals(1.8*size, 1), measure.InchText(length, 1), measure.InchText(width, 1))
	w.WriteString("</svg>\n")
}

// svgPath writes a path with its arcs kept as arcs.
func svgPath(p outline.Path) string {
	var b strings.Builder
	for i, s := range p.Segments() {
		if i == 0 {
			fmt.Fprintf(&b, "M%s %s", decimals(s.A.X, 2), decimals(-s.A.Y, 2))
		}
		if s.IsLine() {
			fmt.Fprintf(&b, "L%s %s", decimals(s.B.X, 2), decimals(-s.B.Y, 2))
			continue
		}
		large, sweep := 0, 0
		if math.Abs(s.Bulge) > 1 {
			large = 1
		}
		if s.Bulge < 0 { // clockwise, which y turned down makes the positive way
			sweep = 1
		}
		fmt.Fprintf(&b, "A%[1]s %[1]s 0 %[2]d %[3]d %[4]s %[5]s", decimals(s.Radius(), 3), large, sweep, decimals(s.B.X, 2), decimals(-s.B.Y, 2))
	}
	if p.Closed {
		b.WriteByte('Z')
	}
	return b.String()
}
