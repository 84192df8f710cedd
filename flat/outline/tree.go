package outline

import (
	"math"

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
		h := s.rise()
		b.x0, b.y0, b.x1, b.y1 = b.x0-h, b.y0-h, b.x1+h, b.y1+h
	}
	return b
}

// compass tells in which of eight directions, 45 degrees apart, a segment surely
// advances all along its length, a bit for each. A connected run whose segments
// share a bit advances in that direction from end to end and so cannot meet itself.
func (s *Segment) compass() uint8 {
	dx, dy := s.B.X-s.A.X, s.B.Y-s.A.Y
	if s.Bulge == 0 {
		return bearings(dx, dy)
	}
	// The tangents of an arc below a half turn lie between those of its ends.
	if !(math.Abs(s.Bulge) < 0.9) {
		return 0
	}
	ta, tb := s.ends()
	return bearings(ta.X, ta.Y) & bearings(tb.X, tb.Y)
}

func bearings(dx, dy float64) uint8 {
	// A margin far above rounding keeps the answer safe where a direction is nearly square.
	m := 1e-9 * (math.Abs(dx) + math.Abs(dy))
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

// node covers a run of consecutive segments.
type node struct {
	box
	advance uint8 // directions in which the whole run advances; 0 where it is broken
	broken  bool  // the run's first segment does not start where the one before it ended
}

// fan is the number of children of a node: small enough to skip much, large
// enough to keep the tree a third of the segments' own size.
const fan = 4

// tree is an index of segments in the order of their paths. A path is its own best
// spatial order: a run of consecutive segments is compact, so nothing is sorted.
// Level 0 holds a node for each segment, each next level one for every fan nodes.
type tree struct {
	segs   []Segment
	levels [][]node
}

// newTree indexes the segments; starts(i) tells that segment i does not continue i-1.
func newTree(segs []Segment, broken []bool) *tree {
	t := &tree{segs: segs}
	total, n := 0, len(segs)
	for n > 1 {
		total += n
		n = (n + fan - 1) / fan
	}
	store := make([]node, total+1)
	leaf := store[:len(segs):len(segs)]
	store = store[len(segs):]
	for i := range segs {
		leaf[i] = node{segs[i].cover(), segs[i].compass(), broken[i]}
	}
	t.levels = append(make([][]node, 0, 16), leaf)
	for level := leaf; len(level) > 1; {
		m := (len(level) + fan - 1) / fan
		up := store[:m:m]
		store = store[m:]
		for i := range up {
			kids := level[i*fan : min(i*fan+fan, len(level))]
			u := kids[0]
			for k := 1; k < len(kids); k++ {
				c := &kids[k]
				u.x0, u.y0 = min(u.x0, c.x0), min(u.y0, c.y0)
				u.x1, u.y1 = max(u.x1, c.x1), max(u.y1, c.y1)
				u.advance &= c.advance
				if c.broken {
					u.advance = 0
				}
			}
			up[i] = u
		}
		t.levels = append(t.levels, up)
		level = up
	}
	return t
}

// pathTree indexes all segments of the paths, one path after the other.
func pathTree(paths []Path) *tree {
	n := 0
	for _, p := range paths {
		n += p.NumSegments()
	}
	segs, broken := make([]Segment, 0, n), make([]bool, n)
	for _, p := range paths {
		if m := p.NumSegments(); m > 0 {
			broken[len(segs)] = true
			for i := range m {
				segs = append(segs, p.Segment(i))
			}
		}
	}
	return newTree(segs, broken)
}

func (t *tree) top() int { return len(t.levels) - 1 }

// selfPairs calls visit for every pair of segments i < j that may meet, apart from
// those that a common direction of advance proves not to.
func (t *tree) selfPairs(tol float64, visit func(i, j int)) {
	if len(t.segs) > 0 {
		t.within(t.top(), 0, tol, visit)
	}
}

func (t *tree) kids(level, i int) (lo, hi int) {
	return i * fan, min(i*fan+fan, len(t.levels[level-1]))
}

func (t *tree) within(level, i int, tol float64, visit func(i, j int)) {
	if level == 0 || t.levels[level][i].advance != 0 {
		return
	}
	lo, hi := t.kids(level, i)
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
	if !na.meets(&nb.box, tol) {
		return
	}
	if a+1 == b && !nb.broken && na.advance&nb.advance != 0 {
		return
	}
	if level == 0 {
		visit(a, b)
		return
	}
	alo, ahi := t.kids(level, a)
	blo, bhi := t.kids(level, b)
	for i := alo; i < ahi; i++ {
		if !t.levels[level-1][i].meets(&nb.box, tol) {
			continue
		}
		for j := blo; j < bhi; j++ {
			t.between(level-1, i, j, tol, visit)
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
	switch {
	case la == 0 && lb == 0:
		visit(a, b)
	case la >= lb:
		lo, hi := t.kids(la, a)
		for i := lo; i < hi; i++ {
			t.across(la-1, i, o, lb, b, tol, visit)
		}
	default:
		lo, hi := o.kids(lb, b)
		for j := lo; j < hi; j++ {
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
	if level == 0 {
		if d := s.segs[i].Distance(s.q); d < s.best {
			s.best, s.seg = d, i
		}
		return
	}
	lo, hi := s.kids(level, i)
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
