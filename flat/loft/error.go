package loft

import (
	"errors"
	"fmt"
	"math"
	"strconv"
)

// An Error says which input is at fault, what its value is and which rule it
// breaks. Get it with [errors.As]; several faults come joined.
type Error struct {
	Field string // "reading 7 station", "line 12 column offset"
	Value string // as given, with its unit where it has one
	Rule  string // what would have been accepted
}

func (e *Error) Error() string {
	if e.Value == "" {
		return fmt.Sprintf("loft: %s: %s", e.Field, e.Rule)
	}
	return fmt.Sprintf("loft: %s: %s: %s", e.Field, e.Value, e.Rule)
}

// maxLength is the largest station, offset or coordinate taken, mm: one kilometre.
const maxLength = 1e6

// maxFaults is how many faults of one input are told one by one.
const maxFaults = 20

const lengthRule = "must be finite and within 1 km; are the units millimetres?"

func mm(x float64) string { return strconv.FormatFloat(x, 'g', 8, 64) + " mm" }

func within(x, lo, hi float64) bool { return lo <= x && x <= hi }

func isLength(x float64) bool { return within(x, -maxLength, maxLength) }

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// faults collects the errors of one call.
type faults struct {
	list []error
	more int
}

func (f *faults) add(field, value, rule string) {
	if len(f.list) >= maxFaults {
		f.more++
		return
	}
	f.list = append(f.list, &Error{field, value, rule})
}

func (f *faults) err() error {
	if f.more > 0 {
		return errors.Join(append(f.list, &Error{"input", "", fmt.Sprintf("%d more faults of the same kinds", f.more)})...)
	}
	return errors.Join(f.list...)
}
