package bend

import (
	"errors"
	"math"
	"math/rand/v2"
	"strconv"

	"gonum.org/v1/gonum/stat"

	"github.com/hangarflat/hangarflat/material/measure"
)

// A Spread is how far a bend may differ from its drawing, each as one standard
// deviation. A limit that nearly always holds, such as a sheet tolerance, is about two
// of them.
type Spread struct {
	Thickness, Radius float64 // mm
	Angle             measure.Angle
	K                 float64
}

// SheetSpread is a spread to begin with where the shop has not measured its own:
// thickness within 5 %, radius within 5 %, angle within 1° and K within 0.1, two
// standard deviations each. Common practice; a shop's own figures are better.
func SheetSpread(b Bend) Spread {
	return Spread{Thickness: 0.025 * b.Thickness, Radius: 0.025 * b.Radius, Angle: 0.5 * measure.Degree, K: 0.05}
}

func (s Spread) fault() error {
	var faults []error
	for _, f := range [...]struct {
		name        string
		value, most float64
	}{{"thickness", s.Thickness, thickest}, {"radius", s.Radius, largestRadius}, {"angle", float64(s.Angle), math.Pi}, {"K", s.K, 1}} {
		if !(0 <= f.value && f.value <= f.most) {
			faults = append(faults, &Error{"spread of " + f.name, plain(f.value), "a standard deviation must be 0 to " + plain(f.most)})
		}
	}
	return errors.Join(faults...)
}

// Leg says which length of a bent angle is asked for. The blank is cut and marked for
// the nominal bend; what the metal does instead moves the legs, here measured to the
// mold line.
type Leg uint8

const (
	// CenteredLeg is either leg of a bend struck on its centre line, which takes half the
	// change of the deduction: dSB - dBA/2.
	CenteredLeg Leg = iota
	// HeldLeg is the leg whose tangent line is held in the brake: dSB.
	HeldLeg
	// TurnedLeg is the other leg then: dSB - dBA.
	TurnedLeg
	// BothLegs is the sum of the two, however they are made: 2·dSB - dBA.
	BothLegs
)

// parts is how many setbacks and allowances go into the length of a leg.
func (l Leg) parts() (setbacks, allowances float64, err error) {
	switch l {
	case CenteredLeg:
		return 1, 0.5, nil
	case HeldLeg:
		return 1, 0, nil
	case TurnedLeg:
		return 1, 1, nil
	case BothLegs:
		return 2, 1, nil
	}
	return 0, 0, &Error{"leg", plain(float64(l)), "say bend.CenteredLeg, HeldLeg, TurnedLeg or BothLegs"}
}

// A Share is what one standard deviation of one quantity does to a leg.
type Share struct {
	Name string  // "thickness", "radius", "angle", "K"
	Leg  float64 // mm, 0 or more
}

// A Tolerance is how sure a leg is, to first order: the shares are independent and
// small, so that their squares add.
type Tolerance struct {
	Leg     float64  // mm, standard deviation
	Shares  [4]Share // of thickness, radius, angle, K
	Largest Share
	// AfterStrips is what three test strips of this bend would bring Leg to, mm: see
	// [Tolerance.WithStrips].
	AfterStrips float64
}

