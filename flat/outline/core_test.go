package outline

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

func TestCoreQuick(t *testing.T) {
	c := Circle(r2.Vec{X: 3, Y: 4}, 5)
	require.NoError(t, c.Validate())
	assert.InDelta(t, 25*math.Pi, c.Area(), 1e-12)
	assert.InDelta(t, 10*math.Pi, c.Length(), 1e-12)
	assert.Equal(t, Inside, c.Side(r2.Vec{X: 3, Y: 4}))
	assert.Equal(t, Outside, c.Side(r2.Vec{X: 9, Y: 4}))
	assert.Equal(t, OnEdge, c.Side(r2.Vec{X: 8, Y: 4}))
	m := c.Moments()
	assert.InDelta(t, math.Pi*625/4, m.XX, 1e-9)
	assert.InDelta(t, 3, m.Centroid.X, 1e-12)
	assert.InDelta(t, 5, c.Distance(r2.Vec{X: 3, Y: 4}), 1e-12)
	b := c.Bounds()
	assert.InDelta(t, -1, b.Min.Y, 1e-12)
	assert.InDelta(t, 9, b.Max.Y, 1e-12)
	x := c.Crossings(Circle(r2.Vec{X: 9, Y: 4}, 5), 0)
	assert.Len(t, x, 2)
	r := Rect(r2.Vec{}, r2.Vec{X: 10, Y: 5})
	require.NoError(t, r.Validate())
	assert.Error(t, Polygon(r2.Vec{}, r2.Vec{X: 1, Y: 1}, r2.Vec{X: 1}, r2.Vec{Y: 1}).Validate())
	assert.InDelta(t, -50, r.Reverse().Area(), 1e-12)
	assert.InDelta(t, -25*math.Pi, c.Reverse().Area(), 1e-12)
}
