package loft

import (
	"fmt"
	"math"
	"slices"
)

// A Curve is a fair line over a base line: a chain of cubics, each running into
// the next with the same slope and curvature, but for a knuckle, where both may jump, and the end of a straight
// stretch, where the curvature may. Offsets are mm
// from the base line, stations mm along it. The zero value is empty: it has no
// range and every value is NaN.
type Curve struct {
	breaks []float64
	poly   []cubic // of mm from the break where each starts
}

// Range returns the stations between which the curve is known. A fair line says
// nothing of what lies beyond its readings.
func (c Curve) Range() (from, to float64) {
	if len(c.poly) == 0 {
		return math.NaN(), math.NaN()
	}
	return c.breaks[0], c.breaks[len(c.breaks)-1]
}

// Breaks returns the stations at which one cubic ends and the next begins.
func (c Curve) Breaks() []float64 { return append([]float64(nil), c.breaks...) }

// rangeSlack admits a station that rounding has carried past an end, as a share of
// the length.
const rangeSlack = 1e-12

// span finds the cubic at x and the place on it; ok is false outside the range.
func (c Curve) span(x float64) (s int, u float64, ok bool) {
	if len(c.poly) == 0 {
		return 0, 0, false
	}
	from, to := c.Range()
	slack := rangeSlack * (to - from)
	if !within(x, from-slack, to+slack) {
		return 0, 0, false
	}
	s = spanOf(c.breaks, x)
	return s, x - c.breaks[s], true
}

// At returns the offset at station x, mm; NaN outside the range. See
// [Curve.Offsets] for an error that names the station.
func (c Curve) At(x float64) float64 {
	s, u, ok := c.span(x)
	if !ok {
		return math.NaN()
	}
	return c.poly[s].at(u)
}

// cubicFrom is the cubic that runs on from station x, which must lie on the curve,
// told from there.
func (c Curve) cubicFrom(x float64) cubic {
	s := spanOf(c.breaks, x)
	p, u := c.poly[s], x-c.breaks[s]
	return cubic{p.at(u), p[1] + u*(2*p[2]+u*3*p[3]), p[2] + 3*u*p[3], p[3]}
}

// Slope returns the rise per length at station x; NaN outside the range.
func (c Curve) Slope(x float64) float64 {
	s, u, ok := c.span(x)
	if !ok {
		return math.NaN()
	}
	p := c.poly[s]
	return p[1] + u*(2*p[2]+u*3*p[3])
}

// Bend returns the second derivative at station x, 1/mm; NaN outside the range.
func (c Curve) Bend(x float64) float64 {
	s, u, ok := c.span(x)
	if !ok {
		return math.NaN()
	}
	return 2*c.poly[s][2] + u*6*c.poly[s][3]
}

// Curvature returns the curvature at station x, 1/mm, positive where the line is
// hollow toward growing offsets; NaN outside the range. Its inverse is the radius.
func (c Curve) Curvature(x float64) float64 {
	m := c.Slope(x)
	q := 1 + m*m
	return c.Bend(x) / (q * math.Sqrt(q))
}

// Offsets returns the offset at each station, mm. A station outside the range is
// an [*Error] that names it: a fair line is not carried on past its readings.
func (c Curve) Offsets(stations []float64) ([]float64, error) {
	var f faults
	out := make([]float64, len(stations))
	from, to := c.Range()
	for i, x := range stations {
		if out[i] = c.At(x); math.IsNaN(out[i]) {
			f.add(fmt.Sprintf("station %d", i), mm(x), fmt.Sprintf("must lie on the line, between %s and %s", mm(from), mm(to)))
		}
	}
	if err := f.err(); err != nil {
		return nil, err
	}
	return out, nil
}

// Girth returns the length measured along the curve between two stations, mm; NaN
// when either lies outside the range.
func (c Curve) Girth(from, to float64) float64 {
	if from > to {
		return c.Girth(to, from)
	}
	s0, _, ok0 := c.span(from)
	s1, _, ok1 := c.span(to)
	if !ok0 || !ok1 {
		return math.NaN()
	}
	var sum float64
	for s := s0; s <= s1; s++ {
		a, b := max(from, c.breaks[s]), min(to, c.breaks[s+1])
		if s == s0 {
			a = from
		}
		if s == s1 {
			b = to
		}
		sum += c.poly[s].girth(a-c.breaks[s], b-c.breaks[s])
	}
	return sum
}

