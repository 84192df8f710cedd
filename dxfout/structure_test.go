package dxfout

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// kinds are the four kinds of file.
var kinds = []Options{{R2000, Millimetre}, {R2000, Inch}, {R12, Millimetre}, {R12, Inch}}

func (o Options) String() string {
	return [2]string{"r2000", "r12"}[o.Version] + [2]string{"-mm", "-inch"}[o.Unit]
}

func write(t testing.TB, d drawing.Drawing, o Options) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, Write(&b, d, o))
	return b.Bytes()
}

func TestStructure(t *testing.T) {
	d, _ := slotted()
	for _, o := range kinds {
		assert.Empty(t, inspect(write(t, d, o)), o.String())
	}
}

// The structural check is worth something only if it sees what is wrong.
func TestStructuralCheckBites(t *testing.T) {
	d, _ := slotted()
	modern, old := string(write(t, d, kinds[0])), string(write(t, d, kinds[2]))
	for name, c := range map[string]struct{ file, from, to, says string }{
		"bare line feed":    {modern, "ENTITIES\r\n", "ENTITIES\n", "group code"},
		"double return":     {modern, "ENTITIES\r\n", "ENTITIES\r\r\n", "byte 0xd"},
		"no end":            {modern, "  0\r\nEOF\r\n", "", "EOF"},
		"undeclared layer":  {modern, "  8\r\nHOLE\r\n", "  8\r\nHOLES\r\n", "not declared"},
		"handle twice":      {modern, "  5\r\n10001\r\n", "  5\r\n10000\r\n", "twice"},
		"handle over seed":  {modern, "FFFFFFFF", "FF", "seed"},
		"lost owner":        {modern, "330\r\n11\r\n100\r\nAcDbEntity\r\n  8\r\nHOLE", "330\r\nABC\r\n100\r\nAcDbEntity\r\n  8\r\nHOLE", "not there"},
		"count wrong":       {modern, " 90\r\n7\r\n", " 90\r\n8\r\n", "count"},
		"count late":        {modern, " 90\r\n7\r\n 70\r\n1\r\n", " 70\r\n1\r\n 90\r\n7\r\n", "belongs"},
		"exponent":          {modern, " 10\r\n97.0\r\n", " 10\r\n9.7e1\r\n", "plain"},
		"minus nothing":     {modern, " 20\r\n0.0\r\n 42", " 20\r\n-0.0\r\n 42", "plain"},
		"comma":             {modern, " 10\r\n97.0\r\n", " 10\r\n97,0\r\n", "plain"},
		"marker lost":       {modern, "100\r\nAcDbCircle\r\n", "", "markers"},
		"units disagree":    {modern, "$MEASUREMENT\r\n 70\r\n1", "$MEASUREMENT\r\n 70\r\n0", "disagree"},
		"bulge beyond half": {modern, " 42\r\n-1.0\r\n", " 42\r\n-1.5\r\n", "bulge"},
		"vertex repeated":   {modern, " 10\r\n103.0\r\n", " 10\r\n97.0\r\n", "coincides"},
		"hole twice":        {modern, " 10\r\n180.0\r\n 20\r\n20.0\r\n", " 10\r\n20.0\r\n 20\r\n20.0\r\n", "cut twice"},
		"no seqend":         {old, "  0\r\nSEQEND\r\n  8\r\nCUT\r\n", "", "SEQEND"},
		"handle in R12":     {old, "  0\r\nCIRCLE\r\n", "  0\r\nCIRCLE\r\n  5\r\nA1\r\n", "R12"},
		"section lost":      {old, "  0\r\nSECTION\r\n  2\r\nBLOCKS\r\n  0\r\nENDSEC\r\n", "", "sections"},
	} {
		require.Contains(t, c.file, c.from, name)
		got := strings.Join(inspect([]byte(strings.Replace(c.file, c.from, c.to, 1))), "; ")
		assert.Contains(t, got, c.says, name)
	}
}

