package paper_test

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/flat/paper"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// The card of an angle 6 in long: its setback by hand is (.16 + .04)·tan 45° = .2000 in.
// The pattern is a PDF.
func ExampleCard() {
	inch := measure.Inch
	b, err := flat.Develop(flat.Part{
		Name: "angle", Radius: 0.16 * inch, Rule: bend.Handbook{},
		Sheet: material.Sheet{Material: material.Material{Alloy: "2024", Temper: "T3"}, Thickness: 0.040 * inch},
		Web: flat.Web{Edges: []flat.Edge{
			{Name: "fold", Flanges: []flat.Flange{{Angle: 90 * measure.Degree, Height: inch}}},
			{Start: r2.Vec{X: 6 * inch}}, {Start: r2.Vec{X: 6 * inch, Y: inch}}, {Start: r2.Vec{Y: inch}},
		}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	var card, pattern strings.Builder
	if err := paper.Card(&card, b, paper.CardOptions{}); err != nil {
		fmt.Println(err)
	}
	for line := range strings.Lines(card.String()) {
		if f := strings.Fields(line); len(f) > 1 && f[0] == "SB" && f[1] == "setback" {
			fmt.Println(strings.Join(f, " "))
		}
	}
	if err := paper.Pattern(&pattern, b, paper.PatternOptions{Paper: paper.Letter}); err != nil {
		fmt.Println(err)
	}
	fmt.Println(pattern.String()[:5])
	// Output:
	// SB setback of flange "fold" 0.2000 in (5.080 mm)
	// %PDF-
}

// A file appears whole or not at all.
func ExampleSave() {
	folder, err := os.MkdirTemp("", "bench")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(folder)
	name := filepath.Join(folder, "card.txt")
	err = paper.Save(name, func(w io.Writer) error {
		fmt.Fprintln(w, "half of it")
		return fmt.Errorf("ran out of ink")
	})
	_, missing := os.Stat(name)
	fmt.Println(err, os.IsNotExist(missing))
	// Output:
	// ran out of ink true
}

// A set of files appears together or not at all.
func ExampleSaveAll() {
	folder, err := os.MkdirTemp("", "bench")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(folder)
	card := paper.File{Name: "card.txt", Write: func(w io.Writer) error { _, err := fmt.Fprintln(w, "W = H - SB"); return err }}
	picture := paper.File{Name: "part.svg", Write: func(io.Writer) error { return fmt.Errorf("ran out of ink") }}
	fmt.Println(paper.SaveAll(folder, []paper.File{card, picture}))
	left, err := os.ReadDir(folder)
	fmt.Println(len(left), err)
	// Output:
	// part.svg: ran out of ink
	// 0 <nil>
}

// One blank as a picture for the screen, for print and as a page of the card.
func ExampleSVG() {
	b, err := flat.Develop(flat.Part{
		Name: "clip", Radius: 4,
		Sheet: material.Sheet{Material: material.Material{Alloy: "2024", Temper: "T3"}, Thickness: 1},
		Web: flat.Web{Edges: []flat.Edge{
			{Name: "fold", Flanges: []flat.Flange{{Angle: 90 * measure.Degree, Height: 20}}},
			{Start: r2.Vec{X: 60}}, {Start: r2.Vec{X: 60, Y: 40}}, {Start: r2.Vec{Y: 40}},
		}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	var svg, png, card strings.Builder
	for _, err := range []error{
		paper.SVG(&svg, b, paper.PictureOptions{Background: paper.Dark}),
		paper.PNG(&png, b, paper.PictureOptions{}, 400),
		paper.CardPDF(&card, b, paper.CardOptions{}),
	} {
		if err != nil {
			fmt.Println(err)
		}
	}
	fmt.Println(svg.String()[:4], png.String()[1:4], card.String()[1:4])
	// Output:
	// <svg PNG PDF
}

// A washer that never was a blank, at full size.
func ExamplePatternOf() {
	var d drawing.Drawing
	d.Name = "backing ring"
	d.Add(drawing.Cut, "ring", outline.Circle(r2.Vec{}, 60))
	d.Add(drawing.Cut, "opening", outline.Circle(r2.Vec{}, 40).Reverse())
	d.Notes = []string{"3/4 in plywood", "Scale 1:1"}
	var pattern strings.Builder
	if err := paper.PatternOf(&pattern, d, paper.PatternOptions{Paper: paper.Letter}); err != nil {
		fmt.Println(err)
	}
	fmt.Println(pattern.String()[:5])
	fmt.Println(paper.PatternOf(&pattern, drawing.Drawing{}, paper.PatternOptions{}))
	// Output:
	// %PDF-
	// paper: drawing empty: has nothing to draw
}
