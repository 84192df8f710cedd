package outline

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// fineCurve is a star of n points with a few waves: smooth at the scale of its sides, and with
// hollows and necks at that of the whole.
func fineCurve(rnd *rand.Rand, n int) Path {
	k, l := float64(2+rnd.IntN(5)), float64(3+rnd.IntN(12))
	a, b, c := 0.8*rnd.Float64(), 0.1*rnd.Float64(), 6*rnd.Float64()
	p := Path{Closed: true}
	for i := range n {
		t := 2 * math.Pi * float64(i) / float64(n)
		r := 100 * (1 + a*math.Sin(k*t) + b*math.Sin(l*t+c))
		p.Vertices = append(p.Vertices, Vertex{P: pt(r*math.Cos(t), r*math.Sin(t))})
	}
	return p
}

// The candidates, not cut, are each at the distance from what they come from, but where the source
// is narrow they run into the distance of the rest of it. The slow twin measures many points.
func TestProofOfDistanceAgainstManyPoints(t *testing.T) {
	rnd := random(t)
	right, wrong, unsure := 0, 0, 0
	for k := range few(900) {
		p := fineCurve(rnd, 40+rnd.IntN(400))
		if k%3 == 1 {
			p = randomPath(rnd, 3+rnd.IntN(25), 0.5, 0.3)
		}
		src, err := newRegion("", []Path{p})
		if err != nil {
			continue
		}
		d := (2*rnd.Float64() - 1) * 40
		o := OffsetOptions{Miter: []float64{0, 0, 3}[k/3%3]}
		j := offsetJob{src: src, d: d, asked: d, o: o, tol: Coincidence * (src.size + math.Abs(d))}
		j.candidates()
		if len(j.raw.runs) == 0 || !j.raw.runs[0].ring {
			continue
		}
		whole := j.raw.loop([]stretch{{run: j.raw.runs[0], last: j.raw.runs[0].hi - 1, t1: 1, start: j.raw.segs[0].A, end: j.raw.segs[0].A}})
		fault := j.proveDistance(index([]Path{whole}))
		least := math.Inf(1)
		for _, s := range whole.Segments() {
			for f := range 12 {
				least = min(least, src.tree.distance(s.At(float64(f)/11)))
			}
		}
		least -= math.Abs(d)
		switch {
		case least < -j.tol:
			require.NotEmpty(t, fault, "%v by %g %v: %g", p, d, o, least)
			wrong++
		case fault == "":
			right++
		default:
			unsure++ // some place between the points is too near, or not
		}
	}
	require.Greater(t, right, few(80))
	require.Greater(t, wrong, few(80))
	require.Less(t, unsure, 1+(right+wrong)/50)
}

// naive moves every side of a polygon and joins each to the next where their lines cross, whether that
// leaves them their direction or not: the classic wrong offset, every side at the right distance.
func naive(p Path, d float64) Path {
	var out Path
	n := len(p.Vertices)
	for i := range n {
		a, b := p.Segment((i+n-1)%n).Tangent(0), p.Segment(i).Tangent(0)
		f := d / (1 + dot(a, b))
		v := p.Vertices[i].P
		out.Vertices = append(out.Vertices, Vertex{P: pt(v.X+f*(a.Y+b.Y), v.Y-f*(a.X+b.X))})
	}
	out.Closed = true
	return out
}

func TestNaiveOffsetsAreSeenThrough(t *testing.T) {
	rnd := random(t)
	right, wrong := 0, 0
	for range few(300) {
		p := fineCurve(rnd, 300+rnd.IntN(300))
		src := index([]Path{p})
		d := (2*rnd.Float64() - 1) * math.Pow(10, 1.3*rnd.Float64())
		j := offsetJob{src: src, d: d, asked: d, o: OffsetOptions{Miter: 3}, tol: Coincidence * (src.size + math.Abs(d))}
		got := naive(p, d)
		fault := j.proveDistance(index([]Path{got}))
		least := math.Inf(1)
		for _, s := range got.Segments() {
			least = min(least, src.tree.distance(s.A), src.tree.distance(s.At(0.5)))
		}
		if least -= math.Abs(d); least < -j.tol {
			require.NotEmpty(t, fault, "by %g: %g", d, least)
			wrong++
		} else if fault == "" {
			right++
		}
	}
	require.Greater(t, right, few(20))
	require.Greater(t, wrong, few(20))
}

// A side that runs on over a bump it does not see: nothing of it turns back, and both its
// parents are at the right distance.
func TestBumpThatWasLeftOut(t *testing.T) {
	for _, high := range []float64{0.7, 1e-4, 0} {
		// In small steps, so that whole groups of sides go by their direction.
		right, left := Polyline(pt(80, 0)), Polyline(pt(-1, 0))
		over := Polyline(pt(81, 1))
		for x := 79.0; x > 2; x-- {
			right.Vertices = append(right.Vertices, Vertex{P: pt(x, 0)})
			over.Vertices = append(over.Vertices, Vertex{P: pt(x, 1)})
		}
		over.Vertices = append(over.Vertices, Vertex{P: pt(0, 1)})
		right.Vertices = append(right.Vertices, Vertex{P: pt(1, 0)}, Vertex{P: pt(0, high)})
		for x := -3.0; x > -80; x-- {
			left.Vertices = append(left.Vertices, Vertex{P: pt(x, 0)})
			over.Vertices = append(over.Vertices, Vertex{P: pt(x, 1)})
		}
		src, got := Path{Closed: true}, Path{Closed: true}
		src.Vertices = append(append(right.Vertices, left.Vertices...), corners([]r2.Vec{pt(-80, 0), pt(-80, -10), pt(80, -10)})...)
		got.Vertices = append(over.Vertices, corners([]r2.Vec{pt(-81, 1), pt(-81, -11), pt(81, -11)})...)
		peak := len(right.Vertices) - 1
		for _, first := range []int{0, peak - 1, peak} { // whichever segment the source begins with
			j := offsetJob{src: index([]Path{src.StartAt(first)}), d: 1, asked: 1, o: OffsetOptions{Miter: 3}, tol: 1e-8}
			require.Equal(t, high > 0, j.proveDistance(index([]Path{got})) != "", "%g, from %d", high, first)
		}
	}
}

