package former

import (
	"fmt"
	"math"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/material"
	"gonum.org/v1/gonum/spatial/r2"
)

// inspect says what a foreman would.
func (r *Ring) inspect() {
	add := func(list ...flat.Finding) { r.Findings = append(r.Findings, list...) }
	if f, asked := flat.AskGauge("sheet", r.Former.Sheet); asked {
		add(f)
	}
	if r.Former.Outer.Flange != nil {
		add(r.judgeFlange("outer flange", &r.Outer)...)
	}
	if r.Former.Inner.Flange != nil {
		add(r.judgeFlange("inner flange", &r.Inner)...)
	}
	add(r.judgeSlots(r.cut)...)
	add(r.judgeSplices()...)
	add(r.judgeBlock()...)
	add(r.judgePieces()...)
}

// Stopped reports whether a finding forbids cutting.
func (r Ring) Stopped() bool {
	for _, f := range r.Findings {
		if f.Severity == flat.Stop {
			return true
		}
	}
	return false
}

func (r *Ring) judgeFlange(place string, s *Strip) []flat.Finding {
	list := judgeStrain(place, *s, r.guide, r.guided, r.Former.Sheet.Material)
	fl := s.rim.Flange
	at := s.Mold.Vertices[0].P
	for _, f := range flat.RadiusFindings(r.Former.Sheet, fl.Radius) {
		f.Place, f.At = place, at
		list = append(list, f)
	}
	if row := fl.Rivets; row.Diameter > 0 {
		src := material.Source{Document: "US Army subcourse AL0992", Place: "edge distance at least two diameters", Provenance: material.Read}
		edge := fl.Height - s.rivetLine()
		if edge < 2*row.Diameter {
			list = append(list, flat.Finding{Severity: flat.Warn, Place: place, At: at, Text: "rivets stand nearer than two diameters to the edge",
				Figure: edge, Limit: 2 * row.Diameter, Unit: bend.Length, Source: src})
		}
		bent := 0.0
		for _, b := range fl.Bevels {
			bent = max(bent, s.sectionAt(b.At, 0).Setback)
		}
		if s.rivetLine()-bent < row.Diameter {
			list = append(list, flat.Finding{Severity: flat.Warn, Place: place, At: at, Text: "rivet heads stand on the bend",
				Figure: s.rivetLine() - bent, Limit: row.Diameter, Unit: bend.Length, Source: practice("rivet heads clear of the bend")})
		}
	}
	list = append(list, s.judgeModels(place)...)
	return append(list, judgeTwist(place, s)...)
}

// judgeModels says where the two models of development differ most: what to leave for trimming.
func (s *Strip) judgeModels(place string) []flat.Finding {
	var most Strain
	for _, e := range s.Strains {
		if math.Abs(e.ByArc.Width-e.ByArea.Width) > math.Abs(most.ByArc.Width-most.ByArea.Width) {
			most = e
		}
	}
	gap := math.Abs(most.ByArc.Width - most.ByArea.Width)
	if gap < 0.5 || s.rim.Flange.Trim >= gap {
		return nil
	}
	return []flat.Finding{{Severity: flat.Note, Place: fmt.Sprintf("%s at girth %s", place, mm(math.Round(most.Girth))), At: most.At,
		Text:   "equal arc and equal area differ by this much in the width of the blank, more than is left to trim: form a trial piece or leave more",
		Figure: gap, Limit: s.rim.Flange.Trim, Unit: bend.Length, Source: geometry}}
}

// judgeTwist gives the steepest change of a bevel along the contour.
func judgeTwist(place string, s *Strip) []flat.Finding {
	bevels := s.rim.Flange.Bevels
	steepest, at := 0.0, 0.0
	for i, b := range bevels {
		next := bevels[(i+1)%len(bevels)]
		run := next.At - b.At
		if run <= 0 {
			run += s.contour.length()
		}
		if per := math.Abs(float64(next.Angle-b.Angle)) / run * 100; per > steepest {
			steepest, at = per, b.At
		}
	}
	if steepest == 0 {
		return nil
	}
	return []flat.Finding{{Severity: flat.Note, Place: fmt.Sprintf("%s from girth %s", place, mm(math.Round(at))), At: s.contour.frame(at).p,
		Text:   "the bevel changes most here, by this much in 100 mm: the block's wall is ruled, not a plane",
		Figure: steepest, Unit: bend.Degrees, Source: geometry}}
}

