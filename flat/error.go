package flat

import (
	"fmt"
	"slices"
	"strconv"

	"github.com/hangarflat/hangarflat/material/measure"
)

// An Error names the field of a part that breaks a rule. All faults of a part are
// joined (errors.Join); errors.As finds the first.
type Error struct {
	// Place says where in words: `edge "aft", flange "aft"`.
	Place string
	// Path says where for a program: `web.edges[1].flanges[0].angle`.
	Path string
	// Value as it was given, with its unit.
	Value string
	// Rule that it breaks.
	Rule string
}

func (e *Error) Error() string {
	s := e.Place
	if s != "" {
		s += ": "
	}
	if e.Value != "" {
		s += lastField(e.Path) + " " + e.Value + ": "
	}
	return s + e.Rule
}

// lastField is the field name at the end of a path, without its index.
func lastField(path string) string {
	start := 0
	for i := range path {
		if path[i] == '.' {
			start = i + 1
		}
	}
	return path[start:]
}

// faults gathers the errors of one place. The place is kept as the steps that lead
// to it and spelled out only when something is wrong there: most parts are right.
type faults struct {
	all        *[]error
	around     *faults // the place this one is part of; nil for the part
	kind, name string  // in words
	field      string  // for a program
	index      int     // of a thing of which there are many, else -1
}

// in is a place within f of which there is one; place in words may be empty.
func (f *faults) in(place, path string) *faults {
	return &faults{all: f.all, around: f, kind: place, field: path, index: -1}
}

// nth is one of many alike within f: `flange "aft"`, flanges[2].
func (f *faults) nth(kind, name, field string, i int) *faults {
	return &faults{all: f.all, around: f, kind: kind, name: name, field: field, index: i}
}

// place says where f is in words.
func (f *faults) place() string {
	if f == nil {
		return ""
	}
	around, own := f.around.place(), f.kind
	if f.index >= 0 {
		own = quoted(f.kind, f.name, f.index)
	}
	if around != "" && own != "" {
		return around + ", " + own
	}
	return around + own
}

// path says where f is for a program.
func (f *faults) path() string {
	if f == nil {
		return ""
	}
	around, own := f.around.path(), f.field
	if f.index >= 0 {
		own = indexed(f.field, f.index)
	}
	if around != "" {
		return around + "." + own
	}
	return own
}

// distinct leaves out what has been said: the two ends of a flange may find the same.
func distinct(all []error) []error {
	said := map[Error]bool{}
	return slices.DeleteFunc(all, func(err error) bool {
		e, ok := err.(*Error)
		again := ok && said[*e]
		if ok {
			said[*e] = true
		}
		return again
	})
}

func (f *faults) add(field, value, rule string) {
	path := f.path()
	if path != "" && field != "" {
		path += "."
	}
	*f.all = append(*f.all, &Error{f.place(), path + field, value, rule})
}

// length checks a length in mm against lo <= x <= hi; NaN fails.
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

func mm(x float64) string { return strconv.FormatFloat(x, 'g', 8, 64) + " mm" }

func quoted(kind, name string, i int) string {
	if name == "" {
		return fmt.Sprintf("%s %d", kind, i+1)
	}
	return fmt.Sprintf("%s %q", kind, name)
}

func indexed(field string, i int) string { return field + "[" + strconv.Itoa(i) + "]" }