// What is farther than the distance from all of the source is no offset either, but for the tips of miters
// where those are wanted; and a side stands for another only as far as it goes along it.
func TestWhatIsTooFarIsSeenThrough(t *testing.T) {
	fault := func(src, got Path, miter float64) string {
		j := offsetJob{src: index([]Path{src}), d: 1, asked: 1, o: OffsetOptions{Miter: miter}, tol: 1e-8}
		return j.proveDistance(index([]Path{got}))
	}
	plate, sharp := Rect(pt(0, 0), pt(40, 20)), Rect(pt(-1, -1), pt(41, 21))
	require.NotEmpty(t, fault(plate, sharp, 0), "the corners should be round")
	require.Empty(t, fault(plate, sharp, 1.5))
	thorn := Polygon(pt(-1, -1), pt(41, -1), pt(41, 5), pt(60, 10), pt(41, 15), pt(41, 21), pt(-1, 21))
	require.NotEmpty(t, fault(plate, thorn, 1.5))
	edge := Polyline(pt(0, 0), pt(40, 0))
	require.Empty(t, fault(edge, Polyline(pt(0, -1), pt(40, -1)), 1.5))
	require.NotEmpty(t, fault(edge, Polyline(pt(0, -1), pt(40, -1), pt(60, -1)), 1.5), "past the end")
	require.NotEmpty(t, fault(edge, Polyline(pt(-20, -1), pt(0, -1), pt(40, -1)), 1.5), "before the start")
}

// In a large result any one vertex out of its place by a few tolerances is found, and so is a bulge, a
// segment left out and a loop that belongs to another distance.
func TestNoPlaceOfALargeOffsetIsUnproved(t *testing.T) {
	rnd := random(t)
	for _, src := range []Path{wavy(4000), lobed(4000)} {
		for _, d := range []float64{-0.03, 0.03} {
			for _, o := range []OffsetOptions{{}, {Miter: 2}} {
				right, err := src.Offset(d, o)
				require.NoError(t, err)
				g, err := newRegion("", []Path{src})
				require.NoError(t, err)
				j := offsetJob{src: g, d: d, asked: d, o: o, tol: Coincidence * (g.size + math.Abs(d))}
				require.Empty(t, j.proveDistance(index(right)))
				for range few(40) {
					bad := clonePaths(right)
					i := rnd.IntN(len(bad[0].Vertices))
					v := &bad[0].Vertices[i]
					to, _, _ := src.Nearest(v.P)
					if dist(to, v.P) > math.Abs(d)+j.tol {
						continue // the tip of a miter may as well be a little nearer
					}
					v.P.X += 4 * j.tol * (to.X - v.P.X) / dist(to, v.P)
					v.P.Y += 4 * j.tol * (to.Y - v.P.Y) / dist(to, v.P)
					require.NotEmpty(t, j.proveDistance(index(bad)), "vertex %d", i)
					bad = clonePaths(right)
					v = &bad[0].Vertices[i]
					// A flatter arc, or a line bent, by 4 tolerances to the side of the source.
					seg := bad[0].Segment(i)
					m := seg.middle()
					to, _, _ = src.Nearest(m)
					if dist(to, m) > math.Abs(d)+j.tol {
						continue
					}
					side := math.Copysign(1, cross(seg.Chord(), r2.Sub(to, m)))
					v.Bulge -= side * 8 * j.tol / length(seg.Chord())
					require.NotEmpty(t, j.proveDistance(index(bad)), "bulge %d", i)
				}
				other, err := src.Offset(d*0.99, o)
				require.NoError(t, err)
				require.NotEmpty(t, j.proveDistance(index(append(clonePaths(right), other...))))
			}
		}
	}
}

// The distance from near the centre of an arc keeps its digits: it is the radius less a little.
func TestDistanceNearACentre(t *testing.T) {
	rnd := random(t)
	for range 2000 {
		c, r := pt(100*rnd.Float64(), 100*rnd.Float64()), 1+100*rnd.Float64()
		s := Circle(c, r).Segment(rnd.IntN(2))
		a, h := math.Pi*rnd.Float64(), r*math.Pow(10, -20*rnd.Float64())
		if s.A.X < s.B.X {
			a = -a
		}
		q := pt(c.X+h*math.Cos(a), c.Y+h*math.Sin(a))
		require.InDelta(t, r-h, s.Distance(q), 1e-13*(r+150))
	}
}

// A strip narrower than the accuracy is an error, not a strip of nothing.
func TestStripOfNothing(t *testing.T) {
	p := Polyline(pt(0, 0), pt(1000, 0))
	_, err := p.Strip(1e-12)
	require.True(t, errors.Is(err, ErrNotProved), "%v", err)
}
