package outline

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"github.com/hangarflat/hangarflat/material/measure"
)

func pt(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }

// random returns a generator and prints its seed, which go test shows on failure.
func random(t testing.TB) *rand.Rand {
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	return rand.New(rand.NewPCG(seed, 1))
}

// few is n in a full run and a quarter of it in a short one: fewer of each kind, but every kind.
func few(n int) int {
	if testing.Short() {
		return (n + 3) / 4
	}
	return n
}

// randomPath makes a star of lines and arcs about the origin; most are simple.
func randomPath(rnd *rand.Rand, n int, arcs, rough float64) Path {
	p := Path{Closed: true}
	for i := range n {
		a := 2 * math.Pi * (float64(i) + 0.6*(rnd.Float64()-0.5)) / float64(n)
		r := 100 * (1 + rough*(2*rnd.Float64()-1))
		v := Vertex{P: pt(r*math.Cos(a), r*math.Sin(a))}
		if rnd.Float64() < arcs {
			v.Bulge = (2*rnd.Float64() - 1) * 0.9
		}
		p.Vertices = append(p.Vertices, v)
	}
	return p
}

// variants are the ways one figure can be written or placed that change no fact but by
// a known factor.
type variant struct {
	name  string
	move  Affine
	scale float64 // of lengths
	sign  float64 // of areas
	path  Path
}

func variants(p Path) []variant {
	var out []variant
	moves := []struct {
		name string
		m    Affine
	}{
		{"as is", Affine{}},
		{"moved", Translate(pt(317.25, -1204.5))},
		{"turned", Rotate(pt(3, 4), 37*measure.Degree)},
		{"mirrored", Mirror(pt(1, 2), 20*measure.Degree)},
		{"small", Scale(pt(0, 0), 1e-3)},
		{"large", Scale(pt(5, 5), 1e3)},
	}
	starts := max(1, len(p.Vertices))
	if !p.Closed {
		starts = 1
	}
	for start := range starts {
		for _, rev := range []bool{false, true} {
			for _, m := range moves {
				q := p.StartAt(start)
				sign := 1.0
				if rev {
					q, sign = q.Reverse(), -1
				}
				if m.m.Mirrors() {
					sign = -sign
				}
				out = append(out, variant{
					fmt.Sprintf("from %d, reversed %v, %s", start, rev, m.name),
					m.m, m.m.Factor(), sign, q.Transform(m.m),
				})
			}
		}
	}
	return out
}

// chop is the slow twin's view: n chords for every arc.
func chop(p Path, n int) []r2.Vec {
	var out []r2.Vec
	for _, s := range p.Segments() {
		if s.Bulge == 0 {
			out = append(out, s.A)
			continue
		}
		c, r := s.Center(), s.Radius()
		from := math.Atan2(s.A.Y-c.Y, s.A.X-c.X)
		for k := range n {
			a := from + 4*math.Atan(s.Bulge)*float64(k)/float64(n)
			out = append(out, pt(c.X+r*math.Cos(a), c.Y+r*math.Sin(a)))
		}
	}
	if !p.Closed && len(p.Vertices) > 0 {
		out = append(out, p.Vertices[len(p.Vertices)-1].P)
	}
	return out
}

// chopLoss bounds the area between the arcs and n chords each: a chord over the angle x
// cuts off R²(x - sin x)/2 < R²x³/12.
func chopLoss(p Path, n int) (area, sagitta float64) {
	for _, s := range p.Segments() {
		if s.Bulge != 0 {
			x := math.Abs(float64(s.Sweep())) / float64(n)
			area += float64(n) * s.Radius() * s.Radius() * x * x * x / 12
			sagitta = max(sagitta, s.Radius()*x*x/8)
		}
	}
	return area, sagitta
}

func slowArea(pts []r2.Vec) float64 {
	sum := 0.0
	for i, p := range pts {
		q := pts[(i+1)%len(pts)]
		sum += p.X*q.Y - p.Y*q.X
	}
	return sum / 2
}

// slowWinding adds up the angles under which q sees the chords.
func slowWinding(pts []r2.Vec, q r2.Vec) int {
	sum := 0.0
	for i := range pts {
		a, b := r2.Sub(pts[i], q), r2.Sub(pts[(i+1)%len(pts)], q)
		sum += math.Atan2(a.X*b.Y-a.Y*b.X, a.X*b.X+a.Y*b.Y)
	}
	return int(math.Round(sum / (2 * math.Pi)))
}

func slowDistance(pts []r2.Vec, closed bool, q r2.Vec) float64 {
	best := math.Inf(1)
	n := len(pts)
	if !closed {
		n--
	}
	for i := range n {
		a, b := pts[i], pts[(i+1)%len(pts)]
		v, w := r2.Sub(b, a), r2.Sub(q, a)
		t := max(0, min(1, (v.X*w.X+v.Y*w.Y)/(v.X*v.X+v.Y*v.Y)))
		best = min(best, math.Hypot(w.X-t*v.X, w.Y-t*v.Y))
	}
	return best
}
