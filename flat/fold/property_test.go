package fold_test

import (
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

// randomTree is a web of three to six sides with flanges of any angle, up and down,
// some with flanges of their own, three deep; now and then the bevel of a last one
// changes along it. Far from the origin and at any slant.
func randomTree(r *rand.Rand) fold.Flat {
	f := fold.Flat{Thickness: 0.3 + 3*r.Float64()}
	n := 3 + r.IntN(4)
	o := r2.Vec{X: 2000 * (r.Float64() - 0.5), Y: 2000 * (r.Float64() - 0.5)}
	corners := make([]r2.Vec, n)
	for i := range corners {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.6*r.Float64()) / float64(n))
		size := 50 + 100*r.Float64()
		corners[i] = r2.Vec{X: o.X + size*cos, Y: o.Y + size*sin}
	}
	f.Panels = append(f.Panels, corners)
	for i := range corners {
		if r.IntN(3) > 0 {
			branch(r, &f, 0, corners[i], corners[(i+1)%n], 3)
		}
	}
	return f
}

func branch(r *rand.Rand, f *fold.Flat, parent int, a, b r2.Vec, deep int) {
	angle := measure.Angle(1+179*r.Float64()) * measure.Degree
	radius := 5 * r.Float64() * float64(r.IntN(4)) / 3 // now and then 0
	child, from, to := grow(f, parent, a, b, angle, radius, r.IntN(2) == 0, 5+40*r.Float64())
	// Ends cut askew, and a K of its own.
	bend := &f.Bends[len(f.Bends)-1]
	along := r2.Scale(r2.Norm(r2.Sub(b, a))*0.1, r2.Unit(r2.Sub(b, a)))
	bend.Zone[1], f.Panels[child][0] = r2.Add(bend.Zone[1], along), r2.Add(f.Panels[child][0], along)
	bend.Width *= 0.9 + 0.1*r.Float64()
	switch {
	case deep > 1 && r.IntN(2) == 0:
		branch(r, f, child, from, to, deep-1)
	case r.IntN(4) == 0:
		length := r2.Norm(r2.Sub(b, a))
		for k := range 4 {
			bend.Sections = append(bend.Sections, fold.Section{
				At: length * float64(k) / 3, Near: r.Float64(), Width: bend.Width * (0.9 + 0.2*r.Float64()), Angle: angle * measure.Angle(0.95+0.05*r.Float64()),
			})
		}
	}
}

// trees runs a check on many random sheets, and counts what makes them hard.
func trees(t *testing.T, check func(*testing.T, *rand.Rand, fold.Flat, fold.Solid)) {
	t.Helper()
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	r := rand.New(rand.NewPCG(seed, 2))
	runs := 2000
	if testing.Short() {
		runs = 300
	}
	var bends, down, deep, sharp, winding int
	for range runs {
		f := randomTree(r)
		s, err := fold.Fold(f)
		require.NoError(t, err)
		check(t, r, f, s)
		if t.Failed() {
			t.Logf("%+v", f)
			return
		}
		for _, b := range f.Bends {
			bends++
			if !b.Up {
				down++
			}
			if b.Parent > 0 {
				deep++
			}
			if b.Radius == 0 {
				sharp++
			}
			if len(b.Sections) > 0 {
				winding++
			}
		}
	}
	for name, n := range map[string]int{"bends": bends, "down": down, "on a flange": deep, "radius 0": sharp, "bevel changes": winding} {
		require.Greater(t, n, runs/4, "the generator misses %q", name)
	}
}

// (1) Every frame is square, of unit vectors and right-handed.
func TestFramesAreOrthonormal(t *testing.T) {
	trees(t, func(t *testing.T, r *rand.Rand, f fold.Flat, s fold.Solid) {
		for i, corners := range f.Panels {
			for _, p := range corners {
				fr := s.FrameAt(i, p)
				for _, v := range []r3.Vec{fr.X, fr.Y, fr.Z} {
					assert.InDelta(t, 1, r3.Norm(v), 1e-13)
				}
				assert.InDelta(t, 0, r3.Norm(r3.Sub(r3.Cross(fr.X, fr.Y), fr.Z)), 1e-13)
			}
		}
	})
}

