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

// A run-out of four depths is long enough in 2024-T3, of three in annealed sheet, of eight in 7075-T6; a
// little less is warned of, with what it is.
func TestRunOutOfAJoggle(t *testing.T) {
	for _, c := range []struct {
		alloy, temper string
		least         float64
	}{{"2024", "T3", 4}, {"2024", "O", 3}, {"7075", "O", 3}, {"7075", "T6", 8}} {
		for _, depth := range []float64{1.5, 1.51} {
			p := lowerFlange(flat.Flange{Angle: degrees(90), Height: 1 * inch, Joggles: []flat.Joggle{{At: 40, Run: 1.5 * c.least, Depth: depth}}})
			p.Sheet.Material.Alloy, p.Sheet.Material.Temper = c.alloy, c.temper
			found := about(t, p, "run-out is short")
			if depth == 1.5 {
				assert.Empty(t, found, "%+v", c)
				continue
			}
			require.Len(t, found, 1, "%+v", c)
			assert.InDelta(t, 1.5*c.least/1.51, found[0].Figure, 1e-12)
			assert.Equal(t, c.least, found[0].Limit)
		}
	}
}
