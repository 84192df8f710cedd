package material

import "github.com/hangarflat/hangarflat/material/measure"

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
}
