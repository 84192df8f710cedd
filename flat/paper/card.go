package paper

import (
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/brake"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/material/measure"
)

// CardOptions set out a bench card. The zero value is useful.
type CardOptions struct {
	// Fractions prints marking-out lengths to the nearest 1/64 inch beside the
	// decimals, for a shop that works with a rule.
	Fractions bool
	// Plan is the order of bends tried in the shop's own brake, by [brake.Brake.Order].
	// Without one the card proposes an order that no brake was held against. The plan of
	// another blank is an [*Error].
	Plan *brake.Plan
	// Brake is the one the plan was tried in; its dimensions stand beside the plan.
	Brake brake.Brake
	// Doubts are what the readings a part was fitted by may do to the fit, the worst first,
	// and Doubt all of them together, both by [flat.Doubts]. Left out for a part that was
	// not measured.
	Doubts []flat.Doubt
	Doubt  flat.Doubt
}

// validate returns an [*Error] for each way in which the plan is none of the blank's.
func (o CardOptions) validate(b flat.Blank) error {
	if o.Plan == nil || len(o.Plan.Steps) == 0 {
		return nil
	}
	var faults []error
	fault := func(field, value, rule string) {
		faults = append(faults, &Error{field, value, rule + ": is the plan of another blank?"})
	}
	if n := len(o.Plan.Steps); n != len(b.Bends) {
		fault("plan", fmt.Sprintf("%d steps", n), fmt.Sprintf("the blank has %d bends", len(b.Bends)))
	}
	made := make([]bool, len(b.Bends))
	for k, s := range o.Plan.Steps {
		step := fmt.Sprintf("plan step %d ", k+1)
		switch {
		case !(0 <= s.Bend && s.Bend < len(b.Bends)):
			fault(step+"bend", strconv.Itoa(s.Bend), fmt.Sprintf("the blank has %d bends, the first of them 0", len(b.Bends)))
			continue
		case made[s.Bend]:
			fault(step+"bend", strconv.Itoa(s.Bend), "an earlier step makes it")
		}
		made[s.Bend] = true
		l := b.Bends[s.Bend]
		if planned, bent := flangeText(s.Name, s.Turn, s.Angle), flangeText(l.Name, l.Turn, max(l.Bend.Angle, l.EndBend.Angle)); planned != bent {
			fault(step+"flange", planned, fmt.Sprintf("bend %d of the blank is %s", s.Bend, bent))
		}
		if s.Hold != l.Parent && s.Hold != l.Child {
			fault(step+"held panel", strconv.Itoa(s.Hold), fmt.Sprintf("must be %d or %d, beside the bend", l.Parent, l.Child))
		}
	}
	return errors.Join(faults...)
}

// flangeText tells a flange from others, as far as a bench card does.
func flangeText(name string, turn flat.Turn, angle measure.Angle) string {
	return fmt.Sprintf("%q %v %s", name, turn, angle.Text(3))
}

// cardWidth is the width of a text card in characters: a landscape page of
// close print.
const cardWidth = 128

// Card writes the bench card as plain text in UTF-8: sheet, bends with their
// working and sources, brake settings, reliefs, holes, the cut outline, findings,
// proof, cautions, and space for what the inspector measures. It returns an [*Error] for each way
// in which opt.Plan is not of this blank, or the error of w.
func Card(w io.Writer, b flat.Blank, opt CardOptions) error {
	if err := opt.validate(b); err != nil {
		return err
	}
	var t strings.Builder
	rule := strings.Repeat("=", cardWidth) + "\n"
	t.WriteString(rule)
	t.WriteString(apart("BENCH CARD", oneLine(b.Part.Name), cardWidth))
	if title := oneLine(b.Part.Title); title != "" {
		t.WriteString(title + "\n")
	}
	if b.Stopped() {
		t.WriteString("\n" + centred("* * *  "+flat.NotForCutting+"  * * *", cardWidth))
		t.WriteString(centred("see the findings marked STOP", cardWidth))
	}
	t.WriteString(rule)
	for _, block := range cardBlocks(b, opt) {
		t.WriteString("\n" + block.title + "\n" + strings.Repeat("-", cardWidth) + "\n")
		block.text(&t)
	}
	if b.Stopped() {
		t.WriteString("\n" + centred("* * *  "+flat.NotForCutting+"  * * *", cardWidth))
	}
	_, err := io.WriteString(w, t.String())
	return err
}

