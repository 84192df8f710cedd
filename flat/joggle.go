package flat

import (
	"fmt"
	"math"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// A Joggle offsets a part of a flange sideways, over a run-out, so that it passes over the
// metal it laps.
type Joggle struct {
	Name  string
	At    float64    // station along the edge where the run-out is reached, mm
	Run   float64    // length of the run-out, mm
	Depth float64    // offset: the thickness of what is lapped, mm
	Part  JogglePart // the part of the flange that lies offset
	Side  JoggleSide // the way it is offset
}

// JogglePart names the part of a flange that a joggle offsets.
type JogglePart uint8

const (
	Beyond JogglePart = iota // past the run-out, to the end of the flange
	Before                   // ahead of the run-out, from the start of the flange
)

func (p JogglePart) String() string {
	if p == Before {
		return "before"
	}
	return "beyond"
}

// JoggleSide names the way a joggle offsets a flange.
type JoggleSide uint8

const (
	// Inward is toward the inside of the bend: away from what the outside face, that of the mold line, lies on.
	Inward  JoggleSide = iota
	Outward            // toward the outside of the bend
)

func (s JoggleSide) String() string {
	if s == Outward {
		return "outward"
	}
	return "inward"
}

// Growth is the length the sloping run-out takes beyond its length along the
// flange, mm: √(L² + d²) - L.
func (j Joggle) Growth() float64 { return math.Hypot(j.Run, j.Depth) - j.Run }

// Reversed is the same joggle by stations from the other end of the edge, length mm long.
func (j Joggle) Reversed(length float64) Joggle {
	j.At = length - j.At - j.Run
	j.Part = Before - j.Part
	return j
}

// A Mark is a line drawn on the blank that is neither cut nor bent along.
type Mark struct {
	Text string // `joggle "over the stringer", 0.0630 in (1.600 mm) inward, starts`
	Line outline.Path
}

var (
	joggleRun  = material.Source{Document: "least joggle run-out over depth", Provenance: material.Memory}
	runSlope   = material.Source{Document: "length of a slope", Provenance: material.Derived}
	joggleHole = material.Source{Document: "no opening in the run-out of a joggle", Provenance: material.CommonPractice}
)

// validate checks a joggle of a flange that stands from station from to station to.
func (j Joggle) validate(f *faults, from, to float64) {
	f.length("depth", j.Depth, 0.05, 50, "must be 0.05 mm to 50 mm: the thickness that is lapped")
	f.length("run", j.Run, 0.1, MostLength, "must be 0.1 mm to 10 m")
	if !(from <= j.At && j.At+j.Run <= to+1e-9) {
		f.add("at", mm(j.At), fmt.Sprintf("the run-out must lie within the flange, %s to %s along its edge", mm(from), mm(to)))
	}
	if j.Part > Before {
		f.add("part", fmt.Sprint(uint8(j.Part)), "must be beyond or before")
	}
	if j.Side > Outward {
		f.add("side", fmt.Sprint(uint8(j.Side)), "must be inward or outward")
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

// joggles marks where each joggle of bend i's flange starts and ends, tangent line to free edge, the end
// toward the level of the bend first.
func (l *layout) joggles(i int) {
	s := l.sides[i]
	for k, j := range s.flange.Joggles {
		name := quoted("joggle", j.Name, k)
		words := fmt.Sprintf("%s, %s %s, ", name, measure.Both(j.Depth), j.Side)
		starts, ends := j.At, j.At+j.Run
		if j.Part == Before {
			starts, ends = ends, starts
		}
		l.mark(i, words+"starts", starts)
		l.mark(i, words+"ends", ends)
		l.inspectJoggle(i, j, s.where.place()+", "+name)
	}
}

// mark draws a line across the flange of bend i at a station.
func (l *layout) mark(i int, text string, u float64) {
	s := l.sides[i]
	line := outline.Polyline(s.flat(u, s.at(u).setback), l.flatUpTo(i, u))
	l.blank.Marks = append(l.blank.Marks, Mark{text, line})
}

// flatUpTo is where the flange of bend i ends at a station: where a lip on it begins to bend, else at its free edge.
func (l *layout) flatUpTo(i int, u float64) r2.Vec {
	s := l.sides[i]
	for _, lip := range l.blank.Bends {
		if lip.Parent != l.blank.Bends[i].Child {
			continue
		}
		for _, near := range lip.Near.Segments() {
			if a, b := s.station(near.A), s.station(near.B); a <= u && u <= b && a < b {
				return near.At((u - a) / (b - a))
			}
		}
	}
	return s.flat(u, s.height(u))
}

// inspectJoggle holds a joggle of bend i's flange against what its temper takes, and the openings beside it.
func (l *layout) inspectJoggle(i int, j Joggle, place string) {
	s := l.sides[i]
	at := s.flat(j.At, s.height(j.At))
	if least := leastRun(l.part.Sheet.Material); j.Run/j.Depth < least {
		l.find(Finding{Warn, place, at, "run-out is short for its depth: run over depth", j.Run / j.Depth, least, bend.None, joggleRun})
	}
	offset := 0
	l.wanted[l.blank.Bends[i].Child].features.along(func(opening string, lo, hi float64) {
		switch {
		case lo < j.At+j.Run && hi > j.At:
			l.find(Finding{Severity: Warn, Place: place, At: at, Text: opening + " lies in the run-out: drill it elsewhere, or when the joggle is formed", Source: joggleHole})
		case (j.Part == Beyond) == (lo >= j.At+j.Run):
			offset++
		}
	})
	if offset > 0 && j.Growth() > leastGrowth {
		l.find(Finding{Severity: Warn, Place: place, At: at, Source: runSlope, Text: fmt.Sprintf(
			"run-out takes up to %s along the flange, for which the blank allows nothing: drill the openings %s it when it is formed", measure.Both(j.Growth()), j.Part)})
	}
}

// leastGrowth is what a joggle may draw openings out of place without a word, mm: a tenth of what a #40 hole is larger
// than a 3/32 in rivet.
const leastGrowth = 0.01

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
		out = append(out, joggles[i].Reversed(length))
	}
	return out
}
