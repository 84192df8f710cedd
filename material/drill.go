package material

import (
	"math"

	"github.com/hangarflat/hangarflat/material/measure"
)

// A Drill is a twist drill of the American sizes.
type Drill struct {
	Name     string // "3/16", "No. 30", "letter F"
	Diameter float64
	Source   Source
}

type drillSize struct {
	name     string
	diameter float64
}

// sixtyFourth is the step of fractional drills, which an index holds to 1 in.
const sixtyFourth = measure.Inch / 64

var fractions = Source{Document: "drills by 1/64 in to 1 in", Provenance: CommonPractice}

// DrillFor returns the drill nearest to a diameter, mm, within .001 in of it: that of a fraction to 1 in, a number or
// a letter. Of two equally near it is the fraction, as the commoner. False where there is none so near.
func DrillFor(diameter float64) (Drill, bool) {
	const near, rounding = measure.Thou, 1e-9
	best, off := Drill{}, near+rounding
	if n := math.Round(diameter / sixtyFourth); 1 <= n && n <= 64 && math.Abs(n*sixtyFourth-diameter) <= off {
		name, _ := measure.FractionText(n * sixtyFourth)
		best, off = Drill{name, n * sixtyFourth, fractions}, math.Abs(n*sixtyFourth-diameter)-rounding
	}
	for _, d := range namedDrills {
		if by := math.Abs(d.diameter - diameter); by <= off {
			best, off = Drill{d.name, d.diameter, drillSource}, by
		}
	}
	return best, best.Diameter > 0
}

// NamedDrill returns the drill of a number or a letter: "No. 30", "letter F".
func NamedDrill(name string) (Drill, bool) {
	for _, d := range namedDrills {
		if d.name == name {
			return Drill{d.name, d.diameter, drillSource}, true
		}
	}
	return Drill{}, false
}
