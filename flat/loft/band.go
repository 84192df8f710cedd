package loft

import "math"

// A band is a symmetric matrix with three diagonals to each side of the main one,
// as cubic B-splines give: row i holds A(i,i), A(i,i+1), A(i,i+2), A(i,i+3).
type band [][4]float64

// plus returns a + s·b.
func (a band) plus(s float64, b band) band {
	out := make(band, len(a))
	for i := range a {
		for k := range 4 {
			out[i][k] = a[i][k] + s*b[i][k]
		}
	}
	return out
}

// times returns a·x.
func (a band) times(x []float64) []float64 {
	y := make([]float64, len(x))
	for i := range a {
		y[i] += a[i][0] * x[i]
		for k := 1; k < 4 && i+k < len(x); k++ {
			y[i] += a[i][k] * x[i+k]
			y[i+k] += a[i][k] * x[i]
		}
	}
	return y
}

// form returns x'·a·x.
func (a band) form(x []float64) float64 {
	var s float64
	for i := range a {
		s += a[i][0] * x[i] * x[i]
		for k := 1; k < 4 && i+k < len(x); k++ {
			s += 2 * a[i][k] * x[i] * x[i+k]
		}
	}
	return s
}

// rounding is what the last digit may make of form(x).
func (a band) rounding(x []float64) float64 {
	var s float64
	for i := range a {
		for k := 0; k < 4 && i+k < len(x); k++ {
			s += math.Abs(a[i][k] * x[i] * x[i+k])
		}
	}
	return 0x1p-52 * s
}

// trace returns the sum of the main diagonal.
func (a band) trace() float64 {
	var s float64
	for i := range a {
		s += a[i][0]
	}
	return s
}

// factor replaces a positive definite band by L·D·L': D on the main diagonal, the
// columns of L beside it. It returns false when a is not positive definite.
func (a band) factor() bool {
	n := len(a)
	for i := range a {
		r := &a[i]
		d := r[0]
		if !(d > 0) {
			return false
		}
		inv := 1 / d
		l1, l2, l3 := r[1]*inv, r[2]*inv, r[3]*inv
		if i+1 < n {
			s := &a[i+1]
			s[0] -= l1 * r[1]
			s[1] -= l1 * r[2]
			s[2] -= l1 * r[3]
		}
		if i+2 < n {
			s := &a[i+2]
			s[0] -= l2 * r[2]
			s[1] -= l2 * r[3]
		}
		if i+3 < n {
			a[i+3][0] -= l3 * r[3]
		}
		r[1], r[2], r[3] = l1, l2, l3
	}
	return true
}

// solve overwrites x with the answer of L·D·L'·answer = x.
func (a band) solve(x []float64) {
	n := len(a)
	for i := range a {
		r, v := &a[i], x[i]
		if i+3 < n {
			x[i+1] -= r[1] * v
			x[i+2] -= r[2] * v
			x[i+3] -= r[3] * v
			continue
		}
		for k := 1; i+k < n; k++ {
			x[i+k] -= r[k] * v
		}
	}
	for i := n - 1; i >= 0; i-- {
		r := &a[i]
		v := x[i] / r[0]
		for k := 1; k < 4 && i+k < n; k++ {
			v -= r[k] * x[i+k]
		}
		x[i] = v
	}
}

// inverseBand returns, of the inverse of the factored matrix, the part inside the
// band. The inverse itself is full; its middle follows from the factors alone
// (M. F. Hutchinson and F. R. de Hoog, "Smoothing noisy data with spline
// functions", Numer. Math. 47 (1985), from memory; checked by a full inverse).
func (a band) inverseBand() band {
	n := len(a)
	s := make(band, n)
	at := func(i, j int) float64 { // S(i,j), |i-j| <= 3, 0 past the end
		if i > j {
			i, j = j, i
		}
		if j >= n {
			return 0
		}
		return s[i][j-i]
	}
	for i := n - 1; i >= 0; i-- {
		for k := 3; k >= 1; k-- {
			if i+k >= n {
				continue
			}
			var v float64
			for m := 1; m < 4 && i+m < n; m++ {
				v -= a[i][m] * at(i+m, i+k)
			}
			s[i][k] = v
		}
		v := 1 / a[i][0]
		for m := 1; m < 4 && i+m < n; m++ {
			v -= a[i][m] * s[i][m]
		}
		s[i][0] = v
	}
	return s
}

// inner returns the sum of the products of all entries of two symmetric bands.
func (a band) inner(b band) float64 {
	var s float64
	for i := range a {
		s += a[i][0]*b[i][0] + 2*(a[i][1]*b[i][1]+a[i][2]*b[i][2]+a[i][3]*b[i][3])
	}
	return s
}
