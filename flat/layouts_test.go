package flat_test

import (
	"fmt"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// plate is a square-cornered web of the handbook channel's sheet, one flange or none
// on each side: lower, right, upper, left.
func plate(x, y, thickness, radius float64, flanges [4]*flat.Flange) flat.Part {
	p := flat.Part{
		Name:   "plate",
		Sheet:  material.Sheet{Material: material.Material{Alloy: "2024", Temper: "T3"}, Thickness: thickness * inch},
		Rule:   bend.Handbook{},
		Radius: radius * inch,
	}
	corners := [4]r2.Vec{{}, {X: x * inch}, {X: x * inch, Y: y * inch}, {Y: y * inch}}
	for i, name := range [4]string{"lower", "right", "upper", "left"} {
		e := flat.Edge{Name: name, Start: corners[i]}
		if flanges[i] != nil {
			e.Flanges = []flat.Flange{*flanges[i]}
		}
		p.Web.Edges = append(p.Web.Edges, e)
	}
	return p
}

// An open bend: the one AC 43.13-1B para 4-56 works, R .25 and T .064 in bent to 135°
// between the legs, so turned through 45°: setback (.25 + .064)·tan 22.5° = .130.
//
// The allowance is (.01743·.25 + .0078·.064)·45 = .21855, so legs of 1 and 2 in take
// 1 + 2 - 2·.13006 + .21855 = 2.9584 in.
func ExampleDevelop_openBend() {
	b, err := flat.Develop(plate(6, 2, .064, .25, [4]*flat.Flange{{Angle: 45 * measure.Degree, Height: 1 * inch}}))
	if err != nil {
		fmt.Println(err)
		return
	}
	line := b.Bends[0]
	fmt.Printf("%s between the legs: setback %s, allowance %s\n", line.Bend.Angle.Opening(), measure.InchText(line.Setback, 3), measure.InchText(line.Allowance.Length, 4))
	fmt.Printf("developed width %s\n", measure.InchText(b.Outline.Bounds().Size().Y, 4))
	// Output:
	// 135° between the legs: setback 0.130 in, allowance 0.2186 in
	// developed width 2.9584 in
}

// A closed bend: the other one of AC 43.13-1B para 4-56, 45° between the legs, so turned
// through 135°: setback (.25 + .064)·tan 67.5° = .758.
//
// The allowance is (.01743·.25 + .0078·.064)·135 = .65565, so legs of 1 and 2 in take
// 1 + 2 - 2·.75806 + .65565 = 2.1395 in: far less than three.
func ExampleDevelop_closedBend() {
	b, err := flat.Develop(plate(6, 2, .064, .25, [4]*flat.Flange{{Angle: 135 * measure.Degree, Height: 1 * inch}}))
	if err != nil {
		fmt.Println(err)
		return
	}
	line := b.Bends[0]
	fmt.Printf("%s between the legs: setback %s, allowance %s\n", line.Bend.Angle.Opening(), measure.InchText(line.Setback, 3), measure.InchText(line.Allowance.Length, 4))
	fmt.Printf("developed width %s\n", measure.InchText(b.Outline.Bounds().Size().Y, 4))
	// Output:
	// 45° between the legs: setback 0.758 in, allowance 0.6557 in
	// developed width 2.1395 in
}

// A zed: the legs of the handbook's channel, FAA-H-8083-31 chapter 4, one turned toward
// the reader and one away. The way a bend turns does not change what it takes, so the
// width is the channel's by the same formula: .8 + 1.6 + .8 + 2·.279072 = 3.758 in.
func ExampleDevelop_zed() {
	b, err := flat.Develop(plate(6, 2, .040, .16, [4]*flat.Flange{
		{Angle: 90 * measure.Degree, Height: 1 * inch, Turn: flat.Up}, nil,
		{Angle: 90 * measure.Degree, Height: 1 * inch, Turn: flat.Down},
	}))
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, line := range b.Bends {
		fmt.Printf("%s flange turns %s\n", line.Name, line.Turn)
	}
	fmt.Printf("developed width %s\n", measure.InchText(b.Outline.Bounds().Size().Y, 3))
	solid, err := b.Fold()
	if err != nil {
		fmt.Println(err)
		return
	}
	low, high := 0.0, 0.0
	for i, p := range b.Panels {
		for _, v := range p.Outline {
			z := solid.Panel(i, v, 0).Z
			low, high = min(low, z), max(high, z)
		}
	}
	// Up flanges stand on the far face and rise 1 in from it, T below the marking face;
	// down flanges drop 1 in from the marking face.
	fmt.Printf("folded, it reaches from %s to %s\n", measure.InchText(low, 3), measure.InchText(high, 3))
	// Output:
	// lower flange turns up
	// upper flange turns down
	// developed width 3.758 in
	// folded, it reaches from -1.000 in to 0.960 in
}

// A tray: four flanges 1 in high round a web of 4 by 3 in, .040 in sheet, R .16, with
// a relief hole at each corner. Holes and flats as FAA-H-8083-31 chapter 4 lays them out:
// the hole about 2R across and no less than 1/8 in, centred where the inside tangent
// lines cross, one setback of .200 in from either mold line.
//
// Overall the blank is 4 - 2·.2 + 2·.8 + 2·.279072 = 5.758 by 4.758 in.
func ExampleDevelop_tray() {
	leg := &flat.Flange{Angle: 90 * measure.Degree, Height: 1 * inch}
	b, err := flat.Develop(plate(4, 3, .040, .16, [4]*flat.Flange{leg, leg, leg, leg}))
	if err != nil {
		fmt.Println(err)
		return
	}
	size := b.Outline.Bounds().Size()
	fmt.Printf("blank %s by %s\n", measure.InchText(size.X, 3), measure.InchText(size.Y, 3))
	for _, r := range b.Reliefs {
		fmt.Printf("relief %s: %s across, at %s, %s\n", r.Corner, measure.InchText(r.Diameter, 3), measure.InchText(r.Center.X, 3), measure.InchText(r.Center.Y, 3))
	}
	// Output:
	// blank 5.758 in by 4.758 in
	// relief left/lower: 0.320 in across, at 0.200 in, 0.200 in
	// relief lower/right: 0.320 in across, at 3.800 in, 0.200 in
	// relief right/upper: 0.320 in across, at 3.800 in, 2.800 in
	// relief upper/left: 0.320 in across, at 0.200 in, 2.800 in
}
