package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// childFolder has the test's own program make a kit, to be killed.
const childFolder, childTable, childFlags = "KIT_TEST_FOLDER", "KIT_TEST_TABLE", "KIT_TEST_FLAGS"

func TestMain(m *testing.M) {
	if folder := os.Getenv(childFolder); folder != "" {
		args := append([]string{"-o", folder, "-workers", "2", "-files", "dxf,picture,text"}, strings.Fields(os.Getenv(childFlags))...)
		if err := run(context.Background(), append(args, template, os.Getenv(childTable)), os.Stdout, io.Discard); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		return
	}
	os.Exit(m.Run())
}

// tree is every file of a folder but the journal and the lock, by its name.
func tree(t *testing.T, folder string) map[string]string {
	t.Helper()
	all := map[string]string{}
	err := filepath.WalkDir(folder, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || d.Name() == journalName || d.Name() == lockName {
			return err
		}
		data, err := os.ReadFile(path)
		all[strings.TrimPrefix(path, folder)] = string(data)
		return err
	})
	require.NoError(t, err)
	return all
}

func writeTable(t *testing.T, text string) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "bays.csv")
	require.NoError(t, os.WriteFile(name, []byte(text), 0o644))
	return name
}

// A run that was killed outright leaves no half file under its name, and one that is
// started again ends with the very files of a run that was let be.
func TestKilledMidway(t *testing.T) {
	if testing.Short() {
		t.Skip("makes a kit twice")
	}
	table := writeTable(t, tableOf(120))
	whole := t.TempDir()
	require.NoError(t, run(context.Background(), []string{"-o", whole, "-files", "dxf,picture,text", template, table}, io.Discard, io.Discard))
	want := tree(t, whole)

	folder := t.TempDir()
	child := exec.Command(os.Args[0])
	child.Env = append(os.Environ(), childFolder+"="+folder, childTable+"="+table)
	require.NoError(t, child.Start())
	journal := filepath.Join(folder, journalName)
	require.Eventually(t, func() bool { data, _ := os.ReadFile(journal); return bytes.Count(data, []byte("Key")) >= 10 }, time.Minute, time.Millisecond)
	require.NoError(t, child.Process.Kill())
	require.Error(t, child.Wait())

	for name, data := range tree(t, folder) {
		if !strings.Contains(name, workName) {
			assert.Equal(t, want[name], data, "%s is not whole", name)
		}
	}
	assert.NoFileExists(t, filepath.Join(folder, indexName))
	var out bytes.Buffer
	require.NoError(t, run(context.Background(), []string{"-o", folder, "-files", "dxf,picture,text", template, table}, &out, io.Discard))
	assert.NotContains(t, out.String(), " 0 kept from an earlier run")
	assert.Equal(t, want, tree(t, folder))
	assert.NoDirExists(t, filepath.Join(folder, workName))
}

// What a run that was killed had packed of the zip is gone when another has run.
func TestKilledWhilePacking(t *testing.T) {
	if testing.Short() {
		t.Skip("makes a kit twice")
	}
	folder := t.TempDir()
	table := writeTable(t, tableOf(60))
	child := exec.Command(os.Args[0])
	child.Env = append(os.Environ(), childFolder+"="+folder, childTable+"="+table, childFlags+"=-zip")
	require.NoError(t, child.Start())
	packing := func() bool {
		return len(files(t, folder, ".kit.zip*")) > 0 || len(files(t, filepath.Join(folder, workName), zipName+"*")) > 0
	}
	require.Eventually(t, packing, time.Minute, time.Millisecond)
	require.NoError(t, child.Process.Kill())
	require.Error(t, child.Wait(), "was done before it could be killed")
	assert.NoFileExists(t, filepath.Join(folder, zipName))

	require.NoError(t, run(context.Background(), []string{"-o", folder, "-files", "dxf,picture,text", "-zip", template, table}, io.Discard, io.Discard))
	assert.FileExists(t, filepath.Join(folder, zipName))
	assert.Equal(t, []string{journalName, lockName}, files(t, folder, ".*"))
}

// A fault of a row names the column it is of, and what stands there.
func TestFaultsNameColumns(t *testing.T) {
	folder := t.TempDir()
	_, err := kitOf(t, folder, "1,13,90 deg,5 in,90 deg,13 in,84 deg,92 deg,93 deg", strings.Replace(bay("2"), "84 deg", "400 deg", 1))
	require.Error(t, err)
	faults := read(t, folder, faultsName)
	assert.Contains(t, faults, "bays.csv:2: keel length: \"13\": makes no part:\nkeel-bay.toml:24:10: edge 1 length: \"13\": a bare number has no unit")
	assert.Contains(t, faults, "bays.csv:3: keel bevel: \"400 deg\": makes no part:\nkeel-bay.toml:29:10: ")
}

