package material_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

// Every printed cell of every radius table is looked up at its own thickness, and
// comes back as printed with its document and provenance.
func TestPrintedRadii(t *testing.T) {
	filled := 0
	for _, p := range printedRadii {
		m, err := material.Lookup(p.material)
		require.NoError(t, err, p)
		require.Equal(t, p.material, m.String())
		thickness := mustInches(t, p.thickness)
		if strings.HasPrefix(p.document, "ASTM B265") {
			thickness -= 0.001 // its columns are upper limits of bands, "under .070"
		}
		l, found := limitOf(t, m, thickness, p.document)
		if p.cell == "" {
			assert.False(t, found, "%v: an empty cell answered", p)
			continue
		}
		filled++
		require.True(t, found, "%v: no answer", p)
		assert.Equal(t, p.provenance, provenanceName(l.Source.Provenance), "%v", p)
		if p.cell == "NR" {
			assert.True(t, l.NotRecommended, "%v", p)
			continue
		}
		least, most := printedRange(t, p.cell, thickness)
		assert.InDelta(t, least, l.Least, 1e-9, "%v", p)
		assert.InDelta(t, most, l.Value, 1e-9, "%v", p)
	}
	// Filled cells counted in the CSV files by a separate script: 417 of the Aluminum
	// Association, 78 of AC 43.13-1B, 234 of the figure and 224 of the design book
	// (a column once for each alloy in its head), 18 of titanium, 16 from memory.
	assert.Equal(t, 987, filled)
}

func limitOf(t *testing.T, m material.Material, thickness float64, document string) (material.Limit, bool) {
	t.Helper()
	all, err := m.MinBendRadii(thickness)
	if err != nil {
		var e *material.Error
		require.ErrorAs(t, err, &e)
		return material.Limit{}, false
	}
	for _, l := range all {
		if l.Source.Document == document {
			return l, true
		}
	}
	return material.Limit{}, false
}

func provenanceName(p material.Provenance) string {
	return map[material.Provenance]string{material.Read: "Read", material.Memory: "Memory"}[p]
}

// printedRange reads "2-4t", "1.5" (multiples of the thickness) and ".16 in".
func printedRange(t *testing.T, cell string, thickness float64) (least, most float64) {
	t.Helper()
	scale := thickness
	if inches, ok := strings.CutSuffix(cell, " in"); ok {
		cell, scale = inches, measure.Inch
	}
	lo, hi, isRange := strings.Cut(strings.TrimSuffix(cell, "t"), "-")
	if !isRange {
		hi = lo
	}
	return mustFloat(t, lo) * scale, mustFloat(t, hi) * scale
}

func mustInches(t *testing.T, s string) float64 {
	t.Helper()
	above, below, ok := strings.Cut(s, "/")
	if !ok {
		return mustFloat(t, s) * measure.Inch
	}
	return mustFloat(t, above) / mustFloat(t, below) * measure.Inch
}

func mustFloat(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err, s)
	return x
}

// Every row of the property table can be reached, in MPa and g/cm³.
func TestPrintedProperties(t *testing.T) {
	for _, p := range printedProperties {
		m, err := material.Lookup(p.material)
		require.NoError(t, err, p)
		all, err := m.AllProperties()
		require.NoError(t, err, p)
		matches := 0
		for _, got := range all {
			if got.Source.Document == p.document && got.Basis.String() == p.basis &&
				same(t, p.ftu, got.Ftu/6.894757) && same(t, p.fty, got.Fty/6.894757) &&
				same(t, p.e, got.E/6894.757) && same(t, p.density, got.Density*1000/27679.905) {
				matches++
			}
		}
		assert.Positive(t, matches, "%v: not among %v", p, all)
	}
}

// same compares a printed figure with a computed one; an empty cell is 0.
func same(t *testing.T, printed string, got float64) bool {
	t.Helper()
	if printed == "" {
		return got == 0
	}
	want := mustFloat(t, printed)
	return math.Abs(got-want) <= 1e-6*want
}
