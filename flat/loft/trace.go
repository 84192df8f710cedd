package loft

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// A Trace is a fair plane curve that may run any way, such as a hull section from
// keel to sheer: its two coordinates are fair lines over the distance along it.
type Trace struct {
	x, y    Curve
	corners []float64
	closed  bool
}

// TraceOptions says how a plane curve is faired. The zero value finds its
// stiffness from the data.
type TraceOptions struct {
	Stiffness float64 // as in SmoothOptions; 0 finds it
	// Corners are the distances along at which the direction may jump: a chine, or of a
	// closed curve the keel at which it starts.
	Corners []float64
	// Closed joins the end to the start, which must lie one step apart.
	Closed bool
	// Length is once round a closed curve, mm, such as survey.Section.Length. 0 takes the
	// straight way from the last point to the first for the step between them, which
	// points that lie to either side of the curve make too long.
	Length float64
	// Reject is the multiple of the spread, square to the curve, past which a point
	// is left out. 0 is 4.5, which among a million good points leaves out seven;
	// +Inf keeps all.
	Reject float64
}

// A TraceFit is a faired plane curve and how it lies to its points.
type TraceFit struct {
	Trace
	Stiffness float64
	Freedom   float64   // readings' worth of freedom used by each coordinate
	Residuals []float64 // of every point, square to the curve, mm, positive on its left
	Outliers  []int     // points left out, in order
	RMS       float64   // of the residuals of the points kept, mm
}

const (
	defaultReject  = 4.5
	mostTraceSpans = 400
)

// FairTrace lays a fair curve through points in order; along is each point's
// distance along the curve, rising, as a section's ordering gives it. It needs
// eight points and four different distances. Faults are [*Error]s, joined.
//
// A side and its mirror image may be faired together: their pairs are counted twice, and so
// is the freedom, half of which goes to what differs from side to side, so that the stiffness
// found is that of the side. The same points given twice over do make the trace limp.
func FairTrace(along []float64, points []r2.Vec, opt TraceOptions) (TraceFit, error) {
	if err := checkTrace(along, points, opt); err != nil {
		return TraceFit{}, err
	}
	reject := opt.Reject
	if reject == 0 {
		reject = defaultReject
	}
	keep := make([]int, len(points))
	for i := range keep {
		keep[i] = i
	}
	var out TraceFit
	for range 4 {
		var err error
		if out, err = fitTrace(along, points, keep, opt); err != nil {
			return TraceFit{}, err
		}
		out.Residuals = out.square(along, points)
		sigma := spreadByMedian(out.Residuals, keep)
		again := keep[:0:0]
		for i, r := range out.Residuals {
			if math.Abs(r) <= max(reject*sigma, leastWithin) {
				again = append(again, i)
			}
		}
		// A cut that would take half the points is no cut.
		if slices.Equal(again, keep) || len(again) < len(points)/2 || len(again) < 8 {
			break
		}
		keep = again
	}
	var sq float64
	for _, i := range keep {
		sq += out.Residuals[i] * out.Residuals[i]
	}
	out.RMS = math.Sqrt(sq / float64(len(keep)))
	next := 0
	for i := range points {
		if next < len(keep) && keep[next] == i {
			next++
			continue
		}
		out.Outliers = append(out.Outliers, i)
	}
	return out, nil
}

func checkTrace(along []float64, points []r2.Vec, opt TraceOptions) error {
	var f faults
	if len(along) != len(points) {
		f.add("points", fmt.Sprintf("%d", len(points)), fmt.Sprintf("must be one for each of the %d distances", len(along)))
		return f.err()
	}
	if len(points) < 8 {
		f.add("points", fmt.Sprintf("%d", len(points)), "at least 8 are needed to fair a plane curve")
	}
	if !(opt.Reject == 0 || opt.Reject >= 2) {
		f.add("reject", fmt.Sprintf("%g", opt.Reject), "must be 0 (the default), or at least 2 times the spread")
	}
	if !(opt.Stiffness >= 0 && finite(opt.Stiffness)) {
		f.add("stiffness", fmt.Sprintf("%g", opt.Stiffness), "must be 0 (find it) or above, and finite")
	}
	for i, p := range points {
		if !isLength(p.X) || !isLength(p.Y) {
			f.add(fmt.Sprintf("point %d", i), fmt.Sprintf("(%g, %g) mm", p.X, p.Y), lengthRule)
		}
		if !isLength(along[i]) {
			f.add(fmt.Sprintf("point %d distance along", i), mm(along[i]), lengthRule)
		}
		if i > 0 && along[i] < along[i-1] {
			f.add(fmt.Sprintf("point %d distance along", i), mm(along[i]), "must not be less than the one before: put the points in order")
		}
	}
	if err := f.err(); err != nil {
		return err
	}
	if n := countDistinct(along, 4); n < 4 {
		f.add("distances along", fmt.Sprintf("%d different", n), "at least 4 are needed")
	}
	f.corners(along[0], along[len(along)-1], opt)
	return f.err()
}

