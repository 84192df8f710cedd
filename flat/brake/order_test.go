package brake_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/brake"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

const deg = measure.Degree

// upright is a brake with a plain bar: 30 mm behind the bend, 40 mm high, its front
// straight up from the nose.
func upright() brake.Brake {
	return brake.Brake{
		Length: 1000,
		Nose:   brake.Nose{Depth: 30, Height: 40, Most: 90 * deg, Lift: 60},
		Bed:    brake.Bed{Depth: 200, Height: 100},
		Leaf:   brake.Leaf{Depth: 60, Height: 25},
	}
}

// strip is 200 mm of 1 mm sheet bent round 3 mm: a web of the given width between mold
// lines with the flanges given on its two long sides. A square bend has a setback of
// 4 mm, so a web w wide keeps w - 8 of flat.
func strip(t testing.TB, width float64, lower, upper []flat.Flange) flat.Blank {
	t.Helper()
	p := flat.Part{
		Name:   "strip",
		Sheet:  material.Sheet{Material: material.Material{Alloy: "2024", Temper: "O"}, Thickness: 1},
		Rule:   bend.NeutralAxis{K: 0.5},
		Radius: 3,
		Web: flat.Web{Edges: []flat.Edge{
			{Name: "lower", Start: r2.Vec{}, Flanges: lower},
			{Name: "right", Start: r2.Vec{X: 200}},
			{Name: "upper", Start: r2.Vec{X: 200, Y: width}, Flanges: upper},
			{Name: "left", Start: r2.Vec{Y: width}},
		}},
	}
	b, err := flat.Develop(p)
	require.NoError(t, err)
	return b
}

func leg(name string, height float64, more ...flat.Flange) []flat.Flange {
	return []flat.Flange{{Name: name, Angle: 90 * deg, Height: height, Flanges: more}}
}

func down(f []flat.Flange) []flat.Flange {
	f[0].Turn = flat.Down
	return f
}

func order(t testing.TB, b brake.Brake, blank flat.Blank) brake.Plan {
	t.Helper()
	p, err := b.Order(blank, nil)
	require.NoError(t, err)
	return p
}

func names(p brake.Plan) (names []string) {
	for _, s := range p.Steps {
		names = append(names, s.Name)
	}
	return names
}

// Channel 50 mm wide with 40 mm legs. The web keeps 42 mm of flat; with it held for the
// second leg, the first stands up behind the bar: its bend starts 42 mm back, 12 mm
// behind the heel.
func TestChannel(t *testing.T) {
	p := order(t, upright(), strip(t, 50, leg("lower", 40), leg("upper", 40)))
	require.Equal(t, []string{"lower", "upper"}, names(p))
	assert.Empty(t, p.Findings)
	assert.Zero(t, p.TurnOvers)
	assert.True(t, math.IsInf(p.Steps[0].Clears, 1), "no bent metal yet")
	assert.Empty(t, p.Steps[0].Tightest)
	assert.InDelta(t, 12, p.Steps[1].Clears, 1e-6)
	assert.Equal(t, `bend of flange "lower" and the nose bar`, p.Steps[1].Tightest)
	for _, s := range p.Steps {
		assert.Equal(t, "web", s.Held)
		assert.Equal(t, 3.0, s.Sight)
		assert.Zero(t, s.Bar, "one whole bar")
		assert.Equal(t, 90*deg, s.To)
	}
	require.Len(t, p.Working(), 2)
	assert.Equal(t, 3.0, p.Working()[0].Value)
}

