package rivet

import (
	"math"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"gonum.org/v1/gonum/spatial/r2"
)

// A Side is a patch seen as a splice: a pull straight across it, along x or y, has to pass through the
// rivets beyond the opening on one side. A rivet counts for the side that the edge of the opening
// beside it faces; in the middle of a corner, for both.
type Side struct {
	Name   string // "rim, left"
	Rivets int    // that are there
	Need   Requirement
}

// strength counts the rivets on each side of the opening against the table for a single-lap
// sheet joint in the thinner of the two sheets. It is a count and no proof of strength.
func (j *fitting) strength() {
	p := &j.out.Patch
	if p.Fitting == Ring {
		return // nothing passes across an opening that stays open
	}
	inner := []outline.Path{p.Opening, j.hollow}
	for g, group := range j.out.Groups {
		if g > 1 || g == 1 && p.Fitting != Insert {
			return
		}
		thin := group.Stack[0]
		for _, s := range group.Stack {
			if s.Thickness < thin.Thickness {
				thin = s
			}
		}
		j.sides(group, inner[g], p.Opening.Bounds().Size(), func(width float64) (Requirement, error) {
			return Require(thin, width, p.Rivet, SingleLap)
		})
	}
}

func (j *fitting) sides(group Group, inside outline.Path, size r2.Vec, require func(width float64) (Requirement, error)) {
	var count [4]int
	for _, row := range j.out.Layout.Rows[group.From:group.To] {
		for _, h := range row.Holes {
			edge, _, _ := inside.Nearest(h.At)
			away := r2.Sub(h.At, edge)
			for i, faces := range [4]r2.Vec{{X: -1}, {X: 1}, {Y: -1}, {Y: 1}} {
				if r2.Dot(away, faces) > (math.Sqrt2/2-1e-6)*r2.Norm(away) {
					count[i]++
				}
			}
		}
	}
	for i, side := range [4]string{"left", "right", "lower", "upper"} {
		width := size.Y
		if i > 1 {
			width = size.X
		}
		need, err := require(width)
		if err != nil {
			j.find(flat.Note, group.Name, "the table of rivets an inch does not speak of this joint: "+err.Error(), 0, 0, bend.None, tableSource)
			return
		}
		j.out.Sides = append(j.out.Sides, Side{group.Name + ", " + side, count[i], need})
		if i%2 == 0 {
			for _, s := range need.Steps {
				s.Quantity += ", " + group.Name + " " + side
				j.out.Steps = append(j.out.Steps, s)
			}
		}
		if i == 0 && len(j.out.Sides) == 1 { // the same of every group
			j.out.Findings = append(j.out.Findings, need.Findings...)
		}
		if count[i] < need.Needed {
			j.find(flat.Warn, group.Name+", "+side, "has fewer rivets than the table asks for, for a sheet as strong as the skin",
				float64(count[i]), float64(need.Needed), bend.None, tableSource)
		}
	}
}
