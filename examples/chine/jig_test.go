package main

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
)

// boardOf is the board of a table, as it is drawn.
func boardOf(t *testing.T, table string) (jig, drawing.Drawing) {
	t.Helper()
	read, err := read(table)
	require.NoError(t, err)
	j, err := fair(read, nil)
	require.NoError(t, err)
	j.name = "chine"
	board, err := j.board()
	require.NoError(t, err)
	blank, err := flat.Develop(board)
	require.NoError(t, err)
	d := drawing.Of(blank)
	j.mark(&d)
	return j, d
}

// ticks are the marks of the drawing by their names.
func ticks(d drawing.Drawing) map[string]outline.Path {
	found := map[string]outline.Path{}
	for _, p := range d.Paths {
		if p.Layer == drawing.Mark {
			found[p.Name] = p.Path
		}
	}
	return found
}

// Each station of the table is ticked on the line, at its reading within the 1/32 in of the
// table, and named; the ends of the board are the first and last. The joint is ticked and named at
// both ends, 12 in apart, and no two names meet each other or a mark.
func TestStationsAreMarkedOnTheBoard(t *testing.T) {
	j, d := boardOf(t, "chine.csv")
	found := ticks(d)
	var wanted []string
	for station, read := range map[int]float64{ // of the chine, as the table has it
		12: 2 + 5./16, 24: 2 + 5./8, 36: 3 + 3./32, 48: 3 + 21./32, 60: 4 + 3./8, 72: 5 + 3./16, 84: 6 + 1./32, 96: 6 + 7./8, 108: 7 + 11./16,
	} {
		name := fmt.Sprintf("station %d in", station)
		require.Contains(t, found, name)
		foot := found[name].Vertices[0].P
		assert.InDelta(t, 25.4*float64(station), foot.X, 1e-9)
		assert.InDelta(t, 25.4*read, foot.Y, 25.4/32+1e-9, name)
		assert.Contains(t, found, name+", rail")
		wanted = append(wanted, fmt.Sprintf("%s (%.1f mm)", name, 25.4*float64(station)))
	}
	assert.Len(t, found, 2*(9+2), "stations and joint, at chine and rail")
	wanted = append(wanted, "station 0 in (0.0 mm)", "station 120 in (3048.0 mm)", "joint from here, ", "joint to here, ")
	laid := d.Lay(drawing.Style{Size: 3})
	assert.Empty(t, laid.Left)
	for _, w := range wanted {
		count := 0
		for _, l := range d.Labels {
			if strings.HasPrefix(l.Text[0], w) {
				count++
			}
		}
		assert.Equal(t, 1, count, w)
	}
	assert.InDelta(t, 12*25.4, j.joint.Length(), 1e-9)
	namesApart(t, laid)
	for _, a := range laid.Texts {
		corners := a.Corners()
		box := outline.Polygon(corners[:]...)
		for name, tick := range found {
			for _, s := range tick.Segments() {
				for k := range 21 {
					assert.NotEqual(t, outline.Inside, box.Side(s.At(float64(k)/20)), "%s on the mark of %s", a.Text, name)
				}
			}
		}
	}
}

// An end of the joint that falls on a station shares its mark, and stations a quarter of an inch apart
// keep their names apart.
func TestMarksThatFallTogether(t *testing.T) {
	j, _ := boardOf(t, "chine.csv")
	j.joint.From, j.joint.To = 84*measure.Inch, 96.25*measure.Inch
	var d drawing.Drawing
	j.mark(&d)
	found := ticks(d)
	assert.Len(t, found, 2*(9+1))
	require.Contains(t, found, "station 84 in, joint from here")
	assert.InDelta(t, jointArm, found["station 84 in, joint from here"].Length(), 1e-9)
	assert.Contains(t, found, "joint to here, 96.25 in")
	laid := d.Lay(drawing.Style{Size: 3})
	assert.Empty(t, laid.Left)
	namesApart(t, laid)
}

func namesApart(t *testing.T, laid drawing.Laid) {
	t.Helper()
	for i, a := range laid.Texts {
		for _, b := range laid.Texts[:i] {
			assert.False(t, a.Overlaps(b.Frame), "%s on %s", a.Text, b.Text)
		}
	}
}
