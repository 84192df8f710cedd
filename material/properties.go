package material

import "github.com/hangarflat/hangarflat/material/measure"

const (
	ksi               = 6.894757293168361  // MPa; 1 lbf = 4.4482216152605 N, 1 in = 25.4 mm, both exact
	poundPerCubicInch = 27.679904710203125 // g/cm³; 453.59237 g over 16.387064 cm³
	inch              = measure.Inch
)

// Basis says what a strength stands for.
type Basis uint8

const (
	Typical Basis = 1 + iota // an average of the product; not for design
	Minimum                  // a specification's or a design document's minimum
)

func (b Basis) String() string {
	switch b {
	case Typical:
		return "typical"
	case Minimum:
		return "minimum"
	}
	return "no basis"
}

// Properties is one published row of strengths. A figure its document does not give
// is 0.
type Properties struct {
	Ftu, Fty   float64 // MPa, ultimate and yield strength in tension
	Elongation float64 // percent
	E          float64 // MPa, modulus of elasticity
	Density    float64 // g/cm³
	From, To   float64 // mm, thicknesses the row is for; 0 where none is stated
	Basis      Basis
	Source     Source
}

type propertyRow struct {
	clad bool
	Properties
}

// covers tells whether a row is for a thickness.
func (p Properties) covers(t float64) bool {
	return (p.From == 0 || t >= p.From*(1-sameGauge)) && (p.To == 0 || t <= p.To*(1+sameGauge))
}

// AllProperties returns every published row of the material: all documents, bases
// and thicknesses. A clad material has its own rows only. It returns an [*Error] for a material
// that is in none of the tables, or in none of those of strengths.
func (m Material) AllProperties() ([]Properties, error) {
	if err := m.fault(); err != nil {
		return nil, err
	}
	var all []Properties
	for _, r := range propertiesOf[index(m.Alloy, m.Temper)] {
		if r.clad == m.Clad {
			all = append(all, r.Properties)
		}
	}
	if all == nil {
		return nil, &Error{"material", m.String(), "no table of strengths at hand has a row for it"}
	}
	return all, nil
}

// Properties returns the strengths of a sheet of this thickness (mm) on the given
// basis. Of several documents it takes one that was read before a remembered one,
// and among those the lowest yield strength. A clad sheet without a row of its
// own is an error, because its cladding carries little.
func (m Material) Properties(thickness float64, basis Basis) (Properties, error) {
	if basis != Typical && basis != Minimum {
		return Properties{}, &Error{"basis", plain(float64(basis)), "say whether typical or minimum strengths are wanted"}
	}
	if !(0 < thickness && thickness <= thickest) {
		return Properties{}, thicknessFault(thickness)
	}
	i := index(m.Alloy, m.Temper)
	if i < 0 || m.Clad && !canBeClad(m.Alloy) {
		return Properties{}, m.fault()
	}
	var best *Properties
	for n := range propertiesOf[i] {
		r := &propertiesOf[i][n]
		if r.clad == m.Clad && r.Basis == basis && r.Fty > 0 && r.covers(thickness) && (best == nil || r.weaker(best)) {
			best = &r.Properties
		}
	}
	if best == nil {
		return Properties{}, &Error{"material", m.String(), "no table at hand gives " + basis.String() + " strengths at " + measure.Both(thickness)}
	}
	return *best, nil
}

func (p *Properties) weaker(than *Properties) bool {
	if read := p.Source.Provenance == Read; read != (than.Source.Provenance == Read) {
		return read
	}
	return p.Fty < than.Fty
}

// Density returns the density of the alloy in g/cm³, from any of its tempers; a
// clad sheet is given its core's, a little high because the cladding is lighter. It returns an
// [*Error] for a material that is in none of the tables, and where none gives a density of its
// alloy.
func (m Material) Density() (float64, Source, error) {
	if err := m.fault(); err != nil {
		return 0, Source{}, err
	}
	if d, s := density(index(m.Alloy, m.Temper)); d > 0 {
		return d, s, nil
	}
	for i := range materials {
		if materials[i].Alloy == m.Alloy {
			if d, s := density(i); d > 0 {
				return d, s, nil
			}
		}
	}
	return 0, Source{}, &Error{"material", m.String(), "no table at hand gives its density"}
}

func density(i int) (float64, Source) {
	for _, r := range propertiesOf[i] {
		if r.Density > 0 {
			return r.Density, r.Source
		}
	}
	return 0, Source{}
}
