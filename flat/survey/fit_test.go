package survey

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
)

func ExampleFitCircle() {
	// A lightening hole probed at five places; the fourth probe slipped.
	points := []r2.Vec{{X: 130, Y: 50}, {X: 50, Y: 130}, {X: -30, Y: 50}, {X: 50, Y: -22}, {X: 106.6, Y: 106.6}, {X: -6.6, Y: 106.6}, {X: -6.6, Y: -6.6}}
	c, err := FitCircle(points, FitOptions{Noise: 0.1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("radius %.1f about (%.1f, %.1f), reading %d set aside: %.1f mm inside\n", c.Radius, c.Center.X, c.Center.Y, c.Outliers[0], -c.Residuals[c.Outliers[0]])
	// Output:
	// radius 80.0 about (50.0, 50.0), reading 3 set aside: 8.0 mm inside
}

func arcPoints(rnd *rand.Rand, c r2.Vec, r, from, to float64, n int, sigma float64) []r2.Vec {
	out := make([]r2.Vec, n)
	for i := range out {
		a := from + (to-from)*float64(i)/float64(n-1)
		rr := r + sigma*rnd.NormFloat64()
		out[i] = r2.Vec{X: c.X + rr*math.Cos(a), Y: c.Y + rr*math.Sin(a)}
	}
	return out
}

// Least squares by definition: no small change of centre or radius lowers the sum,
// also on a short arc, where the algebraic start is far off.
func TestFitCircleIsLeastSquares(t *testing.T) {
	rnd := rand.New(rand.NewPCG(2, 2))
	for _, arc := range []float64{0.2, 1, 4, 6.28} {
		pts := arcPoints(rnd, r2.Vec{X: 4000, Y: -900}, 600, 0.3, 0.3+arc, 60, 0.3)
		fit, err := FitCircle(pts, FitOptions{Reject: math.Inf(1)})
		require.NoError(t, err)
		sum := func(c r2.Vec, r float64) (s float64) {
			for _, p := range pts {
				d := r2.Norm(r2.Sub(p, c)) - r
				s += d * d
			}
			return s
		}
		best := sum(fit.Center, fit.Radius)
		assert.InDelta(t, math.Sqrt(best/60), fit.RMS, 1e-12)
		const h = 1e-3
		for _, d := range []r3.Vec{{X: h}, {X: -h}, {Y: h}, {Y: -h}, {Z: h}, {Z: -h}, {X: h, Z: h}, {X: -h, Z: -h}, {X: h, Z: -h}, {X: -h, Z: h}} {
			assert.Greater(t, sum(r2.Add(fit.Center, r2.Vec{X: d.X, Y: d.Y}), fit.Radius+d.Z), best, "arc %g", arc)
		}
	}
}

// The default cut, against printed quantiles: z(0.9975) = 2.807, z(0.99975) = 3.481,
// t(0.9975; 7) = 4.029 (statistical tables).
func TestDefaultCut(t *testing.T) {
	assert.InDelta(t, 2.807, FitOptions{Noise: 1}.cut(10, 3, 1), 5e-4)
	assert.InDelta(t, 3.481, FitOptions{Noise: 1}.cut(100, 3, 1), 5e-4)
	assert.InDelta(t, 4.029, FitOptions{}.cut(10, 3, 1), 5e-4)
	assert.Equal(t, 2.5, FitOptions{Reject: 2.5}.cut(10, 3, 1))
	// Two directions: √(2·ln(10/0.05)) and √(2·ln(100/0.05)); F(0.995; 2, 16) = 7.514
	// is r²/2σ², and √15.03 = 3.877 (statistical tables).
	assert.InDelta(t, 3.255, FitOptions{Noise: 1}.cut(10, 2, 2), 5e-4)
	assert.InDelta(t, 3.899, FitOptions{Noise: 1}.cut(100, 2, 2), 5e-4)
	assert.InDelta(t, 3.877, FitOptions{}.cut(10, 2, 2), 5e-4)
	// Of many good sets about one in twenty loses a reading.
	rnd := rand.New(rand.NewPCG(2, 9))
	for _, noise := range []float64{0, 0.3} {
		lost := 0
		const sets = 300
		for range sets {
			fit, err := FitPlane(planePoints(rnd, Plane{Normal: r3.Vec{Z: 1}}, 20, 300, 0.3), FitOptions{Noise: noise})
			require.NoError(t, err)
			if len(fit.Outliers) > 0 {
				lost++
			}
		}
		inLine, spread := 0, 0.0
		for range sets {
			pts := make([]r3.Vec, 20)
			for i := range pts {
				pts[i] = r3.Vec{X: 40 * float64(i), Y: 0.3 * rnd.NormFloat64(), Z: 0.3 * rnd.NormFloat64()}
			}
			fit, err := FitLine(pts, FitOptions{Noise: noise})
			require.NoError(t, err)
			if len(fit.Outliers) > 0 {
				inLine++
			}
			spread += fit.Spread * fit.Spread / sets
		}
		assert.InDelta(t, 0.3, math.Sqrt(spread), 0.02, "of either direction, and not of the distance")
		assert.Greater(t, inLine, 0, "noise %g", noise)
		assert.Less(t, inLine, 30, "noise %g", noise)
		// The least-squares fit follows the worst reading a little, so fewer; what
		// is thrown out makes the spread smaller, so more. Between 0.2 and 2 times.
		assert.Greater(t, lost, 3, "noise %g", noise)
		assert.Less(t, lost, 30, "noise %g", noise)
	}
}

// The stated standard errors agree with the scatter over repeated surveys.
func TestCircleErrorsAgreeWithSampling(t *testing.T) {
	rnd := rand.New(rand.NewPCG(2, 3))
	const surveys = 800
	var sq, said float64
	for range surveys {
		fit, err := FitCircle(arcPoints(rnd, r2.Vec{}, 300, 0, 1.5, 20, 0.2), FitOptions{Noise: 0.2})
		require.NoError(t, err)
		sq += (fit.Radius - 300) * (fit.Radius - 300)
		said += fit.RadiusErr * fit.RadiusErr
	}
	// 800 draws fix a standard deviation to 1/√1600 = 2.5 %; four of that.
	assert.InEpsilon(t, math.Sqrt(sq/surveys), math.Sqrt(said/surveys), 0.1)
}

func TestFitCircleNamesWildReadings(t *testing.T) {
	rnd := rand.New(rand.NewPCG(2, 4))
	for trial := range 30 {
		pts := arcPoints(rnd, r2.Vec{X: 10}, 100, 0, 5, 40, 0.05)
		bad := []int{trial, trial + 3, trial + 7}
		for _, i := range bad {
			pts[i] = r2.Scale(1.03, pts[i])
		}
		fit, err := FitCircle(pts, FitOptions{})
		require.NoError(t, err)
		for _, i := range bad {
			assert.Contains(t, fit.Outliers, i)
		}
		assert.LessOrEqual(t, len(fit.Outliers), 4)
		assert.InDelta(t, 100, fit.Radius, 6*fit.RadiusErr+1e-9)
	}
}

func TestFitArc(t *testing.T) {
	rnd := rand.New(rand.NewPCG(2, 5))
	for _, sweep := range []float64{-5.5, -1, 0.3, 2, 6} {
		pts := arcPoints(rnd, r2.Vec{X: 5, Y: 6}, 80, 1, 1+sweep, 50, 0)
		a, err := FitArc(pts, FitOptions{})
		require.NoError(t, err)
		assert.InDelta(t, sweep, a.Sweep.Radians(), 1e-9)
		assert.InDelta(t, 80*math.Abs(sweep), a.Path.Length(), 1e-6)
		for _, p := range pts {
			assert.Less(t, a.Path.Distance(p), 1e-6)
		}
	}
	_, err := FitArc(arcPoints(rnd, r2.Vec{}, 80, 0, 2*math.Pi, 51, 0), FitOptions{})
	var e *Error
	require.ErrorAs(t, err, &e)
	assert.Equal(t, "arc", e.Field)
	// There and back again, as far as a third of the way: an arc of the third was told. So
	// was one between any two points where they come in no order.
	pts := arcPoints(rnd, r2.Vec{}, 80, 0, 1.5, 31, 0)
	for k := range 20 {
		pts = append(pts, pts[29-k])
	}
	_, err = FitArc(pts, FitOptions{})
	require.ErrorAs(t, err, &e)
	assert.Equal(t, "arc", e.Field)
	assert.ErrorContains(t, err, "28.65° swept, a point 57.3° outside", "0.5 and 1 rad of 1.5")
	// Readings closer together than they are sure are in order all the same.
	for range 50 {
		pts := arcPoints(rnd, r2.Vec{}, 80, 0, 0.5, 200, 0) // 0.2 mm apart
		for i := range pts {
			pts[i] = r2.Add(pts[i], r2.Vec{X: 0.3 * rnd.NormFloat64(), Y: 0.3 * rnd.NormFloat64()})
		}
		a, err := FitArc(pts, FitOptions{})
		require.NoError(t, err)
		assert.InDelta(t, 0.5, a.Sweep.Radians(), 0.1)
	}
}

func TestFitLine(t *testing.T) {
	rnd := rand.New(rand.NewPCG(2, 6))
	truth := Line{r3.Vec{X: 100, Y: 20, Z: -5}, r3.Scale(1.0/3, r3.Vec{X: 2, Y: -1, Z: 2})}
	pts := make([]r3.Vec, 30)
	for i := range pts {
		pts[i] = r3.Add(truth.At(float64(i)*40), r3.Vec{X: 0.1 * rnd.NormFloat64(), Y: 0.1 * rnd.NormFloat64(), Z: 0.1 * rnd.NormFloat64()})
	}
	pts[4] = r3.Add(pts[4], r3.Vec{Y: 30})
	fit, err := FitLine(pts, FitOptions{})
	require.NoError(t, err)
	assert.Equal(t, []int{4}, fit.Outliers)
	assert.Less(t, between(fit.Dir, truth.Dir).Degrees(), 0.02)
	assert.Less(t, truth.Distance(fit.Point), 0.15)
	_, err = FitLine(make([]r3.Vec, 5), FitOptions{})
	require.Error(t, err)
}

// A motion put on and fitted back is found, whatever else; wrong pairs of mirrored
// points must not turn it into a mirror image.
func TestBestFitFindsTheMotion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		made := make([]r3.Vec, 6)
		for i := range made {
			made[i] = vec(t, 2000, fmt.Sprint(i))
		}
		axis := direction(t, "axis")
		rot := r3.NewRotation(rapid.Float64Range(-3.1, 3.1).Draw(t, "turn"), axis)
		shift := vec(t, 3000, "shift")
		wanted := make([]r3.Vec, len(made))
		for i, p := range made {
			wanted[i] = r3.Add(rot.Rotate(p), shift)
		}
		for _, o := range []RigidOptions{{}, {Freedom: AboutAxis, Axis: axis}, {Weights: []float64{1, 2, 3, 4, 5, 6}}} {
			fit, err := BestFit(made, wanted, o)
			if err != nil { // six random points may lie on a line
				t.Skip(err)
			}
			assert.Less(t, fit.RMS, 1e-6)
			for i := range made {
				assert.Less(t, r3.Norm(r3.Sub(fit.Apply(made[i]), wanted[i])), 1e-5)
			}
			// A rotation: rows square to each other and right-handed.
			u := r3.Vec{X: fit.Turn[0][0], Y: fit.Turn[0][1], Z: fit.Turn[0][2]}
			v := r3.Vec{X: fit.Turn[1][0], Y: fit.Turn[1][1], Z: fit.Turn[1][2]}
			w := r3.Vec{X: fit.Turn[2][0], Y: fit.Turn[2][1], Z: fit.Turn[2][2]}
			assert.Less(t, r3.Norm(r3.Sub(r3.Cross(u, v), w)), 1e-9)
		}
	})
}

