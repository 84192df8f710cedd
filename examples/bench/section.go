package main

import (
	"fmt"
	"io"
	"math"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/material/measure"
)

// answerSection lays a section out flat: width, flats, tangent and sight lines.
func answerSection(c clauses, w io.Writer) error {
	sheet, stated := c.sheet("sheet")
	s, err := readSection(&c, sheet.Thickness)
	rule := c.by()
	if err != nil {
		c.faults = append(c.faults, err)
	}
	if err := c.err(); err != nil {
		return err
	}
	l, err := s.Lay(rule)
	if err != nil {
		return err
	}
	sum := 0.0
	for _, leg := range s.Legs {
		sum += leg
	}
	fmt.Fprintf(w, "Developed width %s; the legs sum to %s.\n\n", measure.Both(l.Width), measure.Both(sum))
	fmt.Fprintf(w, "From the left edge, %-22s %s\n", "", "distance")
	for i, mark := range l.Marks {
		n := i + 1
		for _, line := range []struct {
			name string
			at   float64
		}{{"tangent line", mark.Left}, {"sight line, left leg held", mark.Sight}, {"tangent line", mark.Right}} {
			fmt.Fprintf(w, "  bend %d %-34s %s\n", n, line.name, measure.Both(line.at))
		}
	}
	fmt.Fprintf(w, "  %-41s %s\n\n", "right edge", measure.Both(l.Width))
	for i, flat := range l.Flats {
		fmt.Fprintf(w, "  flat %d %s\n", i+1, measure.Both(flat))
	}
	for i, b := range s.Bends {
		fmt.Fprintln(w)
		if err := working(w, rule, b.Bend, fmt.Sprintf("bend %d", i+1)); err != nil {
			return err
		}
	}
	askGauge(w, sheet)
	if stated {
		radii(w, sheet.Material, s.Bends[0].Bend)
	}
	return nil
}

// readSection reads legs and turns in the order they stand: leg, turn, leg, turn, leg.
func readSection(c *clauses, thickness float64) (bend.Section, error) {
	radius := c.length("radius")
	var s bend.Section
	leg := true
	for _, cl := range c.all {
		switch cl.word {
		case "section", "leg":
			if !leg {
				return s, fmt.Errorf("%q: a turn must stand between two legs", cl.word+" "+cl.text)
			}
			mm, err := measure.ParseLength(cl.text)
			c.fault(fmt.Sprintf("leg %d", len(s.Legs)+1), err)
			s.Legs = append(s.Legs, mm)
		case "turn":
			if leg {
				return s, fmt.Errorf("%q: a leg must stand before each turn", cl.word+" "+cl.text)
			}
			b := bend.SectionBend{Bend: bend.Bend{Angle: c.angle(fmt.Sprintf("turn %d", len(s.Bends)+1), cl.text), Radius: radius, Thickness: thickness}}
			if b.Angle == math.Pi {
				b.To = bend.OutsideOfFold
			}
			s.Bends = append(s.Bends, b)
		default:
			continue
		}
		leg = !leg
	}
	if leg {
		return s, fmt.Errorf("the section must end with a leg")
	}
	return s, nil
}
