package main

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/csv"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// demoKit makes the demo's kit and returns what it said.
func demoKit(t *testing.T, folder string, args ...string) string {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, run(context.Background(), append(append([]string{"-o", folder}, args...), template, "keel-bays.csv"), &out, io.Discard))
	return out.String()
}

func rowsOf(t *testing.T, folder, name string) [][]string {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(read(t, folder, name))).ReadAll()
	require.NoError(t, err)
	return rows[1:]
}

// Every bay of the demo lies on the sheet, turned so that its grain of 45° runs along
// it; drawing, DXF, index and lists say so, and a run that goes on draws the same.
func TestSheets(t *testing.T) {
	folder := t.TempDir()
	args := []string{"-files", "dxf", "-stock", "96 in x 48 in"}
	out := demoKit(t, folder, args...)
	assert.Contains(t, out, "% of the sheet used")
	seen := map[string]int{}
	for _, row := range rowsOf(t, folder, "sheets/sheet-cut-list.csv") {
		assert.Equal(t, "sheet-1", row[0])
		seen[row[3]]++
		assert.Contains(t, []string{"-45°", "135°"}, row[5])
	}
	assert.Len(t, seen, 11)
	assert.Contains(t, read(t, folder, indexName), `src="sheets/sheet-1.svg"`)
	dxf := read(t, folder, "sheets/sheet-1.dxf")
	assert.Contains(t, dxf, "keel-bay-7")
	assert.Contains(t, dxf, "APPROVES NOTHING")
	want := tree(t, folder)
	assert.Contains(t, demoKit(t, folder, args...), "0 parts made, 11 kept")
	assert.Equal(t, want, tree(t, folder))

	// Sheets of an earlier run are taken away, lest they be cut.
	demoKit(t, folder, "-files", "dxf")
	assert.Empty(t, files(t, folder, "sheets/*"))
}

// What fits no sheet is named with the reason, on the page too, and the rest is laid.
func TestWhatFitsNoSheet(t *testing.T) {
	folder := t.TempDir()
	out := demoKit(t, folder, "-files", "dxf", "-stock", "40 in x 14.6 in")
	laid := len(rowsOf(t, folder, "sheets/sheet-cut-list.csv"))
	left := strings.Count(out, "fits no sheet: takes ")
	assert.Positive(t, laid)
	assert.Positive(t, left)
	assert.Equal(t, 11, laid+left)
	assert.Equal(t, left, strings.Count(read(t, folder, indexName), "fits no sheet"))
}

// A blank that is not for cutting is on no sheet: at 1/64 in radius the bends crack.
func TestStoppedBlanksAreNotLaid(t *testing.T) {
	folder := t.TempDir()
	text, err := os.ReadFile(template)
	require.NoError(t, err)
	sharp := filepath.Join(t.TempDir(), "sharp.toml")
	require.NoError(t, os.WriteFile(sharp, bytes.Replace(text, []byte(`"3/16 in"`), []byte(`"1/64 in"`), 1), 0o644))
	var out bytes.Buffer
	require.NoError(t, run(context.Background(), []string{"-o", folder, "-files", "dxf", "-stock", "96 in x 48 in", sharp, "keel-bays.csv"}, &out, io.Discard))
	assert.Contains(t, out.String(), "11 marked NOT FOR CUTTING")
	assert.Contains(t, out.String(), "keel-bay-7 is laid on no sheet: it is NOT FOR CUTTING")
	assert.NoDirExists(t, filepath.Join(folder, sheetsName))
}

// The material list is the cut list added up.
func TestMaterialList(t *testing.T) {
	folder := t.TempDir()
	demoKit(t, folder, "-files", "dxf")
	list := rowsOf(t, folder, materialName)
	require.Len(t, list, 1)
	area, grams := 0.0, 0.0
	number := func(s string) float64 {
		x, err := strconv.ParseFloat(s, 64)
		require.NoError(t, err)
		return x
	}
	for _, row := range rowsOf(t, folder, cutListName) {
		area += number(row[10])
		grams += number(row[11])
	}
	assert.Equal(t, []string{"2024-T3", "0.0400", "1.016", "11", "11", "0"}, list[0][:6])
	assert.InDelta(t, area/1e6, number(list[0][6]), 1e-4)
	assert.InDelta(t, grams/1000, number(list[0][7]), 1e-3)
}

