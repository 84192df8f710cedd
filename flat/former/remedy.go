package former

import (
	"cmp"
	"math"
	"slices"

	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// A RemedyKind says how an edge is helped past what its metal takes.
type RemedyKind uint8

const (
	// Flute takes up what a shrinking edge has too much, in shallow waves between the
	// rivets, worked into the side away from the skin.
	Flute RemedyKind = iota
	// Notch lets a stretching edge open, with a full radius at its foot.
	Notch
	// Part cuts the flange in tabs: the edge would have to stretch or shrink by more than twice
	// what the guidance allows at most.
	Part
)

func (k RemedyKind) String() string {
	switch k {
	case Notch:
		return "notch"
	case Part:
		return "part the flange"
	}
	return "flute"
}

// A Remedy is where and how to help along one stretch of a flange.
type Remedy struct {
	Kind     RemedyKind
	From, To float64 // girth
	Places   []Place // midway between rivets, where there is metal
	// TakeUp is the length each place has to take up (flute) or to give (notch), mm.
	TakeUp float64
	// Depth of each place, mm: of the wave from the flange's face, over half the
	// spacing; or of the notch or cut from the edge, to where the strain is careful again.
	Depth  float64
	Excess float64 // strain beyond the guidance, above 0
}

// A Place is a spot on a flange's edge.
type Place struct {
	Girth float64
	At    r2.Vec // on the edge of the blank
}

// fluteSpacing parts flutes where no rivets set their places: an inch, common practice.
const fluteSpacing = measure.Inch

// remedies finds the stretches past the guidance and what to do there. rivets are the
// girths of the row, in order; they may be none. No place lies in what is taken; of what is
// gone there is nothing to take up.
func (s *Strip) remedies(g Guide, rivets []float64, taken, gone []span) []Remedy {
	var list []Remedy
	flange := s.rim.Flange
	if flange == nil {
		return nil
	}
	per := 2
	if len(flange.Bevels) > 1 {
		per = 5
	}
	for i := 0; i+per <= len(s.Strains); i += per {
		stretch := s.Strains[i : i+per]
		r, bad := s.remedy(g, stretch)
		if !bad {
			continue
		}
		if n := len(list); n > 0 && list[n-1].Kind == r.Kind && list[n-1].To == r.From {
			list[n-1].To = r.To
			list[n-1].TakeUp += r.TakeUp
			list[n-1].Depth = max(list[n-1].Depth, r.Depth)
			list[n-1].Excess = max(list[n-1].Excess, r.Excess)
			continue
		}
		list = append(list, r)
	}
	mids := s.betweenRivets(rivets, taken)
	kept := list[:0]
	for _, r := range list {
		// A stretch that is taken from end to end needs no help, or can have none.
		if girths := s.placesIn(r, mids, taken); len(girths) > 0 {
			s.placeRemedy(&r, girths, gone)
			kept = append(kept, r)
		}
	}
	return kept
}

// remedy looks at one stretch of the flange. TakeUp is for the whole of it.
func (s *Strip) remedy(g Guide, stretch []Strain) (Remedy, bool) {
	worst, total := 0.0, 0.0
	last := len(stretch) - 1
	r := Remedy{Kind: Flute, From: stretch[0].Girth, To: stretch[last].Girth}
	var at Strain
	for _, e := range stretch {
		over := -e.Value() - g.ShrinkCareful
		if e.Value() > 0 {
			over = e.Value() - g.StretchCareful
		}
		// The blank's edge is longer than the mold line where that bulges.
		edge := 1 + e.Curvature*(e.used().Width-e.Section.Setback)
		total += max(over, 0) * edge
		if over > worst {
			worst, at = over, e
		}
	}
	if worst <= 0 {
		return r, false
	}
	r.Excess = worst
	r.TakeUp = total / float64(len(stretch)) * (r.To - r.From)
	careful, most := g.ShrinkCareful, g.ShrinkMost
	if at.Value() > 0 {
		r.Kind, careful, most = Notch, g.StretchCareful, g.StretchMost
	}
	if math.Abs(at.Value()) > 2*most {
		r.Kind = Part
	}
	if r.Kind != Flute {
		r.Depth = s.cutDepth(at, careful)
	}
	return r, true
}

// cutDepth goes from the edge to where the strain is back within the guidance.
func (s *Strip) cutDepth(e Strain, careful float64) float64 {
	k := e.Section.atTangent(e.Curvature)
	lo, hi := 0.0, e.Section.Flat
	for range 50 {
		mid := (lo + hi) / 2
		part := e.Section.to(mid)
		if math.Abs(part.EdgeStrain(part.DevelopedWidth(e.Used, k), k)) > careful {
			hi = mid
		} else {
			lo = mid
		}
	}
	return e.Section.Flat - lo
}

// betweenRivets are the girths midway between neighbouring rivets, clear of what is taken.
func (s *Strip) betweenRivets(rivets []float64, taken []span) []float64 {
	var mids []float64
	if len(rivets) < 2 {
		return nil
	}
	for i, at := range rivets {
		next := rivets[(i+1)%len(rivets)]
		if next <= at {
			next += s.contour.length()
		}
		if mid := s.contour.wrap((at + next) / 2); !s.contour.within(taken, mid) {
			mids = append(mids, mid)
		}
	}
	return mids
}

// placesIn are the girths of a remedy: midway between rivets, those within the stretch or the nearest close by;
// where there are none evenly, or in the middle of the longest stretch that is free.
func (s *Strip) placesIn(r Remedy, mids []float64, taken []span) []float64 {
	var girths []float64
	nearest, off := 0.0, fluteSpacing
	for _, mid := range mids {
		if r.From <= mid && mid <= r.To {
			girths = append(girths, mid)
		} else if d := min(s.contour.distance(mid, r.From), s.contour.distance(mid, r.To)); d < off {
			nearest, off = mid, d
		}
	}
	free := freeWithin(span{r.From, r.To}, s.contour.length(), taken)
	switch {
	case len(free) == 0:
		return nil
	case len(girths) > 0:
		return girths
	case off < fluteSpacing:
		return []float64{nearest}
	}
	n := int(max(1, math.Round((r.To-r.From)/fluteSpacing)))
	for i := range n {
		if at := r.From + (r.To-r.From)*(float64(i)+0.5)/float64(n); !s.contour.within(taken, at) {
			girths = append(girths, at)
		}
	}
	if len(girths) == 0 {
		longest := slices.MaxFunc(free, func(a, b span) int { return cmp.Compare(a.to-a.from, b.to-b.from) })
		girths = []float64{(longest.from + longest.to) / 2}
	}
	return girths
}

// placeRemedy sets the places and shares out what they take up.
func (s *Strip) placeRemedy(r *Remedy, girths []float64, gone []span) {
	edge := s.toEdge(s.rim.Flange.Trim)
	for _, girth := range girths {
		r.Places = append(r.Places, Place{girth, s.contour.frame(girth).at(0, edge.at(girth))})
	}
	left := 0.0
	for _, f := range freeWithin(span{r.From, r.To}, s.contour.length(), gone) {
		left += f.to - f.from
	}
	r.TakeUp *= left / (r.To - r.From) / float64(len(girths))
	if r.Kind == Flute {
		// A shallow arc of rise f over a chord c is 8f²/(3c) longer than the chord.
		chord := (r.To - r.From) / float64(len(girths)) / 2
		r.Depth = math.Sqrt(3 * chord * r.TakeUp / 8)
	}
}
