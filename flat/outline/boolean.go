package outline

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Union returns the region that a and b cover together: what a blank becomes when a
// tab is added to it. Both are regions as for [Offset]; they may share edges, whole or
// in part, and where they do the common edge vanishes. The result is checked before it
// is returned; one that touches itself in a point (two parts that meet at a corner alone)
// is no outline that a cutter can follow and is an error that wraps [ErrNotProved].
func Union(a, b []Path) ([]Path, error) { return combine("Union", a, b, false, false) }

// Difference returns the region a without b. It wraps [ErrNothingLeft] in its fault when
// b covers a.
//
// Errors: a *[Fault] for each fault of the paths, for a region that is not bounded, and for a
// result that could not be proved (it wraps [ErrNotProved]).
func Difference(a, b []Path) ([]Path, error) { return combine("Difference", a, b, false, true) }

// Intersection returns the region common to a and b. It wraps [ErrNothingLeft] in its
// fault when there is none. The other errors are those of [Difference].
func Intersection(a, b []Path) ([]Path, error) {
	return combine("Intersection", a, b, true, false)
}

// combination is one boolean operation. With the boundaries of both running so that
// material is on the left, what is kept of each lies outside the other (inside for an
// intersection); for a difference b runs backward and is kept inside a.
type combination struct {
	fn       string
	inside   bool // keep what lies inside the other
	backward bool // b runs backward
	a, b     *region
	tol      float64
}

func combine(fn string, a, b []Path, inside, backward bool) ([]Path, error) {
	ga, errA := newRegion(fn, a)
	gb, errB := newRegion(fn, b)
	if err := errors.Join(errA, errB); err != nil {
		return nil, err
	}
	if ga.outer != 0 || gb.outer != 0 {
		return nil, refused(fn, "paths", "both regions must be bounded: outlines counter-clockwise")
	}
	c := combination{fn, inside, backward, ga, gb, Coincidence * max(ga.size, gb.size)}
	return c.run()
}

func (c *combination) run() ([]Path, error) {
	arr, split := c.candidates()
	arr.cutBetween(split)
	var kept []stretch
	arr.stretches(func(s stretch) {
		part, long := arr.sample(s)
		if long <= 4*c.tol {
			return
		}
		if c.keeps(part, s.run.lo >= split) {
			kept = append(kept, s)
		}
	})
	loops, complete := arr.link(kept)
	if !complete {
		return nil, notProved(c.fn, "paths", "an end of the boundary leads nowhere")
	}
	loops = dropSpecks(loops, c.tol, max(c.a.size, c.b.size))
	for i := range loops {
		loops[i] = loops[i].mergeLines(c.tol)
	}
	if why := c.prove(loops); why != "" {
		return nil, notProved(c.fn, "paths", why)
	}
	if len(loops) == 0 {
		f := refused(c.fn, "paths", ErrNothingLeft.Error())
		f.cause = ErrNothingLeft
		return nil, f
	}
	return loops, nil
}

// candidates puts both boundaries into one arrangement; those of b start at split.
func (c *combination) candidates() (arr *arrangement, split int) {
	arr = &arrangement{tol: c.tol}
	put := func(p Path) {
		lo := len(arr.segs)
		for i := range p.NumSegments() {
			arr.segs = append(arr.segs, p.Segment(i))
			arr.broken = append(arr.broken, i == 0)
		}
		arr.runs = append(arr.runs, run{lo, len(arr.segs), true})
	}
	for _, p := range c.a.paths {
		put(p)
	}
	split = len(arr.segs)
	for _, p := range c.b.paths {
		if c.backward {
			p = p.Reverse()
		}
		put(p)
	}
	return arr, split
}

// cutBetween cuts the candidates below split where they meet those from split on.
func (a *arrangement) cutBetween(split int) {
	t := newTree(a.segs[:split], a.broken[:split])
	o := newTree(a.segs[split:], a.broken[split:])
	t.pairs(o, a.tol, func(i, j int) {
		m := meet(a.segs[i], a.segs[split+j], a.tol)
		for _, q := range m.at[:m.n] {
			a.cuts = append(a.cuts, cut{seg: i, t: q.T, p: q.P}, cut{seg: split + j, t: q.U, p: q.P})
		}
	})
	a.sortCuts()
}

// keeps decides on a part of a stretch. On a common edge the two boundaries run the same
// way or opposite ways: the same way it bounds the result once, and a's copy is kept;
// opposite ways the material of one ends where that of the other begins, and neither is.
func (c *combination) keeps(part Segment, ofB bool) bool {
	other, q := c.b, part.At(0.5)
	if ofB {
		other = c.a
	}
	if k, _ := other.tree.nearest(q, 4*c.tol, 0); k >= 0 {
		_, t := other.tree.segs[k].Nearest(q)
		same := dot(other.tree.segs[k].Tangent(t), part.Tangent(0.5)) > 0
		if c.backward {
			same = !same // one of the two tangents belongs to b as it was given
		}
		return same && !ofB
	}
	in := other.winding(q, -1) == other.material()
	switch {
	case c.backward && ofB:
		return in
	case c.backward:
		return !in
	}
	return in == c.inside
}

// prove checks that the result is a region, and its area by the rule of inclusion: the
// area of a union is between the larger and the sum, and so on. The area is settled
// further by counting over a grid of points.
func (c *combination) prove(loops []Path) string {
	areas := 0.0
	got := &region{}
	if len(loops) > 0 {
		got = index(loops)
		if why := got.proveSimple(); why != "" {
			return why
		}
		if why := got.nesting(); why != "" {
			return why
		}
		if got.outer != 0 {
			return "the result is not bounded"
		}
		areas = got.area
	}
	slack := 1e-6 * (c.a.area + c.b.area)
	lo, hi := max(c.a.area, c.b.area), c.a.area+c.b.area
	switch {
	case c.inside:
		lo, hi = 0, min(c.a.area, c.b.area)
	case c.backward:
		lo, hi = max(c.a.area-c.b.area, 0), c.a.area
	}
	if !(lo-slack <= areas && areas <= hi+slack) {
		return "the area is out of the bounds of the two given"
	}
	return c.proveGrid(loops, got)
}

// proveGrid asks at a grid of points whether the result covers what it should.
func (c *combination) proveGrid(loops []Path, got *region) string {
	const n = 12
	all := joinBoxes(c.a.bounds(), c.b.bounds())
	for k := range n * n {
		// Fractions without a pattern that a drawing would share.
		q := r2.Vec{
			X: all.Min.X + (all.Max.X-all.Min.X)*(float64(k%n)+0.5177)/n,
			Y: all.Min.Y + (all.Max.Y-all.Min.Y)*math.Mod(float64(k)*0.6180339887+0.0131, 1),
		}
		if c.a.tree.distance(q) < 8*c.tol || c.b.tree.distance(q) < 8*c.tol {
			continue
		}
		in, inB := c.a.winding(q, -1) == 1, c.b.winding(q, -1) == 1
		want := in || inB
		switch {
		case c.inside:
			want = in && inB
		case c.backward:
			want = in && !inB
		}
		if have := len(loops) > 0 && got.winding(q, -1) == 1; have != want {
			return "a point is covered that should not be, or the other way"
		}
	}
	return ""
}
