package flat

import (
	"fmt"
	"math"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
)

// A Joggle offsets a flange sideways over a run-out, so that it passes over the
// metal it laps.
type Joggle struct {
	Name  string
	At    float64 // station along the edge where the run-out starts, mm
	Run   float64 // length of the run-out, mm
	Depth float64 // offset: the thickness of what is lapped, mm
}

// Growth is the length the sloping run-out takes beyond its length along the
// flange, mm: √(L² + d²) - L.
func (j Joggle) Growth() float64 { return math.Hypot(j.Run, j.Depth) - j.Run }

// A Mark is a line drawn on the blank that is neither cut nor bent along.
type Mark struct {
	Text string // `joggle "over the stringer", starts`
	Line outline.Path
}

var (
	joggleRun = material.Source{Document: "least joggle run-out over depth", Provenance: material.Memory}
	runSlope  = material.Source{Document: "length of a slope", Provenance: material.Derived}
)

func (j Joggle) validate(f *faults, length float64) {
	f.length("depth", j.Depth, 0.05, 50, "must be 0.05 mm to 50 mm: the thickness that is lapped")
	f.length("run", j.Run, 0.1, MostLength, "must be 0.1 mm to 10 m")
	if !(0 <= j.At && j.At+j.Run <= length) {
		f.add("at", mm(j.At), fmt.Sprintf("the run-out must lie within the edge, %s long", mm(length)))
	}
}

// leastRun is the least run-out over depth that a temper takes, as remembered:
// 3 annealed, 4 in 2024-T3 and its like, 8 in 7075-T6.
func leastRun(m material.Material) float64 {
	switch {
	case m.Temper == "O":
		return 3
	case m.Alloy == "7075":
		return 8
	}
	return 4
}

// joggles marks where each joggle of the flange of s starts and ends, tangent line
// to free edge.
func (l *layout) joggles(s *side) {
	for i, j := range s.flange.Joggles {
		name := quoted("joggle", j.Name, i)
		for k, u := range [2]float64{j.At, j.At + j.Run} {
			text := name + [2]string{", starts", ", ends"}[k]
			line := outline.Polyline(s.flat(u, s.at(u).setback), s.flat(u, s.height(u)))
			l.blank.Marks = append(l.blank.Marks, Mark{text, line})
		}
		if least := leastRun(l.part.Sheet.Material); j.Run/j.Depth < least {
			l.find(Finding{Warn, s.where.place() + ", " + name, s.flat(j.At, s.height(j.At)), "run-out is short for its depth: run over depth", j.Run / j.Depth, least, bend.None, joggleRun})
		}
	}
}

func (j Joggle) growthStep(name string) bend.Step {
	return bend.Step{
		Quantity: "metal that " + name + " takes up along its flange", Symbol: "G", Formula: "√(L² + d²) - L",
		Inputs: []bend.Input{{Symbol: "L", Value: j.Run, Unit: bend.Length}, {Symbol: "d", Value: j.Depth, Unit: bend.Length}},
		Value:  j.Growth(), Unit: bend.Length, Source: runSlope,
	}
}

func reversed(joggles []Joggle, length float64) []Joggle {
	var out []Joggle
	for i := len(joggles) - 1; i >= 0; i-- {
		j := joggles[i]
		j.At = length - j.At - j.Run
		out = append(out, j)
	}
	return out
}
