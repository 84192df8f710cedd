package paper

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/material/measure"
)

// fitsBlock tells of each face measured by more than three points how well they agree, and how far
// every one of them lies off the plane laid through them.
func fitsBlock(b flat.Blank) block {
	if b.Part.Site == nil {
		return block{}
	}
	out := block{
		title: "FACES BY MORE THAN THREE POINTS: the plane of least squares and what is left of the readings",
		columns: append(append(left("face"), right("points", "set aside")...),
			right("root mean square, inch / mm", "farthest kept, inch / mm", "point")...),
	}
	for _, f := range b.Part.Site.Fits() {
		place := oneLine(f.Place)
		farthest, off := f.Farthest()
		out.rows = append(out.rows, []string{place, strconv.Itoa(len(f.Residuals)), strconv.Itoa(len(f.Outliers)), pair(f.RMS), pair(off), strconv.Itoa(farthest + 1)})
		out.lines = append(out.lines, place+", each point in mm off the plane: "+residuals(f)+".")
	}
	if len(out.rows) > 0 {
		out.lines = append(out.lines, "+ is away from the web; of the web itself off its marking face, to the reader. What was set aside counts for nothing in the fit.")
	}
	return out
}

// residuals lists how far each reading lies off its plane, mm, in the order of the file.
func residuals(f flat.FaceFit) string {
	list := make([]string, len(f.Residuals))
	for i, r := range f.Residuals {
		text := measure.Fixed(r, 3)
		if text != "0.000" && r > 0 { // of nothing that rounding left the sign means nothing
			text = "+" + text
		}
		list[i] = fmt.Sprintf("%d:%s", i+1, text) // one word, so that no line parts them
	}
	for _, k := range f.Outliers {
		list[k] += " (set aside)"
	}
	return strings.Join(list, ", ")
}