// The wrong hand laid on a drawing must not come out as a mirror image, and a part
// measured on one face, all points in a plane, is laid right way up.
func TestBestFitNeverMirrors(t *testing.T) {
	made := []r3.Vec{{}, {X: 300}, {Y: 200, X: 20}, {X: 150, Y: 80, Z: 40}, {X: 50, Y: 20, Z: -30}}
	wanted := make([]r3.Vec, len(made))
	for i, p := range made {
		wanted[i] = r3.Vec{X: p.X, Y: p.Y, Z: -p.Z}
	}
	fit, err := BestFit(made, wanted, RigidOptions{})
	require.NoError(t, err)
	det := r3.Dot(r3.Cross(r3.Vec{X: fit.Turn[0][0], Y: fit.Turn[0][1], Z: fit.Turn[0][2]}, r3.Vec{X: fit.Turn[1][0], Y: fit.Turn[1][1], Z: fit.Turn[1][2]}),
		r3.Vec{X: fit.Turn[2][0], Y: fit.Turn[2][1], Z: fit.Turn[2][2]})
	assert.InDelta(t, 1, det, 1e-9)
	assert.Greater(t, fit.RMS, 5.0)
	rot := r3.NewRotation(2, r3.Vec{X: 1, Y: 2, Z: -1})
	for i := range made {
		made[i].Z = 0
		wanted[i] = rot.Rotate(made[i])
	}
	fit, err = BestFit(made, wanted, RigidOptions{})
	require.NoError(t, err)
	assert.Less(t, fit.RMS, 1e-9)
	assert.Less(t, r3.Norm(r3.Sub(fit.Apply(r3.Vec{Z: 10}), rot.Rotate(r3.Vec{Z: 10}))), 1e-9)
}

