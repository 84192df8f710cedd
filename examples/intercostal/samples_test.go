package main

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// By hand, with the numbers in each file. Setback K·(R + T) with K = tan(A/2), allowance
// (0.01743·R + 0.0078·T)·A with A in degrees, and a developed width of the mold-line
// widths, less two setbacks and with one allowance for each bend.
var byHand = map[string]func(*testing.T, flat.Blank){
	// Inches: setback .16 + .04, allowance (.0027888 + .000312)·90 = .279072.
	"u-channel": func(t *testing.T, b flat.Blank) { across(t, b, (4-4*.20+2*.279072)*measure.Inch) },
	// Setback 5 + 1, allowance (.08715 + .0078)·90 = 8.5455.
	"zed": func(t *testing.T, b flat.Blank) { across(t, b, 18+36+18-4*6+2*8.5455) },
	// DIN 6935: for 85° the opening is 95° and v = 85·π/180·(R + k·T/2) - 2·(R + T)·tan 42.5°,
	// tan 42.5° = .916331. R 4, T .8: k = .65 + .5·log 5 = .99949, v = 6.52723 - 8.79678. R 5:
	// k would be 1.048 and is 1, v = 8.01106 - 10.62944.
	"hat-stiffener": func(t *testing.T, b flat.Blank) { across(t, b, 20+25+60+25+20-3*2.26955-2.61838) },
	// Setback 4.8, allowance (.06972 + .00624)·90 = 6.8364. The steps are marked where the
	// file has them, along from the left end, their level part first.
	"joggle": func(t *testing.T, b flat.Blank) {
		across(t, b, 40+22-2*4.8+6.8364)
		var marks []float64
		for _, m := range b.Marks {
			marks = append(marks, m.Line.Vertices[0].P.X)
		}
		assert.InDeltaSlice(t, []float64{20 + 8, 20, 212, 212 + 8}, marks, 1e-9)
	},
	// tan 67.5° = 2.414214: setback 9.656854. Allowance (.05229 + .0078)·135 = 8.11215.
	"closed-bend": func(t *testing.T, b flat.Blank) { across(t, b, 45+28-2*9.656854+8.11215) },
	// The front: setback 2.5 + 1, allowance (.043575 + .0078)·90 = 4.62375, so that its free
	// edge lies 32 - 7 + 4.62375 before the mold line.
	"corner-cuts": func(t *testing.T, b flat.Blank) { assert.InDelta(t, -29.62375, b.Outline.Bounds().Min.Y, 1e-9) },
	// 76 - 2·(5 - (2 - π/2)·3.2 - (1.5 - π/4)·.8) = 76 - 2·(5 - 1.373452 - .571681).
	"lightening-holes": func(t *testing.T, b flat.Blank) {
		pierced := 0
		for _, h := range b.Holes {
			if h.Purpose == flat.FlangedPilot {
				pierced++
				assert.InDelta(t, 69.890266, h.Diameter, 1e-5)
			}
		}
		assert.Equal(t, 3, pierced)
	},
	// Slots of 10 mm beside a flange from 30 to 90: their round bottoms stand at 25 and 95
	// on the tangent line, a setback of 6 in. The end leans by 15° from the corner of the mold
	// line: at the free edge 25 out by 25·tan 15° = 6.69873.
	"partial-flange": func(t *testing.T, b flat.Blank) {
		require.Len(t, b.EndSlots, 2)
		for i, x := range []float64{25, 95} {
			assert.InDelta(t, x, b.EndSlots[i].Center.X, 1e-9)
			assert.InDelta(t, 6, b.EndSlots[i].Center.Y, 1e-9)
		}
		low, end := b.Outline.Bounds().Min.Y, 0.0
		for _, v := range b.Outline.Vertices {
			if v.P.Y < low+1e-6 {
				end = max(end, v.P.X)
			}
		}
		assert.InDelta(t, 90-6.69873, end, 1e-4)
	},
	// The fore flange, 84° at 8 mm and 88° at 112 mm: setbacks of .900404 and .965689 by
	// 2.5 + .8, at the two ends of its tangent line, which is therefore not parallel to the edge.
	"chine-rib": func(t *testing.T, b flat.Blank) {
		near := b.Bends[0].Near.Vertices
		first, last := near[0].P, near[len(near)-1].P
		assert.InDeltaSlice(t, []float64{8, 2.971333, 112, 3.186774}, []float64{first.X, first.Y, last.X, last.Y}, 1e-4)
	},
	// An arc of 40° over a chord from (150, 60) to (0, 95), √(150² + 35²) = 154.0292 long:
	// radius half of that by sin 20° = .342020, and its hollow side is in the part.
	"corners": func(t *testing.T, b flat.Blank) {
		hollow := 0
		for _, s := range b.Outline.Segments() {
			if math.Abs(s.Radius()-225.1758) < 1e-3 {
				hollow++
				assert.Negative(t, s.Bulge)
			}
		}
		assert.Equal(t, 1, hollow)
	},
	// The web leans 0.05 in 5: its normal is (0, 1, .01). The keel rises aft by .75° and falls to
	// starboard by 3.75°: (-.0130907, .0655435, 1), 1.0022312 long. Between them
	// cos A = .0755435 / (1.0022312·1.00005), A = 85.677°.
	"keel-bay-9": func(t *testing.T, b flat.Blank) { keelAngle(t, b, 85.677) },
	// The same web and keel. The skin's highest point is 8.24 in up, the keel 2.30 in, and a
	// sixteenth is left: 5.8775 in from mold line to edge, .9999 of it square to a keel that rises
	// .75°, and no reading is moved by more than 1/64 in.
	"keel-bay-11": func(t *testing.T, b flat.Blank) {
		keelAngle(t, b, 85.677)
		assert.InDelta(t, 5.8775*.9999*measure.Inch, b.Outline.Bounds().Max.Y, (1.0/64+.001)*measure.Inch)
		curved := 0
		for _, s := range b.Outline.Segments() {
			if !s.IsLine() && s.Radius() > 50*measure.Inch {
				curved++
			}
		}
		assert.Positive(t, curved, "the edge follows the skin")
	},
	// A row 9/16 in from the mold line of a flange of 3/4 in stands 3/16 in from its free edge, the lowest of the
	// blank; nineteen from end to end are no farther apart than 3/4 in, and eighteen would be. Of the rows
	// to mark, one rivet less stands in the second, and each is a cross of two lines.
	"keel-bay-8": func(t *testing.T, b flat.Blank) {
		var row []r2.Vec
		for _, h := range b.Holes {
			if h.Purpose == flat.RivetPilot {
				row = append(row, h.Center)
			}
		}
		require.NotEmpty(t, row)
		low := b.Outline.Bounds().Min.Y
		for _, at := range row {
			assert.InDelta(t, 3.0/16*measure.Inch, at.Y-low, 1e-6)
		}
		long, spaces := r2.Norm(r2.Sub(row[len(row)-1], row[0]))/measure.Inch, float64(len(row)-1)
		assert.LessOrEqual(t, long/spaces, 0.75)
		assert.Greater(t, long/(spaces-1), 0.75)
		require.Len(t, b.Rows, 3)
		assert.Equal(t, len(b.Rows[1].Centers)-1, len(b.Rows[2].Centers))
		assert.Len(t, b.Rows[1].Marks, 2*len(b.Rows[1].Centers))
	},
	// The web stands straight up and along, the keel lies level, and frame 421's four points lie off
	// x = 421 by turns: both are bent square. One reading of frame 407 is an inch off and is set aside.
	"keel-bay-13": func(t *testing.T, b flat.Blank) {
		keelAngle(t, b, 90)
		assert.InDelta(t, 90, bendOf(t, b, "frame 421").Bend.Angle.Degrees(), 1e-3)
		fits := b.Part.Site.Fits()
		require.Len(t, fits, 2)
		assert.Equal(t, []int{3}, fits[0].Outliers)
	},
}

