package dxfout

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
)

// Layers declares the layers of a drawing, each with a colour of its own.
func Layers() []Layer {
	colors := [...]uint8{
		drawing.Cut: 7, drawing.Hole: 4, drawing.BendTangent: 3, drawing.BendCenter: 2, drawing.Sight: 6,
		drawing.Mold: 8, drawing.Rivet: 5, drawing.Note: 9, drawing.Grain: 30, drawing.Block: 40, drawing.Mark: 200,
	}
	all := drawing.Layers()
	layers := make([]Layer, len(all))
	for i, l := range all {
		layers[i] = Layer{l.String(), colors[l]}
	}
	return layers
}

// Write writes a drawing as a DXF file. Labels and the notes, with the unit and
// the overall size, stand on layer NOTE; dimensions are left to the picture, for
// a cutter has no use for them. Nothing is complete until Write returns nil. It returns the errors
// of [NewWriter], or the first of [Writer.Close].
func Write(w io.Writer, d drawing.Drawing, opt Options) error {
	drawn, some := d.Bounds()
	texts, leaders := letter(d, drawn, opt)
	out, err := NewWriter(w, Sheet{Options: opt, Layers: Layers(), Bounds: bounds(drawn, some, texts, leaders)})
	if err != nil {
		return err
	}
	for _, p := range d.Paths {
		out.Path(p.Layer.String(), p.Path)
	}
	for _, c := range d.Circles {
		out.Circle(c.Layer.String(), c.Center, c.Diameter/2)
	}
	for _, l := range leaders {
		out.Path(drawing.Note.String(), l)
	}
	for _, t := range texts {
		out.Text(drawing.Note.String(), t)
	}
	return out.Close()
}

// A letter of the plain text style, with the space to the next, is about as wide
// as a capital is high.
const letterWidth = 1.0

// letter turns labels and notes into lines of text, and labels set aside into
// leaders too, beside the box of what is drawn. Labels that find no room become notes.
func letter(d drawing.Drawing, box r2.Box, opt Options) (all []Text, leaders []outline.Path) {
	size := box.Size()
	height := min(max(math.Hypot(size.X, size.Y)/120, 1.5), 6)
	at := r2.Vec{X: box.Min.X, Y: box.Min.Y - 3*height}
	labels, long := short(d)
	notes := append(slices.Clone(d.Notes), long...)
	all = make([]Text, 0, 3*len(labels.Labels)+len(notes)+2)
	if finite(box) && len(labels.Labels) > 0 {
		// Lines of lettering stand 1.6 capitals apart.
		font := 1.6 * height / drawing.LineHeight
		laid := labels.Lay(drawing.Style{Size: font, Width: func(s string) float64 {
			return letterWidth * height / font * float64(utf8.RuneCountInString(s))
		}})
		for _, t := range laid.Texts {
			line := strings.TrimSpace(t.Text)
			if line == "" {
				continue
			}
			all = append(all, Text{At: t.Center, Height: height, Turned: math.Atan2(t.Along.Y, t.Along.X), Align: Middle, Text: line})
		}
		leaders = laid.Thin
		notes = append(notes, laid.Left...)
		at.Y = min(at.Y, laid.Bounds.Min.Y-2*height)
	}
	put := func(line string, h float64) {
		for _, piece := range wrap(line, longestLine) {
			all = append(all, Text{At: at, Height: h, Text: piece})
			at.Y -= 1.7 * height
		}
	}
	if d.NotForCutting {
		at.Y -= 1.5 * height
		put(flat.NotForCutting, 2.5*height)
	}
	put(unitNote(d, opt.Unit), height)
	for _, n := range notes {
		put(n, height)
	}
	return all, leaders
}

// finite reports whether a box has a size; what has none is refused by the writer
// and not lettered.
func finite(b r2.Box) bool {
	s := b.Size()
	return s.X <= 2*farthest && s.Y <= 2*farthest && !math.IsNaN(s.X+s.Y)
}

// short is the drawing without dimensions, and with those of its labels that one
// value can hold. The others are returned as they read.
func short(d drawing.Drawing) (kept drawing.Drawing, long []string) {
	labels := make([]drawing.Label, 0, len(d.Labels))
	for _, l := range d.Labels {
		switch text := strings.Join(l.Text, "  "); {
		case encodedLen(text) > longestLine:
			long = append(long, text)
		case strings.TrimSpace(text) != "":
			labels = append(labels, l)
		}
	}
	d.Labels, d.Dimensions = labels, nil
	return d, long
}

// unitNote gives the overall size of what is cut, in the unit of the file, so that
// a reader sees a wrong scale.
func unitNote(d drawing.Drawing, u Unit) string {
	name, places := "MM", 2
	if u == Inch {
		name, places = "INCH", 4
	}
	box, ok := d.Bounds(drawing.Cut, drawing.Hole, drawing.Block)
	if !ok {
		box, _ = d.Bounds()
	}
	size := box.Size()
	return fmt.Sprintf("UNITS %s. OVERALL %.*f X %.*f", name, places, size.X/u.size(), places, size.Y/u.size())
}

// bounds is the box round the geometry, if any, and the lettering.
func bounds(box r2.Box, ok bool, lettering []Text, leaders []outline.Path) r2.Box {
	for _, l := range leaders {
		box = drawing.Join(box, l.Bounds())
	}
	for _, t := range lettering {
		reach := letterWidth * t.Height * float64(len(t.Text)+1)
		sin, cos := math.Sincos(t.Turned)
		from, to := t.At, r2.Add(t.At, r2.Vec{X: reach * cos, Y: reach * sin})
		if t.Align == Middle {
			half := r2.Vec{X: reach / 2 * cos, Y: reach / 2 * sin}
			from, to = r2.Sub(t.At, half), r2.Add(t.At, half)
		}
		for _, p := range []r2.Vec{from, to} {
			lo, hi := r2.Sub(p, r2.Vec{X: t.Height, Y: t.Height}), r2.Add(p, r2.Vec{X: t.Height, Y: t.Height})
			if !ok {
				box, ok = r2.Box{Min: lo, Max: hi}, true
				continue
			}
			box = drawing.Join(box, r2.Box{Min: lo, Max: hi})
		}
	}
	return box
}
