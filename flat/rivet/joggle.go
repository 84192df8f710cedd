package rivet

import (
	"math"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"gonum.org/v1/gonum/spatial/r2"
)

// A joggled patch has three parts across its edge: the middle level with the skin, the run-out, and the
// rim behind the skin. On a rolled skin each has its own distance from the axis, and a sheet keeps its
// lengths along its neutral line: across the roll the flat patch is the middle at the middle's radius, then
// the true length of the run-out, then the rim at the rim's radius. Round the curve, where the rim lies
// beyond the middle's ends, it has to share the middle's angles and is shrunk by the depth over the radius.

// level is where the neutral line of a sheet level with the skin lies outside the skin's outer face, mm.
func (p *Patch) level() float64 { return -p.Sheet.Thickness / 2 }

// run is the length of the run-out along the outer face, mm.
func (p *Patch) run() float64 { return p.RunOut * p.Skin.Thickness }

// growth is how much farther out than on the outer face a place of the rim lies on the flat sheet that is
// laid out for the level middle: along the roll in X, across it in Y, mm. The place is out from the edge of
// the opening. A line that leans has the one by the cosine and the other by the sine of it, to the
// difference that the roll makes in the length of the run-out: hundredths of its growth.
func (p *Patch) growth(out float64) r2.Vec {
	run, depth := p.run(), p.Skin.Thickness
	g := r2.Vec{X: math.Hypot(run, depth) - run}
	g.Y = g.X
	if p.Roll.Radius > 0 {
		level, rim := p.Roll.factor(p.level()), p.Roll.factor(p.level()-depth)
		u := p.Gap + out
		g.Y = math.Hypot(run*(level+rim)/2, depth) + u*rim - (run+u)*level
	}
	return g
}

// rimLine is the line on the rim that lies out from the opening, on the flat sheet.
func (p *Patch) rimLine(out float64, what string) (outline.Path, error) {
	g := p.growth(out)
	line, err := one(p.Opening, out+g.X, what)
	if err != nil {
		return outline.Path{}, err
	}
	return p.rim(g).path(line)
}

// rim lays places of the rim that have been moved out by their growth along the roll.
func (p *Patch) rim(g r2.Vec) laying {
	l := p.Roll.laying(p.level(), 0)
	if p.Roll.Radius > 0 {
		l.grown = g.Y - g.X*p.Roll.factor(p.level())
	}
	return l
}

// onRim is where a rivet of the rim lies on the flat sheet: farther from the opening.
func (p *Patch) onRim(q r2.Vec) r2.Vec {
	at, _, _ := p.Opening.Nearest(q)
	away := r2.Sub(q, at)
	if !(r2.Norm(away) > coincident) {
		return p.Roll.At(q, p.level())
	}
	out := r2.Unit(away)
	g := p.growth(r2.Norm(away))
	return p.rim(g).facing(r2.Add(q, r2.Scale(g.X, out)), out)
}

// joggled lays a patch flat whose rim is offset behind the skin.
func (j *fitting) joggled(groups []int) error {
	p := &j.out.Patch
	piece := Piece{Name: "patch", Sheet: p.Sheet, Above: p.level()}
	var err error
	if piece.Outline, err = p.rimLine(p.Overlap, "patch edge"); err != nil {
		return err
	}
	foot, err := p.rimLine(-p.Gap, "joggle, lower line")
	if err != nil {
		return err
	}
	top, err := one(p.Opening, -p.Gap-p.run(), "joggle, upper line")
	if err != nil {
		return err
	}
	if top, err = p.Roll.Flatten(top, p.level()); err != nil {
		return err
	}
	piece.Lines = []Line{{"joggle: rim side", foot}, {"joggle: level side", top}}
	j.finish(piece, groups)
	return nil
}

// joggleSteps are the working of the growth of the rim and, of a rolled patch, of its width.
func (j *fitting) joggleSteps() []bend.Step {
	p := &j.out.Patch
	g := p.growth(p.Overlap)
	steps := []bend.Step{{
		Quantity: "growth of the joggled rim, each side", Symbol: "g", Formula: "√(L² + d²) - L",
		Inputs: []bend.Input{lengthOf("L", p.run()), lengthOf("d", p.Skin.Thickness)},
		Value:  g.X, Unit: bend.Length, Source: geometry,
	}}
	if p.Roll.Radius == 0 {
		return steps
	}
	steps[0].Quantity += ", along the roll"
	arcs := material.Source{Document: "arcs at the neutral lines of middle, run-out and rim", Provenance: material.Derived}
	radius, level, width := lengthOf("R", p.Roll.Radius), lengthOf("z", p.level()), p.Roll.width(j.outer)
	return append(steps, bend.Step{
		Quantity: "growth of the joggled rim, each side, across the roll (U from the run-out to the edge)", Symbol: "ga",
		Formula: "√((L·(R + z - d/2)/R)² + d²) + U·(R + z - d)/R - (L + U)·(R + z)/R",
		Inputs:  append(steps[0].Inputs[:2:2], radius, level, lengthOf("U", p.Gap+p.Overlap)),
		Value:   g.Y, Unit: bend.Length, Source: arcs,
	}, bend.Step{
		Quantity: "width of patch across the roll, laid flat", Symbol: "Wf", Formula: "W·(R + z)/R + 2·ga",
		Inputs: []bend.Input{lengthOf("W", width), radius, level, lengthOf("ga", g.Y)},
		Value:  width*p.Roll.factor(p.level()) + 2*g.Y, Unit: bend.Length, Source: arcs,
	})
}

func lengthOf(symbol string, v float64) bend.Input {
	return bend.Input{Symbol: symbol, Value: v, Unit: bend.Length}
}
