package outline

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// moved is a segment displaced to its right, with what the corners leave of it.
type moved struct {
	src        *Segment
	t0, t1     r2.Vec  // unit directions of travel at the source's ends
	len        float64 // of the source's chord
	from, to   float64 // what the corners leave, as fractions of the length
	start, end r2.Vec  // the ends they leave
	gone       bool    // an arc whose radius the displacement uses up
	// A straight segment too near to a neighbour is lost, but for what a miter adds
	// beyond its other end.
	near, reachesBack, reachesOn bool
}

// set moves s by d to its right. An arc keeps its centre; its radius grows by
// d for a left turn and shrinks for a right turn. Past a radius used up lie points that
// are farthest from the arc where they should be nearest, so nothing of it remains.
func (m *moved) set(s *Segment, d float64) {
	c := r2.Vec{X: s.B.X - s.A.X, Y: s.B.Y - s.A.Y}
	l := length(c)
	m.src, m.len, m.from, m.to = s, l, 0, 1
	m.gone, m.near, m.reachesBack, m.reachesOn = false, false, false, false
	if s.Bulge == 0 {
		m.t0 = r2.Vec{X: c.X / l, Y: c.Y / l}
		m.t1 = m.t0
	} else {
		ta, tb := s.ends()
		k := 1 / (l * (1 + s.Bulge*s.Bulge))
		m.t0 = r2.Vec{X: ta.X * k, Y: ta.Y * k}
		m.t1 = r2.Vec{X: tb.X * k, Y: tb.Y * k}
		if s.Bulge > 0 != (d > 0) {
			r := s.Radius()
			m.gone = !(r-math.Abs(d) > 1e-9*r)
		}
	}
	m.start = aside(s.A, m.t0, d)
	m.end = aside(s.B, m.t1, d)
}

// aside is the point d to the right of one where the direction of travel is t.
func aside(p, t r2.Vec, d float64) r2.Vec { return r2.Vec{X: p.X + d*t.Y, Y: p.Y - d*t.X} }

// displaced is the whole segment moved by d, whatever the corners leave of it; it means nothing
// when that is gone.
func (m *moved) displaced(d float64) Segment {
	return Segment{A: aside(m.src.A, m.t0, d), B: aside(m.src.B, m.t1, d), Bulge: m.src.Bulge}
}

// raw collects the displaced candidates of closed paths. Every point of the wanted
// offset lies on one of them; where the run of candidates is broken, both ends at the
// break lie nearer to the source than the distance.
type raw struct {
	*arrangement
	d     float64
	miter float64 // the largest reach of a miter as a multiple of the distance; below 1 all corners are round
	kites []kite

	split, half int // the candidates below half come from the segments below split

	lo     int     // the first candidate of the run being built
	last   r2.Vec  // where the last candidate ended
	gap    bool    // the next candidate does not continue the last
	slack  float64 // corners that part by no more than this are smooth
	whole  bool    // no candidate was lost, so that the area formula holds
	length float64 // of the source
	growth float64 // of the area, beyond distance times length
}

// kite is the corner region that a miter adds beyond the rounded offset.
type kite [4]r2.Vec

// holds tells that q lies inside, farther than tol from every side.
func (k *kite) holds(q r2.Vec, tol float64) bool {
	left, right := true, true
	for i := range k {
		a, b := k[i], k[(i+1)&3]
		c, m := cross(r2.Sub(b, a), r2.Sub(q, a)), dist(a, b)*tol
		left, right = left && c > m, right && c < -m
	}
	return left || right
}

// sortKites puts them in the order of the x of their vertices, by which mitered finds them.
func (w *raw) sortKites() {
	slices.SortStableFunc(w.kites, func(a, b kite) int { return cmp.Compare(a[0].X, b[0].X) })
}

// mitered tells that q lies in the reach of a miter. None reaches farther from its vertex
// than the limit.
func (w *raw) mitered(q r2.Vec, tol float64) bool {
	reach := math.Abs(w.d) * w.miter
	i, _ := slices.BinarySearchFunc(w.kites, q.X-reach, func(k kite, x float64) int { return cmp.Compare(k[0].X, x) })
	for ; i < len(w.kites) && w.kites[i][0].X <= q.X+reach; i++ {
		if w.kites[i].holds(q, tol) {
			return true
		}
	}
	return false
}

