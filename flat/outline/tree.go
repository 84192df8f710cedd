package outline

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// box is an axis-parallel box; plain fields keep the trees compact.
type box struct{ x0, y0, x1, y1 float64 }

func (a *box) meets(b *box, tol float64) bool {
	return a.x0 <= b.x1+tol && b.x0 <= a.x1+tol && a.y0 <= b.y1+tol && b.y0 <= a.y1+tol
}

// away2 is the squared distance from q to the box, 0 inside.
func (a *box) away2(q r2.Vec) float64 {
	dx := max(a.x0-q.X, 0, q.X-a.x1)
	dy := max(a.y0-q.Y, 0, q.Y-a.y1)
	return dx*dx + dy*dy
}

// cover is a box that surely holds the segment: the chord's box grown by the rise
// of the arc, which costs no trigonometry. (Beyond a half circle the arc reaches
// R - L/2 past the chord's ends, and its rise exceeds R.)
func (s *Segment) cover() box {
	b := box{min(s.A.X, s.B.X), min(s.A.Y, s.B.Y), max(s.A.X, s.B.X), max(s.A.Y, s.B.Y)}
	if s.Bulge != 0 {
		h := s.shallow()
		if h == 0 {
			h = s.rise()
		}
		b.x0, b.y0, b.x1, b.y1 = b.x0-h, b.y0-h, b.x1+h, b.y1+h
	}
	return b
}

// shallow bounds the rise of an arc that turns little, without a root: no chord is longer than the
// sum of its sides. It is 0 for arcs that turn more than eleven degrees, and for lines.
func (s *Segment) shallow() float64 {
	if b := math.Abs(s.Bulge); b < 0.05 {
		return b / 2 * (math.Abs(s.B.X-s.A.X) + math.Abs(s.B.Y-s.A.Y))
	}
	return 0
}

// compass tells in which of eight directions, 45 degrees apart, a segment surely
// advances all along its length, a bit for each. A connected run whose segments
// share a bit advances in that direction from end to end and so cannot meet itself.
func (s *Segment) compass() uint8 {
	dx, dy := s.B.X-s.A.X, s.B.Y-s.A.Y
	if s.Bulge == 0 {
		return bearings(dx, dy, 0)
	}
	if b := math.Abs(s.Bulge); b < 0.05 {
		// The tangent strays from the chord by 2·atan b at most: an advance of the chord c along u
		// stays one while c·u > tan(2·atan b)·|c×u|, and tan(2·atan b) = 2b/(1-b²) < 2.01b.
		return bearings(dx, dy, 3*b)
	}
	// The tangents of an arc below a half turn lie between those of its ends.
	if !(math.Abs(s.Bulge) < 0.9) {
		return 0
	}
	ta, tb := s.ends()
	return bearings(ta.X, ta.Y, 0) & bearings(tb.X, tb.Y, 0)
}

// bearings are the directions in which a vector advances by more than the slack times its size.
func bearings(dx, dy, slack float64) uint8 {
	// A margin far above rounding keeps the answer safe where a direction is nearly square.
	m := (1e-9 + slack) * (math.Abs(dx) + math.Abs(dy))
	var bits uint8
	if dx > m {
		bits |= 1
	} else if dx < -m {
		bits |= 1 << 4
	}
	if d := dx + dy; d > m {
		bits |= 1 << 1
	} else if d < -m {
		bits |= 1 << 5
	}
	if dy > m {
		bits |= 1 << 2
	} else if dy < -m {
		bits |= 1 << 6
	}
	if d := dy - dx; d > m {
		bits |= 1 << 3
	} else if d < -m {
		bits |= 1 << 7
	}
	return bits
}

// gap2 is the squared distance of two boxes, 0 where they meet.
func (a *box) gap2(b *box) float64 {
	dx := max(a.x0-b.x1, 0, b.x0-a.x1)
	dy := max(a.y0-b.y1, 0, b.y0-a.y1)
	return dx*dx + dy*dy
}

// node covers a run of consecutive segments.
type node struct {
	box
	advance uint8 // directions in which the whole run advances; 0 where it is broken
	broken  bool  // the run's first segment does not start where the one before it ended
}

