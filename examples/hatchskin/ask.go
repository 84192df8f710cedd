package main

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
	"gonum.org/v1/gonum/spatial/r2"

	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

// text asks for a word or a size between quotation marks.
func (in *input) text(path string) (string, bool) {
	in.asked[plainPath(path)] = true
	v, ok := in.values[path]
	if !ok {
		if _, there := in.places[path]; there {
			in.refuse(path, "", "must be a single value", nil)
		}
		return "", false
	}
	if v.kind != unstable.String {
		in.refuse(path, v.text, `must stand between quotation marks, a size with its unit: "20 mm" or "3/4 in"`, nil)
		return "", false
	}
	return v.text, true
}

func (in *input) length(path string) float64 {
	s, ok := in.text(path)
	if !ok {
		return 0
	}
	v, err := measure.ParseLength(s)
	if err != nil {
		in.refuse(path, strconv.Quote(s), ruleOf(err), err)
	}
	return v
}

// need is a length that must be there.
func (in *input) need(path string) float64 {
	if _, there := in.places[path]; !there && !in.has(path) {
		in.asked[plainPath(path)] = true
		in.refuse(path, "", `is missing: a size with its unit, such as "20 mm" or "3/4 in"`, nil)
		return 0
	}
	return in.length(path)
}

func (in *input) has(path string) bool {
	_, scalar := in.values[path]
	_, list := in.lists[path]
	_, group := in.places[path]
	return scalar || list || group
}

func (in *input) angle(path string) measure.Angle {
	s, ok := in.text(path)
	if !ok {
		return 0
	}
	v, err := measure.ParseAngle(s)
	if err != nil {
		in.refuse(path, strconv.Quote(s), ruleOf(err), err)
	}
	return v
}

func ruleOf(err error) string {
	var syntax *measure.SyntaxError
	var bad *material.Error
	switch {
	case errors.As(err, &syntax):
		return syntax.Rule
	case errors.As(err, &bad):
		return bad.Rule
	}
	return err.Error()
}

// word asks for one of a few; left out, it is the first.
func (in *input) word(path string, words ...string) int {
	s, ok := in.text(path)
	if !ok {
		return 0
	}
	for i, w := range words {
		if strings.EqualFold(strings.TrimSpace(s), w) {
			return i
		}
	}
	in.refuse(path, strconv.Quote(s), `must be "`+strings.Join(words, `" or "`)+`"`, nil)
	return 0
}

// number asks for a bare number, such as of rows.
func (in *input) number(path string, lo, hi float64) float64 {
	in.asked[plainPath(path)] = true
	v, ok := in.values[path]
	if !ok {
		if in.has(path) {
			in.refuse(path, "", "must be a single number", nil)
		}
		return 0
	}
	x, err := strconv.ParseFloat(v.text, 64)
	if v.kind != unstable.Integer && v.kind != unstable.Float || err != nil || !(lo <= x && x <= hi) {
		in.refuse(path, v.text, fmt.Sprintf("must be a number from %g to %g, without quotation marks", lo, hi), nil)
		return 0
	}
	return x
}

func (in *input) count(path string, lo, hi int) int {
	x := in.number(path, float64(lo), float64(hi))
	if x != math.Trunc(x) {
		in.refuse(path, in.values[path].text, "must be a whole number", nil)
		return 0
	}
	return int(x)
}

func (in *input) yes(path string) bool {
	in.asked[plainPath(path)] = true
	v, ok := in.values[path]
	if ok && v.kind != unstable.Bool {
		in.refuse(path, v.text, "must be true or false, without quotation marks", nil)
	}
	if !ok && in.has(path) {
		in.refuse(path, "", "must be true or false", nil)
	}
	return ok && v.text == "true"
}

// point asks for two lengths in square brackets.
func (in *input) point(path string) r2.Vec {
	in.asked[plainPath(path)] = true
	if in.lists[path] != 2 {
		in.refuse(path, "", `must be two sizes in square brackets: ["150 mm", "0 mm"]`, nil)
		return r2.Vec{}
	}
	return r2.Vec{X: in.need(path + "[0]"), Y: in.need(path + "[1]")}
}

func (in *input) points(path string) (list []r2.Vec) {
	in.asked[plainPath(path)] = true
	for i := range in.lists[path] {
		list = append(list, in.point(path+"["+strconv.Itoa(i)+"]"))
	}
	return list
}

// line asks for a chain of points, at least two.
func (in *input) line(path string) outline.Path {
	pts := in.points(path)
	if len(pts) < 2 {
		in.refuse(path, "", `must be two points or more: [["0 mm", "0 mm"], ["300 mm", "0 mm"]]`, nil)
	}
	return outline.Polyline(pts...)
}

func (in *input) sheet(path string) material.Sheet {
	in.asked[path] = true
	var s material.Sheet
	for _, key := range []string{".material", ".thickness"} {
		text, ok := in.text(path + key)
		if !ok {
			if !in.has(path + key) {
				in.refuse(path+key, "", "is missing", nil)
			}
			continue
		}
		var err error
		if key == ".material" {
			s.Material, err = material.Lookup(text)
		} else {
			s.Thickness, s.Gauge, err = material.ParseGauged(text)
		}
		if err != nil {
			in.refuse(path+key, strconv.Quote(text), ruleOf(err), err)
		}
	}
	return s
}
