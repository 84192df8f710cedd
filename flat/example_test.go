package flat_test

import (
	"errors"
	"fmt"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/material/measure"
)

// A bend of R 1/16 in .040 2024-T3 is sharper than any table has it: FAA AC 43.13-1B
// Table 4-6 begins at 3t for .064 sheet, the stricter row, and 3·.040 is .12.
func ExampleFinding() {
	p := channel(bend.Handbook{})
	p.Radius = measure.Inch / 16
	b, err := flat.Develop(p)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range b.Findings {
		if f.Severity == flat.Stop {
			fmt.Printf("%s, %s: %s against %s [%s]\n", f.Severity, f.Place, measure.InchText(f.Figure, 4), measure.InchText(f.Limit, 2), f.Source)
		}
	}
	fmt.Println("not for cutting:", b.Stopped())
	// Output:
	// STOP, flange "lower": 0.0625 in against 0.12 in [FAA AC 43.13-1B, Table 4-6]
	// STOP, flange "upper": 0.0625 in against 0.12 in [FAA AC 43.13-1B, Table 4-6]
	// not for cutting: true
}

// A faulty part is answered with every fault, each with its place for a program.
func ExampleError() {
	p := channel(bend.Handbook{})
	p.Web.Edges[0].Flanges = []flat.Flange{{Angle: 190 * measure.Degree, Height: 25.4}}
	_, err := flat.Develop(p)
	var fault *flat.Error
	if errors.As(err, &fault) {
		fmt.Println(fault.Path, "=", fault.Value)
	}
	// Output: web.edges[0].flanges[0].angle = 190°
}

// By hand, D 50, H 6, R 3, T 1: 50 - 2·(6 - (2 - π/2)·3 - (1.5 - π/4)·1) = 42.004 mm, and
// the edge is stretched by 50/42.004 - 1 = 19.0 %.
func ExampleLighteningHole() {
	h := flat.LighteningHole{Diameter: 50, Height: 6, Radius: 3}
	fmt.Printf("pilot %.3f mm, stretched %.1f %%\n", h.Pilot(1), 100*h.Stretch(1))
	// Output: pilot 42.004 mm, stretched 19.0 %
}

// A joggle over .040 sheet with a run-out of four times its depth: by hand
// √(.160² + .040²) - .160 = .0049 in.
func ExampleJoggle() {
	j := flat.Joggle{Run: 0.160 * measure.Inch, Depth: 0.040 * measure.Inch}
	fmt.Println("takes up", measure.InchText(j.Growth(), 4))
	// Output: takes up 0.0049 in
}
