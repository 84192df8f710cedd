package outline

import (
	"cmp"
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
