package outline

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

func ellipse(a, b float64) Curve {
	return func(t float64) (r2.Vec, r2.Vec) {
		s, c := math.Sincos(t)
		return pt(a*c, b*s), pt(-a*s, b*c)
	}
}

func wave(x float64) (r2.Vec, r2.Vec) {
	return pt(x, 20*math.Sin(x/15)), pt(1, 20.0/15*math.Cos(x/15))
}

var curves = []struct {
	name   string
	c      Curve
	t0, t1 float64
}{
	{"quarter ellipse", ellipse(100, 40), 0, math.Pi / 2},
	{"ellipse", ellipse(100, 40), 0, 2 * math.Pi},
	{"wave", wave, 0, 200},
	{"clothoid", clothoid, 0, 3},
	{"cubic", func(t float64) (r2.Vec, r2.Vec) { return pt(100*t, 60*t*t*t), pt(100, 180*t*t) }, -1, 1},
}

// clothoid integrates its own direction t²/2 by Simpson's rule.
func clothoid(t float64) (r2.Vec, r2.Vec) {
	const n = 64
	var p r2.Vec
	for i := range n {
		a, b := t*float64(i)/n, t*float64(i+1)/n
		for _, q := range [...]struct{ at, w float64 }{{a, 1}, {(a + b) / 2, 4}, {b, 1}} {
			s, c := math.Sincos(q.at * q.at / 2)
			p = r2.Add(p, r2.Scale(100*q.w*(b-a)/6, pt(c, s)))
		}
	}
	s, c := math.Sincos(t * t / 2)
	return p, pt(100*c, 100*s)
}

func requireSmooth(t *testing.T, p Path, name string) {
	t.Helper()
	n := p.NumSegments()
	for i := range n {
		if !p.Closed && i == n-1 {
			break
		}
		a, b := p.Segment(i).Tangent(1), p.Segment((i+1)%n).Tangent(0)
		require.InDelta(t, 0, cross(a, b), 1e-7, "%s, joint %d", name, i)
		require.Greater(t, dot(a, b), 0.0, "%s, joint %d", name, i)
	}
}

func TestFitCurveKeepsItsTolerance(t *testing.T) {
	for _, k := range curves {
		for _, tol := range []float64{1, 0.1, 0.01, 1e-4} {
			p, err := FitCurve(k.c, k.t0, k.t1, tol)
			require.NoError(t, err, k.name)
			requireSmooth(t, p, k.name)
			x := NewIndex(p)
			worst := 0.0
			var pts []r2.Vec
			for i := range 20001 {
				q, _ := k.c(k.t0 + (k.t1-k.t0)*float64(i)/20000)
				worst = max(worst, x.Distance(q))
				pts = append(pts, q)
			}
			assert.LessOrEqual(t, worst, tol, "%s %g", k.name, tol)
			assert.Greater(t, worst, tol/5, "%s %g: more arcs than it needs", k.name, tol)
			// And back: no arc strays from the curve.
			for i := 0; i < p.NumSegments(); i += 4 / few(4) {
				for _, f := range []float64{0.25, 0.5, 0.75} {
					require.LessOrEqual(t, slowDistance(pts, false, p.Segment(i).At(f)), tol*1.001+1e-6)
				}
			}
			a, _ := k.c(k.t0)
			b, _ := k.c(k.t1)
			require.Equal(t, a, p.Vertices[0].P)
			require.Equal(t, b, p.Vertices[len(p.Vertices)-1].P)
		}
	}
}

// A straight line of 500 pieces with a dent (1 + cos)/2 high in one of them: wherever it is, no
// point of it is farther from the arcs than the tolerance. What lies between the 33 points of a pair of
// arcs as long as the line FitCurve passes over.
func TestFitSplineSeesEveryPiece(t *testing.T) {
	const pieces, high, tol = 500, 0.8, 0.05
	knots := make([]float64, pieces+1)
	for i := range knots {
		knots[i] = 20 * float64(i)
	}
	for at := 3; at < pieces; at += 29 {
		from, w := knots[at], math.Pi/10
		dent := func(x float64) (r2.Vec, r2.Vec) {
			if !(from <= x && x <= from+20) {
				return pt(x, 0), pt(1, 0)
			}
			return pt(x, high*(1-math.Cos(w*(x-from)))/2), pt(1, high*w*math.Sin(w*(x-from))/2)
		}
		p, err := FitSpline(dent, knots, tol)
		require.NoError(t, err)
		requireSmooth(t, p, "dent")
		ix := NewIndex(p)
		for x := from; x <= from+20; x += 0.5 {
			q, _ := dent(x)
			require.LessOrEqual(t, ix.Distance(q), tol, "dent in piece %d", at)
		}
	}
	// Where no piece hides anything it is FitCurve.
	one, err := FitCurve(wave, 0, 12, 0.01)
	require.NoError(t, err)
	many, err := FitSpline(wave, []float64{0, 1, 2.5, 7, 12}, 0.01)
	require.NoError(t, err)
	assert.Equal(t, one, many)
}

