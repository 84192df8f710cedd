package loft

import (
	"fmt"
	"math"
	"slices"
)

// A Curve is a fair line over a base line: a chain of cubics, each running into
// the next with the same slope and curvature (but for a knuckle). Offsets are mm
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

// Inflections returns the stations at which the curve turns from hollow to round
// or back, in order.
func (c Curve) Inflections() []float64 {
	var most float64
	for s, p := range c.poly {
		most = max(most, math.Abs(2*p[2]), math.Abs(2*p[2]+6*p[3]*(c.breaks[s+1]-c.breaks[s])))
	}
	limit := minInflection * most
	var out []float64
	sign, zero := 0.0, 0.0 // last bend that counted, and where it went through zero since
	visit := func(x, bend float64) {
		if math.Abs(bend) <= limit {
			return
		}
		if sign*bend < 0 {
			out = append(out, zero)
		}
		sign, zero = bend, x
	}
	for s, p := range c.poly {
		h := c.breaks[s+1] - c.breaks[s]
		d0, d1 := 2*p[2], 2*p[2]+6*p[3]*h
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

// samples are stations close enough that the curvature is a line between them.
func (c Curve) samples() []float64 {
	out := make([]float64, 0, len(c.poly)*scanSteps+1)
	for s := range c.poly {
		h := c.breaks[s+1] - c.breaks[s]
		for k := range scanSteps {
			out = append(out, c.breaks[s]+h*float64(k)/scanSteps)
		}
	}
	if len(c.poly) > 0 {
		out = append(out, c.breaks[len(c.breaks)-1])
	}
	return out
}

// LongestFlat returns the longest stretch on which the curvature stays within
// ±limit (1/mm): where a splice plate or a joint in a batten lies flattest. ok is
// false when there is none. A limit that is negative or not a number gives none.
func (c Curve) LongestFlat(limit float64) (span Span, ok bool) {
	if !(limit >= 0) {
		return Span{}, false
	}
	xs := c.samples()
	start, open := 0.0, false
	end := func(to float64) {
		if open && to-start > span.Length() {
			span, ok = Span{start, to}, true
		}
		open = false
	}
	for i, x := range xs {
		k := math.Abs(c.Curvature(x))
		if k <= limit {
			if !open {
				start, open = x, true
				if i > 0 {
					start = crossing(xs[i-1], x, math.Abs(c.Curvature(xs[i-1])), k, limit)
				}
			}
			continue
		}
		if open {
			end(crossing(xs[i-1], x, math.Abs(c.Curvature(xs[i-1])), k, limit))
		}
	}
	if len(xs) > 0 {
		end(xs[len(xs)-1])
	}
	return span, ok
}

func crossing(x0, x1, k0, k1, limit float64) float64 {
	if k0 == k1 {
		return x1
	}
	return x0 + (x1-x0)*(limit-k0)/(k1-k0)
}

// Flattest returns the stretch of the given length (mm along the base line) inside a
// span whose greatest curvature is least, and that curvature, 1/mm: where to join
// an angle or a batten. The zero span is the whole line; leave out its ends where
// they run out straight for want of readings. A span off the line, or a length that
// is not above 0 or longer than the span, is an [*Error].
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
	// Every station that begins a window, and every one that ends one.
	xs := []float64{from, to, from + length, to - length}
	for _, x := range c.samples() {
		for _, v := range [3]float64{x, x - length, x + length} {
			if v > from && v < to {
				xs = append(xs, v)
			}
		}
	}
	slices.Sort(xs)
	xs = slices.Compact(xs)
	ks := make([]float64, len(xs))
	for i, x := range xs {
		ks[i] = math.Abs(c.Curvature(x))
	}
	curvature = math.Inf(1)
	var falling []int // window's stations whose curvature no later one reaches
	head, last := 0, 0
	slack := 1e-9 * length
	for i, x := range xs {
		if x+length > to+slack {
			break
		}
		for ; last < len(xs) && xs[last] <= x+length+slack; last++ {
			for len(falling) > head && ks[falling[len(falling)-1]] <= ks[last] {
				falling = falling[:len(falling)-1]
			}
			falling = append(falling, last)
		}
		for falling[head] < i {
			head++
		}
		if worst := ks[falling[head]]; worst < curvature {
			span, curvature = Span{x, min(x+length, to)}, worst
		}
	}
	return span, curvature, nil
}