// With noise the fit must be the least of all nearby motions of its freedom.
func TestBestFitIsLeast(t *testing.T) {
	rnd := rand.New(rand.NewPCG(2, 7))
	var made, wanted []r3.Vec
	for range 12 {
		p := r3.Vec{X: 500 * rnd.Float64(), Y: 300 * rnd.Float64(), Z: 200 * rnd.Float64()}
		made = append(made, p)
		q := r3.NewRotation(0.3, r3.Vec{X: 1, Y: 1, Z: 0.2}).Rotate(p)
		wanted = append(wanted, r3.Add(q, r3.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()}))
	}
	sum := func(m Motion) (s float64) {
		for i := range made {
			s += r3.Norm2(r3.Sub(wanted[i], m.Apply(made[i])))
		}
		return s
	}
	axis := r3.Vec{X: 1, Y: 2, Z: 2}
	for _, c := range []struct {
		o     RigidOptions
		about []r3.Vec
	}{
		{RigidOptions{}, []r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}},
		{RigidOptions{Freedom: AboutAxis, Axis: axis}, []r3.Vec{axis}},
		{RigidOptions{Freedom: ShiftOnly}, nil},
	} {
		fit, err := BestFit(made, wanted, c.o)
		require.NoError(t, err)
		best := sum(fit.Motion)
		for _, d := range []r3.Vec{{X: 1e-3}, {Y: 1e-3}, {Z: -1e-3}} {
			m := fit.Motion
			m.Shift = r3.Add(m.Shift, d)
			assert.Greater(t, sum(m), best)
		}
		for _, a := range c.about {
			for _, h := range []float64{-1e-5, 1e-5} {
				r := r3.NewRotation(h, a)
				m := fit.Motion
				for i := range 3 {
					col := r.Rotate(r3.Vec{X: fit.Turn[0][i], Y: fit.Turn[1][i], Z: fit.Turn[2][i]})
					m.Turn[0][i], m.Turn[1][i], m.Turn[2][i] = col.X, col.Y, col.Z
				}
				m.Shift = r.Rotate(m.Shift)
				assert.Greater(t, sum(m), best)
			}
		}
	}
	assert.InDelta(t, 30, Motion{Turn: [3][3]float64{{math.Cos(math.Pi / 6), -0.5, 0}, {0.5, math.Cos(math.Pi / 6), 0}, {0, 0, 1}}}.Angle().Degrees(), 1e-9)
}

