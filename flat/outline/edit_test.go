package outline

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"

	"github.com/hangarflat/hangarflat/material/measure"
)

func TestFillet(t *testing.T) {
	// A right corner loses r²(1 - π/4).
	p, err := Rect(pt(0, 0), pt(40, 30)).Fillet(2, 5)
	require.NoError(t, err)
	require.NoError(t, p.Validate())
	assert.InDelta(t, 1200-25*(1-math.Pi/4), p.Area(), 1e-9)
	assert.InDelta(t, math.Sqrt2-1, p.Vertices[2].Bulge, 1e-12)
	// Every corner of every variant, tangents continuous.
	for name, region := range corpus() {
		for _, v := range variants(region[0]) {
			for i := range v.path.Vertices {
				q, err := v.path.Fillet(i, 0.5*v.scale)
				require.NoError(t, err, "%s %s %d", name, v.name, i)
				require.NoError(t, q.Validate(), "%s %s %d", name, v.name, i)
				if len(q.Vertices) == len(v.path.Vertices) {
					continue // it was smooth
				}
				// A corner loses or gains a few r² at most, a sharp horn of the crescent more.
				require.InEpsilon(t, v.path.Area(), q.Area(), 0.05, "%s %s %d", name, v.name, i)
				for _, k := range []int{i, i + 1} {
					n := len(q.Vertices)
					a, b := q.Segment((k+n-1)%n).Tangent(1), q.Segment(k%n).Tangent(0)
					require.InDelta(t, 0, cross(a, b), 1e-6, "%s %s %d", name, v.name, i)
					require.Greater(t, dot(a, b), 0.0)
				}
				require.InEpsilon(t, 0.5*v.scale, q.Segment(i).Radius(), 1e-6)
			}
		}
	}
	// Both neighbours used up exactly: a square filleted at all corners to its half is a circle.
	c := Rect(pt(0, 0), pt(10, 10))
	for range 4 {
		for i := range c.Vertices {
			if a, b, _ := c.corner("", i); math.Abs(cross(a.Tangent(1), b.Tangent(0))) > 1e-9 {
				c, err = c.Fillet(i, 5)
				require.NoError(t, err)
				break
			}
		}
	}
	assert.InDelta(t, 25*math.Pi, c.Area(), 1e-9)
	require.NoError(t, c.Validate())
	assert.Len(t, c.Vertices, 4)
	for _, bad := range []float64{0, -1, math.NaN(), math.Inf(1), 31} {
		_, err = Rect(pt(0, 0), pt(40, 30)).Fillet(2, bad)
		var f *Fault
		require.ErrorAs(t, err, &f)
		assert.Contains(t, err.Error(), "radius")
	}
	for _, i := range []int{-1, 4} {
		_, err = Rect(pt(0, 0), pt(40, 30)).Fillet(i, 1)
		require.ErrorContains(t, err, "vertex")
	}
	_, err = Polyline(pt(0, 0), pt(1, 0), pt(1, 1)).Fillet(0, 0.1)
	require.Error(t, err, "the end of an open path is no corner")
	open, err := Polyline(pt(0, 0), pt(10, 0), pt(10, 10)).Fillet(1, 2)
	require.NoError(t, err)
	assert.InDelta(t, 20-4+math.Pi, open.Length(), 1e-9)
}

