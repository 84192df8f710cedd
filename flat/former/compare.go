package former

import (
	"errors"
	"fmt"
	"math"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// A Choice is what making a ring in so many pieces comes to.
type Choice struct {
	Pieces     int
	Blank      Stock   // the largest blank
	Block      Stock   // the largest block
	Sheet      float64 // area of all the rectangles the blanks come out of, mm²
	Used       float64 // share of it that becomes blanks
	Stretch    float64 // most, at any edge; below 0 when all edges shrink
	Shrink     float64 // most, below 0; above 0 when all edges stretch
	AtJoints   float64 // largest strain, either way, where a joint stands
	Splices    int
	Rivets     int     // in all splices, both sides
	PlateMass  float64 // g, of the plates on the web
	FitsSheet  bool
	FitsBlock  bool // every block in one part
	BlockParts int  // most parts that a block is glued up from; 1 when it comes out in one
	Ring       Ring
}

// Compare lays the former out in each of the numbers of pieces, joints chosen anew for
// each, and shows what changes. It recommends none. A number of pieces in which it cannot be made
// is left out of the list and told by the errors, joined: those of [Develop].
func Compare(f Former, pieces ...int) ([]Choice, error) {
	var list []Choice
	var bad []error
	for _, n := range pieces {
		f.Split.Pieces, f.Split.Joints = n, nil
		r, err := Develop(f)
		if err != nil {
			bad = append(bad, fmt.Errorf("in %d pieces: %w", n, err))
			continue
		}
		list = append(list, r.Choice())
	}
	return list, errors.Join(bad...)
}

// Choice sums the ring up.
func (r Ring) Choice() Choice {
	c := Choice{Pieces: len(r.Pieces), Stretch: math.Inf(-1), Shrink: math.Inf(1), FitsSheet: true, FitsBlock: true, BlockParts: 1, Ring: r, Splices: len(r.Splices)}
	for _, s := range []*Strip{&r.Outer, &r.Inner} {
		if stretch, shrink, ok := s.Worst(); ok {
			c.Stretch, c.Shrink = max(c.Stretch, stretch.Value()), min(c.Shrink, shrink.Value())
		}
	}
	if c.Stretch < c.Shrink {
		c.Stretch, c.Shrink = 0, 0 // no flange at all
	}
	used := 0.0
	for _, p := range r.Pieces {
		c.Sheet += p.Size.Length * p.Size.Width
		used += p.Area
		if p.Size.Length > c.Blank.Length {
			c.Blank = p.Size
		}
		if p.Block.Size.Length > c.Block.Length {
			c.Block = p.Block.Size
		}
		c.FitsSheet = c.FitsSheet && r.Former.Split.Stock.Takes(p.Size)
		c.FitsBlock = c.FitsBlock && r.Former.Split.BlockStock.Takes(p.Block.Size)
		c.BlockParts = max(c.BlockParts, len(p.Block.Segments))
	}
	c.Used = used / c.Sheet
	perArea, err := r.Former.Sheet.MassPerArea()
	for _, s := range r.Splices {
		c.Rivets += 2 * s.Rivets
		c.AtJoints = max(c.AtJoints, math.Abs(r.Outer.StrainAt(s.Girth).Value()), math.Abs(r.Inner.StrainAt(s.inner).Value()))
		if err == nil {
			c.PlateMass += s.Plate.Area() * perArea * s.Thick / r.Former.Sheet.Thickness
		}
	}
	return c
}

// A Change is one number that another sheet changes.
type Change struct {
	Quantity string
	Old, New float64
	Unit     bend.Unit
}

// Substitute shows what changes for block and blank when the part is made of another sheet, mold
// lines and radii staying: a block made for the old sheet gives a part of the wrong size with
// the new. It recommends nothing. It returns the errors of [Develop] for either sheet.
func Substitute(f Former, other material.Sheet) ([]Change, error) {
	was, err := Develop(f)
	if err != nil {
		return nil, err
	}
	g := f
	g.Sheet = other
	now, err := Develop(g)
	if err != nil {
		return nil, fmt.Errorf("in %s: %w", other.Material, err)
	}
	list := []Change{{"thickness", f.Sheet.Thickness, other.Thickness, bend.Length}}
	for i, s := range [][2]*Strip{{&was.Outer, &now.Outer}, {&was.Inner, &now.Inner}} {
		if s[0].rim.Flange == nil {
			continue
		}
		name := [...]string{"outer", "inner"}[i]
		for k, b := range s[0].rim.Flange.Bevels {
			which := name
			if k > 0 {
				which = fmt.Sprintf("%s, bevel %d", name, k+1)
			}
			a, z := s[0].sectionAt(b.At, 0), s[1].sectionAt(b.At, 0)
			held, new := f.ToolBend(a.Bend), g.ToolBend(z.Bend)
			list = append(list,
				Change{"form block inside the mold line, " + which, OffsetForBlock(f.Sheet.Thickness, b.Angle), OffsetForBlock(other.Thickness, b.Angle), bend.Length},
				Change{"edge radius of the block, " + which, held.Radius, new.Radius, bend.Length},
				Change{"angle turned on the block, " + which, float64(held.Angle), float64(new.Angle), bend.Degrees},
				Change{"blank outside the mold line, " + which, a.Width - a.Setback, z.Width - z.Setback, bend.Length},
				Change{"tangent line inside the mold line, " + which, a.Setback, z.Setback, bend.Length})
		}
	}
	list = append(list, Change{"mass", mass(was), mass(now), bend.Mass})
	if a, err := f.Sheet.Material.MinBendRadius(f.Sheet.Thickness); err == nil {
		if z, err := other.Material.MinBendRadius(other.Thickness); err == nil && !a.NotRecommended && !z.NotRecommended {
			list = append(list, Change{"least bend radius", a.Value, z.Value, bend.Length})
		}
	}
	return list, nil
}

func mass(r Ring) (m float64) {
	for _, p := range r.Pieces {
		m += p.Mass
	}
	return m
}

// Mirrored returns the piece and its block for the other side of the aircraft: mirrored
// in the y axis, its marking face toward the viewer again. One block does for both
// hands only when it is used from both faces, which an overbent wall does not allow.
func (p Piece) Mirrored() Piece {
	m := outline.Mirror(r2.Vec{}, 90*measure.Degree)
	closed := func(q outline.Path) outline.Path { return q.Transform(m).Reverse() }
	all := func(list []outline.Path) []outline.Path {
		if list == nil {
			return nil
		}
		out := make([]outline.Path, len(list))
		for i, q := range list {
			out[i] = closed(q)
		}
		return out
	}
	marks := func(list []Mark) []Mark {
		out := append([]Mark(nil), list...)
		for i := range out {
			out[i].At = m.Apply(out[i].At)
		}
		return out
	}
	p.Outline = closed(p.Outline)
	p.Openings, p.Near, p.Far, p.Mold, p.Finished, p.Marks = all(p.Openings), all(p.Near), all(p.Far), all(p.Mold), all(p.Finished), all(p.Marks)
	p.Rivets, p.Helps = marks(p.Rivets), marks(p.Helps)
	p.Block.Top, p.Block.Bottom, p.Block.Cover, p.Block.Segments = all(p.Block.Top), all(p.Block.Bottom), all(p.Block.Cover), all(p.Block.Segments)
	pins := p.Pins[:0:0]
	for _, q := range p.Pins {
		pins = append(pins, m.Apply(q))
	}
	p.Pins = pins
	return p
}

// Turn is the way the flanges of the ring go; with two flanges that differ, the outer's.
func (r Ring) Turn() flat.Turn {
	if r.Former.Outer.Flange != nil {
		return r.Former.Outer.Flange.Turn
	}
	if r.Former.Inner.Flange != nil {
		return r.Former.Inner.Flange.Turn
	}
	return flat.Up
}