// girth integrates √(1+f'²) by five-point Gauss over eight parts: for any span a
// batten could follow the error is below 1e-12 of the length.
func (p cubic) girth(a, b float64) float64 {
	const parts = 8
	nodes := [5]float64{0, 0.5384693101056831, -0.5384693101056831, 0.9061798459386640, -0.9061798459386640}
	weights := [5]float64{0.5688888888888889, 0.4786286704993665, 0.4786286704993665, 0.2369268850561891, 0.2369268850561891}
	var sum float64
	h := (b - a) / parts / 2
	for k := range parts {
		mid := a + h*float64(2*k+1)
		for i, t := range nodes {
			u := mid + h*t
			m := p[1] + u*(2*p[2]+u*3*p[3])
			sum += weights[i] * math.Sqrt(1+m*m)
		}
	}
	return sum * h
}

// Energy returns ∫f”² over the whole curve, 1/mm: what a batten would hold. Less
// is fairer.
func (c Curve) Energy() float64 {
	var sum float64
	for s, p := range c.poly {
		h := c.breaks[s+1] - c.breaks[s]
		d0, d1 := 2*p[2], 2*p[2]+6*p[3]*h
		sum += h / 3 * (d0*d0 + d0*d1 + d1*d1)
	}
	return sum
}

// minInflection is the bend, as a share of the largest on the curve, that a change
// of sign must reach on both sides to count: a straight part has none, whatever
// the last digits say.
const minInflection = 1e-6

// lastDigits is the share of the offsets that what is worked out from them may be off. A bend that
// lifts the line by no more over a span is none.
const lastDigits = 1e-9

// Inflections returns the stations at which the curve turns from hollow to round
// or back, in order.
func (c Curve) Inflections() []float64 {
	var most, size float64
	for s, p := range c.poly {
		h := c.breaks[s+1] - c.breaks[s]
		most = max(most, math.Abs(2*p[2]), math.Abs(2*p[2]+6*p[3]*h))
		size = max(size, math.Abs(p[0]), math.Abs(p.at(h)))
	}
	var out []float64
	sign, zero := 0.0, 0.0 // last bend that counted, and where it went through zero since
	for s, p := range c.poly {
		h := c.breaks[s+1] - c.breaks[s]
		d0, d1 := 2*p[2], 2*p[2]+6*p[3]*h
		limit := max(minInflection*most, lastDigits*size/(h*h))
		visit := func(x, bend float64) {
			if math.Abs(bend) <= limit {
				return
			}
			if sign*bend < 0 {
				out = append(out, zero)
			}
			sign, zero = bend, x
		}
		visit(c.breaks[s], d0)
		if d0*d1 < 0 {
			zero = c.breaks[s] + h*d0/(d0-d1)
		}
		visit(c.breaks[s+1], d1)
	}
	return out
}

// A Span is a stretch of the base line, mm.
type Span struct{ From, To float64 }

// Length returns To - From.
func (s Span) Length() float64 { return s.To - s.From }

// scanSteps is how finely a stretch of one cubic is searched.
const scanSteps = 16

// samples are stations close enough that the curvature is a line between them; where it jumps they are two, the
// last before and the first behind.
func (c Curve) samples() []float64 {
	out := make([]float64, 0, len(c.poly)*scanSteps+1)
	for s := range c.poly {
		h := c.breaks[s+1] - c.breaks[s]
		if s > 0 {
			before := math.Nextafter(c.breaks[s], math.Inf(-1))
			if k0, k1 := c.Curvature(before), c.Curvature(c.breaks[s]); math.Abs(k1-k0) > 1e-6*max(math.Abs(k0), math.Abs(k1)) {
				out = append(out, before)
			}
		}
		for k := range scanSteps {
			out = append(out, c.breaks[s]+h*float64(k)/scanSteps)
		}
	}
	if len(c.poly) > 0 {
		out = append(out, c.breaks[len(c.breaks)-1])
	}
	return out
}

// sag is how far the line leaves its chord over a stretch of it, mm along the offset.
func (c Curve) sag(s Span) (most float64) {
	y0, y1 := c.At(s.From), c.At(s.To)
	for _, x := range c.samples() {
		if s.From < x && x < s.To {
			most = max(most, math.Abs(c.At(x)-y0-(y1-y0)*(x-s.From)/s.Length()))
		}
	}
	return most
}

// LongestFlat returns the longest stretch without a knuckle on which the curvature stays within
// ±limit (1/mm): where a splice plate or a joint in a batten lies flattest. ok is
// false when there is none. A limit that is negative or not a number gives none.
func (c Curve) LongestFlat(limit float64) (span Span, ok bool) {
	if !(limit >= 0) {
		return Span{}, false
	}
	ends := c.smoothEnds()
	start, open := 0.0, false
	end := func(to float64) {
		if open && to-start > span.Length() {
			span, ok = Span{start, to}, true
		}
		open = false
	}
	before, k0 := math.NaN(), math.NaN()
	for _, x := range c.samples() {
		k := c.Curvature(x)
		switch flat := math.Abs(k) <= limit; {
		case flat && !open:
			start, open = x, true
			if math.Abs(k0) > limit {
				start = crossing(before, x, k0, k, math.Copysign(limit, k0))
			}
		case !flat:
			end(crossing(before, x, k0, k, math.Copysign(limit, k)))
		}
		if slices.Contains(ends, x) && open {
			end(x)
			start, open = x, math.Abs(k) <= limit
		}
		before, k0 = x, k
	}
	return span, ok
}

