package main

import (
	"context"
	"fmt"
	"hash/crc32"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// put writes a file into a folder, as somebody else would.
func put(t *testing.T, folder, name, text string) {
	t.Helper()
	require.NoError(t, os.WriteFile(filepath.Join(folder, name), []byte(text), 0o644))
}

// Files of parts that are gone from the table, or whose row came to be at fault, are
// removed and counted; what is not the kit's stays.
func TestStaleFilesAreRemoved(t *testing.T) {
	folder := t.TempDir()
	_, err := kitOf(t, folder, bay("1"), bay("2"), bay("3"))
	require.NoError(t, err)
	put(t, folder, "keel-bay-9.dxf", "somebody's own")
	put(t, folder, "keel-bay-1-card.pdf", "a kind this kit never had")

	fault := strings.Replace(bay("1"), "90 deg", "400 deg", 1)
	out, err := kitOf(t, folder, fault, bay("3"))
	require.ErrorContains(t, err, "some rows made no part")
	assert.Contains(t, out, "0 parts made, 1 kept from an earlier run, 1 rows at fault")
	assert.Contains(t, out, "6 files of an earlier run that this kit no longer holds removed", "of two parts three each")
	assert.Equal(t, []string{"keel-bay-3.dxf", "keel-bay-9.dxf"}, files(t, folder, "*.dxf"))
	assert.Equal(t, []string{"keel-bay-3.svg"}, files(t, folder, "*.svg"))
	assert.Equal(t, []string{"keel-bay-3-card.txt"}, files(t, folder, "*-card.txt"))
	assert.FileExists(t, filepath.Join(folder, "keel-bay-1-card.pdf"))

	out, err = kitOf(t, folder, bay("1"), bay("3"))
	require.NoError(t, err)
	assert.Contains(t, out, "1 parts made, 1 kept", "what was removed is made anew when it is wanted again")
	assert.NotContains(t, out, "removed")
}

// A table with nothing under its head is a slip, not a kit of no parts: it clears nothing away.
func TestTableWithoutRows(t *testing.T) {
	folder := t.TempDir()
	_, err := kitOf(t, folder, bay("1"))
	require.NoError(t, err)
	_, err = kitOf(t, folder)
	require.ErrorContains(t, err, "no row under the head")
	_, err = kitOf(t, folder, "#"+bay("1"), ",,,,,,,,")
	require.ErrorContains(t, err, "no row under the head", "remarks and blank rows are no parts")
	assert.Equal(t, []string{"keel-bay-1.dxf"}, files(t, folder, "*.dxf"))
	assert.Contains(t, read(t, folder, cutListName), "keel-bay-1")
}

// Files of a kind no longer asked for go too: made anew, the part may be another.
func TestKindsNotAskedForAreRemoved(t *testing.T) {
	folder := t.TempDir()
	demoKit(t, folder, "-files", "dxf,text")
	out := demoKit(t, folder, "-files", "text")
	assert.Contains(t, out, "11 files of an earlier run that this kit no longer holds removed")
	assert.Empty(t, files(t, folder, "*.dxf"))
	assert.Len(t, files(t, folder, "*-card.txt"), 11)
}

// A zip of an earlier run is removed when none is asked for, and one that is somebody's
// own stays however often the kit is made beside it.
func TestStaleZipIsRemoved(t *testing.T) {
	folder := t.TempDir()
	put(t, folder, zipName, "somebody's own")
	for range 2 {
		_, err := kitOf(t, folder, bay("1"))
		require.NoError(t, err)
		assert.Equal(t, "somebody's own", read(t, folder, zipName))
	}
	demoKit(t, folder, "-files", "dxf", "-zip")
	out := demoKit(t, folder, "-files", "dxf", "-zip")
	assert.Contains(t, out, "11 kept")
	assert.NotContains(t, out, "removed")
	require.FileExists(t, filepath.Join(folder, zipName))
	out = demoKit(t, folder, "-files", "dxf")
	assert.Contains(t, out, "1 files of an earlier run that this kit no longer holds removed")
	assert.NoFileExists(t, filepath.Join(folder, zipName))
	assert.Len(t, files(t, folder, "*.dxf"), 11)
}

// A file that was changed since it was made is left, and named at every run; as it was
// made, by whichever run, it goes.
func TestChangedFileIsLeft(t *testing.T) {
	folder := t.TempDir()
	_, err := kitOf(t, folder, bay("1"), bay("2"))
	require.NoError(t, err)
	made := read(t, folder, "keel-bay-1.dxf")
	_, err = kitOf(t, folder, strings.Replace(bay("1"), "13 in", "12 in", 2), bay("2"))
	require.NoError(t, err)
	put(t, folder, "keel-bay-1.dxf", made+"a hole more")
	const left = "keel-bay-1.dxf is of an earlier run and no longer of this kit"
	for range 2 {
		out, err := kitOf(t, folder, bay("2"))
		require.NoError(t, err)
		assert.Equal(t, 1, strings.Count(out, left), out)
		assert.Equal(t, made+"a hole more", read(t, folder, "keel-bay-1.dxf"))
	}
	assert.NoFileExists(t, filepath.Join(folder, "keel-bay-1.svg"))

	put(t, folder, "keel-bay-1.dxf", made)
	out, err := kitOf(t, folder, bay("2"))
	require.NoError(t, err)
	assert.NotContains(t, out, left)
	assert.Contains(t, out, "1 files of an earlier run that this kit no longer holds removed")
	assert.NoFileExists(t, filepath.Join(folder, "keel-bay-1.dxf"))
}

// A run that does not come to its end removes nothing, and what it left of a part is known
// to the next one, also when the part never was whole.
func TestStaleFilesOfARunCutShort(t *testing.T) {
	folder := t.TempDir()
	_, err := kitOf(t, folder, bay("1"), bay("2"))
	require.NoError(t, err)
	before := tree(t, folder)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	require.Error(t, run(ctx, []string{"-o", folder, "-files", "dxf", template, writeTable(t, tableHead+bay("1")+"\n")}, io.Discard, io.Discard))
	assert.Equal(t, before, tree(t, folder))

	// Of bay 3 the DXF is put in place, and then a folder is in the way of its picture.
	blocked := filepath.Join(folder, "keel-bay-3.svg")
	require.NoError(t, os.Mkdir(blocked, 0o755))
	_, err = kitOf(t, folder, bay("2"), bay("3"))
	require.ErrorContains(t, err, blocked)
	assert.Equal(t, []string{"keel-bay-1.dxf", "keel-bay-2.dxf", "keel-bay-3.dxf"}, files(t, folder, "*.dxf"))
	require.NoError(t, os.Remove(blocked))
	out, err := kitOf(t, folder, bay("2"))
	require.NoError(t, err)
	assert.Contains(t, out, "4 files of an earlier run that this kit no longer holds removed", "three of bay 1 and one of bay 3")
	assert.Equal(t, []string{"keel-bay-2.dxf"}, files(t, folder, "*.dxf"))
}

// A journal that was meddled with removes nothing outside the folder, and a name in other
// capitals is not taken for another part: on some machines it is the same file.
func TestSweepKeepsToItsOwn(t *testing.T) {
	root := t.TempDir()
	folder := filepath.Join(root, "kit")
	_, err := kitOf(t, folder, bay("a"))
	require.NoError(t, err)
	put(t, root, "outside.dxf", "somebody's own")
	line := fmt.Sprintf("{\"Name\":\"x\",\"Files\":[{\"Name\":\"../outside.dxf\",\"Sum\":%d}]}\n", crc32.ChecksumIEEE([]byte("somebody's own")))
	journal := filepath.Join(folder, journalName)
	require.NoError(t, os.WriteFile(journal, []byte(read(t, folder, journalName)+line), 0o644))
	out, err := kitOf(t, folder, bay("A"))
	require.NoError(t, err)
	assert.NotContains(t, out, "removed")
	assert.FileExists(t, filepath.Join(root, "outside.dxf"))
	assert.FileExists(t, filepath.Join(folder, "keel-bay-a.dxf"))
	assert.FileExists(t, filepath.Join(folder, "keel-bay-A.dxf"))
}
