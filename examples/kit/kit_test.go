package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/csv"
	"fmt"
	"image/png"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const template = "keel-bay.toml"

// kitOf runs the kit over rows below the head of the demo's table.
func kitOf(t *testing.T, folder string, rows ...string) (out string, err error) {
	t.Helper()
	table := filepath.Join(t.TempDir(), "bays.csv")
	require.NoError(t, os.WriteFile(table, []byte(tableHead+strings.Join(rows, "\n")+"\n"), 0o644))
	var text bytes.Buffer
	err = run(context.Background(), []string{"-o", folder, "-files", "dxf,picture,text", template, table}, &text, &bytes.Buffer{})
	return text.String(), err
}

const tableHead = "bay,keel length,forward corner,forward depth,skin corner,skin length,keel bevel,forward bevel,aft bevel\n"

// tableOf is a table of many bays, no two alike.
func tableOf(parts int) string {
	var table strings.Builder
	table.WriteString(tableHead)
	for i := range parts {
		fmt.Fprintf(&table, "%d,%.3f in,90 deg,%.3f in,90.5 deg,%.3f in,%.2f deg,92 deg,93 deg\n", i, 12+float64(i%1000)/500, 5+float64(i%700)/700, 11.9+float64(i%1000)/500, 82+float64(i%300)/100)
	}
	return table.String()
}

func bay(name string) string {
	return name + ",13 in,90 deg,5 in,90 deg,13 in,84 deg,92 deg,93 deg"
}

func files(t *testing.T, folder, pattern string) []string {
	t.Helper()
	list, err := filepath.Glob(filepath.Join(folder, pattern))
	require.NoError(t, err)
	for i := range list {
		list[i] = filepath.Base(list[i])
	}
	return list
}

func read(t *testing.T, folder, name string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(folder, name))
	require.NoError(t, err)
	return string(data)
}

func TestDemo(t *testing.T) {
	folder := t.TempDir()
	var out bytes.Buffer
	require.NoError(t, run(context.Background(), []string{"-o", folder, template, "keel-bays.csv"}, &out, &bytes.Buffer{}))
	assert.Contains(t, out.String(), "11 parts made, 0 kept from an earlier run, 0 rows at fault, 0 marked NOT FOR CUTTING")
	for _, suffix := range []string{"*.dxf", "*.svg", "*-card.txt", "*-pattern.pdf"} {
		assert.Len(t, files(t, folder, suffix), 11, suffix)
	}
	assert.Equal(t, 12, strings.Count(read(t, folder, cutListName), "\n"))
	assert.Equal(t, 11, strings.Count(read(t, folder, indexName), "<li>"))
	assert.Empty(t, read(t, folder, faultsName))
	assert.Empty(t, files(t, folder, ".*.*"), "no temporary file is left")
	assert.Empty(t, files(t, folder, "*.png"), "made where it is asked for only")
}

// A picture as PNG comes where it is asked for, and is linked to: 2400 pixels across a sheet of A4,
// 2400·210/297 = 1696 high.
func TestPNGWhereItIsAskedFor(t *testing.T) {
	folder := t.TempDir()
	table := filepath.Join(t.TempDir(), "bays.csv")
	require.NoError(t, os.WriteFile(table, []byte(tableHead+bay("1")+"\n"), 0o644))
	require.NoError(t, run(context.Background(), []string{"-o", folder, "-files", "png,dxf", template, table}, io.Discard, io.Discard))
	assert.Equal(t, []string{"keel-bay-1.dxf", "keel-bay-1.png"}, files(t, folder, "keel-bay-*"))
	size, err := png.DecodeConfig(strings.NewReader(read(t, folder, "keel-bay-1.png")))
	require.NoError(t, err)
	assert.Equal(t, [2]int{2400, 1696}, [2]int{size.Width, size.Height})
	assert.Contains(t, read(t, folder, indexName), `<a href="keel-bay-1.png">`)
}

// The index page runs no script and fetches nothing from elsewhere; what it links to
// stands in the folder.
func TestIndexPage(t *testing.T) {
	folder := t.TempDir()
	require.NoError(t, run(context.Background(), []string{"-o", folder, "-files", "dxf,picture", "-stock", "96 in x 48 in", template, "keel-bays.csv"}, io.Discard, io.Discard))
	page := read(t, folder, indexName)
	for _, never := range []string{"<script", "javascript:", "<link", "@import", "url(", "://"} {
		assert.NotContains(t, strings.ToLower(page), never)
	}
	assert.NotRegexp(t, `(?i)<[^>]*\son[a-z]+\s*=`, page, "no handler of an event")
	links := regexp.MustCompile(`(?:href|src)="([^"]*)"`).FindAllStringSubmatch(page, -1)
	// A picture twice and a DXF of each bay, the two lists, the list of the sheets, and
	// of one sheet at least the same as of a bay.
	assert.GreaterOrEqual(t, len(links), 11*3+2+1+3)
	for _, link := range links {
		assert.FileExists(t, filepath.Join(folder, link[1]))
	}
}