func plate() []outline.Path {
	hole := outline.Circle(r2.Vec{X: 60, Y: 30}, 15).Reverse()
	edge := outline.Path{Closed: true, Vertices: []outline.Vertex{
		{P: r2.Vec{X: 0, Y: 0}}, {P: r2.Vec{X: 200, Y: 0}, Bulge: 0.2}, {P: r2.Vec{X: 190, Y: 80}}, {P: r2.Vec{X: 10, Y: 95}}}}
	return []outline.Path{edge, hole}
}

func around(paths []outline.Path, step float64) (pts []r2.Vec) {
	for _, p := range paths {
		for s := step / 3; s < p.Length(); s += step {
			k, u, _ := p.Locate(s)
			pts = append(pts, p.Segment(k).At(u))
		}
	}
	return pts
}

// A part laid askew is brought home, and one bad corner is told, with its sign.
func TestCompareBringsThePartHome(t *testing.T) {
	wanted := plate()
	pts := around(wanted, 7)
	askew := outline.Rotate(r2.Vec{X: 100, Y: 50}, 4*measure.Degree).Then(outline.Translate(r2.Vec{X: 6, Y: -9}))
	moved := make([]r2.Vec, len(pts))
	for i, p := range pts {
		moved[i] = askew.Apply(p)
	}
	v, err := Compare(moved, wanted, CompareOptions{Tolerance: 0.1})
	require.NoError(t, err)
	assert.True(t, v.Pass)
	assert.Less(t, v.RMS, 1e-6)
	assert.InDelta(t, -4, v.Turn.Degrees(), 1e-6)
	// A point 2 mm outside the lower edge, one 1 mm inside the hole's edge (metal
	// left in the hole, also too much).
	moved[3] = askew.Apply(r2.Add(pts[3], r2.Vec{Y: -2}))
	require.Equal(t, 0.0, pts[3].Y)
	last := len(pts) - 1
	center := r2.Vec{X: 60, Y: 30}
	moved[last] = askew.Apply(r2.Add(center, r2.Scale(14.0/15, r2.Sub(pts[last], center))))
	v, err = Compare(moved, wanted, CompareOptions{Tolerance: 0.5})
	require.NoError(t, err)
	assert.False(t, v.Pass)
	assert.Equal(t, []int{3, last}, v.Outside)
	assert.Equal(t, 3, v.Worst)
	assert.InDelta(t, 2, v.Deviations[3].Off, 0.2)
	assert.InDelta(t, 1, v.Deviations[last].Off, 0.2)
	// Fixed does not move it.
	v, err = Compare(moved, wanted, CompareOptions{Tolerance: 0.5, Freedom: Fixed})
	require.NoError(t, err)
	assert.Greater(t, v.RMS, 3.0)
	assert.Equal(t, r2.Vec{}, v.Shift)
}

