package main

import (
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/flat/rivet"
	"github.com/hangarflat/hangarflat/flat/survey"
	"github.com/hangarflat/hangarflat/material/measure"
)

// A card is what the bench reads: text in UTF-8. The first error of the writer below
// sticks.
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

func (r result) card(w io.Writer) error {
	c := &card{w: w}
	f := r.fitted
	c.line("%s  (%s)", f.Patch.Title, f.Patch.Name)
	c.line("%s; skin %s", f.Patch.Fitting, drawing.SheetText(f.Patch.Skin))
	if f.Stopped() {
		c.line("NOT FOR CUTTING: see STOP below")
	}
	for _, s := range drawing.Cautions() {
		c.line("%s", s)
	}
	c.line("Lengths in inches with mm in brackets, or mm where it says so. x and y are those of the opening's corners, seen from outside, along the outer face of the skin.")
	c.pieces(r)
	c.rivets(r)
	c.old(f.Layout)
	c.head("findings")
	for _, x := range f.Findings {
		c.line("%s", x)
	}
	c.strength(f)
	c.order(r)
	c.slack(r)
	if err := c.made(r); err != nil {
		return err
	}
	c.after()
	c.head("working")
	for _, s := range f.Steps {
		c.line("%s", s)
	}
	if r.endsFirst.Trapped > 0 {
		c.line("ends first: %s", r.endsFirst.Step())
	}
	return c.err
}

func (c *card) pieces(r result) {
	c.head("sheets to cut")
	for _, p := range r.fitted.Pieces {
		size := p.Outline.Bounds().Size()
		c.line("%-8s %s; blank %.1f x %.1f mm, %.0f g, %d holes", p.Name, drawing.SheetText(p.Sheet), size.X, size.Y, p.Mass, len(p.Holes))
	}
	if roll := r.patch.Roll; roll.Radius > 0 {
		c.line("rolled to %s on the outer face of the skin; keep the short lines of the drawing parallel to the rolls (%s from x), so that no twist comes in", measure.Both(roll.Radius), roll.Axis.Text(2))
	}
	c.line("all sheets and rivets together %.0f g", r.fitted.Mass)
}

func (c *card) rivets(r result) {
	f := r.fitted
	c.head("rivets")
	c.line("%s in diameter, %s; %d in all", measure.Both(f.Layout.Rivet.Diameter), f.Layout.Rivet.Head, f.Rivets)
	c.line("drill pilots of %s in the new sheets, match-drill the rest from them with the parts clamped", measure.Both(r.pilotHole()))
	if d, ok := f.Layout.Rivet.Drill(); ok {
		c.line("open to %s, drill %s [%s]", measure.Both(d.Diameter), d.Name, d.Source)
	}
	across, high := f.Layout.Rivet.DrivenHead()
	c.line("driven head %s across, %s high [NAVEDTRA 14018, ch. 13]", measure.Both(across), measure.Both(high))
	c.line("")
	c.line("%-20s %6s %22s %22s %22s  %s", "rows", "count", "grip", "length wanted", "from stock", "through, from outside in")
	for _, g := range f.Groups {
		var stack []string
		for _, s := range g.Stack {
			stack = append(stack, fmt.Sprintf("%.3f", s.Thickness/measure.Inch))
		}
		c.line("%-20s %6d %22s %22s %22s  %s in", g.Name, g.Count, measure.Both(g.Shank.Grip), measure.Both(g.Shank.Wanted), measure.Both(g.Shank.Stock), strings.Join(stack, " + "))
	}
	c.line("")
	c.line("%-24s %6s %10s %10s %10s", "row", "count", "least mm", "mean mm", "most mm")
	for _, row := range f.Layout.Rows {
		least, sum, most := math.Inf(1), 0.0, 0.0
		pitches := row.Pitches()
		for _, p := range pitches {
			least, sum, most = math.Min(least, p), sum+p, math.Max(most, p)
		}
		if len(pitches) == 0 {
			c.line("%-24s %6d", row.Name, len(row.Holes))
			continue
		}
		c.line("%-24s %6d %10.2f %10.2f %10.2f", row.Name, len(row.Holes), least, sum/float64(len(pitches)), most)
	}
}

// old lists the holes picked up from the old structure.
func (c *card) old(l rivet.Layout) {
	any := false
	for _, row := range l.Rows {
		for i, h := range row.Holes {
			if !h.Found {
				continue
			}
			if !any {
				c.head("old holes, kept where they are")
				c.line("%-24s %6s %10s %10s %10s %10s", "row", "rivet", "x mm", "y mm", "off mm", "dia mm")
				any = true
			}
			dia := "-"
			if h.Diameter > 0 {
				dia = fmt.Sprintf("%.2f", h.Diameter)
			}
			c.line("%-24s %6d %10.2f %10.2f %10.2f %10s", row.Name, i+1, h.At.X, h.At.Y, h.Off, dia)
		}
	}
}

