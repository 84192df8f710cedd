package flat

import (
	"fmt"
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

// faults gathers the errors of one place.
type faults struct {
	all         *[]error
	place, path string
}

func (f faults) in(place, path string) faults {
	if f.place != "" && place != "" {
		place = f.place + ", " + place
	} else if place == "" {
		place = f.place
	}
	if f.path != "" {
		path = f.path + "." + path
	}
	return faults{f.all, place, path}
}

func (f faults) add(field, value, rule string) {
	path := field
	if f.path != "" {
		path = f.path
		if field != "" {
			path += "." + field
		}
	}
	*f.all = append(*f.all, &Error{f.place, path, value, rule})
}

// length checks a length in mm against lo <= x <= hi; NaN fails.
func (f faults) length(field string, x, lo, hi float64, rule string) {
	if !(lo <= x && x <= hi) {
		f.add(field, mm(x), rule)
	}
}

func (f faults) angle(field string, a, lo, hi measure.Angle, rule string) {
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
