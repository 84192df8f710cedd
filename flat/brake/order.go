package brake

import (
	"errors"
	"fmt"
	"math"
	"math/bits"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/fold"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// MostBends is the largest number of bends of a blank that an order is looked for.
const MostBends = 12

// Order looks for the best order of the blank's bends in the brake. Springback says how
// far past its angle each bend is taken and how sharp the nose is; nil bends to the
// angle wanted round the radius wanted.
//
// Where no order can be made the plan has no steps and its findings say what stands in
// the way. Order returns an [*Error] for each dimension of the brake, and each bend,
// that cannot be judged.
func (b Brake) Order(blank flat.Blank, springback bend.Springback) (Plan, error) {
	if err := b.Validate(); err != nil {
		return Plan{}, err
	}
	j, err := newJob(b, &blank, springback)
	if err != nil {
		return Plan{}, err
	}
	var plan Plan
	j.inspect(&plan, &blank)
	if plan.Stopped() {
		return plan, nil
	}
	s := search{job: j, depth: depths(j.flat)}
	if steps, ok := s.best(); ok {
		j.tell(&plan, &blank, steps)
	} else {
		j.block(&plan, &blank, s.farthest)
	}
	return plan, nil
}

func newJob(b Brake, blank *flat.Blank, springback bend.Springback) (*job, error) {
	n := len(blank.Bends)
	if n > MostBends {
		return nil, &Error{"bends", fmt.Sprint(n), fmt.Sprintf("an order is looked for up to %d bends", MostBends)}
	}
	solid, err := blank.Fold()
	if err != nil {
		return nil, fmt.Errorf("the blank does not fold: %w", err)
	}
	j := &job{
		brake: b, flat: solid.Flat,
		noses: make([]float64, n), to: make([]measure.Angle, n), below: make([]made, n),
		stocks: map[made]stock{}, sides: map[sideKey]verdict{}, tools: map[grip]convex{},
	}
	var faults []error
	for i := range blank.Bends {
		line := &blank.Bends[i]
		tool := line.Bend
		if line.EndBend.Angle > tool.Angle {
			tool = line.EndBend
		}
		if springback != nil {
			if tool, err = springback.Tool(tool); err != nil {
				faults = append(faults, &Error{fmt.Sprintf("flange %q springback", line.Name), line.Bend.Angle.String(), err.Error()})
			}
		}
		j.noses[i], j.to[i] = tool.Radius, tool.Angle
	}
	// Children stand after their parents.
	for i := n - 1; i >= 0; i-- {
		for k := i + 1; k < n; k++ {
			if j.flat.Bends[k].Parent == j.flat.Bends[i].Child {
				j.below[i] |= j.below[k].with(k)
			}
		}
	}
	return j, errors.Join(faults...)
}

// depths are how many bends lie between the web and each bend.
func depths(f fold.Flat) []int {
	depth := make([]int, len(f.Bends))
	of := make([]int, len(f.Panels))
	for i, b := range f.Bends {
		depth[i] = of[b.Parent]
		of[b.Child] = depth[i] + 1
	}
	return depth
}

// A search tries orders, the better ones first.
type search struct {
	*job
	depth []int
	dead  map[state]bool // nothing more can be made from here
	// farthest is the first state with the most bends made.
	farthest made
}

// A state is what is made, which face lies up, and how many turn-overs are left.
type state struct {
	made   made
	faceUp bool
	turns  int
}

// A move is one bend of an order.
type move struct {
	grip
	verdict
}

// best finds the first order with the fewest turn-overs. The sheet is laid down either
// face up to begin with.
func (s *search) best() ([]move, bool) {
	n := len(s.flat.Bends)
	s.dead = map[state]bool{}
	for turns := range n + 1 {
		for _, faceUp := range [2]bool{true, false} {
			if steps, ok := s.from(state{0, faceUp, turns}, nil); ok {
				return steps, true
			}
		}
	}
	return nil, false
}

// from completes an order from a state.
func (s *search) from(at state, steps []move) ([]move, bool) {
	n := len(s.flat.Bends)
	if len(steps) == n {
		return steps, true
	}
	if s.dead[at] {
		return nil, false
	}
	if bits.OnesCount32(uint32(at.made)) > bits.OnesCount32(uint32(s.farthest)) {
		s.farthest = at.made
	}
	// With the face that lies up first, then turned over; lips before flanges.
	for _, over := range [2]bool{false, true} {
		if over && at.turns == 0 {
			break
		}
		for deep := n; deep >= 0; deep-- {
			for i := range n {
				turned := s.flat.Bends[i].Up != at.faceUp
				if s.depth[i] != deep || at.made.has(i) || turned != over {
					continue
				}
				m, ok := s.make(i, at.made)
				if !ok {
					continue
				}
				next := state{at.made.with(i), s.flat.Bends[i].Up, at.turns}
				if over {
					next.turns--
				}
				if all, ok := s.from(next, append(steps, m)); ok {
					return all, true
				}
			}
		}
	}
	s.dead[at] = true
	return nil, false
}

// make tries a bend held by its parent, then by its child.
func (s *search) make(i int, m made) (move, bool) {
	for _, byParent := range [2]bool{true, false} {
		g := grip{i, byParent}
		if v := s.judge(g, m); s.goes(g, v) {
			return move{g, v}, true
		}
	}
	return move{}, false
}

// goes reports whether a bend can be made. Metal beside the bend that lies over the
// leaf can be kept from it with narrow leaf pieces, but what lies under the bar beside
// a swung panel is clamped.
func (j *job) goes(g grip, v verdict) bool {
	return v.clears >= j.brake.Clear-touching && (g.byParent || !(v.beside > touching))
}

// block says, for each bend that cannot be made with the most that can, what is in
// the way.
func (j *job) block(plan *Plan, blank *flat.Blank, m made) {
	j.thorough = true
	clear(j.sides)
	for i := range j.flat.Bends {
		if m.has(i) {
			continue
		}
		g := grip{i, true}
		v := j.judge(g, m)
		if o := j.judge(grip{i, false}, m); !(o.beside > touching) && o.clears > v.clears {
			g, v = grip{i, false}, o
		}
		if !j.goes(g, v) {
			plan.Findings = append(plan.Findings, j.blocked(blank, g, v))
		}
	}
}

// blocked is the finding of a bend that cannot be made.
func (j *job) blocked(blank *flat.Blank, g grip, v verdict) flat.Finding {
	line := &blank.Bends[g.bend]
	f := flat.Finding{
		Severity: flat.Stop, Place: place(line), At: middle(line), Source: dimensions,
		Figure: v.clears, Limit: j.brake.Clear, Unit: bend.Length,
	}
	what := pieceName(blank, v.piece)
	held := panelName(blank, j.held(g))
	switch {
	case v.tool == lift:
		f.Figure, f.Limit = j.brake.Nose.Lift-v.clears, j.brake.Nose.Lift
		f.Text = fmt.Sprintf("no order of bends can be made in this brake: with the %s held, the %s does not pass under the %s", held, what, lift)
	case v.clears < 0:
		f.Text = fmt.Sprintf("no order of bends can be made in this brake: with the %s held, the %s stands in the %s%s; clearance", held, what, v.tool, v.when())
	default:
		f.Text = fmt.Sprintf("no order of bends can be made in this brake: with the %s held, the %s clears the %s%s by too little", held, what, v.tool, v.when())
	}
	return f
}

func (j *job) held(g grip) int {
	if g.byParent {
		return j.flat.Bends[g.bend].Parent
	}
	return j.flat.Bends[g.bend].Child
}

// inspect holds each bend against what the brake can do at all.
func (j *job) inspect(plan *Plan, blank *flat.Blank) {
	find := func(f flat.Finding) { plan.Findings = append(plan.Findings, f) }
	for i := range blank.Bends {
		line := &blank.Bends[i]
		at := flat.Finding{Severity: flat.Stop, Place: place(line), At: middle(line), Unit: bend.Length, Source: dimensions}
		if length := bendLength(&j.flat.Bends[i]); length > j.brake.Length {
			f := at
			f.Text, f.Figure, f.Limit = "bend is longer than the brake", length, j.brake.Length
			find(f)
		}
		if j.to[i] > j.brake.Nose.Most {
			f := at
			f.Text = "bend angle with overbend is more than the nose bar allows"
			f.Figure, f.Limit, f.Unit = float64(j.to[i]), float64(j.brake.Nose.Most), bend.Degrees
			find(f)
		}
		if line.Sections != nil {
			f := at
			f.Severity = flat.Warn
			f.Text = "bevel changes along the edge: the leaf turns all of a bend through one angle; bring the rest by hand"
			f.Figure, f.Limit, f.Unit = math.Abs(float64(line.EndBend.Angle-line.Bend.Angle)), 0, bend.Degrees
			find(f)
		}
	}
}

// bendLength is the length of the longer tangent line.
func bendLength(b *fold.Bend) float64 {
	length := r2.Norm(r2.Sub(b.B, b.A))
	if len(b.Zone) == 4 {
		length = max(length, r2.Norm(r2.Sub(b.Zone[2], b.Zone[1])))
	}
	return length
}