// A block is one headed part of a card: a table, then lines below it.
type block struct {
	title   string
	columns []column
	rows    [][]string
	lines   []string
	working []workingLine
	written bool // by hand, on paper: its lines stand far apart
}

type column struct {
	head  string
	right bool // numbers stand to the right
}

// A workingLine is a step set out for reading.
type workingLine struct{ symbol, quantity, formula, answer, source string }

func (b block) text(t *strings.Builder) {
	widths := make([]int, len(b.columns))
	heads := make([]string, len(b.columns))
	for i, c := range b.columns {
		heads[i] = c.head
		widths[i] = utf8.RuneCountInString(c.head)
		for _, r := range b.rows {
			widths[i] = max(widths[i], utf8.RuneCountInString(r[i]))
		}
	}
	write := func(cells []string) {
		var line strings.Builder
		for i, c := range cells {
			pad := strings.Repeat(" ", widths[i]-utf8.RuneCountInString(c))
			if i > 0 {
				line.WriteString("   ")
			}
			if b.columns[i].right {
				line.WriteString(pad + c)
			} else {
				line.WriteString(c + pad)
			}
		}
		t.WriteString(strings.TrimRight(line.String(), " ") + "\n")
	}
	if strings.Join(heads, "") != "" {
		write(heads)
	}
	for _, r := range b.rows {
		write(r)
	}
	for _, s := range b.working {
		t.WriteString(apart(s.symbol+"  "+s.quantity, s.answer, cardWidth))
		for _, line := range fill(s.formula+"   ["+s.source+"]", cardWidth-6) {
			t.WriteString("      " + line + "\n")
		}
	}
	for _, l := range b.lines {
		for _, part := range fill(l, cardWidth) {
			t.WriteString(part + "\n")
		}
	}
}

// apart sets two texts at the ends of a line, or on two lines when they do not fit.
func apart(left, right string, width int) string {
	gap := width - utf8.RuneCountInString(left) - utf8.RuneCountInString(right)
	if gap < 2 {
		return left + "\n" + strings.Repeat(" ", max(0, width-utf8.RuneCountInString(right))) + right + "\n"
	}
	return left + strings.Repeat(" ", gap) + right + "\n"
}

func centred(s string, width int) string {
	return strings.Repeat(" ", max(0, (width-utf8.RuneCountInString(s))/2)) + s + "\n"
}

// fill breaks a text into lines of at most the given width, between words where
// it can.
func fill(s string, width int) []string {
	return breakLines(s, func(t string) bool { return utf8.RuneCountInString(t) <= width })
}

// breakLines breaks a text between words so that each line fits. A word that fits
// no line stands on one of its own.
func breakLines(s string, fits func(string) bool) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(s) {
		if line != "" && !fits(line+" "+word) {
			lines = append(lines, line)
			line = ""
		}
		if line != "" {
			line += " "
		}
		line += word
	}
	if line != "" {
		lines = append(lines, line)
	}
	if len(lines) == 0 {
		return []string{""}
	}
	return lines
}

// oneLine makes a name that a maker typed safe to set on a line: no control
// characters, no runs of space.
func oneLine(s string) string {
	clean := strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f || r == utf8.RuneError || r >= 0x80 && r < 0xa0 || r == 0x2028 || r == 0x2029 {
			return ' '
		}
		return r
	}, s)
	return strings.Join(strings.Fields(clean), " ")
}

// cautionsBlock gives the cautions of the drawing, after those of the shop.
func cautionsBlock() block {
	out := block{title: "CAUTIONS", columns: left("")}
	for _, line := range append([]string{
		"Aircraft structure can kill. This card is computed geometry and approves nothing.",
		"Guards on, gloves off near rotating tools, eyes protected, burrs off before handling; keep water off magnesium dust.",
	}, drawing.Cautions()...) {
		out.rows = append(out.rows, []string{line})
	}
	return out
}
