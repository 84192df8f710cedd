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
// become parts of ellipses and are fitted with arcs within 0.002 mm. It returns an [*Error] that
// names the first arc no arcs could be fitted to.
func (r Roll) Flatten(p outline.Path, above float64) (outline.Path, error) {
	return r.laying(above, 0).path(p)
}

// A laying takes places from the outer face of the skin to a flat sheet.
type laying struct {
	across  r2.Vec  // the direction that lengths change in
	stretch float64 // by how much of themselves they do
	// grown is how far a line that faces across the roll is moved outward besides, mm; one that leans is
	// by its cosine, and one that faces along the roll is not.
	grown float64
}

func (r Roll) laying(above, grown float64) laying {
	sin, cos := math.Sincos(float64(r.Axis))
	return laying{r2.Vec{X: -sin, Y: cos}, r.factor(above) - 1, grown}
}

// at lays a place or a direction.
func (l laying) at(p r2.Vec) r2.Vec {
	return r2.Add(p, r2.Scale(l.stretch*r2.Dot(p, l.across), l.across))
}

// facing lays a place of a line that faces outward in a direction there.
func (l laying) facing(p, out r2.Vec) r2.Vec {
	if l.grown == 0 {
		return l.at(p)
	}
	return r2.Add(l.at(p), r2.Scale(l.grown*r2.Dot(out, l.across), l.across))
}

// path lays a line. One that grows is a counter-clockwise outline: it faces to the right of its travel.
func (l laying) path(p outline.Path) (outline.Path, error) {
	if l.stretch == 0 && l.grown == 0 {
		return p, nil
	}
	out := outline.Path{Closed: p.Closed}
	for i, s := range p.Segments() {
		start := l.at(s.A)
		if l.grown != 0 {
			start = l.corner(p.Segment((i+p.NumSegments()-1)%p.NumSegments()), s)
		}
		if s.IsLine() {
			out.Vertices = append(out.Vertices, outline.Vertex{P: start})
			continue
		}
		arcs, err := l.arc(s)
		if err != nil {
			return outline.Path{}, refused("arc "+plain(i+1)+" of a rolled outline", "cannot be laid flat", err)
		}
		// The fit ends where the next segment starts.
		arcs.Vertices[0].P = start
		out.Vertices = append(out.Vertices, arcs.Vertices[:len(arcs.Vertices)-1]...)
	}
	if n := len(p.Vertices); !p.Closed && n > 0 {
		out.Vertices = append(out.Vertices, outline.Vertex{P: l.at(p.Vertices[n-1].P)})
	}
	return out, nil
}

func right(travel r2.Vec) r2.Vec { return r2.Vec{X: travel.Y, Y: -travel.X} }

// arc lays an arc: it becomes part of an ellipse, also where it grows.
func (l laying) arc(s outline.Segment) (outline.Path, error) {
	c, radius, sweep := s.Center(), s.Radius(), float64(s.Sweep())
	a := math.Atan2(s.A.Y-c.Y, s.A.X-c.X)
	side := math.Copysign(1, sweep) // an arc that turns right faces its centre
	return outline.FitCurve(func(t float64) (at, d r2.Vec) {
		sin, cos := math.Sincos(a + sweep*t)
		out, turned := r2.Vec{X: cos, Y: sin}, r2.Vec{X: -sin * sweep, Y: cos * sweep}
		return l.facing(r2.Add(c, r2.Scale(radius, out)), r2.Scale(side, out)),
			l.facing(r2.Scale(radius, turned), r2.Scale(side, turned))
	}, 0, 1, fittedWithin)
}

// corner lays the point where one segment ends and the next starts. Where they do not run on smoothly they
// are moved apart or over each other, and the corner is where they meet again.
func (l laying) corner(before, s outline.Segment) r2.Vec {
	end, start := l.facing(s.A, right(before.Tangent(1))), l.facing(s.A, right(s.Tangent(0)))
	const smooth = 1e-3 // the two then lie within a thousandth of the growth
	u, v := r2.Unit(l.at(before.Tangent(1))), r2.Unit(l.at(s.Tangent(0)))
	turned := r2.Cross(u, v)
	if math.Abs(turned) < smooth {
		return start
	}
	return r2.Add(end, r2.Scale(r2.Cross(r2.Sub(start, end), v)/turned, u))
}

// At is where a point of the outer face of the skin lies on the flat sheet.
func (r Roll) At(p r2.Vec, above float64) r2.Vec { return r.laying(above, 0).at(p) }

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
