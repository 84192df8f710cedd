package main

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/former"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// A job is what a file asks for.
type job struct {
	former     former.Former
	pieces     []int
	substitute *material.Sheet
	reader     *reader
}

// A reader turns the text of a file into numbers and keeps every fault with its place.
type reader struct {
	name   string
	places map[string]place
	faults []error
	cutAt  []int // of each cut-out of the former, its number in the file
}

// read reads a file, or returns every fault of it in the order of the lines.
func read(name string, data []byte) (job, error) {
	r := &reader{name: name, places: places(data)}
	var in file
	r.faults = decode(name, data, &in)
	var fatal *fault
	if len(r.faults) > 0 && errors.As(r.faults[0], &fatal) && fatal.err != nil {
		return job{}, inOrder(r.faults) // not TOML: what follows was not read
	}
	j := job{pieces: in.Pieces, reader: r}
	if len(j.pieces) == 0 {
		j.pieces = []int{1}
	}
	r.former(&j.former, &in)
	if in.Substitute != nil {
		s := r.sheet("substitute", *in.Substitute)
		j.substitute = &s
	}
	if len(in.Split.Joints) > 0 && len(j.pieces) != 1 {
		r.refuse("split.joints", "", "joints are given for one number of pieces: ask for one")
	}
	if len(r.faults) > 0 {
		return job{}, inOrder(r.faults)
	}
	return j, nil
}

func (r *reader) refuse(path, value, rule string) {
	if strings.HasPrefix(rule, "is missing") && r.misspelt(path) {
		return
	}
	f := &fault{file: r.name, field: spoken(path), value: value, rule: rule}
	// A key that is missing is a fault of the table it is missing from.
	for at := path; ; {
		if p, ok := r.places[at]; ok {
			f.line, f.column = p.line, p.column
			break
		}
		cut := strings.LastIndexAny(at, ".[")
		if cut < 0 {
			break
		}
		at = at[:cut]
	}
	r.faults = append(r.faults, f)
}

// misspelt reports whether an unknown key was probably meant to be this one.
func (r *reader) misspelt(path string) bool {
	plain := index.ReplaceAllString(path, "")
	for _, e := range r.faults {
		var f *fault
		if errors.As(e, &f) && f.meant == plain {
			return true
		}
	}
	return false
}

var index = regexp.MustCompile(`\[(\d+)\]`)

// spoken is a path as the maker would say it: "outer leg 2 to 1".
func spoken(path string) string {
	path = index.ReplaceAllStringFunc(path, func(s string) string {
		n, _ := strconv.Atoi(s[1 : len(s)-1])
		return " " + strconv.Itoa(n+1)
	})
	return strings.ReplaceAll(path, ".", " ")
}

// length reads a length that may be left out.
func (r *reader) length(path string, t text) float64 {
	if t == "" {
		return 0
	}
	v, err := measure.ParseLength(string(t))
	if err != nil {
		r.refuse(path, string(t), ruleOf(err))
	}
	return v
}

func ruleOf(err error) string {
	var syntax *measure.SyntaxError
	if errors.As(err, &syntax) {
		return syntax.Rule
	}
	return err.Error()
}

// needLength reads a length that must be there.
func (r *reader) needLength(path string, t text) float64 {
	if t == "" {
		r.refuse(path, "", `is missing: a length with its unit, such as "20 mm" or "3/4 in"`)
	}
	return r.length(path, t)
}

func (r *reader) angle(path string, t text) measure.Angle {
	if t == "" {
		return 0
	}
	v, err := measure.ParseAngle(string(t))
	if err != nil {
		r.refuse(path, string(t), ruleOf(err))
	}
	return v
}

func (r *reader) point(path string, t []text) r2.Vec {
	if len(t) != 2 {
		r.refuse(path, "", `a point is two lengths in square brackets: ["150 mm", "0 mm"]`)
		return r2.Vec{X: math.NaN()}
	}
	return r2.Vec{X: r.needLength(path+"[0]", t[0]), Y: r.needLength(path+"[1]", t[1])}
}

// choice reads one of a few words; left out, it is the first.
func (r *reader) choice(path string, t text, words ...string) int {
	if t == "" {
		return 0
	}
	for i, w := range words {
		if strings.EqualFold(w, strings.TrimSpace(string(t))) {
			return i
		}
	}
	r.refuse(path, string(t), `must be "`+strings.Join(words, `" or "`)+`"`)
	return 0
}

func (r *reader) sheet(path string, in sheetFile) material.Sheet {
	var s material.Sheet
	var err error
	if s.Material, err = material.Lookup(string(in.Material)); err != nil {
		r.refuse(path+".material", string(in.Material), materialRule(err))
	}
	if s.Thickness, s.Gauge, err = material.ParseGauged(string(in.Thickness)); err != nil {
		r.refuse(path+".thickness", string(in.Thickness), materialRule(err))
	}
	return s
}

func materialRule(err error) string {
	var bad *material.Error
	if errors.As(err, &bad) {
		return bad.Rule
	}
	return ruleOf(err)
}

