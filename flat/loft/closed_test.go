package loft

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"

	"github.com/hangarflat/hangarflat/flat/outline"
)

// noisyOval is n points evenly about an oval of two sizes, each sigma off it either way. along
// is so as on the oval's own angle, its mean radius for a unit.
func noisyOval(n int, sigma float64, seed uint64) (along []float64, points []r2.Vec, whole float64) {
	rnd := rand.New(rand.NewPCG(seed, 9))
	for i := range n {
		a := 2 * math.Pi * float64(i) / float64(n)
		e := sigma * rnd.NormFloat64()
		along = append(along, 450*a)
		points = append(points, r2.Vec{X: (400 + e) * math.Cos(a), Y: (500 + e) * math.Sin(a)})
	}
	return along, points, 2 * math.Pi * 450
}

// waves is a periodic line as the sum of its waves: bin k of its Fourier series.
func waves(y []float64, k int) (re, im float64) {
	n := len(y)
	for i, v := range y {
		sin, cos := math.Sincos(2 * math.Pi * float64(k*i%n) / float64(n))
		re, im = re+v*cos/float64(n), im-v*sin/float64(n)
	}
	return re, im
}

// Of evenly spaced readings of a closed line each wave is faired for itself: the least of
// n·|y - f|² + λ·L·ω⁴·|f|² is f = y/(1 + λ·L·ω⁴/n), and the freedom used is the sum of those
// factors. Nothing in it knows where the line was cut open.
func TestClosedTraceIsFairedWaveByWave(t *testing.T) {
	const n, stiff = 3200, 2e6
	along, points, whole := noisyOval(n, 0.5, 1)
	fit, err := FairTrace(along, points, TraceOptions{Closed: true, Length: whole, Stiffness: stiff, Reject: math.Inf(1)})
	require.NoError(t, err)
	share := func(k int) float64 {
		w := 2 * math.Pi * float64(k) / whole
		return 1 / (1 + stiff*whole*w*w*w*w/n)
	}
	freedom := share(0)
	for k := 1; k < n/2; k++ {
		freedom += 2 * share(k)
	}
	assert.InEpsilon(t, freedom, fit.Freedom, 0.001)
	var xs, ys []float64
	for _, p := range points {
		xs, ys = append(xs, p.X), append(ys, p.Y)
	}
	const most = 120 // waves: of the next a 2000th is left
	type wave struct{ w, xr, xi, yr, yi float64 }
	var all []wave
	for k := 1; k <= most; k++ {
		xr, xi := waves(xs, k)
		yr, yi := waves(ys, k)
		h := 2 * share(k)
		all = append(all, wave{2 * math.Pi * float64(k) / whole, h * xr, h * xi, h * yr, h * yi})
	}
	x0, _ := waves(xs, 0)
	y0, _ := waves(ys, 0)
	for _, s := range []float64{0, 1e-6, 0.5, 3, 20, 700, 1413, whole - 20, whole - 3, whole - 1e-6, whole} {
		p, d := fit.At(s)
		want, slope := r2.Vec{X: x0, Y: y0}, r2.Vec{}
		for _, w := range all {
			sin, cos := math.Sincos(w.w * s)
			want = r2.Add(want, r2.Vec{X: w.xr*cos - w.xi*sin, Y: w.yr*cos - w.yi*sin})
			slope = r2.Add(slope, r2.Scale(-w.w, r2.Vec{X: w.xr*sin + w.xi*cos, Y: w.yr*sin + w.yi*cos}))
		}
		assert.Less(t, r2.Norm(r2.Sub(want, p)), 0.001, "at %g", s)
		assert.Less(t, r2.Norm(r2.Sub(slope, d)), 0.0002, "at %g", s)
	}
}

