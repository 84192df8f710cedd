package drawing

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"unicode/utf8"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// wide is a font whose letters are all seven tenths of its size wide.
func wide(s string) float64 { return 0.7 * float64(utf8.RuneCountInString(s)) }

// randomPart is askew in every way: 3 to 6 edges, some plain, bends open and
// closed, up and down, holes in web and flanges, tapers and twists.
func randomPart(r *rand.Rand) flat.Part {
	n := 3 + r.IntN(4)
	size := 60 * math.Exp(2*r.Float64())
	p := flat.Part{
		Name:   "random",
		Sheet:  material.Sheet{Material: material.Material{Alloy: "2024", Temper: "T3"}, Thickness: 0.4 + r.Float64()},
		Radius: 1 + 4*r.Float64(),
	}
	if r.IntN(2) == 0 {
		p.Sheet.Grain = material.Grain{Stated: true, Angle: measure.Angle(r.Float64()) * math.Pi}
	}
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.4*r.Float64()) / float64(n))
		d := size * (0.6 + 0.4*r.Float64())
		e := flat.Edge{Name: fmt.Sprintf("edge %d", i), Start: r2.Vec{X: d * cos, Y: d * sin}}
		if r.IntN(4) > 0 {
			f := flat.Flange{Angle: measure.Angle(20+130*r.Float64()) * measure.Degree, Height: 14 + 0.2*size*r.Float64(), Turn: flat.Turn(r.IntN(2))}
			if r.IntN(3) == 0 {
				f.HeightEnd = f.Height * (0.8 + 0.4*r.Float64())
			}
			if r.IntN(3) == 0 {
				f.Holes = []flat.Hole{{Name: fmt.Sprintf("F%d", i), At: r2.Vec{X: 0.4 * size, Y: 0.7 * f.Height}, Diameter: 2.5}}
			}
			e.Flanges = []flat.Flange{f}
		}
		p.Web.Edges = append(p.Web.Edges, e)
	}
	for k := range r.IntN(8) {
		p.Web.Holes = append(p.Web.Holes, flat.Hole{
			Name: fmt.Sprintf("W%d", k), At: r2.Vec{X: size * (0.3*r.Float64() - 0.15), Y: size * (0.3*r.Float64() - 0.15)},
			Diameter: 2 + 0.04*size*r.Float64(),
		})
	}
	return p
}

// shared is the area two frames have in common: one is cut by the sides of the
// other. It shares no code with Overlaps.
func shared(a, b Frame) float64 {
	corners := a.Corners()
	left := corners[:]
	by := b.Corners()
	for i, p := range by {
		d := r2.Sub(by[(i+1)%4], p)
		var kept []r2.Vec
		for k, q := range left {
			next := left[(k+1)%len(left)]
			s, t := r2.Cross(d, r2.Sub(q, p)), r2.Cross(d, r2.Sub(next, p))
			if s >= 0 {
				kept = append(kept, q)
			}
			if (s >= 0) != (t >= 0) {
				kept = append(kept, r2.Add(q, r2.Scale(s/(s-t), r2.Sub(next, q))))
			}
		}
		if left = kept; len(left) < 3 {
			return 0
		}
	}
	return outline.Polygon(left...).Area()
}

// cut reports whether a cut line runs through a frame: some of 400 points along
// each chord lies in it.
func cut(f Frame, chain []r2.Vec) bool { return struck(f, append(chain, chain[0])) }

// struck is cut for a line that does not close.
func struck(f Frame, chain []r2.Vec) bool {
	corners := f.Corners()
	box := outline.Polygon(corners[:]...)
	reach := f.Half.X + f.Half.Y
	for i, b := range chain[1:] {
		a := chain[i]
		if line := outline.Polyline(a, b); r2.Norm(r2.Sub(b, a)) == 0 || line.Distance(f.Center) > reach {
			continue
		}
		for t := range 401 {
			p := r2.Add(a, r2.Scale(float64(t)/400, r2.Sub(b, a)))
			if r2.Norm(r2.Sub(p, f.Center)) < reach && box.Side(p) == outline.Inside && box.Distance(p) > 1e-6 {
				return true
			}
		}
	}
	return false
}

