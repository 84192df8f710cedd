package loft

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"pgregory.net/rapid"

	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
)

func ExampleFair() {
	// Chine of the Corrie, bays 3 to 10, stations every 300 mm, read to 1.5 mm;
	// 412 was written for 421. (Invented.) The cubic through the two stations to
	// each side foretells (4·(415 + 428) - (403.5 + 429.5))/6 = 423.2.
	var readings []Reading
	for i, y := range []float64{352.5, 372, 389, 403.5, 415, 412, 428, 429.5, 428, 423.5} {
		readings = append(readings, Reading{Station: 900 + 300*float64(i), Offset: y, Within: 1.5})
	}
	f, err := Fair(readings, FairOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, d := range f.Doubts {
		s := f.Stations[d.Station]
		fmt.Printf("measure station %.0f again: %.1f mm off, %.1f would be fair\n", s.At, d.Off, s.Offset-d.Off)
	}
	// Output:
	// measure station 2400 again: -11.2 mm off, 423.2 would be fair
}

// naca is the half thickness of a four-digit section of 12 % on a chord of 1000 mm
// (the published thickness polynomial; reference text practice, from memory).
func naca(x float64) float64 {
	u := x / 1000
	return 1000 * 5 * 0.12 * (0.2969*math.Sqrt(u) - 0.1260*u - 0.3516*u*u + 0.2843*u*u*u - 0.1015*u*u*u*u)
}

// The printed ordinates of NACA 0012 are met by the formula, and a line faired
// through a few of them meets the formula between.
func TestFairMeetsAPublishedSection(t *testing.T) {
	printed := map[float64]float64{1.25: 1.894, 5: 3.555, 10: 4.683, 30: 6.002, 60: 4.563, 90: 1.448}
	for x, y := range printed {
		assert.InDelta(t, y, naca(10*x)/10, 0.0006, "ordinate at %g %%", x)
	}
	// Read to half the last printed digit, 0.005 mm on this chord.
	var r []Reading
	for x := 100.0; x <= 950; x += 50 {
		r = append(r, Reading{x, math.Round(naca(x)*100) / 100, 0.005})
	}
	slope := func(x float64) float64 { return (naca(x+1e-3) - naca(x-1e-3)) / 2e-3 }
	holds := []Hold{{100, HoldSlope, slope(100)}, {950, HoldSlope, slope(950)}}
	for _, m := range []Method{WithinTolerance, ThroughReadings} {
		f, err := Fair(r, FairOptions{Method: m, Holds: holds})
		require.NoError(t, err)
		assert.Empty(t, f.Doubts)
		for x := 100.0; x <= 950; x += 10 {
			// The clamped cubic is off by at most 5/384·h⁴·max|f⁗| (Hall and Meyer,
			// from memory); |f⁗| is 3.1e-7 at 100 mm, h 50: 0.025 mm, and the rounding
			// of the readings adds 0.01.
			assert.InDelta(t, naca(x), f.At(x), 0.035, "at %g", x)
		}
		for _, x := range f.Inflections() {
			assert.Greater(t, x, 550.0, "the section is round to beyond half chord")
		}
	}
	r[6].Offset += 0.9 // 9 printed for 0
	f, err := Fair(r, FairOptions{Method: ThroughReadings})
	require.NoError(t, err)
	require.NotEmpty(t, f.Doubts)
	assert.Equal(t, 6, f.Doubts[0].Station)
	assert.InDelta(t, 0.9, f.Doubts[0].Off, 0.05)
}

// Worked values of conics by rho: reference text practice, derived.
func TestConicByRho(t *testing.T) {
	a, c, b := r2.Vec{X: 1}, r2.Vec{X: 1, Y: 1}, r2.Vec{Y: 1}
	for rho, want := range map[float64]float64{0.5: 0.75, 0.6: 0.8, 0.75: 0.875} {
		k := Conic{a, c, b, rho}
		require.NoError(t, k.Validate())
		assert.InDelta(t, want, k.Shoulder().X, 1e-12)
		assert.InDelta(t, want, k.Shoulder().Y, 1e-12)
		again, err := ConicThrough(a, c, b, k.Shoulder())
		require.NoError(t, err)
		assert.InDelta(t, rho, again.Rho, 1e-12)
		p, _ := k.At(0.3)
		again, err = ConicThrough(a, c, b, p)
		require.NoError(t, err)
		assert.InDelta(t, rho, again.Rho, 1e-12)
	}
	rho, err := RhoOfCircle(90 * measure.Degree)
	require.NoError(t, err)
	assert.InDelta(t, math.Sqrt2-1, rho, 1e-12)
	// Arcs of any turn: tangents of length r·tan(turn/2), every point at r.
	for _, deg := range []float64{10, 60, 90, 150} {
		h := deg / 2 * math.Pi / 180
		rho, err := RhoOfCircle(measure.Angle(2 * h))
		require.NoError(t, err)
		k := Conic{r2.Vec{X: 80 * math.Cos(h), Y: -80 * math.Sin(h)}, r2.Vec{X: 80 / math.Cos(h)}, r2.Vec{X: 80 * math.Cos(h), Y: 80 * math.Sin(h)}, rho}
		for s := 0.0; s <= 1; s += 0.05 {
			p, d := k.At(s)
			assert.InDelta(t, 80, r2.Norm(p), 1e-9)
			assert.InDelta(t, 0, r2.Dot(p, d), 1e-7, "tangent square to the radius")
		}
		path, err := k.Arcs(0.01)
		require.NoError(t, err)
		assert.InDelta(t, 160*h, path.Length(), 0.01)
	}
	var e *Error
	for _, bad := range []Conic{{}, {a, c, b, 0}, {a, c, b, 1}, {a, c, b, math.NaN()}, {a, r2.Vec{X: math.NaN()}, b, 0.5}, {a, r2.Scale(0.5, r2.Add(a, b)), b, 0.5}} {
		require.ErrorAs(t, bad.Validate(), &e)
		_, err := bad.Arcs(0.1)
		require.Error(t, err)
	}
	_, err = ConicThrough(a, c, b, r2.Vec{X: 2, Y: 2})
	require.ErrorAs(t, err, &e)
	_, err = RhoOfCircle(180 * measure.Degree)
	require.ErrorAs(t, err, &e)
}

// parabola is a curve whose every property is known: y = x²/1000 from -500 to 500.
func parabola(t *testing.T) Curve {
	t.Helper()
	var r []Reading
	for x := -500.0; x <= 500; x += 100 {
		r = append(r, Reading{x, x * x / 1000, 0})
	}
	f, err := Fair(r, FairOptions{Method: ThroughReadings, Holds: []Hold{{-500, HoldSlope, -1}, {500, HoldSlope, 1}}})
	require.NoError(t, err)
	return f.Curve
}

func TestCurveOfAParabola(t *testing.T) {
	c := parabola(t)
	for x := -500.0; x <= 500; x += 37 {
		assert.InDelta(t, x*x/1000, c.At(x), 1e-8)
		assert.InDelta(t, x/500, c.Slope(x), 1e-9)
		assert.InDelta(t, 1./500, c.Bend(x), 1e-10)
		assert.InDelta(t, 0.002/math.Pow(1+x*x/250000, 1.5), c.Curvature(x), 1e-10)
	}
	assert.InDelta(t, 1000*4e-6, c.Energy(), 1e-10)
	assert.Empty(t, c.Inflections())
	// Length of y = x²/2p, p = 500, from 0 to p: p/2·(√2 + asinh 1).
	assert.InDelta(t, 250*(math.Sqrt2+math.Asinh(1)), c.Girth(0, 500), 1e-7)
	assert.InDelta(t, c.Girth(0, 500), c.Girth(-500, 0), 1e-7)
	assert.InDelta(t, c.Girth(-500, 320), c.Girth(320, 13)+c.Girth(13, -500), 1e-9)
	// Curvature falls outward, so the flattest 200 mm are at an end, and the
	// curvature 0.001 is passed where 1+(x/500)² = 2^(2/3).
	span, k, err := c.Flattest(Span{}, 200)
	require.NoError(t, err)
	assert.InDelta(t, 300, max(math.Abs(span.From), math.Abs(span.To))-200, 1e-6)
	assert.InDelta(t, c.Curvature(300), k, 1e-10)
	span, k, err = c.Flattest(Span{-480, 100}, 200)
	require.NoError(t, err)
	assert.Equal(t, Span{-480, -280}, span)
	assert.InDelta(t, c.Curvature(280), k, 1e-10)
	_, _, err = c.Flattest(Span{100, 600}, 200)
	require.Error(t, err)
	span, ok := c.LongestFlat(0.001)
	require.True(t, ok)
	edge := 500 * math.Sqrt(math.Cbrt(4)-1)
	assert.InDelta(t, 500-edge, span.Length(), 0.2)
	_, ok = c.LongestFlat(1e-5)
	assert.False(t, ok)
	_, ok = c.LongestFlat(math.NaN())
	assert.False(t, ok)
	path, err := c.Arcs(0.01)
	require.NoError(t, err)
	for x := -500.0; x <= 500; x += 3 {
		assert.LessOrEqual(t, path.Distance(r2.Vec{X: x, Y: x * x / 1000}), 0.0101)
	}
	assert.Less(t, len(path.Vertices), 60)
	assert.Equal(t, r2.Vec{X: -500, Y: c.At(-500)}, path.Vertices[0].P)
}

func TestInflectionsOfASine(t *testing.T) {
	var r []Reading
	for x := 100.0; x <= 3100; x += 50 {
		r = append(r, Reading{x, 100 * math.Sin(x/500), 0})
	}
	f, err := Fair(r, FairOptions{Method: ThroughReadings})
	require.NoError(t, err)
	got := f.Inflections()
	require.Len(t, got, 1)
	assert.InDelta(t, 500*math.Pi, got[0], 1)
	line, err := StraightLine(0, 5, 100, 9)
	require.NoError(t, err)
	assert.Empty(t, line.Inflections())
}

func TestChalkLineAndJig(t *testing.T) {
	bottom := parabola(t)
	top, err := StraightLine(-600, 300, 450, 300)
	require.NoError(t, err)
	j := Jig{top, bottom}
	span, err := j.Range()
	require.NoError(t, err)
	assert.Equal(t, Span{-500, 450}, span)
	assert.InDelta(t, 300-40, j.Depth(200), 1e-7)
	require.NoError(t, j.Validate(49))
	var e *Error
	require.ErrorAs(t, j.Validate(51), &e) // 50 deep at -500
	assert.Contains(t, e.Field, "-500")
	marks, err := bottom.ChalkLine(60)
	require.NoError(t, err)
	require.Len(t, marks, 18) // 1000/60 = 16.7, so 17 steps
	assert.Equal(t, -500.0, marks[0].Along)
	assert.Equal(t, 500.0, marks[17].Along)
	assert.InDelta(t, bottom.Girth(-500, 500), marks[17].Girth, 1e-9)
	for _, bad := range []float64{0, -1, math.NaN(), 1e-9} {
		_, err := bottom.ChalkLine(bad)
		require.ErrorAs(t, err, &e)
	}
	// 2.1/0.3 is 7 and the last digit: seven steps.
	short, err := StraightLine(0, 0, 2.1, 0)
	require.NoError(t, err)
	marks, err = short.ChalkLine(.3)
	require.NoError(t, err)
	assert.Len(t, marks, 8)
	_, err = Jig{Top: top}.Range()
	require.ErrorAs(t, err, &e)
}

// The bottom y = x²·(3000 - x)/10⁷ has y' = x·(6000 - 3x)/10⁷: its crest stands 2000 along,
// 2000²·1000/10⁷ = 400 high, and a straight top at 399 runs 1 mm below it. At the stations
// 1875 and 2062.5, sixteenths of the length, the bottom is 395.51 and 398.80 high.
func TestJigIsThinnestBetweenSixteenths(t *testing.T) {
	bottom := Curve{breaks: []float64{0, 3000}, poly: []cubic{{0, 0, 3000e-7, -1e-7}}}
	for _, x := range []float64{1875, 2062.5} {
		require.Less(t, bottom.At(x), 399.0)
	}
	top, err := StraightLine(-10, 399, 3010, 399)
	require.NoError(t, err)
	j := Jig{top, bottom}
	require.NoError(t, j.Validate(-1-1e-9))
	var e *Error
	require.ErrorAs(t, j.Validate(0), &e)
	assert.Equal(t, Error{"jig depth at station 2000 mm", "-1 mm", "must be at least 0 mm: raise the top"}, *e)
	require.ErrorAs(t, j.Validate(math.NaN()), &e)
}

// The same bottom in two cubics, broken at 1000, where y = 200, y' = 0.3, y" = 0 and y"' = -6/10⁷;
// a top that falls to its own break, 350 high at 1500, and rises from there. From 1500 on the
// depth is 350 + (x - 1500)/10 - y, level where x·(6000 - 3x)/10⁷ = 1/10: 3x² - 6000x + 10⁶ = 0,
// x = 1000 + 1000·√(2/3), and hollow there: least. Before, it only shrinks.
func TestJigIsThinnestBetweenBreaks(t *testing.T) {
	j := Jig{
		Top:    Curve{breaks: []float64{-10, 1500, 3010}, poly: []cubic{{501, -0.1}, {350, 0.1}}},
		Bottom: Curve{breaks: []float64{0, 1000, 3000}, poly: []cubic{{0, 0, 3000e-7, -1e-7}, {200, 0.3, 0, -1e-7}}},
	}
	x := 1000 + 1000*math.Sqrt(2./3)
	least := 350 + (x-1500)/10 - x*x*(3000-x)/1e7
	require.NoError(t, j.Validate(least-1e-9))
	var e *Error
	require.ErrorAs(t, j.Validate(least+1e-9), &e)
	assert.Equal(t, "jig depth at station "+mm(x), e.Field)
}

// Whatever two lines, no station looked at is less deep than what is found. Between two of
// the 5001 looked at, step apart, the depth falls by step²/8 of its greatest bend at most;
// by twice that of the greatest bend seen.
func TestJigByLooking(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		line := func(name string) Curve {
			x := rapid.Float64Range(-100, 100).Draw(t, name+" from")
			var r []Reading
			for range rapid.IntRange(3, 8).Draw(t, name+" readings") {
				r = append(r, Reading{Station: x, Offset: rapid.Float64Range(-400, 400).Draw(t, name)})
				x += rapid.Float64Range(100, 900).Draw(t, name+" step")
			}
			f, err := Fair(r, FairOptions{Method: ThroughReadings})
			require.NoError(t, err)
			return f.Curve
		}
		j := Jig{line("top"), line("bottom")}
		span, err := j.Range()
		require.NoError(t, err)
		const steps = 5000
		seen, bend := math.Inf(1), 0.0
		for i := range steps + 1 {
			x := span.From + span.Length()*float64(i)/steps
			seen = min(seen, j.Depth(x))
			bend = max(bend, math.Abs(j.Top.Bend(x)-j.Bottom.Bend(x)))
		}
		step := span.Length() / steps
		require.Error(t, j.Validate(seen+1e-9))
		require.NoError(t, j.Validate(seen-bend*step*step/4-1e-9))
	})
}

