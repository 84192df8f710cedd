package main

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/hangarflat/hangarflat/flat/rivet"
)

func text(t testing.TB, name string) string {
	t.Helper()
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	return string(data)
}

func names(t *testing.T, dir string) (list []string) {
	t.Helper()
	files, err := os.ReadDir(dir)
	require.NoError(t, err)
	for _, f := range files {
		list = append(list, f.Name())
	}
	return list
}

func TestDemoMakesEveryFile(t *testing.T) {
	dir := t.TempDir()
	var screen bytes.Buffer
	require.NoError(t, run([]string{"-o", dir, "hatch-skin.toml"}, &screen))
	assert.Equal(t, []string{"hatch-skin-card.txt", "hatch-skin-patch-pattern.pdf", "hatch-skin-patch.dxf", "hatch-skin.svg"}, names(t, dir))
	assert.Equal(t, text(t, filepath.Join(dir, "hatch-skin-card.txt")), screen.String())
	for _, says := range []string{"COMPUTED GEOMETRY", "stringer 5", "No. 30", "WARN", "approved data", "driving order"} {
		assert.Contains(t, strings.ToLower(screen.String()), strings.ToLower(says))
	}
	assert.NotContains(t, screen.String(), "NOT FOR CUTTING")
	require.NoError(t, run([]string{"-o", dir, "-inch", "-r12", "hatch-insert.toml"}, &bytes.Buffer{}))
	assert.Subset(t, names(t, dir), []string{"hatch-insert-doubler.dxf", "hatch-insert-insert.dxf", "hatch-insert-doubler-pattern.pdf", "hatch-insert-insert-pattern.pdf", "hatch-insert.svg"})
	again := t.TempDir()
	require.NoError(t, run([]string{"-o", again, "hatch-skin.toml"}, &bytes.Buffer{}))
	for _, n := range names(t, again) {
		assert.Equal(t, text(t, filepath.Join(dir, n)), text(t, filepath.Join(again, n)), n)
	}
}

// The numbers on the picture are 1 to the number of rivets, once each, and the card lists each turn once.
func TestEveryRivetHasItsTurn(t *testing.T) {
	dir := t.TempDir()
	var card bytes.Buffer
	require.NoError(t, run([]string{"-o", dir, "hatch-skin.toml"}, &card))
	r, err := work("hatch-skin.toml", []byte(text(t, "hatch-skin.toml")))
	require.NoError(t, err)
	svg := text(t, filepath.Join(dir, "hatch-skin.svg"))
	rivets := svg[strings.Index(svg, `<g id="rivets">`):strings.Index(svg, `<g id="sections">`)]
	seen := map[string]int{}
	for _, m := range regexp.MustCompile(`>(\d+)</text>`).FindAllStringSubmatch(rivets, -1) {
		seen[m[1]]++
	}
	listed := regexp.MustCompile(`(?m)(?:^|\) {2,})\s*(\d+)  (?:rim|stringer)`).FindAllStringSubmatch(card.String(), -1)
	assert.Len(t, listed, r.fitted.Rivets)
	require.Len(t, seen, r.fitted.Rivets)
	for i := range r.fitted.Rivets {
		assert.Equal(t, 1, seen[strconv.Itoa(i+1)], "turn %d", i+1)
	}
	assert.Equal(t, "stringer 5", r.fitted.Layout.Rows[r.fitted.Order[0].Row].Name)
	assert.Zero(t, r.slack.Trapped)
	assert.Positive(t, r.endsFirst.Trapped)
	dxf := text(t, filepath.Join(dir, "hatch-skin-patch.dxf"))
	assert.Equal(t, r.fitted.Rivets, strings.Count(dxf, "\nCIRCLE"), "a pilot for each rivet")
}

