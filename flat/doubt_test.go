package flat_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/survey"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// read lays a face through three readings.
func read(t *testing.T, name string, points ...r3.Vec) flat.Face {
	p, err := survey.ThreePoints(points[0], points[1], points[2])
	require.NoError(t, err)
	return flat.Face{Name: name, Plane: p, Readings: points, Flange: &flat.Flange{Height: 20}}
}

// boxed is a web of 200 by 100 between a keel, a skin and two faces, its mold lines on the marking face, z = 0.
func boxed(fwd, aft flat.Face) flat.Surroundings {
	down := func() *flat.Flange { return &flat.Flange{Height: 20, Turn: flat.Down} }
	fwd.Flange, aft.Flange = down(), down()
	return flat.Surroundings{
		Web: survey.Plane{Normal: r3.Vec{Z: 1}}, MarkingSide: r3.Vec{Z: 9}, ReadingError: 0.5,
		Faces: []flat.Face{
			{Name: "keel", Plane: survey.Plane{Normal: r3.Vec{Y: -1}}, Flange: down()},
			fwd,
			{Name: "skin", Plane: survey.Plane{Point: r3.Vec{Y: 100}, Normal: r3.Vec{Y: 1}}, Flange: down()},
			aft,
		},
	}
}

// A box of 200 by 100 with readings of which one set is taken close together. By
// hand: the fwd face x = 200 is read at (200, 0, 0), (200, 100, 0) and, 50 off the
// web, (200, 50, 50). The last one wrong by 0.5 mm tilts the face about the line
// z = 0 by atan(0.5/50) = 0.573°; the mold line on the marking face stays. The
// first one wrong by 0.5 moves the face at y = 0, z = 0 by 0.5 mm.
func TestDoubts(t *testing.T) {
	s := boxed(read(t, "fwd", r3.Vec{X: 200}, r3.Vec{X: 200, Y: 100}, r3.Vec{X: 200, Y: 50, Z: 50}),
		flat.Face{Name: "aft", Plane: survey.Plane{Normal: r3.Vec{X: -1}}})
	list, total, err := flat.Doubts(stock(), s)
	require.NoError(t, err)
	require.Len(t, list, 3)
	by := map[string]flat.Doubt{}
	for _, d := range list {
		by[d.Reading] = d
	}
	assert.InDelta(t, 0.5, by[`face "fwd", point 1`].Shift, 1e-9)
	assert.InDelta(t, 0.5, by[`face "fwd", point 2`].Shift, 1e-9)
	assert.InDelta(t, 0, by[`face "fwd", point 3`].Shift, 1e-9)
	assert.InDelta(t, math.Atan(0.01)*180/math.Pi, by[`face "fwd", point 3`].Turn.Degrees(), 1e-9)
	assert.Equal(t, `face "fwd", point 3`, list[2].Reading, "the worst first")
	assert.InDelta(t, 0.5, total.Shift, 1e-9, "each reading moves its own corner")

	s.ReadingError = math.NaN()
	_, _, err = flat.Doubts(stock(), s)
	var fault *flat.Error
	require.ErrorAs(t, err, &fault)
	assert.Equal(t, "surroundings.reading_error", fault.Path)
	s.ReadingError, s.AngleError = 0.5, -1
	_, _, err = flat.Doubts(stock(), s)
	require.ErrorAs(t, err, &fault)
	assert.Equal(t, "surroundings.angle_error", fault.Path)
	s.ReadingError, s.AngleError = 0, 0
	_, _, err = flat.Doubts(stock(), s)
	require.Error(t, err)
}

// gauged is a box of 200 by 100 whose fwd face was measured from the keel's deck by
// angle and distance, and whose skin by spirit level.
func gauged(t *testing.T) flat.Surroundings {
	// The web lies in y = 0; its marking face looks to -y. The keel is z = 0.
	fwd := survey.Leaning{Base: survey.BaseLine{Along: r3.Vec{X: 1}, Up: r3.Vec{Z: 1}}, Distance: 200, Lean: 3 * measure.Degree}
	skin := survey.Levelled{Point: r3.Vec{X: 100, Z: 100}, Along: 2 * measure.Degree}
	at, err := fwd.Plane()
	require.NoError(t, err)
	above, err := skin.Plane()
	require.NoError(t, err)
	flange := &flat.Flange{Height: 20}
	return flat.Surroundings{
		Web: survey.Plane{Normal: r3.Vec{Y: 1}}, MarkingSide: r3.Vec{Y: -50},
		ReadingError: 0.5, AngleError: measure.Degree / 2,
		Faces: []flat.Face{
			{Name: "keel", Plane: survey.Plane{Normal: r3.Vec{Z: 1}}, Flange: flange},
			{Name: "fwd", Plane: at, Measured: fwd, Flange: flange},
			{Name: "skin", Plane: above, Measured: skin, Flange: flange},
			{Name: "aft", Plane: survey.Plane{Normal: r3.Vec{X: 1}}, Flange: flange},
		},
	}
}

