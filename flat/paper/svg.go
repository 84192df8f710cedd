package paper

import (
	"bufio"
	"encoding/xml"
	"fmt"
	"image/color"
	"io"
	"math"
	"strconv"

	"github.com/hangarflat/hangarflat/flat/outline"
)

// svg is a canvas that writes scalable vector graphics: millimetres, true arcs, a
// group for each layer.
type svg struct {
	w    *bufio.Writer
	open bool
	room [32]byte // a number is spelled here before it is written
}

func newSVG(w io.Writer, width, height float64, title string) *svg {
	s := &svg{w: bufio.NewWriter(w)}
	fmt.Fprintf(s.w, `<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %s %s" font-family="Go, 'DejaVu Sans', Verdana, sans-serif" stroke-linecap="round" stroke-linejoin="round">`+"\n",
		short(width), short(height), short(width), short(height))
	s.w.WriteString("<title>")
	s.escape(title)
	s.w.WriteString("</title>\n")
	return s
}

// close ends the file and returns the first error of the writer below.
func (s *svg) close() error {
	s.endLayer()
	s.w.WriteString("</svg>\n")
	return s.w.Flush()
}

func (s *svg) endLayer() {
	if s.open {
		s.w.WriteString("</g>\n")
		s.open = false
	}
}

func (s *svg) layer(name string) {
	s.endLayer()
	s.w.WriteString(`<g id="`)
	s.escape(name)
	s.w.WriteString("\">\n")
	s.open = true
}

// escape writes text that cannot leave its place. What is no character of XML
// becomes the replacement character.
func (s *svg) escape(t string) { xml.EscapeText(s.w, []byte(t)) } //nolint:errcheck // the writer keeps its first error

func (s *svg) shape(loops []outline.Path, k ink) {
	s.w.WriteString(`<path d="`)
	for _, p := range loops {
		for i, seg := range p.Segments() {
			if i == 0 {
				s.numbers('M', seg.A.X, seg.A.Y)
			}
			s.segment(seg)
		}
		if p.Closed {
			s.w.WriteByte('Z')
		}
	}
	s.w.WriteByte('"')
	s.paint("fill", k.fill)
	if k.fill.A > 0 {
		s.w.WriteString(` fill-rule="evenodd"`)
	}
	if k.stroke.A > 0 {
		s.paint("stroke", k.stroke)
		fmt.Fprintf(s.w, ` stroke-width="%s"`, short(k.width))
		for i, d := range k.dash {
			if i == 0 {
				s.w.WriteString(` stroke-dasharray="` + short(d))
			} else {
				s.w.WriteString(" " + short(d))
			}
		}
		if len(k.dash) > 0 {
			s.w.WriteByte('"')
		}
	}
	s.w.WriteString("/>\n")
}

func (s *svg) segment(seg outline.Segment) {
	if seg.IsLine() {
		s.numbers('L', seg.B.X, seg.B.Y)
		return
	}
	if math.Abs(seg.Bulge) > 1 {
		// Beyond a half circle in two pieces: an arc that nearly closes is not
		// settled by its end points.
		a, b := seg.Split(0.5)
		s.segment(a)
		s.segment(b)
		return
	}
	sweep := 0
	if seg.Bulge > 0 { // y runs down: counter-clockwise in numbers is clockwise to the eye
		sweep = 1
	}
	r := seg.Radius()
	s.numbers('A', r, r, 0, 0, float64(sweep), seg.B.X, seg.B.Y)
}

// numbers writes a letter of a path and the numbers it goes with, a space between two.
func (s *svg) numbers(letter byte, list ...float64) {
	for i, x := range list {
		if i > 0 {
			letter = ' '
		}
		s.w.WriteByte(letter)
		s.w.Write(appendShort(s.room[:0], x))
	}
}

func (s *svg) text(t lettering) {
	fmt.Fprintf(s.w, `<text x="%s" y="%s" font-size="%s"`, short(t.at.X), short(t.at.Y), short(t.size))
	s.paint("fill", t.color)
	switch t.anchor {
	case atMiddle:
		s.w.WriteString(` text-anchor="middle"`)
	case atEnd:
		s.w.WriteString(` text-anchor="end"`)
	}
	if t.bold {
		s.w.WriteString(` font-weight="bold"`)
	}
	if t.turned != 0 {
		fmt.Fprintf(s.w, ` transform="rotate(%s %s %s)"`, short(-t.turned*180/math.Pi), short(t.at.X), short(t.at.Y))
	}
	s.w.WriteByte('>')
	s.escape(t.text)
	s.w.WriteString("</text>\n")
}

func (s *svg) paint(what string, c color.NRGBA) {
	if c.A == 0 {
		fmt.Fprintf(s.w, ` %s="none"`, what)
		return
	}
	const hex = "0123456789abcdef"
	s.w.WriteByte(' ')
	s.w.WriteString(what)
	s.w.WriteString(`="#`)
	for _, x := range [3]uint8{c.R, c.G, c.B} {
		s.w.WriteByte(hex[x>>4])
		s.w.WriteByte(hex[x&15])
	}
	s.w.WriteByte('"')
	if c.A < 255 {
		fmt.Fprintf(s.w, ` %s-opacity="%s"`, what, strconv.FormatFloat(float64(c.A)/255, 'f', 2, 64))
	}
}

// short prints a length of a picture to a ten-thousandth of a millimetre.
func short(x float64) string { return string(appendShort(nil, x)) }

func appendShort(b []byte, x float64) []byte {
	start := len(b)
	b = strconv.AppendFloat(b, x, 'f', 4, 64)
	for b[len(b)-1] == '0' {
		b = b[:len(b)-1]
	}
	if b[len(b)-1] == '.' {
		b = b[:len(b)-1]
	}
	if string(b[start:]) == "-0" {
		return append(b[:start], '0')
	}
	return b
}