// What cannot be riveted as drawn is drawn, and every output says that it is not for cutting.
func TestStoppedPatchIsMarked(t *testing.T) {
	bad := strings.Replace(text(t, "hatch-insert.toml"), `"dimpled"`, `"countersunk"`, 1)
	file := filepath.Join(t.TempDir(), "sunk.toml")
	require.NoError(t, os.WriteFile(file, []byte(bad), 0o600))
	dir := t.TempDir()
	require.NoError(t, run([]string{"-o", dir, file}, &bytes.Buffer{}))
	for _, n := range names(t, dir) {
		if filepath.Ext(n) == ".pdf" {
			continue // the drawing of a DXF, its words packed: package paper holds that they are printed
		}
		assert.Contains(t, text(t, filepath.Join(dir, n)), "NOT FOR CUTTING", n)
	}
}

// A made edge measured: a point 1 mm outside is told.
func TestMadeEdge(t *testing.T) {
	const head = `name = "round"
title = "Round"
fitting = "lap"
skin = { material = "alclad 2024-T3", thickness = "0.040 in" }
patch = { material = "alclad 2024-T3", thickness = "0.040 in" }
opening = { centre = ["0 mm", "0 mm"], diameter = "100 mm" }
rivets = { diameter = "1/8 in", pitch = "5/8 in", overlap = "15 mm" }
[made]
tolerance = "0.030 in"
`
	// The patch is 130 mm across; fixed by its round shape alone the turn is not, so a square one.
	square := strings.Replace(head, `centre = ["0 mm", "0 mm"], diameter = "100 mm"`, `corners = [["-50 mm","-50 mm"],["50 mm","-50 mm"],["50 mm","50 mm"],["-50 mm","50 mm"]], radius = "10 mm"`, 1)
	square += `edge = [["-65 mm","-20 mm"],["-65 mm","20 mm"],["65 mm","-20 mm"],["66.5 mm","20 mm"],["-20 mm","65 mm"],["20 mm","65 mm"],["-20 mm","-65 mm"],["20 mm","-65 mm"]]
`
	r, err := work("square.toml", []byte(square))
	require.NoError(t, err)
	var card bytes.Buffer
	require.NoError(t, r.card(&card))
	assert.Equal(t, 1, strings.Count(card.String(), "OUT OF TOLERANCE"))
	assert.Regexp(t, `(?m)^point   4 .*OUT OF TOLERANCE$`, card.String())
	_, err = work("round.toml", []byte(head))
	require.NoError(t, err, "inline groups are groups")
}

