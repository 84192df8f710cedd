package dxfout

import (
	"fmt"
	"io"
	"math"
	"slices"

	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
)

// A Writer streams outlines, circles and text into a DXF file. Make one with
// [NewWriter] and end the file with [Writer.Close], which returns the first error
// met; after an error nothing more is written.
type Writer struct {
	tags
	opt    Options
	scale  float64 // file units in a mm
	layers map[string]bool
	layer  string // declared, and drawn on last
	owner  []byte // tags of every R2000 entity between its handle and its layer
	drawn  r2.Box // the sheet's bounds and a little room, mm
	next   uint64 // handle
	count  int    // entities so far
	verts  []vertex
	closed bool
}

// vertex is a rounded vertex of a polyline.
type vertex struct {
	at    gridPoint
	bulge float64
}

// NewWriter begins a file. It returns an [*Error] for each fault of the sheet.
func NewWriter(w io.Writer, s Sheet) (*Writer, error) {
	if err := s.validate(); err != nil {
		return nil, err
	}
	d := &Writer{
		tags:   tags{w: w, buf: make([]byte, 0, flushAt+1024)},
		opt:    s.Options,
		scale:  1 / s.Unit.size(),
		layers: make(map[string]bool, len(s.Layers)+1),
		layer:  "0",
		drawn:  s.Bounds,
		next:   firstEntity,
	}
	d.layers["0"] = true
	for _, l := range s.Layers {
		d.layers[l.Name] = true
	}
	const room = 1e-6 // mm: what computing an extreme of an arc two ways may differ by
	d.drawn.Min = r2.Sub(d.drawn.Min, r2.Vec{X: room, Y: room})
	d.drawn.Max = r2.Add(d.drawn.Max, r2.Vec{X: room, Y: room})
	if s.Version == R12 {
		d.headR12(s)
	} else {
		d.headR2000(s)
		d.owner = ownerTags()
	}
	return d, d.err
}

// Err returns the first error met so far.
func (d *Writer) Err() error { return d.err }

// Path draws an outline as one polyline in one piece. A path that is one straight
// line or one arc, open, becomes a LINE or an ARC; one that closes on itself as a
// full circle becomes a CIRCLE.
func (d *Writer) Path(layer string, p outline.Path) {
	if !d.begin("path", layer) {
		return
	}
	if n := len(p.Vertices); n < 2 {
		d.fault("path", layer, "vertices", fmt.Sprint(n), "must be at least 2")
		return
	}
	if !d.round(layer, p) {
		return
	}
	if circle, ok := fullCircle(p); ok {
		d.circle(layer, circle.Center(), circle.Radius())
		return
	}
	if !p.Closed && len(p.Vertices) == 2 {
		if s := p.Segment(0); s.IsLine() {
			d.line(layer, d.grid(s.A), d.grid(s.B))
		} else {
			d.arc(layer, s)
		}
		return
	}
	d.polyline(layer, p.Closed)
}

// Line draws a straight line.
func (d *Writer) Line(layer string, a, b r2.Vec) {
	if !d.begin("line", layer) || !d.inside("line", layer, "start", a) || !d.inside("line", layer, "end", b) {
		return
	}
	from, to := d.grid(a), d.grid(b)
	if from == to {
		d.fault("line", layer, "length", "0", "must be above 0")
		return
	}
	d.line(layer, from, to)
}

// Circle draws a circle of the given radius, mm.
func (d *Writer) Circle(layer string, center r2.Vec, radius float64) {
	if !d.begin("circle", layer) {
		return
	}
	if !(radius > 0 && radius <= farthest) || grid(radius*d.scale) == 0 {
		d.fault("circle", layer, "radius", fmt.Sprint(radius), "must be above 0 mm and within a kilometre")
		return
	}
	rim := r2.Vec{X: radius, Y: radius}
	if d.inside("circle", layer, "rim", r2.Sub(center, rim)) && d.inside("circle", layer, "rim", r2.Add(center, rim)) {
		d.circle(layer, center, radius)
	}
}

// Align says which point of the text stands at its place.
type Align uint8

const (
	Left   Align = iota // start of the base line
	Middle              // middle of the text, both ways
)

// A Text is one line of lettering.
type Text struct {
	At     r2.Vec
	Height float64 // of capitals, mm
	Turned float64 // direction of reading from x, radians, counter-clockwise
	Align  Align
	Text   string
}

// Text letters one line. Control characters become spaces, and what is not plain
// ASCII is written by number; a line of more than 255 bytes after that is refused.
func (d *Writer) Text(layer string, t Text) {
	if !d.begin("text", layer) || !d.inside("text", layer, "place", t.At) {
		return
	}
	line := encode(t.Text)
	switch {
	case !(t.Height > 0 && t.Height <= farthest) || grid(t.Height*d.scale) == 0:
		d.fault("text", layer, "height", fmt.Sprint(t.Height), "must be above 0 mm and within a kilometre")
	case !(math.Abs(t.Turned) <= 2*math.Pi):
		d.fault("text", layer, "angle", fmt.Sprint(t.Turned), "must be within a full turn either way")
	case len(line) > longestLine:
		d.fault("text", layer, "length", fmt.Sprint(len(line)), "must be at most 255 bytes")
	case line == "":
		d.fault("text", layer, "length", "0", "must say something")
	default:
		d.text(layer, t, line)
	}
}

