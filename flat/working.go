package flat

import (
	"fmt"
	"math"
	"slices"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

// Working is the trail of the numbers on the blank, bend by bend: each with its
// formula, inputs and source, to be recomputed by hand.
func (b Blank) Working() []bend.Step {
	rule := b.Part.Rule
	if rule == nil {
		rule = bend.Handbook{}
	}
	overbend := b.overbends()
	var steps []bend.Step
	if b.Part.Site != nil {
		steps = append(steps, b.Part.Site.Working...)
	}
	for i := range b.Bends {
		line := &b.Bends[i]
		name := fmt.Sprintf("flange %q", line.Name)
		// Develop has asked the same rule for the same bend: there is no error left.
		of, err := bend.Working(rule, line.Bend, name)
		if err != nil {
			continue
		}
		steps = append(append(steps, of...), overbend(line.Bend, name)...)
		if line.EndBend != line.Bend {
			if of, err = bend.Working(rule, line.EndBend, name+" at the far end"); err == nil {
				steps = append(append(steps, of...), overbend(line.EndBend, name+" at the far end")...)
			}
		}
		steps = append(steps, b.flatWidth(i))
		for _, k := range b.carriedBy(i) {
			steps = append(steps, b.flatBetween(i, k))
		}
	}
	for i := range b.Rows {
		steps = append(steps, b.Rows[i].Working...)
	}
	return slices.Concat(steps, b.reliefs(), b.features(), b.area())
}

// reliefs is the working of the diameter of relief holes and of slots beside bends that the part leaves to
// the rule, once for each radius. Those given by the part have none.
func (b Blank) reliefs() (steps []bend.Step) {
	if b.Part.Relief.Diameter > 0 {
		return nil
	}
	least := leastRelief(b.Part.Sheet.Thickness)
	var said []float64
	for i := range b.Bends {
		radius := b.Bends[i].Bend.Radius
		diameter := max(2*radius, least)
		if slices.Contains(said, diameter) || !b.relievedBy(diameter) {
			continue
		}
		said = append(said, diameter)
		if 2*radius < least {
			steps = append(steps, bend.Step{
				Quantity: "relief holes and slots, twice the inside radius being less than the handbook's least for this thickness", Symbol: "D", Formula: "Dl",
				Inputs: []bend.Input{{Symbol: "Dl", Value: least, Unit: bend.Length}}, Value: least, Unit: bend.Length, Source: handbookRelief,
			})
			continue
		}
		steps = append(steps, bend.Step{
			Quantity: "relief holes and slots, the handbook's least for this thickness being no more, " + measure.Both(least), Symbol: "D", Formula: "2·R",
			Inputs: []bend.Input{{Symbol: "R", Value: radius, Unit: bend.Length}}, Value: diameter, Unit: bend.Length, Source: handbookRelief,
		})
	}
	return steps
}

// relievedBy tells that a relief or a slot of the blank has this width.
func (b Blank) relievedBy(width float64) bool {
	same := func(w float64) bool { return math.Abs(w-width) < coincident }
	return slices.ContainsFunc(b.Reliefs, func(r Relieved) bool { return same(r.Diameter) }) ||
		slices.ContainsFunc(b.EndSlots, func(e EndSlot) bool { return same(e.Width) })
}

// area is the working of the area: the outline as its table gives it, the openings taken off.
func (b Blank) area() []bend.Step {
	outside, cut, squares := b.Outline.Area(), 0.0, 0.0
	for _, c := range b.Cutouts {
		cut += math.Abs(c.Path.Area())
	}
	for _, h := range b.Holes {
		squares += h.Diameter * h.Diameter
	}
	geometry := material.Source{Document: "area inside the cut outline", Provenance: material.Derived}
	steps := []bend.Step{{
		Quantity: "area inside the outline, mm², from corner to corner of its table, the segments of its arcs put on or off", Symbol: "So",
		Formula: "half the sum of x·y' - x'·y, arcs beside", Value: outside, Source: geometry,
	}}
	return append(steps, bend.Step{
		Quantity: "area left, mm²: holes off by the sum q of their squared diameters, cut-outs Sc", Symbol: "S", Formula: "So - π/4·q - Sc",
		Inputs: []bend.Input{{Symbol: "So", Value: outside}, {Symbol: "q", Value: squares}, {Symbol: "Sc", Value: cut}},
		Value:  b.Area, Source: geometry,
	})
}

// overbends gives the working of the overbend of one bend after the other; what is the same for every
// bend of one radius, once. Where the model has no answer the card says so in place of a number.
func (b Blank) overbends() func(at bend.Bend, name string) []bend.Step {
	spring, _, err := bend.SheetSpringback(b.Part.Sheet)
	var said []float64
	return func(at bend.Bend, name string) []bend.Step {
		if err != nil {
			return nil
		}
		steps, err := bend.SameNose{ElasticPlastic: spring}.Working(at, name)
		if err != nil {
			return nil
		}
		if slices.Contains(said, at.Radius) {
			return steps[len(steps)-1:]
		}
		said = append(said, at.Radius)
		return steps
	}
}

// features is the working of lightening holes and joggles, web first.
func (b Blank) features() []bend.Step {
	var steps []bend.Step
	add := func(h Features, panel string) {
		for i, hole := range h.Lightening {
			steps = append(steps, hole.pilotStep(quoted("lightening hole", hole.Name, i)+" in "+panel, b.Part.Sheet.Thickness))
		}
	}
	add(b.Part.Web.Features, "web")
	var walk func([]Flange)
	walk = func(flanges []Flange) {
		for i := range flanges {
			name := quoted("flange", flanges[i].Name, i)
			add(flanges[i].Features, name)
			for k, j := range flanges[i].Joggles {
				steps = append(steps, j.growthStep(quoted("joggle", j.Name, k)+" of "+name))
			}
			walk(flanges[i].Flanges)
		}
	}
	for _, e := range b.Part.Web.Edges {
		walk(e.Flanges)
	}
	return steps
}

// carriedBy lists the bends of the flanges that stand on the flange of bend i.
func (b *Blank) carriedBy(i int) (bends []int) {
	for k := range b.Bends {
		if b.Bends[k].Parent == b.Bends[i].Child {
			bends = append(bends, k)
		}
	}
	return bends
}

var flatSource = material.Source{Document: "FAA-H-8083-31", Place: "ch. 4: flat = mold-line dimension - setback", Provenance: material.Read}

// flatWidth is the flat of a flange beyond its bend, at the start of its edge.
func (b Blank) flatWidth(i int) bend.Step {
	line := &b.Bends[i]
	return bend.Step{
		Quantity: fmt.Sprintf("flat of flange %q at the start of its edge", line.Name), Symbol: "W", Formula: "H - SB",
		Inputs: []bend.Input{{Symbol: "H", Value: line.Height, Unit: bend.Length}, {Symbol: "SB", Value: line.Setback, Unit: bend.Length}},
		Value:  line.Height - line.Setback, Unit: bend.Length,
		Source: flatSource,
	}
}

// flatBetween is the flat of the flange of bend i between that and bend k of a flange on it: the flange is dimensioned
// to the mold line of both.
func (b Blank) flatBetween(i, k int) bend.Step {
	line, lip := &b.Bends[i], &b.Bends[k]
	return bend.Step{
		Quantity: fmt.Sprintf("flat of flange %q at the start of its edge, to the bend of flange %q", line.Name, lip.Name), Symbol: "W", Formula: "H - SB - SBₗ",
		Inputs: []bend.Input{
			{Symbol: "H", Value: line.Height, Unit: bend.Length}, {Symbol: "SB", Value: line.Setback, Unit: bend.Length}, {Symbol: "SBₗ", Value: lip.Setback, Unit: bend.Length},
		},
		Value: line.Height - line.Setback - lip.Setback, Unit: bend.Length,
		Source: flatSource,
	}
}