// A trace that turns all ways, with noise and strays, comes out within what the
// freedom used explains, wherever it lies.
func TestFairTraceRecoversASection(t *testing.T) {
	path := outline.Path{Vertices: []outline.Vertex{
		{P: r2.Vec{}}, {P: r2.Vec{X: 500, Y: 233}, Bulge: 0.15}, {P: r2.Vec{X: 520, Y: 900}, Bulge: 0.5}, {P: r2.Vec{X: 400, Y: 1000}}}}
	length, chine := path.Length(), path.Segment(0).Length()
	rnd := rand.New(rand.NewPCG(5, 6))
	const n, sigma = 5000, 0.4
	var along []float64
	var points []r2.Vec
	var bad []int
	for i := range n {
		s := length * float64(i) / (n - 1)
		k, u, err := path.Locate(min(s, length))
		require.NoError(t, err)
		seg := path.Segment(k)
		d := seg.Tangent(u)
		e := sigma * rnd.NormFloat64()
		if i%400 == 37 {
			e = 9
			bad = append(bad, i)
		}
		along = append(along, s)
		points = append(points, r2.Add(seg.At(u), r2.Vec{X: e * d.Y, Y: -e * d.X}))
	}
	fit, err := FairTrace(along, points, TraceOptions{Corners: []float64{chine}})
	require.NoError(t, err)
	for _, i := range bad {
		assert.Contains(t, fit.Outliers, i)
	}
	assert.LessOrEqual(t, len(fit.Outliers), len(bad)+3)
	assert.InEpsilon(t, sigma, fit.RMS, 0.05)
	assert.False(t, fit.Closed())
	assert.Equal(t, []float64{chine}, fit.Corners())
	var sq float64
	from, to := fit.Range()
	const m = 2000
	for k := range m {
		p, _ := fit.At(from + (to-from)*float64(k)/(m-1))
		d := path.Distance(p)
		sq += d * d
	}
	// Square to the curve the noise is σ, and the fit keeps √(freedom/n) of it.
	assert.Less(t, math.Sqrt(sq/m), 1.7*sigma*math.Sqrt(fit.Freedom/n), "freedom %g", fit.Freedom)
	arcs, err := fit.Arcs(0.02)
	require.NoError(t, err)
	require.NoError(t, arcs.ValidateOpen())
	for k := range m {
		p, _ := fit.At(from + (to-from)*float64(k)/(m-1))
		assert.LessOrEqual(t, arcs.Distance(p), 0.0201)
	}
	// Inside the skin the mold line lies 1.2 mm to the left (inboard), all along it,
	// with a sharp chine.
	inside, err := fit.Parallel(-1.2, 0.02)
	require.NoError(t, err)
	require.NoError(t, inside.ValidateOpen())
	for k := range m {
		i, u, err := inside.Locate(inside.Length() * float64(k) / (m - 1))
		require.NoError(t, err)
		d := arcs.Distance(inside.Segment(i).At(u))
		assert.InDelta(t, 1.2, d, 0.05)
	}
	// And outside, where the corner opens, it is carried on to a point.
	outside, err := fit.Parallel(1.2, 0.02)
	require.NoError(t, err)
	require.NoError(t, outside.ValidateOpen())
	assert.Greater(t, outside.Length(), inside.Length())
	_, err = fit.Parallel(-5000, 0.02)
	var e *Error
	require.ErrorAs(t, err, &e)
	assert.Contains(t, e.Rule, "less than the radius")

	// The same points turned and moved give the same trace turned and moved: one
	// stiffness for both coordinates.
	turn := outline.Rotate(r2.Vec{}, 37*measure.Degree).Then(outline.Translate(r2.Vec{X: -800, Y: 300}))
	moved := make([]r2.Vec, n)
	for i, p := range points {
		moved[i] = turn.Apply(p)
	}
	again, err := FairTrace(along, moved, TraceOptions{Corners: []float64{chine}})
	require.NoError(t, err)
	for s := from; s <= to; s += 10 {
		p, _ := fit.At(s)
		q, _ := again.At(s)
		assert.Less(t, r2.Norm(r2.Sub(turn.Apply(p), q)), 1e-3)
	}
}

