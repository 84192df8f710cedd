package former

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"gonum.org/v1/gonum/spatial/r2"
)

const bendLength = bend.Length

// A Former is a web with a smooth edge, all in the plane of the marking face.
type Former struct {
	Name  string // "frame-8"; names the files
	Title string
	Sheet material.Sheet
	Rule  bend.Rule // nil works by the handbook formula
	Outer Rim
	// Inner is the edge of the opening of a ring; its zero value leaves the web whole.
	Inner   Rim
	Cutouts []Cutout
	Method  Method
	Split   Split
	Block   BlockSpec
}

// A Ring is a former laid out: the blank of every piece, its block, and what is to be
// said of it.
type Ring struct {
	Former   Former
	Outer    Strip
	Inner    Strip // the zero Strip of a web without an opening
	Pieces   []Piece
	Splices  []Splice
	Remedies []Remedy // of the outer flange, then of the inner
	Findings []flat.Finding

	size      float64 // of the whole blank, across its box
	cut       []slot
	guide     Guide
	guided    bool
	outerRow  []float64 // girths of the rivets in the outer flange
	innerRow  []float64
	outerHelp int // how many of the remedies are the outer flange's
}

// Develop lays the former out, or returns every fault of it, joined, each an *[Error].
func Develop(f Former) (Ring, error) {
	if err := f.Validate(); err != nil {
		return Ring{}, err
	}
	r := Ring{Former: f}
	var bad [2]error
	r.Outer, bad[0] = f.Outer.lay(f.Sheet, f.Rule)
	if f.hollow() {
		r.Inner, bad[1] = f.Inner.lay(f.Sheet, f.Rule)
	}
	if err := errors.Join(bad[:]...); err != nil {
		return Ring{}, err
	}
	box := r.Outer.Edge.Bounds()
	r.size = 2 * r2.Norm(r2.Sub(box.Max, box.Min))
	var err error
	if r.cut, err = r.slots(); err != nil {
		return Ring{}, err
	}
	r.guide, r.guided = GuideFor(f.Sheet.Material, f.Method)
	joints, err := r.joints()
	if err != nil {
		return Ring{}, err
	}
	r.splice(joints)
	if err := r.rows(); err != nil {
		return Ring{}, err
	}
	r.help()
	if err := r.pieces(joints); err != nil {
		return Ring{}, err
	}
	r.inspect()
	return r, nil
}

// hollow reports whether the web has an opening.
func (f Former) hollow() bool { return len(f.Inner.Contour.Vertices) > 0 }

// Validate reports every fault of the former, joined, each an *[Error].
func (f Former) Validate() error {
	var bad faults
	if err := f.Sheet.Validate(); err != nil {
		bad.add("sheet", "", err.Error())
		return bad.err()
	}
	f.Outer.check("outer", f.Sheet, f.Rule, &bad)
	if !f.Outer.Contour.Closed {
		bad.add("outer contour", "", "must be closed; an open contour is laid out by Rim.Lay")
	} else if f.Outer.Contour.Area() < 0 {
		bad.add("outer contour", "", "runs clockwise: the material must lie on its left, so run it counter-clockwise")
	}
	if f.hollow() {
		f.checkInner(&bad)
	}
	if f.Method > ByRubberPad {
		bad.add("method", number(float64(f.Method)), "must be by hand or by rubber pad")
	}
	if len(bad) > 0 {
		return bad.err()
	}
	around := f.Outer.Contour.Length()
	for i, c := range f.Cutouts {
		c.check(cutName(c, i), around, &bad)
	}
	f.Split.check(f.hollow(), around, &bad)
	f.Block.check(&bad)
	return bad.err()
}

func (f Former) checkInner(bad *faults) {
	before := len(*bad)
	f.Inner.check("inner", f.Sheet, f.Rule, bad)
	if len(*bad) > before {
		return
	}
	if !f.Inner.Contour.Closed {
		bad.add("inner contour", "", "must be closed")
		return
	}
	if f.Inner.Contour.Area() > 0 {
		bad.add("inner contour", "", "runs counter-clockwise: the material must lie on its left, so run the opening clockwise")
	}
	gap, _, at := outline.Clearance(f.Outer.Contour, f.Inner.Contour)
	if f.Outer.Contour.Side(f.Inner.Contour.Vertices[0].P) != outline.Inside || gap == 0 {
		bad.add("inner contour", "", "must lie within the outer")
		return
	}
	need := 0.0
	for _, r := range []Rim{f.Outer, f.Inner} {
		if r.Flange == nil {
			continue
		}
		most := 0.0
		for _, b := range r.Flange.Bevels {
			if s, err := SectionOf(f.Rule, bend.Bend{Angle: b.Angle, Radius: r.Flange.Radius, Thickness: f.Sheet.Thickness}, r.Flange.Height); err == nil {
				most = max(most, s.Setback)
			}
		}
		need += most
	}
	if gap <= need {
		bad.add("web", mm(gap), fmt.Sprintf("is all that lies between the contours at (%.1f, %.1f), and the bends take %s of it", at.X, at.Y, mm(need)))
	}
}

