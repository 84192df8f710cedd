package main

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/spatial/r2"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
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

// A place is where something is marked on the board.
type place struct {
	at   float64 // station, mm
	name string  // "station 72 in"
	arm  float64 // of the mark, mm
}

const (
	stationArm = 12.0
	jointArm   = 25.0 // the marks of the joint are told from those beside them at a glance
)

// places are the stations and the ends of the joint, in their order. An end of the joint at a
// station shares its mark.
func (j jig) places() []place {
	var all []place
	for _, s := range j.chine.Stations {
		all = append(all, place{s.At, "station " + stationText(s.At), stationArm})
	}
	for _, end := range []place{{j.joint.From, "joint from here", jointArm}, {j.joint.To, "joint to here", jointArm}} {
		k := slices.IndexFunc(all, func(p place) bool { return math.Abs(p.at-end.at) <= sameStation })
		if k >= 0 {
			all[k].name, all[k].arm = all[k].name+", "+end.name, end.arm
			continue
		}
		end.name += ", " + stationText(end.at)
		all = append(all, end)
	}
	slices.SortStableFunc(all, func(a, b place) int { return cmp.Compare(a.at, b.at) })
	return all
}

// stationText is a station in inches, "72 in" or "13.125 in", as the table is likely to have it.
func stationText(mm float64) string {
	return strconv.FormatFloat(math.Round(1000*mm/measure.Inch)/1000, 'f', -1, 64) + " in"
}

// mark ticks every place on the chine and on the rail above it, and names it at the chine. The
// ends of the board are their own marks.
func (j jig) mark(d *drawing.Drawing) {
	from, to := j.chine.Range()
	for _, p := range j.places() {
		low, high := j.chine.At(p.at), j.rail.At(p.at)
		foot := r2.Vec{X: p.at, Y: low}
		top := r2.Vec{X: p.at, Y: low + p.arm}
		if min(p.at-from, to-p.at) > sameStation {
			d.AddLine(drawing.Mark, p.name, foot, top)
			d.AddLine(drawing.Mark, p.name+", rail", r2.Vec{X: p.at, Y: high - p.arm}, r2.Vec{X: p.at, Y: high})
		}
		d.Labels = append(d.Labels, drawing.Label{Layer: drawing.Note, Text: []string{p.name + " (" + measure.MmText(p.at, 1) + ")"}, At: top})
	}
}
