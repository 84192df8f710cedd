package survey

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/stat/combin"
	"gonum.org/v1/gonum/stat/distuv"
)

// FitOptions says how readings are judged. The zero value estimates the spread
// from the readings and sets aside those that a good set would hold one time in
// twenty.
type FitOptions struct {
	// Noise is the known spread (one standard deviation) of one reading, mm. 0
	// estimates it from the residuals.
	Noise float64
	// Reject is the multiple of the spread past which a reading is an outlier. 0
	// takes the multiple that the worst of n good readings passes once in twenty
	// sets: 2.8 for ten readings and 3.5 for a hundred where Noise is given, by the
	// normal distribution; 4.0 and 3.6 for a plane where the spread is estimated,
	// by Student's. A reading of a line is off in two directions: 3.3 and 3.9, by
	// Rayleigh's distribution, and 3.9 and 4.0. +Inf keeps every reading.
	Reject float64
}

func (o FitOptions) cut(n, params, ways int) float64 {
	beyond := 0.05 / (2 * float64(n))
	switch {
	case o.Reject > 0:
		return o.Reject
	case ways == 2:
		// Of two directions together r²/2σ² is beyond x one time in e^x, and where σ is
		// estimated with ν degrees of freedom, by the F distribution of 2 and ν, one in
		// (1 + 2x/ν)^(ν/2).
		x := -math.Log(2 * beyond)
		if nu := float64(2 * (n - params)); o.Noise == 0 && nu > 0 {
			x = nu / 2 * math.Expm1(2*x/nu)
		}
		return math.Sqrt(2 * x)
	case o.Noise > 0 || n <= params:
		return distuv.UnitNormal.Quantile(1 - beyond)
	}
	return distuv.StudentsT{Sigma: 1, Nu: float64(n - params)}.Quantile(1 - beyond)
}

func (o FitOptions) check(f *faults) {
	f.length("noise", o.Noise, 0, 1000, "must be 0 (estimate it) to 1000 mm")
	if !(o.Reject == 0 || o.Reject >= 1) {
		f.add("reject", mm(o.Reject), "must be 0 (the default), or at least 1 times the spread")
	}
}

// A shape is something that can be fitted to a numbered list of readings.
type shape interface {
	through(pick []int) bool // set from the fewest readings; false when they are degenerate
	fit(keep []int) bool     // set by least squares over keep, starting from the present shape
	residual(i int) float64  // signed distance of reading i, mm
	ways() int               // directions in which a reading may be off: 1 to a plane, 2 to a line in space
}

// verdict is what the readings say about a fit.
type verdict struct {
	residuals []float64
	outliers  []int
	rms       float64 // of the readings kept
	spread    float64 // of one reading; NaN when there are just enough readings to fit
	kept      int
}

const (
	trials    = 500  // subsets tried; with half the readings bad and 3 drawn, all 500 miss once in 1e29
	trialSize = 2000 // readings a trial is judged by
	// madToSigma turns the median of absolute normal deviations into their
	// standard deviation: 1/Φ⁻¹(3/4). Where a distance is made up of two deviations
	// it is 1/√(2·ln 2).
	madToSigma    = 1.482602218505602
	medianToSigma = 0.849321800288019
)

// consensus fits s to n readings of which some may be wrong. need is how many
// readings fix the shape. It returns false when no shape can be laid through them.
func consensus(s shape, n, need, params int, opt FitOptions) (verdict, bool) {
	cut := opt.cut(n, params, s.ways())
	keep := make([]int, n)
	for i := range keep {
		keep[i] = i
	}
	if n > need && !math.IsInf(cut, 1) {
		sigma, ok := leastMedian(s, n, need, params)
		if !ok {
			return verdict{}, false
		}
		if opt.Noise > 0 {
			sigma = max(sigma, opt.Noise)
		}
		keep = nearer(s, n, cut*sigma, keep[:0])
	} else if n == need && !s.through(keep) {
		return verdict{}, false
	}
	if len(keep) < need || !s.fit(keep) {
		return verdict{}, false
	}
	if n > need && !math.IsInf(cut, 1) {
		keep = settle(s, n, need, params, cut, keep, opt)
		keep = readmit(s, n, params, cut, keep, opt)
		if !s.fit(keep) {
			return verdict{}, false
		}
	}
	return judge(s, n, keep, params, opt), true
}

// settle judges every reading again by the spread of those kept, and fits again,
// until the same readings are kept twice.
func settle(s shape, n, need, params int, cut float64, keep []int, opt FitOptions) []int {
	for range 20 {
		again := nearer(s, n, cut*opt.sigma(s, keep, params), nil)
		if len(again) < max(need, (n+1)/2) || slices.Equal(again, keep) || !s.fit(again) {
			return keep
		}
		keep = again
	}
	return keep
}

