package survey

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// A grid sorts the points of a slab into square cells and keeps the middle of each.
type grid struct {
	cell   float64
	cells  []cellOf // in order of their place
	lookup map[[2]int32]int
}

type cellOf struct {
	at    [2]int32
	mid   r2.Vec
	count int
}

// newGrid chooses the side of the cells when it is 0: as fine as leaves a few
// points in each. A point that a scan holds several times tells no more than once.
func newGrid(points []r2.Vec, cell float64) grid {
	if cell > 0 {
		return sortInto(points, cell)
	}
	differ := slices.Clone(points)
	slices.SortFunc(differ, func(a, b r2.Vec) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	differ = slices.Compact(differ)
	lo, hi := points[0], points[0]
	for _, p := range differ {
		lo = r2.Vec{X: min(lo.X, p.X), Y: min(lo.Y, p.Y)}
		hi = r2.Vec{X: max(hi.X, p.X), Y: max(hi.Y, p.Y)}
	}
	size := max(hi.X-lo.X, hi.Y-lo.Y, 1e-3)
	cell = size / cellsAcross
	for {
		g := sortInto(differ, cell)
		// Cells with one point are strays or an edge; they do not count against it.
		full, inside := 0, 0
		for _, c := range g.cells {
			if c.count > 1 {
				full++
				inside += c.count
			}
		}
		if full > 0 && inside >= pointsPerCell*full && inside > len(differ)/2 || cell > size/8 {
			return sortInto(points, cell)
		}
		cell *= 1.5
	}
}

func sortInto(points []r2.Vec, cell float64) grid {
	g := grid{cell: cell, lookup: map[[2]int32]int{}}
	for _, p := range points {
		at := [2]int32{int32(math.Floor(p.X / cell)), int32(math.Floor(p.Y / cell))}
		k, ok := g.lookup[at]
		if !ok {
			k = len(g.cells)
			g.lookup[at] = k
			g.cells = append(g.cells, cellOf{at: at})
		}
		c := &g.cells[k]
		c.count++
		c.mid = r2.Add(c.mid, r2.Scale(1/float64(c.count), r2.Sub(p, c.mid)))
	}
	return g
}

// near calls visit for each cell whose middle lies within reach of cell k's.
func (g grid) near(k int, visit func(j int, d float64)) {
	const span = 3 // cells; more than reachCells
	at, mid := g.cells[k].at, g.cells[k].mid
	for dx := int32(-span); dx <= span; dx++ {
		for dy := int32(-span); dy <= span; dy++ {
			j, ok := g.lookup[[2]int32{at[0] + dx, at[1] + dy}]
			if !ok || j == k {
				continue
			}
			if d := r2.Norm(r2.Sub(g.cells[j].mid, mid)); d <= reachCells*g.cell {
				visit(j, d)
			}
		}
	}
}

// leastShare is the share of the points from which a small piece is one all the
// same.
const leastShare = 0.05

// pieces returns the runs of cells that hang together, each as the middles along
// its longest way through; what is too small to be a piece of the section is left
// out.
func (g grid) pieces() [][]r2.Vec {
	seen := make([]bool, len(g.cells))
	total := 0
	for _, c := range g.cells {
		total += c.count
	}
	var out [][]r2.Vec
	for k := range g.cells {
		if seen[k] {
			continue
		}
		tree := g.spanning(k, seen)
		points := 0
		for _, n := range tree.nodes {
			points += g.cells[n].count
		}
		if len(tree.nodes) < 2 || len(tree.nodes) < leastPiece && float64(points) < leastShare*float64(total) {
			continue
		}
		way := tree.longest()
		mids := make([]r2.Vec, len(way))
		for i, n := range way {
			mids[i] = g.cells[n].mid
		}
		out = append(out, smoothed(mids))
	}
	return out
}

// A tree is the shortest net that joins cells which hang together.
type tree struct {
	nodes []int
	edges map[int][]edge
}

type edge struct {
	to  int
	len float64
}

// spanning grows the tree from cell k (Prim's way), marking what it takes in.
func (g grid) spanning(k int, seen []bool) tree {
	t := tree{edges: map[int][]edge{}}
	type cand struct {
		from, to int
		len      float64
	}
	var heap []cand
	less := func(a, b cand) bool {
		return cmp.Or(cmp.Compare(a.len, b.len), cmp.Compare(a.to, b.to), cmp.Compare(a.from, b.from)) < 0
	}
	push := func(c cand) {
		heap = append(heap, c)
		for i := len(heap) - 1; i > 0 && less(heap[i], heap[(i-1)/2]); i = (i - 1) / 2 {
			heap[i], heap[(i-1)/2] = heap[(i-1)/2], heap[i]
		}
	}
	pop := func() cand {
		top, n := heap[0], len(heap)-1
		heap[0], heap = heap[n], heap[:n]
		for i := 0; ; {
			c := 2*i + 1
			if c >= n {
				break
			}
			if c+1 < n && less(heap[c+1], heap[c]) {
				c++
			}
			if !less(heap[c], heap[i]) {
				break
			}
			heap[i], heap[c] = heap[c], heap[i]
			i = c
		}
		return top
	}
	take := func(n int) {
		seen[n] = true
		t.nodes = append(t.nodes, n)
		g.near(n, func(j int, d float64) {
			if !seen[j] {
				push(cand{n, j, d})
			}
		})
	}
	take(k)
	for len(heap) > 0 {
		c := pop()
		if seen[c.to] {
			continue
		}
		t.edges[c.from] = append(t.edges[c.from], edge{c.to, c.len})
		t.edges[c.to] = append(t.edges[c.to], edge{c.from, c.len})
		take(c.to)
	}
	return t
}

// longest returns the nodes along the longest way through the tree: from any node
// the farthest, and from that the farthest again.
func (t tree) longest() []int {
	a, _ := t.farthest(t.nodes[0])
	b, from := t.farthest(a)
	way := []int{b}
	for b != a {
		b = from[b]
		way = append(way, b)
	}
	slices.Reverse(way)
	return way
}

func (t tree) farthest(start int) (end int, from map[int]int) {
	dist := map[int]float64{start: 0}
	from = map[int]int{}
	end = start
	for stack := []int{start}; len(stack) > 0; {
		n := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if dist[n] > dist[end] {
			end = n
		}
		for _, e := range t.edges[n] {
			if _, done := dist[e.to]; !done {
				dist[e.to] = dist[n] + e.len
				from[e.to] = n
				stack = append(stack, e.to)
			}
		}
	}
	return end, from
}

// smoothed takes the zigzag of cells out of a run of middles; the ends stay.
func smoothed(p []r2.Vec) []r2.Vec {
	out := slices.Clone(p)
	const wide = 2
	for i := range p {
		w := min(wide, i, len(p)-1-i)
		out[i] = middle(p[i-w : i+w+1])
	}
	return out
}

// closingShare is the share of its length that an open place in a ring may take: a
// stand, or a ladder, that hid the skin from the scanner.
const closingShare = 0.05

// chain joins the pieces end to end, nearest ends first, and tells whether the last
// two ends close the curve: they lie within reach of each other, or not far apart
// and heading for each other.
func chain(pieces [][]r2.Vec, reach float64) (spine []r2.Vec, closed bool) {
	for len(pieces) > 1 {
		best, bi, bj := math.Inf(1), 0, 0
		for i := range pieces {
			for j := i + 1; j < len(pieces); j++ {
				for _, a := range ends(pieces[i]) {
					for _, b := range ends(pieces[j]) {
						if d := r2.Norm(r2.Sub(a, b)); d < best {
							best, bi, bj = d, i, j
						}
					}
				}
			}
		}
		joined := joinNearest(pieces[bi], pieces[bj])
		pieces = slices.Delete(pieces, bj, bj+1)
		pieces[bi] = joined
	}
	spine = pieces[0]
	if len(spine) <= leastPiece {
		return spine, false
	}
	var length float64
	for i := 1; i < len(spine); i++ {
		length += r2.Norm(r2.Sub(spine[i], spine[i-1]))
	}
	n := len(spine) - 1
	across := r2.Sub(spine[0], spine[n])
	apart := r2.Norm(across)
	heading := func(end, inner r2.Vec, way float64) bool {
		d := r2.Sub(end, inner)
		return way*r2.Dot(d, across) > 0.7*r2.Norm(d)*apart
	}
	closed = apart <= 1.5*reach || apart <= closingShare*length &&
		heading(spine[n], spine[n-4], 1) && heading(spine[0], spine[4], -1)
	return spine, closed
}

func ends(p []r2.Vec) [2]r2.Vec { return [2]r2.Vec{p[0], p[len(p)-1]} }

// joinNearest puts q after p, turning either round so that the nearest ends meet.
func joinNearest(p, q []r2.Vec) []r2.Vec {
	best, turnP, turnQ := math.Inf(1), false, false
	for i, a := range ends(p) {
		for j, b := range ends(q) {
			if d := r2.Norm(r2.Sub(a, b)); d < best {
				best, turnP, turnQ = d, i == 0, j == 1
			}
		}
	}
	p, q = slices.Clone(p), slices.Clone(q)
	if turnP {
		slices.Reverse(p)
	}
	if turnQ {
		slices.Reverse(q)
	}
	return append(p, q...)
}

// orient turns the spine to start at its lower end, the left one where both are
// alike; a closed one runs counter-clockwise from its lowest point. An open one is
// carried on straight by two cells at both ends, to reach the last points.
func (g grid) orient(spine []r2.Vec, closed bool) []r2.Vec {
	lower := func(a, b r2.Vec) int { return cmp.Or(cmp.Compare(a.Y, b.Y), cmp.Compare(a.X, b.X)) }
	if closed {
		var area float64
		for i, p := range spine {
			area += r2.Cross(p, spine[(i+1)%len(spine)])
		}
		if area < 0 {
			slices.Reverse(spine)
		}
		low := 0
		for i := range spine {
			if lower(spine[i], spine[low]) < 0 {
				low = i
			}
		}
		return append(slices.Clone(spine[low:]), spine[:low]...)
	}
	if e := ends(spine); lower(e[1], e[0]) < 0 {
		slices.Reverse(spine)
	}
	return carriedOn(spine, 4, 2*g.cell)
}
