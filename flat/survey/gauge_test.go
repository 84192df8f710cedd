package survey_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"github.com/hangarflat/hangarflat/flat/survey"
	"github.com/hangarflat/hangarflat/material/measure"
)

// floor is a base line that starts at x = 100 and runs aft on a level floor.
var floorLine = survey.BaseLine{Start: r3.Vec{X: 100}, Along: r3.Vec{X: 1}, Up: r3.Vec{Z: 1}}

// A face 200 along the line, leaning 10° away: it passes through (300, y, 0) and,
// 100 up, through (300 + 100·tan 10°, y, 100). Skewed by 30° counter-clockwise its
// foot runs along (-sin 30°, cos 30°).
func TestLeaning(t *testing.T) {
	p, err := survey.Leaning{Base: floorLine, Distance: 200, Lean: 10 * measure.Degree}.Plane()
	require.NoError(t, err)
	tan10 := math.Tan(10 * math.Pi / 180)
	for _, q := range []r3.Vec{{X: 300}, {X: 300, Y: 70}, {X: 300 + 100*tan10, Y: -5, Z: 100}} {
		assert.InDelta(t, 0, p.Distance(q), 1e-9)
	}
	assert.Positive(t, p.Distance(r3.Vec{X: 400}), "the normal points farther along")
	p, err = survey.Leaning{Base: floorLine, Distance: 200, Height: 40, Skew: 30 * measure.Degree}.Plane()
	require.NoError(t, err)
	for _, q := range []r3.Vec{{X: 300}, {X: 300 - 50, Y: 50 * math.Sqrt(3)}, {X: 300, Z: 100}} {
		assert.InDelta(t, 0, p.Distance(q), 1e-9)
	}
}

// Read off one and the same face, angle and distance, two heights and three points
// lay the same plane, whatever the base, the lean and the skew.
func TestMeasurementsAgree(t *testing.T) {
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	r := rand.New(rand.NewPCG(seed, 1))
	span := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	for range 2000 {
		q := r3.NewRotation(span(0, 6), r3.Vec{X: span(-1, 1), Y: span(-1, 1), Z: span(0.1, 1)})
		base := survey.BaseLine{Start: r3.Vec{X: span(-1e4, 1e4), Y: span(-1e3, 1e3), Z: span(-1e3, 1e3)}, Along: q.Rotate(r3.Vec{X: 1}), Up: q.Rotate(r3.Vec{Z: 1})}
		l := survey.Leaning{
			Base: base, Distance: span(-500, 500), Height: span(0, 300),
			Lean: measure.Angle(span(-60, 60)) * measure.Degree, Skew: measure.Angle(span(-60, 60)) * measure.Degree,
		}
		p, err := l.Plane()
		require.NoError(t, err)
		// Where a rule along the line, at height h, meets the face.
		reads := func(h float64) float64 {
			from := r3.Add(base.Start, r3.Scale(h, base.Up))
			return -p.Distance(from) / r3.Dot(p.Normal, base.Along)
		}
		two, err := survey.TwoHeights{Base: base, LowDistance: reads(10), LowHeight: 10, HighDistance: reads(210), HighHeight: 210, Skew: l.Skew}.Plane()
		require.NoError(t, err)
		require.InDelta(t, 1, r3.Dot(p.Normal, two.Normal), 1e-9)
		require.InDelta(t, 0, p.Distance(two.Point), 1e-6)
		require.InDelta(t, l.Lean.Radians(), -math.Asin(r3.Dot(p.Normal, base.Up)), 1e-9, "the lean is off the perpendicular")
	}
}