// A best fit is no worse than what it began with, however askew the part was laid: a sheet
// with a cropped corner, turned 90° about its middle, was left 80.2 mm rms off where it had
// lain 72.7 off before.
func TestCompareMakesNothingWorse(t *testing.T) {
	sheet := []outline.Path{outline.Polygon(r2.Vec{}, r2.Vec{X: 400}, r2.Vec{X: 400, Y: 150}, r2.Vec{X: 300, Y: 200}, r2.Vec{Y: 200})}
	pts := around(sheet, sheet[0].Length()/60)
	rnd := rand.New(rand.NewPCG(2, 11))
	askew := []outline.Affine{outline.Rotate(r2.Vec{X: 200, Y: 100}, 90*measure.Degree)}
	for range 60 {
		askew = append(askew, outline.Rotate(r2.Vec{X: 200, Y: 100}, measure.Angle(6*rnd.Float64())).Then(outline.Translate(r2.Vec{X: 200 * rnd.NormFloat64(), Y: 200 * rnd.NormFloat64()})))
	}
	for i, lay := range askew {
		moved := make([]r2.Vec, len(pts))
		for k, p := range pts {
			moved[k] = lay.Apply(p)
		}
		before, err := Compare(moved, sheet, CompareOptions{Tolerance: 1, Freedom: Fixed})
		require.NoError(t, err)
		for _, freedom := range []Freedom{Free, ShiftOnly} {
			after, err := Compare(moved, sheet, CompareOptions{Tolerance: 1, Freedom: freedom})
			if e := new(Error); errors.As(err, &e) && e.Field == "points" {
				continue // so far off that all points have the same edge nearest
			}
			require.NoError(t, err)
			assert.LessOrEqual(t, after.RMS, before.RMS, "case %d freedom %d", i, freedom)
			// Turn and Move tell of one motion.
			way := r2.Sub(after.Move.Apply(r2.Vec{X: 1}), after.Move.Apply(r2.Vec{}))
			assert.InDelta(t, 0, math.Remainder(after.Turn.Radians()-math.Atan2(way.Y, way.X), 2*math.Pi), 1e-9)
		}
	}
}

func TestCompareShiftOnlyIsLeast(t *testing.T) {
	wanted := plate()
	pts := around(wanted, 9)
	rnd := rand.New(rand.NewPCG(2, 8))
	for i := range pts {
		pts[i] = r2.Add(pts[i], r2.Vec{X: 3 + 0.3*rnd.NormFloat64(), Y: 1 + 0.3*rnd.NormFloat64()})
	}
	v, err := Compare(pts, wanted, CompareOptions{Tolerance: 1, Freedom: ShiftOnly})
	require.NoError(t, err)
	assert.Zero(t, v.Turn)
	for _, d := range []r2.Vec{{X: 0.01}, {X: -0.01}, {Y: 0.01}, {Y: -0.01}} {
		other, err := Compare(pts, wanted, CompareOptions{Tolerance: 1, Freedom: Fixed, Start: v.Move.Then(outline.Translate(d))})
		require.NoError(t, err)
		assert.Greater(t, other.RMS, v.RMS)
	}
}

