package loft

import "math"

// moments are what the data of one span leave behind: sums of w·u^k, of w·z·u^k
// and of w·z², with u the place in the span from 0 to 1 and z the offset less a
// first answer. Normal equations of any cubics on the span follow from them, so a
// million points are looked at once.
type moments struct {
	w  [7]float64
	z  [4]float64
	sq float64
}

// collect gathers the moments of y over x on each span. x must rise and lie within
// the breaks. A nil w is all ones; base are the coefficients of the first answer,
// nil for none.
func (b basis) collect(x, y, w, base []float64) []moments {
	out := make([]moments, len(b.first))
	i := 0
	for s := range b.first {
		end := b.breaks[s+1]
		if s == len(b.first)-1 {
			end = math.Inf(1) // the last point stands on the last break
		}
		from := i
		for i < len(x) && x[i] < end {
			i++
		}
		if i == from {
			continue
		}
		first := b.onSpan(s, base)
		if w == nil {
			out[s] = gather(x[from:i], y[from:i], b.breaks[s], 1/b.width(s), first)
		} else {
			out[s] = gatherWeighted(x[from:i], y[from:i], w[from:i], b.breaks[s], 1/b.width(s), first)
		}
	}
	return out
}

// onSpan returns the spline with coefficients c as a polynomial of the place in
// span s; a nil c is the zero spline.
func (b basis) onSpan(s int, c []float64) (q cubic) {
	if c == nil {
		return q
	}
	at := b.first[s]
	for i, p := range b.splines(s) {
		for k := range q {
			q[k] += c[at+i] * p[k]
		}
	}
	return q
}

// gather is gatherWeighted with all weights one: the hot loop of a large scan.
func gather(x, y []float64, start, perMM float64, first cubic) moments {
	var s1, s2, s3, s4, s5, s6, z0, z1, z2, z3, sq float64
	y = y[:len(x)]
	for i, xi := range x {
		u := (xi - start) * perMM
		u2 := u * u
		u3 := u2 * u
		z := y[i] - (first[0] + first[1]*u + (first[2]*u2 + first[3]*u3))
		s1 += u
		s2 += u2
		s3 += u3
		s4 += u2 * u2
		s5 += u2 * u3
		s6 += u3 * u3
		z0 += z
		z1 += z * u
		z2 += z * u2
		z3 += z * u3
		sq += z * z
	}
	return moments{[7]float64{float64(len(x)), s1, s2, s3, s4, s5, s6}, [4]float64{z0, z1, z2, z3}, sq}
}

func gatherWeighted(x, y, w []float64, start, perMM float64, first cubic) (m moments) {
	for i, xi := range x {
		u := (xi - start) * perMM
		z := y[i] - first.at(u)
		p := w[i]
		for k := range m.w {
			m.w[k] += p
			if k < len(m.z) {
				m.z[k] += p * z
			}
			p *= u
		}
		m.sq += w[i] * z * z
	}
	return m
}

// binomial rows up to the sixth power.
var binomial = [7][7]float64{
	{1}, {1, 1}, {1, 2, 1}, {1, 3, 3, 1}, {1, 4, 6, 4, 1}, {1, 5, 10, 10, 5, 1}, {1, 6, 15, 20, 15, 6, 1},
}

// join returns the moments of two spans of one width as those of the span both
// make: there the place is u/2 on the left and (1+u)/2 on the right.
func (m moments) join(right moments) (out moments) {
	half := 1.0
	for k := range out.w {
		v := m.w[k]
		for j := 0; j <= k; j++ {
			v += binomial[k][j] * right.w[j]
		}
		out.w[k] = v * half
		if k < len(out.z) {
			v = m.z[k]
			for j := 0; j <= k; j++ {
				v += binomial[k][j] * right.z[j]
			}
			out.z[k] = v * half
		}
		half /= 2
	}
	out.sq = m.sq + right.sq
	return out
}

// joinPairs halves the number of spans.
func joinPairs(m []moments) []moments {
	out := make([]moments, len(m)/2)
	for i := range out {
		out[i] = m[2*i].join(m[2*i+1])
	}
	return out
}

// normal turns moments into the normal equations: B'WB, B'Wz and Σw·z².
func (b basis) normal(ms []moments) (a band, rhs []float64, zz float64) {
	a, rhs = make(band, b.size()), make([]float64, b.size())
	for s, m := range ms {
		zz += m.sq
		if m.w[0] > 0 {
			m.spread(b.splines(s), b.first[s], a, rhs)
		}
	}
	return a, rhs, zz
}

// spread adds a span's moments to the normal equations.
func (m moments) spread(p [4]cubic, at int, a band, rhs []float64) {
	for i := range 4 {
		var g [4]float64 // Σ w·u^l·p_i
		for l := range g {
			for k := range 4 {
				g[l] += p[i][k] * m.w[k+l]
			}
		}
		for j := i; j < 4; j++ {
			var v float64
			for l := range g {
				v += p[j][l] * g[l]
			}
			a[at+i][j-i] += v
		}
		for k := range 4 {
			rhs[at+i] += p[i][k] * m.z[k]
		}
	}
}
