package survey_test

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/flat/survey"
	"github.com/hangarflat/hangarflat/material/measure"
)

// The angle a keel-bay flange must turn, from readings on a frame and on the floor
// it stands against, and how far to trust it. The floor rises 1 in 10, 5.7°. Each
// plane's readings stand about 150 mm from their middle, four of them: 0.2/300 rad
// each, 0.054° together.
func ExampleFitDihedral() {
	frame := []r3.Vec{{X: 0.2}, {X: 0.1, Y: 200}, {X: -0.1, Y: 100, Z: 150}, {X: 0.1, Y: 200, Z: 300}, {X: -0.2, Z: 300}}
	floor := []r3.Vec{{X: 0, Z: 0.1}, {X: 300, Z: 30.0}, {X: 300, Y: 200, Z: 30.2}, {X: 0, Y: 200, Z: -0.1}, {X: 150, Y: 100, Z: 14.9}}
	opt := survey.FitOptions{Noise: 0.2} // what the probe is good to, mm
	p, err := survey.FitPlane(frame, opt)
	if err != nil {
		fmt.Println(err)
		return
	}
	q, err := survey.FitPlane(floor, opt)
	if err != nil {
		fmt.Println(err)
		return
	}
	// Both normals toward the bay between the two.
	bay := r3.Vec{X: 500, Y: 100, Z: 500}
	p.Plane, q.Plane = p.Facing(bay), q.Facing(bay)
	d, err := survey.FitDihedral(p, q)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v between the normals, ± %v\n", d.Angle.Text(1), d.StdErr.Text(2))
	// Output:
	// 95.7° between the normals, ± 0.05°
}

func ExampleCompare() {
	wanted := []outline.Path{outline.Rect(r2.Vec{}, r2.Vec{X: 200, Y: 100})}
	measured := []r2.Vec{{X: 50, Y: -0.1}, {X: 150, Y: 0.1}, {X: 200.1, Y: 30}, {X: 201.4, Y: 80}, {X: 150, Y: 100}, {X: 50, Y: 99.9}, {X: 0.1, Y: 50}}
	v, err := survey.Compare(measured, wanted, survey.CompareOptions{Tolerance: 0.5, Freedom: survey.Fixed})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, i := range v.Outside {
		d := v.Deviations[i]
		fmt.Printf("pass %v: point %d has %.1f mm too much metal at (%.0f, %.0f)\n", v.Pass, i, d.Off, d.Nearest.X, d.Nearest.Y)
	}
	// Output:
	// pass false: point 3 has 1.4 mm too much metal at (200, 80)
}

func ExampleBestFit() {
	// Three tooling holes as drawn and as they lie on the bench.
	drawn := []r3.Vec{{}, {X: 300}, {X: 300, Y: 200}}
	bench := []r3.Vec{{X: 10, Y: 20}, {X: 10, Y: 320.2}, {X: -190, Y: 320}}
	fit, err := survey.BestFit(bench, drawn, survey.RigidOptions{Freedom: survey.AboutAxis, Axis: r3.Vec{Z: 1}})
	if err != nil {
		fmt.Println(err)
		return
	}
	// The second hole lies 0.2 mm too far: it turns the fit 13.3/86687 rad past 90°.
	fmt.Printf("turned %v\n", fit.Angle())
	// Output:
	// turned 90.01°
}

// A skin that leans 7.5° from level against a level web: with both normals on the
// outside of the metal, the bend between them turns through the angle of the normals.
func ExampleDihedral() {
	lean := 7.5 * measure.Degree
	web := survey.Plane{Normal: r3.Vec{Z: 1}}
	skin := survey.Plane{Normal: r3.Vec{X: math.Sin(float64(lean)), Z: math.Cos(float64(lean))}}
	a := survey.Dihedral(web, skin)
	fmt.Println(a, "turned,", a.Opening(), "between the legs")
	// Output: 7.5° turned, 172.5° between the legs
}

// Faces at X 1, Y 2 and Z 3 have a corner where they meet; the first two share a mold
// line straight up.
func ExampleCorner() {
	x := survey.Plane{Point: r3.Vec{X: 1}, Normal: r3.Vec{X: 1}}
	y := survey.Plane{Point: r3.Vec{Y: 2}, Normal: r3.Vec{Y: 1}}
	z := survey.Plane{Point: r3.Vec{Z: 3}, Normal: r3.Vec{Z: 1}}
	corner, err := survey.Corner(x, y, z)
	fmt.Println(corner, err)
	line, err := survey.Meet(x, y)
	fmt.Println(line.Dir, err)
	// Output:
	// {1 2 3} <nil>
	// {0 0 1} <nil>
}

// A frame measured from the keel's deck where no protractor reaches: 200 mm off at the deck and 214 mm off at a
// height of 100. Its face leans by atan(14/100) = 7.97°.
func ExampleTwoHeights() {
	face := survey.TwoHeights{
		Base:        survey.BaseLine{Along: r3.Vec{X: 1}, Up: r3.Vec{Z: 1}},
		LowDistance: 200, HighDistance: 214, HighHeight: 100,
	}
	p, err := face.Plane()
	if err != nil {
		fmt.Println(err)
		return
	}
	lean := measure.Angle(math.Asin(math.Abs(p.Normal.Z)))
	fmt.Printf("%.2f°, %.3f mm off at half the height\n", lean.Degrees(), math.Abs(p.Distance(r3.Vec{Z: 50}))/math.Cos(lean.Radians()))
	// Output:
	// 7.97°, 207.000 mm off at half the height
}