// corners looks at once round and at the corners. Those of a closed curve may stand where it
// starts, or in the step from its last point.
func (f *faults) corners(from, to float64, opt TraceOptions) {
	if opt.Length != 0 {
		switch {
		case !opt.Closed:
			f.add("length", mm(opt.Length), "must be 0 where the curve is not closed")
		case !isLength(opt.Length) || !(opt.Length >= to-from):
			f.add("length", mm(opt.Length), "must be 0 (by the points), or once round: at least the way from the first point to the last, "+mm(to-from))
		default:
			to = from + opt.Length
		}
	}
	for i, c := range opt.Corners {
		switch {
		case opt.Closed && !(c >= from && c <= to):
			f.add(fmt.Sprintf("corner %d", i), mm(c), "must lie on the curve")
		case !opt.Closed && !(c > from && c < to):
			f.add(fmt.Sprintf("corner %d", i), mm(c), "must lie on the curve, and not at its ends")
		}
	}
}

func fitTrace(along []float64, points []r2.Vec, keep []int, opt TraceOptions) (TraceFit, error) {
	s, xs, ys := make([]float64, 0, len(keep)), make([]float64, 0, len(keep)), make([]float64, 0, len(keep))
	put := func(i int, shift float64) {
		s, xs, ys = append(s, along[i]+shift), append(xs, points[i].X), append(ys, points[i].Y)
	}
	corners := slices.Clone(opt.Corners)
	slices.Sort(corners)
	corners = slices.Compact(corners)
	first, last := keep[0], keep[len(keep)-1]
	from, to := along[first], along[last]
	var holds []hold
	if opt.Closed {
		whole := opt.Length
		if whole == 0 {
			whole = to - from + r2.Norm(r2.Sub(points[first], points[last]))
		}
		from, corners = cutOpen(from, whole, corners)
		to = from + whole
		holds = closing(to, has(corners, from))
		lap := func(i int) float64 { return math.Floor((along[i] - from) / whole) }
		start := slices.IndexFunc(keep, func(i int) bool { return lap(i) == lap(last) })
		for k := range keep {
			i := keep[(start+k)%len(keep)]
			put(i, -lap(i)*whole)
		}
	} else {
		for _, i := range keep {
			put(i, 0)
		}
	}
	b := newBasis(traceBreaks(from, to, len(keep), corners), corners, nil)
	fit, err := problem{basis: b, k: b.bending(), holds: holds}.smooth(s, [][]float64{xs, ys}, SmoothOptions{Stiffness: opt.Stiffness})
	if err != nil {
		return TraceFit{}, err
	}
	out := TraceFit{Stiffness: fit[0].Stiffness, Freedom: fit[0].Freedom}
	out.x, out.y, out.closed, out.corners = fit[0].Curve, fit[1].Curve, opt.Closed, corners
	if off := along[first] - from; opt.Closed && math.Abs(off) >= (to-from)/float64(traceSpans(len(keep)))/2 {
		out.Trace = out.begunAt(along[first])
	}
	return out, nil
}

// cutOpen says where a closed curve is laid open, and its corners from there on: at the corner
// next to its first point, for what lies between a cut and a corner might be left without a
// point, or where there is none at the first point.
func cutOpen(first, whole float64, corners []float64) (from float64, wrapped []float64) {
	near := math.Inf(1)
	from = first
	for _, c := range corners {
		if d := math.Remainder(c-first, whole); math.Abs(d) < near {
			from, near = first+d, math.Abs(d)
		}
	}
	for _, c := range corners {
		d := math.Mod(c-from, whole)
		if d < 0 {
			d += whole
		}
		if min(d, whole-d) <= 1e-9*whole {
			d = 0 // the one it is laid open at
		}
		wrapped = append(wrapped, from+d)
	}
	slices.Sort(wrapped)
	return from, slices.Compact(wrapped)
}

