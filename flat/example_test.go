package flat_test

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/survey"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

// A bend of R 1/16 in .040 2024-T3 is sharper than any table has it: FAA AC 43.13-1B
// Table 4-6 begins at 3t for .064 sheet, the stricter row, and 3·.040 is .12.
func ExampleFinding() {
	p := channel(bend.Handbook{})
	p.Radius = measure.Inch / 16
	b, err := flat.Develop(p)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range b.Findings {
		if f.Severity == flat.Stop {
			fmt.Printf("%s, %s: %s against %s [%s]\n", f.Severity, f.Place, measure.InchText(f.Figure, 4), measure.InchText(f.Limit, 2), f.Source)
		}
	}
	fmt.Println("not for cutting:", b.Stopped())
	// Output:
	// STOP, flange "lower": 0.0625 in against 0.12 in [FAA AC 43.13-1B, Table 4-6]
	// STOP, flange "upper": 0.0625 in against 0.12 in [FAA AC 43.13-1B, Table 4-6]
	// not for cutting: true
}

// A faulty part is answered with every fault, each with its place for a program.
func ExampleError() {
	p := channel(bend.Handbook{})
	p.Web.Edges[0].Flanges = []flat.Flange{{Angle: 190 * measure.Degree, Height: 25.4}}
	_, err := flat.Develop(p)
	var fault *flat.Error
	if errors.As(err, &fault) {
		fmt.Println(fault.Path, "=", fault.Value)
	}
	// Output: web.edges[0].flanges[0].angle = 190°
}

// By hand, D 50, H 6, R 3, T 1: 50 - 2·(6 - (2 - π/2)·3 - (1.5 - π/4)·1) = 42.004 mm, and
// the edge is stretched by 50/42.004 - 1 = 19.0 %.
func ExampleLighteningHole() {
	h := flat.LighteningHole{Diameter: 50, Height: 6, Radius: 3}
	fmt.Printf("pilot %.3f mm, stretched %.1f %%\n", h.Pilot(1), 100*h.Stretch(1))
	// Output: pilot 42.004 mm, stretched 19.0 %
}

// A joggle over .040 sheet with a run-out of four times its depth: by hand
// √(.160² + .040²) - .160 = .0049 in.
func ExampleJoggle() {
	j := flat.Joggle{Run: 0.160 * measure.Inch, Depth: 0.040 * measure.Inch}
	fmt.Println("takes up", measure.InchText(j.Growth(), 4))
	// Output: takes up 0.0049 in
}

// clip is a plate of 60 by 40 with a flange of 20 along its lower edge, and a hole in the flange 12 from the mold
// line. By hand, R .160 and T .040: setback .200 in, 5.08 mm; allowance by the handbook's constants
// (.01743·.160 + .0078·.040)·90 = .2791 in, 7.09 mm.
func clip() flat.Part {
	return flat.Part{
		Name:   "clip",
		Sheet:  material.Sheet{Material: material.Material{Alloy: "2024", Temper: "T3"}, Thickness: 0.040 * measure.Inch},
		Radius: 0.160 * measure.Inch,
		Rule:   bend.Handbook{},
		Web: flat.Web{Edges: []flat.Edge{
			{Name: "lower", Flanges: []flat.Flange{{
				Angle: 90 * measure.Degree, Height: 20,
				Features: flat.Features{Holes: []flat.Hole{{Name: "pilot", At: r2.Vec{X: 15, Y: 12}, Diameter: 2.5}}},
			}}},
			{Name: "right", Start: r2.Vec{X: 60}},
			{Name: "upper", Start: r2.Vec{X: 60, Y: 40}},
			{Name: "left", Start: r2.Vec{Y: 40}},
		}},
	}
}

// The hole lands 12 beyond the mold line less what the bend takes up, two setbacks less the
// allowance: y = -(12 - 2·5.08 + 7.09) = -8.93.
func ExampleFeatures() {
	b, err := flat.Develop(clip())
	if err != nil {
		fmt.Println(err)
		return
	}
	hole := b.Holes[0]
	fmt.Printf("%s: x %.2f, y %.2f mm\n", hole.Name, hole.Center.X, hole.Center.Y)
	// Output: pilot: x 15.00, y -8.93 mm
}

