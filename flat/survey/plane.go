package survey

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"github.com/hangarflat/hangarflat/material/measure"
)

// A Plane is an unbounded flat face: any point of it, mm, and its unit normal. The
// normal says which side is which; [Plane.Distance] is positive on its side. The
// zero value is no plane and [Plane.Validate] says so.
type Plane struct {
	Point, Normal r3.Vec
}

// normalSlack is how far a normal's length may be from 1: a normal typed with six
// decimals passes, one that was never made a unit vector does not.
const normalSlack = 1e-5

// sliver is the smallest height of a triangle, over its longest side, through
// which a plane is laid. Below it the readings say nothing of the plane's tilt.
const sliver = 1e-6

// parallelSine is the smallest sine between two directions that counts as a
// crossing. At 1e-9 two faces diverge by a thousandth of a millimetre in 1 km.
const parallelSine = 1e-9

// Validate returns an [*Error] for each thing wrong with the plane.
func (p Plane) Validate() error {
	var f faults
	f.plane("plane", p)
	return f.err()
}

func (f *faults) plane(name string, p Plane) {
	f.point3(name+" point", p.Point)
	if n := r3.Norm(p.Normal); !within(n, 1-normalSlack, 1+normalSlack) {
		f.add(name+" normal", fmt.Sprintf("length %g", n), "must be a unit vector")
	}
}

// ThreePoints returns the plane through three points. Its normal points to the
// side from which a, b, c run counter-clockwise. Points that are not finite, that
// coincide or that lie on one line (height of the triangle under a millionth of
// its longest side) are an [*Error].
func ThreePoints(a, b, c r3.Vec) (Plane, error) {
	var f faults
	f.points3("three points", []r3.Vec{a, b, c}, 3)
	if err := f.err(); err != nil {
		return Plane{}, err
	}
	ab, bc, ca := r3.Sub(b, a), r3.Sub(c, b), r3.Sub(a, c)
	cross := r3.Cross(ab, r3.Scale(-1, ca))
	longest := max(r3.Norm(ab), r3.Norm(bc), r3.Norm(ca))
	normal, ok := unit(cross)
	if !ok || !(r3.Norm(cross) >= sliver*longest*longest) {
		return Plane{}, &Error{"three points", fmt.Sprintf("height of their triangle %s over %s", mm(r3.Norm(cross)/max(longest, math.SmallestNonzeroFloat64)), mm(longest)),
			"they lie on one line, or coincide: take the third well to the side of the other two"}
	}
	return Plane{Point: a, Normal: normal}, nil
}

// Distance returns how far q lies from the plane, mm, positive on the side the
// normal points to.
func (p Plane) Distance(q r3.Vec) float64 { return r3.Dot(p.Normal, r3.Sub(q, p.Point)) }

// Project returns the point of the plane nearest to q.
func (p Plane) Project(q r3.Vec) r3.Vec {
	return r3.Sub(q, r3.Scale(p.Distance(q), p.Normal))
}

// Offset returns the plane moved by d mm along its normal, against it when d is
// negative: by the thickness of a skin or a shim.
func (p Plane) Offset(d float64) Plane {
	return Plane{Point: r3.Add(p.Point, r3.Scale(d, p.Normal)), Normal: p.Normal}
}

// Flip returns the same plane with its normal turned to the other side.
func (p Plane) Flip() Plane { return Plane{Point: p.Point, Normal: r3.Scale(-1, p.Normal)} }

// Facing returns the plane with its normal on the side of q; a q in the plane
// leaves it as it is.
func (p Plane) Facing(q r3.Vec) Plane {
	if p.Distance(q) < 0 {
		return p.Flip()
	}
	return p
}

// Mirror returns q's image behind the plane: the other hand of a symmetrical hull.
func (p Plane) Mirror(q r3.Vec) r3.Vec {
	return r3.Sub(q, r3.Scale(2*p.Distance(q), p.Normal))
}

// A Line is an unbounded straight line: any point of it, mm, and its unit
// direction.
type Line struct {
	Point, Dir r3.Vec
}

// Validate returns an [*Error] for each thing wrong with the line.
func (l Line) Validate() error {
	var f faults
	f.point3("line point", l.Point)
	if n := r3.Norm(l.Dir); !within(n, 1-normalSlack, 1+normalSlack) {
		f.add("line direction", fmt.Sprintf("length %g", n), "must be a unit vector")
	}
	return f.err()
}

