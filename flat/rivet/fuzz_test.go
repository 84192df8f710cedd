package rivet_test

import (
	"errors"
	"math"
	"testing"

	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/flat/rivet"
)

// Any numbers give a layout or an error of this package, and no layout holds a number that is
// not one.
func FuzzPattern(f *testing.F) {
	f.Add(100.0, 50.0, 0.3, 8.0, 20.0, 15.0, 6.0, 3.2, uint8(2), true)
	f.Add(100.0, 50.0, -1.0, 8.0, 1.0, 0.0, 200.0, 3.2, uint8(9), false)
	f.Add(math.NaN(), math.Inf(1), 1e300, -1e300, 1e-300, math.MaxFloat64, math.Copysign(0, -1), 0.0, uint8(255), true)
	f.Fuzz(func(t *testing.T, x, y, bulge, inset, pitch, spacing, end, diameter float64, rows uint8, closed bool) {
		if math.Abs(x) > 2000 || math.Abs(y) > 2000 || pitch < 2 && pitch > 0 {
			pitch = math.NaN() // keep the runs short
		}
		p := rivet.Pattern{
			Edge:  outline.Path{Closed: closed, Vertices: []outline.Vertex{{P: at(0, 0), Bulge: bulge}, {P: at(x, 0)}, {P: at(x, y), Bulge: -bulge / 2}, {P: at(0, 2*y)}}},
			Inset: inset, Rows: int(rows % 4), Pitch: pitch, Spacing: spacing, End: end, Stagger: closed,
			Keep:  []rivet.Keepout{{Shape: outline.Circle(at(x/2, 0), math.Abs(y)/9), Clear: end / 2}},
			Found: []rivet.Found{{At: at(x/3, inset)}, {At: at(y, x), Diameter: diameter}},
		}
		l, err := p.Lay(rivet.Rivet{Diameter: diameter})
		if err != nil {
			var bad *rivet.Error
			if !errors.As(err, &bad) {
				t.Fatalf("%T %v", err, err)
			}
			return
		}
		for _, row := range l.Rows {
			for _, h := range row.Holes {
				if !(math.Abs(h.At.X) < 1e6 && math.Abs(h.At.Y) < 1e6) {
					t.Fatalf("%s has a rivet at %v", row.Name, h.At)
				}
			}
		}
		order, err := rivet.DrivingOrder(l.Rows)
		if err != nil || len(order) != l.Count() {
			t.Fatalf("%d of %d: %v", len(order), l.Count(), err)
		}
		if _, err := rivet.EstimateSlack(l.Rows, order, .01); err != nil {
			t.Fatal(err)
		}
	})
}
