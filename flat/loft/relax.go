package loft

import (
	"fmt"
	"math"
	"slices"
)

// narrow is the share of the widest tolerance of a table below which a reading is
// held where it is: a barrier that narrow among wide ones would eat the digits.
const narrow = 1e-3

// digits is what rounding may put a line off a reading, mm; no tolerance means less.
const digits = 1e-9

// A straight is a straight line through its middle.
type straight struct{ x, y, slope float64 }

func (s straight) at(x float64) float64 { return s.y + s.slope*(x-s.x) }

// leastSquares returns the straight line of least squares, each reading counting by its
// room. A reading that is held counts a million times as much as the widest, which puts the
// line on it to the last digits.
func leastSquares(x, y, room []float64) straight {
	least := max(1e-3*narrow*slices.Max(room), digits)
	var sw, sx, sy float64
	for i, r := range room {
		r = max(r, least)
		w := 1 / (r * r)
		sw, sx, sy = sw+w, sx+w*x[i], sy+w*y[i]
	}
	mx, my := sx/sw, sy/sw
	var sxx, sxy float64
	for i, r := range room {
		d, r := x[i]-mx, max(r, least)
		sxx, sxy = sxx+d*d/(r*r), sxy+d*(y[i]-my)/(r*r)
	}
	return straight{mx, my, sxy / sxx}
}

// straightWithin returns the straight line of least squares and whether it keeps within all
// rooms. Nothing bends less; of the many straight lines there may then be, it is the one
// nearest to the readings.
func straightWithin(x, y, room []float64) (Curve, bool) {
	if !(slices.Max(room) > 0) {
		return Curve{}, false
	}
	s := leastSquares(x, y, room)
	for i, r := range room {
		if !(math.Abs(y[i]-s.at(x[i])) <= r+digits) {
			return Curve{}, false
		}
	}
	from, to := x[0], x[len(x)-1]
	line, err := StraightLine(from, s.at(from), to, s.at(to))
	return line, err == nil
}

// relax lets the line go between the stops y ± room until it bends least: the
// convex problem
//
//	minimise c'Kc/2  with  |Bc - y| <= room
//
// by the primal-dual interior point method with S. Mehrotra's choice of the centre
// ("On the Implementation of a Primal-Dual Interior Point Method", SIAM J. Optim. 2
// (1992), from memory). Each step is a smoothing spline with other weights, so it
// costs no more than one. c must lie on or between the stops.
func (p *problem) relax(c, x, y, room []float64) ([]float64, error) {
	widest := slices.Max(room)
	if !(widest > 0) {
		return c, nil
	}
	w := press{p: p, c: slices.Clone(c), stiff: p.k.trace() / float64(len(p.k))}
	for _, h := range p.holds { // what a step must not move
		w.fixed = append(w.fixed, hold{at: h.at, order: h.order})
	}
	for i := range x {
		at, r := p.basis.row(x[i], 0)
		s := stop{at: at, r: r, low: y[i] - room[i], high: y[i] + room[i]}
		if room[i] <= max(narrow*widest, digits) {
			w.exact = append(w.exact, s)
			w.fixed = append(w.fixed, hold{at: x[i]})
			continue
		}
		if g := s.value(c); !(g > s.low && g < s.high) {
			return nil, &Error{fmt.Sprintf("station at %s", mm(x[i])), mm(g - y[i]), "a hold keeps the line off this reading by more than its tolerance: mend the one or the other"}
		}
		w.stops = append(w.stops, s)
	}
	w.start()
	first := p.k.form(c) / 2
	for range mostPressSteps {
		energy := p.k.form(w.c) / 2
		if gap := w.gap(); gap <= pressEnd*energy || gap <= nothingLeft*first {
			return w.c, nil
		}
		if !w.step() {
			break
		}
	}
	// The last digits are used up. Of a line that is straight, or straight between its knuckles, nothing but
	// their rounding is left.
	if w.gap() <= max(goodEnough*p.k.form(w.c)/2, p.k.rounding(w.c)) {
		return w.c, nil
	}
	return nil, &Error{"readings", "", "the line cannot be relaxed: are neighbouring stations, or tolerances, of very different size?"}
}

const (
	mostPressSteps = 100
	pressEnd       = 1e-7  // bending energy still to be had, as a share of it
	goodEnough     = 1e-3  // the same where the last digits are used up before
	nothingLeft    = 1e-12 // where a straight line fits: the same, as a share of what was
)

// A stop is the pair of pins at one reading, and the forces with which they press
// on the line: up by the lower, down by the upper.
type stop struct {
	at        int
	r         [4]float64
	low, high float64
	up, down  float64
}

func (s stop) value(c []float64) float64 {
	var g float64
	for k, r := range s.r {
		g += r * c[s.at+k]
	}
	return g
}

// weigh adds q times the reading's square to the matrix.
func (s stop) weigh(h band, q float64) {
	for i := range 4 {
		for j := i; j < 4; j++ {
			h[s.at+i][j-i] += q * s.r[i] * s.r[j]
		}
	}
}

// pull adds q times the reading's row to the vector.
func (s stop) pull(v []float64, q float64) {
	for k, r := range s.r {
		v[s.at+k] += q * r
	}
}

// A press is the state of relax.
type press struct {
	p     *problem
	c     []float64
	stops []stop
	exact []stop
	fixed []hold
	// stiff is a weight put on the exact readings. A step does not move them, so it
	// changes nothing but that the matrix cannot be singular.
	stiff float64
}

