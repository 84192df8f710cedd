package bend

import (
	"errors"
	"math"
	"strconv"

	"github.com/hangarflat/hangarflat/material/measure"
)

// An Error says which value of an input is at fault and by which rule.
type Error struct {
	Field string // "angle", "radius", "thickness", "K", "strip \"7\" blank"
	Value string // as given, with its unit: "190°", "0.040 mm"
	Rule  string // what it must be, and the unit slip that is likely
}

func (e *Error) Error() string { return e.Field + " " + e.Value + ": " + e.Rule }

// Limits of what is taken for a bend in sheet. They exist to catch a number given
// in the wrong unit, not to judge the bend.
const (
	thinnest      = 0.1 // mm; an inch figure such as .040 read as mm falls below it
	thickest      = 30  // mm; a thou figure such as 40 read as mm lies above it
	largestRadius = 1e5 // mm; 100 m
)

// Validate reports every field that cannot be a bend in sheet metal: the errors
// are of type [*Error], joined. A nil answer means that angle, radius and
// thickness are finite, 0 < A <= 180°, R is 0 or more and T is a sheet thickness.
func (b Bend) Validate() error {
	if b.valid() {
		return nil
	}
	return errors.Join(angleFault(b.Angle), radiusFault(b.Radius), thicknessFault(b.Thickness))
}

// valid is Validate without the words, for the hot path. NaN fails every test.
func (b Bend) valid() bool {
	return 0 < b.Angle && b.Angle <= math.Pi &&
		0 <= b.Radius && b.Radius <= largestRadius &&
		thinnest <= b.Thickness && b.Thickness <= thickest
}

func angleFault(a measure.Angle) error {
	if 0 < a && a <= math.Pi {
		return nil
	}
	rule := "the bend angle is turned through from flat: above 0° and at most 180°"
	switch {
	case 2*math.Pi < a && a <= 180:
		rule += "; if degrees were meant, write " + plain(float64(a)) + "*measure.Degree"
	case -math.Pi <= a && a < 0:
		rule += "; the way it turns is not its sign"
	}
	return &Error{Field: "angle", Value: a.String(), Rule: rule}
}

func radiusFault(r float64) error {
	switch {
	case 0 <= r && r <= largestRadius:
		return nil
	case r > largestRadius && !math.IsInf(r, 1):
		return &Error{"radius", lengthText(r), "an inside radius above 100 m is not a bend: look for a slip of unit"}
	}
	return &Error{"radius", lengthText(r), "an inside radius must be 0 or more and finite"}
}

func thicknessFault(t float64) error {
	switch {
	case thinnest <= t && t <= thickest:
		return nil
	case 0 < t && t < thinnest:
		return &Error{"thickness", lengthText(t), "thinner than 0.1 mm: if inches were meant, write " + plain(t) + "*measure.Inch"}
	case t > thickest && !math.IsInf(t, 1):
		return &Error{"thickness", lengthText(t), "thicker than 30 mm: if thousandths were meant, write " + plain(t) + "*measure.Thou"}
	}
	return &Error{"thickness", lengthText(t), "a thickness must be above 0 and finite"}
}

// lengthText prints a faulty length in full, so that the reader recognises it.
func lengthText(mm float64) string { return plain(mm) + " mm" }

func plain(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
