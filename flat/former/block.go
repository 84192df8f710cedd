package former

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// A BlockContour says which line the top of a form block is cut to.
type BlockContour uint8

const (
	// InsideMold cuts the block to where the inside faces of web and flange would meet.
	InsideMold BlockContour = iota
	// PartSize cuts the block to the mold line, the size of the finished part. The sheet goes
	// round the outside of it, and the part comes out too big: the classic mistake. It
	// is drawn, and marked not for cutting.
	PartSize
)

// A BlockSpec is what is wanted of the form block. The zero value is useful.
type BlockSpec struct {
	Contour BlockContour
	// Depth of the block, mm; 0 takes the flange and 1/2 in below it.
	Depth float64
	// Overbend is how far past the bend angle the side wall goes; 0 takes it from the
	// springback of the sheet.
	Overbend measure.Angle
	Pin      float64  // diameter of the two tooling pins, mm; 0 takes 1/4 in
	Pins     []r2.Vec // their places; none lets them be chosen
	// CoverRelief is how far inside the mold line the cover plate ends, mm; 0 takes 1/8 in. It
	// always ends at the tangent line at the latest, so as not to lie on the bend.
	CoverRelief float64
}

const (
	usualBelow  = measure.Inch / 2
	usualRelief = measure.Inch / 8
)

func (b BlockSpec) check(f *faults) {
	if b.Contour > PartSize {
		f.add("block contour", number(float64(b.Contour)), "must be the inside mold line or the size of the part")
	}
	f.length("block depth", b.Depth, 0, 1000, "must be 0 (chosen) to 1 m")
	f.angle("block overbend", b.Overbend, 0, 30*measure.Degree, "must be 0 (from springback) to 30°")
	f.length("tooling pin diameter", b.Pin, 0, 50, "must be 0 (1/4 in) to 50 mm")
	f.length("cover relief", b.CoverRelief, 0, 100, "must be 0 (1/8 in) to 100 mm")
	for i, p := range b.Pins {
		if !finite(p.X) || !finite(p.Y) {
			f.add(fmt.Sprintf("tooling pin %d", i+1), fmt.Sprintf("(%g, %g)", p.X, p.Y), "must be finite")
		}
	}
}

// A Block is the form block and the cover plate of a piece, seen from the marking face of the
// blank that lies on it, in its place in the former. Regions: outlines counter-clockwise,
// openings clockwise.
type Block struct {
	Top    []outline.Path // contour of the face the web lies on
	Bottom []outline.Path // contour at Depth; the wall is straight between
	Cover  []outline.Path
	// Segments are the tops of the parts the block is glued up from when one piece of stock does
	// not do: their joints stand away from the splices of the former. None for one part.
	Segments []outline.Path
	Depth    float64
	Edge     float64       // radius of the rounded edge, mm, reduced for springback
	Wall     measure.Angle // that the sheet is turned through on the block, where the bevel is most
	WallEnd  measure.Angle // and where it is least
	Size     Stock
}

// A tooling is the tracks of block and cover along both contours.
type tooling struct {
	outer, inner rimTool
	depth        float64
}

type rimTool struct {
	top, bottom, cover track
	edge               float64
	most, least        measure.Angle
}

// OffsetForBlock is how far the contour of a form block lies inside the mold line: the inside
// faces of a bend meet T·tan(A/2) from where its outside faces do. At 90° that is the
// thickness.
func OffsetForBlock(thickness float64, angle measure.Angle) float64 {
	return thickness * math.Tan(float64(angle)/2)
}

// ToolBend is a bend of the part as it is held on the block, before it springs back:
// its inside radius is that of the block's edge, its angle that of the wall.
func (f Former) ToolBend(b bend.Bend) bend.Bend {
	tool := b
	if spring, _, err := bend.SheetSpringback(f.Sheet); err == nil {
		if t, err := spring.Tool(b); err == nil {
			tool = t
		}
	}
	if f.Block.Overbend > 0 {
		tool.Angle = b.Angle + f.Block.Overbend
	}
	return tool
}

