package former_test

import (
	"fmt"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat/former"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// A bulkhead of 300 mm across with a flange all round: the circle to cut, the circle of
// the form block, and what the edge has to bear.
func ExampleDevelop() {
	soft, err := material.Lookup("2024-O")
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := former.Develop(former.Former{
		Name:  "bulkhead",
		Sheet: material.Sheet{Material: soft, Thickness: 0.040 * measure.Inch},
		Outer: former.Rim{
			Contour: outline.Circle(r2.Vec{}, 150),
			Flange:  &former.Flange{Height: 0.625 * measure.Inch, Radius: 0.125 * measure.Inch, Bevels: []former.Bevel{{Angle: 90 * measure.Degree}}},
		},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	p := r.Pieces[0]
	_, shrink, _ := r.Outer.Worst()
	fmt.Printf("blank radius %.2f mm\n", p.Outline.Segment(0).Radius())
	fmt.Printf("block radius %.2f mm, its edge rounded to %.2f mm\n", p.Block.Top[0].Segment(0).Radius(), p.Block.Edge)
	fmt.Printf("the edge shrinks by %.1f %%\n", -100*shrink.Value())
	// Output:
	// blank radius 163.19 mm
	// block radius 148.98 mm, its edge rounded to 3.14 mm
	// the edge shrinks by 8.4 %
}

// The two models of a flange round a lightening hole of 80 mm radius.
func ExampleSection_DevelopedWidth() {
	b := bend.Bend{Angle: 90 * measure.Degree, Radius: 3, Thickness: 1}
	s, err := former.SectionOf(bend.NeutralAxis{K: 0.42}, b, 18)
	if err != nil {
		fmt.Println(err)
		return
	}
	const hollow = -1.0 / 80
	for _, m := range []former.Model{former.EqualArc, former.EqualArea} {
		w := s.DevelopedWidth(m, hollow)
		fmt.Printf("%v: %.2f mm wide, stretched %.1f %%\n", m, w, 100*s.EdgeStrain(w, hollow))
	}
	// Output:
	// equal arc: 19.37 mm wide, stretched 26.3 %
	// equal area: 21.52 mm wide, stretched 31.0 %
}

// A block is smaller than the part, by the thickness at 90°.
func ExampleOffsetForBlock() {
	for _, a := range []measure.Angle{85, 90, 95} {
		off := former.OffsetForBlock(0.032*measure.Inch, a*measure.Degree)
		fmt.Println(a*measure.Degree, measure.InchText(off, 5))
	}
	// Output:
	// 85° 0.02932 in
	// 90° 0.03200 in
	// 95° 0.03492 in
}

// Ten inches of clad sheet of .032 in with 1/8 in rivets: the handbook's own case, 75 %
// for a lap of two sheets, and 60 % for a frame.
func ExampleSpliceRivets() {
	perInch, err := former.RivetsPerInch(0.032*measure.Inch, 0.125*measure.Inch)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(perInch, former.SpliceRivets(10*measure.Inch, perInch, 75), former.SpliceRivets(10*measure.Inch, perInch, 60))
	// Output: 4.9 37 30
}

// Where the ray at 30° from the middle of a frame meets its contour.
func ExampleGirthToward() {
	girth, err := former.GirthToward(outline.Circle(r2.Vec{}, 300), r2.Vec{}, 30*measure.Degree)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f mm\n", girth)
	// Output: 157.08 mm
}

// ring is a hull frame of the Corrie (invented), flanged outside and in.
func ring() (former.Former, error) {
	soft, err := material.Lookup("2024-O")
	square := []former.Bevel{{Angle: 90 * measure.Degree}}
	return former.Former{
		Name:  "frame 8",
		Sheet: material.Sheet{Material: soft, Thickness: 1.2},
		Outer: former.Rim{Contour: outline.Circle(r2.Vec{}, 400), Flange: &former.Flange{Height: 16, Radius: 3.2, Bevels: square}},
		Inner: former.Rim{Contour: outline.Circle(r2.Vec{}, 330).Reverse(), Flange: &former.Flange{Height: 14, Radius: 3.2, Bevels: square}},
	}, err
}

// The same frame out of one sheet, in halves and in quarters: the metal strains alike, and every joint is a splice.
func ExampleCompare() {
	f, err := ring()
	if err != nil {
		fmt.Println(err)
		return
	}
	choices, err := former.Compare(f, 1, 2, 4)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range choices {
		fmt.Println(c.Pieces, "pieces,", c.Splices, "splices")
	}
	// Output:
	// 1 pieces, 0 splices
	// 2 pieces, 2 splices
	// 4 pieces, 4 splices
}

// The frame in sheet of 1 mm: its block, square, lies inside the mold line by the thickness, 1.2 mm before and 1 mm now.
func ExampleSubstitute() {
	f, err := ring()
	if err != nil {
		fmt.Println(err)
		return
	}
	other := f.Sheet
	other.Thickness = 1
	changes, err := former.Substitute(f, other)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range changes {
		if c.Quantity == "form block inside the mold line, outer" {
			fmt.Printf("%s: %.1f mm, then %.1f mm\n", c.Quantity, c.Old, c.New)
		}
	}
	// Output:
	// form block inside the mold line, outer: 1.2 mm, then 1.0 mm
}

// A plate of 40 by 20 that lies turned by 30° still comes out of 40 by 20, and that out of a strip 25 wide.
func ExampleSizeOf() {
	plate := outline.Rect(r2.Vec{}, r2.Vec{X: 40, Y: 20}).Transform(outline.Rotate(r2.Vec{X: 7, Y: 3}, 30*measure.Degree))
	size := former.SizeOf(plate)
	fmt.Printf("%.1f by %.1f mm\n", size.Length, size.Width)
	fmt.Println(former.Stock{Length: 25, Width: 300}.Takes(size))
	// Output:
	// 40.0 by 20.0 mm
	// true
}

// How far the edge of a soft sheet may be worked by hand.
func ExampleGuideFor() {
	soft, err := material.Lookup("2024-O")
	if err != nil {
		fmt.Println(err)
		return
	}
	if g, ok := former.GuideFor(soft, former.ByHand); ok {
		fmt.Printf("stretched %.0f %%, with skill %.0f; shrunk %.0f, with skill %.0f\n", 100*g.StretchCareful, 100*g.StretchMost, 100*g.ShrinkCareful, 100*g.ShrinkMost)
		fmt.Println(g.Source)
	}
	// Output:
	// stretched 10 %, with skill 12; shrunk 5, with skill 8
	// from memory of shop guidance for edge stretch and shrink of 2024-O, low confidence: check before use
}

// The frame in two pieces: each joint is where it was asked for, and each piece half the frame.
func ExampleSplit() {
	f, err := ring()
	if err != nil {
		fmt.Println(err)
		return
	}
	whole, err := former.Develop(f)
	if err != nil {
		fmt.Println(err)
		return
	}
	f.Split = former.Split{Pieces: 2, Joints: []float64{0, f.Outer.Contour.Length() / 2}}
	halves, err := former.Develop(f)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range halves.Pieces {
		fmt.Printf("%s: %.4f of the frame\n", p.Name, p.Area/whole.Pieces[0].Area)
	}
	// Output:
	// frame 8-1: 0.5000 of the frame
	// frame 8-2: 0.5000 of the frame
}