func TestRelieve(t *testing.T) {
	// A relief of radius 4 about the corner of a blank takes a quarter disc; about a re-entrant
	// corner three quarters.
	p, err := Rect(pt(0, 0), pt(40, 30)).Relieve(2, pt(40, 30), 4)
	require.NoError(t, err)
	require.NoError(t, p.Validate())
	assert.InDelta(t, 1200-4*math.Pi, p.Area(), 1e-9)
	l := Polygon(pt(0, 0), pt(60, 0), pt(60, 20), pt(20, 20), pt(20, 60), pt(0, 60))
	for _, v := range variants(l) {
		if v.sign < 0 {
			continue // the material must lie on the left
		}
		for i := range v.path.Vertices {
			c := v.path.Vertices[i].P
			q, err := v.path.Relieve(i, c, 4*v.scale)
			require.NoError(t, err, v.name)
			require.NoError(t, q.Validate())
			want, err := Difference([]Path{v.path}, []Path{Circle(c, 4*v.scale)})
			require.NoError(t, err)
			require.InEpsilon(t, want[0].Area(), q.Area(), 1e-9, "%s %d", v.name, i)
		}
	}
	// Off the vertex, and over a whole short edge.
	notched := Polygon(pt(0, 0), pt(50, 0), pt(50, 20), pt(48, 22), pt(0, 22))
	q, err := notched.Relieve(2, pt(48, 20), 5)
	require.NoError(t, err)
	require.NoError(t, q.Validate())
	want, err := Difference([]Path{notched}, []Path{Circle(pt(48, 20), 5)})
	require.NoError(t, err)
	assert.InDelta(t, want[0].Area(), q.Area(), 1e-6)
	// The same wherever the path begins: the short edge first, last and beside the first vertex.
	for i := range notched.Vertices {
		moved, err := notched.StartAt(i).Relieve((2-i+5)%5, pt(48, 20), 5)
		require.NoError(t, err)
		require.NoError(t, moved.Validate())
		assert.InDelta(t, want[0].Area(), moved.Area(), 1e-6, "from %d", i)
	}
	// An open path keeps its ends, and has no other side to come round to.
	q, err = Polyline(pt(0, 0), pt(10, 0), pt(10, 10)).Relieve(1, pt(10, 0), 2)
	require.NoError(t, err)
	require.Len(t, q.Vertices, 4)
	for i, at := range []r2.Vec{pt(0, 0), pt(8, 0), pt(10, 2), pt(10, 10)} {
		assert.InDelta(t, 0, dist(at, q.Vertices[i].P), 1e-12)
	}
	assert.InDelta(t, -math.Tan(math.Pi/8), q.Vertices[1].Bulge, 1e-12, "a quarter, clockwise")
	assert.InDelta(t, 16+math.Pi, q.Length(), 1e-12)
	bent := Path{Vertices: []Vertex{{pt(0, 0), 0.3}, {pt(10, 0), -0.2}, {P: pt(10, 10)}}}
	q, err = bent.Relieve(1, pt(10, 0), 2)
	require.NoError(t, err)
	for _, i := range []int{0, 2} {
		assert.InDelta(t, 0, bent.Distance(q.Segment(i).At(0.5)), 1e-12, "what is left of an arc lies on it")
	}
	for _, short := range []Path{Polyline(pt(0, 0), pt(50, 0), pt(50, 3)), Polyline(pt(47, 0), pt(50, 0), pt(50, 30))} {
		_, err = short.Relieve(1, pt(50, 0), 5)
		require.ErrorContains(t, err, "too large")
	}
	_, err = notched.Relieve(2, pt(48, 20), 100)
	require.ErrorContains(t, err, "too large")
	_, err = notched.Relieve(0, pt(48, 20), 5)
	require.ErrorContains(t, err, "inside the relief")
	for _, bad := range []float64{0, -1, math.NaN()} {
		_, err = notched.Relieve(2, pt(50, 20), bad)
		require.Error(t, err)
	}
}

