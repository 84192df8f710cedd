package paper

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

func holesBlock(b flat.Blank, opt CardOptions) block {
	out := block{
		title:   "RELIEFS AND HOLES  (centres from the datum)",
		columns: append(left("what", "panel"), append(right("diameter, inch / mm"), append(left("drill"), right("x, inch", "y, inch", "x, mm", "y, mm")...)...)...),
	}
	if opt.Fractions {
		out.columns = append(out.columns, right("Ø, 1/64", "x, 1/64", "y, 1/64")...)
	}
	datum := b.Outline.Bounds().Min
	drilled := false
	add := func(what, panel string, at r2.Vec, size, drill, sixtyFourths string) {
		p := r2.Sub(at, datum)
		drilled = drilled || drill != ""
		row := []string{strings.TrimSpace(what), panel, size, drill, measure.Fixed(p.X/measure.Inch, 4), measure.Fixed(p.Y/measure.Inch, 4), measure.Fixed(p.X, 3), measure.Fixed(p.Y, 3)}
		if opt.Fractions {
			row = append(row, sixtyFourths, fraction(p.X), fraction(p.Y))
		}
		out.rows = append(out.rows, row)
	}
	for _, r := range b.Reliefs {
		if r.Kind == flat.Notched {
			continue // sawn, not drilled: a finding tells of it
		}
		add("relief "+oneLine(r.Corner), "", r.Center, pair(r.Diameter), drillName(r.Diameter), fraction(r.Diameter))
	}
	for _, e := range b.EndSlots {
		add("slot beside "+oneLine(e.Place()), panelName(b, e.Panel), e.Center, pair(e.Width), drillName(e.Width), fraction(e.Width))
	}
	for _, h := range b.Holes {
		if h.Row != 0 {
			continue // its row tells
		}
		what := h.Purpose.String() + " " + oneLine(h.Name)
		if h.Purpose == flat.FlangedPilot {
			what += ", lip " + h.Lip.Turn.String()
		}
		add(what, panelName(b, h.Panel), h.Center, pair(h.Diameter), drillName(h.Diameter), fraction(h.Diameter))
	}
	for _, c := range b.Cutouts {
		add("cut-out "+oneLine(c.Name), panelName(b, c.Panel), c.Path.Bounds().Center(), "see its outline", "", "")
	}
	if drilled {
		out.lines = []string{"Drill: the fraction, number or letter within .001 in; numbers and letters from memory, read them off the shank."}
	}
	return out
}

// drillName is the drill that makes a hole of this diameter, where one does.
func drillName(mm float64) string {
	d, _ := material.DrillFor(mm)
	return d.Name
}

// panelName is the name of a panel of the blank, where it has that panel.
func panelName(b flat.Blank, i int) string {
	if i < 0 || i >= len(b.Panels) {
		return ""
	}
	return oneLine(b.Panels[i].Name)
}

// marksBlock lists the lines to scribe or pencil, such as the ends of joggles.
func marksBlock(b flat.Blank) block {
	out := block{title: "LINES TO MARK, never to cut  (from the datum)", columns: append(left("what"), right("ends, inch", "ends, mm")...)}
	for _, m := range b.Marks {
		inch, mm := fromTo(b, m.Line)
		out.rows = append(out.rows, []string{oneLine(m.Text), inch, mm})
	}
	if len(b.Marks) > 0 {
		out.lines = []string{"A joggle slopes from where it starts to where it ends; past its end the flange lies offset: inward, toward the inside of its bend, or outward. The fold that proves the blank leaves joggles flat."}
	}
	return out
}

// moldBlock gives the web from mold line to mold line, as its drawing dimensions it: what a
// picture may have no room for, and what the folded part is held against.
func moldBlock(b flat.Blank) block {
	out := block{
		title:   "WEB FROM MOLD LINE TO MOLD LINE, counter-clockwise  (x, y from the datum)",
		columns: append(left("edge"), right("length, inch / mm", "corner at its start", "x, inch", "y, inch", "x, mm", "y, mm")...),
	}
	datum := b.Outline.Bounds().Min
	edges := b.Part.Web.Edges
	for i, e := range edges {
		before, after := edges[(i+len(edges)-1)%len(edges)], edges[(i+1)%len(edges)]
		corner := "beside an arc"
		if e.Bulge == 0 && before.Bulge == 0 {
			to, from := r2.Sub(after.Start, e.Start), r2.Sub(before.Start, e.Start)
			corner = inside(measure.Angle(math.Atan2(r2.Cross(to, from), r2.Dot(to, from)))).Text(2)
		}
		name := oneLine(e.Name)
		if name == "" {
			name = strconv.Itoa(i + 1)
		}
		side := outline.Segment{A: e.Start, B: after.Start, Bulge: e.Bulge}
		p := r2.Sub(e.Start, datum)
		out.rows = append(out.rows, []string{
			name, pair(side.Length()), corner, measure.Fixed(p.X/measure.Inch, 4), measure.Fixed(p.Y/measure.Inch, 4), measure.Fixed(p.X, 3), measure.Fixed(p.Y, 3),
		})
	}
	return out
}

// inside is a corner of the web as its metal fills it, 0 to 360°.
func inside(turn measure.Angle) measure.Angle {
	if turn < 0 {
		return turn + 360*measure.Degree
	}
	return turn
}

const outlineTitle = "CUT OUTLINE, counter-clockwise from the datum"

// outlineBlock lists the cut line, so that it can be marked out or checked by hand.
func outlineBlock(b flat.Blank) block {
	out := block{
		title:   outlineTitle,
		columns: append(right("", "x, inch", "y, inch", "x, mm", "y, mm"), left("then")...),
	}
	datum := b.Outline.Bounds().Min
	list := func(prefix string, path outline.Path) {
		for i, s := range path.Segments() {
			p := r2.Sub(s.A, datum)
			then := "straight"
			if !s.IsLine() {
				c, way := r2.Sub(s.Center(), datum), "counter-clockwise"
				if s.Bulge < 0 {
					way = "clockwise"
				}
				then = fmt.Sprintf("arc R %s %s about (%s) mm", pair(s.Radius()), way, point(c, 1, 3))
			}
			out.rows = append(out.rows, []string{
				prefix + strconv.Itoa(i+1), measure.Fixed(p.X/measure.Inch, 4), measure.Fixed(p.Y/measure.Inch, 4), measure.Fixed(p.X, 3), measure.Fixed(p.Y, 3), then,
			})
		}
	}
	list("", b.Outline)
	for _, c := range b.Cutouts {
		list(oneLine(c.Name)+" ", c.Path)
	}
	return out
}
