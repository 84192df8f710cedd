package outline

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// An arrangement is a set of directed candidate segments out of which the wanted
// boundary is picked: they are cut where they meet, each stretch between two cuts is
// kept or dropped whole, and what is kept is linked end to start into loops. Offsets and
// boolean operations differ only in the candidates and in what they keep.
//
// The candidates come in runs; within a run each segment starts where the one before
// it ended, exactly, but where broken says otherwise.
type arrangement struct {
	segs   []Segment
	broken []bool
	runs   []run
	tol    float64 // points nearer than this are one
	cuts   []cut
	index  tree // of the candidates, for cutting them
}

// run is the candidates lo to hi-1; it is a ring when the last leads into the first.
type run struct {
	lo, hi int
	ring   bool
}

// cut is a place on candidate seg where it meets another. A stretch that starts or
// ends on a dead side is known to be unwanted.
type cut struct {
	seg                   int
	t                     float64
	p                     r2.Vec
	deadBefore, deadAfter bool
}

// stretch is the part of a run between two cuts, from (first, t0) to (last, t1); last
// may be counted on past the run's end, for a ring.
type stretch struct {
	run         run
	first, last int
	t0, t1      float64
	start, end  r2.Vec
	whole       bool // a ring without cuts
	dead        bool
}

// at folds an index counted on past the end of the run.
func (r run) at(i int) int {
	if i >= r.hi {
		return i - (r.hi - r.lo)
	}
	return i
}

// follows tells that candidate j is the successor of i in a run.
func (a *arrangement) follows(i, j int) bool {
	if j == i+1 {
		return !a.broken[j]
	}
	if j < i {
		k, _ := slices.BinarySearchFunc(a.runs, i, func(r run, i int) int { return cmp.Compare(r.hi, i+1) })
		r := a.runs[k]
		return r.ring && i == r.hi-1 && j == r.lo
	}
	return false
}

// dying tells, for segments s and o that cross squarely at m, on which side of the cut
// each is unwanted.
type dying func(s, o Segment, m Meeting) (sBefore, sAfter, oBefore, oAfter bool)

// cutAll cuts every candidate where it meets another. Where two coincide nothing is known of
// either side of the cuts: what is kept decides.
func (a *arrangement) cutAll(dies dying) {
	if len(a.segs) < 2 {
		return
	}
	t := &a.index
	t.segs, t.broken = a.segs, a.broken
	t.grow()
	t.selfPairs(a.tol, func(i, j int) {
		s, o := a.segs[i], a.segs[j]
		next, wrapped := a.follows(i, j), a.follows(j, i)
		if s.Bulge == 0 && o.Bulge == 0 {
			if next != wrapped && dot(s.Chord(), o.Chord()) > 0 || apart(s, o, a.tol) {
				return
			}
		}
		a.cutPair(i, j, next, wrapped, dies)
	})
	a.sortCuts()
}

func (a *arrangement) sortCuts() {
	slices.SortStableFunc(a.cuts, func(x, y cut) int {
		if c := cmp.Compare(x.seg, y.seg); c != 0 {
			return c
		}
		return cmp.Compare(x.t, y.t)
	})
}

// apart tells that two lines surely do not come within tol of each other: one lies
// wholly on one side of the other.
func apart(s, o Segment, tol float64) bool {
	side := func(s, o Segment) bool {
		c := s.Chord()
		a, b := cross(c, r2.Sub(o.A, s.A)), cross(c, r2.Sub(o.B, s.A))
		m := tol * (math.Abs(c.X) + math.Abs(c.Y))
		return a > m && b > m || a < -m && b < -m
	}
	return side(s, o) || side(o, s)
}

