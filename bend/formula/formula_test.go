package formula_test

import (
	"math"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/bend/formula"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The evaluator sees a wrong number: the tests that lean on it would be worth nothing without.
func TestEvaluate(t *testing.T) {
	for text, want := range map[string]float64{
		"(0.125 + 0.04)·tan(90°/2)": 0.165,
		"2·3 - 10/4":                3.5,
		"(0.65 + 0.5·lg(100/1))/2":  0.825,
		"180·π/180":                 math.Pi,
		"√(3² + 4²) - 2³":           -3,
		"2/π·√16":                   8 / math.Pi,
		"acos(-(0.5·-1 + 0·-0.3))":  math.Pi / 3,
		"-2² + asin(1)":             math.Pi/2 - 4,
		"round up(2.1·2)":           5,
		"cos(60°) + sin(30°)":       1,
	} {
		got, err := formula.Evaluate(text)
		require.NoError(t, err, text)
		assert.InDelta(t, want, got, 1e-12, text)
	}
	for _, bad := range []string{"2·R", "(2", "2)", "", "√", "2 + ", strings.Repeat("(", 1e6)} {
		_, err := formula.Evaluate(bad)
		var fault *formula.Error
		require.ErrorAs(t, err, &fault, bad)
		assert.Equal(t, "formula", fault.Field)
	}
	_, err := formula.Evaluate("2·(R + T)")
	assert.EqualError(t, err, `formula "2·(R+T)": cannot be worked from its sign 4 on`)
}

// A step is taken whose print gives its answer, and no other.
func TestCheck(t *testing.T) {
	length := bend.Step{Quantity: "flat", Symbol: "F", Formula: "H - SB", Value: .8 * measure.Inch, Unit: bend.Length,
		Inputs: []bend.Input{{Symbol: "H", Value: measure.Inch, Unit: bend.Length}, {Symbol: "SB", Value: .2 * measure.Inch, Unit: bend.Length}}}
	angle := bend.Step{Symbol: "W", Formula: "2·A", Value: math.Pi / 2, Unit: bend.Degrees, Inputs: []bend.Input{{Symbol: "A", Value: math.Pi / 4, Unit: bend.Degrees}}}
	count := bend.Step{Symbol: "N", Formula: "round up(w)", Value: 3, Unit: bend.Count, Inputs: []bend.Input{{Symbol: "w", Value: 2.2}}}
	for _, s := range []bend.Step{length, angle, count} {
		require.NoError(t, formula.Check(s, bend.Inches, bend.Millimetres))
		s.Value *= 1.4
		require.Error(t, formula.Check(s, bend.Inches))
		require.Error(t, formula.Check(s, bend.Millimetres))
		s.Formula = "by eye" + s.Formula
		require.Error(t, formula.Check(s, bend.Inches))
	}
	length.Value += .0002 * measure.Inch // two units of the last place
	require.Error(t, formula.Check(length, bend.Inches))
	require.NoError(t, formula.Check(bend.Step{Formula: "reading less fair line"}, bend.Inches))
}

func FuzzEvaluate(f *testing.F) {
	for _, text := range []string{"(0.125 + 0.04)·tan(90°/2)", "√(3² + 4²) - 2³", "acos(-(0.5·-1))", "round up(2.1·2)", "1..2", "((", "--1²²"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var fault *formula.Error
		if _, err := formula.Evaluate(text); err != nil {
			require.ErrorAs(t, err, &fault)
		}
	})
}