// path adds the candidates of the segments of a closed path.
func (w *raw) path(source []Segment) {
	lo, n := len(w.segs), len(source)
	w.lo, w.gap = lo, true
	var join joint
	var two [2]moved // the segment at hand and the one after it, by turns
	cur, next := &two[0], &two[1]
	next.set(&source[n-1], w.d)
	cur.set(&source[0], w.d)
	w.corner(next, cur, &join)
	headGap := false
	for i := range n {
		k := i + 1
		if k == n {
			k = 0
		}
		next.set(&source[k], w.d)
		join.n = 0
		joined := w.corner(cur, next, &join)
		w.growth += join.area
		if b := cur.src.Bulge; b != 0 {
			// Its strip is ((R±d)² - R²)/2 times the sweep: d·length and this.
			w.growth += 2 * w.d * w.d * math.Atan(b)
			w.length += cur.src.Length()
		} else {
			w.length += cur.len
		}
		if i == 0 {
			w.gap = false
		}
		w.emit(cur)
		if i == w.split-1 {
			w.half = len(w.segs)
		}
		if len(w.segs) == lo {
			headGap = headGap || w.gap
		}
		if !joined {
			w.gap = true
			headGap = headGap || len(w.segs) == lo
		}
		for k := range join.n {
			s := &join.seg[k]
			w.put(s.A, s.B, s.Bulge)
		}
		cur, next = next, cur
	}
	hi := len(w.segs)
	if hi == lo {
		w.whole = false
		return
	}
	ring := !w.gap && !headGap
	if ring {
		w.segs[hi-1].B = w.segs[lo].A // it closes on the very point it began at
	} else {
		w.whole = false
	}
	w.runs = append(w.runs, run{lo, hi, ring})
}

// emit puts what the corners left of a displaced segment.
func (w *raw) emit(m *moved) {
	if m.gone || (m.to-m.from)*m.len < -w.slack || m.near && !m.reachesBack && !m.reachesOn {
		w.gap, w.whole = true, false
		return
	}
	bulge := m.src.Bulge
	if bulge != 0 && (m.from != 0 || m.to != 1) {
		bulge = math.Tan((m.to - m.from) * math.Atan(bulge))
	} else if bulge == 0 && m.to <= m.from {
		return // trimmed to nothing, exactly
	}
	w.put(m.start, m.end, bulge)
}

func (w *raw) put(from, to r2.Vec, bulge float64) {
	if math.Abs(to.X-from.X)+math.Abs(to.Y-from.Y) <= w.slack && math.Abs(bulge) < 1 {
		return // the next one starts where this would have
	}
	begins := len(w.segs) == w.lo
	if !w.gap && !begins {
		from = w.last
	} else if !begins {
		w.whole = false
	}
	w.segs = append(w.segs, Segment{A: from, B: to, Bulge: bulge})
	w.broken = append(w.broken, w.gap || begins)
	w.gap, w.last = false, to
}

// turnedBack is 1 + cos of turns within 1e-4 rad of a half turn.
const turnedBack = 5e-9

// turnsLeft tells the side to which a path turns from p to q, where the turn has sine s and cosine c.
//
// At the tip of a spike between arcs that part the sides may cross within a hair of the tip, up to
// 1e-4 rad off, and the directions there turn the wrong way. What counts is where the sides lie
// once they have parted: seen from the tip along p backward, q lies s·h - (k+l)h²/2 to the right at h, k and l
// their curvatures. Sides that do not cross have that on one side all the way.
func turnsLeft(p, q *Segment, s, c float64) bool {
	if 1+c >= turnedBack {
		return s > 0
	}
	h := min(length(p.Chord()), length(q.Chord())) / 2
	return s-(p.curvature()+q.curvature())*h/2 > 0
}

// retraced tells that q leads back over p: the end of an open path, on either side of which lies its
// half circle.
func retraced(p, q *Segment) bool { return q.B == p.A && q.Bulge == -p.Bulge }

// joint is what a corner puts between two displaced segments, and what it adds to the area.
type joint struct {
	seg  [2]Segment
	n    int
	area float64
}

func (j *joint) add(s Segment) {
	j.seg[j.n] = s
	j.n++
}

// corner treats the corner between two neighbours and reports whether they hang
// together after it.
func (w *raw) corner(p, q *moved, j *joint) bool {
	j.area = 0
	s, c := cross(p.t1, q.t0), dot(p.t1, q.t0)
	if gap := r2.Sub(q.start, p.end); c > 0 && math.Abs(gap.X)+math.Abs(gap.Y) <= w.slack {
		q.start = p.end
		return true
	}
	if w.d > 0 == turnsLeft(p.src, q.src, s, c) || retraced(p.src, q.src) {
		w.open(p, q, s, c, j)
		return true
	}
	return w.closing(p, q, s, c, j)
}