// begunAt is a closed trace told from another place on it.
func (t Trace) begunAt(s float64) Trace {
	from, to := t.Range()
	at := t.round(s)
	move := func(v float64) float64 {
		if v < at {
			v += to - from
		}
		return v + (s - at)
	}
	begun := func(c Curve) Curve {
		out, rest := c.cut(at, to), c.cut(from, at)
		out.breaks = append(out.breaks[:len(out.breaks)-1], rest.breaks...)
		for i := range out.breaks {
			out.breaks[i] = move(out.breaks[i])
		}
		out.breaks[len(out.breaks)-1] = s + (to - from)
		out.poly = append(out.poly, rest.poly...)
		return out
	}
	out := Trace{x: begun(t.x), y: begun(t.y), closed: true}
	for _, c := range t.corners {
		out.corners = append(out.corners, move(c))
	}
	slices.Sort(out.corners)
	return out
}

// closing are the holds that join the end of a curve to its start: value, slope and bend, or at
// a corner the value alone.
func closing(end float64, corner bool) []hold {
	holds := []hold{{at: end, closes: true}}
	if !corner {
		holds = append(holds, hold{at: end, order: 1, closes: true}, hold{at: end, order: 2, closes: true})
	}
	return holds
}

func traceSpans(points int) int { return min(max(points/8, 8), mostTraceSpans) }

// traceBreaks spaces breaks evenly but for the corners, which stand on breaks of
// their own.
func traceBreaks(from, to float64, points int, corners []float64) []float64 {
	spans := traceSpans(points)
	step := (to - from) / float64(spans)
	out := slices.Clone(corners)
	for i, v := range evenly([]float64{from, to}, spans) {
		near := false
		for _, c := range corners {
			near = near || math.Abs(v-c) < step/2
		}
		if !near || i == 0 || i == spans {
			out = append(out, v)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// cut returns the part of the curve between two stations inside its range.
func (c Curve) cut(from, to float64) Curve {
	s0, s1 := spanOf(c.breaks, from), spanBefore(c.breaks, to)
	out := Curve{breaks: slices.Clone(c.breaks[s0 : s1+2]), poly: slices.Clone(c.poly[s0 : s1+1])}
	u := from - out.breaks[0]
	p := out.poly[0]
	out.poly[0] = cubic{p.at(u), p[1] + u*(2*p[2]+u*3*p[3]), p[2] + 3*u*p[3], p[3]}
	out.breaks[0], out.breaks[len(out.breaks)-1] = from, to
	return out
}

// spreadByMedian is the standard deviation that the median of the kept residuals
// means.
func spreadByMedian(r []float64, keep []int) float64 {
	abs := make([]float64, len(keep))
	for k, i := range keep {
		abs[k] = math.Abs(r[i])
	}
	slices.Sort(abs)
	return 1.482602218505602 * abs[len(abs)/2] // 1/Φ⁻¹(3/4)
}

// Range returns the distances along between which the trace is known, mm. Those of a closed
// trace are once round, from its first point, or from a corner that stands close by it.
func (t Trace) Range() (from, to float64) { return t.x.Range() }

// Closed reports whether the end joins the start.
func (t Trace) Closed() bool { return t.closed }

// Corners returns the distances along at which the direction may jump.
func (t Trace) Corners() []float64 { return slices.Clone(t.corners) }

// At returns the point at the distance s along, mm, and the derivative there,
// which is nearly of length 1. Outside the range both are NaN; a closed trace is
// known once more round to either side.
func (t Trace) At(s float64) (p, d r2.Vec) {
	s = t.round(s)
	return r2.Vec{X: t.x.At(s), Y: t.y.At(s)}, r2.Vec{X: t.x.Slope(s), Y: t.y.Slope(s)}
}

// Curvature returns the curvature at the distance s along, 1/mm, positive where
// the trace turns left.
func (t Trace) Curvature(s float64) float64 {
	s = t.round(s)
	_, d := t.At(s)
	n := r2.Norm(d)
	return (d.X*t.y.Bend(s) - d.Y*t.x.Bend(s)) / (n * n * n)
}

// round brings a distance along a closed trace, no more than once round off, into its range.
func (t Trace) round(s float64) float64 {
	from, to := t.Range()
	switch {
	case t.closed && s < from:
		return min(s+(to-from), to)
	case t.closed && s > to:
		return max(s-(to-from), from)
	}
	return s
}

// square returns each point's distance from the tangent at its place, positive on
// the left.
func (t Trace) square(along []float64, points []r2.Vec) []float64 {
	from, to := t.Range()
	out := make([]float64, len(points))
	for i, q := range points {
		p, d := t.At(min(max(t.round(along[i]), from), to))
		out[i] = r2.Cross(r2.Unit(d), r2.Sub(q, p))
	}
	return out
}