func TestFairTraceClosesARing(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 7))
	var along []float64
	var points []r2.Vec
	const n, r = 3000, 400.0
	for i := range n {
		a := 2 * math.Pi * float64(i) / n
		rr := r + 0.3*rnd.NormFloat64()
		along, points = append(along, r*a), append(points, r2.Vec{X: rr * math.Cos(a), Y: rr * math.Sin(a)})
	}
	fit, err := FairTrace(along, points, TraceOptions{Closed: true})
	require.NoError(t, err)
	assert.True(t, fit.Closed())
	assert.Empty(t, fit.Corners())
	from, to := fit.Range()
	p, u := fit.At(from)
	q, v := fit.At(to)
	assert.Less(t, r2.Norm(r2.Sub(p, q)), 0.05)
	assert.Less(t, math.Abs(r2.Cross(r2.Unit(u), r2.Unit(v))), 0.002)
	ring, err := fit.Parallel(-2, 0.02)
	require.NoError(t, err)
	require.True(t, ring.Closed)
	require.NoError(t, ring.Validate())
	assert.InDelta(t, math.Pi*398*398, ring.Area(), 2*math.Pi*398*0.1)
	// The least radius is a little under 400.
	var e *Error
	_, err = fit.Parallel(-401, 0.02)
	require.ErrorAs(t, err, &e)
	assert.Contains(t, e.Rule, "less than the radius")
}

