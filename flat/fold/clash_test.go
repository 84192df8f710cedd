package fold_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/hangarflat/hangarflat/flat/fold"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// grow adds a flange of the given flat, its bend as long as the line a-b, and returns
// its panel and its free edge. K is 1/2.
func grow(f *fold.Flat, parent int, a, b r2.Vec, angle measure.Angle, radius float64, up bool, flat float64) (child int, from, to r2.Vec) {
	along := r2.Unit(r2.Sub(b, a))
	out := r2.Vec{X: along.Y, Y: -along.X}
	width := angle.Radians() * (radius + f.Thickness/2)
	far := func(p r2.Vec, by float64) r2.Vec { return r2.Add(p, r2.Scale(by, out)) }
	child = len(f.Panels)
	f.Panels = append(f.Panels, []r2.Vec{far(a, width), far(a, width+flat), far(b, width+flat), far(b, width)})
	f.Bends = append(f.Bends, fold.Bend{
		Parent: parent, Child: child, A: a, B: b, Width: width, Angle: angle, Radius: radius, Up: up,
		Zone: []r2.Vec{a, far(a, width), far(b, width), b},
	})
	return child, far(a, width+flat), far(b, width+flat)
}

// web is a flat sheet 1 mm thick and 40 mm long in y, as wide in x as its flat.
func web(width float64) fold.Flat {
	return fold.Flat{Thickness: 1, Panels: [][]r2.Vec{{{}, {X: width}, {X: width, Y: 40}, {Y: 40}}}}
}

// trough has two walls on the long sides of a web of the given flat, radius 1.
func trough(width, flat float64, angle measure.Angle) fold.Flat {
	f := web(width)
	grow(&f, 0, r2.Vec{Y: 40}, r2.Vec{}, angle, 1, true, flat)
	grow(&f, 0, r2.Vec{X: width}, r2.Vec{X: width, Y: 40}, angle, 1, true, flat)
	return f
}

// lipped is a trough with square walls of 8 mm flat and lips turned in at the top, the
// second lip lower than the first by drop. Radius 1, thickness 1.
//
// Inside faces of the walls stand 1 mm out from the web's flat, at x = -1 and width+1;
// a lip starts 1 mm in from there, at x = 0 and x = width, and reaches in by its flat.
func lipped(width, first, second, drop float64) fold.Flat {
	const square = 90 * measure.Degree
	f := web(width)
	left, a, b := grow(&f, 0, r2.Vec{Y: 40}, r2.Vec{}, square, 1, true, 8)
	right, c, d := grow(&f, 0, r2.Vec{X: width}, r2.Vec{X: width, Y: 40}, square, 1, true, 8-drop)
	grow(&f, left, a, b, square, 1, true, first)
	lip, _, _ := grow(&f, right, c, d, square, 1, true, second)
	f.Panels[lip][0].Y += 5 // and its end is cut back
	f.Panels[lip][1].Y += 5
	return f
}

func clashes(t *testing.T, f fold.Flat, deep float64, drilled ...fold.Circle) []fold.Clash {
	t.Helper()
	s, err := fold.Fold(f)
	require.NoError(t, err)
	found := s.Clashes(deep, drilled)
	for _, c := range found {
		assert.Greater(t, c.Deep, deep)
		for _, p := range []fold.Piece{c.A, c.B} {
			if !p.Bend {
				assert.True(t, inMetal(s, p.Index, c.At), "%+v lies in panel %d", c.At, p.Index)
			}
		}
	}
	return found
}

