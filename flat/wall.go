package flat

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

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
	if !(math.Abs(lean) > leastAcross) {
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

// leastAcross is the least part of a wall's normal along a flange at which the
// wall says where the flange ends.
const leastAcross = 1e-6

// bounds are the walls at this end that also bound whatever hangs from the flange:
// a lip stays on its own side of the miter as the flange does.
func (e *end) bounds(into []wall) []wall {
	if e.corner.joint != relieved {
		return into
	}
	w, ok := e.miterWall()
	if e.other.flange.Turn != e.s.flange.Turn {
		w, ok = e.neighborWall()
	}
	if ok {
		into = append(into, w)
	}
	return into
}

// carried gives the walls of a panel in the axes of a panel hung from it.
func (l *layout) carried(walls []wall, from, to int) []wall {
	if len(walls) == 0 {
		return nil
	}
	carried := make([]wall, len(walls))
	for i, w := range walls {
		normal := l.space(from, r2.Vec{X: w.normal.X, Y: w.normal.Y}, w.normal.Z)
		own := l.blank.Panels[from].own(r2.Vec{X: w.at.X, Y: w.at.Y})
		at := l.wanted[from].point(own, w.at.Z)

		q, p := l.wanted[to], l.blank.Panels[to]
		d := r3.Sub(at, q.o)
		n2 := r2.Add(r2.Scale(r3.Dot(normal, q.x), p.Along), r2.Scale(r3.Dot(normal, q.y), p.Out))
		at2 := p.At(r2.Vec{X: r3.Dot(d, q.x), Y: r3.Dot(d, q.y)})
		carried[i] = wall{
			normal: r3.Vec{X: n2.X, Y: n2.Y, Z: r3.Dot(normal, q.z)},
			at:     r3.Vec{X: at2.X, Y: at2.Y, Z: r3.Dot(d, q.z)},
			off:    w.off,
		}
	}
	return carried
}

// space turns a direction on a panel, as it lies on the blank, into space.
func (l *layout) space(panel int, flat r2.Vec, z float64) r3.Vec {
	q := l.wanted[panel]
	return r3.Add(q.direction(l.blank.Panels[panel].ownWay(flat)), r3.Scale(z, q.z))
}
