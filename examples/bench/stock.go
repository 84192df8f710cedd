package main

import (
	"fmt"
	"io"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

// answerStock shows what changes from a sheet that cannot be had to the stock of today
// about it, and, where a turn and a radius are given, what happens to such a bend.
func answerStock(c clauses, w io.Writer) error {
	old, stated := c.sheet("stock")
	if !stated {
		c.one("of")
	}
	rule := c.by()
	var others []material.Material
	for _, name := range c.texts("instead") {
		m, err := material.Lookup(name)
		c.fault("instead", err)
		others = append(others, m)
	}
	var b *bend.Bend
	if turns := c.texts("turn"); len(turns) > 0 {
		b = &bend.Bend{Angle: c.angle("turn", turns[0]), Radius: c.length("radius"), Thickness: old.Thickness}
	}
	if err := c.err(); err != nil {
		return err
	}
	all, err := material.Substitute(old, others...)
	if err != nil {
		return err
	}
	fmt.Fprintf(w, "For %s, %s: what changes. Nothing is recommended: approved data say what may replace what.\n", old.Material, measure.Both(old.Thickness))
	askGauge(w, old)
	for _, change := range all {
		fmt.Fprintf(w, "\n%s, %s\n", change.New.Material, measure.Both(change.New.Thickness))
		fmt.Fprintf(w, "  thickness     %+.4f in (%+.3f mm), x %.3f\n", change.Thickness/measure.Inch, change.Thickness, change.Ratio)
		factor(w, "yield", change.Yield, fmt.Sprintf("Fty·T, %s values", change.Strength))
		factor(w, "ultimate", change.Ultimate, fmt.Sprintf("Ftu·T, %s values", change.Strength))
		factor(w, "stiffness", change.Stiffness, "E·T³, of the flat sheet")
		factor(w, "mass", change.Mass, "for the same area")
		if r := change.NewRadius; r.Source.Provenance != material.Unstated && !r.NotRecommended {
			fmt.Fprintf(w, "  least radius  %s by %s\n", measure.Both(r.Value), r.Source)
		}
		for _, missing := range change.Missing {
			fmt.Fprintln(w, "  not known:", missing)
		}
		if b != nil {
			refit(w, rule, old, change.New, *b)
		}
	}
	return nil
}

func factor(w io.Writer, name string, x float64, of string) {
	if x > 0 {
		fmt.Fprintf(w, "  %-13s x %.3f (%s)\n", name, x, of)
	}
}

func refit(w io.Writer, rule bend.Rule, old, stock material.Sheet, b bend.Bend) {
	r, err := bend.Substitute(rule, old, stock, b)
	if err != nil {
		fmt.Fprintln(w, "  the bend:", err)
		return
	}
	if r.Limit.Source.Provenance == material.Unstated {
		fmt.Fprintln(w, "  the bend      no table says whether its radius can be bent: prove it by test bends")
	}
	if r.RadiusRaised > 0 {
		fmt.Fprintf(w, "  the bend      radius must grow by %s to %s\n", measure.Both(r.RadiusRaised), measure.Both(r.New.Radius))
	}
	fmt.Fprintf(w, "  the bend      setback %+.4f in, deduction %+.4f in with the mold lines kept;\n", r.Setback/measure.Inch, r.Deduction/measure.Inch)
	fmt.Fprintf(w, "                mold line out %+.4f in, flange face out %+.4f in with the inside kept\n", r.MoldLine/measure.Inch, r.FlangeFit/measure.Inch)
}
