package bend

import (
	"strconv"
	"strings"
	"unicode"

	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

// A Unit says how to print a [Step]'s number.
type Unit uint8

const (
	None    Unit = iota // a pure number
	Length              // mm inside, printed in inches and mm
	Degrees             // radians inside, printed in degrees
	Count               // a whole number
	Mass                // gram
)

// An Input is one symbol of a formula with the number put in for it.
type Input struct {
	Symbol string
	Value  float64 // mm, radians or a pure number, as Unit says
	Unit   Unit
}

// A Step is one line of working: what was computed, by which formula, from which
// numbers, on whose word. A reader can recompute Value from the step alone.
type Step struct {
	Quantity string  // "setback of aft bend"
	Symbol   string  // "SB"
	Formula  string  // "(R + T)·tan(A/2)"
	Inputs   []Input // in the order of the formula
	Value    float64 // mm, radians or a pure number, as Unit says
	Unit     Unit
	Source   material.Source
}

// A System is the system of units a number is printed in.
type System uint8

const (
	Inches      System = iota // lengths in inches, mass in pounds
	Millimetres               // lengths in mm, mass in grams
)

const (
	poundMass = 453.59237 // g, exact (international yard and pound agreement of 1959)

	// A number that goes into a formula is printed one place finer than an answer,
	// so that working it again from the print gives the printed answer, but for
	// one unit in its last place.
	inputInchPlaces, answerInchPlaces = 5, 4
	inputMmPlaces, answerMmPlaces     = 4, 3
)

// String prints the step on one line: quantity, formula, the formula with its
// numbers in inches, the answer in inches and mm, and the source.
//
//	setback of aft bend: SB = (R + T)·tan(A/2) = (0.125 + 0.04)·tan(97.5°/2) = 0.1881 in (4.778 mm) [FAA AC 43.13-1B, para 4-56 b]
func (s Step) String() string {
	return s.Quantity + ": " + s.Equation(Inches) + " = " + s.Answer() + " [" + s.Source.String() + "]"
}

// Equation returns symbol, formula and the formula with the numbers put in, lengths in the given
// system: "SL = R = 0.1875". A formula in words, into which none are put, stands there once.
func (s Step) Equation(in System) string {
	text := s.Symbol + " = " + s.Formula
	if put := s.PutIn(in); put != s.Formula {
		text += " = " + put
	}
	return text
}

// PutIn returns the formula with the numbers put in for its symbols, lengths in
// the given system without their unit: "(0.125 + 0.04)·tan(97.5°/2)". A symbol
// followed by ° stands for the plain number of degrees.
func (s Step) PutIn(in System) string {
	var out, word strings.Builder
	flush := func(next rune) (eatNext bool) {
		w := word.String()
		word.Reset()
		for _, v := range s.Inputs {
			if v.Symbol == w {
				out.WriteString(v.text(in, next == '°'))
				return next == '°'
			}
		}
		out.WriteString(w)
		return false
	}
	for _, r := range s.Formula {
		if unicode.IsLetter(r) || unicode.IsDigit(r) || r == '.' || r == '_' {
			word.WriteRune(r)
			continue
		}
		if word.Len() > 0 && flush(r) {
			continue
		}
		out.WriteRune(r)
	}
	if word.Len() > 0 {
		flush(0)
	}
	return out.String()
}

func (v Input) text(in System, bare bool) string {
	switch v.Unit {
	case Length:
		if in == Millimetres {
			return trim(v.Value, inputMmPlaces)
		}
		return trim(v.Value/measure.Inch, inputInchPlaces)
	case Degrees:
		text := trim(measure.Angle(v.Value).Degrees(), 4)
		if bare {
			return text
		}
		return text + "°"
	case Count:
		return trim(v.Value, 0)
	case Mass:
		if in == Millimetres {
			return trim(v.Value, 3)
		}
		return trim(v.Value/poundMass, 5)
	}
	return trim(v.Value, 5)
}

// Answer prints the step's value with its unit, a length in inches with mm beside
// it: "0.1881 in (4.778 mm)".
func (s Step) Answer() string {
	switch s.Unit {
	case Length, Mass:
		return s.AnswerIn(Inches) + " (" + s.AnswerIn(Millimetres) + ")"
	}
	return s.AnswerIn(Inches)
}

// AnswerIn prints the step's value in one system: "0.1881 in", "4.778 mm".
func (s Step) AnswerIn(in System) string {
	switch s.Unit {
	case Length:
		if in == Millimetres {
			return measure.MmText(s.Value, answerMmPlaces)
		}
		return measure.InchText(s.Value, answerInchPlaces)
	case Degrees:
		return measure.Angle(s.Value).Text(3)
	case Count:
		return trim(s.Value, 0)
	case Mass:
		if in == Millimetres {
			return strconv.FormatFloat(s.Value, 'f', 1, 64) + " g"
		}
		return strconv.FormatFloat(s.Value/poundMass, 'f', 4, 64) + " lb"
	}
	return trim(s.Value, 4)
}

// trim prints x with at most the given places and no trailing zeros.
func trim(x float64, places int) string {
	text := strconv.FormatFloat(x, 'f', places, 64)
	if strings.ContainsRune(text, '.') {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return text
}
