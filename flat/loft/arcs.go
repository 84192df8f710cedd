package loft

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"github.com/hangarflat/hangarflat/flat/outline"
)

// knuckleTurn is the change of direction, in radians, from which two cubics meet
// at a knuckle and not by the last digits: a hundredth of a degree.
const knuckleTurn = 1.7e-4

// Arcs returns the line as an open path of lines and arcs, x the station and y the
// offset, that stays within tol mm of it and is tangent-continuous but at the
// knuckles: what a cutter follows. A tolerance that is not above 0 is an [*Error].
func (c Curve) Arcs(tol float64) (outline.Path, error) {
	if len(c.poly) == 0 {
		return outline.Path{}, &Error{"curve", "", "is empty: fair a line first"}
	}
	return fitPieces(func(a, b float64) outline.Curve {
		return func(x float64) (p, d r2.Vec) {
			s := min(max(spanOf(c.breaks, x), spanOf(c.breaks, a)), spanBefore(c.breaks, b))
			u := x - c.breaks[s]
			q := c.poly[s]
			return r2.Vec{X: x, Y: q.at(u)}, r2.Vec{X: 1, Y: q[1] + u*(2*q[2]+u*3*q[3])}
		}
	}, c.smoothEnds(), c.breaks, tol)
}

// smoothEnds are the two ends of the line and, between them, its knuckles.
func (c Curve) smoothEnds() []float64 {
	if len(c.poly) == 0 {
		return nil
	}
	ends := []float64{c.breaks[0]}
	for s := 1; s < len(c.poly); s++ {
		p, h := c.poly[s-1], c.breaks[s]-c.breaks[s-1]
		before := p[1] + h*(2*p[2]+h*3*p[3])
		if math.Abs(math.Atan(c.poly[s][1])-math.Atan(before)) > knuckleTurn {
			ends = append(ends, c.breaks[s])
		}
	}
	return append(ends, c.breaks[len(c.breaks)-1])
}

// spanBefore returns the span that ends at or holds b: at a knuckle the cubic
// before it.
func spanBefore(breaks []float64, b float64) int {
	s := spanOf(breaks, b)
	if s > 0 && breaks[s] == b {
		s--
	}
	return s
}

// fitPieces fits arcs to the curve between each two ends and joins them. It is a cubic between each
// two breaks.
func fitPieces(piece func(a, b float64) outline.Curve, ends, breaks []float64, tol float64) (outline.Path, error) {
	if !(tol > 0 && tol <= maxLength) {
		return outline.Path{}, &Error{"tolerance", mm(tol), "must be above 0, and finite"}
	}
	var out outline.Path
	for i := 1; i < len(ends); i++ {
		a, b := ends[i-1], ends[i]
		knots := []float64{a}
		for _, x := range breaks {
			if a < x && x < b {
				knots = append(knots, x)
			}
		}
		p, err := outline.FitSpline(piece(a, b), append(knots, b), tol)
		if err != nil {
			return outline.Path{}, fmt.Errorf("loft: arcs from %s to %s: %w", mm(a), mm(b), err)
		}
		if n := len(out.Vertices); n > 0 {
			out.Vertices = out.Vertices[:n-1]
		}
		out.Vertices = append(out.Vertices, p.Vertices...)
	}
	return out, nil
}
