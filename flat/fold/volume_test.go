package fold_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/hangarflat/hangarflat/flat/fold"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// integrate sums the metal that a map carries into space from a flat quadrilateral, T
// deep, by its Jacobian (finite differences) at the points of Gauss's rule. It knows
// nothing of bends.
func integrate(corners []r2.Vec, thickness float64, place func(p r2.Vec, z float64) r3.Vec) fold.Bulk {
	// Three points of Gauss-Legendre integrate the fifth degree (Abramowitz and Stegun,
	// table 25.4, from memory; the straight cases below hold it).
	nodes := [3]float64{-math.Sqrt(0.6), 0, math.Sqrt(0.6)}
	weights := [3]float64{5. / 9, 8. / 9, 5. / 9}
	const cells = 24
	on := func(s, t float64) r2.Vec {
		near, far := mix(corners[0], corners[3], s), mix(corners[1], corners[2], s)
		return mix(near, far, t)
	}
	var sum fold.Bulk
	var moment r3.Vec
	const d = 1e-4
	slope := func(at func(x float64) r3.Vec, x float64) r3.Vec {
		return r3.Scale(1/(2*d), r3.Sub(at(x+d), at(x-d)))
	}
	for i := range 3 * cells {
		for k := range 3 * cells {
			s := (float64(i/3) + (1+nodes[i%3])/2) / cells
			t := (float64(k/3) + (1+nodes[k%3])/2) / cells
			w := weights[i%3] * weights[k%3] / (4 * cells * cells)
			across := func(z float64) (ds, dt r3.Vec) {
				return slope(func(x float64) r3.Vec { return place(on(x, t), z) }, s),
					slope(func(x float64) r3.Vec { return place(on(s, x), z) }, t)
			}
			ds, dt := across(-thickness / 2)
			sum.Middle += w * r3.Norm(r3.Cross(ds, dt))
			for m := range 3 {
				z := -thickness * (1 + nodes[m]) / 2
				ds, dt := across(z)
				dz := slope(func(x float64) r3.Vec { return place(on(s, t), x) }, z)
				v := w * weights[m] / 2 * thickness * math.Abs(r3.Dot(r3.Cross(ds, dt), dz))
				sum.Volume += v
				moment = r3.Add(moment, r3.Scale(v, place(on(s, t), z)))
			}
		}
	}
	sum.Center = r3.Scale(1/sum.Volume, moment)
	return sum
}

func mix(p, q r2.Vec, t float64) r2.Vec { return r2.Add(p, r2.Scale(t, r2.Sub(q, p))) }

// oneBend is a bend at any slant and place, and its flange; ends cut askew or square.
func oneBend(r *rand.Rand, square bool) fold.Flat {
	turn := r.Float64() * 2 * math.Pi
	o := r2.Vec{X: 400*r.Float64() - 200, Y: 400*r.Float64() - 200}
	at := func(u, v float64) r2.Vec { // v out from the parent
		sin, cos := math.Sincos(turn)
		return r2.Vec{X: o.X + u*cos + v*sin, Y: o.Y + u*sin - v*cos}
	}
	length, width := 20+80*r.Float64(), 2+8*r.Float64()
	lead, tail := 0.3*length*(r.Float64()-0.5), 0.3*length*(r.Float64()-0.5)
	flat := 5 + 20*r.Float64()
	tip := []r2.Vec{at(lead+5, width+flat), at(length+tail-8, width+0.8*flat)}
	if square {
		lead, tail = 0, 0
		tip = []r2.Vec{at(0, width+flat), at(length, width+flat)}
	}
	b := fold.Bend{
		Child: 1, A: at(0, 0), B: at(length, 0), Width: width,
		Angle: measure.Angle(5+175*r.Float64()) * measure.Degree, Radius: 4 * r.Float64(), Up: r.IntN(2) == 0,
		Zone: []r2.Vec{at(0, 0), at(lead, width), at(length+tail, width), at(length, 0)},
	}
	return fold.Flat{
		Thickness: 0.4 + 2*r.Float64(),
		Panels: [][]r2.Vec{
			{at(0, 0), at(length, 0), at(length-3, -15), at(4, -12)},
			{at(lead, width), tip[0], tip[1], at(length+tail, width)},
		},
		Bends: []fold.Bend{b},
	}
}

// wind makes the bend of a flat change along it, evenly or in two stretches, told at
// places close together as a developed blank tells it.
func wind(f *fold.Flat, r *rand.Rand, stretches int) {
	b := &f.Bends[0]
	length := r2.Norm(r2.Sub(b.B, b.A))
	ends := make([]fold.Section, stretches+1)
	for k := range ends {
		ends[k] = fold.Section{
			Near: 8 * r.Float64(), Width: b.Width * (0.9 + 0.1*r.Float64()), Angle: b.Angle * measure.Angle(0.9+0.1*r.Float64()),
		}
	}
	const cuts = 12
	for k := range cuts*stretches + 1 {
		i := min(k/cuts, stretches-1)
		p, q := ends[i], ends[i+1]
		t := float64(k-cuts*i) / cuts
		b.Sections = append(b.Sections, fold.Section{
			At: length * float64(k) / float64(cuts*stretches), Near: p.Near + t*(q.Near-p.Near),
			Width: p.Width + t*(q.Width-p.Width), Angle: p.Angle + measure.Angle(t)*(q.Angle-p.Angle),
		})
	}
}

