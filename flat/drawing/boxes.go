package drawing

import (
	"math"

	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
)

// A Frame is an upright or turned box, such as a line of lettering takes up.
type Frame struct {
	Center r2.Vec
	Along  r2.Vec // unit, direction of reading
	Half   r2.Vec // half the length along and half the height across
}

func (f Frame) across() r2.Vec { return r2.Vec{X: -f.Along.Y, Y: f.Along.X} }

// Corners returns the box's corners, counter-clockwise from its lower left.
func (f Frame) Corners() [4]r2.Vec {
	x, y := r2.Scale(f.Half.X, f.Along), r2.Scale(f.Half.Y, f.across())
	c := f.Center
	return [4]r2.Vec{
		r2.Sub(r2.Sub(c, x), y), r2.Sub(r2.Add(c, x), y), r2.Add(r2.Add(c, x), y), r2.Add(r2.Sub(c, x), y),
	}
}

// Overlaps reports whether two boxes share more than an edge: whether no side of
// either parts them.
func (f Frame) Overlaps(o Frame) bool {
	between := r2.Sub(o.Center, f.Center)
	if apart := f.Half.X + f.Half.Y + o.Half.X + o.Half.Y; math.Abs(between.X) > apart || math.Abs(between.Y) > apart {
		return false // beyond the reach of both, whichever way they are turned
	}
	return !f.parts(o, between) && !o.parts(f, between)
}

// parts reports whether a side of the box parts it from another, whose centre lies so
// far off. Lettering is low and long, and mostly parted by the sides along it.
func (f Frame) parts(o Frame, between r2.Vec) bool {
	return math.Abs(r2.Dot(between, f.across())) >= f.Half.Y+o.reach(f.across())-1e-9 ||
		math.Abs(r2.Dot(between, f.Along)) >= f.Half.X+o.reach(f.Along)-1e-9
}

// reach is half the box's extent along a unit axis.
func (f Frame) reach(axis r2.Vec) float64 {
	return math.Abs(f.Half.X*r2.Dot(f.Along, axis)) + math.Abs(f.Half.Y*r2.Dot(f.across(), axis))
}

// grown is the box with room all round.
func (f Frame) grown(room float64) Frame {
	f.Half = r2.Vec{X: f.Half.X + room, Y: f.Half.Y + room}
	return f
}

// meets reports whether a line from a to b enters the box.
func (f Frame) meets(a, b r2.Vec) bool {
	lo, hi := 0.0, 1.0
	d, from := r2.Sub(b, a), r2.Sub(a, f.Center)
	for _, side := range [2]struct {
		axis r2.Vec
		half float64
	}{{f.Along, f.Half.X}, {f.across(), f.Half.Y}} {
		p, v := r2.Dot(from, side.axis), r2.Dot(d, side.axis)
		if math.Abs(v) < 1e-12 {
			if math.Abs(p) >= side.half {
				return false
			}
			continue
		}
		t0, t1 := (-side.half-p)/v, (side.half-p)/v
		lo, hi = max(lo, min(t0, t1)), min(hi, max(t0, t1))
	}
	return lo < hi
}

// within reports whether the whole box lies in a polygon.
func (f Frame) within(polygon outline.Path) bool {
	for _, c := range f.Corners() {
		if polygon.Side(c) != outline.Inside {
			return false
		}
	}
	for i := range polygon.NumSegments() {
		if side := polygon.Segment(i); f.meets(side.A, side.B) {
			return false
		}
	}
	return true
}
