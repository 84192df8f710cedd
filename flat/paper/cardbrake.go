package paper

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/brake"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// brakeBlock is the order of bends: as tried in the shop's brake, or proposed.
func brakeBlock(b flat.Blank, opt CardOptions) block {
	switch {
	case len(b.Bends) == 0:
		return block{}
	case opt.Plan == nil:
		return proposalBlock(b)
	case len(opt.Plan.Steps) > 0:
		return planBlock(b, opt)
	}
	out := proposalBlock(b)
	out.lines = append(out.lines, brakeLines(opt.Brake)...)
	out.lines = append(out.lines, "The brake given makes these bends in no order. Form what it fouls over a hardwood block with rounded edges, or take another brake [common practice].")
	return out.tell(opt.Plan.Findings)
}

// tell adds findings below what stands in a block.
func (b block) tell(findings []flat.Finding) block {
	for _, f := range findings {
		b.lines = append(b.lines, oneLine(f.String()))
	}
	return b
}

const sightLine = "Hold the panel named; the sight line, inch / mm from its tangent line into the bend, stands straight under the nose of the brake."

// brakeLines give the dimensions a plan hangs on.
func brakeLines(own brake.Brake) []string {
	if own == (brake.Brake{}) {
		return nil
	}
	finger := "one bar"
	if own.Nose.Finger > 0 {
		finger = "fingers in steps of " + measure.Both(own.Nose.Finger)
	}
	return []string{fmt.Sprintf(
		"Brake as given - measure your own: bends %s long; nose bar %s deep, %s high, turns to %s, lifts %s, %s; bed %s deep, %s high; leaf %s deep, %s thick; clearance asked for %s.",
		measure.Both(own.Length), measure.Both(own.Nose.Depth), measure.Both(own.Nose.Height), own.Nose.Most, measure.Both(own.Nose.Lift), finger,
		measure.Both(own.Bed.Depth), measure.Both(own.Bed.Height), measure.Both(own.Leaf.Depth), measure.Both(own.Leaf.Height), measure.Both(own.Clear))}
}

func planBlock(b flat.Blank, opt CardOptions) block {
	plan := *opt.Plan
	out := block{
		title: "BRAKE, in the order to bend, tried in the brake given",
		columns: append(left("", "no", "flange", "marking face", "held panel"),
			right("sight line", "nose bar", "swing to", "clears by, mm")...),
	}
	made, wanted := 0, 0
	for k, s := range plan.Steps {
		if s.To > s.Angle {
			made++
		} else {
			wanted++
		}
		face := "up"
		if s.Turn == flat.Down {
			face = "down"
		}
		if s.TurnOver {
			face += ", turn over"
		}
		clears := "nothing near"
		if !math.IsInf(s.Clears, 1) {
			clears = measure.Fixed(s.Clears, 1)
		}
		out.rows = append(out.rows, []string{strconv.Itoa(k+1) + ".", strconv.Itoa(s.Bend + 1), oneLine(s.Name), face, oneLine(s.Held),
			pair(s.Sight), barText(s.Bar), s.To.Text(1), clears})
	}
	out.lines = append([]string{sightLine + " " + swingText(made, wanted)}, brakeLines(opt.Brake)...)
	return out.tell(plan.Findings)
}

// swingText says what the swings of a plan hold: so many are made up for springback, and so
// many are the angle wanted.
func swingText(made, wanted int) string {
	const settle = "only the test bend settles it."
	switch {
	case made == 0:
		return "Springback comes on top of the swing: find it by the test bend."
	case wanted == 0:
		return "The swing is that of the first try, overbend included: " + settle
	}
	return "The swing is that of the first try, overbend included where one is known: " + settle
}

// barText is what the nose bar is made up to.
func barText(mm float64) string {
	if mm == 0 {
		return "whole"
	}
	return pair(mm)
}

// heldBlock tells where the tangent line lies that is held for each step of a plan.
func heldBlock(b flat.Blank, opt CardOptions) block {
	out := block{
		title:   "TANGENT LINES HELD  (x, y of their ends from the datum)",
		columns: append(left("no", "flange"), right("ends, inch", "ends, mm")...),
	}
	if opt.Plan == nil {
		return out
	}
	for _, s := range opt.Plan.Steps {
		l := b.Bends[s.Bend]
		held := l.Near
		if s.Hold != l.Parent {
			held = l.Far
		}
		inch, mm := fromTo(b, held)
		out.rows = append(out.rows, []string{strconv.Itoa(s.Bend + 1), oneLine(s.Name), inch, mm})
	}
	return out
}

func proposalBlock(b flat.Blank) block {
	out := block{
		title: "BRAKE, in the order to bend  (x, y of the held tangent line's ends from the datum)",
		columns: append(left("", "no", "flange", "way", "held panel"),
			right("sight line", "ends, inch", "ends, mm")...),
		lines: []string{
			sightLine,
			"Lips before the panels they hang from [common practice]; opposite sides before the sides between them [FAA-H-8083-31, ch. 4, folding a box]. The order is a proposal: look for what the brake will foul.",
		},
	}
	for k, i := range BendOrder(b) {
		l := b.Bends[i]
		parent := "web"
		if l.Parent > 0 && l.Parent < len(b.Panels) {
			parent = oneLine(b.Panels[l.Parent].Name)
		}
		inch, mm := fromTo(b, l.Near)
		out.rows = append(out.rows, []string{strconv.Itoa(k+1) + ".", strconv.Itoa(i + 1), oneLine(l.Name), l.Turn.String(), parent, pair(l.Bend.Radius), inch, mm})
	}
	return out
}

// BendOrder proposes an order of bending: what hangs farthest from the web first,
// and among the bends of one panel opposite sides before the sides between. The
// results are indices into the blank's bends.
func BendOrder(b flat.Blank) []int {
	depth := make([]int, len(b.Bends))
	for i, l := range b.Bends {
		// Bends stand parents first, so the bend above is known.
		if p := l.Parent; p > 0 && p < len(b.Panels) {
			if up := b.Panels[p].Bend; up >= 0 && up < i {
				depth[i] = depth[up] + 1
			}
		}
	}
	left := make([]int, len(b.Bends))
	for i := range left {
		left[i] = i
	}
	slices.SortStableFunc(left, func(i, j int) int { return depth[j] - depth[i] })
	var order []int
	for len(left) > 0 {
		first := left[0]
		order, left = append(order, first), left[1:]
		// The bend of the same panel that faces the first most squarely.
		best, facing := -1, -0.7
		for k, j := range left {
			if b.Bends[j].Parent != b.Bends[first].Parent || depth[j] != depth[first] {
				continue
			}
			if f := r2.Dot(heading(b.Bends[first]), heading(b.Bends[j])); f < facing {
				best, facing = k, f
			}
		}
		if best >= 0 {
			order = append(order, left[best])
			left = slices.Delete(left, best, best+1)
		}
	}
	return order
}

// heading is the unit direction of a bend line.
func heading(l flat.BendLine) r2.Vec {
	n := len(l.Near.Vertices)
	if n < 2 {
		return r2.Vec{}
	}
	v := r2.Sub(l.Near.Vertices[n-1].P, l.Near.Vertices[0].P)
	if !(r2.Norm(v) > 0) {
		return r2.Vec{}
	}
	return r2.Unit(v)
}
