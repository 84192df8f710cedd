package formula_test

import (
	"fmt"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/bend/formula"
	"github.com/hangarflat/hangarflat/material/measure"
)

// A checker works a line of a card again: (0.16 + 0.04)·tan(90°/2) is 0.2 in, and
// nothing else.
func ExampleCheck() {
	length := func(symbol string, inches float64) bend.Input {
		return bend.Input{Symbol: symbol, Value: inches * measure.Inch, Unit: bend.Length}
	}
	back := bend.Step{
		Quantity: "setback", Symbol: "SB", Formula: "(R + T)·tan(A/2)",
		Inputs: []bend.Input{length("R", 0.16), length("T", 0.04), {Symbol: "A", Value: 90 * float64(measure.Degree), Unit: bend.Degrees}},
		Value:  0.2 * measure.Inch, Unit: bend.Length,
	}
	fmt.Println(formula.Check(back, bend.Inches, bend.Millimetres))
	back.Value = 0.21 * measure.Inch
	fmt.Println(formula.Check(back, bend.Inches))
	// Output:
	// <nil>
	// setback 0.2100: (0.16 + 0.04)·tan(90°/2) gives 0.2
}

// Twice the setback less the allowance, as a card prints it.
func ExampleEvaluate() {
	x, err := formula.Evaluate("2·0.2 - 0.2791")
	fmt.Printf("%.4f %v\n", x, err)
	_, err = formula.Evaluate("2·SB - BA")
	fmt.Println(err)
	// Output:
	// 0.1209 <nil>
	// formula "2·SB-BA": cannot be worked from its sign 3 on
}
