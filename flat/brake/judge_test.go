package brake

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/fold"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// randomPart is a web of three to five sides, askew, with flanges up and down, most near
// 90° and some with lips.
func randomPart(r *rand.Rand) flat.Part {
	n := 3 + r.IntN(3)
	p := flat.Part{
		Name:   "random",
		Sheet:  material.Sheet{Material: material.Material{Alloy: "2024", Temper: "O"}, Thickness: 0.5 + r.Float64()},
		Rule:   bend.NeutralAxis{K: 0.4},
		Radius: 2 + 3*r.Float64(),
	}
	flange := func(name string, height float64) flat.Flange {
		return flat.Flange{Name: name, Angle: measure.Angle(50+70*r.Float64()) * measure.Degree, Height: height, Turn: flat.Turn(r.IntN(2))}
	}
	strip := r.IntN(2) == 0 // or a strip bent on its long sides
	width := 20 + 60*r.Float64()
	if strip {
		n = 4
	}
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.5*r.Float64()) / float64(n))
		size := 50 + 70*r.Float64()
		e := flat.Edge{Name: string(rune('a' + i)), Start: r2.Vec{X: size * cos, Y: size * sin}}
		if strip {
			e.Start = [4]r2.Vec{{}, {X: 150}, {X: 150, Y: width}, {Y: width}}[i]
		}
		if strip && i%2 == 0 || !strip && r.IntN(4) > 0 {
			f := flange(e.Name, 20+20*r.Float64())
			if r.IntN(2) == 0 {
				f.Flanges = []flat.Flange{flange(e.Name+"-lip", 14+10*r.Float64())}
			}
			e.Flanges = []flat.Flange{f}
		}
		p.Web.Edges = append(p.Web.Edges, e)
	}
	return p
}

func randomBrake(r *rand.Rand) Brake {
	b := Brake{
		Length: 2000,
		Nose:   Nose{Depth: 5 + 50*r.Float64(), Height: 10 + 50*r.Float64(), Most: 140 * measure.Degree, Lift: 15 + 40*r.Float64()},
		Bed:    Bed{Depth: 10 + 100*r.Float64(), Height: 100},
		Leaf:   Leaf{Depth: 5 + 50*r.Float64(), Height: 5 + 20*r.Float64()},
		Clear:  2 * r.Float64(),
	}
	if r.IntN(2) == 0 {
		b.Nose.Finger = 5
	}
	if r.IntN(2) == 0 { // a roomy one
		b.Nose.Depth, b.Nose.Height, b.Nose.Lift, b.Bed.Depth, b.Leaf.Depth = 6, 12, 120, 8, 5
	}
	return b
}

func randomJob(r *rand.Rand, most int) (*job, *flat.Blank) {
	for {
		blank, err := flat.Develop(randomPart(r))
		if err != nil || len(blank.Bends) == 0 || len(blank.Bends) > most {
			continue
		}
		j, err := newJob(randomBrake(r), &blank, nil)
		if err == nil {
			return j, &blank
		}
	}
}

// The order given is the best there is: every order of every part is tried by hand, each
// step judged for itself.
func TestBestOfAllOrders(t *testing.T) {
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	r := rand.New(rand.NewPCG(seed, 1))
	runs := 60
	if testing.Short() {
		runs = 20
	}
	var goes, blocked, turned, lipped, byChild int
	// Few parts need not meet every hard case: more are drawn until they do.
	for k := 0; k < runs || k < 20*runs && min(goes, blocked, turned, lipped, byChild) == 0; k++ {
		j, blank := randomJob(r, 5)
		n := len(j.flat.Bends)
		least := math.MaxInt
		s := search{job: j, depth: depths(j.flat)}
		var try func(m made, last, turns int)
		try = func(m made, last, turns int) {
			if m == 1<<n-1 {
				least = min(least, turns)
				return
			}
			for i := range n {
				if m.has(i) {
					continue
				}
				if _, ok := s.make(i, m); !ok {
					continue
				}
				more := turns
				if last >= 0 && j.flat.Bends[last].Up != j.flat.Bends[i].Up {
					more++
				}
				try(m.with(i), i, more)
			}
		}
		try(0, -1, 0)

		plan, err := j.brake.Order(*blank, nil)
		require.NoError(t, err)
		if plan.Stopped() {
			assert.Equal(t, math.MaxInt, least)
			assert.Empty(t, plan.Steps)
			blocked++
			continue
		}
		assert.Equal(t, least, plan.TurnOvers)
		goes++
		var m made
		over := 0
		for k, step := range plan.Steps {
			move, ok := s.make(step.Bend, m)
			require.True(t, ok)
			assert.Equal(t, move.clears, step.Clears)
			m = m.with(step.Bend)
			if k > 0 && plan.Steps[k-1].Turn != step.Turn {
				over++
				assert.True(t, step.TurnOver)
			}
			if step.Hold != j.flat.Bends[step.Bend].Parent {
				byChild++
			}
			if j.flat.Bends[step.Bend].Parent > 0 {
				lipped++
			}
		}
		turned += over
		assert.Equal(t, over, plan.TurnOvers)
		assert.Equal(t, made(1<<n-1), m)

		again, err := j.brake.Order(*blank, nil)
		require.NoError(t, err)
		assert.Equal(t, plan, again, "the same every time")
	}
	for name, n := range map[string]int{"goes": goes, "blocked": blocked, "turned over": turned, "lips": lipped, "held by the child": byChild} {
		assert.Positive(t, n, "the generator misses %q", name)
	}
}

