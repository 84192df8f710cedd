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

// freeWithin is what the spans leave free of a stretch of a round.
func freeWithin(stretch span, around float64, taken []span) []span {
	if len(taken) == 0 {
		return []span{stretch}
	}
	var free []span
	for _, f := range between(around, taken) {
		for _, back := range [2]float64{around, 0} { // one that runs over the start may reach into its beginning
			if from, to := max(f.from-back, stretch.from), min(f.to-back, stretch.to); to > from {
				free = append(free, span{from, to})
			}
		}
	}
	return free
}