// The zip holds every file the lists speak of, as it stands in the folder, and two
// kits give the same bytes.
func TestZip(t *testing.T) {
	args := []string{"-files", "dxf,text", "-zip", "-stock", "96 in x 48 in"}
	one, two := t.TempDir(), t.TempDir()
	demoKit(t, one, args...)
	demoKit(t, two, args...)
	assert.True(t, read(t, one, zipName) == read(t, two, zipName), "the same kit, other bytes")
	want := tree(t, one)
	delete(want, "/"+zipName)
	z, err := zip.OpenReader(filepath.Join(one, zipName))
	require.NoError(t, err)
	defer z.Close()
	assert.Len(t, z.File, len(want))
	for _, f := range z.File {
		assert.Empty(t, f.Extra, "%s tells the time", f.Name)
		r, err := f.Open()
		require.NoError(t, err)
		data, err := io.ReadAll(r)
		require.NoError(t, err)
		assert.True(t, want["/"+f.Name] == string(data), f.Name)
	}
}

// A folder is called what the user likes: no name of it is taken for a pattern. The
// second run, on larger stock, takes away the sheets of the first, and those of no other
// folder: kit1 is what kit[1] would stand for.
func TestFoldersNamedLikePatterns(t *testing.T) {
	parent := t.TempDir()
	other := filepath.Join(parent, "kit1")
	demoKit(t, other, "-files", "dxf", "-stock", "40 in x 20 in")
	before := tree(t, other)
	for _, name := range []string{"s[1", "kit[1]", "kit[0-9]"} {
		folder := filepath.Join(parent, name)
		args := []string{"-files", "dxf", "-zip", "-stock"}
		demoKit(t, folder, append(args, "40 in x 20 in")...)
		many := sheetsIn(t, folder)
		demoKit(t, folder, append(args, "96 in x 48 in")...)
		few := sheetsIn(t, folder)
		assert.Equal(t, []string{"sheet-1.dxf", "sheet-1.svg", sheetListName}, few, name)
		assert.Greater(t, len(many), len(few), name)

		z, err := zip.OpenReader(filepath.Join(folder, zipName))
		require.NoError(t, err)
		var packed []string
		for _, f := range z.File {
			if base, ok := strings.CutPrefix(f.Name, sheetsName+"/"); ok {
				packed = append(packed, base)
			}
		}
		require.NoError(t, z.Close())
		assert.Equal(t, few, packed, name)
		assert.Equal(t, before, tree(t, other), name)
	}
}

// sheetsIn names what stands in the kit's folder of sheets.
func sheetsIn(t *testing.T, folder string) []string {
	t.Helper()
	all, err := os.ReadDir(filepath.Join(folder, sheetsName))
	require.NoError(t, err)
	var names []string
	for _, d := range all {
		names = append(names, d.Name())
	}
	return names
}

func TestBadSheetsAndFiles(t *testing.T) {
	for want, args := range map[string][]string{
		`files "gold"`:     {"-files", "dxf,gold"},
		"write the length": {"-stock", "96 in"},
		"bare number":      {"-stock", "96 x 48 in"},
		"gap":              {"-stock", "96 in x 48 in", "-gap", "-1 in"},
		"margin":           {"-stock", "96 in x 48 in", "-margin", "24 in"},
	} {
		folder := filepath.Join(t.TempDir(), "kit")
		err := run(context.Background(), append([]string{"-o", folder}, args...), io.Discard, io.Discard)
		assert.ErrorContains(t, err, want)
		assert.NoDirExists(t, folder)
	}
}
