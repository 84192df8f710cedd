package brake

import (
	"fmt"
	"math"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/fold"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// A Plan is the order of the bends, or why there is none.
type Plan struct {
	Steps     []Step // none where the bends cannot be made in this brake
	TurnOvers int    // how often the sheet is turned over between bends
	Findings  []flat.Finding
}

// Stopped reports whether a finding forbids the job.
func (p Plan) Stopped() bool {
	for _, f := range p.Findings {
		if f.Severity == flat.Stop {
			return true
		}
	}
	return false
}

// A Step is one bend, as it is set up.
type Step struct {
	Bend     int    // index into the blank's Bends
	Name     string // of the flange
	Turn     flat.Turn
	TurnOver bool   // the sheet is turned over for it
	Hold     int    // panel under the nose bar
	Held     string // and its name
	// Sight is the distance of the sight line from the tangent line on the held side,
	// toward the bend, mm: one radius of the nose. It is set straight under the nose.
	Sight float64
	// Bar is the length the nose bar is made up to, mm, on the middle of the tangent line held: bent
	// metal clears a bar no longer than that. Zero is one bar as long as the brake.
	Bar   float64
	Angle measure.Angle // wanted
	To    measure.Angle // the leaf is swung to, before springback
	// Clears is the least clearance of bent metal in the swing, mm; +Inf where none
	// comes near. Tightest says where: `flange "lip" and the
	// nose bar with the leaf at 63°`.
	Clears   float64
	Tightest string
}

// String is the step in the shop's words.
func (s Step) String() string {
	face := "marking face up"
	if s.Turn == flat.Down {
		face = "marking face down"
	}
	if s.TurnOver {
		face = "turn the sheet over, " + face
	}
	bar := ""
	if s.Bar > 0 {
		bar = " with the nose bar made up to " + measure.MmText(s.Bar, 1)
	}
	text := fmt.Sprintf("flange %q: %s, hold the %s%s, sight line %s in from its tangent line straight under the nose, bend to %s", s.Name, face, s.Held, bar, measure.MmText(s.Sight, 2), s.To)
	if s.To != s.Angle {
		text += fmt.Sprintf(" for %s", s.Angle)
	}
	if !math.IsInf(s.Clears, 1) {
		text += fmt.Sprintf("; clears by %s, %s", measure.MmText(s.Clears, 1), s.Tightest)
	}
	return text
}

// Sources of what a plan holds a part against.
var (
	dimensions = material.Source{Document: "dimensions of the brake as given", Provenance: material.Derived}
	sightLine  = material.Source{Document: "sight line one radius from the tangent line under the nose", Provenance: material.CommonPractice}
	byHand     = material.Source{Document: "narrow leaf pieces where metal stands beside a bend", Provenance: material.CommonPractice}
)

// Working is the trail of the set-up: sight line and swing of every bend, in order.
func (p Plan) Working() []bend.Step {
	steps := make([]bend.Step, 0, len(p.Steps))
	for _, s := range p.Steps {
		steps = append(steps, bend.Step{
			Quantity: fmt.Sprintf("sight line of flange %q from the tangent line of the %s", s.Name, s.Held), Symbol: "SL", Formula: "R",
			Inputs: []bend.Input{{Symbol: "R", Value: s.Sight, Unit: bend.Length}},
			Value:  s.Sight, Unit: bend.Length, Source: sightLine,
		})
	}
	return steps
}

// tell writes the moves of an order as steps, and what they ask for besides.
func (j *job) tell(plan *Plan, blank *flat.Blank, moves []move) {
	for k, m := range moves {
		line := &blank.Bends[m.bend]
		over := k > 0 && plan.Steps[k-1].Turn != line.Turn
		if over {
			plan.TurnOvers++
		}
		step := Step{
			Bend: m.bend, Name: line.Name, Turn: line.Turn, TurnOver: over,
			Hold: j.held(m.grip), Held: panelName(blank, j.held(m.grip)), Sight: j.noses[m.bend], Bar: j.barLength(m.grip),
			Angle: max(line.Bend.Angle, line.EndBend.Angle), To: j.to[m.bend], Clears: m.clears,
		}
		if m.tool != none {
			step.Tightest = pieceName(blank, m.piece) + " and the " + m.tool.String() + m.when()
		}
		plan.Steps = append(plan.Steps, step)
		if m.beside > touching {
			plan.Findings = append(plan.Findings, flat.Finding{
				Severity: flat.Warn, Place: place(line), At: middle(line), Figure: m.beside, Unit: bend.Length, Source: byHand,
				Text: "metal beside the bend reaches past it over the leaf: swing it with a leaf piece no longer than the bend",
			})
		}
	}
}

// barLength is the length of the bar over the tangent line held, 0 for one whole bar.
func (j *job) barLength(g grip) float64 {
	if j.brake.Nose.Finger == 0 {
		return 0
	}
	held := j.stock(0).seat(&j.flat, g.bend, g.byParent, j.flat.Bends[g.bend].Up)
	from, to := j.brake.bar(held.first, held.last)
	return to - from
}

// when says how far the leaf has turned, where that matters.
func (v verdict) when() string {
	if !v.swings {
		return ""
	}
	return " with the leaf at " + v.at.String()
}

func place(line *flat.BendLine) string { return fmt.Sprintf("flange %q", line.Name) }

// middle of a bend on the blank.
func middle(line *flat.BendLine) r2.Vec {
	v := line.Center.Vertices
	return r2.Scale(0.5, r2.Add(v[0].P, v[len(v)-1].P))
}

func panelName(blank *flat.Blank, i int) string {
	if i == 0 {
		return "web"
	}
	return fmt.Sprintf("flange %q", blank.Panels[i].Name)
}

func pieceName(blank *flat.Blank, p fold.Piece) string {
	if p.Bend {
		return fmt.Sprintf("bend of flange %q", blank.Bends[p.Index].Name)
	}
	return panelName(blank, p.Index)
}
