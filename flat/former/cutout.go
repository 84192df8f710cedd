package former

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// A Cutout lets a stringer pass through the outer edge of a former.
type Cutout struct {
	Name string
	// Girth of its middle on the outer contour, mm; below zero it is counted the other
	// way round from the start.
	Girth float64
	// Width of the stringer along the contour, Depth from the mold line in, mm.
	Width, Depth float64
	Clearance    float64 // on both sides and at the bottom, mm
	Radius       float64 // of the two inner corners, mm
	// MarkOnly leaves it uncut and marks it: cut-outs are often filed at fitting.
	MarkOnly bool
}

// slot is a cut-out as cut.
type slot struct {
	Cutout
	at          float64 // girth within the contour
	frame       frame
	half, depth float64
	left, right spot // on the edge of the blank
}

func (c Cutout) half() float64  { return c.Width/2 + c.Clearance }
func (c Cutout) depth() float64 { return c.Depth + c.Clearance }

func (c Cutout) check(field string, around float64, f *faults) {
	before := len(*f)
	f.length(field+" girth", c.Girth, -around, around, "must lie within one round of the contour, "+mm(around))
	f.length(field+" width", c.Width, 0.1, around/4, "of the stringer must be above 0.1 mm and below a quarter of the contour")
	f.length(field+" depth", c.Depth, 0.1, around/4, "of the stringer must be above 0.1 mm and below a quarter of the contour")
	f.length(field+" clearance", c.Clearance, 0, 25, "must be 0 to 25 mm")
	f.length(field+" radius", c.Radius, 0, longest, "a corner radius is 0 or more")
	if len(*f) == before && !(c.Radius <= c.half() && c.Radius <= c.depth()) {
		f.add(field+" radius", mm(c.Radius), fmt.Sprintf("does not fit: half the width is %s and the depth %s, clearance included", mm(c.half()), mm(c.depth())))
	}
}

// GirthToward returns the girth at which a closed contour is met by the ray from a point
// inside it in a direction, counter-clockwise from x: where a cut-out given by its angle
// belongs. A ray that meets the contour more than once takes the nearest. It returns an [*Error]
// for a contour that is not closed and simple, for a place or direction that is not finite, and
// for a ray that meets nothing.
func GirthToward(p outline.Path, from r2.Vec, direction measure.Angle) (float64, error) {
	if err := p.Validate(); err != nil {
		return 0, &Error{"contour", "", err.Error()}
	}
	if !finite(from.X) || !finite(from.Y) || !finite(float64(direction)) {
		return 0, &Error{"direction", direction.Text(4), "a direction needs a finite angle and centre"}
	}
	sin, cos := math.Sincos(float64(direction))
	box := p.Bounds()
	far := r2.Norm(r2.Sub(box.Max, box.Min)) + r2.Norm(r2.Sub(from, box.Min))
	ray := outline.Segment{A: from, B: r2.Add(from, r2.Vec{X: far * cos, Y: far * sin})}
	at, found, nearest := 0.0, false, math.Inf(1)
	run := 0.0
	for _, s := range p.Segments() {
		for _, m := range s.Meet(ray, touching) {
			if m.U < nearest {
				nearest, found = m.U, true
				at = run + m.T*s.Length()
			}
		}
		run += s.Length()
	}
	if !found {
		return 0, &Error{"direction", direction.Text(4), fmt.Sprintf("the ray from (%.2f, %.2f) does not meet the contour: the centre must lie inside", from.X, from.Y)}
	}
	if at >= run {
		at = 0
	}
	return at, nil
}

// slots places the cut-outs on the outer contour, in order of girth.
func (r *Ring) slots() ([]slot, error) {
	c := r.Outer.contour
	list := make([]slot, 0, len(r.Former.Cutouts))
	for _, cut := range r.Former.Cutouts {
		at := c.wrap(cut.Girth)
		list = append(list, slot{Cutout: cut, at: at, frame: c.frame(at), half: cut.half(), depth: cut.depth()})
	}
	sort.SliceStable(list, func(i, j int) bool { return list[i].at < list[j].at })
	var f faults
	for i := range list {
		a, b := &list[i], &list[(i+1)%len(list)]
		gap := b.at - a.at
		if gap < 0 || len(list) > 1 && i == len(list)-1 {
			gap += c.length()
		}
		if len(list) > 1 && !(gap > a.half+b.half) {
			f.add(cutName(a.Cutout, i), mm(a.Girth), fmt.Sprintf("runs into %s at %s", cutName(b.Cutout, i+1), mm(b.Girth)))
		}
		if !a.MarkOnly {
			var ok bool
			if a.left, ok = a.side(r.Outer.edge, -a.half); ok {
				a.right, ok = a.side(r.Outer.edge, a.half)
			}
			if !ok {
				f.add(cutName(a.Cutout, i), mm(a.Width), "its sides do not meet the edge of the blank: the contour turns away under it")
			}
		}
	}
	return list, f.err()
}

