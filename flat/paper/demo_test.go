package paper

import (
	"math"
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// intercostal is an invented keel-bay intercostal of the invented amphibian
// Corrie: four askew edges, open and closed bends, one flange down.
func intercostal() flat.Part {
	return flat.Part{
		Name:   "keel-bay-7",
		Title:  "Keel-bay intercostal, bay 7, port (invented)",
		Sheet:  material.Sheet{Material: material.Material{Alloy: "2024", Temper: "T3"}, Thickness: 0.040 * measure.Inch, Grain: material.Grain{Stated: true, Angle: math.Pi / 4}},
		Radius: 0.16 * measure.Inch,
		Web: flat.Web{
			Edges: []flat.Edge{
				{Name: "keel", Start: r2.Vec{}, Flanges: []flat.Flange{{Angle: 84.2 * measure.Degree, Height: 22}}},
				{Name: "aft", Start: r2.Vec{X: 230, Y: 12}, Flanges: []flat.Flange{{Angle: 96.5 * measure.Degree, Height: 19, Turn: flat.Down,
					Features: flat.Features{Holes: []flat.Hole{{Name: "A1", At: r2.Vec{X: 30, Y: 12}, Diameter: 2.4}, {Name: "A2", At: r2.Vec{X: 90, Y: 12}, Diameter: 2.4}}}}}},
				{Name: "skin", Start: r2.Vec{X: 222, Y: 132}, Flanges: []flat.Flange{{Angle: 101.3 * measure.Degree, Height: 20, HeightEnd: 24}}},
				{Name: "fwd", Start: r2.Vec{X: -6, Y: 118}, Flanges: []flat.Flange{{Angle: 88.1 * measure.Degree, Height: 19}}},
			},
			Features: flat.Features{
				Holes:      []flat.Hole{{Name: "T1", At: r2.Vec{X: 30, Y: 60}, Diameter: 6.35}, {Name: "T2", At: r2.Vec{X: 190, Y: 66}, Diameter: 6.35}},
				Lightening: []flat.LighteningHole{{Name: "L1", At: r2.Vec{X: 110, Y: 65}, Diameter: 50, Height: 8, Radius: 3}},
				Slots:      []flat.Slot{{Name: "S1", From: r2.Vec{X: 60, Y: 30}, To: r2.Vec{X: 80, Y: 30}, Width: 8}},
			},
		},
	}
}

func develop(t testing.TB, p flat.Part) flat.Blank {
	t.Helper()
	b, err := flat.Develop(p)
	require.NoError(t, err)
	return b
}
