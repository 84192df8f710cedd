package bend

import (
	"errors"
	"strconv"
)

// A Section is a strip bent across: legs with a bend between each two, such as a
// channel, an angle, a zed or a hemmed edge.
type Section struct {
	Legs  []float64 // mm, dimensioned as the bends beside them say; one more than Bends
	Bends []SectionBend
}

// A SectionBend is a bend and what the two legs beside it are dimensioned to. A bend
// of 180° has no mold line and takes OutsideOfFold.
type SectionBend struct {
	Bend
	To LegTo
}

// A Layout is a section laid out flat from its left edge.
type Layout struct {
	Width float64   // mm, the developed width
	Flats []float64 // mm, the straight part of each leg
	Marks []Mark    // one for each bend, in order
}

// A Mark is where one bend lies on the flat, in mm from the left edge.
type Mark struct {
	Left, Right float64 // tangent lines
	Sight       float64 // sight line with the left leg held
	Allowance   Allowance
	Deduction   float64
}

// Lay develops the section by a rule: flat = leg less what the bends beside it take,
// width = flats and allowances. A leg shorter than its bends take is an error naming
// the leg and the least it can be. All faults are reported at once.
func (s Section) Lay(rule Rule) (Layout, error) {
	if len(s.Bends) == 0 || len(s.Legs) != len(s.Bends)+1 {
		return Layout{}, &Error{"legs", strconv.Itoa(len(s.Legs)), "a section has at least one bend and one leg more than bends, here " + strconv.Itoa(len(s.Bends))}
	}
	l, err := s.flats(rule)
	if err != nil {
		return Layout{}, err
	}
	for i := range s.Bends {
		m := &l.Marks[i]
		m.Left = l.Width + l.Flats[i]
		m.Right = m.Left + m.Allowance.Length
		m.Sight = m.Left + s.Bends[i].Radius
		l.Width = m.Right
	}
	l.Width += l.Flats[len(l.Flats)-1]
	return l, nil
}

// flats finds the straight part of each leg and what each bend takes, and every fault
// of a section that has one leg more than bends. Nothing has a place yet.
func (s Section) flats(rule Rule) (Layout, error) {
	var faults []error
	l := Layout{Flats: make([]float64, len(s.Legs)), Marks: make([]Mark, len(s.Bends))}
	take := make([]float64, len(s.Legs))
	for i, b := range s.Bends {
		a, back, err := b.takes(rule)
		if err != nil {
			faults = append(faults, within("bend "+strconv.Itoa(i+1), err))
			continue
		}
		take[i] += back
		take[i+1] += back
		l.Marks[i] = Mark{Allowance: a, Deduction: 2*back - a.Length}
	}
	for i, leg := range s.Legs {
		l.Flats[i] = leg - take[i]
		err := legFault(i, leg)
		if err == nil && l.Flats[i] < 0 {
			err = &Error{"leg " + strconv.Itoa(i+1), lengthText(leg), "shorter than the bends beside it take: at least " + lengthText(take[i])}
		}
		faults = append(faults, err)
	}
	return l, errors.Join(faults...)
}

// takes returns the allowance of a bend and how far its tangent lines lie back.
func (b SectionBend) takes(rule Rule) (a Allowance, back float64, err error) {
	if err := b.Validate(); err != nil {
		return Allowance{}, 0, err // or the rule and the setback would each say so
	}
	a, err = allowance(rule, b.Bend)
	back, errBack := b.back(b.To)
	return a, back, errors.Join(err, errBack)
}

// within puts the place of a fault before each of its fields.
func within(place string, err error) error {
	if many, ok := err.(interface{ Unwrap() []error }); ok {
		var all []error
		for _, e := range many.Unwrap() {
			all = append(all, within(place, e))
		}
		return errors.Join(all...)
	}
	var e *Error
	if errors.As(err, &e) {
		return &Error{place + " " + e.Field, e.Value, e.Rule}
	}
	return err
}
