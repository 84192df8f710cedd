package paper

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/fold"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// On any line of sight the facet drawn last is the one nearest the viewer, also
// where facets stand through one another. The depths are found here by cutting
// the line of sight with each plane, not by the order.
func TestBackToFront(t *testing.T) {
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	r := rand.New(rand.NewPCG(seed, 1))
	v := lookFrom(r3.Vec{X: -0.52, Y: -0.72, Z: 0.62})
	tested := 0
	for range 40 {
		var all []facet
		for range 8 {
			c := r3.Vec{X: 20 * r.Float64(), Y: 20 * r.Float64(), Z: 20 * r.Float64()}
			a := r3.Scale(8, r3.Unit(r3.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}))
			b := r3.Cross(a, r3.Unit(r3.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}))
			f, ok := newFacet([]r3.Vec{c, r3.Add(c, a), r3.Add(c, r3.Add(a, b)), r3.Add(c, b)})
			if ok {
				all = append(all, f)
			}
		}
		ordered := backToFront(all, v.toward)
		for range 200 {
			q := r2.Add(v.project(r3.Vec{X: 10, Y: 10, Z: 10}), r2.Vec{X: 24*r.Float64() - 12, Y: 24*r.Float64() - 12})
			nearest, last := -1e9, -1e9
			depth := func(f facet) (float64, bool) {
				// The line of sight: right·q.X + up·q.Y + toward·s.
				at := r3.Add(r3.Scale(q.X, v.right), r3.Scale(q.Y, v.up))
				facing := r3.Dot(f.normal, v.toward)
				if facing < 0.05 && facing > -0.05 {
					return 0, false
				}
				in := outline.Outside
				var flat []r2.Vec
				for _, p := range f.loops[0] {
					flat = append(flat, v.project(p))
				}
				in = outline.Polygon(flat...).Side(q)
				return (f.off - r3.Dot(f.normal, at)) / facing, in == outline.Inside
			}
			for _, f := range all {
				if s, ok := depth(f); ok {
					nearest = max(nearest, s)
				}
			}
			for _, f := range ordered {
				if s, ok := depth(f); ok {
					last = s
				}
			}
			if nearest > -1e9 {
				tested++
				require.InDelta(t, nearest, last, 1e-2, "seen at %v", q)
			}
		}
	}
	require.Greater(t, tested, 1000, "the facets hardly ever lie before the viewer")
}

// A plate before another hides just what lies behind it.
func TestHides(t *testing.T) {
	v := lookFrom(r3.Vec{X: 0.001, Z: 1})
	f, ok := newFacet([]r3.Vec{{}, {X: 10}, {X: 10, Y: 10}, {Y: 10}}, []r3.Vec{{X: 4, Y: 4}, {X: 6, Y: 4}, {X: 6, Y: 6}, {X: 4, Y: 6}})
	require.True(t, ok)
	s := v.screens([]facet{f})
	require.Len(t, s, 1)
	hides := func(p r3.Vec) bool { return s[0].before(p, v.project(p)) > 0.1 }
	assert.True(t, hides(r3.Vec{X: 2, Y: 2, Z: -3}), "behind")
	assert.InDelta(t, 3, s[0].before(r3.Vec{X: 2, Y: 2, Z: -3}, v.project(r3.Vec{X: 2, Y: 2, Z: -3})), 1e-9)
	assert.False(t, hides(r3.Vec{X: 2, Y: 2, Z: 3}), "before")
	assert.False(t, hides(r3.Vec{X: 2, Y: 2}), "in it")
	assert.False(t, hides(r3.Vec{X: 12, Y: 2, Z: -3}), "beside")
	assert.False(t, hides(r3.Vec{X: 5, Y: 5, Z: -3}), "through the hole")
}

// The facets close round the metal: the vectors of their areas add up to nothing, and
// the volume they enclose (a third of the sum of place times area) is that of the sheet
// less its reliefs and openings. A bend of radius r drawn as chords of 10° or less holds, of the
// area between its faces, sin(10°)/10° = .995, a lip of 36 strips and 22.5° steps .98: of these
// parts, an eighth of which is bends and a thirtieth lip, no more than 0.15 % is missing.
func TestModelIsClosed(t *testing.T) {
	mixed := channel()
	mixed.Web.Edges[0].Flanges = []flat.Flange{{Angle: 120 * measure.Degree, Height: 30, Turn: flat.Down}}
	for name, p := range map[string]flat.Part{"channel": channel(), "intercostal": intercostal(), "mixed": mixed} {
		b := develop(t, p)
		solid, err := b.Fold()
		require.NoError(t, err)
		open, volume := enclosed(newModel(b, solid, lookFrom(r3.Vec{X: -0.52, Y: -0.72, Z: 0.62})))
		assert.Less(t, open, 1e-6, name)
		assert.InEpsilon(t, bent(b), volume, 0.0015, name)
	}
}

