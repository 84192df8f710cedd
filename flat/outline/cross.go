package outline

import "slices"

// A Crossing is a place where two paths, or one path and itself, meet.
type Crossing struct {
	Meeting
	I, J int // the segments of the first and of the second path
	// Along tells that the two coincide from here to the next crossing of the same pair.
	Along bool
}

// Crossings returns all places where p and o meet, in order along p: crossings,
// touches, and the ends of stretches where they coincide. Points nearer than tol
// (mm) are one; 0 stands for [Coincidence] times the larger size. A meeting at a
// vertex is given once for each pair of segments that share it.
func (p Path) Crossings(o Path, tol float64) []Crossing {
	tol = toleranceOr(tol, p, o)
	a, b := pathTree([]Path{p}), pathTree([]Path{o})
	var out []Crossing
	a.pairs(b, tol, func(i, j int) { out = appendCrossings(out, i, j, a.segs[i], b.segs[j], tol) })
	return inOrder(out)
}

// SelfCrossings returns all places where p meets itself other than by following on
// from a segment to the next, I < J.
func (p Path) SelfCrossings(tol float64) []Crossing {
	tol = toleranceOr(tol, p)
	t := pathTree([]Path{p})
	n := len(t.segs)
	var out []Crossing
	var room [8]Crossing
	t.selfPairs(tol, func(i, j int) {
		next, wrapped := j == i+1, p.Closed && i == 0 && j == n-1
		if next && straightNeighbors(t.segs[i], t.segs[j], tol) || wrapped && straightNeighbors(t.segs[j], t.segs[i], tol) {
			return
		}
		found := appendCrossings(room[:0], i, j, t.segs[i], t.segs[j], tol)
		for _, c := range found {
			shared := next && dist(c.P, t.segs[i].B) <= 2*tol || wrapped && dist(c.P, t.segs[i].A) <= 2*tol
			if !shared || c.Along {
				out = append(out, c)
			}
		}
	})
	return inOrder(out)
}

// straightNeighbors reports whether s runs on into o, both straight, and neither's far
// end lies on the other: they meet where they join and nowhere else.
func straightNeighbors(s, o Segment, tol float64) bool {
	return s.Bulge == 0 && o.Bulge == 0 && s.B == o.A && o.Distance(s.A) > tol && s.Distance(o.B) > tol
}

func toleranceOr(tol float64, paths ...Path) float64 {
	if tol > 0 {
		return tol
	}
	return Coincidence * sizeOf(paths)
}

func appendCrossings(out []Crossing, i, j int, s, o Segment, tol float64) []Crossing {
	m := meet(s, o, tol)
	for k := range m.n {
		out = append(out, Crossing{Meeting: m.at[k], I: i, J: j, Along: m.along[k]})
	}
	return out
}

func inOrder(cs []Crossing) []Crossing {
	slices.SortFunc(cs, func(a, b Crossing) int {
		switch {
		case a.I != b.I:
			return a.I - b.I
		case a.T < b.T:
			return -1
		case a.T > b.T:
			return 1
		}
		return a.J - b.J
	})
	return cs
}
