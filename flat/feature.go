package flat

import (
	"fmt"
	"math"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"gonum.org/v1/gonum/spatial/r2"
)

// Features are what is cut through a panel, in the panel's own coordinates.
type Features struct {
	Holes      []Hole
	Slots      []Slot
	Lightening []LighteningHole
	Cutouts    []Cutout
}

// A Hole is round.
type Hole struct {
	Name     string
	At       r2.Vec  // centre, mm
	Diameter float64 // mm
	Purpose  Purpose
}

// Purpose says what a round hole is for.
type Purpose uint8

const (
	Opening      Purpose = iota // a hole of its finished size
	Tooling                     // takes a pin of the form block or a fixture
	RivetPilot                  // drilled under size, opened when the parts are together
	FlangedPilot                // pierced under size, its lip turned afterwards
)

func (p Purpose) String() string {
	switch p {
	case Tooling:
		return "tooling hole"
	case RivetPilot:
		return "rivet pilot"
	case FlangedPilot:
		return "pilot of a flanged hole"
	}
	return "hole"
}

// A Slot has straight sides and round ends.
type Slot struct {
	Name     string
	From, To r2.Vec  // centres of the round ends, mm
	Width    float64 // mm
}

// A LighteningHole is round with a lip turned at 90° to stiffen its edge.
type LighteningHole struct {
	Name     string
	At       r2.Vec  // centre, mm
	Diameter float64 // mean diameter of the finished wall, mm
	Turn     Turn    // the way the lip is turned, seen from the marking face
	Height   float64 // from the face the lip turns away from to its edge, mm
	Radius   float64 // inside bend radius of the lip, mm
}

// A Cutout is any other closed opening.
type Cutout struct {
	Name string
	Path outline.Path
}

// path runs counter-clockwise round the slot.
func (s Slot) path() outline.Path {
	along := r2.Unit(r2.Sub(s.To, s.From))
	side := r2.Vec{X: along.Y * s.Width / 2, Y: -along.X * s.Width / 2}
	return outline.Path{Closed: true, Vertices: []outline.Vertex{
		{P: r2.Add(s.From, side)}, {P: r2.Add(s.To, side), Bulge: 1},
		{P: r2.Sub(s.To, side)}, {P: r2.Sub(s.From, side), Bulge: 1},
	}}
}

// Pilot is the diameter to pierce, mm, so that the lip turned at 90° stands at its
// diameter and height:
//
//	d = D - 2·(H - (2 - π/2)·r - (1.5 - π/4)·t)
//
// Derivation, neutral line midway in the sheet: the mean line of the wall stands
// at D/2. From the far face the lip is a quarter turn of mean radius r + t/2, then
// straight for H - t - r. The turn starts r + t/2 outside the wall's mean line, so
// the pierced edge lies at D/2 + (r + t/2) - π/2·(r + t/2) - (H - t - r). In
// decimals the factors are 0.4292 and 0.7146.
func (h LighteningHole) Pilot(thickness float64) float64 {
	return h.Diameter - 2*(h.Height-(2-math.Pi/2)*h.Radius-(1.5-math.Pi/4)*thickness)
}

// Stretch is how much the edge of the lip is stretched: finished edge over pierced
// edge, less 1.
func (h LighteningHole) Stretch(thickness float64) float64 {
	return h.Diameter/h.Pilot(thickness) - 1
}

var flangedHole = material.Source{Document: "developed lip, neutral line midway", Provenance: material.Derived}

// pilotStep is the working of a lightening hole.
func (h LighteningHole) pilotStep(name string, thickness float64) bend.Step {
	return bend.Step{
		Quantity: "pilot of " + name, Symbol: "d", Formula: "D - 2·(H - (2 - π/2)·r - (1.5 - π/4)·t)",
		Inputs: []bend.Input{
			{Symbol: "D", Value: h.Diameter, Unit: bend.Length}, {Symbol: "H", Value: h.Height, Unit: bend.Length},
			{Symbol: "r", Value: h.Radius, Unit: bend.Length}, {Symbol: "t", Value: thickness, Unit: bend.Length},
		},
		Value: h.Pilot(thickness), Unit: bend.Length, Source: flangedHole,
	}
}

// along tells for every opening its name and from which X to which it reaches.
func (h Features) along(visit func(opening string, lo, hi float64)) {
	for i, hole := range h.Holes {
		visit(quoted(hole.Purpose.String(), hole.Name, i), hole.At.X-hole.Diameter/2, hole.At.X+hole.Diameter/2)
	}
	for i, l := range h.Lightening {
		visit(quoted("lightening hole", l.Name, i), l.At.X-l.Diameter/2, l.At.X+l.Diameter/2)
	}
	for i, s := range h.Slots {
		visit(quoted("slot", s.Name, i), min(s.From.X, s.To.X)-s.Width/2, max(s.From.X, s.To.X)+s.Width/2)
	}
	for i, c := range h.Cutouts {
		box := c.Path.Bounds()
		visit(quoted("cut-out", c.Name, i), box.Min.X, box.Max.X)
	}
}

func (h Features) validate(f *faults, thickness float64) {
	for i, hole := range h.Holes {
		at := f.nth("hole", hole.Name, "holes", i)
		at.point("at", hole.At)
		at.length("diameter", hole.Diameter, 0.1, 5e3, "must be 0.1 mm to 5 m")
		if hole.Purpose > FlangedPilot {
			at.add("purpose", fmt.Sprint(uint8(hole.Purpose)), "is not a purpose of a hole")
		}
	}
	for i, s := range h.Slots {
		at := f.nth("slot", s.Name, "slots", i)
		at.point("from", s.From)
		at.point("to", s.To)
		at.length("width", s.Width, 0.1, 5e3, "must be 0.1 mm to 5 m")
		if !(r2.Norm(r2.Sub(s.To, s.From)) > coincident) {
			at.add("to", "", "the ends of the slot coincide: a round hole is a hole")
		}
	}
	for i, l := range h.Lightening {
		at := f.nth("lightening hole", l.Name, "lightening", i)
		at.point("at", l.At)
		at.length("diameter", l.Diameter, 0.1, 5e3, "must be 0.1 mm to 5 m")
		if l.Turn > Down {
			at.add("turn", fmt.Sprint(uint8(l.Turn)), "must be up or down")
		}
		at.length("radius", l.Radius, 0, 5e3, "must be 0 mm to 5 m")
		at.length("height", l.Height, l.Radius+thickness, 5e3, "must reach past the bend of the lip: at least its radius and the thickness, "+mm(l.Radius+thickness))
		if d := l.Pilot(thickness); !(d > 0.1) && l.Height >= l.Radius+thickness {
			at.add("diameter", mm(l.Diameter), "leaves no hole to pierce: the lip develops to a pilot of "+mm(d))
		}
	}
	for i, c := range h.Cutouts {
		at := f.nth("cut-out", c.Name, "cutouts", i)
		switch err := c.Path.Validate(); {
		case !c.Path.Closed:
			at.add("path", "", "must be closed")
		case err != nil:
			at.add("path", "", "is not a simple closed shape: "+err.Error())
		}
	}
}
