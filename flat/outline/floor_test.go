package outline

import (
	"fmt"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
)

// BenchmarkBareMiter moves each corner of the polygons that BenchmarkOffset offsets
// along its miter, and tests nothing: no offset can cost less.
func BenchmarkBareMiter(b *testing.B) {
	for _, n := range []int{1000, 10000, 100000} {
		p := wavy(n).Vertices
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				moved := make([]Vertex, n)
				before := r2.Unit(r2.Sub(p[0].P, p[n-1].P))
				for i := range p {
					after := r2.Unit(r2.Sub(p[(i+1)%n].P, p[i].P))
					side := r2.Add(before, after)
					// Of length 2 cos(half the turn); the miter is d / cos(half the turn) long.
					miter := r2.Scale(-2*5/r2.Norm2(side), r2.Vec{X: side.Y, Y: -side.X})
					moved[i].P = r2.Add(p[i].P, miter)
					before = after
				}
			}
		})
	}
}
