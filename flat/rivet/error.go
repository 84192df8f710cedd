package rivet

import (
	"errors"
	"math"
	"strconv"

	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
)

// An Error says which value of an input is at fault and by which rule.
type Error struct {
	Field string // `pattern "lap" pitch`
	Value string // as given, with its unit; empty where something is missing
	Rule  string
	cause error
}

func (e *Error) Error() string {
	if e.Value == "" {
		return e.Field + ": " + e.Rule
	}
	return e.Field + " " + e.Value + ": " + e.Rule
}

// Unwrap returns what the geometry below refused, if it did.
func (e *Error) Unwrap() error { return e.cause }

// faults gathers all that is wrong with an input.
type faults []error

func (f *faults) add(field, value, rule string) {
	*f = append(*f, &Error{Field: field, Value: value, Rule: rule})
}

// length checks lo <= x <= hi, mm; not-a-number fails.
func (f *faults) length(field string, x, lo, hi float64, rule string) {
	if !(lo <= x && x <= hi) {
		f.add(field, mm(x), rule)
	}
}

func placed(p r2.Vec) bool { return math.Abs(p.X) <= 2*longest && math.Abs(p.Y) <= 2*longest }

// holes checks the places of a row's rivets. Of many faults it names the first few.
func (f *faults) holes(row Row) {
	const few = 5
	n := 0
	for i, h := range row.Holes {
		if placed(h.At) {
			continue
		}
		if n++; n <= few {
			f.point(row.Name+" rivet "+plain(i+1), h.At)
		}
	}
	if n > few {
		f.add(row.Name, plain(n), "so many rivets in all are misplaced")
	}
}

func (f *faults) point(field string, p r2.Vec) {
	if !placed(p) {
		f.add(field, "("+mm(p.X)+", "+mm(p.Y)+")", "must be finite and within 200 m; are the units millimetres?")
	}
}

// path checks a line that is followed or bounds something.
func (f *faults) path(field string, p outline.Path) {
	err := p.ValidateOpen()
	if p.Closed {
		err = p.Validate()
	}
	if err != nil {
		*f = append(*f, &Error{Field: field, Rule: "is no simple line: " + err.Error(), cause: err})
		return
	}
	if box := p.Bounds(); !(math.Max(-box.Min.X, box.Max.X) <= longest && math.Max(-box.Min.Y, box.Max.Y) <= longest) {
		f.add(field, "", "must lie within 100 m; are the units millimetres?")
	}
}

// join takes over the faults of another check.
func (f *faults) join(err error) {
	if err != nil {
		*f = append(*f, err)
	}
}

func (f faults) err() error { return errors.Join(f...) }

// refused is the error of a construction that the geometry below could not make.
func refused(field, rule string, cause error) error {
	return &Error{Field: field, Rule: rule + ": " + cause.Error(), cause: cause}
}

func mm(x float64) string { return strconv.FormatFloat(x, 'g', 8, 64) + " mm" }

const longest = 1e5 // mm; nothing is 100 m long

func plain(n int) string { return strconv.Itoa(n) }