// On 200 random parts no lettering overlaps other lettering, a hole or a cut
// line, and nearly all of it finds room: on 200 that stay the same, with the one on which a
// name once lay on the bulge of an arc whose chords it cleared, and on 200 new ones.
func TestLetteringNeverOverlaps(t *testing.T) {
	seeds := []uint64{14973294258418445992}
	if !testing.Short() {
		seeds = append(seeds, rand.Uint64())
	}
	for _, seed := range seeds {
		lettering(t, seed)
	}
}

func lettering(t *testing.T, seed uint64) {
	t.Logf("seed %d", seed) // shown on failure
	r := rand.New(rand.NewPCG(seed, 1))
	parts, texts, left := 0, 0, 0
	for tries := 0; parts < 200; tries++ {
		require.Less(t, tries, 4000, "hardly any random part can be built")
		b, err := flat.Develop(randomPart(r))
		if err != nil {
			continue
		}
		parts++
		d := Of(b)
		size := b.Outline.Bounds().Size()
		laid := d.Lay(Style{Size: max(size.X, size.Y) / 75, Width: wide}) // 2.4 mm on a part drawn 180 mm wide
		texts += len(laid.Texts)
		left += len(laid.Left)
		for i, a := range laid.Texts {
			for _, c := range laid.Texts[:i] {
				require.Less(t, shared(a.Frame, c.Frame), 1e-6, "%q on %q", a.Text, c.Text)
			}
			for _, h := range b.Holes {
				require.Less(t, shared(a.Frame, Frame{h.Center, r2.Vec{X: 1}, r2.Vec{X: 0.7 * h.Diameter / 2, Y: 0.7 * h.Diameter / 2}}), 1e-6, "%q on a hole", a.Text)
			}
			require.False(t, cut(a.Frame, Chords(b.Outline, 0.1)), "%q on the cut line", a.Text)
			for _, line := range laid.Lines {
				require.False(t, struck(a.Frame, Chords(line, 0.1)), "%q on a dimension line", a.Text)
			}
			for _, c := range a.Corners() {
				box := r2.Box{Min: r2.Sub(laid.Bounds.Min, r2.Vec{X: 1e-9, Y: 1e-9}), Max: r2.Add(laid.Bounds.Max, r2.Vec{X: 1e-9, Y: 1e-9})}
				require.True(t, c.X >= box.Min.X && c.X <= box.Max.X && c.Y >= box.Min.Y && c.Y <= box.Max.Y, "%q outside the bounds", a.Text)
			}
		}
	}
	t.Logf("%d texts, %d without room", texts, left)
	assert.Greater(t, texts, 4000)
	assert.Less(t, left, texts/50, "too much lettering finds no room")
}

