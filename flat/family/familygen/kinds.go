package main

import (
	"fmt"
	"math"
	"strconv"

	"github.com/hangarflat/hangarflat/flat/family"
	"github.com/hangarflat/hangarflat/material/measure"
)

// A kind is what the cells of a column hold.
type kind uint8

const (
	words  kind = iota // anything else
	length             // every cell a length, wherever its word stands a value of its own
	angle
)

// A field is a word of the template as the package has it.
type field struct {
	word, name string
	kind
	least, most float64 // of the column, mm or radians
}

func (k kind) goType() string { return [...]string{"string", "float64", "measure.Angle"}[k] }

// kindOf finds what a column holds. Cells are read as the part file reads them.
func kindOf(t family.Template, column int, rows []family.Member) field {
	f := field{word: t.Words[column], least: math.Inf(1), most: math.Inf(-1)}
	if !t.Alone(f.word) || len(rows) == 0 {
		return f
	}
	for _, k := range []kind{length, angle} {
		f.least, f.most = math.Inf(1), math.Inf(-1)
		all := true
		for _, m := range rows {
			x, ok := k.read(m.Texts[column])
			all = all && ok
			f.least, f.most = min(f.least, x), max(f.most, x)
		}
		if all {
			f.kind = k
			return f
		}
	}
	return f
}

func (k kind) read(cell string) (float64, bool) {
	if k == length {
		mm, err := measure.ParseLength(cell)
		return mm, err == nil
	}
	a, err := measure.ParseAngle(cell)
	return float64(a), err == nil
}

// literal writes a cell as a Go expression: in inches or degrees where that is short
// and the same to the last bit but one, else as the number itself.
func (k kind) literal(cell string) string {
	x, _ := k.read(cell)
	unit, name := measure.Inch, "measure.Inch"
	switch k {
	case words:
		return strconv.Quote(cell)
	case angle:
		unit, name = float64(measure.Degree), "measure.Degree"
	}
	for decimals := range 7 {
		text := strconv.FormatFloat(x/unit, 'f', decimals, 64)
		// The compiler multiplies constants exactly and rounds once, so that its inches
		// may differ from those of a multiplication at run time by one rounding.
		if n, err := strconv.ParseFloat(text, 64); err == nil && n != 0 && math.Abs(n*unit-x) <= 0x1p-52*math.Abs(x) {
			return text + " * " + name
		}
	}
	return strconv.FormatFloat(x, 'g', -1, 64)
}

// span says which values a column holds.
func (f field) span() string {
	switch {
	case f.kind == words:
		return "text"
	case f.kind == angle && f.least == f.most:
		return measure.Angle(f.least).String() + " throughout the table"
	case f.kind == angle:
		return fmt.Sprintf("%s to %s in the table", measure.Angle(f.least), measure.Angle(f.most))
	case f.least == f.most:
		return "mm; " + measure.Both(f.least) + " throughout the table"
	}
	return fmt.Sprintf("mm; %s to %s in the table", measure.Both(f.least), measure.Both(f.most))
}
