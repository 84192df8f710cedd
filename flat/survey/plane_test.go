package survey

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"github.com/hangarflat/hangarflat/material/measure"
)

func ExampleThreePoints() {
	// The side of a keelson, probed at three places.
	side, err := ThreePoints(r3.Vec{X: 0, Y: 40, Z: 0}, r3.Vec{X: 300, Y: 40, Z: 0}, r3.Vec{X: 0, Y: 60, Z: 200})
	if err != nil {
		fmt.Println(err)
		return
	}
	floor := Plane{Normal: r3.Vec{Z: 1}}
	line, err := Meet(side, floor)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("legs %v apart, meets the floor %.1f mm out\n", Dihedral(side, floor).Opening(), line.Point.Y)
	_, err = ThreePoints(r3.Vec{}, r3.Vec{X: 100}, r3.Vec{X: 250})
	fmt.Println(err)
	// Output:
	// legs 95.71° apart, meets the floor 40.0 mm out
	// survey: three points: height of their triangle 0 mm over 250 mm: they lie on one line, or coincide: take the third well to the side of the other two
}

func vec(t *rapid.T, size float64, name string) r3.Vec {
	g := rapid.Float64Range(-size, size)
	return r3.Vec{X: g.Draw(t, name+"x"), Y: g.Draw(t, name+"y"), Z: g.Draw(t, name+"z")}
}

func direction(t *rapid.T, name string) r3.Vec {
	for {
		if u, ok := unit(vec(t, 1, name)); ok {
			return u
		}
	}
}

// Each point of the meeting line lies in both planes, and the line is square to
// both normals: the definition, whatever the formula.
func TestMeetLiesInBothPlanes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Plane{vec(t, 5000, "p"), direction(t, "pn")}
		q := Plane{vec(t, 5000, "q"), direction(t, "qn")}
		sine := r3.Norm(r3.Cross(p.Normal, q.Normal))
		if sine < 0.02 {
			t.Skip("they may meet more than 1 km away")
		}
		l, err := Meet(p, q)
		require.NoError(t, err)
		for _, s := range []float64{-1000, 0, 777} {
			assert.InDelta(t, 0, p.Distance(l.At(s)), 1e-8/sine/sine)
			assert.InDelta(t, 0, q.Distance(l.At(s)), 1e-8/sine/sine)
		}
		// Three planes: the corner lies in all of them.
		r := Plane{vec(t, 5000, "r"), direction(t, "rn")}
		vol := math.Abs(r3.Dot(p.Normal, r3.Cross(q.Normal, r.Normal)))
		if vol < 0.02 {
			return
		}
		c, err := Corner(p, q, r)
		require.NoError(t, err)
		for _, pl := range []Plane{p, q, r} {
			assert.InDelta(t, 0, pl.Distance(c), 1e-7/vol)
		}
		assert.InDelta(t, 0, l.Distance(c), 1e-7/vol)
	})
}

// Angles set by construction: a normal turned about X by a known angle.
func TestDihedral(t *testing.T) {
	p := Plane{Normal: r3.Vec{Z: 1}}
	for _, deg := range []float64{0, 1e-6, 2.8624, 45, 82.5, 90, 97.5, 135, 179.999999, 180} {
		a := deg * math.Pi / 180
		q := Plane{Point: r3.Vec{X: 9}, Normal: r3.Vec{Y: math.Sin(a), Z: math.Cos(a)}}
		assert.InDelta(t, deg, Dihedral(p, q).Degrees(), 1e-12*max(deg, 1), "%g", deg)
		assert.InDelta(t, deg, Dihedral(q, p).Degrees(), 1e-12*max(deg, 1), "%g", deg)
		assert.InDelta(t, 180-deg, Dihedral(p.Flip(), q).Degrees(), 1e-12*180, "%g", deg)
	}
	assert.True(t, math.IsNaN(Dihedral(p, Plane{}).Radians()))
}

func TestPlaneSides(t *testing.T) {
	p, err := ThreePoints(r3.Vec{Z: 2}, r3.Vec{X: 1, Z: 2}, r3.Vec{Y: 1, Z: 2})
	require.NoError(t, err)
	assert.Equal(t, r3.Vec{Z: 1}, p.Normal, "counter-clockwise seen from above")
	q := r3.Vec{X: 5, Y: 6, Z: 10}
	assert.Equal(t, 8.0, p.Distance(q))
	assert.Equal(t, 7.0, p.Offset(1).Distance(q))
	assert.Equal(t, -8.0, p.Flip().Distance(q))
	assert.Equal(t, -1.0, p.Facing(r3.Vec{}).Normal.Z)
	assert.Equal(t, 1.0, p.Facing(q).Normal.Z)
	assert.Equal(t, r3.Vec{X: 5, Y: 6, Z: 2}, p.Project(q))
	assert.Equal(t, r3.Vec{X: 5, Y: 6, Z: -6}, p.Mirror(q))
}

