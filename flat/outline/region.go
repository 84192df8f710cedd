package outline

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r2"
)

// region is a checked set of closed paths that bound material on their left, with the
// index of their segments.
type region struct {
	paths []Path
	runs  []run
	tree  *tree
	size  float64
	area  float64 // of all paths, signed; set with outer by nesting
	outer int     // winding of the points outside: 0, or -1 where the material is all but some holes
}

// newRegion checks each path by itself, then all against each other, then their nesting.
func newRegion(fn string, paths []Path) (*region, error) {
	var fs faults
	if len(paths) == 0 {
		fs.add(refused(fn, "paths", "there must be at least one"))
	}
	for i, p := range paths {
		var one faults
		if !p.Closed {
			one.add(refused(fn, "path", "is open: must be closed"))
		}
		p.checkVertices(fn, &one)
		if least := p.leastSegments(); len(one.list) == 0 && p.NumSegments() < least {
			one.add(badArgument(fn, "number of segments", float64(p.NumSegments()), fmt.Sprintf("must be at least %d", least)))
		}
		for _, e := range one.list {
			fs.add(nameLoop(e, i, len(paths)))
		}
	}
	if len(fs.list) > 0 {
		return nil, fs.err()
	}
	g := index(paths)
	g.checkSimple(fn, &fs)
	if len(fs.list) == 0 {
		if why := g.nesting(); why != "" {
			fs.add(refused(fn, "paths", why))
		}
	}
	return g, fs.err()
}

func nameLoop(e error, i, n int) error {
	if f, ok := e.(*Fault); ok && n > 1 {
		f.Field = fmt.Sprintf("path %d: %s", i, f.Field)
	}
	return e
}

func index(paths []Path) *region { return indexIn(new(tree), paths) }

// indexIn makes its index of a tree that nobody needs any more.
func indexIn(t *tree, paths []Path) *region {
	t.index(paths)
	g := &region{paths: paths, tree: t, size: t.size()}
	lo := 0
	for _, p := range paths {
		n := p.NumSegments()
		g.runs = append(g.runs, run{lo, lo + n, p.Closed})
		lo += n
	}
	return g
}

// owner returns the path that indexed segment i belongs to.
func (g *region) owner(i int) int {
	lo, hi := 0, len(g.runs)
	for hi-lo > 1 {
		if m := (lo + hi) / 2; g.runs[m].lo <= i {
			lo = m
		} else {
			hi = m
		}
	}
	return lo
}

// checkSimple reports each pair of segments, of one path or of two, that meet where they
// should not.
func (g *region) checkSimple(fn string, fs *faults) {
	tol := rounding * g.size
	g.tree.selfPairs(tol, func(i, j int) {
		p, q := g.owner(i), g.owner(j)
		a, b := i-g.runs[p].lo, j-g.runs[q].lo
		last := g.runs[p].hi - g.runs[p].lo - 1
		at, bad := clash(g.tree.segs[i], g.tree.segs[j], p == q && b == a+1, p == q && g.runs[p].ring && a == 0 && b == last, tol)
		if !bad {
			return
		}
		what := fmt.Sprintf("segments %d and %d", a, b)
		if p != q {
			what = fmt.Sprintf("path %d segment %d and path %d segment %d", p, a, q, b)
		} else if len(g.paths) > 1 {
			what = fmt.Sprintf("path %d segments %d and %d", p, a, b)
		}
		fs.add(&Fault{Func: fn, Field: what, Index: a, Other: b, At: at, Rule: "must not touch or cross"})
	})
}

// winding counts how often the paths, but for path skip, wind about q.
func (g *region) winding(q r2.Vec, skip int) int {
	w := 0
	g.tree.rayIndex(q, 0, func(i int) bool {
		if skip < 0 || i < g.runs[skip].lo || i >= g.runs[skip].hi {
			v, _ := g.tree.segs[i].winding(q, 0)
			w += v
		}
		return true
	})
	return w
}

// nesting checks that material lies on the left of every path and nowhere twice: each
// path separates winding outer+1 on its left from outer on its right. It sets outer and area.
func (g *region) nesting() string {
	for i, p := range g.paths {
		a := p.Area()
		g.area += a
		if a == 0 {
			return fmt.Sprintf("path %d has no area", i)
		}
		w := 0
		if len(g.paths) > 1 {
			w = g.winding(p.Vertices[0].P, i)
		}
		if a < 0 {
			w--
		}
		switch {
		case i == 0:
			g.outer = w
		case w != g.outer:
			return fmt.Sprintf("path %d turns the wrong way for its place: outlines run counter-clockwise, holes in them clockwise", i)
		}
	}
	if g.outer != 0 && g.outer != -1 {
		return "outlines must not lie one within the other without a hole between"
	}
	return ""
}

// material is the winding that a point of the material has.
func (g *region) material() int { return g.outer + 1 }
