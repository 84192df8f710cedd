package measure

import (
	"math"
	"strconv"
)

// An Angle is stored in radians. Write 90*measure.Degree, never Angle(90).
//
// A bend angle is the angle the metal is turned through from flat; the angle
// between the legs is 180° less that. See [Angle.Opening].
type Angle float64

// Units of angle, to multiply a number with.
const (
	Radian Angle = 1
	Degree       = math.Pi / 180 * Radian
	Minute       = Degree / 60
)

// Degrees returns the angle in degrees.
func (a Angle) Degrees() float64 { return float64(a) * (180 / math.Pi) }

// Radians returns the angle in radians.
func (a Angle) Radians() float64 { return float64(a) }

// Opening returns the angle between the legs of a bend turned through a:
// 180° less a.
func (a Angle) Opening() Angle { return math.Pi - a }

// String prints the angle in degrees to two decimals at most, with the degree
// sign: "97.5°".
func (a Angle) String() string { return a.Text(2) }

// Text prints the angle in degrees with at most the given number of decimals,
// trailing zeros dropped, and the degree sign.
func (a Angle) Text(decimals int) string {
	return trimmed(a.Degrees(), decimals) + "°"
}

// trimmed prints x in fixed point, without trailing zeros and without "-0".
func trimmed(x float64, decimals int) string {
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if decimals > 0 && !math.IsNaN(x) && !math.IsInf(x, 0) {
		for s[len(s)-1] == '0' {
			s = s[:len(s)-1]
		}
		if s[len(s)-1] == '.' {
			s = s[:len(s)-1]
		}
	}
	if s == "-0" {
		return "0"
	}
	return s
}
