package loft

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"github.com/hangarflat/hangarflat/flat/outline"
)

// Arcs returns the trace as a path of lines and arcs within tol mm of it,
// tangent-continuous but at the corners. Its errors are those of [Trace.Parallel].
func (t Trace) Arcs(tol float64) (outline.Path, error) { return t.Parallel(0, tol) }

// Parallel returns the curve at the distance d mm to the right of the trace, left
// when d is negative, as arcs within tol mm: the mold line of the former under a
// skin of that thickness. Corners are carried to where the two sides meet. A
// distance past the centre of a bend is an [*Error] that says where.
func (t Trace) Parallel(d, tol float64) (outline.Path, error) {
	from, to := t.Range()
	if math.IsNaN(from) {
		return outline.Path{}, &Error{"trace", "", "is empty: fair a curve first"}
	}
	if !isLength(d) {
		return outline.Path{}, &Error{"distance", mm(d), lengthRule}
	}
	for _, s := range t.x.samples() {
		// Moving right makes a left turn's radius grow, a right turn's shrink.
		if k := t.Curvature(s); !(1+d*k > 0) {
			p, _ := t.At(s)
			return outline.Path{}, &Error{"distance", mm(d), fmt.Sprintf("must be less than the radius of the bend at (%.1f, %.1f), %s", p.X, p.Y, mm(math.Abs(1/k)))}
		}
	}
	reach := 4*math.Abs(d) + 10*tol
	ends := slices.Compact(append(append([]float64{from}, t.corners...), to))
	var out outline.Path
	for i := 1; i < len(ends); i++ {
		p, err := fitPieces(func(a, b float64) outline.Curve { return t.beside(d, a, b) }, ends[i-1:i+1], t.x.breaks, tol)
		if err != nil {
			return outline.Path{}, err
		}
		if out, _, err = meetAtCorner(out, p, reach); err != nil {
			return outline.Path{}, err
		}
	}
	if t.closed {
		return closed(out, has(t.corners, from), reach)
	}
	return out, nil
}

// closed joins the end of a path to its start, where there may be a corner.
func closed(p outline.Path, corner bool, reach float64) (outline.Path, error) {
	n := len(p.Vertices)
	if !corner {
		return outline.Path{Vertices: p.Vertices[:n-1], Closed: true}, nil // the last stands on the first
	}
	// Its second half is met by its first, and the path begun where they meet.
	half := n / 2
	head := outline.Path{Vertices: slices.Clone(p.Vertices[:half+1])}
	head.Vertices[half].Bulge = 0
	tail := outline.Path{Vertices: slices.Clone(p.Vertices[half:])}
	met, at, err := meetAtCorner(tail, head, reach)
	if err != nil {
		return outline.Path{}, err
	}
	round := met.Vertices[:len(met.Vertices)-1]
	return outline.Path{Vertices: slices.Concat(round[at:], round[:at]), Closed: true}, nil
}

// beside is the parallel curve from a to b, evaluated by the cubics inside.
func (t Trace) beside(d, a, b float64) outline.Curve {
	s0, s1 := spanOf(t.x.breaks, a), spanBefore(t.x.breaks, b)
	return func(s float64) (p, dir r2.Vec) {
		k := min(max(spanOf(t.x.breaks, s), s0), s1)
		u := s - t.x.breaks[k]
		x, y := t.x.poly[k], t.y.poly[k]
		dx, dy := x[1]+u*(2*x[2]+u*3*x[3]), y[1]+u*(2*y[2]+u*3*y[3])
		ddx, ddy := 2*x[2]+u*6*x[3], 2*y[2]+u*6*y[3]
		n := math.Hypot(dx, dy)
		kappa := (dx*ddy - dy*ddx) / (n * n * n)
		return r2.Vec{X: x.at(u) + d*dy/n, Y: y.at(u) - d*dx/n},
			r2.Vec{X: dx * (1 + d*kappa), Y: dy * (1 + d*kappa)}
	}
}

// meetAtCorner joins q to p: where they cross near the corner both are cut there,
// where they fall short of each other both are carried on straight to where they
// meet, no further than reach. at is the vertex they meet at.
func meetAtCorner(p, q outline.Path, reach float64) (met outline.Path, at int, err error) {
	n := len(p.Vertices)
	if n == 0 {
		return q, 0, nil
	}
	end, start := p.Vertices[n-1].P, q.Vertices[0].P
	if gap := r2.Norm(r2.Sub(end, start)); gap <= 1e-9*maxLength {
		p.Vertices = append(p.Vertices[:n-1:n-1], q.Vertices...)
		return p, n - 1, nil
	}
	if xs := p.Crossings(q, 0); len(xs) > 0 {
		// The last crossing along p is the one at the corner.
		x := xs[len(xs)-1]
		if r2.Norm(r2.Sub(x.P, end)) <= reach {
			head, err := p.Trim(0, lengthTo(p, x.I, x.T))
			if err != nil {
				return outline.Path{}, 0, fmt.Errorf("loft: corner: %w", err)
			}
			tail, err := q.Trim(lengthTo(q, x.J, x.U), q.Length())
			if err != nil {
				return outline.Path{}, 0, fmt.Errorf("loft: corner: %w", err)
			}
			m := len(head.Vertices)
			head.Vertices = append(head.Vertices[:m-1:m-1], tail.Vertices...)
			return head, m - 1, nil
		}
	}
	u, v := p.Segment(p.NumSegments()-1).Tangent(1), q.Segment(0).Tangent(0)
	cross := r2.Cross(u, v)
	if !(math.Abs(cross) > 1e-6) {
		return outline.Path{}, 0, &Error{"corner", fmt.Sprintf("(%.1f, %.1f)", end.X, end.Y), "its sides run the same way but do not meet: it is no corner"}
	}
	k := r2.Cross(r2.Sub(start, end), v) / cross
	point := r2.Add(end, r2.Scale(k, u))
	if !(r2.Norm(r2.Sub(point, end)) <= reach) {
		return outline.Path{}, 0, &Error{"corner", fmt.Sprintf("(%.1f, %.1f)", end.X, end.Y), "its sides meet too far away: it is too sharp for this distance"}
	}
	p.Vertices = append(p.Vertices[:n:n], outline.Vertex{P: point})
	p.Vertices = append(p.Vertices, q.Vertices...)
	return p, n, nil
}

// lengthTo is the distance along p to the fraction f of segment i, mm.
func lengthTo(p outline.Path, i int, f float64) float64 {
	var s float64
	for k := range i {
		s += p.Segment(k).Length()
	}
	return s + f*p.Segment(i).Length()
}
