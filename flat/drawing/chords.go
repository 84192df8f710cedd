package drawing

import (
	"math"

	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
)

// Chords returns the path as a chain of points whose chords stay within sag mm of
// it, for a picture: for one no finer than 65,536 chords to an arc make. A closed path does not
// repeat its first point. Cutters get the arcs themselves.
func Chords(p outline.Path, sag float64) []r2.Vec {
	return appendChords(make([]r2.Vec, 0, len(p.Vertices)), p, sag)
}

func appendChords(pts []r2.Vec, p outline.Path, sag float64) []r2.Vec {
	for i := range p.NumSegments() {
		s := p.Segment(i)
		pts = append(pts, s.A)
		if s.IsLine() {
			continue
		}
		// A chord over the angle s leaves r·(1-cos(s/2)), about r·s²/8.
		step := math.Sqrt(8 * sag / max(s.Radius(), sag))
		n := min(math.Ceil(math.Abs(s.Sweep().Radians())/step), 1<<16)
		for k := 1.0; k < n; k++ {
			pts = append(pts, s.At(k/n))
		}
	}
	if n := len(p.Vertices); n > 0 && !p.Closed {
		pts = append(pts, p.Vertices[n-1].P)
	}
	return pts
}