// Legs of 70 mm do not pass under a bar that lifts 60. Then the second leg is laid under
// the bar and the web swung up with the first: at the end of the swing the web stands along the bar's front and
// the first leg's bend starts 4 + 42 = 46 mm above the bed, 5 above the bar's top at
// 1 + 40.
func TestChannelTallerThanTheLift(t *testing.T) {
	p := order(t, upright(), strip(t, 50, leg("lower", 70), leg("upper", 70)))
	require.Equal(t, []string{"lower", "upper"}, names(p))
	assert.Equal(t, "web", p.Steps[0].Held)
	assert.Equal(t, `flange "upper"`, p.Steps[1].Held)
	assert.InDelta(t, 5, p.Steps[1].Clears, 1e-6)
	assert.Equal(t, `bend of flange "lower" and the nose bar with the leaf at 90°`, p.Steps[1].Tightest)

	b := upright()
	b.Nose.Lift = 70 // and now they pass
	assert.Equal(t, "web", order(t, b, strip(t, 50, leg("lower", 70), leg("upper", 70))).Steps[1].Held)
}

// A channel 36 mm wide keeps 28 mm of flat, less than the bar is deep: held by the web,
// the first leg would stand in the bar. Held by its flange, the first leg comes over the
// bar's front with its inside at 4 + 28 + 3 = 35, 6 mm below its top: it goes only while
// the leg stays in front of the bar's face, and no leg does.
func TestChannelNarrowerThanTheNose(t *testing.T) {
	blank := strip(t, 36, leg("lower", 20), leg("upper", 20))
	p := order(t, upright(), blank)
	assert.Empty(t, p.Steps)
	require.True(t, p.Stopped())
	require.Len(t, p.Findings, 1)
	f := p.Findings[0]
	assert.Equal(t, `flange "upper"`, f.Place)
	assert.Contains(t, f.Text, `flange "lower" stands in the nose bar`)
	// With the web held: the leg's inside stands 31 mm back, behind the heel; the
	// curl that leads to it starts 28 mm back. With the flange held: at the end of the
	// swing the bar's top, at 41, stands 6 mm above the leg's inside, at 35.
	assert.Negative(t, f.Figure)
	assert.GreaterOrEqual(t, f.Figure, -6.0)
	assert.Equal(t, 0.0, f.Limit)

	// A bar whose front leans back at 135° leaves room: a line from (3·sin 45°,
	// 4 + 3·cos 45°) at 45°, on which y + z = 8.2426. The tip of the leg's inside ends
	// at y = 4 - 20, z = 35.
	b := upright()
	b.Nose.Most = 135 * deg
	p = order(t, b, blank)
	require.Len(t, p.Steps, 2)
	assert.Equal(t, `flange "upper"`, p.Steps[1].Held)
	assert.InDelta(t, (-16+35-(4+6/math.Sqrt2))/math.Sqrt2, p.Steps[1].Clears, 1e-4)
	assert.Equal(t, `flange "lower" and the nose bar with the leaf at 90°`, p.Steps[1].Tightest)

	// Legs of 45 mm reach back over the bar's highest point, at its heel: y = -30,
	// z = 38.2426, and stand 3.24 mm in it.
	p = order(t, b, strip(t, 36, leg("lower", 45), leg("upper", 45)))
	assert.Empty(t, p.Steps)
	require.Len(t, p.Findings, 1)
}

// A channel with lips turned in, 100 wide, 50 high, 12 of lip, and a bar 60 deep and 60
// high whose front leans back at 135°. Lips go first: with a leg bent, its lip would
// bring the web into the bar whichever side is held.
func TestLipsFirst(t *testing.T) {
	b := upright()
	b.Nose.Depth, b.Nose.Height, b.Nose.Most = 60, 60, 135*deg
	blank := strip(t, 100, leg("lower", 50, leg("lower lip", 12)...), leg("upper", 50, leg("upper lip", 12)...))
	p := order(t, b, blank)
	require.Equal(t, []string{"lower lip", "upper lip", "lower", "upper"}, names(p))
	assert.Zero(t, p.TurnOvers)
	assert.Equal(t, `flange "lower"`, p.Steps[0].Held)
	assert.True(t, math.IsInf(p.Steps[0].Clears, 1))
	// The first lip stands at the far end of the flat sheet: two legs of 42 mm flat, the
	// web's 92 and two bends of π/2·3.5 from the nose.
	assert.InDelta(t, 2*42+92+math.Pi*3.5-60, p.Steps[1].Clears, 1e-6)
	// The lip ends 12 - 4 = 8 mm behind the nose's center, its inside 49 mm up, over the
	// front's line y + z = 8.2426.
	assert.InDelta(t, (-8+49-(4+6/math.Sqrt2))/math.Sqrt2, p.Steps[2].Clears, 1e-4)
	// The first leg's outside stands 96 mm back and its lip comes 12 forward: 24 mm behind
	// the heel. The lip that is swung is tighter still.
	assert.InDelta(t, p.Steps[2].Clears, p.Steps[3].Clears, 1e-6)

	// A web of 98 brings the standing lip to 22 mm.
	p = order(t, b, strip(t, 98, leg("lower", 50, leg("lower lip", 12)...), leg("upper", 50, leg("upper lip", 12)...)))
	require.Len(t, p.Steps, 4)
	assert.InDelta(t, 22, p.Steps[3].Clears, 1e-6)
	assert.Equal(t, `flange "lower lip" and the nose bar`, p.Steps[3].Tightest)
}