func (a *arrangement) cutPair(i, j int, next, wrapped bool, dies dying) {
	s, o := a.segs[i], a.segs[j]
	m := meet(s, o, a.tol)
	if m.n == 0 {
		return
	}
	ls, lo := s.Length(), o.Length()
	for k := range m.n {
		q := m.at[k]
		along := m.along[k] || k > 0 && m.along[k-1]
		if !along &&
			(next && dist(q.P, s.B) <= 4*a.tol || wrapped && dist(q.P, s.A) <= 4*a.tol) {
			continue // the vertex they share
		}
		c, d := cut{seg: i, t: q.T, p: q.P}, cut{seg: j, t: q.U, p: q.P}
		if !along && inner(q.T, ls, a.tol) && inner(q.U, lo, a.tol) {
			c.deadBefore, c.deadAfter, d.deadBefore, d.deadAfter = dies(s, o, q)
		}
		a.cuts = append(a.cuts, c, d)
	}
}

// inner tells that a fraction of a length is clear of both ends.
func inner(t, length, tol float64) bool {
	return t*length > 4*tol && (1-t)*length > 4*tol
}

// stretches walks all runs and calls visit for each stretch between two cuts.
func (a *arrangement) stretches(visit func(stretch)) {
	c := 0
	for _, r := range a.runs {
		c0 := c
		for c < len(a.cuts) && a.cuts[c].seg < r.hi {
			c++
		}
		if r.lo < r.hi {
			a.runStretches(r, a.cuts[c0:c], visit)
		}
	}
}

// runStretches walks one run from end to end. In a ring the stretch that begins at
// its first candidate is held back and joined to the one that ends at its last.
func (a *arrangement) runStretches(r run, cuts []cut, visit func(stretch)) {
	var held stretch
	holding := r.ring
	cur := stretch{run: r, first: r.lo, start: a.segs[r.lo].A, dead: !r.ring}
	finish := func(last int, t float64, p r2.Vec, dead bool) {
		cur.last, cur.t1, cur.end = last, t, p
		cur.dead = cur.dead || dead
		if holding {
			held, holding = cur, false
			return
		}
		visit(cur)
	}
	k := 0
	for i := r.lo; i < r.hi; i++ {
		if a.broken[i] && i > r.lo {
			// Both sides of a break lie within the distance of what broke the run.
			finish(i-1, 1, a.segs[i-1].B, true)
			cur = stretch{run: r, first: i, start: a.segs[i].A, dead: true}
		}
		for ; k < len(cuts) && cuts[k].seg == i; k++ {
			q := cuts[k]
			finish(i, q.t, q.p, q.deadBefore)
			cur = stretch{run: r, first: i, t0: q.t, start: q.p, dead: q.deadAfter}
		}
	}
	if !r.ring {
		finish(r.hi-1, 1, a.segs[r.hi-1].B, true)
		return
	}
	if holding { // no cut and no break
		cur.last, cur.t1, cur.end, cur.whole = r.hi-1, 1, cur.start, true
		visit(cur)
		return
	}
	cur.last, cur.t1, cur.end = r.hi-r.lo+held.last, held.t1, held.end
	cur.dead = cur.dead || held.dead
	visit(cur)
}

// each runs through the parts of candidates that make up a stretch.
func (a *arrangement) each(s stretch, visit func(Segment) bool) {
	for i := s.first; i <= s.last; i++ {
		seg := a.segs[s.run.at(i)]
		t0, t1 := 0.0, 1.0
		if i == s.first {
			t0 = s.t0
		}
		if i == s.last {
			t1 = s.t1
		}
		if t1 <= t0 {
			continue
		}
		if t0 != 0 || t1 != 1 {
			seg = seg.Between(t0, t1)
		}
		// The ends are where the cuts put them, exactly the same for both that meet there.
		if i == s.first {
			seg.A = s.start
		}
		if i == s.last {
			seg.B = s.end
		}
		if !visit(seg) {
			return
		}
	}
}

// sample returns a point well inside a stretch: the middle of its longest part among
// the first few. long is the length of that part.
func (a *arrangement) sample(s stretch) (at Segment, long float64) {
	count := 0
	a.each(s, func(seg Segment) bool {
		if l := dist(seg.A, seg.B); l > long {
			at, long = seg, l
		}
		count++
		return count < 64
	})
	return at, long
}

