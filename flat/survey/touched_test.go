package survey

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// nine points of the plane z = 0, 100 apart, the fifth in the middle.
func nine() []r3.Vec {
	var list []r3.Vec
	for _, y := range []float64{-100, 0, 100} {
		for _, x := range []float64{-100, 0, 100} {
			list = append(list, r3.Vec{X: x, Y: y})
		}
	}
	return list
}

// By symmetry: corners of a square that stand alternately 3 above and below lie off z = 0
// by 3 each, whichever is the one that was misread, so none of four is set aside; with a
// fifth and the others in the plane, the one that is off is.
func TestTouchedSetsAsideWhatFourAgreeAgainst(t *testing.T) {
	saddle := []r3.Vec{{X: -100, Y: -100, Z: 3}, {X: 100, Y: -100, Z: -3}, {X: 100, Y: 100, Z: 3}, {X: -100, Y: 100, Z: -3}}
	for _, stated := range []float64{0, 0.4} {
		fit, err := Touched{Points: saddle, Error: stated}.Fit()
		require.NoError(t, err)
		assert.Empty(t, fit.Outliers)
		assert.InDelta(t, 1, fit.Normal.Z, 1e-12)
		for i, r := range fit.Residuals {
			assert.InDelta(t, saddle[i].Z, r, 1e-9)
		}
		assert.InDelta(t, 3, fit.RMS, 1e-9)
	}
	// The middle of a triangle 1.6 off lies 1.2 off the fit and the corners 0.4, as they would had a
	// corner been 4.8 off: FitPlane alone sets the middle aside.
	middle := []r3.Vec{{X: -300, Y: -300}, {X: 300, Y: -300}, {Y: 600}, {Z: 1.6}}
	alone, err := FitPlane(middle, FitOptions{Noise: 0.4})
	require.NoError(t, err)
	require.Equal(t, []int{3}, alone.Outliers)
	fit, err := Touched{Points: middle, Error: 0.4}.Fit()
	require.NoError(t, err)
	assert.Empty(t, fit.Outliers)
	assert.InDelta(t, 1.2, fit.Residuals[3], 1e-9)

	five := []r3.Vec{{Z: 6}, {X: -100, Y: -100}, {X: 100, Y: -100}, {X: 100, Y: 100}, {X: -100, Y: 100}}
	fit, err = Touched{Points: five, Error: 0.4}.Fit()
	require.NoError(t, err)
	assert.Equal(t, []int{0}, fit.Outliers)
	assert.InDelta(t, 6, fit.Residuals[0], 1e-9)
	assert.InDelta(t, 0, fit.RMS, 1e-9)

	// Two of five off leave three to agree, as any three do: none is set aside.
	five[2].Z = -9
	fit, err = Touched{Points: five, Error: 0.4}.Fit()
	require.NoError(t, err)
	assert.Empty(t, fit.Outliers)

	// Nine, their corners 0.3 off by turns and the middle 3: too little for readings judged by each
	// other alone, and eight times the error stated.
	near := nine()
	for i, z := range map[int]float64{0: 0.3, 2: -0.3, 4: 3, 6: -0.3, 8: 0.3} {
		near[i].Z = z
	}
	fit, err = Touched{Points: near}.Fit()
	require.NoError(t, err)
	assert.Empty(t, fit.Outliers)
	fit, err = Touched{Points: near, Error: 0.375}.Fit()
	require.NoError(t, err)
	assert.Equal(t, []int{4}, fit.Outliers)
	assert.InDelta(t, 0.3/math.Sqrt2, fit.RMS, 1e-9)

	// By each other alone: nine points that agree but for one.
	slip := nine()
	slip[5].Z = 25.4
	fit, err = Touched{Points: slip}.Fit()
	require.NoError(t, err)
	assert.Equal(t, []int{5}, fit.Outliers)
}

// By hand, least squares of nine points over a square of 200: the middle one wrong by e moves
// the plane by e/9 and does not tilt it; a corner moves the middle by e/9 and tilts it by
// 100·e/(6·100²) along either side, so that at the corner it stands e/9 + e/6 + e/6 = 4/9·e off.
func TestTouchedMisread(t *testing.T) {
	const e = 0.5
	list, err := Touched{Points: nine()}.Misread(ReadingErrors{Length: e})
	require.NoError(t, err)
	require.Len(t, list, 9)
	origin, corner := r3.Vec{}, r3.Vec{X: -100, Y: -100}
	assert.Equal(t, "point 1", list[0].Reading)
	assert.InDelta(t, e/9, -list[4].Plane.Distance(origin), 1e-12)
	assert.InDelta(t, e/9, -list[4].Plane.Distance(corner), 1e-9)
	assert.InDelta(t, e/9, -list[0].Plane.Distance(origin), 1e-4)
	assert.InDelta(t, 4*e/9, -list[0].Plane.Distance(corner), 1e-4)

	// The squares of what each of them does at a corner add up to 4/9·e², the leverage there.
	var sum float64
	for _, m := range list {
		sum += sq(m.Plane.Distance(corner))
	}
	assert.InDelta(t, 4.0/9*e*e, sum, 1e-4)

	// A point that was set aside does nothing.
	slip := nine()
	slip[4].Z = 25.4
	list, err = Touched{Points: slip, Error: e}.Misread(ReadingErrors{Length: e})
	require.NoError(t, err)
	require.Len(t, list, 8)
	assert.Equal(t, "point 6", list[4].Reading)

	list, err = Touched{Points: nine()}.Misread(ReadingErrors{})
	require.NoError(t, err)
	assert.Empty(t, list, "exact")
}

func TestTouchedRefuses(t *testing.T) {
	line := func(off float64) []r3.Vec { return []r3.Vec{{}, {X: 100, Z: off}, {X: 200}, {X: 300, Z: -off}} }
	for rule, touched := range map[string]Touched{
		"must be 4 to 100 points": {Points: nine()[:3]},
		"must be 0 mm":            {Points: nine(), Error: math.NaN()},
		"on one line, or nearly":  {Points: line(0.5)},
		"they lie on one line":    {Points: line(0)},
		"within 1 km":             {Points: append(nine(), r3.Vec{X: math.NaN()})},
	} {
		_, err := touched.Plane()
		var fault *Error
		require.ErrorAs(t, err, &fault, rule)
		assert.ErrorContains(t, err, rule)
		_, err = touched.Misread(ReadingErrors{Length: 1})
		assert.ErrorContains(t, err, rule)
	}
	many := Touched{}
	for i := range 101 {
		many.Points = append(many.Points, r3.Vec{X: float64(i), Y: float64(i * i % 97)})
	}
	_, err := many.Plane()
	assert.ErrorContains(t, err, "must be 4 to 100 points")
	many.Points = many.Points[:100]
	_, err = many.Plane()
	assert.NoError(t, err)
}

// A frame read at six places, of which one was written down an inch wrong.
func ExampleTouched() {
	frame := Touched{Error: 0.4, Points: []r3.Vec{
		{X: 400.1}, {X: 399.8, Y: 150}, {X: 400.1, Y: 300}, {X: 425.3, Z: 200}, {X: 399.9, Y: 150, Z: 200}, {X: 400.0, Y: 300, Z: 200},
	}}
	fit, err := frame.Fit()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, i := range fit.Outliers {
		fmt.Printf("point %d is %.1f mm off the plane of the others\n", i+1, fit.Residuals[i])
	}
	fmt.Printf("the others: %.2f mm, root mean square\n", fit.RMS)
	// Output:
	// point 4 is 25.4 mm off the plane of the others
	// the others: 0.11 mm, root mean square
}
