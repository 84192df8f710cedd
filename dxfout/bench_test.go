package dxfout

import (
	"io"
	"math"
	"strconv"
	"testing"

	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
)

// counter counts bytes and drops them.
type counter struct{ n int64 }

func (c *counter) Write(p []byte) (int, error) {
	c.n += int64(len(p))
	return len(p), nil
}

const million = 1_000_000

// spot is the i-th of many places, with all its decimals.
func spot(i int) r2.Vec { return r2.Vec{X: math.Sqrt(float64(i)) * 0.9, Y: 1000 / float64(i+7)} }

// A million entities, half of them circles and half triangles with an arc. Goal: 1.5
// times the bare numbers below, in the same run.
func BenchmarkMillionEntities(b *testing.B) {
	for _, o := range []Options{{R2000, Millimetre}, {R12, Inch}} {
		b.Run(o.String(), func(b *testing.B) {
			b.ReportAllocs()
			var c counter
			path := outline.Path{Closed: true, Vertices: make([]outline.Vertex, 3)}
			for b.Loop() {
				c.n = 0
				s := plainSheet()
				s.Options = o
				w, err := NewWriter(&c, s)
				if err != nil {
					b.Fatal(err)
				}
				for i := range million / 2 {
					p := spot(i)
					w.Circle("CUT", p, 0.7)
					path.Vertices[0] = outline.Vertex{P: p, Bulge: 0.3}
					path.Vertices[1] = outline.Vertex{P: r2.Vec{X: p.X + 1.1, Y: p.Y}}
					path.Vertices[2] = outline.Vertex{P: r2.Vec{X: p.X, Y: p.Y + 1.3}}
					w.Path("CUT", path)
				}
				if err := w.Close(); err != nil {
					b.Fatal(err)
				}
			}
			b.SetBytes(c.n)
		})
	}
}

// The same numbers, the same number of bytes, formatted by the standard library
// and nothing else: what a bare loop costs.
func BenchmarkBareNumbers(b *testing.B) {
	var entity counter
	w, err := NewWriter(&entity, plainSheet())
	if err != nil {
		b.Fatal(err)
	}
	w.Circle("CUT", spot(3), 0.7)
	if err := w.Close(); err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	var c counter
	buf := make([]byte, 0, 1<<16)
	for b.Loop() {
		c.n = 0
		put := func(x float64) {
			buf = strconv.AppendFloat(buf, x, 'f', 8, 64)
			buf = append(buf, '\r', '\n')
			if len(buf) > 1<<15 {
				c.Write(buf)
				buf = buf[:0]
			}
		}
		for i := range million / 2 {
			p := spot(i)
			for _, x := range [...]float64{p.X, p.Y, 0.7, p.X, p.Y, 0.3, p.X + 1.1, p.Y, p.X, p.Y + 1.3} {
				put(x)
			}
		}
	}
	b.SetBytes(c.n)
}

func BenchmarkWrite(b *testing.B) {
	d, _ := slotted()
	b.ReportAllocs()
	for b.Loop() {
		if err := Write(io.Discard, d, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
