package former

import (
	"math"
	"sort"

	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
)

// A spot is a place on a track: a segment and the fraction of its length.
type spot struct {
	segment int
	t       float64
	p       r2.Vec
}

// cross finds where a line square to the contour, or nearly so, meets the track: of all
// meetings of segments that belong within spread of the girth, the one nearest to want.
func (t track) cross(line outline.Segment, girth, spread float64, want r2.Vec) (spot, bool) {
	best, found := math.Inf(1), spot{}
	t.near(girth, spread, func(i int) {
		for _, m := range t.Segment(i).Meet(line, touching) {
			if d := r2.Norm(r2.Sub(m.P, want)); d < best {
				best, found = d, spot{i, m.T, m.P}
			}
		}
	})
	return found, best < math.Inf(1)
}

// girthOf is where on the contour a spot belongs.
func (t track) girthOf(s spot) float64 {
	return t.girth[s.segment] + s.t*(t.girth[s.segment+1]-t.girth[s.segment])
}

// near goes through the segments that belong within spread of a girth.
func (t track) near(girth, spread float64, each func(i int)) {
	n := t.NumSegments()
	total := t.girth[len(t.girth)-1]
	look := func(from, to float64) {
		first := max(sort.SearchFloat64s(t.girth, from)-1, 0)
		for i := first; i < n && t.girth[i] <= to; i++ {
			each(i)
		}
	}
	if 2*spread >= total {
		look(0, total)
		return
	}
	look(girth-spread, girth+spread)
	if t.Closed && girth < spread {
		look(girth-spread+total, total)
	}
	if t.Closed && girth+spread > total {
		look(0, girth+spread-total)
	}
}

// run appends the vertices from one spot forward to another. The last carries no bulge.
func (t track) run(into []outline.Vertex, a, b spot) []outline.Vertex {
	n, start := t.NumSegments(), len(into)
	step := 0
	if b.segment < a.segment || b.segment == a.segment && b.t < a.t {
		step = n
	}
	last := b.segment + step
	for i := a.segment; i <= last; i++ {
		from, to := 0.0, 1.0
		if i == a.segment {
			from = a.t
		}
		if i == last {
			to = b.t
		}
		if to-from <= 0 {
			continue
		}
		// A sliver that a spot at the very end of a segment leaves would be a segment
		// of no length.
		piece := t.Segment(i%n).Between(from, to)
		if piece.Length() <= outline.Coincidence*t.girth[len(t.girth)-1] {
			continue
		}
		v := outline.Vertex{P: piece.A, Bulge: piece.Bulge}
		if len(into) == start {
			v.P = a.p // exactly, though a sliver was left out: two pieces meet here
		}
		into = append(into, v)
	}
	return append(into, outline.Vertex{P: b.p})
}

// touching is how near two lines must come to meet, mm: above the rounding of a construction on
// a former tens of metres round, far below what can be cut.
const touching = 1e-7