// LegTolerance returns how far a leg may differ from its nominal length by the spread
// of thickness, radius, angle and neutral line. The rule gives the nominal K; K then
// varies on its own, not with R/T. A spread that is negative or not finite, a bend of 180°
// and a rule that cannot answer are errors.
func LegTolerance(rule Rule, b Bend, s Spread, leg Leg) (Tolerance, error) {
	f, err := newLegLength(rule, b, s, leg)
	if err != nil {
		return Tolerance{}, err
	}
	tan, a := math.Tan(float64(b.Angle)/2), float64(b.Angle)
	// Derivatives of SB = (R+T)·tan(A/2) and BA = (R+K·T)·A.
	byAngle := f.setbacks*(b.Radius+b.Thickness)*(1+tan*tan)/2 - f.allowances*(b.Radius+f.k*b.Thickness)
	t := Tolerance{Shares: [4]Share{
		{"thickness", math.Abs(s.Thickness * (f.setbacks*tan - f.allowances*f.k*a))},
		{"radius", math.Abs(s.Radius * (f.setbacks*tan - f.allowances*a))},
		{"angle", math.Abs(float64(s.Angle) * byAngle)},
		{"K", s.K * f.allowances * b.Thickness * a},
	}}
	t.Largest = t.Shares[0]
	for _, share := range t.Shares {
		t.Leg = math.Hypot(t.Leg, share.Leg)
		if share.Leg > t.Largest.Leg {
			t.Largest = share
		}
	}
	t.AfterStrips = t.WithStrips(fewest, f.allowances*readingScatter)
	return t, nil
}

// WithStrips returns the standard deviation of the leg (mm) after n test strips of this
// bend, when one strip tells the leg's share of the allowance to the given standard
// deviation in mm. What K does to the leg is then reading/√n, or what it was if that is
// less; the other shares stay. It answers whether a strip is worth its metal. With no strips or
// a reading that is not above 0 it returns Leg.
func (t Tolerance) WithStrips(n int, reading float64) float64 {
	k := t.Shares[3].Leg
	if n > 0 && reading > 0 {
		k = min(k, reading/math.Sqrt(float64(n)))
	}
	sigma := k
	for _, share := range t.Shares[:3] {
		sigma = math.Hypot(sigma, share.Leg)
	}
	return sigma
}

// SampleLeg draws n bends at random (normal laws) about the nominal one and returns
// mean and standard deviation in mm of the error of the leg: the check on
// [LegTolerance] where the spread is no longer small. The same seed gives the same
// answer. A spread so wide that a draw is no bend at all is an error, as is n below 2.
func SampleLeg(rule Rule, b Bend, s Spread, leg Leg, n int, seed uint64) (mean, deviation float64, err error) {
	f, err := newLegLength(rule, b, s, leg)
	if err != nil {
		return 0, 0, err
	}
	if n < 2 || n > 1e8 {
		return 0, 0, &Error{"samples", strconv.Itoa(n), "draw from 2 to 100 million bends"}
	}
	random := rand.New(rand.NewPCG(seed, 0))
	nominal := f.of(b, f.k)
	moved := make([]float64, n)
	for i := range moved {
		drawn := Bend{
			Angle:     b.Angle + measure.Angle(random.NormFloat64())*s.Angle,
			Radius:    b.Radius + random.NormFloat64()*s.Radius,
			Thickness: b.Thickness + random.NormFloat64()*s.Thickness,
		}
		if !drawn.valid() || drawn.Angle >= math.Pi {
			return 0, 0, &Error{"spread", drawn.Angle.String() + ", R " + lengthText(drawn.Radius) + ", T " + lengthText(drawn.Thickness),
				"so wide that a bend drawn from it cannot be"}
		}
		moved[i] = f.of(drawn, f.k+random.NormFloat64()*s.K) - nominal
	}
	mean, deviation = stat.MeanStdDev(moved, nil)
	return mean, deviation, nil
}

// A legLength is the length of a leg but for a constant.
type legLength struct{ k, setbacks, allowances float64 }

func newLegLength(rule Rule, b Bend, s Spread, leg Leg) (f legLength, err error) {
	_, err = b.Setback()
	if err = errors.Join(err, s.fault()); err != nil {
		return f, err
	}
	ba, err := allowance(rule, b)
	if err != nil {
		return f, err
	}
	f.k = ba.K
	f.setbacks, f.allowances, err = leg.parts()
	return f, err
}

func (f legLength) of(b Bend, k float64) float64 {
	sb := (b.Radius + b.Thickness) * math.Tan(float64(b.Angle)/2)
	return f.setbacks*sb - f.allowances*(b.Radius+k*b.Thickness)*float64(b.Angle)
}
