package survey

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
)

// hull is half a flying-boat section: a straight bottom with 25° of deadrise to a
// chine, and a side that tumbles home.
func hull() outline.Path {
	return outline.Path{Vertices: []outline.Vertex{
		{P: r2.Vec{X: 0, Y: 0}}, {P: r2.Vec{X: 500, Y: 233}, Bulge: 0.15}, {P: r2.Vec{X: 520, Y: 900}}, {P: r2.Vec{X: 500, Y: 1000}}}}
}

// scan is a cloud about section stations from 900 to 1100: n points on the path with
// the given noise, none where hole says so, and strays in the box.
func scan(rnd *rand.Rand, path outline.Path, n int, sigma float64, strays int, hole func(s float64) bool) (cloud []r3.Vec, truth []float64) {
	length := path.Length()
	for len(cloud) < n {
		s := rnd.Float64() * length
		if hole != nil && hole(s) {
			continue
		}
		k, u, _ := path.Locate(s)
		seg := path.Segment(k)
		p, d := seg.At(u), seg.Tangent(u)
		e := sigma * rnd.NormFloat64()
		cloud = append(cloud, r3.Vec{X: 900 + 200*rnd.Float64(), Y: p.X + e*d.Y, Z: p.Y - e*d.X})
		truth = append(truth, s)
	}
	for range strays {
		cloud = append(cloud, r3.Vec{X: 900 + 200*rnd.Float64(), Y: -200 + 1000*rnd.Float64(), Z: -200 + 1400*rnd.Float64()})
		truth = append(truth, -1)
	}
	return cloud, truth
}

// The order, the chine, the gap and the strays of a noisy scan are found, whichever
// way the points come.
func TestCutPutsASectionInOrder(t *testing.T) {
	// The second seed and the last once gave a corner beside the gap; the third has a stray in the
	// mouth of it, nearer to its end than a gap is long.
	for _, seed := range []uint64{rand.Uint64(), 11756516018911562014, 4781758138126056916, 907799509023580883} {
		t.Logf("seed %d", seed)
		cutInOrder(t, rand.New(rand.NewPCG(seed, 1)))
	}
}

func cutInOrder(t *testing.T, rnd *rand.Rand) {
	path := hull()
	chine := path.Segment(0).Length()
	hole := func(s float64) bool { return s > 800 && s < 870 }
	cloud, truth := scan(rnd, path, 20000, 0.4, 150, hole)
	sec, err := Cut(cloud, AtStation(1000), SectionOptions{Half: 25})
	require.NoError(t, err)
	assert.False(t, sec.Closed)
	require.Greater(t, len(sec.Points), 4000)
	assert.True(t, slices.IsSorted(sec.Along))
	wrong, first := 0, math.NaN()
	for i, k := range sec.Source {
		if truth[k] < 0 {
			wrong++
			continue
		}
		if math.IsNaN(first) {
			first = truth[k] - sec.Along[i]
		}
		assert.InDelta(t, truth[k], first+sec.Along[i], 0.4*sec.Cell, "point %d", k)
	}
	// A stray nearer than three cells to the skin cannot be told from it here:
	// their share of the box is the band's area over the box's.
	assert.LessOrEqual(t, wrong, 5+int(3*150*0.25*2*3*sec.Cell*path.Length()/(1000*1400)))
	// Of 150 strays over 200 mm of stations 37 are in the slab, six of them or so by
	// chance near the skin.
	assert.Greater(t, len(sec.Strays), 12)
	for _, k := range sec.Strays {
		assert.Less(t, truth[k], 0.0, "a good point dropped")
	}
	// A stray within reach of the skin may stand in the gap or in its mouth; what it
	// leaves of the gap beside it is not told when shorter than four cells. One more
	// is for what the distance along is off.
	require.NotEmpty(t, sec.Gaps)
	assert.LessOrEqual(t, len(sec.Gaps), 3)
	assert.InDelta(t, 800, sec.Gaps[0].From, 5*sec.Cell)
	assert.InDelta(t, 870, sec.Gaps[len(sec.Gaps)-1].To, 5*sec.Cell)
	require.Len(t, sec.Corners, 1, "%v", sec.Corners)
	assert.InDelta(t, chine, sec.Corners[0], 2*sec.Cell)
}

