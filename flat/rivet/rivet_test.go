package rivet_test

import (
	"encoding/csv"
	"errors"
	"math"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/hangarflat/hangarflat/flat/rivet"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

const inch = measure.Inch

// eighth is the commonest rivet.
var eighth = rivet.Rivet{Diameter: inch / 8}

func clad(inches float64) material.Sheet {
	return material.Sheet{Material: material.Material{Alloy: "2024", Temper: "T3", Clad: true}, Thickness: inches * inch}
}

// US Army subcourse AL0992: for a 1/8 in rivet edge distance .250 protruding, .3125 flush,
// .500 at most; pitch .375 to 1.25.
func TestDistancesOfAnEighth(t *testing.T) {
	least, most := eighth.EdgeDistance()
	assert.InDelta(t, .250, least/inch, 1e-12)
	assert.InDelta(t, .500, most/inch, 1e-12)
	for _, head := range []rivet.Head{rivet.Countersunk, rivet.Dimpled} {
		flush, _ := rivet.Rivet{Diameter: inch / 8, Head: head}.EdgeDistance()
		assert.InDelta(t, .3125, flush/inch, 1e-12)
	}
	least, most = eighth.Pitch()
	assert.InDelta(t, .375, least/inch, 1e-12)
	assert.InDelta(t, 1.25, most/inch, 1e-12)
	// NAVEDTRA 14018: usually 4 to 8 diameters; rows three quarters of the pitch apart, TM
	// 10-5410-229-13&P: 2½ diameters at least.
	from, to := eighth.UsualPitch()
	assert.InDelta(t, .5, from/inch, 1e-12)
	assert.InDelta(t, 1, to/inch, 1e-12)
	least, usual := eighth.RowSpacing(1 * inch)
	assert.InDelta(t, .3125, least/inch, 1e-12)
	assert.InDelta(t, .75, usual/inch, 1e-12)
}

// NAVEDTRA 14018, grip and 1½ diameters: two .050 sheets and a 5/32 rivet want .100 + .234375 =
// .334; the next sixteenth is 6/16.
func TestShank(t *testing.T) {
	five := rivet.Rivet{Diameter: 5. / 32 * inch}
	s, err := five.Shank(rivet.Grip([]material.Sheet{clad(.050), clad(.050)}))
	require.NoError(t, err)
	assert.InDelta(t, .100, s.Grip/inch, 1e-12)
	assert.InDelta(t, .334, s.Wanted/inch, 5e-4)
	assert.InDelta(t, .375, s.Stock/inch, 1e-12)
	// Exactly a stock length stays: 1/8 in grip .0625 wants .0625 + .1875 = .25.
	s, err = eighth.Shank(inch / 16)
	require.NoError(t, err)
	assert.InDelta(t, .25, s.Stock/inch, 1e-12)
	// Half a thou more than a stock length is not worth another sixteenth.
	s, err = eighth.Shank(inch/16 + .0005*inch)
	require.NoError(t, err)
	assert.InDelta(t, .25, s.Stock/inch, 1e-12)
	// A hundredth more takes the next: 5/16.
	s, err = eighth.Shank(inch/16 + .01*inch)
	require.NoError(t, err)
	assert.InDelta(t, .3125, s.Stock/inch, 1e-12)
	across, high := eighth.DrivenHead()
	assert.InDelta(t, 3./16, across/inch, 1e-12)
	assert.InDelta(t, 1./16, high/inch, 1e-12)
	for _, grip := range []float64{0, -1, math.NaN(), math.Inf(1), 51} {
		_, err := eighth.Shank(grip)
		var bad *rivet.Error
		require.ErrorAs(t, err, &bad)
		assert.Equal(t, "grip", bad.Field)
	}
}

// A 1/8 rivet 1/4 long: shank π/4·(.125)²·.25 = .0030680, head π/4·(.1875)²·.0625 = .0017258 cubic
// inches; .0047938 in³ = 78.556 mm³; at 2.75 g/cm³ 0.2160 g.
func TestMassOfARivet(t *testing.T) {
	assert.InDelta(t, 0.2160, eighth.Mass(inch/4), 5e-5)
}

func TestDrillsAndPilots(t *testing.T) {
	for size, want := range map[float64]float64{3: .098, 4: .1285, 5: .159, 6: .191} {
		d, ok := rivet.Rivet{Diameter: size / 32 * inch}.Drill()
		require.True(t, ok)
		assert.InDelta(t, want, d.Diameter/inch, 1e-9)
		assert.Equal(t, material.Memory, d.Source.Provenance)
		assert.InDelta(t, (size-1)/32, rivet.Rivet{Diameter: size / 32 * inch}.Pilot()/inch, 1e-12, "one size under")
	}
	assert.Equal(t, .5, rivet.Rivet{Diameter: 1}.Pilot(), "no less than half")
	_, ok := rivet.Rivet{Diameter: 3.5}.Drill()
	assert.False(t, ok)
}

// Every cell of the table as printed, read here from the CSV by itself.
func TestPerInchCells(t *testing.T) {
	f, err := os.Open("rivets_per_inch.csv")
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	require.NoError(t, err)
	sizes := []float64{3. / 32, 1. / 8, 5. / 32, 3. / 16, 1. / 4}
	cells, empty := 0, 0
	for _, row := range rows[1:] {
		thick, err := strconv.ParseFloat(row[0], 64)
		require.NoError(t, err)
		for i, cell := range row[1:] {
			got, err := rivet.PerInch(thick*inch, sizes[i]*inch)
			if cell == "" {
				assert.Error(t, err, "%s %d", row[0], i)
				empty++
				continue
			}
			want, bad := strconv.ParseFloat(cell, 64)
			require.NoError(t, bad)
			require.NoError(t, err)
			assert.Equal(t, want, got, "%s %d", row[0], i)
			cells++
		}
	}
	// 2+3+3+4+5+5+4+4+4+3+3+3 of 12 rows of 5.
	assert.Equal(t, 43, cells)
	assert.Equal(t, 17, empty)
}

// The table's ends and what lies between its rows, typed here from the print.
func TestPerInchSteps(t *testing.T) {
	for _, c := range []struct{ thick, size, want float64 }{
		{.016, 3. / 32, 6.5}, {.128, 1. / 4, 4.9}, {.040, 1. / 8, 6.2}, {.081, 3. / 16, 5.7},
		{.034, 1. / 8, 5.6}, // between .032 and .036: the stricter
		{1.02 / inch, 1. / 8, 6.2},
	} {
		got, err := rivet.PerInch(c.thick*inch, c.size*inch)
		require.NoError(t, err)
		assert.Equal(t, c.want, got, "%v", c)
	}
	for _, c := range []struct {
		thick, size float64
		field       string
	}{{.129, 1. / 8, "thickness"}, {.012, 1. / 8, "thickness"}, {0, 1. / 8, "thickness"}, {math.NaN(), 1. / 8, "thickness"}, {.040, 1. / 16, "rivet diameter"}, {.051, 3. / 32, "rivet diameter"}, {.040, math.NaN(), "rivet diameter"}} {
		_, err := rivet.PerInch(c.thick*inch, c.size*inch)
		var bad *rivet.Error
		require.ErrorAs(t, err, &bad, "%v", c)
		assert.Equal(t, c.field, bad.Field)
	}
}

// FAA AC 43.13-1B's example: clad 2024 of .032, 10 in wide, 1/8 rivets, single lap: 37 rivets, in two
// rows of 19.
func TestAdvisoryCircularExample(t *testing.T) {
	need, err := rivet.Require(clad(.032), 10*inch, eighth, rivet.SingleLap)
	require.NoError(t, err)
	assert.Equal(t, 4.9, need.PerInch)
	assert.Equal(t, 49, need.Whole)
	assert.Equal(t, 37, need.Needed)
	assert.Equal(t, 19, need.PerRow(2))
	assert.Equal(t, 0, need.PerRow(0))
	require.Len(t, need.Findings, 1)
	assert.Contains(t, need.Findings[0].Text, "approved data")
	assert.Contains(t, need.Steps[0].String(), "round up(10·4.9) = 49")
}

// Rounded up, the percentage taken, rounded up again: 2.05 in of .040 and 1/8 rivets is 12.71, 13; 80 % 10.4,
// 11; 75 % 9.75, 10; 60 % 7.8, 8. Taking the percentage first would give 11, 10, 8 of 10.2, 9.5,
// 7.6: 1.95 in tells the orders apart: 12.09, 13, and 60 % of it 7.8, 8, against 7.254, 8; 80 % 10.4, 11,
// against 9.672, 10.
func TestOrderOfRounding(t *testing.T) {
	for joint, want := range map[rivet.Joint]int{rivet.Full: 13, rivet.Stringer: 11, rivet.SingleLap: 10, rivet.IntermediateFrame: 8} {
		need, err := rivet.Require(clad(.040), 1.95*inch, eighth, joint)
		require.NoError(t, err)
		assert.Equal(t, 13, need.Whole)
		assert.Equal(t, want, need.Needed, joint.String())
	}
	// 60 % of 20 is 12 and not 13: 20 rivets need 4.9·w between 19 and 20.
	need, err := rivet.Require(clad(.032), 4*inch, eighth, rivet.IntermediateFrame)
	require.NoError(t, err)
	assert.Equal(t, 20, need.Whole)
	assert.Equal(t, 12, need.Needed)
}

func TestRequireRefuses(t *testing.T) {
	soft := clad(.032)
	soft.Material = material.Material{Alloy: "5052", Temper: "H32"}
	_, err := rivet.Require(soft, 10*inch, eighth, rivet.Full)
	assert.ErrorContains(t, err, "clad 2014 and 2024")
	bare := clad(.032)
	bare.Material.Clad = false
	need, err := rivet.Require(bare, 10*inch, eighth, rivet.Full)
	require.NoError(t, err)
	assert.Len(t, need.Findings, 2)
	_, err = rivet.Require(clad(.032), math.NaN(), rivet.Rivet{Diameter: .125}, 9)
	for _, says := range []string{"splice width", "multiply by measure.Inch", "is not a joint", "the table has 3/32"} {
		assert.ErrorContains(t, err, says)
	}
	var bad *rivet.Error
	assert.True(t, errors.As(err, &bad))
}
