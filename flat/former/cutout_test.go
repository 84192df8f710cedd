package former_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/former"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// A cut-out takes from the blank what its rectangle with two round corners and the flange beyond
// it cover. On the flat keel that is exact.
func TestCutoutArea(t *testing.T) {
	f := frame8(t, 0)
	plain, err := former.Develop(f)
	require.NoError(t, err)
	f.Cutouts = []former.Cutout{{Name: "S1", Girth: -40, Width: 20, Depth: 18, Clearance: 1, Radius: 5}}
	r, err := former.Develop(f)
	require.NoError(t, err)
	// BA + H - 2·SB of blank beyond the mold line.
	beyond := (0.01743*3.2+0.0078*1.2)*90 + 20 - 8.8
	lost := 22*(19+beyond) - (2-math.Pi/2)*25
	assert.InDelta(t, plain.Pieces[0].Area-lost, r.Pieces[0].Area, 1e-6)

	// By its corners: girth -40 lies 40 mm to the left of the keel's middle.
	for _, want := range []r2.Vec{{X: -51, Y: 14}, {X: -46, Y: 19}, {X: -34, Y: 19}, {X: -29, Y: 14}} {
		found := false
		for _, v := range r.Pieces[0].Outline.Vertices {
			found = found || r2.Norm(r2.Sub(v.P, want)) < 1e-9
		}
		assert.True(t, found, "corner at %v", want)
	}
	// Lines of the blank stop at its sides.
	for _, near := range r.Pieces[0].Near {
		for _, v := range near.Vertices {
			assert.False(t, v.P.Y < 10 && -50.9 < v.P.X && v.P.X < -29.1)
		}
	}

	// Left uncut, it is marked and nothing is cut.
	f.Cutouts[0].MarkOnly = true
	r, err = former.Develop(f)
	require.NoError(t, err)
	assert.InDelta(t, plain.Pieces[0].Area, r.Pieces[0].Area, 1e-9)
	require.Len(t, r.Pieces[0].Marks, 1)
	// The mark has the length of two sides, the floor and the corners from the mold line in.
	assert.InDelta(t, 2*(19-5)+12+math.Pi*5, r.Pieces[0].Marks[0].Length(), 1e-9)
}

// Every piece of a ring takes its own cut-outs, and one as wide as its corners are
// round has a round end.
func TestCutoutsByPiece(t *testing.T) {
	f := frame8(t, 12)
	for i := range f.Cutouts {
		f.Cutouts[i].Radius = f.Cutouts[i].Width/2 + 1 // half the width, clearance included
	}
	f.Split.Pieces = 4
	r, err := former.Develop(f)
	require.NoError(t, err)
	arcs := 0
	for _, p := range r.Pieces {
		for _, s := range p.Outline.Segments() {
			if math.Abs(s.Radius()-11) < 1e-9 && s.Bulge < 0 {
				arcs++
			}
		}
	}
	assert.Equal(t, 24, arcs)
}

// By angle: on a circle the girth is the angle times the radius; from a centre that is not the
// circle's, where the ray goes.
func TestGirthToward(t *testing.T) {
	c := outline.Circle(r2.Vec{X: 3, Y: -2}, 100)
	for a := measure.Angle(1); a < 360; a += 17 {
		got, err := former.GirthToward(c, r2.Vec{X: 3, Y: -2}, a*deg)
		require.NoError(t, err)
		assert.InDelta(t, 100*float64(a*deg), got, 1e-6)
	}
	got, err := former.GirthToward(c, r2.Vec{X: 3, Y: 48}, 0)
	require.NoError(t, err)
	assert.InDelta(t, 100*math.Pi/6, got, 1e-6, "half a radius up: thirty degrees")
	// A hollow contour is met three times by a ray along the arm of its U; the nearest counts.
	u := outline.Polygon(r2.Vec{}, r2.Vec{X: 100}, r2.Vec{X: 100, Y: 80}, r2.Vec{X: 70, Y: 80}, r2.Vec{X: 70, Y: 30}, r2.Vec{X: 30, Y: 30}, r2.Vec{X: 30, Y: 80}, r2.Vec{Y: 80})
	got, err = former.GirthToward(u, r2.Vec{X: 15, Y: 50}, 0)
	require.NoError(t, err)
	assert.InDelta(t, 100+80+30+50+40+20, got, 1e-6)
	for _, bad := range []r2.Vec{{X: math.NaN()}, {X: 500, Y: 500}} {
		_, err = former.GirthToward(c, bad, 10*deg)
		var e *former.Error
		require.ErrorAs(t, err, &e)
	}
}