// The end of a bend lies on the very edge of its metal, a rounding to one side of it or the other. Either way its cut
// edge is that of the bend, and the next of it begins where the last ends: here on clips of 12 mm with the flange at any end.
func TestEndsOfBendsAreClosed(t *testing.T) {
	for turn := range 36 {
		p := flat.Part{Name: "clip", Radius: 1.6, Sheet: material.Sheet{Material: material.Material{Alloy: "2024", Temper: "T3"}, Thickness: 0.5}}
		for _, c := range []r2.Vec{{X: 12}, {X: 12, Y: 8}, {Y: 8}, {}} {
			p.Web.Edges = append(p.Web.Edges, flat.Edge{Start: r2.Rotate(c, float64(turn)*math.Pi/18, r2.Vec{})})
		}
		p.Web.Edges[0].Flanges = []flat.Flange{{Angle: 90 * measure.Degree, Height: 6}}
		b := develop(t, p)
		solid, err := b.Fold()
		require.NoError(t, err)
		var ends, starts []r3.Vec // of the quads round the cut edge, on the marking face
		for _, f := range newModel(b, solid, lookFrom(r3.Vec{X: -0.52, Y: -0.72, Z: 0.62})).facets {
			if f.of == cutFace {
				require.Len(t, f.loops[0], 4)
				starts, ends = append(starts, f.loops[0][0]), append(ends, f.loops[0][3])
			}
		}
		require.NotEmpty(t, ends)
		for _, end := range ends {
			assert.True(t, slices.ContainsFunc(starts, func(start r3.Vec) bool { return r3.Norm(r3.Sub(end, start)) < 1e-6 }),
				"turned by %d°: no cut edge goes on from %.3f", 10*turn, end)
		}
	}
}

// bent is the volume of a folded part: thickness times area of what is flat, and of a bend its area as cut from
// the blank times T·(R + T/2)·A/BA, since its middle is so much longer than its allowance.
func bent(b flat.Blank) float64 {
	t := b.Part.Sheet.Thickness
	rest, bends := b.Outline.Area(), 0.0
	for _, h := range b.Holes {
		radius := h.Diameter / 2
		if h.Purpose == flat.FlangedPilot {
			radius = h.Keep
			bends += lipVolume(h.Lip, t)
		}
		rest -= math.Pi * radius * radius
	}
	for _, c := range b.Cutouts {
		rest += c.Path.Area() // clockwise, so below nothing
	}
	for _, l := range b.Bends {
		zone := outline.Polygon(clipConvex(chords(b.Outline), l.Zone)...).Area()
		rest -= zone
		bends += zone * t * (l.Bend.Radius + t/2) * l.Bend.Angle.Radians() / l.Allowance.Length
	}
	return rest*t + bends
}

// areaOf is the vector of the area of a loop, square to it, where it runs counter-clockwise.
func areaOf(loop []r3.Vec) (area r3.Vec) {
	for i, a := range loop {
		area = r3.Add(area, r3.Scale(0.5, r3.Cross(r3.Sub(a, loop[0]), r3.Sub(loop[(i+1)%len(loop)], loop[0]))))
	}
	return area
}

// enclosed is the volume within the facets of a model, and how far these are from closing round it: the sum
// of the vectors of their areas as a part of the whole area.
func enclosed(m *model) (open, volume float64) {
	var sum r3.Vec
	total := 0.0
	for _, f := range m.facets {
		for _, loop := range f.loops {
			area := areaOf(loop)
			sum, total = r3.Add(sum, area), total+r3.Norm(area)
			volume += r3.Dot(loop[0], area) / 3
		}
	}
	return r3.Norm(sum) / total, volume
}

// lipVolume of a lip is by Pappus the area of its section times the way round of that area's centre: of a quarter
// of a ring from r to R about the bend's middle, at 4(R³ - r³)/(3π(R² - r²)) from that toward the hole, and of the
// straight rest at the mean diameter.
func lipVolume(lip flat.LighteningHole, t float64) float64 {
	r, big := lip.Radius, lip.Radius+t
	turn := math.Pi / 4 * (big*big - r*r)
	at := lip.Diameter/2 + t/2 + r - 4*(big*big*big-r*r*r)/(3*math.Pi*(big*big-r*r))
	return 2 * math.Pi * (turn*at + t*(lip.Height-t-r)*lip.Diameter/2)
}