func TestBooleansByHand(t *testing.T) {
	web := []Path{Rect(pt(0, 0), pt(100, 60))}
	// A flange that shares an edge: the edge vanishes and the corners that are none go with it.
	got, err := Union(web, []Path{Rect(pt(0, 60), pt(100, 80))})
	require.NoError(t, err)
	require.Len(t, got, 1)
	assert.Len(t, got[0].Vertices, 4)
	assert.InDelta(t, 8000, got[0].Area(), 1e-9)
	// On part of the edge.
	got, err = Union(web, []Path{Rect(pt(20, 60), pt(70, 80))})
	require.NoError(t, err)
	require.Len(t, got, 1)
	assert.Len(t, got[0].Vertices, 8)
	assert.InDelta(t, 7000, got[0].Area(), 1e-9)
	// The same edge after the rounding of a turn there and back.
	turn := Rotate(pt(13, 7), 0.377)
	there := Rect(pt(20, 60), pt(70, 80)).Transform(turn).Transform(turn.Inverse())
	got, err = Union(web, []Path{there})
	require.NoError(t, err)
	require.Len(t, got, 1)
	assert.InDelta(t, 7000, got[0].Area(), 1e-6)
	// Holes.
	got, err = Difference(web, []Path{Circle(pt(50, 30), 10)})
	require.NoError(t, err)
	require.Len(t, got, 2)
	assert.InDelta(t, 6000-100*math.Pi, got[0].Area()+got[1].Area(), 1e-9)
	got, err = Union(got, []Path{Circle(pt(50, 30), 10)})
	require.NoError(t, err)
	require.Len(t, got, 1, "the plug fills the hole")
	_, err = Difference([]Path{Circle(pt(50, 30), 10)}, web)
	require.ErrorIs(t, err, ErrNothingLeft)
	_, err = Intersection(web, []Path{Circle(pt(500, 30), 10)})
	require.ErrorIs(t, err, ErrNothingLeft)
	got, err = Union(web, []Path{Circle(pt(500, 30), 10)})
	require.NoError(t, err)
	require.Len(t, got, 2, "apart, both stay")
	same, err := Union(web, web)
	require.NoError(t, err)
	assert.InDelta(t, 6000, same[0].Area(), 1e-9)
	_, err = Difference(web, web)
	require.ErrorIs(t, err, ErrNothingLeft)
	_, err = Union(web, []Path{web[0].Reverse()})
	require.Error(t, err, "a hole alone is no bounded region")
	_, err = Union(web, []Path{Polygon(pt(0, 0), pt(math.NaN(), 1), pt(1, math.Inf(1)))})
	require.ErrorContains(t, err, "must be finite")
	// Inclusion and exclusion on random figures.
	rnd := random(t)
	ran := 0
	for range 300 {
		a, b := randomPath(rnd, 3+rnd.IntN(9), 0.5, 0.5), randomPath(rnd, 3+rnd.IntN(9), 0.5, 0.5).Transform(Translate(pt(60, 20)))
		if a.Validate() != nil || b.Validate() != nil {
			continue
		}
		a, b = counterClockwise(a), counterClockwise(b)
		var area [4]float64
		for k, op := range []func(a, b []Path) ([]Path, error){Union, Intersection, Difference} {
			got, err := op([]Path{a}, []Path{b})
			if !errors.Is(err, ErrNothingLeft) {
				require.NoError(t, err, "%v %v", a, b)
			}
			area[k], _ = total(got)
		}
		require.InDelta(t, a.Area()+b.Area(), area[0]+area[1], 1e-4)
		require.InDelta(t, a.Area()-area[1], area[2], 1e-4)
		ran++
	}
	require.Greater(t, ran, 100)
}

func TestJoin(t *testing.T) {
	rnd := random(t)
	for name, region := range corpus() {
		p := region[0]
		var pieces []Path
		for i := range p.Vertices {
			s := p.Segment(i)
			// Apart by up to 0.01 at each end, half of them turned round, in any order.
			off := func(q r2.Vec) r2.Vec { return r2.Add(q, pt(0.01*(rnd.Float64()-0.5), 0.01*(rnd.Float64()-0.5))) }
			piece := Path{Vertices: []Vertex{{off(s.A), s.Bulge}, {off(s.B), 0}}}
			if rnd.IntN(2) == 0 {
				piece = piece.Reverse()
			}
			pieces = append(pieces, piece)
		}
		rnd.Shuffle(len(pieces), func(i, j int) { pieces[i], pieces[j] = pieces[j], pieces[i] })
		got, err := Join(pieces, 0.05)
		require.NoError(t, err)
		require.Len(t, got, 1, name)
		require.True(t, got[0].Closed, name)
		require.InDelta(t, math.Abs(p.Area()), math.Abs(got[0].Area()), 0.02*p.Length(), name)
		require.NoError(t, got[0].Validate(), name)
		got, err = Join(pieces, 1e-6)
		require.NoError(t, err)
		require.Len(t, got, len(pieces), "nothing is joined over a wider gap than allowed")
	}
	// A stray piece is returned open; the closed pass through.
	got, err := Join([]Path{Polyline(pt(0, 0), pt(1, 0)), Circle(pt(9, 9), 1), Polyline(pt(5, 5), pt(1, 0))}, 0)
	require.NoError(t, err)
	require.Len(t, got, 2)
	assert.True(t, got[0].Closed)
	assert.False(t, got[1].Closed)
	assert.Len(t, got[1].Vertices, 3)
	got, err = Join([]Path{Polyline(pt(0, 0), pt(1, 0)), Polyline(pt(1, 0.015), pt(3, 0))}, 0.01)
	require.NoError(t, err)
	require.Len(t, got, 2, "0.015 apart")
	got, err = Join([]Path{Polyline(pt(0, 0), pt(0.01, 0), pt(0.01, 0.01))}, 0.05)
	require.NoError(t, err)
	require.False(t, got[0].Closed, "a crumb shorter than the gap does not close upon itself")
	for _, bad := range []float64{-1, math.NaN(), math.Inf(1)} {
		_, err = Join(nil, bad)
		require.ErrorContains(t, err, "gap")
	}
	_, err = Join([]Path{{}, Polyline(pt(0, 0), pt(math.NaN(), 0))}, 1)
	require.ErrorContains(t, err, "path 0", "named as the first")
	require.ErrorContains(t, err, "must be finite")
}

