package main

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/former"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func demoText(t testing.TB) string {
	data, err := os.ReadFile("frame-8.toml")
	require.NoError(t, err)
	return string(data)
}

// The demo lays out without a Stop in one, two and four pieces and writes the same
// bytes twice, and nothing but its files.
func TestDemo(t *testing.T) {
	first, second := t.TempDir(), t.TempDir()
	var card, again bytes.Buffer
	require.NoError(t, run([]string{"-o", first, "frame-8.toml"}, &card))
	require.NoError(t, run([]string{"-o", second, "frame-8.toml"}, &again))
	assert.Equal(t, card.String(), again.String())
	files, err := os.ReadDir(first)
	require.NoError(t, err)
	// Per piece a blank, a block and a cover: 7 pieces; two files of splices, all of them as DXF
	// and on paper; three pictures, one card.
	assert.Len(t, files, 2*(3*7+2)+3+1)
	for _, f := range files {
		a, err := os.ReadFile(filepath.Join(first, f.Name()))
		require.NoError(t, err)
		b, err := os.ReadFile(filepath.Join(second, f.Name()))
		require.NoError(t, err)
		assert.True(t, bytes.Equal(a, b), f.Name())
		assert.NotContains(t, string(a), "NOT FOR CUTTING", f.Name())
		if strings.HasSuffix(f.Name(), ".svg") || strings.HasSuffix(f.Name(), ".dxf") {
			assert.NotContains(t, string(a), "NaN", f.Name())
			assert.Contains(t, string(a), "IT APPROVES NOTHING", f.Name())
		}
	}
	for _, want := range []string{"COMPARISON", "in one piece", "WORKING", "THE SAME PART IN", "IT APPROVES NOTHING", "splice J4", "STRAIN"} {
		assert.Contains(t, strings.ToLower(card.String()), strings.ToLower(want))
	}
}

// The bow frame's edge changes sign and its bevel changes along it: it shrinks,
// stretches and shrinks, and no finding stops it.
func TestBowFrame(t *testing.T) {
	data, err := os.ReadFile("frame-2.toml")
	require.NoError(t, err)
	j, err := read("frame-2.toml", data)
	require.NoError(t, err)
	choices, err := lay(j)
	require.NoError(t, err)
	for _, c := range choices {
		assert.False(t, c.Ring.Stopped())
		assert.Positive(t, c.Stretch)
		assert.Negative(t, c.Shrink)
		b := c.Ring.Pieces[0].Block
		assert.Greater(t, b.Wall, 90*measure.Degree, "closed at the chine")
		assert.Less(t, b.WallEnd, 90*measure.Degree, "open at the keel")
		// Top and bottom cross; what is sawn holds both.
		for _, p := range c.Ring.Pieces {
			d, err := block(c.Ring, p)
			require.NoError(t, err)
			var saw outline.Path
			for _, q := range d.Paths {
				if q.Layer == drawing.Cut && q.Area() > 0 {
					saw = q.Path
				}
			}
			for _, list := range [][]outline.Path{p.Block.Top, p.Block.Bottom} {
				assert.Less(t, list[0].Area(), saw.Area()-1)
				for _, v := range list[0].Vertices {
					assert.True(t, saw.Side(v.P) != outline.Outside || saw.Distance(v.P) < 1e-6)
				}
			}
		}
	}
	dir := t.TempDir()
	require.NoError(t, run([]string{"-o", dir, "-r12", "-inch", "frame-2.toml"}, &bytes.Buffer{}))
}

// What the demo promises: a closed ring of two radii and a flat keel, in 1, 2 and 4 pieces that
// come out of the sheet at hand, its hole stretched and its outside shrunk.
func TestDemoIsWorthShowing(t *testing.T) {
	j, err := read("frame-8.toml", []byte(demoText(t)))
	require.NoError(t, err)
	assert.Equal(t, []int{1, 2, 4}, j.pieces)
	choices, err := lay(j)
	require.NoError(t, err)
	for _, c := range choices {
		assert.False(t, c.Ring.Stopped())
		assert.True(t, c.FitsSheet)
		assert.Positive(t, c.Stretch)
		assert.Negative(t, c.Shrink)
	}
	assert.Len(t, j.former.Cutouts, 8, "four pairs")
	radii := map[int]bool{}
	for _, s := range j.former.Outer.Contour.Segments() {
		if !s.IsLine() {
			radii[int(s.Radius()+0.5)] = true
		}
	}
	assert.Equal(t, map[int]bool{260: true, 520: true}, radii)
}

