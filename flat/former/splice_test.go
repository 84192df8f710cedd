package former_test

import (
	"math"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat/former"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

var notchBend = bend.Bend{Angle: 90 * deg, Radius: 3, Thickness: 1.2}

const eighth = measure.Inch / 8

// FAA AC 43.13-1B, chapter 4: clad 2024 of .032 in, 10 in wide, 1/8 in rivets,
// single-lap sheet joint at 75 %: 37 rivets. And frames at 60 %, by the same rule of
// rounding up twice.
func TestSpliceRivets(t *testing.T) {
	n, err := former.RivetsPerInch(.032*measure.Inch, eighth)
	require.NoError(t, err)
	assert.Equal(t, 4.9, n)
	assert.Equal(t, 37, former.SpliceRivets(10*measure.Inch, n, 75))
	assert.Equal(t, 30, former.SpliceRivets(10*measure.Inch, n, 60), "60 % of 49 is 29.4")
	assert.Equal(t, 12, former.SpliceRivets(10*measure.Inch, 2, 60), "60 % of 20 is 12 and not 13")
	for _, c := range []struct{ inch, rivet, want float64 }{
		{.016, 3. / 32, 6.5}, {.040, eighth / measure.Inch, 6.2}, {.051, 5. / 32, 5.1}, {.064, 1. / 4, 2.5}, {.128, 3. / 16, 8.9},
		{.045, 1. / 8, 7.9}, // between two rows, the thicker
	} {
		got, err := former.RivetsPerInch(c.inch*measure.Inch, c.rivet*measure.Inch)
		require.NoError(t, err)
		assert.Equal(t, c.want, got)
	}
	for _, c := range [][2]float64{{.051, 3. / 32}, {.2, 1. / 8}, {.040, .1}, {math.NaN(), 1. / 8}, {.040, math.NaN()}, {-1, 1. / 8}} {
		_, err := former.RivetsPerInch(c[0]*measure.Inch, c[1]*measure.Inch)
		var bad *former.Error
		assert.ErrorAs(t, err, &bad, "%v", c)
	}
}

// A splice joins the developed section: its count follows from that width, and every
// rivet on the web keeps its edge distance in the plate and its distance from its
// neighbours.
func TestSpliceLayout(t *testing.T) {
	f := frame8(t, 0)
	f.Split = former.Split{Pieces: 2, Rivet: eighth}
	r, err := former.Develop(f)
	require.NoError(t, err)
	require.Len(t, r.Splices, 2)
	for _, s := range r.Splices {
		// Web 90 between mold lines less two setbacks of 4.4, two allowances, and flats
		// of 15.6 and 9.6.
		ba := (0.01743*3.2 + 0.0078*1.2) * 90
		width := 90 - 8.8 + 2*ba + 15.6 + 9.6
		assert.InDelta(t, width, s.Width, 1e-6)
		want := int(math.Ceil(math.Ceil(width/25.4*7.9) * 0.6))
		assert.Equal(t, want, s.Rivets)
		assert.Equal(t, s.Rivets, s.OnWeb+s.OnOuter+s.OnInner)
		assert.Len(t, s.Holes, 2*s.OnWeb)
		assert.InDelta(t, .051*measure.Inch, s.Thick, 1e-9, "thicker than what it joins")
		require.NoError(t, s.Plate.Validate())
		assert.Positive(t, s.Plate.Area())
		for i, h := range s.Holes {
			assert.GreaterOrEqual(t, s.Plate.Distance(h), 2*eighth-1e-6, "edge distance of rivet %d", i)
			for _, o := range s.Holes[:i] {
				assert.GreaterOrEqual(t, r2.Norm(r2.Sub(h, o)), 2.5*eighth)
			}
		}
	}
}
