package flat

import (
	"fmt"
	"math"
	"slices"

	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
)

// rim walks the boundary of a panel along its sides, out round every flange and
// through every corner, and adds the vertices it passes. corners[i] stands before
// sides[i] and corners[len(sides)] after the last; in a loop the two are one.
func (l *layout) rim(into []outline.Vertex, panel int, sides []side, corners []corner, loop bool) []outline.Vertex {
	first := len(into)
	for i := range sides {
		s, before, after := &sides[i], &corners[i], &corners[i+1]
		prev, next := &sides[(i+len(sides)-1)%len(sides)], &sides[(i+1)%len(sides)]
		start := len(into)
		into = append(into, outline.Vertex{P: before.enter, Bulge: s.between(before.enter, after.leave)})
		if before.joint == relieved {
			l.blank.Reliefs = append(l.blank.Reliefs, Relieved{prev.name + "/" + s.name, before.leave, 2 * before.radius})
		}
		if s.flange != nil {
			into = l.flange(into, panel, s,
				l.end(s, prev, before, -1, s.flange.Start),
				l.end(s, next, after, +1, s.flange.End))
		}
		into = append(into, outline.Vertex{P: after.leave})
		if len(l.faults) > 0 {
			return into
		}
		into = l.drill(into, start, before, after, s)
		if before.joint == relieved && i > 0 {
			into = slices.Insert(into, start, before.roundRelief(&into[start-1], into[start].P))
		}
		switch {
		case after.joint == notched:
			into = after.walkSlot(into, s.flange != nil)
		case after.joint != relieved && (loop || i+1 < len(sides)):
			into = into[:len(into)-1] // the next side starts here
		}
	}
	if loop && corners[0].joint == relieved {
		into = append(into, corners[0].roundRelief(&into[len(into)-1], into[first].P))
	}
	return into
}

// walkSlot goes down into and out of a notch; its bottom is a half circle, run
// clockwise round the slot.
func (c *corner) walkSlot(into []outline.Vertex, bendFirst bool) []outline.Vertex {
	if bendFirst {
		into[len(into)-1].Bulge = -1
		return append(into, outline.Vertex{P: c.slot})
	}
	return append(into, outline.Vertex{P: c.slot, Bulge: -1})
}

// roundRelief runs from the vertex from, on the rim of the relief hole, clockwise
// round the hole toward the point to: it sets the bulge of from and returns the
// vertex half way, so that no arc turns through more than half a circle.
func (c *corner) roundRelief(from *outline.Vertex, to r2.Vec) outline.Vertex {
	p, q := r2.Sub(from.P, c.leave), r2.Sub(to, c.leave)
	sweep := math.Atan2(r2.Cross(p, q), r2.Dot(p, q))
	if sweep >= 0 {
		sweep -= 2 * math.Pi
	}
	from.Bulge = math.Tan(sweep / 8)
	half := r2.Rotate(p, sweep/2, r2.Vec{})
	return outline.Vertex{P: r2.Add(c.leave, half), Bulge: from.Bulge}
}

// drill takes away what the relief holes at its ends take of a side's chain of
// vertices, which starts at the centre of the one and ends at that of the other.
func (l *layout) drill(into []outline.Vertex, start int, before, after *corner, s *side) []outline.Vertex {
	inside := func(c *corner, i int) bool { return r2.Norm(r2.Sub(into[i].P, c.leave)) < c.radius }
	rimPoint := func(c *corner, in, out int) outline.Vertex {
		return outline.Vertex{P: onCircle(into[in].P, into[out].P, c.leave, c.radius)}
	}
	if before.joint == relieved {
		last := len(into) - 2
		for last >= start && (!inside(before, last) || inside(before, last+1)) {
			last--
		}
		if last < start {
			l.swallowed(s, before)
			return into
		}
		into[last] = rimPoint(before, last, last+1)
		into = slices.Delete(into, start, last)
	}
	if after.joint == relieved {
		in := start + 1
		for in < len(into) && (!inside(after, in) || inside(after, in-1)) {
			in++
		}
		if in == len(into) {
			l.swallowed(s, after)
			return into
		}
		into[in] = rimPoint(after, in, in-1)
		into = into[:in+1]
	}
	return into
}

func (l *layout) swallowed(s *side, c *corner) {
	s.where.add("", "", fmt.Sprintf("nothing of the flange is left outside the relief hole of %s at its corner", mm(2*c.radius)))
}

// onCircle is where the line from a point inside a circle to one outside crosses it.
func onCircle(in, out, center r2.Vec, radius float64) r2.Vec {
	d, m := r2.Sub(out, in), r2.Sub(in, center)
	a, b, c := r2.Norm2(d), r2.Dot(m, d), r2.Norm2(m)-radius*radius
	t := (-b + math.Sqrt(max(0, b*b-a*c))) / a
	return r2.Add(in, r2.Scale(t, d))
}
