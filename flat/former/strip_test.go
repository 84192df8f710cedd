package former_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat/former"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// sharp is a section whose bend takes up almost nothing, so that the textbook formulas of
// a flange without a bend radius hold to a part in a million.
func sharp(t *testing.T, a measure.Angle, height float64) former.Section {
	s, err := former.SectionOf(bend.NeutralAxis{K: 0.5}, bend.Bend{Angle: a, Radius: 0, Thickness: 0.1}, height)
	require.NoError(t, err)
	return s
}

// Closed forms for a flange of width W turned through A at a contour of radius R,
// derived from the circles the edge lies on before and after: stretch W(1 - cos A)/(R -
// W), shrink W(1 - cos A)/(R + W). R 5, W 0.5 at 90°: +11.11 % and -9.09 %.
func TestEdgeStrainClosedForms(t *testing.T) {
	for _, a := range []measure.Angle{30, 60, 85, 90, 95, 120} {
		a *= deg
		s := sharp(t, a, 500)
		for _, radius := range []float64{700, 1000, 5000, 1e6} {
			w := s.Width
			reach := s.Reach
			assert.InDelta(t, (radius-reach)/(radius-w)-1, s.EdgeStrain(w, -1/radius), 1e-12)
			assert.InDelta(t, (radius+reach)/(radius+w)-1, s.EdgeStrain(w, 1/radius), 1e-12)
			assert.InDelta(t, w*(1-math.Cos(float64(a)))/(radius-w), s.EdgeStrain(w, -1/radius), 2e-3)
			assert.InDelta(t, -w*(1-math.Cos(float64(a)))/(radius+w), s.EdgeStrain(w, 1/radius), 1e-3)
		}
	}
	s := sharp(t, 90*deg, 500)
	assert.InDelta(t, +0.1111, s.EdgeStrain(s.Width, -1/5000.), 1e-4)
	assert.InDelta(t, -0.0909, s.EdgeStrain(s.Width, +1/5000.), 1e-4)
	assert.Zero(t, s.EdgeStrain(s.Width, 0))
}

// Equal area at a sharp 90°: stretch Rb = √(R² - 2Rh), shrink Rb = √(R² + 2Rh), edge
// strain R/Rb - 1.
func TestEqualAreaClosedForms(t *testing.T) {
	s := sharp(t, 90*deg, 500)
	h := s.Width
	for _, radius := range []float64{2000, 5000, 1e5} {
		out := math.Sqrt(radius*radius + 2*radius*h)
		in := math.Sqrt(radius*radius - 2*radius*h)
		// The 0.1 mm sheet's own bend shifts the areas by less than a hundredth of a
		// millimetre of width.
		w := s.DevelopedWidth(former.EqualArea, 1/radius)
		assert.InDelta(t, out-radius, w, 0.03)
		assert.InDelta(t, radius/out-1, s.EdgeStrain(w, 1/radius), 1e-4)
		w = s.DevelopedWidth(former.EqualArea, -1/radius)
		assert.InDelta(t, radius-in, w, 0.03)
		assert.InDelta(t, radius/in-1, s.EdgeStrain(w, -1/radius), 1e-4)
	}
	assert.Equal(t, s.Width, s.DevelopedWidth(former.EqualArea, 0))
	assert.Equal(t, s.Width, s.DevelopedWidth(former.EqualArc, 0.001))
	// Round a hole of 600 mm radius 500 mm of height has more area than the disc
	// inside: no blank.
	assert.True(t, math.IsNaN(s.DevelopedWidth(former.EqualArea, -1/600.)))
	assert.True(t, math.IsNaN(s.DevelopedWidth(former.EqualArc, -1/499.)))
}