// tool lays the block and cover along both contours.
func (r *Ring) tool() (tooling, error) {
	t := tooling{depth: r.Former.Block.Depth}
	if t.depth == 0 {
		for _, s := range []*Strip{&r.Outer, &r.Inner} {
			if s.rim.Flange != nil {
				for _, b := range s.rim.Flange.Bevels {
					t.depth = max(t.depth, s.rim.Flange.Height*math.Sin(math.Min(float64(b.Angle), math.Pi/2)))
				}
			}
		}
		t.depth += usualBelow
	}
	var err error
	if t.outer, err = r.rimTool(&r.Outer, t.depth); err != nil {
		return t, err
	}
	if r.Inner.contour != nil {
		t.inner, err = r.rimTool(&r.Inner, t.depth)
	}
	return t, err
}

func (r *Ring) rimTool(s *Strip, depth float64) (rimTool, error) {
	spec, t := r.Former.Block, r.Former.Sheet.Thickness
	relief := spec.CoverRelief
	if relief == 0 {
		relief = usualRelief
	}
	c, fl := s.contour, s.rim.Flange
	tool := rimTool{edge: math.Inf(1), least: 2 * largestBevel}
	top, bottom := constant(0), constant(0)
	cover := constant(-relief)
	if fl == nil {
		tool.edge = 0
	} else {
		at := s.bevels(0)
		topAt := func(girth float64) float64 {
			if spec.Contour == PartSize {
				return 0
			}
			return -OffsetForBlock(t, at(girth).Bend.Angle)
		}
		knots := bevelKnots(fl.Bevels)
		top = profile{knots, topAt}
		bottom = profile{knots, func(girth float64) float64 {
			wall := r.Former.ToolBend(at(girth).Bend).Angle
			// The wall leaves the top at the angle turned: down by the depth it stands
			// out by its cotangent.
			return topAt(girth) + depth/math.Tan(float64(wall))
		}}
		cover = profile{knots, func(girth float64) float64 { return -max(relief, at(girth).Setback) }}
		for _, b := range fl.Bevels {
			held := r.Former.ToolBend(s.sectionAt(b.At, 0).Bend)
			tool.edge = min(tool.edge, held.Radius)
			tool.most, tool.least = max(tool.most, held.Angle), min(tool.least, held.Angle)
		}
	}
	var err [3]error
	tool.top, err[0] = c.moved(top)
	tool.bottom, err[1] = c.moved(bottom)
	tool.cover, err[2] = c.moved(cover)
	for _, e := range err {
		if e != nil {
			return tool, &Error{"block", "", e.Error()}
		}
	}
	for _, p := range []struct {
		what string
		track
	}{{"top", tool.top}, {"bottom", tool.bottom}, {"cover plate", tool.cover}} {
		if e := p.Validate(); e != nil {
			return tool, &Error{"block depth", mm(depth), fmt.Sprintf("the contour of the %s runs over itself: %v", p.what, e)}
		}
	}
	return tool, nil
}

func bevelKnots(bevels []Bevel) []float64 {
	knots := make([]float64, len(bevels))
	for i, b := range bevels {
		knots[i] = b.At
	}
	return knots
}

// block draws the block of a piece.
func (r *Ring) block(p *Piece, t tooling, whole bool, a, b joint) error {
	k := &p.Block
	k.Depth = t.depth
	k.Edge, k.Wall, k.WallEnd = t.outer.edge, t.outer.most, t.outer.least
	if fl := r.Former.Inner.Flange; fl != nil && r.Inner.contour != nil {
		if r.Former.Outer.Flange == nil {
			k.Edge, k.Wall, k.WallEnd = t.inner.edge, t.inner.most, t.inner.least
		} else {
			k.Edge, k.Wall, k.WallEnd = min(k.Edge, t.inner.edge), max(k.Wall, t.inner.most), min(k.WallEnd, t.inner.least)
		}
	}
	if r.Former.Outer.Flange == nil && r.Former.Inner.Flange == nil {
		k.WallEnd = 0
	}
	var err error
	draw := func(outer, inner track) []outline.Path {
		if whole {
			if r.Inner.contour == nil {
				return []outline.Path{outer.Path}
			}
			return []outline.Path{outer.Path, inner.Path}
		}
		path, fault := r.region(outer, inner, a, b, nil)
		if fault != nil && err == nil {
			err = fault
		}
		return []outline.Path{path}
	}
	k.Top = draw(t.outer.top, t.inner.top)
	k.Bottom = draw(t.outer.bottom, t.inner.bottom)
	k.Cover = draw(t.outer.cover, t.inner.cover)
	if err != nil {
		return err
	}
	k.Size = sizeOf(k.Top[0], k.Bottom[0]) // a wall may lean in here and out there
	return r.glueUp(k, t, whole, a, b)
}