// Where points lie closer along than they lie off, the way from the last to the first is that of
// their noise. Once round is told, so neither the seam nor the stiffness that is found depends
// on where the ring was cut open: the second ring is the first, begun half a step from a third on.
func TestSeamOfClosedTraceIsLikeAnyOtherPlace(t *testing.T) {
	const n, sigma = 30_000, 0.5
	along, points, whole := noisyOval(n, sigma, 2)
	points[0] = r2.Scale(1+1.2/400, points[0]) // a step of 1.2 mm where 0.09 mm is once round
	opt := TraceOptions{Closed: true, Length: whole}
	fit, err := FairTrace(along, points, opt)
	require.NoError(t, err)
	from, to := fit.Range()
	assert.InDelta(t, whole, to-from, 1e-9)
	p, u := fit.At(from)
	q, v := fit.At(to)
	assert.Less(t, r2.Norm(r2.Sub(p, q)), 1e-9)
	assert.Less(t, r2.Norm(r2.Sub(u, v)), 1e-12)
	assert.InDelta(t, fit.Curvature(from), fit.Curvature(to), 1e-12)
	// Radii of the oval where it is cut open: b²/a there is 625 mm.
	assert.InEpsilon(t, 1/625., fit.Curvature(from), 0.06)

	k := n / 3
	var round []float64
	for i := range n {
		round = append(round, along[(i+k)%n]-along[k]+whole*float64((i+k)/n))
	}
	again, err := FairTrace(round, slices.Concat(points[k:], points[:k]), opt)
	require.NoError(t, err)
	assert.InEpsilon(t, fit.Stiffness, again.Stiffness, 0.1)
	for s := 0.0; s < whole; s += 10 {
		p, _ := fit.At(s)
		q, _ := again.At(s - along[k])
		assert.Less(t, r2.Norm(r2.Sub(p, q)), 0.02, "at %g", s)
	}
}

// A side and its mirror image say no more than the side, yet there is as much more to find in a
// curve that need not be alike on both: half the freedom goes to what is not, and of it the
// pairs say nothing. The score n·S/(n - f)² with n, S and f all twice those of one side is that
// of the side. Over some seeds the stiffness found is that of readings that stand each for itself.
func TestMirroredPairsDoNotMakeATraceLimp(t *testing.T) {
	mean := func(mirrored bool) float64 {
		var logs float64
		const seeds = 6
		for seed := range uint64(seeds) {
			along, points, whole := noisyOval(8000, 0.5, 10+seed)
			for i := 1; mirrored && i < 4000; i++ {
				points[8000-i] = r2.Vec{X: points[i].X, Y: -points[i].Y}
			}
			fit, err := FairTrace(along, points, TraceOptions{Closed: true, Length: whole})
			require.NoError(t, err)
			logs += math.Log(fit.Stiffness) / seeds
		}
		return math.Exp(logs)
	}
	once, pairs := mean(false), mean(true)
	assert.Less(t, math.Abs(math.Log(pairs/once)), math.Log(2.5), "stiffness %g of pairs, %g of single readings", pairs, once)
}

// drop is a circle of radius r round the middle of which two tangents at a right angle run down
// to the keel at (0, 0), counter-clockwise from there.
func drop(r float64) outline.Path {
	h := r / math.Sqrt2
	return outline.Path{Closed: true, Vertices: []outline.Vertex{{}, {P: r2.Vec{X: h, Y: h}, Bulge: math.Tan(3 * math.Pi / 8)}, {P: r2.Vec{X: -h, Y: h}}}}
}