// An independent look at the formed flange: its neutral surface meshed in space, areas
// and lengths measured on the mesh by triangles. The blank of equal area has that area;
// the blank of equal arc has that meridian, and the edges' lengths give the strain.
func TestAgainstFormedSurface(t *testing.T) {
	for _, a := range []measure.Angle{25, 60, 90, 97, 120} {
		for _, k := range []float64{1 / 80., 1 / 300., -1 / 120., -1 / 900.} {
			t.Run(fmt.Sprintf("%v/%.0f", a, 1/k), func(t *testing.T) {
				b := bend.Bend{Angle: a * deg, Radius: 4, Thickness: 1.2}
				rule := bend.NeutralAxis{K: 0.42}
				s, err := former.SectionOf(rule, b, 25)
				require.NoError(t, err)
				area, meridian, edge, foot := formed(b, rule.K, 25-s.Setback, 1/k)
				radius := math.Abs(1 / k)

				assert.InDelta(t, meridian, s.DevelopedWidth(former.EqualArc, k), 1e-4)
				blank := foot * (1 + k*s.Width)
				assert.InDelta(t, edge/blank-1, s.EdgeStrain(s.Width, k), 1e-6)

				w := s.DevelopedWidth(former.EqualArea, k)
				flat := math.Abs(math.Pow(radius+math.Copysign(w, k), 2)-radius*radius) / 2 * (foot / radius)
				assert.InEpsilon(t, area, flat, 1e-6)
				assert.InDelta(t, edge/(foot*(1+k*w))-1, s.EdgeStrain(w, k), 1e-6)
			})
		}
	}
}

// formed meshes a twentieth of a turn of the flange at a tangent line of the given radius, below
// zero for a hollow contour, and measures it.
func formed(b bend.Bend, k, flat, radius float64) (area, meridian, edge, foot float64) {
	const along, round, out = 400, 200, 200
	// The section by small steps of direction, not by its closed form.
	type point struct{ x, z float64 }
	rho := b.Radius + k*b.Thickness
	section := []point{{}}
	at := point{}
	for i := range round {
		dir := float64(b.Angle) * (float64(i) + 0.5) / round
		step := rho * float64(b.Angle) / round
		at = point{at.x + step*math.Cos(dir), at.z + step*math.Sin(dir)}
		section = append(section, at)
	}
	for range out {
		at = point{at.x + flat/out*math.Cos(float64(b.Angle)), at.z + flat/out*math.Sin(float64(b.Angle))}
		section = append(section, at)
	}
	sweep := 2 * math.Pi / 20
	place := func(p point, j int) r3.Vec {
		phi := sweep * float64(j) / along
		r := math.Abs(radius + p.x) // a hollow contour has its radius, and so its flange, below zero
		return r3.Vec{X: r * math.Cos(phi), Y: r * math.Sin(phi), Z: p.z}
	}
	triangle := func(p, q, r r3.Vec) float64 { return r3.Norm(r3.Cross(r3.Sub(q, p), r3.Sub(r, p))) / 2 }
	for i := 0; i+1 < len(section); i++ {
		meridian += r3.Norm(r3.Sub(place(section[i+1], 0), place(section[i], 0)))
		p, q, r, s := place(section[i], 0), place(section[i+1], 0), place(section[i+1], 1), place(section[i], 1)
		area += along * (triangle(p, q, r) + triangle(p, r, s))
	}
	last := section[len(section)-1]
	for j := range along {
		edge += r3.Norm(r3.Sub(place(last, j+1), place(last, j)))
		foot += r3.Norm(r3.Sub(place(point{}, j+1), place(point{}, j)))
	}
	return area, meridian, edge, foot
}

func sheet(t testing.TB) material.Sheet {
	return material.Sheet{Material: lookup(t, "2024-O"), Thickness: 1.2}
}

func lay(t testing.TB, r former.Rim) former.Strip {
	s, err := r.Lay(sheet(t), nil)
	require.NoError(t, err)
	return s
}

// On lines and arcs with a constant bevel every line of the blank is lines and arcs about the
// same centres, at the radii that a drawing board would give.
func TestExactArcs(t *testing.T) {
	for _, hole := range []bool{false, true} {
		c := hull(300, 260, 520)
		side := 1.0
		if hole {
			c, side = c.Reverse(), -1
		}
		s := lay(t, former.Rim{Contour: c, Flange: &former.Flange{Height: 20, Radius: 3.2, Bevels: []former.Bevel{{Angle: 80 * deg}}}})
		// Handbook allowance (0.01743R + 0.0078T)A°, setback (R+T)tan(A/2), by hand.
		sb := 4.4 * math.Tan(40*math.Pi/180)
		ba := (0.01743*3.2 + 0.0078*1.2) * 80
		for _, line := range []struct {
			p  outline.Path
			by float64
		}{{s.Near, -sb}, {s.Far, ba - sb}, {s.Edge, ba + 20 - 2*sb}} {
			require.Equal(t, c.NumSegments(), line.p.NumSegments())
			for i, g := range line.p.Segments() {
				from := c.Segment(i)
				if from.IsLine() {
					assert.True(t, g.IsLine())
					assert.InDelta(t, from.Length(), g.Length(), 1e-9)
					continue
				}
				assert.InDelta(t, from.Radius()+side*line.by, g.Radius(), 1e-9)
				assert.InDelta(t, 0, r2.Norm(r2.Sub(from.Center(), g.Center())), 1e-8)
			}
		}
	}
}