// The checks above see an overlap when there is one.
func TestOverlapIsSeen(t *testing.T) {
	a := Frame{r2.Vec{}, r2.Vec{X: 1}, r2.Vec{X: 4, Y: 1}}
	for name, c := range map[string]struct {
		b    Frame
		want float64
	}{
		// 2 of length by 1 of height; touching along an edge; a bar across: 2 by 2. Of the
		// slanted one only that it is there: NaN.
		"corner":  {Frame{r2.Vec{X: 6, Y: 1}, r2.Vec{X: 1}, r2.Vec{X: 4, Y: 1}}, 2},
		"edge":    {Frame{r2.Vec{Y: 2}, r2.Vec{X: 1}, r2.Vec{X: 4, Y: 1}}, 0},
		"across":  {Frame{r2.Vec{}, r2.Vec{Y: 1}, r2.Vec{X: 4, Y: 1}}, 4},
		"apart":   {Frame{r2.Vec{X: 20}, r2.Vec{X: math.Sqrt2 / 2, Y: math.Sqrt2 / 2}, r2.Vec{X: 4, Y: 1}}, 0},
		"slanted": {Frame{r2.Vec{X: 4.9, Y: 1.9}, r2.Vec{X: math.Sqrt2 / 2, Y: -math.Sqrt2 / 2}, r2.Vec{X: 4, Y: 1}}, math.NaN()},
	} {
		got := shared(a, c.b)
		if !math.IsNaN(c.want) {
			assert.InDelta(t, c.want, got, 1e-9, name)
		}
		assert.Equal(t, got > 1e-9, a.Overlaps(c.b), name)
		assert.Equal(t, got > 1e-9, c.b.Overlaps(a), name)
	}
	assert.True(t, cut(a, []r2.Vec{{X: -9}, {X: 9}, {X: 9, Y: -9}}))
	assert.False(t, cut(a, []r2.Vec{{X: -9, Y: 1.5}, {X: 9, Y: 1.5}, {X: 9, Y: 9}}))
}

// Places pushed apart: the rows that are near share the shift, the far one stays.
func TestApart(t *testing.T) {
	at := []float64{0, 1, 1, 50}
	apart(at, 3)
	// The first three spread about their mean of 2/3, 3 between.
	want := []float64{2.0/3 - 3, 2.0 / 3, 2.0/3 + 3, 50}
	for i := range want {
		assert.InDelta(t, want[i], at[i], 1e-12)
	}
}

// The stations of the handbook's channel (FAA-H-8083-31 ch. 4), by hand: flats .8,
// 1.6 and .8, bends (.01743·.16 + .0078·.04)·90 = .27907 wide: tangent lines at
// .800, 1.079, 2.679 and 2.958 in from the lower edge, 3.758 in all.
func TestChannelStations(t *testing.T) {
	const inch = measure.Inch
	leg := []flat.Flange{{Angle: 90 * measure.Degree, Height: 1 * inch}}
	b, err := flat.Develop(flat.Part{
		Name:   "channel",
		Sheet:  material.Sheet{Material: material.Material{Alloy: "2024", Temper: "T3"}, Thickness: 0.040 * inch},
		Radius: 0.16 * inch,
		Web: flat.Web{Edges: []flat.Edge{
			{Name: "lower", Flanges: leg}, {Name: "right", Start: r2.Vec{X: 6 * inch}},
			{Name: "upper", Start: r2.Vec{X: 6 * inch, Y: 2 * inch}, Flanges: leg}, {Name: "left", Start: r2.Vec{Y: 2 * inch}},
		}},
	})
	require.NoError(t, err)
	laid := Of(b).Lay(Style{Size: 2.5, Width: wide})
	var have []string
	for _, text := range laid.Texts {
		have = append(have, text.Text)
	}
	for _, want := range []string{"0.800 [20.32]", "1.079 [27.41]", "2.679 [68.05]", "2.958 [75.14]", "3.758 [95.46]", "6.000 [152.40]", "90.00°"} {
		assert.Contains(t, have, want)
	}
}

// box is a drawing of a rectangle with its corner at the origin and nothing else on it.
func box(x, y float64, dims ...Dimension) Drawing {
	d := Drawing{Dimensions: dims}
	d.Add(Cut, "blank", outline.Rect(r2.Vec{}, r2.Vec{X: x, Y: y}))
	return d
}