// The sign at corners: outside is outside whichever side of the corner is nearest,
// also at the first vertex of a closed path.
func TestDeviationSigns(t *testing.T) {
	square := outline.Polygon(r2.Vec{}, r2.Vec{X: 10}, r2.Vec{X: 10, Y: 10}, r2.Vec{Y: 10})
	d, err := Deviations([]r2.Vec{{X: -3, Y: -4}, {X: -0.1, Y: -5}, {X: -5, Y: -0.1}, {X: 13, Y: 14}, {X: 5, Y: 2}, {X: 2, Y: 2}, {X: 5, Y: 0}}, []outline.Path{square})
	require.NoError(t, err)
	want := []float64{5, math.Hypot(0.1, 5), math.Hypot(0.1, 5), 5, -2, -2, 0}
	for i := range want {
		assert.InDelta(t, want[i], d[i].Off, 1e-12, "%d", i)
	}
	assert.InDelta(t, 5, d[4].Along, 1e-12)
	// Beyond a sharp corner one of the two sides alone would say inside.
	wedge := outline.Polygon(r2.Vec{}, r2.Vec{X: 10, Y: -1}, r2.Vec{X: 10, Y: 1})
	for _, start := range []int{0, 1, 2} {
		d, err = Deviations([]r2.Vec{{X: -3, Y: 0.5}, {X: -3, Y: -0.5}}, []outline.Path{wedge.StartAt(start)})
		require.NoError(t, err)
		assert.InDelta(t, math.Hypot(3, 0.5), d[0].Off, 1e-12)
		assert.InDelta(t, math.Hypot(3, 0.5), d[1].Off, 1e-12)
	}
}

// A section and its other hand, pushed out 3 mm over a stretch: the map shows it
// there and nothing elsewhere.
func TestDistortionShowsTheBentPlace(t *testing.T) {
	var port, star []r2.Vec
	for i := range 101 {
		s := float64(i) * 5
		y := s * s / 1000
		bump := 0.0
		if s > 200 && s < 300 {
			bump = 3 * math.Sin((s-200)/100*math.Pi)
		}
		star = append(star, r2.Vec{X: s, Y: y})
		port = append(port, r2.Vec{X: -s, Y: y - bump})
	}
	mirror := outline.Mirror(r2.Vec{}, 90*measure.Degree)
	d, err := Distortion(outline.Polyline(port...), outline.Polyline(star...), mirror, 4)
	require.NoError(t, err)
	var most float64
	for _, v := range d {
		if v.At.X > -195 || v.At.X < -305 {
			assert.Less(t, math.Abs(v.Off), 0.01)
		}
		if math.Abs(v.Off) > math.Abs(most) {
			most = v.Off
		}
	}
	// Port runs to the left, so its right is up; the bump hangs down. Square to
	// the section, which rises 1 in 2 there, 3 mm downward is 3·cos(26.6°) = 2.68.
	assert.InDelta(t, -2.68, most, 0.06)
	turned, err := Distortion(outline.Polyline(port...), outline.Polyline(star...).Reverse(), mirror, 4)
	require.NoError(t, err)
	for i := range d {
		assert.InDelta(t, d[i].Off, turned[i].Off, 1e-9, "whichever way the other hand runs")
	}
	_, err = Distortion(outline.Polyline(port...), outline.Polyline(star...), outline.Affine{}, 4)
	require.Error(t, err)
}

// A port window cut 2 mm larger all round than the mirror image of the other hand's, wherever
// either ring is said to start and whichever way the other runs.
func TestDistortionOfARing(t *testing.T) {
	mirror := outline.Mirror(r2.Vec{}, 90*measure.Degree)
	star := outline.Polygon(r2.Vec{X: 300}, r2.Vec{X: 400}, r2.Vec{X: 400, Y: 100}, r2.Vec{X: 300, Y: 80})
	large, err := star.Transform(mirror).Reverse().Offset(2, outline.OffsetOptions{})
	require.NoError(t, err)
	for k := range 4 {
		for _, other := range []outline.Path{star.StartAt(k), star.StartAt(k).Reverse()} {
			for i := range large[0].Vertices {
				d, err := Distortion(large[0].StartAt(i), other, mirror, 30)
				require.NoError(t, err)
				for _, v := range d {
					assert.InDelta(t, 2, v.Off, 1e-9, "port counter-clockwise: its right is outside")
				}
			}
		}
	}
}