// rows spaces the rivets of both flanges, clear of cut-outs and splices.
func (r *Ring) rows() error {
	if fl := r.Former.Outer.Flange; fl != nil && fl.Rivets.Diameter > 0 {
		line, err := r.Outer.contour.moved(r.Outer.row(r.Outer.rivetLine()))
		if err != nil {
			return &Error{"outer flange rivet line", "", err.Error()}
		}
		r.outerRow = spaced(r.Outer.contour.length(), r.outerTaken(fl.Rivets.Diameter, line), fl.Rivets)
	}
	if fl := r.Former.Inner.Flange; fl != nil && fl.Rivets.Diameter > 0 && r.Inner.contour != nil {
		r.innerRow = spaced(r.Inner.contour.length(), r.innerTaken(fl.Rivets.Diameter), fl.Rivets)
	}
	return nil
}

// outerTaken is what cut-outs and splices take of the outer flange on a line of its blank, with two diameters
// of edge distance at a cut-out and one of clear space beside a splice.
func (r *Ring) outerTaken(diameter float64, line track) []span {
	var taken []span
	for i := range r.cut {
		taken = append(taken, r.cut[i].takes(r.cut[i].half+2*diameter, line, r.Outer.contour))
	}
	for _, s := range r.Splices {
		taken = append(taken, span{s.Girth - s.Half - diameter, s.Girth + s.Half + diameter})
	}
	return taken
}

// gone is what the cut-outs that are cut take of the edge of the blank.
func (r *Ring) gone() []span {
	var list []span
	for i := range r.cut {
		if s := &r.cut[i]; !s.MarkOnly {
			c, edge := r.Outer.contour, r.Outer.edge
			list = append(list, span{s.at - c.distance(s.at, edge.girthOf(s.left)), s.at + c.distance(s.at, edge.girthOf(s.right))})
		}
	}
	return list
}

func (r *Ring) innerTaken(diameter float64) []span {
	var taken []span
	for _, s := range r.Splices {
		taken = append(taken, span{s.inner - s.Half - diameter, s.inner + s.Half + diameter})
	}
	return taken
}

// A span is a stretch of girth that is taken.
type span struct{ from, to float64 }

// spaced sets rivets evenly in what the spans leave of a round: at both ends of each
// stretch that is left, and between them at no more than the pitch.
func spaced(around float64, keep []span, row Rivets) []float64 {
	if len(keep) == 0 {
		n := int(math.Ceil(around / row.Pitch))
		list := make([]float64, n)
		for i := range list {
			list[i] = around * float64(i) / float64(n)
		}
		return list
	}
	var list []float64
	for _, free := range between(around, keep) {
		l := free.to - free.from
		n := int(math.Ceil(l/row.Pitch - 1e-9))
		if n == 0 || l/float64(n) < 3*row.Diameter {
			n = int(l / (3 * row.Diameter)) // too short a stretch for two: none nearer than three diameters
		}
		if n == 0 {
			list = append(list, math.Mod((free.from+free.to)/2+around, around))
			continue
		}
		for i := 0; i <= n; i++ {
			list = append(list, math.Mod(free.from+l*float64(i)/float64(n)+around, around))
		}
	}
	slices.Sort(list)
	return list
}

// help finds the remedies of both flanges.
func (r *Ring) help() {
	if !r.guided {
		return
	}
	r.Remedies = r.Outer.remedies(r.guide, r.outerRow, r.outerTaken(0, r.Outer.edge), r.gone())
	r.outerHelp = len(r.Remedies)
	if r.Inner.contour != nil {
		r.Remedies = append(r.Remedies, r.Inner.remedies(r.guide, r.innerRow, r.innerTaken(0), nil)...)
	}
}