func (r *Ring) judgeSplices() []flat.Finding {
	var list []flat.Finding
	c, split := r.Outer.contour, r.Former.Split
	add := func(sev flat.Severity, s Splice, text string, figure, limit float64, unit bend.Unit, src material.Source) {
		list = append(list, flat.Finding{Severity: sev, Place: "splice " + s.Name, At: c.frame(s.Girth).p, Text: text, Figure: figure, Limit: limit, Unit: unit, Source: src})
	}
	for _, s := range r.Splices {
		if s.OffTable {
			add(flat.Warn, s, "the table has no rivet count for this rivet in this sheet: the count is a guess at one each four diameters", s.Rivet, 0, bend.Length, rivetSource)
		}
		if s.Crowded {
			add(flat.Warn, s, "the web is too narrow for rivets with two diameters of edge distance in a plate clear of the bends", 0, 0, bend.None, practice("edge distance in splice plates"))
		}
		for i := range r.cut {
			k := &r.cut[i]
			if d := c.distance(k.at, s.Girth) - k.half; d < s.Half {
				add(flat.Warn, s, cutName(k.Cutout, i)+" lies within the splice plate", d, s.Half, bend.Length, practice("splices clear of cut-outs"))
			}
		}
		for _, n := range split.Neighbours {
			if d := c.distance(n, s.Girth); d < split.Stagger {
				add(flat.Warn, s, "it is not staggered from the joint of the frame beside it", d, split.Stagger, bend.Length,
					material.Source{Document: "FAA AC 43.13-1B", Place: "ch. 4: splices of neighbours staggered", Provenance: material.Read})
			}
		}
	}
	if len(r.Splices) > 0 {
		if m := r.Former.Sheet.Material; m.Alloy != "2024" && m.Alloy != "2014" {
			add(flat.Warn, r.Splices[0], "the rivet table is for clad 2014 and 2024, not for "+m.String(), 0, 0, bend.None, rivetSource)
		} else if m.Temper == "O" {
			add(flat.Note, r.Splices[0], "the rivet table is for heat-treated sheet: "+m.String()+" is heat treated after forming, before it is joined", 0, 0, bend.None, rivetSource)
		}
	}
	return list
}

func (r *Ring) judgePieces() []flat.Finding {
	var list []flat.Finding
	split := r.Former.Split
	short := func(size, stock Stock) (float64, float64) {
		if size.Length > max(stock.Length, stock.Width) {
			return size.Length, max(stock.Length, stock.Width)
		}
		return size.Width, min(stock.Length, stock.Width)
	}
	for i := range r.Pieces {
		p := &r.Pieces[i]
		add := func(sev flat.Severity, text string, at r2.Vec, figure, limit float64, src material.Source) {
			list = append(list, flat.Finding{Severity: sev, Place: "piece " + p.Name, At: at, Text: text, Figure: figure, Limit: limit, Unit: bend.Length, Source: src})
		}
		middle := r.Outer.contour.frame(p.From).p
		if !split.Stock.Takes(p.Size) {
			fig, lim := short(p.Size, split.Stock)
			add(flat.Warn, "does not come out of the sheet at hand: ask for more pieces", middle, fig, lim, material.Source{Document: "stock at hand", Provenance: material.Measured})
		}
		if !split.BlockStock.Takes(p.Block.Size) {
			fig, lim := short(p.Block.Size, split.BlockStock)
			if n := len(p.Block.Segments); n > 0 {
				add(flat.Note, fmt.Sprintf("its block does not come out of the stock in one: it is glued up from %d parts, joined away from the splices", n), middle, fig, lim, material.Source{Document: "stock at hand", Provenance: material.Measured})
			} else {
				add(flat.Warn, "its block does not come out of the stock at hand", middle, fig, lim, material.Source{Document: "stock at hand", Provenance: material.Measured})
			}
		}
		a, b := joint{girth: p.From}, joint{girth: p.To}
		if text, at := r.pinFaults(p, len(r.Splices) == 0, a, b); text != "" {
			add(flat.Warn, text, at, 0, 0, practice("tooling pins through plate, blank and block"))
		}
	}
	return list
}
