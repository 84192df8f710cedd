package former

import (
	"fmt"
	"math"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

// A Rim is an edge of the web and the flange turned along all of it.
type Rim struct {
	// Contour is the mold line of the flange, or the edge itself where Flange is nil:
	// smooth, with the material on its left.
	Contour outline.Path
	Flange  *Flange
}

// A Flange is turned from a curved edge.
type Flange struct {
	Turn flat.Turn
	// Height on the outside face from the mold line to the finished edge, mm.
	Height float64
	Radius float64 // inside bend radius, mm
	// Bevels are the bend angles by girth, in order; one is the angle all along.
	Bevels []Bevel
	Model  Model
	// Trim is left on the edge of the blank, to be cut away after forming, mm.
	Trim   float64
	Rivets Rivets
}

// Rivets are the row along a flange. The zero value has none.
type Rivets struct {
	Diameter float64 // mm
	Pitch    float64 // the widest wanted, mm; the row is spaced evenly at no more
	// Line is how far the row lies from the mold line on the outside face, mm; zero is
	// the middle of the flat.
	Line float64
}

// What no former goes beyond; more is a slip of unit.
const (
	largestBevel  = 170 * measure.Degree
	largestTrim   = 50.0
	smallestRivet = 1.0
	largestRivet  = 10.0
	largestHeight = 1000.0
)

func (r Rim) check(field string, s material.Sheet, rule bend.Rule, f *faults) {
	var bad error
	if r.Contour.Closed {
		bad = r.Contour.Validate()
	} else {
		bad = r.Contour.ValidateOpen()
	}
	if bad != nil {
		f.add(field+" contour", "", bad.Error())
		return
	}
	if l := r.Contour.Length(); !(l <= longest) {
		f.add(field+" contour", mm(l), "is more than 100 m long: look for a slip of unit")
		return
	}
	if r.Flange == nil {
		return
	}
	checkSmooth(field+" contour", r.Contour, f)
	fl := *r.Flange
	field += " flange"
	before := len(*f)
	f.length(field+" height", fl.Height, s.Thickness, largestHeight, "must lie between the thickness of the sheet and 1 m")
	f.length(field+" radius", fl.Radius, 0, largestHeight, "an inside bend radius is 0 to 1 m")
	f.length(field+" trim", fl.Trim, 0, largestTrim, "must be 0 to 50 mm")
	if fl.Turn > flat.Down {
		f.add(field+" turn", number(float64(fl.Turn)), "must be up or down")
	}
	if fl.Model > EqualArea {
		f.add(field+" model", number(float64(fl.Model)), "must be equal arc or equal area")
	}
	checkBevels(field, fl.Bevels, r.Contour.Length(), f)
	if len(*f) == before {
		r.checkFits(field, s, rule, f)
	}
	fl.Rivets.check(field+" rivet", fl, f)
}

func checkBevels(field string, bevels []Bevel, around float64, f *faults) {
	if len(bevels) == 0 {
		f.add(field+" bevels", "", "no bend angle is given")
	}
	for i, b := range bevels {
		name := fmt.Sprintf("%s bevel %d", field, i+1)
		if !(0 < b.Angle) {
			f.add(name+" angle", b.Angle.Text(4), "must be above 0 and at most 170°, turned from flat")
		} else {
			f.angle(name+" angle", b.Angle, 0, largestBevel, "must be above 0 and at most 170°, turned from flat; 180° less the angle between the legs")
		}
		f.length(name+" girth", b.At, 0, around, "must lie on the contour, which is "+mm(around)+" long")
		if i > 0 && b.At <= bevels[i-1].At {
			f.add(name+" girth", mm(b.At), "bevels come in the order of the girth, no two at one place")
		}
	}
}

// checkFits faults contours too tight for the flange to be laid out flat.
func (r Rim) checkFits(field string, s material.Sheet, rule bend.Rule, f *faults) {
	fl := r.Flange
	c := measureContour(r.Contour)
	for _, b := range fl.Bevels {
		section, err := SectionOf(rule, bend.Bend{Angle: b.Angle, Radius: fl.Radius, Thickness: s.Thickness}, fl.Height+fl.Trim)
		if err != nil {
			*f = append(*f, &Error{field, "", err.Error()})
			return
		}
		if fl.Height <= section.Setback {
			f.add(field+" height", mm(fl.Height), "the bend alone takes "+mm(section.Setback)+" of it from the mold line")
			return
		}
		most, least, atMost, atLeast := c.tightest()
		if !(most*section.Setback < 1) {
			f.add(field, "", fmt.Sprintf("at girth %s the contour's radius of %s is no more than the setback of %s: the bend has no tangent line there", mm(atMost), mm(1/most), mm(section.Setback)))
		}
		if k := section.atTangent(least); math.IsNaN(section.DevelopedWidth(fl.Model, k)) {
			f.add(field, "", fmt.Sprintf("at girth %s the contour is hollow with a radius of %s, and the flange wants a blank %s wide inside it: make the flange lower or the radius larger, or end the flange there", mm(atLeast), mm(-1/least), mm(section.Width)))
		}
	}
}

func (r Rivets) check(field string, fl Flange, f *faults) {
	if r == (Rivets{}) {
		return
	}
	if !(smallestRivet <= r.Diameter && r.Diameter <= largestRivet) {
		f.add(field+" diameter", mm(r.Diameter), "must be 1 to 10 mm: if inches were meant, multiply by measure.Inch")
		return
	}
	f.length(field+" pitch", r.Pitch, 3*r.Diameter, longest, "must be at least three diameters")
	f.length(field+" line", r.Line, 0, fl.Height, "must lie on the flange, 0 for the middle of its flat")
}
