// Package formula works printed formulas again, as a checker with a pocket calculator
// does: every number of a card can be held against what stands beside it, by a test or by
// a program of the shop.
//
// # Conventions
//
// A formula is what [bend.Step.PutIn] prints: numbers with + - · / ( ) √ ² ³ π, degrees
// after a number, and tan, sin, cos, asin, acos, lg (to the base of 10) and round up.
// Angles are radians inside.
//
// # Errors
//
// What cannot be worked, or does not give what is printed, is an [*Error].
package formula

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/hangarflat/hangarflat/bend"
)

// An Error says which printed formula or answer is at fault.
type Error struct {
	Field string // the quantity worked, or "formula"
	Value string // as printed
	Rule  string
}

func (e *Error) Error() string { return e.Field + " " + e.Value + ": " + e.Rule }

// inWords are the formulas of the library that no calculator works, and why.
var inWords = map[string]string{
	"half the sum of x·y' - x'·y, arcs beside": "it runs over all corners of the outline, which stand in a table of the card of their own",
	"reading less plane":                       "the plane of least squares is the direction of least spread, found by an eigenvalue",
	"reading less fair line":                   "the fair line is found by a solver, and each reading's distance from it is measured there",
}

// Check works a step again from its print alone, in each system it is printed in. It returns an
// [*Error] where that does not give the printed answer to one and a half units of its last place, and where the
// formula cannot be worked. The few formulas of the library that are words, such as "reading less fair line",
// are passed by.
func Check(s bend.Step, systems ...bend.System) error {
	if _, known := inWords[s.Formula]; known {
		return nil
	}
	for _, in := range systems {
		text := strings.Fields(s.AnswerIn(in))[0]
		number, degrees := strings.CutSuffix(text, "°")
		want, err := strconv.ParseFloat(number, 64)
		if err != nil {
			return &Error{s.Quantity, text, "must be a number"}
		}
		got, err := Evaluate(s.PutIn(in))
		if err != nil {
			return fmt.Errorf("%s: %w", s.Quantity, err)
		}
		if degrees {
			got *= 180 / math.Pi
		}
		if !(math.Abs(got-want) <= slack(s, in)) {
			return &Error{s.Quantity, text, fmt.Sprintf("%s gives %.6g", s.PutIn(in), got)}
		}
	}
	return nil
}

// slack is one and a half units in the last place a step's answer is printed to; a count is exact.
func slack(s bend.Step, in bend.System) float64 {
	switch {
	case s.Unit == bend.Count:
		return 0
	case s.Unit == bend.Mass && in == bend.Millimetres:
		return 1.5e-1
	case s.Unit == bend.Degrees, s.Unit == bend.Length && in == bend.Millimetres:
		return 1.5e-3
	}
	return 1.5e-4
}

// longest is more than any formula has in it: what is nested deeper is none.
const longest = 1000

// Evaluate works a printed formula whose numbers have been put in. It returns an [*Error] for what is no
// formula, and tells where it stops being one.
func Evaluate(text string) (float64, error) {
	e := &evaluator{text: []rune(strings.ReplaceAll(text, " ", ""))}
	if len(e.text) > longest {
		return 0, &Error{"formula", fmt.Sprintf("of %d signs", len(e.text)), fmt.Sprintf("must have at most %d", longest)}
	}
	x := e.sum()
	if e.err == nil && e.at != len(e.text) {
		e.fail()
	}
	if e.err != nil {
		return 0, e.err
	}
	return x, nil
}

// functions by the words and the parenthesis they begin with, without spaces.
var functions = [...]struct {
	name string
	of   func(float64) float64
}{
	{"(", func(x float64) float64 { return x }},
	{"tan(", math.Tan}, {"sin(", math.Sin}, {"cos(", math.Cos},
	{"asin(", math.Asin}, {"acos(", math.Acos}, {"lg(", math.Log10},
	{"roundup(", func(x float64) float64 { return math.Ceil(x - 1e-9) }},
}

type evaluator struct {
	text []rune
	at   int
	err  error
}

func (e *evaluator) fail() {
	if e.err == nil {
		e.err = &Error{"formula", strconv.Quote(string(e.text)), fmt.Sprintf("cannot be worked from its sign %d on", e.at+1)}
	}
}

func (e *evaluator) take(r rune) bool {
	if e.at < len(e.text) && e.text[e.at] == r {
		e.at++
		return true
	}
	return false
}

func (e *evaluator) sum() float64 {
	x := e.product()
	for e.err == nil {
		switch {
		case e.take('+'):
			x += e.product()
		case e.take('-'):
			x -= e.product()
		default:
			return x
		}
	}
	return x
}

func (e *evaluator) product() float64 {
	x := e.power()
	for e.err == nil {
		switch {
		case e.take('·'):
			x *= e.power()
		case e.take('/'):
			x /= e.power()
		default:
			return x
		}
	}
	return x
}

// power is a factor with its sign and its exponent: -2² is -(2²) and √4² is (√4)².
func (e *evaluator) power() float64 {
	if e.take('-') {
		return -e.power()
	}
	x := e.factor()
	for e.err == nil {
		switch {
		case e.take('²'):
			x *= x
		case e.take('³'):
			x *= x * x
		default:
			return x
		}
	}
	return x
}

func (e *evaluator) factor() float64 {
	if e.take('√') {
		return math.Sqrt(e.factor())
	}
	rest := string(e.text[e.at:])
	for _, f := range functions {
		if strings.HasPrefix(rest, f.name) {
			e.at += len(f.name)
			x := e.sum()
			if !e.take(')') {
				e.fail()
			}
			return f.of(x)
		}
	}
	if e.take('π') {
		return math.Pi
	}
	from := e.at
	for e.at < len(e.text) && strings.ContainsRune("0123456789.", e.text[e.at]) {
		e.at++
	}
	x, err := strconv.ParseFloat(string(e.text[from:e.at]), 64)
	if err != nil {
		e.fail()
	}
	if e.take('°') {
		x *= math.Pi / 180
	}
	return x
}
