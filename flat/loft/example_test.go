package loft_test

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"github.com/hangarflat/hangarflat/flat/loft"
	"github.com/hangarflat/hangarflat/material/measure"
)

func ExampleReadTable() {
	table, err := loft.ReadTable(strings.NewReader(`station [in],chine [in],within [in]
0, 12 1/2, 1/32
12, 13 1/4, 1/32
24, 13 3/4, 1/32
`), 0)
	if err != nil {
		fmt.Println(err)
		return
	}
	line, _ := table.Line("chine")
	fmt.Printf("%.2f mm at station %.1f\n", line.Readings[1].Offset, line.Readings[1].Station)
	_, err = loft.ReadTable(strings.NewReader("station [in],chine\n0,12\n"), 0)
	fmt.Println(err)
	// Output:
	// 336.55 mm at station 304.8
	// loft: line 2 column chine: 12: a bare number has no unit: write "12 mm" or "12 in"
}

// The natural cubic through four even stations; in the middle its height is the mean
// of its neighbours less h²/16·(M1+M2), with M1 = -20/h² and M2 = -10/h² from the
// second differences -15 and -10: 137.5 + 1.875.
func ExampleCurve_ChalkLine() {
	readings := []loft.Reading{{Station: 0, Offset: 100}, {Station: 500, Offset: 130}, {Station: 1000, Offset: 145}, {Station: 1500, Offset: 150}}
	f, err := loft.Fair(readings, loft.FairOptions{Method: loft.ThroughReadings})
	if err != nil {
		fmt.Println(err)
		return
	}
	marks, err := f.ChalkLine(750)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, m := range marks {
		height, _ := measure.FractionText(m.Height)
		fmt.Printf("along %5.0f mm  height %5.1f mm = %s\n", m.Along, m.Height, height)
	}
	// Output:
	// along     0 mm  height 100.0 mm = 3 15/16 in
	// along   750 mm  height 139.4 mm = 5 31/64 in
	// along  1500 mm  height 150.0 mm = 5 29/32 in
}

// A shoulder point between two tangents gives the conic; here the shoulder of a
// quarter circle.
func ExampleConicThrough() {
	s := 100 / math.Sqrt2
	c, err := loft.ConicThrough(r2.Vec{X: 100}, r2.Vec{X: 100, Y: 100}, r2.Vec{Y: 100}, r2.Vec{X: s, Y: s})
	if err != nil {
		fmt.Println(err)
		return
	}
	arcs, err := c.Arcs(0.01)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("rho %.4f, %.1f mm long\n", c.Rho, arcs.Length())
	// Output:
	// rho 0.4142, 157.1 mm long
}

func ExampleSmooth() {
	// A thousand points of a straight run, a millimetre of scatter up and down.
	var x, y []float64
	for i := range 1000 {
		x = append(x, float64(i))
		y = append(y, 200+0.1*float64(i)+float64(i%2*2-1))
	}
	s, err := loft.Smooth(x, y, loft.SmoothOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f mm at the middle, spread %.1f mm\n", s.At(499.5), s.Spread)
	// Output:
	// 249.95 mm at the middle, spread 1.0 mm
}

// A quarter of a circle has rho √2 - 1: its shoulder lies so far from the middle of the
// chord toward the corner of the tangents.
func ExampleRhoOfCircle() {
	rho, err := loft.RhoOfCircle(90 * measure.Degree)
	fmt.Printf("%.5f %v\n", rho, err)
	// Output: 0.41421 <nil>
}

// The straight top of a jig, 300 along and 400 up: a slope of 4/3 and, by Pythagoras, 500 mm long.
func ExampleStraightLine() {
	top, err := loft.StraightLine(0, 50, 300, 450)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("at 150: %.1f mm, slope %.4f, curvature %.1f, girth %.1f mm\n", top.At(150), top.Slope(150), top.Curvature(150), top.Girth(0, 300))
	_, err = top.Offsets([]float64{100, 310})
	fmt.Println(err)
	// Output:
	// at 150: 250.0 mm, slope 1.3333, curvature 0.0, girth 500.0 mm
	// loft: station 1: 310 mm: must lie on the line, between 0 mm and 300 mm
}
