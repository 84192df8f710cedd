package outline

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Without a tolerance segments meet where they cross, arcs like lines.
func TestMeetWithoutTolerance(t *testing.T) {
	rnd := random(t)
	arcs := 0
	for range 3000 {
		s := Segment{pt(100*rnd.Float64(), 100*rnd.Float64()), pt(100*rnd.Float64(), 100*rnd.Float64()), 3 * (rnd.Float64() - 0.5)}
		o := Segment{pt(100*rnd.Float64(), 100*rnd.Float64()), pt(100*rnd.Float64(), 100*rnd.Float64()), 3 * (rnd.Float64() - 0.5)}
		switch rnd.IntN(3) {
		case 0:
			s.Bulge = 0
		case 1:
			o.Bulge = 0
		}
		want := s.Meet(o, 1e-7)
		got := s.Meet(o, 0)
		require.Len(t, got, len(want), "%v %v", s, o)
		for k := range got {
			require.InDelta(t, 0, dist(got[k].P, want[k].P), 1e-6)
		}
		arcs += len(got)
	}
	require.Greater(t, arcs, 500)
}

// Points in line but for the last digits are a line, not an arc of a radius of many kilometres.
func TestSimplifyKeepsLinesStraight(t *testing.T) {
	rnd := random(t)
	for range 300 {
		a, b := pt(100*rnd.Float64(), 100*rnd.Float64()), pt(1000*rnd.Float64(), 1000*rnd.Float64())
		p := Polyline(a)
		for k := 1; k < 30; k++ {
			f := float64(k) / 30
			v := Vertex{P: pt(a.X+f*(b.X-a.X), a.Y+f*(b.Y-a.Y))}
			p.Vertices[k-1].Bulge = (rnd.Float64() - 0.5) * 1e-7 // as a fit leaves it
			p.Vertices = append(p.Vertices, v)
		}
		p.Vertices = append(p.Vertices, Vertex{P: b})
		got, err := p.Simplify(1e-3)
		require.NoError(t, err)
		require.Len(t, got.Vertices, 2)
		assert.Zero(t, got.Vertices[0].Bulge)
	}
}
