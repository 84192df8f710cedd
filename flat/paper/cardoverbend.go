package paper

import (
	"errors"
	"fmt"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
)

// overbendBlock gives for each bend the angle to try first, on a nose of the radius the part
// asks for, and says where there is none and why.
func overbendBlock(b flat.Blank) block {
	out := block{
		title:   "OVERBEND, FIRST TRY, round a nose of the radius R",
		columns: append(left("no", "flange"), append(right("bend to", "overbend", "radius left, inch / mm"), left("")...)...),
	}
	if len(b.Bends) == 0 {
		return block{}
	}
	spring, p, err := bend.SheetSpringback(b.Part.Sheet)
	if err != nil {
		return block{title: out.title, lines: []string{"Not known: " + oneLine(why(err)) + ". Find the overbend by a test bend."}}
	}
	model := bend.SameNose{ElasticPlastic: spring}
	rough := false
	for _, e := range ends(b, false) {
		row := []string{e.no, e.name, "none", "", "", ""}
		tool, err := model.Tool(e.at)
		if err != nil {
			row[5] = oneLine(why(err))
		} else if left, err := model.Leaves(e.at); err == nil {
			row[2], row[3], row[4] = tool.Angle.Text(1), (tool.Angle - e.at.Angle).Text(1), pair(left.Radius)
			if e.at.Radius < e.at.Thickness {
				row[5], rough = "R below T: too little", true
			}
		}
		out.rows = append(out.rows, row)
	}
	out.lines = []string{fmt.Sprintf(
		"A guide for the first try only, by Fty %.0f MPa and E %.0f MPa (%s, %s) in a model without hardening [%s]: sheet and brake differ, only a test bend in the same sheet settles it. Where a narrower radius must be left, take a sharper nose.",
		p.Fty, p.E, p.Basis, p.Source, bend.CubicSource())}
	if rough {
		out.lines = append(out.lines, "The model takes the inside radius for that of the middle of the sheet: below T it leaves much out.")
	}
	return out
}

// why is what is wrong in the words of its rule, without the field that the card's table names already.
func why(err error) string {
	var fault *bend.Error
	if errors.As(err, &fault) {
		return fault.Rule
	}
	return err.Error()
}
