package measure

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// A SyntaxError says what is wrong with a text that should be a length or an
// angle. Text is the input as given, Rule the form that was expected.
type SyntaxError struct {
	Text string
	Rule string
}

func (e *SyntaxError) Error() string { return fmt.Sprintf("%q: %s", e.Text, e.Rule) }

// lengthUnit gives the size in mm of what a maker writes after a length.
func lengthUnit(s string) (size float64, known bool) {
	switch strings.ToLower(s) {
	case "mm", "millimetre", "millimetres", "millimeter", "millimeters":
		return Millimetre, true
	case "cm":
		return Centimetre, true
	case "m":
		return Metre, true
	case "in", "inch", "inches", `"`, "″":
		return Inch, true
	case "thou", "mil":
		return Thou, true
	case "ft", "foot", "feet":
		return Foot, true
	}
	return 0, false
}

func angleUnit(s string) (size Angle, known bool) {
	switch strings.ToLower(s) {
	case "deg", "degree", "degrees", "°":
		return Degree, true
	case "rad", "radian", "radians":
		return Radian, true
	case "'", "min", "′":
		return Minute, true
	}
	return 0, false
}

// ParseLength reads a length with its unit and returns millimetres. It takes
// decimals and fractions: "0.040 in", "1.2 mm", "3/32 in", "1 3/8 in", "40 thou",
// `2.5"`. A bare number is refused, as is anything not finite.
func ParseLength(s string) (mm float64, err error) {
	num, unit := split(s)
	if num == "" || unit == "" && !isNumber(num) { // such as "0.040 in 2024-T3", which ends in a digit too
		return 0, &SyntaxError{s, `a length is a number and its unit, such as "1.2 mm" or "3/32 in"`}
	}
	if unit == "" {
		return 0, &SyntaxError{s, `a bare number has no unit: write "` + num + ` mm" or "` + num + ` in"`}
	}
	size, known := lengthUnit(unit)
	if !known {
		if _, angle := angleUnit(unit); angle {
			return 0, &SyntaxError{s, "a length is wanted here, this is an angle"}
		}
		return 0, &SyntaxError{s, `unknown unit "` + unit + `": use mm, cm, m, in, thou or ft`}
	}
	x, ok := number(num)
	if !ok || math.IsInf(x*size, 0) {
		return 0, &SyntaxError{s, `"` + num + `" is not a number: write a decimal or a fraction such as 1 3/8`}
	}
	return x * size, nil
}

// ParseLengthUnit reads a unit of length that stands alone, as at the head of a
// column, and returns its size in mm. It takes the names that [ParseLength] takes.
// A number beside the unit is refused: 1/8 in is a length, and 3 of them are not 3 1/8 in.
func ParseLengthUnit(s string) (mm float64, err error) {
	size, known := lengthUnit(strings.TrimSpace(s))
	if !known {
		return 0, &SyntaxError{s, "a unit of length is wanted here, alone: mm, cm, m, in, thou or ft"}
	}
	return size, nil
}

// ParseAngle reads an angle with its unit: "97.5 deg", "97.5°", "1.2 rad", or
// degrees and minutes "97 30'" and "97° 30'". A bare number is refused.
func ParseAngle(s string) (Angle, error) {
	num, unit := split(s)
	if minutes := strings.TrimSpace(s) + "'"; unit == "" && isDegreesMinutes(minutes) {
		return 0, &SyntaxError{s, `two numbers without a mark: write "` + minutes + `" for degrees and minutes`}
	}
	if num == "" || unit == "" && !isNumber(num) {
		return 0, &SyntaxError{s, `an angle is a number and its unit, such as "97.5 deg" or "97 30'"`}
	}
	if unit == "" {
		return 0, &SyntaxError{s, `a bare number has no unit: write "` + num + ` deg"`}
	}
	if a, ok, err := degreesMinutes(s); ok {
		return a, err
	}
	size, known := angleUnit(unit)
	if !known {
		if _, length := lengthUnit(unit); length {
			return 0, &SyntaxError{s, "an angle is wanted here, this is a length"}
		}
		return 0, &SyntaxError{s, `unknown unit "` + unit + `": use deg, ° or rad, or degrees and minutes as 97 30'`}
	}
	x, ok := number(num)
	if !ok || math.IsInf(x, 0) {
		return 0, &SyntaxError{s, `"` + num + `" is not a number: write a decimal such as 97.5`}
	}
	return Angle(x) * size, nil
}