// A zed takes one turn-over. Its first flange then hangs down: behind a bed 30 mm deep it
// clears by 42 - 30. Over a deep bed the second flange is held instead, and the first
// hangs beyond a leaf 30 mm deep by as much. With both deep, it cannot be made.
func TestZed(t *testing.T) {
	blank := strip(t, 50, leg("lower", 20), down(leg("upper", 20)))
	b := upright()
	b.Bed.Depth = 30
	p := order(t, b, blank)
	require.Equal(t, []string{"lower", "upper"}, names(p))
	assert.Equal(t, 1, p.TurnOvers)
	assert.Equal(t, []bool{false, true}, []bool{p.Steps[0].TurnOver, p.Steps[1].TurnOver})
	assert.Equal(t, "web", p.Steps[1].Held)
	assert.InDelta(t, 12, p.Steps[1].Clears, 1e-6)
	assert.Equal(t, `bend of flange "lower" and the bed`, p.Steps[1].Tightest)

	b.Bed.Depth, b.Leaf.Depth = 200, 30
	p = order(t, b, blank)
	require.Len(t, p.Steps, 2)
	assert.Equal(t, `flange "upper"`, p.Steps[1].Held)
	assert.InDelta(t, 12, p.Steps[1].Clears, 1e-6)
	assert.Equal(t, `bend of flange "lower" and the leaf`, p.Steps[1].Tightest)

	b.Leaf.Depth = 60
	p = order(t, b, blank)
	assert.Empty(t, p.Steps)
	require.Len(t, p.Findings, 1)
	assert.Equal(t, flat.Stop, p.Findings[0].Severity)
	assert.Equal(t, `flange "upper"`, p.Findings[0].Place)
	assert.Contains(t, p.Findings[0].Text, `flange "lower" stands in the`)
}

