package former_test

import (
	"math"
	"testing"

	"github.com/hangarflat/hangarflat/flat/former"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// dented is a round of radius 300 with a hollow of a radius at its top, 80 mm arcs between. It starts where the
// hollow does.
func dented(hollow float64) outline.Path {
	const round, blend, half = 300., 80., 40 * math.Pi / 180
	sin, cos := math.Sincos(half)
	b := r2.Vec{X: (round - blend) * sin, Y: (round - blend) * cos}
	h := r2.Vec{Y: b.Y + math.Sqrt((hollow+blend)*(hollow+blend)-b.X*b.X)}
	into := r2.Unit(r2.Sub(h, b))
	touch, out := r2.Add(b, r2.Scale(blend, into)), r2.Vec{X: round * sin, Y: round * cos}
	left := func(p r2.Vec) r2.Vec { return r2.Vec{X: -p.X, Y: p.Y} }
	// The blend turns from straight up the round, half off the vertical, to the hollow's direction.
	turned := float64(math.Pi/2) - half
	turned = math.Atan2(into.Y, into.X) - turned
	dip := 2 * math.Asin(touch.X/hollow)
	return outline.Path{Closed: true, Vertices: []outline.Vertex{
		{P: touch, Bulge: -math.Tan(dip / 4)}, {P: left(touch), Bulge: math.Tan(turned / 4)},
		{P: left(out), Bulge: math.Tan((2*math.Pi - 2*half) / 4)}, {P: out, Bulge: math.Tan(turned / 4)},
	}}
}

// In a hollow the flange's blank is narrower than its contour: rivets spaced along that keep two diameters from a
// cut-out on the blank too, where its sides are parallel. On a bulge they keep them on the contour, to which the
// formed flange shrinks.
func TestRivetsClearOfCutoutsInAHollow(t *testing.T) {
	for _, hollow := range []float64{150, 90} {
		for _, width := range []float64{4, 18, 40} {
			f := former.Former{Name: "dented", Sheet: sheet(t),
				Outer: former.Rim{Contour: dented(hollow), Flange: &former.Flange{Height: 22, Radius: 3.2,
					Bevels: []former.Bevel{{Angle: 90 * deg}}, Rivets: former.Rivets{Diameter: 3.2, Pitch: 20}}}}
			dip := f.Outer.Contour.Segment(0).Length()
			f.Cutouts = []former.Cutout{{Girth: dip / 2, Width: width, Depth: 15, Clearance: 1, Radius: 2}, {Girth: 900, Width: width, Depth: 15, Clearance: 1, Radius: 2}}
			r, err := former.Develop(f)
			require.NoError(t, err)
			nearest := []float64{math.Inf(1), math.Inf(1)}
			for _, m := range r.Pieces[0].Rivets {
				for i, c := range f.Cutouts {
					at, out := station(t, f.Outer.Contour, c.Girth)
					d := r2.Sub(m.At, at)
					along := math.Abs(r2.Cross(out, d)) // from the middle of the cut-out, square to its sides
					if r2.Dot(out, d) > 0 {
						nearest[i] = math.Min(nearest[i], along-width/2-1)
					}
				}
			}
			assert.InDelta(t, 6.4, nearest[0], 1e-6, "hollow of %v, stringer of %v", hollow, width)
			// On the round the row lies farther out than the contour, where they have 6.4 by girth.
			w := (0.01743*3.2+0.0078*1.2)*90 + (22-4.4)/2 - 4.4
			assert.InDelta(t, (300+w)*math.Sin((width/2+1+6.4)/300)-width/2-1, nearest[1], 0.01)
		}
	}
}