// wave is an open contour that changes sign: an arc to the left, a straight, an arc to the right.
func wave() outline.Path {
	q := math.Tan(math.Pi / 12) // sixty degrees
	a := r2.Vec{X: 200 * math.Sin(math.Pi/3), Y: 200 * (1 - math.Cos(math.Pi/3))}
	dir := r2.Vec{X: math.Cos(math.Pi / 3), Y: math.Sin(math.Pi / 3)}
	b := r2.Add(a, r2.Scale(150, dir))
	// The second arc, of radius 120, has its centre on the right of the travel.
	centre := r2.Add(b, r2.Scale(120, r2.Vec{X: dir.Y, Y: -dir.X}))
	c := r2.Add(centre, r2.Vec{Y: 120})
	return outline.Path{Vertices: []outline.Vertex{{Bulge: q}, {P: a}, {P: b, Bulge: -q}, {P: c}}}
}

// A bevel that changes along a contour that changes sign: at any girth the lines of the
// blank lie square to the contour at the distances of the section there.
func TestVaryingBevel(t *testing.T) {
	bevels := []former.Bevel{{At: 0, Angle: 70 * deg}, {At: 250, Angle: 98 * deg}, {At: 450, Angle: 85 * deg}}
	at := func(s float64) measure.Angle {
		for i := 1; i < len(bevels); i++ {
			if a, b := bevels[i-1], bevels[i]; s <= b.At {
				return a.Angle + measure.Angle((s-a.At)/(b.At-a.At))*(b.Angle-a.Angle)
			}
		}
		return bevels[2].Angle
	}
	c := wave()
	for _, model := range []former.Model{former.EqualArc, former.EqualArea} {
		s := lay(t, former.Rim{Contour: c, Flange: &former.Flange{Height: 18, Radius: 3, Bevels: bevels, Model: model, Trim: 2}})
		stretch, shrink, ok := s.Worst()
		require.True(t, ok)
		if model == former.EqualArc {
			// The edge leaves its start in the direction that its points a hair farther on say.
			edge := func(girth float64) r2.Vec {
				p, out := station(t, c, girth)
				section, err := former.SectionOf(nil, bend.Bend{Angle: at(girth), Radius: 3, Thickness: 1.2}, 20)
				require.NoError(t, err)
				return r2.Add(p, r2.Scale(section.Width-section.Setback, out))
			}
			want := r2.Unit(r2.Sub(edge(1e-3), edge(0)))
			assert.InDelta(t, 0, r2.Cross(want, s.Edge.Segment(0).Tangent(0)), 1e-4)
		}
		assert.Positive(t, stretch.Value(), "hollow: stretches")
		assert.Negative(t, shrink.Value(), "bulging: shrinks")
		for girth := 1.0; girth < c.Length(); girth += 3.7 {
			p, out := station(t, c, girth)
			section, err := former.SectionOf(nil, bend.Bend{Angle: at(girth), Radius: 3, Thickness: 1.2}, 20)
			require.NoError(t, err)
			assert.InDelta(t, -section.Setback, distanceAlong(t, p, out, s.Near), 0.006, "girth %v", girth)
			want := s.StrainAt(girth)
			w := want.ByArc.Width
			if model == former.EqualArea {
				w = want.ByArea.Width
			} else {
				assert.InDelta(t, section.Width, w, 1e-9)
			}
			assert.InDelta(t, w-section.Setback, distanceAlong(t, p, out, s.Edge), 0.006, "girth %v", girth)
			less, err := former.SectionOf(nil, section.Bend, 18)
			require.NoError(t, err)
			if model == former.EqualArc {
				assert.InDelta(t, less.Width-less.Setback, distanceAlong(t, p, out, s.Finished), 0.006)
			}
		}
	}
}

