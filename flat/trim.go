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
	return end{s: here, other: other, corner: c, sign: sign, trim: trim, gap: l.gap}
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

// A wall is a plane that a flange must not reach: points x with
// normal·(x - at) <= -off are clear. The normal is unit.
type wall struct {
	normal r3.Vec
	at     r3.Vec
	off    float64
}

// wall builds the plane with its normal turned so that the flange lies on the
// clear side. ok is false where the plane runs along the flange and parts nothing.
func (e *end) wall(normal r3.Vec, at r3.Vec, off float64) (w wall, ok bool) {
	size := r3.Norm(normal)
	in := e.inward()
	lean := normal.X*in.X + normal.Y*in.Y
	if !(math.Abs(lean) > 1e-6) {
		return wall{}, false
	}
	if lean > 0 {
		size = -size
	}
	return wall{r3.Scale(1/size, normal), at, off}, true
}

// uprightWall stands square to the panel through the crossing of the tangent
// lines, as far from the one as from the other: it parts bend from bend whatever
// their angles, since a bend's outline in plan depends on height alone.
func (e *end) uprightWall() (wall, bool) {
	n := r2.Sub(e.other.out, e.s.out)
	at := e.bendEnd()
	return e.wall(r3.Vec{X: n.X, Y: n.Y}, r3.Vec{X: at.X, Y: at.Y}, e.gap/2)
}

// miterWall lies midway between the outside faces of two flanges turned the same
// way, and so midway between their inside faces too.
func (e *end) miterWall() (wall, bool) {
	n := r3.Sub(e.other.faces(), e.s.faces())
	return e.wall(n, e.s.moldPoint(e.corner.mold), e.gap/2)
}

// neighborWall is the outside face of a flange turned the other way, carried on
// past its mold line: what the neighbour fits against stands there.
func (e *end) neighborWall() (wall, bool) {
	return e.wall(e.other.faces(), e.other.moldPoint(e.corner.mold), 0)
}

// webWall is the plain side round a corner that turns outward: flat metal beyond
// it.
func (e *end) webWall() (wall, bool) {
	n := e.other.out
	at := e.corner.mold
	return e.wall(r3.Vec{X: n.X, Y: n.Y}, r3.Vec{X: at.X, Y: at.Y}, e.gap)
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
	case notched:
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
// a straight cut from the crossing of the tangent lines to there keeps the bend
// clear of its neighbour, folded and flat, outside the relief hole.
func (e *end) zoneLimit() float64 {
	limit := math.Inf(1)
	if e.corner.joint != relieved {
		return e.sign * limit
	}
	upright, ok := e.uprightWall()
	if !ok {
		return e.sign * limit
	}
	miter, mitered := e.miterWall()
	mitered = mitered && e.other.flange.Turn == e.s.flange.Turn
	s := e.s
	start := e.sign * s.station(e.bendEnd())
	for i := 1; i <= bendSteps; i++ {
		part := float64(i) / bendSteps
		v := part * s.ba.Length
		if v < 0.7*e.corner.radius && i < bendSteps {
			continue // drilled away
		}
		phi := part * s.bend.Angle.Radians()
		clear := e.stationOn(upright, s.plan(0, v-s.setback))
		for _, rho := range [2]float64{s.bend.Radius, s.bend.Radius + s.bend.Thickness} {
			at := s.curl(0, phi, rho)
			clear = min(clear, e.stationBefore(upright, at))
			if mitered && s.reach(phi) > e.other.lift() {
				clear = min(clear, e.stationBefore(miter, at))
			}
		}
		limit = min(limit, start+(clear-start)/part)
	}
	return e.sign * limit
}

// stationBefore is the signed station at which a line along the mold line,
// through the point at of station 0, meets the wall.
func (e *end) stationBefore(w wall, at r3.Vec) float64 {
	reach := e.sign * (w.normal.X*e.s.along.X + w.normal.Y*e.s.along.Y)
	return (-w.off - r3.Dot(w.normal, r3.Sub(at, w.at))) / reach
}

func (e *end) stationOn(w wall, flat r2.Vec) float64 {
	return e.stationBefore(w, r3.Vec{X: flat.X, Y: flat.Y, Z: w.at.Z})
}
