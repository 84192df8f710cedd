package outline

import (
	"encoding/binary"
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// floats reads any bit patterns as numbers: not-a-number, infinities, subnormals and all.
func floats(data []byte) []float64 {
	var out []float64
	for ; len(data) >= 8 && len(out) < 64; data = data[8:] {
		out = append(out, math.Float64frombits(binary.LittleEndian.Uint64(data)))
	}
	return out
}

func pack(xs ...float64) []byte {
	var out []byte
	for _, x := range xs {
		out = binary.LittleEndian.AppendUint64(out, math.Float64bits(x))
	}
	return out
}

func fuzzPath(xs []float64, closed bool) Path {
	p := Path{Closed: closed}
	for ; len(xs) >= 3; xs = xs[3:] {
		p.Vertices = append(p.Vertices, Vertex{pt(xs[0], xs[1]), xs[2]})
	}
	return p
}

// callAll calls everything there is: whatever the numbers, nothing may panic or hang.
func callAll(t testing.TB, xs []float64) {
	if len(xs) < 4 {
		return
	}
	d, rest := xs[0], xs[1:]
	for _, closed := range []bool{true, false} {
		p := fuzzPath(rest, closed)
		q := pt(d, rest[0])
		p.Area()
		p.Moments()
		p.Centroid()
		p.Length()
		p.Bounds()
		p.Side(q)
		p.Distance(q)
		p.Nearest(q)
		p.Crossings(p, d)
		p.SelfCrossings(d)
		x := NewIndex(p, p.Reverse())
		x.Side(q)
		x.Distance(q)
		x.Nearest(q)
		Clearance(p, p.Transform(Translate(q)))
		for _, m := range []Affine{Scale(q, d), Mirror(q, 1), Rotate(q, 2), Scale(q, d).Inverse()} {
			_ = p.Transform(m).Validate()
		}
		_ = p.ValidateOpen()
		_, _ = p.Fillet(1, d)
		_, _ = p.Relieve(1, q, d)
		_, _ = p.Trim(d, rest[0])
		_, _ = p.Insert(0, d)
		_, _ = p.Simplify(d)
		_, _ = Join([]Path{p, p.Reverse()}, d)
		_, _ = p.Parallel(d, OffsetOptions{Miter: rest[1]})
		_, _ = p.Strip(d)
		_, _ = Conic(q, pt(rest[0], rest[1]), pt(rest[2], d), 0.4, d)
		_, _ = FitPoints(chopSafe(p), d)
		_, _ = FitRing(chopSafe(p), d)
		_, _ = Union([]Path{p}, []Path{Rect(q, pt(rest[1], rest[2]))})
		if got, err := p.Offset(d, OffsetOptions{}); err == nil {
			for _, g := range got {
				require.NoError(t, g.Validate(), "%v by %g", p, d)
			}
		} else if !errors.As(err, new(*Fault)) {
			t.Fatalf("not a Fault: %v", err)
		}
		if p.Validate() == nil && p.Bounds().Max.X < 1e4 && d > 1e-3 {
			_, _, _ = Inscribed([]Path{p}, d)
		}
	}
}

func chopSafe(p Path) (pts []r2.Vec) {
	for _, v := range p.Vertices {
		pts = append(pts, v.P)
	}
	return pts
}

func FuzzAnyFloats(f *testing.F) {
	f.Add(pack(1, 0, 0, 0, 10, 0, 0, 10, 10, 0.3, 0, 10, 0))
	f.Add(pack(-0.5, 0, 0, 1, 10, 0, 1))
	f.Add(pack(math.NaN(), 0, 0, 0, 10, math.Inf(1), 0, 10, 10, 0))
	f.Add(pack(5e-324, 1e300, -1e300, 0, 10, 0, 1e300, 10, 10, 0))
	f.Add(pack(1e-9, 1e9, 1e9, 0, 1e9+1, 1e9, 0, 1e9, 1e9+1, 0))
	f.Add(pack(3, 0, 0, -1, 10, 0, 0, 10, 3, 0, 0, 3, 0))
	f.Add(pack(0.25, 0, 0, 1e5, 1e-3, 0, 0, 10, 3, 0))
	// A conic of no size at all, which was followed for minutes.
	f.Add(pack(1.398043286095289e-76, 3.2699999755329466e-86, 1.3980432866180877e-76, 9.005004792076203e-308, 1.5142731548230666e+117, 9.162216479754085e-72))
	f.Fuzz(func(t *testing.T, data []byte) { callAll(t, floats(data)) })
}

// FuzzOffset keeps to sane figures, so that the offset itself is reached: coordinates are
// whole, where coincidences abound.
func FuzzOffset(f *testing.F) {
	f.Add([]byte{10, 0, 0, 0, 40, 0, 0, 40, 30, 0, 0, 30, 0})
	f.Add([]byte{251, 0, 0, 8, 40, 0, 0, 40, 30, 4, 0, 30, 0})
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) < 10 {
			return
		}
		d := float64(int8(data[0])) / 4
		p := Path{Closed: true}
		for xs := data[1:]; len(xs) >= 3 && len(p.Vertices) < 20; xs = xs[3:] {
			p.Vertices = append(p.Vertices, Vertex{pt(float64(xs[0]%64), float64(xs[1]%64)), float64(int8(xs[2])) / 64})
		}
		if p.Validate() != nil {
			return
		}
		got, err := p.Offset(d, OffsetOptions{Miter: float64(data[1] % 3)})
		if err != nil {
			return
		}
		near := math.Abs(d) - 1e-6
		for _, g := range got {
			require.NoError(t, g.Validate())
			for i := range g.NumSegments() {
				require.GreaterOrEqual(t, p.Distance(g.Segment(i).At(0.37)), near)
			}
		}
	})
}

// Extremes in every place of a sound figure: a quick share of what the fuzzer does, always run.
func TestExtremesDoNotPanic(t *testing.T) {
	sound := []float64{2, 0, 0, 0, 30, 0, 0.4, 30, 20, 0, 0, 20, -0.2}
	extremes := []float64{
		math.NaN(), math.Inf(1), math.Inf(-1), 0, math.Copysign(0, -1), 5e-324, -5e-324, 1e-300, 1e-12, -1e-12,
		1, -1, 1e5, -1e5, 1e9, -1e9, 1e18, 1e154, 1e300, -1e300, math.MaxFloat64,
	}
	ran := 0
	for i := range sound {
		for _, x := range extremes {
			xs := append([]float64(nil), sound...)
			xs[i] = x
			callAll(t, xs)
			step := 4 * 4 / few(4) // a share of the pairs
			for j := (i + ran) % step; j < len(sound); j += step {
				ys := append([]float64(nil), xs...)
				ys[j] = extremes[(i*7+j*3+ran)%len(extremes)]
				callAll(t, ys)
			}
			ran++
		}
	}
	require.Equal(t, len(sound)*len(extremes), ran)
}
