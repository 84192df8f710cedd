package outline

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// joiner pairs the ends of loose pieces. End 2i is the start of piece i, 2i+1 its end.
type joiner struct {
	closed []Path
	open   []Path
	mate   []int // the end an end is joined to, or -1
}

// tie is a possible join of two ends.
type tie struct {
	a, b int
	gap  float64
}

func newJoiner(pieces []Path, gap float64) *joiner {
	j := &joiner{}
	for _, p := range pieces {
		if p.Closed {
			j.closed = append(j.closed, p)
		} else {
			j.open = append(j.open, p)
		}
	}
	j.mate = make([]int, 2*len(j.open))
	for i := range j.mate {
		j.mate[i] = -1
	}
	for _, t := range j.ties(gap) {
		if j.mate[t.a] < 0 && j.mate[t.b] < 0 {
			j.mate[t.a], j.mate[t.b] = t.b, t.a
		}
	}
	return j
}

func (j *joiner) at(end int) r2.Vec {
	vs := j.open[end/2].Vertices
	if end%2 == 0 {
		return vs[0].P
	}
	return vs[len(vs)-1].P
}

// ties lists all pairs of ends within the gap, nearest first, in an order that does not
// depend on chance.
func (j *joiner) ties(gap float64) []tie {
	order := make([]int, len(j.mate))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		if c := cmp.Compare(j.at(a).X, j.at(b).X); c != 0 {
			return c
		}
		return a - b
	})
	var out []tie
	for i, a := range order {
		for _, b := range order[i+1:] {
			if j.at(b).X > j.at(a).X+gap {
				break
			}
			d := dist(j.at(a), j.at(b))
			// A piece may close upon itself, but not by being shorter than the gap.
			if d > gap || a/2 == b/2 && j.open[a/2].Length() <= 2*gap {
				continue
			}
			out = append(out, tie{min(a, b), max(a, b), d})
		}
	}
	slices.SortStableFunc(out, func(a, b tie) int {
		if c := cmp.Compare(a.gap, b.gap); c != 0 {
			return c
		}
		if a.a != b.a {
			return a.a - b.a
		}
		return a.b - b.b
	})
	return out
}

// join walks the chains: first those with a free end, then the rings.
func (j *joiner) join() []Path {
	out := clonePaths(j.closed)
	done := make([]bool, len(j.open))
	for pass := range 2 {
		for end := range j.mate {
			if done[end/2] || pass == 0 && j.mate[end] >= 0 {
				continue
			}
			out = append(out, j.walk(end, done))
		}
	}
	return out
}

// walk follows the chain that begins at an end.
func (j *joiner) walk(end int, done []bool) Path {
	var p Path
	for e := end; ; {
		done[e/2] = true
		piece := j.open[e/2]
		if e%2 == 1 {
			piece = piece.Reverse()
		}
		p.append(piece)
		e = j.mate[e^1]
		if e == end {
			p.close()
			return p
		}
		if e < 0 {
			return p
		}
	}
}

// append runs p on into an open piece, the two ends moved to their middle.
func (p *Path) append(q Path) {
	if len(p.Vertices) == 0 {
		p.Vertices = append(p.Vertices, q.Vertices...)
		p.Vertices[len(p.Vertices)-1].Bulge = 0
		return
	}
	n := len(p.Vertices)
	a, b := p.Vertices[n-1].P, q.Vertices[0]
	p.Vertices[n-1] = Vertex{middle(a, b.P), b.Bulge}
	p.Vertices = append(p.Vertices, q.Vertices[1:]...)
	p.Vertices[len(p.Vertices)-1].Bulge = 0
}

// close makes a ring of an open path, its two ends moved to their middle.
func (p *Path) close() {
	n := len(p.Vertices)
	p.Vertices[0].P = middle(p.Vertices[0].P, p.Vertices[n-1].P)
	p.Vertices, p.Closed = p.Vertices[:n-1], true
}

