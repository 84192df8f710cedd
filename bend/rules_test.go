package bend_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func rules() []bend.Rule {
	return []bend.Rule{
		bend.Handbook{}, bend.NeutralAxis{K: 0.42}, bend.DIN6935{},
		bend.SoftCopper, bend.SoftSteel, bend.HardSheet,
		bend.SteppedK{Table: bend.TextbookK, Hardness: bend.Soft},
		bend.SteppedK{Table: bend.AirBendK, Hardness: bend.Hard},
	}
}

// Properties of every rule:
//
//	(1) additive in the angle: the allowance of two bends end to end is their sum
//	(2) homogeneous in length: R and T scaled by s scale it by s
//	(3) it grows with angle and radius
//	(4) it means the K it states: BA = A·(R + K·T)
func TestRuleProperties(t *testing.T) {
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	r := rand.New(rand.NewPCG(seed, 1))
	for _, rule := range rules() {
		length := func(b bend.Bend) float64 {
			a, err := rule.Allowance(b)
			require.NoError(t, err, "%T %+v", rule, b)
			assert.InEpsilon(t, float64(b.Angle)*(b.Radius+a.K*b.Thickness), a.Length, 1e-12)
			require.NotNil(t, a.Law)
			return a.Length
		}
		for range 500 {
			b := mm(5+80*r.Float64(), math.Exp(3*r.Float64()), math.Exp(2*r.Float64()-1))
			half := b
			half.Angle = b.Angle / 2
			assert.InEpsilon(t, 2*length(half), length(b), 1e-12, "(1) %T", rule)
			s := 1 + 2*r.Float64()
			big := bend.Bend{Angle: b.Angle, Radius: s * b.Radius, Thickness: s * b.Thickness}
			assert.InEpsilon(t, s*length(b), length(big), 1e-12, "(2) %T", rule)
			more := b
			more.Radius *= 1.01
			assert.Greater(t, length(more), length(b), "(3) %T", rule)
		}
	}
}

// Every rule refuses what is no bend, and names the field.
func TestRulesRefuse(t *testing.T) {
	good := mm(90, 3, 1)
	for _, rule := range rules() {
		for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1} {
			for i, field := range []string{"angle", "radius", "thickness"} {
				b := good
				*[]*float64{(*float64)(&b.Angle), &b.Radius, &b.Thickness}[i] = bad
				_, err := rule.Allowance(b)
				var fault *bend.Error
				require.ErrorAs(t, err, &fault, "%T %s %v", rule, field, bad)
				assert.Equal(t, field, fault.Field)
			}
		}
	}
	b := mm(0, -1, 0.04)
	err := b.Validate()
	joined, ok := err.(interface{ Unwrap() []error })
	require.True(t, ok)
	assert.Len(t, joined.Unwrap(), 3, "all faults at once")
	for _, rule := range []bend.Rule{bend.LengthOfBend(0), bend.LengthOfBend(9), bend.SteppedK{}, bend.SteppedK{Table: bend.AirBendK}, bend.NeutralAxis{K: math.NaN()}, bend.NeutralAxis{K: 1.5}} {
		_, err := rule.Allowance(good)
		var fault *bend.Error
		assert.True(t, errors.As(err, &fault), "%#v", rule)
	}
}

// The generated tables of K, row by row: at the start of each step its K, just below
// its end still.
func TestSteppedKRows(t *testing.T) {
	for _, row := range printedK {
		for i, want := range []float64{row.soft, row.medium, row.hard} {
			rule := bend.SteppedK{Table: bend.KTable(row.table), Hardness: bend.Hardness(i + 1)}
			a, err := rule.Allowance(mm(90, row.from, 1))
			require.NoError(t, err)
			assert.InDelta(t, want, a.K, 1e-12, "table %d from R/T %v", row.table, row.from)
			if row.to > 0 {
				a, err = rule.Allowance(mm(90, math.Nextafter(row.to, 0), 1))
				require.NoError(t, err)
				assert.InDelta(t, want, a.K, 1e-12)
			}
		}
	}
	for i, row := range printedLengths {
		a, err := bend.LengthOfBend(i + 1).Allowance(mm(90, 1, 1))
		require.NoError(t, err)
		assert.InDelta(t, row.t+row.r, a.Length, 1e-12, row.group)
		// The equivalent K printed beside the formula, less what 1.57 leaves of π/2.
		assert.InDelta(t, row.k, a.K, 0.001, row.group)
	}
}