// A hat 60 wide and 30 high with lips of 15 turned out. Its legs keep 30 - 8 = 22 mm of
// flat between their tangent lines, the web 52.
//
// Over a bed 20 deep the lips go first, face down, each with its leg held. Turned over, they
// hang behind the bed by 22 - 20 while their legs are bent, legs held.
//
// Over a deep bed and a leaf 20 deep they hang beyond the leaf by as much, webs held; over
// a bed and a leaf that are both deep they stand in one or the other in any order.
func TestHat(t *testing.T) {
	blank := strip(t, 60, leg("lower", 30, down(leg("lower lip", 15))...), leg("upper", 30, down(leg("upper lip", 15))...))
	b := upright()
	b.Bed.Depth = 20
	p := order(t, b, blank)
	require.Equal(t, []string{"lower lip", "upper lip", "lower", "upper"}, names(p))
	assert.Equal(t, 1, p.TurnOvers)
	require.True(t, p.Steps[2].TurnOver)
	assert.Equal(t, flat.Down, p.Steps[0].Turn, "laid down with the marking face down")
	// The lip bent first stands across the flat sheet: leg, web and leg, with two bends of
	// π/2·3.5 between them, from the bar's nose; the bar is 30 deep.
	assert.InDelta(t, 22+52+22+math.Pi*3.5-30, p.Steps[1].Clears, 1e-6)
	for _, s := range p.Steps[2:] {
		assert.Equal(t, fmt.Sprintf("flange %q", s.Name), s.Held)
		assert.InDelta(t, 2, s.Clears, 1e-6)
		assert.Equal(t, fmt.Sprintf("bend of flange %q and the bed", s.Name+" lip"), s.Tightest)
	}

	b.Bed.Depth, b.Leaf.Depth = 200, 20
	p = order(t, b, blank)
	require.Len(t, p.Steps, 4)
	last := p.Steps[3]
	assert.Equal(t, "web", last.Held)
	assert.InDelta(t, 2, last.Clears, 1e-6)
	assert.Equal(t, fmt.Sprintf("bend of flange %q and the leaf", last.Name+" lip"), last.Tightest)

	b.Leaf.Depth = 60
	p = order(t, b, blank)
	assert.True(t, p.Stopped())
	assert.Empty(t, p.Steps)
}

// What hangs down behind the bed has come over it: a leg of 20 mm wants an opening of 20, the
// sheet it hangs from counted.
func TestHangingLegComesOverTheBed(t *testing.T) {
	blank := strip(t, 50, leg("lower", 20), down(leg("upper", 20)))
	b := upright()
	b.Bed.Depth, b.Nose.Lift = 30, 20
	require.Len(t, order(t, b, blank).Steps, 2)
	b.Nose.Lift = 19
	p := order(t, b, blank)
	require.True(t, p.Stopped())
	assert.Contains(t, p.Findings[0].Text, "with the web held, the flange \"lower\" does not pass under the raised nose bar")
	assert.InDelta(t, 20, p.Findings[0].Figure, 1e-6)
	assert.InDelta(t, 19, p.Findings[0].Limit, 1e-12)
}

// A box section closes on the bar: legs of 40 mm with lips that come over the middle. The
// inside of a lip comes down to 39 mm, and the bar stands 41 high. Held by its leg, a lip
// would stand in the bar, which reaches 60 mm back.
func TestBoxClosesOnTheNose(t *testing.T) {
	box := func(side float64) flat.Blank {
		return strip(t, 80, leg("lower", side, leg("lower lip", 30)...), leg("upper", side, leg("upper lip", 30)...))
	}
	b := upright()
	b.Nose.Depth = 60
	p := order(t, b, box(40))
	assert.Empty(t, p.Steps)
	assert.True(t, p.Stopped())
	for _, f := range p.Findings {
		assert.Contains(t, f.Text, "stands in the nose bar")
		// The lip would have to go up by 41 - 39, its curl, which starts at 36, by less
		// than 41 - 36.
		assert.LessOrEqual(t, f.Figure, -2.0)
		assert.Greater(t, f.Figure, -5.0)
	}
	require.Len(t, p.Findings, 2, "both legs: %v", p.Findings)

	// 48 mm high the lips clear by 47 - 41, and their curl, which starts 48 - 4 up against
	// the bar's front, by 44 - 41.
	p = order(t, b, box(48))
	require.Len(t, p.Steps, 4)
	assert.InDelta(t, 3, p.Steps[3].Clears, 1e-6)
	// ... unless more is asked for.
	b.Clear = 3.1
	p = order(t, b, box(48))
	assert.Empty(t, p.Steps)
	require.NotEmpty(t, p.Findings)
	assert.Contains(t, p.Findings[0].Text, "by too little")
	assert.InDelta(t, 3, p.Findings[0].Figure, 1e-6)
	assert.Equal(t, 3.1, p.Findings[0].Limit)
}

