package loft

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// A ChalkMark is one row of a chalk-line table: where on the floor to put a mark.
type ChalkMark struct {
	Along  float64 // along the chalked base line, mm
	Height float64 // square to it, mm
	Girth  float64 // along the curve from its start, mm: the batten's length
}

// mostMarks bounds a table for a floor: 100 m of marks a millimetre apart.
const mostMarks = 100_000

// ChalkLine returns marks along the line no more than step mm apart, evenly spaced,
// both ends included. A step that is not above 0 or asks for more than 100 000
// marks is an [*Error].
func (c Curve) ChalkLine(step float64) ([]ChalkMark, error) {
	from, to := c.Range()
	if !(step > 0 && (to-from)/step <= mostMarks) {
		return nil, &Error{"step", mm(step), fmt.Sprintf("must be above 0 and give at most %d marks on a line of %s", mostMarks, mm(to-from))}
	}
	n := max(1, int(math.Ceil((to-from)/step-1e-9)))
	out := make([]ChalkMark, n+1)
	for i := range out {
		x := from + (to-from)*float64(i)/float64(n)
		if i == n {
			x = to
		}
		out[i] = ChalkMark{Along: x, Height: c.At(x)}
		if i > 0 {
			out[i].Girth = out[i-1].Girth + c.Girth(out[i-1].Along, x)
		}
	}
	return out, nil
}

// A Jig is two lines over one base line with the material between them: a board
// with a straight top and a chine's curve below, on which a rail is bent.
type Jig struct {
	Top, Bottom Curve
}

// Validate returns an [*Error] when the lines share no stations, or when the top
// does not keep clear of the bottom by least mm everywhere on those they share: it
// names the station where the depth is least.
func (j Jig) Validate(least float64) error {
	span, err := j.Range()
	if err != nil {
		return err
	}
	x := slices.MinFunc(j.turns(span), func(a, b float64) int { return cmp.Compare(j.Depth(a), j.Depth(b)) })
	if h := j.Depth(x); !(h >= least) {
		return &Error{"jig depth at station " + mm(x), mm(h), "must be at least " + mm(least) + ": raise the top"}
	}
	return nil
}

// turns are the stations of a span between which the depth only grows or only
// shrinks, so that it is least at one of them: where a cubic of either line ends,
// and between two of those, where the depth is one cubic, where its slope is 0.
func (j Jig) turns(span Span) []float64 {
	ends := []float64{span.From, span.To}
	for _, x := range append(j.Top.Breaks(), j.Bottom.breaks...) {
		if within(x, span.From, span.To) {
			ends = append(ends, x)
		}
	}
	slices.Sort(ends)
	ends = slices.Compact(ends)
	out := []float64{ends[0]}
	for i, b := range ends[1:] {
		a := ends[i]
		top, bottom := j.Top.cubicFrom(a), j.Bottom.cubicFrom(a)
		depth := cubic{top[0] - bottom[0], top[1] - bottom[1], top[2] - bottom[2], top[3] - bottom[3]}
		for _, u := range depth.level() {
			if x := a + u; a < x && x < b {
				out = append(out, x)
			}
		}
		out = append(out, b)
	}
	return out
}

// Range returns the stations both lines share. It returns an [*Error] where they share none.
func (j Jig) Range() (Span, error) {
	t0, t1 := j.Top.Range()
	b0, b1 := j.Bottom.Range()
	s := Span{max(t0, b0), min(t1, b1)}
	if !(s.From < s.To) {
		return Span{}, &Error{"jig", fmt.Sprintf("top %s to %s, bottom %s to %s", mm(t0), mm(t1), mm(b0), mm(b1)), "the two lines share no stations"}
	}
	return s, nil
}

// Depth returns top less bottom at a station, mm; NaN where either is not known.
func (j Jig) Depth(station float64) float64 { return j.Top.At(station) - j.Bottom.At(station) }

// StraightLine returns the curve that runs straight from one point to another, for
// a jig's top or a datum. The stations must differ and rise, else an [*Error].
func StraightLine(fromStation, fromOffset, toStation, toOffset float64) (Curve, error) {
	var f faults
	for _, v := range []struct {
		name  string
		value float64
	}{{"from station", fromStation}, {"from offset", fromOffset}, {"to station", toStation}, {"to offset", toOffset}} {
		if !isLength(v.value) {
			f.add(v.name, mm(v.value), lengthRule)
		}
	}
	if len(f.list) == 0 && !(fromStation < toStation) {
		f.add("to station", mm(toStation), "must be greater than the other, "+mm(fromStation))
	}
	if err := f.err(); err != nil {
		return Curve{}, err
	}
	slope := (toOffset - fromOffset) / (toStation - fromStation)
	return Curve{breaks: []float64{fromStation, toStation}, poly: []cubic{{fromOffset, slope}}}, nil
}
