package rivet_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/flat/rivet"
	"github.com/hangarflat/hangarflat/material/measure"
)

// tightHatch is a joggled patch in a skin rolled to 60 mm, its opening from -40 to 40 along the roll and
// from -30 to 30 across it, sheets of 1.016 mm.
func tightHatch(t testing.TB) rivet.Patch {
	return rivet.Patch{
		Name: "hatch", Fitting: rivet.Joggled, Skin: clad(.040), Sheet: clad(.040), Rivet: eighth, Pitch: 14, Gap: .8,
		Opening: roundedRect(t, 80, 60, 12).Transform(outline.Translate(at(-40, -30))), Roll: rivet.Roll{Radius: 60},
	}
}

// Across the roll a place 6.35 mm out from the opening lies, laid flat, by hand (run-out 6·1.016 = 6.096;
// neutral radii 60 - .508 = 59.492 in the middle, 59.492 - 1.016 = 58.476 in the rim, 58.984 midway in the run-out):
//
//	middle   (30 - .8 - 6.096)·59.492/60       22.90838
//	run-out  √((6.096·58.984/60)² + 1.016²)     6.07829
//	rim      (.8 + 6.35)·58.476/60              6.96839
//	                                           35.95506
//
// and the edge, 12.7 mm out, 6.35·58.476/60 = 6.18871 beyond it. The skin's own neutral line alone would have
// the rivet at 36.126. Along the roll nothing but the run-out's growth is added, .08276·1.016 = .08409.
func TestRolledJoggleByHand(t *testing.T) {
	f, err := tightHatch(t).Fit()
	require.NoError(t, err)
	p := f.Pieces[0]
	assert.InDelta(t, -.508, p.Above, 1e-12)
	const rivetAt, edgeAt = 35.95506, 35.95506 + 6.18871
	sides, ends := 0, 0
	for i, h := range f.Layout.Rows[0].Holes {
		switch got := p.Holes[i]; {
		case math.Abs(h.At.X) < 28-1e-9: // beside a straight edge along the roll
			assert.InDelta(t, h.At.X, got.X, 1e-9)
			assert.InDelta(t, rivetAt, math.Abs(got.Y), 2e-5)
			sides++
		case math.Abs(h.At.Y) < 18-1e-9: // beyond an end, round the curve
			assert.InDelta(t, 46.35+.08409, math.Abs(got.X), 2e-5)
			assert.InDelta(t, h.At.Y*59.492/60, got.Y, 1e-9, "the middle's angles")
			ends++
		}
	}
	assert.GreaterOrEqual(t, sides, 6)
	assert.GreaterOrEqual(t, ends, 4)
	size := p.Outline.Bounds().Size()
	assert.InDelta(t, 2*edgeAt, size.Y, 3e-5)
	assert.InDelta(t, 2*(52.7+.08409), size.X, 2e-5)
	assert.InDelta(t, 22.90838, p.Lines[1].Path.Bounds().Max.Y, 2e-5, "upper line of the joggle")
	assert.InDelta(t, 22.90838+6.07829, p.Lines[0].Path.Bounds().Max.Y, 2e-5, "lower line")
	told := false
	for _, s := range f.Steps {
		if s.Symbol == "Wf" {
			told = true
			assert.InDelta(t, size.Y, s.Value, 1e-6)
		}
	}
	assert.True(t, told)
	// What the ends give up, 1.016 on 59.492.
	shrink := worded(f.Findings, "has to shrink 1.7 % round the curve")
	require.Len(t, shrink, 1)
	assert.InDelta(t, .017078, shrink[0].Figure, 1e-6)
}

