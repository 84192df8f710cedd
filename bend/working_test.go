package bend_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/bend/formula"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every printed step, worked again from the print alone as a checker with a pocket
// calculator would, gives the printed answer but for one unit in its last place.
func TestWorkingCanBeWorkedAgain(t *testing.T) {
	for _, rule := range append(rules(), bend.Calibrated{K: 0.4123, Law: bend.CalibratedLaw("strip log")}) {
		for _, b := range []bend.Bend{in(97.5, .125, .040), in(84.37, 5./32, .051), mm(120, 4.2, 0.9), mm(90, 12, 1.6), in(180, .25, .063), mm(12.345, 3, 1.2)} {
			steps, err := bend.Working(rule, b, "aft bend")
			require.NoError(t, err)
			require.GreaterOrEqual(t, len(steps), 4)
			for _, s := range steps {
				require.NotZero(t, s.Source.Provenance, s.String())
				assert.NoError(t, formula.Check(s, bend.Inches, bend.Millimetres))
			}
		}
	}
}

// So does the overbend of the first try and of a block, from a sharp bend to one round many thicknesses.
func TestOverbendCanBeWorkedAgain(t *testing.T) {
	for _, b := range []bend.Bend{in(97.5, .125, .040), in(90, .02, .051), mm(120, 4.2, 0.9), mm(30, 60, 1.6), mm(12.345, 3, 6)} {
		for _, metal := range []bend.ElasticPlastic{of2024(t), {Fty: 69, E: 68947.573, K: .4}, {Fty: 724, E: 113763.5}} {
			nose, err := bend.SameNose{ElasticPlastic: metal}.Working(b, "bend")
			require.NoError(t, err)
			block, err := metal.Working(b, "bend")
			require.NoError(t, err)
			for _, s := range append(nose, block...) {
				assert.NoError(t, formula.Check(s, bend.Inches, bend.Millimetres))
			}
		}
	}
}

func TestWorkingRefuses(t *testing.T) {
	for _, rule := range []bend.Rule{nil, bend.NeutralAxis{}, bend.DIN6935{}} {
		_, err := bend.Working(rule, mm(90, 0, 1), "bend")
		var fault *bend.Error
		require.ErrorAs(t, err, &fault, "%T", rule)
	}
	_, err := bend.Working(bend.Handbook{}, mm(math.NaN(), -1, 0), "bend")
	require.Error(t, err)
}

func ExampleWorking() {
	aft := bend.Bend{Angle: 97.5 * measure.Degree, Radius: 0.125 * measure.Inch, Thickness: 0.040 * measure.Inch}
	steps, err := bend.Working(bend.Handbook{}, aft, "aft bend")
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range steps {
		fmt.Println(s)
	}
	// By hand: tan 48.75° = 1.14028, so SB = .165·1.14028 = .18815; BA = (.00217875 + .000312)·97.5 =
	// .24285; BD = .37629 - .24285 = .13344.

	// Output:
	// setback of aft bend: SB = (R + T)·tan(A/2) = (0.125 + 0.04)·tan(97.5°/2) = 0.1881 in (4.779 mm) [FAA AC 43.13-1B, para 4-56 b]
	// allowance of aft bend: BA = (0.01743·R + 0.0078·T)·A° = (0.01743·0.125 + 0.0078·0.04)·97.5 = 0.2428 in (6.168 mm) [trade sheet-metal workbook, bend allowance page]
	// deduction of aft bend: BD = 2·SB - BA = 2·0.18815 - 0.24285 = 0.1334 in (3.389 mm) [derived: definition]
	// sight line of aft bend: SL = R = 0.125 = 0.1250 in (3.175 mm) [common practice: one radius from the tangent line held]
}

func ExampleStep_PutIn() {
	steps, err := bend.Working(bend.DIN6935{}, bend.Bend{Angle: math.Pi / 2, Radius: 6, Thickness: 5}, "keel bend")
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range steps[:3] {
		fmt.Println(s.Symbol, "=", s.PutIn(bend.Millimetres), "=", s.AnswerIn(bend.Millimetres))
	}
	// k = 0.689 in the table book, so K 0.345; 6 + 0.345·5 = 7.724, times π/2 = 12.133.

	// Output:
	// SB = (6 + 5)·tan(90°/2) = 11.000 mm
	// K = (0.65 + 0.5·lg(6/5))/2 = 0.3448
	// BA = (6 + 0.3448·5)·90·π/180 = 12.133 mm
}

// The sight line stands one radius of the nose in; a formula in words has no numbers to be put in.
func ExampleStep_Equation() {
	radius := bend.Input{Symbol: "R", Value: 0.125 * measure.Inch, Unit: bend.Length}
	fmt.Println(bend.Step{Symbol: "SL", Formula: "R", Inputs: []bend.Input{radius}}.Equation(bend.Inches))
	fmt.Println(bend.Step{Symbol: "e", Formula: "reading less fair line"}.Equation(bend.Inches))
	// Output:
	// SL = R = 0.125
	// e = reading less fair line
}
