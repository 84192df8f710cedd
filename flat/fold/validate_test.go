package fold_test

import (
	"errors"
	"math"
	"testing"

	"github.com/hangarflat/hangarflat/flat/fold"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// faults are all the fold's errors that were joined into one.
func faults(err error) (all []*fold.Error) {
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		for _, e := range joined.Unwrap() {
			all = append(all, faults(e)...)
		}
		return all
	}
	var f *fold.Error
	if errors.As(err, &f) {
		all = append(all, f)
	}
	return all
}

var notNumbers = []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e7}

// Every number of a flat that breaks its rule is named, and nothing else is.
func TestFaultsAreNamed(t *testing.T) {
	ran := 0
	for _, c := range []struct {
		field string
		set   func(f *fold.Flat, x float64)
		bad   []float64
	}{
		{"thickness", func(f *fold.Flat, x float64) { f.Thickness = x }, append([]float64{0, -1}, notNumbers...)},
		{"panel 1 corner 2", func(f *fold.Flat, x float64) { f.Panels[1][2].X = x }, notNumbers},
		{"panel 0 corner 0", func(f *fold.Flat, x float64) { f.Panels[0][0].Y = x }, notNumbers},
		{"bend 0 angle", func(f *fold.Flat, x float64) { f.Bends[0].Angle = measure.Angle(x) }, append([]float64{0, -1, 3.15, 90}, notNumbers...)},
		{"bend 0 width", func(f *fold.Flat, x float64) { f.Bends[0].Width = x }, append([]float64{0, -1}, notNumbers...)},
		{"bend 0 radius", func(f *fold.Flat, x float64) { f.Bends[0].Radius = x }, append([]float64{-1}, notNumbers...)},
		{"bend 0 tangent line length", func(f *fold.Flat, x float64) { f.Bends[0].A.X = x }, notNumbers},
		{"bend 0 tangent line length", func(f *fold.Flat, x float64) { f.Bends[0].B = f.Bends[0].A }, []float64{0}},
		{"bend 1 near", func(f *fold.Flat, x float64) { f.Bends[1].Sections[1].Near = x }, notNumbers},
		{"bend 1 width", func(f *fold.Flat, x float64) { f.Bends[1].Sections[1].Width = x }, append([]float64{0, -1}, notNumbers...)},
		{"bend 1 angle", func(f *fold.Flat, x float64) { f.Bends[1].Sections[0].Angle = measure.Angle(x) }, append([]float64{0, 90}, notNumbers...)},
		{"bend 1 sections", func(f *fold.Flat, x float64) { f.Bends[1].Sections[1].At = x }, []float64{math.NaN(), math.Inf(-1), 0, -1}},
		{"bend 1 sections", func(f *fold.Flat, x float64) { f.Bends[1].Sections = f.Bends[1].Sections[:1] }, []float64{0}},
	} {
		for _, x := range c.bad {
			f := lipped(20, 5, 5, 0)
			f.Bends = f.Bends[:3]
			f.Panels = f.Panels[:4]
			// Nothing hangs from the second wall: let its bevel change.
			f.Bends[1].Sections = []fold.Section{{At: 0, Width: 2, Angle: 1}, {At: 40, Width: 2.1, Angle: 1.1}}
			_, err := fold.Fold(f)
			require.NoError(t, err)
			c.set(&f, x)
			_, err = fold.Fold(f)
			found := faults(err)
			if assert.Len(t, found, 1, "%s %g: %v", c.field, x, err) {
				assert.Equal(t, c.field, found[0].Field)
				assert.NotEmpty(t, found[0].Rule)
				assert.Contains(t, err.Error(), c.field)
			}
			ran++
		}
	}
	assert.Equal(t, 59, ran)
}