func TestSimplify(t *testing.T) {
	for name, region := range corpus() {
		p := region[0]
		q := p
		// Cut every segment in five; Simplify must find the old ones again.
		for i := len(p.Vertices) - 1; i >= 0; i-- {
			for k := 4; k >= 1; k-- {
				var err error
				q, err = q.Insert(i, float64(k)/float64(k+1))
				require.NoError(t, err)
			}
		}
		require.Len(t, q.Vertices, 5*len(p.Vertices))
		require.InDelta(t, p.Area(), q.Area(), 1e-8)
		for start := range 7 {
			s, err := q.StartAt(start).Simplify(1e-6)
			require.NoError(t, err)
			require.LessOrEqual(t, len(s.Vertices), len(p.Vertices)+1, "%s from %d", name, start)
			require.InDelta(t, p.Area(), s.Area(), 1e-4, name)
		}
	}
	// Facets of a circle become arcs where they were arcs; lines stay lines: no corner is lost.
	s, err := Polygon(chop(Circle(pt(0, 0), 10), 100)...).Simplify(0.1)
	require.NoError(t, err)
	for i := range 200 {
		q := pt(10*math.Cos(float64(i)), 10*math.Sin(float64(i)))
		require.LessOrEqual(t, s.Distance(q), 0.11)
	}
	assert.Less(t, len(s.Vertices), 30)
	// A fold is not straightened away.
	z, err := Polyline(pt(0, 0), pt(10, 0), pt(5, 0.001), pt(15, 0)).Simplify(0.01)
	require.NoError(t, err)
	assert.InDelta(t, 25, z.Length(), 0.02)
	// Two in line are one.
	two, err := Polyline(pt(0, 0), pt(4, 0), pt(10, 0)).Simplify(0.01)
	require.NoError(t, err)
	assert.Equal(t, Polyline(pt(0, 0), pt(10, 0)), two)
	for _, bad := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		_, err := s.Simplify(bad)
		require.ErrorContains(t, err, "tolerance")
	}
}

func TestTrim(t *testing.T) {
	for _, v := range variants(corpus()["slot"][0]) {
		l := v.path.Length()
		for _, c := range [][2]float64{{0.1, 0.4}, {0, 1}, {0.7, 0.2}, {0.25, 0.26}} {
			q, err := v.path.Trim(c[0]*l, c[1]*l)
			require.NoError(t, err)
			want := c[1] - c[0]
			if want < 0 {
				want++
			}
			require.InEpsilon(t, want*l, q.Length(), 1e-9)
			require.False(t, q.Closed)
		}
	}
	p := Polyline(pt(0, 0), pt(10, 0), pt(10, 10))
	q, err := p.Trim(4, 10)
	require.NoError(t, err)
	assert.Equal(t, Polyline(pt(4, 0), pt(10, 0)), q)
	for _, bad := range [][2]float64{{-1, 3}, {1, 21}, {5, 5}, {7, 3}, {math.NaN(), 3}, {1, math.NaN()}} {
		_, err := p.Trim(bad[0], bad[1])
		require.Error(t, err, "%v", bad)
	}
	// Round a ring to where it begins, from a side and from its very end, which is where it begins.
	square := Polygon(pt(0, 0), pt(10, 0), pt(10, 10), pt(0, 10))
	q, err = square.Trim(15, 0)
	require.NoError(t, err)
	assert.Equal(t, Polyline(pt(10, 5), pt(10, 10), pt(0, 10), pt(0, 0)), q)
	_, err = square.Trim(40, 0)
	require.ErrorContains(t, err, "past the start")
	// Two distances so near to each other that they are one fraction of the side.
	near, far := 7.9, math.Nextafter(7.9, 8)
	if near/15 != far/15 {
		near, far = far, math.Nextafter(far, 8)
	}
	require.Equal(t, near/15, far/15)
	_, err = Polyline(pt(0, 0), pt(15, 0)).Trim(near, far)
	require.ErrorContains(t, err, "past the start")
}

