package fold

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// An Error names a fault of a [Flat].
type Error struct {
	Field string
	Value float64
	Rule  string
}

func (e *Error) Error() string { return fmt.Sprintf("%s %g: %s", e.Field, e.Value, e.Rule) }

// farthest bounds every coordinate, mm: a kilometre of sheet is a unit slip.
const farthest = 1e6

func (f Flat) validate() error {
	var faults []error
	fault := func(field string, value float64, rule string) {
		faults = append(faults, &Error{field, value, rule})
	}
	if !(f.Thickness > 0 && f.Thickness <= farthest) {
		fault("thickness", f.Thickness, "must be above 0 mm")
	}
	if len(f.Panels) == 0 {
		fault("panels", 0, "must hold at least the panel that stays still")
	}
	for i, corners := range f.Panels {
		if len(corners) < 3 {
			fault(fmt.Sprintf("panel %d corners", i), float64(len(corners)), "must be at least 3")
		}
		for k, c := range corners {
			if !within(c) {
				fault(fmt.Sprintf("panel %d corner %d", i, k), worst(c), "must be finite and within a kilometre")
			}
		}
	}
	hung, twisted := make([]bool, len(f.Panels)+1), make([]bool, len(f.Panels))
	hung[0] = true
	for i, b := range f.Bends {
		name := func(field string) string { return fmt.Sprintf("bend %d %s", i, field) }
		for _, at := range b.cuts() {
			if !(at.Angle > 0 && at.Angle <= math.Pi) {
				fault(name("angle"), at.Angle.Degrees(), "must be above 0 and at most 180 degrees")
			}
			if !(at.Width > 0 && at.Width <= farthest) {
				fault(name("width"), at.Width, "must be above 0 mm")
			}
			if !(math.Abs(at.Near) <= farthest) {
				fault(name("near"), at.Near, "must be finite and within a kilometre")
			}
		}
		for k := 1; k < len(b.Sections); k++ {
			if !(b.Sections[k].At > b.Sections[k-1].At) {
				fault(name("sections"), b.Sections[k].At, "must stand in order along the bend")
			}
		}
		if len(b.Sections) == 1 {
			fault(name("sections"), 1, "must be none, or two and more")
		}
		if b.Parent >= 0 && b.Parent < len(twisted) && twisted[b.Parent] {
			fault(name("parent"), float64(b.Parent), "must not be a panel whose bevel changes")
		}
		if b.Child >= 0 && b.Child < len(twisted) {
			twisted[b.Child] = len(b.Sections) > 0
		}
		if !(b.Radius >= 0 && b.Radius <= farthest) {
			fault(name("radius"), b.Radius, "must be 0 mm or more")
		}
		if !within(b.A) || !within(b.B) || !(r2.Norm(r2.Sub(b.B, b.A)) > 0) {
			fault(name("tangent line length"), r2.Norm(r2.Sub(b.B, b.A)), "must be above 0 mm and within a kilometre")
		}
		if b.Parent < 0 || b.Parent >= len(f.Panels) || !hung[b.Parent] {
			fault(name("parent"), float64(b.Parent), "must be a panel already in place")
			continue
		}
		if b.Child < 0 || b.Child >= len(f.Panels) || hung[b.Child] {
			fault(name("child"), float64(b.Child), "must be a panel not yet in place")
			continue
		}
		hung[b.Child] = true
	}
	for i := range f.Panels {
		if !hung[i] {
			fault("panel", float64(i), "hangs from no bend")
		}
	}
	return errors.Join(faults...)
}

// cuts are the sections of a bend, or the one it has all along.
func (b *Bend) cuts() []Section {
	if len(b.Sections) > 0 {
		return b.Sections
	}
	return []Section{{Width: b.Width, Angle: b.Angle}}
}

func within(p r2.Vec) bool { return math.Abs(p.X) <= farthest && math.Abs(p.Y) <= farthest }

// worst is the coordinate that breaks the rule.
func worst(p r2.Vec) float64 {
	if !(math.Abs(p.X) <= farthest) {
		return p.X
	}
	return p.Y
}