func TestTableReadsTheShopsSheet(t *testing.T) {
	in := "# chine of the Corrie, port (invented)\nStation [in], chine [in], keel, within [in], remark\n0, 12 1/2, 30 mm,, at the step\n12, 13.25 in, , 1/32,\n12, 13.28, 1.5 in, 1/32, again\n24, 340 mm, 50 mm, ,\n"
	tab, err := ReadTable(strings.NewReader(in), 1)
	require.NoError(t, err)
	require.Len(t, tab.Lines, 2)
	chine, ok := tab.Line("chine")
	require.True(t, ok)
	want := []Reading{{0, 317.5, 1}, {304.8, 336.55, 0.79375}, {304.8, 337.312, 0.79375}, {609.6, 340, 1}}
	require.Len(t, chine.Readings, 4)
	for i := range want {
		assert.InDelta(t, want[i].Station, chine.Readings[i].Station, 1e-9)
		assert.InDelta(t, want[i].Offset, chine.Readings[i].Offset, 1e-9)
		assert.InDelta(t, want[i].Within, chine.Readings[i].Within, 1e-9)
	}
	assert.Equal(t, []int{3, 4, 5, 6}, chine.Rows)
	keel, _ := tab.Line("keel")
	assert.Len(t, keel.Readings, 3)
	_, ok = tab.Line("sheer")
	assert.False(t, ok)
	f, err := Fair(chine.Readings, FairOptions{})
	require.NoError(t, err)
	assert.Len(t, f.Stations, 3)
	assert.InDelta(t, 0.762, f.Stations[1].Spread, 1e-9)
}