// A ring is closed and runs counter-clockwise from its lowest point, and moving and
// turning the cloud with its frame changes nothing.
func TestCutClosesARing(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 1))
	ring := outline.Circle(r2.Vec{X: 100, Y: 700}, 400)
	cloud, _ := scan(rnd, ring, 6000, 0.3, 20, nil)
	sec, err := Cut(cloud, AtStation(1000), SectionOptions{Half: 30})
	require.NoError(t, err)
	assert.True(t, sec.Closed)
	assert.Empty(t, sec.Gaps)
	assert.Empty(t, sec.Corners)
	first := sec.Points[0]
	assert.InDelta(t, 100, first.X, 60)
	assert.InDelta(t, 300, first.Y, 10)
	quarter := sec.Points[len(sec.Points)/4]
	assert.Greater(t, quarter.X, 300.0, "counter-clockwise from below goes right")
	assert.InDelta(t, ring.Length(), sec.Length, 0.001*ring.Length())
	assert.InDelta(t, ring.Length(), sec.Along[len(sec.Along)-1], sec.Cell)

	other := slices.Clone(cloud)
	for i := range other {
		other[i].Y *= -1
	}
	image, err := Cut(other, AtStation(1000), SectionOptions{Half: 30})
	require.NoError(t, err)
	assert.Greater(t, image.Points[len(image.Points)/4].X, 100.0, "the mirror image runs the same way round")

	rot := r3.NewRotation(0.7, r3.Vec{X: 1, Y: -2, Z: 0.5})
	move := func(p r3.Vec) r3.Vec { return r3.Add(rot.Rotate(p), r3.Vec{X: -300, Y: 50, Z: 9}) }
	moved := make([]r3.Vec, len(cloud))
	for i, p := range cloud {
		moved[i] = move(p)
	}
	fr := AtStation(1000)
	turned := Frame{move(fr.Origin), rot.Rotate(fr.U), rot.Rotate(fr.V), rot.Rotate(fr.N)}
	again, err := Cut(moved, turned, SectionOptions{Half: 30})
	require.NoError(t, err)
	assert.InDelta(t, len(sec.Points), len(again.Points), 2)
	assert.InDelta(t, sec.Along[len(sec.Along)-1], again.Along[len(again.Along)-1], 1)
}

// A ring of radius R put in order in stretches of s is measured along chords from the ring to the
// ring, s²/24R² short: .00042 for 40 in 400. The middles of such stretches lie s²/24R inside of it,
// which would make it as much shorter again; and each stray among the dozen points of a
// stretch would draw the line to it and back, a millimetre and more.
func TestCutMeasuresAlongTheCurve(t *testing.T) {
	const r, cell, strays = 400, 40, 12
	var cloud []r3.Vec
	add := func(radius, turn float64) {
		sin, cos := math.Sincos(2 * math.Pi * turn)
		cloud = append(cloud, r3.Vec{X: 1000, Y: radius * cos, Z: radius * sin})
	}
	for i := range 800 {
		add(r, float64(i)/800)
	}
	for i := range strays {
		add(r+1.5*cell, (float64(i)+0.3)/strays)
	}
	sec, err := Cut(cloud, AtStation(1000), SectionOptions{Half: 1, Cell: cell})
	require.NoError(t, err)
	require.True(t, sec.Closed)
	assert.InEpsilon(t, 2*math.Pi*r*(1-cell*cell/24./r/r), sec.Length, 1e-4)
}

// A place hidden from the scanner leaves a gap in a ring and not two ends.
func TestCutClosesARingWithAGap(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 9))
	ring := outline.Circle(r2.Vec{X: 100, Y: 700}, 400) // starts at the right
	cloud, _ := scan(rnd, ring, 30000, 0.3, 20, func(s float64) bool { return s > 300 && s < 360 })
	sec, err := Cut(cloud, AtStation(1000), SectionOptions{Half: 30})
	require.NoError(t, err)
	assert.True(t, sec.Closed)
	assert.InDelta(t, ring.Length(), sec.Length, 0.001*ring.Length())
	require.Len(t, sec.Gaps, 1)
	assert.InDelta(t, 60, sec.Gaps[0].To-sec.Gaps[0].From, 2*sec.Cell)
	// A quarter ring's ends head away from each other: it stays open.
	cloud, _ = scan(rnd, ring, 30000, 0.3, 20, func(s float64) bool { return s > 600 })
	sec, err = Cut(cloud, AtStation(1000), SectionOptions{Half: 30})
	require.NoError(t, err)
	assert.False(t, sec.Closed)
}

