package bend

import (
	"errors"
	"math"

	"github.com/hangarflat/hangarflat/material"
)

// A Refit is one bend of a given part made in other sheet on the same inside form:
// what moves, in mm, new less old. It shows; it recommends nothing.
type Refit struct {
	Old, New Bend
	// Setback and Deduction are how these change, so how the blank and its bend
	// lines change when the mold lines are kept.
	Setback, Deduction float64
	// MoldLine is how far the mold line moves out along each leg when the inside faces
	// are kept where they were: dT·tan(A/2).
	MoldLine float64
	// FlangeFit is how far the outside face of the flange moves out when its inside is kept: dT. A
	// part that lay against it has to give way by this, or a shim of -dT fills it.
	FlangeFit float64
	// RadiusRaised is what the new sheet's limit adds to the radius: 0 when the
	// old radius is not below the limit.
	RadiusRaised float64
	Limit        material.Limit
}

// Substitute shows what one bend of a part becomes in another sheet. The radius is kept
// where the new sheet's limit allows it and is raised to the limit where not, so that
// the new bend can be made; where no table has a limit it is kept and Limit has no source.
// A sheet a table advises against bending is an error. The bend's thickness must be
// the old sheet's.
func Substitute(rule Rule, old, stock material.Sheet, b Bend) (Refit, error) {
	if err := errors.Join(b.Validate(), old.Validate(), stock.Validate()); err != nil {
		return Refit{}, err
	}
	if math.Abs(b.Thickness-old.Thickness) > 1e-9*old.Thickness {
		return Refit{}, &Error{"thickness", lengthText(b.Thickness), "the bend is of another thickness than the old sheet, " + lengthText(old.Thickness)}
	}
	// Both sheets are valid, so an error here means that no table has a limit, and
	// the zero limit raises nothing.
	limit, _ := stock.Material.MinBendRadius(stock.Thickness)
	if limit.NotRecommended {
		return Refit{}, &Error{"thickness", lengthText(stock.Thickness), stock.Material.String() + " of this thickness is not recommended for bending by " + limit.Source.String()}
	}
	made := Bend{b.Angle, b.Radius, stock.Thickness}
	if material.Sharper(b.Radius, limit.Value) {
		made.Radius = limit.Value
	}
	r := Refit{Old: b, New: made, Limit: limit, RadiusRaised: made.Radius - b.Radius}
	oldBack, err1 := b.Setback()
	newBack, err2 := made.Setback()
	oldBD, err3 := Deduction(rule, b)
	newBD, err4 := Deduction(rule, made)
	if err := errors.Join(err1, err2, err3, err4); err != nil {
		return Refit{}, err
	}
	r.Setback, r.Deduction = newBack-oldBack, newBD-oldBD
	r.FlangeFit = stock.Thickness - old.Thickness
	r.MoldLine = r.FlangeFit * math.Tan(float64(b.Angle)/2)
	return r, nil
}