// (2) The sheet keeps its thickness, in panels and in bends, and its panels their size.
func TestThicknessIsKept(t *testing.T) {
	trees(t, func(t *testing.T, r *rand.Rand, f fold.Flat, s fold.Solid) {
		for i, corners := range f.Panels {
			for k, p := range corners {
				assert.InDelta(t, f.Thickness, r3.Norm(r3.Sub(s.Panel(i, p, 0), s.Panel(i, p, -f.Thickness))), 1e-9)
				q := corners[(k+1)%len(corners)]
				if i == 0 || len(f.Bends[i-1].Sections) == 0 {
					assert.InDelta(t, r2.Norm(r2.Sub(p, q)), r3.Norm(r3.Sub(s.Panel(i, p, -1), s.Panel(i, q, -1))), 1e-9)
				}
			}
		}
		for i, b := range f.Bends {
			p := mix(mix(b.Zone[0], b.Zone[3], r.Float64()), mix(b.Zone[1], b.Zone[2], r.Float64()), r.Float64())
			assert.InDelta(t, f.Thickness, r3.Norm(r3.Sub(s.Zone(i, p, 0), s.Zone(i, p, -f.Thickness))), 1e-9)
		}
	})
}

// (3) The metal of a bend joins both panels without a step or a crease, lies R from
// its axis on the inside and R + T on the outside, and turns through the bend angle.
func TestBendJoinsItsPanels(t *testing.T) {
	trees(t, func(t *testing.T, r *rand.Rand, f fold.Flat, s fold.Solid) {
		for i := range f.Bends {
			b := &f.Bends[i]
			along := r2.Unit(r2.Sub(b.B, b.A))
			out := r2.Vec{X: along.Y, Y: -along.X}
			u := r.Float64() * r2.Norm(r2.Sub(b.B, b.A))
			near, width, angle := tangents(b, u)
			z := -f.Thickness * r.Float64()
			at := func(v float64) r2.Vec { return r2.Add(b.A, r2.Add(r2.Scale(u, along), r2.Scale(v, out))) }

			first, last := at(near), at(near+width)
			assert.InDelta(t, 0, r3.Norm(r3.Sub(s.Panel(b.Parent, first, z), s.Zone(i, first, z))), 1e-9, "step at the parent")
			assert.InDelta(t, 0, r3.Norm(r3.Sub(s.Panel(b.Child, last, z), s.Zone(i, last, z))), 1e-9, "step at the child")

			// Across the sheet, the zone leaves the parent and reaches the child in their
			// own directions.
			const d = 1e-5
			way := func(from, to float64) r3.Vec { return r3.Unit(r3.Sub(s.Zone(i, at(to), z), s.Zone(i, at(from), z))) }
			if b.Radius > 0.1 { // at radius 0 the inside face turns on the spot
				assert.InDelta(t, 0, r3.Norm(r3.Sub(way(near, near+d*width), s.FrameAt(b.Parent, first).Direction(out))), 1e-4, "crease at the parent")
				assert.InDelta(t, 0, r3.Norm(r3.Sub(way(near+(1-d)*width, near+width), s.FrameAt(b.Child, last).Direction(out))), 1e-4, "crease at the child")
			}

			parent := s.Frames[b.Parent]
			axis := b.Radius
			if !b.Up {
				axis = -f.Thickness - b.Radius
			}
			center := parent.Point(first, axis)
			p := at(near + width*r.Float64())
			want := math.Abs(axis - z)
			assert.InDelta(t, want, r3.Norm(r3.Sub(s.Zone(i, p, z), center)), 1e-9, "radius")
			zs := s.FrameAt(b.Child, last).Z
			assert.InDelta(t, math.Cos(angle), r3.Dot(parent.Z, zs), 1e-12, "bend angle")
			turn := r3.Dot(r3.Cross(parent.Direction(along), parent.Z), zs)
			if !b.Up {
				turn = -turn
			}
			assert.InDelta(t, -math.Sin(angle), turn, 1e-12, "up turns the face back over the parent")
		}
	})
}

// tangents is a bend at station u, worked out by straight lines between its sections.
func tangents(b *fold.Bend, u float64) (near, width, angle float64) {
	if len(b.Sections) == 0 {
		return 0, b.Width, b.Angle.Radians()
	}
	k := 0
	for k+2 < len(b.Sections) && b.Sections[k+1].At < u {
		k++
	}
	p, q := b.Sections[k], b.Sections[k+1]
	t := (u - p.At) / (q.At - p.At)
	return (1-t)*p.Near + t*q.Near, (1-t)*p.Width + t*q.Width, (1-t)*p.Angle.Radians() + t*q.Angle.Radians()
}