// mostReadmit bounds the readings given a second hearing; a scan has thousands of
// outliers and enough good points not to need them back.
const mostReadmit = 50

// readmit hears each reading set aside once more, nearest first: a fit that takes
// it in and then finds it within the cut keeps it. Among few readings a good one
// far out is otherwise lost, because the fit without it does not reach there.
func readmit(s shape, n, params int, cut float64, keep []int, opt FitOptions) []int {
	if n-len(keep) > mostReadmit {
		return keep
	}
	for {
		out := complement(keep, n)
		slices.SortFunc(out, func(a, b int) int {
			return cmp.Compare(math.Abs(s.residual(a)), math.Abs(s.residual(b)))
		})
		sigma := opt.sigma(s, keep, params)
		taken := false
		for _, i := range out {
			at, _ := slices.BinarySearch(keep, i)
			with := slices.Insert(slices.Clone(keep), at, i)
			if s.fit(with) && math.Abs(s.residual(i)) <= max(cut*sigma, rounding) {
				keep, taken = with, true
				break
			}
			if !s.fit(keep) {
				return keep
			}
		}
		if !taken {
			return keep
		}
	}
}

// complement lists the numbers below n that are not in keep, which is sorted.
func complement(keep []int, n int) (out []int) {
	next := 0
	for i := range n {
		if next < len(keep) && keep[next] == i {
			next++
			continue
		}
		out = append(out, i)
	}
	return out
}

func (o FitOptions) sigma(s shape, keep []int, params int) float64 {
	if o.Noise > 0 {
		return o.Noise
	}
	return spreadOf(s, keep, params)
}

// leastMedian sets s to the subset whose middle residual is least and returns the
// spread that residual means. A half of the readings may be wild.
func leastMedian(s shape, n, need, params int) (sigma float64, ok bool) {
	// A fixed seed: the same readings give the same answer on every run.
	rnd := rand.New(rand.NewPCG(uint64(n), 0x5eed))
	judged := make([]int, min(n, trialSize))
	for i := range judged {
		judged[i] = i
		if n > trialSize {
			judged[i] = rnd.IntN(n)
		}
	}
	quantile := (len(judged) + params + 1) / 2 // covers the most with the highest breakdown
	quantile = min(quantile, len(judged)) - 1
	subsets := subsetsOf(n, need, rnd)
	r := make([]float64, len(judged))
	best, bestPick := math.Inf(1), []int(nil)
	for _, pick := range subsets {
		if !s.through(pick) {
			continue
		}
		for k, i := range judged {
			r[k] = math.Abs(s.residual(i))
		}
		slices.Sort(r)
		if m := r[quantile]; m < best {
			best, bestPick = m, pick
		}
	}
	if bestPick == nil || !s.through(bestPick) {
		return 0, false
	}
	toSigma := madToSigma
	if s.ways() == 2 {
		toSigma = medianToSigma
	}
	// Rousseeuw's correction for few readings.
	return toSigma * (1 + 5/float64(n-params)) * best, true
}

func subsetsOf(n, need int, rnd *rand.Rand) [][]int {
	if n <= 40 && combin.Binomial(n, need) <= trials {
		return combin.Combinations(n, need)
	}
	out := make([][]int, trials)
	for i := range out {
		pick := make([]int, 0, need)
		for len(pick) < need {
			if k := rnd.IntN(n); !slices.Contains(pick, k) {
				pick = append(pick, k)
			}
		}
		out[i] = pick
	}
	return out
}

// rounding is the residual that arithmetic alone leaves at 1 m, mm. Readings are
// never told apart by less.
const rounding = 1e-9

func nearer(s shape, n int, limit float64, out []int) []int {
	limit = max(limit, rounding)
	for i := range n {
		if math.Abs(s.residual(i)) <= limit {
			out = append(out, i)
		}
	}
	return out
}

func spreadOf(s shape, keep []int, params int) float64 {
	var sum float64
	for _, i := range keep {
		r := s.residual(i)
		sum += r * r
	}
	free := len(keep) - params
	if free < 1 {
		return math.NaN()
	}
	return math.Sqrt(sum / float64(free*s.ways()))
}

func judge(s shape, n int, keep []int, params int, opt FitOptions) verdict {
	v := verdict{residuals: make([]float64, n), kept: len(keep)}
	for i := range n {
		v.residuals[i] = s.residual(i)
	}
	v.outliers = complement(keep, n)
	var sum float64
	for _, i := range keep {
		sum += v.residuals[i] * v.residuals[i]
	}
	v.rms = math.Sqrt(sum / float64(len(keep)))
	v.spread = opt.sigma(s, keep, params)
	return v
}
