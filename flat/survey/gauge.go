package survey

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"github.com/hangarflat/hangarflat/material/measure"
)

// A BaseLine is a straight line on a flat base, a keel's deck or a floor, from
// which a face is measured with rule and bevel protractor. Along runs down the line
// and Up off the base, both unit and square to each other.
type BaseLine struct {
	Start     r3.Vec // where the rule's zero lies, mm
	Along, Up r3.Vec
}

// Leaning is a face measured by angle and distance: with the rule along a base
// line, and with a bevel protractor stood on the base against the face.
type Leaning struct {
	Base BaseLine
	// Distance is how far along the line the face stands, at Height off the base;
	// mm, less than 0 behind the start.
	Distance, Height float64
	// Lean is the angle of the face off the perpendicular of the base, protractor
	// square to the face; positive where the face gets farther away going up; -85°
	// to 85°.
	Lean measure.Angle
	// Skew is how far the face stands turned from square across the line, seen from
	// Up, positive counter-clockwise; -80° to 80°, 0 square.
	Skew measure.Angle
}

// TwoHeights is a face measured by its distance along a base line at two heights,
// where no protractor reaches: how it leans follows.
type TwoHeights struct {
	Base BaseLine
	// Distances along the line, mm, each at its height off the base, mm. The heights
	// lie at least 1 mm apart.
	LowDistance, LowHeight   float64
	HighDistance, HighHeight float64
	Skew                     measure.Angle // as in [Leaning]
}

// Levelled is a face measured with a spirit level that shows degrees: held along
// the aeroplane and athwart it, and one point of the face. In the axes of the
// survey X runs aft, Y to the right and Z up.
type Levelled struct {
	Point r3.Vec // mm
	// Along is the level's reading with the level on the face in a plane of X and Z,
	// positive where the face rises aft; Athwart the same in a plane of Y and Z,
	// positive where it rises to the right. Each is -90° to 90°, both ends upright.
	Along, Athwart measure.Angle
	// DatumAlong and DatumAthwart are what the level reads on the aeroplane's own
	// levelling datum, by the same signs, -45° to 45°: both 0 for an aeroplane that
	// stands level.
	DatumAlong, DatumAthwart measure.Angle
}

// A Misreading is where a face would have been laid had one reading been wrong.
type Misreading struct {
	Reading string // "lean"
	Plane   Plane
}

// ReadingErrors are how far any one reading may be off. Zero takes readings of that
// sort as exact.
type ReadingErrors struct {
	Length float64       // of rule, tape and points, mm
	Angle  measure.Angle // of protractor and level
}

func (f *faults) angle(field string, a, limit measure.Angle, rule string) {
	if !(-limit <= a && a <= limit) {
		f.add(field, a.Text(4), rule)
	}
}

func (f *faults) baseLine(b BaseLine) {
	f.point3("start", b.Start)
	for _, d := range []struct {
		name string
		way  r3.Vec
	}{{"along", b.Along}, {"up", b.Up}} {
		if n := r3.Norm(d.way); !within(n, 1-normalSlack, 1+normalSlack) {
			f.add(d.name, fmt.Sprintf("length %g", n), "must be a unit vector")
		}
	}
	if dot := r3.Dot(b.Along, b.Up); !within(dot, -normalSlack, normalSlack) {
		f.add("up", fmt.Sprintf("%g of it runs along the line", dot), "must stand square to along")
	}
}

const skewRule = "must be -80° to 80° from square across the line"

// crossing is the direction, in the base, that a skewed face crosses the line in,
// and ahead the one square to it, farther along the line.
func (b BaseLine) crossing(skew measure.Angle) (across, ahead r3.Vec) {
	left := r3.Cross(b.Up, b.Along)
	sin, cos := math.Sincos(skew.Radians())
	across = r3.Sub(r3.Scale(cos, left), r3.Scale(sin, b.Along))
	ahead = r3.Add(r3.Scale(cos, b.Along), r3.Scale(sin, left))
	return across, ahead
}

func (b BaseLine) at(distance, height float64) r3.Vec {
	return r3.Add(b.Start, r3.Add(r3.Scale(distance, b.Along), r3.Scale(height, b.Up)))
}

// Plane lays the face; its normal points farther along the line. A reading out of
// its range is an [*Error], joined.
func (l Leaning) Plane() (Plane, error) {
	var f faults
	f.baseLine(l.Base)
	f.coordinate("distance", l.Distance)
	f.coordinate("height", l.Height)
	f.angle("lean", l.Lean, 85*measure.Degree, "must be -85° to 85° off the perpendicular of the base")
	f.angle("skew", l.Skew, 80*measure.Degree, skewRule)
	if err := f.err(); err != nil {
		return Plane{}, err
	}
	_, ahead := l.Base.crossing(l.Skew)
	sin, cos := math.Sincos(l.Lean.Radians())
	normal, _ := unit(r3.Sub(r3.Scale(cos, ahead), r3.Scale(sin, l.Base.Up)))
	return Plane{Point: l.Base.at(l.Distance, l.Height), Normal: normal}, nil
}