// Without a tolerance paths of 1000 mm meet where they come within a millionth.
func TestCrossingsWithoutATolerance(t *testing.T) {
	line := Polyline(pt(0, 0), pt(1000, 0))
	for gap, want := range map[float64]int{0: 1, 5e-7: 1, 2e-6: 0} {
		assert.Len(t, line.Crossings(Polyline(pt(500, gap), pt(500, 100)), 0), want, "%g", gap)
	}
	assert.Len(t, line.Crossings(Polyline(pt(500, 2e-6), pt(500, 100)), 1e-5), 1, "with one")
}

func TestStartAt(t *testing.T) {
	square := Polygon(pt(0, 0), pt(10, 0), pt(10, 10), pt(0, 10))
	assert.Equal(t, Polygon(pt(10, 10), pt(0, 10), pt(0, 0), pt(10, 0)), square.StartAt(2))
	for _, none := range []int{-1, 4} {
		assert.Equal(t, square, square.StartAt(none))
	}
	open := Polyline(pt(0, 0), pt(10, 0), pt(10, 10))
	assert.Equal(t, open, open.StartAt(1))
}

// Every argument and every vertex with every bad value; the fault names it and says where.
func TestValidateFindsEveryFault(t *testing.T) {
	ran := 0
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e10} {
		for i := range 4 {
			for field := range 3 {
				p := Rect(pt(0, 0), pt(10, 10))
				v := &p.Vertices[i]
				*[]*float64{&v.P.X, &v.P.Y, &v.Bulge}[field] = bad
				var f *Fault
				require.ErrorAs(t, p.Validate(), &f)
				require.Equal(t, i, f.Index)
				require.Contains(t, f.Field, []string{"x", "y", "bulge"}[field])
				ran++
			}
		}
	}
	require.Equal(t, 48, ran)
	// Two faults are both reported.
	p := Rect(pt(0, 0), pt(10, 10))
	p.Vertices[1].P.X, p.Vertices[3].Bulge = math.NaN(), math.Inf(1)
	err := p.Validate()
	require.ErrorContains(t, err, "vertex 1")
	require.ErrorContains(t, err, "vertex 3")
	for name, c := range map[string]struct {
		p    Path
		want string
	}{
		"empty":            {Path{Closed: true}, "number of segments"},
		"open":             {Polyline(pt(0, 0), pt(1, 0), pt(1, 1)), "must be closed"},
		"two lines":        {Polygon(pt(0, 0), pt(1, 0)), "at least 3"},
		"repeated vertex":  {Polygon(pt(0, 0), pt(1, 0), pt(1, 0), pt(0, 1)), "segment 1"},
		"closing vertex":   {Polygon(pt(0, 0), pt(1, 0), pt(0, 1), pt(0, 0)), "segment 3"},
		"bow tie":          {Polygon(pt(0, 0), pt(1, 1), pt(1, 0), pt(0, 1)), "segments 0 and 2"},
		"spike":            {Polygon(pt(0, 0), pt(9, 0), pt(4, 0), pt(4, 4)), "segments 0 and 1"},
		"touch at a point": {Polygon(pt(0, 0), pt(4, 0), pt(4, 4), pt(2, 0), pt(0, 4)), "touch or cross"},
		"arc through line": {Path{Closed: true, Vertices: []Vertex{{pt(0, 0), -1}, {pt(10, 0), 0}, {pt(10, 3), 0}, {pt(0, 3), 0}}}, "segments 0 and 2"},
		"arc doubled back": {Path{Closed: true, Vertices: []Vertex{{pt(0, 0), 0.5}, {pt(10, 0), -0.5}}}, "segments 0 and 1"},
		"flat":             {Polygon(pt(0, 0), pt(1, 0), pt(2, 0)), "touch"},
	} {
		require.ErrorContains(t, c.p.Validate(), c.want, name)
	}
	// A spike in each of many directions, also along the axes, where a run seems to advance.
	for k := range 48 {
		spike := Polygon(pt(0, 0), pt(9, 0), pt(4, 0), pt(4, 4)).Transform(Rotate(pt(0, 0), measure.Angle(float64(k)*math.Pi/24)))
		if k%12 == 0 { // elsewhere the turned points are no longer exactly in line
			require.Error(t, spike.Validate(), "turned by %d/24 of a half turn", k)
		}
		crossed := Polygon(pt(0, 0), pt(9, 0), pt(4, -0.01), pt(4, 4)).Transform(Rotate(pt(0, 0), measure.Angle(float64(k)*math.Pi/24)))
		require.Error(t, crossed.Validate(), "turned by %d/24 of a half turn", k)
	}
	// All crossings are named, and the place.
	star := Polygon(pt(0, 0), pt(10, 7), pt(0, 7), pt(10, 0), pt(5, 12))
	require.Equal(t, 5, strings.Count(star.Validate().Error(), "must not touch"))
	require.ErrorContains(t, Polygon(pt(0, 0), pt(2, 2), pt(2, 0), pt(0, 2)).Validate(), "(1, 1)")
	for name, region := range corpus() {
		for _, p := range region {
			for _, v := range variants(p) {
				require.NoError(t, v.path.Validate(), "%s %s", name, v.name)
			}
		}
	}
	require.NoError(t, Polyline(pt(0, 0), pt(1, 0)).ValidateOpen())
	for _, u := range []r2.Vec{pt(1, 0), pt(0, 1), pt(-1, 0), pt(0, -1), pt(1, 1), pt(-1, 1)} {
		back := Polyline(pt(0, 0), r2.Scale(9, u), r2.Scale(4, u))
		require.ErrorContains(t, back.ValidateOpen(), "segments 0 and 1", "%v and back", u)
	}
	require.ErrorContains(t, Polyline(pt(0, 0)).ValidateOpen(), "at least 1")
	require.ErrorContains(t, Polyline(pt(0, 0), pt(4, 4), pt(4, 0), pt(0, 4)).ValidateOpen(), "touch or cross")
	require.Error(t, Circle(pt(0, 0), 0).Validate())
	require.Error(t, Circle(pt(0, 0), math.NaN()).Validate())
}