// A tray of four 20 mm walls: a bar as long as the brake meets the walls at its ends,
// fingers as long as the bend go between them.
func TestTray(t *testing.T) {
	p := flat.Part{
		Name:   "tray",
		Sheet:  material.Sheet{Material: material.Material{Alloy: "2024", Temper: "O"}, Thickness: 1},
		Radius: 3,
		Web: flat.Web{Edges: []flat.Edge{
			{Name: "a", Start: r2.Vec{}, Flanges: leg("a", 20)},
			{Name: "b", Start: r2.Vec{X: 150}, Flanges: leg("b", 20)},
			{Name: "c", Start: r2.Vec{X: 150, Y: 100}, Flanges: leg("c", 20)},
			{Name: "d", Start: r2.Vec{Y: 100}, Flanges: leg("d", 20)},
		}},
	}
	blank, err := flat.Develop(p)
	require.NoError(t, err)

	whole := order(t, upright(), blank)
	assert.Empty(t, whole.Steps)
	require.Len(t, whole.Findings, 2)
	// Two opposite sides go; the walls on them stand across the bar for the others.
	assert.Equal(t, `flange "b"`, whole.Findings[0].Place)
	assert.Equal(t, `flange "d"`, whole.Findings[1].Place)
	assert.Contains(t, whole.Findings[0].Text, "stands in the nose bar")
	// The wall is 20 mm high and the bar starts 1 mm up: 19 mm would have to go.
	assert.InDelta(t, -19, whole.Findings[0].Figure, 1e-6)

	b := upright()
	b.Nose.Finger = 10
	fingers := order(t, b, blank)
	assert.Equal(t, []string{"a", "b", "c", "d"}, names(fingers))
	assert.Empty(t, fingers.Findings)
	// The tangent lines are the mold lines less two setbacks of 4 mm: 142 and 92 long.
	for i, s := range fingers.Steps {
		assert.Equal(t, "web", s.Held)
		assert.InDelta(t, []float64{140, 90}[i%2], s.Bar, 1e-9)
	}
	assert.Contains(t, fingers.Steps[1].String(), "hold the web with the nose bar made up to 90.0 mm, sight line")
	// A clearance of more than the sheet: the leaf passes the standing walls with no more than
	// the flange it swings between, and is not held to it there.
	b.Clear = 3
	fingers = order(t, b, blank)
	require.Len(t, fingers.Steps, 4)
	for i, s := range fingers.Steps {
		assert.InDelta(t, []float64{130, 80}[i%2], s.Bar, 1e-9, "3 mm of 142 and 92 are kept clear at both ends")
		assert.Equal(t, "web", s.Held)
		assert.Greater(t, s.Clears, 60.0, "the wall opposite stands 62 mm or more behind the bar")
	}
}

// With the tab held, the web beside it would be clamped: what is told is how the bend fails
// with the web held. The leg then stands 42 + 3 mm back in a bar 60 deep; over the tab it
// would stand in the bar's top, 61 up, by no more than 61 - 49.
func TestWhatIsToldOfATab(t *testing.T) {
	p := flat.Part{
		Name:   "tab",
		Sheet:  material.Sheet{Material: material.Material{Alloy: "2024", Temper: "O"}, Thickness: 1},
		Rule:   bend.NeutralAxis{K: 0.5},
		Radius: 3,
		Web: flat.Web{Edges: []flat.Edge{
			{Name: "base", Start: r2.Vec{}, Flanges: leg("base", 20)},
			{Name: "step", Start: r2.Vec{X: 200}},
			{Name: "riser", Start: r2.Vec{X: 200, Y: 80}},
			{Name: "top", Start: r2.Vec{X: 120, Y: 80}},
			{Name: "nook", Start: r2.Vec{X: 120, Y: 50}, Flanges: leg("nook", 20)},
			{Name: "left", Start: r2.Vec{X: 0, Y: 50}},
		}},
	}
	blank, err := flat.Develop(p)
	require.NoError(t, err)
	b := upright()
	b.Nose.Depth, b.Nose.Height = 60, 60
	plan := order(t, b, blank)
	require.Len(t, plan.Findings, 1)
	assert.Contains(t, plan.Findings[0].Text, `with the web held, the flange "base" stands in the nose bar`)
	assert.InDelta(t, 45-60, plan.Findings[0].Figure, 1e-6)
}

