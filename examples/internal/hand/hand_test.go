package hand

import (
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/spatial/r2"
)

// A part without a title is told by its name; the part given stays as it was, its corner at x = 60 mm
// where that of the other hand comes to lie at -60.
func TestHands(t *testing.T) {
	p := flat.Part{Name: "clip", Web: flat.Web{Edges: []flat.Edge{{}, {Start: r2.Vec{X: 60}}, {Start: r2.Vec{Y: 40}}}}}
	assert.Equal(t, []flat.Part{p}, Hands(p, false))
	both := Hands(p, true)
	assert.Len(t, both, 2)
	assert.Equal(t, p, both[0])
	assert.Equal(t, "clip-other-hand", both[1].Name)
	assert.Equal(t, "OTHER HAND of clip", both[1].Title)
	least := 0.0
	for _, e := range both[1].Web.Edges {
		least = min(least, e.Start.X)
	}
	assert.InDelta(t, -60, least, 1e-12)
}