// Every DXF is read by two independent readers.
func TestDXFReadByOthers(t *testing.T) {
	python := "/usr/bin/python3"
	if err := exec.Command(python, "-c", "import ezdxf, osgeo").Run(); err != nil && exec.Command(python, "-c", "import ezdxf").Run() != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("ezdxf and GDAL are wanted in CI")
		}
		t.Skip("ezdxf is not installed")
	}
	for _, args := range [][]string{{}, {"-r12", "-inch", "-other-hand"}} {
		dir := t.TempDir()
		require.NoError(t, run(append(args, "-o", dir, "frame-8.toml"), &bytes.Buffer{}))
		files, err := filepath.Glob(filepath.Join(dir, "*.dxf"))
		require.NoError(t, err)
		require.NotEmpty(t, files)
		if testing.Short() {
			files = files[:3]
		}
		// One run reads them all: to start the readers takes longer than to read.
		out, err := exec.Command(python, append([]string{"../../.ci/read_dxf.py"}, files...)...).CombinedOutput()
		require.NoError(t, err, "%s", out)
		assert.Equal(t, len(files), strings.Count(string(out), "read alike"), "%s", out)
	}
}

// A slip is told with line, column and what is wanted, all slips at once, and nothing is written.
func TestSlips(t *testing.T) {
	text := demoText(t)
	lineOf := func(s, what string) int { return strings.Count(s[:strings.Index(s, what)], "\n") + 1 }
	for _, c := range []struct{ was, is, field, rule string }{
		{`height = "20 mm"`, `height = 20`, "outer flange height", "unit"},
		{`height = "20 mm"`, `heigth = "20 mm"`, "heigth", `did you mean "height"`},
		{`thickness = "1.2 mm"`, `thickness = "1.2 m"`, "sheet thickness", ""},
		{`material  = "2024-O"                   #`, `material  = "2042-O"                   #`, "sheet material", ""},
		{`turn   = "up"                          # toward`, `turn   = "upward"                          # toward`, "outer flange turn", `"up" or "down"`},
		{`to     = ["150 mm", "0 mm"]`, `to     = ["150 mm"]`, "outer leg 1 to", "a point is two lengths"},
		{`to     = ["150 mm", "0 mm"]`, `to     = ["150 mm", 0]`, "outer leg 1 to 2", "unit"},
		{`radius = "260 mm"`, `radius = "60 mm"`, "outer leg 2 radius", "too small to reach"},
		{`"472.368 mm"`, `"470 mm"`, "outer contour vertex", "turns"},
		{`girth     = "640 mm"`, `girth     = "9 m"`, `cut-out "side stringer, port" girth`, "one round"},
		{`girth     = "330 mm"`, `girth     = "110 mm"`, `cut-out "`, "runs into"},
		{`bevel  = "90 deg"                      #`, `bevel  = "190 deg"                      #`, "outer flange bevel 1 angle", "170"},
		{`pieces = [1, 2, 4]`, `pieces = [1, 30]`, "pieces", "1 to 24"},
		{`overbend    = "2 deg"`, `overbend    = "45 deg"`, "block overbend", "30"},
		{`inset = "90 mm"`, `inset = "400 mm"`, "inner inset", "no single opening"},
		{`name   = "frame-8"  `, `name   = "../frame"  `, "name", "names the files"},
		{`stagger     = "100 mm"`, `stagger     = "1.1 m"`, "pieces", "leave no room"},
		{`[split]`, "[split]\njoints = [\"3 mm\"]", "split joints", "one number of pieces"},
		{`[block]`, "[block", "line", ""},
	} {
		require.Equal(t, 1, strings.Count(text, c.was), "%s stands once", c.was)
		bad := strings.Replace(text, c.was, c.is, 1)
		file := filepath.Join(t.TempDir(), "bad.toml")
		require.NoError(t, os.WriteFile(file, []byte(bad), 0o600))
		out := t.TempDir()
		err := run([]string{"-o", out, file}, &bytes.Buffer{})
		require.Error(t, err, c.is)
		var f *fault
		require.True(t, errors.As(err, &f), "%s: %v", c.is, err)
		assert.Contains(t, err.Error(), c.field, c.is)
		assert.Contains(t, err.Error(), c.rule, c.is)
		if !strings.Contains(c.is, "470") && !strings.Contains(c.is, "1.1 m") && !strings.Contains(c.is, "110") {
			want := lineOf(bad, strings.TrimPrefix(c.is, "[split]\n"))
			assert.Equal(t, want, f.line, "%s: %v", c.is, err)
			assert.Positive(t, f.column)
		}
		left, err := os.ReadDir(out)
		require.NoError(t, err)
		assert.Empty(t, left)
	}
	bad := strings.Replace(strings.Replace(text, `height = "20 mm"`, `height = 20`, 1), `inset = "90 mm"`, `inset = 90`, 1)
	_, err := read("bad.toml", []byte(bad))
	require.Error(t, err)
	assert.Equal(t, 2, strings.Count(err.Error(), "bad.toml:"), "both faults: %v", err)
}

