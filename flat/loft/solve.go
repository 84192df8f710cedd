package loft

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// A hold fixes the value (order 0), slope (1) or bend (2) of the curve at a station; one that
// closes, by how much it is more there than at the first break.
type hold struct {
	at     float64
	order  int
	value  float64
	closes bool
}

// A pull is the part of a hold's row that four neighbouring B-splines have.
type pull struct {
	first int
	r     [4]float64
}

// pulls are the row of a hold. One that closes is told for a span of the first one's length, so
// that value, slope and bend weigh alike where all three are held.
func (b basis) pulls(h hold) []pull {
	first, r := b.row(h.at, h.order)
	if !h.closes {
		return []pull{{first, r}}
	}
	start, less := b.row(b.breaks[0], h.order)
	unit := math.Pow(b.width(0), float64(h.order))
	for k := range r {
		r[k], less[k] = unit*r[k], -unit*less[k]
	}
	return []pull{{first, r}, {start, less}}
}

// sum is what the row of a hold makes of coefficients.
func sum(row []pull, c []float64) (v float64) {
	for _, p := range row {
		for k := range p.r {
			v += p.r[k] * c[p.first+k]
		}
	}
	return v
}

// A problem is the least-squares part and the bending of one fit: minimise
// (z - Bc)'W(z - Bc) + λ·(c + base)'K(c + base) under the holds on c + base. base
// is a first answer already taken out of the data z, so that the remainder keeps
// its digits.
type problem struct {
	basis basis
	a, k  band
	rhs   []float64
	zz    float64
	base  []float64 // nil is 0
	holds []hold
}

// solution is the answer for one λ.
type solution struct {
	c      []float64 // of the remainder
	factor band      // of A + λK
	cons   [][]float64
	schur  *mat.LU
}

// at solves the problem for one λ; ok is false when the data do not fix the curve.
func (p *problem) at(lambda float64) (s solution, ok bool) {
	s.factor = p.a.plus(lambda, p.k)
	if !s.factor.factor() {
		return s, false
	}
	c := append([]float64(nil), p.rhs...)
	if p.base != nil {
		for i, v := range p.k.times(p.base) {
			c[i] -= lambda * v
		}
	}
	s.factor.solve(c)
	s.c = c
	if len(p.holds) == 0 {
		return s, true
	}
	return s, s.obey(p.basis, p.holds, p.base)
}

// obey moves the answer onto the holds, the shortest way in the metric of the fit
// (Lagrange multipliers).
func (s *solution) obey(b basis, holds []hold, base []float64) bool {
	m := len(holds)
	miss := mat.NewVecDense(m, nil)
	schur := mat.NewDense(m, m, nil)
	s.cons = make([][]float64, m)
	rows := make([][]pull, m)
	for i, h := range holds {
		rows[i] = b.pulls(h)
		col := make([]float64, len(s.c))
		for _, p := range rows[i] {
			for k := range p.r {
				col[p.first+k] += p.r[k]
			}
		}
		v := h.value - sum(rows[i], s.c)
		if base != nil {
			v -= sum(rows[i], base)
		}
		miss.SetVec(i, v)
		s.factor.solve(col)
		s.cons[i] = col
	}
	for i, row := range rows {
		for j := range holds {
			schur.Set(i, j, sum(row, s.cons[j]))
		}
	}
	var lu mat.LU
	lu.Factorize(schur)
	var mult mat.VecDense
	// Two holds that say the same make the matrix singular; Cond then reports it.
	if lu.Cond() > 1/1e-14 || lu.SolveVecTo(&mult, false, miss) != nil {
		return false
	}
	s.schur = &lu
	for j := range holds {
		v := mult.AtVec(j)
		for i := range s.c {
			s.c[i] += v * s.cons[j][i]
		}
	}
	return true
}