// The cut list gives the grain of each sheet as the template states it, and the mass of
// each blank: area by thickness, .040 in, by the 0.100 lb/in³ of 2024 (Aluminum
// Association, typical properties), which is 0.100·453.59237/16387.064 = 0.00276799 g/mm³.
func TestCutListTellsMassAndGrain(t *testing.T) {
	folder := t.TempDir()
	_, err := kitOf(t, folder, bay("1"), bay("2"))
	require.NoError(t, err)
	rows, err := csv.NewReader(strings.NewReader(read(t, folder, cutListName))).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 3)
	of := func(row int, column string) string { return rows[row][slices.Index(rows[0], column)] }
	for row := 1; row <= 2; row++ {
		area, err := strconv.ParseFloat(of(row, "area mm2"), 64)
		require.NoError(t, err)
		grams, err := strconv.ParseFloat(of(row, "mass g"), 64)
		require.NoError(t, err)
		// The web alone is 13 in by about 5 in; flanges of 3/4 in go round it.
		assert.Greater(t, area, 13*5*25.4*25.4)
		assert.InDelta(t, area*1.016*0.00276799, grams, 0.06, "rounded to 0.1 g and 1 mm²")
		assert.Equal(t, "45°", of(row, "grain from x"))
		assert.Equal(t, "0.0400", of(row, "thickness in"))
	}
}

// Two runs with any number of workers give the same lists.
func TestOrderIsThatOfTheTable(t *testing.T) {
	var rows []string
	for i := range 40 {
		rows = append(rows, bay(fmt.Sprint("b", i)))
	}
	table := filepath.Join(t.TempDir(), "bays.csv")
	require.NoError(t, os.WriteFile(table, []byte(tableHead+strings.Join(rows, "\n")), 0o644))
	var first string
	for _, workers := range []string{"1", "7"} {
		folder := t.TempDir()
		require.NoError(t, run(context.Background(), []string{"-o", folder, "-files", "dxf,picture,text", "-workers", workers, template, table}, &bytes.Buffer{}, &bytes.Buffer{}))
		got := read(t, folder, cutListName) + read(t, folder, indexName)
		if first == "" {
			first = got
		}
		assert.Equal(t, first, got)
	}
}

// One bad row, of any kind, spoils nothing else and is named with its line.
func TestBadRowsStandAlone(t *testing.T) {
	folder := t.TempDir()
	out, err := kitOf(t, folder,
		bay("1"),
		"2,13,90 deg,5 in,90 deg,13 in,84 deg,92 deg,93 deg", // no unit
		"3,13 in,90 deg",   // short
		bay("../../etc/x"), // a path
		bay("1"),           // a name taken
		strings.Replace(bay("4"), "84 deg", "190 deg", 1),
		"5,0.2 in,90 deg,5 in,90 deg,0.2 in,84 deg,92 deg,93 deg", // too small for its bends
		bay("6"),
	)
	require.Error(t, err)
	assert.Contains(t, out, "2 parts made, 0 kept from an earlier run, 6 rows at fault")
	assert.Equal(t, []string{"keel-bay-1.dxf", "keel-bay-6.dxf"}, files(t, folder, "*.dxf"))
	faults := read(t, folder, faultsName)
	for line := 3; line <= 8; line++ {
		assert.Contains(t, faults, fmt.Sprintf("bays.csv:%d", line))
	}
	assert.Equal(t, 3, strings.Count(read(t, folder, cutListName), "\n"))
}

// A second run keeps what stands, makes what is missing, and makes anew what has
// changed.
func TestGoesOnAfterAnInterruption(t *testing.T) {
	folder := t.TempDir()
	_, err := kitOf(t, folder, bay("1"), bay("2"), bay("3"))
	require.NoError(t, err)
	before := read(t, folder, cutListName)
	require.NoError(t, os.Remove(filepath.Join(folder, "keel-bay-2.svg")))

	// A line cut short, as by a power cut.
	journal := filepath.Join(folder, journalName)
	f, err := os.OpenFile(journal, os.O_APPEND|os.O_WRONLY, 0o644)
	require.NoError(t, err)
	_, err = f.WriteString(`{"Key":"abc","Na`)
	require.NoError(t, err)
	require.NoError(t, f.Close())

	out, err := kitOf(t, folder, bay("1"), bay("2"), bay("3"))
	require.NoError(t, err)
	assert.Contains(t, out, "1 parts made, 2 kept")
	assert.Equal(t, before, read(t, folder, cutListName))

	out, err = kitOf(t, folder, bay("1"), strings.Replace(bay("2"), "13 in", "12 in", 2), bay("3"))
	require.NoError(t, err)
	assert.Contains(t, out, "1 parts made, 2 kept")
	assert.NotEqual(t, before, read(t, folder, cutListName))
}

