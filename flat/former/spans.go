package former

import (
	"math"
	"sort"
)

// between returns what spans leave free of a round, in order. Spans may overlap and run
// over the start.
func between(around float64, taken []span) []span {
	cuts := make([]span, 0, len(taken)+1)
	for _, s := range taken {
		l := s.to - s.from
		if l >= around {
			return nil
		}
		from := s.from - math.Floor(s.from/around)*around
		cuts = append(cuts, span{from, from + l})
	}
	sort.Slice(cuts, func(i, j int) bool { return cuts[i].from < cuts[j].from })
	// The first comes round again at the end and closes the circle.
	first := cuts[0]
	var free []span
	end := first.to
	for _, s := range append(cuts[1:], span{first.from + around, first.to + around}) {
		if s.from > end {
			free = append(free, span{end, s.from})
		}
		end = max(end, s.to)
	}
	// A span that runs over the start may cover what follows it.
	over := end - around
	kept := free[:0]
	for _, f := range free {
		if f.from < over {
			f.from = over
		}
		if f.to > f.from {
			kept = append(kept, f)
		}
	}
	return kept
}

// within reports whether a girth lies in one of the spans.
func (c *contour) within(spans []span, girth float64) bool {
	for _, s := range spans {
		if d := girth - s.from; d-math.Floor(d/c.length())*c.length() < s.to-s.from {
			return true
		}
	}
	return false
}