// The zero Path, Segment, Affine and Index do no harm.
func TestZeroValues(t *testing.T) {
	var p Path
	assert.Zero(t, p.NumSegments())
	assert.Zero(t, p.Length())
	assert.Zero(t, p.Area())
	assert.Zero(t, p.Centroid())
	assert.Zero(t, p.Bounds())
	assert.Zero(t, p.Moments())
	assert.Equal(t, Outside, p.Side(pt(0, 0)))
	assert.True(t, math.IsInf(p.Distance(pt(0, 0)), 1))
	_, seg, _ := p.Nearest(pt(0, 0))
	assert.Equal(t, -1, seg)
	assert.Empty(t, p.Reverse().Vertices)
	assert.Empty(t, p.Transform(Affine{}).Vertices)
	assert.Error(t, p.Validate())
	assert.Error(t, p.ValidateOpen())
	assert.Empty(t, p.Crossings(Circle(pt(0, 0), 1), 0))
	assert.Empty(t, p.SelfCrossings(0))
	_, _, err := p.Locate(0)
	assert.Error(t, err)
	_, err = p.Offset(1, OffsetOptions{})
	assert.Error(t, err)
	_, err = p.Parallel(1, OffsetOptions{})
	assert.Error(t, err)
	var x Index
	assert.Equal(t, Outside, x.Side(pt(0, 0)))
	assert.True(t, math.IsInf(x.Distance(pt(0, 0)), 1))
	one := Path{Vertices: []Vertex{{}}, Closed: true}
	assert.Error(t, one.Validate())
	one.Reverse()
	one.Moments()
	var s Segment
	s.Nearest(pt(1, 1))
	s.Bounds()
	s.Meet(s, 1)
}