// Bulk is what integration of the fold's own map gives, of bends of any angle and ends,
// whose bevel changes or does not.
func TestBulkIsTheIntegralOfTheFold(t *testing.T) {
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	r := rand.New(rand.NewPCG(seed, 1))
	runs := 36
	if testing.Short() {
		runs = 9
	}
	for run := range runs {
		// Where two stretches meet the slopes jump; with square ends the cells of the
		// integration part there too.
		stretches := run % 3
		f := oneBend(r, stretches == 2)
		if stretches > 0 {
			wind(&f, r, stretches)
		}
		const within = 5e-6
		s, err := fold.Fold(f)
		require.NoError(t, err)
		got, err := s.Bulk(nil)
		require.NoError(t, err)

		var want fold.Bulk
		var moment r3.Vec
		for _, piece := range []fold.Bulk{
			integrate(f.Panels[0], f.Thickness, func(p r2.Vec, z float64) r3.Vec { return s.Panel(0, p, z) }),
			integrate(f.Panels[1], f.Thickness, func(p r2.Vec, z float64) r3.Vec { return s.Panel(1, p, z) }),
			integrate(f.Bends[0].Zone, f.Thickness, func(p r2.Vec, z float64) r3.Vec { return s.Zone(0, p, z) }),
		} {
			want.Volume += piece.Volume
			want.Middle += piece.Middle
			moment = r3.Add(moment, r3.Scale(piece.Volume, piece.Center))
		}
		want.Center = r3.Scale(1/want.Volume, moment)
		assert.InEpsilon(t, want.Volume, got.Volume, within, "run %d", run)
		assert.InEpsilon(t, want.Middle, got.Middle, within, "run %d", run)
		assert.InDelta(t, 0, r3.Norm(r3.Sub(want.Center, got.Center)), 100*within, "run %d", run)
	}
}

// The bends of the trade by Pappus's second theorem: a ring of section T by W turned
// through A about an axis R from it has A·(R + T/2)·T·W of volume. The flat zone it came
// from, A(R + KT) wide, has A·T²·W·(K - 1/2) more; nothing more only at K = 1/2.
func TestBendVolume(t *testing.T) {
	for _, c := range []struct {
		degrees   measure.Angle
		r, t, k   float64
		up        bool
		near, far float64 // lengths of the tangent lines
	}{
		{90, 3, 1, 0.5, true, 100, 100},
		{90, 3, 1, 0.4, true, 100, 100},
		{97.5, 0.125 * measure.Inch, 0.040 * measure.Inch, 0.446, false, 100, 88}, // 0.446: the handbook's 0.0078/0.01743
		{180, 0, 1.6, 0.33, true, 50, 62},
		{12, 6, 0.8, 0.5, false, 30, 26},
	} {
		a := (c.degrees * measure.Degree).Radians()
		width := a * (c.r + c.k*c.t)
		lead := (c.near - c.far) / 2
		f := fold.Flat{
			Thickness: c.t,
			Panels:    [][]r2.Vec{{{}, {X: c.near}, {X: c.near, Y: 30}}, {{X: lead, Y: -width}, {X: c.near / 2, Y: -width - 9}, {X: lead + c.far, Y: -width}}},
			Bends: []fold.Bend{{Child: 1, B: r2.Vec{X: c.near}, Width: width, Angle: c.degrees * measure.Degree, Radius: c.r, Up: c.up,
				Zone: []r2.Vec{{}, {X: lead, Y: -width}, {X: lead + c.far, Y: -width}, {X: c.near}}}},
		}
		s, err := fold.Fold(f)
		require.NoError(t, err)
		got := alone(t, f, s, 0)
		mean := (c.near + c.far) / 2
		assert.InEpsilon(t, a*c.t*mean*(c.r+c.t/2), got.Volume, 1e-12, "%+v", c)
		assert.InEpsilon(t, a*mean*(c.r+c.t/2), got.Middle, 1e-12, "%+v", c)
		// Centred on the bend's length and, by symmetry, of even length also on its
		// middle angle.
		assert.InDelta(t, c.near/2, got.Center.X, 1e-9, "%+v", c)
		flat := width * c.t * mean
		assert.InDelta(t, a*c.t*c.t*mean*(c.k-0.5), flat-got.Volume, 1e-9, "%+v", c)
		assert.Equal(t, c.k == 0.5, math.Abs(flat-got.Volume) < 1e-6, "%+v: only a neutral line in the middle keeps the volume", c)
	}
}