// The keel of a section stands where the section starts, or within a step to either side. Its
// sides run straight up to it; inside and outside the skin the drop is one of another radius, its
// tip √2 times the skin above or below, of the area r²·(1 + 3π/4).
func TestCornerAtTheStartOfAClosedTrace(t *testing.T) {
	const r, n = 300.0, 6000
	path := drop(r)
	whole := 2*r + 1.5*math.Pi*r
	assert.InDelta(t, whole, path.Length(), 1e-9)
	for _, begin := range []float64{0, 0.11, 1.3, whole - 0.2, whole - 1.7, 200, whole - 1000} {
		var along []float64
		var points []r2.Vec
		for i := range n {
			s := whole * (float64(i) + 0.3) / n
			k, u, err := path.Locate(math.Mod(begin+s, whole))
			require.NoError(t, err)
			along, points = append(along, s), append(points, path.Segment(k).At(u))
		}
		keel := math.Mod(whole-begin, whole)
		if keel < along[0] {
			keel += whole // in the step from the last point to the first
		}
		fit, err := FairTrace(along, points, TraceOptions{Closed: true, Length: whole, Corners: []float64{keel}, Stiffness: 1e-2, Reject: math.Inf(1)})
		require.NoError(t, err, "begun %g past the keel", begin)
		require.Len(t, fit.Corners(), 1)
		c := fit.Corners()[0]
		from, to := fit.Range()
		assert.InDelta(t, whole, to-from, 1e-9)
		if near := math.Abs(c - along[0]); near > 3 {
			assert.InDelta(t, along[0], from, 1e-9, "begins at the first point")
			assert.InDelta(t, keel, c, 1e-9)
		} else {
			assert.InDelta(t, c, from, 1e-9, "begins at the keel")
		}
		p, _ := fit.At(c)
		assert.Less(t, r2.Norm(p), 1e-3, "begun %g past the keel", begin)
		for _, side := range []float64{-1, 1} {
			p, d := fit.At(c + side*10)
			assert.Less(t, r2.Norm(r2.Sub(p, r2.Vec{X: side * 5 * math.Sqrt2, Y: 5 * math.Sqrt2})), 1e-3)
			assert.Less(t, r2.Norm(r2.Sub(d, r2.Scale(side, r2.Unit(p)))), 1e-3)
		}
		for _, i := range []int{0, 1, n - 2, n - 1} {
			p, _ := fit.At(along[i])
			assert.Less(t, r2.Norm(r2.Sub(p, points[i])), 1e-3)
			assert.Less(t, math.Abs(fit.Residuals[i]), 1e-3)
		}
		for _, d := range []float64{0, -2, 2} {
			beside, err := fit.Parallel(d, 0.02)
			require.NoError(t, err, "begun %g past the keel, %g outside", begin, d)
			require.True(t, beside.Closed)
			require.NoError(t, beside.Validate())
			big := r + d
			assert.InDelta(t, big*big*(1+0.75*math.Pi), beside.Area(), 0.02*whole)
			tip := r2.Vec{Y: -d * math.Sqrt2}
			assert.Less(t, beside.Distance(tip), 0.02)
			if begin < 3 || whole-begin < 3 {
				assert.Less(t, r2.Norm(r2.Sub(beside.Vertices[0].P, tip)), 0.02, "begins at the keel")
			}
		}
	}
}

func TestClosedTraceOfAnyStiffness(t *testing.T) {
	along, points, whole := noisyOval(4000, 0.5, 3)
	for e := -3; e <= 16; e++ {
		for _, corners := range [][]float64{nil, {0}} {
			fit, err := FairTrace(along, points, TraceOptions{Closed: true, Length: whole, Corners: corners, Stiffness: math.Pow(10, float64(e))})
			require.NoError(t, err, "1e%d, corners %v", e, corners)
			p, _ := fit.At(0)
			q, _ := fit.At(whole)
			assert.Less(t, r2.Norm(r2.Sub(p, q)), 1e-6, "1e%d, corners %v", e, corners)
		}
	}
}

func TestOnceRoundIsAsked(t *testing.T) {
	along, points, whole := noisyOval(40, 0, 4)
	last := along[len(along)-1]
	for _, c := range []struct {
		opt   TraceOptions
		field string
	}{
		{TraceOptions{Length: whole}, "length"},
		{TraceOptions{Closed: true, Length: last - 1}, "length"},
		{TraceOptions{Closed: true, Length: -1}, "length"},
		{TraceOptions{Closed: true, Length: math.NaN()}, "length"},
		{TraceOptions{Closed: true, Length: math.Inf(1)}, "length"},
		{TraceOptions{Closed: true, Length: whole, Corners: []float64{whole + 0.01}}, "corner 0"},
		{TraceOptions{Closed: true, Length: whole, Corners: []float64{0, -0.01}}, "corner 1"},
		{TraceOptions{Closed: true, Corners: []float64{last + 0.01}}, "corner 0"},
		{TraceOptions{Closed: true, Corners: []float64{math.NaN()}}, "corner 0"},
		{TraceOptions{Corners: []float64{0}}, "corner 0"},
		{TraceOptions{Corners: []float64{last}}, "corner 0"},
	} {
		_, err := FairTrace(along, points, c.opt)
		var e *Error
		if assert.ErrorAs(t, err, &e, fmt.Sprint(c.opt)) {
			assert.Equal(t, c.field, e.Field)
		}
	}
	_, err := FairTrace(along, points, TraceOptions{Closed: true, Length: whole, Corners: []float64{0, last + 1, whole}})
	assert.NoError(t, err)
}
