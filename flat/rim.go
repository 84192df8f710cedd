package flat

import (
	"fmt"
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
			l.blank.Reliefs = append(l.blank.Reliefs, Relieved{prev.name + "/" + s.name, before.leave, 2 * before.radius, before.kind})
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
			way, n := before.roundRelief(&into[start-1], into[start].P)
			into = slices.Insert(into, start, way[:n]...)
		}
		switch {
		case after.joint == slotted:
			l.blank.EndSlots = append(l.blank.EndSlots, after.endSlot(panel, s, next))
			into = after.walkSlot(into, s.flange != nil)
		case after.joint != relieved && (loop || i+1 < len(sides)):
			into = into[:len(into)-1] // the next side starts here
		}
	}
	if loop && corners[0].joint == relieved {
		way, n := corners[0].roundRelief(&into[len(into)-1], into[first].P)
		into = append(into, way[:n]...)
	}
	return into
}

// endSlot tells of the slot between two sides of a panel, one of which is bent.
func (c *corner) endSlot(panel int, before, after *side) EndSlot {
	bent, stops := after, c.enter
	if before.flange != nil {
		bent, stops = before, c.leave
	}
	return EndSlot{
		Flange: bent.bendName(), AtEnd: bent == before, Panel: panel,
		Center: r2.Scale(0.5, r2.Add(stops, c.slot)), Width: r2.Norm(r2.Sub(stops, c.slot)),
	}
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

// drill takes away what the reliefs at its ends take of a side's chain of
// vertices, which starts at the centre of the one and ends at that of the other.
func (l *layout) drill(into []outline.Vertex, start int, before, after *corner, s *side) []outline.Vertex {
	inside := func(c *corner, i int) bool { return c.takes(into[i].P) }
	rimPoint := func(c *corner, in, out int) outline.Vertex {
		return outline.Vertex{P: c.leaves(into[in].P, into[out].P)}
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
	s.where.add("", "", fmt.Sprintf("nothing of the flange is left outside the relief of %s at its corner", mm(2*c.radius)))
}
