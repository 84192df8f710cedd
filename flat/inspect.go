package flat

import (
	"fmt"
	"math"
	"strconv"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat/fold"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Sources of what the findings hold a part against.
var (
	handbookRelief = material.Source{Document: "FAA-H-8083-31", Place: "ch. 4, relief holes", Provenance: material.Read}
	crackStarter   = material.Source{Document: "relief at corners, no sharp inner corner", Provenance: material.CommonPractice}
	handbookGrain  = material.Source{Document: "FAA-H-8083-31", Place: "ch. 4: bends lie across the grain", Provenance: material.Read}
	brakeHold      = material.Source{Document: "flat to hold in a brake", Provenance: material.CommonPractice}
	holeToBend     = material.Source{Document: "edge of an opening to a bend, 2T + R", Provenance: material.CommonPractice}
	holeToEdge     = material.Source{Document: "metal left between openings and edges, 2T", Provenance: material.CommonPractice}
	lipStretch     = material.Source{Document: "stretch of 2024-O by rubber pad, 10 to 12 %", Provenance: material.Memory}
	geometry       = material.Source{Document: "geometry of the blank", Provenance: material.Derived}
)

// inspect says what a good foreman would say of the part.
func (l *layout) inspect() {
	limits := limitsOf(l.part.Sheet)
	for i := range l.blank.Bends {
		l.inspectRadius(i, &limits)
		l.inspectHold(i)
		l.inspectGrain(i)
		l.inspectTwist(i)
		l.joggles(i)
	}
	if len(l.blank.Bends) > 0 && !l.part.Sheet.Grain.Stated {
		l.find(Finding{Severity: Note, Place: "sheet", Text: "grain direction is not stated: lay the bends across the grain where possible", Source: handbookGrain})
	}
	if f, asked := AskGauge("sheet", l.part.Sheet); asked {
		l.find(f)
	}
	l.inspectSurvey()
	l.inspectReliefs()
	l.inspectOpenings()
	l.inspectOutline()
	l.inspectClashes()
}

func (l *layout) find(f Finding) { l.blank.Findings = append(l.blank.Findings, f) }

func (l *layout) place(i int) (words string, at r2.Vec) {
	line := &l.blank.Bends[i]
	a, b := line.Center.Vertices[0].P, line.Center.Vertices[1].P
	return "flange " + strconv.Quote(line.Name), r2.Scale(0.5, r2.Add(a, b))
}

// AskGauge is the finding of a sheet that was given by the gauge of another metal; asked is false
// where there is nothing to ask. See [material.Sheet.GaugeDoubt].
func AskGauge(place string, s material.Sheet) (f Finding, asked bool) {
	doubt, asked := s.GaugeDoubt()
	if !asked {
		return Finding{}, false
	}
	f = Finding{Severity: Warn, Place: place, Text: doubt.Text, Source: doubt.Source}
	if doubt.Usual > 0 {
		f.Figure, f.Limit, f.Unit = s.Thickness, doubt.Usual, bend.Length
	}
	return f, true
}

// radiusLimits is what the published tables say of the least bend radius of a sheet.
type radiusLimits struct {
	unknown error            // no table speaks of the sheet
	against []material.Limit // tables that advise against bending it cold
	// The smallest of those read in print, the largest, and the largest upper end
	// of a printed range.
	lenient, strict, safe material.Limit
}

func limitsOf(s material.Sheet) radiusLimits {
	of := radiusLimits{lenient: material.Limit{Least: math.Inf(1)}}
	var limits []material.Limit
	limits, of.unknown = s.Material.MinBendRadii(s.Thickness)
	for _, limit := range limits {
		if limit.NotRecommended {
			of.against = append(of.against, limit)
			continue
		}
		if limit.Source.Provenance == material.Read && limit.Least < of.lenient.Least {
			of.lenient = limit
		}
		if limit.Least > of.strict.Least {
			of.strict = limit
		}
		if limit.Value > of.safe.Value {
			of.safe = limit
		}
	}
	return of
}

// inspectRadius tells what the rule of a bend says of its own answer, and the tables of its radius.
func (l *layout) inspectRadius(i int, limits *radiusLimits) {
	line := &l.blank.Bends[i]
	find := func(f Finding) {
		f.Place, f.At = l.place(i)
		l.find(f)
	}
	if line.Allowance.Caution != "" {
		find(Finding{Severity: Warn, Text: line.Allowance.Caution, Source: line.Allowance.Law.Source})
	}
	limits.judge(line.Bend.Radius, find)
}

// RadiusFindings holds an inside bend radius, mm, against every published table that speaks of the sheet. Sharper
// than the most lenient table that was read in print is a [Stop]; sharper than any other table is a [Warn], and names
// it; below the safer end of a printed range is a [Note]. A sheet of which no table speaks is a [Warn] too. Where
// the bend is, the caller knows: Place and At are left empty.
func RadiusFindings(s material.Sheet, radius float64) (list []Finding) {
	limits := limitsOf(s)
	limits.judge(radius, func(f Finding) { list = append(list, f) })
	return list
}

func (of *radiusLimits) judge(radius float64, find func(Finding)) {
	say := func(text string, source material.Source) {
		find(Finding{Severity: Warn, Text: text, Source: source})
	}
	if of.unknown != nil {
		say("no table gives a least bend radius for this sheet: "+of.unknown.Error()+"; prove the radius by a test bend", geometry)
		return
	}
	for _, limit := range of.against {
		say("the table advises against bending this sheet cold", limit.Source)
	}
	below := func(s Severity, text string, limit float64, source material.Source) {
		find(Finding{Severity: s, Text: text, Figure: radius, Limit: limit, Unit: bend.Length, Source: source})
	}
	switch {
	case !math.IsInf(of.lenient.Least, 1) && material.Sharper(radius, of.lenient.Least):
		below(Stop, "inside bend radius is below the least of every table: the bend may crack", of.lenient.Least, of.lenient.Source)
	case material.Sharper(radius, of.strict.Least):
		below(Warn, "inside bend radius is below the least of a table: prove it by a test bend", of.strict.Least, of.strict.Source)
	case material.Sharper(radius, of.safe.Value):
		below(Note, "inside bend radius is within the range a table prints, below its safer end", of.safe.Value, of.safe.Source)
	}
}

// inspectHold asks whether a brake can hold and turn the flange: a flat of at
// least two and a half thicknesses beyond the bend, up to the bend of a flange on it.
func (l *layout) inspectHold(i int) {
	line, s := &l.blank.Bends[i], l.sides[i]
	least := 2.5 * line.Bend.Thickness
	from, to := s.station(s.from), s.station(s.to)
	flat := min(s.height(from)-s.at(from).setback, s.height(to)-s.at(to).setback)
	lip := 0.0
	for _, k := range l.blank.carriedBy(i) {
		lip = max(lip, l.blank.Bends[k].Setback)
	}
	if flat -= lip; flat < least {
		place, at := l.place(i)
		l.find(Finding{Warn, place, at, "flat beyond the bend is too narrow to hold and turn in a brake", flat, least, bend.Length, brakeHold})
	}
}

// alongGrain is the angle to the grain within which a bend counts as lying along it.
const alongGrain = 30 * measure.Degree

// inspectGrain warns of a bend that lies along the grain.
func (l *layout) inspectGrain(i int) {
	grain := l.part.Sheet.Grain
	if !grain.Stated {
		return
	}
	s := l.sides[i]
	direction := math.Atan2(s.along.Y, s.along.X) - grain.Angle.Radians()
	across := measure.Angle(math.Abs(math.Asin(math.Sin(direction)))) // 0 along, 90° across
	if across < alongGrain {
		place, at := l.place(i)
		l.find(Finding{Warn, place, at, "bend lies along the grain, not across it: angle to the grain", float64(across), float64(alongGrain), bend.Degrees, handbookGrain})
	}
}

// inspectTwist tells how much a flange winds along its edge, and what that asks of
// the metal: the free edge of the formed flange is longer or shorter than the edge
// it is cut with.
func (l *layout) inspectTwist(i int) {
	s := l.sides[i]
	if s.twist == nil {
		return
	}
	place, at := l.place(i)
	turned := math.Abs(float64(s.twist.end.bend.Angle - s.bend.Angle))
	l.find(Finding{
		Severity: Note, Place: place, At: at, Source: geometry,
		Text: fmt.Sprintf("bevel changes along the edge: twist of %.2f° in 100 mm; the bend lines are curves", turned*18000/math.Pi/(s.twist.to-s.twist.from)),
	})
	const yields = 0.002 // offset strain at the yield strength, by its definition
	if strain := s.edgeStrain(); math.Abs(strain) > yields {
		l.find(Finding{Warn, place, at, "free edge is stretched by this part of its length when the bevel is formed", math.Abs(strain), yields, bend.None, geometry})
	}
}

// edgeStrain is the length of the free edge as formed over its length on the blank,
// less 1.
func (s *side) edgeStrain() float64 {
	from, to := s.station(s.from), s.station(s.to)
	var formed, cut float64
	var lastFormed r3.Vec
	var lastCut r2.Vec
	for k := range twistSteps + 1 {
		u := from + (to-from)*float64(k)/twistSteps
		here := s.frozen(u)
		p := r3.Add(here.moldPoint(s.plan(u, 0)), r3.Scale(s.height(u), here.rises()))
		q := s.flat(u, s.height(u))
		if k > 0 {
			formed += r3.Norm(r3.Sub(p, lastFormed))
			cut += r2.Norm(r2.Sub(q, lastCut))
		}
		lastFormed, lastCut = p, q
	}
	return formed/cut - 1
}

func (l *layout) inspectReliefs() {
	least := leastRelief(l.part.Sheet.Thickness)
	for _, r := range l.blank.Reliefs {
		if r.Kind == Notched {
			l.find(Finding{Severity: Note, Place: "corner " + r.Corner, At: r.Center, Source: crackStarter,
				Text: fmt.Sprintf("notch %s wide has sharp inner corners: file them round before bending, cracks start there", measure.Both(r.Diameter))})
			continue
		}
		if r.Diameter < least-coincident {
			l.find(Finding{Warn, "relief " + r.Corner, r.Center, "relief hole is below the handbook's least for this thickness", r.Diameter, least, bend.Length, handbookRelief})
		}
	}
	for _, e := range l.blank.EndSlots {
		if e.Width < least-coincident {
			l.find(Finding{Warn, "slot beside " + e.Place(), e.Center, "slot is narrower than the handbook's least relief hole for this thickness", e.Width, least, bend.Length, handbookRelief})
		}
	}
}

// inspectOutline looks for metal that the flat blank would need twice.
func (l *layout) inspectOutline() {
	crossings := l.blank.Outline.SelfCrossings(coincident)
	if len(crossings) == 0 {
		return
	}
	// An overlap crosses where it begins and where it ends; several are as wide as all together.
	first := crossings[0]
	across := 0.0
	for _, c := range crossings[1:] {
		across = max(across, r2.Norm(r2.Sub(c.P, first.P)))
	}
	l.find(Finding{Severity: Stop, Place: "blank", At: first.P, Source: geometry,
		Text: fmt.Sprintf("the flat blank overlaps itself at x %.2f, y %.2f mm, %.1f mm across", first.P.X, first.P.Y, across)})
}

// clashDepth is how deep folded metal must stand in metal to be a clash, mm: above
// what the slabs that stand for a curl leave of it, below the corner gap.
const clashDepth = 0.05

// inspectClashes looks for folded metal that stands in other folded metal.
func (l *layout) inspectClashes() {
	drilled := make([]fold.Circle, len(l.blank.Reliefs))
	for i, r := range l.blank.Reliefs {
		drilled[i] = fold.Circle{Center: r.Center, Radius: r.Diameter / 2}
	}
	for _, c := range l.folded.Clashes(l.leastClash(), drilled) {
		l.find(Finding{
			Severity: Stop, Place: l.pieceName(c.A) + " and " + l.pieceName(c.B), At: c.Flat,
			Text:   fmt.Sprintf("folded, they stand in each other at x %.1f, y %.1f, z %.1f mm, at least %.2f mm deep", c.At.X, c.At.Y, c.At.Z, c.Deep),
			Source: geometry,
		})
	}
}

// leastClash is the depth that counts. Where flanges stand nearer to each other than the slabs of a curl may
// lie off it, as at a closed corner, it is that: see [fold.Solid.Coarseness].
func (l *layout) leastClash() float64 {
	gap := l.gap
	for i := range l.part.Web.Edges {
		if c := &l.part.Web.Edges[i].Corner; c.Kind == Closed || c.Gap > 0 {
			gap = min(gap, c.Gap)
		}
	}
	if off := l.folded.Coarseness(); gap < off {
		return max(clashDepth, off)
	}
	return clashDepth
}

func (l *layout) pieceName(p fold.Piece) string {
	if p.Bend {
		return fmt.Sprintf("bend of flange %q", l.blank.Bends[p.Index].Name)
	}
	if p.Index == 0 {
		return "web"
	}
	return fmt.Sprintf("flange %q", l.blank.Panels[p.Index].Name)
}
