package material

import (
	"errors"
	"math"

	"github.com/hangarflat/hangarflat/material/measure"
)

// Grain is the direction the sheet was rolled in, as an angle on the blank from
// its x axis, counter-clockwise on the marking face. The zero value says that it
// is not stated.
type Grain struct {
	Stated bool
	Angle  measure.Angle
}

// A Sheet is the stock a part is cut from.
type Sheet struct {
	Material  Material
	Thickness float64 // mm
	Grain     Grain
	// Gauge is the system of the gauge number the thickness was given by; zero where it was
	// given as a length. See [Sheet.GaugeDoubt].
	Gauge GaugeSystem
}

// Limits of what is taken for sheet. They exist to catch a number given in the
// wrong unit.
const (
	thinnest = 0.1 // mm; an inch figure such as .040 read as mm falls below it
	thickest = 30  // mm; a thou figure such as 40 read as mm lies above it
)

// Validate reports everything that is wrong with the sheet: a material no table
// knows, a thickness that is no sheet (0.1 to 30 mm) or none of its gauge, a grain that is
// not finite.
// The errors are of type [*Error], joined.
func (s Sheet) Validate() error {
	var thickness, grain error
	if !(thinnest <= s.Thickness && s.Thickness <= thickest) {
		thickness = thicknessFault(s.Thickness)
	}
	if a := float64(s.Grain.Angle); math.IsNaN(a) || math.IsInf(a, 0) {
		grain = &Error{"grain", s.Grain.Angle.String(), "the direction of the grain must be a finite angle"}
	}
	return errors.Join(s.Material.fault(), thickness, grain, s.ValidateGauge())
}

func thicknessFault(t float64) error {
	value := plain(t) + " mm"
	switch {
	case 0 < t && t < thinnest:
		return &Error{"thickness", value, "thinner than 0.1 mm: if inches were meant, write " + plain(t) + "*measure.Inch"}
	case t > thickest && !math.IsInf(t, 1):
		return &Error{"thickness", value, "thicker than 30 mm: if thousandths were meant, write " + plain(t) + "*measure.Thou"}
	}
	return &Error{"thickness", value, "a thickness must be above 0 and finite"}
}

// MassPerArea returns the mass of the sheet in grams per square millimetre. It returns the errors
// of [Sheet.Validate], or those of [Material.Density].
func (s Sheet) MassPerArea() (float64, error) {
	if err := s.Validate(); err != nil {
		return 0, err
	}
	density, _, err := s.Material.Density()
	if err != nil {
		return 0, err
	}
	return density / 1000 * s.Thickness, nil
}
