package bend_test

import (
	"fmt"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/material/measure"
)

// By hand, R 5, T 1, 90°: k = 0.65 + 0.5·lg 5 = 0.99949, the arc π/2·(5 + 0.99949/2) =
// 8.6390, v = 2·6 - 8.6390 = 3.3610; 40 + 60 less that is 96.639, whole 97.
func ExampleDINBlank() {
	length, whole, err := bend.DINBlank([]float64{40, 60}, []bend.Bend{{Angle: 90 * measure.Degree, Radius: 5, Thickness: 1}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f mm, cut %.0f mm\n", length, whole)
	// Output: 96.639 mm, cut 97 mm
}

// A hem has no mold line: its legs go to the outside of the fold. By hand, R 1, T 1,
// K 0.5: BA = π·1.5 = 4.712, 2·(1 + 1) - 4.712 = -0.712, so the blank is longer than
// the legs.
func ExampleDeductionTo() {
	hem := bend.Bend{Angle: 180 * measure.Degree, Radius: 1, Thickness: 1}
	d, err := bend.DeductionTo(bend.OutsideOfFold, bend.NeutralAxis{K: 0.5}, hem)
	fmt.Printf("%.3f mm %v\n", d, err)
	_, err = bend.Deduction(bend.NeutralAxis{K: 0.5}, hem)
	fmt.Println(err != nil)
	// Output:
	// -0.712 mm <nil>
	// true
}

// The table of K for air bending gives 0.40 for soft and 0.45 for hard metal at R/T 2;
// by hand π/2·(2 + 0.40) = 3.7699 and π/2·(2 + 0.45) = 3.8485.
func ExampleSteppedK() {
	for _, h := range []bend.Hardness{bend.Soft, bend.Hard} {
		rule := bend.SteppedK{Table: bend.AirBendK, Hardness: h}
		a, err := rule.Allowance(bend.Bend{Angle: 90 * measure.Degree, Radius: 2, Thickness: 1})
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("K %.2f: %.4f mm\n", a.K, a.Length)
	}
	// Output:
	// K 0.40: 3.7699 mm
	// K 0.45: 3.8485 mm
}

// A bend of 90°, R .125 and T .040 set out by hand: the setback .125 + .040; the tangent line .165 short of the mold
// line; the sight line one radius on.
func ExampleBend() {
	b := bend.Bend{Angle: 90 * measure.Degree, Radius: 0.125 * measure.Inch, Thickness: 0.040 * measure.Inch}
	setback, err := b.Setback()
	if err != nil {
		fmt.Println(err)
		return
	}
	sight, err := b.SightLine()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("setback", measure.InchText(setback, 3), "sight line", measure.InchText(sight, 3), "from the tangent line")
	// A hem has no mold line: it is measured to the outside of its fold.
	hem := bend.Bend{Angle: 180 * measure.Degree, Radius: 0.125 * measure.Inch, Thickness: 0.040 * measure.Inch}
	_, err = hem.Setback()
	fmt.Println(err)
	depth, err := hem.FoldDepth()
	fmt.Println("fold", measure.InchText(depth, 3), err)
	// Output:
	// setback 0.165 in sight line 0.125 in from the tangent line
	// angle 180°: legs folded flat against each other never meet in a mold line: dimension to the outside of the fold
	// fold 0.165 in <nil>
}