// A stringer read at seven places, one of them wild: it is set aside and said so.
func ExampleFitLine() {
	line, err := survey.FitLine([]r3.Vec{{}, {X: 100, Y: 1}, {X: 150, Y: 9}, {X: 200, Y: 2}, {X: 300, Y: 3}, {X: 400, Y: 4}, {X: 500, Y: 5}}, survey.FitOptions{Noise: 0.1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("rises %.3f mm in 100, %d reading set aside\n", 100*line.Dir.Y/line.Dir.X, len(line.Outliers))
	// Output:
	// rises 1.000 mm in 100, 1 reading set aside
}

// The edge of a cut-out touched at five places on a sweep of 90° and radius 60.
func ExampleFitArc() {
	var touched []r2.Vec
	for i := range 5 {
		sin, cos := math.Sincos(math.Pi / 8 * float64(i))
		touched = append(touched, r2.Vec{X: 60 * cos, Y: 60 * sin})
	}
	arc, err := survey.FitArc(touched, survey.FitOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("R %.2f mm through %.1f°\n", arc.Radius, arc.Sweep.Degrees())
	// Output:
	// R 60.00 mm through 90.0°
}

// Points picked up with the columns and units of whoever wrote them down: 10 in is 254 mm.
func ExampleReadCSV() {
	points, err := survey.ReadCSV(strings.NewReader("name,x [in],y [in],z [mm]\nkeel,10,0,2\nchine,10,4,50.8\n"))
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range points {
		fmt.Printf("%.1f %.1f %.1f\n", p.X, p.Y, p.Z)
	}
	// Output:
	// 254.0 0.0 2.0
	// 254.0 101.6 50.8
}

// A scan in metres, which the format does not say.
func ExampleReadPLY() {
	scan := "ply\nformat ascii 1.0\nelement vertex 2\nproperty float x\nproperty float y\nproperty float z\nend_header\n0 0.5 0.25\n0 0.5 0.75\n"
	points, err := survey.ReadPLY(strings.NewReader(scan), 1000)
	fmt.Println(points, err)
	// Output: [{0 500 250} {0 500 750}] <nil>
}

// The upper half of a round hull of radius 300 scanned every 10 mm and quarter of a degree, cut at station 500:
// π·300 is 942 mm, and the arc through the points has the radius again.
func ExampleCut() {
	var scan []r3.Vec
	for x := 0.0; x <= 1000; x += 10 {
		for quarter := range 4*180 + 1 {
			sin, cos := math.Sincos(float64(quarter) / 4 * math.Pi / 180)
			scan = append(scan, r3.Vec{X: x, Y: 300 * cos, Z: 300 * sin})
		}
	}
	section, err := survey.Cut(scan, survey.AtStation(500), survey.SectionOptions{Half: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	arc, err := survey.FitArc(section.Points, survey.FitOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d points, %.0f mm along, closed %v, R %.2f mm\n", len(section.Points), section.Length, section.Closed, arc.Radius)
	// Output: 721 points, 942 mm along, closed false, R 300.00 mm
}

// A bulkhead that faces aft at X 200. A stiffener stands 3 mm off it, and what is drilled
// on one side of the middle is drilled on the other.
func ExamplePlane() {
	bulkhead := survey.Plane{Point: r3.Vec{X: 200}, Normal: r3.Vec{X: 1}}
	middle := survey.Plane{Normal: r3.Vec{Y: 1}}
	hole := r3.Vec{X: 207, Y: 40, Z: 90}
	fmt.Println("stiffener's face is", bulkhead.Offset(3).Distance(hole), "mm off the hole")
	fmt.Println("on the bulkhead it is at", bulkhead.Project(hole))
	fmt.Println("the other at", middle.Mirror(hole))
	// Output:
	// stiffener's face is 4 mm off the hole
	// on the bulkhead it is at {200 40 90}
	// the other at {207 -40 90}
}

// A section seen from aft: Y runs right and Z up, and a point aft of it stands toward the viewer.
func ExampleFrame() {
	at, height := survey.AtStation(500).In(r3.Vec{X: 512, Y: -80, Z: 35})
	fmt.Println(at, height)
	fmt.Println(survey.AtStation(500).Out(at))
	// Output:
	// {-80 35} 12
	// {500 -80 35}
}

// Nine readings on a frame's face, one of them misread by 3 mm. The corners lie a tenth to either
// side in turn, so that the plane is the middle one, and of the eight kept the root mean square
// is √(4·0.1²/8) = 0.071 mm. Six of them stand 100 mm off the middle: with readings good to 0.1 mm
// the slope is known to 0.1/√(6·100²) = 0.000408, or 0.023°.
func ExampleFitPlane() {
	fit, err := survey.FitPlane([]r3.Vec{
		{X: -100, Y: -100, Z: 0.1}, {X: 0, Y: -100}, {X: 100, Y: -100, Z: -0.1},
		{X: -100}, {Z: 3}, {X: 100},
		{X: -100, Y: 100, Z: -0.1}, {X: 0, Y: 100}, {X: 100, Y: 100, Z: 0.1},
	}, survey.FitOptions{Noise: 0.1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("normal (%.3f, %.3f, %.3f)\n", fit.Normal.X, fit.Normal.Y, fit.Normal.Z)
	for _, i := range fit.Outliers {
		fmt.Printf("reading %d set aside, %.2f mm off\n", i, fit.Residuals[i])
	}
	fmt.Printf("RMS %.3f mm, slope ± %v\n", fit.RMS, fit.Tilt[0].Text(3))
	// Output:
	// normal (0.000, 0.000, 1.000)
	// reading 4 set aside, 3.00 mm off
	// RMS 0.071 mm, slope ± 0.023°
}
