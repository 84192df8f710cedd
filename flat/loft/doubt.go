package loft

import (
	"cmp"
	"math"
	"slices"
)

// A Doubt is a station whose reading its neighbours speak against.
type Doubt struct {
	Station int // index in Fairing.Stations
	// Off is by how much the reading seems wrong, reading less forecast of its
	// neighbours with all doubtful ones left out, mm.
	Off float64
	// Allowed is the most that readings within their tolerances leave there, mm.
	Allowed float64
	// Or are other stations that would explain the disagreement alone as well: near
	// an end a wrong reading cannot be told from a wrong neighbour. Measure them too.
	Or []int
}

// mostLeftOut is the longest line that is faired anew without each station.
const mostLeftOut = 200

// leaveOut fairs the line without each inner station and notes how far the reading
// then lies off it.
func leaveOut(st []Station, opt FairOptions) {
	if len(st) > mostLeftOut || len(st) < 6 {
		return
	}
	for i := 1; i+1 < len(st); i++ {
		c, err := fairThrough(without(st, i), opt)
		if err == nil {
			st[i].LeftOut = st[i].Offset - c.At(st[i].At)
		}
	}
}

func without[T any](list []T, i int) []T {
	return append(slices.Clone(list[:i]), list[i+1:]...)
}

const (
	// doubtShare is how far the disagreement of all stations must fall, as a share
	// of what it was, for the stations set aside to be the cause of it. Coarse
	// stations on a sharp curve disagree too, but leaving one out makes that worse.
	doubtShare = 0.25
	// stepShare is how far each single one must bring it down.
	stepShare = 0.8
	// leastOff keeps the last digits of exact readings out of it, as a share of the
	// largest offset.
	leastOff = 1e-9
)

// doubts names the stations without which the rest agree. Each station is compared
// with the cubic through its four nearest neighbours, which among even stations is
// a sixth of the fourth difference, y·(1, -4, 6, -4, 1). A wrong reading shows at
// its neighbours too; of the five, the one named is the one whose leaving out settles most.
func doubts(st []Station, use []int) []Doubt {
	all := use
	use = slices.Clone(use)
	stations := len(use)
	guess := guessTolerance(st, use)
	worst, peak, before := disagreement(st, use, guess)
	now := before
	var out []Doubt
	for worst > 1 && len(use) > 6 && len(out) < stations/4 {
		best, at := math.Inf(1), -1
		var settle []int // stations either of which settles everything
		for i := max(0, peak-2); i <= min(peak+2, len(use)-1); i++ {
			w, _, d := disagreement(st, without(use, i), guess)
			if w <= 1 {
				settle = append(settle, use[i])
			}
			if d < best {
				best, at = d, i
			}
		}
		if !(best < stepShare*now) {
			break
		}
		bad := use[at]
		out = append(out, Doubt{Station: bad, Or: slices.DeleteFunc(settle, func(s int) bool { return s == bad })})
		use = without(use, at)
		worst, peak, now = disagreement(st, use, guess)
	}
	if !(now < doubtShare*before) {
		return nil
	}
	var sure []Doubt
	for _, d := range withoutRunIn(out, all) {
		// Put it back alone among those that agree.
		with := append(slices.Clone(use), d.Station)
		slices.Sort(with)
		e, allowed, gain, _ := byNeighbours(st, with, slices.Index(with, d.Station))
		d.Off, d.Allowed = e, max(allowed, guess*gain)
		if math.Abs(d.Off) > d.Allowed {
			sure = append(sure, d)
		}
	}
	return sure
}

// withoutRunIn drops doubts that eat in from an end, one station after the other:
// that is a curve too sharp for its stations there, not wrong readings.
func withoutRunIn(d []Doubt, all []int) []Doubt {
	doubted := func(k int) bool {
		return slices.ContainsFunc(d, func(v Doubt) bool { return v.Station == all[k] })
	}
	drop := map[int]bool{}
	for _, way := range [2]struct{ from, step int }{{0, 1}, {len(all) - 1, -1}} {
		n := 0
		for n < len(all) && doubted(way.from+n*way.step) {
			n++
		}
		for k := 0; n >= 2 && k < n; k++ {
			drop[all[way.from+k*way.step]] = true
		}
	}
	return slices.DeleteFunc(d, func(v Doubt) bool { return drop[v.Station] })
}

// worstFirst orders doubts by how far past the allowed they are.
func worstFirst(d []Doubt) {
	slices.SortStableFunc(d, func(a, b Doubt) int {
		return cmp.Compare(math.Abs(b.Off)/b.Allowed, math.Abs(a.Off)/a.Allowed)
	})
}

// disagreement is the largest of the stations' forecasts' errors over what is
// allowed, where it is, and the sum of the squares of them all.
func disagreement(st []Station, use []int, guess float64) (worst float64, peak int, sum float64) {
	for i := range use {
		e, allowed, gain, ok := byNeighbours(st, use, i)
		if !ok {
			continue
		}
		share := math.Abs(e) / max(allowed, guess*gain)
		if sum += share * share; share > worst {
			worst, peak = share, i
		}
	}
	return worst, peak, sum
}

// guessTolerance is, for readings that came without tolerances, three times the
// spread of a single one, judged by the lower half of the disagreements so that a
// wrong reading, which shows at five stations, does not hide itself.
func guessTolerance(st []Station, use []int) float64 {
	var most float64
	var spread []float64
	for i, k := range use {
		most = max(most, math.Abs(st[k].Offset))
		if st[k].tolerance() > 0 {
			return leastOff
		}
		if e, _, gain, ok := byNeighbours(st, use, i); ok {
			spread = append(spread, math.Abs(e)/gain)
		}
	}
	least := leastOff * max(most, 1)
	if len(spread) == 0 {
		return least
	}
	slices.Sort(spread)
	// A quarter of normal deviations lie within 0.31864 of their spread: Φ⁻¹(5/8).
	return max(least, 3*spread[len(spread)/4]/0.31864)
}
