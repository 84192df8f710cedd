package loft

import (
	"fmt"
	"math"
	"slices"
)

// A Reading is one measured offset from the base line.
type Reading struct {
	Station float64 // along the base line, mm
	Offset  float64 // square to it, mm
	// Within is how far the reading may be off, ± mm: what the fairing may move
	// the line from it. 0, or less than a thousandth of the table's widest tolerance
	// or than 1e-9 mm, holds the line on the reading.
	Within float64
}

// mostWithin is the largest tolerance taken. A reading that may be a metre off is
// in the wrong units.
const mostWithin = 1000.0

// sameStation is how near two stations are one, mm: 3 in and 76.2 mm are not the same number.
const sameStation = 1e-6

func checkReadings(readings []Reading, f *faults) {
	for i, r := range readings {
		if !isLength(r.Station) {
			f.add(fmt.Sprintf("reading %d station", i), mm(r.Station), lengthRule)
		}
		if !isLength(r.Offset) {
			f.add(fmt.Sprintf("reading %d offset", i), mm(r.Offset), lengthRule)
		}
		if !within(r.Within, 0, mostWithin) {
			f.add(fmt.Sprintf("reading %d tolerance", i), mm(r.Within), "must be 0 to 1000 mm; is it in the right units?")
		}
		if i > 0 && r.Station < readings[i-1].Station-sameStation {
			f.add(fmt.Sprintf("reading %d station", i), mm(r.Station),
				fmt.Sprintf("must not be less than the one before, %s: list the stations in order", mm(readings[i-1].Station)))
		}
	}
}

// A Station is a place on the base line with the readings taken there, and what
// the fairing made of them.
type Station struct {
	At       float64 // along the base line, mm; readings within a millionth of it count as taken there
	Offset   float64 // mean of the readings there, mm
	Readings []int   // which readings they are
	Spread   float64 // largest less smallest reading, mm
	Low      float64 // smallest offset all readings there allow, mm
	High     float64 // largest offset all readings there allow, mm

	Faired   float64 // offset of the fair line, mm
	Residual float64 // Offset less Faired, mm

	// SecondDifference is y₋ - 2y + y₊ with the neighbouring stations, made fit for
	// uneven spacing, mm; NaN at the ends. It runs evenly along a fair line; an
	// error e at one station shows as e, -2e, e.
	SecondDifference float64
	// ByNeighbours is Offset less what the cubic through the four nearest other
	// stations foretells, mm; NaN with fewer than five stations.
	ByNeighbours float64
	// LeftOut is Offset less the line faired without this station, mm; NaN where it
	// was not tried (a line of more than 200 stations, or of five or fewer).
	LeftOut float64
}

// gatherStations joins repeated readings. Readings must be checked.
func gatherStations(readings []Reading) []Station {
	var out []Station
	for i, r := range readings {
		if i == 0 || r.Station-out[len(out)-1].At > sameStation {
			out = append(out, Station{At: r.Station, Low: math.Inf(-1), High: math.Inf(1)})
		}
		s := &out[len(out)-1]
		s.Readings = append(s.Readings, i)
		s.Low = max(s.Low, r.Offset-r.Within)
		s.High = min(s.High, r.Offset+r.Within)
	}
	for i := range out {
		s := &out[i]
		lo, hi, sum := math.Inf(1), math.Inf(-1), 0.0
		for _, k := range s.Readings {
			y := readings[k].Offset
			lo, hi, sum = min(lo, y), max(hi, y), sum+y
		}
		s.Offset, s.Spread = sum/float64(len(s.Readings)), hi-lo
		s.SecondDifference, s.ByNeighbours, s.LeftOut = math.NaN(), math.NaN(), math.NaN()
	}
	return out
}

// tolerance is half the room the readings of the station leave, mm, never negative.
func (s Station) tolerance() float64 { return max(0, (s.High-s.Low)/2) }

// differences fills in the second differences and the neighbours' forecast.
func differences(st []Station, pieces [][]int) {
	for i := 1; i+1 < len(st); i++ {
		l, r := st[i].At-st[i-1].At, st[i+1].At-st[i].At
		divided := ((st[i+1].Offset-st[i].Offset)/r - (st[i].Offset-st[i-1].Offset)/l) / (l + r)
		st[i].SecondDifference = 2 * l * r * divided
	}
	for _, use := range pieces {
		for k, i := range use {
			if e, _, _, ok := byNeighbours(st, use, k); ok {
				st[i].ByNeighbours = e
			}
		}
	}
}

// smoothPieces lists the stations between one knuckle and the next: across it the
// neighbours foretell nothing. A station on a knuckle belongs to both sides.
func smoothPieces(st []Station, knuckles []float64) [][]int {
	ends := slices.Clone(knuckles)
	slices.Sort(ends)
	ends = append(ends, math.Inf(1))
	var out [][]int
	i := 0
	for _, end := range ends {
		var piece []int
		for ; i < len(st) && st[i].At <= end; i++ {
			piece = append(piece, i)
		}
		out = append(out, piece)
		if i > 0 && st[i-1].At == end {
			i--
		}
	}
	return out
}

// byNeighbours compares the i-th of the stations in use with the cubic through its
// four nearest neighbours in use. It returns what is left, the most that readings
// within their tolerances can leave on a line that is a cubic there, and the root
// of the sum of squared weights, by which a spread of single readings grows.
func byNeighbours(st []Station, use []int, i int) (left, allowed, gain float64, ok bool) {
	if len(use) < 5 {
		return 0, 0, 0, false
	}
	from := min(max(i-2, 0), len(use)-5)
	x := st[use[i]].At
	left, allowed, gain = st[use[i]].Offset, st[use[i]].tolerance(), 1
	for a := from; a < from+5; a++ {
		if a == i {
			continue
		}
		w := 1.0
		for b := from; b < from+5; b++ {
			if b != i && b != a {
				w *= (x - st[use[b]].At) / (st[use[a]].At - st[use[b]].At)
			}
		}
		left -= w * st[use[a]].Offset
		allowed += math.Abs(w) * st[use[a]].tolerance()
		gain += w * w
	}
	return left, allowed, math.Sqrt(gain), true
}