func TestFitFaultsAreNamed(t *testing.T) {
	nan := math.NaN()
	two := []r3.Vec{{}, {X: 1}}
	line := []r3.Vec{{}, {X: 1}, {X: 2}}
	cases := []struct {
		name  string
		run   func() error
		field string
	}{
		{"circle of two", func() error { _, err := FitCircle(make([]r2.Vec, 2), FitOptions{}); return err }, "circle"},
		{"circle NaN", func() error { _, err := FitCircle([]r2.Vec{{X: 1}, {X: nan}, {Y: 1}}, FitOptions{}); return err }, "circle: point 1 x"},
		{"circle of a line", func() error { _, err := FitCircle([]r2.Vec{{}, {X: 1}, {X: 2}, {X: 3}}, FitOptions{}); return err }, "circle"},
		{"circle of one point", func() error { _, err := FitCircle(make([]r2.Vec, 9), FitOptions{Reject: math.Inf(1)}); return err }, "circle"},
		{"rigid of two", func() error { _, err := BestFit(two, two, RigidOptions{}); return err }, "made"},
		{"rigid uneven", func() error { _, err := BestFit(line, two, RigidOptions{Freedom: ShiftOnly}); return err }, "pairs"},
		{"rigid of a line", func() error { _, err := BestFit(line, line, RigidOptions{}); return err }, "points"},
		{"rigid along the axis", func() error {
			_, err := BestFit(line, line, RigidOptions{Freedom: AboutAxis, Axis: r3.Vec{X: 1}})
			return err
		}, "points"},
		{"rigid no axis", func() error { _, err := BestFit(line, line, RigidOptions{Freedom: AboutAxis}); return err }, "axis"},
		{"rigid freedom", func() error { _, err := BestFit(line, line, RigidOptions{Freedom: 9}); return err }, "freedom"},
		{"rigid weight", func() error { _, err := BestFit(line, line, RigidOptions{Weights: []float64{1, nan, 1}}); return err }, "weight 1"},
		{"compare nothing", func() error { _, err := Compare([]r2.Vec{{}, {}, {}}, nil, CompareOptions{Tolerance: 1}); return err }, "wanted"},
		{"compare tolerance", func() error { _, err := Compare(around(plate(), 20), plate(), CompareOptions{}); return err }, "tolerance"},
		{"compare stretch", func() error {
			_, err := Compare(around(plate(), 20), plate(), CompareOptions{Tolerance: 1, Start: outline.Scale(r2.Vec{}, 2)})
			return err
		}, "start"},
		{"compare one side", func() error {
			_, err := Compare([]r2.Vec{{X: 20, Y: 1}, {X: 50, Y: 1}, {X: 80, Y: 1}}, []outline.Path{outline.Polyline(r2.Vec{}, r2.Vec{X: 100})}, CompareOptions{Tolerance: 1})
			return err
		}, "points"},
		{"frame up", func() error { _, err := (Plane{Normal: r3.Vec{Z: 1}}).Frame(r3.Vec{Z: 2}); return err }, "up"},
		{"frame zero", func() error { return Frame{}.Validate() }, "frame"},
	}
	for _, c := range cases {
		var e *Error
		if assert.ErrorAs(t, c.run(), &e, c.name) {
			assert.Equal(t, c.field, e.Field, c.name)
		}
	}
}

func TestFrame(t *testing.T) {
	fr, err := Plane{r3.Vec{X: 2500}, r3.Vec{X: 1}}.Frame(r3.Vec{Z: 1})
	require.NoError(t, err)
	assert.Equal(t, AtStation(2500), fr, "seen from aft, right is right and up is up")
	require.NoError(t, fr.Validate())
	at, h := fr.In(r3.Vec{X: 2501, Y: 3, Z: 4})
	assert.Equal(t, r2.Vec{X: 3, Y: 4}, at)
	assert.Equal(t, 1.0, h)
	assert.Equal(t, r3.Vec{X: 2500, Y: 3, Z: 4}, fr.Out(at))
}
