package material

import (
	"errors"
	"slices"
)

// A Change is what one sheet is against another. It shows; it recommends nothing:
// which sheet may take the place of which is for the aircraft's approved data to say.
type Change struct {
	Old, New Sheet
	// Thickness is new less old, mm; Ratio is new over old.
	Thickness, Ratio float64
	// Yield and Ultimate compare what a unit of width carries, Fty·T and Ftu·T, new
	// over old, on the basis of Strength; 0 where no table gives both on one basis.
	Yield, Ultimate float64
	Strength        Basis
	// Stiffness compares the bending stiffness of a flat sheet, E·T³, new over old; 0 where unknown.
	Stiffness float64
	// Mass is new over old for the same area; 0 where unknown.
	Mass float64
	// OldRadius and NewRadius are the strictest limits. A limit no table gives has no
	// source (Unstated).
	OldRadius, NewRadius Limit
	// Missing lists in words what no table at hand could answer.
	Missing []string
}

// Compare shows what changes from an old sheet to a new one. Both must be valid; a
// figure no table gives is left 0 and named in Missing. The errors are those of [Sheet.Validate]
// for either, joined.
func Compare(old, stock Sheet) (Change, error) {
	if err := errors.Join(old.Validate(), stock.Validate()); err != nil {
		return Change{}, err
	}
	c := Change{Old: old, New: stock, Thickness: stock.Thickness - old.Thickness, Ratio: stock.Thickness / old.Thickness}
	c.strengths()
	oldMass, err1 := old.MassPerArea()
	newMass, err2 := stock.MassPerArea()
	if err := errors.Join(err1, err2); err != nil {
		c.Missing = append(c.Missing, err.Error())
	} else {
		c.Mass = newMass / oldMass
	}
	var err error
	if c.OldRadius, err = old.Material.MinBendRadius(old.Thickness); err != nil {
		c.Missing = append(c.Missing, "old sheet: "+err.Error())
	}
	if c.NewRadius, err = stock.Material.MinBendRadius(stock.Thickness); err != nil {
		c.Missing = append(c.Missing, "new sheet: "+err.Error())
	}
	return c, nil
}

// strengths compares on minimum values if both sheets have them, else on typical ones.
func (c *Change) strengths() {
	for _, basis := range []Basis{Minimum, Typical} {
		a, err1 := c.Old.Material.Properties(c.Old.Thickness, basis)
		b, err2 := c.New.Material.Properties(c.New.Thickness, basis)
		if err1 != nil || err2 != nil {
			continue
		}
		c.Strength = basis
		c.Yield = b.Fty * c.New.Thickness / (a.Fty * c.Old.Thickness)
		c.Ultimate = b.Ftu * c.New.Thickness / (a.Ftu * c.Old.Thickness)
		if a.E > 0 && b.E > 0 {
			c.Stiffness = b.E / a.E * c.Ratio * c.Ratio * c.Ratio
		}
		return
	}
	c.Missing = append(c.Missing, "no table at hand gives strengths of both on one basis")
}

// Substitute shows what changes from an old sheet to the stock thicknesses of today
// nearest to it: the same one if it is rolled, and the next below and above. Each is shown
// in the old sheet's alloy and in every other material given, each material once. The order
// is by material as given, then by thickness. It returns the errors of [Sheet.Validate] for the
// old sheet, an [*Error] where its thickness lies outside the standard ones, or the errors of the
// new sheets, joined.
func Substitute(old Sheet, others ...Material) ([]Change, error) {
	if err := old.Validate(); err != nil {
		return nil, err
	}
	near := nearStock(old.Thickness)
	if len(near) == 0 {
		return nil, &Error{"thickness", plain(old.Thickness) + " mm", "outside the standard aircraft thicknesses, .012 to .250 in"}
	}
	var all []Change
	var faults []error
	materials := append([]Material{old.Material}, others...)
	for i, m := range materials {
		if slices.Contains(materials[:i], m) {
			continue
		}
		for _, t := range near {
			c, err := Compare(old, Sheet{Material: m, Thickness: t})
			faults = append(faults, err)
			all = append(all, c)
		}
	}
	if err := errors.Join(faults...); err != nil {
		return nil, err
	}
	return all, nil
}

// StockThicknesses returns the decimal thicknesses aircraft sheet is rolled to
// today, in mm, rising (common practice).
func StockThicknesses() []float64 { return slices.Clone(currentStock[:]) }

// OlderStockThicknesses returns the rounded Brown & Sharpe thicknesses of older
// drawings, in mm, rising (common practice).
func OlderStockThicknesses() []float64 { return slices.Clone(olderStock[:]) }

// nearStock picks the stock of the same nominal size and its neighbours.
func nearStock(t float64) []float64 {
	if !(currentStock[0]*(1-sameGauge) <= t && t <= currentStock[len(currentStock)-1]*(1+sameGauge)) {
		return nil
	}
	low, high := 0, len(currentStock)-1
	for i, s := range currentStock {
		if s < t*(1-sameGauge) {
			low = i
		}
		if s > t*(1+sameGauge) {
			high = i
			break
		}
	}
	return currentStock[low : high+1]
}
