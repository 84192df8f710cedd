package main

import (
	"fmt"
	"io"

	"gonum.org/v1/gonum/spatial/r2"

	"github.com/hangarflat/hangarflat/examples/coupons/shopbends"
	"github.com/hangarflat/hangarflat/examples/internal/chart"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/material/measure"
)

// plot draws the residual of every strip, group by group. Strips left out lie far off
// and would flatten the rest: each is drawn at the edge of the picture with its figure.
func plot(w io.Writer) error {
	entries, strips := shopbends.Entries(), shopbends.Strips()
	reach := 0.0
	for _, s := range strips {
		if !s.Outlier {
			reach = max(reach, s.Residual, -s.Residual)
		}
	}
	reach *= 1.35
	p := chart.Panel{
		Title: "Allowance of each strip less what the K of its group says", X: "strip", Y: "mm", Height: 0.46,
		Lines: []chart.Line{
			{Ink: chart.Guide, P: []r2.Vec{{X: 0, Y: 0}, {X: float64(len(strips)) + 1, Y: 0}}},
			boundary(0, reach),
		},
	}
	kept := chart.Dots{Ink: chart.Good, Name: "in the fit", Size: 4}
	out := chart.Dots{Ink: chart.Bad, Name: "left out, drawn at the edge", Size: 4}
	band := 0
	for i, s := range strips {
		at := r2.Vec{X: float64(i + 1), Y: s.Residual}
		if s.Outlier {
			at.Y = min(max(at.Y, -reach), reach)
			out.P = append(out.P, at)
			p.Words = append(p.Words, chart.Word{Ink: chart.Bad, At: r2.Vec{X: at.X + 0.3, Y: at.Y}, Text: fmt.Sprintf("%s: %.2f mm", s.Name, s.Residual)})
		} else {
			kept.P = append(kept.P, at)
		}
		if i+1 < len(strips) && strips[i+1].Entry == s.Entry {
			continue
		}
		// The last strip of its group: what one strip scatters by, and the group's name,
		// above and below by turns so that the names have room.
		e := entries[s.Entry]
		from, to := float64(band)+0.6, float64(i+1)+0.4
		for _, y := range []float64{-e.Scatter, e.Scatter} {
			p.Lines = append(p.Lines, chart.Line{Ink: chart.Second, P: []r2.Vec{{X: from, Y: y}, {X: to, Y: y}}})
		}
		p.Lines = append(p.Lines, boundary(i+1, reach))
		y := 1.4
		if s.Entry%2 == 1 {
			y = -1.2
		}
		name := from
		if from > 0.68*float64(len(strips)) {
			name = to // there the chart letters to the left of a point
		}
		p.Words = append(p.Words,
			chart.Word{Ink: chart.Fair, At: r2.Vec{X: name, Y: y * reach}, Text: e.Material.String()},
			chart.Word{Ink: chart.Fair, At: r2.Vec{X: name, Y: (y - 0.1) * reach}, Text: fmt.Sprintf("%s, R %s", measure.InchText(e.Thickness, 3), measure.InchText(e.Radius, 3))},
			chart.Word{Ink: chart.Second, At: r2.Vec{X: name, Y: (y - 0.2) * reach}, Text: fmt.Sprintf("K %.3f ± %.3f", e.K, e.StdErr)})
		band = i + 1
	}
	p.Dots = []chart.Dots{kept, out}
	notes := append([]string{"Blue lines: one standard deviation of a single strip. Strips invented, for the demonstration: " + shopbends.Log}, drawing.Cautions()...)
	return chart.Draw(w, "Test strips of the slipway's brake", []chart.Panel{p}, notes)
}

// boundary is the line between two groups, after the given strip.
func boundary(after int, reach float64) chart.Line {
	x := float64(after) + 0.5
	return chart.Line{Ink: chart.Guide, P: []r2.Vec{{X: x, Y: -1.5 * reach}, {X: x, Y: 1.5 * reach}}}
}