// A plate with one large lip, turned either way, on a face and on a folded flange, is closed and holds the metal of
// plate and lip. The lip of 36 strips and 22.5° steps is 2 % short; without it a fifth would be missing.
func TestLipsAreMetal(t *testing.T) {
	for _, turn := range []flat.Turn{flat.Up, flat.Down} {
		lip := flat.LighteningHole{Name: "L", At: r2.Vec{X: 45, Y: 32}, Diameter: 44, Height: 16, Radius: 3, Turn: turn}
		onWeb := flat.Part{Name: "lipped", Radius: 3, Sheet: material.Sheet{Material: material.Material{Alloy: "2024", Temper: "O"}, Thickness: 1}}
		for _, p := range []r2.Vec{{}, {X: 90}, {X: 90, Y: 64}, {Y: 64}} {
			onWeb.Web.Edges = append(onWeb.Web.Edges, flat.Edge{Start: p})
		}
		onFlange := onWeb
		onFlange.Web.Edges = append([]flat.Edge(nil), onWeb.Web.Edges...)
		onFlange.Web.Edges[0].Flanges = []flat.Flange{{Angle: 100 * measure.Degree, Height: 70, Features: flat.Features{Lightening: []flat.LighteningHole{lip}}}}
		onWeb.Web.Lightening = []flat.LighteningHole{lip}
		for name, p := range map[string]flat.Part{"web": onWeb, "flange": onFlange} {
			b := develop(t, p)
			solid, err := b.Fold()
			require.NoError(t, err)
			require.Len(t, b.Holes, 1)
			bulk, err := solid.Bulk([]fold.Hole{{Panel: b.Holes[0].Panel, Circle: fold.Circle{Center: b.Holes[0].Center, Radius: b.Holes[0].Keep}}})
			require.NoError(t, err)
			m := newModel(b, solid, lookFrom(r3.Vec{X: -0.52, Y: -0.72, Z: 0.62}))
			open, volume := enclosed(m)
			assert.Less(t, open, 1e-6, name)
			assert.InEpsilon(t, bulk.Volume+lipVolume(lip, 1), volume, 0.006, "%s %v", name, turn)
			if name == "web" { // the face within the hole is the one the lip turns away from
				within := 0
				for _, f := range m.facets {
					p := f.loops[0][0]
					if off := r2.Sub(lip.At, r2.Vec{X: p.X, Y: p.Y}); math.Abs(f.normal.Z) < 1e-9 && r2.Norm(off) < 21.6 && f.of != cutFace {
						assert.Positive(t, f.normal.X*off.X+f.normal.Y*off.Y)
						assert.Equal(t, turn == flat.Up, f.of == farFace)
						within++
					}
				}
				assert.Equal(t, 36, within)
			}
			if name == "web" { // the edge stands 16 from the face it turns away from
				count, middle := 0.0, r3.Vec{}
				for _, f := range m.facets { // its quads go by their size
					if loop := f.loops[0]; f.of == cutFace && len(loop) == 4 && math.Abs(r3.Norm(areaOf(loop))-1*math.Pi*44/36) < 0.05 {
						middle, count = r3.Add(middle, loop[0]), count+1
					}
				}
				assert.EqualValues(t, 36, count)
				want := 15.0
				if turn == flat.Down {
					want = -16
				}
				assert.InDelta(t, want, middle.Z/count, 1e-9)
			}
		}
	}
}

// Of the channel seen from the upper left front, by hand: the web's right end runs from
// the bend of the far flange to that of the near one, and the near flange, which stands
// up, covers its near part; the sheet's thickness alone covers nothing that is drawn.
func TestFoldedView(t *testing.T) {
	f, err := fold3D(develop(t, channel()))
	require.NoError(t, err)
	v := lookFrom(r3.Vec{X: -0.52, Y: -0.72, Z: 0.62})
	const inch = measure.Inch
	farEnd, nearEnd := v.project(r3.Vec{X: 6 * inch, Y: 1.8 * inch}), v.project(r3.Vec{X: 6 * inch, Y: 0.2 * inch})
	near := func(all []outline.Path, p r2.Vec) bool {
		for _, l := range all {
			if l.Distance(p) < 0.1 {
				return true
			}
		}
		return false
	}
	assert.True(t, near(f.edges, farEnd), "the far part of the web's end is seen")
	assert.False(t, near(f.hidden, farEnd))
	assert.True(t, near(f.hidden, nearEnd), "its near part is covered")
	assert.False(t, near(f.edges, nearEnd))
	under := v.project(r3.Vec{X: 6 * inch, Y: 1.8 * inch, Z: -0.04 * inch})
	assert.False(t, near(f.edges, under) || near(f.hidden, under), "its far face is behind its own thickness, and not drawn")
	// Both faces of the far flange's upper edge, a thickness apart, and the corner
	// between them. Up turns the marking face inward: it lies at y = 2 in - T.
	top := func(x, y float64) r2.Vec { return v.project(r3.Vec{X: x, Y: y, Z: inch - 0.04*inch}) }
	assert.True(t, near(f.edges, top(3*inch, 2*inch)), "far face")
	assert.True(t, near(f.edges, top(3*inch, 1.96*inch)), "marking face")
	assert.True(t, near(f.edges, top(0, 1.98*inch)), "across the thickness")
	assert.False(t, near(f.edges, top(3*inch, 1.98*inch)), "nothing between")
	surfaces := map[surface]int{}
	for _, face := range f.faces {
		surfaces[face.of]++
	}
	for _, s := range []surface{markingFace, farFace, cutFace} {
		assert.Positive(t, surfaces[s])
	}
	g, err := fold3D(develop(t, intercostal()))
	require.NoError(t, err)
	assert.NotEmpty(t, g.hidden)
	assert.NotEmpty(t, g.bends)
}
