package flat

import (
	"errors"
	"fmt"
	"math"

	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// Limits of what a part may ask for. Beyond them a slip of unit is likelier than
// a part.
const (
	LeastThickness = 0.1                  // mm: foil below
	MostThickness  = 12.7                 // mm: half-inch plate, no sheet above
	MostLength     = 10e3                 // mm: ten metres of sheet
	MostAngle      = 170 * measure.Degree // a closer bend is a hem and has no mold line to work to
	LeastAngle     = measure.Degree / 10
)

// Validate returns every fault of the part, joined, each an [*Error] with its
// place, value and rule; nil when there is none.
func (p Part) Validate() error {
	var all []error
	f := &faults{all: &all, index: -1}

	if p.Name == "" {
		f.add("name", "", "name is missing: the files made from the part are named after it")
	}
	t := p.Sheet.Thickness
	f.in("sheet", "sheet").length("thickness", t, LeastThickness, MostThickness, thicknessRule(t))
	if g := p.Sheet.Grain; g.Stated {
		f.in("sheet", "sheet").angle("grain", g.Angle, -360*measure.Degree, 360*measure.Degree, "must be between -360° and 360°")
	}
	var gauge *material.Error
	if errors.As(p.Sheet.ValidateGauge(), &gauge) {
		f.in("sheet", "sheet").add("gauge", gauge.Value, gauge.Rule)
	}
	f.length("radius", p.Radius, 0, MostLength, "inside bend radius must be 0 mm (flanges state their own) to 10 m")
	f.length("gap", p.Gap, 0, 100, "corner gap must be 0 mm (the default) to 100 mm")
	f.in("relief", "relief").length("diameter", p.Relief.Diameter, 0, 200, "relief hole must be 0 mm (by the rule) to 200 mm")
	p.Web.validate(f.in("", "web"), common{t, p.Radius})
	return errors.Join(all...)
}

func thicknessRule(t float64) string {
	rule := fmt.Sprintf("must be %g mm to %g mm", LeastThickness, MostThickness)
	switch {
	case t > MostThickness && t <= 1000*MostThickness:
		rule += "; were thousandths of an inch meant?"
	case t > 0 && t < LeastThickness:
		rule += "; were inches meant?"
	}
	return rule
}

// common is what a part states once for all its flanges.
type common struct{ thickness, radius float64 }

func (w Web) validate(f *faults, c common) {
	if len(w.Edges) < 3 {
		f.add("edges", fmt.Sprint(len(w.Edges)), "a web has at least 3 edges")
		return
	}
	before := len(*f.all)
	path := outline.Path{Closed: true}
	names := map[string]bool{}
	for i, e := range w.Edges {
		at := f.nth("edge", e.Name, "edges", i)
		if e.Name != "" && names[e.Name] {
			at.add("name", e.Name, "another edge has this name")
		}
		names[e.Name] = true
		at.point("start", e.Start)
		if !(math.Abs(e.Bulge) <= 1) {
			at.add("bulge", fmt.Sprint(e.Bulge), "must be -1 to 1: split an arc of more than half a circle")
		}
		if e.Bulge != 0 && len(e.Flanges) > 0 {
			at.add("bulge", fmt.Sprint(e.Bulge), "an edge with a flange is straight")
		}
		path.Vertices = append(path.Vertices, outline.Vertex{P: e.Start, Bulge: e.Bulge})
	}
	if len(*f.all) == before {
		w.validateShape(f, path)
	}
	for i, e := range w.Edges {
		next := w.Edges[(i+1)%len(w.Edges)].Start
		at := f.nth("edge", e.Name, "edges", i)
		validateFlanges(at, e.Flanges, r2.Norm(r2.Sub(next, e.Start)), c)
		if e.Corner != (Corner{}) {
			before := &w.Edges[(i+len(w.Edges)-1)%len(w.Edges)]
			e.Corner.validate(at.in("corner", "corner"), &w.Edges[i], before, r2.Norm(r2.Sub(e.Start, before.Start)))
		}
	}
	w.Features.validate(f, c.thickness)
}

func (w Web) validateShape(f *faults, path outline.Path) {
	if err := path.Validate(); err != nil {
		w.outlineFaults(f, err)
		return
	}
	if a := path.Area(); !(a > 0) {
		f.add("edges", fmt.Sprintf("area %.4g mm²", a), "edges must run counter-clockwise as seen from the marking face")
	}
}

// outlineFaults says of each fault of the mold-line outline which edges make it.
func (w Web) outlineFaults(f *faults, err error) {
	list := []error{err}
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		list = joined.Unwrap()
	}
	edge := func(i int) string { return quoted("edge", w.Edges[i].Name, i) }
	for _, err := range list {
		var fault *outline.Fault
		if !errors.As(err, &fault) || fault.Index < 0 || fault.Index >= len(w.Edges) {
			f.add("edges", "", "the mold-line outline is not a simple closed shape: "+err.Error())
			continue
		}
		at := f.nth("edge", w.Edges[fault.Index].Name, "edges", fault.Index)
		place := fmt.Sprintf("at (%s, %s)", measure.Both(fault.At.X), measure.Both(fault.At.Y))
		if fault.Other >= 0 && fault.Other < len(w.Edges) {
			at.add("start", "", edge(fault.Index)+" and "+edge(fault.Other)+" touch or cross "+place+": the mold lines must make a simple closed shape")
			continue
		}
		at.add("start", "", place+" "+fault.Rule)
	}
}

