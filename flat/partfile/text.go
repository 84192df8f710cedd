package partfile

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/hangarflat/hangarflat/material/measure"
)

// lengthText writes a length so that reading it gives the same number to the last
// bit: in inches where it is a 64th or a short decimal of them, else in mm.
func lengthText(mm float64) string {
	if mm == 0 {
		return "0 mm"
	}
	if text, rest := measure.FractionText(mm); rest == 0 && reads(text, mm) {
		return text
	}
	best := strconv.FormatFloat(mm, 'f', -1, 64) + " mm"
	for decimals := 6; decimals >= 3; decimals-- {
		text := strconv.FormatFloat(mm/measure.Inch, 'f', decimals, 64) + " in"
		if len(text) <= len(best) && reads(text, mm) {
			best = text
		}
	}
	return best
}

// reads reports whether a text reads as this very length.
func reads(text string, mm float64) bool {
	back, err := measure.ParseLength(text)
	return err == nil && back == mm
}

// angleText writes an angle so that reading it gives the same number to the last
// bit: in degrees where that is possible, else in radians.
func angleText(a measure.Angle) string {
	deg := a.Degrees()
	exact := func(text string) bool {
		back, err := measure.ParseAngle(text)
		return err == nil && back == a
	}
	for decimals := range 7 {
		text := strconv.FormatFloat(deg, 'f', decimals, 64) + " deg"
		if exact(text) {
			return text
		}
	}
	// Degrees and radians do not map one to one: a neighbour may be the one.
	for _, towards := range []float64{math.Inf(1), math.Inf(-1)} {
		x := deg
		for range 4 {
			if text := strconv.FormatFloat(x, 'f', -1, 64) + " deg"; exact(text) {
				return text
			}
			x = math.Nextafter(x, towards)
		}
	}
	return strconv.FormatFloat(a.Radians(), 'f', -1, 64) + " rad"
}

// quote writes a text as TOML does.
func quote(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for i := range len(s) { // by bytes: what is no UTF-8 stays so, for Read to refuse
		switch c := s[i]; {
		case c == '"' || c == '\\':
			b.WriteByte('\\')
			b.WriteByte(c)
		case c < ' ' || c == 0x7f:
			fmt.Fprintf(&b, `\u%04X`, c)
		default:
			b.WriteByte(c)
		}
	}
	b.WriteByte('"')
	return b.String()
}
