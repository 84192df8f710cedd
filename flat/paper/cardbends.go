package paper

import (
	"fmt"
	"math"
	"strconv"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/material/measure"
)

// An end is a bend at one end of its edge, or all along it.
type end struct {
	no, name string
	line     flat.BendLine
	at       bend.Bend
	height   float64
	again    bool // the far end of a bend that only tapers: all but the height was said
}

// ends lists a bend once that is the same all along its edge, and both ends of one
// whose bevel changes, or whose height does where tapers count.
func ends(b flat.Blank, tapers bool) []end {
	var all []end
	for i, l := range b.Bends {
		one := end{no: strconv.Itoa(i + 1), name: oneLine(l.Name), line: l, at: l.Bend, height: l.Height}
		bevel, taper := l.EndBend != l.Bend, tapers && l.HeightEnd != l.Height
		if !bevel && !taper {
			all = append(all, one)
			continue
		}
		far := one
		far.at, far.height, far.again = l.EndBend, l.HeightEnd, !bevel
		one.name, far.name = one.name+", start", far.name+", end"
		all = append(all, one, far)
	}
	return all
}

func bendsBlock(b flat.Blank) block {
	out := block{title: "BENDS", columns: append(left("no", "flange", "turn"), append(right("turned from flat", "between legs"), left("kind")...)...)}
	for _, e := range ends(b, false) {
		a := e.at.Angle
		out.rows = append(out.rows, []string{e.no, e.name, turnText(e.line.Turn), a.Text(3), a.Opening().Text(3), kind(a)})
	}
	return out
}

func turnText(t flat.Turn) string {
	if t == flat.Down {
		return "DOWN, away from the reader"
	}
	return "UP, toward the reader"
}

// kind is the trade's word for a bend by how far it is turned.
func kind(a measure.Angle) string {
	const square = 90 * measure.Degree
	switch {
	case math.Abs(float64(a-square)) < 1e-9:
		return "square bend"
	case a < square:
		return "open bend"
	}
	return "closed bend"
}

// lengthsBlock gives the lengths of each bend, inch / mm.
func lengthsBlock(b flat.Blank) block {
	out := block{
		title:   "BEND LENGTHS, inch / mm",
		columns: append(left("no", "flange"), right("radius R", "setback SB", "allowance BA", "deduction BD", "height H", "flat H - SB")...),
	}
	for _, e := range ends(b, true) {
		ba, errBA := rule(b).Allowance(e.at)
		sb, errSB := e.at.Setback()
		if errBA != nil || errSB != nil {
			sb, ba = e.line.Setback, e.line.Allowance
		}
		row := []string{e.no, e.name, pair(e.at.Radius), pair(sb), pair(ba.Length), pair(2*sb - ba.Length), pair(e.height), pair(e.height - sb)}
		if e.again {
			copy(row[2:6], []string{"", "", "", ""})
		}
		out.rows = append(out.rows, row)
	}
	out.lines = flatsBetween(b)
	return out
}

// flatsBetween tells of flanges that carry others how much of their flat lies between the two bends.
func flatsBetween(b flat.Blank) (lines []string) {
	for _, lip := range b.Bends {
		for _, l := range b.Bends {
			if l.Child == lip.Parent {
				lines = append(lines, fmt.Sprintf("%s: the flat between its bend and that of %s is H - SB less the setback of that, %s.", oneLine(l.Name), oneLine(lip.Name), pair(l.Height-l.Setback-lip.Setback)))
			}
		}
	}
	return lines
}

// fractionsBlock gives what is marked out of each bend to the 1/64 inch of a rule.
func fractionsBlock(b flat.Blank, opt CardOptions) block {
	out := block{title: "FLANGES TO 1/64 INCH", columns: append(left("no", "flange"), right("height H", "flat H - SB", "sight line R")...)}
	if !opt.Fractions {
		return block{}
	}
	for _, e := range ends(b, true) {
		sb, err := e.at.Setback()
		if err != nil {
			sb = e.line.Setback
		}
		row := []string{e.no, e.name}
		for _, x := range []float64{e.height, e.height - sb, e.at.Radius} {
			row = append(row, fraction(x))
		}
		out.rows = append(out.rows, row)
	}
	return out
}

// scatterBlock tells how far a flange is likely to come out from its height, and what
// to better first. The panel it hangs from is held at its tangent line, so that the
// flange takes all of the difference.
func scatterBlock(b flat.Blank) block {
	out := block{
		title:   "SCATTER TO EXPECT of a height H, two standard deviations, inch / mm",
		columns: append(left("no", "flange"), append(right("± as it comes", "± after three test strips"), left("most from")...)...),
		lines: []string{
			"Taken: thickness within 5 %, radius within 5 %, angle within 1°, K within 0.1 [common practice; the shop's own figures are better]. Test strips settle K. Where the drawing allows less, leave metal and trim after bending.",
		},
	}
	for _, e := range ends(b, false) {
		t, err := bend.LegTolerance(rule(b), e.at, bend.SheetSpread(e.at), bend.TurnedLeg)
		if err != nil {
			continue // a fold flat on itself has no mold line to measure from
		}
		out.rows = append(out.rows, []string{e.no, e.name, pair(2 * t.Leg), pair(2 * t.AfterStrips), t.Largest.Name})
	}
	if len(out.rows) == 0 {
		return block{}
	}
	return out
}

// rule is what the part's allowances are worked by.
func rule(b flat.Blank) bend.Rule {
	if b.Part.Rule == nil {
		return bend.Handbook{}
	}
	return b.Part.Rule
}
