package nest

import (
	"math"

	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// lying is a piece turned one way, its box in the corner of the axes, with where it
// begins and ends along x in every band of y.
type lying struct {
	turn          measure.Angle
	shift         r2.Vec // brings the turned piece into the corner
	width, height float64
	// reach is, for every band from below the piece to above it, how far to the left
	// metal comes, less the gap: bands within a gap of each other count as one.
	reach []float64
	// ends is how far to the right metal comes in each band of the piece itself.
	ends []float64
}

// bands cuts a sheet across its width.
type bands struct {
	high  float64 // of a band, mm
	count int
	gap   float64 // mm
	near  int     // bands that lie within the gap of one
}

// hair is how much longer or wider than its room a piece may be and fits, for rounding, mm.
const hair = 1e-9

// bandsOf makes bands fine enough to slide blanks into each other and few enough to be
// quick: some hundreds.
func bandsOf(s Stock) bands {
	const most = 256
	room := s.Width - 2*s.Margin
	high := max(room/most, 0.5)
	// A gap is a whole number of bands where that makes bands no finer than need be.
	if n := math.Floor(s.Gap / high); n >= 1 {
		high = s.Gap / n
	}
	return bands{high, int(math.Ceil(room / high)), s.Gap, int(math.Ceil(s.Gap/high - 1e-9))}
}

// lay turns a piece and takes its profile.
func (b bands) lay(p outline.Path, turn measure.Angle) lying {
	turned := p.Transform(outline.Rotate(r2.Vec{}, turn))
	box := turned.Bounds()
	l := lying{turn: turn, shift: r2.Scale(-1, box.Min), width: box.Max.X - box.Min.X, height: box.Max.Y - box.Min.Y}
	// Twice the hair, so that what fits the sheet by a hair has no band more than it.
	n := max(1, int(math.Ceil((l.height-2*hair)/b.high)))
	starts := make([]float64, n)
	l.ends = make([]float64, n)
	for i := range n {
		starts[i], l.ends[i] = math.Inf(1), math.Inf(-1)
	}
	mark := func(x0, x1, y0, y1 float64) {
		for i := b.band(y0, n); i <= b.band(y1, n); i++ {
			starts[i], l.ends[i] = min(starts[i], x0), max(l.ends[i], x1)
		}
	}
	moved := turned.Transform(outline.Translate(l.shift))
	for _, s := range moved.Segments() {
		// Boxes round short pieces of the segment hold it; they are wider than it by a
		// band's height at most, and always on the safe side.
		pieces := int(math.Ceil(min(s.Length()/b.high, 1e5))) + 1
		for k := range pieces {
			part := s.Between(float64(k)/float64(pieces), float64(k+1)/float64(pieces)).Bounds()
			mark(part.Min.X, part.Max.X, part.Min.Y, part.Max.Y)
		}
	}
	l.reach = make([]float64, n+2*b.near)
	for i := range l.reach {
		l.reach[i] = math.Inf(1)
		for k := max(0, i-2*b.near); k <= min(n-1, i); k++ {
			l.reach[i] = min(l.reach[i], starts[k]-b.gap)
		}
	}
	return l
}

// band finds the band of a height, of the n that the piece has.
func (b bands) band(y float64, n int) int {
	return max(0, min(n-1, int(math.Floor(y/b.high))))
}
