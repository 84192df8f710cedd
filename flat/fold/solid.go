package fold

import (
	"math"

	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// A Frame places flat points in space: the flat point At lies at O, and flat x,
// y and the direction off the marking face run along X, Y and Z.
type Frame struct {
	At      r2.Vec
	O       r3.Vec
	X, Y, Z r3.Vec
}

// flatFrame is the frame of a panel that was not moved.
func flatFrame() Frame {
	return Frame{X: r3.Vec{X: 1}, Y: r3.Vec{Y: 1}, Z: r3.Vec{Z: 1}}
}

// Point places the flat point p, z mm above the marking face (below is negative).
func (f Frame) Point(p r2.Vec, z float64) r3.Vec {
	d := r2.Sub(p, f.At)
	q := f.O
	q.X += d.X*f.X.X + d.Y*f.Y.X + z*f.Z.X
	q.Y += d.X*f.X.Y + d.Y*f.Y.Y + z*f.Z.Y
	q.Z += d.X*f.X.Z + d.Y*f.Y.Z + z*f.Z.Z
	return q
}

// Direction turns a flat direction into space.
func (f Frame) Direction(v r2.Vec) r3.Vec {
	return r3.Add(r3.Scale(v.X, f.X), r3.Scale(v.Y, f.Y))
}

// A Solid is a sheet bent to shape. Web coordinates stay as they were: x and y on
// the blank, z off the marking face.
type Solid struct {
	Flat   Flat
	Frames []Frame // one a panel
}

// Fold bends the sheet. It returns an [*Error] for each fault of the flat.
func Fold(f Flat) (Solid, error) {
	if err := f.validate(); err != nil {
		return Solid{}, err
	}
	s := Solid{Flat: f, Frames: make([]Frame, len(f.Panels))}
	s.Frames[0] = flatFrame()
	for _, b := range f.Bends {
		s.Frames[b.Child] = b.carry(s.Frames[b.Parent], f.Thickness, b.Width, b.Angle)
	}
	return s, nil
}

// Panel places a point of panel i, z mm above the marking face.
func (s Solid) Panel(i int, p r2.Vec, z float64) r3.Vec { return s.Frames[i].Point(p, z) }

// Zone places a point of the metal within bend i, z mm above the marking face.
// The zone rolls up evenly: the angle turned grows with the distance from the
// near tangent line.
func (s Solid) Zone(i int, p r2.Vec, z float64) r3.Vec {
	b := s.Flat.Bends[i]
	v := r2.Dot(r2.Sub(p, b.A), b.out())
	turned := b.Angle * measure.Angle(v/b.Width)
	return b.carry(s.Frames[b.Parent], s.Flat.Thickness, v, turned).Point(p, z)
}

// along and out are the unit directions of the bend line and away from the parent.
func (b Bend) along() r2.Vec { return r2.Unit(r2.Sub(b.B, b.A)) }

func (b Bend) out() r2.Vec {
	t := b.along()
	return r2.Vec{X: t.Y, Y: -t.X}
}

// carry moves the parent's frame round the bend: the frame of the metal v mm
// beyond the near tangent line, after turning through the given angle about the
// axis of the bend. The axis lies one radius off the inside face.
func (b Bend) carry(parent Frame, thickness, v float64, turned measure.Angle) Frame {
	out := b.out()
	at := r2.Add(b.A, r2.Scale(v, out)) // the flat point the child's frame hangs from
	axis, sign := b.Radius, 1.0
	if !b.Up {
		axis, sign = -thickness-b.Radius, -1.0
	}
	sin, cos := math.Sincos(turned.Radians())

	// In the plane across the bend: o runs outward from the parent, z off its
	// marking face. Turning up carries o toward z, turning down toward -z.
	o, z := parent.Direction(out), parent.Z
	newO := r3.Add(r3.Scale(cos, o), r3.Scale(sign*sin, z))
	newZ := r3.Sub(r3.Scale(cos, z), r3.Scale(sign*sin, o))
	center := parent.Point(b.A, axis)

	t := parent.Direction(b.along())
	along := b.along()
	return Frame{
		At: at,
		O:  r3.Sub(center, r3.Scale(axis, newZ)), // marking face: -axis off the axis
		// Flat x and y by their parts along and out of the bend line.
		X: r3.Add(r3.Scale(along.X, t), r3.Scale(out.X, newO)),
		Y: r3.Add(r3.Scale(along.Y, t), r3.Scale(out.Y, newO)),
		Z: newZ,
	}
}
