package flat_test

import (
	"math"
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// The least relief hole is 1/8 in to 0.064 in thick and 3/16 in from 0.072 in to 0.128 in
// (FAA-H-8083-31 ch. 4); twice the bend radius where that is more.
func TestReliefHoleByTheHandbook(t *testing.T) {
	leg := &flat.Flange{Angle: 90 * measure.Degree, Height: 1 * inch}
	for _, c := range []struct{ thickness, radius, diameter float64 }{
		{.016, .06, 1. / 8}, {.040, .0625, 1. / 8}, {.064, .06, 1. / 8},
		{.072, .06, 3. / 16}, {.125, .09, 3. / 16}, {.128, .09, 3. / 16},
		{.040, .16, .32}, {.072, .19, .38},
	} {
		p := plate(6, 4, c.thickness, c.radius, [4]*flat.Flange{leg, leg})
		b, err := flat.Develop(p)
		require.NoError(t, err)
		require.Len(t, b.Reliefs, 1)
		assert.InDelta(t, c.diameter*inch, b.Reliefs[0].Diameter, 1e-12, "%v", c)
		// Its rim goes round the far side of its centre, R + T inside both edges.
		r, sb := c.diameter/2/math.Sqrt2, c.radius+c.thickness
		assert.InDelta(t, 0, b.Outline.Distance(r2.Vec{X: (6 - sb - r) * inch, Y: (sb + r) * inch}), 1e-9, "%v", c)
		p.Relief.Diameter = .4 * inch
		b, err = flat.Develop(p)
		require.NoError(t, err)
		assert.InDelta(t, .4*inch, b.Reliefs[0].Diameter, 1e-12, "as given")
	}
}

// Where a flange ends within a straight edge the slot is cut out of the plain piece beside it, so
// that the flange keeps its length: as wide as the relief hole, 2R = .32 in, straight down to the
// tangent line, R + T = .20 in inside the edge, and round from there with R.
func TestSlotBesideAFlangeKeepsTheFlange(t *testing.T) {
	p := plate(6, 4, .040, .16, [4]*flat.Flange{{Angle: 90 * measure.Degree, Height: 1 * inch, From: 1 * inch, To: 4 * inch}})
	b, err := flat.Develop(p)
	require.NoError(t, err)
	for _, q := range []r2.Vec{
		{X: .68, Y: 0}, {X: .68, Y: .1}, {X: .68, Y: .2}, {X: .84, Y: .36}, {X: 1, Y: .2}, {X: 1, Y: -.3},
		{X: 4, Y: -.3}, {X: 4, Y: .2}, {X: 4.16, Y: .36}, {X: 4.32, Y: .2}, {X: 4.32, Y: .1}, {X: 4.32, Y: 0},
	} {
		assert.InDelta(t, 0, b.Outline.Distance(r2.Scale(inch, q)), 1e-9, "the cut passes (%g, %g) in", q.X, q.Y)
	}
	p.Web.Edges[0].Flanges[0].From = .3 * inch
	_, err = flat.Develop(p)
	assert.ErrorContains(t, err, "the plain piece beside the flange is 7.62 mm long: the slot that parts them takes 8.128 mm")
	// A piece just as long as the slot is wide would be gone with it.
	p.Web.Edges[0].Flanges[0].From = .32 * inch
	_, err = flat.Develop(p)
	assert.ErrorContains(t, err, "the plain piece beside the flange is 8.128 mm long: the slot that parts them takes 8.128 mm")
	p.Web.Edges[0].Flanges[0].From = .33 * inch
	b, err = flat.Develop(p)
	require.NoError(t, err)
	require.NoError(t, b.Outline.Validate())
}

// At a corner that the plain side leaves at a slight turn the slot is cut out of the flange, so that
// the plain side keeps its length.
func TestSlotAtACornerKeepsThePlainSide(t *testing.T) {
	p := besidePlain(30 * measure.Degree)
	passes := func(p flat.Part, points ...r2.Vec) {
		b, err := flat.Develop(p)
		require.NoError(t, err)
		for _, q := range points {
			assert.InDelta(t, 0, b.Outline.Distance(r2.Scale(inch, q)), 1e-9, "the cut passes (%g, %g) in", q.X, q.Y)
		}
		assert.Equal(t, outline.Outside, b.Outline.Side(r2.Vec{X: 5.84 * inch, Y: -.1 * inch}), "the flange ends before it")
	}
	passes(p, r2.Vec{X: 5.68, Y: -.3}, r2.Vec{X: 5.68, Y: .2}, r2.Vec{X: 5.84, Y: .36}, r2.Vec{X: 6, Y: .2}, r2.Vec{X: 6, Y: .1}, r2.Vec{X: 6})
	// The same with the plain side before the flange: its left end made slight as well.
	e := p.Web.Edges
	// The last edge comes down to a shoulder that rises 1 in over 2 in away from the flange.
	p.Web.Edges = append(e[:len(e):len(e)], flat.Edge{Name: "left shoulder", Start: r2.Vec{X: -2 * inch, Y: 1 * inch}})
	p.Web.Edges[4].Start.X = -2 * inch
	passes(p, r2.Vec{X: .32, Y: -.3}, r2.Vec{X: .32, Y: .2}, r2.Vec{X: .16, Y: .36}, r2.Vec{X: 0, Y: .2}, r2.Vec{X: 0, Y: .1}, r2.Vec{})
}

// A relief that does not fit says how large it is: 2R = .32 in beside a tangent line of
// .5 - 2·.2 = .1 in, its own edge less the setbacks of both neighbours.
func TestReliefThatDoesNotFitSaysSo(t *testing.T) {
	leg := &flat.Flange{Angle: 90 * measure.Degree, Height: 1 * inch}
	_, err := flat.Develop(plate(.5, 4, .040, .16, [4]*flat.Flange{leg, leg, nil, leg}))
	assert.ErrorContains(t, err, "its tangent line of 2.54 mm is shorter than the relief hole of 8.128 mm")
}