// The files in testdata were read through once by eye and are kept to show every
// change of a byte.
func TestGolden(t *testing.T) {
	d, _ := slotted()
	for _, o := range []Options{kinds[0], kinds[3]} {
		got := write(t, d, o)
		require.Equal(t, string(got), string(write(t, d, o)), "two runs differ")
		name := filepath.Join("testdata", "plate-"+o.String()+".dxf")
		if *update {
			require.NoError(t, os.WriteFile(name, got, 0o644))
		}
		want, err := os.ReadFile(name)
		require.NoError(t, err)
		assert.Equal(t, string(want), string(got))
	}
}

// No text can start a group, however it is made: each label below stands in one
// value, and the file has as many tags as with a plain word in its place.
func TestTextCannotInject(t *testing.T) {
	plain := taggedWith(t, "plain", R2000)
	for name, c := range map[string]struct{ label, want string }{
		"line feed":       {"A\n  0\nEOF", "A   0 EOF"},
		"return":          {"A\r\n  0\r\nEOF\r\n", "A    0  EOF"},
		"tab and null":    {"A\tB\x00C\x1bD", "A B C D"},
		"delete":          {"A\x7fB", "A B"},
		"next line":       {"A\u0085B\u2028C", "A B C"},
		"command":         {"50%%u", `50\U+0025\U+0025u`},
		"caret":           {"^J0^JEOF", `\U+005EJ0\U+005EJEOF`},
		"backslash":       {`\P\U+000A`, `\U+005CP\U+005CU+000A`},
		"degree":          {"94.6°", `94.6\U+00B0`},
		"greek":           {"Ω", `\U+03A9`},
		"beyond 16 bits":  {"A\U0001F6E9", "A?"},
		"no text at all":  {"A\xff\xfeB", "A??B"},
		"group code only": {"  8\n", "8"},
	} {
		for _, v := range []Version{R2000, R12} {
			got := taggedWith(t, c.label, v)
			assert.True(t, slices.Contains(got, tag{1, c.want}), "%s: no text %q", name, c.want)
			if v == R2000 {
				assert.Equal(t, len(plain), len(got), name)
			}
		}
	}
	// A label too long for one value is set on lines of its own.
	long := strings.Repeat("länge ", 100)
	for _, tag := range taggedWith(t, long, R12) {
		assert.LessOrEqual(t, len(tag.value), 255)
	}
	assert.Len(t, wrap(strings.Repeat("x", 600), 255), 3, "a word longer than a value is cut")
}

func taggedWith(t *testing.T, label string, v Version) []tag {
	t.Helper()
	d, _ := slotted()
	d.Labels = []drawing.Label{{Text: []string{label}, At: r2.Vec{X: 100, Y: 50}}}
	tags, faults := split(write(t, d, Options{Version: v}))
	require.Empty(t, faults, "label %q", label)
	require.Empty(t, inspect(write(t, d, Options{Version: v})))
	return tags
}

func TestStopStandsOnTheDrawing(t *testing.T) {
	d, _ := slotted()
	d.NotForCutting = true
	for _, o := range kinds {
		assert.Contains(t, string(write(t, d, o)), flat.NotForCutting)
	}
}

// brokenWriter takes a few bytes and fails.
type brokenWriter struct{ left int }

var errDiskFull = errors.New("disk full")

func (w *brokenWriter) Write(p []byte) (int, error) {
	if w.left < len(p) {
		return w.left, errDiskFull
	}
	w.left -= len(p)
	return len(p), nil
}

func TestFirstErrorSticks(t *testing.T) {
	d, _ := slotted()
	for _, n := range []int{0, 3, 5000} {
		assert.ErrorIs(t, Write(&brokenWriter{n}, d, Options{}), errDiskFull)
	}
	w, err := NewWriter(io.Discard, plainSheet())
	require.NoError(t, err)
	w.Circle("CUT", r2.Vec{}, -1)
	w.Circle("CUT", r2.Vec{}, math.NaN())
	var e *Error
	require.ErrorAs(t, w.Close(), &e)
	assert.Equal(t, "-1", e.Value)
	assert.Equal(t, w.Err(), w.Close(), "Close says it again")
}