// glueUp divides a block that the stock does not hold into parts, with joints at even girths
// half a part away from where the former is joined.
func (r *Ring) glueUp(k *Block, t tooling, whole bool, a, b joint) error {
	stock := r.Former.Split.BlockStock
	if stock.Takes(k.Size) || r.Inner.contour == nil {
		return nil
	}
	c := r.Outer.contour
	for n := 2; n <= mostPieces; n++ {
		var joints []joint
		length := c.length()
		if !whole {
			length = c.ahead(a.girth, b.girth)
		}
		// Round a whole ring the n joints stand half a part from its start. Of a piece
		// the two ends are joints too, where the piece ends.
		for i := range n + 1 {
			at := a.girth + length*float64(i)/float64(n)
			if whole {
				at += length / float64(2*n)
			}
			j, ok := r.jointAt(at)
			if !ok {
				return nil
			}
			switch {
			case whole:
			case i == 0:
				j = a
			case i == n:
				j = b
			}
			joints = append(joints, j)
		}
		var parts []outline.Path
		fits := true
		for i := range n {
			path, err := r.region(t.outer.top, t.inner.top, joints[i], joints[i+1], nil)
			if err != nil {
				return err
			}
			under, err := r.region(t.outer.bottom, t.inner.bottom, joints[i], joints[i+1], nil)
			if err != nil {
				return err
			}
			fits = fits && stock.Takes(sizeOf(path, under))
			parts = append(parts, path)
		}
		if fits {
			k.Segments = parts
			return nil
		}
	}
	return nil
}

// judgeBlock is what a foreman says of a block.
func (r *Ring) judgeBlock() []flat.Finding {
	var list []flat.Finding
	f := r.Former
	t := f.Sheet.Thickness
	if f.Block.Contour == PartSize {
		for _, s := range []*Strip{&r.Outer, &r.Inner} {
			if s.rim.Flange == nil {
				continue
			}
			big := 0.0
			for _, b := range s.rim.Flange.Bevels {
				big = max(big, OffsetForBlock(t, b.Angle))
			}
			list = append(list, flat.Finding{Severity: flat.Stop, Place: "form block", At: s.Mold.Vertices[0].P,
				Text:   "a block cut to the size of the part makes the part too big by this much all along the flange: the sheet goes round the outside of it",
				Figure: big, Limit: 0, Unit: bend.Length, Source: practice("block smaller than the part by the sheet")})
		}
	}
	outer, inner := f.Outer.Flange, f.Inner.Flange
	if outer != nil && inner != nil && f.hollow() && outer.Turn != inner.Turn {
		list = append(list, flat.Finding{Severity: flat.Warn, Place: "form block", At: r.Outer.Mold.Vertices[0].P,
			Text: "one flange goes up and the other down: form one over the block, turn the part over, and form the other over a second block", Source: practice("order of forming")})
	}
	if _, _, err := bend.SheetSpringback(f.Sheet); err != nil && f.Block.Overbend == 0 {
		list = append(list, flat.Finding{Severity: flat.Warn, Place: "form block", At: r.Outer.Mold.Vertices[0].P,
			Text: "no yield strength is at hand for " + f.Sheet.Material.String() + ": the block has no overbend; give one", Source: practice("overbend for springback")})
	}
	return append(list, r.judgeWall()...)
}