// A block the size of the part is drawn on demand, and every output says that it is not
// for cutting.
func TestClassicMistake(t *testing.T) {
	text := strings.Replace(demoText(t), `# size      = "inside mold line"`, `size      = "size of part"`, 1)
	file := filepath.Join(t.TempDir(), "mistake.toml")
	require.NoError(t, os.WriteFile(file, []byte(text), 0o600))
	dir := t.TempDir()
	var card bytes.Buffer
	require.NoError(t, run([]string{"-o", dir, file}, &card))
	assert.Contains(t, card.String(), "NOT FOR CUTTING")
	assert.Contains(t, card.String(), "makes the part too big by this much")
	files, err := os.ReadDir(dir)
	require.NoError(t, err)
	for _, f := range files {
		if filepath.Ext(f.Name()) == ".pdf" {
			continue // the drawing of a DXF, its words packed: package paper holds that they are printed
		}
		data, err := os.ReadFile(filepath.Join(dir, f.Name()))
		require.NoError(t, err)
		assert.True(t, bytes.Contains(data, []byte("NOT FOR CUTTING")), f.Name())
	}
}

// Other ways of giving a former: an edge by measured points, bevels that vary, joints
// given, no opening.
func TestOtherWays(t *testing.T) {
	const head = `
name = "bulkhead"
pieces = [1]
[sheet]
material = "6061-O"
thickness = "0.040 in"
[bends]
rule = "neutral axis"
neutral = 0.42
`
	round := head + `[outer]
tolerance = "0.3 mm"
mirror = true
points = [["0 mm","-200 mm"],["51.8 mm","-193.2 mm"],["100 mm","-173.2 mm"],["141.4 mm","-141.4 mm"],["173.2 mm","-100 mm"],["193.2 mm","-51.8 mm"],["200 mm","0 mm"],
["193.2 mm","51.8 mm"],["173.2 mm","100 mm"],["141.4 mm","141.4 mm"],["100 mm","173.2 mm"],["51.8 mm","193.2 mm"],["0 mm","200 mm"]]
[outer.flange]
turn = "down"
height = "3/4 in"
radius = "1/8 in"
model = "equal area"
bevels = [["0 mm", "86 deg"], ["600 mm", "94 30'"]]
`
	j, err := read("points.toml", []byte(round))
	require.NoError(t, err)
	choices, err := lay(j)
	require.NoError(t, err)
	assert.InDelta(t, 2*200*3.14159, j.former.Outer.Contour.Length(), 3)
	assert.Equal(t, "down", choices[0].Ring.Turn().String())
	assert.Equal(t, former.EqualArea, j.former.Outer.Flange.Model)

	joints := strings.Replace(demoText(t), `pieces = [1, 2, 4]`, `pieces = [2]`, 1)
	joints = strings.Replace(joints, `# joints    =`, `joints    =`, 1)
	j, err = read("joints.toml", []byte(joints))
	require.NoError(t, err)
	choices, err = lay(j)
	require.NoError(t, err)
	assert.InDelta(t, 60, choices[0].Ring.Splices[0].Girth, 1e-9)
	assert.InDelta(t, 1100, choices[0].Ring.Splices[1].Girth, 1e-9)
}

func FuzzRead(f *testing.F) {
	text := demoText(f)
	f.Add([]byte(text))
	f.Add([]byte(strings.ReplaceAll(text, `"`, "")))
	f.Add([]byte("[outer]\nstart=[\"0 mm\",\"0 mm\"]\n[[outer.leg]]\nto=[\"nan mm\",\"1e300 mm\"]\n"))
	f.Add([]byte("[[outer.leg]]\n[[outer.leg]]\n[outer.leg.x]\n[outer]\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 20000 {
			return
		}
		j, err := read("fuzz.toml", data)
		if err != nil {
			return
		}
		if len(j.pieces) > 3 {
			j.pieces = j.pieces[:3]
		}
		if choices, err := lay(j); err == nil {
			_, err = cardOf(j, choices)
			if err != nil && j.substitute == nil {
				t.Fatal(err)
			}
		}
	})
}
