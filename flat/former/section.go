package former

import (
	"math"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/material/measure"
)

// A Model says how the width of a curved flange is found from its section.
type Model uint8

const (
	// EqualArc gives the blank the length of the section's neutral line, as for a
	// straight bend: all the change of length goes into strain along the edge. It is
	// the larger blank on a convex contour, and the smaller on a concave one.
	EqualArc Model = iota
	// EqualArea gives the blank of the flange the area of its neutral surface: what
	// the edge gains in length the flange loses in width, the thickness staying.
	EqualArea
)

func (m Model) String() string {
	if m == EqualArea {
		return "equal area"
	}
	return "equal arc"
}

// A Section is a curved flange cut square to its contour, on the neutral surface, mm.
type Section struct {
	Bend      bend.Bend
	Setback   float64 // mold line to tangent line
	Allowance bend.Allowance
	Flat      float64 // beyond the bend
	// Width of the section's neutral line from the tangent line to the edge, and how far
	// the formed edge stands out from the tangent line.
	Width, Reach float64
	// moment is the integral of the standing-out along the section, mm²: by Pappus it
	// is what curvature adds to the area of the surface.
	moment float64
}

// SectionOf cuts a flange whose height is measured on its outside face from the mold
// line, mm. It returns an *[Error] when the setback takes up the whole height.
func SectionOf(rule bend.Rule, b bend.Bend, height float64) (Section, error) {
	if rule == nil {
		rule = bend.Handbook{}
	}
	sb, err := b.Setback()
	if err != nil {
		return Section{}, &Error{"flange bend", b.Angle.String(), err.Error()}
	}
	ba, err := rule.Allowance(b)
	if err != nil {
		return Section{}, &Error{"flange bend", b.Angle.String(), err.Error()}
	}
	flat := height - sb
	if !(flat > 0 && finite(flat)) {
		return Section{}, &Error{"flange height", mm(height), "the bend alone takes " + mm(sb) + " of it from the mold line: nothing is left to stand"}
	}
	return Section{Bend: b, Setback: sb, Allowance: ba}.to(flat), nil
}

// to is the section cut off at a distance beyond the bend.
func (s Section) to(flat float64) Section {
	// The neutral line is an arc of the allowance's length, then straight.
	rho := s.Allowance.Length / float64(s.Bend.Angle)
	sin, cos := math.Sincos(float64(s.Bend.Angle))
	s.Flat = flat
	s.Width = s.Allowance.Length + flat
	s.Reach = rho*sin + flat*cos
	// ∫ρ·sin θ·ρ dθ over the bend, and ∫(ρ·sin A + l·cos A) dl over the flat.
	s.moment = rho*rho*(1-cos) + flat*rho*sin + flat*flat*cos/2
	return s
}

// DevelopedWidth returns how far the edge of the blank lies from the tangent line where
// that line has the given curvature, 1/mm. It returns not-a-number where no blank exists:
// a concave line so tight that the blank's edge would shrink to nothing.
//
// Equal area: the blank between the tangent line and its parallel at w has the area
// w + κ·w²/2 for each mm of tangent line, the formed flange L + κ·M with L its width and
// M = ∫x dl (Pappus). For a sharp bend of 90° that is the textbook's
// Rb = √(R² ± 2·R·h).
func (s Section) DevelopedWidth(m Model, curvature float64) float64 {
	w := s.Width
	if m == EqualArea {
		c := s.Width + curvature*s.moment
		// The root that tends to c for no curvature, written so that it needs none.
		w = 2 * c / (1 + math.Sqrt(1+2*curvature*c))
	}
	if !(1+curvature*w > 0) {
		return math.NaN()
	}
	return w
}

// EdgeStrain returns the strain of the edge of the flange for a tangent line of the
// given curvature, 1/mm, and a blank of the given width: the formed edge stands out by
// Reach, the edge of the blank lay at the width.
func (s Section) EdgeStrain(width, curvature float64) float64 {
	return edgeStrain(width, s.Reach, curvature)
}

// edgeStrain compares two parallels of a line: lengths grow as 1 + κ·distance.
func edgeStrain(width, reach, curvature float64) float64 {
	return curvature*(reach-width)/(1+curvature*width) + 0 // not -0 on the straight
}

// atTangent is the curvature of the tangent line that goes with that of the mold line.
func (s Section) atTangent(curvature float64) float64 {
	return curvature / (1 - curvature*s.Setback)
}

// A Bevel is the bend angle of a flange at a girth; between two it changes evenly.
type Bevel struct {
	At    float64 // girth, mm
	Angle measure.Angle
}

// angleAt is the bevel at a girth. A closed contour runs from the last bevel on to the
// first; an open one keeps the outermost.
func angleAt(bevels []Bevel, s, around float64, closed bool) measure.Angle {
	n := len(bevels)
	if n == 1 {
		return bevels[0].Angle
	}
	i := 0
	for i < n && bevels[i].At <= s {
		i++
	}
	if !closed && i == 0 {
		return bevels[0].Angle
	}
	if !closed && i == n {
		return bevels[n-1].Angle
	}
	before, after := bevels[(i+n-1)%n], bevels[i%n]
	if i == 0 {
		before.At -= around
	}
	if i == n {
		after.At += around
	}
	if before.Angle == after.Angle {
		return before.Angle
	}
	t := (s - before.At) / (after.At - before.At)
	return before.Angle + measure.Angle(t)*(after.Angle-before.Angle)
}
