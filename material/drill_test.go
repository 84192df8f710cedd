package material_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The drill of a diameter by the rule of the shop: within a thousandth, the nearest, and a fraction before a letter
// of its size. No. 21 is .159 and 5/32 .15625, No. 30 .1285 and 1/8 .125.
func TestDrillFor(t *testing.T) {
	for inch, want := range map[float64]string{
		.375: "3/8 in", .25: "1/4 in", .1285: "No. 30", .1277: "No. 30", .191: "No. 11", .257: "letter F", .2579: "letter F",
		.098: "No. 40", .15725: "No. 22", .15626: "5/32 in", .0135: "No. 80", 1: "1 in", .0145: "No. 79",
		.4141: "", // letter Z is .413, .0011 off
		.1264: "", .1266: "", .45: "", 1.25: "", 0: "", -.25: "", .0005: "", math.NaN(): "", math.Inf(1): "",
	} {
		d, ok := material.DrillFor(inch * measure.Inch)
		assert.Equal(t, want != "", ok, "%v: %s", inch, d.Name)
		assert.Equal(t, want, d.Name, "%v", inch)
	}
}

// Every row of the table is found by its name and by its size, unless a drill of a fraction is as near; sizes rise, and
// by no more than the fractions beside them: a slip of the pen in a table from memory would stand out.
func TestDrillTable(t *testing.T) {
	_, rows := tableOf(t, "drill_sizes.csv")
	require.Len(t, rows, 80+26)
	last := 0.0
	for i, row := range rows {
		d, ok := material.NamedDrill(row[0])
		require.True(t, ok, row[0])
		assert.Equal(t, material.Memory, d.Source.Provenance)
		assert.Equal(t, row[1], fmt.Sprintf("%.4f", d.Diameter/measure.Inch))
		assert.Greater(t, d.Diameter, last, row[0])
		if i > 0 {
			assert.Less(t, d.Diameter-last, measure.Inch/64, row[0])
		}
		last = d.Diameter
		found, ok := material.DrillFor(d.Diameter)
		require.True(t, ok, row[0])
		assert.LessOrEqual(t, math.Abs(found.Diameter-d.Diameter), 1e-6, row[0])
	}
	_, ok := material.NamedDrill("No. 81")
	assert.False(t, ok)
}

func ExampleDrillFor() {
	for _, inch := range []float64{0.375, 0.1285, 0.257, 0.29} {
		if d, ok := material.DrillFor(inch * measure.Inch); ok {
			fmt.Println(d.Name)
		}
	}
	_, ok := material.DrillFor(0.27 * measure.Inch)
	fmt.Println(ok)
	// Output:
	// 3/8 in
	// No. 30
	// letter F
	// letter L
	// false
}
