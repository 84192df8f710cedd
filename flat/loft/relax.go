package loft

import (
	"fmt"
	"math"
)

// leastRoom is the half width, mm, that a reading without tolerance is given: a
// nanometre, so that there is an inside to stay in.
const leastRoom = 1e-6

// relax lets the line go between the stops y ± room until it bends least: the
// convex problem
//
//	minimise c'Kc  with  |Bc - y| <= room
//
// by the logarithmic barrier. Each Newton step is a smoothing spline with other
// weights, so it costs no more than one. c must lie between the stops.
func (p *problem) relax(c, x, y, room []float64) ([]float64, error) {
	rows := make([]stop, len(x))
	for i := range x {
		at, r := p.basis.row(x[i], 0)
		h := max(room[i], leastRoom)
		rows[i] = stop{at, r, y[i] - h, y[i] + h}
		if g := rows[i].value(c); !(g > rows[i].low && g < rows[i].high) {
			return nil, &Error{fmt.Sprintf("station at %s", mm(x[i])), mm(g - y[i]), "a hold keeps the line off this reading by more than its tolerance: mend the one or the other"}
		}
	}
	energy := p.k.form(c) / 2
	mu := energy / float64(len(x))
	for last := mu * leastBarrier; mu > last && 2*mu*float64(len(x)) > barrierEnd*energy; mu *= barrierFall {
		for range mostNewton {
			short, ok := p.newton(c, rows, mu)
			if !ok {
				return c, nil // the last digits are used up; the line so far is inside
			}
			if short < newtonEnd {
				break
			}
		}
		energy = p.k.form(c) / 2
	}
	return c, nil
}

const (
	barrierFall  = 0.2
	barrierEnd   = 1e-7  // bending energy still to be had, as a share of it
	leastBarrier = 1e-13 // where a straight line fits and there is no energy left
	newtonEnd    = 1e-4
	mostNewton   = 40
)

// A stop is the pair of pins at one reading.
type stop struct {
	at        int
	r         [4]float64
	low, high float64
}

func (s stop) value(c []float64) float64 {
	var g float64
	for k, r := range s.r {
		g += r * c[s.at+k]
	}
	return g
}

// newton takes one damped step toward the least of c'Kc/2 - μ·Σlog(room left) and
// returns how far from it the line still was. The damping 1/(1+δ) keeps a
// self-concordant barrier's step inside (Y. Nesterov, "Introductory Lectures on
// Convex Optimization", from memory).
func (p *problem) newton(c []float64, stops []stop, mu float64) (short float64, ok bool) {
	h := p.k.plus(0, p.k)
	grad := p.k.times(c)
	for _, s := range stops {
		g := s.value(c)
		l, u := 1/(g-s.low), 1/(s.high-g)
		d, q := mu*(u-l), mu*(l*l+u*u)
		for i := range 4 {
			grad[s.at+i] += d * s.r[i]
			for j := i; j < 4; j++ {
				h[s.at+i][j-i] += q * s.r[i] * s.r[j]
			}
		}
	}
	if !h.factor() {
		return 0, false
	}
	step := make([]float64, len(c))
	for i := range step {
		step[i] = -grad[i]
	}
	h.solve(step)
	sol := solution{c: step, factor: h}
	if len(p.holds) > 0 {
		still := make([]hold, len(p.holds)) // the step must not move what is held
		for i, v := range p.holds {
			still[i] = hold{v.at, v.order, 0}
		}
		if !sol.obey(p.basis, still, nil) {
			return 0, false
		}
	}
	var fall float64
	for i := range step {
		fall -= grad[i] * step[i]
	}
	if !(fall >= 0) {
		return 0, false
	}
	short = math.Sqrt(fall / mu)
	size := 1 / (1 + short)
	if short < 0.25 {
		size = 1
	}
	for range 60 {
		if inside(c, step, size, stops) {
			for i := range c {
				c[i] += size * step[i]
			}
			return short, true
		}
		size /= 2
	}
	return short, false
}

func inside(c, step []float64, size float64, stops []stop) bool {
	for _, s := range stops {
		g := s.value(c) + size*s.value(step)
		if !(g > s.low && g < s.high) {
			return false
		}
	}
	return true
}