func TestPlaneFaultsAreNamed(t *testing.T) {
	good := Plane{Normal: r3.Vec{Z: 1}}
	side := Plane{Normal: r3.Vec{X: 1}}
	nan, inf := math.NaN(), math.Inf(1)
	cases := []struct {
		name  string
		run   func() error
		field string
		count int
	}{
		{"zero plane", func() error { return Plane{}.Validate() }, "plane normal", 1},
		{"all at once", func() error { return Plane{r3.Vec{X: nan, Y: inf}, r3.Vec{X: 2}}.Validate() }, "plane point x", 3},
		{"zero line", func() error { return Line{}.Validate() }, "line direction", 1},
		{"NaN point", func() error { _, err := ThreePoints(r3.Vec{X: 1}, r3.Vec{Y: nan}, r3.Vec{}); return err }, "three points: point 1 y", 1},
		{"same points", func() error { _, err := ThreePoints(r3.Vec{}, r3.Vec{}, r3.Vec{}); return err }, "three points", 1},
		{"parallel", func() error { _, err := Meet(good, good.Offset(3)); return err }, "two planes", 1},
		{"both bad", func() error { _, err := Meet(Plane{}, Plane{}); return err }, "first plane normal", 2},
		{"too far", func() error {
			_, err := Meet(good, Plane{r3.Vec{Z: 1000}, r3.Vec{X: 1e-6, Z: math.Sqrt(1 - 1e-12)}})
			return err
		}, "two planes", 1},
		{"no corner", func() error { _, err := Corner(good, side, side.Offset(1)); return err }, "three planes", 1},
		{"two points", func() error { _, err := FitPlane(make([]r3.Vec, 2), FitOptions{}); return err }, "plane", 1},
		{"one line", func() error {
			_, err := FitPlane([]r3.Vec{{}, {X: 1}, {X: 2}, {X: 3}}, FitOptions{})
			return err
		}, "plane", 1},
		{"bad options", func() error {
			_, err := FitPlane([]r3.Vec{{}, {X: 1}, {Y: 2}}, FitOptions{Noise: nan, Reject: -1})
			return err
		}, "noise", 2},
		{"three points say no error", func() error {
			p, err := FitPlane([]r3.Vec{{}, {X: 1}, {Y: 2}}, FitOptions{})
			if err != nil {
				return nil
			}
			_, err = FitDihedral(p, p)
			return err
		}, "dihedral", 1},
	}
	for _, c := range cases {
		err := c.run()
		var e *Error
		if assert.ErrorAs(t, err, &e, c.name) {
			assert.Equal(t, c.field, e.Field, c.name)
			assert.Equal(t, c.count, countErrors(err), "%s: %v", c.name, err)
		}
	}
}

func countErrors(err error) int {
	if j, ok := err.(interface{ Unwrap() []error }); ok {
		return len(j.Unwrap())
	}
	var e *Error
	if errors.As(err, &e) {
		return 1
	}
	return 0
}

func TestFaultsOfAMillionPointsStayShort(t *testing.T) {
	points := make([]r3.Vec, 100000)
	for i := range points {
		points[i] = r3.Vec{X: math.NaN()}
	}
	_, err := FitPlane(points, FitOptions{})
	require.Error(t, err)
	assert.Less(t, len(err.Error()), 5000)
	assert.Contains(t, err.Error(), "99980 more faults")
}

// planePoints are readings of a known plane with normal spread sigma.
func planePoints(rnd *rand.Rand, p Plane, n int, size, sigma float64) []r3.Vec {
	u, _ := unit(r3.Cross(p.Normal, r3.Vec{X: 0.3, Y: 0.5, Z: 0.8}))
	v := r3.Cross(p.Normal, u)
	out := make([]r3.Vec, n)
	for i := range out {
		out[i] = r3.Add(p.Point, r3.Add(r3.Scale(size*(rnd.Float64()-0.5), u), r3.Scale(size*(rnd.Float64()-0.5), v)))
		out[i] = r3.Add(out[i], r3.Scale(sigma*rnd.NormFloat64(), p.Normal))
	}
	return out
}

// With no wild reading and rejection off, the fit must leave a sum of squares that
// no small tilt or shift lowers: least squares by its definition.
func TestFitPlaneIsLeastSquares(t *testing.T) {
	rnd := rand.New(rand.NewPCG(4, 4))
	truth := Plane{r3.Vec{X: 1200, Y: -340, Z: 88}, r3.Scale(1/math.Sqrt(14), r3.Vec{X: 1, Y: -2, Z: 3})}
	pts := planePoints(rnd, truth, 40, 500, 0.4)
	fit, err := FitPlane(pts, FitOptions{Reject: math.Inf(1)})
	require.NoError(t, err)
	sum := func(p Plane) (s float64) {
		for _, q := range pts {
			s += p.Distance(q) * p.Distance(q)
		}
		return s
	}
	best := sum(fit.Plane)
	assert.InDelta(t, math.Sqrt(best/40), fit.RMS, 1e-9)
	assert.InDelta(t, math.Sqrt(best/37), fit.Spread, 1e-9, "three numbers fix a plane")
	for _, d := range []r3.Vec{fit.Axes[0], fit.Axes[1], r3.Add(fit.Axes[0], fit.Axes[1])} {
		for _, h := range []float64{-1e-4, 1e-4} {
			n, _ := unit(r3.Add(fit.Normal, r3.Scale(h, d)))
			assert.Greater(t, sum(Plane{fit.Point, n}), best)
		}
	}
	assert.Greater(t, sum(fit.Offset(0.01)), best)
	assert.Greater(t, sum(fit.Offset(-0.01)), best)
}

