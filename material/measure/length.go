package measure

import (
	"math"
	"strconv"
	"strings"
)

// Units of length in millimetres, to multiply a number with. The inch is 25.4 mm
// exactly (international yard and pound agreement of 1959).
const (
	Millimetre = 1.0
	Centimetre = 10.0
	Metre      = 1000.0
	Inch       = 25.4
	Thou       = Inch / 1000
	Foot       = 12 * Inch
)

// InchText prints a length in mm as inches with the given number of decimals:
// InchText(1.016, 3) is "0.040 in".
func InchText(mm float64, decimals int) string {
	return Fixed(mm/Inch, decimals) + " in"
}

// MmText prints a length in mm with the given number of decimals: "1.016 mm".
func MmText(mm float64, decimals int) string {
	return Fixed(mm, decimals) + " mm"
}

// Both prints a length the way a bench card does, inches first and millimetres
// beside: "0.0400 in (1.016 mm)".
func Both(mm float64) string {
	return InchText(mm, 4) + " (" + MmText(mm, 3) + ")"
}

// FractionText prints a length to the nearest 1/64 inch, reduced: "1 3/8 in",
// "1/64 in", "0 in". The second result is what the fraction leaves out, in mm
// (length less printed length). A length that is not finite prints as it stands.
func FractionText(mm float64) (text string, rest float64) {
	const sixtyFourth = Inch / 64
	n := math.Round(mm / sixtyFourth)
	if !(math.Abs(n) < 1<<52) {
		return InchText(mm, 4), 0
	}
	rest = mm - n*sixtyFourth
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	whole, num, den := int64(n)/64, int64(n)%64, int64(64)
	for num != 0 && num%2 == 0 {
		num, den = num/2, den/2
	}
	var parts []string
	if whole != 0 || num == 0 {
		parts = append(parts, strconv.FormatInt(whole, 10))
	}
	if num != 0 {
		parts = append(parts, strconv.FormatInt(num, 10)+"/"+strconv.FormatInt(den, 10))
	}
	return sign + strings.Join(parts, " ") + " in", rest
}

// Fixed prints a number with the given decimals, halves away from zero and never a minus before nothing. A half
// that its computation left a hair short is a half: 3/16 in made mm and back prints as 0.188, as the trade has it.
func Fixed(x float64, decimals int) string {
	const hair = 1 + 1e-12
	if y := x * hair; !math.IsInf(y, 0) {
		x = y
	}
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.HasPrefix(s, "-") && strings.Trim(s, "-0.") == "" {
		return s[1:]
	}
	return s
}
