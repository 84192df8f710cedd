package dxfout

import (
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"gonum.org/v1/gonum/spatial/r2"
)

// Layers declares the layers of a drawing, each with a colour of its own.
func Layers() []Layer {
	colors := [...]uint8{
		drawing.Cut: 7, drawing.Hole: 4, drawing.BendTangent: 3, drawing.BendCenter: 2, drawing.Sight: 6,
		drawing.Mold: 8, drawing.Rivet: 5, drawing.Note: 9, drawing.Grain: 30, drawing.Block: 40,
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
// a cutter has no use for them. Nothing is complete until Write returns nil.
func Write(w io.Writer, d drawing.Drawing, opt Options) error {
	lettering := letter(d, opt)
	out, err := NewWriter(w, Sheet{Options: opt, Layers: Layers(), Bounds: bounds(d, lettering)})
	if err != nil {
		return err
	}
	for _, p := range d.Paths {
		out.Path(p.Layer.String(), p.Path)
	}
	for _, c := range d.Circles {
		out.Circle(c.Layer.String(), c.Center, c.Diameter/2)
	}
	for _, t := range lettering {
		out.Text(drawing.Note.String(), t)
	}
	return out.Close()
}

// letter turns labels and notes into lines of text.
func letter(d drawing.Drawing, opt Options) []Text {
	box, _ := d.Bounds()
	size := box.Size()
	height := min(max(math.Hypot(size.X, size.Y)/120, 1.5), 6)
	var all []Text
	for _, l := range d.Labels {
		if l.Room == nil {
			l.At.Y -= 2 * height // below what it names, not across it
		}
		all = append(all, stack(l, lines(l, height), height)...)
	}
	at := r2.Vec{X: box.Min.X, Y: box.Min.Y - 3*height}
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
	for _, n := range d.Notes {
		put(n, height)
	}
	return all
}

// lines sets a label on one line where its room is long enough, else on several.
func lines(l drawing.Label, height float64) []string {
	joined := strings.Join(l.Text, "  ")
	lo, hi := 0.0, 0.0
	for _, p := range l.Room {
		t := r2.Dot(r2.Sub(p, l.At), l.Along)
		lo, hi = min(lo, t), max(hi, t)
	}
	if float64(len(joined))*height < 0.9*(hi-lo) && len(encode(joined)) <= longestLine {
		return []string{joined}
	}
	var all []string
	for _, t := range l.Text {
		all = append(all, wrap(t, longestLine)...)
	}
	return all
}

// stack centres the lines of a label on its place, square to its reading direction.
func stack(l drawing.Label, lines []string, height float64) []Text {
	along := l.Along
	if along == (r2.Vec{}) {
		along = r2.Vec{X: 1}
	}
	up := r2.Vec{X: -along.Y, Y: along.X}
	var all []Text
	for i, line := range lines {
		drop := (float64(len(lines)-1)/2 - float64(i)) * 1.6 * height
		all = append(all, Text{
			At:     r2.Add(l.At, r2.Scale(drop, up)),
			Height: height, Turned: math.Atan2(along.Y, along.X), Align: Middle, Text: line,
		})
	}
	return all
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

// bounds is the box round the geometry and the lettering. A letter of the plain
// text style is about as wide as it is high.
func bounds(d drawing.Drawing, lettering []Text) r2.Box {
	box, ok := d.Bounds()
	for _, t := range lettering {
		reach := t.Height * float64(len(t.Text)+1)
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
