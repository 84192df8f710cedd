package main

import (
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/former"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

// A card is what the bench reads: text in UTF-8. The first error of the writer below sticks.
type card struct {
	w   io.Writer
	err error
}

func (c *card) line(format string, args ...any) {
	if c.err == nil {
		_, c.err = fmt.Fprintln(c.w, strings.TrimRight(fmt.Sprintf(format, args...), " "))
	}
}

func (c *card) head(s string) {
	c.line("")
	c.line("%s", strings.ToUpper(s))
	c.line("%s", strings.Repeat("-", len([]rune(s))))
}

// writeCard writes the comparison and then everything of each way of making the ring.
func writeCard(w io.Writer, choices []former.Choice, swap []former.Change, other *material.Sheet) error {
	c := &card{w: w}
	f := choices[0].Ring.Former
	c.line("%s  (%s)", f.Title, f.Name)
	c.line("%s, formed %s", drawing.SheetText(f.Sheet), f.Method)
	for _, s := range drawing.Cautions() {
		c.line("%s", s)
	}
	c.line("Lengths in inches with mm in brackets, or mm where it says so. Girth is measured along the mold line of the outer edge from its start, counter-clockwise.")
	c.comparison(choices)
	r := choices[0].Ring
	c.flange("outer flange", &r.Outer)
	c.flange("inner flange", &r.Inner)
	c.block(r)
	c.substitute(swap, other)
	for _, choice := range choices {
		c.ring(choice.Ring)
	}
	c.working(r, choices)
	return c.err
}

func yes(b bool) string {
	if b {
		return "yes"
	}
	return "NO"
}

func (c *card) comparison(choices []former.Choice) {
	if len(choices) < 2 {
		return
	}
	c.head("Comparison (shown, not recommended)")
	c.line("%-7s %-16s %-16s %8s %6s %9s %9s %9s %8s %7s %9s %6s %6s", "pieces", "largest blank", "largest block", "sheet", "used", "stretch", "shrink", "at joint", "splices", "rivets", "plates", "sheet", "block")
	c.line("%-7s %-16s %-16s %8s %6s %9s %9s %9s %8s %7s %9s %6s %6s", "", "mm", "mm", "m²", "%", "%", "%", "%", "", "", "g", "fits", "parts")
	for _, x := range choices {
		c.line("%-7d %-16s %-16s %8.3f %6.0f %+9.1f %+9.1f %9.1f %8d %7d %9.0f %6s %6d", x.Pieces, stock(x.Blank), stock(x.Block), x.Sheet/1e6, 100*x.Used,
			100*x.Stretch, 100*x.Shrink, 100*x.AtJoints, x.Splices, x.Rivets, x.PlateMass, yes(x.FitsSheet), x.BlockParts)
	}
}

func stock(s former.Stock) string { return fmt.Sprintf("%.0f x %.0f", s.Length, s.Width) }

func (c *card) flange(name string, s *former.Strip) {
	stretch, shrink, ok := s.Worst()
	if !ok {
		return
	}
	c.head(name)
	first := s.Strains[0].Section
	c.line("bend angle at the start %s turned, %s between the legs; %s", first.Bend.Angle.Text(2), first.Bend.Angle.Opening().Text(2), openOrClosed(first.Bend.Angle))
	c.line("inside radius %s, setback %s, allowance %s", measure.Both(first.Bend.Radius), measure.Both(first.Setback), measure.Both(first.Allowance.Length))
	const nothing = 1e-6
	if stretch.Value() > nothing {
		c.line("most stretch %s at girth %.0f mm: hammer from the ends to the middle [NAVEDTRA 14018, ch. 13]", percent(stretch.Value()), stretch.Girth)
	}
	if shrink.Value() < -nothing {
		c.line("most shrink %s at girth %.0f mm: hammer from the middle to the ends [NAVEDTRA 14018, ch. 13]", percent(shrink.Value()), shrink.Girth)
	}
	c.line("")
	c.line("%9s %10s %8s %24s %22s", "girth mm", "radius mm", "angle", "equal arc: mm", "equal area: mm")
	last := ""
	for _, e := range s.Strains {
		radius := "flat"
		if math.Abs(e.Curvature) > 1e-6 { // a kilometre is flat
			radius = fmt.Sprintf("%.1f", 1/e.Curvature)
		}
		row := fmt.Sprintf("%9.1f %10s %8s %14.3f %9s %12.3f %9s", e.Girth, radius, e.Section.Bend.Angle.Text(1), e.ByArc.Width, percent(e.ByArc.Strain), e.ByArea.Width, percent(e.ByArea.Strain))
		if row != last {
			c.line("%s", row)
		}
		last = row
	}
	c.line("(width from the tangent line beside the web to the edge as cut; a radius below zero is hollow)")
	c.diagram(s)
}

// percent prints a strain with its sign, and none for nothing.
func percent(x float64) string {
	if math.Abs(x) < 5e-5 {
		return "0.00 %"
	}
	return fmt.Sprintf("%+.2f %%", 100*x)
}

func openOrClosed(a measure.Angle) string {
	switch {
	case a < 90*measure.Degree-1e-9:
		return "open"
	case a > 90*measure.Degree+1e-9:
		return "closed"
	}
	return "square"
}

// diagram draws the strain of the edge as bars, thirty-six round the contour.
func (c *card) diagram(s *former.Strip) {
	const rows, half = 36, 24
	stretch, shrink, _ := s.Worst()
	scale := math.Max(math.Max(stretch.Value(), -shrink.Value()), 0.005) / half
	c.line("")
	c.line("strain of the edge by girth: shrink to the left, stretch to the right, one mark %.2f %%", 100*scale)
	around := s.Mold.Length()
	for i := range rows {
		girth := around * (float64(i) + 0.5) / rows
		e := s.StrainAt(girth).Value()
		n := int(math.Round(e / scale))
		left, right := strings.Repeat(" ", half), ""
		if n < 0 {
			left = strings.Repeat(" ", half+n) + strings.Repeat("<", -n)
		} else {
			right = strings.Repeat(">", n)
		}
		c.line("%8.0f mm %s|%-*s %9s", girth, left, half, right, percent(e))
	}
}

func (c *card) block(r former.Ring) {
	b := r.Pieces[0].Block
	c.head("form block and cover plate")
	c.line("depth %s; top edge rounded to %s", measure.Both(b.Depth), measure.Both(b.Edge))
	if b.Wall != b.WallEnd {
		c.line("wall: the sheet is turned through %s to %s on the block, overbend included", b.WallEnd.Text(2), b.Wall.Text(2))
	} else {
		c.line("wall: the sheet is turned through %s on the block, overbend included", b.Wall.Text(2))
	}
	c.line("The block is smaller than the part: its top is cut to where the INSIDE faces would meet. A block cut to the size of the part makes the part too big.")
	c.line("Tooling pins of %s go through cover plate, blank and block.", measure.Both(r.Pieces[0].Pin))
	c.line("The other hand is formed on the opposite block, with the blank turned over; an overbent block serves one hand.")
}

func (c *card) substitute(list []former.Change, other *material.Sheet) {
	if other == nil {
		return
	}
	c.head("the same part in " + drawing.SheetText(*other))
	c.line("What changes, mold lines and inside radii staying. Which sheet may replace another is for the approved data to say.")
	for _, x := range list {
		c.line("%-48s %s", x.Quantity, changed(x))
	}
}

func changed(x former.Change) string {
	show := func(v float64) string {
		switch x.Unit {
		case bend.Degrees:
			return measure.Angle(v).Text(3)
		case bend.Mass:
			return fmt.Sprintf("%.0f g", v)
		}
		return measure.Both(v)
	}
	return fmt.Sprintf("%-22s -> %s", show(x.Old), show(x.New))
}

// ring is what one way of making the former comes to.
func (c *card) ring(r former.Ring) {
	c.head(r.Former.Name + " " + pieces(len(r.Pieces)))
	if r.Stopped() {
		c.line("NOT FOR CUTTING: see STOP below")
	}
	c.line("%-14s %10s %10s %16s %9s %16s %7s  %s", "piece", "from mm", "to mm", "blank mm", "mass g", "block mm", "parts", "tooling pins, mm")
	for _, p := range r.Pieces {
		var at []string
		for _, q := range p.Pins {
			at = append(at, fmt.Sprintf("(%.2f, %.2f)", q.X, q.Y))
		}
		c.line("%-14s %10.2f %10.2f %16s %9.0f %16s %7d  %s", p.Name, p.From, p.To, stock(p.Size), p.Mass, stock(p.Block.Size), max(len(p.Block.Segments), 1), strings.Join(at, " "))
	}
	for _, s := range r.Splices {
		c.line("splice %s at girth %.2f mm: %d rivets of %s on each side (%d on the web in %d rows, %d on the outer flange, %d on the inner); plate %s thick, %s to either side",
			s.Name, s.Girth, s.Rivets, measure.Both(s.Rivet), s.OnWeb, s.Rows, s.OnOuter, s.OnInner, measure.Both(s.Thick), measure.Both(s.Half))
	}
	for _, h := range r.Remedies {
		c.line("%s at %d places from girth %.0f to %.0f mm, midway between rivets: each takes %s, %s deep%s", h.Kind, len(h.Places), h.From, h.To, measure.Both(h.TakeUp), measure.Both(h.Depth), girths(h))
	}
	if len(r.Findings) > 0 {
		c.line("")
	}
	for _, x := range r.Findings {
		c.line("%s", x)
	}
}

func girths(h former.Remedy) string {
	var list []string
	for _, p := range h.Places {
		list = append(list, fmt.Sprintf("%.0f", p.Girth))
	}
	return " (girth " + strings.Join(list, " ") + ")"
}

// working prints the trail of the numbers once, and the splices of every way.
func (c *card) working(r former.Ring, choices []former.Choice) {
	c.head("working")
	for _, s := range r.Working() {
		c.line("%s", s)
	}
	if len(r.Splices) > 0 {
		return
	}
	for _, x := range choices {
		for _, s := range x.Ring.Splices {
			for _, step := range s.Steps {
				c.line("%d pieces, splice %s, %s", x.Pieces, s.Name, step)
			}
		}
	}
}