// What another build made is made anew, whatever has changed in it.
func TestAnotherBuildMakesAllAnew(t *testing.T) {
	folder, table := t.TempDir(), writeTable(t, tableHead+bay("1")+"\n"+bay("2")+"\n")
	by := func(program string) (made, kept int) {
		k := kit{folder: folder, workers: 1, program: program}
		var err error
		k.files, err = chosen("dxf")
		require.NoError(t, err)
		sum, err := k.make(context.Background(), []source{{template, table}}, newBar(io.Discard))
		require.NoError(t, err)
		return sum.made, sum.kept
	}
	for _, build := range []struct {
		program    string
		made, kept int
	}{{"one", 2, 0}, {"one", 0, 2}, {"another", 2, 0}, {"another", 0, 2}} {
		made, kept := by(build.program)
		assert.Equal(t, []int{build.made, build.kept}, []int{made, kept}, build.program)
	}
}

// The program is told by its own bytes: a copy keeps what stands, and a copy of one byte
// more, which Linux runs all the same, makes it anew.
func TestProgramIsToldByItsBytes(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("a program with a byte added may not run here")
	}
	folder, table := t.TempDir(), writeTable(t, tableHead+bay("1")+"\n"+bay("2")+"\n")
	data, err := os.ReadFile(os.Args[0])
	require.NoError(t, err)
	for _, build := range []struct {
		program []byte
		want    string
	}{{data, "2 parts made, 0 kept"}, {data, "0 parts made, 2 kept"}, {append(data, 0), "2 parts made, 0 kept"}} {
		name := filepath.Join(t.TempDir(), "copy")
		require.NoError(t, os.WriteFile(name, build.program, 0o755))
		child := exec.Command(name)
		child.Env = append(os.Environ(), childFolder+"="+folder, childTable+"="+table)
		out, err := child.Output()
		require.NoError(t, err)
		assert.Contains(t, string(out), build.want)
	}
}

func TestInterrupted(t *testing.T) {
	folder := t.TempDir()
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	err := run(ctx, []string{"-o", folder, "-files", "dxf,picture,text", template, "keel-bays.csv"}, &bytes.Buffer{}, &bytes.Buffer{})
	require.ErrorContains(t, err, "start it again to go on")
	assert.NoFileExists(t, filepath.Join(folder, indexName), "no half list")
	assert.NoFileExists(t, filepath.Join(folder, cutListName))
}

func TestTwoRunsIntoOneFolder(t *testing.T) {
	folder := t.TempDir()
	unlock, err := lock(filepath.Join(folder, lockName))
	require.NoError(t, err)
	_, err = kitOf(t, folder, bay("1"))
	require.ErrorContains(t, err, "another run is writing into this folder")
	assert.Empty(t, files(t, folder, "*.dxf"))
	unlock()
	_, err = kitOf(t, folder, bay("1"))
	require.NoError(t, err)
}

// A folder that cannot be written to stops the kit with the reason; nothing is half
// written.
func TestFolderCannotBeWritten(t *testing.T) {
	folder := t.TempDir()
	// A folder stands where a file of the second part should come.
	require.NoError(t, os.MkdirAll(filepath.Join(folder, "keel-bay-2.dxf", "x"), 0o755))
	_, err := kitOf(t, folder, bay("1"), bay("2"), bay("3"))
	require.Error(t, err)
	assert.Contains(t, err.Error(), "keel-bay-2.dxf")
	assert.NoFileExists(t, filepath.Join(folder, cutListName))
	assert.Empty(t, files(t, folder, ".keel*"))

	if runtime.GOOS == "linux" {
		full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
		require.NoError(t, err)
		d := &draft{bufio.NewWriter(full), full, filepath.Join(folder, "never")}
		fmt.Fprint(d, "a list")
		require.ErrorContains(t, d.Flush(), "no space left")
		full.Close()
	}
	_, err = kitOf(t, filepath.Join("/dev/null", "kit"), bay("1"))
	require.Error(t, err)
}

func TestBadArguments(t *testing.T) {
	for _, args := range [][]string{
		{template}, {"-workers", "0"}, {"-workers", "x"}, {"missing.toml", "keel-bays.csv"}, {template, "missing.csv"}, {"-no-such"},
	} {
		folder := filepath.Join(t.TempDir(), "kit")
		err := run(context.Background(), append([]string{"-o", folder}, args...), &bytes.Buffer{}, &bytes.Buffer{})
		assert.Error(t, err, "%v", args)
	}
}

// The goal is 10,000 parts in 2 s. What a kit takes beside the cutter's file is paper,
// and pictures take longer than parts.
func BenchmarkKit(b *testing.B) {
	for _, files := range []string{"dxf", "dxf,picture,text", "dxf,picture,card,text,pattern"} {
		b.Run(files, func(b *testing.B) {
			const parts = 500
			name := filepath.Join(b.TempDir(), "bays.csv")
			if err := os.WriteFile(name, []byte(tableOf(parts)), 0o644); err != nil {
				b.Fatal(err)
			}
			b.ReportAllocs()
			for b.Loop() {
				if err := run(context.Background(), []string{"-o", b.TempDir(), "-files", files, template, name}, io.Discard, io.Discard); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(parts*float64(b.N)/b.Elapsed().Seconds(), "parts/s")
		})
	}
}
