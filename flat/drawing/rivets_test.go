package drawing

import (
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/rivet"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// rivetedStrip is a blank 200 mm long with one flange of 30 mm and a row of rivets, 6.35 mm (2 diameters of 1/8 in) from its
// ends: 187.3 mm are 10 spaces of no more than 20.
func rivetedStrip(t *testing.T, drill rivet.Drilling) flat.Blank {
	rows := rivet.FlangeRows{Rivet: rivet.Rivet{Diameter: measure.Inch / 8}, Pitch: 20, Drill: drill}
	b, err := flat.Develop(flat.Part{
		Name: "rail", Radius: 3,
		Sheet: material.Sheet{Material: material.Material{Alloy: "2024", Temper: "T3"}, Thickness: 1},
		Web: flat.Web{Edges: []flat.Edge{
			{Name: "lower", Flanges: []flat.Flange{{Name: "lower", Angle: 90 * measure.Degree, Height: 30, Rivets: []flat.Riveting{rows}}}},
			{Start: r2.Vec{X: 200}}, {Start: r2.Vec{X: 200, Y: 80}}, {Start: r2.Vec{Y: 80}},
		}},
	})
	require.NoError(t, err)
	return b
}

// Rivets that are only marked are crosses on the layer of marks, lettered once a row; of their
// places the first and the last are measured. Pilots lie on the layer of rivets.
func TestRivetRowsAreDrawn(t *testing.T) {
	b := rivetedStrip(t, rivet.MarkOnly)
	d := Of(b)
	assert.Empty(t, d.Circles)
	var crosses []r2.Vec
	for _, p := range d.Paths {
		if p.Layer == Mark {
			crosses = append(crosses, middle(p.Path))
		}
	}
	require.Len(t, crosses, 2*11)
	for i, c := range crosses {
		assert.InDelta(t, 6.35+18.73*float64(i/2), c.X, 1e-9)
	}
	lettered := 0
	for _, l := range d.Labels {
		if len(l.Text) == 2 && l.Text[0] == "lower" && l.Text[1] == "mark 11 rivets" {
			lettered++
			assert.Equal(t, b.Rows[0].Centers[0], l.At)
		}
	}
	assert.Equal(t, 1, lettered)
	at := map[r2.Vec]int{}
	for _, m := range d.Dimensions {
		if m.Kind == Station {
			at[m.To]++
		}
	}
	for k, c := range b.Rows[0].Centers {
		want := 0
		if k == 0 || k == 10 {
			want = 1
		}
		assert.Equal(t, want, at[c], "rivet %d", k+1)
	}

	d = Of(rivetedStrip(t, rivet.Pilots))
	require.Len(t, d.Circles, 11)
	for _, c := range d.Circles {
		assert.Equal(t, Rivet, c.Layer)
	}
}

// Under lettering a cross could not be seen, so that none stands on one, at any size.
func TestNoLetteringOnACross(t *testing.T) {
	d := Of(rivetedStrip(t, rivet.MarkOnly))
	for _, size := range []float64{2, 4, 6, 8} {
		laid := d.Lay(Style{Size: size, Width: func(s string) float64 { return 0.6 * float64(len(s)) }})
		require.NotEmpty(t, laid.Texts)
		for _, text := range laid.Texts {
			for _, p := range d.Paths {
				if p.Layer == Mark {
					assert.False(t, text.meets(p.Vertices[0].P, p.Vertices[1].P), "%s on %s at size %g", text.Text, p.Name, size)
				}
			}
		}
	}
}
