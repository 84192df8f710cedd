package survey

import (
	"cmp"
	"math"
	"slices"

	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
)

// A placed point is laid on the line it belongs to.
type placed struct {
	along, left float64 // how far along the line, and to the left of it, mm
	i           int     // which point
}

// placeOn lays points on a line, in no order, and tells which lie farther from it than reach.
func placeOn(line outline.Path, points []r2.Vec, which []int, reach float64) (on []placed, off []int) {
	t := newTarget([]outline.Path{line})
	for _, i := range which {
		at, k, u := t.index.Nearest(points[i])
		from := r2.Sub(points[i], at)
		if r2.Norm(from) > reach {
			off = append(off, i)
			continue
		}
		left := math.Copysign(r2.Norm(from), r2.Cross(t.segs[k].Chord(), from))
		on = append(on, placed{t.start[k] + u*t.segs[k].Length(), left, i})
	}
	return on, off
}

func before(a, b placed) int { return cmp.Or(cmp.Compare(a.along, b.along), cmp.Compare(a.i, b.i)) }

// moveTo lays points that have their place on one line on another, which runs beside it. Each lies
// beside one of the two segments that meet at the vertex named for it.
func moveTo(line []r2.Vec, closed bool, on []placed, beside []int, points []r2.Vec) {
	type stretch struct {
		from, way   r2.Vec // way is of unit length
		start, long float64
	}
	var stretches []stretch
	along := 0.0
	for k, from := range line {
		if k == len(line)-1 && !closed {
			break
		}
		way := r2.Sub(line[(k+1)%len(line)], from)
		long := r2.Norm(way)
		stretches = append(stretches, stretch{from, r2.Scale(1/long, way), along, long})
		along += long
	}
	n := len(stretches)
	for j := range on {
		nearest := math.Inf(1)
		for k := beside[j] - 1; k <= beside[j]; k++ {
			if !closed && (k < 0 || k >= n) {
				continue
			}
			s := &stretches[(k+n)%n]
			from := r2.Sub(points[on[j].i], s.from)
			at := min(max(r2.Dot(from, s.way), 0), s.long)
			if off := r2.Norm2(r2.Sub(from, r2.Scale(at, s.way))); off < nearest {
				nearest, on[j].along = off, s.start+at
			}
		}
	}
}

// settled draws the line anew through the middles of the points, a cell's length at a
// time: the middles of cells, smoothed, lie cell²/R inside of every curve and make it
// short. The middle of a stretch s of a curve still lies s²/24R inside, which a
// twenty-fourth of the second difference from middle to middle puts back: it is s²/R.
// beside is the vertex of the line beside each of the points.
func settled(on []placed, points []r2.Vec, cell float64, closed bool) (line []r2.Vec, beside []int) {
	const least = 3 // points that have a middle
	var mids []r2.Vec
	for len(on) > 0 {
		n := 1
		for n < len(on) && on[n].along-on[0].along < cell {
			n++
		}
		for range n {
			beside = append(beside, len(mids))
		}
		if n >= least {
			mids = append(mids, typical(on[:n], points, cell))
		}
		on = on[n:]
	}
	line = slices.Clone(mids)
	for i, mid := range mids {
		if !closed && (i == 0 || i == len(mids)-1) {
			continue
		}
		back := r2.Sub(mids[(i+len(mids)-1)%len(mids)], mid)
		ahead := r2.Sub(mids[(i+1)%len(mids)], mid)
		if r2.Norm(back) < 2*cell && r2.Norm(ahead) < 2*cell {
			line[i] = r2.Sub(mid, r2.Scale(1./24, r2.Add(back, ahead)))
		}
	}
	return line, beside
}

// typical is the middle of a few neighbouring points without those that stand out to
// one side: strays so near the line that they count to it.
func typical(some []placed, points []r2.Vec, cell float64) r2.Vec {
	left := make([]float64, len(some))
	for i, p := range some {
		left[i] = p.left
	}
	usual := median(left)
	for i, p := range some {
		left[i] = math.Abs(p.left - usual)
	}
	spread := median(left)
	var kept []r2.Vec
	for _, p := range some {
		if math.Abs(p.left-usual) <= 3*madToSigma*spread+cell/20 {
			kept = append(kept, points[p.i])
		}
	}
	return middle(kept)
}

// median sorts a list and gives the middle of it.
func median(list []float64) float64 {
	slices.Sort(list)
	return (list[(len(list)-1)/2] + list[len(list)/2]) / 2
}

// carriedOn carries an open line on straight at both ends, to reach the points that lie beyond
// the outermost middles. Its way there is that of the last few stretches.
func carriedOn(line []r2.Vec, stretches int, by float64) []r2.Vec {
	n := len(line)
	inner := min(stretches, n-1)
	beyond := func(end, inner r2.Vec) r2.Vec {
		d, l := r2.Sub(end, inner), r2.Norm(r2.Sub(end, inner))
		if !(l > 0) {
			return end
		}
		return r2.Add(end, r2.Scale(by/l, d))
	}
	out := append([]r2.Vec{beyond(line[0], line[inner])}, line...)
	return append(out, beyond(line[n-1], line[n-1-inner]))
}
