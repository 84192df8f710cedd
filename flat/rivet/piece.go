package rivet

import (
	"fmt"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// pieces lays the sheets flat with their holes.
func (j *fitting) pieces() error {
	p := &j.out.Patch
	on, in, behind := p.Sheet.Thickness/2, p.level(), p.level()-p.Skin.Thickness
	rows := 1 // groups round the opening
	if p.Fitting == Insert {
		rows = 2
	}
	var members []int
	for g := rows; g < len(j.out.Groups); g++ {
		members = append(members, g)
	}
	switch p.Fitting {
	case Lap:
		return j.cut("patch", p.Sheet, on, j.outer, nil, nil, append([]int{0}, members...))
	case Joggled:
		return j.joggled(append([]int{0}, members...))
	case Ring:
		return j.cut("ring", p.Sheet, behind, j.outer, []outline.Path{j.hollow}, nil, []int{0})
	}
	if err := j.cut("insert", p.Sheet, in, j.insert, nil, nil, append([]int{1}, members...)); err != nil {
		return err
	}
	return j.cut("doubler", p.Doubler, -p.Skin.Thickness-p.Doubler.Thickness/2, j.outer, []outline.Path{j.hollow},
		[]Line{{"edge of the opening", p.Opening}, {"edge of the insert", j.insert}}, []int{0, 1})
}

// cut lays one piece flat that lies at one level. Groups are the rivets that go through it.
func (j *fitting) cut(name string, sheet material.Sheet, above float64, edge outline.Path, openings []outline.Path, lines []Line, groups []int) error {
	p := &j.out.Patch
	piece := Piece{Name: name, Sheet: sheet, Above: above}
	var err error
	if piece.Outline, err = p.Roll.Flatten(edge, above); err != nil {
		return err
	}
	for _, o := range openings {
		q, err := p.Roll.Flatten(counterClockwise(o).Reverse(), above)
		if err != nil {
			return err
		}
		piece.Openings = append(piece.Openings, q)
	}
	for _, l := range lines {
		q, err := p.Roll.Flatten(l.Path, above)
		if err != nil {
			return err
		}
		piece.Lines = append(piece.Lines, Line{l.Name, q})
	}
	if p.Roll.Radius > 0 {
		j.out.Steps = append(j.out.Steps, p.Roll.step(name, p.Roll.width(edge), above))
	}
	j.finish(piece, groups)
	return nil
}

// finish puts into a piece that is laid flat what goes by its shape.
func (j *fitting) finish(piece Piece, groups []int) {
	p := &j.out.Patch
	piece.Area = piece.Outline.Area()
	for _, q := range piece.Openings {
		piece.Area += q.Area()
	}
	if p.Roll.Radius > 0 {
		piece.Lines = append(piece.Lines, p.Roll.axes(piece.Outline)...)
	}
	for _, g := range groups {
		group := j.out.Groups[g]
		for _, row := range j.out.Layout.Rows[group.From:group.To] {
			for _, h := range row.Holes {
				at := p.Roll.At(h.At, piece.Above)
				if p.Fitting == Joggled && g == 0 {
					at = p.onRim(h.At)
				}
				piece.Holes = append(piece.Holes, at)
			}
		}
	}
	if mass, err := piece.Sheet.MassPerArea(); err == nil {
		piece.Mass = mass * piece.Area
	}
	j.out.Pieces = append(j.out.Pieces, piece)
}

// axes marks the straight lines of the roll on either side of a flat piece: kept parallel to the
// rolls, the skin comes out without twist.
func (r Roll) axes(p outline.Path) []Line {
	back := outline.Rotate(r2.Vec{}, r.Axis)
	box := p.Transform(outline.Rotate(r2.Vec{}, -r.Axis)).Bounds()
	long, wide := (box.Max.X-box.Min.X)*0.15, box.Max.Y-box.Min.Y
	mid := (box.Min.X + box.Max.X) / 2
	var list []Line
	for _, part := range []float64{0.25, 0.75} {
		y := box.Min.Y + part*wide
		list = append(list, Line{"keep parallel to the rolls", outline.Polyline(back.Apply(r2.Vec{X: mid - long, Y: y}), back.Apply(r2.Vec{X: mid + long, Y: y}))})
	}
	return list
}

// remarks holds every group against the rules and the shapes against those of patches.
func (j *fitting) remarks() {
	p := &j.out.Patch
	for n, g := range j.out.Groups {
		c := Check{Layout: Layout{Rivet: p.Rivet, Rows: j.out.Layout.Rows[g.From:g.To]}, Stack: g.Stack, Edges: j.edgesOf(n)}
		list, err := c.Findings()
		if err != nil {
			continue // everything in it has been checked
		}
		for _, f := range list {
			j.say(f, g.Name)
		}
	}
	j.crossings()
	j.corners()
	if least := leastRunOut(p.Sheet.Material.Temper); p.Fitting == Joggled && p.RunOut < least {
		j.find(flat.Warn, "joggle", "run-out is short for its depth", p.RunOut, least, bend.None, material.Source{Document: "shop guidance on joggles", Provenance: material.Memory})
	}
	if p.Fitting == Joggled && p.Roll.Radius > 0 {
		shrinks := p.Skin.Thickness / (p.Roll.Radius + p.level())
		j.find(flat.Note, "joggle", fmt.Sprintf("beyond the ends of the middle its rim lies nearer the axis, and has to shrink %.1f %% round the curve: work it in", 100*shrinks), shrinks, 0, bend.None, geometry)
	}
	if p.Fitting == Lap && len(p.Members) > 0 {
		j.find(flat.Note, "patch", "lies on the skin: where a member runs under the opening it wants a filler as thick as the skin", 0, 0, bend.None, geometry)
	}
	if p.Fitting != Ring && p.Sheet.Thickness < p.Skin.Thickness-slip {
		j.find(flat.Warn, "patch", "sheet is thinner than the skin it makes whole", p.Sheet.Thickness, p.Skin.Thickness, bend.Length, practice("a patch is at least as thick as the skin"))
	}
	j.strength()
	j.find(flat.Warn, p.Name, "a repair outside the maintenance data needs approved data; the maker's own repair manual beats a general one", 0, 0, bend.None,
		material.Source{Document: "FAA AC 43.13-1B", Place: "ch. 4; NAVEDTRA 14018, ch. 13", Provenance: material.Read})
}

// say adds a finding of a group. What is said of its sheets is said once for all groups it holds of.
func (j *fitting) say(f flat.Finding, group string) {
	if f.Place != ofRivet && f.Place != ofHoles && f.Place != ofSheet {
		j.out.Findings = append(j.out.Findings, f)
		return
	}
	for i := range j.out.Findings {
		if was := &j.out.Findings[i]; was.Text == f.Text && was.Figure == f.Figure && was.Limit == f.Limit {
			was.Place += ", " + group
			return
		}
	}
	f.Place += " of " + group
	j.out.Findings = append(j.out.Findings, f)
}

// leastRunOut of a joggle, lengths to depth, by temper (from memory).
func leastRunOut(temper string) float64 {
	switch temper {
	case "O":
		return 3
	case "T6":
		return 8
	}
	return 4
}

func (j *fitting) find(s flat.Severity, place, text string, figure, limit float64, unit bend.Unit, source material.Source) {
	j.out.Findings = append(j.out.Findings, flat.Finding{Severity: s, Place: place, Text: text, Figure: figure, Limit: limit, Unit: unit, Source: source})
}

// edgesOf are the sheet edges that a group's rivets go by.
func (j *fitting) edgesOf(group int) []SheetEdge {
	opening := SheetEdge{Name: "the edge of the opening", Path: j.out.Patch.Opening.Reverse(), HeldDown: true}
	patch := SheetEdge{Name: "the edge of the patch", Path: j.outer, HeldDown: group == 0}
	if j.out.Patch.Fitting != Insert {
		switch {
		case group == 0:
			return []SheetEdge{patch, opening}
		case j.out.Patch.Fitting == Ring:
			return []SheetEdge{opening}
		}
		return []SheetEdge{patch}
	}
	insert := SheetEdge{Name: "the edge of the insert", Path: j.insert, HeldDown: group == 1}
	switch group {
	case 0:
		patch.Name = "the edge of the doubler"
		return []SheetEdge{patch, opening}
	case 1:
		return []SheetEdge{insert, {Name: "the inner edge of the doubler", Path: j.hollow.Reverse(), HeldDown: true}}
	}
	return []SheetEdge{insert}
}

// crossings measures rivets of different groups against each other: a member's row that runs
// into the rim's.
func (j *fitting) crossings() {
	i := inspection{Check: Check{Layout: Layout{Rivet: j.out.Patch.Rivet}}}
	for _, g := range j.out.Groups {
		one := Row{Name: g.Name}
		for _, row := range j.out.Layout.Rows[g.From:g.To] {
			one.Holes = append(one.Holes, row.Holes...)
		}
		i.Layout.Rows = append(i.Layout.Rows, one)
	}
	i.spacing()
	j.out.Findings = append(j.out.Findings, i.list...)
}

// Least radii of corners: of a cut-out (NAVEDTRA 14018), and of a patch (US Army AL0992).
const cutOutCorner, patchCorner = 0.25 * measure.Inch, 0.5 * measure.Inch

// corners looks at the corners of what is cut.
func (j *fitting) corners() {
	least := func(p outline.Path) (radius float64, at r2.Vec) {
		radius = 1e9
		n := p.NumSegments()
		for i, s := range p.Segments() {
			if turn(p.Segment((i+n-1)%n), s) > sharp {
				return 0, s.A
			}
			if s.Bulge > 0 && s.Radius() < radius {
				radius, at = s.Radius(), s.At(0.5)
			}
		}
		return radius, at
	}
	say := func(place string, p outline.Path, limit float64, text string, source material.Source) {
		if r, at := least(p); r < limit-slip {
			j.out.Findings = append(j.out.Findings, flat.Finding{Severity: flat.Warn, Place: place, At: at, Text: text, Figure: r, Limit: limit, Unit: bend.Length, Source: source})
		}
	}
	say("opening", j.out.Patch.Opening, cutOutCorner, "corner radius of a cut-out is small: a crack starts there", navSource)
	say("patch", j.outer, patchCorner, "corner radius of a patch is small", armySource)
}