// Of two corners with one x the line to its place on the ruler below starts at the lower, and of two with one y
// that to the ruler beside starts at the one on the left, whichever is told first.
func TestRulerStartsAtTheNearestPoint(t *testing.T) {
	corners := []r2.Vec{{X: 60, Y: 90}, {X: 60, Y: 40}, {X: 20, Y: 90}, {X: 20, Y: 70}}
	for range 2 {
		slices.Reverse(corners)
		var dims []Dimension
		for _, c := range corners {
			dims = append(dims, Dimension{Kind: Station, To: c})
		}
		starts := map[r2.Vec]int{}
		for _, p := range box(100, 100, dims...).Lay(Style{Size: 2, Width: wide}).Thin {
			starts[p.Vertices[0].P]++
		}
		// Below x = 20 and 60, beside y = 40, 70 and 90.
		assert.Equal(t, map[r2.Vec]int{{X: 20, Y: 70}: 2, {X: 60, Y: 40}: 2, {X: 20, Y: 90}: 1}, starts)
	}
}

// "1.299 [33.00]" is 13 letters of .7 of 2.5 mm, 22.75 mm long; with 5 mm for the arrow at either end it stands between
// them in 33 mm, and not in 32.5, where the line runs through and the lettering beyond it.
func TestRoomBetweenTheArrows(t *testing.T) {
	for length, within := range map[float64]bool{33: true, 32.5: false} {
		for _, way := range []r2.Vec{{X: 1}, {Y: 1}} {
			kind := Width
			if way.Y != 0 {
				kind = Height
			}
			laid := box(length, length, Dimension{Kind: kind, To: r2.Scale(length, way)}).Lay(Style{Size: 2.5, Width: wide})
			require.Len(t, laid.Texts, 1)
			assert.Equal(t, Dual(length), laid.Texts[0].Text)
			longest := 0.0
			for _, p := range laid.Lines {
				longest = max(longest, r2.Norm(r2.Sub(p.Vertices[len(p.Vertices)-1].P, p.Vertices[0].P)))
			}
			want := length
			if within {
				want = length/2 - 22.75/2 - 0.6*2.5
			}
			assert.InDelta(t, want, longest, 1e-9, "%g mm along %v", length, way)
		}
	}
}

// What is on which layer of a part with everything.
func TestLayersOfBlank(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	for range 50 {
		b, err := flat.Develop(randomPart(r))
		if err != nil {
			continue
		}
		d := Of(b)
		count := map[Layer]int{}
		for _, p := range d.Paths {
			count[p.Layer]++
			if p.Layer == Cut {
				assert.True(t, p.Closed)
			}
		}
		for _, c := range d.Circles {
			count[c.Layer]++
		}
		assert.Equal(t, 1, count[Cut], "one closed contour")
		assert.Equal(t, 2*len(b.Bends), count[BendTangent])
		assert.Equal(t, len(b.Bends), count[BendCenter])
		assert.Equal(t, len(b.Bends), count[Sight])
		assert.Equal(t, 2*(len(b.Reliefs)+len(b.EndSlots)), count[Note], "a cross at each relief and slot")
		assert.Equal(t, len(b.Holes), count[Hole]+count[Rivet])
		assert.Equal(t, 1, count[Mold])
		assert.Equal(t, b.Outline.Area(), d.Paths[0].Area())
	}
}

