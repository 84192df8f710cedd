package main

import (
	"fmt"
	"html"
	"io"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/material/measure"
)

// A page is a sheet of A4 across, in mm from its upper left corner, drawn alike as SVG
// and as PDF.
type page struct {
	boxes []box
	words []word
}

type box struct {
	x, y, w, h float64
	shaded     bool
}

type word struct {
	x, y, size float64 // y of the base line, size in mm
	bold       bool
	middle     bool // x is the middle of the word
	text       string
}

const (
	pageWide, pageHigh = 297.0, 210.0
	margin             = 12.0
	headHigh           = 22.0
	cellHigh           = 10.5
	sideWide           = 15.0

	// hair, mm: 3/16 in is to print as .188 whatever its last bit, as the trade has it.
	hair = 1e-9
)

// page lays the chart out on a sheet.
func (ch chart) page() page {
	var p page
	p.words = append(p.words, word{margin, 17, 5.5, true, false, ch.title})
	wide := (pageWide - 2*margin - sideWide) / float64(len(ch.radii))
	x := func(i int) float64 { return margin + sideWide + float64(i)*wide }
	y := func(i int) float64 { return headHigh + cellHigh*float64(i+1) }
	p.cell(margin, headHigh, sideWide, false, true, "T \\ R", "in")
	for i, r := range ch.radii {
		p.cell(x(i), headHigh, wide, false, true, radiusText(r), strings.TrimSuffix(measure.InchText(r+hair, 3), " in"))
	}
	for i, t := range ch.thicknesses {
		p.cell(margin, y(i), sideWide, false, true, strings.TrimSuffix(measure.InchText(t, 3), " in"), measure.MmText(t+hair, 2))
		for j, c := range ch.cells[i] {
			upper, lower := c.figures()
			p.cell(x(j), y(i), wide, c.sharp || c.none != "", false, strings.TrimSpace(upper), lower)
		}
	}
	for i, line := range append(ch.key(), drawing.Cautions()...) {
		p.words = append(p.words, word{margin, y(len(ch.thicknesses)) + 5 + 4*float64(i), 2.8, false, false, line})
	}
	return p
}

func (p *page) cell(x, y, wide float64, shaded, bold bool, upper, lower string) {
	p.boxes = append(p.boxes, box{x, y, wide, cellHigh, shaded})
	p.words = append(p.words,
		word{x + wide/2, y + 4.4, 3.1, bold, true, upper},
		word{x + wide/2, y + 8.6, 2.7, false, true, lower})
}

func (p page) svg(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%gmm" height="%gmm" viewBox="0 0 %g %g" font-family="Helvetica, Arial, sans-serif">`+"\n", pageWide, pageHigh, pageWide, pageHigh)
	b.WriteString(`<rect width="100%" height="100%" fill="#ffffff"/>` + "\n")
	for _, r := range p.boxes {
		fill := "none"
		if r.shaded {
			fill = "#e4e4e4"
		}
		fmt.Fprintf(&b, `<rect x="%.2f" y="%.2f" width="%.2f" height="%.2f" fill="%s" stroke="#555555" stroke-width="0.2"/>`+"\n", r.x, r.y, r.w, r.h, fill)
	}
	for _, t := range p.words {
		weight, anchor := "normal", "start"
		if t.bold {
			weight = "bold"
		}
		if t.middle {
			anchor = "middle"
		}
		fmt.Fprintf(&b, `<text x="%.2f" y="%.2f" font-size="%g" font-weight="%s" text-anchor="%s">%s</text>`+"\n", t.x, t.y, t.size, weight, anchor, html.EscapeString(t.text))
	}
	b.WriteString("</svg>\n")
	_, err := io.WriteString(w, b.String())
	return err
}

func (p page) pdf(w io.Writer) error {
	f := fpdf.NewCustom(&fpdf.InitType{OrientationStr: "L", UnitStr: "mm", SizeStr: "A4"})
	// The same chart gives the same bytes: no clock, no map order.
	f.SetCatalogSort(true)
	f.SetCreationDate(time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC))
	f.SetModificationDate(time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC))
	f.SetAutoPageBreak(false, 0)
	f.AddPage()
	plain := f.UnicodeTranslatorFromDescriptor("") // Windows' western set, which the built-in fonts have
	f.SetLineWidth(0.2)
	f.SetDrawColor(0x55, 0x55, 0x55)
	f.SetFillColor(0xe4, 0xe4, 0xe4)
	for _, r := range p.boxes {
		style := "D"
		if r.shaded {
			style = "FD"
		}
		f.Rect(r.x, r.y, r.w, r.h, style)
	}
	for _, t := range p.words {
		style := ""
		if t.bold {
			style = "B"
		}
		f.SetFont("Helvetica", style, t.size*72/25.4)
		text := plain(strings.ReplaceAll(t.text, "π", "pi")) // not in that set
		x := t.x
		if t.middle {
			x -= f.GetStringWidth(text) / 2
		}
		f.Text(x, t.y, text)
	}
	return f.Output(w)
}