// crossing is where a curvature that runs straight from k0 at x0 to k1 at x1 is k.
func crossing(x0, x1, k0, k1, k float64) float64 { return x0 + (x1-x0)*(k-k0)/(k1-k0) }

// Flattest returns the stretch of the given length (mm along the base line) inside a
// span whose greatest curvature is least, and that curvature, 1/mm: where to join
// an angle or a batten. No knuckle lies inside it. The zero span is the whole line; leave out its
// ends where they run out straight for want of readings. A span off the line, or a length that
// is not above 0 or longer than the span or than any smooth part of it, is an [*Error].
func (c Curve) Flattest(in Span, length float64) (span Span, curvature float64, err error) {
	from, to := c.Range()
	if in != (Span{}) {
		if !(from <= in.From && in.From < in.To && in.To <= to) {
			return Span{}, 0, &Error{"joint span", mm(in.From) + " to " + mm(in.To), "must run forward and lie on the line, " + mm(from) + " to " + mm(to)}
		}
		from, to = in.From, in.To
	}
	if !(length > 0 && length <= to-from) {
		return Span{}, 0, &Error{"joint length", mm(length), "must be above 0 and no longer than the span, " + mm(to-from)}
	}
	curvature = math.Inf(1)
	ends := c.smoothEnds()
	for i := range len(ends) - 1 {
		part := Span{max(from, ends[i]), min(to, ends[i+1])}
		if !(length <= part.Length()) {
			continue
		}
		if s, k := c.flattest(part, length); k < curvature {
			span, curvature = s, k
		}
	}
	if math.IsInf(curvature, 1) {
		return Span{}, 0, &Error{"joint length", mm(length), "must be no longer than the line is smooth: there are knuckles"}
	}
	return span, curvature, nil
}

// flattest is Flattest on a stretch without knuckles.
func (c Curve) flattest(in Span, length float64) (span Span, curvature float64) {
	xs := []float64{in.From}
	for _, x := range c.samples() {
		if in.From < x && x < in.To {
			xs = append(xs, x)
		}
	}
	xs = append(xs, in.To)
	ks := make([]float64, len(xs))
	for i, x := range xs {
		ks[i] = math.Abs(c.Curvature(x))
	}
	curvature = math.Inf(1)
	var falling []int // stations so far of the stretch whose curvature no later one reaches
	head, next := 0, 0
	for _, x := range c.joints(xs, length) {
		end := min(x+length, in.To)
		for ; next < len(xs) && xs[next] <= end; next++ {
			for len(falling) > head && ks[falling[len(falling)-1]] <= ks[next] {
				falling = falling[:len(falling)-1]
			}
			falling = append(falling, next)
		}
		for head < len(falling) && xs[falling[head]] < x {
			head++
		}
		worst := max(math.Abs(c.Curvature(x)), math.Abs(c.Curvature(end)))
		if head < len(falling) {
			worst = max(worst, ks[falling[head]])
		}
		if worst < curvature {
			span, curvature = Span{x, end}, worst
		}
	}
	return span, curvature
}

// joints are the stations, in order, at which a stretch of the given length can begin whose
// greatest curvature is least, the curvature being a line between each two xs: where it begins or
// ends at one of these, and between two such places where it bends as much at one end as
// at the other.
func (c Curve) joints(xs []float64, length float64) []float64 {
	from, to := xs[0], xs[len(xs)-1]
	last := to - length
	out := []float64{from, last}
	for _, x := range xs {
		for _, v := range [2]float64{x, x - length} {
			if from < v && v < last {
				out = append(out, v)
			}
		}
	}
	slices.Sort(out)
	out = slices.Compact(out)
	for i, b := range out[1:] {
		a := out[i]
		a0, a1 := c.Curvature(a), c.Curvature(a+length)
		b0, b1 := c.Curvature(b), c.Curvature(min(b+length, to))
		for _, d := range [2][2]float64{{a0 - a1, b0 - b1}, {a0 + a1, b0 + b1}} {
			if d[0]*d[1] < 0 {
				out = append(out, crossing(a, b, d[0], d[1], 0))
			}
		}
	}
	slices.Sort(out)
	return out
}