// The other hand of the clip: x becomes -x, and the flange still turns up.
func ExamplePart_Mirrored() {
	other := clip().Mirrored()
	other.Name = "clip, other hand"
	b, err := flat.Develop(other)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s: x %.2f, y %.2f mm, turned %s\n", b.Part.Name, b.Holes[0].Center.X, b.Holes[0].Center.Y, b.Bends[0].Turn)
	// Output: clip, other hand: x -15.00, y -8.93 mm, turned up
}

// The first numbers of the clip, as the card shows them.
func ExampleBlank_Working() {
	b, err := flat.Develop(clip())
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, step := range b.Working()[:2] {
		fmt.Println(step)
	}
	// Output:
	// setback of flange "lower": SB = (R + T)·tan(A/2) = (0.16 + 0.04)·tan(90°/2) = 0.2000 in (5.080 mm) [FAA AC 43.13-1B, para 4-56 b]
	// allowance of flange "lower": BA = (0.01743·R + 0.0078·T)·A° = (0.01743·0.16 + 0.0078·0.04)·90 = 0.2791 in (7.088 mm) [trade sheet-metal workbook, bend allowance page]
}

// Validate says what is wrong without developing anything: all of it at once.
func ExamplePart_Validate() {
	p := clip()
	p.Radius = -1
	p.Web.Edges[0].Flanges[0].Height = 0
	fmt.Println(p.Validate())
	// Output:
	// radius -1 mm: inside bend radius must be 0 mm (flanges state their own) to 10 m
	// edge "lower", flange 1: height 0 mm: must be above 0 mm and at most 10 m
}

// A rib in a bay between four frames' faces, its marking face on the plane y = 0 and seen from
// beyond it. An up flange's mold line lies on the far face, 1.016 mm down, where the aft face that
// runs out 1 in 10 is at x = -0.1016: there, at the keel, is the origin of the rib. Its first edge
// runs up that face, along z, and its inside is forward.
func ExampleSite() {
	flange := &flat.Flange{Height: 0.75 * measure.Inch}
	rib, err := flat.Between(
		flat.Part{
			Name: "rib", Radius: 0.1875 * measure.Inch,
			Sheet: material.Sheet{Material: material.Material{Alloy: "2024", Temper: "T3"}, Thickness: 0.040 * measure.Inch},
		},
		flat.Surroundings{
			Web:         survey.Plane{Normal: r3.Vec{Y: 1}},
			MarkingSide: r3.Vec{Y: 100},
			Faces: []flat.Face{
				{Name: "aft", Plane: survey.Plane{Normal: r3.Unit(r3.Vec{X: 1, Y: -0.1})}, Flange: flange},
				{Name: "keel", Plane: survey.Plane{Normal: r3.Vec{Z: 1}}, Flange: flange},
				{Name: "fwd", Plane: survey.Plane{Point: r3.Vec{X: 250}, Normal: r3.Vec{X: 1}}, Flange: flange},
				{Name: "skin", Plane: survey.Plane{Point: r3.Vec{Z: 150}, Normal: r3.Vec{Z: 1}}, Flange: flange},
			},
		})
	if err != nil {
		fmt.Println(err)
		return
	}
	site := rib.Site
	for i, e := range rib.Web.Edges {
		fmt.Printf("edge %d lies against %s, face %d of the list\n", i, e.Name, site.FaceOf[i])
	}
	// A hole 75 along the aft edge and 40 in from it.
	at := site.Point(r3.Vec{X: 75, Y: 40})
	fmt.Printf("hole at (%.4f, %.4f, %.4f)\n", at.X, at.Y, at.Z)
	// Output:
	// edge 0 lies against aft, face 0 of the list
	// edge 1 lies against skin, face 3 of the list
	// edge 2 lies against fwd, face 2 of the list
	// edge 3 lies against keel, face 1 of the list
	// hole at (39.8984, 0.0000, 75.0000)
}

// What is left over when the channel is folded back is rounding: of lengths of 150 mm, a
// double keeps 13 digits behind the point. A part that was not measured has no fit.
func ExampleProof() {
	b, err := flat.Develop(channel(bend.Handbook{}))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("within a millionth of a mm:", b.Proof.Largest() < 1e-6)
	fmt.Println("fit", b.Proof.Fit)
	// The largest of the five stands for all.
	fmt.Println(flat.Proof{MoldLine: 0.01, Plane: 0.02, Hole: 0.05, Edge: 0.03, Fit: 0.04}.Largest())
	// Output:
	// within a millionth of a mm: true
	// fit 0
	// 0.05
}
