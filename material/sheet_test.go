package material_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

func sheet(t *testing.T, name string, thickness float64) material.Sheet {
	return material.Sheet{Material: lookup(t, name), Thickness: thickness}
}

// All faults of a sheet are reported at once.
func TestSheetValidate(t *testing.T) {
	require.NoError(t, sheet(t, "alclad 2024-T3", 1.016).Validate())
	bad := material.Sheet{Thickness: math.NaN(), Grain: material.Grain{Stated: true, Angle: measure.Angle(math.Inf(1))}}
	err := bad.Validate()
	joined, ok := err.(interface{ Unwrap() []error })
	require.True(t, ok)
	assert.Len(t, joined.Unwrap(), 3)
	for thickness, want := range map[float64]string{0.04: "measure.Inch", 40: "measure.Thou", 0: "above 0", -1: "above 0", math.Inf(1): "finite"} {
		err := sheet(t, "2024-T3", thickness).Validate()
		var fault *material.Error
		require.ErrorAs(t, err, &fault)
		assert.Contains(t, err.Error(), want, "%v", thickness)
	}
}

// Mass by hand: 2024 has 0.100 lb/in³, so a square foot of .040 sheet weighs
// 144·.040·.100 = 0.576 lb = 261.27 g; over 92903.04 mm² that is 0.0028123 g/mm².
func TestMassPerArea(t *testing.T) {
	m, err := sheet(t, "2024-T3", .040*in).MassPerArea()
	require.NoError(t, err)
	assert.InDelta(t, 0.576*453.59237/92903.04, m, 1e-9)
	clad, err := sheet(t, "alclad 2024-T3", .040*in).MassPerArea()
	require.NoError(t, err)
	assert.InDelta(t, m, clad, 1e-12)
	_, err = sheet(t, "4130 annealed", math.NaN()).MassPerArea()
	require.Error(t, err)
}

// Strengths by basis; thickness picks the row: 4130 normalized is 95/75 ksi to .187 and 90/70
// above (published minima).
func TestProperties(t *testing.T) {
	const ksi = 6.894757
	for _, c := range []struct {
		name      string
		thickness float64
		basis     material.Basis
		ftu, fty  float64
	}{
		{"2024-T3", .040, material.Typical, 70, 50},
		{"2024-T3", .040, material.Minimum, 64, 42}, // 64/47 (longitudinal) is remembered
		{"alclad 2024-T3", .040, material.Typical, 65, 45},
		{"4130 normalized", .063, material.Minimum, 95, 75},
		{"4130 normalized", .250, material.Minimum, 90, 70},
		{"AZ31B-O", .050, material.Minimum, 32, 18},
		{"AZ31B-O", .125, material.Minimum, 32, 15},
		{"5052-H32", .040, material.Minimum, 31, 23}, // the design manual prints 31.2/23.2
		{"Ti-6Al-4V", .040, material.Minimum, 130, 120},
	} {
		p, err := lookup(t, c.name).Properties(c.thickness*in, c.basis)
		require.NoError(t, err, c)
		assert.InEpsilon(t, c.ftu*ksi, p.Ftu, 1e-6, "%+v", c)
		assert.InEpsilon(t, c.fty*ksi, p.Fty, 1e-6, "%+v", c)
		assert.Equal(t, c.basis, p.Basis)
	}
	for _, c := range []struct {
		name      string
		thickness float64
		basis     material.Basis
	}{{"alclad 7075-T6", 1, material.Typical}, {"302 annealed", 1, material.Typical}, {"2024-T3", math.NaN(), material.Typical}, {"2024-T3", 1, 0}, {"4130 normalized", 20, material.Minimum}, {"2024-T81", 1, material.Minimum}} {
		_, err := lookup(t, c.name).Properties(c.thickness, c.basis)
		var fault *material.Error
		require.ErrorAs(t, err, &fault, "%+v", c)
	}
	_, err := material.Material{Alloy: "2024", Temper: "T81"}.AllProperties()
	require.Error(t, err)
	_, _, err = material.Material{Alloy: "3105", Temper: "H25"}.Density()
	require.Error(t, err, "no table gives a density of 3105")
}

// Stock twice as thick: twice the strength and mass for the same width, eight times the
// stiffness of the flat sheet (T³).
func TestCompareTwiceAsThick(t *testing.T) {
	c, err := material.Compare(sheet(t, "2024-T3", .020*in), sheet(t, "2024-T3", .040*in))
	require.NoError(t, err)
	assert.InDelta(t, 2, c.Ratio, 1e-12)
	assert.InDelta(t, .020, c.Thickness/in, 1e-12)
	assert.InDelta(t, 2, c.Yield, 1e-12)
	assert.InDelta(t, 2, c.Ultimate, 1e-12)
	assert.InDelta(t, 2, c.Mass, 1e-12)
	assert.InDelta(t, 8, c.Stiffness, 1e-12)
	// AC 43.13-1B: at .020, between .016 (1.5-3t) and .032 (2-4t), 4t; at .040 5t.
	assert.InDelta(t, .080, c.OldRadius.Least/in+2*.020, 1e-9)
	assert.InDelta(t, .200, c.NewRadius.Value/in, 1e-9)
	assert.Empty(t, c.Missing)
}