func plainSheet() Sheet {
	return Sheet{Layers: []Layer{{"CUT", 7}}, Bounds: r2.Box{Min: r2.Vec{X: -1000, Y: -1000}, Max: r2.Vec{X: 1000, Y: 1000}}}
}

// Every place a number goes in, with every number that must not.
func TestBadNumbers(t *testing.T) {
	ran := 0
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 2e6} {
		for name, draw := range map[string]func(w *Writer){
			"line x":      func(w *Writer) { w.Line("CUT", v(bad, 0), v(1, 1)) },
			"line y":      func(w *Writer) { w.Line("CUT", v(0, 0), v(1, bad)) },
			"circle x":    func(w *Writer) { w.Circle("CUT", v(bad, 0), 1) },
			"radius":      func(w *Writer) { w.Circle("CUT", v(0, 0), bad) },
			"vertex":      func(w *Writer) { w.Path("CUT", closed(vb(0, 0, 0), vb(1, bad, 0), vb(1, 0, 0))) },
			"bulge":       func(w *Writer) { w.Path("CUT", closed(vb(0, 0, bad), vb(1, 1, 0), vb(1, 0, 0))) },
			"text place":  func(w *Writer) { w.Text("CUT", Text{At: v(bad, 0), Height: 1, Text: "x"}) },
			"text height": func(w *Writer) { w.Text("CUT", Text{Height: bad, Text: "x"}) },
			"text angle":  func(w *Writer) { w.Text("CUT", Text{Height: 1, Turned: bad, Text: "x"}) },
		} {
			w, err := NewWriter(io.Discard, plainSheet())
			require.NoError(t, err)
			draw(w)
			var e *Error
			assert.ErrorAs(t, w.Close(), &e, "%s = %v", name, bad)
			ran++
		}
	}
	require.Equal(t, 36, ran)
}

func TestRefused(t *testing.T) {
	for name, draw := range map[string]func(w *Writer){
		"undeclared":   func(w *Writer) { w.Line("HOLES", v(0, 0), v(1, 1)) },
		"no layer":     func(w *Writer) { w.Line("", v(0, 0), v(1, 1)) },
		"no length":    func(w *Writer) { w.Line("CUT", v(1, 1), v(1, 1+1e-10)) },
		"one vertex":   func(w *Writer) { w.Path("CUT", closed(vb(0, 0, 0))) },
		"repeated":     func(w *Writer) { w.Path("CUT", closed(vb(0, 0, 0), vb(5, 0, 0), vb(5, 5, 0), vb(0, 0, 0))) },
		"arc outside":  func(w *Writer) { w.Path("CUT", closed(vb(999, -500, 1), vb(999, 500, 0), vb(0, 0, 0))) },
		"no radius":    func(w *Writer) { w.Circle("CUT", v(0, 0), 0) },
		"empty text":   func(w *Writer) { w.Text("CUT", Text{Height: 1}) },
		"long text":    func(w *Writer) { w.Text("CUT", Text{Height: 1, Text: strings.Repeat("x", 256)}) },
		"after closed": func(w *Writer) { w.Close(); w.Line("CUT", v(0, 0), v(1, 1)) },
	} {
		w, err := NewWriter(io.Discard, plainSheet())
		require.NoError(t, err)
		draw(w)
		var e *Error
		assert.ErrorAs(t, w.Close(), &e, name)
	}
	_, err := NewWriter(io.Discard, Sheet{
		Options: Options{Version: 7, Unit: 9},
		Layers:  []Layer{{"cut", 7}, {"A B", 7}, {strings.Repeat("X", 32), 7}, {"", 1}, {"HOLE", 0}, {"CUT", 1}, {"CUT", 2}},
		Bounds:  r2.Box{Min: v(math.NaN(), 5), Max: v(0, math.Inf(1))},
	})
	for _, says := range []string{"version 7", "unit 9", `"cut"`, `"A B"`, `"XXXX`, `name ""`, "colour 0", "declared twice", "least x NaN", "greatest y +Inf"} {
		assert.ErrorContains(t, err, says)
	}
}