// warns are the samples a foreman would warn of: the handbook's channel of its own radius, and the bay
// whose survey shows how a slip is told.
var warns = map[string]bool{"u-channel": true, "keel-bay-13": true}

// across holds how wide the blank of a section is, square to its bends.
func across(t *testing.T, b flat.Blank, want float64) {
	box := b.Outline.Bounds()
	assert.InDelta(t, want, box.Max.Y-box.Min.Y, 1e-4)
}

func keelAngle(t *testing.T, b flat.Blank, degrees float64) {
	assert.InDelta(t, degrees, bendOf(t, b, "keel").Bend.Angle.Degrees(), 1e-3)
}

func bendOf(t *testing.T, b flat.Blank, name string) flat.BendLine {
	for _, line := range b.Bends {
		if line.Name == name {
			return line
		}
	}
	require.Fail(t, "no bend of this name", name)
	return flat.BendLine{}
}

// Every sample develops to what a hand derives from its numbers, and nothing a foreman would
// warn of but where that is said above: it is there to be copied.
func TestSamplesByHand(t *testing.T) {
	seen := map[string]bool{}
	for _, file := range parts(t) {
		name := strings.TrimSuffix(filepath.Base(file), ".toml")
		hold, listed := byHand[name]
		if !listed {
			assert.NotContains(t, file, "samples", "no number of it is worked out by hand")
			continue
		}
		seen[name] = true
		t.Run(name, func(t *testing.T) {
			blanks, err := develop(file, false)
			require.NoError(t, err)
			b := blanks[0]
			for _, f := range b.Findings {
				assert.True(t, f.Severity == flat.Note || warns[name], "%v", f)
			}
			hold(t, b)
		})
	}
	assert.Len(t, seen, len(byHand))
}
