package outline

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// FitPoints returns an open, tangent-continuous path of arcs through dense points of a
// smooth curve in order: no point lies farther from it than tol (mm), and each pair of
// arcs reaches as far as that lets it. It starts on the first point and ends on the
// last. The direction at a point is that of the parabola of least squares through the points
// about it that lie within a few tolerances, so scatter below the tolerance is
// smoothed and not followed.
//
// Errors: a *[Fault] for a tolerance that is not positive and finite, for fewer than two points, and for
// each point that is not finite or the same as the one before it.
func FitPoints(pts []r2.Vec, tol float64) (Path, error) {
	return fitPoints("FitPoints", pts, false, tol)
}

// FitRing is [FitPoints] for the points of a smooth closed curve, the first not repeated at
// the end; at least three.
//
// Errors: those of FitPoints, and a *[Fault] for a last point that is the first.
func FitRing(pts []r2.Vec, tol float64) (Path, error) { return fitPoints("FitRing", pts, true, tol) }

func fitPoints(fn string, pts []r2.Vec, ring bool, tol float64) (Path, error) {
	var fs faults
	if !(0 < tol && tol <= maxCoordinate) {
		fs.add(badArgument(fn, "tolerance", tol, "must be above 0 and finite"))
	}
	least := 2
	if ring {
		least = 3
	}
	if len(pts) < least {
		fs.add(badArgument(fn, "number of points", float64(len(pts)), fmt.Sprintf("must be at least %d", least)))
	}
	for i, p := range pts {
		if !(math.Abs(p.X) <= maxCoordinate && math.Abs(p.Y) <= maxCoordinate) {
			fs.add(&Fault{Func: fn, Field: fmt.Sprintf("point %d", i), Index: i, Other: -1, At: p, Rule: "must be finite and within 1e9 mm"})
		} else if prev := (i + len(pts) - 1) % len(pts); (i > 0 || ring) && len(pts) > 1 && p == pts[prev] {
			fs.add(&Fault{Func: fn, Field: fmt.Sprintf("point %d", i), Index: i, Other: -1, At: p, Rule: "must differ from the one before it"})
		}
	}
	if err := fs.err(); err != nil {
		return Path{}, err
	}
	f := pointFit{pts: pts, ring: ring, tol: tol}
	return f.run(), nil
}

type pointFit struct {
	pts  []r2.Vec
	ring bool
	tol  float64
}

// at folds an index counted on past the end of a ring.
func (f *pointFit) at(i int) r2.Vec {
	n := len(f.pts)
	if i >= n {
		i -= n
	} else if i < 0 {
		i += n
	}
	return f.pts[i]
}

// window is how many points on either side the direction at point i is taken from: at
// least two, and as far as forty tolerances, where scatter within the tolerance turns the
// direction by a hundredth of a radian at most.
func (f *pointFit) window(i int) (lo, hi int) {
	n, most := len(f.pts), 200
	first, last := 0, n-1
	if f.ring {
		first, last = i-(n-1)/2, i+(n-1)/2
	}
	p := f.at(i)
	lo, hi = max(i-2, first), min(i+2, last)
	for lo > first && i-lo < most && dist(f.at(lo), p) < 40*f.tol {
		lo--
	}
	for hi < last && hi-i < most && dist(f.at(hi), p) < 40*f.tol {
		hi++
	}
	return lo, hi
}

