package rivet

import (
	"math"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// A Roll is the single curvature of a skin: a cylinder whose straight lines all run one
// way, so that a sheet takes it without twist or stretch. The zero Roll is flat.
type Roll struct {
	// Radius of the outer face of the skin, mm. Everything is measured along that face.
	Radius float64
	// Axis is the direction of the straight lines on the sheet, counter-clockwise from x.
	Axis measure.Angle
}

// leastRolled is how many thicknesses a rolled radius has at least, so that the neutral line
// lies midway in the sheet; below, it is a bend.
const leastRolled = 25

func (r Roll) check(f *faults, thickest float64) {
	if r.Radius == 0 {
		return
	}
	f.length("rolled radius", r.Radius, leastRolled*thickest, 1e6, "must be 0 for flat, or 25 thicknesses to 1 km: sharper is a bend, not a rolled skin")
	if a := float64(r.Axis); math.IsNaN(a) || math.IsInf(a, 0) {
		f.add("roll axis", r.Axis.String(), "must be a finite angle")
	}
}

// factor is how much longer a sheet is round the curve, along its neutral line, than the
// outer face of the skin. above is where its neutral line lies outside that face, mm.
func (r Roll) factor(above float64) float64 {
	if r.Radius == 0 {
		return 1
	}
	return (r.Radius + above) / r.Radius
}

// fittedWithin is how closely arcs follow what an arc becomes when a sheet is laid flat, mm.
const fittedWithin = 0.002

// Flatten lays a line drawn on the outer face of the skin out on the flat sheet whose neutral
// line lies the given distance outside that face, mm (inside: below zero). Lengths along
// the axis stay, those across it grow with the radius. Straight lines stay straight; arcs
// become parts of ellipses and are fitted with arcs within 0.002 mm.
func (r Roll) Flatten(p outline.Path, above float64) (outline.Path, error) {
	k := r.factor(above)
	if k == 1 {
		return p, nil
	}
	out := outline.Path{Closed: p.Closed}
	for i, s := range p.Segments() {
		if s.IsLine() {
			out.Vertices = append(out.Vertices, outline.Vertex{P: r.flatten(s.A, k)})
			continue
		}
		c, radius, sweep := s.Center(), s.Radius(), float64(s.Sweep())
		a := math.Atan2(s.A.Y-c.Y, s.A.X-c.X)
		arcs, err := outline.FitCurve(func(t float64) (at, d r2.Vec) {
			sin, cos := math.Sincos(a + sweep*t)
			return r.flatten(r2.Vec{X: c.X + radius*cos, Y: c.Y + radius*sin}, k),
				r.flatten(r2.Vec{X: -radius * sweep * sin, Y: radius * sweep * cos}, k)
		}, 0, 1, fittedWithin)
		if err != nil {
			return outline.Path{}, refused("arc "+plain(i+1)+" of a rolled outline", "cannot be laid flat", err)
		}
		// The fit ends where the next segment starts.
		arcs.Vertices[0].P = r.flatten(s.A, k)
		out.Vertices = append(out.Vertices, arcs.Vertices[:len(arcs.Vertices)-1]...)
	}
	if n := len(p.Vertices); !p.Closed && n > 0 {
		out.Vertices = append(out.Vertices, outline.Vertex{P: r.flatten(p.Vertices[n-1].P, k)})
	}
	return out, nil
}

// flatten stretches a point or a direction across the axis.
func (r Roll) flatten(p r2.Vec, k float64) r2.Vec {
	sin, cos := math.Sincos(float64(r.Axis))
	across := r2.Vec{X: -sin, Y: cos}
	return r2.Add(p, r2.Scale((k-1)*r2.Dot(p, across), across))
}

// At is where a point of the outer face of the skin lies on the flat sheet.
func (r Roll) At(p r2.Vec, above float64) r2.Vec { return r.flatten(p, r.factor(above)) }

// width is the extent of a path across the axis, mm.
func (r Roll) width(p outline.Path) float64 {
	turned := p.Transform(outline.Rotate(r2.Vec{}, -r.Axis)).Bounds()
	return turned.Max.Y - turned.Min.Y
}

// step is the working of the developed width of a sheet.
func (r Roll) step(name string, width, above float64) bend.Step {
	return bend.Step{
		Quantity: "width of " + name + " across the roll, laid flat", Symbol: "Wf", Formula: "W·(R + z)/R",
		Inputs: []bend.Input{{Symbol: "W", Value: width, Unit: bend.Length}, {Symbol: "R", Value: r.Radius, Unit: bend.Length}, {Symbol: "z", Value: above, Unit: bend.Length}},
		Value:  width * r.factor(above), Unit: bend.Length,
		Source: material.Source{Document: "arc at the neutral line, midway in the sheet", Provenance: material.Derived},
	}
}
