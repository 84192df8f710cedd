package outline

import (
	"errors"
	"fmt"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
)

// A Fault is the error of this package: one thing wrong, where it is and the rule
// it breaks. Several are joined by errors.Join; errors.As finds the first.
type Fault struct {
	Func  string  // the function that refused: "Validate", "Offset"
	Field string  // what is at fault: "segment 3", "distance"
	Index int     // the vertex or segment, counted from 0; -1 when the fault is not at one
	Other int     // the second segment of a pair, else -1
	At    r2.Vec  // the place, mm; meaningful when Index is not -1
	Value float64 // the offending number, when there is one
	Rule  string  // what should hold

	cause error
}

// Unwrap returns [ErrNothingLeft] or [ErrNotProved] where one of them is the cause, and nil
// for every other fault, under which no error lies.
func (f *Fault) Unwrap() error { return f.cause }

// Error says where the fault is and what should hold.
func (f *Fault) Error() string {
	var b strings.Builder
	fmt.Fprintf(&b, "outline.%s: %s", f.Func, f.Field)
	if f.Index >= 0 {
		fmt.Fprintf(&b, " at (%.6g, %.6g)", f.At.X, f.At.Y)
	}
	fmt.Fprintf(&b, ": %s", f.Rule)
	return b.String()
}

// badArgument is the fault of a number given to a function.
func badArgument(fn, name string, value float64, rule string) *Fault {
	return &Fault{Func: fn, Field: fmt.Sprintf("%s %g", name, value), Index: -1, Other: -1, Value: value, Rule: rule}
}

// refused is a fault of the whole input or result, at no one place.
func refused(fn, what, rule string) *Fault {
	return &Fault{Func: fn, Field: what, Index: -1, Other: -1, Rule: rule}
}

// maxFaults keeps the report of a hopeless input readable.
const maxFaults = 100

// faults collects what is wrong with one input.
type faults struct {
	list []error
	more int
}

func (f *faults) add(e error) {
	if len(f.list) < maxFaults {
		f.list = append(f.list, e)
		return
	}
	f.more++
}

func (f *faults) err() error {
	if f.more > 0 {
		return errors.Join(append(f.list, refused("Validate", fmt.Sprintf("%d more faults", f.more), "are not listed"))...)
	}
	return errors.Join(f.list...)
}
