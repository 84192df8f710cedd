package striplog

import (
	_ "embed"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/material"
)

// handLog is worked by hand: R 3, T 1, 90°, K 0.4 takes up π/2·3.4 = 5.3407 mm, so a blank of 100
// leaves legs of 100 + 2·4 - 5.3407 = 102.6593 in sum. The three strips are off by
// +0.01, 0 and -0.01 mm. At 120° legs to the outside of the fold lose 2·4 as well, and 2π/3·3.4 =
// 7.1209 is taken up: 100.8791.
//
//go:embed testdata/by-hand.csv
var handLog string

func TestGroupByHand(t *testing.T) {
	log, err := Read("log.csv", []byte(handLog))
	require.NoError(t, err)
	groups := log.Groups
	require.Len(t, groups, 1)
	// 1 mm lies within 2.5 % of .040 in, 1.016 mm.
	assert.InDelta(t, 1.016, groups[0].Thickness, 1e-9)
	assert.InDelta(t, 0.4, groups[0].K, 1e-4)
	for i, want := range []float64{-0.01, 0, 0.01, 0} {
		assert.InDelta(t, want, groups[0].Residuals[i], 3e-4)
	}
	assert.Empty(t, groups[0].Outliers)
}

// Units do not matter: the log in inches gives the K of the log in millimetres, to the place
// its figures are written to.
func TestUnitsDoNotMatter(t *testing.T) {
	inInches := strings.NewReplacer("1 mm,3 mm", "0.0393701 in,0.1181102 in", "100 mm", "3.9370079 in", "51.33 mm", "2.0208661 in",
		"51.3393 mm", "2.0212323 in", "51.3293 mm", "2.0208386 in", "51.3193 mm", "2.0204449 in", "50 mm", "1.9685039 in", "50.8791 mm", "2.0031142 in").Replace(handLog)
	require.NotContains(t, inInches, "mm")
	log, err := Read("log.csv", []byte(inInches))
	require.NoError(t, err)
	assert.InDelta(t, 0.4, log.Groups[0].K, 1e-4)
}

// What the log does not hold is refused by what is nearest: the radius, else the sheets, else the material. A
// sheet and a radius within 2.5 % are of the group, and its rule gives K and names log, hash, K and its error.
func TestLookup(t *testing.T) {
	log, err := Read("log.csv", []byte(handLog))
	require.NoError(t, err)
	of := func(alloy, temper string) material.Material { return material.Material{Alloy: alloy, Temper: temper} }
	for _, near := range [][2]float64{{1, 3}, {1.016, 3}, {1.04, 3.07}} {
		g, err := log.Lookup(of("2024", "T3"), near[0], near[1])
		require.NoError(t, err)
		a, err := g.Rule().Allowance(bend.Bend{Angle: 1, Radius: near[1], Thickness: near[0]})
		require.NoError(t, err)
		// R + K·T at a radian.
		assert.InDelta(t, near[1]+0.4*near[0], a.Length, 1e-3)
		assert.Regexp(t, `^measured: log.csv, sha256 [0-9a-f]{12}: K 0\.(39|40)\d\d ± 0\.00\d\d of 4 strips, 0 left out$`, a.Law.Source.String())
	}
	for want, c := range map[string]struct {
		m                 material.Material
		thickness, radius float64
	}{
		"the nearest tried is 0.1181 in (3.000 mm)": {of("2024", "T3"), 1, 3.2},
		"only of 0.0400 in (1.016 mm)":              {of("2024", "T3"), 1.27, 3},
		"log.csv has no test strips of it":          {of("6061", "T6"), 1, 3},
	} {
		_, err := log.Lookup(c.m, c.thickness, c.radius)
		var fault *bend.Error
		require.ErrorAs(t, err, &fault)
		assert.Contains(t, err.Error(), want)
	}
}

// A spreadsheet puts a byte-order mark in front of what it saves as UTF-8, before a remark or the head.
func TestByteOrderMark(t *testing.T) {
	for _, log := range []string{handLog, strings.TrimPrefix(handLog, "# a remark\n")} {
		plain, err := readLog([]byte(log))
		require.NoError(t, err)
		marked, err := readLog([]byte("\ufeff" + log))
		require.NoError(t, err)
		assert.Equal(t, plain, marked)
	}
}

// Readings of one sheet go together whether or not a table has it: 1.2 mm stands in none, and 1.19 to 1.21 is
// 1.7 % apart; .0503 to .0507 in lies on both sides of the middle between .050 and .051. A
// sheet 5 % thicker than the thinnest reading is the last of its sheet; other alloys have their own.
func TestReadingsOfOneSheetGoTogether(t *testing.T) {
	log := "strip,material,thickness,radius,angle,blank,leg a,leg b\n"
	for n, cell := range []string{
		"2024-T3,1.21 mm", "2024-T3,1.19 mm", "2024-T3,1.205 mm", "2024-T3,0.0503 in", "2024-T3,0.0507 in", "2024-T3,0.0505 in",
		"6061-T6,1.24 mm", "6061-T6,1.25 mm", "6061-T6,1.26 mm",
	} {
		log += fmt.Sprintf("S%d,%s,3 mm,90 deg,100 mm,51.33 mm,51.33 mm\n", n, cell)
	}
	read, err := Read("log.csv", []byte(log))
	require.NoError(t, err)
	var got []string
	for _, g := range read.Groups {
		got = append(got, fmt.Sprintf("%s %d", g, len(g.Tried)))
	}
	assert.Equal(t, []string{
		"2024-T3 1.200 mm (0.0472 in), R 3.000 mm (0.1181 in) 3",
		"2024-T3 1.295 mm (0.0510 in), R 3.000 mm (0.1181 in) 3",
		"6061-T6 1.270 mm (0.0500 in), R 3.000 mm (0.1181 in) 3",
	}, got)
	sheets := sheetsOf([]Strip{{Strip: bend.Strip{Bend: bend.Bend{Thickness: 1.3}}}, {Strip: bend.Strip{Bend: bend.Bend{Thickness: 1.37}}}, {Strip: bend.Strip{Bend: bend.Bend{Thickness: 1.36}}}})
	assert.Equal(t, []float64{sheets[2], 1.37, sheets[0]}, sheets, "1.36 is within 5 %% of 1.30, 1.37 is not")
}

// The nominal sheet of a measured one, by the tables of standard thicknesses.
func TestSheetSize(t *testing.T) {
	for measured, want := range map[float64]float64{0.0402 * 25.4: 1.016, 0.0498 * 25.4: 0.050 * 25.4, 0.0513 * 25.4: 0.051 * 25.4, 1.37: 1.37, 9: 9} {
		assert.InDelta(t, want, sheetSize(measured), 1e-9, "%v", measured)
	}
	assert.True(t, math.IsNaN(sheetSize(math.NaN())))
	_, err := legTo("tangent")
	require.Error(t, err)
	to, err := legTo("")
	require.NoError(t, err)
	assert.Equal(t, bend.MoldLine, to)
}