// The corners by hand. fwd is x = 200 + z·tan 3°, skin z = 100 + (x - 100)·tan 2°.
// Where they meet, z·(1 - tan 3°·tan 2°) = 100 + 100·tan 2°. A distance wrong by
// 0.5 moves the foot of fwd, at the keel, by 0.5 along x and its head, along the
// skin, by 0.5/(1 - tan 3°·tan 2°) = 0.50092 along x, /cos 2° along the skin. A lean
// wrong by 0.5° moves the head by what it then is at; the foot stays.
func TestDoubtsOfAnglesAndLevels(t *testing.T) {
	s := gauged(t)
	p, err := flat.Between(stock(), s)
	require.NoError(t, err)
	b, err := flat.Develop(p)
	require.NoError(t, err)
	assert.Less(t, b.Proof.Largest(), 1e-6)

	list, total, err := flat.Doubts(stock(), s)
	require.NoError(t, err)
	by := map[string]flat.Doubt{}
	for _, d := range list {
		by[d.Reading] = d
	}
	require.Len(t, by, 7, "four of the angle and distance, three of the level")
	tan := func(deg float64) float64 { return math.Tan(deg * math.Pi / 180) }
	head := func(distance, lean, slope, height float64) (x, z float64) {
		// z = height + (x - 100)·slope, x = distance + z·lean
		z = (height + (distance-100)*slope) / (1 - lean*slope)
		return distance + z*lean, z
	}
	x, z := head(200, tan(3), tan(2), 100)
	for name, wrong := range map[string][4]float64{
		`face "fwd", distance`: {200.5, tan(3), tan(2), 100},
		`face "fwd", lean`:     {200, tan(3.5), tan(2), 100},
		`face "skin", along`:   {200, tan(3), tan(1.5), 100},
	} {
		x2, z2 := head(wrong[0], wrong[1], wrong[2], wrong[3])
		assert.InDelta(t, math.Hypot(x2-x, z2-z), by[name].Shift, 1e-6, name)
	}
	// fwd leans within the plane of the web, so its bend stays square; a skew takes its
	// normal out of the web's plane by cos 3°·sin 0.5°.
	assert.InDelta(t, 0, by[`face "fwd", lean`].Turn.Degrees(), 1e-9)
	assert.InDelta(t, math.Asin(math.Cos(3*math.Pi/180)*math.Sin(0.5*math.Pi/180)), by[`face "fwd", skew`].Turn.Radians(), 1e-9)
	assert.Greater(t, total.Shift, list[0].Shift)
	assert.Equal(t, `face "skin", along`, list[0].Reading)

	s.Faces[1].Plane.Point.X++
	_, err = flat.Between(stock(), s)
	var fault *flat.Error
	require.ErrorAs(t, err, &fault)
	assert.Equal(t, "surroundings.faces[1].measured", fault.Path)
}