// What no order can help is told at once: a bend longer than the brake, an angle past
// the front of the bar.
func TestOutOfReach(t *testing.T) {
	b := upright()
	b.Length, b.Nose.Most = 150, 80*deg
	p := order(t, b, strip(t, 50, leg("lower", 20), nil))
	assert.Empty(t, p.Steps)
	require.Len(t, p.Findings, 2)
	assert.InDelta(t, 200, p.Findings[0].Figure, 1e-9)
	assert.InDelta(t, 150, p.Findings[0].Limit, 1e-9)
	assert.Contains(t, p.Findings[0].Text, "longer than the brake")
	assert.InDelta(t, math.Pi/2, p.Findings[1].Figure, 1e-12)
	assert.Contains(t, p.Findings[1].Text, "more than the nose bar allows")
}

// Overbend counts: the leaf goes to the springback's angle, the nose to its radius.
func TestOverbend(t *testing.T) {
	blank := strip(t, 50, leg("lower", 20), nil)
	b := upright()
	b.Nose.Most = 100 * deg
	// By the table's own formula a bend of 90° is taken to 90°/kR and R1 = kR(R + T/2) - T/2.
	k, err := bend.SpringAlCuMg1.Factor(3)
	require.NoError(t, err)
	p, err := b.Order(blank, bend.SpringAlCuMg1)
	require.NoError(t, err)
	require.Len(t, p.Steps, 1)
	assert.InDelta(t, 90/k, p.Steps[0].To.Degrees(), 1e-9)
	assert.Greater(t, p.Steps[0].To, 90*deg)
	assert.InDelta(t, 3.5*k-0.5, p.Steps[0].Sight, 1e-9)
	b.Nose.Most = 90 * deg
	p, err = b.Order(blank, bend.SpringAlCuMg1)
	require.NoError(t, err)
	assert.True(t, p.Stopped())

	_, err = b.Order(blank, bend.ElasticPlastic{})
	var fault *brake.Error
	require.ErrorAs(t, err, &fault)
	assert.Contains(t, fault.Field, "springback")
}

// A flange on part of an edge: the web beside it reaches past the bend and lies over
// the leaf.
func TestMetalBesideTheBend(t *testing.T) {
	p := flat.Part{
		Name:   "tab",
		Sheet:  material.Sheet{Material: material.Material{Alloy: "2024", Temper: "O"}, Thickness: 1},
		Rule:   bend.NeutralAxis{K: 0.5},
		Radius: 3,
		Web: flat.Web{Edges: []flat.Edge{
			{Name: "base", Start: r2.Vec{}},
			{Name: "step", Start: r2.Vec{X: 200}},
			{Name: "riser", Start: r2.Vec{X: 200, Y: 80}},
			{Name: "top", Start: r2.Vec{X: 120, Y: 80}},
			{Name: "nook", Start: r2.Vec{X: 120, Y: 50}, Flanges: leg("nook", 20)},
			{Name: "left", Start: r2.Vec{X: 0, Y: 50}},
		}},
	}
	blank, err := flat.Develop(p)
	require.NoError(t, err)
	plan := order(t, upright(), blank)
	require.Len(t, plan.Steps, 1)
	require.Len(t, plan.Findings, 1)
	f := plan.Findings[0]
	assert.Equal(t, flat.Warn, f.Severity)
	// The tangent line lies 4 mm below y = 50, the bend takes 5.498 mm; the web reaches
	// to y = 80.
	assert.InDelta(t, 80-46-math.Pi/2*3.5, f.Figure, 1e-6)
}