// DIN 6935: k = 0.65 + 0.5·lg(R/T) to R/T = 5, where it is 0.9995, then 1, so the
// step there is half a thousandth. v by hand:
//
//	R 6, T 5, opening 90°:  22 - π/2·(6 + 0.5·5·0.68959) = 9.867, table book 9.9
//	R 1, T 1, opening 165°: 4·tan 7.5° - 0.261799·1.325 = 0.1797; above 165°: 0
func TestDIN6935(t *testing.T) {
	x := must(t)
	assert.InDelta(t, 9.9, x(bend.DINCorrection(mm(90, 6, 5))), 0.05)
	assert.InDelta(t, 9.867, x(bend.DINCorrection(mm(90, 6, 5))), 5e-4)
	assert.InDelta(t, 0.1797, x(bend.DINCorrection(mm(15, 1, 1))), 1e-4, "the jump at 165° of opening")
	assert.Zero(t, x(bend.DINCorrection(mm(14.99, 1, 1))))
	below, err := bend.DIN6935{}.Allowance(mm(90, 5-1e-9, 1))
	require.NoError(t, err)
	above, err := bend.DIN6935{}.Allowance(mm(90, 5+1e-9, 1))
	require.NoError(t, err)
	assert.InDelta(t, 0.5*0.9994850, below.K, 1e-6)
	assert.Equal(t, 0.5, above.K)
	// Continuous at 90° of opening, where the two ways of measuring a leg are one.
	assert.InDelta(t, x(bend.DINCorrection(mm(90-1e-7, 6, 5))), x(bend.DINCorrection(mm(90+1e-7, 6, 5))), 1e-6)
	// At 60° of opening the mold-line deduction is another number: 2·11·tan 60° less the
	// same arc.
	v, bd := x(bend.DINCorrection(mm(120, 6, 5))), x(bend.Deduction(bend.DIN6935{}, mm(120, 6, 5)))
	assert.InDelta(t, 22*math.Sqrt(3)-22, bd-v, 1e-9)

	length, whole, err := bend.DINBlank([]float64{20, 20}, []bend.Bend{mm(90, 6, 5)})
	require.NoError(t, err)
	assert.InDelta(t, 40-9.867, length, 5e-4)
	assert.Equal(t, 31.0, whole, "rounded up")
	_, _, err = bend.DINBlank([]float64{20, math.NaN()}, []bend.Bend{mm(90, -6, 5)})
	joined, ok := err.(interface{ Unwrap() []error })
	require.True(t, ok)
	assert.Len(t, joined.Unwrap(), 2)
}

// A hem and a 180° return have no mold line: legs are dimensioned to the outside of
// the fold, R + T from the tangent line. By hand, R 0, T 1, K 0.35: allowance
// π·0.35 = 1.0996; legs 10 and 50 develop to 9 + 1.0996 + 49 = 59.0996.
func TestHem(t *testing.T) {
	hem := mm(180, 0, 1)
	_, err := hem.Setback()
	var fault *bend.Error
	require.ErrorAs(t, err, &fault)
	depth, err := hem.FoldDepth()
	require.NoError(t, err)
	assert.Equal(t, 1.0, depth)
	s := bend.Section{Legs: []float64{10, 50}, Bends: []bend.SectionBend{{Bend: hem, To: bend.OutsideOfFold}}}
	l, err := s.Lay(bend.NeutralAxis{K: 0.35})
	require.NoError(t, err)
	assert.InDelta(t, 59.0996, l.Width, 1e-4)
	assert.InDelta(t, 9.0, l.Marks[0].Left, 1e-12)
	assert.InDelta(t, 10.0996, l.Marks[0].Right, 1e-4)
	s.Bends[0].To = bend.MoldLine
	_, err = s.Lay(bend.NeutralAxis{K: 0.35})
	require.ErrorAs(t, err, &fault)
	s = bend.Section{Legs: []float64{0.5, math.Inf(1)}, Bends: []bend.SectionBend{{Bend: hem, To: bend.OutsideOfFold}}}
	_, err = s.Lay(bend.NeutralAxis{K: 0.35})
	require.Error(t, err)
	assert.Contains(t, err.Error(), "leg 1")
	assert.Contains(t, err.Error(), "leg 2")
}

// For A <= 90° the developed width is never more than the sum of the mold lines.
func TestDevelopedWidthIsSmaller(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	for _, rule := range rules() {
		for range 300 {
			b := mm(1+89*r.Float64(), math.Exp(3*r.Float64()), math.Exp(2*r.Float64()-1))
			bd, err := bend.Deduction(rule, b)
			require.NoError(t, err)
			assert.Positive(t, bd, "%T %+v", rule, b)
		}
	}
}