// Wild readings are named and do not move the answer by more than good ones do.
func TestFitPlaneNamesWildReadings(t *testing.T) {
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	rnd := rand.New(rand.NewPCG(seed, 1))
	truth := Plane{r3.Vec{X: 3000, Y: 400}, r3.Scale(1/3.0, r3.Vec{X: 2, Y: 1, Z: 2})}
	for _, n := range []int{8, 20, 200, 5000} {
		pts := planePoints(rnd, truth, n, 400, 0.1)
		var planted []int
		// A fifth and more slipped, all to one side; of a handful just an eighth, for
		// two of eight that stand together can pass for a tilt.
		step := 4
		if n < 50 {
			step = 8
		}
		for i := n / 5; i < n; i += step {
			pts[i] = r3.Add(pts[i], r3.Scale(8, truth.Normal))
			planted = append(planted, i)
		}
		fit, err := FitPlane(pts, FitOptions{})
		require.NoError(t, err)
		for _, i := range planted {
			assert.Contains(t, fit.Outliers, i, "n %d", n)
		}
		assert.LessOrEqual(t, len(fit.Outliers), len(planted)+max(2, n/500), "n %d: good readings set aside", n)
		for k, d := range fit.Axes {
			slope := measure.Angle(r3.Dot(d, truth.Normal))
			// Six standard errors of the true spread: the spread estimated from a
			// handful of readings is itself uncertain.
			assert.Less(t, math.Abs(slope.Radians()), 6*0.1*fit.Tilt[k].Radians()/fit.Spread, "n %d axis %d", n, k)
		}
	}
}

// The stated standard error of the angle agrees with the scatter of the angle over
// many repeated surveys.
func TestDihedralErrorAgreesWithSampling(t *testing.T) {
	rnd := rand.New(rand.NewPCG(11, 7))
	a := 97.5 * measure.Degree
	p := Plane{Normal: r3.Vec{Z: 1}}
	q := Plane{Normal: r3.Vec{Y: math.Sin(a.Radians()), Z: math.Cos(a.Radians())}}
	var sum, sumSq, said float64
	const surveys = 600
	for range surveys {
		fp, err := FitPlane(planePoints(rnd, p, 9, 300, 0.2), FitOptions{Noise: 0.2})
		require.NoError(t, err)
		fq, err := FitPlane(planePoints(rnd, q, 12, 200, 0.2), FitOptions{Noise: 0.2})
		require.NoError(t, err)
		fp.Plane, fq.Plane = fp.Facing(r3.Vec{Z: 1e5}), fq.Facing(r3.Scale(1e5, q.Normal))
		d, err := FitDihedral(fp, fq)
		require.NoError(t, err)
		e := (d.Angle - a).Radians()
		sum, sumSq, said = sum+e, sumSq+e*e, said+d.StdErr.Radians()*d.StdErr.Radians()
	}
	mean, std := sum/surveys, math.Sqrt(sumSq/surveys)
	// The root mean square of 600 draws is itself uncertain by 1/√1200 = 3 %; the
	// mean by std/√600. Four of each.
	assert.InEpsilon(t, std, math.Sqrt(said/surveys), 0.12)
	assert.Less(t, math.Abs(mean), 4*std/math.Sqrt(surveys))
}

// Moving and turning the aeroplane changes nothing but coordinates.
func TestFitPlaneMovesWithThePart(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 5))
	pts := planePoints(rnd, Plane{Normal: r3.Vec{Z: 1}}, 25, 300, 0.3)
	pts[7].Z += 20
	base, err := FitPlane(pts, FitOptions{})
	require.NoError(t, err)
	require.Equal(t, []int{7}, base.Outliers)
	rapid.Check(t, func(t *rapid.T) {
		rot := r3.NewRotation(rapid.Float64Range(-3, 3).Draw(t, "turn"), direction(t, "axis"))
		shift := vec(t, 3000, "shift")
		moved := make([]r3.Vec, len(pts))
		for i, p := range pts {
			moved[i] = r3.Add(rot.Rotate(p), shift)
		}
		fit, err := FitPlane(moved, FitOptions{})
		require.NoError(t, err)
		want := rot.Rotate(base.Normal)
		assert.InDelta(t, 1, math.Abs(r3.Dot(want, fit.Normal)), 1e-12)
		assert.InDelta(t, base.RMS, fit.RMS, 1e-8)
		assert.Equal(t, base.Outliers, fit.Outliers)
	})
}
