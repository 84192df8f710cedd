package flat

import (
	"fmt"
	"slices"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/material"
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
	return append(steps, b.features()...)
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
