package outline

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// A Curve is a smooth plane curve: its point (mm) and its derivative at a parameter. The
// derivative must not vanish.
type Curve func(t float64) (p, d r2.Vec)

// maxFitArcs bounds the arcs of one fit: a curve that needs more is not smooth, or the
// tolerance is out of all proportion.
const maxFitArcs = 1 << 16

// leastFitTol is far below an atom, mm. A curve that bends within less has products of lengths
// that lose their digits, and would be chased step by tiny step.
const leastFitTol = 1e-12

// FitCurve returns an open, tangent-continuous path of arcs that follows the curve from
// t0 to t1 (t0 < t1) within tol (mm), starts and ends on it in its directions, and has
// as few arcs as pairs of them placed on the curve can do with: each pair reaches as far as the
// tolerance lets it.
//
// The distance is measured at 33 points of each pair of arcs, and each pair must keep
// within nine tenths of the tolerance there, the rest being for what lies between.
//
// Errors: a *[Fault] for a tolerance outside 1e-12 to 1e9 mm, for an interval that is not positive and finite, for a
// curve that is not finite or whose derivative vanishes at a parameter that was asked for, and
// for one that cannot be followed.
func FitCurve(c Curve, t0, t1, tol float64) (Path, error) {
	if err := checkFit("FitCurve", t0, t1, tol); err != nil {
		return Path{}, err
	}
	f := curveFit{fn: "FitCurve", curve: c, tol: tol}
	return f.run(t0, t1)
}

func checkFit(fn string, t0, t1, tol float64) error {
	if !(leastFitTol <= tol && tol <= maxCoordinate) {
		return badArgument(fn, "tolerance", tol, "must be 1e-12 to 1e9 mm")
	}
	if !(t0 < t1 && math.Abs(t0) <= math.MaxFloat64/4 && math.Abs(t1) <= math.MaxFloat64/4) {
		return badArgument(fn, "end of the interval", t1, "must lie above the start, both finite")
	}
	return nil
}

// FitSpline is [FitCurve] for a curve of many pieces, such as a spline: knots are the
// parameters at which one piece ends and the next begins, rising, the two ends included. A dent
// in one piece of hundreds lies between the 33 points of a long pair of arcs; here each piece
// is measured too, at its start and at three points inside.
//
// Errors: those of FitCurve, and a *[Fault] for each knot that does not lie above the one before it.
func FitSpline(c Curve, knots []float64, tol float64) (Path, error) {
	if len(knots) < 2 {
		return Path{}, badArgument("FitSpline", "number of knots", float64(len(knots)), "must be at least 2, the two ends")
	}
	var fs faults
	for i, k := range knots[1:] {
		if !(knots[i] < k) {
			fs.add(badArgument("FitSpline", fmt.Sprintf("knot %d", i+1), k, "must lie above the one before it"))
		}
	}
	if err := fs.err(); err != nil {
		return Path{}, err
	}
	t0, t1 := knots[0], knots[len(knots)-1]
	if err := checkFit("FitSpline", t0, t1, tol); err != nil {
		return Path{}, err
	}
	f := curveFit{fn: "FitSpline", curve: c, knots: knots, tol: tol}
	return f.run(t0, t1)
}

type curveFit struct {
	fn    string // for its faults
	curve Curve
	knots []float64 // where pieces begin that are each to be measured; may be nil
	tol   float64
	fault error
}

// at returns the point and unit direction at t.
func (f *curveFit) at(t float64) (p, u r2.Vec) {
	p, d := f.curve(t)
	l := math.Hypot(d.X, d.Y)
	if !(finite(p) && 0 < l && l <= math.MaxFloat64) {
		if f.fault == nil {
			f.fault = badArgument(f.fn, "parameter", t, "the curve must be finite there and its derivative must not vanish")
		}
		return p, r2.Vec{X: 1}
	}
	return p, r2.Vec{X: d.X / l, Y: d.Y / l}
}

// try fits one biarc from a to b.
func (f *curveFit) try(a, b float64) (biarc, bool) {
	p, t := f.at(a)
	q, u := f.at(b)
	arcs, ok := newBiarc(p, t, q, u)
	if !ok || !arcs.gentle() {
		return arcs, false
	}
	// The widest deviation of a biarc lies near a quarter and three quarters: those first.
	const n = 32
	for _, stride := range [...]int{8, 4, 2, 1} {
		for k := stride; k < n; k += 2 * stride {
			x, _ := f.curve(a + (b-a)*float64(k)/n)
			if !(arcs.distance(x) <= 0.9*f.tol) {
				return arcs, false
			}
		}
	}
	x, _ := f.curve(a + (b-a)/2)
	return arcs, arcs.distance(x) <= 0.9*f.tol && f.pieces(arcs, a, b)
}