// A joggle's ends lie on the layer of marks, from the tangent line of the flange to
// its edge, and share one lettering; the pilots of rivets lie on theirs. By hand: an
// edge 200 mm long from x = 0, the run-out at 50 to 60 mm of it.
func TestMarksAndPilots(t *testing.T) {
	f := flat.Flange{Angle: 90 * measure.Degree, Height: 25, Joggles: []flat.Joggle{{Name: "over the strap", At: 50, Run: 10, Depth: 1}}}
	f.Holes = []flat.Hole{
		{Name: "P1", At: r2.Vec{X: 100, Y: 15}, Diameter: 2.4, Purpose: flat.RivetPilot}, {Name: "drain", At: r2.Vec{X: 150, Y: 15}, Diameter: 5},
	}
	b, err := flat.Develop(flat.Part{
		Name:   "rib",
		Sheet:  material.Sheet{Material: material.Material{Alloy: "2024", Temper: "O"}, Thickness: 1},
		Radius: 3,
		Web: flat.Web{Edges: []flat.Edge{
			{Name: "lower", Flanges: []flat.Flange{f}}, {Start: r2.Vec{X: 200}}, {Start: r2.Vec{X: 200, Y: 80}}, {Start: r2.Vec{Y: 80}},
		}},
	})
	require.NoError(t, err)
	d := Of(b)
	var at []float64
	for _, p := range d.Paths {
		if p.Layer == Mark {
			require.Len(t, p.Vertices, 2)
			assert.Equal(t, p.Vertices[0].P.X, p.Vertices[1].P.X)
			assert.InDelta(t, 0, b.Bends[0].Far.Distance(p.Vertices[0].P), 1e-9, "it starts at the tangent line")
			assert.InDelta(t, b.Outline.Bounds().Min.Y, p.Vertices[1].P.Y, 1e-9, "and ends at the free edge")
			at = append(at, p.Vertices[0].P.X)
		}
	}
	require.Len(t, at, 2)
	assert.InDelta(t, 50, at[0], 1e-9)
	assert.InDelta(t, 60, at[1], 1e-9)
	on := map[string]Layer{}
	for _, c := range d.Circles {
		on[c.Name] = c.Layer
	}
	assert.Equal(t, map[string]Layer{"P1": Rivet, "drain": Hole}, on)
	lettered := 0
	for _, l := range d.Labels {
		if len(l.Text) == 1 && l.Text[0] == `joggle "over the strap", 0.0394 in (1.000 mm) inward` {
			lettered++
		}
	}
	assert.Equal(t, 1, lettered)
}

// No lettering stands on the lines it is told to avoid: here across the whole blank
// in the middle, where the names of its bends would stand.
func TestLetteringAvoids(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 3))
	done := 0
	for done < 20 {
		b, err := flat.Develop(randomPart(r))
		if err != nil {
			continue
		}
		done++
		box := b.Outline.Bounds()
		mid := r2.Scale(0.5, r2.Add(box.Min, box.Max))
		joint := outline.Polyline(r2.Vec{X: mid.X, Y: box.Min.Y - 500}, r2.Vec{X: mid.X, Y: box.Max.Y + 500})
		d := Of(b)
		d.Dimensions = nil
		for _, text := range d.Lay(Style{Size: box.Size().X / 75, Width: wide, Avoid: []outline.Path{joint}}).Texts {
			lo, hi := math.Inf(1), math.Inf(-1)
			for _, c := range text.Corners() {
				lo, hi = min(lo, c.X), max(hi, c.X)
			}
			assert.False(t, lo < mid.X-1e-6 && hi > mid.X+1e-6, "%q", text.Text)
		}
	}
}

// 3/16 in is .1875 and rounds up, 1/64 in .0156.
func TestDual(t *testing.T) {
	assert.Equal(t, "0.188 [4.76]", Dual(3.0/16*measure.Inch))
	assert.Equal(t, "0.016 [0.40]", Dual(measure.Inch/64))
	assert.Equal(t, "0.000 [0.00]", Dual(-1e-9))
}

func TestLayerNames(t *testing.T) {
	seen := map[string]bool{}
	for _, l := range Layers() {
		assert.Regexp(t, `^[A-Z_]{3,31}$`, l.String())
		assert.False(t, seen[l.String()])
		seen[l.String()] = true
	}
	assert.Len(t, seen, 11)
	assert.Equal(t, "NOTE", Layer(200).String())
}

// The zero drawing is empty and lays out as nothing.
func TestZeroDrawing(t *testing.T) {
	var d Drawing
	_, ok := d.Bounds()
	assert.False(t, ok)
	laid := d.Lay(Style{Size: 2, Width: wide})
	assert.Empty(t, laid.Texts)
	empty := Of(flat.Blank{})
	assert.Empty(t, empty.Dimensions)
}

