// Command bench is the calculator at the bench. It answers one bend, a section of
// several, a chart of allowances to hang on the wall, or what changes in other stock. What is asked stands
// on the command line in plain words, each number with its unit:
//
//	go run ./examples/bench bend 97 30\' radius 1/8 in sheet 0.040 in of 2024-T3
//	go run ./examples/bench section 1 in turn 90 deg leg 2 in turn 75 deg leg 3/4 in radius 3/16 in sheet 20 SWG of 2024-T3 by DIN 6935
//	go run ./examples/bench chart of 2024-T3 by handbook            # also out/bend-chart.svg and .pdf
//	go run ./examples/bench stock 20 SWG of 2017-T4 instead 2024-T3 turn 90 deg radius 1/4 in
//
// After "by" stands the rule: handbook (also when left out), K 0.42, DIN 6935, air soft, air
// medium, air hard, length soft copper, length soft steel, length hard sheet. "into DIR"
// names another folder for the chart, "angle 45 deg" another angle. A hem is "turn 180 deg":
// its legs are to the outside of the fold.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"github.com/hangarflat/hangarflat/examples/internal/command"
	"github.com/hangarflat/hangarflat/flat/drawing"
)

func main() {
	command.End(run(os.Args[1:], os.Stdout))
}

// A question is a kind of answer the bench gives: the words it knows and what it does.
type question struct {
	verb   string
	words  []string // that may follow, besides the text after the verb
	answer func(clauses, io.Writer) error
}

func questions() []question {
	return []question{
		{"bend", []string{"radius", "sheet", "of", "by"}, answerBend},
		{"section", []string{"turn", "leg", "radius", "sheet", "of", "by"}, answerSection},
		{"chart", []string{"of", "by", "angle", "into"}, answerChart},
		{"stock", []string{"of", "instead", "turn", "radius", "by"}, answerStock},
	}
}

// help shows a question of each kind.
const help = command.Help(`go run ./examples/bench bend 97 30\' radius 1/8 in sheet 0.040 in of 2024-T3
go run ./examples/bench section 1 in turn 90 deg leg 2 in turn 75 deg leg 3/4 in radius 3/16 in sheet 20 SWG of 2024-T3
go run ./examples/bench chart of 2024-T3 by DIN 6935
go run ./examples/bench stock 20 SWG of 2017-T4 instead 2024-T3 turn 90 deg radius 1/4 in
More stands in go doc ./examples/bench
`)

func run(args []string, w io.Writer) error {
	words := strings.Fields(strings.Join(args, " "))
	if len(words) == 0 {
		return errors.New("what is asked? begin with bend, section, chart or stock; -h shows how")
	}
	if slices.Contains([]string{"-h", "-help", "--help", "help"}, words[0]) {
		return help
	}
	for _, q := range questions() {
		if q.verb == strings.ToLower(words[0]) {
			c, err := parse(q, words[1:])
			if err != nil {
				return err
			}
			if err := q.answer(c, w); err != nil {
				return err
			}
			fmt.Fprintln(w)
			for _, line := range drawing.Cautions() {
				fmt.Fprintln(w, line)
			}
			return nil
		}
	}
	return fmt.Errorf("%q is not asked here: begin with bend, section, chart or stock", words[0])
}
