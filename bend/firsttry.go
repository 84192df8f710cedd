package bend

import (
	"fmt"

	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

// SheetSpringback returns the springback of a sheet by what is published of its material,
// typical values before minimum ones, and the row it was taken from. A material for which no
// row gives both yield strength and modulus at this thickness is an error.
func SheetSpringback(s material.Sheet) (ElasticPlastic, material.Properties, error) {
	var why error
	for _, basis := range []material.Basis{material.Typical, material.Minimum} {
		p, err := s.Material.Properties(s.Thickness, basis)
		switch {
		case err == nil && p.E > 0:
			return ElasticPlastic{Fty: p.Fty, E: p.E}, p, nil
		case err == nil:
			err = fmt.Errorf("%s gives no modulus for %s", p.Source, s.Material)
		}
		if why == nil {
			why = err
		}
	}
	return ElasticPlastic{}, material.Properties{}, why
}

// SameNose is the springback of a shop that bends round the radius its drawings ask for, as
// nose bars come in sizes and no block is cut for the bend: only the angle is made up, and the
// radius that is left is a little larger than the nose's. Leaves is that of the springback inside.
type SameNose struct{ ElasticPlastic }

// Tool implements [Springback]: the wanted radius, and the angle that leaves the wanted angle.
// A radius of 0, of which the model has nothing to say, an overbend past 180°, and a nose round
// which the sheet does not yield, are an [*Error].
func (s SameNose) Tool(want Bend) (Bend, error) {
	left, err := s.Leaves(want)
	if err != nil {
		return Bend{}, err
	}
	if want.Radius == 0 {
		return Bend{}, sharpFault(want)
	}
	tool := want
	tool.Angle = want.Angle / ratio(want, left, s.neutral())
	return tool, overbent(tool, want)
}

// FirstTry is a springback to set a job up by before any test bend: that inside where it has
// an answer, and the bend as it is wanted where it has none, as for a fold flat on itself, or
// where none is known (nil).
type FirstTry struct{ Springback Springback }

// Tool implements [Springback]. What is no bend at all is an [*Error].
func (f FirstTry) Tool(want Bend) (Bend, error) {
	return f.or(want, func() (Bend, error) { return f.Springback.Tool(want) })
}

// Leaves implements [Springback]. What is no bend at all is an [*Error].
func (f FirstTry) Leaves(tool Bend) (Bend, error) {
	return f.or(tool, func() (Bend, error) { return f.Springback.Leaves(tool) })
}

func (f FirstTry) or(b Bend, answer func() (Bend, error)) (Bend, error) {
	if err := b.Validate(); err != nil || f.Springback == nil {
		return b, err
	}
	if other, err := answer(); err == nil {
		return other, nil
	}
	return b, nil
}

// released is the radius in the tool over that left, p standing for 100·x of [ElasticPlastic]: x itself
// is a few hundredths, and printed to as many places as other numbers it would not work out again.
const released = "(4·(p/100)³ - 3·p/100 + 1)"

var keepsNeutral = material.Source{Document: "springback cubic, the neutral line keeping its length", Provenance: material.Derived}

// Working is the trail of the overbend on a nose of the wanted radius, for a bench card: p = 100·x
// and the radius left RL, which are the same for every bend of this radius, and the angle to
// bend to AB. What Tool refuses is an [*Error].
func (s SameNose) Working(want Bend, name string) ([]Step, error) {
	tool, err := s.Tool(want)
	if err != nil {
		return nil, err
	}
	left, err := s.Leaves(want)
	if err != nil {
		return nil, err
	}
	round := " R " + measure.Both(want.Radius)
	p := s.hundredfold(want.Radius, want.Thickness)
	return s.putIn(want, p, []Step{{
		Quantity: "100·x of the springback cubic 4x³ - 3x + 1 (R, T in mm, Fty, E in MPa) round" + round, Symbol: "p", Formula: "100·R·Fty/(E·T)",
		Inputs: s.plainInputs(want), Value: p, Source: CubicSource(),
	}, {
		Quantity: "radius left by a nose of" + round, Symbol: "RL", Formula: "R/" + released,
		Value: left.Radius, Unit: Length, Source: CubicSource(),
	}, {
		Quantity: "angle to bend to on the first try, " + name, Symbol: "AB", Formula: "A·(R/" + released + " + K·T)/(R + K·T)",
		Value: float64(tool.Angle), Unit: Degrees, Source: keepsNeutral,
	}}), nil
}

// Working is the trail of [ElasticPlastic.Tool]: w = 100·x were the tool of the radius wanted,
// p = 100·x on the tool, the radius of the tool r and the
// angle to bend to W, for a card. With q = 1 + 100/(3·w) the cubic 4x³ - 3q·x + 1 = 0 has one
// root between 0 and 1/2, which the sine of a third of an angle gives. A bend of radius 0 has no such trail and is an
// [*Error], as is what Tool refuses.
func (e ElasticPlastic) Working(want Bend, name string) ([]Step, error) {
	tool, err := e.Tool(want)
	if err != nil {
		return nil, err
	}
	if want.Radius == 0 {
		return nil, sharpFault(want)
	}
	w, p := e.hundredfold(want.Radius, want.Thickness), e.hundredfold(tool.Radius, want.Thickness)
	return e.putIn(want, p, []Step{{
		Quantity: "100·x of the springback cubic 4x³ - 3x + 1 (R, T in mm, Fty, E in MPa), were the tool as wanted, " + name, Symbol: "w", Formula: "100·R·Fty/(E·T)",
		Inputs: e.plainInputs(want), Value: w, Source: CubicSource(),
	}, {
		Quantity: "100·x on the tool, the root of 4x³ - (3 + 100/w)·x + 1 = 0 below 1/2, " + name, Symbol: "p",
		Formula: "100·sin(asin(√(3·w/(100 + 3·w))³)/3)/√(3·w/(100 + 3·w))",
		Inputs:  []Input{{Symbol: "w", Value: w}}, Value: p, Source: CubicSource(),
	}, {
		Quantity: "radius of the tool, " + name, Symbol: "r", Formula: "R·" + released,
		Value: tool.Radius, Unit: Length, Source: CubicSource(),
	}, {
		Quantity: "angle to bend to on the tool, " + name, Symbol: "W", Formula: "A·(R + K·T)/(R·" + released + " + K·T)",
		Value: float64(tool.Angle), Unit: Degrees, Source: keepsNeutral,
	}}), nil
}

func sharpFault(b Bend) error {
	return &Error{"radius", lengthText(b.Radius), "the springback model has nothing to say of a radius of 0: find the overbend by a test bend"}
}

// hundredfold is 100·x of the cubic.
func (e ElasticPlastic) hundredfold(radius, thickness float64) float64 {
	return 100 * radius * e.Fty / (e.E * thickness)
}

// plainInputs are what x is found by. Lengths stand in mm, as the strengths stand in MPa: in inches a thin
// sheet has too few digits.
func (e ElasticPlastic) plainInputs(b Bend) []Input {
	return []Input{{"R", b.Radius, None}, {"Fty", e.Fty, None}, {"E", e.E, None}, {"T", b.Thickness, None}}
}

// putIn gives each step that has none yet its inputs: those of the bend, K and p that its formula names.
func (e ElasticPlastic) putIn(b Bend, p float64, steps []Step) []Step {
	for i, s := range steps {
		if s.Inputs == nil {
			steps[i].Inputs = append(inputsOf(s.Formula, b, e.neutral()), Input{"p", p, None})
		}
	}
	return steps
}