// start lets every pin press with the force that the line through the readings puts
// on the hardest pressed one.
func (w *press) start() {
	var most float64
	curve := w.p.basis.curve(w.c)
	for s := 1; s < len(curve.poly); s++ {
		most = max(most, 6*math.Abs(curve.poly[s][3]-curve.poly[s-1][3]))
	}
	for i := range w.stops {
		w.stops[i].up, w.stops[i].down = most, most
	}
}

// gap bounds the bending energy still to be had once the forces balance.
func (w *press) gap() (sum float64) {
	for _, s := range w.stops {
		g := s.value(w.c)
		sum += s.up*(g-s.low) + s.down*(s.high-g)
	}
	return sum
}

// step takes one step toward the balance of forces with less gap; false when the
// last digits do not allow one.
func (w *press) step() bool {
	h := w.p.k.plus(0, w.p.k)
	for _, s := range w.stops {
		g := s.value(w.c)
		s.weigh(h, s.up/(g-s.low)+s.down/(s.high-g))
	}
	for _, s := range w.exact {
		s.weigh(h, w.stiff)
	}
	if !h.factor() {
		return false
	}
	mu := w.gap() / float64(2*len(w.stops))
	// How far would a step without any centring get?
	probe, ok := w.direction(h, 0, nil)
	if !ok {
		return false
	}
	reach := w.reach(probe)
	probe.open = min(1, reach)
	centre := math.Pow(w.gapAfter(probe, reach)/(mu*float64(2*len(w.stops))), 3)
	dir, ok := w.direction(h, centre*mu, probe)
	if !ok {
		return false
	}
	size := min(1, 0.995*w.reach(dir))
	if !(size > 1e-8) {
		return false
	}
	for i := range w.c {
		w.c[i] += size * dir.c[i]
	}
	for i := range w.stops {
		s := &w.stops[i]
		s.up += size * dir.up[i]
		s.down += size * dir.down[i]
		if g := s.value(w.c); !(g > s.low && g < s.high && s.up > 0 && s.down > 0) {
			return false
		}
	}
	return true
}

// A direction is a change of the line, of its values at the stops and of the forces.
type direction struct {
	c, g, up, down []float64
	open           float64 // of a probe: how much of it can be gone, at most 1
}

// bend is what force·room at stop i, from below and from above, gains beyond what its slope says, over
// the part of the probe that can be gone; nothing without a probe. The bend of the whole of a probe that is soon
// stopped sends some tables round and round among the same four lines (C. Cartis, "Some
// disadvantages of a Mehrotra-type primal-dual corrector interior point algorithm for linear
// programming", Appl. Numer. Math. 59 (2009), from memory).
func (d *direction) bend(i int) (low, high float64) {
	if d == nil {
		return 0, 0
	}
	part := d.open * d.open
	return part * d.g[i] * d.up[i], -part * d.g[i] * d.down[i]
}

// direction solves for the step at which each force times its room would be mu,
// corrected by what the probe, if there is one, says the bend of that condition is.
func (w *press) direction(h band, mu float64, probe *direction) (*direction, bool) {
	n := len(w.stops)
	rhs := w.p.k.times(w.c)
	for i := range rhs {
		rhs[i] = -rhs[i]
	}
	want := func(i int) (low, high float64) { // wanted force·room less the bend
		low, high = probe.bend(i)
		return mu - low, mu - high
	}
	for i, s := range w.stops {
		g := s.value(w.c)
		low, high := want(i)
		s.pull(rhs, low/(g-s.low)-high/(s.high-g))
	}
	h.solve(rhs)
	if len(w.fixed) > 0 {
		sol := solution{c: rhs, factor: h}
		if !sol.obey(w.p.basis, w.fixed, nil) {
			return nil, false
		}
	}
	d := &direction{c: rhs, g: make([]float64, n), up: make([]float64, n), down: make([]float64, n)}
	for i, s := range w.stops {
		g := s.value(w.c)
		low, high := want(i)
		d.g[i] = s.value(rhs)
		d.up[i] = (low-s.up*d.g[i])/(g-s.low) - s.up
		d.down[i] = (high+s.down*d.g[i])/(s.high-g) - s.down
		if !finite(d.g[i]) || !finite(d.up[i]) || !finite(d.down[i]) {
			return nil, false
		}
	}
	return d, true
}

// reach is how many times the direction can be gone before the line meets a pin or
// a force turns to pulling, at most 1e3.
func (w *press) reach(d *direction) float64 {
	far := 1e3
	until := func(have, change float64) {
		if change < 0 {
			far = min(far, -have/change)
		}
	}
	for i, s := range w.stops {
		g := s.value(w.c)
		until(g-s.low, d.g[i])
		until(s.high-g, -d.g[i])
		until(s.up, d.up[i])
		until(s.down, d.down[i])
	}
	return far
}

// gapAfter is the gap after a step of the given size, at most a whole one.
func (w *press) gapAfter(d *direction, size float64) (sum float64) {
	size = min(1, size)
	for i, s := range w.stops {
		g := s.value(w.c) + size*d.g[i]
		sum += (s.up+size*d.up[i])*(g-s.low) + (s.down+size*d.down[i])*(s.high-g)
	}
	return sum
}