// The keel of a whole hull is its lowest point, where a closed section starts: it is told like the
// chines and the edges of the deck, and once. The deck's arc of 4·atan(0.6) = 124° over its chord
// meets the upright sides 28° off their direction.
func TestCutFindsTheKeel(t *testing.T) {
	whole := outline.Path{Closed: true, Vertices: []outline.Vertex{
		{P: r2.Vec{}}, {P: r2.Vec{X: 500, Y: 233}}, {P: r2.Vec{X: 500, Y: 800}, Bulge: 0.6}, {P: r2.Vec{X: -500, Y: 800}}, {P: r2.Vec{X: -500, Y: 233}}}}
	want, at := []float64{0}, 0.0
	for k := range 4 {
		at += whole.Segment(k).Length()
		want = append(want, at)
	}
	for _, seed := range []uint64{rand.Uint64(), 1, 2} {
		t.Logf("seed %d", seed)
		cloud, truth := scan(rand.New(rand.NewPCG(seed, 1)), whole, 20000, 0.4, 0, nil)
		sec, err := Cut(cloud, AtStation(1000), SectionOptions{Half: 25})
		require.NoError(t, err)
		require.True(t, sec.Closed)
		require.Len(t, sec.Corners, len(want), "%v", sec.Corners)
		assert.True(t, slices.IsSorted(sec.Corners))
		for _, w := range want {
			off := math.Inf(1)
			for _, c := range sec.Corners {
				assert.True(t, 0 <= c && c <= sec.Length, "%g", c)
				off = min(off, math.Abs(math.Remainder(c+truth[sec.Source[0]]-w, whole.Length())))
			}
			assert.Less(t, off, 2*sec.Cell, "the corner at %g", w)
		}
	}
}

// row is points one step apart along y.
func row(n int, step float64) (cloud []r3.Vec) {
	for i := range n {
		cloud = append(cloud, r3.Vec{Y: step * (float64(i) + 0.5)})
	}
	return cloud
}

// Sixteen points are enough to put in order, fifteen are refused; and what lies two and a half cells apart hangs
// together, and more than 2.6 does not.
func TestCutHangsTogether(t *testing.T) {
	opt := SectionOptions{Half: 1, Cell: 10}
	sec, err := Cut(row(16, 10), AtStation(0), opt)
	require.NoError(t, err)
	assert.Len(t, sec.Points, 16)
	_, err = Cut(row(15, 10), AtStation(0), opt)
	assert.ErrorContains(t, err, "at least 16 are needed")
	sec, err = Cut(row(20, 25), AtStation(0), opt)
	require.NoError(t, err)
	assert.Len(t, sec.Points, 20)
	assert.Empty(t, sec.Strays)
	_, err = Cut(row(20, 27), AtStation(0), opt)
	assert.ErrorContains(t, err, "no two of them hang together")
}

// The gap before the start of a closed section is told like any other: from Gap on. Points every 20 mm of a circle, but
// for 46 mm at its foot, on which the start, the lowest point, is the one that follows.
func TestGapWhereASectionCloses(t *testing.T) {
	const r, step = 300.0, 20.0
	from, to := 20.0, 2*math.Pi*r-26
	n := int((to - from) / step)
	var cloud []r3.Vec
	for i := range n + 1 {
		sin, cos := math.Sincos((from + (to-from)*float64(i)/float64(n)) / r)
		cloud = append(cloud, r3.Vec{Y: r * sin, Z: -r * cos})
	}
	// Of no Gap it is four cells: 44 mm and 48.
	for _, c := range []struct {
		cell, gap float64
		told      int
	}{{10, 30, 1}, {10, 45, 1}, {10, 47, 0}, {10, 60, 0}, {11, 0, 1}, {12, 0, 0}} {
		cell, gap, told := c.cell, c.gap, c.told
		sec, err := Cut(cloud, AtStation(0), SectionOptions{Half: 1, Cell: cell, Gap: gap})
		require.NoError(t, err)
		require.True(t, sec.Closed)
		require.Len(t, sec.Points, n+1)
		require.Len(t, sec.Gaps, told, "from %g mm, cells of %g", gap, cell)
		if told > 0 {
			assert.InDelta(t, 46, sec.Gaps[0].To-sec.Gaps[0].From, 0.5)
			assert.Equal(t, sec.Length, sec.Gaps[0].To, "where it closes")
		}
	}
}

// A scan that holds every point eight times is cut like one that holds it once: cells too fine for
// the points that differ dropped a third of them.
func TestCutCountsAPointOnce(t *testing.T) {
	cloud, _ := scan(rand.New(rand.NewPCG(3, 12)), hull(), 300, 0.4, 0, nil)
	var eight []r3.Vec
	for range 8 {
		eight = append(eight, cloud...)
	}
	once, err := Cut(cloud, AtStation(1000), SectionOptions{Half: 100})
	require.NoError(t, err)
	require.Empty(t, once.Strays)
	got, err := Cut(eight, AtStation(1000), SectionOptions{Half: 100})
	require.NoError(t, err)
	assert.Zero(t, len(got.Strays))
	assert.Equal(t, 8*len(once.Points), len(got.Points))
	assert.Equal(t, once.Cell, got.Cell)
	assert.InDelta(t, hull().Length(), got.Length, 0.02*hull().Length())
}