// inMetal asks by the panel's frame and the crossing number of its outline, and takes
// a point on a face or an edge for metal.
func inMetal(s fold.Solid, panel int, p r3.Vec) bool {
	f := s.Frames[panel]
	d := r3.Sub(p, f.O)
	q := r2.Vec{X: f.At.X + r3.Dot(d, f.X), Y: f.At.Y + r3.Dot(d, f.Y)}
	z := r3.Dot(d, f.Z)
	const rounding = 1e-9
	in := false
	corners := s.Flat.Panels[panel]
	for i, a := range corners {
		b := corners[(i+1)%len(corners)]
		if (a.Y > q.Y) != (b.Y > q.Y) && q.X < a.X+(q.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
		e := r2.Sub(b, a)
		along := max(0, min(1, r2.Dot(r2.Sub(q, a), e)/r2.Norm2(e)))
		if r2.Norm(r2.Sub(r2.Add(a, r2.Scale(along, e)), q)) < rounding {
			in = true
			break
		}
	}
	return in && -s.Flat.Thickness-rounding < z && z < rounding
}

// Two walls leaning in at 120° on a web of 20 mm flat. The inside face of a wall runs
// from its tangent point, 1·sin 120° out and 1 + 1/2 up, at 30° to the vertical toward
// the middle: it is over the middle, 10.866 mm in, after 10.866/sin 30° = 21.73 mm of
// flat. Shorter walls clear, longer ones cross.
func TestLeaningWallsCross(t *testing.T) {
	const meets = (10 + 0.8660254037844386) / 0.5
	for _, c := range []struct {
		flat    float64
		cut     float64 // off the second wall's start
		crosses int
	}{
		{meets - 0.5, 0, 0}, {meets - 0.02, 0, 0}, {meets - 0.5, 5, 0},
		{meets + 0.5, 0, 1}, {meets + 0.5, 5, 1}, {meets + 10, 5, 1},
		{meets + 10, 0, 1},
	} {
		f := trough(20, c.flat, 120*measure.Degree)
		f.Panels[2][0].Y += c.cut
		f.Panels[2][1].Y += c.cut
		found := clashes(t, f, 0.05)
		if assert.Len(t, found, c.crosses, "%+v", c) && c.crosses > 0 {
			assert.ElementsMatch(t, []fold.Piece{{Index: 1}, {Index: 2}}, []fold.Piece{found[0].A, found[0].B})
		}
	}
}

// Lips that pass each other at different heights clear while the drop is more than the
// thickness, and stand in each other while it is less, by what is left of it.
func TestLipsLap(t *testing.T) {
	for _, c := range []struct {
		first, second, drop float64
		want                int
		why                 string
	}{
		{9.7, 9.7, 0.4, 0, "0.6 mm apart end to end"},
		{12, 12, 0.4, 1, "lap 4 mm and share 0.6 mm of height"},
		{12, 12, 0.98, 0, "share 0.02 mm of height, less than is asked for"},
		{12, 12, 1.2, 0, "pass, 0.2 mm between"},
		{12, 7.98, 0.4, 0, "0.02 mm apart end to end"},
		{12, 8.3, 0.4, 1, "lap 0.3 mm"},
	} {
		assert.Len(t, clashes(t, lipped(20, c.first, c.second, c.drop), 0.05), c.want, c.why)
	}
}

// Of two lips that lap end to end by 0.3 mm each stands as deep in the other, all along its free edge: 0.4 and
// 0.6 mm from its faces.
func TestDepthFromTheRim(t *testing.T) {
	found := clashes(t, lipped(20, 12, 8.3, 0.4), 0.05)
	require.Len(t, found, 1)
	assert.InDelta(t, 0.3, found[0].Deep, 1e-9)
}

// A lip long enough to reach the other wall runs into it: its inside face stands at
// x = width + 1, so a lip of width + 1.3 from x = 0 goes 0.3 mm in.
func TestLipRunsIntoTheFarWall(t *testing.T) {
	far := func(lip float64) int {
		f := web(20)
		left, a, b := grow(&f, 0, r2.Vec{Y: 40}, r2.Vec{}, 90*measure.Degree, 1, true, 8)
		grow(&f, 0, r2.Vec{X: 20}, r2.Vec{X: 20, Y: 40}, 90*measure.Degree, 1, true, 20)
		grow(&f, left, a, b, 90*measure.Degree, 1, true, lip)
		return len(clashes(t, f, 0.05))
	}
	assert.Equal(t, 0, far(20.9))
	assert.Equal(t, 0, far(21.04), "0.04 mm in: less than is asked for")
	assert.Equal(t, 1, far(21.3))
	assert.Equal(t, 1, far(25), "right through")
}

// Metal that is drilled away clashes with nothing.
func TestDrilledMetalDoesNotClash(t *testing.T) {
	f := trough(20, 24, 120*measure.Degree)
	f.Panels[2][0].Y += 5
	f.Panels[2][1].Y += 5
	found := clashes(t, f, 0.05)
	require.Len(t, found, 1)
	corners := f.Panels[1]
	tips := fold.Circle{Center: r2.Scale(0.5, r2.Add(corners[1], corners[2])), Radius: 30}
	assert.Empty(t, clashes(t, f, 0.05, tips), "the whole free edge is drilled away")
	tips.Radius = 3
	assert.Len(t, clashes(t, f, 0.05, tips), 1, "a small hole in it is not enough")
}

// Pieces of one strip are one metal: a bend and its panels, two panels on a bend.
func TestOneStripDoesNotClash(t *testing.T) {
	for _, degrees := range []measure.Angle{5, 90, 135, 180} {
		for _, up := range []bool{true, false} {
			f := web(20)
			grow(&f, 0, r2.Vec{Y: 40}, r2.Vec{}, degrees*measure.Degree, 0.5, up, 15)
			assert.Empty(t, clashes(t, f, 0.05), fmt.Sprint(degrees, up))
		}
	}
}

// A spiral: three square bends on, the last side of the strip hangs over the web and
// runs into it when it is too long.
func TestSpiralRunsIntoTheWeb(t *testing.T) {
	spiral := func(last float64) fold.Flat {
		f := web(20)
		at, a, b := 0, r2.Vec{X: 20}, r2.Vec{X: 20, Y: 40}
		for _, side := range []float64{20, 14, last} {
			at, a, b = grow(&f, at, a, b, 90*measure.Degree, 1, true, side)
		}
		return f
	}
	// The first wall stands at x = 21 and its flat runs from z = 1 to 21; the top comes
	// back at z = 22 from x = 20 to 6; the last side hangs at x = 5 from z = 21 down by
	// its flat, and meets the marking face when that is 21.
	assert.Empty(t, clashes(t, spiral(20.9), 0.05))
	assert.Empty(t, clashes(t, spiral(21.04), 0.05))
	assert.Len(t, clashes(t, spiral(21.3), 0.05), 1)
}

// The place is told on the blank too: it is the same metal.
func TestClashIsToldOnTheBlank(t *testing.T) {
	f := lipped(20, 12, 12, 0.4)
	s, err := fold.Fold(f)
	require.NoError(t, err)
	found := s.Clashes(0.05, nil)
	assert.Len(t, found, 1)
	for _, c := range found {
		near := math.Inf(1)
		for _, p := range []fold.Piece{c.A, c.B} {
			frame := s.Frames[p.Index]
			z := r3.Dot(r3.Sub(c.At, frame.O), frame.Z)
			near = min(near, r3.Norm(r3.Sub(c.At, s.Panel(p.Index, c.Flat, z))))
		}
		assert.Less(t, near, 1e-9)
	}
}

// The lips of the example the other way round: the second stands 0.4 mm higher. The
// marking face of the first lip is at z = 1 + 8 + 1, so its other face is at 11; the
// second reaches from 10.4 to 11.4, and 11 lies 0.4 mm below the nearer of those.
func TestClashOnTheFaceAwayFromTheMarks(t *testing.T) {
	found := clashes(t, lipped(20, 12, 12, -0.4), 0.05)
	require.Len(t, found, 1)
	assert.Equal(t, fold.Piece{Index: 3}, found[0].A)
	assert.InDelta(t, 11, found[0].At.Z, 1e-9)
	assert.InDelta(t, 0.4, found[0].Deep, 1e-9)
}

// A bend of 90°, R 3 and T 1 with the neutral line in the middle: half a slab is 3.5·π/32 long, and stands for 3·π/32
// and 4·π/32 on the faces. Folded flat on itself round R 10, with the neutral line near the outside, a slab leaves that
// by 11·(1 - cos 11.25°), which is more than what it is too long inside, .95·π/16, and too short outside.
func TestCoarseness(t *testing.T) {
	f := angle()
	s, err := fold.Fold(f)
	require.NoError(t, err)
	assert.InDelta(t, 0.5*math.Pi/32, s.Coarseness(), 1e-12)
	b := &f.Bends[0]
	b.Angle, b.Radius, b.Width = 180*measure.Degree, 10, 10.95*math.Pi
	assert.InDelta(t, 11*(1-math.Cos(math.Pi/16)), fold.Solid{Flat: f}.Coarseness(), 1e-12)
	b.Angle, b.Radius, b.Width = 90*measure.Degree, 1, 1.2*math.Pi/2
	assert.InDelta(t, 0.8*math.Pi/32, fold.Solid{Flat: f}.Coarseness(), 1e-12, "the outside face")
	b.Width = 1.9 * math.Pi / 2
	assert.InDelta(t, 0.9*math.Pi/32, fold.Solid{Flat: f}.Coarseness(), 1e-12, "the inside face")
}