// The count of arcs against the least that dynamic programming finds on a grid of joints:
// the fewest biarcs from each grid point to the end.
func TestFitCurveIsNearlyMinimal(t *testing.T) {
	for _, k := range curves {
		for _, tol := range []float64{0.3, 0.02} {
			f := curveFit{curve: k.c, tol: tol}
			n := few(300) / 2
			at := func(i int) float64 { return k.t0 + (k.t1-k.t0)*float64(i)/float64(n) }
			best := make([]int, n+1)
			for i := n - 1; i >= 0; i-- {
				best[i] = math.MaxInt32
				for j := i + 1; j <= n; j++ {
					if _, ok := f.try(at(i), at(j)); ok {
						best[i] = min(best[i], 1+best[j])
					}
				}
			}
			p, err := FitCurve(k.c, k.t0, k.t1, tol)
			require.NoError(t, err)
			assert.LessOrEqual(t, p.NumSegments(), 2*best[0]+1, "%s %g", k.name, tol)
			assert.Greater(t, best[0], 1)
		}
	}
	// What is an arc, or a line, is one.
	p, err := FitCurve(ellipse(50, 50), 0, 2.5, 1e-6)
	require.NoError(t, err)
	assert.Equal(t, 1, p.NumSegments())
	p, err = FitCurve(func(x float64) (r2.Vec, r2.Vec) { return pt(x, 3*x), pt(1, 3) }, 0, 2.5, 1e-6)
	require.NoError(t, err)
	assert.Equal(t, 1, p.NumSegments())
	assert.Zero(t, p.Vertices[0].Bulge)
}

func TestFitPoints(t *testing.T) {
	rnd := random(t)
	for _, k := range curves {
		for _, tol := range []float64{0.1, 0.01} {
			var pts []r2.Vec
			const n = 4000
			for i := range n + 1 {
				q, _ := k.c(k.t0 + (k.t1-k.t0)*float64(i)/n)
				pts = append(pts, q)
			}
			p, err := FitPoints(pts, tol)
			require.NoError(t, err)
			requireSmooth(t, p, k.name)
			x := NewIndex(p)
			for _, q := range pts {
				require.LessOrEqual(t, x.Distance(q), tol*(1+1e-9), k.name)
			}
			fit, err := FitCurve(k.c, k.t0, k.t1, tol)
			require.NoError(t, err)
			assert.LessOrEqual(t, p.NumSegments(), fit.NumSegments()*3/2+4, "%s %g", k.name, tol)
		}
		// Scatter of a third of the tolerance is not followed.
		var noisy []r2.Vec
		for i := range 4001 {
			q, d := k.c(k.t0 + (k.t1-k.t0)*float64(i)/4000)
			u := r2.Scale((rnd.Float64()*2-1)*0.03/math.Hypot(d.X, d.Y), pt(-d.Y, d.X))
			noisy = append(noisy, r2.Add(q, u))
		}
		p, err := FitPoints(noisy, 0.1)
		require.NoError(t, err)
		x := NewIndex(p)
		for _, q := range noisy {
			require.LessOrEqual(t, x.Distance(q), 0.1+1e-9, k.name)
		}
		fit, err := FitCurve(k.c, k.t0, k.t1, 0.1)
		require.NoError(t, err)
		assert.LessOrEqual(t, p.NumSegments(), 4*fit.NumSegments()+8, k.name)
	}
	var ring []r2.Vec
	for i := range 3000 {
		q, _ := ellipse(100, 40)(2 * math.Pi * float64(i) / 3000)
		ring = append(ring, q)
	}
	p, err := FitRing(ring, 0.01)
	require.NoError(t, err)
	require.NoError(t, p.Validate())
	requireSmooth(t, p, "ring")
	assert.InDelta(t, 4000*math.Pi, p.Area(), 0.01*p.Length())
	// Two points make a line; corners are followed too.
	p, err = FitPoints([]r2.Vec{pt(0, 0), pt(10, 5)}, 0.1)
	require.NoError(t, err)
	assert.Equal(t, Polyline(pt(0, 0), pt(10, 5)), p)
	var corner []r2.Vec
	for i := range 100 {
		corner = append(corner, pt(float64(i), 0))
	}
	for i := range 100 {
		corner = append(corner, pt(100, float64(i)))
	}
	p, err = FitPoints(corner, 0.01)
	require.NoError(t, err)
	x := NewIndex(p)
	for _, q := range corner {
		require.LessOrEqual(t, x.Distance(q), 0.01+1e-9)
	}
}

