package flat_test

import (
	"math"
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/stretchr/testify/assert"
)

// An error says where in words from the outside in, by name where there is one and else by number, then the
// field with its value and unit, then the rule. All faults are told at once.
func TestErrorsReadFromTheOutsideIn(t *testing.T) {
	p := stock()
	p.Web.Edges = plate(6, 4, .04, .1, [4]*flat.Flange{}).Web.Edges
	p.Web.Edges[0].Flanges = leg(90)
	p.Web.Edges[1].Flanges = leg(90)
	p.Web.Edges[0].Flanges[0].Name, p.Web.Edges[0].Flanges[0].Height = "foot", math.NaN()
	p.Web.Edges[1].Flanges[0].Name, p.Web.Edges[1].Flanges[0].Height = "", -3
	p.Web.Edges[1].Name = ""
	p.Relief.Diameter = 300
	err := p.Validate()
	told := map[string]string{}
	for _, e := range err.(interface{ Unwrap() []error }).Unwrap() {
		var fault *flat.Error
		if assert.ErrorAs(t, e, &fault) {
			told[fault.Path] = fault.Error()
		}
	}
	assert.Contains(t, told["web.edges[0].flanges[0].height"], `edge "lower", flange "foot": height NaN mm: must be `)
	assert.Contains(t, told["web.edges[1].flanges[0].height"], `edge 2, flange 1: height -3 mm: must be `)
	assert.Contains(t, told["relief.diameter"], "relief: diameter 300 mm: relief hole must be 0 mm (by the rule) to 200 mm")

	assert.Equal(t, "must be so", (&flat.Error{Path: "a.b", Rule: "must be so"}).Error(), "neither place nor value")
	assert.Equal(t, "here: must be so", (&flat.Error{Place: "here", Path: "a.b", Rule: "must be so"}).Error(), "no value")
	assert.Equal(t, "b 1 mm: must be so", (&flat.Error{Path: "a.b", Value: "1 mm", Rule: "must be so"}).Error(), "no place")
}