// fan is the number of children of a node, and of segments under a lowest node: small
// enough to skip much, large enough to keep the tree a third of the segments' own size.
const fan = 4

// tree is an index of segments in the order of their paths. A path is its own best
// spatial order: a run of consecutive segments is compact, so nothing is sorted.
// Level 0 holds a node for every fan segments, each next level one for every fan nodes.
type tree struct {
	segs   []Segment
	broken []bool // the segment does not continue the one before it
	levels [][]node
	store  []node // of all levels
}

func newTree(segs []Segment, broken []bool) *tree {
	t := &tree{segs: segs, broken: broken}
	t.grow()
	return t
}

// grow builds the levels over the segments.
func (t *tree) grow() {
	total := 1
	for n := len(t.segs); n > 1; {
		n = (n + fan - 1) / fan
		total += n
	}
	t.store = room(t.store, total)
	t.levels = room(t.levels, 16)[:0]
	store := t.store
	take := func(n int) []node {
		level := store[:n:n]
		store = store[n:]
		return level
	}
	level := take((len(t.segs) + fan - 1) / fan)
	for i := range level {
		t.leaf(i, &level[i])
	}
	t.levels = append(t.levels, level)
	for len(level) > 1 {
		up := take((len(level) + fan - 1) / fan)
		for i := range up {
			up[i] = level[i*fan]
			for k := i*fan + 1; k < min(i*fan+fan, len(level)); k++ {
				up[i].take(&level[k])
			}
		}
		t.levels = append(t.levels, up)
		level = up
	}
}

// room is a slice of n elements, of any values: the old one's where that is long enough.
func room[T any](old []T, n int) []T {
	if cap(old) >= n {
		return old[:n]
	}
	return make([]T, n)
}

// leaf makes n cover segments fan·i to fan·i+fan-1.
func (t *tree) leaf(i int, n *node) {
	lo, hi := i*fan, min(i*fan+fan, len(t.segs))
	s := &t.segs[lo]
	b, advance := s.cover(), s.compass()
	for k := lo + 1; k < hi; k++ {
		s = &t.segs[k]
		c := s.cover()
		b.grow(&c)
		if t.broken[k] {
			advance = 0
		} else if advance != 0 {
			advance &= s.compass()
		}
	}
	n.box, n.advance, n.broken = b, advance, t.broken[lo]
}

// grow makes the box hold another.
func (a *box) grow(c *box) {
	a.x0, a.y0 = min(a.x0, c.x0), min(a.y0, c.y0)
	a.x1, a.y1 = max(a.x1, c.x1), max(a.y1, c.y1)
}

// take makes n cover the node that follows it too.
func (n *node) take(c *node) {
	n.grow(&c.box)
	n.advance &= c.advance
	if c.broken {
		n.advance = 0
	}
}

// pathTree indexes all segments of the paths, one path after the other.
func pathTree(paths []Path) *tree {
	t := new(tree)
	t.index(paths)
	return t
}

// index makes the tree that of the paths, in the room it has.
func (t *tree) index(paths []Path) {
	n := 0
	for _, p := range paths {
		n += p.NumSegments()
	}
	t.segs, t.broken = room(t.segs, n), room(t.broken, n)
	clear(t.broken)
	at := 0
	for _, p := range paths {
		m := p.NumSegments()
		if m == 0 {
			continue
		}
		t.broken[at] = true
		for i := range m {
			v, next := &p.Vertices[i], &p.Vertices[0]
			if i+1 < len(p.Vertices) {
				next = &p.Vertices[i+1]
			}
			s := &t.segs[at]
			s.A.X, s.A.Y, s.B.X, s.B.Y, s.Bulge = v.P.X, v.P.Y, next.P.X, next.P.Y, v.Bulge
			at++
		}
	}
	t.grow()
}

// size is the scale to which tolerances are relative: the largest coordinate, arcs included.
func (t *tree) size() float64 {
	if len(t.segs) == 0 {
		return 0
	}
	b := &t.levels[t.top()][0].box
	return max(-b.x0, -b.y0, b.x1, b.y1)
}

func (t *tree) top() int { return len(t.levels) - 1 }

