package outline

import (
	"math"
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

// At vertices where the sides are tangent but for the digits of a drawing no arc is put that nobody
// can cut: what the corner opens is below the accuracy of placing and is bridged.
func TestOffsetPutsNoSpeckArcs(t *testing.T) {
	for _, turn := range []float64{1e-12, 1e-10, 1e-9, 1e-8, 1e-7, 1e-6} {
		for _, d := range []float64{-5, 5} {
			c, s := math.Cos(turn), math.Sin(turn)
			p := Polygon(pt(0, 0), pt(100, 0), pt(100+100*c, 100*s), pt(200, 80), pt(100, 80), pt(0, 80))
			got, err := p.Offset(d, OffsetOptions{})
			require.NoError(t, err)
			for _, seg := range got[0].Segments() {
				assert.Greater(t, seg.Length(), 1e-3, "turn %g by %g: %v", turn, d, seg)
			}
		}
	}
}

// The same where arcs take part: a row of arcs tangent but for the digits of a drawing keeps one
// arc for each, moved, and its area, to the accuracy promised.
func TestOffsetBridgesArcs(t *testing.T) {
	for _, digits := range []float64{1e-4, 1e-5, 1e-6, 1e-7, 1e-8} {
		for _, d := range []float64{-5, 5} {
			p := corpus()["slot"][0]
			for i := range p.Vertices {
				b := &p.Vertices[i].Bulge
				*b = math.Round(*b/digits*0.7) * digits / 0.7 // rounded on a scale that 1 is not on
			}
			got, err := p.Offset(d, OffsetOptions{})
			require.NoError(t, err)
			require.Len(t, got, 1)
			for _, seg := range got[0].Segments() {
				if digits <= 1e-5 {
					assert.Greater(t, seg.Length(), 1e-3, "%g by %g: %v", digits, d, seg)
				}
			}
			require.InDelta(t, p.Area()+d*p.Length()+math.Pi*d*d, got[0].Area(), 40*digits, "%g by %g", digits, d)
		}
	}
}
