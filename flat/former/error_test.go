package former_test

import (
	"errors"
	"math"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/former"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"pgregory.net/rapid"
)

// Every number of a former, bad in every way: refused by its name.
func TestBadNumbers(t *testing.T) {
	type set func(f *former.Former, x float64)
	numbers := map[string]set{
		"outer flange height":         func(f *former.Former, x float64) { f.Outer.Flange.Height = x },
		"outer flange radius":         func(f *former.Former, x float64) { f.Outer.Flange.Radius = x },
		"outer flange trim":           func(f *former.Former, x float64) { f.Outer.Flange.Trim = x },
		"outer flange bevel 1 angle":  func(f *former.Former, x float64) { f.Outer.Flange.Bevels[0].Angle = measure.Angle(x) },
		"outer flange bevel 1 girth":  func(f *former.Former, x float64) { f.Outer.Flange.Bevels[0].At = x },
		"outer flange rivet diameter": func(f *former.Former, x float64) { f.Outer.Flange.Rivets.Diameter = x },
		"outer flange rivet pitch":    func(f *former.Former, x float64) { f.Outer.Flange.Rivets.Pitch = x },
		"outer flange rivet line":     func(f *former.Former, x float64) { f.Outer.Flange.Rivets.Line = x },
		"inner flange height":         func(f *former.Former, x float64) { f.Inner.Flange.Height = x },
		`cut-out "S" girth`:           func(f *former.Former, x float64) { f.Cutouts[0].Girth = x * 1e5 },
		`cut-out "S" width`:           func(f *former.Former, x float64) { f.Cutouts[0].Width = x },
		`cut-out "S" depth`:           func(f *former.Former, x float64) { f.Cutouts[0].Depth = x },
		`cut-out "S" clearance`:       func(f *former.Former, x float64) { f.Cutouts[0].Clearance = x },
		`cut-out "S" radius`:          func(f *former.Former, x float64) { f.Cutouts[0].Radius = x },
		"joint gap":                   func(f *former.Former, x float64) { f.Split.Gap = x },
		"stagger":                     func(f *former.Former, x float64) { f.Split.Stagger = x },
		"splice rivet diameter":       func(f *former.Former, x float64) { f.Split.Rivet = x },
		"joint 1 girth":               func(f *former.Former, x float64) { f.Split.Joints = []float64{x * 1e5, 3} },
		"neighbour joint 1 girth":     func(f *former.Former, x float64) { f.Split.Neighbours = []float64{x * 1e5} },
		"sheet stock length":          func(f *former.Former, x float64) { f.Split.Stock = former.Stock{Length: x, Width: 100} },
		"block stock width":           func(f *former.Former, x float64) { f.Split.BlockStock = former.Stock{Length: 100, Width: x} },
		"block depth":                 func(f *former.Former, x float64) { f.Block.Depth = x },
		"block overbend":              func(f *former.Former, x float64) { f.Block.Overbend = measure.Angle(x) },
		"tooling pin diameter":        func(f *former.Former, x float64) { f.Block.Pin = x },
		"cover relief":                func(f *former.Former, x float64) { f.Block.CoverRelief = x },
	}
	ran := 0
	for want, set := range numbers {
		for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 1e300} {
			f := frame8(t, 0)
			f.Split.Pieces = 2
			f.Cutouts = []former.Cutout{{Name: "S", Girth: 500, Width: 20, Depth: 18, Clearance: 1, Radius: 4}}
			require.NoError(t, f.Validate())
			set(&f, x)
			_, err := former.Develop(f)
			require.Error(t, err, "%s = %v", want, x)
			assert.Contains(t, fields(err), want, "%s = %v", want, x)
			ran++
		}
	}
	assert.Equal(t, 125, ran)
}

// fields lists the fields of all errors joined in err.
func fields(err error) (all []string) {
	if many, ok := err.(interface{ Unwrap() []error }); ok {
		for _, e := range many.Unwrap() {
			all = append(all, fields(e)...)
		}
		return all
	}
	var one *former.Error
	if errors.As(err, &one) {
		all = append(all, one.Field)
	}
	return all
}