// Misread lays the face anew for each reading in turn wrong by its error, the other way
// where it would be out of its range. Errors are those of [Leaning.Plane].
func (l Leaning) Misread(by ReadingErrors) ([]Misreading, error) {
	angle := float64(by.Angle)
	return misreadings(l, []misreading[Leaning]{
		{"distance", by.Length, func(l Leaning, by float64) Leaning { l.Distance += by; return l }},
		{"height", by.Length, func(l Leaning, by float64) Leaning { l.Height += by; return l }},
		{"lean", angle, func(l Leaning, by float64) Leaning { l.Lean += measure.Angle(by); return l }},
		{"skew", angle, func(l Leaning, by float64) Leaning { l.Skew += measure.Angle(by); return l }},
	})
}

// Plane lays the face; its normal points farther along the line. A reading out of
// its range is an [*Error], joined.
func (l TwoHeights) Plane() (Plane, error) {
	var f faults
	f.baseLine(l.Base)
	f.coordinate("low distance", l.LowDistance)
	f.coordinate("low height", l.LowHeight)
	f.coordinate("high distance", l.HighDistance)
	f.coordinate("high height", l.HighHeight)
	f.angle("skew", l.Skew, 80*measure.Degree, skewRule)
	if apart := l.HighHeight - l.LowHeight; len(f.list) == 0 && !(apart >= 1) {
		f.add("high height", mm(l.HighHeight), "must lie at least 1 mm above the low one, "+mm(l.LowHeight))
	}
	if err := f.err(); err != nil {
		return Plane{}, err
	}
	across, _ := l.Base.crossing(l.Skew)
	low := l.Base.at(l.LowDistance, l.LowHeight)
	rise := r3.Sub(l.Base.at(l.HighDistance, l.HighHeight), low)
	normal, ok := unit(r3.Cross(across, rise))
	if !ok {
		return Plane{}, &Error{"two heights", "", "the two readings coincide"}
	}
	return Plane{Point: low, Normal: normal}, nil
}

// Misread lays the face anew for each reading in turn wrong by its error, the other way
// where it would be out of its range. Errors are those of [TwoHeights.Plane].
func (l TwoHeights) Misread(by ReadingErrors) ([]Misreading, error) {
	return misreadings(l, []misreading[TwoHeights]{
		{"low distance", by.Length, func(l TwoHeights, by float64) TwoHeights { l.LowDistance += by; return l }},
		// Apart, so that the heights stay in order.
		{"low height", by.Length, func(l TwoHeights, by float64) TwoHeights { l.LowHeight -= by; return l }},
		{"high distance", by.Length, func(l TwoHeights, by float64) TwoHeights { l.HighDistance += by; return l }},
		{"high height", by.Length, func(l TwoHeights, by float64) TwoHeights { l.HighHeight += by; return l }},
		{"skew", float64(by.Angle), func(l TwoHeights, by float64) TwoHeights { l.Skew += measure.Angle(by); return l }},
	})
}

// leastLevelSine is the least sine between the two lines a level was held along
// that still settles a plane, 1°: on a face that stands plumb the level reads
// upright either way, whichever way the face looks.
const leastLevelSine = 0.0175