func TestFaultsHaveTheirLine(t *testing.T) {
	demo := text(t, "hatch-skin.toml")
	ran := 0
	for _, c := range []struct{ was, is, field, rule string }{
		{`pitch    = "1/2 in"`, `pitch    = 0.5`, "rivets pitch", "quotation marks"},
		{`pitch    = "1/2 in"`, `pitch    = "0.5"`, "rivets pitch", "unit"},
		{`pitch    = "1/2 in"`, `pich     = "1/2 in"`, "rivets pich", `did you mean "pitch"`},
		{`diameter = "1/8 in"`, `diameter = "0.125 mm"`, "rivets diameter", "multiply by measure.Inch"},
		{`radius = "760 mm"`, `radius = "10 mm"`, "rolled radius", "sharper is a bend"},
		{`head     = "protruding"`, `head     = "round"`, "rivets head", `"countersunk"`},
		{`rows     = 2`, `rows     = 2.5`, "rivets rows", "whole number"},
		{`rows     = 2`, `rows     = "2"`, "rivets rows", "without quotation marks"},
		{`stagger  = true`, `stagger  = "yes"`, "rivets stagger", "true or false"},
		{`radius  = "22 mm"`, `radius  = "220 mm"`, "opening radius", ""},
		{`fitting = "lap"`, `fitting = "lapped"`, "fitting", `"joggled"`},
		{`thickness = "0.040 in"`, `thickness = "40 in"`, "patch thickness", ""},
		{`name    = "hatch-skin"`, `name    = "../hatch"`, "name", "names the files"},
		{`line      = [["14 mm", "50 mm"], ["286 mm", "54 mm"]]`, `line      = [["14 mm", "50 mm"]]`, "member 1 line", "two points"},
		{`line      = [["14 mm", "50 mm"], ["286 mm", "54 mm"]]`, `line      = [["14 mm"], ["286 mm", "54 mm"]]`, "member 1 line 1", "two sizes"},
		{`["58.2 mm", "96.1 mm", "3.30 mm"]`, `["58.2 mm"]`, "member 2 found 1", "a place"},
		{`clear  = "12 mm"`, `clear  = "0 mm"`, "keepout 1 clear", "above 0 round a line"},
		{`pilot     = "3/32 in"`, `pilot     = "3/8 in"`, "rivets pilot", "no larger"},
		{`slack     = "0.02 mm"`, `slack     = "20 mm"`, "rivets slack", "0 to 1 mm"},
		{`temporary = 3`, `temporary = 30`, "rivets temporary", "from 1 to 20"},
		{`centre   = ["-20 mm", "120 mm"]`, `center   = ["-20 mm", "120 mm"]`, "keepout 2 center", `did you mean "centre"`},
		{`[[keepout]]`, `[[keepuot]]`, "keepuot 1", `did you mean "keepout"`},
		{`axis   = "0 deg"`, `axis   = "0"`, "rolled axis", ""},
		{`[opening]`, `[opening`, "file", ""},
		{`[opening]`, "[opening]\nradius = \"3 mm\"", "file", ""},
	} {
		require.GreaterOrEqual(t, strings.Count(demo, c.was), 1, c.was)
		bad := strings.Replace(demo, c.was, c.is, 1)
		file := filepath.Join(t.TempDir(), "bad.toml")
		require.NoError(t, os.WriteFile(file, []byte(bad), 0o600))
		dir := filepath.Join(t.TempDir(), "out")
		err := run([]string{"-o", dir, file}, &bytes.Buffer{})
		require.Error(t, err, c.is)
		var f *fault
		require.True(t, errors.As(err, &f), "%v", err)
		assert.Contains(t, err.Error(), c.field, c.is)
		assert.Contains(t, err.Error(), c.rule, c.is)
		assert.Contains(t, err.Error(), filepath.Base(file)+":", "the place")
		want := strings.Count(bad[:strings.Index(bad, c.is)], "\n") + 1
		found := false
		for _, line := range strings.Split(err.Error(), "\n") {
			found = found || strings.Contains(line, "bad.toml:"+strconv.Itoa(want)+":") || c.field == "file"
		}
		assert.True(t, found, "line %d in: %v", want, err)
		_, err = os.Stat(dir)
		assert.ErrorIs(t, err, os.ErrNotExist)
		ran++
	}
	assert.Equal(t, 25, ran)
	// All at once, in the order of the lines.
	bad := strings.Replace(strings.Replace(demo, `pitch    = "1/2 in"`, `pitch = 1`, 1), `radius  = "22 mm"`, `radius = 22`, 1)
	_, err := read("bad.toml", []byte(bad))
	require.Error(t, err)
	lines := strings.Split(err.Error(), "\n")
	require.Len(t, lines, 2)
	assert.Contains(t, lines[0], "opening radius 22")
	assert.Contains(t, lines[1], "rivets pitch 1")
	var fault *rivet.Error
	_, err = work("bad.toml", []byte(strings.Replace(demo, `radius = "760 mm"`, `radius = "10 mm"`, 1)))
	assert.ErrorAs(t, err, &fault, "the package's own error is within")
}

func FuzzRead(f *testing.F) {
	f.Add(text(f, "hatch-skin.toml"))
	f.Add(text(f, "hatch-insert.toml"))
	f.Add(strings.ReplaceAll(text(f, "hatch-skin.toml"), `"`, ""))
	f.Add("[[member]]\n[[member.line]]\nx=1\n[opening]\ncorners=[[],[[]],{}]\n")
	f.Fuzz(func(t *testing.T, data string) {
		if len(data) > 8000 {
			return
		}
		if r, err := work("fuzz.toml", []byte(data)); err == nil && r.fitted.Rivets < 2000 {
			_ = r.card(&bytes.Buffer{})
			if err := r.picture(&bytes.Buffer{}); err != nil {
				t.Fatal(err)
			}
		}
	})
}
