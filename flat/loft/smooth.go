package loft

import (
	"fmt"
	"math"
)

// SmoothOptions says how stiff the batten through noisy data is. The zero value
// finds the stiffness from the data by generalised cross-validation.
type SmoothOptions struct {
	// Stiffness is λ in Σ w·(y - f)² + λ·∫f”², mm³ where the weights are pure
	// numbers. 0 finds it from the data.
	Stiffness float64
	// Weights of the data, one each; nil weighs all alike.
	Weights []float64
	// Spans is the number of cubics. 0 takes one between each two stations when
	// there are few or Stiffness is given (the exact smoothing spline), and as many
	// as the curve turns out to need when there are many.
	Spans int
}

// A Smoothing is a curve through noisy data.
type Smoothing struct {
	Curve
	Stiffness float64 // λ used
	Freedom   float64 // readings' worth of freedom used; a straight line uses 2
	RMS       float64 // root mean square residual, mm, weighted as the data
	Spread    float64 // standard deviation of one reading of weight 1 that this means, mm
}

const (
	exactMost  = 400 // stations up to which a cubic stands between each two
	firstSpans = 16  // fewest spans tried above that; a power of two
	mostSpans  = 8192
	// pilotSize is how many of the data the first answer is laid through. It is
	// taken out of the data before they are squared and summed, so that their sum
	// of squares is that of the noise and not of the whole hull.
	pilotSize = 2048
	// pilotDecade keeps the first answer limp; it has far fewer spans than data.
	pilotDecade = -4
)

// Smooth lays the curve that best weighs nearness to the data against bending. x
// must rise (equal stations are allowed) and hold at least four different
// stations; y are the offsets. Memory beside the data does not grow with them; a
// million points take some tens of milliseconds. Faults are [*Error]s, joined.
func Smooth(x, y []float64, opt SmoothOptions) (Smoothing, error) {
	if err := checkData(x, y, opt); err != nil {
		return Smoothing{}, err
	}
	distinct := countDistinct(x, exactMost+1)
	if distinct < 4 {
		return Smoothing{}, &Error{"stations", fmt.Sprintf("%d different", distinct), "at least 4 are needed to fair a line"}
	}
	switch {
	case opt.Spans > 0:
		return smoothOn(x, y, evenly(x, opt.Spans), opt)
	case opt.Stiffness > 0 || distinct <= exactMost:
		return smoothOn(x, y, eachStation(x), opt)
	}
	return smoothMany(x, y, opt)
}

func checkData(x, y []float64, opt SmoothOptions) error {
	var f faults
	if len(x) != len(y) {
		f.add("offsets", fmt.Sprintf("%d", len(y)), fmt.Sprintf("must be one for each of the %d stations", len(x)))
	}
	if opt.Weights != nil && len(opt.Weights) != len(x) {
		f.add("weights", fmt.Sprintf("%d", len(opt.Weights)), fmt.Sprintf("must be one for each of the %d stations", len(x)))
	}
	if !(opt.Stiffness >= 0 && finite(opt.Stiffness)) {
		f.add("stiffness", fmt.Sprintf("%g", opt.Stiffness), "must be 0 (find it) or above, and finite")
	}
	if opt.Spans < 0 || opt.Spans > 1<<20 {
		f.add("spans", fmt.Sprintf("%d", opt.Spans), "must be 0 (find it) to 1048576")
	}
	if err := f.err(); err != nil {
		return err
	}
	for i := range x {
		if !isLength(x[i]) {
			f.add(fmt.Sprintf("datum %d station", i), mm(x[i]), lengthRule)
		}
		if !isLength(y[i]) {
			f.add(fmt.Sprintf("datum %d offset", i), mm(y[i]), lengthRule)
		}
		if i > 0 && x[i] < x[i-1] {
			f.add(fmt.Sprintf("datum %d station", i), mm(x[i]), "must not be less than the one before, "+mm(x[i-1])+": sort the data")
		}
	}
	for i, w := range opt.Weights {
		if !(w > 0 && finite(w)) {
			f.add(fmt.Sprintf("datum %d weight", i), fmt.Sprintf("%g", w), "must be above 0 and finite")
		}
	}
	return f.err()
}

func countDistinct(x []float64, enough int) int {
	n := 0
	for i := range x {
		if i == 0 || x[i] != x[i-1] {
			if n++; n >= enough {
				break
			}
		}
	}
	return n
}

// tooNear is the share of the mean spacing under which two stations get one break
// between them; two breaks would bend the curve about nothing.
const tooNear = 1e-4

// eachStation returns the different stations as breaks.
func eachStation(x []float64) []float64 {
	least := tooNear * (x[len(x)-1] - x[0]) / float64(len(x))
	out := []float64{x[0]}
	for _, v := range x[1:] {
		if v-out[len(out)-1] > least {
			out = append(out, v)
		}
	}
	out[len(out)-1] = x[len(x)-1]
	return out
}

// evenly returns breaks that divide the range into n like spans.
func evenly(x []float64, n int) []float64 {
	from, to := x[0], x[len(x)-1]
	out := make([]float64, n+1)
	for i := range out {
		out[i] = from + (to-from)*float64(i)/float64(n)
	}
	out[n] = to
	return out
}

