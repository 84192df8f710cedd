package material

import (
	"math"
	"strconv"
	"strings"

	"github.com/hangarflat/hangarflat/material/measure"
)

// A GaugeSystem is a numbering of sheet thicknesses. One number means a different
// sheet in each.
type GaugeSystem uint8

const (
	BrownSharpe GaugeSystem = 1 + iota // American wire gauge: aluminium and copper alloys in America
	SWG                                // British standard wire gauge
	USStandard                         // gauge of the United States statute: stainless and older steel
	SheetSteel                         // American sheet-steel makers' gauge: carbon steel
)

// String is the word written after a gauge number.
func (g GaugeSystem) String() string {
	switch g {
	case BrownSharpe:
		return "B&S"
	case SWG:
		return "SWG"
	case USStandard:
		return "USG"
	case SheetSteel:
		return "MSG"
	}
	return "no gauge"
}

type gaugeSize struct {
	mm         float64 // 0 where the table prints none
	provenance Provenance
}

type gaugeTable struct {
	document, place string
	first           int // number of sizes[0]; 2/0 is -1, 7/0 is -6
	sizes           []gaugeSize
}

func (g GaugeSystem) table() *gaugeTable {
	switch g {
	case BrownSharpe:
		return &brownSharpe
	case SWG:
		return &swg
	case USStandard:
		return &usStandard
	case SheetSteel:
		return &sheetSteel
	}
	return nil
}

// Gauge returns the thickness in mm of a gauge number and where it stands. Numbers
// above nought are negative: 2/0 is -1, 7/0 is -6. It returns an [*Error] for a number the table
// does not hold, and for a system that is none of those named.
func (g GaugeSystem) Gauge(number int) (float64, Source, error) {
	t := g.table()
	if t == nil {
		return 0, Source{}, &Error{"gauge", strconv.Itoa(number), "name its system: B&S, SWG, USG or MSG"}
	}
	last := t.first + len(t.sizes) - 1
	if number < t.first || number > last {
		return 0, Source{}, &Error{"gauge", gaugeText(number) + " " + g.String(),
			"is not in the table, which runs from " + gaugeText(t.first) + " to " + gaugeText(last)}
	}
	size := t.sizes[number-t.first]
	if size.mm == 0 {
		return 0, Source{}, &Error{"gauge", gaugeText(number) + " " + g.String(), "is left out of the table at hand: give the thickness itself"}
	}
	return size.mm, Source{t.document, t.place, size.provenance}, nil
}

// Nearest returns the gauge number whose thickness is nearest and that thickness in
// mm. Thickness must be above 0 and finite. For any other, and for a system that is none of those
// named, it returns an [*Error].
func (g GaugeSystem) Nearest(thickness float64) (number int, mm float64, err error) {
	t := g.table()
	if t == nil {
		return 0, 0, &Error{"gauge", g.String(), "name its system: B&S, SWG, USG or MSG"}
	}
	if !(0 < thickness && thickness <= math.MaxFloat64) {
		return 0, 0, thicknessFault(thickness)
	}
	best := math.Inf(1)
	for i, size := range t.sizes {
		if off := math.Abs(size.mm - thickness); size.mm > 0 && off < best {
			best, number, mm = off, t.first+i, size.mm
		}
	}
	return number, mm, nil
}

// gaugeText prints -6 as "7/0".
func gaugeText(n int) string {
	if n < 0 {
		return strconv.Itoa(1-n) + "/0"
	}
	return strconv.Itoa(n)
}

// gaugeNumber reads "18", "0", "7/0".
func gaugeNumber(s string) (int, bool) {
	count, many := strings.CutSuffix(s, "/0")
	if s == "" || len(count) > 3 || strings.Trim(count, "0123456789") != "" {
		return 0, false
	}
	n, err := strconv.Atoi(count)
	if many {
		return 1 - n, err == nil && n >= 2
	}
	return n, err == nil
}

// systemNamed reads the word of a gauge system. found is false for a unit of length.
func systemNamed(word string) (g GaugeSystem, found bool) {
	switch strings.ToUpper(strings.TrimSpace(word)) {
	case "B&S", "AWG", "BROWN & SHARPE", "BROWN AND SHARPE", "B & S":
		return BrownSharpe, true
	case "SWG", "ISWG":
		return SWG, true
	case "USG", "US", "US STANDARD", "US STD", "USS":
		return USStandard, true
	case "MSG", "SHEET STEEL":
		return SheetSteel, true
	case "GAUGE", "GAGE", "GA", "GA.", "G":
		return 0, true
	}
	return 0, false
}

// ParseThickness reads the thickness of a sheet and returns mm: a length with its
// unit ("0.040 in", "1.2 mm", "40 thou") or a gauge with its system ("20 SWG",
// "18 B&S", "22 USG", "16 MSG", "No. 20 SWG"). A bare number, a gauge without a system
// and a thickness outside 0.1 to 30 mm are refused with an [*Error] or, for what is
// no length at all, a [*measure.SyntaxError].
func ParseThickness(s string) (mm float64, err error) {
	mm, _, err = ParseGauged(s)
	return mm, err
}

// ParseGauged is [ParseThickness] and tells by which gauge the thickness was given, as
// [Sheet] keeps it: zero for a length. Its errors are those of ParseThickness.
func ParseGauged(s string) (mm float64, by GaugeSystem, err error) {
	number, word := splitGauge(s)
	by, isGauge := systemNamed(word)
	if isGauge {
		mm, err = by.numbered(s, number)
	} else {
		mm, err = measure.ParseLength(s)
	}
	if err != nil {
		return 0, 0, err
	}
	if !(thinnest <= mm && mm <= thickest) {
		return 0, 0, &Error{"thickness", strconv.Quote(s), "is not the thickness of a sheet, 0.1 to 30 mm: look for a slip of unit"}
	}
	return mm, by, nil
}

// numbered is the thickness of the gauge number in a text.
func (g GaugeSystem) numbered(text, number string) (mm float64, err error) {
	n, ok := gaugeNumber(number)
	switch {
	case !ok:
		return 0, &Error{"gauge", strconv.Quote(text), "want a whole gauge number and its system, such as 20 SWG or 2/0 B&S"}
	case g == 0:
		return 0, &Error{"gauge", strconv.Quote(text), "gauge of which system? write " + number + " B&S, " + number + " SWG, " + number + " USG or " + number + " MSG"}
	}
	mm, _, err = g.Gauge(n)
	return mm, err
}

// splitGauge parts "No. 20 SWG" and "SWG 20" into number and word.
func splitGauge(s string) (number, word string) {
	s = strings.TrimSpace(s)
	for _, prefix := range []string{"No.", "no.", "No ", "no ", "#"} {
		s = strings.TrimPrefix(s, prefix)
	}
	s = strings.TrimSpace(s)
	if first := strings.IndexAny(s, "0123456789"); first > 0 {
		return strings.TrimSpace(s[first:]), strings.TrimSpace(s[:first])
	}
	end := len(s) - len(strings.TrimLeft(s, "0123456789/."))
	return s[:end], s[end:]
}
