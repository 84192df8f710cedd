package flat_test

import (
	"testing"

	"github.com/hangarflat/hangarflat/flat"
)

// BenchmarkDevelop develops the intercostal of TestBetween: four flanges, one of
// them down, no two angles alike. Goals: 20 µs to lay it out, 60 µs with its proof.
func BenchmarkDevelop(b *testing.B) {
	p, err := flat.Between(stock(), surroundings())
	if err != nil {
		b.Fatal(err)
	}
	for _, c := range []struct {
		name    string
		develop func(flat.Part) (flat.Blank, error)
	}{{"alone", flat.LaidOut}, {"proof", flat.Proved}, {"proof-findings", flat.Develop}} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := c.develop(p); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
