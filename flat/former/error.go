package former

import (
	"errors"
	"math"
	"strconv"

	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

// An Error says which value of a former is at fault and by which rule.
type Error struct {
	Field string // `outer flange height`, `cut-out "S3" width`
	Value string // as given, with its unit; empty where something is missing
	Rule  string
}

func (e *Error) Error() string {
	if e.Value == "" {
		return e.Field + ": " + e.Rule
	}
	return e.Field + " " + e.Value + ": " + e.Rule
}

// faults gathers all that is wrong with an input.
type faults []error

func (f *faults) add(field, value, rule string) { *f = append(*f, &Error{field, value, rule}) }

// length checks lo <= x <= hi, mm; not-a-number fails.
func (f *faults) length(field string, x, lo, hi float64, rule string) {
	if !(lo <= x && x <= hi) {
		f.add(field, mm(x), rule)
	}
}

func (f *faults) angle(field string, a, lo, hi measure.Angle, rule string) {
	if !(lo <= a && a <= hi) {
		f.add(field, a.Text(4), rule)
	}
}

func (f faults) err() error { return errors.Join(f...) }

func mm(x float64) string { return strconv.FormatFloat(x, 'g', 8, 64) + " mm" }

func number(x float64) string { return strconv.FormatFloat(x, 'g', 6, 64) }

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

const longest = 1e5 // mm; no former is 100 m round

var geometry = material.Source{Document: "geometry of the curved flange", Provenance: material.Derived}

func practice(what string) material.Source {
	return material.Source{Document: what, Provenance: material.CommonPractice}
}

func remembered(document string) material.Source {
	return material.Source{Document: document, Provenance: material.Memory}
}
