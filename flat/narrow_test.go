package flat_test

import (
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// A flange turned 151° that tapers to nothing at a corner: its free edge runs into its bend, where there is no corner
// of it for the cut beside its neighbour to start from. The bend must be cut back from the neighbour all the
// same, or the two stand in each other when they are folded.
func TestTaperedToNothingAtACorner(t *testing.T) {
	flange := func(degrees, height, end float64, turn flat.Turn) []flat.Flange {
		return []flat.Flange{{Turn: turn, Angle: measure.Angle(degrees) * measure.Degree, Height: height, HeightEnd: end}}
	}
	for _, gap := range []float64{0.2, 0.3, 0.35, 0.38, 0.5} {
		p := flat.Part{
			Name:  "taper",
			Sheet: material.Sheet{Material: material.Material{Alloy: "2024", Temper: "O"}, Thickness: 1.8696},
			Rule:  bend.Handbook{}, Radius: 4.4706, Gap: gap,
			Web: flat.Web{Edges: []flat.Edge{
				{Name: "a", Start: r2.Vec{X: 74.2977, Y: 59.4357}, Corner: flat.Corner{Width: 15.5177}, Flanges: flange(151.47, 36.8222, 28.7009, flat.Up)},
				{Name: "b", Start: r2.Vec{X: -12.0429, Y: 21.6979}, Flanges: flange(95.4, 58.8642, 0, flat.Up)},
				{Name: "c", Start: r2.Vec{X: -81.3786, Y: -50.586}, Corner: flat.Corner{Width: 12.9368}, Flanges: flange(93.94, 35.2, 0, flat.Down)},
				{Name: "d", Start: r2.Vec{X: 25.9111, Y: -79.1634}, Flanges: flange(90.25, 59.6, 61.1, flat.Up)},
			}},
		}
		b, err := flat.Develop(p)
		require.NoError(t, err)
		assert.NotContains(t, texts(b, flat.Stop), "stand in each other", "gap %g", gap)
	}
}