// Chords stay within the sag asked for: a circle of radius 50 and its polygon.
func TestChords(t *testing.T) {
	for _, sag := range []float64{1, 0.1, 0.001} {
		circle := outline.Circle(r2.Vec{X: 3, Y: 4}, 50)
		for i, p := range Chords(circle, sag) {
			assert.InDelta(t, 50, r2.Norm(r2.Sub(p, r2.Vec{X: 3, Y: 4})), 1e-9, "point %d lies on the circle", i)
		}
		pts := Chords(circle, sag)
		for i := range pts {
			mid := r2.Scale(0.5, r2.Add(pts[i], pts[(i+1)%len(pts)]))
			assert.Greater(t, r2.Norm(r2.Sub(mid, r2.Vec{X: 3, Y: 4})), 50-sag)
		}
	}
}

func BenchmarkLay(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 1))
	var blank flat.Blank
	for {
		var err error
		if blank, err = flat.Develop(randomPart(r)); err == nil && len(blank.Bends) > 3 {
			break
		}
	}
	d := Of(blank)
	b.ReportAllocs()
	for b.Loop() {
		d.Lay(Style{Size: 4, Width: wide})
	}
}

// A half circle of 10 m in chords that leave it by a thousandth of a millimetre: by hand the chord over an angle s leaves
// R(1 - cos(s/2)).
func TestChordsOfALargeArc(t *testing.T) {
	const radius, sag = 10_000.0, 0.001
	half := outline.Path{Vertices: []outline.Vertex{{P: r2.Vec{X: -radius}, Bulge: 1}, {P: r2.Vec{X: radius}}}}
	n := len(Chords(half, sag)) - 1
	assert.LessOrEqual(t, radius*(1-math.Cos(math.Pi/float64(n)/2)), sag*(1+1e-6))
	assert.LessOrEqual(t, len(Chords(half, 1e-9)), 1<<16+1)
}

// Without a font's measure lettering is laid out as wide as .6 of its size a letter.
func TestLayWithoutAFont(t *testing.T) {
	d := Drawing{Labels: []Label{{Layer: Note, Text: []string{"Ø 9.5"}}}}
	d.Add(Cut, "blank", outline.Rect(r2.Vec{}, r2.Vec{X: 100, Y: 100}))
	with := d.Lay(Style{Size: 3, Width: func(s string) float64 { return 3 }})
	without := d.Lay(Style{Size: 3})
	require.Len(t, without.Texts, 1)
	assert.Equal(t, with.Texts, without.Texts, "five letters of .6 are 3")
}

// Of ten lightening holes of one size whose lips turn up and down by turns, the lettering tells
// five and five: the way of the first does not go for all.
func TestLipsBothWaysAreLetteredApart(t *testing.T) {
	p := flat.Part{
		Name: "rib", Sheet: material.Sheet{Material: material.Material{Alloy: "6061", Temper: "T4"}, Thickness: 1}, Radius: 3,
		Web: flat.Web{Edges: []flat.Edge{{}, {Start: r2.Vec{X: 1200}}, {Start: r2.Vec{X: 1200, Y: 100}}, {Start: r2.Vec{Y: 100}}}},
	}
	const each = fewAlike + 1
	for i := range 2 * each {
		p.Web.Lightening = append(p.Web.Lightening, flat.LighteningHole{
			At: r2.Vec{X: 60 + 100*float64(i), Y: 50}, Diameter: 50, Height: 6, Radius: 2, Turn: flat.Turn(i % 2),
		})
	}
	b, err := flat.Develop(p)
	require.NoError(t, err)
	size := Dual(b.Holes[0].Diameter)
	var lettered [][]string
	for _, l := range Of(b).Labels {
		lettered = append(lettered, l.Text)
	}
	assert.ElementsMatch(t, [][]string{
		{fmt.Sprintf("%d × Ø %s", each, size), "lip up"}, {fmt.Sprintf("%d × Ø %s", each, size), "lip down"},
	}, lettered)
}
