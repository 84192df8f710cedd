package paper

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
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

func holesBlock(b flat.Blank, opt CardOptions) block {
	out := block{
		title:   "RELIEFS AND HOLES  (centres from the datum)",
		columns: append(left("what", "panel"), append(right("diameter, inch / mm"), append(left("drill"), right("x, inch", "y, inch", "x, mm", "y, mm")...)...)...),
	}
	if opt.Fractions {
		out.columns = append(out.columns, right("Ø, 1/64", "x, 1/64", "y, 1/64")...)
	}
	datum := b.Outline.Bounds().Min
	drilled := false
	add := func(what, panel string, at r2.Vec, size, drill, sixtyFourths string) {
		p := r2.Sub(at, datum)
		drilled = drilled || drill != ""
		row := []string{strings.TrimSpace(what), panel, size, drill, measure.Fixed(p.X/measure.Inch, 4), measure.Fixed(p.Y/measure.Inch, 4), measure.Fixed(p.X, 3), measure.Fixed(p.Y, 3)}
		if opt.Fractions {
			row = append(row, sixtyFourths, fraction(p.X), fraction(p.Y))
		}
		out.rows = append(out.rows, row)
	}
	for _, r := range b.Reliefs {
		if r.Kind == flat.Notched {
			continue // sawn, not drilled: a finding tells of it
		}
		add("relief "+oneLine(r.Corner), "", r.Center, pair(r.Diameter), drillName(r.Diameter), fraction(r.Diameter))
	}
	for _, e := range b.EndSlots {
		add("slot beside "+oneLine(e.Place()), panelName(b, e.Panel), e.Center, pair(e.Width), drillName(e.Width), fraction(e.Width))
	}
	for _, h := range b.Holes {
		if h.Row != 0 {
			continue // its row tells
		}
		what := h.Purpose.String() + " " + oneLine(h.Name)
		if h.Purpose == flat.FlangedPilot {
			what += ", lip " + h.Lip.Turn.String()
		}
		add(what, panelName(b, h.Panel), h.Center, pair(h.Diameter), drillName(h.Diameter), fraction(h.Diameter))
	}
	for _, c := range b.Cutouts {
		add("cut-out "+oneLine(c.Name), panelName(b, c.Panel), c.Path.Bounds().Center(), "see its outline", "", "")
	}
	if drilled {
		out.lines = []string{"Drill: the fraction, number or letter within .001 in; numbers and letters from memory, read them off the shank."}
	}
	return out
}

// drillName is the drill that makes a hole of this diameter, where one does.
func drillName(mm float64) string {
	d, _ := material.DrillFor(mm)
	return d.Name
}

// panelName is the name of a panel of the blank, where it has that panel.
func panelName(b flat.Blank, i int) string {
	if i < 0 || i >= len(b.Panels) {
		return ""
	}
	return oneLine(b.Panels[i].Name)
}

// marksBlock lists the lines to scribe or pencil, such as the ends of joggles.
func marksBlock(b flat.Blank) block {
	out := block{title: "LINES TO MARK, never to cut  (from the datum)", columns: append(left("what"), right("ends, inch", "ends, mm")...)}
	for _, m := range b.Marks {
		inch, mm := fromTo(b, m.Line)
		out.rows = append(out.rows, []string{oneLine(m.Text), inch, mm})
	}
	if len(b.Marks) > 0 {
		out.lines = []string{"A joggle slopes from where it starts to where it ends; past its end the flange lies offset: inward, toward the inside of its bend, or outward. The fold that proves the blank leaves joggles flat."}
	}
	return out
}

// moldBlock gives the web from mold line to mold line, as its drawing dimensions it: what a
// picture may have no room for, and what the folded part is held against.
func moldBlock(b flat.Blank) block {
	out := block{
		title:   "WEB FROM MOLD LINE TO MOLD LINE, counter-clockwise  (x, y from the datum)",
		columns: append(left("edge"), right("length, inch / mm", "corner at its start", "x, inch", "y, inch", "x, mm", "y, mm")...),
	}
	datum := b.Outline.Bounds().Min
	edges := b.Part.Web.Edges
	for i, e := range edges {
		before, after := edges[(i+len(edges)-1)%len(edges)], edges[(i+1)%len(edges)]
		corner := "beside an arc"
		if e.Bulge == 0 && before.Bulge == 0 {
			to, from := r2.Sub(after.Start, e.Start), r2.Sub(before.Start, e.Start)
			corner = inside(measure.Angle(math.Atan2(r2.Cross(to, from), r2.Dot(to, from)))).Text(2)
		}
		name := oneLine(e.Name)
		if name == "" {
			name = strconv.Itoa(i + 1)
		}
		side := outline.Segment{A: e.Start, B: after.Start, Bulge: e.Bulge}
		p := r2.Sub(e.Start, datum)
		out.rows = append(out.rows, []string{
			name, pair(side.Length()), corner, measure.Fixed(p.X/measure.Inch, 4), measure.Fixed(p.Y/measure.Inch, 4), measure.Fixed(p.X, 3), measure.Fixed(p.Y, 3),
		})
	}
	return out
}

// inside is a corner of the web as its metal fills it, 0 to 360°.
func inside(turn measure.Angle) measure.Angle {
	if turn < 0 {
		return turn + 360*measure.Degree
	}
	return turn
}

const outlineTitle = "CUT OUTLINE, counter-clockwise from the datum"

// outlineBlock lists the cut line, so that it can be marked out or checked by hand.
func outlineBlock(b flat.Blank) block {
	out := block{
		title:   outlineTitle,
		columns: append(right("", "x, inch", "y, inch", "x, mm", "y, mm"), left("then")...),
	}
	datum := b.Outline.Bounds().Min
	list := func(prefix string, path outline.Path) {
		for i, s := range path.Segments() {
			p := r2.Sub(s.A, datum)
			then := "straight"
			if !s.IsLine() {
				c, way := r2.Sub(s.Center(), datum), "counter-clockwise"
				if s.Bulge < 0 {
					way = "clockwise"
				}
				then = fmt.Sprintf("arc R %s %s about (%s) mm", pair(s.Radius()), way, point(c, 1, 3))
			}
			out.rows = append(out.rows, []string{
				prefix + strconv.Itoa(i+1), measure.Fixed(p.X/measure.Inch, 4), measure.Fixed(p.Y/measure.Inch, 4), measure.Fixed(p.X, 3), measure.Fixed(p.Y, 3), then,
			})
		}
	}
	list("", b.Outline)
	for _, c := range b.Cutouts {
		list(oneLine(c.Name)+" ", c.Path)
	}
	return out
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
