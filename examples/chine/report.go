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
	"github.com/hangarflat/hangarflat/flat/loft"
	"github.com/hangarflat/hangarflat/material/measure"
)

func inch(mm float64) string { return measure.Fixed(mm/measure.Inch, 3) }

func mmText(mm float64) string { return measure.Fixed(mm, 2) }

const notForCutting = "NOT FOR CUTTING: a reading is in doubt"

// warning is what stands above a table of a doubtful line, which would be chalked or cut all the same.
func (j jig) warning() [][]string {
	if len(j.chine.Doubts) == 0 {
		return nil
	}
	return [][]string{{"# " + notForCutting}}
}

// offsets is the table of offsets as faired, with what each reading lies off it.
func (j jig) offsets(w io.Writer) error {
	out := csv.NewWriter(w)
	rows := j.warning()
	rows = append(rows, []string{"station [in]", "station [mm]", "chine as faired [in]", "chine as faired [mm]", "mean reading less faired [mm]", "second difference [mm]", "off its neighbours [mm]", "off the line faired without it [mm]", "radius of curvature [mm]"})
	for _, s := range j.chine.Stations {
		rows = append(rows, []string{inch(s.At), mmText(s.At), inch(s.Faired), mmText(s.Faired), mmText(s.Residual),
			blank(s.SecondDifference), blank(s.ByNeighbours), blank(s.LeftOut), radius(j.chine.Curvature(s.At))})
	}
	return out.WriteAll(rows)
}

func blank(v float64) string {
	if math.IsNaN(v) {
		return ""
	}
	return mmText(v)
}

// straightRadius is the radius past which a line is called straight: it rises less
// than a hundredth of a millimetre in a metre.
const straightRadius = 1e7

func radius(curvature float64) string {
	if r := 1 / math.Abs(curvature); r < straightRadius {
		return strconv.FormatFloat(math.Copysign(r, curvature), 'f', 0, 64)
	}
	return "straight"
}

func (j jig) jointRadius() string {
	r := radius(math.Abs(j.jointBend))
	if r == "straight" {
		return r
	}
	return "radius " + r + " mm or more"
}

// chalkTable is for the floor: along the chalked line, and up square to it.
func (j jig) chalkTable(w io.Writer, marks []loft.ChalkMark) error {
	out := csv.NewWriter(w)
	rows := append(j.warning(), []string{"along the line [in]", "height [in]", "along the line [mm]", "height [mm]", "along the batten [mm]"})
	for _, m := range marks {
		along, _ := measure.FractionText(m.Along)
		height, _ := measure.FractionText(m.Height)
		rows = append(rows, []string{strings.TrimSuffix(along, " in"), strings.TrimSuffix(height, " in"), mmText(m.Along), mmText(m.Height), mmText(m.Girth)})
	}
	return out.WriteAll(rows)
}

