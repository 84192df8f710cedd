package dxfout

import (
	"math"

	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
)

func v(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }

func vb(x, y, bulge float64) outline.Vertex { return outline.Vertex{P: v(x, y), Bulge: bulge} }

func closed(vs ...outline.Vertex) outline.Path { return outline.Path{Vertices: vs, Closed: true} }

// slotted is a 200 x 100 plate with a quarter-round corner, a relief bite, a slot
// and two holes: every kind of entity, and an area that is known by hand.
//
//	200·100 - (1-π/4)·20² (corner) - π·3²/2 (bite in the lower edge)
//	- (40·10 + π·5²) (slot) - π·(2.5² + 2.5²) (holes)
//
// The pilot of a rivet, on its own layer, is not counted in it.
func slotted() (drawing.Drawing, float64) {
	quarter := math.Tan(math.Pi / 8)
	d := drawing.Drawing{Name: "plate", Title: "Slotted plate"}
	d.Add(drawing.Cut, "plate", closed(
		vb(0, 0, 0), vb(97, 0, -1), vb(103, 0, 0), vb(200, 0, 0), vb(200, 80, quarter), vb(180, 100, 0), vb(0, 100, 0)))
	d.Add(drawing.Cut, "slot", closed(vb(80, 55, -1), vb(80, 65, 0), vb(120, 65, -1), vb(120, 55, 0)))
	d.Circles = append(d.Circles,
		drawing.Circle{Layer: drawing.Hole, Name: "a", Center: v(20, 20), Diameter: 5},
		drawing.Circle{Layer: drawing.Hole, Name: "b", Center: v(180, 20), Diameter: 5})
	d.AddLine(drawing.BendTangent, "x", v(0, 30), v(200, 30))
	d.Add(drawing.Mold, "y", outline.Path{Vertices: []outline.Vertex{vb(10, 80, 0.2), vb(60, 80, 0)}})
	d.Add(drawing.Sight, "z", outline.Path{Vertices: []outline.Vertex{vb(10, 90, -0.2), vb(60, 90, 0), vb(70, 95, 0)}})
	d.AddLine(drawing.Mark, "joggle, starts", v(150, 0), v(150, 30))
	d.Circles = append(d.Circles, drawing.Circle{Layer: drawing.Rivet, Name: "pilot", Center: v(160, 70), Diameter: 2.4})
	d.Labels = append(d.Labels, drawing.Label{Text: []string{"UP 94.6°", "R 4.06"}, At: v(100, 30)})
	d.Notes = []string{"MARKING FACE UP", "percent %%u, caret ^J, backslash \\P, Ω"}
	area := 200*100 - (1-math.Pi/4)*400 - math.Pi*9/2 - (400 + math.Pi*25) - math.Pi*(6.25+6.25)
	return d, area
}
