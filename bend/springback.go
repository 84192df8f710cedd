package bend

import (
	"math"

	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

// Springback answers both ways what a bend does when it is let go. Bends are the
// metal's: inside radius and angle turned, in the tool and afterwards.
type Springback interface {
	// Leaves returns the bend that is left when a sheet bent round a tool of this
	// inside radius to this angle is let go.
	Leaves(tool Bend) (Bend, error)
	// Tool returns the tool radius and the angle to bend to, for the wanted bend to be left.
	Tool(want Bend) (Bend, error)
}

// CubicSource is where the springback of [ElasticPlastic] was read.
func CubicSource() material.Source {
	return material.Source{Document: "university manufacturing course notebook", Place: "springback", Provenance: material.Read}
}

// ElasticPlastic is the springback of a sheet that yields without hardening:
//
//	Ri/Rf = 4x³ - 3x + 1,  x = Ri·Fty/(E·T)
//
// Ri the radius in the tool, Rf after release. It follows from the moment of a section
// with an elastic core of half-depth Fty·R/E, released elastically; there R is the
// radius of the middle of the sheet, and the published form puts the inside radius
// in its place, which matters little where R is many times T, where springback matters
// most. The angle follows from the neutral line keeping its length:
//
//	Af/Ai = (Ri + K·T)/(Rf + K·T)
//
// It holds while the sheet yields, x < 1/2; at x = 1/2 the released radius is infinite and
// above it the sheet springs back flat, which is reported as an error, never as a radius.
type ElasticPlastic struct {
	Fty, E float64 // MPa, yield strength and modulus; only their ratio counts
	K      float64 // depth of the neutral line over T; 0 stands for the middle, 0.5
}

// YieldRatio is R/T at and above which the sheet stays elastic, E/(2·Fty).
func (e ElasticPlastic) YieldRatio() float64 { return e.E / (2 * e.Fty) }

func (e ElasticPlastic) neutral() float64 {
	if e.K == 0 {
		return 0.5
	}
	return e.K
}

func (e ElasticPlastic) fault(b Bend) error {
	switch {
	case !b.valid():
		return b.Validate()
	case !(0 < e.Fty && e.Fty <= 1e5):
		return &Error{"Fty", plain(e.Fty) + " MPa", "a yield strength must be above 0 MPa"}
	case !(2*e.Fty < e.E && e.E <= 1e7):
		return &Error{"E", plain(e.E) + " MPa", "a modulus in MPa is far above the yield strength: look for a slip of unit"}
	case !(0 <= e.K && e.K <= 1):
		return &Error{"K", plain(e.K), "the neutral line lies inside the sheet: K must be 0 to 1, 0 for the middle"}
	}
	return nil
}

// Leaves implements [Springback]. A tool radius at which the sheet does not yield is
// an [*Error] that states the limit.
func (e ElasticPlastic) Leaves(tool Bend) (Bend, error) {
	if err := e.fault(tool); err != nil {
		return Bend{}, err
	}
	x := tool.Radius * e.Fty / (e.E * tool.Thickness)
	if !(x < 0.5) {
		return Bend{}, &Error{"radius", lengthText(tool.Radius),
			"round this tool the sheet stays elastic and springs back flat: R must be below " + lengthText(e.YieldRatio()*tool.Thickness)}
	}
	left := tool
	// 1-3x+4x³ = (1-2x)²(1+x): as a product it keeps its digits as x nears 1/2.
	left.Radius = tool.Radius / ((1 - 2*x) * (1 - 2*x) * (1 + x))
	left.Angle = tool.Angle * ratio(tool, left, e.neutral())
	if left.Radius > largestRadius {
		return Bend{}, &Error{"radius", lengthText(tool.Radius), "so close to the elastic limit that the released radius is above 100 m"}
	}
	return left, nil
}

// Tool implements [Springback]. Every wanted radius has a tool, but a large one wants
// a tool near the limit R/T = E/(2·Fty), where a little scatter of Fty is a lot of
// radius. An overbend past 180° is an [*Error].
func (e ElasticPlastic) Tool(want Bend) (Bend, error) {
	if err := e.fault(want); err != nil {
		return Bend{}, err
	}
	tool := want
	if want.Radius > 0 {
		// With m = E·T/(Fty·Rf) the tool's x solves 4x³ - (3+m)x + 1 = 0: one root in
		// (0, 1/2), where the left side falls and is convex, so that Newton's steps
		// from x = 1/(3+m) rise to it without passing it.
		m := e.E * want.Thickness / (e.Fty * want.Radius)
		x := 1 / (3 + m)
		for range 60 {
			step := (4*x*x*x - (3+m)*x + 1) / ((3 + m) - 12*x*x)
			if x += step; !(math.Abs(step) > 1e-16*x) {
				break
			}
		}
		tool.Radius = x * e.E * want.Thickness / e.Fty
	}
	tool.Angle = want.Angle / ratio(tool, want, e.neutral())
	return tool, overbent(tool, want)
}

// ratio is Af/Ai for a neutral line at k·T that keeps its length.
func ratio(tool, left Bend, k float64) measure.Angle {
	return measure.Angle((tool.Radius + k*tool.Thickness) / (left.Radius + k*left.Thickness))
}

func overbent(tool, want Bend) error {
	if tool.Angle <= math.Pi {
		return nil
	}
	return &Error{"angle", want.Angle.String(), "the sheet would have to be turned through " + tool.Angle.String() + ", past flat against itself"}
}