func TestFitRefuses(t *testing.T) {
	for _, bad := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		_, err := FitCurve(wave, 0, 1, bad)
		require.ErrorContains(t, err, "tolerance")
		_, err = FitPoints([]r2.Vec{pt(0, 0), pt(1, 0)}, bad)
		require.ErrorContains(t, err, "tolerance")
		_, err = Conic(pt(0, 0), pt(1, 0), pt(1, 1), 0.4, bad)
		require.ErrorContains(t, err, "tolerance")
	}
	straight := func(t float64) (r2.Vec, r2.Vec) { return pt(t, 2*t), pt(1, 2) }
	_, err := FitCurve(straight, 0, 1, 1e-12)
	require.NoError(t, err)
	_, err = FitCurve(straight, 0, 1, 0.99e-12)
	require.ErrorContains(t, err, "tolerance")
	_, err = FitCurve(wave, 1, 1, 0.1)
	require.ErrorContains(t, err, "interval")
	_, err = FitCurve(wave, 0, math.NaN(), 0.1)
	require.Error(t, err)
	_, err = FitCurve(func(t float64) (r2.Vec, r2.Vec) { return pt(t*t*t, 0), pt(3*t*t, 0) }, -1, 1, 0.1)
	require.ErrorContains(t, err, "derivative")
	_, err = FitCurve(func(t float64) (r2.Vec, r2.Vec) { return pt(t, math.NaN()), pt(1, 0) }, -1, 1, 0.1)
	require.ErrorContains(t, err, "finite")
	_, err = FitCurve(func(t float64) (r2.Vec, r2.Vec) { return pt(t, 0), pt(0, 1) }, 0, 1e3, 1e-9)
	require.Error(t, err, "a derivative that is not the curve's")
	for says, knots := range map[string][]float64{
		"number of knots 1": {3}, "knot 2 1": {0, 1, 1, 2}, "knot 1 NaN": {0, math.NaN()}, "interval": {0, math.Inf(1)},
	} {
		_, err = FitSpline(wave, knots, 0.1)
		require.ErrorContains(t, err, says)
	}
	_, err = FitSpline(wave, []float64{0, 1}, 0)
	require.ErrorContains(t, err, "FitSpline: tolerance")
	_, err = FitPoints([]r2.Vec{pt(0, 0)}, 0.1)
	require.ErrorContains(t, err, "at least 2")
	_, err = FitRing([]r2.Vec{pt(0, 0), pt(1, 0), pt(0, 0)}, 0.1)
	require.ErrorContains(t, err, "point 0")
	_, err = FitPoints([]r2.Vec{pt(0, 0), pt(1, 0), pt(1, 0), pt(math.NaN(), 3)}, 0.1)
	require.ErrorContains(t, err, "point 2")
	require.ErrorContains(t, err, "point 3")
}