// Remembered undercuts of form blocks; they warn and refuse nothing.
var undercuts = [...]struct {
	temper      string
	least, most measure.Angle
}{{"O", 1 * measure.Degree, 3 * measure.Degree}, {"T3", 5 * measure.Degree, 7 * measure.Degree}}

func (r *Ring) judgeWall() []flat.Finding {
	var list []flat.Finding
	whole := len(r.Pieces) == 1
	for _, rim := range []struct {
		name string
		*Strip
	}{{"outer", &r.Outer}, {"inner", &r.Inner}} {
		if rim.rim.Flange == nil {
			continue
		}
		list = append(list, r.judgeOverbend(rim.name, rim.Strip)...)
		most := slices.MaxFunc(rim.rim.Flange.Bevels, func(a, b Bevel) int { return cmp.Compare(a.Angle, b.Angle) })
		if whole && most.Angle > 90*measure.Degree {
			list = append(list, flat.Finding{Severity: flat.Warn, Place: "form block, " + rim.name + " wall", At: rim.contour.frame(most.At).p,
				Text:   "a closed bevel that goes all round holds the part on its block: make the block in parts that come out one by one",
				Figure: float64(most.Angle), Limit: float64(90 * measure.Degree), Unit: bend.Degrees, Source: geometry})
		}
		list = append(list, r.judgeShift(rim.name, rim.Strip)...)
	}
	return list
}

// judgeOverbend holds the least and the most overbend of a wall against what shops give.
func (r *Ring) judgeOverbend(name string, s *Strip) []flat.Finding {
	over := func(b Bevel) measure.Angle { return r.Former.ToolBend(s.sectionAt(b.At, 0).Bend).Angle - b.Angle }
	byOver := func(a, b Bevel) int { return cmp.Compare(over(a), over(b)) }
	for _, u := range undercuts {
		if u.temper != r.Former.Sheet.Material.Temper {
			continue
		}
		least, most := slices.MinFunc(s.rim.Flange.Bevels, byOver), slices.MaxFunc(s.rim.Flange.Bevels, byOver)
		worst, limit := least, u.least
		if over(least) >= u.least {
			worst, limit = most, u.most
			if over(most) <= u.most {
				continue
			}
		}
		return []flat.Finding{{Severity: flat.Note, Place: "form block, " + name + " wall", At: s.contour.frame(worst.At).p,
			Text:   fmt.Sprintf("overbend is outside the %s to %s that shops give %s: bend a trial piece", u.least, u.most, r.Former.Sheet.Material),
			Figure: float64(over(worst)), Limit: float64(limit), Unit: bend.Degrees, Source: remembered("shop practice for undercut of form blocks")}}
	}
	return nil
}

// judgeShift tells how much the part grows because block and bend do not have the same
// tangent line: it stays where the block's edge radius begins, and opens from there.
func (r *Ring) judgeShift(name string, s *Strip) []flat.Finding {
	worst, at := 0.0, 0.0
	for _, b := range s.rim.Flange.Bevels {
		if d := r.Former.tangentShift(s.sectionAt(b.At, 0).Bend); math.Abs(d) > math.Abs(worst) {
			worst, at = d, b.At
		}
	}
	if math.Abs(worst) < shiftWorthTelling {
		return nil
	}
	return []flat.Finding{{Severity: flat.Note, Place: "form block, " + name + " edge", At: s.contour.frame(at).p,
		Text:   "after springback the mold line lies this far outside the drawing's (inside, when negative), because the sheet is turned further on the block than it stays: allow for it or set the flange over",
		Figure: -worst, Limit: shiftWorthTelling, Unit: bend.Length, Source: geometry}}
}

// shiftWorthTelling is below what anybody cuts a block to, mm.
const shiftWorthTelling = 0.1

// tangentShift is R'·tan(A'/2) - R·tan(A/2): how much farther in the tangent line
// starts on the block than in the part.
func (f Former) tangentShift(b bend.Bend) float64 {
	held := f.ToolBend(b)
	return held.Radius*math.Tan(float64(held.Angle)/2) - b.Radius*math.Tan(float64(b.Angle)/2)
}
