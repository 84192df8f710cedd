package main

import (
	"bytes"
	"flag"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/examples/internal/hand"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// parts are the demo, those beside it and the samples to copy.
func parts(t *testing.T) []string {
	files, err := filepath.Glob("*.toml")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(files), 3)
	samples, err := filepath.Glob("samples/*.toml")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(samples), 11)
	return append(files, samples...)
}

func blankOf(t *testing.T, name string) flat.Blank {
	t.Helper()
	blanks, err := develop(name, false)
	require.NoError(t, err)
	require.Len(t, blanks, 1)
	return blanks[0]
}

// Every part shipped develops without a Stop, folds back to within 1e-6 mm, and
// writes the same bytes twice.
func TestPartsShipped(t *testing.T) {
	for _, name := range parts(t) {
		b := blankOf(t, name)
		assert.False(t, b.Stopped(), "%s: %v", name, b.Findings)
		assert.Less(t, b.Proof.Largest(), 1e-6, name)

		first, second, card := t.TempDir(), t.TempDir(), &bytes.Buffer{}
		require.NoError(t, run([]string{"-o", first, name}, card))
		require.NoError(t, run([]string{"-o", second, name}, &bytes.Buffer{}))
		for _, suffix := range []string{".dxf", ".svg", "-pattern.pdf", "-card.pdf", "-card.txt"} {
			a, err := os.ReadFile(filepath.Join(first, b.Part.Name+suffix))
			require.NoError(t, err)
			again, err := os.ReadFile(filepath.Join(second, b.Part.Name+suffix))
			require.NoError(t, err)
			assert.True(t, bytes.Equal(a, again), "%s differs from run to run", suffix)
			if suffix == "-card.txt" {
				assert.Equal(t, string(a), card.String(), "the card printed is the card written")
			}
		}
		left, err := os.ReadDir(first)
		require.NoError(t, err)
		assert.Len(t, left, 5, "nothing else is left behind")
	}
}

// The demo is what the tutorial says: all bends differ from 90° and from each
// other, one closed, one open.
func TestDemoIsAskew(t *testing.T) {
	b := blankOf(t, "keel-bay-7.toml")
	require.Len(t, b.Bends, 4)
	open, closed := 0, 0
	for i, p := range b.Bends {
		a := p.Bend.Angle.Degrees()
		if a > 90 {
			closed++
		} else {
			open++
		}
		assert.Greater(t, abs(a-90), 1.0)
		for _, q := range b.Bends[:i] {
			assert.Greater(t, abs(a-q.Bend.Angle.Degrees()), 0.5)
		}
	}
	assert.Positive(t, open)
	assert.Positive(t, closed)
	assert.Positive(t, b.Proof.Fit, "the fit to the surroundings is measured")
	var card bytes.Buffer
	require.NoError(t, run([]string{"-o", t.TempDir(), "keel-bay-7.toml"}, &card))
	assert.Contains(t, card.String(), "a flange face from the surroundings, less clearance")
	// Four faces and the web, each by three points, of which six are listed.
	assert.Contains(t, card.String(), "DOUBT OF THE SURVEY")
	assert.Contains(t, card.String(), "9 more, which move the corners less")
	card.Reset()
	require.NoError(t, run([]string{"-o", t.TempDir(), "u-channel.toml"}, &card))
	assert.NotContains(t, card.String(), "DOUBT OF THE SURVEY", "of a part that was not measured")
}

var update = flag.Bool("update", false, "rewrite the README's picture")

// The picture in the README is what the demo draws.
func TestReadmePictureIsFresh(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, run([]string{"-o", dir, "keel-bay-7.toml"}, &bytes.Buffer{}))
	got, err := os.ReadFile(filepath.Join(dir, "keel-bay-7.svg"))
	require.NoError(t, err)
	if *update {
		require.NoError(t, os.WriteFile("keel-bay-7.svg", got, 0o644))
	}
	want, err := os.ReadFile("keel-bay-7.svg")
	require.NoError(t, err)
	assert.True(t, bytes.Equal(want, got), "run go test ./examples/intercostal -update and look at the picture")
}