// The flat patch and the flat skin, each wound back on its own cylinder: their rivets stand at the same places
// in space. The patch is walked step by step from the middle out along each rivet's own ray: in the middle at the
// middle's radius, down the run-out, in the rim at the rim's. Which way a skewed roll runs makes no difference.
func TestRolledJoggleInSpace(t *testing.T) {
	for _, axis := range []measure.Angle{0, 35 * measure.Degree, 90 * measure.Degree} {
		p := tightHatch(t)
		p.Roll.Axis = axis
		f, err := p.Fit()
		require.NoError(t, err)
		sin, cos := math.Sincos(float64(axis))
		turned := func(q r2.Vec) r2.Vec { return at(q.X*cos+q.Y*sin, q.Y*cos-q.X*sin) } // along and across
		const skin, sheet, depth = 60., 1.016, 1.016
		run := 6 * depth
		worst := 0.0
		for i, h := range f.Layout.Rows[0].Holes {
			// In the skin, on its inner face: laid flat at 60 - .508, wound back, straight in.
			flat := turned(p.Roll.At(h.At, -sheet/2))
			angle := flat.Y / (skin - sheet/2)
			want := r3.Vec{X: flat.X, Y: (skin - sheet) * math.Sin(angle), Z: (skin - sheet) * math.Cos(angle)}
			// In the patch: back from the rivet's place on the flat sheet along the ray, in steps that each
			// take off their own length, to the upper line; from there on with the middle.
			edge, _, _ := p.Opening.Nearest(h.At)
			ray := turned(r2.Unit(r2.Sub(h.At, edge)))
			x, theta := windBack(turned(f.Pieces[0].Holes[i]), ray, r2.Norm(r2.Sub(h.At, edge))+p.Gap, run, depth, skin-sheet/2, skin)
			got := r3.Vec{X: x, Y: (skin - sheet) * math.Sin(theta), Z: (skin - sheet) * math.Cos(theta)}
			worst = math.Max(worst, r3.Norm(r3.Sub(got, want)))
		}
		assert.Less(t, worst, .003, "axis %v", axis)
		assert.Greater(t, len(f.Layout.Rows[0].Holes), 15)
	}
}

// windBack takes a place of the rim from the flat sheet to the cylinder: where it lies along the roll and at
// which angle. The ray is its direction on the skin's outer face, of the radius skin; in the rim it has run for
// beyond, before that down the run-out. middle is the neutral radius of the level middle.
func windBack(q, ray r2.Vec, beyond, run, depth, middle, skin float64) (x, theta float64) {
	const steps = 4000
	along, turned := 0.0, 0.0 // on the cylinder
	back := q
	take := func(length, fall float64, radius func(part float64) float64) {
		for k := range steps {
			r := radius((float64(k) + .5) / steps)
			step := length / steps
			dx, dt := step*ray.X, step*ray.Y/skin // on the outer face, so many mm along and so much angle
			level := at(dx, dt*r)
			flat := level
			if drop := fall / steps; drop > 0 {
				flat = r2.Scale(math.Hypot(r2.Norm(level), drop)/r2.Norm(level), level)
			}
			back = r2.Sub(back, flat)
			along, turned = along+dx, turned+dt
		}
	}
	take(beyond, 0, func(float64) float64 { return middle - depth })
	take(run, depth, func(part float64) float64 { return middle - depth*(1-part) })
	return back.X + along, back.Y/middle + turned
}

// A re-entrant corner of the opening stays one: the straight sides of the patch's edge keep to their places
// up to where they meet. Opening an L, its inner corner at (0, 0), its sides there along the axes.
func TestRolledJoggleInsideCorner(t *testing.T) {
	p := tightHatch(t)
	l := outline.Polygon(at(-60, -60), at(60, -60), at(60, 0), at(0, 0), at(0, 60), at(-60, 60))
	for _, i := range []int{5, 4, 2, 1, 0} {
		var err error
		l, err = l.Fillet(i, 10)
		require.NoError(t, err)
	}
	p.Opening, p.Roll.Radius = l, 100
	f, err := p.Fit()
	require.NoError(t, err)
	edge := f.Pieces[0].Outline
	require.NoError(t, edge.Validate())
	// Above y = 0, 12.7 mm out: middle -6.896 at 99.492/100, run-out √((6.096·98.984/100)² + 1.016²), rim 13.5 at
	// 98.476/100: -6.86097 + 6.11900 + 13.29426 = 12.55229. Beside x = 0, along the roll: 12.7 + .0841.
	corner := at(12.7+.08409, 12.55229)
	assert.InDelta(t, 0, nearestOf(chords(edge), corner), .001)
	assert.InDelta(t, 0, edge.Distance(at(40, corner.Y)), 1e-4)
	assert.InDelta(t, 0, edge.Distance(at(corner.X, 40)), 1e-4)
}