// kids are the children of a node of a level above 0, under those of level 0 the segments.
func (t *tree) kids(level, i int) (lo, hi int) {
	n := len(t.segs)
	if level > 0 {
		n = len(t.levels[level-1])
	}
	return i * fan, min(i*fan+fan, n)
}

// under are the segments lo to hi-1 that a node covers.
func (t *tree) under(level, i int) (lo, hi int) {
	n := 1
	for range level + 1 {
		n *= fan
	}
	return i * n, min(i*n+n, len(t.segs))
}

// advance returns directions in which the run of the segments lo to hi advances from end to end,
// as far as a few nodes of a level can tell.
func (t *tree) advance(level, lo, hi int) uint8 {
	n := 1
	for range level + 1 {
		n *= fan
	}
	lo, hi = lo/n, hi/n
	if hi-lo > 4*fan {
		return 0
	}
	bits := t.levels[level][lo].advance
	for k := lo + 1; k <= hi && bits != 0; k++ {
		if m := &t.levels[level][k]; m.broken {
			return 0
		} else {
			bits &= m.advance
		}
	}
	return bits
}

// selfPairs calls visit for every pair of segments i < j that may meet, apart from
// those that a common direction of advance proves not to.
func (t *tree) selfPairs(tol float64, visit func(i, j int)) {
	if len(t.segs) > 0 {
		t.within(t.top(), 0, tol, visit)
	}
}

func (t *tree) within(level, i int, tol float64, visit func(i, j int)) {
	if t.levels[level][i].advance != 0 {
		return
	}
	lo, hi := t.kids(level, i)
	if level == 0 {
		t.leafPairs(lo, hi, lo, hi, tol, visit)
		return
	}
	for a := lo; a < hi; a++ {
		t.within(level-1, a, tol, visit)
		for b := a + 1; b < hi; b++ {
			t.between(level-1, a, b, tol, visit)
		}
	}
}

// between takes two nodes of one level, a before b.
func (t *tree) between(level, a, b int, tol float64, visit func(i, j int)) {
	na, nb := &t.levels[level][a], &t.levels[level][b]
	if !na.meets(&nb.box, tol) || a+1 == b && !nb.broken && na.advance&nb.advance != 0 {
		return
	}
	alo, ahi := t.kids(level, a)
	blo, bhi := t.kids(level, b)
	if level == 0 {
		t.leafPairs(alo, ahi, blo, bhi, tol, visit)
		return
	}
	for i := alo; i < ahi; i++ {
		if !t.levels[level-1][i].meets(&nb.box, tol) {
			continue
		}
		for j := blo; j < bhi; j++ {
			t.between(level-1, i, j, tol, visit)
		}
	}
}

// leafPairs tries the segments of two lowest nodes, or of one, pair by pair.
func (t *tree) leafPairs(alo, ahi, blo, bhi int, tol float64, visit func(i, j int)) {
	var covers [fan]box
	for j := blo; j < bhi; j++ {
		covers[j-blo] = t.segs[j].cover()
	}
	for i := alo; i < ahi; i++ {
		c := t.segs[i].cover()
		for j := max(blo, i+1); j < bhi; j++ {
			if !c.meets(&covers[j-blo], tol) {
				continue
			}
			if j == i+1 && !t.broken[j] && t.segs[i].compass()&t.segs[j].compass() != 0 {
				continue
			}
			visit(i, j)
		}
	}
}

// pairs calls visit for every segment i of t and j of o that may meet.
func (t *tree) pairs(o *tree, tol float64, visit func(i, j int)) {
	if len(t.segs) > 0 && len(o.segs) > 0 {
		t.across(t.top(), 0, o, o.top(), 0, tol, visit)
	}
}