// The swing carries the metal as fold carries it, with the bend part made: the angle
// reached, and the metal that has wrapped by then.
func TestSwingIsAPartFold(t *testing.T) {
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	r := rand.New(rand.NewPCG(seed, 2))
	for range 200 {
		j, _ := randomJob(r, 8)
		i := r.IntN(len(j.flat.Bends))
		b := j.flat.Bends[i]
		reached := r.Float64()
		byParent := r.IntN(2) == 0

		half := j.flat
		half.Bends = append([]fold.Bend(nil), j.flat.Bends...)
		half.Bends[i].Angle *= measure.Angle(reached)
		half.Bends[i].Width *= reached
		solid, err := fold.Fold(half)
		require.NoError(t, err)

		// Part folded, the metal wraps from the parent's end. Held by the parent that is
		// the held end; held by the child the metal that is not yet wrapped lies flat on
		// the held side, behind the line where the turn begins.
		sw := swing{j.flat.Thickness, b.Radius, b.Width, b.Angle}
		panel := b.Child
		if !byParent {
			panel, sw.width = b.Parent, 0
		}
		part := stock{solid, made(1)<<len(half.Bends) - 1}
		held := part.seat(&half, i, byParent, b.Up)
		s := j.stock(0)
		swung := s.seat(&j.flat, i, !byParent, b.Up).turnedAway()
		for _, corner := range j.flat.Panels[panel] {
			for _, z := range []float64{0, -j.flat.Thickness} {
				from := swung.local(s.solid.Panel(panel, corner, z))
				got := sw.at(b.Angle*measure.Angle(reached), r2.Vec{X: from.Y, Y: from.Z})
				want := held.local(solid.Panel(panel, corner, z))
				assert.InDelta(t, want.Y, got.X, 1e-8)
				assert.InDelta(t, want.Z, got.Y, 1e-8)
			}
		}
	}
}

// No point moves faster than the reach of its profile.
func TestReachBoundsTheSwing(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	for range 2000 {
		s := swing{1, 5 * r.Float64(), 1 + 10*r.Float64(), measure.Angle(0.2 + 2*r.Float64())}
		p := r2.Vec{X: 60 * r.Float64(), Y: 80 * (r.Float64() - 0.5)}
		a, d := s.turn*measure.Angle(1.1*r.Float64()), measure.Angle(1e-4)
		moved := r2.Norm(r2.Sub(s.at(a+d, p), s.at(a, p)))
		assert.LessOrEqual(t, moved, s.reach(convex{p})*float64(d)*(1+1e-6))
	}
}

// Clearance by hand: beside, corner to corner, touching, standing in, right inside.
func TestClearance(t *testing.T) {
	box := func(x, y, w, h float64) convex {
		return convex{{X: x, Y: y}, {X: x + w, Y: y}, {X: x + w, Y: y + h}, {X: x, Y: y + h}}
	}
	unit := box(0, 0, 10, 10)
	diamond := convex{{X: 15, Y: 5}, {X: 20, Y: 0}, {X: 25, Y: 5}, {X: 20, Y: 10}}
	for _, c := range []struct {
		name string
		d    convex
		want float64
	}{
		{"beside", box(12, 3, 5, 2), 2},
		{"corner to corner", box(13, 14, 5, 5), 5},
		{"touching", box(10, 3, 5, 5), 0},
		{"standing in", box(8, 3, 5, 5), -2},
		{"right inside", box(4, 4, 2, 3), -6}, // out sideways by 6, up or down by 6 or 7
		{"corner to side", diamond, 5},
	} {
		assert.InDelta(t, c.want, unit.clearance(c.d), 1e-12, c.name)
		assert.InDelta(t, c.want, c.d.clearance(unit), 1e-12, c.name)
	}
}

