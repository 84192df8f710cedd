package main

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"github.com/hangarflat/hangarflat/examples/internal/chart"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
)

func mm(v float64) string { return strconv.FormatFloat(v, 'f', 3, 64) }

// section is the faired outside and the former's mold line, every 10 mm of girth.
func (r *result) section(w io.Writer) error {
	out := csv.NewWriter(w)
	rows := [][]string{{"girth [mm]", "skin outside y [mm]", "skin outside z [mm]", "mold line y [mm]", "mold line z [mm]", "radius of curvature [mm]"}}
	from, to := r.fit.Range()
	n := int(math.Ceil((to - from) / 10))
	for i := range n {
		s := from + (to-from)*float64(i)/float64(n)
		p, d := r.fit.At(s)
		in := r2.Add(p, r2.Scale(r.thickness, r2.Unit(r2.Vec{X: -d.Y, Y: d.X})))
		rows = append(rows, []string{mm(s - from), mm(p.X), mm(p.Y), mm(in.X), mm(in.Y), strconv.FormatFloat(1/r.fit.Curvature(s), 'f', 0, 64)})
	}
	return out.WriteAll(rows)
}

// A bin is a stretch of girth with what was measured on it.
type bin struct {
	from, to float64
	median   float64 // mm off the fair line, positive outside
	points   int
	at       r2.Vec // of the middle, on the fair line
	out      r2.Vec // outward there
}

const bins = 90

// tally sorts the deviations by girth.
func (r *result) tally() []bin {
	length := r.outside.Length()
	sorted := make([][]float64, bins)
	for _, d := range r.off {
		k := min(int(d.Along/length*bins), bins-1)
		sorted[k] = append(sorted[k], d.Off)
	}
	out := make([]bin, bins)
	for i := range out {
		b := &out[i]
		b.from, b.to = length*float64(i)/bins, length*float64(i+1)/bins
		b.points, b.median = len(sorted[i]), math.NaN()
		if seg, t, err := r.outside.Locate((b.from + b.to) / 2); err == nil {
			s := r.outside.Segment(seg)
			d := s.Tangent(t)
			b.at, b.out = s.At(t), r2.Vec{X: d.Y, Y: -d.X}
		}
		if b.points >= 5 {
			slices.Sort(sorted[i])
			b.median = sorted[i][b.points/2]
		}
	}
	return out
}

func (r *result) distortion(w io.Writer) error {
	out := csv.NewWriter(w)
	rows := [][]string{{"girth from [mm]", "girth to [mm]", "side", "points", "off the fair section [mm]"}}
	for _, b := range r.tally() {
		off := ""
		if !math.IsNaN(b.median) {
			off = mm(b.median)
		}
		rows = append(rows, []string{mm(b.from), mm(b.to), sideOf(b.at).String(), strconv.Itoa(b.points), off})
	}
	return out.WriteAll(rows)
}

func sideOf(p r2.Vec) hand {
	if p.X < 0 {
		return port
	}
	return starboard
}

// enlarged is how many times a deviation is drawn larger than it is.
const enlarged = 12

func (r *result) drawDistortion(w io.Writer) error {
	const most = 4000 // points drawn; more only make the file large
	var seen []r2.Vec
	for i := 0; i < len(r.cut.Points); i += max(1, len(r.cut.Points)/most) {
		seen = append(seen, r.cut.Points[i])
	}
	var good, bad []r2.Vec
	lift := r2.Vec{X: math.NaN()}
	noise := 3 * r.fit.RMS
	worst := bin{}
	girth := []r2.Vec{}
	for _, b := range r.tally() {
		if math.IsNaN(b.median) {
			girth = append(girth, lift)
			continue
		}
		girth = append(girth, r2.Vec{X: (b.from + b.to) / 2, Y: b.median})
		whisker := []r2.Vec{b.at, r2.Add(b.at, r2.Scale(enlarged*b.median, b.out)), lift}
		if math.Abs(b.median) <= noise {
			good = append(good, whisker...)
		} else {
			bad = append(bad, whisker...)
		}
		if math.Abs(b.median) > math.Abs(worst.median) {
			worst = b
		}
	}
	var gaps []r2.Vec
	for _, g := range r.cut.Gaps {
		i, _ := slices.BinarySearch(r.cut.Along, g.From)
		j, _ := slices.BinarySearch(r.cut.Along, g.To)
		gaps = append(gaps, r.cut.Points[i], r.cut.Points[j], lift)
	}
	words := []chart.Word{{Ink: chart.Bad, At: r2.Add(worst.at, r2.Scale(enlarged*worst.median, worst.out)),
		Text: fmt.Sprintf("%.1f mm, %s", worst.median, sideOf(worst.at))}}
	panels := []chart.Panel{
		{Title: fmt.Sprintf("Section at station %.0f, seen from aft: deviations drawn %d times", r.station, enlarged), X: "y, mm (starboard to the right)", Y: "z, mm", Height: 0.78, Equal: true,
			Lines: []chart.Line{{Ink: chart.Fair, Name: "faired", P: drawing.Chords(closedOnce(r.outside), 0.05)}, {Ink: chart.Good, Name: "within noise", P: good},
				{Ink: chart.Bad, Name: "bent", P: bad}, {Ink: chart.Second, Name: "no points", P: gaps}},
			Dots: []chart.Dots{{Ink: chart.Measure, Size: 0.5, P: seen}}, Words: words},
		{Title: "Median deviation by girth from the keel, starboard first", X: "girth, mm", Y: "mm, outward", Height: 0.16,
			Lines: []chart.Line{{Ink: chart.Guide, P: []r2.Vec{{}, {X: r.outside.Length()}}}, {Ink: chart.Fair, P: girth}}},
	}
	return chart.Draw(w, "Distortion of the hull against its "+r.good.String()+" side", panels, drawing.Cautions())
}

