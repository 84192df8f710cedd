package main

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

// A clause is one word of the question and the text up to the next: "radius", "1/8 in".
type clause struct{ word, text string }

// clauses are a question taken apart, and the faults found in it so far, so that all are
// reported together.
type clauses struct {
	all    []clause // the first is the verb
	faults []error
}

func parse(q question, words []string) (clauses, error) {
	c := clauses{all: []clause{{word: q.verb}}}
	for _, w := range words {
		last := &c.all[len(c.all)-1]
		_, endsRule := ruleNamed(strings.ToLower(last.text + " " + w)) // "length hard sheet", where sheet is a word too
		if slices.Contains(q.words, strings.ToLower(w)) && !(last.word == "by" && endsRule) {
			c.all = append(c.all, clause{word: strings.ToLower(w)})
			continue
		}
		last.text = strings.TrimSpace(last.text + " " + w)
	}
	for _, w := range q.words {
		if w != "turn" && w != "leg" && w != "instead" && len(c.texts(w)) > 1 {
			c.faults = append(c.faults, fmt.Errorf("%q stands there %d times", w, len(c.texts(w))))
		}
	}
	return c, errors.Join(c.faults...)
}

// texts are what stands after each such word.
func (c *clauses) texts(word string) []string {
	var all []string
	for _, cl := range c.all {
		if cl.word == word {
			all = append(all, cl.text)
		}
	}
	return all
}

func (c *clauses) fault(word string, err error) {
	if err != nil {
		c.faults = append(c.faults, fmt.Errorf("%s: %w", word, err))
	}
}

// one is the text after a word that must be there.
func (c *clauses) one(word string) string {
	all := c.texts(word)
	if len(all) == 0 {
		c.faults = append(c.faults, fmt.Errorf("%q is missing", word))
		return ""
	}
	return all[0]
}

// or is the text after a word, or what stands for it when it is left out.
func (c *clauses) or(word, left string) string {
	if all := c.texts(word); len(all) > 0 {
		return all[0]
	}
	return left
}

func (c *clauses) length(word string) float64 {
	if len(c.texts(word)) == 0 {
		c.one(word)
		return 0
	}
	mm, err := measure.ParseLength(c.one(word))
	c.fault(word, err)
	return mm
}

// sheet is the thickness after a word, of the material asked for; stated is false where
// none is.
func (c *clauses) sheet(word string) (s material.Sheet, stated bool) {
	if text := c.one(word); text != "" {
		var err error
		s.Thickness, s.Gauge, err = material.ParseGauged(text)
		c.fault(word, err)
	}
	s.Material, stated = c.of()
	return s, stated
}

// askGauge prints what a foreman would ask of a sheet given by the gauge of another metal.
func askGauge(w io.Writer, s material.Sheet) {
	if f, asked := flat.AskGauge("sheet", s); asked {
		fmt.Fprintf(w, "\n%s\n", f)
	}
}

func (c *clauses) angle(word, text string) measure.Angle {
	a, err := measure.ParseAngle(text)
	c.fault(word, err)
	return a
}

// of is the material, which may be left out.
func (c *clauses) of() (m material.Material, stated bool) {
	text := c.or("of", "")
	if text == "" {
		return m, false
	}
	m, err := material.Lookup(text)
	c.fault("of", err)
	return m, err == nil
}

// ruleNamed is the rule of a name, one that needs no number.
func ruleNamed(name string) (bend.Rule, bool) {
	rule, known := map[string]bend.Rule{
		"handbook": bend.Handbook{}, "din 6935": bend.DIN6935{}, "din": bend.DIN6935{},
		"air soft":           bend.SteppedK{Table: bend.AirBendK, Hardness: bend.Soft},
		"air medium":         bend.SteppedK{Table: bend.AirBendK, Hardness: bend.Medium},
		"air hard":           bend.SteppedK{Table: bend.AirBendK, Hardness: bend.Hard},
		"length soft copper": bend.SoftCopper, "length soft steel": bend.SoftSteel, "length hard sheet": bend.HardSheet,
	}[name]
	return rule, known
}

// by is the rule; the handbook's when left out.
func (c *clauses) by() bend.Rule {
	text := strings.ToLower(c.or("by", "handbook"))
	if rule, known := ruleNamed(text); known {
		return rule
	}
	if k, isK := strings.CutPrefix(text, "k "); isK {
		x, err := strconv.ParseFloat(strings.TrimSpace(k), 64)
		if err == nil {
			return bend.NeutralAxis{K: x}
		}
	}
	c.fault("by", fmt.Errorf("%q is no rule: handbook, K 0.42, DIN 6935, air soft, air medium, air hard, length soft copper, length soft steel or length hard sheet", text))
	return nil
}

func (c *clauses) err() error { return errors.Join(c.faults...) }