func ExampleDoubts() {
	readings := []r3.Vec{{X: 200}, {X: 200, Y: 20}, {X: 200, Y: 10, Z: 40}} // close together
	fwd, err := survey.ThreePoints(readings[0], readings[1], readings[2])
	if err != nil {
		fmt.Println(err)
		return
	}
	flange := &flat.Flange{Height: 20, Turn: flat.Down}
	list, total, err := flat.Doubts(stock(), flat.Surroundings{
		Web: survey.Plane{Normal: r3.Vec{Z: 1}}, MarkingSide: r3.Vec{Z: 9}, ReadingError: 0.5,
		Faces: []flat.Face{
			{Name: "keel", Plane: survey.Plane{Normal: r3.Vec{Y: -1}}, Flange: flange},
			{Name: "fwd", Plane: fwd, Readings: readings, Flange: flange},
			{Name: "skin", Plane: survey.Plane{Point: r3.Vec{Y: 100}, Normal: r3.Vec{Y: 1}}, Flange: flange},
			{Name: "aft", Plane: survey.Plane{Normal: r3.Vec{X: -1}}, Flange: flange},
		},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, d := range append(list, total) {
		fmt.Printf("%s: corner %.2f mm, bend %s\n", d.Reading, d.Shift, d.Turn)
	}
	// Output:
	// face "fwd", point 2: corner 2.50 mm, bend 0.36°
	// face "fwd", point 1: corner 2.00 mm, bend 0.36°
	// face "fwd", point 3: corner 0.00 mm, bend 0.72°
	// all readings: corner 3.20 mm, bend 0.88°
}

// Of readings that move the corners alike, the one that turns a bend more comes first: through a plane square to the web
// the third reading, off the web, moves no corner, and of two such the one read nearer the web turns its bend more.
func TestDoubtsThatMoveAlikeGoByTheTurn(t *testing.T) {
	s := boxed(read(t, "fwd", r3.Vec{X: 200}, r3.Vec{X: 200, Y: 100}, r3.Vec{X: 200, Y: 50, Z: 80}),
		read(t, "aft", r3.Vec{}, r3.Vec{Y: 100}, r3.Vec{Y: 50, Z: 40}))
	list, _, err := flat.Doubts(stock(), s)
	require.NoError(t, err)
	require.Len(t, list, 6)
	for i := 1; i < 4; i++ { // the four that move a corner by their own error
		assert.InDelta(t, 0.5, list[i].Shift, 1e-9)
		assert.GreaterOrEqual(t, list[i-1].Turn, list[i].Turn-1e-15)
	}
	assert.Greater(t, list[0].Turn, list[3].Turn)
	assert.Equal(t, `face "aft", point 3`, list[4].Reading, "atan(0.5/40)")
	assert.Equal(t, `face "fwd", point 3`, list[5].Reading, "atan(0.5/80)")
}

// A reading is named by the face it was taken on, the first as any other.
func TestReadingsOfTheFirstFaceAreNamed(t *testing.T) {
	s := vaulted(flat.Up)
	s.Faces[2].Curve.Within = 1
	s.Faces[0].Readings = []r3.Vec{{}, {X: 100}, {Z: 50}}
	s.ReadingError = 0.1
	list, _, err := flat.Doubts(stock(), s)
	require.NoError(t, err)
	keel := 0
	for _, d := range list {
		assert.False(t, strings.HasPrefix(d.Reading, "web"), d.Reading)
		if strings.HasPrefix(d.Reading, `face "keel", point `) {
			keel++
		}
	}
	assert.Equal(t, 3, keel)
	for k := range s.Faces[2].Curve.Points {
		name := fmt.Sprintf(`face "skin", point %d`, k+1)
		assert.True(t, slices.ContainsFunc(list, func(d flat.Doubt) bool { return d.Reading == name }), name)
	}
	// Points read exactly are no doubt, whatever the angles.
	s.ReadingError, s.AngleError = 0, degrees(1)
	list, _, err = flat.Doubts(stock(), s)
	require.NoError(t, err)
	assert.Empty(t, list)
	s.AngleError = degrees(10.1)
	_, _, err = flat.Doubts(stock(), s)
	assert.ErrorContains(t, err, "must be 0° (exact) to 10°")
}

// Three points of which the last, off by its error, comes into line with the others lay no plane then; the fault is that
// of the face, or of the web.
func TestReadingsThatLayNoPlaneWhenOff(t *testing.T) {
	s := vaulted(flat.Up)
	s.ReadingError = 0.5
	s.Faces[0].Readings = []r3.Vec{{}, {X: 50}, {X: 100, Y: 0.5}} // the keel's normal is -y
	_, _, err := flat.Doubts(stock(), s)
	var fault *flat.Error
	require.ErrorAs(t, err, &fault)
	assert.Equal(t, "surroundings.faces[0]", fault.Path)
	s.Faces[0].Readings = nil
	s.WebReadings = []r3.Vec{{}, {X: 50}, {X: 100, Z: -0.5}}
	_, _, err = flat.Doubts(stock(), s)
	require.ErrorAs(t, err, &fault)
	assert.Equal(t, "surroundings.web", fault.Path)
}