// link joins the stretches into closed paths, end to start. Where several start at
// one place the sharpest left turn is taken: material lies on the left, so loops that
// only touch come apart.
func (a *arrangement) link(kept []stretch) (loops []Path, complete bool) {
	const reach = 8                 // cuts of three segments through one point lie a few tolerances apart
	order := make([]int, len(kept)) // by the x of the start
	used := make([]bool, len(kept))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int {
		if c := cmp.Compare(kept[i].start.X, kept[j].start.X); c != 0 {
			return c
		}
		return i - j
	})
	near := func(p r2.Vec, visit func(k int)) {
		lo, _ := slices.BinarySearchFunc(order, p.X-reach*a.tol, func(i int, x float64) int {
			return cmp.Compare(kept[i].start.X, x)
		})
		for ; lo < len(order) && kept[order[lo]].start.X <= p.X+reach*a.tol; lo++ {
			if dist(kept[order[lo]].start, p) <= reach*a.tol {
				visit(order[lo])
			}
		}
	}
	for i := range kept {
		if used[i] {
			continue
		}
		used[i] = true
		if kept[i].whole {
			loops = append(loops, a.loop(kept[i:i+1]))
			continue
		}
		chain := []stretch{kept[i]}
		for {
			last := chain[len(chain)-1]
			in := a.endTangent(last)
			best, bestTurn := -1, math.Inf(-1)
			near(last.end, func(k int) {
				if used[k] && k != i {
					return
				}
				out := a.startTangent(kept[k])
				if turn := math.Atan2(cross(in, out), dot(in, out)); turn > bestTurn {
					best, bestTurn = k, turn
				}
			})
			if best < 0 {
				return nil, false
			}
			if best == i {
				break
			}
			used[best] = true
			chain = append(chain, kept[best])
		}
		if p := a.loop(chain); len(p.Vertices) > 1 {
			loops = append(loops, p)
		}
	}
	return loops, true
}

func (a *arrangement) startTangent(s stretch) (t r2.Vec) {
	a.each(s, func(seg Segment) bool {
		t, _ = seg.ends()
		return dist(seg.A, seg.B) <= a.tol
	})
	return t
}

func (a *arrangement) endTangent(s stretch) (t r2.Vec) {
	// Only the last parts matter; all but a few are skipped.
	tail := s
	if tail.first < s.last-3 {
		tail.first, tail.t0, tail.start = s.last-3, 0, a.segs[s.run.at(s.last-3)].A
	}
	a.each(tail, func(seg Segment) bool {
		if dist(seg.A, seg.B) > a.tol {
			_, t = seg.ends()
		}
		return true
	})
	return t
}

// loop writes stretches that follow one another as a closed path, leaving out parts
// no longer than the tolerance.
func (a *arrangement) loop(chain []stretch) Path {
	vs := a.chain(nil, chain)
	if n := len(vs); n > 1 && dist(vs[n-1].P, vs[0].P) <= 8*a.tol {
		vs = vs[:n-1]
	}
	return Path{Vertices: vs, Closed: true}
}

// chain appends the vertices of stretches that follow one another, the last end included.
func (a *arrangement) chain(vs []Vertex, chain []stretch) []Vertex {
	n := 1
	for _, s := range chain {
		n += s.last - s.first + 1
	}
	vs = slices.Grow(vs, n)
	var end r2.Vec
	for _, s := range chain {
		a.each(s, func(seg Segment) bool {
			if dist(seg.A, seg.B) <= 4*a.tol && math.Abs(seg.Bulge) < 1 {
				return true
			}
			vs = append(vs, Vertex{seg.A, seg.Bulge})
			end = seg.B
			return true
		})
	}
	if len(vs) > 0 {
		vs = append(vs, Vertex{P: end})
	}
	return vs
}
