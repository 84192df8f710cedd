package flat

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// A placed panel is where the part asks for a panel in space, worked out from mold
// lines and bend angles alone: no allowance, no setback, no blank. The panel's
// point (x, y), measured from its mold line, lies on the marking face at
// o + x·X + y·Y; z points off the marking face.
type placed struct {
	o, x, y, z r3.Vec
	features   *Features
	at         *faults
}

// still is the web, which is not moved.
func still(h *Features, at *faults) placed {
	return placed{x: r3.Vec{X: 1}, y: r3.Vec{Y: 1}, z: r3.Vec{Z: 1}, features: h, at: at}
}

// point is the point (x, y) of the panel, z off its marking face.
func (p placed) point(q r2.Vec, z float64) r3.Vec {
	return r3.Add(p.o, r3.Add(r3.Scale(z, p.z), p.direction(q)))
}

func (p placed) direction(v r2.Vec) r3.Vec {
	return r3.Add(r3.Scale(v.X, p.x), r3.Scale(v.Y, p.y))
}

// own turns a point of the blank into the panel's own coordinates, and ownWay a
// direction.
func (p Panel) own(q r2.Vec) r2.Vec { return p.ownWay(r2.Sub(q, p.Origin)) }

func (p Panel) ownWay(v r2.Vec) r2.Vec { return r2.Vec{X: r2.Dot(v, p.Along), Y: r2.Dot(v, p.Out)} }

// At is the place on the blank of a point in the panel's own coordinates.
func (p Panel) At(own r2.Vec) r2.Vec {
	return r2.Add(p.Origin, r2.Add(r2.Scale(own.X, p.Along), r2.Scale(own.Y, p.Out)))
}

// turned places the flange of s, hung from a panel that lies at p. The mold line
// lies on the outside face of both.
func (p placed) turned(parent Panel, s *side) placed {
	along := p.direction(parent.ownWay(s.along))
	out := p.direction(parent.ownWay(s.out))
	sin, cos := math.Sincos(s.bend.Angle.Radians())
	sin *= s.up()
	q := placed{
		x:        along,
		y:        r3.Add(r3.Scale(cos, out), r3.Scale(sin, p.z)),
		z:        r3.Sub(r3.Scale(cos, p.z), r3.Scale(sin, out)),
		features: &s.flange.Features, at: s.where,
	}
	face := s.outsideFace()
	q.o = r3.Sub(p.point(parent.own(s.origin), face), r3.Scale(face, q.z))
	return q
}
