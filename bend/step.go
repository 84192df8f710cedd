package bend

import "github.com/hangarflat/hangarflat/material"

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