// closedOnce is the path opened, with its first point again at its end, for a pen.
func closedOnce(p outline.Path) outline.Path {
	q := outline.Path{Vertices: slices.Clone(p.Vertices)}
	if p.Closed {
		q.Vertices = append(q.Vertices, outline.Vertex{P: p.Vertices[0].P})
	}
	return q
}

// blank draws the former's blank.
func (r *result) blank(name string) drawing.Drawing {
	piece := r.ring.Pieces[0]
	d := drawing.Drawing{Name: name, Title: r.ring.Former.Title, NotForCutting: r.ring.Stopped(),
		Notes: append([]string{drawing.SheetText(r.ring.Former.Sheet), "flange up, toward the viewer"}, drawing.Cautions()...)}
	d.Add(drawing.Cut, "blank", piece.Outline)
	for _, p := range piece.Openings {
		d.Add(drawing.Cut, "opening", p)
	}
	for _, p := range piece.Near {
		d.Add(drawing.BendTangent, "tangent beside the web", p)
	}
	for _, p := range piece.Far {
		d.Add(drawing.BendTangent, "tangent beside the flange", p)
	}
	for _, p := range piece.Mold {
		d.Add(drawing.Mold, "mold line", p)
	}
	return d
}

// drawMade shows the made blank on the wanted one.
func (r *result) drawMade(w io.Writer) error {
	piece := r.ring.Pieces[0]
	lines := []chart.Line{{Ink: chart.Fair, Name: "wanted", P: drawing.Chords(closedOnce(piece.Outline), 0.05)}}
	for _, p := range piece.Openings {
		lines = append(lines, chart.Line{Ink: chart.Fair, P: drawing.Chords(closedOnce(p), 0.05)})
	}
	var in, out []r2.Vec
	var whiskers []r2.Vec
	for _, d := range r.made.Deviations {
		end := r2.Add(d.Nearest, r2.Scale(2*enlarged, r2.Sub(d.At, d.Nearest)))
		whiskers = append(whiskers, d.Nearest, end, r2.Vec{X: math.NaN()})
		if math.Abs(d.Off) <= r.tolerance {
			in = append(in, end)
		} else {
			out = append(out, end)
		}
	}
	worst := r.made.Deviations[r.made.Worst]
	panel := chart.Panel{Title: fmt.Sprintf("Best fit, deviations drawn %d times", 2*enlarged), X: "mm", Y: "mm", Height: 0.82, Equal: true,
		Lines: append(lines, chart.Line{Ink: chart.Measure, P: whiskers}),
		Dots:  []chart.Dots{{Ink: chart.Good, Name: "within tolerance", P: in}, {Ink: chart.Bad, Name: "out", Size: 3, P: out}},
		Words: []chart.Word{{Ink: chart.Bad, At: r2.Add(worst.Nearest, r2.Scale(2*enlarged, r2.Sub(worst.At, worst.Nearest))), Text: fmt.Sprintf("%+.2f mm", worst.Off)}}}
	return chart.Draw(w, "Made blank against wanted: "+r.verdict(), []chart.Panel{panel}, append([]string{"Points: " + r.madeBy + ". Plus is too much metal."}, drawing.Cautions()...))
}

func (r *result) verdict() string {
	if r.made.Pass {
		return fmt.Sprintf("PASS, all within ±%.2f mm", r.tolerance)
	}
	return fmt.Sprintf("FAIL, %d of %d points outside ±%.2f mm", len(r.made.Outside), len(r.made.Deviations), r.tolerance)
}

func (r *result) report(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "Section at station %.0f: %d points kept of the slab, %d strays dropped, cells of %.1f mm\n", r.station, len(r.cut.Points), len(r.cut.Strays), r.cut.Cell)
	for _, g := range r.cut.Gaps {
		i, _ := slices.BinarySearch(r.cut.Along, g.From)
		fmt.Fprintf(&b, "  no points for %.0f mm of girth, from (%.0f, %.0f) on the %s side\n", g.To-g.From, r.cut.Points[i].X, r.cut.Points[i].Y, sideOf(r.cut.Points[i]))
	}
	fmt.Fprintf(&b, "  %s side faired: %.3f mm rms off %d points, %d left out\n", r.good, r.fit.RMS, len(r.true.Points), len(r.fit.Outliers))
	worst := bin{}
	for _, t := range r.tally() {
		if math.Abs(t.median) > math.Abs(worst.median) {
			worst = t
		}
	}
	fmt.Fprintf(&b, "  most distortion %+.1f mm at girth %.0f, %s side\n", worst.median, (worst.from+worst.to)/2, sideOf(worst.at))
	fmt.Fprintf(&b, "Mold line of the former: %.4f mm (%s) inside the skin, %d arcs, %.1f mm round\n", r.thickness, measure.InchText(r.thickness, 3), len(r.mold.Vertices), r.mold.Length())
	if stretch, shrink, ok := r.ring.Outer.Worst(); ok {
		fmt.Fprintf(&b, "  strain of the flange's edge: %+.1f to %+.1f %%\n", 100*shrink.Value(), 100*stretch.Value())
	}
	for _, f := range r.ring.Findings {
		fmt.Fprintf(&b, "  %v\n", f)
	}
	if r.madeBy != "" {
		fmt.Fprintf(&b, "Made blank (%s): %s; turned %v, worst %+.2f mm\n", r.madeBy, r.verdict(), r.made.Turn, r.made.Deviations[r.made.Worst].Off)
	}
	for _, line := range drawing.Cautions() {
		fmt.Fprintln(&b, line)
	}
	_, err := io.WriteString(w, b.String())
	return err
}
