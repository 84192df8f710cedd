package loft

import (
	"math"
	"slices"
)

// cubic is a polynomial k0 + k1·u + k2·u² + k3·u³.
type cubic [4]float64

func (c cubic) at(u float64) float64 { return ((c[3]*u+c[2])*u+c[1])*u + c[0] }

// level returns where the slope is 0: two places, in no order, of which those that
// there are not come out infinite or not a number.
func (c cubic) level() [2]float64 {
	// The slope is c1 + 2·c2·u + 3·c3·u². The root that would lose its digits to a
	// difference is had from the other by their product, c1/(3·c3).
	q := -c[2] - math.Copysign(math.Sqrt(c[2]*c[2]-3*c[3]*c[1]), c[2])
	return [2]float64{q / (3 * c[3]), c[1] / q}
}

// A basis is the cubic B-splines over rising knots. breaks are the knots proper,
// ext the same with three more at each end; a knot that stands twice lets the bend
// jump there, one that stands three times the slope too.
type basis struct {
	breaks []float64 // ends of the spans, strictly rising
	ext    []float64
	first  []int     // of each span: number of its first B-spline
	stiff  []float64 // of each span: factor on its bending energy; nil is 1
}

// newBasis lays B-splines over breaks; knuckles are those breaks at which the slope
// may jump, steps those at which the bend may. breaks must rise strictly and hold at least two.
func newBasis(breaks, knuckles, steps []float64) basis {
	b := basis{breaks: breaks, first: make([]int, 0, len(breaks)-1)}
	n := len(breaks)
	h0, h1 := breaks[1]-breaks[0], breaks[n-1]-breaks[n-2]
	b.ext = make([]float64, 0, n+6+2*len(knuckles)+len(steps))
	for k := 3; k >= 1; k-- {
		b.ext = append(b.ext, breaks[0]-float64(k)*h0)
	}
	for i, x := range breaks {
		b.ext = append(b.ext, x)
		if inner := i > 0 && i < n-1; inner && has(knuckles, x) {
			b.ext = append(b.ext, x, x)
		} else if inner && has(steps, x) {
			b.ext = append(b.ext, x)
		}
		if i < n-1 {
			b.first = append(b.first, len(b.ext)-4)
		}
	}
	for k := 1; k <= 3; k++ {
		b.ext = append(b.ext, breaks[n-1]+float64(k)*h1)
	}
	return b
}

// has tells whether x is one of the stations, which rise.
func has(stations []float64, x float64) bool {
	_, ok := slices.BinarySearch(stations, x)
	return ok
}

// size is the number of B-splines.
func (b basis) size() int { return len(b.ext) - 4 }

// width is the length of span s, mm.
func (b basis) width(s int) float64 { return b.breaks[s+1] - b.breaks[s] }

// splines returns the four B-splines that live on span s, as polynomials of u, the
// place in the span from 0 to 1. (The recursion of de Boor and Cox, on polynomials.)
func (b basis) splines(s int) [4]cubic {
	i0 := b.first[s] + 3 // ext[i0] is the start of the span
	a, h := b.breaks[s], b.width(s)
	var p [4]cubic
	p[3][0] = 1
	for deg := 1; deg <= 3; deg++ {
		for k := 3 - deg; k <= 3; k++ {
			i := i0 - 3 + k
			var q cubic
			// The k-th spline of the lower degree rises, the next one falls.
			if d := b.ext[i+deg] - b.ext[i]; d > 0 && k > 3-deg {
				q = q.plus(p[k].timesLine((a-b.ext[i])/d, h/d))
			}
			if k < 3 {
				if d := b.ext[i+deg+1] - b.ext[i+1]; d > 0 {
					q = q.plus(p[k+1].timesLine((b.ext[i+deg+1]-a)/d, -h/d))
				}
			}
			p[k] = q
		}
	}
	return p
}

func (c cubic) plus(d cubic) cubic {
	for k := range c {
		c[k] += d[k]
	}
	return c
}

// timesLine returns c·(r + s·u), for a c of degree two at most.
func (c cubic) timesLine(r, s float64) cubic {
	return cubic{r * c[0], r*c[1] + s*c[0], r*c[2] + s*c[1], r*c[3] + s*c[2]}
}

// bending returns the matrix of ∫f”², each span times its stiffness. f” is a line
// on each span, so the integral is exact.
func (b basis) bending() band {
	k := make(band, b.size())
	for s := range b.first {
		h := b.width(s)
		f := 1 / (h * h * h)
		if b.stiff != nil {
			f *= b.stiff[s]
		}
		p := b.splines(s)
		var d0, d1 [4]float64 // second derivative at both ends, times h²
		for i := range p {
			d0[i] = 2 * p[i][2]
			d1[i] = d0[i] + 6*p[i][3]
		}
		at := b.first[s]
		for i := range 4 {
			for j := i; j < 4; j++ {
				k[at+i][j-i] += f / 3 * (d0[i]*d0[j] + d1[i]*d1[j] + (d0[i]*d1[j]+d1[i]*d0[j])/2)
			}
		}
	}
	return k
}

// spanOf returns the span between breaks that holds x; x before the first counts
// to the first span, past the last to the last.
func spanOf(breaks []float64, x float64) int {
	lo, hi := 0, len(breaks)-1
	for hi-lo > 1 {
		m := (lo + hi) / 2
		if breaks[m] <= x {
			lo = m
		} else {
			hi = m
		}
	}
	return lo
}

// row returns the values (order 0), slopes (1) or second derivatives (2) of the
// four B-splines that live at x, and the number of the first.
func (b basis) row(x float64, order int) (first int, r [4]float64) {
	s := spanOf(b.breaks, x)
	h := b.width(s)
	u := (x - b.breaks[s]) / h
	for i, p := range b.splines(s) {
		switch order {
		case 0:
			r[i] = p.at(u)
		case 1:
			r[i] = (p[1] + u*(2*p[2]+u*3*p[3])) / h
		default:
			r[i] = (2*p[2] + u*6*p[3]) / (h * h)
		}
	}
	return b.first[s], r
}

// curve returns the spline with the given coefficients.
func (b basis) curve(c []float64) Curve {
	out := Curve{breaks: b.breaks, poly: make([]cubic, len(b.first))}
	for s := range b.first {
		h, q := b.width(s), b.onSpan(s, c)
		// From the place in the span to mm from its start.
		out.poly[s] = cubic{q[0], q[1] / h, q[2] / (h * h), q[3] / (h * h * h)}
	}
	return out
}