// A corner that turns by 45° takes an arc whose ends lie r·tan(22.5°) from it; one that goes straight on takes none,
// and one that turns back upon itself cannot have any.
func TestFilletOfASlightTurn(t *testing.T) {
	p := Polyline(pt(0, 0), pt(100, 0), pt(200, 100))
	got, err := p.Fillet(1, 20)
	require.NoError(t, err)
	require.Len(t, got.Vertices, 4)
	back := 20 * math.Tan(math.Pi/8)
	assert.InDelta(t, 0, dist(got.Vertices[1].P, pt(100-back, 0)), 1e-9)
	assert.InDelta(t, 0, dist(got.Vertices[2].P, pt(100+back/math.Sqrt2, back/math.Sqrt2)), 1e-9)
	assert.InDelta(t, math.Tan(math.Pi/16), got.Vertices[1].Bulge, 1e-12)
	straight := Polyline(pt(0, 0), pt(100, 0), pt(200, 0))
	same, err := straight.Fillet(1, 20)
	require.NoError(t, err)
	assert.Equal(t, straight, same)
	_, err = Polyline(pt(0, 0), pt(100, 0), pt(50, 0)).Fillet(1, 20)
	assert.Error(t, err)
}

// A vertex is put in within a segment that there is; a relief has a centre and a radius.
func TestEditsRefuse(t *testing.T) {
	p := Rect(pt(0, 0), pt(10, 10))
	for _, at := range []float64{0, 1, -0.1, 1.2, math.NaN(), math.Inf(1)} {
		_, err := p.Insert(0, at)
		assert.Error(t, err, "%g", at)
	}
	for _, i := range []int{-1, 4, 99} {
		_, err := p.Insert(i, 0.5)
		assert.Error(t, err, "%d", i)
	}
	for _, c := range []struct {
		center r2.Vec
		radius float64
	}{{pt(math.NaN(), 0), 2}, {pt(0, 0), 0}, {pt(0, 0), -2}, {pt(0, 0), math.NaN()}, {pt(0, 0), math.Inf(1)}, {pt(5, 5), 2}, {pt(5, 5), 30}} {
		_, err := p.Relieve(0, c.center, c.radius)
		assert.Error(t, err, "%v", c)
	}
}

// Ends that do not quite meet are both moved to the middle between them, in a chain and where a ring closes.
func TestJoinMeetsInTheMiddle(t *testing.T) {
	chain, err := Join([]Path{Polyline(pt(0, 0), pt(10, 0)), Polyline(pt(10.04, 0.02), pt(10, 10))}, 0.1)
	require.NoError(t, err)
	require.Len(t, chain, 1)
	require.Len(t, chain[0].Vertices, 3)
	assert.InDelta(t, 0, dist(chain[0].Vertices[1].P, pt(10.02, 0.01)), 1e-12)
	ring, err := Join([]Path{Polyline(pt(0, 0), pt(10, 0), pt(10, 10), pt(0.06, -0.02))}, 0.1)
	require.NoError(t, err)
	require.True(t, ring[0].Closed)
	near := math.Inf(1)
	for _, v := range ring[0].Vertices {
		near = min(near, dist(v.P, pt(0.03, -0.01)))
	}
	assert.InDelta(t, 0, near, 1e-12)
}

