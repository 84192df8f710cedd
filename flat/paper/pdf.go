package paper

import (
	"image/color"
	"io"
	"math"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"github.com/hangarflat/hangarflat/flat/outline"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"gonum.org/v1/gonum/spatial/r2"
)

// pdf is a canvas of pages with embedded fonts. Lines and arcs are vectors;
// layers can be switched in a viewer that has them.
type pdf struct {
	f      *fpdf.Fpdf
	layers map[string]int
	open   bool
}

func newPDF(title string) *pdf {
	f := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: 210, Ht: 297}})
	f.SetMargins(0, 0, 0)
	f.SetAutoPageBreak(false, 0)
	f.SetTitle(title, true)
	// The same part gives the same bytes: no clock, no order of maps.
	f.SetCatalogSort(true)
	f.SetCreationDate(time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC))
	f.SetModificationDate(time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC))
	f.AddUTF8FontFromBytes("go", "", goregular.TTF)
	f.AddUTF8FontFromBytes("go", "B", gobold.TTF)
	f.SetLineCapStyle("round")
	f.SetLineJoinStyle("round")
	return &pdf{f: f, layers: map[string]int{}}
}

func (p *pdf) page(width, height float64) {
	p.endLayer()
	// Upright by its own numbers: the library swaps the sides of a landscape sheet.
	p.f.AddPageFormat("P", fpdf.SizeType{Wd: width, Ht: height})
}

func (p *pdf) write(w io.Writer) error {
	p.endLayer()
	return p.f.Output(w)
}

func (p *pdf) endLayer() {
	if p.open {
		p.f.EndLayer()
		p.open = false
	}
}

func (p *pdf) layer(name string) {
	p.endLayer()
	id, known := p.layers[name]
	if !known {
		id = p.f.AddLayer(name, true)
		p.layers[name] = id
	}
	p.f.BeginLayer(id)
	p.open = true
}

func (p *pdf) shape(loops []outline.Path, k ink) {
	style := ""
	if k.stroke.A > 0 {
		p.f.SetDrawColor(int(k.stroke.R), int(k.stroke.G), int(k.stroke.B))
		p.f.SetLineWidth(k.width)
		p.f.SetDashPattern(k.dash, 0)
		style = "D"
	}
	if k.fill.A > 0 {
		p.f.SetFillColor(int(k.fill.R), int(k.fill.G), int(k.fill.B))
		style = "F" + style + "*"
	}
	if style == "" {
		return
	}
	for _, path := range loops {
		for i, s := range path.Segments() {
			if i == 0 {
				p.f.MoveTo(s.A.X, s.A.Y)
			}
			p.segment(s)
		}
		if path.Closed {
			p.f.ClosePath()
		}
	}
	p.f.DrawPath(style)
}

// segment draws a line, or an arc as cubic curves of at most 45°: each leaves the
// circle by less than 5e-6 of its radius, under a thousandth of a millimetre for a
// part of any size that goes on paper.
func (p *pdf) segment(s outline.Segment) {
	if s.IsLine() {
		p.f.LineTo(s.B.X, s.B.Y)
		return
	}
	n := max(1, math.Ceil(math.Abs(s.Sweep().Radians())/(math.Pi/4)-1e-9))
	for k := range int(n) {
		part := s.Between(float64(k)/n, float64(k+1)/n)
		handle := 4.0 / 3 * math.Tan(math.Abs(part.Sweep().Radians())/4) * part.Radius()
		c0 := r2.Add(part.A, r2.Scale(handle, part.Tangent(0)))
		c1 := r2.Sub(part.B, r2.Scale(handle, part.Tangent(1)))
		p.f.CurveBezierCubicTo(c0.X, c0.Y, c1.X, c1.Y, part.B.X, part.B.Y)
	}
}

// pointsPerMm: a point is 1/72 inch.
const pointsPerMm = 72 / 25.4

func (p *pdf) text(t lettering) {
	// The font tables of the library end at 16 bits.
	t.text = strings.Map(func(r rune) rune {
		if r > 0xffff {
			return '?'
		}
		return r
	}, t.text)
	style := ""
	if t.bold {
		style = "B"
	}
	p.f.SetFont("go", style, t.size*pointsPerMm)
	setText(p.f, t.color)
	x := t.at.X
	switch t.anchor {
	case atMiddle:
		x -= p.f.GetStringWidth(t.text) / 2
	case atEnd:
		x -= p.f.GetStringWidth(t.text)
	}
	if t.turned == 0 {
		p.f.Text(x, t.at.Y, t.text)
		return
	}
	p.f.TransformBegin()
	p.f.TransformRotate(t.turned*180/math.Pi, t.at.X, t.at.Y)
	p.f.Text(x, t.at.Y, t.text)
	p.f.TransformEnd()
}

func setText(f *fpdf.Fpdf, c color.NRGBA) { f.SetTextColor(int(c.R), int(c.G), int(c.B)) }