// A file that was changed or cut short since is made anew.
func TestSpoiledFile(t *testing.T) {
	folder := t.TempDir()
	_, err := kitOf(t, folder, bay("1"), bay("2"))
	require.NoError(t, err)
	want := tree(t, folder)
	require.NoError(t, os.Truncate(filepath.Join(folder, "keel-bay-1.dxf"), 0))
	data := []byte(want["/keel-bay-2.svg"])
	data[len(data)/2] ^= 1
	require.NoError(t, os.WriteFile(filepath.Join(folder, "keel-bay-2.svg"), data, 0o644))
	out, err := kitOf(t, folder, bay("1"), bay("2"))
	require.NoError(t, err)
	assert.Contains(t, out, "2 parts made, 0 kept")
	assert.Equal(t, want, tree(t, folder))
}

// mounted gives a small file system of the test's own.
func mounted(t *testing.T, options string) string {
	t.Helper()
	if runtime.GOOS != "linux" || os.Getuid() != 0 {
		t.Skip("only root on Linux mounts a disk to fill up")
	}
	disk := t.TempDir()
	if out, err := exec.Command("mount", "-t", "tmpfs", "-o", options, "none", disk).CombinedOutput(); err != nil {
		t.Skipf("no disk to fill up: %s", out)
	}
	t.Cleanup(func() { exec.Command("umount", disk).Run() })
	return disk
}

// On a full disk the run stops with the reason; what stands is whole, and once there
// is room the same command goes on.
func TestDiskFull(t *testing.T) {
	disk := mounted(t, "size=400k")
	folder := filepath.Join(disk, "kit")
	table := writeTable(t, tableOf(40))
	args := []string{"-o", folder, "-files", "dxf,text", template, table}
	err := run(context.Background(), args, io.Discard, io.Discard)
	require.ErrorContains(t, err, "no space left")
	require.ErrorContains(t, err, "start again to go on")
	var fault *writeError
	require.ErrorAs(t, err, &fault)
	assert.NoFileExists(t, filepath.Join(folder, indexName), "no half list")
	have := tree(t, folder)
	assert.NotEmpty(t, have)

	out, err := exec.Command("mount", "-o", "remount,size=40m", disk).CombinedOutput()
	require.NoError(t, err, "%s", out)
	var text bytes.Buffer
	require.NoError(t, run(context.Background(), args, &text, io.Discard))
	assert.NotContains(t, text.String(), " 0 kept")
	want := tree(t, folder)
	assert.Len(t, want, 40*2+4)
	for name, data := range have {
		assert.Equal(t, want[name], data, "%s was not whole", name)
	}
}

// Where a list can't be put in its place, the index page of the run before stays, for
// the new one would lead to lists older than itself.
func TestListsBelongTogether(t *testing.T) {
	folder := t.TempDir()
	_, err := kitOf(t, folder, bay("1"))
	require.NoError(t, err)
	before := read(t, folder, indexName)
	blocked := filepath.Join(folder, faultsName)
	require.NoError(t, os.Remove(blocked))
	require.NoError(t, os.Mkdir(blocked, 0o755))
	_, err = kitOf(t, folder, bay("1"), bay("2"))
	require.ErrorContains(t, err, blocked)
	assert.Equal(t, before, read(t, folder, indexName))
	assert.NoDirExists(t, filepath.Join(folder, workName))

	require.NoError(t, os.Remove(blocked))
	_, err = kitOf(t, folder, bay("1"), bay("2"))
	require.NoError(t, err)
	assert.Contains(t, read(t, folder, indexName), "keel-bay-2")
	assert.Empty(t, read(t, folder, faultsName))
}

// A folder that may only be read is named with the reason.
func TestReadOnlyFolder(t *testing.T) {
	var folder string
	if os.Getuid() == 0 {
		disk := mounted(t, "size=400k")
		out, err := exec.Command("mount", "-o", "remount,ro", disk).CombinedOutput()
		require.NoError(t, err, "%s", out)
		folder = disk
	} else {
		folder = t.TempDir()
		require.NoError(t, os.Chmod(folder, 0o555))
	}
	_, err := kitOf(t, folder, bay("1"))
	require.Error(t, err)
	assert.Contains(t, err.Error(), folder)
	assert.Empty(t, tree(t, folder))
}

