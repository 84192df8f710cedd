package brake

import (
	"math"

	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// A Brake is a hand brake by the shop's own dimensions, mm.
type Brake struct {
	Length float64 // of the longest bend it takes
	Nose   Nose
	Bed    Bed
	Leaf   Leaf
	// Clear is the clearance asked for between bent metal and the brake, also at the ends
	// of a bar made up of fingers; zero lets them touch.
	Clear float64
}

// A Nose is the bar that clamps the sheet. Its nose is rounded to the radius of the
// bend; from there its front rises, leaning back, to its top.
type Nose struct {
	Depth float64 // how far it reaches behind the tangent line held under it
	// Height from the sheet to the top of the bar. Above it there is air: where a beam
	// stands on the bar, give the height to the top of the beam.
	Height float64
	// Most is the bend angle at which a flange lies against the front of the bar.
	Most measure.Angle
	// Lift is the opening between bed and raised bar. The sheet is taken to be put in from
	// the leaf's side, so what stands up or hangs down behind the bend has to pass.
	Lift float64
	// Finger is the step in which the bar is made up of fingers to the length of a
	// bend. Zero is one bar as long as the brake.
	Finger float64
}

// A Bed is what the sheet lies on, flush at the front with the tangent line held.
type Bed struct {
	Depth  float64 // how far it reaches behind the bend
	Height float64 // from its top down to its foot
}

// A Leaf swings the metal up. Its face bears on the outside of the flange from the
// flange's tangent line outward: it is set back for the radius.
type Leaf struct {
	Depth  float64 // of its face
	Height float64 // from its face to its back
}

// A tool is a part of the brake that bent metal must clear.
type tool uint8

const (
	none tool = iota
	noseBar
	bed
	leaf
	lift
)

func (t tool) String() string {
	switch t {
	case noseBar:
		return "nose bar"
	case bed:
		return "bed"
	case leaf:
		return "leaf"
	case lift:
		return "raised nose bar"
	}
	return ""
}

// noseChords stand for the round of the nose; they leave a 6 mm nose, rounded through
// 135°, by 0.02 mm.
const noseChords = 16

// section of the nose bar clamped on sheet of thickness t, its nose rounded to
// radius r: round the nose, up its front, back along its top and down its heel.
func (n Nose) section(t, r float64) convex {
	var corners []r2.Vec
	for k := range noseChords + 1 {
		sin, cos := math.Sincos(n.Most.Radians() * float64(k) / noseChords)
		corners = append(corners, r2.Vec{X: r * sin, Y: t + r - r*cos})
	}
	sin, cos := math.Sincos(n.Most.Radians())
	nose := corners[len(corners)-1]
	up := 2 * (n.Depth + n.Height + r) / max(sin, 1e-3) // past the top and the heel
	front := r2.Add(nose, r2.Vec{X: up * cos, Y: up * sin})
	back := min(-n.Depth, front.X)
	corners = append(corners, front, r2.Vec{X: back, Y: front.Y}, r2.Vec{X: back, Y: t})
	// The heel may cut into the leaning front and take the top away.
	return convex(corners).cut(r2.Vec{Y: 1}, t+n.Height).cut(r2.Vec{X: -1}, n.Depth)
}

func (b Bed) section() convex {
	return convex{{X: -b.Depth, Y: -b.Height}, {X: 0, Y: -b.Height}, {}, {X: -b.Depth}}
}

// section of the leaf in the coordinates of the flange it bears on: y from the
// flange's tangent line outward, z from its outside face inward.
func (l Leaf) section() convex {
	return convex{{Y: -l.Height}, {X: l.Depth, Y: -l.Height}, {X: l.Depth}, {}}
}

// bar is the stretch along the bend that the nose bar covers, of a held tangent line
// that runs from first to last: as many fingers as leave the clearance at both ends.
func (b Brake) bar(first, last float64) (from, to float64) {
	finger := b.Nose.Finger
	if finger == 0 {
		return math.Inf(-1), math.Inf(1)
	}
	made := math.Floor((last-first-2*b.Clear)/finger+1e-9) * finger
	made = max(made, finger)
	mid := (first + last) / 2
	return mid - made/2, mid + made/2
}

// A swing carries the profile of the swung side up round the nose.
type swing struct {
	thickness, radius, width float64
	turn                     measure.Angle // of the leaf when all the metal is wrapped
}

// at places a point of the swung side, in its own coordinates (y outward from its
// tangent line, z from its underside up), after the leaf has turned through a. As the
// leaf rises the metal wraps round the nose, evenly until it is all taken up; what is
// not yet wrapped runs on straight.
func (s swing) at(a measure.Angle, p r2.Vec) r2.Vec {
	sin, cos := math.Sincos(a.Radians())
	left := s.width * max(0, 1-float64(a/s.turn))
	out, up := left+p.X, p.Y-s.thickness
	return r2.Vec{
		X: s.radius*sin + out*cos - up*sin,
		Y: s.thickness + s.radius - s.radius*cos + out*sin + up*cos,
	}
}

// place carries a profile.
func (s swing) place(into, from convex, a measure.Angle) convex {
	into = into[:0]
	for _, p := range from {
		into = append(into, s.at(a, p))
	}
	return into
}

// reach is no less than how far any point of a profile is carried in 1 rad of swing:
// out and up with the turn about the nose, and along with what is being wrapped.
func (s swing) reach(c convex) float64 {
	far := 0.0
	for _, p := range c {
		far = max(far, math.Abs(p.X)+math.Abs(p.Y-s.thickness))
	}
	return far + s.radius + s.width + s.width/s.turn.Radians()
}