// (4) Down is up seen from the other face: with every bend turned the other way, each
// point z below one face lies where its twin z above the other lay, mirrored.
func TestDownMirrorsUp(t *testing.T) {
	trees(t, func(t *testing.T, r *rand.Rand, f fold.Flat, s fold.Solid) {
		other := f
		other.Bends = append([]fold.Bend(nil), f.Bends...)
		for i := range other.Bends {
			other.Bends[i].Up = !f.Bends[i].Up
		}
		m, err := fold.Fold(other)
		require.NoError(t, err)
		z := -f.Thickness * r.Float64()
		mirror := func(p r3.Vec) r3.Vec { return r3.Vec{X: p.X, Y: p.Y, Z: -f.Thickness - p.Z} }
		for i, corners := range f.Panels {
			for _, p := range corners {
				assert.InDelta(t, 0, r3.Norm(r3.Sub(s.Panel(i, p, z), mirror(m.Panel(i, p, -f.Thickness-z)))), 1e-9)
			}
		}
		for i, b := range f.Bends {
			p := mix(b.Zone[0], b.Zone[2], r.Float64())
			assert.InDelta(t, 0, r3.Norm(r3.Sub(s.Zone(i, p, z), mirror(m.Zone(i, p, -f.Thickness-z)))), 1e-9)
		}
		a, err := s.Bulk(nil)
		require.NoError(t, err)
		b, err := m.Bulk(nil)
		require.NoError(t, err)
		assert.InEpsilon(t, a.Volume, b.Volume, 1e-12)
		assert.InDelta(t, 0, r3.Norm(r3.Sub(a.Center, mirror(b.Center))), 1e-9)
	})
}

// (5) The order in which the bends stand, where parents come first, changes nothing.
func TestOrderOfBendsChangesNothing(t *testing.T) {
	trees(t, func(t *testing.T, r *rand.Rand, f fold.Flat, s fold.Solid) {
		other := f
		other.Bends = nil
		placed := make([]bool, len(f.Panels))
		placed[0] = true
		for left := r.Perm(len(f.Bends)); len(left) > 0; {
			for k, i := range left {
				if b := f.Bends[i]; placed[b.Parent] {
					other.Bends = append(other.Bends, b)
					placed[b.Child] = true
					left = append(left[:k], left[k+1:]...)
					break
				}
			}
		}
		m, err := fold.Fold(other)
		require.NoError(t, err)
		assert.Equal(t, s.Frames, m.Frames, "to the last bit")
	})
}

// (6) Moving and turning the blank moves and turns the folded part.
func TestFoldMovesWithTheBlank(t *testing.T) {
	trees(t, func(t *testing.T, r *rand.Rand, f fold.Flat, s fold.Solid) {
		sin, cos := math.Sincos(2 * math.Pi * r.Float64())
		by := r2.Vec{X: 500 * r.Float64(), Y: -300 * r.Float64()}
		flat := func(p r2.Vec) r2.Vec { return r2.Vec{X: by.X + cos*p.X - sin*p.Y, Y: by.Y + sin*p.X + cos*p.Y} }
		all := func(from []r2.Vec) (to []r2.Vec) {
			for _, p := range from {
				to = append(to, flat(p))
			}
			return to
		}
		other := fold.Flat{Thickness: f.Thickness}
		for _, corners := range f.Panels {
			other.Panels = append(other.Panels, all(corners))
		}
		for _, b := range f.Bends {
			b.A, b.B, b.Zone = flat(b.A), flat(b.B), all(b.Zone)
			other.Bends = append(other.Bends, b)
		}
		m, err := fold.Fold(other)
		require.NoError(t, err)
		for i, corners := range f.Panels {
			for k, p := range corners {
				q := s.Panel(i, p, 0)
				moved := flat(r2.Vec{X: q.X, Y: q.Y})
				assert.InDelta(t, 0, r3.Norm(r3.Sub(r3.Vec{X: moved.X, Y: moved.Y, Z: q.Z}, m.Panel(i, other.Panels[i][k], 0))), 1e-8)
			}
		}
	})
}

func BenchmarkFold(b *testing.B) {
	f := lipped(20, 8, 8, 0)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := fold.Fold(f); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkClashes(b *testing.B) {
	s, err := fold.Fold(lipped(20, 8, 8, 0))
	require.NoError(b, err)
	b.ReportAllocs()
	for b.Loop() {
		s.Clashes(0.05, nil)
	}
}

func BenchmarkBulk(b *testing.B) {
	s, err := fold.Fold(lipped(20, 8, 8, 0))
	require.NoError(b, err)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := s.Bulk(nil); err != nil {
			b.Fatal(err)
		}
	}
}
