package main

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"github.com/hangarflat/hangarflat/flat/former"
)

// locate gives the faults that the former itself found their place in the file.
func (r *reader) locate(err error, f former.Former) error {
	r.faults = nil
	r.walk(err, f)
	return inOrder(r.faults)
}

func (r *reader) walk(err error, f former.Former) {
	if many, ok := err.(interface{ Unwrap() []error }); ok {
		for _, e := range many.Unwrap() {
			r.walk(e, f)
		}
		return
	}
	bad, ok := err.(*former.Error)
	if inner := errors.Unwrap(err); !ok && inner != nil {
		r.walk(inner, f) // "in 4 pieces: ..."
		return
	}
	if !ok {
		r.faults = append(r.faults, &fault{file: r.name, field: "former", rule: err.Error(), err: err})
		return
	}
	before := len(r.faults)
	r.refuse(r.pathOf(bad.Field, f), bad.Value, bad.Rule)
	last := r.faults[before].(*fault)
	last.field, last.err = bad.Field, err
	// What is wrong in one number of pieces is mostly wrong in all.
	for _, e := range r.faults[:before] {
		if e.Error() == last.Error() {
			r.faults = r.faults[:before]
			return
		}
	}
}

// words of the former that stand elsewhere in the file.
var elsewhere = []struct{ field, path string }{
	{"sheet stock", "split.stock"}, {"block stock", "split.block_stock"}, {"joint gap", "split.gap"}, {"stagger", "split.stagger"},
	{"splice rivet", "split.rivet"}, {"neighbour joint", "split.neighbours"}, {"joint", "split.joints"}, {"tooling pin", "block.pin"},
	{"cover relief", "block.cover"}, {"block contour", "block.size"}, {"block depth", "block.depth"}, {"block overbend", "block.overbend"},
	{"outer flange rivet", "outer.flange.rivets."}, {"inner flange rivet", "inner.flange.rivets."},
	{"outer flange", "outer.flange."}, {"inner flange", "inner.flange."}, {"outer", "outer."}, {"inner", "inner."}, {"web", "inner."},
}

// pathOf is where in the file a field of the former stands.
func (r *reader) pathOf(field string, f former.Former) string {
	for i, c := range f.Cutouts {
		if rest, ok := strings.CutPrefix(field, fmt.Sprintf("cut-out %q", c.Name)); ok && c.Name != "" && i < len(r.cutAt) {
			return fmt.Sprintf("cutout[%d].%s", r.cutAt[i], strings.TrimSpace(rest))
		}
	}
	for _, e := range elsewhere {
		if rest, ok := strings.CutPrefix(field, e.field); ok {
			if strings.HasSuffix(e.path, ".") {
				return e.path + r.bevel(e.path, strings.TrimSpace(rest))
			}
			return e.path
		}
	}
	return field
}

var bevelField = regexp.MustCompile(`^bevel (\d+) (girth|angle)$`)

// bevel turns "bevel 2 angle" into the place of that value.
func (r *reader) bevel(table, field string) string {
	m := bevelField.FindStringSubmatch(field)
	if m == nil {
		return field
	}
	if _, one := r.places[table+"bevel"]; one {
		return "bevel"
	}
	n, _ := strconv.Atoi(m[1])
	return fmt.Sprintf("bevels[%d][%d]", n-1, map[string]int{"girth": 0, "angle": 1}[m[2]])
}