// distanceAlong is where a line square to the contour meets a path, nearest to the contour.
func distanceAlong(t *testing.T, p, out r2.Vec, path outline.Path) float64 {
	ray := outline.Polyline(r2.Sub(p, r2.Scale(60, out)), r2.Add(p, r2.Scale(60, out)))
	best := math.Inf(1)
	for _, c := range ray.Crossings(path, 0) {
		if d := r2.Dot(r2.Sub(c.P, p), out); math.Abs(d) < math.Abs(best) {
			best = d
		}
	}
	require.False(t, math.IsInf(best, 1))
	return best
}

// By equal area the blank of a whole hull has the area of the formed flange: the narrow
// stretches where curvature is evened out take from one side of a joint what they give
// to the other.
func TestEqualAreaOfWholeRing(t *testing.T) {
	c := hull(300, 260, 520)
	s := lay(t, former.Rim{Contour: c, Flange: &former.Flange{Height: 20, Radius: 3.2, Bevels: []former.Bevel{{Angle: 90 * deg}}, Model: former.EqualArea}})
	sb := 4.4
	area := 0.0
	for _, g := range c.Segments() {
		if g.IsLine() {
			section, err := former.SectionOf(nil, bend.Bend{Angle: 90 * deg, Radius: 3.2, Thickness: 1.2}, 20)
			require.NoError(t, err)
			area += section.Width * g.Length()
			continue
		}
		// K of the handbook's law, then the flange meshed.
		ba := (0.01743*3.2 + 0.0078*1.2) * 90
		k := (ba/(math.Pi/2) - 3.2) / 1.2
		piece, _, _, foot := formed(bend.Bend{Angle: 90 * deg, Radius: 3.2, Thickness: 1.2}, k, 20-sb, g.Radius()-sb)
		area += piece / foot * g.Length() * (g.Radius() - sb) / g.Radius()
	}
	got := s.Edge.Area() - s.Near.Area()
	assert.InEpsilon(t, area, got, 2e-5)
	arc := lay(t, former.Rim{Contour: c, Flange: &former.Flange{Height: 20, Radius: 3.2, Bevels: []former.Bevel{{Angle: 90 * deg}}}})
	assert.Greater(t, arc.Edge.Area()-arc.Near.Area(), area*1.01, "equal arc has more, and the check can tell")
}

// What cannot be laid out is refused with the place and the figure.
func TestTooTight(t *testing.T) {
	flange := &former.Flange{Height: 30, Radius: 3, Bevels: []former.Bevel{{Angle: 90 * deg}}}
	_, err := former.Rim{Contour: outline.Circle(r2.Vec{}, 25).Reverse(), Flange: flange}.Lay(sheet(t), nil)
	var bad *former.Error
	require.ErrorAs(t, err, &bad)
	assert.Contains(t, bad.Rule, "hollow with a radius of 25 mm")
	_, err = former.Rim{Contour: outline.Circle(r2.Vec{}, 4), Flange: flange}.Lay(sheet(t), nil)
	require.ErrorAs(t, err, &bad)
	assert.Contains(t, bad.Rule, "no tangent line")
	_, err = former.Rim{Contour: outline.Rect(r2.Vec{}, r2.Vec{X: 100, Y: 50}), Flange: flange}.Lay(sheet(t), nil)
	require.ErrorAs(t, err, &bad)
	assert.Contains(t, bad.Rule, "round a corner")
	// A keyhole: its neck is 30 mm wide and every curve 40 mm in radius. Each place
	// holds a flange of 22 mm, both sides of the neck together do not.
	alpha := math.Acos(55. / 80)
	turn := func(c r2.Vec, sx, sy float64) r2.Vec {
		return r2.Add(c, r2.Vec{X: sx * 40 * math.Cos(alpha), Y: sy * 40 * math.Sin(alpha)})
	}
	side := math.Tan(alpha / 4)
	key := outline.Path{Vertices: []outline.Vertex{
		{P: r2.Vec{Y: 100}}, {Bulge: side}, {P: turn(r2.Vec{X: 40}, -1, -1), Bulge: -math.Tan((math.Pi + 2*alpha) / 4)},
		{P: turn(r2.Vec{X: -70}, 1, -1), Bulge: side}, {P: r2.Vec{X: -30}}, {P: r2.Vec{X: -30, Y: 100}},
	}}
	flange.Height = 22
	_, err = former.Rim{Contour: key, Flange: flange}.Lay(sheet(t), nil)
	require.ErrorAs(t, err, &bad)
	assert.Contains(t, bad.Rule, "runs over itself")
	flange.Height = 14
	_, err = former.Rim{Contour: key, Flange: flange}.Lay(sheet(t), nil)
	require.NoError(t, err)
}

