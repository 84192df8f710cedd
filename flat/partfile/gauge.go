package partfile

import (
	"errors"
	"strings"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/survey"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r3"
)

// The tables of the file for a face that was not measured by points.
const (
	leanKey    = "lean"    // by angle and distance
	heightsKey = "heights" // by distance at two heights
	levelKey   = "level"   // by spirit level
)

// measured reads a face measured by angle and distance, at two heights or by
// spirit level.
func (d *decoder) measured(t *table, key string) (p survey.Plane, by flat.Measurement) {
	s := t.sub(key, t.pathOf(key))
	if s.n == nil {
		return p, nil
	}
	faults := len(d.list)
	switch key {
	case leanKey:
		by = d.lean(s)
	case heightsKey:
		by = d.heights(s)
	case levelKey:
		by = d.level(s)
	}
	s.done()
	d.alias(t.pathOf("plane"), t.pathOf(key))
	d.alias(t.pathOf("measured"), t.pathOf(key))
	if len(d.list) > faults {
		d.lose(t.pathOf(key))
		return p, nil
	}
	p, err := by.Plane()
	for _, leaf := range leaves(err) {
		var fault *survey.Error
		if errors.As(leaf, &fault) {
			s.refuseReading(fault)
		}
	}
	return p, by
}

// refuseReading says of a reading, or of the table where it is none of the file's,
// what the survey found wrong.
func (t *table) refuseReading(fault *survey.Error) {
	key := strings.ReplaceAll(fault.Field, " ", "_")
	if e := t.n.get(key); e != nil {
		t.refuse(key, e.value, fault.Rule, fault)
		return
	}
	t.d.lose(t.path)
	t.d.add(t.n.at, t.field, fault.Value, fault.Rule, fault)
}

func (d *decoder) lean(t *table) (l survey.Leaning) {
	l.Base = d.baseLine(t)
	l.Distance = need(t, "distance", length("14 in", anyLength))
	l.Height, _ = maybe(t, "height", length("2 in", anyLength))
	l.Lean = need(t, "lean", angle("3 deg", anyAngle))
	l.Skew, _ = maybe(t, "skew", angle("2 deg", anyAngle))
	return l
}

func (d *decoder) heights(t *table) (l survey.TwoHeights) {
	l.Base = d.baseLine(t)
	l.LowDistance = need(t, "low_distance", length("14 in", anyLength))
	l.LowHeight = need(t, "low_height", length("0 in", anyLength))
	l.HighDistance = need(t, "high_distance", length("14 3/8 in", anyLength))
	l.HighHeight = need(t, "high_height", length("8 in", anyLength))
	l.Skew, _ = maybe(t, "skew", angle("2 deg", anyAngle))
	return l
}

func (d *decoder) level(t *table) (l survey.Levelled) {
	l.Point = d.space(t, "point")
	l.Along = need(t, "along", angle("1.5 deg", anyAngle))
	l.Athwart = need(t, "athwart", angle("-0.5 deg", anyAngle))
	l.DatumAlong, _ = maybe(t, "datum_along", angle("0.5 deg", anyAngle))
	l.DatumAthwart, _ = maybe(t, "datum_athwart", angle("0.5 deg", anyAngle))
	return l
}

func (d *decoder) baseLine(t *table) (b survey.BaseLine) {
	b.Start = d.space(t, "from")
	b.Along = d.way(t, "along", "[1, 0, 0]", "is the direction of the line you measured along")
	b.Up = d.way(t, "up", "[0, 0, 1]", "is the direction square off the base you measured from")
	return b
}

// way reads a direction that must be there.
func (d *decoder) way(t *table, key, example, what string) r3.Vec {
	e := t.find(key)
	if e == nil {
		t.miss(key, "write "+key+" = "+example)
		return r3.Vec{}
	}
	return d.direction(t, key, e.value, what+": three plain numbers whose squares add up to 1, such as "+example)
}

// measured writes how a plane was measured.
func (e *encoder) measured(header string, by flat.Measurement) (known bool) {
	switch l := by.(type) {
	case survey.Leaning:
		e.open(header+leanKey, false)
		e.baseLine(l.Base)
		e.length("distance", l.Distance)
		e.optional("height", l.Height)
		e.angle("lean", l.Lean)
		e.optionalAngle("skew", l.Skew)
	case survey.TwoHeights:
		e.open(header+heightsKey, false)
		e.baseLine(l.Base)
		e.length("low_distance", l.LowDistance)
		e.length("low_height", l.LowHeight)
		e.length("high_distance", l.HighDistance)
		e.length("high_height", l.HighHeight)
		e.optionalAngle("skew", l.Skew)
	case survey.Levelled:
		e.open(header+levelKey, false)
		e.line("point", space(l.Point))
		e.angle("along", l.Along)
		e.angle("athwart", l.Athwart)
		e.optionalAngle("datum_along", l.DatumAlong)
		e.optionalAngle("datum_athwart", l.DatumAthwart)
	default:
		return false
	}
	return true
}

func (e *encoder) baseLine(b survey.BaseLine) {
	e.line("from", space(b.Start))
	e.line("along", direction(b.Along))
	e.line("up", direction(b.Up))
}

func (e *encoder) optionalAngle(key string, a measure.Angle) {
	if a != 0 {
		e.angle(key, a)
	}
}

func direction(v r3.Vec) string {
	return "[" + numberText(v.X) + ", " + numberText(v.Y) + ", " + numberText(v.Z) + "]"
}
