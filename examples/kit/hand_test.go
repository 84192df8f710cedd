package main

import (
	"context"
	"encoding/csv"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// handsOf runs the kit over rows below the head of the demo's table, both hands of each.
func handsOf(t *testing.T, folder string, more []string, rows ...string) (out string, err error) {
	t.Helper()
	table := filepath.Join(t.TempDir(), "bays.csv")
	require.NoError(t, os.WriteFile(table, []byte(tableHead+strings.Join(rows, "\n")+"\n"), 0o644))
	var text strings.Builder
	args := append([]string{"-o", folder, "-files", "dxf,picture,text"}, more...)
	err = run(context.Background(), append(args, template, table), &text, io.Discard)
	return text.String(), err
}

// Both hands of a row are parts of their own: each has its files, its place on the index page, a row of the
// cut list with the same area and mass and the grain mirrored, 180° less the 45° of the template, and lies on a
// sheet. The card says which hand it is.
func TestOtherHandOfEveryRow(t *testing.T) {
	folder := t.TempDir()
	more := []string{"-other-hand", "-stock", "96 in x 48 in"}
	out, err := handsOf(t, folder, more, bay("1"), bay("2"))
	require.NoError(t, err)
	assert.Contains(t, out, "4 parts made, 0 kept")
	assert.Contains(t, out, ": 4 blanks, ")
	rows, err := csv.NewReader(strings.NewReader(read(t, folder, cutListName))).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 5)
	column := map[string]int{}
	for i, head := range rows[0] {
		column[head] = i
	}
	for i := 1; i < 5; i += 2 {
		first, other := rows[i], rows[i+1]
		assert.Equal(t, first[0]+"-other-hand", other[0])
		assert.Equal(t, "OTHER HAND of "+first[column["title"]], other[column["title"]])
		for _, same := range []string{"area mm2", "mass g", "blank along x mm", "blank along y mm"} {
			assert.Equal(t, first[column[same]], other[column[same]], same)
		}
		assert.Equal(t, []string{"45°", "135°"}, []string{first[column["grain from x"]], other[column["grain from x"]]})
		for _, suffix := range []string{".dxf", ".svg", "-card.txt"} {
			assert.FileExists(t, filepath.Join(folder, other[0]+suffix))
		}
		assert.Contains(t, read(t, folder, other[0]+"-card.txt"), "OTHER HAND of Corrie keel-bay intercostal")
		assert.NotContains(t, read(t, folder, first[0]+"-card.txt"), "OTHER HAND")
		assert.Contains(t, read(t, folder, indexName), "<h2>"+other[0]+"</h2>")
		assert.Contains(t, read(t, folder, filepath.Join(sheetsName, sheetListName)), ","+other[0]+",")
	}

	// A run that goes on keeps all of them; one without the other hand keeps the first and takes the others' files away.
	out, err = handsOf(t, folder, more, bay("1"), bay("2"))
	require.NoError(t, err)
	assert.Contains(t, out, "0 parts made, 4 kept")
	assert.Contains(t, out, ": 4 blanks, ")
	out, err = handsOf(t, folder, nil, bay("1"), bay("2"))
	require.NoError(t, err)
	assert.Contains(t, out, "0 parts made, 2 kept")
	assert.Empty(t, files(t, folder, "*-other-hand*"))
}

// A row at fault is one fault and makes no part of either hand, and a row named like the other hand of
// an earlier one is refused.
func TestOtherHandOfBadRows(t *testing.T) {
	folder := t.TempDir()
	bad := strings.Replace(bay("9"), "84 deg", "184 deg", 1)
	out, err := handsOf(t, folder, []string{"-other-hand"}, bay("1"), bad, bay("1-other-hand"))
	require.Error(t, err)
	assert.Contains(t, out, "2 parts made, 0 kept from an earlier run, 2 rows at fault")
	faults := read(t, folder, faultsName)
	assert.Equal(t, 1, strings.Count(faults, "bays.csv:3"), faults)
	assert.Regexp(t, `"keel-bay-1-other-hand": is taken by the part of .*bays\.csv:2`, faults)
	assert.Len(t, files(t, folder, "*.dxf"), 2)
}