// Every dimension, one at a time, named; nothing clamped, NaN refused.
func TestValidate(t *testing.T) {
	ran := 0
	for field, set := range map[string]func(b *brake.Brake, x float64){
		"length":      func(b *brake.Brake, x float64) { b.Length = x },
		"nose depth":  func(b *brake.Brake, x float64) { b.Nose.Depth = x },
		"nose height": func(b *brake.Brake, x float64) { b.Nose.Height = x },
		"nose lift":   func(b *brake.Brake, x float64) { b.Nose.Lift = x },
		"nose finger": func(b *brake.Brake, x float64) { b.Nose.Finger = x },
		"nose most":   func(b *brake.Brake, x float64) { b.Nose.Most = measure.Angle(x) },
		"bed depth":   func(b *brake.Brake, x float64) { b.Bed.Depth = x },
		"bed height":  func(b *brake.Brake, x float64) { b.Bed.Height = x },
		"leaf depth":  func(b *brake.Brake, x float64) { b.Leaf.Depth = x },
		"leaf height": func(b *brake.Brake, x float64) { b.Leaf.Height = x },
		"clear":       func(b *brake.Brake, x float64) { b.Clear = x },
	} {
		for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 1e6} {
			b := upright()
			set(&b, x)
			if field == "length" && x == 1e6 {
				b.Nose.Finger = 0
			}
			_, err := b.Order(flat.Blank{}, nil)
			var fault *brake.Error
			if assert.True(t, errors.As(err, &fault), "%s %g", field, x) {
				want := field
				assert.Equal(t, want, fault.Field, "%g", x)
			}
			ran++
		}
	}
	assert.Equal(t, 55, ran)
	b := brake.Brake{Nose: brake.Nose{Depth: 1.25}}
	err := b.Validate()
	assert.Contains(t, err.Error(), "nose depth 1.25 mm")
	assert.Contains(t, err.Error(), "1.25*measure.Inch")
	joined, ok := err.(interface{ Unwrap() []error })
	require.True(t, ok)
	assert.Len(t, joined.Unwrap(), 9, "all but the two that may be zero, at once")
	assert.NoError(t, upright().Validate())
}

func TestTooManyBends(t *testing.T) {
	_, err := upright().Order(flat.Blank{Bends: make([]flat.BendLine, brake.MostBends+1)}, nil)
	var fault *brake.Error
	require.ErrorAs(t, err, &fault)
	assert.Equal(t, "bends", fault.Field)
	_, err = upright().Order(flat.Blank{}, nil)
	assert.Error(t, err, "a blank of nothing does not fold")
}