// At returns the point s mm along the line from its Point.
func (l Line) At(s float64) r3.Vec { return r3.Add(l.Point, r3.Scale(s, l.Dir)) }

// Distance returns how far q lies from the line, mm, never negative.
func (l Line) Distance(q r3.Vec) float64 { return r3.Norm(r3.Cross(l.Dir, r3.Sub(q, l.Point))) }

// Nearest returns the point of the line nearest to q.
func (l Line) Nearest(q r3.Vec) r3.Vec { return l.At(r3.Dot(l.Dir, r3.Sub(q, l.Point))) }

// Meet returns the line where two planes cross: the mold line of a bend whose
// outside faces they are. Its direction is p.Normal × q.Normal, its Point the one
// nearest to half-way between the planes' own points. Planes that are not valid
// or are parallel (sine of the angle under 1e-9) are an [*Error].
func Meet(p, q Plane) (Line, error) {
	var f faults
	f.plane("first plane", p)
	f.plane("second plane", q)
	if err := f.err(); err != nil {
		return Line{}, err
	}
	cross := r3.Cross(p.Normal, q.Normal)
	sine := r3.Norm(cross)
	if !(sine >= parallelSine) {
		return Line{}, &Error{"two planes", fmt.Sprintf("sine of the angle between them %g", sine), "they are parallel and meet in no line"}
	}
	dir := r3.Scale(1/sine, cross)
	mid := r3.Scale(0.5, r3.Add(p.Point, q.Point))
	// The step from mid stays in the span of the two normals, so it is square to
	// the line: mid + a·n1 + b·n2 with both distances zero.
	d1, d2, c := p.Distance(mid), q.Distance(mid), r3.Dot(p.Normal, q.Normal)
	s2 := sine * sine
	a, b := (c*d2-d1)/s2, (c*d1-d2)/s2
	at := r3.Add(mid, r3.Add(r3.Scale(a, p.Normal), r3.Scale(b, q.Normal)))
	if !finite3(at) {
		return Line{}, &Error{"two planes", fmt.Sprintf("sine of the angle between them %g", sine), "they meet further than 1 km away: treat them as parallel"}
	}
	return Line{Point: at, Dir: dir}, nil
}

// Corner returns the point where three planes meet, such as two mold lines of a
// web. Planes that share a direction (volume of their normals under 1e-9) are an
// [*Error].
func Corner(p, q, r Plane) (r3.Vec, error) {
	var f faults
	f.plane("first plane", p)
	f.plane("second plane", q)
	f.plane("third plane", r)
	if err := f.err(); err != nil {
		return r3.Vec{}, err
	}
	qr := r3.Cross(q.Normal, r.Normal)
	vol := r3.Dot(p.Normal, qr)
	if !(math.Abs(vol) >= parallelSine) {
		return r3.Vec{}, &Error{"three planes", fmt.Sprintf("volume of their normals %g", vol), "they share a direction and meet in no single point"}
	}
	// Cramer's rule about the first plane's point, so that a part far from the
	// origin keeps its digits.
	o := p.Point
	sum := r3.Add(r3.Scale(-q.Distance(o), r3.Cross(r.Normal, p.Normal)), r3.Scale(-r.Distance(o), r3.Cross(p.Normal, q.Normal)))
	at := r3.Add(o, r3.Scale(1/vol, sum))
	if !finite3(at) {
		return r3.Vec{}, &Error{"three planes", fmt.Sprintf("volume of their normals %g", vol), "they meet further than 1 km away: treat them as parallel"}
	}
	return at, nil
}

// Dihedral returns the angle between the normals of two planes, 0 to 180°. With
// both normals on the outside of the metal it is the angle a bend between the two
// faces turns through from flat; the angle between the legs is its Opening. A plane
// without a normal gives NaN.
func Dihedral(p, q Plane) measure.Angle { return between(p.Normal, q.Normal) }

// between is the angle between two directions; the tangent keeps its digits where
// the cosine is flat, near 0 and 180°.
func between(a, b r3.Vec) measure.Angle {
	n := r3.Norm(a) * r3.Norm(b)
	if !(n > 0) {
		return measure.Angle(math.NaN())
	}
	return measure.Angle(math.Atan2(r3.Norm(r3.Cross(a, b)), r3.Dot(a, b)))
}