// direction is the unit tangent at point i: of the parabola of least squares, over the length
// of the chords, through the points of the window.
func (f *pointFit) direction(i int) r2.Vec {
	lo, hi := f.window(i)
	p := f.at(i)
	var s [5]float64 // sums of the powers of the length
	var b [3]r2.Vec
	along := func(from, to, step int, sign float64) {
		l, last := 0.0, p
		for k := from; k != to+step; k += step {
			q := f.at(k)
			l += sign * dist(q, last)
			last = q
			v := r2.Sub(q, p)
			x := 1.0
			for j := range s {
				s[j] += x
				if j < 3 {
					b[j] = r2.Add(b[j], r2.Scale(x, v))
				}
				x *= l
			}
		}
	}
	s[0] = 1 // the point itself
	along(i+1, hi, 1, 1)
	along(i-1, lo, -1, -1)
	d := r2.Vec{X: slope(s, b[0].X, b[1].X, b[2].X), Y: slope(s, b[0].Y, b[1].Y, b[2].Y)}
	l := length(d)
	if !(l > 0 && finite(d)) {
		d = r2.Sub(f.at(hi), f.at(lo))
		if l = length(d); l == 0 {
			d = r2.Sub(f.at(hi), p)
			l = length(d)
		}
	}
	return r2.Scale(1/l, d)
}

// slope is the linear coefficient of the parabola of least squares with the moments s, by
// Cramer's rule; where there are but two points it is the line.
func slope(s [5]float64, b0, b1, b2 float64) float64 {
	// Scaled to the window's length, so that determinants compare with 1.
	w := math.Sqrt(s[2] / s[0])
	s1, s2, s3, s4 := s[1]/w, s[2]/(w*w), s[3]/(w*w*w), s[4]/(w*w*w*w)
	b1, b2 = b1/w, b2/(w*w)
	det := s[0]*(s2*s4-s3*s3) - s1*(s1*s4-s3*s2) + s2*(s1*s3-s2*s2)
	if !(det > 1e-9*s[0]*s[0]*s[0]) {
		return (s[0]*b1 - s1*b0) / (s[0]*s2 - s1*s1) / w
	}
	return (s[0]*(b1*s4-s3*b2) - b0*(s1*s4-s3*s2) + s2*(s1*b2-b1*s2)) / det / w
}

// try fits one biarc from point i to point k.
func (f *pointFit) try(i, k int, t r2.Vec) (biarc, bool) {
	arcs, ok := newBiarc(f.at(i), t, f.at(k), f.direction(k))
	if !ok {
		// Directions that lead nowhere: the chord itself, in two halves.
		m := middle(f.at(i), f.at(k))
		arcs = biarc{{A: f.at(i), B: m}, {A: m, B: f.at(k)}}
	}
	if k == i+1 {
		return arcs, ok
	}
	if !ok || !arcs.gentle() {
		return arcs, false
	}
	// A coarse look first: what fails mostly fails in the large.
	first, second := newGauge(arcs[0]), newGauge(arcs[1])
	for _, stride := range [...]int{max(1, (k-i)/16), 1} {
		for m := i + stride; m < k; m += stride {
			if q := f.at(m); !first.within(q, f.tol) && !second.within(q, f.tol) {
				return arcs, false
			}
		}
		if stride == 1 {
			break
		}
	}
	return arcs, true
}

func (f *pointFit) run() Path {
	end := len(f.pts) - 1
	if f.ring {
		end++
	}
	var vs []Vertex
	step := 2
	for i := 0; i < end; {
		k, arc := f.reach(i, end, step)
		vs = weld(weld(vs, arc[0], f.tol/100), arc[1], f.tol/100)
		step, i = max(k-i, 1), k
	}
	if f.ring {
		return Path{Vertices: vs[:len(vs)-1], Closed: true}
	}
	return Path{Vertices: vs}
}

// reach finds the farthest point that one biarc from point i serves, beginning with the
// step of the one before.
func (f *pointFit) reach(i, end, step int) (k int, arc biarc) {
	t := f.direction(i)
	good, bad := i+1, end+1
	arc, _ = f.try(i, good, t)
	for next := min(i+step, end); good < end && next < bad; {
		if next <= good {
			next = good + 1
		}
		if a, ok := f.try(i, next, t); ok {
			good, arc = next, a
			if bad <= end {
				next = good + (bad-good)/2
			} else {
				next = min(i+2*(good-i), end)
			}
		} else {
			bad = next
			next = good + (bad-good)/2
		}
		if bad-good <= 1 {
			break
		}
	}
	return good, arc
}
