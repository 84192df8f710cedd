package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat/paper"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

// A chart is a table of allowances: thickness down the side, inside radius along the top.
type chart struct {
	title, law  string
	radii       []float64 // mm
	thicknesses []float64 // mm
	cells       [][]chartCell
}

type chartCell struct {
	allowance, perDegree float64 // mm
	sharp                bool    // below the strictest radius that was read, or not known
	none                 string  // why there is no figure
}

// radiiShown are the bars of the bench, in 1/32 in.
const radiiShown = 16

func answerChart(c clauses, w io.Writer) error {
	rule := c.by()
	angle := c.angle("angle", c.or("angle", "90 deg"))
	m, stated := c.of()
	if !stated {
		c.one("of")
	}
	if text := c.or("chart", ""); text != "" {
		c.faults = append(c.faults, fmt.Errorf("%q after chart is not understood", text))
	}
	if err := c.err(); err != nil {
		return err
	}
	ch, err := newChart(m, rule, angle)
	if err != nil {
		return err
	}
	if err := paper.SaveAll(c.or("into", "out"), []paper.File{
		{Name: "bend-chart.svg", Write: ch.page().svg},
		{Name: "bend-chart.pdf", Write: ch.page().pdf},
	}); err != nil {
		return err
	}
	_, err = io.WriteString(w, ch.text())
	return err
}

func newChart(m material.Material, rule bend.Rule, angle measure.Angle) (chart, error) {
	probe, err := rule.Allowance(bend.Bend{Angle: angle, Radius: measure.Inch / 8, Thickness: measure.Inch / 16})
	if err != nil {
		return chart{}, err
	}
	ch := chart{
		title: fmt.Sprintf("Bend allowance, %s, %s turned", m, angle),
		law:   fmt.Sprintf("%s: %s [%s]", probe.Law.Name, probe.Law.Formula, probe.Law.Source),
	}
	for i := 1; i <= radiiShown; i++ {
		ch.radii = append(ch.radii, float64(i)*measure.Inch/32)
	}
	for _, t := range material.StockThicknesses() {
		if t > measure.Inch/8+1e-9 {
			break
		}
		ch.thicknesses = append(ch.thicknesses, t)
		limit, limitErr := m.MinBendRadius(t)
		var row []chartCell
		for _, r := range ch.radii {
			a, err := rule.Allowance(bend.Bend{Angle: angle, Radius: r, Thickness: t})
			if err != nil {
				row = append(row, chartCell{none: err.Error()})
				continue
			}
			row = append(row, chartCell{
				allowance: a.Length, perDegree: a.Length / angle.Degrees(),
				sharp: limitErr != nil || limit.NotRecommended || material.Sharper(r, limit.Value),
			})
		}
		ch.cells = append(ch.cells, row)
	}
	return ch, nil
}

// key are the lines under the table.
func (ch chart) key() []string {
	return []string{
		"Upper figure: allowance, in. Lower figure: allowance per degree, in.",
		"* and shaded: sharper than the strictest table read for this sheet, or no table reaches it. A dash: the rule has no answer.",
		ch.law,
	}
}

func (ch chart) text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n\n%-6s", ch.title, "T \\ R")
	for _, r := range ch.radii {
		fmt.Fprintf(&b, "%9s", radiusText(r))
	}
	b.WriteString("\n")
	for i, t := range ch.thicknesses {
		var upper, lower strings.Builder
		for _, c := range ch.cells[i] {
			u, l := c.figures()
			fmt.Fprintf(&upper, "%9s", u)
			fmt.Fprintf(&lower, "%9s", l)
		}
		fmt.Fprintf(&b, "%-6s%s\n%-6s%s\n", strings.TrimSuffix(measure.InchText(t, 3), " in"), upper.String(), "", lower.String())
	}
	b.WriteString("\n" + strings.Join(ch.key(), "\n") + "\n")
	return b.String()
}

func (c chartCell) figures() (upper, lower string) {
	if c.none != "" {
		return "-", "-"
	}
	mark := " "
	if c.sharp {
		mark = "*"
	}
	return fmt.Sprintf("%.3f%s", c.allowance/measure.Inch, mark), fmt.Sprintf("%.6f", c.perDegree/measure.Inch)
}

func radiusText(mm float64) string {
	text, _ := measure.FractionText(mm)
	return strings.TrimSuffix(text, " in")
}