func TestTableFaultsAreLocated(t *testing.T) {
	cases := []struct{ in, field, says string }{
		{"", "table", "names its columns"},
		{"a,b\n1 mm,2 mm\n", "table", "named station"},
		{"station [mm]\n1\n", "table", "column of offsets"},
		{"station [mm],y [furlong]\n1,2\n", "column 2", "unit in brackets"},
		{"station [mm],y [1/8 in]\n1,3\n", "column 2", "unit in brackets"}, // 3 1/8 in was read
		{"station [mm],y [0 mm]\n1,3\n", "column 2", "unit in brackets"},
		{"station [mm],y [deg]\n1,3\n", "column 2", "unit in brackets"},
		{"station [mm],y []\n1,3\n", "column 2", "unit in brackets"},
		{"station [mm],y [mm],y [mm]\n1,2,3\n", "column 3", "twice"},
		{"station,y [mm]\n1,2\n", "line 2 column station", "no unit"},
		{"station [mm],y [mm]\n1,2\n0,2\n", "line 3 column station", "in order"},
		{"station [mm],y [mm]\n1,2\n,2\n", "line 3 column station", "needs a station"},
		{"station [mm],y [mm]\n1,2,3\n", "line 2", "must have 2"},
		{"station [mm],y [mm]\n1,\n2,x\n", "line 3 column y", "length"},
		{"station [mm],y [mm]\n1,2000000\n", "line 2 column y", "1 km"},
		{"station [mm],y [mm],within [mm]\n1,1,-1\n", "line 2 column within", "tolerance"},
		{"station [mm],y [mm]\n1,\n", "column y", "needs some"},
		{"station [mm],y [mm]\n1,\"2\n", "line 2 column 5", ""},
	}
	for _, c := range cases {
		_, err := ReadTable(strings.NewReader(c.in), 1)
		var e *Error
		if assert.ErrorAs(t, err, &e, c.in) {
			assert.Contains(t, err.Error(), c.says, c.in)
			if c.field != "line 2 column 5" {
				assert.Equal(t, c.field, e.Field, c.in)
			}
		}
	}
	// All faults at once.
	_, err := ReadTable(strings.NewReader("station [mm],y [mm]\n1,a\n2,b\n3,c\n"), 1)
	assert.Equal(t, 3, strings.Count(err.Error(), "\n")+1)
	_, err = ReadTable(strings.NewReader("station [mm],y [mm]\n1,2\n"), math.NaN())
	require.Error(t, err)
}

// A column of ones in each unit that may stand in brackets, in mm.
func TestTableUnits(t *testing.T) {
	tab, err := ReadTable(strings.NewReader("station [mm],a [mm],b [cm],c [m],d [in],e [thou],f [ FT ]\n1,1,1,1,1,1,1\n"), 0)
	require.NoError(t, err)
	var got []float64
	for _, l := range tab.Lines {
		got = append(got, l.Readings[0].Offset)
	}
	assert.InDeltaSlice(t, []float64{1, 10, 1000, 25.4, 0.0254, 304.8}, got, 1e-12)
}

