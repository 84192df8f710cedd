package main

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/loft"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

// A jig is the two faired lines of the board.
type jig struct {
	name        string
	rail, chine loft.Fairing
	dropped     []float64 // stations left out, mm
	joint       loft.Span // flattest place for a joint in the chine angle
	jointBend   float64   // greatest curvature there, 1/mm
}

const (
	// jointLength is the stretch a splice of the chine angle takes.
	jointLength = 12 * measure.Inch
	// arcTolerance is how far the cutter's arcs may leave the faired line: a tenth
	// of what the readings are good to.
	arcTolerance = 0.05
	leastDepth   = 3 * measure.Inch // of the board; less bends with the angle
)

// fair lays the lines through the table: the rail is straight on the aircraft and
// stays so; the chine bends least within the readings' tolerances.
func fair(table loft.Table, drop []float64) (jig, error) {
	j := jig{}
	for _, l := range []struct {
		name string
		into *loft.Fairing
	}{{"rail", &j.rail}, {"chine", &j.chine}} {
		line, ok := table.Line(l.name)
		if !ok {
			return jig{}, fmt.Errorf(`the table has no column named "%s"`, l.name)
		}
		readings, dropped := without(line.Readings, drop)
		if l.name == "chine" {
			j.dropped = dropped
		}
		f, err := fairOne(l.name, readings)
		if err != nil {
			return jig{}, fmt.Errorf("%s: %w", l.name, err)
		}
		*l.into = f
	}
	if len(j.dropped) < len(drop) {
		return jig{}, fmt.Errorf("-drop: %d of the %d stations named are in the table", len(j.dropped), len(drop))
	}
	if err := j.railCovers(); err != nil {
		return jig{}, err
	}
	if err := (loft.Jig{Top: j.rail.Curve, Bottom: j.chine.Curve}).Validate(leastDepth); err != nil {
		return jig{}, err
	}
	var err error
	// The outermost bays run out straight for want of readings: no place to judge by.
	st := j.chine.Stations
	inner := loft.Span{From: st[1].At, To: st[len(st)-2].At}
	if len(st) < 5 {
		inner = loft.Span{From: st[0].At, To: st[len(st)-1].At}
	}
	j.joint, j.jointBend, err = j.chine.Flattest(inner, min(jointLength, inner.Length()))
	return j, err
}

// railCovers refuses a rail that ends short of the chine: the end of the board would be cut aslant to it.
func (j jig) railCovers() error {
	from, to := j.chine.Range()
	r0, r1 := j.rail.Range()
	if r0 <= from && to <= r1 {
		return nil
	}
	at := func(x float64) string { return measure.InchText(x, 1) }
	return fmt.Errorf("rail: runs from %s to %s, the chine from %s to %s: the rail must be measured at both ends of the chine", at(r0), at(r1), at(from), at(to))
}

func fairOne(name string, readings []loft.Reading) (loft.Fairing, error) {
	var opt loft.FairOptions
	if name == "rail" && len(readings) > 0 {
		opt.Straight = []loft.Span{{From: readings[0].Station, To: readings[len(readings)-1].Station}}
	}
	return loft.Fair(readings, opt)
}

// sameStation is how near a station named by hand must lie, mm.
const sameStation = 0.5

func without(readings []loft.Reading, drop []float64) (kept []loft.Reading, dropped []float64) {
	for _, r := range readings {
		k := slices.IndexFunc(drop, func(d float64) bool { return math.Abs(d-r.Station) <= sameStation })
		if k < 0 {
			kept = append(kept, r)
		} else if !slices.Contains(dropped, drop[k]) {
			dropped = append(dropped, drop[k])
		}
	}
	return kept, dropped
}

// board is the jig as a flat part without bends: the chine along its lower edge,
// the rail along its upper.
func (j jig) board() (flat.Part, error) {
	from, to := j.chine.Range()
	low, err := j.chine.Arcs(arcTolerance)
	if err != nil {
		return flat.Part{}, err
	}
	stock, err := material.Lookup("5052-H32")
	if err != nil {
		return flat.Part{}, err
	}
	p := flat.Part{
		Name:  j.name + "-board",
		Title: "Loft jig for the chine, seen from outboard",
		Sheet: material.Sheet{Material: stock, Thickness: 0.063 * measure.Inch},
	}
	for i, v := range low.Vertices {
		e := flat.Edge{Name: fmt.Sprintf("chine %d", i+1), Start: v.P, Bulge: v.Bulge}
		if i == len(low.Vertices)-1 {
			e.Name, e.Bulge = "end", 0
		}
		p.Web.Edges = append(p.Web.Edges, e)
	}
	p.Web.Edges = append(p.Web.Edges,
		flat.Edge{Name: "rail", Start: r2.Vec{X: to, Y: j.rail.At(to)}},
		flat.Edge{Name: "start", Start: r2.Vec{X: from, Y: j.rail.At(from)}})
	return p, nil
}