// What is wrong with a cut-out is said: corners in the bend, sharp corners, too deep, too near.
func TestCutoutFindings(t *testing.T) {
	one := func(c former.Cutout) former.Ring {
		f := frame8(t, 0)
		f.Cutouts = []former.Cutout{c}
		r, err := former.Develop(f)
		require.NoError(t, err)
		return r
	}
	good := former.Cutout{Name: "S", Girth: 500, Width: 20, Depth: 18, Clearance: 1, Radius: 4}
	for _, x := range one(good).Findings {
		assert.NotContains(t, x.Place, "cut-out")
	}
	sharp, shallow, deep, through := good, good, good, good
	sharp.Radius = 1
	shallow.Depth, shallow.Radius = 6, 4 // 3 mm to the corner's beginning, the bend ends at 4.4
	deep.Depth = 45
	through.Depth = 89
	for want, c := range map[string]former.Cutout{
		"cracks start in sharp corners": sharp, "end within the bend": shallow, "more than half of the web": deep, "cuts the web through": through,
	} {
		assert.Contains(t, fmt.Sprint(texts(one(c).Findings)), want)
	}
	assert.True(t, one(through).Stopped())

	f := frame8(t, 0)
	f.Cutouts = []former.Cutout{good, good}
	f.Cutouts[1].Girth = 515
	_, err := former.Develop(f)
	var bad *former.Error
	require.ErrorAs(t, err, &bad)
	assert.Contains(t, bad.Rule, "runs into")
	f.Cutouts = f.Cutouts[:1]
	f.Split = former.Split{Pieces: 2, Joints: []float64{505, 1500}}
	_, err = former.Develop(f)
	require.ErrorAs(t, err, &bad)
	assert.Contains(t, bad.Rule, `lies in cut-out "S"`)
	f.Split.Joints[0] = 530
	r, err := former.Develop(f)
	require.NoError(t, err)
	assert.Contains(t, fmt.Sprint(texts(r.Findings)), "lies within the splice plate")
}

// Rivets are spaced evenly between cut-outs at no more than the pitch and no less than
// three diameters, two diameters clear of the cut-outs; flutes stand midway between
// rivets and in no cut-out.
func TestRivetsAndFlutes(t *testing.T) {
	for _, pitch := range []float64{22, 10, 9.7, 9.65} {
		rivetsAndFlutes(t, pitch)
	}
}

func rivetsAndFlutes(t *testing.T, pitch float64) {
	f := frame8(t, 9)
	f.Outer.Flange.Rivets.Pitch = pitch
	r, err := former.Develop(f)
	require.NoError(t, err)
	p := r.Pieces[0]
	var flange []former.Mark
	for _, m := range p.Rivets {
		if m.Name == "flange rivet" {
			flange = append(flange, m)
		}
	}
	require.Greater(t, len(flange), 50)
	// The row lies midway on the flat, 12.2 mm from the mold line on the flange; on the
	// blank as far beyond the mold line as the allowance makes it.
	beyond := (0.01743*3.2+0.0078*1.2)*90 + 12.2 - 8.8
	last := -1.0
	contour := f.Outer.Contour
	girthOf := func(q r2.Vec) float64 {
		_, i, u := contour.Nearest(q)
		s := 0.0
		for k := range i {
			s += contour.Segment(k).Length()
		}
		return s + u*contour.Segment(i).Length()
	}
	for _, m := range flange {
		assert.InDelta(t, beyond, contour.Distance(m.At), 1e-6)
		g := girthOf(m.At)
		for _, c := range f.Cutouts {
			assert.GreaterOrEqual(t, math.Abs(g-c.Girth), c.Width/2+c.Clearance+2*3.2-1e-6)
		}
		if last >= 0 {
			assert.GreaterOrEqual(t, g-last, 3*3.2-1e-6)
		}
		last = g
	}
	require.NotEmpty(t, p.Helps)
	for _, m := range p.Helps {
		g := girthOf(m.At)
		assert.Equal(t, "flute", m.Name)
		before, after := math.Inf(-1), math.Inf(1)
		for _, q := range flange {
			if s := girthOf(q.At); s < g {
				before = max(before, s)
			} else {
				after = min(after, s)
			}
		}
		assert.InDelta(t, g-before, after-g, 1e-6)
		for _, c := range f.Cutouts {
			assert.Greater(t, math.Abs(g-c.Girth), c.Width/2+c.Clearance)
		}
	}
}

// What is none of them reads as the first, as every kind of this package does.
func TestWordsOfKinds(t *testing.T) {
	words := func(all ...fmt.Stringer) (out []string) {
		for _, k := range all {
			out = append(out, k.String())
		}
		return out
	}
	assert.Equal(t, []string{"flute", "notch", "part the flange", "flute", "flute"}, words(former.Flute, former.Notch, former.Part, former.RemedyKind(3), former.RemedyKind(255)))
	assert.Equal(t, []string{"by hand", "by rubber pad", "by hand"}, words(former.ByHand, former.ByRubberPad, former.Method(2)))
	assert.Equal(t, []string{"equal arc", "equal area", "equal arc"}, words(former.EqualArc, former.EqualArea, former.Model(2)))
}