// pieces tells that the arcs keep to every piece that begins between a and b. Within one
// piece the points of try do.
func (f *curveFit) pieces(arcs biarc, a, b float64) bool {
	const parts = 4
	i, _ := slices.BinarySearch(f.knots, a)
	for i = max(i, 1); i < len(f.knots) && f.knots[i-1] < b; i++ {
		from, to := max(f.knots[i-1], a), min(f.knots[i], b)
		for k := range parts {
			x, _ := f.curve(from + (to-from)*float64(k)/parts)
			if !(arcs.distance(x) <= 0.9*f.tol) {
				return false
			}
		}
	}
	return true
}

func (f *curveFit) run(t0, t1 float64) (Path, error) {
	var vs []Vertex
	step := (t1 - t0) / 16
	arcs := 0
	for a := t0; a < t1; {
		b, arc, ok := f.reach(a, t1, step)
		if f.fault != nil {
			return Path{}, f.fault
		}
		if arcs += 2; !ok || arcs > maxFitArcs {
			return Path{}, badArgument(f.fn, "parameter", a, "the curve cannot be followed from here within the tolerance")
		}
		vs = weld(weld(vs, arc[0], f.tol/100), arc[1], f.tol/100)
		step, a = b-a, b
	}
	return Path{Vertices: vs}, nil
}

// reach finds the farthest parameter that one biarc from a serves: it doubles the step until
// that fails, then halves the interval in doubt.
func (f *curveFit) reach(a, end, step float64) (b float64, arc biarc, ok bool) {
	least := (end - a) * 0x1p-30
	least = max(least, 4*(math.Nextafter(math.Abs(a), math.Inf(1))-math.Abs(a)))
	bad, failed := 0.0, false // the nearest parameter known to be too far
	for {
		b = min(a+step, end)
		if arc, ok = f.try(a, b); f.fault != nil {
			return b, arc, false
		}
		if ok {
			break
		}
		bad, failed = b, true
		if step /= 2; step < least {
			return b, arc, false
		}
	}
	for !failed && b < end || failed && bad-b > 1e-3*(b-a) {
		next := min(b+(b-a), end)
		if failed {
			next = b + (bad-b)/2
		}
		if !(next > b) {
			break
		}
		wide, fits := f.try(a, next)
		if f.fault != nil {
			return b, arc, false
		}
		if fits {
			b, arc = next, wide
		} else {
			bad, failed = next, true
		}
	}
	return b, arc, true
}

// Conic returns arcs along the conic section that leaves p0 toward apex, arrives at p1
// from apex, and passes the point at the fraction rho (above 0, below 1) of the way from the
// middle of p0 and p1 to the apex: an ellipse below 0.5, a parabola at 0.5, a hyperbola
// above. This is how loftsmen give a former's section. The arcs keep within tol, mm.
//
// It is the rational quadratic curve of weights 1, w, 1 with w = rho/(1 - rho), whose
// shoulder lies at w/(1+w) = rho of the median.
//
// Errors: a *[Fault] for a rho outside that, for points that are not finite and within 1e9 mm, for
// an apex in line with the ends, and those of [FitCurve].
func Conic(p0, apex, p1 r2.Vec, rho, tol float64) (Path, error) {
	if !(0 < rho && rho < 1) {
		return Path{}, badArgument("Conic", "rho", rho, "must be above 0 and below 1")
	}
	for i, p := range [...]r2.Vec{p0, apex, p1} {
		if !(math.Abs(p.X) <= maxCoordinate && math.Abs(p.Y) <= maxCoordinate) {
			return Path{}, refused("Conic", [...]string{"start", "apex", "end"}[i], fmt.Sprintf("(%g, %g) must be finite and within 1e9 mm", p.X, p.Y))
		}
	}
	if Orient(p0, apex, p1) == 0 {
		return Path{}, refused("Conic", "apex", "must not be in line with the two ends")
	}
	// Halves meet at the shoulder; weights scaled by the end's keep rho near 0 and 1 in range.
	w := rho / (1 - rho)
	curve := func(t float64) (r2.Vec, r2.Vec) {
		s := 1 - t
		b0, b1, b2 := s*s, 2*w*s*t, t*t
		sum := b0 + b1 + b2
		a, c := r2.Sub(p0, apex), r2.Sub(p1, apex) // about the apex, to keep the digits
		q := r2.Vec{X: (b0*a.X + b2*c.X) / sum, Y: (b0*a.Y + b2*c.Y) / sum}
		// Derivative of (b0·a + b2·c)/sum, times sum².
		d0, d2, ds := -2*s, 2*t, -2*s+2*w*(s-t)+2*t
		d := r2.Vec{
			X: ((d0*a.X+d2*c.X)*sum - (b0*a.X+b2*c.X)*ds) / (sum * sum),
			Y: ((d0*a.Y+d2*c.Y)*sum - (b0*a.Y+b2*c.Y)*ds) / (sum * sum),
		}
		return r2.Add(apex, q), d
	}
	return FitCurve(curve, 0, 1, tol)
}
