package bend_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/material/measure"
)

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
	// Output:
	// setback of aft bend: SB = (R + T)·tan(A/2) = (0.125 + 0.04)·tan(97.5°/2) = 0.1881 in (4.779 mm) [FAA AC 43.13-1B, para 4-56 b]
	// allowance of aft bend: BA = (0.01743·R + 0.0078·T)·A° = (0.01743·0.125 + 0.0078·0.04)·97.5 = 0.2428 in (6.168 mm) [trade sheet-metal workbook, bend allowance page]
	// deduction of aft bend: BD = 2·SB - BA = 2·0.18815 - 0.24285 = 0.1334 in (3.389 mm) [derived: definition]
	// sight line of aft bend: SL = R = 0.125 = 0.1250 in (3.175 mm) [common practice: one radius from the tangent line held]
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
