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

// Of two flanges on one edge the other hand has the last first, and a joggle turned round twice is the same.
func TestOtherHandOfTwoFlanges(t *testing.T) {
	p := lowerFlange(flat.Flange{})
	p.Web.Edges[0].Flanges = []flat.Flange{
		{Name: "a", Angle: degrees(90), Height: 1 * inch, To: 2 * inch},
		{Name: "b", Angle: degrees(90), Height: 1 * inch, From: 3 * inch, To: 6 * inch},
	}
	var names []string
	for _, e := range p.Mirrored().Web.Edges {
		for _, f := range e.Flanges {
			names = append(names, f.Name)
		}
	}
	assert.Equal(t, []string{"b", "a"}, names)

	for _, part := range []flat.JogglePart{flat.Beyond, flat.Before} {
		j := flat.Joggle{At: 20, Run: 10, Depth: 1, Part: part}
		assert.NotEqual(t, part, j.Reversed(100).Part)
		assert.Equal(t, j, j.Reversed(100).Reversed(100))
	}
	assert.Equal(t, "beyond", flat.Beyond.String())
	assert.Equal(t, "before", flat.Before.String())
}
