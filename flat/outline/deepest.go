package outline

import (
	"container/heap"
	"errors"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Inscribed returns the largest circle that fits into the material of a region, to
// within tol mm of its radius: what the widest tool, or the widest shim, would be. tol
// must be positive and finite.
//
// Errors: a *[Fault] for any other tol, for each fault of the paths and for a region that is not
// bounded; those of [Offset], by which the circle is sought.
func Inscribed(paths []Path, tol float64) (center r2.Vec, radius float64, err error) {
	g, err := newRegion("Inscribed", paths)
	if !(0 < tol && tol <= maxCoordinate) {
		err = errors.Join(err, badArgument("Inscribed", "tolerance", tol, "must be above 0 and finite"))
	}
	if err != nil {
		return r2.Vec{}, 0, err
	}
	if g.outer != 0 {
		return r2.Vec{}, 0, refused("Inscribed", "paths", "the material must be bounded")
	}
	return g.inscribed(max(tol, Coincidence*g.size))
}

// inscribed finds the radius between two bounds by moving the boundary inward: as long as
// anything is left, a circle fits about any point of it. The search by squares alone would
// be slow where the widest circle can slide along, as between parallel sides.
func (g *region) inscribed(tol float64) (center r2.Vec, radius float64, err error) {
	center, radius, high := g.deepest(g.material(), max(tol, g.size/1000))
	for high-radius > tol {
		mid := radius + (high-radius)/2
		left, err := g.offset(-mid, OffsetOptions{})
		switch {
		case errors.Is(err, ErrNothingLeft):
			high = mid
		case err != nil:
			return r2.Vec{}, 0, err
		default:
			center, radius = left[0].Vertices[0].P, mid
		}
	}
	return center, radius, nil
}

// cell is a square of half width h about c whose deepest point is at most best deep.
type cell struct {
	c       r2.Vec
	h       float64
	d, best float64
}

type cells []cell

func (q cells) Len() int           { return len(q) }
func (q cells) Less(i, j int) bool { return q[i].best > q[j].best }
func (q cells) Swap(i, j int)      { q[i], q[j] = q[j], q[i] }
func (q *cells) Push(x any)        { *q = append(*q, x.(cell)) }
func (q *cells) Pop() any {
	old := *q
	x := old[len(old)-1]
	*q = old[:len(old)-1]
	return x
}

// maxCells bounds the search for the deepest point: a strip a million times longer than wide
// would take more squares than that, and ends with a wider bound.
const maxCells = 40000

// deepest returns the point of the given winding that is farthest from all paths, how deep it
// is, and what no point is deeper than: within tol, or what was reached. It halves squares: the
// depth changes no faster than the place, so a square is at most its middle's depth and half
// its diagonal deep.
func (g *region) deepest(winding int, tol float64) (at r2.Vec, depth, bound float64) {
	b := g.tree.levels[g.tree.top()][0].box
	w, h := b.x1-b.x0, b.y1-b.y0
	side := min(w, h) / 2
	if side <= 0 {
		return r2.Vec{X: b.x0, Y: b.y0}, 0, 0
	}
	side = max(side, max(w, h)/64)
	var queue cells
	top := cell{d: math.Inf(-1)}
	try := func(c r2.Vec, h float64) {
		d := g.tree.distance(c)
		if g.winding(c, -1) != winding {
			d = -d
		}
		x := cell{c, h, d, d + h*math.Sqrt2}
		if d > top.d {
			top = x
		}
		if x.best > top.d+tol {
			heap.Push(&queue, x)
		}
	}
	for y := b.y0 + side; y-side < b.y1; y += 2 * side {
		for x := b.x0 + side; x-side < b.x1; x += 2 * side {
			try(r2.Vec{X: x, Y: y}, side)
		}
	}
	for count := 0; len(queue) > 0; count++ {
		x := heap.Pop(&queue).(cell)
		if x.best <= top.d+tol {
			break
		}
		if count == maxCells {
			bound = x.best
			break
		}
		h := x.h / 2
		for _, s := range [...]r2.Vec{{X: -h, Y: -h}, {X: h, Y: -h}, {X: -h, Y: h}, {X: h, Y: h}} {
			try(r2.Add(x.c, s), h)
		}
	}
	return top.c, max(top.d, 0), max(bound, top.d+tol)
}