// Two runs at once: one makes the kit and the other says that it is being made.
func TestTwoRunsAtOnce(t *testing.T) {
	folder := t.TempDir()
	table := writeTable(t, tableOf(30))
	child := exec.Command(os.Args[0])
	child.Env = append(os.Environ(), childFolder+"="+folder, childTable+"="+table)
	require.NoError(t, child.Start())
	require.Eventually(t, func() bool { return len(files(t, folder, "*.dxf")) > 0 }, time.Minute, time.Millisecond)
	err := run(context.Background(), []string{"-o", folder, template, table}, io.Discard, io.Discard)
	require.ErrorContains(t, err, "another run is writing into this folder")
	require.NoError(t, child.Wait(), "the first is not disturbed")
	assert.Len(t, files(t, folder, "*.dxf"), 30)
}

// Names that are no files on some machines, or one file with another, are refused, and
// none leaves the folder.
func TestNames(t *testing.T) {
	for name, want := range map[string]bool{
		"con": true, "CON": true, "nul.x": true, "Aux.1.2": true, "com1": true, "LPT9.a": true, "com": false, "com10": false, "lpt": false,
		"console": false, "a.con": false, "keel-bay-7": false, "co": false, "": false,
	} {
		assert.Equal(t, want, device(name), name)
	}
	root := t.TempDir()
	folder := filepath.Join(root, "a", "kit")
	text, err := os.ReadFile(template)
	require.NoError(t, err)
	plain := filepath.Join(root, "plain.toml")
	require.NoError(t, os.WriteFile(plain, bytes.Replace(text, []byte("keel-bay-<bay>"), []byte("<bay>"), 1), 0o644))
	var rows []string
	bad := []string{"../up", "/etc/x", `..\up`, ".hidden", "nul", "Com3.x", "a:b", "a b", "é", strings.Repeat("n", 65), "ok", "OK", ""}
	for _, name := range bad {
		rows = append(rows, bay(name))
	}
	table := writeTable(t, tableHead+strings.Join(rows, "\n")+"\n")
	var out bytes.Buffer
	err = run(context.Background(), []string{"-o", folder, "-files", "dxf", plain, table}, &out, io.Discard)
	require.ErrorContains(t, err, "some rows made no part")
	assert.Contains(t, out.String(), "1 parts made, 0 kept from an earlier run, 12 rows at fault")
	assert.Equal(t, []string{"ok.dxf"}, files(t, folder, "*.dxf"))
	assert.Contains(t, read(t, folder, faultsName), `name: "OK": is taken by the part of `+table+":12")
	assert.Contains(t, read(t, folder, faultsName), `name: "nul": is a device`)
	outside, err := filepath.Glob(filepath.Join(root, "*"))
	require.NoError(t, err)
	assert.Len(t, outside, 2, "nothing beside the kit: %v", outside)
}

// The time left is what the parts so far took, for those to come.
func TestTimeLeft(t *testing.T) {
	var out bytes.Buffer
	clock := time.Unix(1e9, 0)
	b := newBar(&out)
	b.now = func() time.Time { return clock }
	b.start(40)
	for range 10 {
		clock = clock.Add(500 * time.Millisecond)
		b.step(false)
	}
	last := out.String()[strings.LastIndex(out.String(), "\r"):]
	assert.Equal(t, "\r[=======                       ] 10 of 40, 0 at fault, 15s left ", last)
	before := out.Len()
	b.step(true) // no time has gone by: not drawn again
	assert.Equal(t, before, out.Len())
}

// Memory does not grow with the kit: the heap of many parts is that of few, but for
// what is kept of each name.
func TestMemoryIsFlat(t *testing.T) {
	if testing.Short() {
		t.Skip("makes many parts")
	}
	few, many := heapOf(t, 300), heapOf(t, 3000)
	// A kit of 2700 parts more would hold some 100 bytes of each, 0.3 MB; the parts
	// themselves, developed, are some 30 kB each, 80 MB.
	assert.Less(t, many, few+8<<20)
}

// heapOf makes a kit and returns the most that was live at any hundredth part.
func heapOf(t *testing.T, parts int) uint64 {
	t.Helper()
	table := writeTable(t, tableOf(parts))
	k := kit{folder: t.TempDir(), workers: 2}
	var peak uint64
	w := watcher(func() {
		var m runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&m)
		peak = max(peak, m.HeapAlloc)
	})
	progress := newBar(w)
	progress.now = steps() // redraws every part
	var err error
	k.files, err = chosen("dxf")
	require.NoError(t, err)
	_, err = k.make(context.Background(), []source{{template, table}}, progress)
	require.NoError(t, err)
	return peak
}

// watcher looks at every hundredth write.
func watcher(look func()) io.Writer { return &watch{look: look} }

type watch struct {
	n    int
	look func()
}

func (w *watch) Write(p []byte) (int, error) {
	if w.n++; w.n%100 == 0 {
		w.look()
	}
	return len(p), nil
}

// steps is a clock that goes on by a second at every look.
func steps() func() time.Time {
	at := time.Unix(1e9, 0)
	return func() time.Time { at = at.Add(time.Second); return at }
}