func cutName(c Cutout, i int) string {
	if c.Name == "" {
		return fmt.Sprintf("cut-out %d", i+1)
	}
	return fmt.Sprintf("cut-out %q", c.Name)
}

// side is where one side of the slot meets a track, nearest to the mold line and outside the
// round corners.
func (s *slot) side(t track, along float64) (spot, bool) {
	best, found := math.Inf(1), spot{}
	t.near(s.at, 2*math.Abs(along)+1, func(i int) {
		g := t.Segment(i)
		if out, u, ok := square(g, s.frame, along); ok && out >= s.Radius-s.depth && math.Abs(out) < math.Abs(best) {
			best, found = out, spot{i, u, g.At(u)}
		}
	})
	return found, !math.IsInf(best, 1)
}

// takes is the girth that lies within reach of the slot's middle, on the contour and on a line of the blank: in a
// hollow that is the shorter of the two and comes nearer to the slot, whose sides are parallel.
func (s *slot) takes(reach float64, line track, c *contour) span {
	taken := span{s.at - reach, s.at + reach}
	if left, ok := s.side(line, -reach); ok {
		taken.from = min(taken.from, s.at-c.distance(s.at, line.girthOf(left)))
	}
	if right, ok := s.side(line, reach); ok {
		taken.to = max(taken.to, s.at+c.distance(s.at, line.girthOf(right)))
	}
	return taken
}

// square is where the line square to a frame, at a distance along it, meets a segment:
// how far out, and at which fraction of the segment's length. Of two such places it
// takes the one nearest to the frame's own line.
func square(g outline.Segment, f frame, along float64) (out, t float64, ok bool) {
	at := func(p r2.Vec) r2.Vec {
		d := r2.Sub(p, f.p)
		return r2.Vec{X: r2.Dot(d, f.along) - along, Y: r2.Dot(d, f.out)}
	}
	a, b := at(g.A), at(g.B)
	if g.IsLine() {
		if a.X == b.X || a.X*b.X > 0 {
			return 0, 0, false
		}
		t = a.X / (a.X - b.X)
		return a.Y + t*(b.Y-a.Y), t, true
	}
	c, radius := at(g.Center()), g.Radius()
	if !(math.Abs(c.X) <= radius) {
		return 0, 0, false
	}
	rise := math.Sqrt(radius*radius - c.X*c.X)
	sweep := float64(g.Sweep())
	// The frame's axes are left-handed: what turns left on the sheet turns right in them.
	start := math.Atan2(a.Y-c.Y, a.X-c.X)
	for _, y := range [2]float64{c.Y - rise, c.Y + rise} {
		turn := start - math.Atan2(y-c.Y, -c.X)
		if sweep < 0 {
			turn = -turn
		}
		turn -= math.Floor(turn/(2*math.Pi)) * 2 * math.Pi
		u := turn / math.Abs(sweep)
		if u > 1 && (2*math.Pi-turn)*radius < touching {
			u = 0 // a hair before the start
		} else if u > 1 && u-1 < touching/g.Length() {
			u = 1
		}
		if u <= 1 && (!ok || math.Abs(y) < math.Abs(out)) {
			out, t, ok = y, u, true
		}
	}
	return out, t, ok
}

// bottom is the slot's inner end, from its first side to its second: the path of the
// blank goes in, across and out again, turning right at both corners.
func (s *slot) bottom(into []outline.Vertex) []outline.Vertex {
	quarter := -math.Tan(math.Pi / 8)
	h, d, r := s.half, s.depth, s.Radius
	if r == 0 {
		return append(into, outline.Vertex{P: s.frame.at(-h, -d)}, outline.Vertex{P: s.frame.at(h, -d)})
	}
	into = append(into, outline.Vertex{P: s.frame.at(-h, r-d), Bulge: quarter})
	if h-r > outline.Coincidence*h {
		into = append(into, outline.Vertex{P: s.frame.at(r-h, -d)})
	}
	return append(into, outline.Vertex{P: s.frame.at(h-r, -d), Bulge: quarter}, outline.Vertex{P: s.frame.at(h, r-d)})
}

