package drawing

import (
	"math"
	"strings"
	"unicode/utf8"

	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// A Style is the lettering a drawing is laid out for. Lengths are mm on the
// blank: on a picture at half size, lettering of 2.5 mm has a Size of 5.
type Style struct {
	Size float64 // of the font
	// Width gives the length of a line lettered at size 1. Nil takes 0.6 for every letter, more than most fonts
	// of engineering lettering need.
	Width func(string) float64
	// Avoid are lines that belong to the page and not to the drawing, such as the
	// joints of its sheets: no label is set on them.
	Avoid []outline.Path
}

// A LaidText is a line of lettering that has found its place.
type LaidText struct {
	Frame
	Layer Layer
	Text  string
}

// A Laid is a drawing's lettering and dimensions, set where nothing overlaps.
type Laid struct {
	Texts  []LaidText
	Lines  []outline.Path // dimension lines with their arrowheads, arcs of angles
	Thin   []outline.Path // extension lines and leaders
	Bounds r2.Box         // of all that, and of the drawing
	// Left are labels and dimensions that found no room.
	Left []string
}

// LineHeight is the height a line of lettering takes up, in sizes of its font.
const LineHeight = 1.25

// Lay finds a place for every label and dimension: labels beside what they name
// and clear of cut lines, holes and one another; the overall size and the rulers
// of stations outside the blank. What finds no room is named in Laid.Left and
// never set on top of something else.
func (d Drawing) Lay(s Style) Laid {
	if s.Width == nil {
		s.Width = func(line string) float64 { return 0.6 * float64(utf8.RuneCountInString(line)) }
	}
	l := layout{d: d, s: s}
	l.laid.Bounds, _ = d.Bounds()
	l.part, _ = d.Bounds(Cut, Hole, Block)
	l.lines = make([][]r2.Vec, 0, len(d.Paths))
	chords := make([]r2.Vec, 0, 4*len(d.Paths)) // of one path after the other
	for _, p := range d.Paths {
		first := len(chords)
		chords = appendChords(chords, p.Path, l.sag())
		chain := chords[first:len(chords):len(chords)]
		switch p.Layer {
		case Cut, Block:
			l.edges = append(l.edges, chain)
			if len(l.blank) == 0 && p.Closed {
				l.blank = chain
			}
		case Mark: // under lettering a cross would not be seen
			l.edges = append(l.edges, chain)
		case BendTangent, BendCenter, Sight, Mold, Grain:
			l.lines = append(l.lines, chain)
		}
	}
	l.taken = make([]Frame, 0, len(d.Circles)+len(d.Labels)+len(d.Dimensions))
	l.laid.Texts = make([]LaidText, 0, 2*len(d.Labels)+len(d.Dimensions))
	for _, c := range d.Circles {
		r := c.Diameter / 2
		l.taken = append(l.taken, Frame{c.Center, r2.Vec{X: 1}, r2.Vec{X: r, Y: r}})
	}
	for _, p := range s.Avoid {
		l.edges = append(l.edges, Chords(p, l.sag()))
	}
	l.rulers()
	for _, p := range l.laid.Lines {
		l.edges = append(l.edges, Chords(p, l.sag()))
	}
	l.labels()
	l.corners()
	return l.laid
}

// A layout is a drawing while its lettering is set.
type layout struct {
	d     Drawing
	s     Style
	laid  Laid
	part  r2.Box     // what is cut
	blank []r2.Vec   // its outer edge
	edges [][]r2.Vec // cut lines
	lines [][]r2.Vec // other lines, which lettering avoids if it can
	taken []Frame    // no lettering here
}

// frame is the box of lines of text about a centre.
func (l *layout) frame(lines []string, center, along r2.Vec) Frame {
	width := 0.0
	for _, t := range lines {
		width = max(width, l.s.Width(t))
	}
	return Frame{center, along, r2.Vec{X: width * l.s.Size / 2, Y: float64(len(lines)) * LineHeight * l.s.Size / 2}}
}

// set letters lines in a frame made for them, and takes the room.
func (l *layout) set(layer Layer, lines []string, f Frame) {
	l.taken = append(l.taken, f)
	top := (float64(len(lines)) - 1) / 2
	for i, t := range lines {
		drop := (top - float64(i)) * LineHeight * l.s.Size
		line := l.frame([]string{t}, r2.Add(f.Center, r2.Scale(drop, f.across())), f.Along)
		l.laid.Texts = append(l.laid.Texts, LaidText{line, layer, t})
	}
	for _, c := range f.Corners() {
		l.laid.Bounds = Join(l.laid.Bounds, r2.Box{Min: c, Max: c})
	}
}

// free reports whether a frame is clear of lettering, holes and cut lines, and of
// the other lines too where strict.
func (l *layout) free(f Frame, strict bool) bool {
	for _, t := range l.taken {
		if f.Overlaps(t) {
			return false
		}
	}
	f = f.grown(l.sag())
	return !crossed(f, l.edges) && !(strict && crossed(f, l.lines))
}

// sag is how far an arc may lie from the chords that stand for it: what lettering keeps
// off lines, so that it keeps off the arcs.
func (l *layout) sag() float64 { return l.s.Size / 50 }

// crossed reports whether a line of the chains runs through a frame.
func crossed(f Frame, chains [][]r2.Vec) bool {
	reach := r2.Vec{X: f.reach(r2.Vec{X: 1}), Y: f.reach(r2.Vec{Y: 1})}
	lo, hi := r2.Sub(f.Center, reach), r2.Add(f.Center, reach)
	for _, chain := range chains {
		for i, a := range chain {
			next := i + 1
			if next == len(chain) {
				if len(chain) < 3 {
					break
				}
				next = 0
			}
			b := chain[next]
			if max(a.X, b.X) < lo.X || min(a.X, b.X) > hi.X || max(a.Y, b.Y) < lo.Y || min(a.Y, b.Y) > hi.Y {
				continue
			}
			if f.meets(a, b) {
				return true
			}
		}
	}
	return false
}

func (l *layout) labels() {
	for _, label := range l.d.Labels {
		ways := arrangements(label.Text)
		if !l.inRoom(label, ways) && !l.beside(label, ways) {
			l.laid.Left = append(l.laid.Left, strings.Join(label.Text, " "))
		}
	}
}

// arrangements are the ways of breaking a label into lines, shortest stack first.
func arrangements(text []string) [][]string {
	all := append(make([][]string, 0, 3), []string{strings.Join(text, "  ")})
	if len(text) > 2 {
		all = append(all, []string{strings.Join(text[:2], "  "), strings.Join(text[2:], "  ")})
	}
	if len(text) > 1 {
		all = append(all, text)
	}
	return all
}

// readable turns a direction so that it reads from the left or from below.
func readable(v r2.Vec) r2.Vec {
	if n := r2.Norm(v); !(n > 0) || math.IsInf(n, 0) {
		return r2.Vec{X: 1}
	}
	v = r2.Unit(v)
	if v.X < -1e-9 || math.Abs(v.X) <= 1e-9 && v.Y < 0 {
		return r2.Scale(-1, v)
	}
	return v
}

// inRoom sets a label in the area it belongs to.
func (l *layout) inRoom(label Label, ways [][]string) bool {
	if len(label.Room) < 3 {
		return false
	}
	along := readable(label.Along)
	across := r2.Vec{X: -along.Y, Y: along.X}
	room := outline.Polygon(label.Room...)
	length := 0.0
	for _, p := range label.Room {
		length = max(length, math.Abs(r2.Dot(r2.Sub(p, label.At), along)))
	}
	for _, strict := range []bool{true, false} {
		for _, lines := range ways {
			for _, t := range []float64{0, -0.25, 0.25, -0.5, 0.5, -0.7, 0.7} {
				for _, drop := range []float64{0, -0.6, 0.6, -1.2, 1.2} {
					at := r2.Add(label.At, r2.Add(r2.Scale(t*length, along), r2.Scale(drop*l.s.Size, across)))
					f := l.frame(lines, at, along)
					if f.grown(l.s.Size*0.2).within(room) && l.free(f, strict) {
						l.set(label.Layer, lines, f)
						return true
					}
				}
			}
		}
	}
	return false
}

// beside sets a label near what it names, on a leader where it had to go far.
func (l *layout) beside(label Label, ways [][]string) bool {
	u := l.s.Size
	along := r2.Vec{X: 1}
	if label.Room == nil {
		along = readable(label.Along)
	}
	across := r2.Vec{X: -along.Y, Y: along.X}
	var round [24]r2.Vec // the places of a ring: parts along and across
	for k := range round {
		round[k].Y, round[k].X = math.Sincos(float64(k) * math.Pi / 12)
	}
	for _, strict := range []bool{true, false} {
		for ring := 1.0; ring <= 14; ring++ {
			for _, lines := range ways {
				half := l.frame(lines, r2.Vec{}, along).Half
				for _, at := range round {
					out := r2.Add(r2.Scale(at.X*(half.X+ring*u), along), r2.Scale(at.Y*(half.Y+ring*u), across))
					f := l.frame(lines, r2.Add(label.At, out), along)
					if !l.free(f.grown(0.2*u), strict) {
						continue
					}
					end := nearest(f, label.At)
					if ring > 2 && l.throughText(label.At, end) {
						continue
					}
					l.set(label.Layer, lines, f)
					if ring > 2 {
						l.laid.Thin = append(l.laid.Thin, outline.Polyline(end, label.At))
					}
					return true
				}
			}
		}
	}
	return false
}

// nearest is the middle of the side of a box that looks toward a point.
func nearest(f Frame, p r2.Vec) r2.Vec {
	best := f.Center
	for _, v := range []r2.Vec{
		r2.Scale(f.Half.X, f.Along), r2.Scale(-f.Half.X, f.Along),
		r2.Scale(f.Half.Y, f.across()), r2.Scale(-f.Half.Y, f.across()),
	} {
		if side := r2.Add(f.Center, v); r2.Norm(r2.Sub(side, p)) < r2.Norm(r2.Sub(best, p)) {
			best = side
		}
	}
	return best
}

// throughText reports whether a chain of lines runs through lettering.
func (l *layout) throughText(chain ...r2.Vec) bool {
	for _, t := range l.laid.Texts {
		f := t.grown(l.sag())
		for i := 1; i < len(chain); i++ {
			if f.meets(chain[i-1], chain[i]) {
				return true
			}
		}
	}
	return false
}

// corners sets the angles of the web, each inside its corner on an arc.
func (l *layout) corners() {
	u := l.s.Size
	blank := outline.Polygon(l.blank...)
	for _, m := range l.d.Dimensions {
		if m.Kind != Corner {
			continue
		}
		text, from, sweep := m.corner()
		if !(sweep > 0) {
			continue
		}
		placed := false
		// The arc leaves the sides room for that of the next corner.
		most := min(14*u, 0.45*min(r2.Norm(r2.Sub(m.To, m.From)), r2.Norm(r2.Sub(m.Other, m.From))))
		for _, strict := range []bool{true, false} {
			for r := 4 * u; r <= most && !placed; r += u {
				sin, cos := math.Sincos(from + sweep/2)
				out := r2.Vec{X: cos, Y: sin}
				f := l.frame([]string{text}, r2.Vec{}, r2.Vec{X: 1})
				f.Center = r2.Add(m.From, r2.Scale(r+f.reach(out)+0.3*u, out))
				if !l.free(f.grown(0.15*u), strict) || blank.Side(f.Center) != outline.Inside {
					continue
				}
				arc := arcOf(m.From, r, from, sweep)
				chords := Chords(arc, l.sag())
				if l.throughText(chords...) {
					continue
				}
				l.set(Note, []string{text}, f)
				l.laid.Lines = append(l.laid.Lines, arc)
				l.edges = append(l.edges, chords)
				placed = true
			}
		}
		if placed {
			continue
		}
		if square := math.Abs(sweep-math.Pi/2) < 1e-6; square {
			l.square(m, min(1.2*u, most))
			continue
		}
		l.laid.Left = append(l.laid.Left, "corner "+text)
	}
}

// square marks a right angle that has no room for its number: by two short lines.
func (l *layout) square(m Dimension, side float64) {
	a := r2.Scale(side, r2.Unit(r2.Sub(m.To, m.From)))
	b := r2.Scale(side, r2.Unit(r2.Sub(m.Other, m.From)))
	sign := []r2.Vec{r2.Add(m.From, a), r2.Add(m.From, r2.Add(a, b)), r2.Add(m.From, b)}
	if l.throughText(sign...) {
		return // lettering there; an angle that is not told is square
	}
	l.laid.Lines = append(l.laid.Lines, outline.Polyline(sign...))
	l.edges = append(l.edges, sign)
}

// corner gives the inside angle at From counter-clockwise from To to Other.
func (m Dimension) corner() (text string, from, sweep float64) {
	a, b := r2.Sub(m.To, m.From), r2.Sub(m.Other, m.From)
	from = math.Atan2(a.Y, a.X)
	sweep = math.Mod(math.Atan2(b.Y, b.X)-from+4*math.Pi, 2*math.Pi)
	return measure.Fixed(sweep*180/math.Pi, 2) + "°", from, sweep
}

func arcOf(center r2.Vec, r, from, sweep float64) outline.Path {
	point := func(t float64) r2.Vec {
		sin, cos := math.Sincos(t)
		return r2.Add(center, r2.Vec{X: r * cos, Y: r * sin})
	}
	return outline.Path{Vertices: []outline.Vertex{
		{P: point(from), Bulge: math.Tan(sweep / 8)},
		{P: point(from + sweep/2), Bulge: math.Tan(sweep / 8)},
		{P: point(from + sweep)},
	}}
}