// Clearance of random outlines against their points set close together.
func TestClearanceAgainstPoints(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	some := func(x float64) convex {
		points := make([]r2.Vec, 6)
		for i := range points {
			points[i] = r2.Vec{X: x + 10*r.Float64(), Y: 10 * r.Float64()}
		}
		return hull(points)
	}
	apart, over := 0, 0
	for range 300 {
		c, d := some(0), some(12*r.Float64())
		got := c.clearance(d)
		least := math.Inf(1)
		walk(c, func(p r2.Vec) { walk(d, func(q r2.Vec) { least = min(least, r2.Norm(r2.Sub(p, q))) }) })
		if got < 0 {
			// Where the outlines overlap their rims cross, or one lies in the other.
			over++
			shifted := make(convex, len(d))
			parted := false
			for k := range 720 {
				sin, cos := math.Sincos(2 * math.Pi * float64(k) / 720)
				for i, q := range d {
					shifted[i] = r2.Add(q, r2.Vec{X: -got * 1.001 * cos, Y: -got * 1.001 * sin})
				}
				assert.LessOrEqual(t, c.clearance(shifted), -got*0.002, "no shorter shift parts them")
				parted = parted || c.clearance(shifted) > got*1e-2
			}
			assert.True(t, parted, "some shift of that length does")
			continue
		}
		apart++
		assert.InDelta(t, least, got, 0.3)
		assert.LessOrEqual(t, got, least+1e-12)
	}
	assert.Greater(t, apart, 50)
	assert.Greater(t, over, 50)
}

// walk visits points along the rim, no more than 0.3 mm apart.
func walk(c convex, visit func(r2.Vec)) {
	for i, p := range c {
		e := r2.Sub(c[(i+1)%len(c)], p)
		n := int(r2.Norm(e)/0.3) + 1
		for k := range n {
			visit(r2.Add(p, r2.Scale(float64(k)/float64(n), e)))
		}
	}
}

// A hollow panel is cut into convex pieces that cover it and nothing else.
func TestPiecesCoverThePanel(t *testing.T) {
	ell := []r2.Vec{{}, {X: 30}, {X: 30, Y: 10}, {X: 10, Y: 10}, {X: 10, Y: 40}, {Y: 40}}
	star := make([]r2.Vec, 14)
	for i := range star {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 14)
		size := 30.0
		if i%2 == 1 {
			size = 9
		}
		star[i] = r2.Vec{X: size * cos, Y: size * sin}
	}
	for _, corners := range [][]r2.Vec{ell, star, ell[:3]} {
		area := func(c []r2.Vec) (sum float64) {
			for i, p := range c {
				sum += r2.Cross(p, c[(i+1)%len(c)]) / 2
			}
			return sum
		}
		var sum float64
		for _, p := range pieces(corners) {
			assert.True(t, isConvex(p))
			assert.Positive(t, area(p))
			sum += area(p)
		}
		assert.InDelta(t, area(corners), sum, 1e-9)
	}
	assert.Len(t, pieces(ell[:3]), 1)
	assert.Greater(t, len(pieces(star)), 6)
}

