package loft

import "testing"

// BenchmarkBareSums1e6 reads as many points as BenchmarkSmooth1e6 smooths, once, and
// weighs each into the four cubic pieces that it bears on: the least any fit must do.
func BenchmarkBareSums1e6(b *testing.B) {
	const n = 1_000_000
	x, y := make([]float64, n), make([]float64, n)
	for i := range x {
		x[i] = 5000 * float64(i) / (n - 1)
		y[i] = sheer(x[i])
	}
	var sums [104]float64
	b.ReportAllocs()
	for b.Loop() {
		for i := range x {
			at := x[i] / 50
			piece := int(at)
			u := at - float64(piece)
			v := 1 - u
			sums[piece] += v * v * v * y[i]
			sums[piece+1] += 3 * u * v * v * y[i]
			sums[piece+2] += 3 * u * u * v * y[i]
			sums[piece+3] += u * u * u * y[i]
		}
	}
	if !(sums[0] > 0) {
		b.Fatal("the sums of a curve above the base line are not above it")
	}
}
