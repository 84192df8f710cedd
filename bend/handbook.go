package bend

import (
	"math"

	"github.com/hangarflat/hangarflat/material"
)

var handbookLaw = Law{
	Name:    "handbook",
	Formula: "BA = (0.01743·R + 0.0078·T)·A°",
	Source: material.Source{
		Document: "trade sheet-metal workbook", Place: "bend allowance page", Provenance: material.Read,
	},
}

// Handbook is the empirical law of the American handbooks,
//
//	BA = (0.01743·R + 0.0078·T)·A°
//
// with A° the bend angle in degrees. Its K is 0.0078·180/π = 0.447 for a sharp bend; the rounded
// 0.01743 (π/180 is 0.017453) makes it 0.0013 less for every R/T. The Navy's course
// prints 0.0173 for the same constant, and the handbook's chart was computed with
// π/180.
type Handbook struct{}

// shallowestK is where the rounded constant of the handbook law has eaten a third
// of the depth its own 0.0078 gives; the neutral line of a rolled bend is near 0.5.
const shallowestK = 1.0 / 3

// Allowance answers any valid bend, with a caution where R is so large against T
// that the law's rounded constant falls short. Its errors are those of [Bend.Validate].
func (Handbook) Allowance(b Bend) (Allowance, error) {
	if !b.valid() {
		return Allowance{}, b.Validate()
	}
	perDegree := float64(0.01743*b.Radius) + float64(0.0078*b.Thickness)
	a := Allowance{Length: perDegree * b.Angle.Degrees(), Law: &handbookLaw}
	a.K = (float64(perDegree*(180/math.Pi)) - b.Radius) / b.Thickness
	if a.K < shallowestK {
		a.Caution = "radius large against thickness: the rounded constant 0.01743 comes out short, use a neutral-axis law"
	}
	return a, nil
}