// open fills the gap at a corner that the displacement opens.
func (w *raw) open(p, q *moved, s, c float64, j *joint) {
	v := p.src.B
	if ratio := w.reach(c); ratio <= w.miter {
		// The tip lies on the bisector: v + (n0+n1)/(1+cos).
		f := w.d / (1 + c)
		tip := r2.Vec{X: v.X + f*(p.t1.Y+q.t0.Y), Y: v.Y - f*(p.t1.X+q.t0.X)}
		if (ratio-1)*math.Abs(w.d) > w.slack {
			w.kites = append(w.kites, kite{v, p.end, tip, q.start})
		}
		j.area = math.Copysign(w.d*w.d*math.Abs(s)/(1+c), w.d)
		if p.src.Bulge == 0 && !p.gone {
			p.end, p.reachesOn = tip, true
		} else {
			j.add(Segment{A: p.end, B: tip})
		}
		if q.src.Bulge == 0 && !q.gone {
			q.start, q.reachesBack = tip, true
		} else {
			j.add(Segment{A: tip, B: q.start})
		}
		return
	}
	b := quarterTangent(s, c)
	if w.d > 0 != (s > 0) {
		b = 1 / b // turned back by the other side: the rest of the full turn
	}
	j.area = math.Copysign(2*w.d*w.d*math.Atan(b), w.d)
	j.add(Segment{A: p.end, B: q.start, Bulge: math.Copysign(b, w.d)})
}

// reach is how far the tip of a miter reaches, as a multiple of the distance, where the cosine of
// the turn is c.
func (w *raw) reach(c float64) float64 {
	if w.miter < 1 {
		return math.Inf(1) // none is wanted
	}
	return math.Sqrt(2 / (1 + c))
}

// quarterTangent returns tan(θ/4) from the sine and cosine of θ, never negative, without an
// angle: tan(θ/2) is |s|/(1+c), or (1-c)/|s| where 1+c would cancel, and tan(x/2) =
// tan x/(1 + 1/cos x).
func quarterTangent(s, c float64) float64 {
	s = math.Abs(s)
	if c >= 0 {
		return s / (1 + c + math.Sqrt(2*(1+c)))
	}
	return (1 - c) / (s + math.Sqrt(2*(1-c)))
}

// closing trims two neighbours at a corner that the displacement closes.
//
// For straight ones the setback is h = |d|·tan(θ/2). If the second is at least that
// long, every point of the first past the crossing lies within the distance of the
// second: its foot is on it at h or more, or, past its end, the end itself is nearer
// than |d| (the distance is convex along the first, |d| or less at both ends of that
// stretch). So what is cut off is never part of the offset, nor is all of a segment
// cut off from both sides.
func (w *raw) closing(p, q *moved, s, c float64, j *joint) bool {
	if p.src.Bulge != 0 || q.src.Bulge != 0 {
		w.whole = false
		return w.closingArcs(p, q)
	}
	h := math.Abs(w.d) * math.Abs(s) / (1 + c)
	f := w.d / (1 + c)
	v := p.src.B
	x := r2.Vec{X: v.X + f*(p.t1.Y+q.t0.Y), Y: v.Y - f*(p.t1.X+q.t0.X)}
	j.area = -math.Copysign(w.d*w.d*math.Abs(s)/(1+c), w.d)
	if h <= p.len && h <= q.len {
		p.to, p.end = 1-h/p.len, x
		q.from, q.start = h/q.len, x
		return true
	}
	p.near = p.near || h <= q.len
	q.near = q.near || h <= p.len
	return false
}

// closingArcs trims two neighbours, one of them an arc, where they cross just once
// and the tails cut off are seen to lie too near; any other case is left to the
// general search.
func (w *raw) closingArcs(p, q *moved) bool {
	if p.gone || q.gone {
		return false
	}
	// Only true crossings count: where the corner is slight the ends lie within the tolerance
	// of the other curve, but are not where the two part.
	first, second := p.displaced(w.d), q.displaced(w.d)
	pts, n := carriers(first, second)
	var x r2.Vec
	found := 0
	for _, c := range pts[:n] {
		if first.beside(c) && second.beside(c) && first.fromCircle(c) <= w.tol && second.fromCircle(c) <= w.tol {
			x = c
			found++
		}
	}
	if found != 1 {
		return false
	}
	t, u := first.fraction(x), second.fraction(x)
	limit := math.Abs(w.d)
	if q.src.Distance(first.At((t+1)/2)) > limit || p.src.Distance(second.At(u/2)) > limit {
		return false
	}
	p.to, p.end = t, x
	q.from, q.start = u, x
	return true
}