func FuzzReadTable(f *testing.F) {
	f.Add("station [in],chine [in]\n0,12 1/2\n12,13\n24,14\n36,15\n")
	f.Add("station,y,within,remark\n1 mm,2 mm,,\n")
	f.Add("station [mm],y [mm]\n1,1e300\n")
	f.Fuzz(func(t *testing.T, s string) {
		tab, err := ReadTable(strings.NewReader(s), 0.5)
		if err != nil {
			var e *Error
			if !errors.As(err, &e) {
				t.Fatalf("%T %v", err, err)
			}
			return
		}
		for _, l := range tab.Lines {
			for _, m := range []Method{WithinTolerance, ThroughReadings, Balanced} {
				fair, err := Fair(l.Readings, FairOptions{Method: m})
				var e *Error
				if err != nil && !errors.As(err, &e) {
					t.Fatalf("%T %v", err, err)
				}
				if err == nil && math.IsNaN(fair.RMS) {
					t.Fatalf("%v: rms is not a number", l.Readings)
				}
			}
		}
	})
}

func TestFairFaultsAreNamed(t *testing.T) {
	nan := math.NaN()
	good := hullTable(9, 1)
	with := func(change func(r []Reading)) []Reading {
		r := append([]Reading{}, good...)
		change(r)
		return r
	}
	line := func(n int) (x []float64) {
		for i := range n {
			x = append(x, float64(i))
		}
		return x
	}
	cases := []struct {
		name  string
		run   func() error
		field string
	}{
		{"few", func() error { _, err := Fair(good[:2], FairOptions{}); return err }, "stations"},
		{"none", func() error { _, err := Fair(nil, FairOptions{}); return err }, "stations"},
		{"NaN", func() error { _, err := Fair(with(func(r []Reading) { r[3].Offset = nan }), FairOptions{}); return err }, "reading 3 offset"},
		{"Inf", func() error {
			_, err := Fair(with(func(r []Reading) { r[8].Station = math.Inf(1) }), FairOptions{})
			return err
		}, "reading 8 station"},
		{"unsorted", func() error { _, err := Fair(with(func(r []Reading) { r[4].Station = 0 }), FairOptions{}); return err }, "reading 4 station"},
		{"tolerance", func() error { _, err := Fair(with(func(r []Reading) { r[4].Within = -1 }), FairOptions{}); return err }, "reading 4 tolerance"},
		{"repeats apart", func() error {
			_, err := Fair(with(func(r []Reading) { r[4].Station, r[4].Offset = r[3].Station, r[3].Offset+3 }), FairOptions{})
			return err
		}, "station 3 at 1500 mm"},
		{"method", func() error { _, err := Fair(good, FairOptions{Method: 7}); return err }, "method"},
		{"hold off", func() error { _, err := Fair(good, FairOptions{Holds: []Hold{{-1, HoldSlope, 0}}}); return err }, "hold 0 station"},
		{"hold NaN", func() error { _, err := Fair(good, FairOptions{Holds: []Hold{{0, HoldSlope, nan}}}); return err }, "hold 0 value"},
		{"hold kind", func() error { _, err := Fair(good, FairOptions{Holds: []Hold{{0, 5, 0}}}); return err }, "hold 0 kind"},
		{"holds twice", func() error {
			_, err := Fair(good, FairOptions{Holds: []Hold{{0, HoldSlope, 0}, {0, HoldSlope, 0.5}}})
			return err
		}, "holds"},
		{"straight", func() error { _, err := Fair(good, FairOptions{Straight: []Span{{9, 3}}}); return err }, "straight 0"},
		{"straight through", func() error {
			_, err := Fair(good, FairOptions{Method: ThroughReadings, Straight: []Span{{3, 900}}})
			return err
		}, "straight"},
		{"knuckle", func() error { _, err := Fair(good, FairOptions{Knuckles: []float64{0}}); return err }, "knuckle 0"},
		{"smooth lengths", func() error { _, err := Smooth(line(9), line(8), SmoothOptions{}); return err }, "offsets"},
		{"smooth few", func() error { _, err := Smooth(make([]float64, 9), line(9), SmoothOptions{}); return err }, "stations"},
		{"smooth unsorted", func() error { _, err := Smooth([]float64{0, 1, 3, 2, 4}, line(5), SmoothOptions{}); return err }, "datum 3 station"},
		{"smooth NaN", func() error { _, err := Smooth([]float64{0, 1, 3, nan, 4}, line(5), SmoothOptions{}); return err }, "datum 3 station"},
		{"smooth weight", func() error {
			_, err := Smooth(line(5), line(5), SmoothOptions{Weights: []float64{1, 1, 0, 1, 1}})
			return err
		}, "datum 2 weight"},
		{"smooth stiffness", func() error { _, err := Smooth(line(5), line(5), SmoothOptions{Stiffness: -1}); return err }, "stiffness"},
		{"smooth spans", func() error { _, err := Smooth(line(5), line(5), SmoothOptions{Spans: -1}); return err }, "spans"},
		{"trace lengths", func() error { _, err := FairTrace(line(9), make([]r2.Vec, 8), TraceOptions{}); return err }, "points"},
		{"trace few", func() error { _, err := FairTrace(line(4), make([]r2.Vec, 4), TraceOptions{}); return err }, "points"},
		{"trace corner", func() error {
			_, err := FairTrace(line(9), make([]r2.Vec, 9), TraceOptions{Corners: []float64{nan}})
			return err
		}, "corner 0"},
		{"trace one place", func() error { _, err := FairTrace(make([]float64, 9), make([]r2.Vec, 9), TraceOptions{}); return err }, "distances along"},
		{"offsets outside", func() error { _, err := parabola(t).Offsets([]float64{0, 501}); return err }, "station 1"},
		{"flattest", func() error { _, _, err := parabola(t).Flattest(Span{}, nan); return err }, "joint length"},
		{"arcs", func() error { _, err := parabola(t).Arcs(0); return err }, "tolerance"},
		{"no curve", func() error { _, err := Curve{}.Arcs(1); return err }, "curve"},
		{"no trace", func() error { _, err := Trace{}.Arcs(1); return err }, "trace"},
		{"straight line", func() error { _, err := StraightLine(1, 0, 1, 0); return err }, "to station"},
	}
	for _, c := range cases {
		var e *Error
		if assert.ErrorAs(t, c.run(), &e, c.name) {
			assert.Equal(t, c.field, e.Field, c.name)
		}
	}
	var none Curve
	assert.True(t, math.IsNaN(none.At(0)) && math.IsNaN(none.Slope(0)) && math.IsNaN(none.Girth(0, 1)) && math.IsNaN(none.Curvature(0)))
	assert.Zero(t, none.Energy())
	assert.Empty(t, none.Inflections())
	_, ok := none.LongestFlat(1)
	assert.False(t, ok)
}