// smoothOn smooths over the given breaks.
func smoothOn(x, y, breaks []float64, opt SmoothOptions) (Smoothing, error) {
	b := newBasis(breaks, nil, nil)
	s, err := problem{basis: b, k: b.bending()}.smooth(x, [][]float64{y}, opt)
	if err != nil {
		return Smoothing{}, err
	}
	return s[0], nil
}

// smooth lays one curve through each ys over the same x, all of one stiffness. p
// brings the B-splines, their bending and the holds.
func (p problem) smooth(x []float64, ys [][]float64, opt SmoothOptions) ([]Smoothing, error) {
	sys := make(system, len(ys))
	for i, y := range ys {
		p.base = nil
		p.a, p.rhs, p.zz = p.basis.normal(p.basis.collect(x, y, opt.Weights, nil))
		lambda := opt.Stiffness
		if lambda == 0 {
			lambda = p.scale() * math.Pow(10, pilotDecade)
		}
		first, ok := p.at(lambda)
		if !ok {
			return nil, unfixed(len(x))
		}
		// Take this answer out of the data and do it once more on what is left:
		// the sum of squares is then free of the size of the curve.
		p.base = first.c
		p.a, p.rhs, p.zz = p.basis.normal(p.basis.collect(x, y, opt.Weights, p.base))
		sys[i] = p
	}
	lambda := opt.Stiffness
	if lambda == 0 {
		lambda, _ = sys.balance(len(x))
	}
	return sys.answer(lambda, len(x))
}

func unfixed(n int) error {
	return &Error{"data", fmt.Sprintf("%d points", n), "they do not fix the curve: is the stiffness too small for the gaps in them, or are there too many spans?"}
}

// answer solves for one λ and says how good the curves are.
func (sys system) answer(lambda float64, n int) ([]Smoothing, error) {
	out := make([]Smoothing, len(sys))
	for i := range sys {
		p := &sys[i]
		s, ok := p.at(lambda)
		if !ok {
			return nil, unfixed(n)
		}
		sq, freedom := p.squares(s), p.freedom(s)
		out[i] = Smoothing{
			Curve: p.basis.curve(p.whole(s)), Stiffness: lambda, Freedom: freedom,
			RMS: math.Sqrt(sq / float64(n)), Spread: math.Sqrt(sq / (float64(n) - freedom)),
		}
	}
	return out, nil
}

// smoothMany smooths over as many even spans as foretell the data best. Too many
// cost nothing but time and a little freedom; too few cannot follow the curve. The
// data are read once, on the finest spans; each coarser set follows by joining
// pairs.
func smoothMany(x, y []float64, opt SmoothOptions) (Smoothing, error) {
	most := firstSpans
	for most*2 <= min(mostSpans, len(x)/4) {
		most *= 2
	}
	coarse := newBasis(evenly(x, firstSpans), nil, nil)
	first, err := pilot(coarse, x, y, opt.Weights)
	if err != nil {
		return Smoothing{}, err
	}
	levels := [][]float64{first}
	for spans := firstSpans; spans < most; spans *= 2 {
		levels = append(levels, halve(levels[len(levels)-1]))
	}
	gathered := make([][]moments, len(levels))
	top := len(levels) - 1
	gathered[top] = newBasis(evenly(x, most), nil, nil).collect(x, y, opt.Weights, levels[top])
	for l := top - 1; l >= 0; l-- {
		gathered[l] = joinPairs(gathered[l+1])
	}
	best := math.Inf(1)
	var at system
	var lambda float64
	worse := 0
	for l := range levels {
		b := newBasis(evenly(x, firstSpans<<l), nil, nil)
		p := problem{basis: b, k: b.bending(), base: levels[l]}
		p.a, p.rhs, p.zz = b.normal(gathered[l])
		sys := system{p}
		try, score := sys.balance(len(x))
		if score < best {
			best, at, lambda, worse = score, sys, try, 0
		} else if worse++; worse == 2 {
			break
		}
	}
	if at == nil {
		return Smoothing{}, unfixed(len(x))
	}
	s, err := at.answer(lambda, len(x))
	if err != nil {
		return Smoothing{}, err
	}
	return s[0], nil
}

// pilot returns the coefficients of a limp first answer through some of the data.
func pilot(b basis, x, y, w []float64) ([]float64, error) {
	step := max(1, len(x)/pilotSize)
	var px, py, pw []float64
	for i := 0; i < len(x); i += step {
		px, py = append(px, x[i]), append(py, y[i])
		if w != nil {
			pw = append(pw, w[i])
		}
	}
	p := problem{basis: b, k: b.bending()}
	p.a, p.rhs, p.zz = b.normal(b.collect(px, py, pw, nil))
	s, ok := p.at(p.scale() * math.Pow(10, pilotDecade))
	if !ok {
		return nil, unfixed(len(px))
	}
	return s.c, nil
}

// halve returns the coefficients of the same spline over spans half as long, knots
// evenly spaced (Lane and Riesenfeld's subdivision of cubic B-splines).
func halve(c []float64) []float64 {
	// n spans have n+3 coefficients, 2n spans 2n+3.
	out := make([]float64, 2*len(c)-3)
	for i := range out {
		k := i / 2
		if i%2 == 0 {
			out[i] = (c[k] + c[k+1]) / 2
		} else {
			out[i] = (c[k] + 6*c[k+1] + c[k+2]) / 8
		}
	}
	return out
}
