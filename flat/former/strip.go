package former

import (
	"math"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"gonum.org/v1/gonum/spatial/r2"
)

// A Strip is a curved flange laid out flat: its lines on the blank, each running with
// the contour. Of a rim without a flange all lines are the contour.
type Strip struct {
	Mold     outline.Path
	Near     outline.Path // tangent line beside the web
	Far      outline.Path // tangent line beside the flange
	Edge     outline.Path // as the blank is cut
	Finished outline.Path // the edge after trimming; equal to Edge when nothing is left on
	Strains  []Strain     // by girth; two where a value jumps

	rim             Rim
	sheet           material.Sheet
	rule            bend.Rule
	contour         *contour
	edge, near, far track
	finished        track
}

// A Strain is what the edge of a curved flange has to bear at a girth.
type Strain struct {
	Girth     float64
	At        r2.Vec  // on the mold line
	Curvature float64 // of the mold line, 1/mm
	Section   Section // as cut, with what is left on to trim
	Used      Model
	ByArc     Effort
	ByArea    Effort
}

// An Effort is the width of the blank from the tangent line by one model, mm, and the
// strain it leaves at the edge.
type Effort struct{ Width, Strain float64 }

// Value is the strain by the model in use.
func (s Strain) Value() float64 { return s.used().Strain }

// used is the effort by the model in use.
func (s Strain) used() Effort {
	if s.Used == EqualArea {
		return s.ByArea
	}
	return s.ByArc
}

// Lay lays the flange of a rim out flat. The contour may be open. It returns every fault of the
// sheet, or of the contour and the flange, each an [*Error]; then one for an edge that cannot be
// laid out or runs over itself.
func (r Rim) Lay(s material.Sheet, rule bend.Rule) (Strip, error) {
	var f faults
	if err := s.Validate(); err != nil {
		f.add("sheet", "", err.Error())
		return Strip{}, f.err()
	}
	r.check("rim", s, rule, &f)
	if len(f) > 0 {
		return Strip{}, f.err()
	}
	return r.lay(s, rule)
}

// lay lays out a rim that has been checked.
func (r Rim) lay(s material.Sheet, rule bend.Rule) (Strip, error) {
	if rule == nil {
		rule = bend.Handbook{}
	}
	c := measureContour(r.Contour)
	strip := Strip{Mold: r.Contour, rim: r, sheet: s, rule: rule, contour: c}
	if r.Flange == nil {
		plain := track{r.Contour, c.from}
		strip.edge, strip.near, strip.far, strip.finished = plain, plain, plain, plain
		strip.Edge, strip.Near, strip.Far, strip.Finished = r.Contour, r.Contour, r.Contour, r.Contour
		return strip, nil
	}
	var err error
	lay := func(p profile) track {
		t, fault := c.moved(p)
		if err == nil {
			err = fault
		}
		return t
	}
	strip.near = lay(strip.tangent())
	strip.far = lay(strip.beyond(0))
	strip.edge = lay(strip.toEdge(r.Flange.Trim))
	strip.finished = strip.edge
	if r.Flange.Trim > 0 {
		strip.finished = lay(strip.toEdge(0))
	}
	if err != nil {
		return Strip{}, &Error{"contour", "", err.Error()}
	}
	strip.Near, strip.Far, strip.Edge, strip.Finished = strip.near.Path, strip.far.Path, strip.edge.Path, strip.finished.Path
	if err := strip.checkEdge(); err != nil {
		return Strip{}, err
	}
	strip.Strains = strip.strains()
	return strip, nil
}

// checkEdge finds a blank that runs over itself: each place is wide enough for the
// flange, but two sides of a narrow neck are not.
func (s *Strip) checkEdge() error {
	bad := s.Edge.Validate()
	if !s.Edge.Closed {
		bad = s.Edge.ValidateOpen()
	}
	if bad != nil {
		return &Error{"contour", "", "the blank's edge runs over itself where two sides come near each other: " + bad.Error()}
	}
	return nil
}

// sectionAt is the flange cut at a girth, with more mm of flat than the finished one has.
func (s *Strip) sectionAt(girth, more float64) Section {
	fl := s.rim.Flange
	a := angleAt(fl.Bevels, girth, s.contour.length(), s.contour.path.Closed)
	// Every bevel of the flange was checked, and what lies between two is as good.
	section, err := SectionOf(s.rule, bend.Bend{Angle: a, Radius: fl.Radius, Thickness: s.sheet.Thickness}, fl.Height+more)
	if err != nil {
		return Section{Setback: math.NaN()}
	}
	return section
}

