package former

import (
	"fmt"

	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// Tooling pins hold cover plate, blank and block together: two of 1/4 in, common practice.
const (
	usualPin = measure.Inch / 4
	// pinEdge is how many diameters a pin keeps from whatever is near: an edge, a bend, a
	// cut-out, a rivet.
	pinEdge = 2
	// pinsApart is how many diameters the two pins keep from each other at the least.
	pinsApart = 4
)

// pins are the places of the two pins of a piece: as given, or as far apart on the piece as
// can be, each in the middle of the free web.
func (r *Ring) pins(p *Piece, whole bool, a, b joint) ([]r2.Vec, float64, error) {
	spec := r.Former.Block
	d := spec.Pin
	if d == 0 {
		d = usualPin
	}
	if len(spec.Pins) > 0 {
		return r.givenPins(p, d)
	}
	ws := r.webSlots(whole, a, b)
	spots := r.pinSpots(p, whole, a, b, d, ws)
	var best [2]r2.Vec
	far := -1.0
	for i := range spots {
		for j := i + 1; j < len(spots); j++ {
			if l := r2.Norm(r2.Sub(spots[i], spots[j])); l > far+1e-6 {
				far, best = l, [2]r2.Vec{spots[i], spots[j]}
			}
		}
	}
	if far < pinsApart*d {
		return nil, d, nil // a finding says so
	}
	return best[:], d, nil
}

// givenPins are those of the given pins that lie on the piece.
func (r *Ring) givenPins(p *Piece, d float64) ([]r2.Vec, float64, error) {
	var own []r2.Vec
	for _, q := range r.Former.Block.Pins {
		if p.Outline.Side(q) == outline.Inside && (len(p.Openings) == 0 || p.Openings[0].Side(q) == outline.Outside) {
			own = append(own, q)
		}
	}
	return own, d, nil
}

func (r *Ring) webSlots(whole bool, a, b joint) []slotPath {
	var list []slotPath
	for _, s := range r.slotsOf(whole, a, b) {
		list = append(list, slotPath{s, s.outlinePath()})
	}
	return list
}

type slotPath struct {
	*slot
	path outline.Path
}

// pinSpots are the candidates: at even girths along the piece, the place across the web
// that is clear by most. Spots that are not clear by the pin's edge distance are left
// out.
func (r *Ring) pinSpots(p *Piece, whole bool, a, b joint, d float64, slots []slotPath) []r2.Vec {
	const along, over = 32, 3
	c := r.Outer.contour
	length := c.length()
	if !whole {
		length = c.ahead(a.girth, b.girth)
	}
	var spots []r2.Vec
	for i := range along {
		girth := a.girth + length*(float64(i)+0.5)/along
		f := c.frame(girth)
		depth := r.size / 8
		if r.Inner.contour != nil {
			j, ok := r.jointAt(girth)
			if !ok {
				continue
			}
			depth = j.depth
		}
		if r.inSplice(girth, 2*d) {
			continue
		}
		clear, at := 0.0, r2.Vec{}
		for k := 1; k <= over; k++ {
			q := f.at(0, -depth*float64(k)/(over+1))
			if far := r.pinClear(p, q, d, girth, slots); far > clear {
				clear, at = far, q
			}
		}
		if clear > 0 {
			spots = append(spots, at)
		}
	}
	return spots
}

func (r *Ring) inSplice(girth, more float64) bool {
	for _, s := range r.Splices {
		if r.Outer.contour.distance(girth, s.Girth) < s.Half+more {
			return true
		}
	}
	return false
}

// pinClear is how far a pin is from what it must keep away from, beyond the distance it
// has to keep; it is not above 0 where it cannot stand.
func (r *Ring) pinClear(p *Piece, q r2.Vec, d, girth float64, slots []slotPath) float64 {
	keep := pinEdge * d
	clear := r.Outer.Near.Distance(q) - keep
	if r.Outer.Near.Side(q) != outline.Inside {
		return 0
	}
	if r.Inner.contour != nil {
		if r.Inner.Near.Side(q) != outline.Outside {
			return 0
		}
		clear = min(clear, r.Inner.Near.Distance(q)-keep)
	}
	for _, s := range slots {
		if r.Outer.contour.distance(s.at, girth) < s.half+s.depth+2*keep {
			clear = min(clear, s.path.Distance(q)-keep)
		}
	}
	for _, s := range r.Splices {
		for _, h := range s.Holes {
			clear = min(clear, r2.Norm(r2.Sub(h, q))-keep)
		}
	}
	return clear
}

// pinFaults says what is wrong with the pins of a piece, in words; empty when nothing is.
func (r *Ring) pinFaults(p *Piece, whole bool, a, b joint) (text string, at r2.Vec) {
	if len(p.Pins) < 2 {
		return fmt.Sprintf("has %d tooling pins on its web and wants two: place them by hand, or hold the blank another way", len(p.Pins)), p.Outline.Centroid()
	}
	slots := r.webSlots(whole, a, b)
	for _, q := range p.Pins {
		if !(r.pinClear(p, q, p.Pin, r.outerGirth(q), slots) > -1e-9) {
			return "a tooling pin stands nearer than two diameters to a bend, a cut-out or a rivet", q
		}
	}
	if r2.Norm(r2.Sub(p.Pins[0], p.Pins[1])) < pinsApart*p.Pin {
		return "its tooling pins stand too near each other to keep the blank from turning", p.Pins[0]
	}
	return "", r2.Vec{}
}