// Close ends the file and returns the first error met. The file is complete only
// when Close returns nil. It does not close the writer below.
func (d *Writer) Close() error {
	if d.closed {
		return d.err
	}
	d.closed = true
	if d.err == nil {
		d.str(0, "ENDSEC")
		if d.opt.Version == R2000 {
			d.objects()
		}
		d.str(0, "EOF")
		d.flush()
	}
	return d.err
}

// begin counts an entity and reports whether it may be drawn.
func (d *Writer) begin(kind, layer string) bool {
	if d.err != nil {
		return false
	}
	d.count++
	switch {
	case d.closed:
		d.fault(kind, layer, "file", "closed", "nothing may be drawn after Close")
		return false
	case layer == d.layer:
	case !d.layers[layer]:
		d.fault(kind, "", "layer", fmt.Sprintf("%q", layer), "must be declared in the sheet")
		return false
	}
	d.layer = layer
	return true
}

func (d *Writer) fault(kind, layer, field, value, rule string) {
	d.err = &Error{fmt.Sprintf("%s %d", kind, d.count), layer, field, value, rule}
}

// inside reports whether a point, mm, lies in the sheet's bounds.
func (d *Writer) inside(kind, layer, field string, p r2.Vec) bool {
	b := &d.drawn
	if p.X >= b.Min.X && p.X <= b.Max.X && p.Y >= b.Min.Y && p.Y <= b.Max.Y {
		return true
	}
	d.fault(kind, layer, field, fmt.Sprintf("(%g, %g)", p.X, p.Y), "must be finite and inside the bounds of the sheet")
	return false
}

func (d *Writer) grid(p r2.Vec) gridPoint {
	return gridPoint{grid(p.X * d.scale), grid(p.Y * d.scale)}
}

// round puts the path's vertices on the grid, arcs of more than half a circle cut
// in two, and reports whether the path can be drawn.
func (d *Writer) round(layer string, p outline.Path) bool {
	n := len(p.Vertices)
	d.verts = slices.Grow(d.verts[:0], n)
	for i := range p.Vertices {
		v := &p.Vertices[i]
		if !d.inside("path", layer, "vertex", v.P) {
			return false
		}
		bulge := v.Bulge
		if i == n-1 && !p.Closed {
			bulge = 0
		}
		if bulge == 0 {
			d.verts = append(d.verts, vertex{d.grid(v.P), 0})
			continue
		}
		if !(math.Abs(bulge) <= largestBulge) {
			d.fault("path", layer, fmt.Sprintf("vertex %d bulge", i), fmt.Sprint(bulge), "must be finite and below 1e6")
			return false
		}
		if !d.roundArc(layer, p.Segment(i)) {
			return false
		}
	}
	last := len(d.verts) - 1
	for i := range d.verts {
		next := i + 1
		if i == last {
			if !p.Closed {
				break
			}
			next = 0
		}
		if d.verts[i].at == d.verts[next].at {
			d.fault("path", layer, fmt.Sprintf("segment %d length", i), "0", "must be above 0")
			return false
		}
	}
	return true
}

// largestBulge bounds an arc at a full circle less what a cutter could tell.
const largestBulge = 1e6

func (d *Writer) roundArc(layer string, s outline.Segment) bool {
	if !d.surelyInside(s) {
		reach := s.Bounds()
		if !d.inside("path", layer, "arc", reach.Min) || !d.inside("path", layer, "arc", reach.Max) {
			return false
		}
	}
	if math.Abs(s.Bulge) <= 1 {
		d.verts = append(d.verts, vertex{d.grid(s.A), s.Bulge})
		return true
	}
	first, second := s.Split(0.5)
	d.verts = append(d.verts, vertex{d.grid(first.A), first.Bulge}, vertex{d.grid(second.A), second.Bulge})
	return true
}

// surelyInside reports that an arc lies in the sheet's bounds with room to spare: its
// ends do, by more than it rises over its chord. Most arcs do.
func (d *Writer) surelyInside(s outline.Segment) bool {
	rise := math.Abs(s.Bulge) / 2 * (math.Abs(s.B.X-s.A.X) + math.Abs(s.B.Y-s.A.Y))
	b := &d.drawn
	return min(s.A.X, s.B.X)-rise > b.Min.X && max(s.A.X, s.B.X)+rise < b.Max.X &&
		min(s.A.Y, s.B.Y)-rise > b.Min.Y && max(s.A.Y, s.B.Y)+rise < b.Max.Y
}

// fullCircle reports whether a closed path is one circle run round once.
func fullCircle(p outline.Path) (first outline.Segment, ok bool) {
	if !p.Closed {
		return first, false
	}
	for i := range p.Vertices {
		if p.Vertices[i].Bulge == 0 {
			return first, false
		}
	}
	first = p.Segment(0)
	center, radius, sweep := first.Center(), first.Radius(), 0.0
	near := 1e-9 * radius
	for _, s := range p.Segments() {
		if !(math.Abs(s.Radius()-radius) <= near && r2.Norm(r2.Sub(s.Center(), center)) <= near) {
			return first, false
		}
		sweep += s.Sweep().Radians()
	}
	return first, math.Abs(math.Abs(sweep)-2*math.Pi) <= 1e-9
}
