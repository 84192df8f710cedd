package flat_test

import (
	"testing"

	"github.com/hangarflat/hangarflat/flat"
)

// BenchmarkDevelop develops and proves the intercostal of TestBetween: four
// flanges, one of them down, no two angles alike.
func BenchmarkDevelop(b *testing.B) {
	p, err := flat.Between(stock(), surroundings())
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := flat.Develop(p); err != nil {
			b.Fatal(err)
		}
	}
}
