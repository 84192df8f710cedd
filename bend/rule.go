package bend

import (
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

// A Bend is one straight bend of constant angle.
type Bend struct {
	Angle     measure.Angle // turned through from flat, 0 < A <= 180°
	Radius    float64       // inside radius R, mm, 0 or more
	Thickness float64       // T, mm, above 0
}

// A Law is the formula a [Rule] works by and where it comes from.
type Law struct {
	Name    string          // "handbook", "neutral axis"
	Formula string          // "BA = (0.01743·R + 0.0078·T)·A°"
	Source  material.Source // document of the formula
	// KFormula is how the law finds K, "0.325 + 0.25·lg(R/T)"; empty where the
	// formula needs no K or K was given.
	KFormula string
}

// An Allowance is the length of metal a bend takes up, with the law that gave it.
type Allowance struct {
	Length float64 // BA, mm, along the neutral line
	K      float64 // neutral-line depth from the inside face over T that this length means
	Law    *Law    // never nil in an answer without error; to be read, not changed
	// Caution is empty, or says in what way the bend lies outside the range the
	// law was published for.
	Caution string
}

// A Rule gives the allowance of a bend. Implementations are values that are safe
// for concurrent use, allocate nothing when they succeed, and return an error
// (an [*Error]) for a bend that is not valid or that they cannot answer.
type Rule interface {
	Allowance(Bend) (Allowance, error)
}