// Plane lays the face. Its normal is square to the two lines the level was held along,
// that aft and that to the right, as up is to both on a level face: it points up in the
// axes of the survey while both stand less than upright there. On a face that stands
// plumb it points forward where Along is 90°, aft at -90°, to the left where Athwart is
// 90° and to the right at -90°. A reading out of its range, or two readings of a plumb
// face that do not say which way it looks, are an [*Error], joined.
func (l Levelled) Plane() (Plane, error) {
	var f faults
	f.point3("point", l.Point)
	const rule = "must be -90° to 90°: what the level shows, 0 lying level"
	f.angle("along", l.Along, 90*measure.Degree, rule)
	f.angle("athwart", l.Athwart, 90*measure.Degree, rule)
	const datumRule = "must be -45° to 45°: what the level shows on the aeroplane's own datum"
	f.angle("datum along", l.DatumAlong, 45*measure.Degree, datumRule)
	f.angle("datum athwart", l.DatumAthwart, 45*measure.Degree, datumRule)
	if err := f.err(); err != nil {
		return Plane{}, err
	}
	// Plumb-up in the axes of the aeroplane: X rises by the one datum reading, Y by
	// the other. Both are at most 45°; what is left for Z is not below 0.
	ux, uy := math.Sin(l.DatumAlong.Radians()), math.Sin(l.DatumAthwart.Radians())
	uz := math.Sqrt(max(0, 1-ux*ux-uy*uy))
	along, ok1 := held(l.Along, ux, uz)
	athwart, ok2 := held(l.Athwart, uy, uz)
	if !ok1 || !ok2 {
		return Plane{}, &Error{"level", "", "no line of the aeroplane stands as steep as a reading, by the datum given"}
	}
	normal := r3.Cross(r3.Vec{X: math.Cos(along), Z: math.Sin(along)}, r3.Vec{Y: math.Cos(athwart), Z: math.Sin(athwart)})
	size := r3.Norm(normal)
	if !(size >= leastLevelSine) {
		return Plane{}, &Error{"level", l.Along.Text(2) + " and " + l.Athwart.Text(2), "a level does not tell which way a plumb face looks: measure it by points, or by angle and distance"}
	}
	return Plane{Point: l.Point, Normal: r3.Scale(1/size, normal)}, nil
}

// held is the angle from the aeroplane's own X or Y up toward Z of a line whose
// level reads a, where that axis rises by h and Z by z: the line's rise
// h·cos t + z·sin t is sin a.
func held(a measure.Angle, h, z float64) (t float64, ok bool) {
	s := math.Sin(a.Radians()) / math.Hypot(h, z)
	if !(math.Abs(s) <= 1+1e-12) {
		return 0, false
	}
	return math.Asin(max(-1, min(1, s))) - math.Atan2(h, z), true
}

// Misread lays the face anew for each reading in turn wrong by its error: the point
// square to the face, the level toward level. The datum's readings are exact where both
// are 0, for an aeroplane that stands level. Errors are those of [Levelled.Plane].
func (l Levelled) Misread(by ReadingErrors) ([]Misreading, error) {
	p, err := l.Plane()
	if err != nil {
		return nil, err
	}
	angle, datum := float64(by.Angle), float64(by.Angle)
	if l.DatumAlong == 0 && l.DatumAthwart == 0 {
		datum = 0
	}
	return misreadings(l, []misreading[Levelled]{
		{"point", by.Length, func(l Levelled, by float64) Levelled { l.Point = r3.Add(l.Point, r3.Scale(by, p.Normal)); return l }},
		{"along", angle, func(l Levelled, by float64) Levelled { l.Along = nearerLevel(l.Along, by); return l }},
		{"athwart", angle, func(l Levelled, by float64) Levelled { l.Athwart = nearerLevel(l.Athwart, by); return l }},
		{"datum along", datum, func(l Levelled, by float64) Levelled {
			l.DatumAlong = nearerLevel(l.DatumAlong, by)
			l.Athwart = noSteeper(l.Athwart, l.DatumAlong)
			return l
		}},
		{"datum athwart", datum, func(l Levelled, by float64) Levelled {
			l.DatumAthwart = nearerLevel(l.DatumAthwart, by)
			l.Along = noSteeper(l.Along, l.DatumAthwart)
			return l
		}},
	})
}

// nearerLevel is a level's reading wrong by its error toward 0, so that an upright level
// still has one.
func nearerLevel(a measure.Angle, by float64) measure.Angle {
	return a - measure.Angle(math.Copysign(1, float64(a))*by)
}

// noSteeper is what the level would have shown of an upright line, had the datum across
// it been the one given: a line square to an axis that rises by so much is no steeper
// than what that leaves of 90°.
func noSteeper(a, across measure.Angle) measure.Angle {
	most := 90*measure.Degree - measure.Angle(math.Abs(float64(across)))
	return max(-most, min(most, a))
}

// laid is what lays a face by readings.
type laid interface{ Plane() (Plane, error) }

// A misreading is one reading of a measurement and how far it may be off.
type misreading[M laid] struct {
	reading string
	by      float64 // mm or radians; 0 is exact
	wrong   func(right M, by float64) M
}

// misreadings lays a face anew for each reading that may be off, wrong one way, or the
// other where it lays none by that.
func misreadings[M laid](right M, list []misreading[M]) ([]Misreading, error) {
	var out []Misreading
	for _, m := range list {
		if !(m.by > 0) {
			continue
		}
		p, err := m.wrong(right, m.by).Plane()
		if err != nil {
			var other error
			if p, other = m.wrong(right, -m.by).Plane(); other != nil {
				return nil, fmt.Errorf("with the %s wrong by its error: %w", m.reading, err)
			}
		}
		out = append(out, Misreading{m.reading, p})
	}
	return out, nil
}
