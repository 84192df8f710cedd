package flat

import (
	"fmt"
	"math"

	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// A joint is how the boundary passes from one side of a panel to the next.
type joint uint8

const (
	// plain: no bend ends here.
	plain joint = iota
	// flush: a bend runs out through a plain side, which leads straight on into
	// the end of the flange.
	flush
	// relieved: two bends meet; a relief is cut where their tangent lines cross.
	relieved
	// slotted: a bend ends beside metal that stays flat; a slot with a round
	// bottom parts the two.
	slotted
)

// A corner joins two sides. Of plain, flush and relieved corners leave, slot and
// enter are one point: the corner, or where the tangent lines meet.
type corner struct {
	joint joint
	mold  r2.Vec // where the mold lines meet
	leave r2.Vec // where the side before ends
	slot  r2.Vec // slotted: the other side of the slot, on the tangent line
	enter r2.Vec // where the side after starts

	radius float64 // of the relief hole, or of the slot's round bottom; half the width of a notch
	gap    float64 // between what meets here
	kind   CornerKind
	across [2]r2.Vec // unit, square to the sides of a notch: out of the panel over either bend
}

func (c *corner) place(p r2.Vec) { c.leave, c.slot, c.enter = p, p, p }

// open is the corner at a loose end of a boundary.
func open(p r2.Vec) corner { return corner{joint: plain, mold: p, leave: p, slot: p, enter: p} }

// straightOn is the least turn at which a plain side is followed on into the
// flange beside it. Below it the tangent line would run far under the plain side,
// so a slot is cut instead. 45° worked out from coordinates is still 45°.
const straightOn = 45 * measure.Degree * (1 - 1e-12)

// inLine is the turn, or its sine, below which two sides are pieces of one edge.
const inLine = 1e-9

// corner lays out the joint of two sides that follow each other.
func (l *layout) corner(prev, next *side) corner {
	c := open(next.from)
	c.gap = l.gap
	arrives, leaves := prev.heading(1), next.heading(0)
	turn := measure.Angle(math.Atan2(r2.Cross(arrives, leaves), r2.Dot(arrives, leaves)))
	switch {
	case prev.flange == nil && next.flange == nil:
	case prev.flange != nil && next.flange != nil:
		l.relieve(&c, prev, next, turn)
	case prev.flange != nil:
		if turn >= straightOn {
			l.flush(&c, prev, next)
			break
		}
		c.leave, c.slot, c.enter = l.slot(&c, prev, next, +1, turn)
	default:
		if turn >= straightOn {
			l.flush(&c, next, prev)
			break
		}
		c.enter, c.slot, c.leave = l.slot(&c, next, prev, -1, turn)
	}
	return c
}

// settleRounds is how often the end of a tangent line is placed anew. Where the
// bevel changes along the edge the line is a curve: its place depends on the
// station, which depends on the place. Each round cuts the error by the twist.
func settleRounds(sides ...*side) int {
	for _, s := range sides {
		if s.twist != nil {
			return 8
		}
	}
	return 1
}

// flush runs a bend out through a plain side: the tangent line ends where it
// crosses that side.
func (l *layout) flush(c *corner, bent, flat *side) {
	c.joint = flush
	for range settleRounds(bent) {
		here := bent.frozen(bent.station(c.leave))
		if flat.bulge == 0 {
			c.place(meet(here.near(0), here.along, flat.from, flat.along))
			if along := r2.Dot(r2.Sub(c.leave, flat.from), flat.along); along < 0 || along > flat.length {
				bent.where.add("", "", fmt.Sprintf("its bend starts a setback of %s inside its mold line, and the plain edge beside it is only %s long", measure.Both(here.setback), measure.Both(flat.length)))
				return
			}
			continue
		}
		at, ok := flat.crossedBy(here.near(here.station(c.mold)), here.along, c.mold)
		if !ok {
			bent.where.add("", "", "its tangent line does not cross the curved edge beside it")
			return
		}
		c.place(at)
	}
}

// crossedBy is where a line, given by a point and a direction, crosses the arc of
// a curved side, nearest to a point.
func (s *side) crossedBy(p, along, near r2.Vec) (r2.Vec, bool) {
	arc := s.arc()
	reach := r2.Scale(2*(s.length+arc.Radius()), along)
	line := outline.Segment{A: r2.Sub(p, reach), B: r2.Add(p, reach)}
	best, found := r2.Vec{}, false
	for _, m := range line.Meet(arc, coincident) {
		if !found || r2.Norm(r2.Sub(m.P, near)) < r2.Norm(r2.Sub(best, near)) {
			best, found = m.P, true
		}
	}
	return best, found
}

// relieve cuts the relief where two bends meet.
func (l *layout) relieve(c *corner, prev, next *side, turn measure.Angle) {
	const leastTurn, mostTurn = 5 * measure.Degree, 170 * measure.Degree
	if size := measure.Angle(math.Abs(float64(turn))); !(leastTurn <= size && size <= mostTurn) {
		next.where.add("", "", fmt.Sprintf("turns %s from the flanged edge before it: two bends meet at a turn of 5° to 170°, else a plain piece parts them", turn))
		return
	}
	c.joint = relieved
	for range settleRounds(prev, next) {
		p, n := prev.frozen(prev.station(c.leave)), next.frozen(next.station(c.leave))
		c.place(meet(p.near(0), p.along, n.near(0), n.along))
	}
	c.radius = l.reliefRadius(max(prev.bend.Radius, next.bend.Radius))
	if cut := next.corner; cut != nil {
		l.cutAs(c, *cut, prev, next, turn)
	}
}

// slot parts the end of a bend from flat metal beside it, sign +1 where the bend
// comes first. On one straight edge the slot lies in the plain piece, so that the
// flange keeps its length; at a corner it lies in the flange, so that the plain
// side keeps its own.
func (l *layout) slot(c *corner, bent, flat *side, sign float64, turn measure.Angle) (bendEnd, slot, wall r2.Vec) {
	c.joint = slotted
	c.radius = l.reliefRadius(bent.bend.Radius)
	width := 2 * c.radius
	end := bent.station(c.mold)
	wall = c.mold
	if math.Abs(float64(turn)) < inLine {
		if flat.length <= width+coincident {
			bent.where.add("", "", fmt.Sprintf("the plain piece beside the flange is %s long: the slot that parts them takes %s", mm(flat.length), mm(width)))
		}
		wall = bent.plan(end+sign*width, 0)
	} else {
		end -= sign * width
	}
	return bent.near(end), bent.near(end + sign*width), wall
}

// meet is where two lines cross, each given by a point and a direction. The
// caller knows that they are not parallel.
func meet(p, d, q, e r2.Vec) r2.Vec {
	t := r2.Cross(r2.Sub(q, p), e) / r2.Cross(d, e)
	return r2.Add(p, r2.Scale(t, d))
}
