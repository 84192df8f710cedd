package paper

import (
	"fmt"

	"github.com/hangarflat/hangarflat/flat"
)

// worstDoubts is how many readings a card lists; those after them do less.
const worstDoubts = 6

// doubtsBlock tells what the errors of the survey may do to the fit, and which reading to
// take again first.
func doubtsBlock(opt CardOptions) block {
	if len(opt.Doubts) == 0 {
		return block{}
	}
	out := block{
		title:   "DOUBT OF THE SURVEY: what a reading wrong by its own error does to the fit, the worst first",
		columns: append(left("reading"), right("moves a corner by, inch / mm", "turns a flange by")...),
	}
	row := func(name string, d flat.Doubt) {
		out.rows = append(out.rows, []string{name, pair(d.Shift), fmt.Sprintf("%.2f°", d.Turn.Degrees())})
	}
	for _, d := range opt.Doubts[:min(worstDoubts, len(opt.Doubts))] {
		row(oneLine(d.Reading), d)
	}
	if more := len(opt.Doubts) - worstDoubts; more > 0 {
		out.rows = append(out.rows, []string{fmt.Sprintf("%d more, which move the corners less", more), "", ""})
	}
	row("all together (root of the sum of squares)", opt.Doubt)
	out.lines = []string{fmt.Sprintf("Before cutting take again first: %s. Where all together is more than the gap and the holes can take, measure better or leave metal to trim.", oneLine(opt.Doubts[0].Reading))}
	return out
}