// A tolerance of less than the digits of the readings holds the line on them, and is no
// reason to refuse the table.
func TestFairToleranceBelowRounding(t *testing.T) {
	for _, within := range []float64{4.547473508864641e-13, 2e-10, 1e-9} {
		f, err := Fair([]Reading{{20, 1, 2.3283064365386963e-10}, {40, 1, 2.3283064365386963e-10}, {60.75, 8.5, within}, {181.5, 1, 2.3283064365386963e-10}}, FairOptions{})
		require.NoError(t, err)
		assert.InDeltaSlice(t, []float64{0, 0, 0, 0}, f.Residuals, 1e-8)
	}
	// Among wide tolerances too.
	f, err := Fair([]Reading{{20, 1, 1e-8}, {40, 1, 1e-8}, {60.75, 8.5, 1e-12}, {181.5, 1, 1e-8}}, FairOptions{})
	require.NoError(t, err)
	assert.InDelta(t, 0, f.Residuals[2], 1e-9)
}

// Whatever sane table comes, the line stays within its tolerances and moving,
// mirroring and scaling the sheet does so to the line.
func TestFairMovesWithTheSheet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(4, 25).Draw(t, "n")
		r := make([]Reading, n)
		x := 0.0
		for i := range r {
			x += rapid.Float64Range(20, 800).Draw(t, "step")
			r[i] = Reading{x, rapid.Float64Range(-300, 300).Draw(t, "offset"), rapid.Float64Range(0, 5).Draw(t, "within")}
		}
		f, err := Fair(r, FairOptions{})
		require.NoError(t, err)
		for i, v := range r {
			assert.LessOrEqual(t, math.Abs(f.Residuals[i]), v.Within+1e-6)
		}
		g := make([]Reading, n)
		for i, v := range r {
			g[n-1-i] = Reading{(4000 - v.Station) / 25.4, -v.Offset / 25.4, v.Within / 25.4}
		}
		m, err := Fair(g, FairOptions{})
		require.NoError(t, err)
		span := r[n-1].Station - r[0].Station
		if f.Energy()*span*span*span < 1 {
			return // a straight line nearly fits, or many do
		}
		for k := range 20 {
			x := r[0].Station + span*float64(k)/19
			// A ten-millionth of the energy is left, so the line is fixed to the
			// root of that share of the tolerances.
			assert.InDelta(t, -f.At(x), 25.4*m.At((4000-x)/25.4), 0.02+1e-5*math.Abs(f.At(x)), "at %g", x)
		}
	})
}

// Between two breaks a curve is one cubic: its fourth difference at even steps is
// nothing. Across a break it is not, or the break would not be needed. The list is the
// caller's own.
func TestBreaks(t *testing.T) {
	x, y := make([]float64, 400), make([]float64, 400)
	for i := range x {
		x[i] = 10 * float64(i)
		y[i] = sheer(x[i])
	}
	c, err := Smooth(x, y, SmoothOptions{})
	require.NoError(t, err)
	breaks := c.Breaks()
	require.Greater(t, len(breaks), 3)
	from, to := c.Range()
	assert.Equal(t, [2]float64{from, to}, [2]float64{breaks[0], breaks[len(breaks)-1]})
	fourth := func(a, b float64) float64 {
		h := (b - a) / 4
		return math.Abs(c.At(a) - 4*c.At(a+h) + 6*c.At(a+2*h) - 4*c.At(a+3*h) + c.At(b))
	}
	across := 0.0
	for i := range breaks[1:] {
		require.Less(t, breaks[i], breaks[i+1])
		assert.Less(t, fourth(breaks[i], breaks[i+1]), 1e-9)
		if i > 0 {
			across = math.Max(across, fourth(breaks[i-1], breaks[i+1]))
		}
	}
	assert.Greater(t, across, 1e-6)
	breaks[0] = math.NaN()
	assert.Equal(t, from, c.Breaks()[0])
}

