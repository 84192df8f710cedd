package former

import (
	"fmt"
	"math"
	"slices"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

// Working is the trail of the numbers: of each flange where it is strained most, of the
// block, and of the splices.
func (r Ring) Working() []bend.Step {
	var steps []bend.Step
	for _, s := range []struct {
		name string
		*Strip
	}{{"outer flange", &r.Outer}, {"inner flange", &r.Inner}} {
		if s.rim.Flange == nil {
			continue
		}
		stretch, shrink, _ := s.Worst()
		steps = append(steps, s.working(fmt.Sprintf("%s at girth %.0f mm", s.name, shrink.Girth), shrink)...)
		if stretch.Girth != shrink.Girth {
			steps = append(steps, s.working(fmt.Sprintf("%s at girth %.0f mm", s.name, stretch.Girth), stretch)...)
		}
		for i, b := range s.rim.Flange.Bevels {
			name := s.name
			if len(s.rim.Flange.Bevels) > 1 {
				name = fmt.Sprintf("%s, bevel %d", s.name, i+1)
			}
			steps = append(steps, r.blockWorking(name, s.sectionAt(b.At, 0).Bend)...)
		}
	}
	for _, s := range r.Splices {
		for _, step := range s.Steps {
			step.Quantity = "splice " + s.Name + ": " + step.Quantity
			steps = append(steps, step)
		}
	}
	return steps
}

func lengthInput(symbol string, v float64) bend.Input {
	return bend.Input{Symbol: symbol, Value: v, Unit: bend.Length}
}

func (s *Strip) working(name string, e Strain) []bend.Step {
	steps, err := bend.Working(s.rule, e.Section.Bend, name)
	if err != nil {
		return nil
	}
	// A flange that is formed over a block has no sight line, and its deduction is in the width.
	steps = slices.DeleteFunc(steps, func(s bend.Step) bool { return s.Symbol == "SL" || s.Symbol == "BD" })
	k := e.Section.atTangent(e.Curvature)
	by := e.ByArc
	width := bend.Step{Quantity: "developed width from the tangent line, " + name, Symbol: "w", Formula: "BA + F",
		Inputs: []bend.Input{lengthInput("BA", e.Section.Allowance.Length), lengthInput("F", e.Section.Flat)},
		Value:  e.Section.Width, Unit: bend.Length, Source: geometry}
	if e.Used == EqualArea {
		by = e.ByArea
		// The curvature the width was found with is the mean over the flange's reach.
		k = e.Section.atTangent(s.contour.meanBend(e.Girth, s.reach()))
		width = bend.Step{Quantity: "developed width from the tangent line, equal area, " + name, Symbol: "w", Formula: "2·c/(1 + √(1 + 2·k·c))",
			Inputs: []bend.Input{lengthInput("c", e.Section.Width+k*e.Section.moment), {Symbol: "k", Value: k * measure.Inch}},
			Value:  by.Width, Unit: bend.Length, Source: geometry}
	}
	height := s.rim.Flange.Height + s.rim.Flange.Trim
	return append(steps,
		bend.Step{Quantity: "flat of " + name + ", with what is left to trim", Symbol: "F", Formula: "H - SB",
			Inputs: []bend.Input{lengthInput("H", height), lengthInput("SB", e.Section.Setback)}, Value: e.Section.Flat, Unit: bend.Length,
			Source: material.Source{Document: "FAA-H-8083-31", Place: "ch. 4: flat = mold-line dimension - setback", Provenance: material.Read}},
		width,
		bend.Step{Quantity: "strain of the edge, " + name + " (k = 1/R of the tangent line, x how far the formed edge stands out)", Symbol: "e", Formula: "k·(x - w)/(1 + k·w)",
			// Inches, as the card puts lengths in: k goes with them.
			Inputs: []bend.Input{{Symbol: "k", Value: k * measure.Inch}, lengthInput("x", e.Section.Reach), lengthInput("w", by.Width)},
			Value:  edgeStrain(by.Width, e.Section.Reach, k), Unit: bend.None, Source: geometry})
}

// blockWorking is the trail of the block under one bend: how far it lies inside the mold line, its edge
// radius and the angle of its wall.
func (r *Ring) blockWorking(name string, b bend.Bend) []bend.Step {
	held := r.Former.ToolBend(b)
	t := r.Former.Sheet.Thickness
	steps := []bend.Step{{Quantity: "form block inside the mold line, " + name, Symbol: "OFF", Formula: "T·tan(A/2)",
		Inputs: []bend.Input{lengthInput("T", t), angleInput("A", b.Angle)}, Value: OffsetForBlock(t, b.Angle), Unit: bend.Length, Source: geometry}}
	depth := r.Former.Block.Depth
	if len(r.Pieces) > 0 {
		depth = r.Pieces[0].Block.Depth
	}
	steps = append(steps, r.Former.toolWorking(name, b)...)
	return append(steps,
		bend.Step{Quantity: "bottom of the block outside its top (inside when negative), " + name, Symbol: "s", Formula: "D/tan(W)",
			Inputs: []bend.Input{lengthInput("D", depth), angleInput("W", held.Angle)},
			Value:  depth / math.Tan(float64(held.Angle)), Unit: bend.Length, Source: geometry})
}

// toolWorking is the trail of [Former.ToolBend]: edge radius and angle by the springback of the sheet, the
// angle by the overbend where that is given, and both as wanted where nothing is known.
func (f Former) toolWorking(name string, b bend.Bend) []bend.Step {
	steps := []bend.Step{{Quantity: "edge radius of the block, no springback known, " + name, Symbol: "r", Formula: "R",
		Inputs: []bend.Input{lengthInput("R", b.Radius)}, Value: b.Radius, Unit: bend.Length, Source: practice("block to the radius wanted where no springback is known")}}
	overbend := practice("no overbend where no springback is known")
	if spring, _, err := bend.SheetSpringback(f.Sheet); err == nil {
		if sprung, err := spring.Working(b, name); err == nil {
			steps = sprung
			if f.Block.Overbend == 0 {
				return steps
			}
			steps = steps[:len(steps)-1] // without its own angle
		}
	}
	if f.Block.Overbend > 0 {
		overbend = material.Source{Document: "overbend as given", Provenance: material.Measured}
	}
	return append(steps, bend.Step{Quantity: "angle the sheet is turned on the block, " + name, Symbol: "W", Formula: "A + O",
		Inputs: []bend.Input{angleInput("A", b.Angle), angleInput("O", f.Block.Overbend)},
		Value:  float64(b.Angle + f.Block.Overbend), Unit: bend.Degrees, Source: overbend})
}

func angleInput(symbol string, a measure.Angle) bend.Input {
	return bend.Input{Symbol: symbol, Value: float64(a), Unit: bend.Degrees}
}