func ExampleBrake_Order() {
	shop := brake.Brake{
		Length: 1250,
		Nose:   brake.Nose{Depth: 60, Height: 60, Most: 135 * measure.Degree, Lift: 60},
		Bed:    brake.Bed{Depth: 250, Height: 150},
		Leaf:   brake.Leaf{Depth: 70, Height: 30},
		Clear:  1,
	}
	lip := []flat.Flange{{Name: "lip", Angle: 90 * measure.Degree, Height: 12}}
	// A stiffener of the Corrie's hatch: a channel with one lip, invented.
	stiffener := flat.Part{
		Name:   "hatch-stiffener",
		Sheet:  material.Sheet{Material: material.Material{Alloy: "2024", Temper: "O"}, Thickness: 1},
		Radius: 3,
		Web: flat.Web{Edges: []flat.Edge{
			{Name: "inboard", Start: r2.Vec{}, Flanges: []flat.Flange{{Name: "inboard", Angle: 90 * measure.Degree, Height: 50, Flanges: lip}}},
			{Name: "aft", Start: r2.Vec{X: 300}},
			{Name: "outboard", Start: r2.Vec{X: 300, Y: 90}, Flanges: []flat.Flange{{Name: "outboard", Angle: 90 * measure.Degree, Height: 30}}},
			{Name: "fore", Start: r2.Vec{Y: 90}},
		}},
	}
	blank, err := flat.Develop(stiffener)
	if err != nil {
		fmt.Println(err)
		return
	}
	plan, err := shop.Order(blank, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	// The lip, swung, ends 8 mm behind the nose's centre and 49 mm up, 23.2 from the bar's
	// leaning front. Standing, it ends 82 + 4 - 12 = 74 mm back, 14 behind the heel.
	for i, s := range plan.Steps {
		fmt.Printf("%d. %v\n", i+1, s)
	}
	for _, f := range plan.Findings {
		fmt.Println(f)
	}
	// Output:
	// 1. flange "lip": marking face up, hold the flange "inboard", sight line 3.00 mm in from its tangent line straight under the nose, bend to 90°
	// 2. flange "inboard": marking face up, hold the web, sight line 3.00 mm in from its tangent line straight under the nose, bend to 90°; clears by 23.2 mm, flange "lip" and the nose bar with the leaf at 90°
	// 3. flange "outboard": marking face up, hold the web, sight line 3.00 mm in from its tangent line straight under the nose, bend to 90°; clears by 14.0 mm, flange "lip" and the nose bar
}

// A channel and a zed of 1 mm sheet in the shop's brake. The sight line of each bend lies one radius
// of the nose in, 3 mm, and with no springback to make up for the leaf goes to the angle wanted. The
// second bend of the zed wants the sheet turned over: its first flange, 20 mm high outside, then
// hangs 20 - 1 = 19 mm below the underside of the web, and the bed is there.
func ExamplePlan() {
	shop := brake.Brake{
		Length: 1250,
		Nose:   brake.Nose{Depth: 60, Height: 60, Most: 135 * measure.Degree, Lift: 60},
		Bed:    brake.Bed{Depth: 250, Height: 150},
		Leaf:   brake.Leaf{Depth: 70, Height: 30},
		Clear:  1,
	}
	for _, second := range []flat.Turn{flat.Up, flat.Down} {
		blank, err := flat.Develop(flat.Part{
			Name:   "stiffener",
			Sheet:  material.Sheet{Material: material.Material{Alloy: "2024", Temper: "O"}, Thickness: 1},
			Radius: 3,
			Web: flat.Web{Edges: []flat.Edge{
				{Name: "lower", Flanges: []flat.Flange{{Name: "lower", Angle: 90 * measure.Degree, Height: 20}}},
				{Name: "right", Start: r2.Vec{X: 300}},
				{Name: "upper", Start: r2.Vec{X: 300, Y: 40}, Flanges: []flat.Flange{{Name: "upper", Turn: second, Angle: 90 * measure.Degree, Height: 20}}},
				{Name: "left", Start: r2.Vec{Y: 40}},
			}},
		})
		if err != nil {
			fmt.Println(err)
			return
		}
		plan, err := shop.Order(blank, nil)
		if err != nil {
			fmt.Println(err)
			return
		}
		for i, s := range plan.Steps {
			fmt.Printf("%d. %s: sight line %.0f mm in, leaf to %v\n", i+1, s.Name, s.Sight, s.To)
		}
		for _, f := range plan.Findings {
			fmt.Printf("%s, %s: %.0f mm\n", f.Severity, f.Place, f.Figure)
		}
		fmt.Println("turned over", plan.TurnOvers, "times; stopped", plan.Stopped())
	}
	// Output:
	// 1. lower: sight line 3 mm in, leaf to 90°
	// 2. upper: sight line 3 mm in, leaf to 90°
	// turned over 0 times; stopped false
	// STOP, flange "upper": -19 mm
	// turned over 0 times; stopped true
}

func BenchmarkOrder(b *testing.B) {
	shop := upright()
	shop.Nose.Depth, shop.Nose.Height, shop.Nose.Most = 60, 60, 135*deg
	for name, blank := range map[string]flat.Blank{
		"channel": strip(b, 50, leg("lower", 20), leg("upper", 20)),
		"lipped":  strip(b, 100, leg("lower", 50, leg("lower lip", 12)...), leg("upper", 50, leg("upper lip", 12)...)),
		"blocked": strip(b, 40, leg("lower", 50, leg("lower lip", 12)...), leg("upper", 50, leg("upper lip", 12)...)),
	} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := shop.Order(blank, nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