// A fair line of 500 stations that is straight but for a dent of two of them, as where a frame was pushed in:
// the cutter's arcs follow it wherever it is, and no point of the line is farther from them than
// the tolerance.
func TestArcsFollowADent(t *testing.T) {
	for at := 30; at < 470; at += 40 {
		r := make([]Reading, 500)
		for i := range r {
			r[i].Station = 24 * float64(i)
		}
		r[at].Offset, r[at+1].Offset = 0.6, 0.6
		f, err := Fair(r, FairOptions{Method: ThroughReadings})
		require.NoError(t, err)
		p, err := f.Arcs(0.05)
		require.NoError(t, err)
		ix := outline.NewIndex(p)
		for x := r[at-4].Station; x <= r[at+5].Station; x += 3 {
			require.LessOrEqual(t, ix.Distance(r2.Vec{X: x, Y: f.At(x)}), 0.05, "dent at station %d", at)
		}
	}
}

// cubicLine is y = x³/10⁷ from -500 to 1300, whose bend is 6x/10⁷: 0 at station 0.
func cubicLine(t *testing.T) Curve {
	t.Helper()
	var r []Reading
	for x := -500.0; x <= 1300; x += 300 {
		r = append(r, Reading{x, x * x * x / 1e7, 0})
	}
	f, err := Fair(r, FairOptions{Method: ThroughReadings, Holds: []Hold{{-500, HoldBend, -3e-4}, {1300, HoldBend, 7.8e-4}}})
	require.NoError(t, err)
	return f.Curve
}

// The curvature of x³/10⁷ is odd and rises to where the slope 3x²/10⁷ tells, so the flattest stretch of
// any length has the inflection in its middle; the stations are 300 apart, 500 short of it.
func TestFlattestIsBalancedAboutAnInflection(t *testing.T) {
	c := cubicLine(t)
	for _, length := range []float64{10, 90, 137, 300, 611.1} {
		span, k, err := c.Flattest(Span{}, length)
		require.NoError(t, err)
		x := length / 2
		m := 3 * x * x / 1e7
		want := 6 * x / 1e7 / math.Pow(1+m*m, 1.5)
		assert.InDelta(t, -x, span.From, 0.01, "length %g", length)
		assert.InDelta(t, want, k, 1e-5*want, "length %g", length)
	}
	// |6x/10⁷| <= 3.3e-5 from -55 to 55; the slope there, 0.001, takes a millionth off.
	flat, ok := c.LongestFlat(3.3e-5)
	require.True(t, ok)
	assert.InDelta(t, -55, flat.From, 0.01)
	assert.InDelta(t, 55, flat.To, 0.01)
}

// What the flattest stretch is said to bend at most is what it bends at most, and no other is flatter:
// looked at on a line of uneven stations at a thousand places, each to a three-hundredth of the stretch.
func TestFlattestByLooking(t *testing.T) {
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	rnd := rand.New(rand.NewPCG(seed, 3))
	for range 30 {
		var r []Reading
		for x, i := 0.0, 0; i < 9; i++ {
			r = append(r, Reading{x, 4 * rnd.NormFloat64(), 0})
			x += 60 + 400*rnd.Float64()
		}
		f, err := Fair(r, FairOptions{Method: ThroughReadings})
		require.NoError(t, err)
		from, to := f.Range()
		length := (to - from) * (0.05 + 0.4*rnd.Float64())
		most := func(a float64) (k float64) {
			for i := range 301 {
				k = max(k, math.Abs(f.Curvature(a+length*float64(i)/300)))
			}
			return k
		}
		span, k, err := f.Flattest(Span{}, length)
		require.NoError(t, err)
		require.InDelta(t, length, span.Length(), 1e-9)
		require.InEpsilon(t, k, most(span.From), 0.03)
		for i := range 1000 {
			require.GreaterOrEqual(t, most(from+(to-from-length)*float64(i)/1000), 0.97*k)
		}
	}
}

// Two straight runs that meet at a knuckle are flat everywhere but there: no joint is laid across it.
func TestNoJointAcrossAKnuckle(t *testing.T) {
	f, err := Fair([]Reading{{0, 0, 1}, {100, 0, 1}, {300, 0, 1}, {500, 100, 1}, {700, 200, 1}, {800, 250, 1}, {900, 300, 1}}, FairOptions{Method: ThroughReadings, Knuckles: []float64{300}})
	require.NoError(t, err)
	span, _, err := f.Flattest(Span{200, 900}, 150)
	require.NoError(t, err)
	assert.GreaterOrEqual(t, span.From, 300.0)
	flat, ok := f.LongestFlat(1e-9)
	require.True(t, ok)
	assert.Equal(t, Span{300, 900}, flat)
	var e *Error
	_, _, err = f.Flattest(Span{}, 601)
	require.ErrorAs(t, err, &e)
	assert.Contains(t, e.Rule, "knuckles")
}
