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
