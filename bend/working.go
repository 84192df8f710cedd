package bend

import (
	"errors"
	"math"
	"strings"
	"unicode"

	"github.com/hangarflat/hangarflat/material"
)

// Working returns the trail of a bend's numbers for a bench card: setback SB,
// neutral-line depth K where the law has a formula for it, allowance BA, deduction
// BD and sight line SL, each with formula, inputs and source. Name goes into the
// quantity, "setback of aft bend". For a fold of 180° the depth to the outside of
// the fold, FD = R + T, stands in place of SB and takes its part in BD. It returns an error for no
// rule, the errors of [Bend.Validate] and those of the rule, and one where the rule names no law.
func Working(rule Rule, b Bend, name string) ([]Step, error) {
	if err := b.Validate(); err != nil {
		return nil, err
	}
	ba, err := allowance(rule, b)
	if err != nil {
		return nil, err
	}
	if ba.Law == nil {
		return nil, errors.New("the rule answered without its law")
	}
	back, err := legStep(b, name)
	if err != nil {
		return nil, err
	}
	steps := []Step{back}
	if f := ba.Law.KFormula; f != "" {
		steps = append(steps, Step{"neutral line of " + name, "K", f, inputsOf(f, b, ba.K), ba.K, None, ba.Law.Source})
	}
	formula := strings.TrimPrefix(ba.Law.Formula, "BA = ")
	return append(steps,
		Step{"allowance of " + name, "BA", formula, inputsOf(formula, b, ba.K), ba.Length, Length, ba.Law.Source},
		Step{
			Quantity: "deduction of " + name, Symbol: "BD", Formula: "2·" + back.Symbol + " - BA",
			Inputs: []Input{{back.Symbol, back.Value, Length}, {"BA", ba.Length, Length}},
			Value:  2*back.Value - ba.Length, Unit: Length,
			Source: material.Source{Document: "definition", Provenance: material.Derived},
		},
		Step{
			Quantity: "sight line of " + name, Symbol: "SL", Formula: "R",
			Inputs: inputsOf("R", b, 0), Value: b.Radius, Unit: Length,
			Source: material.Source{Document: "one radius from the tangent line held", Provenance: material.CommonPractice},
		},
	), nil
}

// legStep is the setback or, where there is no mold line, the depth of the fold.
func legStep(b Bend, name string) (Step, error) {
	if b.Angle == math.Pi {
		depth, err := b.FoldDepth()
		return Step{
			Quantity: "depth of fold of " + name, Symbol: "FD", Formula: "R + T",
			Inputs: inputsOf("R + T", b, 0), Value: depth, Unit: Length,
			Source: material.Source{Document: "outside of the fold from its tangent line", Provenance: material.Derived},
		}, err
	}
	sb, err := b.Setback()
	const formula = "(R + T)·tan(A/2)"
	return Step{"setback of " + name, "SB", formula, inputsOf(formula, b, 0), sb, Length, setbackSource}, err
}

// inputsOf lists those of a bend's numbers that a formula names, in its order.
func inputsOf(formula string, b Bend, k float64) []Input {
	var in []Input
	for _, symbol := range symbols(formula) {
		var v Input
		switch symbol {
		case "R":
			v = Input{"R", b.Radius, Length}
		case "T":
			v = Input{"T", b.Thickness, Length}
		case "A":
			v = Input{"A", float64(b.Angle), Degrees}
		case "K":
			v = Input{"K", k, None}
		default:
			continue
		}
		known := false
		for _, have := range in {
			known = known || have.Symbol == symbol
		}
		if !known {
			in = append(in, v)
		}
	}
	return in
}

// symbols splits a formula into its words: runs of letters and digits that begin
// with a letter.
func symbols(formula string) []string {
	return strings.FieldsFunc(formula, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '.'
	})
}
