package brake

import (
	"errors"
	"math"
	"strconv"

	"github.com/hangarflat/hangarflat/material/measure"
)

// An Error names the dimension of a brake that breaks a rule, or the bend of a blank
// that cannot be judged. All faults are joined (errors.Join); errors.As finds the first.
type Error struct {
	Field string // "nose depth"
	Value string // as given, with its unit
	Rule  string
}

func (e *Error) Error() string { return e.Field + " " + e.Value + ": " + e.Rule }

// Validate returns an [*Error] for each dimension that cannot be a brake's.
func (b Brake) Validate() error {
	var faults []error
	length := func(field string, x, least, most float64, what string) {
		if least <= x && x <= most {
			return
		}
		rule := what + ": must be " + plain(least) + " mm to " + plain(most) + " mm"
		if 0 < x && x < least {
			rule += "; if inches were meant, write " + plain(x) + "*measure.Inch"
		}
		faults = append(faults, &Error{field, plain(x) + " mm", rule})
	}
	length("length", b.Length, 50, 2e4, "the longest bend the brake takes")
	length("nose depth", b.Nose.Depth, 2, 2000, "how far the nose bar reaches behind the bend")
	length("nose height", b.Nose.Height, 2, 2000, "from the sheet to the top of all that stands on the nose bar")
	length("nose lift", b.Nose.Lift, 1, 2000, "the opening under the raised nose bar")
	length("nose finger", b.Nose.Finger, 0, b.Length, "the step in which fingers make up a length, 0 for one whole bar")
	length("bed depth", b.Bed.Depth, 2, 2000, "how far the bed reaches behind the bend")
	length("bed height", b.Bed.Height, 2, 2000, "from the top of the bed down to its foot")
	length("leaf depth", b.Leaf.Depth, 2, 2000, "how far the leaf's face reaches out from the bend")
	length("leaf height", b.Leaf.Height, 2, 2000, "from the leaf's face to its back")
	length("clear", b.Clear, 0, 100, "the clearance asked for")
	if most := b.Nose.Most; !(10*measure.Degree <= most && most < math.Pi) {
		faults = append(faults, &Error{"nose most", most.String(), "the most a flange can be turned before it meets the front of the nose bar: must be 10° and more and below 180°"})
	}
	return errors.Join(faults...)
}

func plain(x float64) string { return strconv.FormatFloat(x, 'g', 8, 64) }
