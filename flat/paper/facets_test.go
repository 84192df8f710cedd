package paper

import (
	"math/rand/v2"
	"testing"

	"github.com/hangarflat/hangarflat/flat/outline"
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
	hides := func(p r3.Vec) bool { return s[0].hides(p, v.project(p), 0.1) }
	assert.True(t, hides(r3.Vec{X: 2, Y: 2, Z: -3}), "behind")
	assert.False(t, hides(r3.Vec{X: 2, Y: 2, Z: 3}), "before")
	assert.False(t, hides(r3.Vec{X: 2, Y: 2}), "in it")
	assert.False(t, hides(r3.Vec{X: 12, Y: 2, Z: -3}), "beside")
	assert.False(t, hides(r3.Vec{X: 5, Y: 5, Z: -3}), "through the hole")
}

// Of the intercostal's flanges the down one is partly behind the web: it shows
// hidden edges, and every face of the model is drawn.
func TestFoldedView(t *testing.T) {
	f, err := fold3D(develop(t, intercostal()))
	require.NoError(t, err)
	assert.NotEmpty(t, f.hidden)
	assert.NotEmpty(t, f.edges)
	assert.NotEmpty(t, f.bends)
	assert.GreaterOrEqual(t, len(f.faces), 5+4*8, "five panels and four bends of at least eight strips")
}