// The order of the cloud in the file does not matter.
func TestCutDoesNotHangOnFileOrder(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 2))
	cloud, _ := scan(rnd, hull(), 4000, 0.4, 30, nil)
	a, err := Cut(cloud, AtStation(1000), SectionOptions{Half: 50})
	require.NoError(t, err)
	shuffled := slices.Clone(cloud)
	rnd.Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
	b, err := Cut(shuffled, AtStation(1000), SectionOptions{Half: 50})
	require.NoError(t, err)
	require.Equal(t, len(a.Points), len(b.Points))
	assert.InDelta(t, a.Along[len(a.Along)-1], b.Along[len(b.Along)-1], 1e-6)
	assert.Equal(t, len(a.Corners), len(b.Corners))
}

func TestCutFaultsAreNamed(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 3))
	cloud, _ := scan(rnd, hull(), 500, 0.4, 0, nil)
	bad := slices.Clone(cloud)
	bad[7].Z = math.Inf(1)
	var spread []r3.Vec // a dust of points, none near another
	for i := range 40 {
		for j := range 40 {
			spread = append(spread, r3.Vec{X: 1000, Y: 400 * float64(i), Z: 400 * float64(j)})
		}
	}
	cases := []struct {
		name  string
		cloud []r3.Vec
		fr    Frame
		opt   SectionOptions
		field string
		says  string
	}{
		{"no points there", cloud, AtStation(3000), SectionOptions{Half: 5}, "slab", "the nearest point of the cloud lies 19"},
		{"no cloud", nil, AtStation(0), SectionOptions{Half: 5}, "cloud", "0 points"},
		{"no slab", cloud, AtStation(1000), SectionOptions{}, "slab half thickness", ""},
		{"NaN slab", cloud, AtStation(1000), SectionOptions{Half: math.NaN()}, "slab half thickness", ""},
		{"bad point", bad, AtStation(1000), SectionOptions{Half: 5}, "cloud: point 7 z", ""},
		{"no frame", cloud, Frame{}, SectionOptions{Half: 5}, "frame", ""},
		{"cell", cloud, AtStation(1000), SectionOptions{Half: 5, Cell: 1e-9}, "cell", ""},
		{"corner", cloud, AtStation(1000), SectionOptions{Half: 5, Corner: -1}, "corner", ""},
		{"dust", spread, AtStation(1000), SectionOptions{Half: 5, Cell: 10}, "slab", "hang together"},
	}
	for _, c := range cases {
		_, err := Cut(c.cloud, c.fr, c.opt)
		var e *Error
		if assert.ErrorAs(t, err, &e, c.name) {
			assert.Equal(t, c.field, e.Field, c.name)
			assert.Contains(t, err.Error(), c.says, c.name)
		}
	}
	// Points all in one place hang together in no order, but do not panic.
	_, err := Cut(make([]r3.Vec, 100), AtStation(0), SectionOptions{Half: 5})
	require.Error(t, err)
}

func FuzzCut(f *testing.F) {
	f.Add(uint64(1), 100, 5.0, 0.0)
	f.Add(uint64(2), 30, 1e-3, 1e-3)
	f.Fuzz(func(t *testing.T, seed uint64, n int, half, cell float64) {
		if n < 0 || n > 2000 {
			return
		}
		rnd := rand.New(rand.NewPCG(seed, 0))
		size := math.Pow(10, 6*rnd.Float64()-2)
		cloud := make([]r3.Vec, n)
		for i := range cloud {
			cloud[i] = r3.Vec{X: half * rnd.NormFloat64(), Y: size * rnd.Float64(), Z: size * rnd.NormFloat64() * rnd.Float64()}
		}
		sec, err := Cut(cloud, AtStation(0), SectionOptions{Half: half, Cell: cell, Corner: 20 * measure.Degree})
		if err != nil {
			return
		}
		if len(sec.Points) != len(sec.Along) || !slices.IsSorted(sec.Along) || len(sec.Points)+len(sec.Strays) > n {
			t.Fatalf("section of %d points: %d along, %d strays", len(sec.Points), len(sec.Along), len(sec.Strays))
		}
	})
}

func BenchmarkCut(b *testing.B) {
	rnd := rand.New(rand.NewPCG(3, 4))
	for _, c := range []struct {
		name string
		n    int
	}{{"1e4", 10_000}, {"1e5", 100_000}, {"1e6", 1_000_000}} {
		cloud, _ := scan(rnd, hull(), c.n, 0.4, c.n/200, nil)
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Cut(cloud, AtStation(1000), SectionOptions{Half: 10}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