// outlinePath is the slot alone, as it is marked: open at the mold line.
func (s *slot) outlinePath() outline.Path {
	v := append([]outline.Vertex{{P: s.frame.at(-s.half, 0)}}, s.bottom(nil)...)
	return outline.Path{Vertices: append(v, outline.Vertex{P: s.frame.at(s.half, 0)})}
}

// Remembered figures for stringer cut-outs; they warn and refuse nothing.
const (
	leastClearance = 0.03 * measure.Inch
	leastCorner    = 0.12 * measure.Inch
)

// judgeSlots holds the cut-outs against the flange, the web and the rule of thumb.
func (r *Ring) judgeSlots(list []slot) []flat.Finding {
	var out []flat.Finding
	thumb := remembered("shop practice for stringer cut-outs")
	add := func(sev flat.Severity, i int, text string, figure, limit float64) *flat.Finding {
		out = append(out, flat.Finding{Severity: sev, Place: cutName(list[i].Cutout, i), At: list[i].frame.p, Text: text,
			Figure: figure, Limit: limit, Unit: bendLength, Source: thumb})
		return &out[len(out)-1]
	}
	for i := range list {
		s := &list[i]
		if s.Radius < leastCorner {
			add(flat.Warn, i, "corner radius is small: cracks start in sharp corners", s.Radius, leastCorner)
		}
		if s.Clearance < leastClearance {
			add(flat.Note, i, "clearance round the stringer is small", s.Clearance, leastClearance)
		}
		if r.Outer.rim.Flange != nil {
			sb := r.Outer.sectionAt(s.at, 0).Setback
			if s.depth-s.Radius < sb {
				f := add(flat.Warn, i, "its corners end within the bend: cut deeper than the inside tangent line, corner radius and all", s.depth-s.Radius, sb)
				f.Source = practice("cut-outs end clear of the bend, as reliefs do")
			}
		}
		if left, web, ok := r.webLeft(s); ok {
			if left <= 0 {
				f := add(flat.Stop, i, "it cuts the web through", left, 0)
				f.Source = geometry
			} else if left < web/2 {
				f := add(flat.Note, i, "it takes more than half of the web: have the section checked", left, web/2)
				f.Source = practice("depth of cut-outs")
			}
		}
	}
	return gathered(out)
}

// gathered says once what holds of several cut-outs alike.
func gathered(list []flat.Finding) []flat.Finding {
	kept := list[:0]
	var names [][]string
	for _, f := range list {
		alike := slices.IndexFunc(kept, func(k flat.Finding) bool {
			return k.Text == f.Text && k.Severity == f.Severity && math.Abs(k.Figure-f.Figure) < 1e-3 && math.Abs(k.Limit-f.Limit) < 1e-3
		})
		if alike < 0 {
			kept, names = append(kept, f), append(names, []string{f.Place})
			continue
		}
		names[alike] = append(names[alike], f.Place)
	}
	for i, n := range names {
		switch {
		case len(n) > 3:
			kept[i].Place = fmt.Sprintf("%s and %d more", n[0], len(n)-1)
		default:
			kept[i].Place = strings.Join(n, ", ")
		}
	}
	return kept
}

// webLeft is the metal between a slot and the inner tangent line, and the depth of the web
// between its mold lines there.
func (r *Ring) webLeft(s *slot) (left, web float64, ok bool) {
	if r.Inner.contour == nil {
		return 0, 0, false
	}
	t, ok := r.across(s.frame, r.Inner.contour.path)
	if !ok {
		return 0, 0, false
	}
	web = t.depth
	near := 0.0
	if r.Inner.rim.Flange != nil {
		near = r.Inner.sectionAt(t.girth, 0).Setback
	}
	return web - near - s.depth, web, true
}

// A crossing of the web: how far from the outer contour the inner lies, and where.
type webCrossing struct{ depth, girth float64 }

// across looks from a place of the outer contour straight in to the inner.
func (r *Ring) across(f frame, inner outline.Path) (webCrossing, bool) {
	far := r.size
	ray := outline.Segment{A: f.p, B: f.at(0, -far)}
	best := webCrossing{depth: math.Inf(1)}
	run := 0.0
	for i, s := range inner.Segments() {
		if d := s.Distance(f.p); d < best.depth {
			for _, m := range s.Meet(ray, touching) {
				if d := m.U * far; d < best.depth {
					best = webCrossing{d, run + m.T*r.Inner.contour.segments[i].Length()}
				}
			}
		}
		run = r.Inner.contour.from[i+1]
	}
	return best, !math.IsInf(best.depth, 1)
}
