package survey

import (
	"errors"
	"fmt"
	"math"
	"strconv"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// An Error says which input is at fault, what its value is and which rule it
// breaks. Get it with [errors.As]; several faults come joined.
type Error struct {
	Field string // "point 7 x", "slab half thickness"
	Value string // as given, with its unit where it has one
	Rule  string // what would have been accepted
}

func (e *Error) Error() string {
	if e.Value == "" {
		return fmt.Sprintf("survey: %s: %s", e.Field, e.Rule)
	}
	return fmt.Sprintf("survey: %s: %s: %s", e.Field, e.Value, e.Rule)
}

// maxCoordinate is the largest coordinate taken, in mm: one kilometre. Nothing
// that flies is larger, and squares of it keep a thousandth of a millimetre.
const maxCoordinate = 1e6

// maxFaults is how many bad points are told one by one; a scan written in the
// wrong units has a million of them, all alike.
const maxFaults = 20

func mm(x float64) string { return strconv.FormatFloat(x, 'g', 8, 64) + " mm" }

func within(x, lo, hi float64) bool { return lo <= x && x <= hi }

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

func (f *faults) coordinate(field string, x float64) {
	if !within(x, -maxCoordinate, maxCoordinate) {
		f.add(field, mm(x), "must be finite and within 1 km of the origin; are the units millimetres?")
	}
}

func (f *faults) point3(name string, p r3.Vec) {
	if finite3(p) {
		return
	}
	f.coordinate(name+" x", p.X)
	f.coordinate(name+" y", p.Y)
	f.coordinate(name+" z", p.Z)
}

func (f *faults) point2(name string, p r2.Vec) {
	if finite2(p) {
		return
	}
	f.coordinate(name+" x", p.X)
	f.coordinate(name+" y", p.Y)
}

func (f *faults) points3(name string, ps []r3.Vec, least int) {
	if len(ps) < least {
		f.add(name, fmt.Sprintf("%d points", len(ps)), fmt.Sprintf("at least %d are needed", least))
	}
	for i, p := range ps {
		if !finite3(p) { // before the name is built: a scan has a million points
			f.point3(fmt.Sprintf("%s: point %d", name, i), p)
		}
	}
}

func (f *faults) points2(name string, ps []r2.Vec, least int) {
	if len(ps) < least {
		f.add(name, fmt.Sprintf("%d points", len(ps)), fmt.Sprintf("at least %d are needed", least))
	}
	for i, p := range ps {
		if !finite2(p) {
			f.point2(fmt.Sprintf("%s: point %d", name, i), p)
		}
	}
}

func (f *faults) length(field string, x, lo, hi float64, rule string) {
	if !within(x, lo, hi) {
		f.add(field, mm(x), rule)
	}
}

func (f *faults) err() error {
	if f.more > 0 {
		return errors.Join(append(f.list, &Error{"points", "", fmt.Sprintf("%d more faults of the same kinds", f.more)})...)
	}
	return errors.Join(f.list...)
}

func finite3(p r3.Vec) bool {
	return within(p.X, -maxCoordinate, maxCoordinate) && within(p.Y, -maxCoordinate, maxCoordinate) &&
		within(p.Z, -maxCoordinate, maxCoordinate)
}

func finite2(p r2.Vec) bool {
	return within(p.X, -maxCoordinate, maxCoordinate) && within(p.Y, -maxCoordinate, maxCoordinate)
}

// unit returns v made one long, and false when v has no direction.
func unit(v r3.Vec) (r3.Vec, bool) {
	n := r3.Norm(v)
	if !(n > 0 && !math.IsInf(n, 0)) {
		return r3.Vec{}, false
	}
	return r3.Scale(1/n, v), true
}