// A file declares as many layers as its table can count in 16 bits, 2^15 - 1 with layer 0, each by
// a handle of its own, and no more.
func TestMostLayers(t *testing.T) {
	s := plainSheet()
	for len(s.Layers) < 1<<15-2 {
		s.Layers = append(s.Layers, Layer{fmt.Sprintf("L%d", len(s.Layers)), 1})
	}
	more := s
	more.Layers = append(s.Layers[:len(s.Layers):len(s.Layers)], Layer{"LAST", 1})
	for _, version := range []Version{R2000, R12} {
		var file bytes.Buffer
		s.Version, more.Version = version, version
		w, err := NewWriter(&file, s)
		require.NoError(t, err)
		w.Line("CUT", v(0, 0), v(1, 1))
		require.NoError(t, w.Close())
		assert.Empty(t, inspect(file.Bytes()), "%v", version)
		_, err = NewWriter(io.Discard, more)
		require.EqualError(t, err, "dxfout: file: layers 32767: must be 32766 at most, the count of a table being 16 bits")
	}
	for len(more.Layers) < 70_000 {
		more.Layers = append(more.Layers, Layer{fmt.Sprintf("M%d", len(more.Layers)), 1})
	}
	_, err := NewWriter(io.Discard, more)
	require.ErrorContains(t, err, "layers 70000")
}

// What a path becomes: one line and one arc are plain entities, a full circle a
// CIRCLE, an arc beyond a half circle two bulges, each a quarter of its sweep.
func TestPathKinds(t *testing.T) {
	arc := outline.Path{Vertices: []outline.Vertex{vb(10, 0, 3), vb(0, 10, 0)}}
	for name, c := range map[string]struct {
		path outline.Path
		kind string
	}{
		"line":   {outline.Polyline(v(0, 0), v(1, 0)), "LINE"},
		"arc":    {arc, "ARC"},
		"circle": {outline.Circle(v(3, 4), 5), "CIRCLE"},
		"three arcs of a circle": {closed(
			vb(5, 0, math.Tan(math.Pi/6)), vb(-2.5, 2.5*math.Sqrt(3), math.Tan(math.Pi/6)), vb(-2.5, -2.5*math.Sqrt(3), math.Tan(math.Pi/6))), "CIRCLE"},
		"lens":    {closed(vb(0, 0, 0.5), vb(10, 0, 0.5)), "LWPOLYLINE"},
		"keyhole": {closed(vb(1, 0, 3), vb(-1, 0, 0), vb(-1, -5, 0), vb(1, -5, 0)), "LWPOLYLINE"},
	} {
		var b bytes.Buffer
		w, err := NewWriter(&b, plainSheet())
		require.NoError(t, err)
		w.Path("CUT", c.path)
		require.NoError(t, w.Close())
		assert.Empty(t, inspect(b.Bytes()), name)
		tags, _ := split(b.Bytes())
		var found []string
		for _, r := range records(tags) {
			if r.section == "ENTITIES" && len(r.all(8)) > 0 {
				found = append(found, r.kind)
				if name == "keyhole" {
					// 4·atan 3 in two: tan(atan(3)/2) = (√10 - 1)/3.
					want := fmt.Sprintf("%.12f", (math.Sqrt(10)-1)/3)
					assert.Equal(t, []string{want, want}, r.all(42))
				}
				if name == "arc" {
					// Bulge 3 from (10,0) to (0,10): sweep 4·atan 3 = 286.26°. The arc starts at
					// its end when run clockwise, and here it runs counter-clockwise as given.
					assert.Equal(t, 1, len(r.all(50)))
				}
			}
		}
		assert.Equal(t, []string{c.kind}, found, name)
	}
}