// A flute's depth is that of a circular arc, nearly: over half the spacing it is longer
// than its chord by what it has to take up.
func TestFluteDepth(t *testing.T) {
	f := frame8(t, 0)
	r, err := former.Develop(f)
	require.NoError(t, err)
	require.NotEmpty(t, r.Remedies)
	for _, h := range r.Remedies {
		require.Equal(t, former.Flute, h.Kind)
		chord := (h.To - h.From) / float64(len(h.Places)) / 2
		// Radius from chord and rise, arc from radius.
		radius := (chord*chord/4 + h.Depth*h.Depth) / (2 * h.Depth)
		arc := 2 * radius * math.Asin(chord/2/radius)
		assert.InEpsilon(t, h.TakeUp, arc-chord, 0.02)
		// In all, the strain beyond the guidance times the length of the blank's edge,
		// less what the evenly strained stretch leaves: one bilge is one stretch.
		assert.InEpsilon(t, h.Excess*(h.To-h.From)*(260+(0.01743*3.2+0.0078*1.2)*90+20-8.8)/260, h.TakeUp*float64(len(h.Places)), 1e-9)
	}
}

// A flange round a small hole is stretched past the guidance: it is notched to where
// the stretch is allowed again, or parted when it is hopeless.
func TestNotches(t *testing.T) {
	f := bulkhead(t, 90*deg)
	f.Inner = former.Rim{Contour: outline.Circle(r2.Vec{}, 120).Reverse(), Flange: &former.Flange{Height: 22, Radius: 3, Bevels: []former.Bevel{{Angle: 90 * deg}}}}
	r, err := former.Develop(f)
	require.NoError(t, err)
	var notch *former.Remedy
	for i := range r.Remedies {
		if r.Remedies[i].Kind == former.Notch {
			notch = &r.Remedies[i]
		}
	}
	require.NotNil(t, notch)
	// The flange cut down by the notch's depth strains as far as is careful.
	cut, err := former.SectionOf(nil, notchBend, 22-notch.Depth)
	require.NoError(t, err)
	k := -1 / (120 + 4.2)
	assert.InDelta(t, 0.10, cut.EdgeStrain(cut.Width, k), 1e-9)

	f.Inner.Contour = outline.Circle(r2.Vec{}, 55).Reverse()
	r, err = former.Develop(f)
	require.NoError(t, err)
	kinds := map[former.RemedyKind]bool{}
	for _, h := range r.Remedies {
		kinds[h.Kind] = true
	}
	assert.True(t, kinds[former.Part])
	// A small disc shrinks by more than twice the 8 %: tabs, cut down to where it shrinks by 5 %.
	disc := bulkhead(t, 90*deg)
	disc.Outer.Contour = outline.Circle(r2.Vec{}, 45)
	small, err := former.Develop(disc)
	require.NoError(t, err)
	require.NotEmpty(t, small.Remedies)
	assert.Equal(t, former.Part, small.Remedies[0].Kind)
	cut, err = former.SectionOf(nil, notchBend, 18-small.Remedies[0].Depth)
	require.NoError(t, err)
	assert.InDelta(t, -0.05, cut.EdgeStrain(cut.Width, 1/(45-4.2)), 1e-9)
	worst := 0
	for _, x := range r.Findings {
		if x.Severity == flat.Stop {
			worst++
		}
	}
	assert.Zero(t, worst, "guidance that is only remembered never stops a part")
}

// A cut-out that lies within a splice takes nothing that the splice does not take:
// rivets keep clear of both.
func TestRivetsClearOfSplices(t *testing.T) {
	f := frame8(t, 0)
	f.Cutouts = []former.Cutout{{Name: "S", Girth: 1470, Width: 10, Depth: 12, Clearance: 1, Radius: 3.2}}
	f.Split = former.Split{Pieces: 2, Joints: []float64{500, 1500}}
	r, err := former.Develop(f)
	require.NoError(t, err)
	n := 0
	for _, p := range r.Pieces {
		for _, m := range p.Rivets {
			if m.Name != "flange rivet" {
				continue
			}
			n++
			for _, s := range r.Splices {
				at, _ := station(t, f.Outer.Contour, s.Girth)
				assert.Greater(t, r2.Norm(r2.Sub(m.At, at)), s.Half-3)
			}
		}
	}
	assert.Greater(t, n, 50)
}
