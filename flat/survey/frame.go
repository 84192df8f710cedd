package survey

import (
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// A Frame is a plane with axes drawn on it: U to the right, V up, N toward the
// viewer, all unit and square to each other, N = U × V. Lengths are mm.
type Frame struct {
	Origin, U, V, N r3.Vec
}

// AtStation returns the frame of the section at station x of an aeroplane that has
// X aft, Y to the right-hand tip and Z up, seen from aft: U is Y and V is Z.
func AtStation(x float64) Frame {
	return Frame{Origin: r3.Vec{X: x}, U: r3.Vec{Y: 1}, V: r3.Vec{Z: 1}, N: r3.Vec{X: 1}}
}

// Frame draws axes on the plane, V as near to up as the plane allows. An up that
// runs along the normal, or a plane that is not valid, is an [*Error].
func (p Plane) Frame(up r3.Vec) (Frame, error) {
	var f faults
	f.plane("plane", p)
	f.point3("up", up)
	if err := f.err(); err != nil {
		return Frame{}, err
	}
	across := r3.Cross(up, p.Normal)
	u, ok := unit(across)
	if !ok || !(r3.Norm(across) > sliver*r3.Norm(up)) {
		return Frame{}, &Error{"up", "along the normal", "must lie to the side of the plane's normal"}
	}
	n, _ := unit(p.Normal)
	return Frame{Origin: p.Point, U: u, V: r3.Cross(n, u), N: n}, nil
}

// Validate returns an [*Error] for each thing wrong with the frame.
func (fr Frame) Validate() error {
	var f faults
	f.frame("frame", fr)
	return f.err()
}

func (f *faults) frame(name string, fr Frame) {
	f.point3(name+" origin", fr.Origin)
	if !(r3.Norm(r3.Sub(r3.Cross(fr.U, fr.V), fr.N)) <= normalSlack &&
		within(r3.Norm(fr.U), 1-normalSlack, 1+normalSlack) && within(r3.Norm(fr.V), 1-normalSlack, 1+normalSlack) &&
		within(r3.Norm(fr.N), 1-normalSlack, 1+normalSlack)) {
		f.add(name, "", "its axes must be unit vectors square to each other, N = U × V")
	}
}

// Plane returns the frame's plane.
func (fr Frame) Plane() Plane { return Plane{fr.Origin, fr.N} }

// In returns p's place on the plane and its height above it, mm.
func (fr Frame) In(p r3.Vec) (at r2.Vec, height float64) {
	d := r3.Sub(p, fr.Origin)
	return r2.Vec{X: r3.Dot(d, fr.U), Y: r3.Dot(d, fr.V)}, r3.Dot(d, fr.N)
}

// Out returns the point in space of a place on the plane.
func (fr Frame) Out(at r2.Vec) r3.Vec {
	return r3.Add(fr.Origin, r3.Add(r3.Scale(at.X, fr.U), r3.Scale(at.Y, fr.V)))
}