// The bar: round at the nose, its front at the angle given, cut at top and heel.
func TestNoseSection(t *testing.T) {
	n := Nose{Depth: 30, Height: 40, Most: 135 * measure.Degree}
	c := n.section(1, 3)
	for i, p := range c {
		assert.True(t, -30-1e-9 <= p.X && 1-1e-9 <= p.Y && p.Y <= 41+1e-9, "%+v", p)
		prev, next := c[(i+len(c)-1)%len(c)], c[(i+1)%len(c)]
		assert.GreaterOrEqual(t, r2.Cross(r2.Sub(p, prev), r2.Sub(next, p)), -1e-9, "convex")
	}
	// On the front's line y + z = 4 + 6/√2 at the heel.
	apex := r2.Vec{X: -30, Y: 4 + 6/math.Sqrt2 + 30}
	near := math.Inf(1)
	for _, p := range c {
		near = min(near, r2.Norm(r2.Sub(p, apex)))
	}
	assert.Less(t, near, 1e-9)

	fingers := Brake{Nose: Nose{Finger: 10}}
	from, to := fingers.bar(4, 96)
	assert.Equal(t, [2]float64{5, 95}, [2]float64{from, to}, "nine fingers in the middle of 92 mm")
	from, to = fingers.bar(0, 90)
	assert.Equal(t, [2]float64{0, 90}, [2]float64{from, to}, "nine fill 90 mm")
	fingers.Clear = 1
	from, to = fingers.bar(0, 90)
	assert.Equal(t, [2]float64{5, 85}, [2]float64{from, to}, "and eight leave a clearance at their ends")
	fingers.Clear = 4
	from, to = fingers.bar(4, 96)
	assert.Equal(t, [2]float64{10, 90}, [2]float64{from, to}, "at both ends: 92 mm less 4 and 4 is no nine")
	fingers.Clear = 1.5
	from, to = fingers.bar(4, 96)
	assert.Equal(t, [2]float64{10, 90}, [2]float64{from, to}, "nor is 92 mm less 1.5 and 1.5")
	from, to = fingers.bar(0, 7)
	assert.Equal(t, [2]float64{-1.5, 8.5}, [2]float64{from, to}, "one there has to be")
	from, to = Brake{}.bar(4, 96)
	assert.True(t, math.IsInf(from, -1) && math.IsInf(to, 1))
}