// A tree that does not hang together says where.
func TestBrokenTreesAreNamed(t *testing.T) {
	for _, c := range []struct {
		why    string
		change func(f *fold.Flat)
		fields []string
	}{
		{"no panel", func(f *fold.Flat) { f.Panels, f.Bends = nil, nil }, []string{"panels"}},
		{"two corners", func(f *fold.Flat) { f.Panels[2] = f.Panels[2][:2] }, []string{"panel 2 corners"}},
		{"parent not there", func(f *fold.Flat) { f.Bends[0].Parent = 9 }, []string{"bend 0 parent", "bend 2 parent", "panel", "panel"}},
		{"parent below none", func(f *fold.Flat) { f.Bends[3].Parent = -1 }, []string{"bend 3 parent", "panel"}},
		{"child not there", func(f *fold.Flat) { f.Bends[3].Child = 5 }, []string{"bend 3 child", "panel"}},
		{"child below none", func(f *fold.Flat) { f.Bends[3].Child = -2 }, []string{"bend 3 child", "panel"}},
		{"child before parent", func(f *fold.Flat) { f.Bends[0], f.Bends[2] = f.Bends[2], f.Bends[0] }, []string{"bend 0 parent", "panel"}},
		{"two parents", func(f *fold.Flat) { f.Bends[3].Child = 1 }, []string{"bend 3 child", "panel"}},
		{"its own child", func(f *fold.Flat) { f.Bends[3].Child = 0 }, []string{"bend 3 child", "panel"}},
		{"missing bend", func(f *fold.Flat) { f.Bends = f.Bends[:3] }, []string{"panel"}},
		{"hangs from a changing bevel", func(f *fold.Flat) {
			f.Bends[1].Sections = []fold.Section{{At: 0, Width: 2, Angle: 1}, {At: 40, Width: 2.1, Angle: 1.1}}
		}, []string{"bend 3 parent"}},
	} {
		f := lipped(20, 5, 5, 0)
		c.change(&f)
		_, err := fold.Fold(f)
		var got []string
		for _, e := range faults(err) {
			got = append(got, e.Field)
		}
		assert.Equal(t, c.fields, got, c.why)
	}
}

// All faults come at once.
func TestAllFaultsAtOnce(t *testing.T) {
	f := angle()
	f.Thickness = -1
	f.Panels[0][1].X = math.NaN()
	f.Bends[0].Angle = 200 * measure.Degree
	f.Bends[0].Width = 0
	f.Bends[0].Radius = math.Inf(1)
	_, err := fold.Fold(f)
	assert.Len(t, faults(err), 5)
}

// FuzzFold: whatever numbers stand in a flat, Fold answers with an error or with
// frames that are square, and nothing panics after it.
func FuzzFold(f *testing.F) {
	f.Add(1.0, 0.0, 5.0, math.Pi/2, 3.0, 16.0, 0.0, 100.0, true, uint8(0))
	f.Add(0.0, math.NaN(), math.Inf(1), -1.0, 1e300, 5e-324, 1e6, -1e6, false, uint8(7))
	f.Add(1.0, 1e-300, 1e-300, 1e-300, 0.0, 0.0, 0.0, 1e-300, true, uint8(3))
	f.Add(1e6, 1e6, 1e6, math.Pi, 1e6, 1e6, -1e6, 1e6, false, uint8(255))
	f.Fuzz(func(t *testing.T, thickness, near, width, turned, radius, flat, x, y float64, up bool, odd uint8) {
		a, b := r2.Vec{X: x, Y: near}, r2.Vec{X: y, Y: near}
		s := fold.Flat{
			Thickness: thickness,
			Panels: [][]r2.Vec{
				{{X: x}, {X: y}, {X: y, Y: 46}, {X: x, Y: 46}},
				{{X: x, Y: -width}, {X: x, Y: -width - flat}, {X: y, Y: -width - flat}, {X: y, Y: -width}},
			},
			Bends: []fold.Bend{{
				Child: 1, A: a, B: b, Width: width, Angle: measure.Angle(turned), Radius: radius, Up: up,
				Zone: []r2.Vec{{X: x, Y: near}, {X: x, Y: near - width}, {X: y, Y: near - width}, {X: y, Y: near}},
			}},
		}
		bend := &s.Bends[0]
		bend.Zone = bend.Zone[:4-int(odd>>1)%5]
		if odd&1 == 1 {
			bend.Sections = []fold.Section{{At: x, Near: near, Width: width, Angle: measure.Angle(turned)}, {At: y, Width: width, Angle: measure.Angle(turned) / 2}}
		}
		if odd&64 != 0 {
			bend.Parent, bend.Child = int(odd&3)-1, int(odd>>2&3)-1
		}
		solid, err := fold.Fold(s)
		if err != nil {
			var fault *fold.Error
			require.ErrorAs(t, err, &fault)
			return
		}
		if len(bend.Sections) == 0 {
			fr := solid.Frames[1]
			assert.InDelta(t, 1, fr.X.X*fr.X.X+fr.X.Y*fr.X.Y+fr.X.Z*fr.X.Z, 1e-9)
			assert.InDelta(t, 1, fr.Z.X*fr.Z.X+fr.Z.Y*fr.Z.Y+fr.Z.Z*fr.Z.Z, 1e-9)
		}
		solid.Clashes(0.05, nil)
		solid.Zone(0, a, 0)
		if bulk, err := solid.Bulk(nil); err == nil {
			assert.Positive(t, bulk.Volume)
		}
	})
}