// A conic of rho √2-1 on a square corner is the quarter circle (its shoulder lies at
// r(√2-1)·√2/... of the median); rho 0.5 is the parabola. Both are known curves.
func TestConic(t *testing.T) {
	// Quarter circle of radius 10 about (0,0): ends (10,0) and (0,10), apex (10,10). The median runs
	// from (5,5) to (10,10); the circle crosses it at 10/√2 = 7.0711, so rho = 0.41421.
	p, err := Conic(pt(10, 0), pt(10, 10), pt(0, 10), math.Sqrt2-1, 1e-6)
	require.NoError(t, err)
	for i := range 91 {
		s, c := math.Sincos(float64(i) * math.Pi / 180)
		require.InDelta(t, 0, p.Distance(pt(10*c, 10*s)), 1e-6)
	}
	require.Equal(t, 1, p.NumSegments())
	// Parabola y = x²/40 from (-20,10) to (20,10), apex (0,-10).
	p, err = Conic(pt(-20, 10), pt(0, -10), pt(20, 10), 0.5, 1e-3)
	require.NoError(t, err)
	requireSmooth(t, p, "parabola")
	for i := -20; i <= 20; i++ {
		x := float64(i)
		require.LessOrEqual(t, p.Distance(pt(x, x*x/40)), 1e-3)
	}
	// Ellipse 100 by 40: the affine image of the quarter circle keeps rho.
	p, err = Conic(pt(100, 0), pt(100, 40), pt(0, 40), math.Sqrt2-1, 0.01)
	require.NoError(t, err)
	for i := range 91 {
		q, _ := ellipse(100, 40)(float64(i) * math.Pi / 180)
		require.LessOrEqual(t, p.Distance(q), 0.01)
	}
	// The shoulder passes at rho of the median whatever rho is.
	for _, rho := range []float64{0.05, 0.3, 0.7, 0.95} {
		p, err := Conic(pt(0, 0), pt(30, 50), pt(80, 10), rho, 0.01)
		require.NoError(t, err)
		require.LessOrEqual(t, p.Distance(pt(40+rho*(30-40), 5+rho*(50-5))), 0.01)
		requireSmooth(t, p, "conic")
	}
	for _, bad := range []float64{0, 1, -0.2, math.NaN()} {
		_, err := Conic(pt(0, 0), pt(1, 1), pt(2, 0), bad, 0.1)
		require.ErrorContains(t, err, "rho")
	}
	_, err = Conic(pt(0, 0), pt(1, 0), pt(2, 0), 0.5, 0.1)
	require.ErrorContains(t, err, "in line")
	_, err = Conic(pt(0, 0), pt(math.Inf(1), 0), pt(2, 0), 0.5, 0.1)
	require.ErrorContains(t, err, "apex")
}

// The quick answer whether a point is within a tolerance of an arc is that of the distance.
func TestGaugeAgainstDistance(t *testing.T) {
	rnd := random(t)
	in := 0
	for range few(20000) {
		s := Segment{pt(rnd.Float64(), rnd.Float64()), pt(rnd.Float64(), rnd.Float64()), 3 * (rnd.Float64() - 0.5)}
		q := s.At(1.4*rnd.Float64() - 0.2)
		q.X, q.Y = q.X+0.1*(rnd.Float64()-0.5), q.Y+0.1*(rnd.Float64()-0.5)
		tol := 0.1 * rnd.Float64()
		if d := s.Distance(q); math.Abs(d-tol) > 1e-12 {
			g := newGauge(s)
			require.Equal(t, d <= tol, g.within(q, tol), "%v %v %g", s, q, tol)
			if d <= tol {
				in++
			}
		}
	}
	require.Greater(t, in, few(5000))
}

// The parabola of least squares through points of a parabola is that parabola: its slope at the point is the linear
// coefficient, however the points are spaced and wherever they lie about it. Through two points it is their line.
func TestSlopeOfAParabola(t *testing.T) {
	at := func(ts ...float64) float64 {
		s, b := [5]float64{}, [3]float64{}
		for _, x := range ts {
			y, power := 3*x+0.7*x*x, 1.0
			for j := range s {
				s[j] += power
				if j < 3 {
					b[j] += power * y
				}
				power *= x
			}
		}
		return slope(s, b[0], b[1], b[2])
	}
	assert.InDelta(t, 3, at(-3, -1, 0, 2, 5), 1e-12)
	assert.InDelta(t, 3, at(0, 40, 90, 100), 1e-11, "at the first of them")
	assert.InDelta(t, 3, at(-0.02, -0.003, 0, 0.001), 1e-12)
	assert.InDelta(t, 3+0.7*2, at(0, 2), 1e-12, "a chord")
}

// The tangent at each point of an uneven reading of a circle is square to its radius, far better than that of a chord: the
// parabola leaves the circle by the cube of the step over the radius, 0.03³/6 rad a step, where the chord from neighbour to
// neighbour turns by half the difference of two steps, 0.01 rad.
func TestDirectionsOnACircle(t *testing.T) {
	f := pointFit{tol: 1e-3, ring: true}
	angle := 0.0
	var angles []float64
	for i := 0; angle < 2*math.Pi-0.05; i++ {
		f.pts = append(f.pts, pt(100*math.Cos(angle), 100*math.Sin(angle)))
		angles = append(angles, angle)
		angle += 0.02 + 0.02*float64(i%2)
	}
	for i, a := range angles {
		d := f.direction(i)
		assert.InDelta(t, 0, d.X*math.Cos(a)+d.Y*math.Sin(a), 1e-3)
		assert.Greater(t, d.Y*math.Cos(a)-d.X*math.Sin(a), 0.999)
	}
}