func (r *reader) former(f *former.Former, in *file) {
	f.Name, f.Title = in.Name, in.Title
	if !fileName.MatchString(f.Name) {
		r.refuse("name", f.Name, "names the files: small and large letters, digits, - and _, 60 at most")
	}
	f.Sheet = r.sheet("sheet", in.Sheet)
	f.Rule = r.rule(in.Bends)
	f.Method = former.Method(r.choice("method", in.Method, "by hand", "by rubber pad"))
	f.Outer = r.rim("outer", in.Outer, nil)
	if len(in.Inner.Start) > 0 || len(in.Inner.Points) > 0 || in.Inner.Inset != "" {
		f.Inner = r.rim("inner", in.Inner, &f.Outer.Contour)
		if f.Inner.Contour.Area() > 0 {
			f.Inner.Contour = f.Inner.Contour.Reverse()
		}
		if in.Inner.Inset != "" && len(f.Outer.Contour.Vertices) > 0 {
			f.Inner.Contour = startedAt(f.Inner.Contour, f.Outer.Contour.Vertices[0].P)
		}
	} else if in.Inner.Flange != nil {
		r.refuse("inner.flange", "", "has no edge: give the inner an inset, or start and legs")
	}
	for i, c := range in.Cutouts {
		r.cutout(f, i, c)
	}
	f.Split = former.Split{Gap: r.length("split.gap", in.Split.Gap), Stagger: r.length("split.stagger", in.Split.Stagger),
		Rivet: r.length("split.rivet", in.Split.Rivet), Stock: r.stock("split.stock", in.Split.Stock), BlockStock: r.stock("split.block_stock", in.Split.BlockStock),
		Neighbours: r.lengths("split.neighbours", in.Split.Neighbours), Joints: r.lengths("split.joints", in.Split.Joints)}
	f.Block = former.BlockSpec{Contour: former.BlockContour(r.choice("block.size", in.Block.Size, "inside mold line", "size of part")),
		Depth: r.length("block.depth", in.Block.Depth), Overbend: r.angle("block.overbend", in.Block.Overbend),
		Pin: r.length("block.pin", in.Block.Pin), CoverRelief: r.length("block.cover", in.Block.Cover)}
	for i, p := range in.Block.Pins {
		f.Block.Pins = append(f.Block.Pins, r.point(fmt.Sprintf("block.pins[%d]", i), p))
	}
}

var fileName = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9_-]{0,59}$`)

func (r *reader) rule(in bendsFile) bend.Rule {
	switch r.choice("bends.rule", in.Rule, "handbook", "DIN 6935", "neutral axis") {
	case 1:
		return bend.DIN6935{}
	case 2:
		if !(0 < in.Neutral && in.Neutral <= 1) {
			r.refuse("bends.neutral", fmt.Sprint(in.Neutral), "a neutral axis lies above 0 and at most 1 thickness from the inside face")
		}
		return bend.NeutralAxis{K: in.Neutral}
	}
	return bend.Handbook{}
}

func (r *reader) stock(path string, t []text) former.Stock {
	if len(t) == 0 {
		return former.Stock{}
	}
	p := r.point(path, t)
	return former.Stock{Length: p.X, Width: p.Y}
}

func (r *reader) lengths(path string, t []text) []float64 {
	var list []float64
	for i, v := range t {
		list = append(list, r.needLength(fmt.Sprintf("%s[%d]", path, i), v))
	}
	return list
}

func (r *reader) rim(path string, in rimFile, outer *outline.Path) former.Rim {
	rim := former.Rim{Contour: r.contour(path, in, outer)}
	if in.Flange == nil {
		return rim
	}
	at := path + ".flange"
	fl := &former.Flange{
		Turn:   flat.Turn(r.choice(at+".turn", in.Flange.Turn, "up", "down")),
		Height: r.needLength(at+".height", in.Flange.Height), Radius: r.needLength(at+".radius", in.Flange.Radius),
		Model: former.Model(r.choice(at+".model", in.Flange.Model, "equal arc", "equal area")), Trim: r.length(at+".trim", in.Flange.Trim),
	}
	switch {
	case in.Flange.Bevel != "" && len(in.Flange.Bevels) > 0:
		r.refuse(at+".bevels", "", "give bevel or bevels, not both")
	case in.Flange.Bevel != "":
		fl.Bevels = []former.Bevel{{Angle: r.angle(at+".bevel", in.Flange.Bevel)}}
	case len(in.Flange.Bevels) > 0:
		for i, b := range in.Flange.Bevels {
			here := fmt.Sprintf("%s.bevels[%d]", at, i)
			if len(b) != 2 {
				r.refuse(here, "", `a bevel is a girth and an angle: ["900 mm", "97 deg"]`)
				continue
			}
			fl.Bevels = append(fl.Bevels, former.Bevel{At: r.needLength(here+"[0]", b[0]), Angle: r.angle(here+"[1]", b[1])})
		}
	default:
		r.refuse(at+".bevel", "", `is missing: the bend angle, turned from flat, such as "90 deg"`)
	}
	if v := in.Flange.Rivets; v != nil {
		fl.Rivets = former.Rivets{Diameter: r.needLength(at+".rivets.diameter", v.Diameter), Pitch: r.needLength(at+".rivets.pitch", v.Pitch), Line: r.length(at+".rivets.line", v.Line)}
	}
	rim.Flange = fl
	return rim
}