// bevels is sectionAt, worked out once where the bevel is the same all along.
func (s *Strip) bevels(more float64) func(girth float64) Section {
	if fl := s.rim.Flange; len(fl.Bevels) == 1 {
		same := s.sectionAt(0, more)
		return func(float64) Section { return same }
	}
	return func(girth float64) Section { return s.sectionAt(girth, more) }
}

// reach is how far along the contour the curvature is averaged where the width of the blank
// goes by it: metal does not step, and a flange can even out over its own width.
func (s *Strip) reach() float64 {
	reach := 0.0
	for _, b := range s.rim.Flange.Bevels {
		reach = max(reach, s.sectionAt(b.At, s.rim.Flange.Trim).Width)
	}
	return min(reach, s.contour.length()/4)
}

// knots are where the profiles of this flange begin anew.
func (s *Strip) knots() []float64 {
	var knots []float64
	for _, b := range s.rim.Flange.Bevels {
		knots = append(knots, b.At)
	}
	if s.rim.Flange.Model == EqualArc {
		return knots
	}
	reach := s.reach()
	for _, at := range s.contour.from {
		knots = append(knots, at-reach, at+reach)
	}
	return knots
}

func (s *Strip) tangent() profile {
	cut := s.bevels(0)
	return profile{s.knots(), func(girth float64) float64 { return -cut(girth).Setback }}
}

// toEdge runs along the finished edge, or more mm beyond it.
func (s *Strip) toEdge(more float64) profile {
	cut := s.bevels(more)
	return s.at(func(girth float64) Section { return cut(girth) })
}

// beyond runs on the flange at a distance beyond its bend.
func (s *Strip) beyond(flat float64) profile {
	cut := s.bevels(0)
	return s.at(func(girth float64) Section { return cut(girth).to(flat) })
}

// row runs on the flange at a height from the mold line.
func (s *Strip) row(height float64) profile {
	cut := s.bevels(0)
	return s.at(func(girth float64) Section { c := cut(girth); return c.to(height - c.Setback) })
}

func (s *Strip) at(cut func(girth float64) Section) profile {
	model := s.rim.Flange.Model
	reach := s.reach()
	return profile{s.knots(), func(girth float64) float64 {
		c := cut(girth)
		if model == EqualArc {
			return c.Width - c.Setback
		}
		return c.DevelopedWidth(model, c.atTangent(s.contour.meanBend(girth, reach))) - c.Setback
	}}
}

// strains goes along the flange: at both ends of every stretch, and within it where the
// bevel changes.
func (s *Strip) strains() []Strain {
	cuts := s.contour.cuts(s.knots())
	cut, reach := s.bevels(s.rim.Flange.Trim), s.reach()
	fractions := []float64{0, 1}
	if len(s.rim.Flange.Bevels) > 1 {
		fractions = []float64{0, 0.25, 0.5, 0.75, 1}
	}
	list := make([]Strain, 0, len(cuts)*len(fractions))
	for k := 0; k+1 < len(cuts); k++ {
		a, b := cuts[k], cuts[k+1]
		i := s.contour.segment((a + b) / 2)
		if s.contour.crumb(i) {
			continue
		}
		for _, t := range fractions {
			girth := a + t*(b-a)
			list = append(list, s.strain(cut(girth), i, girth, reach))
		}
	}
	return list
}

func (s *Strip) strain(section Section, segment int, girth, reach float64) Strain {
	own := s.contour.bend[segment]
	is := Strain{Girth: girth, At: s.contour.frameOn(segment, girth).p, Curvature: own, Section: section, Used: s.rim.Flange.Model}
	effort := func(m Model, curvature float64) Effort {
		k := section.atTangent(curvature)
		w := section.DevelopedWidth(m, k)
		return Effort{w, section.EdgeStrain(w, k)}
	}
	is.ByArc = effort(EqualArc, own)
	is.ByArea = effort(EqualArea, s.contour.meanBend(girth, reach))
	return is
}

// Worst returns the places of most stretch and of most shrink; false where there is no
// flange. A flange that only shrinks has a stretch below zero.
func (s Strip) Worst() (stretch, shrink Strain, ok bool) {
	for i, e := range s.Strains {
		if i == 0 || e.Value() > stretch.Value() {
			stretch = e
		}
		if i == 0 || e.Value() < shrink.Value() {
			shrink = e
		}
	}
	return stretch, shrink, len(s.Strains) > 0
}

// StrainAt is the strain at a girth; the zero Strain where there is no flange.
func (s Strip) StrainAt(girth float64) Strain {
	if len(s.Strains) == 0 {
		return Strain{}
	}
	girth = s.contour.wrap(girth)
	i := s.contour.segment(girth)
	return s.strain(s.sectionAt(girth, s.rim.Flange.Trim), i, girth, s.reach())
}
