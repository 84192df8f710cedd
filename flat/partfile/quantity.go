package partfile

import (
	"errors"
	"math"
	"strconv"
	"strings"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/pelletier/go-toml/v2/unstable"
)

// A quantity is a kind of value the file knows: how it is read, what it must be.
type quantity[T any] struct {
	what    string // "a length"
	example string // as it would stand in the file, with its quotation marks
	units   []string
	parse   func(string) (T, error)
	check   func(T) string // the rule that is broken, or ""
}

// read returns the value, or the rule that it breaks and the error behind it.
func (q quantity[T]) read(n *node) (v T, rule string, err error) {
	switch n.kind {
	case unstable.String:
	case unstable.Integer, unstable.Float:
		if len(q.units) == 0 {
			return v, "must be " + q.what + " in quotation marks, such as " + q.example, nil
		}
		number := strings.ReplaceAll(strings.TrimPrefix(n.text, "+"), "_", "")
		if strings.Trim(number, "-0123456789.") != "" {
			return v, "must be " + q.what + " in quotation marks, such as " + q.example, nil
		}
		ways := make([]string, len(q.units))
		for i, u := range q.units {
			ways[i] = `"` + number + " " + u + `"`
		}
		return v, "a bare number has no unit: write " + strings.Join(ways, " or ") + ", with the quotation marks", nil
	default:
		return v, "must be " + q.what + " in quotation marks, such as " + q.example, nil
	}
	v, err = q.parse(n.text)
	if err != nil {
		return v, because(err), err
	}
	if q.check != nil {
		rule = q.check(v)
	}
	return v, rule, nil
}

// because is the rule an error of the packages below speaks of, without the value,
// which the fault prints once.
func because(err error) string {
	var syntax *measure.SyntaxError
	var stuff *material.Error
	switch {
	case errors.As(err, &syntax):
		return syntax.Rule
	case errors.As(err, &stuff):
		return stuff.Rule
	}
	return err.Error()
}

// farthest bounds where a point of an aeroplane can lie from the datum of its
// stations, mm: none was 200 m long.
const farthest = 200e3

func length(example string, check func(mm float64) string) quantity[float64] {
	return lengthWithin(flat.MostLength, "10 m", example, check)
}

func lengthWithin(most float64, words, example string, check func(mm float64) string) quantity[float64] {
	return quantity[float64]{"a length", `"` + example + `"`, []string{"in", "mm"}, measure.ParseLength, func(mm float64) string {
		if rule := check(mm); rule != "" {
			return rule
		}
		if math.Abs(mm) <= most {
			return ""
		}
		return "is more than " + words + ": look for a slip of unit"
	}}
}

func above(mm float64) string {
	if mm > 0 {
		return ""
	}
	return "must be above 0"
}

// aboveOrOut is the rule of a value for which zero would silently mean something
// else.
func aboveOrOut(otherwise string) func(float64) string {
	return func(mm float64) string {
		if mm > 0 {
			return ""
		}
		return "must be above 0; leave the line out for " + otherwise
	}
}

func notBelow(mm float64) string {
	if mm >= 0 {
		return ""
	}
	return "must be 0 or more"
}

var (
	// position is a coordinate on a panel.
	position = length("12.5 in", anyLength)
	// station is a coordinate in the aeroplane.
	station = lengthWithin(farthest, "200 m", "407.02 in", anyLength)
)

func anyLength(float64) string { return "" }

func angle(example string, check func(measure.Angle) string) quantity[measure.Angle] {
	return quantity[measure.Angle]{"an angle", `"` + example + `"`, []string{"deg"}, measure.ParseAngle, check}
}

func anyAngle(measure.Angle) string { return "" }

// bendAngle leaves the range to the part, which knows it; zero alone must not
// pass for a line left out.
var bendAngle = angle("87.5 deg", turned)

func turned(a measure.Angle) string {
	if a != 0 {
		return ""
	}
	return "must be above 0, turned from flat"
}

// gauged is a thickness and the gauge it was given by.
type gauged struct {
	mm float64
	by material.GaugeSystem
}

var thickness = quantity[gauged]{"a thickness", `"0.040 in"`, []string{"in", "mm"}, func(s string) (g gauged, err error) {
	g.mm, g.by, err = material.ParseGauged(s)
	return g, err
}, nil}

var alloy = quantity[material.Material]{"an alloy and its temper", `"2024-T3"`, nil, material.Lookup, nil}

// words is any text that can be printed on a card.
var words = quantity[string]{"a text", `"Keel-bay intercostal, bay 7, port"`, nil, func(s string) (string, error) { return s, nil }, func(s string) string {
	if strings.TrimSpace(s) == "" {
		return "must hold at least one letter"
	}
	return ""
}}

// fileName is a word that every computer takes as the name of a file.
var fileName = quantity[string]{"a name", `"keel-bay-7"`, nil, func(s string) (string, error) { return s, nil }, func(s string) string {
	const letters = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_."
	switch {
	case s == "" || len(s) > 64 || strings.Trim(s, letters) != "" || strings.HasPrefix(s, "."):
		return "names the files made from the part: 1 to 64 letters a to z, digits, - _ and . (not first)"
	}
	return ""
}}

// choice is one of a few words.
func choice[T any](words []string, values []T) quantity[T] {
	q := quantity[T]{what: `"` + strings.Join(words, `" or "`) + `"`, example: `"` + words[0] + `"`}
	q.parse = func(s string) (v T, err error) {
		for i, w := range words {
			if w == s {
				return values[i], nil
			}
		}
		return v, errors.New(didYouMean(s, words))
	}
	return q
}

// number reads a pure number, the one kind of value that stands without quotation
// marks and unit.
func (t *table) number(key, example string, lo, hi float64) (x float64, given bool) {
	e := t.find(key)
	if e == nil {
		return 0, false
	}
	rule := "must be a plain number, without unit and quotation marks, such as " + key + " = " + example
	x, err := plainNumber(e.value)
	switch {
	case err != nil:
	case !(lo <= x && x <= hi):
		rule = "must be " + strconv.FormatFloat(lo, 'g', -1, 64) + " to " + strconv.FormatFloat(hi, 'g', -1, 64)
	default:
		return x, true
	}
	t.refuse(key, e.value, rule, nil)
	return 0, false
}

var errNotPlain = errors.New("not a plain number")

// plainNumber reads a number that carries no unit.
func plainNumber(n *node) (float64, error) {
	if n.kind != unstable.Integer && n.kind != unstable.Float {
		return 0, errNotPlain
	}
	return strconv.ParseFloat(strings.ReplaceAll(n.text, "_", ""), 64)
}
