package flat_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/survey"
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

// A box of 200 by 100 with readings of which one set is taken close together. By
// hand: the fwd face x = 200 is read at (200, 0, 0), (200, 100, 0) and, 50 off the
// web, (200, 50, 50). The last one wrong by 0.5 mm tilts the face about the line
// z = 0 by atan(0.5/50) = 0.573°; the mold line on the marking face stays. The
// first one wrong by 0.5 moves the face at y = 0, z = 0 by 0.5 mm.
func TestDoubts(t *testing.T) {
	s := flat.Surroundings{
		Web: survey.Plane{Normal: r3.Vec{Z: 1}}, MarkingSide: r3.Vec{Z: 9}, ReadingError: 0.5,
		Faces: []flat.Face{
			{Name: "keel", Plane: survey.Plane{Normal: r3.Vec{Y: -1}}, Flange: &flat.Flange{Height: 20, Turn: flat.Down}},
			read(t, "fwd", r3.Vec{X: 200}, r3.Vec{X: 200, Y: 100}, r3.Vec{X: 200, Y: 50, Z: 50}),
			{Name: "skin", Plane: survey.Plane{Point: r3.Vec{Y: 100}, Normal: r3.Vec{Y: 1}}, Flange: &flat.Flange{Height: 20, Turn: flat.Down}},
			{Name: "aft", Plane: survey.Plane{Normal: r3.Vec{X: -1}}, Flange: &flat.Flange{Height: 20, Turn: flat.Down}},
		},
	}
	s.Faces[1].Flange.Turn = flat.Down // mold lines on the marking face, z = 0
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
