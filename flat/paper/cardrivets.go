package paper

import (
	"slices"
	"strconv"
	"strings"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// rivetsBlock gives a line to each row of rivets: a row is stepped off with dividers between its
// ends, not marked out hole by hole.
func rivetsBlock(b flat.Blank) block {
	out := block{
		title:   "RIVET ROWS, inch / mm  (ends: centres of the first and the last rivet from the datum; the others at equal pitch between them)",
		columns: append(left("row", "flange"), right("number", "pitch", "from mold line", "ends, inch", "ends, mm")...),
	}
	for _, row := range b.Rows {
		n := len(row.Centers)
		if n == 0 {
			continue
		}
		pitch := ""
		if n > 1 {
			pitch = pair(r2.Norm(r2.Sub(row.Centers[n-1], row.Centers[0])) / float64(n-1))
		}
		inch, mm := fromTo(b, outline.Polyline(row.Centers[0], row.Centers[n-1]))
		out.rows = append(out.rows, []string{oneLine(row.Name), panelName(b, row.Panel), strconv.Itoa(n), pitch, fromMold(b, row), inch, mm})
	}
	out.lines = rivetLines(b)
	return out
}

// fromMold is how far a row lies from the mold line of its flange, at both ends where they differ.
func fromMold(b flat.Blank, row flat.RivetRow) string {
	if row.Panel < 0 || row.Panel >= len(b.Panels) {
		return ""
	}
	p := b.Panels[row.Panel]
	first := pair(r2.Dot(r2.Sub(row.Centers[0], p.Origin), p.Out))
	last := pair(r2.Dot(r2.Sub(row.Centers[len(row.Centers)-1], p.Origin), p.Out))
	if first == last {
		return first
	}
	return first + " to " + last
}

// rivetLines tell what goes through the rows and what is drilled for it, rows alike together.
func rivetLines(b flat.Blank) []string {
	var said, rows []string
	for _, row := range b.Rows {
		text := row.Rivet + "; mark with a cross and drill in place"
		if len(row.Holes) > 0 {
			h := row.Holes[0]
			text = row.Rivet + "; " + h.Purpose.String() + "s Ø " + measure.Both(h.Diameter)
		}
		text = oneLine(text)
		at := slices.Index(said, text)
		if at < 0 {
			said, rows = append(said, text), append(rows, oneLine(row.Name))
			continue
		}
		rows[at] += ", " + oneLine(row.Name)
	}
	for i := range said {
		said[i] = strings.Join([]string{rows[i], said[i]}, ": ") + "."
	}
	return said
}
