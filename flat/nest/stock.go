package nest

import (
	"errors"
	"fmt"
	"math"
	"strconv"

	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

// Stock is the sheet blanks are cut from, and how they are cut.
type Stock struct {
	Length float64 // along the grain, mm
	Width  float64 // mm
	Gap    float64 // kept between blanks for the cutter or the snips, mm
	Margin float64 // kept from the edges of the sheet, mm
}

// A Piece is a blank to be laid on a sheet.
type Piece struct {
	Name    string
	Outline outline.Path // closed, counter-clockwise
	Grain   material.Grain
}

// An Error says which value cannot be used and why.
type Error struct {
	Field, Value, Rule string
	Err                error // what refused an outline, or nil
}

func (e *Error) Error() string { return e.Field + " " + e.Value + ": " + e.Rule }

// Unwrap returns what refused an outline, or nil.
func (e *Error) Unwrap() error { return e.Err }

// Limits of what is taken for a sheet of stock.
const (
	shortest = 10.0 // mm
	longest  = 30e3 // mm: no sheet; coil is cut first
)

// Validate returns every fault of the stock, each an [*Error].
func (s Stock) Validate() error {
	var faults []error
	check := func(field string, x, lo, hi float64, rule string) {
		if !(lo <= x && x <= hi) {
			if x > 0 && x < lo {
				rule += ": if inches were meant, write " + strconv.FormatFloat(x, 'g', -1, 64) + "*measure.Inch"
			}
			faults = append(faults, &Error{Field: field, Value: strconv.FormatFloat(x, 'g', -1, 64) + " mm", Rule: rule})
		}
	}
	check("length", s.Length, shortest, longest, "a sheet is 10 mm to 30 m long")
	check("width", s.Width, shortest, longest, "a sheet is 10 mm to 30 m wide")
	check("gap", s.Gap, 0, 500, "must be 0 to 500 mm")
	check("margin", s.Margin, 0, 500, "must be 0 to 500 mm")
	if len(faults) == 0 && !(2*s.Margin < min(s.Length, s.Width)) {
		faults = append(faults, &Error{Field: "margin", Value: measure.Both(s.Margin), Rule: "leaves nothing of a sheet " + s.size()})
	}
	return errors.Join(faults...)
}

func (s Stock) size() string {
	return measure.InchText(s.Length, 2) + " x " + measure.InchText(s.Width, 2)
}

func (p Piece) validate(i int) error {
	name := strconv.Itoa(i+1) + " " + strconv.Quote(p.Name)
	if err := p.Outline.Validate(); err != nil {
		return &Error{Field: "outline of piece", Value: name, Rule: err.Error(), Err: err}
	}
	if !p.Outline.Closed || !(p.Outline.Area() > 0) {
		return &Error{Field: "outline of piece", Value: name, Rule: "must be closed and run counter-clockwise"}
	}
	if b := p.Outline.Bounds(); !(max(b.Max.X-b.Min.X, b.Max.Y-b.Min.Y) <= longest) {
		return &Error{Field: "outline of piece", Value: name, Rule: "is more than 30 m long: a slip of unit?"}
	}
	if a := float64(p.Grain.Angle); p.Grain.Stated && !(math.Abs(a) <= 1e6) {
		return &Error{Field: "grain of piece", Value: fmt.Sprintf("%s: %v", name, p.Grain.Angle), Rule: "must be a finite angle"}
	}
	return nil
}

// turns are the ways a piece may lie.
func (p Piece) turns() []measure.Angle {
	const quarter = 90 * measure.Degree
	if p.Grain.Stated {
		return []measure.Angle{-p.Grain.Angle, 2*quarter - p.Grain.Angle}
	}
	return []measure.Angle{0, quarter, 2 * quarter, 3 * quarter}
}
