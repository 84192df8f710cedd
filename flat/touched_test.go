package flat_test

import (
	"math"
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/survey"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// touched is the box of 200 by 100 with its fwd face x = 200 read at nine places, 50 apart
// along the web and off it; fifth is how far the one in the middle, at mid web, is off it.
func touched(t *testing.T, fifth float64) flat.Surroundings {
	by := survey.Touched{Error: 0.5}
	for _, z := range []float64{-50, 0, 50} {
		for _, y := range []float64{0, 50, 100} {
			by.Points = append(by.Points, r3.Vec{X: 200, Y: y, Z: z})
		}
	}
	by.Points[4].X += fifth
	plane, err := by.Plane()
	require.NoError(t, err)
	return boxed(flat.Face{Name: "fwd", Plane: plane, Measured: by}, flat.Face{Name: "aft", Plane: survey.Plane{Normal: r3.Vec{X: -1}}})
}

// By hand, with nine readings a = 50 apart: one wrong by e moves the mold line at (y, z) = (50 + p, 0) by
// e·(1/9 + p·yi/(6·a²)), yi from mid web, so one at y = 0 moves the corner there by e·(1/9 + 1/6) = 5/18·e. It
// turns the bend by zi·e/(6·a²). All together move a corner by the root of their squares, e·√(5/18), where
// two of three readings do e each.
func TestDoubtsOfManyReadings(t *testing.T) {
	const e = 0.5
	list, total, err := flat.Doubts(stock(), touched(t, 0))
	require.NoError(t, err)
	require.Len(t, list, 9)
	by := map[string]flat.Doubt{}
	for _, d := range list {
		by[d.Reading] = d
	}
	for point, want := range map[string][2]float64{"point 4": {5.0 / 18, 0}, "point 1": {5.0 / 18, 1}, "point 5": {1.0 / 9, 0}, "point 8": {1.0 / 9, 1}} {
		assert.InDelta(t, want[0]*e, by[`face "fwd", `+point].Shift, 1e-3, point)
		assert.InDelta(t, want[1]*50*e/(6*50*50), by[`face "fwd", `+point].Turn.Radians(), 1e-5, point)
	}
	assert.InDelta(t, e*math.Sqrt(5.0/18), total.Shift, 1e-3)
	// Six readings turn the bend: √6·50·e/(6·50²).
	assert.InDelta(t, math.Sqrt(6)*50*e/(6*50*50), total.Turn.Radians(), 1e-5)
}

// A reading far off the others does not bend the fit, and is told; one off by more than the
// error stated and too little to be set aside is told too, and both in the working.
func TestReadingsOffTheirPlane(t *testing.T) {
	for fifth, want := range map[float64]struct {
		text          string
		figure, limit float64
		quantity      string
		residual      float64
	}{
		0: {quantity: `plane of face "fwd", by least squares through 9 of 9 points: the farthest of them from it`},
		// The plane gives way by a ninth.
		0.9: {"point 5 lies off the plane laid through the points", 0.8, 0.5, `plane of face "fwd", by least squares through 9 of 9 points: the farthest of them from it`, 0.8},
		// With eight others in the plane x = 200.
		-6: {"point 5 is set aside", 6, 0.5, `plane of face "fwd", by least squares through 8 of 9 points: the farthest of them from it`, -6},
	} {
		s := touched(t, fifth)
		p, err := flat.Between(stock(), s)
		require.NoError(t, err)
		b, err := flat.Develop(p)
		require.NoError(t, err)
		assert.Less(t, b.Proof.Largest(), 1e-6)
		var told []flat.Finding
		for _, f := range b.Findings {
			if f.Place == `face "fwd"` {
				told = append(told, f)
			}
		}
		if want.text == "" {
			assert.Empty(t, told)
		} else {
			require.Len(t, told, 1)
			assert.Equal(t, flat.Warn, told[0].Severity)
			assert.Contains(t, told[0].Text, want.text)
			assert.InDelta(t, want.figure, told[0].Figure, 1e-9)
			assert.InDelta(t, want.limit, told[0].Limit, 1e-12)
		}
		fits := p.Site.Fits()
		require.Len(t, fits, 1)
		assert.InDelta(t, want.residual, fits[0].Residuals[4], 1e-9, "away from the web")
		assert.InDelta(t, 1, fits[0].Normal.X, 1e-9, "away from the web")
		step := b.Working()[0]
		assert.Equal(t, want.quantity, step.Quantity)
		_, off := fits[0].Farthest()
		assert.Equal(t, off, step.Value)
		if fifth == -6 {
			assert.InDelta(t, 200, p.Web.Edges[1].Start.X, 1e-9)
		}
	}
}

// The web may be touched at more than three places, and its plane must be what they lay.
func TestWebOfManyReadings(t *testing.T) {
	s := touched(t, 0)
	web := survey.Touched{Error: 0.5, Points: []r3.Vec{{Z: 0.2}, {X: 200, Z: -0.2}, {X: 200, Y: 100, Z: 0.2}, {Y: 100, Z: -0.2}}}
	plane, err := web.Plane()
	require.NoError(t, err)
	s.Web, s.WebMeasured = plane, web
	p, err := flat.Between(stock(), s)
	require.NoError(t, err)
	fits := p.Site.Fits()
	require.Len(t, fits, 2)
	assert.Equal(t, "web", fits[0].Place)
	// The marking face looks to z.
	assert.InDelta(t, 0.2, fits[0].Residuals[0], 1e-9)

	s.Web.Point.Z = 1
	_, err = flat.Between(stock(), s)
	var fault *flat.Error
	require.ErrorAs(t, err, &fault)
	assert.Equal(t, "surroundings.web.measured", fault.Path)
}

// The normal of a fit points away from the web also where the plane was laid the other way: here that of the first face in the
// list, x = 0, with the web on its +x side. Four readings by turns .05 in and out lay it there, and lie so far off it. Where no
// error is stated, none is exceeded.
func TestFitsLookAwayFromTheWeb(t *testing.T) {
	by := survey.Touched{Points: []r3.Vec{{X: -.05, Z: -50}, {X: .05, Y: 100, Z: -50}, {X: -.05, Y: 100, Z: 50}, {X: .05, Z: 50}}}
	plane, err := by.Plane()
	require.NoError(t, err)
	s := boxed(flat.Face{Name: "fwd", Plane: survey.Plane{Point: r3.Vec{X: 200}, Normal: r3.Vec{X: 1}}}, flat.Face{Name: "aft", Plane: plane, Measured: by})
	s.Faces = append(s.Faces[3:], s.Faces[:3]...)
	p, err := flat.Between(stock(), s)
	require.NoError(t, err)
	fits := p.Site.Fits()
	require.Len(t, fits, 1)
	assert.InDelta(t, -1, fits[0].Normal.X, 1e-9)
	assert.InDelta(t, .05, fits[0].Residuals[0], 1e-9)
	assert.InDelta(t, -.05, fits[0].Residuals[1], 1e-9)
	assert.Empty(t, about(t, p, "stated error"))
}
