package flat

import (
	"fmt"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
)

// An opening is a hole or a cut-out while it is inspected: the rim of what the
// finished feature takes up, and its radius about at where it is round.
type opening struct {
	place string
	at    r2.Vec
	rim   outline.Path
	round float64
	row   int // as of [BlankHole.Row]
}

// clear is the metal between an opening and a path that it does not cross.
func (o *opening) clear(p outline.Path) float64 {
	if o.round > 0 {
		return p.Distance(o.at) - o.round
	}
	clear, _, _ := outline.Clearance(o.rim, p)
	return clear
}

// crosses reports whether the rim of an opening meets a path. A round one that the
// path stays clear of needs no closer look.
func (o *opening) crosses(p outline.Path) bool {
	if o.round > 0 && o.clear(p) > 2*coincident {
		return false
	}
	return len(o.rim.Crossings(p, coincident)) > 0
}

// inspectOpenings holds every opening against the bends beside it, the edge of
// the sheet and the other openings.
func (l *layout) inspectOpenings() {
	b := &l.blank
	if len(b.Holes)+len(b.Cutouts) == 0 {
		return
	}
	openings := make([]opening, 0, len(b.Holes)+len(b.Cutouts))
	for i, h := range b.Holes {
		place := quoted(h.Purpose.String(), h.Name, i) + " in " + b.Panels[h.Panel].Name
		openings = append(openings, opening{place, h.Center, outline.Circle(h.Center, h.Keep), h.Keep, h.Row})
	}
	for i, c := range b.Cutouts {
		openings = append(openings, opening{quoted("cut-out", c.Name, i) + " in " + b.Panels[c.Panel].Name, c.Path.Vertices[0].P, c.Path, 0, 0})
	}
	zones := make([]outline.Path, len(b.Bends))
	for i := range b.Bends {
		zones[i] = outline.Polygon(b.Bends[i].Zone...)
	}
	from := len(b.Findings)
	var rows []int // of each finding from there on
	for i := range openings {
		l.inspectOpening(&openings[i], zones)
		for j := range openings[:i] {
			l.inspectPair(&openings[j], &openings[i])
		}
		for len(b.Rows) > 0 && len(rows) < len(b.Findings)-from {
			rows = append(rows, openings[i].row)
		}
	}
	if len(b.Rows) > 0 {
		l.onceARow(from, rows)
	}
	l.inspectLips()
}

func (l *layout) inspectOpening(o *opening, zones []outline.Path) {
	if l.blank.Outline.Side(o.at) != outline.Inside || o.crosses(l.blank.Outline) {
		l.find(Finding{Severity: Stop, Place: o.place, At: o.at, Text: "opening is not within the blank", Source: geometry})
		return
	}
	l.inspectMetal(o, l.blank.Outline, "the edge of the sheet")
	for i := range l.blank.Bends {
		line := &l.blank.Bends[i]
		zone := zones[i]
		if zone.Side(o.at) == outline.Inside || o.crosses(zone) {
			l.find(Finding{Severity: Stop, Place: o.place, At: o.at, Text: fmt.Sprintf("opening runs into the bend of flange %q", line.Name), Source: geometry})
			continue
		}
		least := 2*line.Bend.Thickness + line.Bend.Radius
		if clear := o.clear(zone); clear < least {
			l.find(Finding{Warn, o.place, o.at, fmt.Sprintf("edge of the opening is near the bend of flange %q", line.Name), clear, least, bend.Length, holeToBend})
		}
	}
}

func (l *layout) inspectPair(o, p *opening) {
	if o.row != 0 && o.row == p.row {
		return // their pitch has been held against the rivets
	}
	a, b, near := o.rim.Bounds(), p.rim.Bounds(), 2*l.part.Sheet.Thickness
	if a.Min.X > b.Max.X+near || b.Min.X > a.Max.X+near || a.Min.Y > b.Max.Y+near || b.Min.Y > a.Max.Y+near {
		return
	}
	if o.crosses(p.rim) || o.rim.Side(p.at) == outline.Inside || p.rim.Side(o.at) == outline.Inside {
		l.find(Finding{Severity: Stop, Place: p.place, At: p.at, Text: "opening runs into " + o.place, Source: geometry})
		return
	}
	if p.round == 0 && o.round > 0 {
		o, p = p, o // measure from the round one
	}
	l.inspectMetal(p, o.rim, o.place)
}

func (l *layout) inspectMetal(o *opening, other outline.Path, name string) {
	least := 2 * l.part.Sheet.Thickness
	if left := o.clear(other); left < least {
		l.find(Finding{Warn, o.place, o.at, "little metal is left beside " + name, left, least, bend.Length, holeToEdge})
	}
}

// inspectLips tells how far the lip of each lightening hole is stretched. The
// limit is remembered, so it warns and no more.
func (l *layout) inspectLips() {
	const guidance = 0.10
	t := l.part.Sheet.Thickness
	for i, w := range l.wanted {
		for k, h := range w.features.Lightening {
			if stretch := h.Stretch(t); stretch > guidance {
				at := l.onBlank(i, h.At)
				l.find(Finding{Warn, quoted("lightening hole", h.Name, k) + " in " + l.blank.Panels[i].Name, at,
					"edge of the lip is stretched by this part of its length", stretch, guidance, bend.None, lipStretch})
			}
		}
	}
}