// hat returns the inverse of A + λK under the holds, inside the band: the matrix
// that says how far one reading pulls the curve.
func (s *solution) hat() band {
	inv := s.factor.inverseBand()
	if len(s.cons) == 0 {
		return inv
	}
	// Less U·S⁻¹·U', U the columns of the holds.
	m := len(s.cons)
	for i := range inv {
		u := mat.NewVecDense(m, nil)
		for j := range s.cons {
			u.SetVec(j, s.cons[j][i])
		}
		var v mat.VecDense
		if s.schur.SolveVecTo(&v, false, u) != nil {
			return inv
		}
		for k := 0; k < 4 && i+k < len(inv); k++ {
			for j := range s.cons {
				inv[i][k] -= v.AtVec(j) * s.cons[j][i+k]
			}
		}
	}
	return inv
}

// squares is the weighted sum of squared residuals.
func (p *problem) squares(s solution) float64 {
	v := p.zz + p.a.form(s.c)
	for i, c := range s.c {
		v -= 2 * c * p.rhs[i]
	}
	return max(v, 0)
}

// freedom is the number of readings' worth of freedom the fit has used: the trace
// of the matrix that takes readings to curve. A straight line uses 2.
func (p *problem) freedom(s solution) float64 { return s.hat().inner(p.a) }

// whole returns the coefficients with the first answer put back.
func (p *problem) whole(s solution) []float64 {
	out := append([]float64(nil), s.c...)
	for i := range p.base {
		out[i] += p.base[i]
	}
	return out
}

// scale is the λ at which data and bending weigh alike in the matrix; λ is searched
// in decades about it.
func (p *problem) scale() float64 {
	t := p.k.trace()
	if !(t > 0) {
		return 1
	}
	return p.a.trace() / t
}

// A system is one or more problems over the same stations and weights that share
// one λ: the two coordinates of a plane curve.
type system []problem

// gcv is the generalised cross-validation score of λ for n readings: how badly a
// reading left out would be foretold. (P. Craven and G. Wahba, "Smoothing noisy
// data with spline functions", Numer. Math. 31 (1979), from memory.)
func (sys system) gcv(lambda float64, n int) (score float64) {
	var squares, freedom float64
	for i := range sys {
		s, ok := sys[i].at(lambda)
		if !ok {
			return math.Inf(1)
		}
		if squares += sys[i].squares(s); i == 0 {
			freedom = sys[i].freedom(s) // the same for all
		}
	}
	left := float64(n) - freedom
	if !(left > 0.01*float64(n)/float64(n+1)) {
		return math.Inf(1)
	}
	return float64(n) * squares / (left * left)
}

// Range and fineness of the search for λ, in decades about scale. Past the upper
// end the curve is a straight line to the last digit kept; below the lower end it
// goes through every reading.
const (
	leastDecade = -8.0
	mostDecade  = 12.0
	decadeStep  = 0.5
)

// balance returns the λ of least score, and the score. The score can have two
// hollows, so the whole range is looked at before the lowest is narrowed down by
// golden section.
func (sys system) balance(n int) (lambda, score float64) {
	unit := sys[0].scale()
	at := func(d float64) float64 { return sys.gcv(unit*math.Pow(10, d), n) }
	best, lowest := math.Inf(1), leastDecade
	for d := leastDecade; d <= mostDecade; d += decadeStep {
		if v := at(d); v < best {
			best, lowest = v, d
		}
	}
	lowest = golden(at, lowest-decadeStep, lowest+decadeStep, 16)
	return unit * math.Pow(10, lowest), at(lowest)
}

// golden narrows the least value of f between a and b.
func golden(f func(float64) float64, a, b float64, steps int) float64 {
	const g = 0.6180339887498949
	c, d := b-g*(b-a), a+g*(b-a)
	fc, fd := f(c), f(d)
	for range steps {
		if fc < fd {
			b, d, fd = d, c, fc
			c = b - g*(b-a)
			fc = f(c)
		} else {
			a, c, fc = c, d, fd
			d = a + g*(b-a)
			fd = f(d)
		}
	}
	return (a + b) / 2
}