func abs(x float64) float64 { return max(x, -x) }

// A print whose bars cannot be true writes nothing.
func TestBarsAreHeldAgainstReason(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out")
	require.ErrorContains(t, run([]string{"-o", out, "-bars", "9 mm x 9 mm", "keel-bay-7.toml"}, &bytes.Buffer{}), "measured bar")
	assert.NoDirExists(t, out)
}

// With a brake's dimensions given the card tells the order that was tried in it. The
// flange of bay 7 that turns the other way stands before the bed of this one whatever
// the order: the card says so.
func TestOrderInTheShopsBrake(t *testing.T) {
	var card bytes.Buffer
	require.NoError(t, run([]string{"-o", t.TempDir(), "-brake", "brakes/hand-brake.toml", "u-channel.toml"}, &card))
	assert.True(t, strings.Contains(card.String(), "tried in the brake given"))
	// The leaf goes to the angle of the first try: 94.8° by hand in package bend.
	assert.Regexp(t, `near flange.* 94\.8° +nothing near`, card.String())
	card.Reset()
	require.NoError(t, run([]string{"-o", t.TempDir(), "-brake", "brakes/hand-brake.toml", "keel-bay-7.toml"}, &card))
	assert.True(t, strings.Contains(card.String(), "The brake given makes these bends in no order"))
	for _, wrong := range []string{"keel-bay-7.toml", "nowhere.toml"} {
		require.ErrorContains(t, run([]string{"-o", t.TempDir(), "-brake", wrong, "keel-bay-7.toml"}, &card), wrong)
	}
}

// A bad file writes nothing, and every fault is named with its line.
func TestBadFileWritesNothing(t *testing.T) {
	good, err := os.ReadFile("keel-bay-7.toml")
	require.NoError(t, err)
	bad := regexp.MustCompile(`thickness = "0.040 in"`).ReplaceAll(good, []byte("thickness = 0.040"))
	bad = regexp.MustCompile(`radius = "3/16 in"`).ReplaceAll(bad, []byte(`radus = "3/16 in"`))
	dir := t.TempDir()
	name := filepath.Join(dir, "bad.toml")
	require.NoError(t, os.WriteFile(name, bad, 0o644))
	out := filepath.Join(dir, "out")
	var card bytes.Buffer
	err = run([]string{"-o", out, name}, &card)
	require.Error(t, err)
	assert.Regexp(t, `bad\.toml:\d+:\d+`, err.Error())
	assert.Contains(t, err.Error(), "thickness")
	assert.Contains(t, err.Error(), "radus")
	assert.NoDirExists(t, out)
	assert.Empty(t, card.String())
}

// The DXF of every part, in both generations of the format, is read by ezdxf and
// GDAL, which find the area within the cut lines that the blank has.
func TestDXFReadByOthers(t *testing.T) {
	const python = "/usr/bin/python3"
	for _, need := range [][]string{{python, "-c", "import ezdxf"}, {"ogr2ogr", "--version"}} {
		if out, err := exec.Command(need[0], need[1:]...).CombinedOutput(); err != nil {
			reason := "no independent reader: " + need[0] + ": " + err.Error() + " " + string(out)
			if os.Getenv("CI") == "true" {
				t.Fatal(reason)
			}
			t.Skip(reason)
		}
	}
	var files []string
	want := map[string]float64{}
	for _, name := range parts(t) {
		b := blankOf(t, name)
		for _, form := range [][]string{nil, {"-r12"}} {
			dir := t.TempDir()
			require.NoError(t, run(append(append([]string{"-o", dir}, form...), name), &bytes.Buffer{}))
			file := filepath.Join(dir, b.Part.Name+".dxf")
			files = append(files, file)
			want[file] = b.Outline.Area()
			for _, c := range b.Cutouts {
				want[file] += c.Path.Area() // clockwise: negative
			}
		}
	}
	out, err := exec.Command(python, append([]string{"../../.ci/read_dxf.py"}, files...)...).CombinedOutput()
	require.NoError(t, err, string(out))
	found := regexp.MustCompile(`(?m)^(.*\.dxf): .* area ([0-9.]+)`).FindAllSubmatch(out, -1)
	require.Len(t, found, len(files), string(out))
	for _, line := range found {
		got, err := strconv.ParseFloat(string(line[2]), 64)
		require.NoError(t, err)
		assert.InEpsilon(t, want[string(line[1])], got, 1e-6, string(line[1]))
	}
}