func ExampleSection_Lay() {
	// The U-channel of FAA-H-8083-31 chapter 4.
	b := bend.SectionBend{Bend: bend.Bend{Angle: 90 * measure.Degree, Radius: 0.16 * measure.Inch, Thickness: 0.040 * measure.Inch}}
	l, err := bend.Section{
		Legs:  []float64{1 * measure.Inch, 2 * measure.Inch, 1 * measure.Inch},
		Bends: []bend.SectionBend{b, b},
	}.Lay(bend.Handbook{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, flat := range l.Flats {
		fmt.Printf("flat %d: %s\n", i+1, measure.InchText(flat, 2))
	}
	fmt.Println("developed width", measure.InchText(l.Width, 3))
	// Output:
	// flat 1: 0.80 in
	// flat 2: 1.60 in
	// flat 3: 0.80 in
	// developed width 3.758 in
}

func ExampleDINCorrection() {
	// DIN 6935, opening 60° (turned through 120°), R 6 mm, T 5 mm.
	b := bend.Bend{Angle: 120 * measure.Degree, Radius: 6, Thickness: 5}
	v, err := bend.DINCorrection(b)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("legs to the outside of the fold: v = %.2f mm\n", v)
	bd, _ := bend.Deduction(bend.DIN6935{}, b)
	fmt.Printf("legs to the mold line: deduction %.2f mm\n", bd)
	// Output:
	// legs to the outside of the fold: v = 5.82 mm
	// legs to the mold line: deduction 21.93 mm
}

func ExampleLengthOfBend() {
	// Machinery's Handbook 31st ed. p. 1421: soft steel, 180°, R 3/8, T 1/8 in.
	a, err := bend.SoftSteel.Allowance(bend.Bend{Angle: 180 * measure.Degree, Radius: 0.375 * measure.Inch, Thickness: 0.125 * measure.Inch})
	fmt.Println(measure.InchText(a.Length, 4), err)
	// Output: 1.3375 in <nil>
}

func ExampleHandbook() {
	// A trade workbook: 90°, T .050, R .032: BA .085, deduction .079.
	b := bend.Bend{Angle: 90 * measure.Degree, Radius: 0.032 * measure.Inch, Thickness: 0.050 * measure.Inch}
	a, err := bend.Handbook{}.Allowance(b)
	if err != nil {
		fmt.Println(err)
		return
	}
	bd, _ := bend.Deduction(bend.Handbook{}, b)
	fmt.Println(measure.InchText(a.Length, 3), measure.InchText(bd, 3))
	_, err = bend.Handbook{}.Allowance(bend.Bend{Angle: 190 * measure.Degree, Radius: 1, Thickness: 1})
	fmt.Println(err)
	// Output:
	// 0.085 in 0.079 in
	// angle 190°: the bend angle is turned through from flat: above 0° and at most 180°
}

// The sight line lies one radius past the tangent line of the leg that is held: 1.00 - .20 + .16.
func TestSightLine(t *testing.T) {
	b := in(90, .16, .040)
	s := bend.Section{Legs: []float64{inch, 2 * inch}, Bends: []bend.SectionBend{{Bend: b}}}
	l, err := s.Lay(bend.Handbook{})
	require.NoError(t, err)
	assert.InDelta(t, .96, l.Marks[0].Sight/inch, 1e-12)
	sight, err := b.SightLine()
	require.NoError(t, err)
	assert.InDelta(t, .16, sight/inch, 1e-12)
	_, err = mm(90, -1, 1).SightLine()
	require.Error(t, err)
}

func BenchmarkAllowance(b *testing.B) {
	aft := bend.Bend{Angle: 97.5 * measure.Degree, Radius: 0.125 * measure.Inch, Thickness: 0.040 * measure.Inch}
	for _, rule := range append(rules(), bend.Calibrated{K: 0.42, Law: bend.CalibratedLaw("strip log")}) {
		b.Run(strings.TrimPrefix(fmt.Sprintf("%T", rule), "bend."), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := rule.Allowance(aft); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkBareFormula is the handbook's formula of bend allowance and the tangent of
// its setback, of a bend that is known to be good.
func BenchmarkBareFormula(b *testing.B) {
	degrees, radius, thickness := 97.5, 0.125, 0.040
	sum := 0.0
	for b.Loop() {
		sum += (0.01743*radius+0.0078*thickness)*degrees + math.Tan(degrees*math.Pi/360)*(radius+thickness)
	}
	if !(sum > 0) {
		b.Fatal("the sum of positive lengths is not positive")
	}
}
