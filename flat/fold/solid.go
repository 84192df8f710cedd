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
	Frames []Frame // one a panel; of a panel whose bevel changes, at the start of its bend
	bends  []int   // the bend that each panel hangs from, -1 of the first
}

// Fold bends the sheet. It returns an [*Error] for each fault of the flat.
func Fold(f Flat) (Solid, error) {
	if err := f.validate(); err != nil {
		return Solid{}, err
	}
	s := Solid{Flat: f, Frames: make([]Frame, len(f.Panels)), bends: make([]int, len(f.Panels))}
	s.Frames[0], s.bends[0] = flatFrame(), -1
	for i := range f.Bends {
		b := &f.Bends[i]
		s.bends[b.Child] = i
		s.Frames[b.Child] = s.turned(b, b.section(0))
	}
	return s, nil
}

// Panel places a point of panel i, z mm above the marking face.
func (s Solid) Panel(i int, p r2.Vec, z float64) r3.Vec { return s.FrameAt(i, p).Point(p, z) }

// FrameAt is the frame of panel i at the flat point p: the same all over, but for
// a panel whose bevel changes along its bend.
func (s Solid) FrameAt(i int, p r2.Vec) Frame {
	if s.bends[i] < 0 || len(s.Flat.Bends[s.bends[i]].Sections) == 0 {
		return s.Frames[i]
	}
	b := &s.Flat.Bends[s.bends[i]]
	return s.turned(b, b.section(b.station(p)))
}

// turned is the frame of a bend's child at one section of the bend.
func (s Solid) turned(b *Bend, at Section) Frame {
	return b.carry(&s.Frames[b.Parent], s.Flat.Thickness, at.Near, at.Width, at.Angle)
}

// Zone places a point of the metal within bend i, z mm above the marking face.
// The zone rolls up evenly: the angle turned grows with the distance from the
// near tangent line.
func (s Solid) Zone(i int, p r2.Vec, z float64) r3.Vec {
	b := &s.Flat.Bends[i]
	at := b.section(b.station(p))
	v := r2.Dot(r2.Sub(p, b.A), b.out()) - at.Near
	turned := at.Angle * measure.Angle(v/at.Width)
	return b.carry(&s.Frames[b.Parent], s.Flat.Thickness, at.Near, v, turned).Point(p, z)
}

// station is how far along A-B a flat point lies.
func (b *Bend) station(p r2.Vec) float64 { return r2.Dot(r2.Sub(p, b.A), b.along()) }

// along and out are the unit directions of the bend line and away from the parent.
func (b *Bend) along() r2.Vec { return r2.Unit(r2.Sub(b.B, b.A)) }

func (b *Bend) out() r2.Vec {
	t := b.along()
	return r2.Vec{X: t.Y, Y: -t.X}
}

// carry moves the parent's frame round the bend: the frame of the metal v mm
// beyond the near tangent line, which lies near mm out from A-B, after turning
// through the given angle about the axis of the bend.
func (b *Bend) carry(parent *Frame, thickness, near, v float64, turned measure.Angle) Frame {
	r := b.roll(parent, thickness, near)
	return r.frame(v, turned)
}

// A roll is a bend at one section, ready to carry its parent's frame round its
// axis. The axis lies one radius off the inside face.
type roll struct {
	along, out, tangent r2.Vec // directions of the bend and where it starts, on the blank
	t, o, z             r3.Vec // along, out and off the marking face, in space
	center              r3.Vec // on the axis, over tangent
	axis, sign          float64
}

func (b *Bend) roll(parent *Frame, thickness, near float64) roll {
	along := b.along()
	out := r2.Vec{X: along.Y, Y: -along.X}
	r := roll{
		along: along, out: out, tangent: r2.Add(b.A, r2.Scale(near, out)),
		t: parent.Direction(along), o: parent.Direction(out), z: parent.Z,
		axis: b.Radius, sign: 1,
	}
	if !b.Up {
		r.axis, r.sign = -thickness-b.Radius, -1
	}
	r.center = parent.Point(r.tangent, r.axis)
	return r
}

// frame is that of the metal v mm beyond the tangent line, after turning.
func (r *roll) frame(v float64, turned measure.Angle) Frame {
	// In the plane across the bend: o runs outward from the parent, z off its
	// marking face. Turning up carries o toward z, turning down toward -z.
	sin, cos := math.Sincos(turned.Radians())
	newO := r3.Add(r3.Scale(cos, r.o), r3.Scale(r.sign*sin, r.z))
	newZ := r3.Sub(r3.Scale(cos, r.z), r3.Scale(r.sign*sin, r.o))
	return Frame{
		At: r2.Add(r.tangent, r2.Scale(v, r.out)),    // the flat point the frame hangs from
		O:  r3.Sub(r.center, r3.Scale(r.axis, newZ)), // marking face: -axis off the axis
		// Flat x and y by their parts along and out of the bend line.
		X: r3.Add(r3.Scale(r.along.X, r.t), r3.Scale(r.out.X, newO)),
		Y: r3.Add(r3.Scale(r.along.Y, r.t), r3.Scale(r.out.Y, newO)),
		Z: newZ,
	}
}
