package paper

import (
	"math"
	"slices"
	"strconv"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// cardBlocks sets out everything that stands on a bench card, in the order of
// the work.
func cardBlocks(b flat.Blank, opt CardOptions) []block {
	blocks := []block{
		sheetBlock(b),
		blankBlock(b, opt),
		findingsBlock(b),
		bendsBlock(b),
		overbendBlock(b),
		lengthsBlock(b),
		fractionsBlock(b, opt),
		scatterBlock(b),
		fitsBlock(b),
		doubtsBlock(opt),
		brakeBlock(b, opt),
		heldBlock(b, opt),
		holesBlock(b, opt),
		rivetsBlock(b),
		marksBlock(b),
		moldBlock(b),
		outlineBlock(b),
		{title: "WORKING  (lengths put in as inches; answers in inches and mm)", working: workingOf(b)},
		proofBlock(b),
		cautionsBlock(),
		inspectionBlock(b),
	}
	return slices.DeleteFunc(blocks, func(b block) bool { return len(b.rows)+len(b.lines)+len(b.working) == 0 })
}

func left(heads ...string) []column  { return columns(false, heads) }
func right(heads ...string) []column { return columns(true, heads) }

func columns(right bool, heads []string) []column {
	all := make([]column, len(heads))
	for i, h := range heads {
		all[i] = column{h, right}
	}
	return all
}

func sheetBlock(b flat.Blank) block {
	s := b.Part.Sheet
	grain := "not stated: lay the bends across the grain where possible"
	if s.Grain.Stated {
		grain = s.Grain.Angle.String() + " from x, counter-clockwise on the marking face"
	}
	thickness := measure.Both(s.Thickness)
	if gauge := s.GaugeText(); gauge != "" {
		thickness += ", given as " + gauge
	}
	rows := [][]string{
		{"material", s.Material.String()},
		{"thickness T", thickness},
		{"grain", grain},
	}
	for _, law := range laws(b) {
		rows = append(rows, []string{"allowance", law})
	}
	return block{title: "SHEET", columns: left("", ""), rows: rows}
}

// laws lists the laws the bends were worked by, each once: a law may come in
// several pieces by R/T that read alike.
func laws(b flat.Blank) []string {
	var all []string
	for _, l := range b.Bends {
		if law := l.Allowance.Law; law != nil {
			text := law.Name + ": " + law.Formula + "   [" + law.Source.String() + "]"
			if !slices.Contains(all, text) {
				all = append(all, text)
			}
		}
	}
	return all
}

func blankBlock(b flat.Blank, opt CardOptions) block {
	box := b.Outline.Bounds()
	size := box.Size()
	rows := [][]string{
		lengthRow("overall, along x", size.X, opt),
		lengthRow("overall, along y", size.Y, opt),
		lengthRow("datum of the blank, x", box.Min.X, opt),
		lengthRow("datum of the blank, y", box.Min.Y, opt),
		lengthCut("length of cut, outline", b.Outline.Length()),
	}
	if len(b.Holes)+len(b.Cutouts) > 0 {
		rows = append(rows, lengthCut("length of cut, openings", openingsCut(b)))
	}
	rows = append(rows, []string{"area, openings off", measure.Fixed(b.Area/(measure.Inch*measure.Inch), 3) + " in²", measure.Fixed(b.Area, 1) + " mm²", ""})
	if b.Mass > 0 {
		rows = append(rows, []string{"mass", measure.Fixed(b.Mass/poundMass, 4) + " lb", measure.Fixed(b.Mass, 1) + " g", ""})
	} else {
		rows = append(rows, []string{"mass", "not known", "no density", ""})
	}
	return block{
		title: "BLANK", columns: append(left(""), right("inch", "mm", "")...), rows: rows,
		lines: []string{"The datum is the lower left corner of the box round the blank, in web coordinates. Pictures and tables below count from it."},
	}
}

// fraction is a length to the 1/64 inch of a rule.
func fraction(mm float64) string {
	text, _ := measure.FractionText(mm)
	return text
}

func lengthCut(name string, mm float64) []string {
	return []string{name, measure.InchText(mm, 3), measure.MmText(mm, 2), ""}
}

// openingsCut is how far the cutter goes round the holes and cut-outs.
func openingsCut(b flat.Blank) (mm float64) {
	for _, h := range b.Holes {
		mm += math.Pi * h.Diameter
	}
	for _, c := range b.Cutouts {
		mm += c.Path.Length()
	}
	return mm
}

// poundMass is exact: 0.45359237 kg, by the agreement of 1959.
const poundMass = 453.59237

func lengthRow(name string, mm float64, opt CardOptions) []string {
	row := []string{name, measure.InchText(mm, 4), measure.MmText(mm, 3), ""}
	if opt.Fractions {
		row[3] = fraction(mm)
	}
	return row
}

func pair(mm float64) string { return measure.Fixed(mm/measure.Inch, 4) + " / " + measure.Fixed(mm, 3) }

// fromTo tells where a line begins and ends, from the datum.
func fromTo(b flat.Blank, line outline.Path) (inch, mm string) {
	n := len(line.Vertices)
	if n < 2 {
		return "", ""
	}
	datum := b.Outline.Bounds().Min
	from, to := r2.Sub(line.Vertices[0].P, datum), r2.Sub(line.Vertices[n-1].P, datum)
	return point(from, measure.Inch, 3) + " - " + point(to, measure.Inch, 3), point(from, 1, 2) + " - " + point(to, 1, 2)
}

func point(p r2.Vec, unit float64, decimals int) string {
	return measure.Fixed(p.X/unit, decimals) + ", " + measure.Fixed(p.Y/unit, decimals)
}

// findingsBlock lists the findings, the gravest first. What is found of several
// places alike is said once.
func findingsBlock(b flat.Blank) block {
	out := block{title: "FINDINGS"}
	for s := flat.Stop; ; s-- {
		out.lines = append(out.lines, alike(b.Findings, s)...)
		if s == flat.Note {
			break
		}
	}
	if len(out.lines) == 0 {
		out.lines = []string{"none"}
	}
	return out
}

func alike(all []flat.Finding, s flat.Severity) []string {
	var said []flat.Finding
	for _, f := range all {
		if f.Severity != s {
			continue
		}
		same := slices.IndexFunc(said, func(g flat.Finding) bool {
			return g.Text == f.Text && g.Figure == f.Figure && g.Limit == f.Limit && g.Unit == f.Unit && g.Source == f.Source
		})
		if same >= 0 {
			said[same].Place += "; " + f.Place
			continue
		}
		said = append(said, f)
	}
	lines := make([]string, len(said))
	for i, f := range said {
		lines[i] = oneLine(f.String())
	}
	return lines
}

func proofBlock(b flat.Blank) block {
	row := func(what string, mm float64) []string {
		// What is left below this is rounding, and not the same on every processor.
		const rounding = 1e-9
		if mm < rounding {
			return []string{what, "under 1e-09 mm"}
		}
		return []string{what, strconv.FormatFloat(mm, 'e', 1, 64) + " mm"}
	}
	out := block{
		title: "PROOF", columns: append(left("folded back from the flat alone, the largest distance of"), right("")...),
		rows: [][]string{
			row("a mold line from the one asked for", b.Proof.MoldLine),
			row("a flange face from its plane", b.Proof.Plane),
			row("a hole centre from its place", b.Proof.Hole),
			row("a free edge from its place", b.Proof.Edge),
		},
	}
	if b.Part.Site != nil {
		out.rows = append(out.rows, row("a flange face from the surroundings, less clearance", b.Proof.Fit))
	}
	return out
}

// inspectionBlock is where the inspector writes: what is wanted, how far it may be
// out, and what was measured.
func inspectionBlock(b flat.Blank) block {
	const allowed, measured = "_____", "________"
	size := b.Outline.Bounds().Size()
	out := block{
		title: "INSPECTION",
		columns: append(append(left("no", "flange"), append(right("between legs"), left("±", "measured")...)...),
			append(append(right("radius R"), left("±", "measured")...), append(right("height H"), left("±", "measured")...)...)...),
		written: true,
		lines: []string{
			"±: as the drawing or the approved data allow, filled in before bending. R and H in inch / mm, H from mold line to edge.",
			"Before bending: thickness " + measure.Both(b.Part.Sheet.Thickness) + " measured ____________",
			"Overall, along x " + measure.Both(size.X) + " ____________   along y " + measure.Both(size.Y) + " ____________",
			"Cut by ____________________________   Bent by ____________________________   Test bend no. ________________",
			"Inspector _________________________   Signature __________________________   Date _________________________",
		},
	}
	for _, e := range ends(b, true) {
		row := []string{e.no, e.name, e.at.Angle.Opening().Text(2), allowed, measured, pair(e.at.Radius), allowed, measured, pair(e.height), allowed, measured}
		if e.again {
			copy(row[2:8], make([]string, 6))
		}
		out.rows = append(out.rows, row)
	}
	return out
}

// workingOf is the trail of every number that was computed.
func workingOf(b flat.Blank) []workingLine {
	steps := b.Working()
	if density, source, err := b.Part.Sheet.Material.Density(); err == nil && b.Mass > 0 {
		steps = append(steps, bend.Step{
			Quantity: "mass, from S in mm², T in mm, d in g/cm³", Symbol: "m", Formula: "S·T·d/1000",
			Inputs: []bend.Input{{Symbol: "S", Value: b.Area}, {Symbol: "T", Value: b.Part.Sheet.Thickness}, {Symbol: "d", Value: density}},
			Value:  b.Mass, Unit: bend.Mass, Source: source,
		})
	}
	lines := make([]workingLine, len(steps))
	for i, s := range steps {
		lines[i] = workingLine{s.Symbol, oneLine(s.Quantity), s.Equation(bend.Inches), s.Answer(), s.Source.String()}
	}
	return lines
}