// All faults come at once, and shapes that are no former are refused.
func TestFaults(t *testing.T) {
	f := frame8(t, 0)
	f.Outer.Flange.Height, f.Inner.Flange.Radius, f.Method = -1, math.NaN(), 9
	err := f.Validate()
	assert.Subset(t, fields(err), []string{"outer flange height", "inner flange radius", "method"})

	shape := func(change func(f *former.Former)) string {
		f := frame8(t, 0)
		change(&f)
		_, err := former.Develop(f)
		require.Error(t, err)
		return err.Error()
	}
	assert.Contains(t, shape(func(f *former.Former) { f.Outer.Contour = f.Outer.Contour.Reverse() }), "counter-clockwise")
	assert.Contains(t, shape(func(f *former.Former) { f.Inner.Contour = f.Inner.Contour.Reverse() }), "clockwise")
	assert.Contains(t, shape(func(f *former.Former) { f.Outer.Contour.Closed = false }), "closed")
	assert.Contains(t, shape(func(f *former.Former) { f.Inner.Contour = outline.Circle(r2.Vec{X: 900}, 80).Reverse() }), "within the outer")
	assert.Contains(t, shape(func(f *former.Former) { f.Inner.Contour = outline.Circle(r2.Vec{Y: 100}, 96).Reverse() }), "the bends take")
	assert.Contains(t, shape(func(f *former.Former) { f.Outer.Contour.Vertices[1].P.Y = math.NaN() }), "outer contour")
	assert.Contains(t, shape(func(f *former.Former) { f.Outer.Contour.Vertices[1].P.X += 5 }), "turns")
	assert.Contains(t, shape(func(f *former.Former) { f.Outer.Flange.Bevels = nil }), "no bend angle")
	assert.Contains(t, shape(func(f *former.Former) {
		f.Outer.Flange.Bevels = []former.Bevel{{At: 9, Angle: 1}, {At: 3, Angle: 1}}
	}), "in the order of the girth")
	assert.Contains(t, shape(func(f *former.Former) { f.Outer.Flange.Turn = 7 }), "up or down")
	assert.Contains(t, shape(func(f *former.Former) { f.Outer.Flange.Model = 7 }), "equal area")
	assert.Contains(t, shape(func(f *former.Former) { f.Block.Contour = 7 }), "block contour")
	assert.Contains(t, shape(func(f *former.Former) { f.Split.Pieces = 25 }), "1 to 24")
	assert.Contains(t, shape(func(f *former.Former) { f.Split.Pieces, f.Split.Joints = 2, []float64{1} }), "as many joints")
	assert.Contains(t, shape(func(f *former.Former) { f.Split.Pieces, f.Split.Joints = 2, []float64{1, 1} }), "two joints at one place")
	assert.Contains(t, shape(func(f *former.Former) { f.Inner, f.Split.Pieces = former.Rim{}, 2 }), "not a ring")
	assert.Contains(t, shape(func(f *former.Former) { f.Sheet = material.Sheet{} }), "sheet")
	assert.Contains(t, shape(func(f *former.Former) { f.Rule = bend.SteppedK{} }), "flange")
}

// Zero values are useful or refused, never a panic.
func TestZeroValues(t *testing.T) {
	_, err := former.Develop(former.Former{})
	assert.Error(t, err)
	_, err = former.Rim{}.Lay(sheet(t), nil)
	assert.Error(t, err)
	_, _, ok := former.Strip{}.Worst()
	assert.False(t, ok)
	_, known := former.GuideFor(material.Material{}, former.ByHand)
	assert.False(t, known)
	assert.Empty(t, former.Ring{}.Working())
	assert.False(t, former.Ring{}.Stopped())
	assert.Equal(t, flat.Up, former.Ring{}.Turn())
	assert.Zero(t, former.SizeOf(outline.Path{}))
	assert.True(t, former.Stock{}.Takes(former.Stock{Length: 1e9, Width: 1e9}))
	assert.Empty(t, former.Piece{}.Mirrored().Outline.Vertices)
	_, err = former.SectionOf(nil, bend.Bend{}, 0)
	assert.Error(t, err)
	// A plain web: no flange at all. Its blank is its contour.
	f := former.Former{Name: "plain", Sheet: sheet(t), Outer: former.Rim{Contour: outline.Circle(r2.Vec{}, 100)}}
	r, err := former.Develop(f)
	require.NoError(t, err)
	assert.InDelta(t, math.Pi*1e4, r.Pieces[0].Area, 1e-6)
	assert.Empty(t, r.Working())
}

