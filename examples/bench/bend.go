package main

import (
	"fmt"
	"io"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

// answerBend gives one bend with its working, how sure its leg is, what it springs
// back, and what the tables say of its radius.
func answerBend(c clauses, w io.Writer) error {
	b := bend.Bend{Angle: c.angle("bend", c.one("bend")), Radius: c.length("radius")}
	sheet, stated := c.sheet("sheet")
	b.Thickness = sheet.Thickness
	rule := c.by()
	if err := c.err(); err != nil {
		return err
	}
	if err := working(w, rule, b, "this bend"); err != nil {
		return err
	}
	askGauge(w, sheet)
	if tol, err := bend.LegTolerance(rule, b, bend.SheetSpread(b), bend.CenteredLeg); err == nil {
		fmt.Fprintf(w, "\nLeg sure to ± %s (one standard deviation; spread of common practice), most of it from %s;\nthree test strips would bring this to ± %s.\n",
			measure.Both(tol.Leg), tol.Largest.Name, measure.Both(tol.AfterStrips))
	}
	if !stated {
		fmt.Fprintln(w, "\nName the material (of 2024-T3) to see its smallest radii and its springback.")
		return nil
	}
	radii(w, sheet.Material, b)
	springback(w, sheet, b)
	return nil
}

// working prints every step in inches, then in mm.
func working(w io.Writer, rule bend.Rule, b bend.Bend, name string) error {
	steps, err := bend.Working(rule, b, name)
	if err != nil {
		return err
	}
	kind := "open bend"
	switch right := 90 * measure.Degree; {
	case b.Angle > right:
		kind = "closed bend"
	case b.Angle == right:
		kind = "square bend"
	}
	fmt.Fprintf(w, "%s: %s, %s turned, %s between the legs; T %s, R %s\n", name, kind, b.Angle, b.Angle.Opening(), measure.Both(b.Thickness), measure.Both(b.Radius))
	for _, s := range steps {
		fmt.Fprintf(w, "  %-32s %s = %s\n", s.Quantity, s.Symbol, s.Formula)
		if s.Unit == bend.Length {
			fmt.Fprintf(w, "  %-32s    = %s = %s\n", "  in inches", s.PutIn(bend.Inches), s.AnswerIn(bend.Inches))
			fmt.Fprintf(w, "  %-32s    = %s = %s\n", "  in mm", s.PutIn(bend.Millimetres), s.AnswerIn(bend.Millimetres))
		} else {
			fmt.Fprintf(w, "  %-32s    = %s = %s\n", "", s.PutIn(bend.Inches), s.AnswerIn(bend.Inches))
		}
		fmt.Fprintf(w, "  %-32s    [%s]\n", "", s.Source)
	}
	if a, err := rule.Allowance(b); err == nil && a.Caution != "" {
		fmt.Fprintln(w, "  CAUTION:", a.Caution)
	}
	return nil
}

// radii prints what each table says of the radius.
func radii(w io.Writer, m material.Material, b bend.Bend) {
	fmt.Fprintf(w, "\nSmallest radii for %s at %s, about 90°:\n", m, measure.Both(b.Thickness))
	all, err := m.MinBendRadii(b.Thickness)
	if err != nil {
		fmt.Fprintln(w, " ", err)
		return
	}
	for _, l := range all {
		verdict := "R clears it"
		switch {
		case l.NotRecommended:
			verdict = "NOT RECOMMENDED"
		case material.Sharper(b.Radius, l.Least):
			verdict = "R IS SHARPER"
		case material.Sharper(b.Radius, l.Value):
			verdict = "R lies within the range: only by test bend"
		}
		span := measure.InchText(l.Value, 3)
		if l.Least != l.Value {
			span = measure.InchText(l.Least, 3) + " to " + span
		}
		fmt.Fprintf(w, "  %-22s %-43s %s\n", span, verdict, l.Source)
	}
}

// springback prints block radius and overbend by the strengths of the material, and what a
// nose of the wanted radius asks for, as the card of a part does.
func springback(w io.Writer, sheet material.Sheet, b bend.Bend) {
	model, p, err := bend.SheetSpringback(sheet)
	if err != nil {
		fmt.Fprintln(w, "\nNo springback:", err)
		return
	}
	tool, err := model.Tool(b)
	if err != nil {
		fmt.Fprintln(w, "\nNo springback:", err)
		return
	}
	fmt.Fprintf(w, "\nSpringback (Fty %.0f MPa, E %.0f MPa, %s; %s):\n  bend round R %s through %s, overbend %s; a guide for the first try only\n",
		p.Fty, p.E, p.Basis, bend.CubicSource(), measure.Both(tool.Radius), tool.Angle, tool.Angle-b.Angle)
	same, err := bend.SameNose{ElasticPlastic: model}.Tool(b)
	if err != nil {
		fmt.Fprintln(w, "  round a nose of R itself:", err)
		return
	}
	fmt.Fprintf(w, "  round a nose of R %s itself through %s, overbend %s, as the card of a part has it\n",
		measure.Both(same.Radius), same.Angle, same.Angle-b.Angle)
}