// A level tells a plane by how far it rises: turned through any attitude, with the
// datum read at that attitude, it finds the face in the aeroplane's own axes. The
// readings are made from the plane by the definition alone: the line of the face in
// the plane of X and Z is square to the normal, and the level reads the rise of
// that line.
func TestLevelled(t *testing.T) {
	p, err := survey.Levelled{Along: 10 * measure.Degree, Athwart: -5 * measure.Degree}.Plane()
	require.NoError(t, err)
	assert.InDelta(t, 0, p.Distance(r3.Vec{X: 100, Z: 100 * math.Tan(10*math.Pi/180)}), 1e-9)
	assert.InDelta(t, 0, p.Distance(r3.Vec{Y: 100, Z: -100 * math.Tan(5*math.Pi/180)}), 1e-9)

	// A frame that stands plumb, the level upright against it and then level across.
	p, err = survey.Levelled{Point: r3.Vec{X: 400}, Along: 90 * measure.Degree}.Plane()
	require.NoError(t, err)
	assert.InDelta(t, 1, math.Abs(p.Normal.X), 1e-9)

	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	r := rand.New(rand.NewPCG(seed, 1))
	span := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	for range 2000 {
		up := r3.Unit(r3.Vec{X: span(-0.3, 0.3), Y: span(-0.3, 0.3), Z: 1})
		normal := r3.Unit(r3.Vec{X: span(-1, 1), Y: span(-1, 1), Z: span(0.6, 1)})
		reads := func(axis r3.Vec) measure.Angle {
			line := r3.Unit(r3.Sub(r3.Scale(normal.Z, axis), r3.Scale(r3.Dot(axis, normal), r3.Vec{Z: 1})))
			return measure.Angle(math.Asin(r3.Dot(line, up)))
		}
		l := survey.Levelled{
			Point: r3.Vec{X: 10, Y: 20, Z: 30},
			Along: reads(r3.Vec{X: 1}), Athwart: reads(r3.Vec{Y: 1}),
			DatumAlong: measure.Angle(math.Asin(up.X)), DatumAthwart: measure.Angle(math.Asin(up.Y)),
		}
		p, err := l.Plane()
		require.NoError(t, err)
		require.InDelta(t, 0, r3.Norm(r3.Sub(normal, p.Normal)), 1e-9)
	}
}

// Each reading wrong by its own error moves the plane by what that error is: 0.5 mm
// of distance by 0.5·cos(lean), a degree of lean turns it by a degree.
func TestMisreadings(t *testing.T) {
	by := survey.ReadingErrors{Length: 0.5, Angle: measure.Degree}
	l := survey.Leaning{Base: floorLine, Distance: 200, Lean: 10 * measure.Degree}
	right, err := l.Plane()
	require.NoError(t, err)
	list, err := l.Misread(by)
	require.NoError(t, err)
	require.Len(t, list, 4)
	sin, cos := math.Sincos(10 * math.Pi / 180)
	for i, want := range []struct {
		name        string
		moved, turn float64
	}{{"distance", 0.5 * cos, 0}, {"height", -0.5 * sin, 0}, {"lean", 0, 1}, {"skew", 0, math.Acos(cos*cos*math.Cos(math.Pi/180)+sin*sin) * 180 / math.Pi}} {
		assert.Equal(t, want.name, list[i].Reading)
		assert.InDelta(t, want.moved, right.Distance(list[i].Plane.Point), 1e-9, want.name)
		assert.InDelta(t, want.turn, survey.Dihedral(right, list[i].Plane).Degrees(), 1e-9, want.name)
	}
	list, err = survey.Levelled{Along: 90 * measure.Degree}.Misread(by)
	require.NoError(t, err, "an upright level is misread the other way")
	require.Len(t, list, 3)
	two := survey.TwoHeights{Base: floorLine, LowDistance: 200, HighDistance: 210, HighHeight: 100}
	list, err = two.Misread(survey.ReadingErrors{Length: 0.5})
	require.NoError(t, err)
	require.Len(t, list, 4, "the skew is taken as exact")
}

// The lines the level was held along run at a from X and at b from Y up to Z. Square to both is
// (cos a, 0, sin a) x (0, cos b, sin b) = (-sin a·cos b, -cos a·sin b, cos a·cos b). By the datum,
// -10° along, a reading of 85° is 95° from X: past upright there, and its normal points down.
func TestNormalOfALevelledFace(t *testing.T) {
	const deg = measure.Degree
	sin, cos := math.Sincos(95 * math.Pi / 180)
	for l, want := range map[survey.Levelled]r3.Vec{
		{}:                                       {Z: 1},
		{Along: 90 * deg}:                        {X: -1},
		{Along: -90 * deg}:                       {X: 1},
		{Athwart: 90 * deg}:                      {Y: -1},
		{Athwart: -90 * deg}:                     {Y: 1},
		{Along: 85 * deg, DatumAlong: -10 * deg}: {X: -sin, Z: cos},
		{Along: 60 * deg, Athwart: -60 * deg}:    r3.Unit(r3.Vec{X: -math.Sqrt(3), Y: math.Sqrt(3), Z: 1}),
	} {
		p, err := l.Plane()
		require.NoError(t, err)
		assert.InDelta(t, 0, r3.Norm(r3.Sub(want, p.Normal)), 1e-9, "%+v", l)
	}
}