// A tray of four walls with four lips, and one more bend: the largest jobs end.
func BenchmarkTrayWithLips(b *testing.B) {
	p := flat.Part{
		Name:   "tray",
		Sheet:  material.Sheet{Material: material.Material{Alloy: "2024", Temper: "O"}, Thickness: 1},
		Radius: 3,
	}
	for i, at := range []r2.Vec{{}, {X: 240}, {X: 240, Y: 180}, {Y: 180}} {
		name := string(rune('a' + i))
		p.Web.Edges = append(p.Web.Edges, flat.Edge{Name: name, Start: at, Flanges: []flat.Flange{{
			Name: name, Angle: 90 * measure.Degree, Height: 40,
			Flanges: []flat.Flange{{Name: name + "-lip", Angle: 90 * measure.Degree, Height: 15}},
		}}})
	}
	blank, err := flat.Develop(p)
	require.NoError(b, err)
	require.Len(b, blank.Bends, 8)
	shop := Brake{
		Length: 1000, Nose: Nose{Depth: 60, Height: 25, Most: 135 * measure.Degree, Lift: 60, Finger: 10},
		Bed: Bed{Depth: 200, Height: 100}, Leaf: Leaf{Depth: 60, Height: 25},
	}
	for _, finger := range []float64{10, 0} {
		shop.Nose.Finger = finger
		b.Run(map[float64]string{10: "fingers", 0: "blocked"}[finger], func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := shop.Order(blank, nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// The tightest place of a swing is found between its steps.
func TestSweepClosesIn(t *testing.T) {
	l := look{job: &job{}, to: 1.6, best: verdict{clears: math.Inf(1)}}
	l.sweep(&profile{}, noseBar, true, 100, func(a measure.Angle) float64 { return 5 + 40*math.Abs(float64(a)-0.7123) })
	assert.InDelta(t, 5, l.best.clears, 1e-4)
	assert.InDelta(t, 0.7123, float64(l.best.at), 1e-5)
	assert.True(t, l.best.swings)
}

// The tightest place may lie off the tightest step: a swing that clears by 6 near its start
// and by 5 in a dip as steep as metal moves. And it may lie below what is known already where
// no step does: the steps are 0.05 rad apart and the dip rises 2 mm in that.
func TestSweepMissesNoDip(t *testing.T) {
	dip := func(a measure.Angle) float64 {
		return min(6+math.Abs(float64(a)-0.1), 5+40*math.Abs(float64(a)-0.954))
	}
	for _, known := range []float64{math.Inf(1), 5.2} {
		l := look{job: &job{}, to: 1.6, best: verdict{clears: known}}
		l.sweep(&profile{}, noseBar, true, 40, dip)
		assert.InDelta(t, 5, l.best.clears, 1e-4)
		assert.InDelta(t, 0.954, float64(l.best.at), 1e-5)
	}
}

// bent is a job of strips 100 mm long, of 1 mm bent round 3 mm, on the lower and the upper
// edge of a web 50 mm wide; the bends are numbered as they hang: lower, what hangs from it,
// upper.
func bent(t *testing.T, b Brake, lower, upper flat.Flange) *job {
	t.Helper()
	p := flat.Part{
		Name: "bent", Radius: 3, Rule: bend.NeutralAxis{K: 0.5},
		Sheet: material.Sheet{Material: material.Material{Alloy: "2024", Temper: "O"}, Thickness: 1},
	}
	for i, at := range []r2.Vec{{}, {X: 100}, {X: 100, Y: 50}, {Y: 50}} {
		e := flat.Edge{Name: string(rune('a' + i)), Start: at}
		switch i {
		case 0:
			e.Flanges = []flat.Flange{lower}
		case 2:
			e.Flanges = []flat.Flange{upper}
		}
		p.Web.Edges = append(p.Web.Edges, e)
	}
	blank, err := flat.Develop(p)
	require.NoError(t, err)
	j, err := newJob(b, &blank, nil)
	require.NoError(t, err)
	require.Len(t, j.flat.Bends, 3)
	return j
}

func square(name string, turn flat.Turn, height float64, more ...flat.Flange) flat.Flange {
	return flat.Flange{Name: name, Turn: turn, Angle: 90 * measure.Degree, Height: height, Flanges: more}
}

// A lip that hooks back under the leaf. The web, swung, keeps 42 mm of flat beyond the
// leaf's 30; the leg hangs from there with 60 - 8 = 52 of flat, and its lip runs back 46
// from the leg's tangent line at 42, to 4 mm behind the swung tangent line: that lies a
// bend's length, π/2·3.5, in front of the bed when the swing begins, and goes away from it.
func TestHookUnderTheLeaf(t *testing.T) {
	j := bent(t, Brake{
		Nose: Nose{Depth: 30, Height: 40, Most: 90 * measure.Degree, Lift: 60},
		Bed:  Bed{Depth: 200, Height: 100}, Leaf: Leaf{Depth: 30, Height: 25},
	}, square("leg", flat.Down, 60, square("lip", flat.Down, 50)), square("upper", flat.Up, 20))
	v := j.judge(grip{2, false}, made(0).with(0).with(1))
	assert.InDelta(t, math.Pi/2*3.5-4, v.clears, 1e-6)
	assert.Equal(t, bed, v.tool)
	assert.Equal(t, fold.Piece{Index: 2}, v.piece)
	assert.Zero(t, v.at)
}

// A lip that runs forward over the bar, 63 - 60 mm from its top, and on past its front into
// the way of the leaf, though it hangs on the other side of the sheet.
func TestLipInTheWayOfTheLeaf(t *testing.T) {
	j := bent(t, Brake{
		Nose: Nose{Depth: 30, Height: 50, Most: 90 * measure.Degree, Lift: 90},
		Bed:  Bed{Depth: 200, Height: 100}, Leaf: Leaf{Depth: 60, Height: 25},
	}, square("leg", flat.Up, 60, square("lip", flat.Up, 80)), square("upper", flat.Up, 20))
	v := j.judge(grip{2, true}, made(0).with(0).with(1))
	assert.Negative(t, v.clears)
	assert.Equal(t, leaf, v.tool)
	assert.Equal(t, fold.Piece{Index: 2}, v.piece)
	assert.False(t, j.goes(grip{2, true}, v))
}

// Held by the child, the bar stands on the child's tangent line, which may begin and end
// elsewhere; the longer of the two is the length of the bend.
func TestTangentLineOfTheChild(t *testing.T) {
	j := bent(t, Brake{}, square("leg", flat.Up, 30, square("lip", flat.Up, 12)), square("upper", flat.Up, 20))
	b := &j.flat.Bends[2]
	along := r2.Unit(r2.Sub(b.B, b.A))
	b.Zone = []r2.Vec{b.Zone[0], r2.Add(b.Zone[1], r2.Scale(-5, along)), r2.Add(b.Zone[2], r2.Scale(-7, along)), b.Zone[3]}
	s := j.stock(0)
	seat := s.seat(&j.flat, 2, false, true)
	assert.InDelta(t, -5, seat.first, 1e-9)
	assert.InDelta(t, 93, seat.last, 1e-9)
	seat = s.seat(&j.flat, 2, true, true)
	assert.Zero(t, seat.first)
	assert.InDelta(t, 100, seat.last, 1e-9)
	assert.InDelta(t, 100, bendLength(b), 1e-9)
	// Of the child's 98 mm fingers of 11 make up 88, of the parent's 100 they make up 99.
	j.brake.Nose.Finger = 11
	assert.InDelta(t, 88, j.barLength(grip{2, false}), 1e-9)
	assert.InDelta(t, 99, j.barLength(grip{2, true}), 1e-9)
	b.Zone[2] = r2.Add(b.Zone[2], r2.Scale(10, along))
	assert.InDelta(t, 108, bendLength(b), 1e-9)
}

// What lies in the stretch that the bar covers: a slab from x 0 to 10, its top leaning
// from y 0 to y 20 along x, 2 mm deep in z, cut at x 4 and 6.
func TestShadowOfAStretch(t *testing.T) {
	solid := []r3.Vec{{}, {X: 10}, {X: 10, Y: 20}, {Z: -2}, {X: 10, Z: -2}, {X: 10, Y: 20, Z: -2}}
	lo, hi := box(shadow(solid, 4, 6))
	assert.Equal(t, r2.Vec{Y: -2}, lo)
	assert.InDelta(t, 12, hi.X, 1e-12)
	assert.Zero(t, hi.Y)
	assert.Empty(t, shadow(solid, 11, 12))
	// A plate that stands across the stretch and has no corner in it.
	solid = []r3.Vec{{X: -5}, {X: 15}, {X: 15, Y: 3}, {X: -5, Y: 3}, {X: -5, Z: 1}, {X: 15, Z: 1}, {X: 15, Y: 3, Z: 1}, {X: -5, Y: 3, Z: 1}}
	lo, hi = box(shadow(solid, 4, 6))
	assert.Equal(t, [2]r2.Vec{{}, {X: 3, Y: 1}}, [2]r2.Vec{lo, hi})
}

// A leg that is bent carries its lip, not bent yet, and the flat metal of the lip's
// bend: all of it stands.
func TestFlatMetalStandsWithItsLeg(t *testing.T) {
	p := flat.Part{
		Name: "channel", Radius: 3,
		Sheet: material.Sheet{Material: material.Material{Alloy: "2024", Temper: "O"}, Thickness: 1},
	}
	lip := flat.Flange{Name: "lip", Angle: 90 * measure.Degree, Height: 12}
	leg := flat.Flange{Name: "leg", Angle: 90 * measure.Degree, Height: 30}
	other := leg
	other.Name, leg.Flanges = "other", []flat.Flange{lip}
	for i, at := range []r2.Vec{{}, {X: 100}, {X: 100, Y: 60}, {Y: 60}} {
		e := flat.Edge{Name: string(rune('a' + i)), Start: at}
		if i == 0 {
			e.Flanges = []flat.Flange{leg}
		} else if i == 2 {
			e.Flanges = []flat.Flange{other}
		}
		p.Web.Edges = append(p.Web.Edges, e)
	}
	blank, err := flat.Develop(p)
	require.NoError(t, err)
	j, err := newJob(Brake{}, &blank, nil)
	require.NoError(t, err)
	require.Equal(t, "lip", blank.Bends[1].Name)

	s := j.stock(made(0).with(0))
	seat := s.seat(&j.flat, 2, true, true)
	side := s.side(seat, 2, true, math.Inf(-1), math.Inf(1))
	top := math.Inf(-1)
	found := map[fold.Piece]int{}
	for _, q := range side.bent {
		found[q.piece]++
		assert.True(t, q.over)
		_, hi := box(q.whole)
		top = max(top, hi.Y)
	}
	assert.Equal(t, map[fold.Piece]int{{Index: 0, Bend: true}: 8, {Index: 1}: 1, {Index: 1, Bend: true}: 1, {Index: 2}: 1}, found)
	// From 4 mm up: the leg's flat of 30 - 8, the lip's bend and its flat of 12 - 4.
	assert.InDelta(t, 4+22+j.flat.Bends[1].Width+8, top, 1e-9)
}

// The web reaches past a tab's bend on both sides: over the leaf when the web is held,
// under the bar, where it is clamped, when the tab is.
func TestMetalUnderTheBar(t *testing.T) {
	p := flat.Part{
		Name: "tab", Radius: 3, Rule: bend.NeutralAxis{K: 0.5},
		Sheet: material.Sheet{Material: material.Material{Alloy: "2024", Temper: "O"}, Thickness: 1},
	}
	for i, at := range []r2.Vec{{}, {X: 200}, {X: 200, Y: 80}, {X: 120, Y: 80}, {X: 120, Y: 50}, {Y: 50}} {
		e := flat.Edge{Name: string(rune('a' + i)), Start: at}
		if i == 4 {
			e.Flanges = []flat.Flange{{Name: "tab", Angle: 90 * measure.Degree, Height: 20}}
		}
		p.Web.Edges = append(p.Web.Edges, e)
	}
	blank, err := flat.Develop(p)
	require.NoError(t, err)
	j, err := newJob(Brake{Leaf: Leaf{Depth: 20, Height: 10}, Nose: Nose{Depth: 20, Height: 20, Most: 2}}, &blank, nil)
	require.NoError(t, err)
	for _, byParent := range []bool{true, false} {
		g := grip{0, byParent}
		v := j.judge(g, 0)
		assert.InDelta(t, 80-46-math.Pi/2*3.5, v.beside, 1e-9)
		assert.Equal(t, byParent, j.goes(g, v))
	}
}

// A bevel that changes is taken to its larger end, and said to need more than a brake.
func TestChangingBevel(t *testing.T) {
	p := flat.Part{
		Name: "bevel", Radius: 3,
		Sheet: material.Sheet{Material: material.Material{Alloy: "2024", Temper: "O"}, Thickness: 1},
	}
	for i, at := range []r2.Vec{{}, {X: 200}, {X: 200, Y: 80}, {Y: 80}} {
		e := flat.Edge{Name: string(rune('a' + i)), Start: at}
		if i == 0 {
			e.Flanges = []flat.Flange{{Name: "a", Angle: 84 * measure.Degree, AngleEnd: 92 * measure.Degree, Height: 20}}
		}
		p.Web.Edges = append(p.Web.Edges, e)
	}
	blank, err := flat.Develop(p)
	require.NoError(t, err)
	b := randomBrake(rand.New(rand.NewPCG(1, 1)))
	plan, err := b.Order(blank, nil)
	require.NoError(t, err)
	require.Len(t, plan.Steps, 1)
	assert.InDelta(t, 92, plan.Steps[0].To.Degrees(), 1e-9)
	require.Len(t, plan.Findings, 1)
	assert.Equal(t, flat.Warn, plan.Findings[0].Severity)
	assert.InDelta(t, 8, measure.Angle(plan.Findings[0].Figure).Degrees(), 1e-9)
}

// Overbend is wrapped like the rest: half way to the leaf's last angle half of the metal
// is round the nose, and none is left over at the end.
func TestOverbendWraps(t *testing.T) {
	p := flat.Part{
		Name: "angle", Radius: 3,
		Sheet: material.Sheet{Material: material.Material{Alloy: "2024", Temper: "O"}, Thickness: 1},
	}
	for i, at := range []r2.Vec{{}, {X: 100}, {X: 100, Y: 60}, {Y: 60}} {
		e := flat.Edge{Name: string(rune('a' + i)), Start: at}
		if i == 0 {
			e.Flanges = []flat.Flange{{Name: "a", Angle: 90 * measure.Degree, Height: 20}}
		}
		p.Web.Edges = append(p.Web.Edges, e)
	}
	blank, err := flat.Develop(p)
	require.NoError(t, err)
	j, err := newJob(Brake{}, &blank, bend.SpringAlCuMg1)
	require.NoError(t, err)
	s, width := j.swing(0), j.flat.Bends[0].Width
	require.Greater(t, j.to[0], 91*measure.Degree)
	// The tangent line's underside, T below the face that bears on the nose: wrapped by a
	// from a sheet T thick it lies R + T from the nose's centre, and what is left runs on.
	for _, part := range []float64{0.5, 1} {
		a := measure.Angle(part) * j.to[0]
		sin, cos := math.Sincos(a.Radians())
		out := (1 - part) * width
		got := s.at(a, r2.Vec{})
		assert.InDelta(t, (j.noses[0]+1)*sin+out*cos, got.X, 1e-9)
		assert.InDelta(t, 1+j.noses[0]-(j.noses[0]+1)*cos+out*sin, got.Y, 1e-9)
	}
}
