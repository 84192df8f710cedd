package paper

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// A surface is what a facet belongs to.
type surface uint8

const (
	markingFace surface = iota
	farFace
	cutFace // the cut edge, as thick as the sheet
)

// A facet is a flat piece of a folded part: loops in one plane, those inside
// others being holes.
type facet struct {
	loops  [][]r3.Vec
	normal r3.Vec // unit, out of the metal
	off    float64
	of     surface
}

// newFacet makes a facet of its loops, the first of which bounds it. It reports
// false where they span no area.
func newFacet(loops ...[]r3.Vec) (facet, bool) {
	// The area vector of a loop is half the sum of the cross products of its sides
	// (Newell); it points to where corners run counter-clockwise.
	var n r3.Vec
	outer := loops[0]
	for i, a := range outer {
		n = r3.Add(n, r3.Cross(r3.Sub(a, outer[0]), r3.Sub(outer[(i+1)%len(outer)], outer[0])))
	}
	if !(r3.Norm(n) > 1e-9) {
		return facet{}, false
	}
	n = r3.Unit(n)
	var mid r3.Vec
	for _, p := range outer {
		mid = r3.Add(mid, p)
	}
	return facet{loops: loops, normal: n, off: r3.Dot(n, mid) / float64(len(outer))}, true
}

// thick is how far a corner may stand off a plane and still count as in it, mm.
const thick = 1e-4

// split parts a facet by the plane of another. Either half may be empty.
func (f facet) split(by facet) (front, back facet, coplanar bool) {
	ahead, behind := false, false
	for _, loop := range f.loops {
		for _, p := range loop {
			d := r3.Dot(by.normal, p) - by.off
			ahead, behind = ahead || d > thick, behind || d < -thick
		}
	}
	switch {
	case !ahead && !behind:
		return facet{}, facet{}, true
	case !behind:
		return f, facet{}, false
	case !ahead:
		return facet{}, f, false
	}
	front, back = f, f
	front.loops, back.loops = nil, nil
	for _, loop := range f.loops {
		if half := clipLoop(loop, by, 1); len(half) > 2 {
			front.loops = append(front.loops, half)
		}
		if half := clipLoop(loop, by, -1); len(half) > 2 {
			back.loops = append(back.loops, half)
		}
	}
	return front, back, false
}

// clipLoop keeps the part of a loop on one side of a plane. A loop that is not
// convex keeps seams along the plane; they enclose nothing.
func clipLoop(loop []r3.Vec, by facet, side float64) []r3.Vec {
	var kept []r3.Vec
	for i, p := range loop {
		q := loop[(i+1)%len(loop)]
		dp, dq := side*(r3.Dot(by.normal, p)-by.off), side*(r3.Dot(by.normal, q)-by.off)
		if dp >= 0 {
			kept = append(kept, p)
		}
		if (dp >= 0) != (dq >= 0) {
			kept = append(kept, r3.Add(p, r3.Scale(dp/(dp-dq), r3.Sub(q, p))))
		}
	}
	return kept
}

// backToFront orders facets so that each hides only those before it, cutting
// those that stand through one another: a binary space partition, walked from the
// far side of each plane. Toward is the direction to the viewer.
func backToFront(facets []facet, toward r3.Vec) []facet {
	return inOrder(slices.Clone(facets), toward, make([]facet, 0, 2*len(facets)))
}

// inOrder adds facets to those behind them. It uses up the list: of a surface that is round, all the
// others lie behind any of its facets, and stay where they are.
func inOrder(facets []facet, toward r3.Vec, ordered []facet) []facet {
	if len(facets) == 0 {
		return ordered
	}
	by, rest := facets[0], facets[1:]
	back := facets[:0]
	var front []facet
	here := []facet{by}
	for _, f := range rest {
		a, b, coplanar := f.split(by)
		if coplanar {
			here = append(here, f)
			continue
		}
		if len(a.loops) > 0 {
			front = append(front, a)
		}
		if len(b.loops) > 0 {
			back = append(back, b)
		}
	}
	if r3.Dot(by.normal, toward) < 0 {
		front, back = back, front
	}
	ordered = append(inOrder(back, toward, ordered), here...)
	return inOrder(front, toward, ordered)
}

// A view looks at a solid from far off.
type view struct{ right, up, toward r3.Vec }

// lookFrom makes the view from a direction, z upright.
func lookFrom(toward r3.Vec) view {
	t := r3.Unit(toward)
	right := r3.Unit(r3.Cross(r3.Vec{Z: 1}, t))
	return view{right, r3.Cross(t, right), t}
}

func (v view) project(p r3.Vec) r2.Vec { return r2.Vec{X: r3.Dot(v.right, p), Y: r3.Dot(v.up, p)} }

// A screen is a facet that is turned to the viewer as it is seen, to ask whether it
// hides a point.
type screen struct {
	loops [][]r2.Vec
	box   r2.Box
	facet facet
}

func (v view) screens(facets []facet) []screen {
	var all []screen
	for _, f := range facets {
		s := screen{facet: f}
		s.box = r2.Box{Min: r2.Vec{X: math.Inf(1), Y: math.Inf(1)}, Max: r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)}}
		for _, loop := range f.loops {
			flat := make([]r2.Vec, len(loop))
			for i, p := range loop {
				flat[i] = v.project(p)
				s.box.Min = r2.Vec{X: min(s.box.Min.X, flat[i].X), Y: min(s.box.Min.Y, flat[i].Y)}
				s.box.Max = r2.Vec{X: max(s.box.Max.X, flat[i].X), Y: max(s.box.Max.Y, flat[i].Y)}
			}
			s.loops = append(s.loops, flat)
		}
		all = append(all, s)
	}
	return all
}

// before tells how deep behind the facet's plane a point lies that is seen at q, mm;
// nothing where the facet does not cover it.
func (s *screen) before(p r3.Vec, q r2.Vec) float64 {
	if q.X < s.box.Min.X || q.X > s.box.Max.X || q.Y < s.box.Min.Y || q.Y > s.box.Max.Y {
		return 0
	}
	deep := s.facet.off - r3.Dot(s.facet.normal, p)
	if deep <= 0 {
		return 0
	}
	in := false
	for _, loop := range s.loops {
		in = in != within(q, loop)
	}
	if !in {
		return 0
	}
	return deep
}

// within reports whether a point lies in a polygon, to the precision of a picture: a
// ray to the right of it crosses an odd number of sides.
func within(q r2.Vec, polygon []r2.Vec) bool {
	in := false
	a := polygon[len(polygon)-1]
	for _, b := range polygon {
		if (a.Y > q.Y) != (b.Y > q.Y) && q.X < a.X+(q.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
		a = b
	}
	return in
}
