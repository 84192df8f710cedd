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