// levelReads is what a level shows of a face on an aeroplane that a datum stands as said in: by the
// definition, as in TestLevelled.
func levelReads(face survey.Plane, datumAlong, datumAthwart measure.Angle) (along, athwart float64) {
	up := r3.Vec{X: math.Sin(float64(datumAlong)), Y: math.Sin(float64(datumAthwart))}
	up.Z = math.Sqrt(1 - up.X*up.X - up.Y*up.Y)
	of := func(axis r3.Vec) float64 {
		n := face.Normal
		return math.Asin(r3.Dot(up, r3.Unit(r3.Sub(r3.Scale(n.Z, axis), r3.Scale(r3.Dot(axis, n), r3.Vec{Z: 1}))))) * 180 / math.Pi
	}
	return of(r3.Vec{X: 1}), of(r3.Vec{Y: 1})
}

// Where the datum was read, it may be read wrong too: the face is then where the level would
// have shown the same of it on the datum misread.
func TestDatumMisread(t *testing.T) {
	const deg = measure.Degree
	by := survey.ReadingErrors{Length: 0.5, Angle: deg}
	names := func(list []survey.Misreading) (out []string) {
		for _, m := range list {
			out = append(out, m.Reading)
		}
		return out
	}
	list, err := survey.Levelled{Along: 10 * deg}.Misread(by)
	require.NoError(t, err)
	assert.Equal(t, []string{"point", "along", "athwart"}, names(list), "the aeroplane stands level")

	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	r := rand.New(rand.NewPCG(seed, 1))
	span := func(most float64) measure.Angle { return measure.Angle(most*(2*r.Float64()-1)) * deg }
	for range 1000 {
		l := survey.Levelled{Along: span(40), Athwart: span(40), DatumAlong: span(20), DatumAthwart: span(20)}
		list, err := l.Misread(by)
		require.NoError(t, err)
		require.Equal(t, []string{"point", "along", "athwart", "datum along", "datum athwart"}, names(list))
		toward0 := func(a measure.Angle) measure.Angle {
			if a < 0 {
				return a + deg
			}
			return a - deg
		}
		along, athwart := levelReads(list[3].Plane, toward0(l.DatumAlong), l.DatumAthwart)
		require.InDelta(t, l.Along.Degrees(), along, 1e-9)
		require.InDelta(t, l.Athwart.Degrees(), athwart, 1e-9)
		along, athwart = levelReads(list[4].Plane, l.DatumAlong, toward0(l.DatumAthwart))
		require.InDelta(t, l.Along.Degrees(), along, 1e-9)
		require.InDelta(t, l.Athwart.Degrees(), athwart, 1e-9)
	}

	// An upright level along tells that the datum athwart is 0. Were it 1°, the level along could
	// show 89° at most. The same across.
	list, err = survey.Levelled{Along: 90 * deg, DatumAlong: 2 * deg}.Misread(by)
	require.NoError(t, err)
	along, athwart := levelReads(list[4].Plane, 2*deg, -deg)
	assert.InDelta(t, 89, along, 1e-5) // the arc sine loses half its digits there
	assert.InDelta(t, 0, athwart, 1e-9)
	list, err = survey.Levelled{Athwart: -90 * deg, DatumAthwart: 2 * deg}.Misread(by)
	require.NoError(t, err)
	along, athwart = levelReads(list[3].Plane, -deg, 2*deg)
	assert.InDelta(t, 0, along, 1e-9)
	assert.InDelta(t, -89, athwart, 1e-5)
}