// validateFlanges checks the flanges that share an edge of the given length.
func validateFlanges(f *faults, flanges []Flange, length float64, c common) {
	for k, g := range flanges {
		at := f.nth("flange", g.Name, "flanges", k)
		g.validate(at, length, c)
	}
	if len(flanges) > 1 {
		for k, g := range flanges {
			at := f.nth("flange", g.Name, "flanges", k)
			if g.From == 0 && g.To == 0 {
				at.add("to", mm(g.To), "flanges that share an edge each state from and to")
			}
			if k > 0 && !(flanges[k-1].To <= g.From) {
				at.add("from", mm(g.From), fmt.Sprintf("must not lie before the end of the flange before it, at %s", mm(flanges[k-1].To)))
			}
		}
	}
}

const angleRule = "must be above 0° and at most 170°, turned from flat"

func (g Flange) validate(f *faults, length float64, c common) {
	f.angle("angle", g.Angle, LeastAngle, MostAngle, angleHint(g.Angle))
	if g.AngleEnd != 0 {
		f.angle("angle_end", g.AngleEnd, LeastAngle, MostAngle, angleHint(g.AngleEnd))
	}
	if g.Turn > Down {
		f.add("turn", fmt.Sprint(g.Turn), "must be up or down")
	}
	if g.Basis > Tangent {
		f.add("basis", fmt.Sprint(g.Basis), "must be mold line, inside or tangent")
	}
	f.length("height", g.Height, 1e-3, MostLength, "must be above 0 mm and at most 10 m")
	if g.HeightEnd != 0 {
		f.length("height_end", g.HeightEnd, 1e-3, MostLength, "must be above 0 mm and at most 10 m")
	}
	f.length("radius", g.Radius, 0, MostLength, "must be 0 mm (the part's radius) to 10 m")
	if g.Radius == 0 && c.radius == 0 {
		f.add("radius", mm(0), "no inside bend radius: state one for the part or the flange")
	}
	f.span(g, length)
	g.Start.validate(f.in("start", "start"))
	g.End.validate(f.in("end", "end"))
	g.Features.validate(f, c.thickness)
	from, to := g.stations(length)
	for i, j := range g.Joggles {
		j.validate(f.nth("joggle", j.Name, "joggles", i), from, to)
	}
	g.validateRivets(f)
	validateFlanges(f, g.Flanges, g.freeEdge(length), c)
}

// freeEdge is the length of the edge that the flanges on the flange stand along, before its ends are trimmed, where
// its own edge is of the given length.
func (g Flange) freeEdge(length float64) float64 {
	from, to := g.stations(length)
	if g.HeightEnd == 0 {
		return to - from
	}
	return math.Hypot(to-from, g.HeightEnd-g.Height)
}

// stations are those between which the flange stands on its edge, of the given length, before trims.
func (g Flange) stations(length float64) (from, to float64) {
	if g.From == 0 && g.To == 0 {
		return 0, length
	}
	return g.From, g.To
}

func angleHint(a measure.Angle) string {
	if a > MostAngle && a <= 4*math.Pi {
		return angleRule + "; an angle between the legs is 180° less the bend angle"
	}
	return angleRule
}

func (f *faults) span(g Flange, length float64) {
	if g.From == 0 && g.To == 0 {
		return
	}
	if !(0 <= g.From && g.From <= length) {
		f.add("from", mm(g.From), fmt.Sprintf("must be 0 mm to the length of the edge, %s", mm(length)))
	}
	if !(g.From < g.To && g.To <= length+1e-9) {
		f.add("to", mm(g.To), fmt.Sprintf("must be above from and at most the length of the edge, %s", mm(length)))
	}
}

func (t Trim) validate(f *faults) {
	switch {
	case t.Kind > Angled:
		f.add("kind", fmt.Sprint(t.Kind), "must be auto, square or angled")
	case t.Kind != Angled && t.Angle != 0:
		f.add("angle", t.Angle.String(), "only an angled end has an angle")
	case t.Kind == Auto && t.Inset != 0:
		f.add("inset", mm(t.Inset), "only a square or angled end is set back")
	}
	f.angle("angle", t.Angle, -80*measure.Degree, 80*measure.Degree, "must be between -80° and 80° from square")
	f.length("inset", t.Inset, 0, MostLength, "must be 0 mm or more")
}

func (f *faults) point(field string, p r2.Vec) {
	f.length(field+".x", p.X, -MostLength, MostLength, "must be within 10 m of the origin")
	f.length(field+".y", p.Y, -MostLength, MostLength, "must be within 10 m of the origin")
}
