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

// Sharper reports whether an inside radius is below a limit by more than the table's rounding, both mm. Tables
// print to the thousandth of an inch: 3/16 in stands there as .188, and a bend of 3/16 in is not sharper.
func Sharper(radius, limit float64) bool {
	const rounding = 0.501 * measure.Thou
	return !(radius+rounding >= limit)
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
		if cell := rows[i].cell(thickness); cell != nil {
			all = append(all, rows[i].limit(cell, thickness))
		}
	}
	if all == nil {
		return nil, m.outside(rows, thickness)
	}
	return all, nil
}

// MinBendRadius returns the strictest limit that was read in print, or the strictest
// remembered one where no table was read. A table that advises against the bend is
// stricter than any figure. Thickness is in mm. It returns an [*Error] for a thickness that is not
// above 0 and finite, for a material that is in none of the tables, and where no table speaks of
// that thickness of it.
func (m Material) MinBendRadius(thickness float64) (Limit, error) {
	rows, err := m.radiusRows(thickness)
	if err != nil {
		return Limit{}, err
	}
	var best *radiusRow
	var found *radiusCell
	rank, radius := -1, 0.0
	for i := range rows {
		r := &rows[i]
		cell := r.cell(thickness)
		if cell == nil {
			continue
		}
		n, value := cell.rank(), r.mm(cell.most, thickness)
		if n > rank || n == rank && value > radius {
			best, found, rank, radius = r, cell, n, value
		}
	}
	if best == nil {
		return Limit{}, m.outside(rows, thickness)
	}
	return best.limit(found, thickness), nil
}

// rank puts read before remembered, and advice against the bend before a figure.
func (c *radiusCell) rank() int {
	rank := 0
	if c.provenance == Read {
		rank = 2
	}
	if c.notRecommended {
		rank++
	}
	return rank
}

// radiusRows gives the rows of all tables for a material.
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

// cell looks a thickness up in one row. It is nil outside the row's figures.
func (r *radiusRow) cell(t float64) *radiusCell {
	table := &radiusTables[r.table]
	if table.bands {
		return r.band(table.at, t)
	}
	return r.step(table.at, t)
}

// mm turns a figure of a cell into a length: multiples of the thickness in most tables.
func (r *radiusRow) mm(figure, t float64) float64 {
	if radiusTables[r.table].lengths {
		return figure
	}
	return figure * t
}

func (r *radiusRow) limit(c *radiusCell, t float64) Limit {
	table := &radiusTables[r.table]
	return Limit{
		Value: r.mm(c.most, t), Least: r.mm(c.least, t), Note: r.note, NotRecommended: c.notRecommended,
		Source: Source{table.document, table.place, c.provenance},
	}
}

// printed is the cell at a column, nil where the table leaves it empty.
func (r *radiusRow) printed(i int) *radiusCell {
	if c := &r.cells[i]; c.provenance != Unstated {
		return c
	}
	return nil
}

// step takes the column of this sheet, or of the two columns it lies between the
// stricter. Both must be printed: beyond an empty cell the table does not reach.
func (r *radiusRow) step(at []float64, t float64) *radiusCell {
	// The first column whose sheet is not thinner than this one.
	low, high := 0, len(at)
	for low < high {
		if mid := (low + high) / 2; at[mid]*(1+sameGauge) < t {
			low = mid + 1
		} else {
			high = mid
		}
	}
	switch {
	case low == len(at):
		return nil
	case at[low]*(1-sameGauge) <= t:
		return r.printed(low)
	case low == 0:
		return nil
	}
	a, b := r.printed(low-1), r.printed(low)
	switch {
	case a == nil || b == nil:
		return nil
	case a.notRecommended, !b.notRecommended && a.most > b.most:
		return a
	}
	return b
}

// band takes the first band whose upper limit lies above the sheet. The last limit
// belongs to its band, and so does the sheet rolled to that nominal size.
func (r *radiusRow) band(at []float64, t float64) *radiusCell {
	last := len(at) - 1
	for i, limit := range at {
		if t < limit || i == last && t <= limit*(1+sameGauge) {
			return r.printed(i)
		}
	}
	return nil
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
