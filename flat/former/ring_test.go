package former_test

import (
	"math"
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/former"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

const deg = measure.Degree

// hull is the mold line of a hull frame: a flat keel, two bilges and a crown, each an
// arc tangent to its neighbours. It starts at the middle of the keel.
func hull(keel, bilge, crown float64) outline.Path {
	half := keel / 2
	// The crown's centre lies on the centre line, crown - bilge from the bilges' centres.
	rise := math.Sqrt((crown-bilge)*(crown-bilge) - half*half)
	centre := r2.Vec{Y: bilge - rise}
	lean := math.Atan2(rise, half) // where bilge and crown touch, above the horizontal
	touch := r2.Add(r2.Vec{X: half, Y: bilge}, r2.Vec{X: bilge * math.Cos(lean), Y: bilge * math.Sin(lean)})
	_ = centre
	side := math.Tan((math.Pi/2 + lean) / 4)
	top := math.Tan((math.Pi - 2*lean) / 4)
	return outline.Path{Closed: true, Vertices: []outline.Vertex{
		{}, {P: r2.Vec{X: half}, Bulge: side}, {P: touch, Bulge: top},
		{P: r2.Vec{X: -touch.X, Y: touch.Y}, Bulge: side}, {P: r2.Vec{X: -half}},
	}}
}

func lookup(t testing.TB, name string) material.Material {
	m, err := material.Lookup(name)
	require.NoError(t, err)
	return m
}

// frame8 is the demo: a ring of 2024-O, both flanges up, stringers all round.
func frame8(t testing.TB, cutouts int) former.Former {
	outer := hull(300, 260, 520)
	inside, err := outer.Offset(-90, outline.OffsetOptions{})
	require.NoError(t, err)
	f := former.Former{
		Name:  "frame-8",
		Sheet: material.Sheet{Material: lookup(t, "2024-O"), Thickness: 1.2},
		Outer: former.Rim{Contour: outer, Flange: &former.Flange{Turn: flat.Up, Height: 20, Radius: 3.2,
			Bevels: []former.Bevel{{Angle: 90 * deg}}, Rivets: former.Rivets{Diameter: 3.2, Pitch: 22}}},
		Inner: former.Rim{Contour: inside[0].Reverse(), Flange: &former.Flange{Turn: flat.Up, Height: 14, Radius: 3.2,
			Bevels: []former.Bevel{{Angle: 90 * deg}}}},
	}
	around := outer.Length()
	for i := range cutouts {
		f.Cutouts = append(f.Cutouts, former.Cutout{Girth: around * (float64(i) + 0.5) / float64(cutouts),
			Width: min(20, around/float64(cutouts)/3), Depth: 16, Clearance: 1, Radius: min(3.2, around/float64(cutouts)/6)})
	}
	return f
}

func TestSmoke(t *testing.T) {
	f := frame8(t, 12)
	for _, n := range []int{1, 2, 4} {
		f.Split = former.Split{Pieces: n, Stock: former.Stock{Length: 1000, Width: 600}, BlockStock: former.Stock{Length: 600, Width: 300}}
		r, err := former.Develop(f)
		require.NoError(t, err)
		for _, p := range r.Pieces {
			t.Log(p.Name, p.From, p.To, p.Size, p.Area, p.Mass, p.Pins, p.Block.Size, len(p.Block.Segments), len(p.Rivets), len(p.Helps))
		}
		for _, s := range r.Splices {
			t.Log(s.Name, s.Girth, s.Width, s.PerInch, s.Rivets, s.OnWeb, s.OnOuter, s.OnInner, s.Rows, s.Half)
		}
		for _, x := range r.Findings {
			t.Log(x)
		}
		for _, x := range r.Remedies {
			t.Log(x.Kind, x.From, x.To, len(x.Places), x.TakeUp, x.Depth)
		}
		if n == 4 {
			for _, w := range r.Working()[:10] {
				t.Log(w)
			}
		}
	}
}

func BenchmarkRing200(b *testing.B) {
	f := frame8(b, 200)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := former.Develop(f); err != nil {
			b.Fatal(err)
		}
	}
}
