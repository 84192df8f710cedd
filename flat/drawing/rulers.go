package drawing

import (
	"slices"

	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
)

// rulers sets the overall size and the stations: below the blank those along x,
// left of it those along y.
func (l *layout) rulers() {
	if len(l.d.Dimensions) == 0 {
		return
	}
	u := l.s.Size
	below := ruler{l: l, edge: l.part.Min.Y - 1.5*u, out: r2.Vec{Y: -1}, run: r2.Vec{X: 1}}
	beside := ruler{l: l, edge: l.part.Min.X - 1.5*u, out: r2.Vec{X: -1}, run: r2.Vec{Y: 1}}
	for _, m := range l.d.Dimensions {
		if m.Kind == Station {
			below.add(m.From.X, m.To.X, m.To)
			beside.add(m.From.Y, m.To.Y, m.To)
		}
	}
	depthX, depthY := below.set(), beside.set()
	for _, m := range l.d.Dimensions {
		switch m.Kind {
		case Width:
			l.span(m.From, m.To, below, depthX)
		case Height:
			l.span(m.From, m.To, beside, depthY)
		}
	}
}

// A ruler is a row of stations along one side of the blank.
type ruler struct {
	l        *layout
	edge     float64 // coordinate of the row, across
	out, run r2.Vec  // away from the blank, and along the row
	marks    []mark
}

type mark struct {
	at   float64 // along the row
	text string
	of   r2.Vec // the point measured
}

// add notes a station unless one that prints the same is there already.
func (r *ruler) add(datum, at float64, of r2.Vec) {
	text := Dual(at - datum)
	for i := range r.marks {
		if r.marks[i].text == text {
			// Its extension line starts at the point nearest the row.
			if r2.Dot(of, r.out) > r2.Dot(r.marks[i].of, r.out) {
				r.marks[i].of = of
			}
			return
		}
	}
	r.marks = append(r.marks, mark{at, text, of})
}

// point is the place at a coordinate along the row, a distance out from it.
func (r *ruler) point(at, out float64) r2.Vec {
	base := r2.Scale(r.edge*(r.out.X+r.out.Y), r.out) // out is along a negative axis
	return r2.Add(r2.Add(base, r2.Scale(at, r.run)), r2.Scale(out, r.out))
}

// set letters the row and returns how far out it reaches from its edge.
func (r *ruler) set() float64 {
	if len(r.marks) == 0 {
		return 0
	}
	u := r.l.s.Size
	slices.SortStableFunc(r.marks, func(a, b mark) int {
		switch {
		case a.at < b.at:
			return -1
		case a.at > b.at:
			return 1
		}
		return 0
	})
	spread := make([]float64, len(r.marks))
	for i, m := range r.marks {
		spread[i] = m.at
	}
	apart(spread, 1.3*u)
	longest := 0.0
	for i, m := range r.marks {
		f := r.l.frame([]string{m.text}, r2.Vec{}, r2.Vec{X: 1})
		if r.run.X != 0 {
			f.Along = r2.Vec{Y: 1} // reads from below
		}
		f.Center = r.point(spread[i], 2.4*u+f.Half.X)
		longest = max(longest, 2*f.Half.X)
		r.l.set(Note, []string{m.text}, f)
		leader := []r2.Vec{m.of, r.point(m.at, 0), r.point(spread[i], 1.6*u), r.point(spread[i], 2.2*u)}
		r.l.laid.Thin = append(r.l.laid.Thin, outline.Polyline(leader...))
		r.l.lines = append(r.l.lines, leader)
	}
	return 2.4*u + longest + 0.8*u
}

// apart moves sorted places the least it can, in the sum of squares, so that each
// stands at least gap from the next: pool neighbours that are too near and spread
// each pool about its mean.
func apart(at []float64, gap float64) {
	type pool struct {
		sum float64 // of places less the room the ones before take
		n   int
	}
	var pools []pool
	for i, x := range at {
		pools = append(pools, pool{x - float64(i)*gap, 1})
		for k := len(pools) - 1; k > 0 && pools[k-1].sum/float64(pools[k-1].n) > pools[k].sum/float64(pools[k].n); k-- {
			pools[k-1].sum += pools[k].sum
			pools[k-1].n += pools[k].n
			pools = pools[:k]
		}
	}
	i := 0
	for _, p := range pools {
		for range p.n {
			at[i] = p.sum/float64(p.n) + float64(i)*gap
			i++
		}
	}
}

// span sets an overall dimension beyond a row of stations.
func (l *layout) span(from, to r2.Vec, r ruler, depth float64) {
	u := l.s.Size
	a, b := r2.Dot(from, r.run), r2.Dot(to, r.run)
	if !(b-a > 0) {
		return
	}
	p, q := r.point(a, depth+1.2*u), r.point(b, depth+1.2*u)
	text := Dual(b - a)
	f := l.frame([]string{text}, r2.Vec{}, r2.Vec{X: 1})
	if r.run.Y != 0 {
		f.Along = r2.Vec{Y: 1}
	}
	f.Center = r.point((a+b)/2, depth+1.2*u)
	if f.Half.X*2+4*u > b-a { // too long to stand between the arrows
		f.Center = r.point((a+b)/2, depth+2.4*u)
		l.laid.Lines = append(l.laid.Lines, outline.Polyline(p, q))
	} else {
		gap := f.Half.X + 0.6*u
		l.laid.Lines = append(l.laid.Lines,
			outline.Polyline(p, r.point((a+b)/2-gap, depth+1.2*u)), outline.Polyline(r.point((a+b)/2+gap, depth+1.2*u), q))
	}
	l.set(Note, []string{text}, f)
	for _, end := range []struct {
		tip r2.Vec
		dir float64
	}{{p, 1}, {q, -1}} {
		back := r2.Add(end.tip, r2.Scale(end.dir*1.1*u, r.run))
		side := r2.Scale(0.22*u, r.out)
		l.laid.Lines = append(l.laid.Lines, outline.Polyline(r2.Add(back, side), end.tip, r2.Sub(back, side)))
	}
	// Ticks where the dimension ends, clear of the stations' lettering.
	for _, at := range []float64{a, b} {
		l.laid.Thin = append(l.laid.Thin, outline.Polyline(r.point(at, depth+0.4*u), r.point(at, depth+2*u)))
	}
	for _, c := range []r2.Vec{p, q, r.point(a, depth+2*u)} {
		l.laid.Bounds = Join(l.laid.Bounds, r2.Box{Min: c, Max: c})
	}
}