// The other hand has files of its own: its blank is the mirror image of the first, so every corner of
// the one turned over in x lies on the edge of the other; its flanges turn the same way; the card says
// at its head which it is, and that of the first does not. Its bends are tried in the brake too.
func TestOtherHand(t *testing.T) {
	dir := t.TempDir()
	var cards bytes.Buffer
	require.NoError(t, run([]string{"-o", dir, "-other-hand", "-brake", "brakes/hand-brake.toml", "keel-bay-7.toml"}, &cards))
	left, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, left, 2*5)
	for _, suffix := range []string{".dxf", ".svg", "-pattern.pdf", "-card.pdf", "-card.txt"} {
		assert.FileExists(t, filepath.Join(dir, "keel-bay-7"+hand.Suffix+suffix))
	}
	first, other := read(t, filepath.Join(dir, "keel-bay-7-card.txt")), read(t, filepath.Join(dir, "keel-bay-7-other-hand-card.txt"))
	assert.Equal(t, first+other, cards.String())
	assert.NotContains(t, first, "OTHER HAND")
	assert.Contains(t, strings.Join(strings.SplitN(other, "\n", 4)[:3], "\n"), "OTHER HAND of Corrie keel-bay intercostal, bay 7, port")
	for _, card := range []string{first, other} {
		assert.Contains(t, card, "The brake given makes these bends in no order")
	}
	assert.NotContains(t, other, "a flange face from the surroundings", "what the other side measures is not known")

	blanks, err := develop("keel-bay-7.toml", true)
	require.NoError(t, err)
	require.Len(t, blanks, 2)
	a, b := blanks[0], blanks[1]
	assert.InDelta(t, a.Outline.Area(), b.Outline.Area(), 1e-6)
	over := outline.Mirror(r2.Vec{}, measure.Angle(math.Pi/2))
	for _, v := range a.Outline.Transform(over).Vertices {
		assert.Less(t, b.Outline.Distance(v.P), 1e-6)
	}
	turns := map[string]flat.Turn{}
	for _, l := range a.Bends {
		turns[l.Name] = l.Turn
	}
	for _, l := range b.Bends {
		assert.Equal(t, turns[l.Name], l.Turn, l.Name)
	}
	assert.False(t, b.Stopped())
}

func read(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	return string(data)
}

// The picture comes as PNG where it is asked for: 2400 pixels across a sheet of A4, 2400·210/297 = 1696 high, and something
// is drawn on it.
func TestPNG(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, run([]string{"-o", dir, "-png", "u-channel.toml"}, &bytes.Buffer{}))
	picture, err := png.Decode(strings.NewReader(read(t, filepath.Join(dir, "u-channel.png"))))
	require.NoError(t, err)
	assert.Equal(t, [2]int{2400, 1696}, [2]int{picture.Bounds().Dx(), picture.Bounds().Dy()})
	dark := 0
	for x := range 2400 {
		if r, _, _, _ := picture.At(x, 800).RGBA(); r < 0x8000 {
			dark++
		}
	}
	assert.Positive(t, dark, "lines are drawn across the sheet")
}