// A quarter ring from radius 3 to 4: the centroid of a thin quarter arc lies 2r/π from
// the axis along both legs (any table of centroids), and weighted by r through the
// thickness that is (4³ - 3³)/3 over (4² - 3²)/2, times 2/π = 2.243327.
func TestBendBalance(t *testing.T) {
	s, err := fold.Fold(angle())
	require.NoError(t, err)
	c := alone(t, angle(), s, 0).Center
	const out = (64. - 27) / 3 / 3.5 * 2 / math.Pi
	assert.InDelta(t, 2.243327, out, 1e-6)
	assert.InDelta(t, 50, c.X, 1e-9)
	assert.InDelta(t, -out, c.Y, 1e-9)
	assert.InDelta(t, 3-out, c.Z, 1e-9)
}

// A full round of four square bends and four equal sides is a tube: it balances on its
// axis, whichever way it is wound.
func TestTubeBalancesOnItsAxis(t *testing.T) {
	for _, up := range []bool{true, false} {
		f := fold.Flat{Thickness: 1, Panels: [][]r2.Vec{{{}, {X: 20}, {X: 20, Y: 40}, {Y: 40}}}}
		at, a, b := 0, r2.Vec{X: 20}, r2.Vec{X: 20, Y: 40}
		for range 3 {
			at, a, b = grow(&f, at, a, b, 90*measure.Degree, 1.5, up, 20)
		}
		// The fourth bend closes it; its flange is a sliver of no account.
		grow(&f, at, a, b, 90*measure.Degree, 1.5, up, 1e-9)
		s, err := fold.Fold(f)
		require.NoError(t, err)
		c, err := s.Bulk(nil)
		require.NoError(t, err)
		z := 10 + 1.5
		if !up {
			z = -1 - z
		}
		assert.InDelta(t, 0, r3.Norm(r3.Sub(r3.Vec{X: 10, Y: 20, Z: z}, c.Center)), 1e-8)
		assert.InEpsilon(t, 40*(4*20+2*math.Pi*2), c.Volume, 1e-9)
	}
}

func TestBulkHoles(t *testing.T) {
	s, err := fold.Fold(angle())
	require.NoError(t, err)
	whole, err := s.Bulk(nil)
	require.NoError(t, err)
	tip := s.Flat.Panels[1][1]
	hole := fold.Hole{Panel: 1, Circle: fold.Circle{Center: r2.Vec{X: 30, Y: tip.Y + 6}, Radius: 4}}
	pierced, err := s.Bulk([]fold.Hole{hole})
	require.NoError(t, err)
	assert.InDelta(t, math.Pi*16, whole.Volume-pierced.Volume, 1e-9)
	assert.InDelta(t, math.Pi*16, whole.Middle-pierced.Middle, 1e-9)
	// What was taken away balanced on the flange's middle, y = -3.5, 6 mm below the
	// tip at z = 19.
	gone := r3.Sub(r3.Scale(whole.Volume, whole.Center), r3.Scale(pierced.Volume, pierced.Center))
	gone = r3.Scale(1/(math.Pi*16), gone)
	assert.InDelta(t, 0, r3.Norm(r3.Sub(r3.Vec{X: 30, Y: -3.5, Z: 13}, gone)), 1e-9)
}

func TestBulkFaults(t *testing.T) {
	s, err := fold.Fold(angle())
	require.NoError(t, err)
	center := r2.Vec{X: 50, Y: 25}
	circle := func(p r2.Vec, r float64) fold.Circle { return fold.Circle{Center: p, Radius: r} }
	for _, c := range []struct {
		hole  fold.Hole
		field string
	}{
		{fold.Hole{Panel: 2, Circle: circle(center, 5)}, "hole 0 panel"},
		{fold.Hole{Panel: -1, Circle: circle(center, 5)}, "hole 0 panel"},
		{fold.Hole{Circle: circle(center, 0)}, "hole 0 radius"},
		{fold.Hole{Circle: circle(center, math.NaN())}, "hole 0 radius"},
		{fold.Hole{Circle: circle(center, math.Inf(1))}, "hole 0 radius"},
		{fold.Hole{Circle: circle(center, 21.1)}, "hole 0 radius"}, // 46 - 25 = 21 to the edge
		{fold.Hole{Circle: circle(r2.Vec{X: -50, Y: 25}, 5)}, "hole 0 radius"},
		{fold.Hole{Circle: circle(r2.Vec{X: math.NaN(), Y: 25}, 5)}, "hole 0 radius"},
	} {
		_, err := s.Bulk([]fold.Hole{c.hole})
		var fault *fold.Error
		if assert.True(t, errors.As(err, &fault), "%+v", c) {
			assert.Equal(t, c.field, fault.Field)
		}
	}
	_, err = s.Bulk([]fold.Hole{{Circle: circle(center, 20.9)}})
	require.NoError(t, err)
	var fault *fold.Error
	_, err = fold.Solid{}.Bulk(nil)
	require.ErrorAs(t, err, &fault, "a solid of nothing")
}
