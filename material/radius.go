package material

import (
	"math"

	"github.com/hangarflat/hangarflat/material/measure"
)

// A Limit is the smallest inside bend radius a table gives for a material at a
// thickness, for a bend of about 90°.
type Limit struct {
	Value float64 // mm; where the table prints a range, its safer end
	Least float64 // mm; the sharper end of a printed range, else equal to Value
	Note  string  // what the table adds for this row, and how the value was reached
	// NotRecommended: the table advises against bending this sheet cold; Value and
	// Least are then 0 and mean nothing.
	NotRecommended bool
	Source         Source
}

// radiusTable is a published table of smallest bend radii.
type radiusTable struct {
	document, place string
	lengths         bool      // cells are mm, else multiples of the thickness
	bands           bool      // at holds the upper limits of bands, else thicknesses
	at              []float64 // mm, rising
}

type radiusRow struct {
	table int
	note  string
	cells []radiusCell // one for each of the table's at
}

// radiusCell is one printed figure or range; its zero value is an empty cell.
type radiusCell struct {
	least, most    float64
	provenance     Provenance
	notRecommended bool
}

// sameGauge is how far a sheet may differ from a table's column and still be the
// sheet that column speaks of. The tables' fractions stand for decimal sheets:
// 1/32 for .032 (2.4 % apart), 1/16 for .064, 1/8 for .128, 3/16 for .190.
const sameGauge = 0.025

// MinBendRadii returns the limit of every table that speaks of the material at this
// thickness (mm), in the order of the tables. It returns an [*Error] when the
// material is unknown or no table reaches the thickness.
func (m Material) MinBendRadii(thickness float64) ([]Limit, error) {
	rows, err := m.radiusRows(thickness)
	if err != nil {
		return nil, err
	}
	var all []Limit
	for i := range rows {
		if l, ok := rows[i].limit(thickness); ok {
			all = append(all, l)
		}
	}
	if all == nil {
		return nil, m.outside(rows, thickness)
	}
	return all, nil
}

// MinBendRadius returns the strictest limit that was read in print, or the strictest
// remembered one where no table was read. A table that advises against the bend is
// stricter than any figure. Thickness is in mm.
func (m Material) MinBendRadius(thickness float64) (Limit, error) {
	rows, err := m.radiusRows(thickness)
	if err != nil {
		return Limit{}, err
	}
	var best Limit
	for i := range rows {
		if l, ok := rows[i].limit(thickness); ok && l.stricter(best) {
			best = l
		}
	}
	if best.Source.Provenance == Unstated {
		return Limit{}, m.outside(rows, thickness)
	}
	return best, nil
}

// stricter orders limits: read before remembered, advice against before a figure,
// then the larger radius. Any limit is stricter than the zero Limit.
func (l Limit) stricter(than Limit) bool {
	if than.Source.Provenance == Unstated {
		return true
	}
	if read := l.Source.Provenance == Read; read != (than.Source.Provenance == Read) {
		return read
	}
	if l.NotRecommended != than.NotRecommended {
		return l.NotRecommended
	}
	return l.Value > than.Value
}

func (m Material) radiusRows(thickness float64) ([]radiusRow, error) {
	if !(0 < thickness && thickness <= math.MaxFloat64) {
		return nil, thicknessFault(thickness)
	}
	i := index(m.Alloy, m.Temper)
	if i < 0 || m.Clad && !canBeClad(m.Alloy) {
		return nil, m.fault()
	}
	return radiiOf[i], nil
}

// limit looks a thickness up in one row. It is false outside the row's figures.
func (r *radiusRow) limit(t float64) (Limit, bool) {
	table := &radiusTables[r.table]
	var cell radiusCell
	if table.bands {
		cell = r.band(table, t)
	} else {
		cell = r.step(table, t)
	}
	if cell.provenance == Unstated {
		return Limit{}, false
	}
	l := Limit{Note: r.note, NotRecommended: cell.notRecommended, Value: cell.most, Least: cell.least}
	if !table.lengths {
		l.Value, l.Least = float64(cell.most*t), float64(cell.least*t)
	}
	l.Source = Source{table.document, table.place, cell.provenance}
	return l, true
}

// step takes the column of this sheet, or of the two columns it lies between the
// stricter. Both must be printed: beyond an empty cell the table does not reach.
func (r *radiusRow) step(table *radiusTable, t float64) radiusCell {
	for i, at := range table.at {
		if math.Abs(t-at) <= sameGauge*at {
			return r.cells[i]
		}
		if at > t {
			if i == 0 {
				return radiusCell{}
			}
			return stricterCell(r.cells[i-1], r.cells[i])
		}
	}
	return radiusCell{}
}

func stricterCell(a, b radiusCell) radiusCell {
	switch {
	case a.provenance == Unstated || b.provenance == Unstated:
		return radiusCell{}
	case a.notRecommended:
		return a
	case b.notRecommended:
		return b
	case a.most > b.most:
		return a
	}
	return b
}

// band takes the first band whose upper limit lies above the sheet. The last limit
// belongs to its band, and so does the sheet rolled to that nominal size.
func (r *radiusRow) band(table *radiusTable, t float64) radiusCell {
	last := len(table.at) - 1
	for i, limit := range table.at {
		if t < limit || i == last && t <= limit*(1+sameGauge) {
			return r.cells[i]
		}
	}
	return radiusCell{}
}

// outside says how far the tables reach.
func (m Material) outside(rows []radiusRow, t float64) error {
	lowest, highest := math.Inf(1), 0.0
	for _, r := range rows {
		for i, c := range r.cells {
			if c.provenance != Unstated {
				lowest, highest = min(lowest, radiusTables[r.table].at[i]), max(highest, radiusTables[r.table].at[i])
			}
		}
	}
	if highest == 0 {
		return &Error{"material", m.String(), "no table of bend radii at hand has a row for it: ask its maker or prove a radius by test bends"}
	}
	return &Error{"thickness", measure.Both(t), "outside the tables for " + m.String() + ", which reach from " +
		measure.Both(lowest) + " to " + measure.Both(highest)}
}
