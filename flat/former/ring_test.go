package former_test

import (
	"math"
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/former"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

const deg = measure.Degree

// hull is the mold line of a hull frame: a flat keel, two bilges and a crown, each an
// arc tangent to its neighbours. It starts at the middle of the keel.
func hull(keel, bilge, crown float64) outline.Path {
	half := keel / 2
	// The crown's centre lies on the centre line, crown - bilge from the bilges' centres.
	rise := math.Sqrt((crown-bilge)*(crown-bilge) - half*half)
	lean := math.Atan2(rise, half) // where bilge and crown touch, above the horizontal
	touch := r2.Add(r2.Vec{X: half, Y: bilge}, r2.Vec{X: bilge * math.Cos(lean), Y: bilge * math.Sin(lean)})
	side := math.Tan((math.Pi/2 + lean) / 4)
	top := math.Tan((math.Pi - 2*lean) / 4)
	return outline.Path{Closed: true, Vertices: []outline.Vertex{
		{}, {P: r2.Vec{X: half}, Bulge: side}, {P: touch, Bulge: top},
		{P: r2.Vec{X: -touch.X, Y: touch.Y}, Bulge: side}, {P: r2.Vec{X: -half}},
	}}
}

func lookup(t testing.TB, name string) material.Material {
	m, err := material.Lookup(name)
	require.NoError(t, err)
	return m
}

// frame8 is the demo: a ring of 2024-O, both flanges up, stringers all round.
func frame8(t testing.TB, cutouts int) former.Former {
	outer := hull(300, 260, 520)
	inside, err := outer.Offset(-90, outline.OffsetOptions{})
	require.NoError(t, err)
	f := former.Former{
		Name:  "frame-8",
		Sheet: material.Sheet{Material: lookup(t, "2024-O"), Thickness: 1.2},
		Outer: former.Rim{Contour: outer, Flange: &former.Flange{Turn: flat.Up, Height: 20, Radius: 3.2,
			Bevels: []former.Bevel{{Angle: 90 * deg}}, Rivets: former.Rivets{Diameter: 3.2, Pitch: 22}}},
		Inner: former.Rim{Contour: inside[0].Reverse(), Flange: &former.Flange{Turn: flat.Up, Height: 14, Radius: 3.2,
			Bevels: []former.Bevel{{Angle: 90 * deg}}}},
	}
	around := outer.Length()
	for i := range cutouts {
		f.Cutouts = append(f.Cutouts, former.Cutout{Girth: around * (float64(i) + 0.5) / float64(cutouts),
			Width: min(20, around/float64(cutouts)/3), Depth: 16, Clearance: 1, Radius: min(3.2, around/float64(cutouts)/6)})
	}
	return f
}

// A sheet given by the gauge of another metal is asked about: 18 MSG is .0478 in, 18 B&S .0403.
func TestGaugeOfAnotherMetalIsAskedAbout(t *testing.T) {
	f := frame8(t, 0)
	var err error
	f.Sheet.Thickness, f.Sheet.Gauge, err = material.ParseGauged("18 MSG")
	require.NoError(t, err)
	r, err := former.Develop(f)
	require.NoError(t, err)
	require.Equal(t, "sheet", r.Findings[0].Place)
	assert.Contains(t, r.Findings[0].String(), "(0.0478 in (1.214 mm) against 0.0403 in (1.024 mm))")
}

// Pieces of a ring, put side by side, are the ring: every cut is shared from end to end, and
// the areas add up.
func TestPiecesMakeTheRing(t *testing.T) {
	whole, err := former.Develop(frame8(t, 12))
	require.NoError(t, err)
	for _, n := range []int{2, 3, 4, 7} {
		f := frame8(t, 12)
		f.Split.Pieces = n
		r, err := former.Develop(f)
		require.NoError(t, err)
		require.Len(t, r.Pieces, n)
		sum, region := 0.0, []outline.Path(nil)
		for i, p := range r.Pieces {
			require.NoError(t, p.Outline.Validate())
			assert.Positive(t, p.Outline.Area(), "counter-clockwise")
			sum += p.Area
			next := r.Pieces[(i+1)%n]
			a := cutEnds(t, r, p, p.To)
			b := cutEnds(t, r, next, next.From)
			for k := range a {
				assert.InDelta(t, 0, r2.Norm(r2.Sub(a[k], b[k])), 1e-6, "pieces %d and the next meet at joint point %d", i, k)
			}
			if region == nil {
				region = []outline.Path{p.Outline}
			} else {
				region, err = outline.Union(region, []outline.Path{p.Outline})
				require.NoError(t, err)
			}
		}
		assert.InDelta(t, whole.Pieces[0].Area, sum, 1e-6)
		// Together again they have the edge and the opening of the whole and nothing else.
		require.Len(t, region, 2)
		if region[0].Area() < 0 {
			region[0], region[1] = region[1], region[0]
		}
		assert.InDelta(t, whole.Pieces[0].Outline.Area(), region[0].Area(), 1e-6)
		assert.InDelta(t, whole.Pieces[0].Outline.Length(), region[0].Length(), 1e-6)
		assert.InDelta(t, whole.Pieces[0].Openings[0].Length(), region[1].Length(), 1e-6)
	}
}

// A joint a hair beside a vertex of the contour is where it was asked for, on both pieces.
func TestJointBesideVertex(t *testing.T) {
	f := frame8(t, 0)
	f.Split = former.Split{Pieces: 2, Joints: []float64{150 + 1.5e-6, 1126}}
	r, err := former.Develop(f)
	require.NoError(t, err)
	a := cutEnds(t, r, r.Pieces[0], r.Pieces[0].From)
	b := cutEnds(t, r, r.Pieces[1], r.Pieces[1].To)
	for k := range a {
		assert.InDelta(t, 0, r2.Norm(r2.Sub(a[k], b[k])), 1e-7)
	}
}

// cutEnds are the two vertices of a piece that lie on the line of a joint, the outer first.
func cutEnds(t *testing.T, r former.Ring, p former.Piece, girth float64) [2]r2.Vec {
	at, out := station(t, r.Former.Outer.Contour, girth)
	var ends []r2.Vec
	for _, v := range p.Outline.Vertices {
		d := r2.Sub(v.P, at)
		if math.Abs(r2.Cross(out, d)) < 1e-6 && r2.Dot(out, d) < 100 && r2.Dot(out, d) > -200 {
			ends = append(ends, v.P)
		}
	}
	require.Len(t, ends, 2, "a joint cuts a piece along one line")
	if r2.Dot(r2.Sub(ends[0], ends[1]), out) < 0 {
		ends[0], ends[1] = ends[1], ends[0]
	}
	return [2]r2.Vec{ends[0], ends[1]}
}

// station is a place on a contour and the direction away from the material there.
func station(t *testing.T, p outline.Path, girth float64) (at, out r2.Vec) {
	i, u, err := p.Locate(girth)
	require.NoError(t, err)
	along := p.Segment(i).Tangent(u)
	return p.Segment(i).At(u), r2.Vec{X: along.Y, Y: -along.X}
}

// With a gap each cut moves back by half of it, and the metal that is missing is the gap times
// the width of the blank at each joint.
func TestGapAtJoints(t *testing.T) {
	f := frame8(t, 0)
	f.Split.Pieces = 4
	f.Split.Joints = []float64{20, 500, 1126, 1700}
	closed, err := former.Develop(f)
	require.NoError(t, err)
	f.Split.Gap = 2
	open, err := former.Develop(f)
	require.NoError(t, err)
	missing := 0.0
	for i := range closed.Pieces {
		missing += closed.Pieces[i].Area - open.Pieces[i].Area
	}
	want := 0.0
	for _, girth := range f.Split.Joints {
		at, out := station(t, f.Outer.Contour, girth)
		ray := outline.Polyline(r2.Add(at, r2.Scale(100, out)), r2.Sub(at, r2.Scale(150, out)))
		a := ray.Crossings(closed.Outer.Edge, 0)
		b := ray.Crossings(closed.Inner.Edge, 0)
		want += 2 * r2.Norm(r2.Sub(a[0].P, b[0].P))
	}
	// Beside the middle of the gap the width is not quite the same: a part in a thousand.
	assert.InEpsilon(t, want, missing, 1e-3)
}

// Joints chosen by the program keep clear of cut-outs and of the neighbours' joints,
// and stand where the edges are strained less than on average.
func TestChosenJoints(t *testing.T) {
	f := frame8(t, 11)
	f.Split = former.Split{Pieces: 4, Neighbours: []float64{0, 560, 1125, 1690}, Stagger: 60}
	r, err := former.Develop(f)
	require.NoError(t, err)
	around := f.Outer.Contour.Length()
	apart := func(a, b float64) float64 {
		d := math.Mod(math.Abs(a-b), around)
		return min(d, around-d)
	}
	for _, s := range r.Splices {
		for _, n := range f.Split.Neighbours {
			assert.GreaterOrEqual(t, apart(s.Girth, n), 60.0)
		}
		for _, c := range f.Cutouts {
			assert.GreaterOrEqual(t, apart(s.Girth, c.Girth), s.Half+c.Width/2+c.Clearance)
		}
	}
	f.Split.Stagger = around / 2
	_, err = former.Develop(f)
	var bad *former.Error
	require.ErrorAs(t, err, &bad)
	assert.Equal(t, "pieces", bad.Field)

	// Asked for, a joint beside a neighbour's is made, and found fault with.
	f.Split = former.Split{Pieces: 2, Joints: []float64{0, 1024}, Neighbours: []float64{10}, Stagger: 60}
	r, err = former.Develop(f)
	require.NoError(t, err)
	assert.Contains(t, texts(r.Findings), "it is not staggered from the joint of the frame beside it")
}

func texts(list []flat.Finding) []string {
	var all []string
	for _, f := range list {
		all = append(all, f.Text)
	}
	return all
}

// Sheet and block that do not hold a piece are named, and a block is glued up from
// parts that do fit and together are the block.
func TestStock(t *testing.T) {
	f := frame8(t, 0)
	f.Split = former.Split{Pieces: 2, Stock: former.Stock{Length: 400, Width: 400}, BlockStock: former.Stock{Length: 300, Width: 500}}
	r, err := former.Develop(f)
	require.NoError(t, err)
	assert.Contains(t, texts(r.Findings), "does not come out of the sheet at hand: ask for more pieces")
	for _, p := range r.Pieces {
		require.Greater(t, len(p.Block.Segments), 1)
		sum := 0.0
		for _, s := range p.Block.Segments {
			sum += s.Area()
			assert.True(t, f.Split.BlockStock.Takes(former.SizeOf(s)))
		}
		assert.InDelta(t, p.Block.Top[0].Area(), sum, 1e-6)
	}
	whole := frame8(t, 0)
	whole.Split = former.Split{BlockStock: f.Split.BlockStock}
	r, err = former.Develop(whole)
	require.NoError(t, err)
	sum := 0.0
	for _, s := range r.Pieces[0].Block.Segments {
		sum += s.Area()
		for _, g := range s.Segments() {
			assert.False(t, math.Abs(g.A.X) < 1e-6 && math.Abs(g.B.X) < 1e-6 && g.A.Y < 100, "no part ends at the start, where a joint of the former would be")
		}
	}
	assert.InDelta(t, r.Pieces[0].Block.Top[0].Area()+r.Pieces[0].Block.Top[1].Area(), sum, 1e-6)
}

// Parts a block is glued up from end where the block ends, also where the pieces leave a gap: none
// stands over it, and together they are the block.
func TestGluedBlocksLeaveTheGap(t *testing.T) {
	f := frame8(t, 0)
	f.Split = former.Split{Pieces: 2, Gap: 4, BlockStock: former.Stock{Length: 300, Width: 500}}
	r, err := former.Develop(f)
	require.NoError(t, err)
	for _, p := range r.Pieces {
		require.Greater(t, len(p.Block.Segments), 1)
		sum := 0.0
		for _, s := range p.Block.Segments {
			sum += s.Area()
		}
		assert.InDelta(t, p.Block.Top[0].Area(), sum, 1e-6)
		// Half the gap from each joint, square to its line: the block and the first and the last part.
		for _, end := range []struct{ girth, ahead float64 }{{p.From, 1}, {p.To, -1}} {
			at, out := station(t, f.Outer.Contour, end.girth)
			along := r2.Scale(end.ahead, r2.Vec{X: -out.Y, Y: out.X})
			least := math.Inf(1)
			for _, s := range p.Block.Segments {
				for _, v := range s.Vertices {
					if d := r2.Sub(v.P, at); r2.Norm(d) < 150 {
						least = math.Min(least, r2.Dot(d, along))
					}
				}
			}
			assert.InDelta(t, 2, least, 1e-6, "at girth %v", end.girth)
		}
	}
}

// Of joints that strain alike or nearly, those are chosen whose pieces come out of what
// is at hand.
func TestJointsSuitStock(t *testing.T) {
	f := frame8(t, 0)
	f.Split = former.Split{Pieces: 4}
	free, err := former.Develop(f)
	require.NoError(t, err)
	largest := func(r former.Ring) (blank, block former.Stock) {
		for _, p := range r.Pieces {
			if p.Size.Length > blank.Length {
				blank = p.Size
			}
			if p.Block.Size.Length > block.Length {
				block = p.Block.Size
			}
		}
		return blank, block
	}
	blank, block := largest(free)
	for _, c := range []struct{ sheet, block former.Stock }{
		{former.Stock{Length: blank.Length - 10, Width: 400}, former.Stock{}},
		{former.Stock{}, former.Stock{Length: block.Length - 10, Width: 400}},
	} {
		f.Split.Stock, f.Split.BlockStock = c.sheet, c.block
		r, err := former.Develop(f)
		require.NoError(t, err)
		for _, p := range r.Pieces {
			assert.True(t, c.sheet.Takes(p.Size), "%v", p.Size)
			assert.True(t, c.block.Takes(p.Block.Size), "%v", p.Block.Size)
		}
	}
}

// A rectangle lying askew measures as itself, and a circle as its diameter.
func TestSizeOf(t *testing.T) {
	p := outline.Rect(r2.Vec{}, r2.Vec{X: 30, Y: 70}).Transform(outline.Rotate(r2.Vec{X: 5, Y: 9}, 33*deg))
	size := former.SizeOf(p)
	assert.InDelta(t, 70, size.Length, 1e-9)
	assert.InDelta(t, 30, size.Width, 1e-9)
	size = former.SizeOf(outline.Circle(r2.Vec{X: -4}, 250))
	assert.InDelta(t, 500, size.Width, 0.1)
	assert.GreaterOrEqual(t, size.Width, 500-1e-9)
	assert.True(t, former.Stock{Length: 400, Width: 600}.Takes(former.Stock{Length: 590, Width: 390}))
	assert.False(t, former.Stock{Length: 400, Width: 600}.Takes(former.Stock{Length: 590, Width: 410}))
}

// The smallest rectangle against all directions in steps of a hundredth of a degree,
// tried one by one.
func TestSizeOfAgainstSearch(t *testing.T) {
	for _, p := range []outline.Path{
		hull(300, 260, 520), hull(60, 90, 700).Transform(outline.Rotate(r2.Vec{}, 0.3)),
		outline.Polygon(r2.Vec{}, r2.Vec{X: 90, Y: -20}, r2.Vec{X: 130, Y: 55}, r2.Vec{X: 60, Y: 20}, r2.Vec{X: -10, Y: 70}),
		outline.Polygon(r2.Vec{X: 3}, r2.Vec{X: 90, Y: 91}, r2.Vec{X: 10, Y: 12}),
	} {
		best := math.Inf(1)
		for k := range 18000 {
			box := p.Transform(outline.Rotate(r2.Vec{}, measure.Angle(k)/100*deg)).Bounds()
			best = min(best, (box.Max.X-box.Min.X)*(box.Max.Y-box.Min.Y))
		}
		size := former.SizeOf(p)
		assert.InEpsilon(t, best, size.Length*size.Width, 1e-3)
		assert.LessOrEqual(t, size.Width, size.Length)
	}
}

// The other hand of the other hand is the first.
func TestMirrored(t *testing.T) {
	f := frame8(t, 5)
	f.Split.Pieces = 2
	f.Cutouts[1].MarkOnly = true
	r, err := former.Develop(f)
	require.NoError(t, err)
	p := r.Pieces[0]
	other := p.Mirrored()
	assert.Positive(t, other.Outline.Area())
	assert.InDelta(t, p.Outline.Area(), other.Outline.Area(), 1e-6)
	assert.InDelta(t, -p.Pins[0].X, other.Pins[0].X, 1e-12)
	require.NotEmpty(t, p.Rivets)
	for i, m := range p.Rivets {
		assert.InDelta(t, 0, r2.Norm(r2.Sub(r2.Vec{X: -m.At.X, Y: m.At.Y}, other.Rivets[i].At)), 1e-9)
	}
	assert.InDelta(t, p.Outline.Centroid().X, -other.Outline.Centroid().X, 1e-9)
	back := other.Mirrored()
	for i, v := range p.Outline.Vertices {
		assert.InDelta(t, 0, r2.Norm(r2.Sub(v.P, back.Outline.Vertices[i].P)), 1e-9)
		assert.InDelta(t, v.Bulge, back.Outline.Vertices[i].Bulge, 1e-12)
	}
	assert.InDelta(t, p.Block.Top[0].Area(), other.Block.Top[0].Area(), 1e-6)
}

// One in 1, 2 and 4: the metal strains alike, the sheet is used better and better, and
// every joint costs a splice.
func TestCompare(t *testing.T) {
	f := frame8(t, 12)
	f.Split.Stock = former.Stock{Length: 700, Width: 500}
	list, err := former.Compare(f, 1, 2, 4)
	require.NoError(t, err)
	require.Len(t, list, 3)
	for i, c := range list {
		assert.Equal(t, []int{1, 2, 4}[i], c.Pieces)
		assert.Equal(t, []int{0, 2, 4}[i], c.Splices)
		assert.InDelta(t, list[0].Shrink, c.Shrink, 1e-12)
		assert.InDelta(t, list[0].Stretch, c.Stretch, 1e-12)
		if i > 0 {
			assert.Greater(t, c.Used, list[i-1].Used-1e-9, "in two, a ring alike on both sides only halves its rectangle")
			assert.Less(t, c.Blank.Length*c.Blank.Width, list[i-1].Blank.Length*list[i-1].Blank.Width)
		}
	}
	assert.Greater(t, list[2].Used, list[0].Used+0.05)
	assert.False(t, list[0].FitsSheet)
	assert.True(t, list[2].FitsSheet)
	_, err = former.Compare(f, 1, -3)
	var bad *former.Error
	require.ErrorAs(t, err, &bad)
}

func BenchmarkRing200(b *testing.B) {
	f := frame8(b, 200)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := former.Develop(f); err != nil {
			b.Fatal(err)
		}
	}
}