func middle(a, b r2.Vec) r2.Vec {
	if a == b {
		return a // exactly, also where the sum would round
	}
	return r2.Vec{X: a.X + (b.X-a.X)/2, Y: a.Y + (b.Y-a.Y)/2}
}

// Clearance returns the least distance between two paths, mm, and where it is: a on p, b
// on q. It is 0 where they meet, and +Inf when either has no segment.
func Clearance(p, q Path) (d float64, a, b r2.Vec) {
	s, o := pathTree([]Path{p}), pathTree([]Path{q})
	c := closest{s: s, o: o, d: math.Inf(1), tol: Coincidence * max(p.size(), q.size())}
	if len(s.segs) > 0 && len(o.segs) > 0 {
		c.nodes(s.top(), 0, o.top(), 0)
	}
	return c.d, c.a, c.b
}

// closest descends two trees toward the nearest pair.
type closest struct {
	s, o *tree
	d    float64
	tol  float64 // two that come nearer meet
	a, b r2.Vec
}

func (a *box) gap(b *box) float64 {
	dx := max(a.x0-b.x1, 0, b.x0-a.x1)
	dy := max(a.y0-b.y1, 0, b.y0-a.y1)
	return math.Hypot(dx, dy)
}

func (c *closest) nodes(ls, i, lo, j int) {
	if !(c.s.levels[ls][i].gap(&c.o.levels[lo][j].box)*(1-1e-14) < c.d) {
		return
	}
	if ls == 0 && lo == 0 {
		c.segments(c.s.segs[i], c.o.segs[j])
		return
	}
	type way struct {
		i, j int
		gap  float64
	}
	var ways [fan]way
	n := 0
	if ls >= lo {
		from, to := c.s.kids(ls, i)
		for k := from; k < to; k++ {
			ways[n] = way{k, j, c.s.levels[ls-1][k].gap(&c.o.levels[lo][j].box)}
			n++
		}
		ls--
	} else {
		from, to := c.o.kids(lo, j)
		for k := from; k < to; k++ {
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

// segments tries every place where the distance of two segments can be least: where
// they meet, at an end of either, or where they have a normal in common.
func (c *closest) segments(s, o Segment) {
	if m := meet(s, o, c.tol); m.n > 0 {
		c.try(0, m.at[0].P, m.at[0].P)
		return
	}
	for _, q := range [...]r2.Vec{s.A, s.B} {
		p, _ := o.Nearest(q)
		c.try(dist(p, q), q, p)
	}
	for _, q := range [...]r2.Vec{o.A, o.B} {
		p, _ := s.Nearest(q)
		c.try(dist(p, q), p, q)
	}
	for _, q := range commonNormals(s, o) {
		if s.beside(q) {
			p, _ := s.Nearest(q)
			r, _ := o.Nearest(p)
			c.try(dist(p, r), p, r)
		}
	}
}

func (c *closest) try(d float64, a, b r2.Vec) {
	if d < c.d {
		c.d, c.a, c.b = d, a, b
	}
}

// commonNormals gives points whose feet on s lie on normals that s and o share: for a
// line and an arc the normal through the centre, for two arcs the line of their centres.
func commonNormals(s, o Segment) []r2.Vec {
	switch {
	case s.Bulge == 0 && o.Bulge == 0:
		return nil // the least is at an end
	case s.Bulge == 0:
		return []r2.Vec{o.Center()}
	case o.Bulge == 0:
		t := o.Tangent(0)
		return bothSides(s, r2.Vec{X: -t.Y, Y: t.X})
	}
	v := r2.Sub(o.Center(), s.Center())
	if l := length(v); l > 0 {
		return bothSides(s, r2.Scale(1/l, v))
	}
	return []r2.Vec{s.At(0.5)}
}

func bothSides(s Segment, u r2.Vec) []r2.Vec {
	c, r := s.Center(), s.Radius()
	return []r2.Vec{r2.Add(c, r2.Scale(r, u)), r2.Sub(c, r2.Scale(r, u))}
}