// strength shows the patch as a splice.
func (c *card) strength(f rivet.Fitted) {
	if len(f.Sides) == 0 {
		return
	}
	c.head("as a splice, by the table of rivets an inch")
	c.line("A count for comparison, no proof of strength. Approved data decides. [FAA AC 43.13-1B, Table 4-10 and its notes]")
	c.line("%-16s %14s %10s %10s %10s %10s", "side", "width in", "an inch", "whole", "75 %", "there are")
	for _, s := range f.Sides {
		c.line("%-16s %14.2f %10.1f %10d %10d %10d", s.Name, s.Need.Width/measure.Inch, s.Need.PerInch, s.Need.Whole, s.Need.Needed, s.Rivets)
	}
}

// order is the driving order, as numbered on the picture.
func (c *card) order(r result) {
	rows := r.fitted.Layout.Rows
	turn := turns(r.fitted)
	c.head("temporary fasteners")
	c.line("Before driving, in this order: %s of each row from the middle out, and its ends. Numbers are those of the driving order.", every(r.temporary))
	c.line("When driving comes to a fastener, take it out and drive its rivet.")
	var list []string
	for _, d := range r.pins {
		list = append(list, fmt.Sprintf("%d", turn[d.Row][d.Hole]))
	}
	c.wrapped(list)
	c.head("driving order")
	c.line("From the middle of the middle row out to either side, then the next rows, the outermost last: the slack is pushed toward an edge that is still free. [common practice]")
	var cells []string
	for i, d := range r.fitted.Order {
		cells = append(cells, fmt.Sprintf("%4d  %-22s %3d  (%7.1f, %7.1f)", i+1, rows[d.Row].Name, d.Hole+1, d.At.X, d.At.Y))
	}
	c.line("turn  row                rivet  (      x,       y) mm")
	const columns = 3
	deep := (len(cells) + columns - 1) / columns
	for i := range deep {
		line := ""
		for k := range columns {
			if n := i + k*deep; n < len(cells) {
				line += fmt.Sprintf("%-56s", cells[n])
			}
		}
		c.line("%s", line)
	}
}

func every(n int) string {
	switch n {
	case 1:
		return "every hole"
	case 2:
		return "every second hole"
	case 3:
		return "every third hole"
	}
	return fmt.Sprintf("one hole in %d", n)
}

func (c *card) wrapped(list []string) {
	const most = 24
	for len(list) > 0 {
		n := min(most, len(list))
		c.line("  %s", strings.Join(list[:n], " "))
		list = list[n:]
	}
}

func (c *card) slack(r result) {
	c.head("why the order matters")
	c.line("A model, to compare orders by: each open row by itself, %.3f mm of slack from hole to hole; a rivet pins the sheet and works the slack beside it on while that side is free.", r.perSpace)
	c.line("%-34s %14s %16s %16s %14s", "order", "pushed out mm", "most at an end", "shut in a space", "bulge mm")
	for _, s := range []struct {
		name string
		rivet.Slack
	}{{"from the middle out (this card)", r.slack}, {"both ends first, then along", r.endsFirst}} {
		c.line("%-34s %14.2f %16.2f %16.2f %14.2f", s.name, s.Pushed, s.Travel, s.Trapped, s.Bulge)
	}
}

// made compares a made patch with its drawing.
func (c *card) made(r result) error {
	if len(r.job.made) == 0 {
		return nil
	}
	p := r.fitted.Pieces[0]
	v, err := survey.Compare(r.job.made, []outline.Path{p.Outline}, survey.CompareOptions{Tolerance: r.tolerance})
	if err != nil {
		return fmt.Errorf("made edge: %w", err)
	}
	c.head("the made " + p.Name + " against its drawing")
	c.line("%d points, laid on with the least sum of squares; tolerance %s", len(r.job.made), measure.Both(r.tolerance))
	c.line("%.3f mm rms; all within: %v", v.RMS, v.Pass)
	for i, d := range v.Deviations {
		remark := ""
		if math.Abs(d.Off) > r.tolerance {
			remark = "OUT OF TOLERANCE"
		}
		c.line("point %3d  (%8.2f, %8.2f) mm  %+8.3f mm  %s", i+1, r.job.made[i].X, r.job.made[i].Y, d.Off, remark)
	}
	return nil
}

// after is what the inspector fills in.
func (c *card) after() {
	c.head("after fitting")
	for _, s := range []string{
		"edge distance, least measured ........................", "pitch, least and most .................................",
		"driven heads, least across ............................", "gaps under heads or between sheets ....................",
		"straight edge along and across the patch ..............", "inspected by .................. date ..................",
	} {
		c.line("%s", s)
	}
}

// turns is the place of every rivet in the driving order, from 1.
func turns(f rivet.Fitted) [][]int {
	list := make([][]int, len(f.Layout.Rows))
	for k, row := range f.Layout.Rows {
		list[k] = make([]int, len(row.Holes))
	}
	for i, d := range f.Order {
		list[d.Row][d.Hole] = i + 1
	}
	return list
}