// The proof of a boolean operation must see each kind of wrong result. a and b are squares of 100 and
// 36 mm²; c shares a quarter of a, d lies apart.
func TestProofOfCombinationsBites(t *testing.T) {
	a, b := Rect(pt(0, 0), pt(10, 10)), Rect(pt(7, 7), pt(13, 13))
	c, d := Rect(pt(5, 5), pt(15, 15)), Rect(pt(20, 0), pt(26, 6))
	type kind struct{ inside, backward bool }
	union, difference, intersection := kind{}, kind{backward: true}, kind{inside: true}
	for _, k := range []struct {
		name  string
		kind  kind
		other Path
		loops []Path
		fault string // part of it; none for a right result
	}{
		{"union", union, d, []Path{a, d}, ""},
		{"difference", difference, c, []Path{Polygon(pt(0, 0), pt(10, 0), pt(10, 5), pt(5, 5), pt(5, 10), pt(0, 10))}, ""},
		{"intersection", intersection, c, []Path{Rect(pt(5, 5), pt(10, 10))}, ""},
		{"nothing in common", intersection, d, nil, ""},
		{"all taken", difference, a, nil, ""},

		{"union less than a", union, b, []Path{Rect(pt(0, 0), pt(9, 9))}, "area"},
		{"union more than both", union, b, []Path{Rect(pt(0, 0), pt(12, 12))}, "area"},
		{"nothing of a union", union, b, nil, "area"},
		{"difference more than a", difference, b, []Path{Rect(pt(0, 0), pt(10, 11))}, "area"},
		{"difference less than a without all of b", difference, b, []Path{Rect(pt(0, 0), pt(10, 6))}, "area"},
		{"intersection more than b", intersection, b, []Path{Rect(pt(7, 7), pt(13, 14))}, "area"},

		{"union without d", union, d, []Path{a}, "covered"},
		{"difference with nothing taken", difference, c, []Path{a}, "covered"},
		{"difference that takes the wrong corner", difference, c, []Path{Polygon(pt(5, 0), pt(10, 0), pt(10, 10), pt(0, 10), pt(0, 5), pt(5, 5))}, "covered"},
		{"nothing of an intersection", intersection, c, nil, "covered"},
		{"intersection of the right size elsewhere", intersection, c, []Path{Rect(pt(0, 0), pt(5, 5))}, "covered"},

		{"loops that cross", union, b, []Path{a, b}, "touch or cross"},
		{"a hole in nothing", union, d, []Path{a, d.Reverse()}, "wrong way"},
		{"the outside", union, d, []Path{a.Reverse(), d.Reverse()}, "not bounded"},
		{"too little of a loop", union, d, []Path{a, {Vertices: d.Vertices[:1], Closed: true}}, "too few"},
	} {
		ga, err := newRegion("Union", []Path{a})
		require.NoError(t, err)
		gb, err := newRegion("Union", []Path{k.other})
		require.NoError(t, err)
		op := combination{fn: "Union", inside: k.kind.inside, backward: k.kind.backward, a: ga, b: gb, tol: 2e-8}
		if got := op.prove(k.loops); k.fault == "" {
			assert.Empty(t, got, k.name)
		} else {
			assert.Contains(t, got, k.fault, k.name)
		}
	}
}

// One over the radius, to the left above 0: 60° of a circle of 100 stand on a chord of 100, at whatever size of sweep.
func TestCurvature(t *testing.T) {
	for _, deg := range []float64{1, 60, 180, 300} {
		sweep := deg * math.Pi / 180
		s := Segment{A: pt(3, 4), B: pt(3+200*math.Sin(sweep/2), 4), Bulge: math.Tan(sweep / 4)}
		assert.InEpsilon(t, 0.01, s.curvature(), 1e-12, "%g", deg)
		s.Bulge = -s.Bulge
		assert.InEpsilon(t, -0.01, s.curvature(), 1e-12, "%g", deg)
	}
	assert.Zero(t, Segment{B: pt(1, 0)}.curvature())
}

// A tangent touches its arc at one place, whichever way rounding throws it and wherever along the arc it is.
func TestTangentsTouchOnce(t *testing.T) {
	arc := Segment{A: pt(10, 0), B: pt(0, 10), Bulge: math.Tan(math.Pi / 8)}
	for deg := 3; deg < 90; deg += 3 {
		sin, cos := math.Sincos(float64(deg) * math.Pi / 180)
		p := pt(10*cos, 10*sin)
		line := Segment{A: r2.Add(p, pt(-7*sin, 7*cos)), B: r2.Add(p, pt(9*sin, -9*cos))}
		for _, m := range [][]Meeting{arc.Meet(line, 0), line.Meet(arc, 0)} {
			require.Len(t, m, 1, "%d°", deg)
			// Within the tolerance of 1e-10 the two run together for √(2·10·1e-10) either way.
			assert.Less(t, dist(p, m[0].P), 5e-5, "%d°", deg)
		}
	}
}

// An arc all but straight, 1e-7 high on a chord of 100, is crossed where the chord is but for that.
func TestShallowArcsAreCrossed(t *testing.T) {
	for _, bulge := range []float64{2e-9, -2e-9} {
		arc := Segment{A: pt(0, 0), B: pt(100, 0), Bulge: bulge}
		for _, x := range []float64{1, 30, 77} {
			m := arc.Meet(Segment{A: pt(x-5, -10), B: pt(x+5, 10)}, 0)
			require.Len(t, m, 1, "%g at %g", bulge, x)
			assert.Less(t, dist(m[0].P, pt(x, 0)), 2e-7)
		}
	}
}
