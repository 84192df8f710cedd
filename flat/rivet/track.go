package rivet

import (
	"math"
	"sort"

	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
)

// A track is a line with its lengths summed up, so that a station is found quickly
// on a line of many pieces.
type track struct {
	path   outline.Path
	starts []float64 // station where each segment starts, and the whole length last
	index  *outline.Index
}

func newTrack(p outline.Path) *track {
	t := &track{path: p, starts: make([]float64, 1, p.NumSegments()+1), index: outline.NewIndex(p)}
	for _, s := range p.Segments() {
		t.starts = append(t.starts, t.starts[len(t.starts)-1]+s.Length())
	}
	return t
}

func (t *track) length() float64 { return t.starts[len(t.starts)-1] }

// at is the point at a station; on a closed line stations run on round.
func (t *track) at(s float64) r2.Vec {
	if t.path.Closed {
		s = wrap(s, t.length())
	}
	i := max(0, min(sort.SearchFloat64s(t.starts, s)-1, t.path.NumSegments()-1))
	return t.path.Segment(i).At((s - t.starts[i]) / (t.starts[i+1] - t.starts[i]))
}

func wrap(s, around float64) float64 {
	if s = math.Mod(s, around); s < 0 {
		s += around
	}
	return s
}

// foot is the station nearest to a point, and how far off the line the point is.
func (t *track) foot(q r2.Vec) (station, off float64) {
	at, i, u := t.index.Nearest(q)
	if i < 0 {
		return 0, math.Inf(1)
	}
	return t.starts[i] + u*(t.starts[i+1]-t.starts[i]), r2.Norm(r2.Sub(q, at))
}

// A span is a stretch of a track, from < to; on a closed track to may run past its
// length.
type span struct{ from, to float64 }

// open returns the spans of the track that no block covers, the ends of an open line
// taken off. A closed track that nothing blocks is one span of its whole length.
func (t *track) open(end float64, blocks []block) []span {
	length := t.length()
	lo, hi := 0.0, length
	if !t.path.Closed {
		lo, hi = end, length-end
	}
	if hi < lo-coincident {
		return nil
	}
	cuts := []float64{lo, hi}
	for _, b := range blocks {
		for _, edge := range b.region {
			for _, c := range t.path.Crossings(edge, 0) {
				if s := t.starts[c.I] + c.T*(t.starts[c.I+1]-t.starts[c.I]); lo < s && s < hi {
					cuts = append(cuts, s)
				}
			}
		}
	}
	sort.Float64s(cuts)
	var free []span
	for i := range cuts[1:] {
		a, b := cuts[i], cuts[i+1]
		if b-a < coincident && len(cuts) > 2 || blocked(t.at((a+b)/2), blocks) {
			continue
		}
		if n := len(free); n > 0 && free[n-1].to > a-coincident {
			free[n-1].to = b
			continue
		}
		free = append(free, span{a, b})
	}
	// What runs over the start of a closed line is one stretch.
	if n := len(free); t.path.Closed && n > 1 && free[0].from < coincident && free[n-1].to > length-coincident {
		free[n-1].to = free[0].to + length
		free = free[1:]
	}
	return free
}

// coincident is how near two stations may lie and still be one, mm: far above
// rounding, far below a drill's wander.
const coincident = 1e-6

// A Keepout is where no rivet may stand: a stringer's line, a splice, a relief hole,
// an opening.
type Keepout struct {
	Name string
	// Shape closed bounds a region, open is a line; either way round.
	Shape outline.Path
	// Clear is how far from it the centres of rivets stay, mm. A line needs some.
	Clear float64
}

func (k Keepout) check(f *faults, field string) {
	f.path(field, k.Shape)
	least := 0.0
	if !k.Shape.Closed {
		least = coincident
	}
	f.length(field+" clearance", k.Clear, least, 1e4, "must be 0 to 10 m, and above 0 round a line")
}

// A block is the region that a keep-out covers, its clearance added.
type block struct {
	name   string
	region []outline.Path
	index  *outline.Index
}

func (k Keepout) block() (block, error) {
	var region []outline.Path
	var err error
	switch {
	case !k.Shape.Closed:
		region, err = k.Shape.Strip(k.Clear)
	case k.Clear == 0:
		region = []outline.Path{counterClockwise(k.Shape)}
	default:
		region, err = counterClockwise(k.Shape).Offset(k.Clear, outline.OffsetOptions{})
	}
	if err != nil {
		return block{}, refused(`keep-out "`+k.Name+`"`, "cannot be widened by its clearance", err)
	}
	return block{k.Name, region, outline.NewIndex(region...)}, nil
}

func counterClockwise(p outline.Path) outline.Path {
	if p.Area() < 0 {
		return p.Reverse()
	}
	return p
}

func (b block) holds(p r2.Vec) bool { return b.index.Side(p) == outline.Inside }

func blocked(p r2.Vec, blocks []block) bool {
	for _, b := range blocks {
		if b.holds(p) {
			return true
		}
	}
	return false
}
