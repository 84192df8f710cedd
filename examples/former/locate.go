package main

import (
	"errors"
	"fmt"
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
	var bad *former.Error
	if !errors.As(err, &bad) {
		r.faults = append(r.faults, &fault{file: r.name, field: "former", rule: err.Error(), err: err})
		return
	}
	r.refuse(r.pathOf(bad.Field, f), bad.Value, bad.Rule)
	last := r.faults[len(r.faults)-1].(*fault)
	last.field, last.err = bad.Field, err
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
				return e.path + strings.TrimSpace(rest)
			}
			return e.path
		}
	}
	return field
}
