package flat

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// A half keeps the points of a flange with a·u + b·y <= c, u along its mold line
// and y outward from it.
type half struct{ a, b, c float64 }

// An end is one end of a flange while it is trimmed. Everything that may lie
// beyond the end is kept off by planes; each plane keeps the flange on the side
// its own middle lies on.
type end struct {
	s      *side
	other  *side // the side round the corner
	corner *corner
	sign   float64 // +1 at the end of the edge, -1 at its start
	trim   Trim
	gap    float64
}

// end is the end of s at a corner, both sides as their bevels are there.
func (l *layout) end(s, other *side, c *corner, sign float64, trim Trim) end {
	here := s.frozen(s.station(c.mold))
	if other.flange != nil {
		other = other.frozen(other.station(c.mold))
	}
	return end{s: here, other: other, corner: c, sign: sign, trim: trim, gap: c.gap}
}

// inward points along the mold line into the flange.
func (e *end) inward() r2.Vec { return r2.Scale(-e.sign, e.s.along) }

// bendEnd is where the tangent line beside the panel ends.
func (e *end) bendEnd() r2.Vec {
	if e.sign > 0 {
		return e.corner.leave
	}
	return e.corner.enter
}

// folded keeps both faces of the bent flange on the clear side of w.
func (e *end) folded(w wall) half {
	s := e.s
	rise := s.rises()
	base := r3.Sub(s.moldPoint(s.origin), w.at)
	// The inside face lies one thickness behind the outside.
	inside := min(0, s.bend.Thickness*r3.Dot(w.normal, s.faces()))
	return half{
		a: w.normal.X*s.along.X + w.normal.Y*s.along.Y,
		b: r3.Dot(w.normal, rise),
		c: -w.off - r3.Dot(w.normal, base) + inside,
	}
}

// unrolled keeps the flange, as it lies on the blank, on the clear side of an
// upright wall.
func (e *end) unrolled(w wall) half {
	n := r2.Vec{X: w.normal.X, Y: w.normal.Y}
	base := r2.Sub(e.s.flat(0, 0), r2.Vec{X: w.at.X, Y: w.at.Y})
	return half{a: r2.Dot(n, e.s.along), b: r2.Dot(n, e.s.out), c: -w.off - r2.Dot(n, base)}
}

// short keeps the flange from passing station u.
func (e *end) short(u float64) half { return half{a: e.sign, c: e.sign * u} }

// halves lists what limits the flange proper at this end.
func (e *end) halves(into []half) []half {
	mold := e.s.station(e.corner.mold)
	switch e.corner.joint {
	case flush:
		into = append(into, e.short(mold))
	case slotted:
		into = append(into, e.short(e.s.station(e.bendEnd())))
		if w, ok := e.webWall(); ok && e.turnsOutward() {
			into = append(into, e.unrolled(w))
		}
	case relieved:
		upright, ok := e.uprightWall()
		if !ok {
			break
		}
		into = append(into, e.unrolled(upright))
		if e.other.flange.Turn != e.s.flange.Turn {
			if w, ok := e.neighborWall(); ok {
				into = append(into, e.folded(w))
			}
			if e.s.lift() < 0 {
				into = append(into, e.folded(upright))
			}
			break
		}
		if w, ok := e.miterWall(); ok {
			into = append(into, e.folded(w))
		} else {
			into = append(into, e.folded(upright))
		}
	}
	if e.trim.Kind == Angled {
		// Through the mold-line corner, leaning in toward the free edge.
		lean := math.Tan(e.trim.Angle.Radians())
		into = append(into, half{a: e.sign, b: lean, c: e.sign*mold - e.trim.Inset})
	}
	return into
}

func (e *end) turnsOutward() bool {
	return r2.Dot(e.other.out, e.inward()) > 1e-9
}

// bendSteps is how many places across a bend are tried for clearance.
const bendSteps = 24

// zoneLimit is the farthest station the bend may reach beside the flange, so that
// a straight cut from the end of the tangent line to there keeps the bend clear of
// its neighbour, folded and flat, and of the walls it inherits, outside the relief
// hole.
func (e *end) zoneLimit(inherited []wall) float64 {
	limit := math.Inf(1)
	start := e.sign * e.s.station(e.bendEnd())
	var room [8]curlWall
	walls := e.curlWalls(room[:0], inherited)
	for i := 1; i <= bendSteps && len(walls) > 0; i++ {
		part := float64(i) / bendSteps
		if part*e.s.ba.Length < 0.7*e.corner.radius && i < bendSteps {
			continue // drilled away
		}
		if clear := e.clearAcross(part, walls); !math.IsInf(clear, 1) {
			limit = min(limit, start+(clear-start)/part)
		}
	}
	return e.sign * limit
}

// A curlWall is a wall that bounds a bend between its tangent lines.
type curlWall struct {
	wall
	lean  float64 // of the wall across the mold line: how fast the end nears it
	above float64 // it bounds the bend where that stands farther than this off the panel
	flat  bool    // it bounds the bend before it is bent too
}

// curlWalls lists what bounds the bend at this end.
func (e *end) curlWalls(into []curlWall, inherited []wall) []curlWall {
	bound := func(w wall, above float64, flat bool) {
		lean := e.sign * (w.normal.X*e.s.along.X + w.normal.Y*e.s.along.Y)
		into = append(into, curlWall{w, lean, above, flat})
	}
	everywhere := math.Inf(-1)
	if e.corner.joint == relieved {
		if upright, ok := e.uprightWall(); ok {
			bound(upright, everywhere, true)
		}
		if e.other.flange.Turn == e.s.flange.Turn {
			if miter, ok := e.miterWall(); ok {
				bound(miter, e.other.lift(), false)
			}
		}
	}
	for _, w := range inherited {
		if e.sign*(w.normal.X*e.s.along.X+w.normal.Y*e.s.along.Y) > leastAcross {
			bound(w, everywhere, false)
		}
	}
	return into
}

// clearAcross is the signed station up to which the bend is clear a part of the way
// across it.
func (e *end) clearAcross(part float64, walls []curlWall) float64 {
	s := e.s
	clear := math.Inf(1)
	inside, outside, off := s.curl(part * s.bend.Angle.Radians())
	for i := range walls {
		w := &walls[i]
		if w.flat {
			flat := s.plan(0, part*s.ba.Length-s.setback)
			clear = min(clear, w.stationBefore(r3.Vec{X: flat.X, Y: flat.Y, Z: w.at.Z}))
		}
		if off > w.above {
			clear = min(clear, w.stationBefore(inside), w.stationBefore(outside))
		}
	}
	return clear
}

// stationBefore is the signed station at which a line along the mold line,
// through the point at of station 0, meets the wall.
func (w *curlWall) stationBefore(at r3.Vec) float64 {
	return (-w.off - r3.Dot(w.normal, r3.Sub(at, w.at))) / w.lean
}