// What no table answers is named, not made up.
func TestCompareNamesWhatIsMissing(t *testing.T) {
	c, err := material.Compare(sheet(t, "2017-T4", 1), sheet(t, "302 annealed", 1))
	require.NoError(t, err)
	assert.Zero(t, c.Yield)
	assert.Equal(t, material.Unstated, c.OldRadius.Source.Provenance)
	assert.NotEmpty(t, c.Missing)
	_, err = material.Compare(material.Sheet{}, sheet(t, "302 annealed", math.NaN()))
	require.Error(t, err)
	for _, want := range []string{"name an alloy", "finite"} {
		assert.Contains(t, err.Error(), want)
	}
}

// 20 SWG (.036) is not rolled: the stock about it is .032 and .040. 18 SWG (.048) lies
// between .040 and .050. .050 is rolled: itself and its neighbours.
func TestSubstituteNearestStock(t *testing.T) {
	for thickness, want := range map[float64][]float64{.036: {.032, .040}, .048: {.040, .050}, .050: {.040, .050, .063}, .012: {.012, .016}, .250: {.190, .250}} {
		all, err := material.Substitute(sheet(t, "2024-T3", thickness*in))
		require.NoError(t, err)
		var got []float64
		for _, c := range all {
			got = append(got, math.Round(c.New.Thickness/in*1000)/1000)
		}
		assert.Equal(t, want, got, "%v", thickness)
	}
	all, err := material.Substitute(sheet(t, "2017-T4", .036*in), lookup(t, "2024-T3"), lookup(t, "alclad 2024-T3"))
	require.NoError(t, err)
	assert.Len(t, all, 6)
	// .032 is rolled, with .025 and .040 beside it: 3 sheets of one material however often it is named, 3 of the other.
	all, err = material.Substitute(sheet(t, "2024-T3", .032*in), lookup(t, "2024-T3"), lookup(t, "2017-T4"), lookup(t, "2017-T4"))
	require.NoError(t, err)
	assert.Len(t, all, 6)
	_, err = material.Substitute(sheet(t, "2024-T3", .5*in))
	require.Error(t, err)
	_, err = material.Substitute(sheet(t, "2024-T3", 1), material.Material{})
	require.Error(t, err)
	assert.Len(t, material.StockThicknesses(), 16)
	assert.Len(t, material.OlderStockThicknesses(), 16)
}

func ExampleSubstitute() {
	mm, _ := material.ParseThickness("20 SWG")
	m, _ := material.Lookup("2017-T4")
	modern, _ := material.Lookup("2024-T3")
	all, err := material.Substitute(material.Sheet{Material: m, Thickness: mm}, modern)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range all {
		fmt.Printf("%s %s: thickness %+.3f in, yield x %.2f (%s), mass x %.2f\n", c.New.Material,
			measure.InchText(c.New.Thickness, 3), c.Thickness/measure.Inch, c.Yield, c.Strength, c.Mass)
	}
	// By hand: .032/.036 = 0.89 and .040/.036 = 1.11; for 2024-T3 times 50/40 ksi yield and
	// 0.100/0.101 lb/in³.

	// Output:
	// 2017-T4 0.032 in: thickness -0.004 in, yield x 0.89 (typical), mass x 0.89
	// 2017-T4 0.040 in: thickness +0.004 in, yield x 1.11 (typical), mass x 1.11
	// 2024-T3 0.032 in: thickness -0.004 in, yield x 1.11 (typical), mass x 0.88
	// 2024-T3 0.040 in: thickness +0.004 in, yield x 1.39 (typical), mass x 1.10
}

func ExampleMaterial_Properties() {
	m, _ := material.Lookup("alclad 2024-T3")
	p, err := m.Properties(0.040*measure.Inch, material.Typical)
	if err != nil {
		fmt.Println(err)
		return
	}
	// 65 and 45 ksi, 10600 ksi.
	fmt.Printf("Ftu %.0f MPa, Fty %.0f MPa, E %.0f MPa, %s, by %s\n", p.Ftu, p.Fty, p.E, p.Basis, p.Source)
	// Output: Ftu 448 MPa, Fty 310 MPa, E 73084 MPa, typical, by Aluminum Association, typical properties
}

// The same alloy twice as thick carries twice as much, weighs twice as much and is
// 2³ = 8 times as stiff.
func ExampleCompare() {
	alloy := material.Material{Alloy: "2024", Temper: "T3"}
	c, err := material.Compare(material.Sheet{Material: alloy, Thickness: 1}, material.Sheet{Material: alloy, Thickness: 2})
	fmt.Printf("%.0f %.0f %.0f %v\n", c.Yield, c.Mass, c.Stiffness, err)
	// Output: 2 2 8 <nil>
}

// A square metre of .040 2024: the table's density of 0.100 lb/in³ is 2.768 g/cm³, times 1.016 mm is 2.812 kg.
func ExampleSheet_MassPerArea() {
	s := material.Sheet{Material: material.Material{Alloy: "2024", Temper: "T3"}, Thickness: 0.040 * measure.Inch}
	grams, err := s.MassPerArea()
	fmt.Printf("%.3f kg/m² %v\n", 1000*grams, err)
	// Output: 2.812 kg/m² <nil>
}

// A foil is no sheet, and an alloy no table knows is none either: both are told.
func ExampleSheet_Validate() {
	fmt.Println(material.Sheet{Material: material.Material{Alloy: "9999", Temper: "T3"}, Thickness: 0.01}.Validate())
	// Output:
	// material "9999-T3": is in none of the tables
	// thickness 0.01 mm: thinner than 0.1 mm: if inches were meant, write 0.01*measure.Inch
}
