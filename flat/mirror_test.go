package flat_test

import (
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A flange from the start of its edge to station 3 in, of 6, lies on the other hand from station 3 in to the end,
// and its bend runs from x = -3 to x = 0.
func TestOtherHandOfAPartOfAnEdge(t *testing.T) {
	p := lowerFlange(flat.Flange{Angle: degrees(90), Height: 1 * inch, To: 3 * inch})
	m := p.Mirrored()
	var f flat.Flange
	for _, e := range m.Web.Edges {
		if len(e.Flanges) > 0 {
			f = e.Flanges[0]
		}
	}
	assert.InDelta(t, 3*inch, f.From, 1e-9)
	assert.InDelta(t, 6*inch, f.To, 1e-9)
	b, err := flat.Develop(m)
	require.NoError(t, err)
	near := b.Bends[0].Near.Bounds()
	assert.InDelta(t, -3*inch, near.Min.X, 1e-9)
	assert.InDelta(t, 0, near.Max.X, 1e-9)
}
