package outline

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
)

// wavy is a closed outline of n points: a disc of a metre with seven lobes and a ripple.
func wavy(n int) Path {
	pts := make([]r2.Vec, n)
	for i := range pts {
		a := 2 * math.Pi * float64(i) / float64(n)
		r := 500 * (1 + 0.15*math.Sin(7*a) + 0.03*math.Sin(31*a))
		pts[i] = pt(r*math.Cos(a), r*math.Sin(a))
	}
	return Polygon(pts...)
}

// lobed is a closed outline of n segments, lines and arcs by turns, that go in and out: teeth
// with rounded tips and roots, every arc tangent to its lines.
func lobed(n int) Path {
	p := Path{Closed: true}
	teeth := n / 4
	step := 2 * math.Pi / float64(teeth)
	r := 500.0
	h := r * step / 2
	for i := range teeth {
		at := func(frac, r float64) r2.Vec {
			s, c := math.Sincos(step * (float64(i) + frac))
			return pt(r*c, r*s)
		}
		p.Vertices = append(p.Vertices,
			Vertex{at(0, r), 0}, Vertex{at(0.05, r+h), 0.8}, Vertex{at(0.45, r+h), 0}, Vertex{at(0.5, r), -0.7})
	}
	return p
}

func BenchmarkOffset(b *testing.B) {
	shapes := []struct {
		name string
		make func(int) Path
		d    func(n int) float64
	}{
		{"polygon-in", wavy, func(int) float64 { return -5 }},
		{"polygon-out", wavy, func(int) float64 { return 5 }},
		{"arcs-in", lobed, func(n int) float64 { return -200 / float64(n) }},
		{"arcs-out", lobed, func(n int) float64 { return 200 / float64(n) }},
	}
	for _, s := range shapes {
		for _, n := range []int{100, 1000, 10000, 100000} {
			p := s.make(n)
			b.Run(fmt.Sprintf("%s/%d", s.name, n), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					if _, err := p.Offset(s.d(n), OffsetOptions{}); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/segment")
			})
		}
	}
}

func BenchmarkFitPoints(b *testing.B) {
	for _, n := range []int{1000, 10000, 100000, 1000000} {
		pts := make([]r2.Vec, n)
		for i := range pts {
			q, _ := wave(2000 * float64(i) / float64(n))
			pts[i] = q
		}
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			b.ReportAllocs()
			arcs := 0
			for b.Loop() {
				p, err := FitPoints(pts, 0.05)
				if err != nil {
					b.Fatal(err)
				}
				arcs = p.NumSegments()
			}
			b.ReportMetric(float64(arcs), "arcs")
		})
	}
}

func BenchmarkFitCurve(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := FitCurve(wave, 0, 200, 0.01); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkUnion(b *testing.B) {
	for _, n := range []int{100, 10000} {
		p := wavy(n)
		q := p.Transform(Translate(pt(300, 100)))
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Union([]Path{p}, []Path{q}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkValidate(b *testing.B) {
	p := wavy(100000)
	b.ReportAllocs()
	for b.Loop() {
		if err := p.Validate(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkIndexSide(b *testing.B) {
	x := NewIndex(wavy(10000))
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		x.Side(pt(float64(i%1000)-500, float64(i%777)-388))
	}
}

func BenchmarkArea(b *testing.B) {
	p := lobed(1000)
	b.ReportAllocs()
	for b.Loop() {
		p.Area()
	}
}
