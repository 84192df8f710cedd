package loft

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func bench(b *testing.B, n int) {
	rnd := rand.New(rand.NewPCG(1, 2))
	x, y, truth := make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range x {
		x[i] = 5000 * float64(i) / float64(n-1)
		truth[i] = sheer(x[i])
		y[i] = truth[i] + 0.05*rnd.NormFloat64()
	}
	var s Smoothing
	var err error
	b.ReportAllocs()
	for b.Loop() {
		s, err = Smooth(x, y, SmoothOptions{})
	}
	require.NoError(b, err)
	var sq float64
	for i := range x {
		d := s.At(x[i]) - truth[i]
		sq += d * d
	}
	b.ReportMetric(math.Sqrt(sq/float64(n))*1e6, "nm-rms")
	b.ReportMetric(s.Freedom, "freedom")
}

// sheer is a hull-like curve, mm.
func sheer(x float64) float64 {
	return 300 + 120*math.Sin(x/900) + 40*math.Cos(x/310) + x*x/5e4
}

func BenchmarkSmooth1e4(b *testing.B) { bench(b, 10_000) }
func BenchmarkSmooth1e5(b *testing.B) { bench(b, 100_000) }
func BenchmarkSmooth1e6(b *testing.B) { bench(b, 1_000_000) }

// A scan's case: a million points with a noise of 0.05 mm, and the curve
// through them within 0.0006 mm rms of the truth; the same from spans laid finer.
func TestSmoothAMillion(t *testing.T) {
	const n = 1_000_000
	rnd := rand.New(rand.NewPCG(1, 3))
	x, y := make([]float64, n), make([]float64, n)
	for i := range x {
		x[i] = 5000 * float64(i) / (n - 1)
		y[i] = sheer(x[i]) + 0.05*rnd.NormFloat64()
	}
	s, err := Smooth(x, y, SmoothOptions{})
	require.NoError(t, err)
	var sq float64
	for i := 0; i < n; i += 97 {
		d := s.At(x[i]) - sheer(x[i])
		sq += d * d
	}
	assert.Less(t, math.Sqrt(sq/(n/97)), 0.0006)
	assert.InEpsilon(t, 0.05, s.Spread, 0.005)
}

// A spline over spans half as long with halved coefficients is the same spline, and
// the moments of two spans joined are those of the span both make.
func TestHalvingChangesNothing(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 4))
	x := []float64{-3, 11}
	coarse, fine := newBasis(evenly(x, 6), nil, nil), newBasis(evenly(x, 12), nil, nil)
	c := make([]float64, coarse.size())
	for i := range c {
		c[i] = rnd.NormFloat64()
	}
	a, b := coarse.curve(c), fine.curve(halve(c))
	for v := -3.0; v <= 11; v += 0.1 {
		assert.InDelta(t, a.At(v), b.At(v), 1e-12)
	}
	var xs, ys, ws []float64
	for v := -3.0; v <= 11; v += 0.05 {
		xs, ys, ws = append(xs, v), append(ys, rnd.NormFloat64()), append(ws, rnd.Float64()+0.1)
	}
	for _, w := range [][]float64{nil, ws} {
		joined, direct := joinPairs(fine.collect(xs, ys, w, nil)), coarse.collect(xs, ys, w, nil)
		require.Len(t, joined, 6)
		for i := range joined {
			assert.InDeltaSlice(t, direct[i].w[:], joined[i].w[:], 1e-11)
			assert.InDeltaSlice(t, direct[i].z[:], joined[i].z[:], 1e-11)
			assert.InDelta(t, direct[i].sq, joined[i].sq, 1e-11)
		}
	}
}

func TestSmoothRecovers(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for _, n := range []int{60, 400, 2000} {
		x, y := make([]float64, n), make([]float64, n)
		for i := range x {
			x[i] = 5000 * float64(i) / float64(n-1)
			y[i] = sheer(x[i]) + 0.5*rnd.NormFloat64()
		}
		s, err := Smooth(x, y, SmoothOptions{})
		require.NoError(t, err)
		var sq float64
		for i := range x {
			d := s.At(x[i]) - sheer(x[i])
			sq += d * d
		}
		t.Logf("n %d rms %.4f freedom %.2f expected %.4f spread %.4f", n, math.Sqrt(sq/float64(n)), s.Freedom, 0.5*math.Sqrt(s.Freedom/float64(n)), s.Spread)
		assert.Less(t, math.Sqrt(sq/float64(n)), 1.6*0.5*math.Sqrt(s.Freedom/float64(n)))
	}
}