// report says on the screen what the maker has to know.
func (j jig) report(w io.Writer) error {
	var b strings.Builder
	c := j.chine
	from, to := c.Range()
	fmt.Fprintf(&b, "Chine %s to %s, %d stations, %d readings\n", measure.InchText(from, 1), measure.InchText(to, 1), len(c.Stations), len(c.Residuals))
	for _, d := range j.dropped {
		fmt.Fprintf(&b, "  left out: station %s\n", measure.InchText(d, 1))
	}
	fmt.Fprintf(&b, "  readings lie %s mm rms off the line, %s mm at most\n", mmText(c.RMS), mmText(max(slices.Max(c.Residuals), -slices.Min(c.Residuals))))
	for _, d := range c.Doubts {
		s := c.Stations[d.Station]
		fmt.Fprintf(&b, "  MEASURE AGAIN station %s: %s in seems %s in off; its neighbours foretell %s in", measure.InchText(s.At, 1),
			inch(s.Offset), inch(d.Off), inch(s.Offset-d.Off))
		for _, o := range d.Or {
			fmt.Fprintf(&b, ", or station %s is wrong", measure.InchText(c.Stations[o].At, 1))
		}
		b.WriteString("\n")
	}
	if len(c.Doubts) > 0 {
		b.WriteString("  The board is marked NOT FOR CUTTING and no paper pattern is made. Put a second reading in the table,\n  or leave the station out with -drop.\n")
	}
	if t := turns(c.Inflections()); t != "" {
		fmt.Fprintln(&b, " ", t)
	}
	fmt.Fprintf(&b, "  join the chine angle between stations %s and %s: %s\n", measure.InchText(j.joint.From, 1), measure.InchText(j.joint.To, 1), j.jointRadius())
	fmt.Fprintf(&b, "  length along the chine %s\n", measure.Both(c.Girth(from, to)))
	for _, line := range drawing.Cautions() {
		fmt.Fprintln(&b, line)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// turns tells where the line changes between hollow and round.
func turns(at []float64) string {
	if len(at) == 0 {
		return ""
	}
	var words []string
	for _, x := range at {
		words = append(words, measure.InchText(x, 1))
	}
	return "turns between hollow and round at " + strings.Join(words, ", ")
}

// draw shows readings and line, the residuals in their tolerances, and the
// curvature with the place for a joint.
func (j jig) draw(w io.Writer) error {
	const steps = 400
	c := j.chine
	from, to := c.Range()
	line, bend := make([]r2.Vec, steps+1), make([]r2.Vec, steps+1)
	for i := range line {
		x := from + (to-from)*float64(i)/steps
		line[i] = r2.Vec{X: x / measure.Inch, Y: c.At(x)}
		bend[i] = r2.Vec{X: x / measure.Inch, Y: c.Curvature(x) * 1000}
	}
	doubtful := map[int]bool{}
	for _, d := range c.Doubts {
		doubtful[d.Station] = true
	}
	var good, bad, off, offBad []r2.Vec
	var bars []r2.Vec
	lift := math.NaN()
	var words []chart.Word
	for i, s := range c.Stations {
		at, res := r2.Vec{X: s.At / measure.Inch, Y: s.Offset}, r2.Vec{X: s.At / measure.Inch, Y: s.Residual}
		bars = append(bars, r2.Vec{X: at.X, Y: s.Low - s.Faired}, r2.Vec{X: at.X, Y: s.High - s.Faired}, r2.Vec{X: lift})
		if doubtful[i] {
			bad, offBad = append(bad, at), append(offBad, res)
			words = append(words, chart.Word{Ink: chart.Bad, At: at, Text: "measure again"})
			continue
		}
		good, off = append(good, at), append(off, res)
	}
	for _, s := range j.rail.Stations {
		good = append(good, r2.Vec{X: s.At / measure.Inch, Y: s.Offset})
	}
	rail := []r2.Vec{}
	r0, r1 := j.rail.Range()
	for _, x := range []float64{r0, r1} {
		rail = append(rail, r2.Vec{X: x / measure.Inch, Y: j.rail.At(x)})
	}
	ends := []r2.Vec{{X: from / measure.Inch}, {X: to / measure.Inch}}
	joint := []r2.Vec{{X: j.joint.From / measure.Inch}, {X: j.joint.To / measure.Inch}}
	panels := []chart.Panel{
		{Title: "Chine and rail above the base line", Y: "height, mm",
			Lines: []chart.Line{{Ink: chart.Second, Name: "rail, straight", P: rail}, {Ink: chart.Fair, Name: "chine, faired", P: line}},
			Dots:  []chart.Dots{{Ink: chart.Measure, Name: "readings", Size: 3, P: good}, {Ink: chart.Bad, Size: 3.5, P: bad}}, Words: words},
		{Title: "Readings less line, in their tolerances", Y: "mm", Height: 0.16,
			Lines: []chart.Line{{Ink: chart.Guide, P: ends}, {Ink: chart.Measure, Name: "tolerance", P: bars}},
			Dots:  []chart.Dots{{Ink: chart.Good, Name: "mean reading", Size: 3, P: off}, {Ink: chart.Bad, Size: 3.5, P: offBad}}},
		{Title: "Curvature, where the chine angle must bend most", X: "station, in", Y: "1/m", Height: 0.16,
			Lines: []chart.Line{{Ink: chart.Guide, P: ends}, {Ink: chart.Fair, P: bend}, {Ink: chart.Good, Name: "flattest foot: join here", P: joint}}},
	}
	var notes []string
	if len(c.Doubts) > 0 {
		notes = append(notes, notForCutting)
	}
	if t := turns(c.Inflections()); t != "" {
		notes = append(notes, t)
	}
	return chart.Draw(w, "Chine as faired: "+j.name, panels, append(notes, drawing.Cautions()...))
}