// A drawing's coordinates are rounded. Offset, such a contour leaves crumbs of tight
// arcs at its vertices: they are laid out and not judged.
func TestCrumbs(t *testing.T) {
	c := hull(300, 260, 520)
	for i := range c.Vertices {
		c.Vertices[i].P = r2.Vec{X: math.Round(c.Vertices[i].P.X*100) / 100, Y: math.Round(c.Vertices[i].P.Y*100) / 100}
	}
	inner, err := c.Offset(-15, outline.OffsetOptions{})
	require.NoError(t, err)
	crumbs := 0
	for _, s := range inner[0].Segments() {
		if s.Length() < 0.01 {
			crumbs++
		}
	}
	require.Positive(t, crumbs, "the case is what it is meant to be")
	s := lay(t, former.Rim{Contour: inner[0].Reverse(), Flange: &former.Flange{Height: 25, Radius: 3, Bevels: []former.Bevel{{Angle: 90 * deg}}}})
	stretch, shrink, ok := s.Worst()
	require.True(t, ok)
	assert.GreaterOrEqual(t, shrink.Value(), -1e-9, "the opening only stretches")
	assert.InDelta(t, 245, -1/stretch.Curvature, 0.1)
	// As an outer edge the crumbs are hollow, and far too tight for the flange if they
	// were anything.
	s = lay(t, former.Rim{Contour: inner[0], Flange: &former.Flange{Height: 25, Radius: 3, Bevels: []former.Bevel{{Angle: 90 * deg}}}})
	_, shrink, _ = s.Worst()
	assert.InDelta(t, 245, 1/shrink.Curvature, 0.1)
	for girth := 1.0; girth < 2000; girth += 9.3 {
		p, out := station(t, inner[0], girth)
		assert.InDelta(t, (0.01743*3+0.0078*1.2)*90+25-8.4, distanceAlong(t, p, out, s.Edge), 1e-3)
	}
}

// A lofted line reaches a former as arcs fitted to it. Its blank keeps the same
// distance from them everywhere, and the strain follows the curvature of the ellipse
// the points were taken from.
func TestLoftedContour(t *testing.T) {
	const a, b = 400.0, 260.0
	var pts []r2.Vec
	for i := range 400 {
		phi := 2 * math.Pi * float64(i) / 400
		pts = append(pts, r2.Vec{X: a * math.Cos(phi), Y: b * math.Sin(phi)})
	}
	c, err := outline.FitRing(pts, 0.02)
	require.NoError(t, err)
	s := lay(t, former.Rim{Contour: c, Flange: &former.Flange{Height: 20, Radius: 3.2, Bevels: []former.Bevel{{Angle: 90 * deg}}}})
	want := (0.01743*3.2+0.0078*1.2)*90 + 20 - 8.8
	for girth := 1.0; girth < c.Length(); girth += 13 {
		p, out := station(t, c, girth)
		assert.InDelta(t, want, distanceAlong(t, p, out, s.Edge), 1e-4)
	}
	_, shrink, _ := s.Worst()
	section := s.Strains[0].Section
	// The ellipse is bent most at the ends of its long axis: radius b²/a, 169 mm. Arcs
	// may be a tenth tighter.
	k := 1 / (b*b/a - 4.4)
	assert.InEpsilon(t, section.EdgeStrain(section.Width, k), shrink.Value(), 0.1)
	area := lay(t, former.Rim{Contour: c, Flange: &former.Flange{Height: 20, Radius: 3.2, Bevels: []former.Bevel{{Angle: 90 * deg}}, Model: former.EqualArea}})
	assert.Less(t, area.Edge.Area(), s.Edge.Area())
	require.NoError(t, area.Edge.Validate())
}
