package former

import (
	"fmt"
	"math"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/material"
)

// A Method is how the flange is brought down over the block.
type Method uint8

const (
	ByHand      Method = iota // mallet and shrinking by hand work
	ByRubberPad               // pressed under rubber
)

func (m Method) String() string {
	if m == ByRubberPad {
		return "by rubber pad"
	}
	return "by hand"
}

// A Guide is how far the edge of a flange may be stretched or shrunk, as ratios above 0.
// Between Careful and Most it takes skill.
type Guide struct {
	StretchCareful, StretchMost float64
	ShrinkCareful, ShrinkMost   float64
	Source                      material.Source
}

// guides are remembered and of low confidence: they warn and never refuse.
var guides = [...]struct {
	alloys  []string
	stretch [2]float64
	rubber  [2]float64
	hand    [2]float64
}{
	{[]string{"2024-O", "7075-O"}, [2]float64{0.10, 0.12}, [2]float64{0.02, 0.03}, [2]float64{0.05, 0.08}},
	{[]string{"2024-W"}, [2]float64{0.08, 0.10}, [2]float64{0.02, 0.02}, [2]float64{0.05, 0.05}},
	{[]string{"2024-T3"}, [2]float64{0.04, 0.06}, [2]float64{0.01, 0.015}, [2]float64{0.02, 0.03}},
	{[]string{"6061-O", "5052-O"}, [2]float64{0.15, 0.15}, [2]float64{0.03, 0.03}, [2]float64{0.08, 0.08}},
	{[]string{"6061-T4"}, [2]float64{0.08, 0.10}, [2]float64{0.02, 0.02}, [2]float64{0.04, 0.04}},
}

// GuideFor returns the guidance for a material, clad or bare; false where none is at hand.
func GuideFor(m material.Material, by Method) (Guide, bool) {
	name := m.Alloy + "-" + m.Temper
	for _, g := range guides {
		for _, a := range g.alloys {
			if a != name {
				continue
			}
			shrink := g.hand
			if by == ByRubberPad {
				shrink = g.rubber
			}
			return Guide{g.stretch[0], g.stretch[1], shrink[0], shrink[1],
				remembered("shop guidance for edge stretch and shrink of " + a + ", low confidence")}, true
		}
	}
	return Guide{}, false
}

// judgeStrain holds the strain of a flange against the guidance.
func judgeStrain(place string, s Strip, g Guide, known bool, m material.Material) []flat.Finding {
	stretch, shrink, ok := s.Worst()
	if !ok {
		return nil
	}
	if !known {
		return []flat.Finding{{Severity: flat.Note, Place: place, At: stretch.At,
			Text: fmt.Sprintf("no guidance on stretching or shrinking %s is at hand: try a short piece of the tightest curve first", m), Source: practice("trial piece")}}
	}
	var list []flat.Finding
	if f, ok := judge(stretch.Value(), g.StretchCareful, g.StretchMost, "stretches", "anneal, notch between rivets or split the flange"); ok {
		f.Place, f.At, f.Source = place+" at girth "+mm(math.Round(stretch.Girth)), stretch.At, g.Source
		list = append(list, f)
	}
	if f, ok := judge(-shrink.Value(), g.ShrinkCareful, g.ShrinkMost, "has to shrink", "anneal, flute between rivets or split the flange"); ok {
		f.Place, f.At, f.Source = place+" at girth "+mm(math.Round(shrink.Girth)), shrink.At, g.Source
		list = append(list, f)
	}
	return list
}

func judge(strain, careful, most float64, does, remedy string) (flat.Finding, bool) {
	f := flat.Finding{Figure: strain, Limit: careful, Unit: bend.None}
	switch {
	case strain > most:
		f.Severity, f.Limit = flat.Warn, most
		f.Text = fmt.Sprintf("the edge %s %.1f %%, past the %.1f %% of the guidance: %s", does, 100*strain, 100*most, remedy)
	case strain > careful:
		f.Severity = flat.Note
		f.Text = fmt.Sprintf("the edge %s %.1f %%, within the guidance's %.1f to %.1f %%: work it in small steps", does, 100*strain, 100*careful, 100*most)
	default:
		return f, false
	}
	return f, true
}