func (t *tree) across(la, a int, o *tree, lb, b int, tol float64, visit func(i, j int)) {
	if !t.levels[la][a].meets(&o.levels[lb][b].box, tol) {
		return
	}
	alo, ahi := t.kids(la, a)
	blo, bhi := o.kids(lb, b)
	switch {
	case la == 0 && lb == 0:
		for i := alo; i < ahi; i++ {
			c := t.segs[i].cover()
			for j := blo; j < bhi; j++ {
				if d := o.segs[j].cover(); c.meets(&d, tol) {
					visit(i, j)
				}
			}
		}
	case la >= lb:
		for i := alo; i < ahi; i++ {
			t.across(la-1, i, o, lb, b, tol, visit)
		}
	default:
		for j := blo; j < bhi; j++ {
			t.across(la, a, o, lb-1, j, tol, visit)
		}
	}
}

// nearest returns the segment nearest to q and its distance, looking only for
// distances below limit; -1 when there is none. It stops at the first distance
// below enough, which turns it into the question whether a disc is empty.
func (t *tree) nearest(q r2.Vec, limit, enough float64) (seg int, d float64) {
	s := seek{tree: t, q: q, best: limit, enough: enough, seg: -1}
	if len(t.segs) > 0 && finite(q) {
		s.node(t.top(), 0)
	}
	return s.seg, s.best
}

type seek struct {
	*tree
	q            r2.Vec
	best, enough float64
	seg          int
}

func (s *seek) node(level, i int) {
	lo, hi := s.kids(level, i)
	if level == 0 {
		for k := lo; k < hi; k++ {
			if d := s.segs[k].Distance(s.q); d < s.best {
				s.best, s.seg = d, k
			}
		}
		return
	}
	var order [fan]int
	var away [fan]float64
	n := 0
	for k := lo; k < hi; k++ {
		d := s.levels[level-1][k].away2(s.q)
		at := n
		for at > 0 && away[at-1] > d {
			away[at], order[at] = away[at-1], order[at-1]
			at--
		}
		away[at], order[at] = d, k
		n++
	}
	for k := range n {
		// The margin covers the rounding of the box's squared distance.
		if away[k]*(1-1e-14) >= s.best*s.best || s.best < s.enough {
			return
		}
		s.node(level-1, order[k])
	}
}

// rayIndex visits the segments that the ray from q toward +x may cross, until told to stop.
func (t *tree) rayIndex(q r2.Vec, tol float64, visit func(i int) bool) {
	var walk func(level, i int) bool
	walk = func(level, i int) bool {
		b := &t.levels[level][i].box
		if q.Y < b.y0-tol || q.Y > b.y1+tol || q.X > b.x1+tol {
			return true
		}
		lo, hi := t.kids(level, i)
		for k := lo; k < hi; k++ {
			if level == 0 && !visit(k) || level > 0 && !walk(level-1, k) {
				return false
			}
		}
		return true
	}
	if len(t.segs) > 0 {
		walk(t.top(), 0)
	}
}

// closest descends two trees toward the nearest pair of their segments.
type closest struct {
	s, o *tree
	d    float64
	tol  float64 // two that come nearer meet
	a, b r2.Vec
}

func (a *box) gap(b *box) float64 { return math.Sqrt(a.gap2(b)) }

func (c *closest) nodes(ls, i, lo, j int) {
	if !(c.s.levels[ls][i].gap(&c.o.levels[lo][j].box)*(1-1e-14) < c.d) {
		return
	}
	alo, ahi := c.s.kids(ls, i)
	blo, bhi := c.o.kids(lo, j)
	if ls == 0 && lo == 0 {
		for k := alo; k < ahi; k++ {
			for l := blo; l < bhi; l++ {
				c.segments(c.s.segs[k], c.o.segs[l])
			}
		}
		return
	}
	type way struct {
		i, j int
		gap  float64
	}
	var ways [fan]way
	n := 0
	if ls >= lo {
		for k := alo; k < ahi; k++ {
			ways[n] = way{k, j, c.s.levels[ls-1][k].gap(&c.o.levels[lo][j].box)}
			n++
		}
		ls--
	} else {
		for k := blo; k < bhi; k++ {
			ways[n] = way{i, k, c.s.levels[ls][i].gap(&c.o.levels[lo-1][k].box)}
			n++
		}
		lo--
	}
	slices.SortStableFunc(ways[:n], func(a, b way) int { return cmp.Compare(a.gap, b.gap) })
	for _, w := range ways[:n] {
		c.nodes(ls, w.i, lo, w.j)
	}
}