// degreesMinutes reads the two-part form "97 30'", "97° 30'", "97 deg 30 min".
// ok is false when s has not that shape.
func degreesMinutes(s string) (a Angle, ok bool, err error) {
	body := strings.TrimSpace(s)
	for _, mark := range []string{"'", "′", "min"} {
		body = strings.TrimSuffix(body, mark)
	}
	if body == strings.TrimSpace(s) {
		return 0, false, nil
	}
	for _, mark := range []string{"°", "degrees", "degree", "deg"} {
		body = strings.Replace(body, mark, " ", 1)
	}
	parts := strings.Fields(body)
	if len(parts) != 2 {
		return 0, false, nil
	}
	whole, errWhole := strconv.Atoi(parts[0]) // takes a sign
	minutes, okMinutes := decimal(parts[1])
	if errWhole != nil || !okMinutes || !(0 <= minutes && minutes < 60) {
		return 0, true, &SyntaxError{s, "degrees and minutes are a whole number of degrees and 0 to under 60 minutes, such as 97 30'"}
	}
	sign := Angle(1)
	if strings.HasPrefix(parts[0], "-") {
		sign, whole = -1, -whole
	}
	return sign * (Angle(whole)*Degree + Angle(minutes)*Minute), true, nil
}

func isDegreesMinutes(s string) bool {
	_, ok, err := degreesMinutes(s)
	return ok && err == nil
}

// split parts a text after its last digit, decimal point included.
func split(s string) (num, unit string) {
	s = strings.TrimSpace(s)
	last := strings.LastIndexAny(s, "0123456789")
	if last < 0 {
		return "", s
	}
	last++
	if last < len(s) && s[last] == '.' {
		last++
	}
	return strings.TrimSpace(s[:last]), strings.TrimSpace(s[last:])
}

func isNumber(s string) bool {
	_, ok := number(s)
	return ok
}

// number reads a decimal, a fraction "3/32" or a mixed number "1 3/8".
func number(s string) (float64, bool) {
	sign := 1.0
	if rest, minus := strings.CutPrefix(s, "-"); minus {
		sign, s = -1, strings.TrimSpace(rest)
	}
	parts := strings.Fields(s)
	switch len(parts) {
	case 1:
		if x, ok := fraction(parts[0]); ok {
			return sign * x, true
		}
		x, ok := decimal(parts[0])
		return sign * x, ok
	case 2:
		whole, okWhole := decimal(parts[0])
		part, okPart := fraction(parts[1])
		if !okWhole || !okPart || whole != math.Trunc(whole) || part >= 1 {
			return 0, false
		}
		return sign * (whole + part), true
	}
	return 0, false
}

func fraction(s string) (float64, bool) {
	above, below, isFraction := strings.Cut(s, "/")
	if !isFraction {
		return 0, false
	}
	n, errN := strconv.ParseUint(above, 10, 32)
	d, errD := strconv.ParseUint(below, 10, 32)
	if errN != nil || errD != nil || d == 0 {
		return 0, false
	}
	return float64(n) / float64(d), true
}

// decimal reads plain digits with an optional point: no exponent, no "inf", no
// "0x", no sign (number has taken it).
func decimal(s string) (float64, bool) {
	if s == "" || strings.Trim(s, "0123456789.") != "" {
		return 0, false
	}
	x, err := strconv.ParseFloat(s, 64)
	return x, err == nil
}