// Random rings of rounded polygons, bulging and hollow, with random flanges, cut-outs
// and joints: either every outline is whole and the pieces make the ring, or the fault
// is named.
func TestRandomRings(t *testing.T) {
	made := 0
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 9).Draw(t, "corners")
		var pts []r2.Vec
		for i := range n {
			a := 2 * math.Pi * (float64(i) + rapid.Float64Range(-0.2, 0.2).Draw(t, "turn")) / float64(n)
			d := rapid.Float64Range(250, 600).Draw(t, "reach")
			pts = append(pts, r2.Vec{X: d * math.Cos(a), Y: d * math.Sin(a)})
		}
		p := outline.Polygon(pts...)
		for i := n - 1; i >= 0; i-- {
			next, err := p.Fillet(i, rapid.Float64Range(20, 120).Draw(t, "radius"))
			if err != nil {
				t.Skip("the corner has no room for its radius")
			}
			p = next
		}
		depth := rapid.Float64Range(30, 90).Draw(t, "web")
		inner, err := p.Offset(-depth, outline.OffsetOptions{})
		if err != nil || len(inner) != 1 {
			t.Skip("no ring of this depth")
		}
		flange := func() *former.Flange {
			bevels := []former.Bevel{{Angle: measure.Angle(rapid.Float64Range(70, 110).Draw(t, "bevel")) * deg}}
			if rapid.Bool().Draw(t, "varies") {
				bevels = append(bevels, former.Bevel{At: 300, Angle: measure.Angle(rapid.Float64Range(70, 110).Draw(t, "bevel")) * deg})
			}
			return &former.Flange{Height: rapid.Float64Range(10, 25).Draw(t, "height"), Radius: 3, Bevels: bevels,
				Model: former.Model(rapid.IntRange(0, 1).Draw(t, "model")), Rivets: former.Rivets{Diameter: 3.2, Pitch: 25}}
		}
		f := former.Former{Name: "random", Sheet: randomSheet, Outer: former.Rim{Contour: p, Flange: flange()}, Inner: former.Rim{Contour: inner[0].Reverse()}}
		for i := range rapid.IntRange(0, 6).Draw(t, "cut-outs") {
			f.Cutouts = append(f.Cutouts, former.Cutout{Girth: 90 + 150*float64(i), Width: 16, Depth: 12, Radius: 3.2, Clearance: 1})
		}
		whole, err := former.Develop(f)
		if err != nil {
			var bad *former.Error
			if !errors.As(err, &bad) {
				t.Fatalf("not an error of the package: %v", err)
			}
			return
		}
		f.Split.Pieces = rapid.IntRange(2, 5).Draw(t, "pieces")
		r, err := former.Develop(f)
		if err != nil {
			var bad *former.Error
			if !errors.As(err, &bad) {
				t.Fatalf("not an error of the package: %v", err)
			}
			return
		}
		made++
		sum := 0.0
		for _, q := range r.Pieces {
			if err := q.Outline.Validate(); err != nil {
				t.Fatal(err)
			}
			sum += q.Area
		}
		if math.Abs(sum-whole.Pieces[0].Area) > 1e-4 {
			t.Fatalf("pieces have %v mm², the ring %v", sum, whole.Pieces[0].Area)
		}
	})
	if made < 10 {
		t.Errorf("only %d rings were made: the generator misses its aim", made)
	}
}

var randomSheet = func() material.Sheet {
	m, err := material.Lookup("2024-O")
	if err != nil {
		panic(err)
	}
	return material.Sheet{Material: m, Thickness: 1.2}
}()