// What is at the end of its range is misread the other way: half a degree off a lean of 84.8° or
// a skew of 79.8° is half a degree less, a place 1 km off is nearer.
func TestMisreadAtTheEndOfTheRange(t *testing.T) {
	by := survey.ReadingErrors{Length: 0.5, Angle: measure.Degree / 2}
	for _, sign := range []float64{1, -1} {
		l := survey.Leaning{Base: survey.BaseLine{Along: r3.Vec{X: 1}, Up: r3.Vec{Z: 1}}, Distance: sign * 1e6, Height: sign * 1e6,
			Lean: measure.Angle(sign*84.8) * measure.Degree, Skew: measure.Angle(sign*79.8) * measure.Degree}
		list, err := l.Misread(by)
		require.NoError(t, err)
		require.Len(t, list, 4)
		assert.InDelta(t, sign*(1e6-0.5), list[0].Plane.Point.X, 1e-9)
		assert.InDelta(t, sign*(1e6-0.5), list[1].Plane.Point.Z, 1e-9)
		lean := -math.Asin(list[2].Plane.Normal.Z) * 180 / math.Pi
		assert.InDelta(t, sign*84.3, lean, 1e-9)
		skew := math.Atan2(list[3].Plane.Normal.Y, list[3].Plane.Normal.X) * 180 / math.Pi // ahead, seen from above
		assert.InDelta(t, sign*79.3, skew, 1e-9)
		two, err := survey.TwoHeights{Base: l.Base, HighHeight: 100, Skew: l.Skew}.Misread(by)
		require.NoError(t, err)
		skew = math.Atan2(two[4].Plane.Normal.Y, two[4].Plane.Normal.X) * 180 / math.Pi
		assert.InDelta(t, sign*79.3, skew, 1e-9)
	}
}

func TestMeasurementsRefuse(t *testing.T) {
	nan := math.NaN()
	tilted := floorLine
	tilted.Up = r3.Vec{X: 0.6, Z: 0.8}
	short := floorLine
	short.Along = r3.Vec{X: 0.5}
	level := func(l survey.Levelled) func() (survey.Plane, error) { return l.Plane }
	leaning := func(l survey.Leaning) func() (survey.Plane, error) { return l.Plane }
	two := func(l survey.TwoHeights) func() (survey.Plane, error) { return l.Plane }
	ran := 0
	for field, lay := range map[string]func() (survey.Plane, error){
		"distance":      leaning(survey.Leaning{Base: floorLine, Distance: nan}),
		"height":        leaning(survey.Leaning{Base: floorLine, Height: math.Inf(1)}),
		"lean":          leaning(survey.Leaning{Base: floorLine, Lean: 86 * measure.Degree}),
		"skew":          leaning(survey.Leaning{Base: floorLine, Skew: measure.Angle(nan)}),
		"up":            leaning(survey.Leaning{Base: tilted}),
		"along":         leaning(survey.Leaning{Base: short}),
		"high height":   two(survey.TwoHeights{Base: floorLine, HighHeight: 0.5}),
		"low distance":  two(survey.TwoHeights{Base: floorLine, LowDistance: nan, HighHeight: 9}),
		"athwart":       level(survey.Levelled{Athwart: 91 * measure.Degree}),
		"datum along":   level(survey.Levelled{DatumAlong: 50 * measure.Degree}),
		"level":         level(survey.Levelled{Along: 90 * measure.Degree, Athwart: -89.5 * measure.Degree}),
		"datum athwart": level(survey.Levelled{DatumAthwart: measure.Angle(nan)}),
	} {
		_, err := lay()
		var fault *survey.Error
		if assert.True(t, errors.As(err, &fault), field) {
			assert.Equal(t, field, fault.Field)
			assert.NotEmpty(t, fault.Rule)
		}
		ran++
	}
	assert.Equal(t, 12, ran)
	_, err := survey.Leaning{}.Misread(survey.ReadingErrors{Length: 1})
	assert.Error(t, err)
}

// A frame stands 14 in along the keel's deck and leans 3 degrees aft: where is it
// 8 in up? 14 + 8·tan 3° = 14.42 in.
func ExampleLeaning() {
	deck := survey.BaseLine{Along: r3.Vec{X: 1}, Up: r3.Vec{Z: 1}}
	frame, err := survey.Leaning{Base: deck, Distance: 14 * measure.Inch, Lean: 3 * measure.Degree}.Plane()
	if err != nil {
		fmt.Println(err)
		return
	}
	up := r3.Vec{Z: 8 * measure.Inch}
	fmt.Println(measure.InchText(-frame.Distance(up)/frame.Normal.X, 2))
	// Output:
	// 14.42 in
}

// The boat sits nose high by 2 degrees on its cradle, and the level shows it on the
// datum and on the floor alike: the floor lies level in the boat.
func ExampleLevelled() {
	floor, err := survey.Levelled{Point: r3.Vec{Z: 50}, Along: -2 * measure.Degree, DatumAlong: -2 * measure.Degree}.Plane()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f %.3f %.3f\n", math.Abs(floor.Normal.X), math.Abs(floor.Normal.Y), floor.Normal.Z)
	// Output:
	// 0.000 0.000 1.000
}
