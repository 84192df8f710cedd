package material_test

import (
	"encoding/csv"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
)

// tableOf reads a table of testdata: the names of its columns, then its rows.
func tableOf(t *testing.T, name string) (head []string, rows [][]string) {
	t.Helper()
	f, err := os.Open("../testdata/" + name)
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	require.NoError(t, err)
	return all[0], all[1:]
}

// rows of a table, by the names of its columns.
func rows(t *testing.T, name string) (list []map[string]string) {
	head, all := tableOf(t, name)
	for _, cells := range all {
		row := map[string]string{}
		for i, column := range head {
			row[column] = cells[i]
		}
		list = append(list, row)
	}
	return list
}

// Every thickness of the table of aircraft sheet is in its list, as so many inches, and nothing else is.
// Common practice: the table's source.
func TestStockThicknessesRowByRow(t *testing.T) {
	want := map[string][]float64{}
	for _, row := range rows(t, "aircraft_aluminium_thicknesses.csv") {
		inch, err := strconv.ParseFloat(row["inch"], 64)
		require.NoError(t, err)
		mm, err := strconv.ParseFloat(row["mm_computed"], 64)
		require.NoError(t, err)
		assert.InDelta(t, mm, inch*25.4, 0.0011, "the table's own two columns agree")
		series, _, _ := strings.Cut(row["series"], " ")
		want[series] = append(want[series], inch)
	}
	require.Len(t, want, 2)
	for series, got := range map[string][]float64{"current": material.StockThicknesses(), "older": material.OlderStockThicknesses()} {
		require.Len(t, got, len(want[series]), series)
		for i, inch := range want[series] {
			assert.InDelta(t, inch, got[i]/measure.Inch, 1e-12, "%s, row %d", series, i+1)
			if i > 0 {
				assert.Greater(t, got[i], got[i-1], "rising")
			}
		}
	}
}

// Every statement of the two tables of old specifications comes back word for word under its own name, in their order,
// and one from memory says so.
func TestSpecificationsRowByRow(t *testing.T) {
	all := material.Specifications("")
	british, american := rows(t, "british_sheet_specs.csv"), rows(t, "old_us_designations.csv")
	require.Len(t, all, len(british)+len(american))
	for i, row := range british {
		s := all[i]
		assert.Equal(t, row["spec"], s.Name)
		assert.Equal(t, row["form_condition"], s.Form)
		assert.Equal(t, strings.TrimSuffix(row["statement"], "-"), s.Statement)
		assert.Equal(t, strings.HasPrefix(row["provenance"], "memory"), s.Source.Provenance == material.Memory, s.Name)
		assert.Equal(t, strings.HasPrefix(row["provenance"], "seen") || strings.HasPrefix(row["provenance"], "read"), s.Source.Provenance == material.Read, s.Name)
	}
	for i, row := range american {
		s := all[len(british)+i]
		assert.Equal(t, row["old"], s.Name)
		assert.Contains(t, s.Form, row["now"])
		assert.Equal(t, row["remark"], s.Statement)
		assert.Equal(t, material.Memory, s.Source.Provenance)
	}
}
