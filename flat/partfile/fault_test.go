package partfile_test

import (
	"errors"
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/partfile"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func read(text string) (partfile.Document, error) {
	return partfile.Read("bay.toml", strings.NewReader(text))
}

// The advice on a list is the header to write, in full.
func TestHeadersAreTold(t *testing.T) {
	_, err := read("kind = \"edges\"\n[edge]\nlength = \"1 in\"\n")
	require.ErrorContains(t, err, "write [[edge]] with two")
	_, err = read("kind = \"edges\"\n[[edge]]\nlength = \"1 in\"\n[edge.flange]\nturn = \"up\"\n")
	require.ErrorContains(t, err, "write [[edge.flange]] with two")
	_, err = read("kind = \"edges\"\n[[edge]]\n[[edge.flange]]\n[edge.flange.hole]\ndiameter = \"1 in\"\n")
	require.ErrorContains(t, err, "write [[edge.flange.hole]] with two")
}

// Three points may be as flat a triangle as one in a hundred: 10 mm to the side of two that are 1000 mm apart.
func TestPointsNearlyInALine(t *testing.T) {
	bay := sampleText(t, "keel-bay-7")
	points := regexp.MustCompile(`(?s)(name   = "skin".*?points = )\[.*?\n\]`)
	for side, refused := range map[string]bool{"9": true, "9.9": true, "10.1": false, "11": false} {
		text := points.ReplaceAllString(bay, `$1[["0 mm", "0 mm", "400 mm"], ["1000 mm", "0 mm", "400 mm"], ["500 mm", "`+side+` mm", "400 mm"]]`)
		require.NotEqual(t, bay, text)
		_, err := read(text)
		assert.Equal(t, refused, strings.Contains(fmt.Sprint(err), "lie on one line"), "%s mm to the side: %v", side, err)
	}
}

// Of a hopeless file the first hundred faults are listed, and how many are not: so many for each edge.
func TestHopelessFile(t *testing.T) {
	few, err := 0, error(nil)
	for _, edges := range []int{40, 4000} {
		_, err = read("kind = \"edges\"\n" + strings.Repeat("[[edge]]\nangle = 3\n", edges))
		list := partfile.Faults(err)
		require.Len(t, list, 101, "%d edges", edges)
		last := list[100]
		assert.Contains(t, last.Rule, "more faults from here on are not listed")
		assert.Positive(t, last.Line)
		for _, f := range list[:100] {
			assert.NotContains(t, f.Rule, "more faults")
		}
		if edges == 40 {
			_, scanned := fmt.Sscan(last.Rule, &few)
			require.NoError(t, scanned)
		} else {
			var many int
			_, scanned := fmt.Sscan(last.Rule, &many)
			require.NoError(t, scanned)
			// Each edge has the same faults as the others.
			each := float64(many-few) / (4000 - 40)
			assert.Equal(t, float64(int(each)), each)
			assert.Positive(t, each)
		}
	}
}

// spoilt are the ways a value can be wrong. Where a field takes one of them, it
// says so in excused.
var spoilt = map[string]string{
	"missing":     "",
	"zero":        `"0 in"`,
	"negative":    `"-3/4 in"`,
	"not finite":  `"NaN in"`,
	"bare nan":    "nan",
	"bare inf":    "-inf",
	"huge":        `"999999999 in"`,
	"wrong unit":  `"3 furlongs"`,
	"an angle":    `"30 deg"`,
	"bare number": "0.5",
	"bare whole":  "12",
	"empty":       `""`,
	"a yes":       "true",
	"a date":      "2024-01-02",
	"a list":      `["1 in"]`,
	"a table":     `{ x = "1 in" }`,
}

// Every line of every sample in turn is spoilt in every way. The fault must name
// the file, that very line and the key, and be the only one of that key.
func TestEveryFieldTimesEveryFault(t *testing.T) {
	line := regexp.MustCompile(`^(\s*)([a-z_]+)(\s*= )("[^"]*"|\[.*\]|\{.*\}|[0-9.]+)(\s*(?:#.*)?)$`)
	ran := 0
	for _, name := range sampleFiles(t) {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		lines := strings.Split(string(data), "\n")
		group := ""
		for i, text := range lines {
			if strings.HasPrefix(text, "[") {
				group = text
			}
			m := line.FindStringSubmatch(text)
			if m == nil || strings.HasPrefix(text, "#") {
				continue
			}
			for how, value := range spoilt {
				// Where a rule was read may lie anywhere; settled by the other corners; a joggle from the very end, a sharp lip,
				// one toward the reader, the part's own radius.
				fine := m[2] == "height" && m[4] == `"1/2 in"` && (how == "missing" || how == "zero" || how == "negative") ||
					m[4] == `"91 deg"` && how == "missing" ||
					m[2] == "at" && strings.Contains(group, "joggle") && how == "zero" ||
					m[2] == "radius" && strings.Contains(group, "lightening") && how == "zero" ||
					m[2] == "turn" && strings.Contains(group, "lightening") && how == "missing" ||
					m[2] == "radius" && m[4] == `"5 mm"` && strings.Contains(group, "leg") && how == "missing"
				if excused(m[2], how) || fine {
					continue
				}
				changed := append([]string(nil), lines...)
				changed[i] = m[1] + m[2] + m[3] + value + m[5]
				if how == "missing" {
					changed[i] = ""
				}
				_, err := read(strings.Join(changed, "\n"))
				ran++
				if !assert.Error(t, err, "%s line %d %s = %s", name, i+1, m[2], value) {
					continue
				}
				found := 0
				for _, f := range partfile.Faults(err) {
					assert.Equal(t, "bay.toml", f.File)
					assert.NotEmpty(t, f.Rule)
					at := f.Line == i+1 || how == "missing" && f.Value == ""
					if at && strings.Contains(" "+f.Field, " "+m[2]) {
						found++
					}
				}
				assert.NotZero(t, found, "%s line %d %s = %s: %v", name, i+1, m[2], value, err)
				assert.LessOrEqual(t, len(partfile.Faults(err)), 2, "one slip, a flood of faults: %v", err)
			}
		}
	}
	t.Logf("%d cases", ran)
	assert.Greater(t, ran, 2000)
}

// excused are values a field may have, and lines that may be left out.
func excused(key, how string) bool {
	may := map[string]string{
		"title":             "missing zero negative not finite huge wrong unit an angle",
		"name":              "missing zero negative not finite huge wrong unit an angle",
		"grain":             "missing an angle",
		"rule":              "missing",
		"neutral":           "bare number",
		"relief":            "missing",
		"gap":               "missing",
		"corner_cut_before": "missing",
		"face":              "missing",
		"seen_from":         "", "points": "",
		"clearance":  "missing zero",
		"turn":       "",
		"angle":      "an angle",
		"angle_end":  "missing an angle",
		"height_end": "missing",
		"corner":     "an angle", "length": "",
		"basis":  "missing",
		"radius": "", "from": "missing zero", "to": "",
		"end": "missing", "at": "", "arc": "missing an angle",
		"web": "missing", "part": "missing", "side": "missing",
		"bend":    "an angle",
		"purpose": "missing", "reading_error": "missing", "within": "missing", "angle_error": "missing",
		"along": "an angle", "athwart": "an angle", "datum_along": "missing an angle", "datum_athwart": "missing an angle",
		"from_mold": "missing", "end_distance": "missing", "rows": "missing bare whole", "row_spacing": "missing", "stagger": "missing",
		"head": "missing", "drill": "missing", "onto": "missing",
		"lean": "an angle", "skew": "missing an angle", "up": "",
		"distance": "zero negative", "low_distance": "zero negative", "high_distance": "zero negative", "low_height": "zero negative", "high_height": "",
	}
	return strings.Contains(" "+may[key]+" ", " "+how+" ")
}

// Faults of form and of content come out of one reading, in the order of the
// lines, each once.
func TestAllFaultsAtOnce(t *testing.T) {
	_, err := read(`kind = "edges"
name = "keel bay/7"
titel = "Bay 7"
[sheet]
material = "2024-T33"
thickness = 0.040
[bends]
radius = 5/32 in
[[edge]]
name = "keel"
length = "13 1/4 in"
corner = "91 30'"
[[edge.flange]]
turn = up
angle = "190 deg"
hieght = "3/4 in"
[[edge]]
name = "keel"
length = "5 3/4 in"
corner = "90"
[[edge]]
length = "13 in"
[edge.flange]
turn = "sideways"
angle = "3 in"
height = "-3/4 in"
[[edge]]
`)
	var got []string
	for _, f := range partfile.Faults(err) {
		got = append(got, fmt.Sprintf("%d:%d %s|%s", f.Line, f.Column, f.Field, f.Value))
	}
	assert.Equal(t, []string{
		`2:8 name|"keel bay/7"`,
		`3:1 titel|`,
		`5:12 sheet material|"2024-T33"`,
		`6:13 sheet thickness|0.040`,
		`8:11 |"radius = 5/32 in"`,
		`13:8 edge 1 flange 1 height|`,
		`14:8 |"turn = up"`,
		`15:9 edge 1 flange 1 angle|"190 deg"`,
		`16:1 edge 1 flange 1 hieght|`,
		`18:8 edge 2 name|"keel"`,
		`20:10 edge 2 corner|"90"`,
		`23:7 edge 3 flange|{...}`,
	}, got)
	t.Log(err)
}

func TestWordsOfTheFaults(t *testing.T) {
	sample := func(old, instead string) string {
		data := sampleText(t, "keel-bay-7-edges")
		require.Contains(t, data, old)
		return strings.Replace(data, old, instead, 1)
	}
	for _, c := range []struct{ old, instead, want string }{
		{`thickness = "0.040 in"`, `thickness = 0.040`, `write "0.040 in" or "0.040 mm"`},
		{`radius = "3/16 in"`, `radius = 4`, `write "4 in" or "4 mm", with the quotation marks`},
		{`angle  = "96 deg"`, `angle  = 96`, `write "96 deg"`},
		{`angle  = "96 deg"`, `angle  = "0 deg"`, "must be above 0"},
		{`turn   = "down"`, `turn   = "donw"`, `did you mean "down"?`},
		{`turn   = "down"`, `trun   = "down"`, `did you mean "turn"?`},
		{`[bends]`, `[bend]`, `did you mean "bends"?`},
		{`kind  = "edges"`, `kind  = "edge"`, `did you mean "edges"?`},
		{`material  = "2024-T3"`, `material  = "2024-T33"`, "did you mean"},
		{`thickness = "0.040 in"`, `thickness = "18 gauge"`, "gauge of which system?"},
		{`height = "3/4 in"`, `height = "3/4""`, `write the inch as in: height = "3/4 in"`},
		{`height = "3/4 in"`, `height = “3/4 in”`, "word processor"},
		{`height = "3/4 in"`, `height = "3/4 in`, "closing quotation mark"},
		{`height = "3/4 in"`, `height = 3/4 in`, `write the value in quotation marks: height = "3/4 in"`},
		{`height = "3/4 in"`, `height = `, "the value is missing"},
		{`corner = "91 deg"`, `corner = "89 deg"`, "leave 91.13 deg"},
		{`name   = "frame 407"`, "length = \"5 in\"", "the other edges and corners leave"},
		{`[sheet]`, `[[sheet]]`, "stands once in a file"},
		{`title = `, "name = \"again\"\ntitle = ", "for the second time; the first is in line 18"},
		{`from   = "1/2 in"`, `from   = "5 1/2 in"`, "must be above from"},
	} {
		_, err := read(sample(c.old, c.instead))
		assert.ErrorContains(t, err, c.want, c.instead)
	}
}

// Deriving the numbers of the walk by hand: a square of 100 mm whose fourth edge
// is left out; its second to last corner then measures 90 deg, its last 90 deg.
func TestWalk(t *testing.T) {
	const head = "kind = \"edges\"\nname = \"a\"\n[sheet]\nmaterial = \"2024-T3\"\nthickness = \"1 mm\"\n"
	const square = head + `[[edge]]
length = "100 mm"
corner = "90 deg"
[[edge]]
length = "100 mm"
corner = "90 deg"
[[edge]]
length = "100 mm"
corner = "%s"
[[edge]]
length = "%s"
corner = "%s"
`
	for _, c := range []struct {
		third, length, last string
		faults              []int // lines
	}{
		{"90 deg", "100 mm", "90 deg", nil},
		{"90 20'", "100.7 mm", "89 40'", nil},
		{"91 deg", "100 mm", "90 deg", []int{14}},
		{"90 deg", "101 mm", "90 deg", []int{16}},
		{"90 deg", "100 mm", "89 deg", []int{17}},
		{"270 deg", "100 mm", "90 deg", []int{14}},
	} {
		doc, err := read(fmt.Sprintf(square, c.third, c.length, c.last))
		var lines []int
		for _, f := range partfile.Faults(err) {
			lines = append(lines, f.Line)
		}
		assert.Equal(t, c.faults, lines, "%v", err)
		if c.faults == nil {
			require.NoError(t, err)
			for i, want := range [][2]float64{{0, 0}, {100, 0}, {100, 100}, {0, 100}} {
				assert.InDelta(t, want[0], doc.Part.Web.Edges[i].Start.X, 1e-12)
				assert.InDelta(t, want[1], doc.Part.Web.Edges[i].Start.Y, 1e-12)
			}
		}
	}

	// An L-shape has a corner of 270 deg inside: 60 along, 30 up, 30 back, 30 up, 30
	// back leaves 60 to come down.
	doc, err := read(head + strings.Join([]string{
		edge("60 mm", "90 deg"), edge("30 mm", "90 deg"), edge("30 mm", "270 deg"),
		edge("30 mm", "90 deg"), edge("30 mm", "90 deg"), edge("60 mm", "90 deg"),
	}, ""))
	require.NoError(t, err)
	assert.InDelta(t, 30, doc.Part.Web.Edges[3].Start.X, 1e-12)
	assert.InDelta(t, 30, doc.Part.Web.Edges[3].Start.Y, 1e-12)
	assert.InDelta(t, 60, doc.Part.Web.Edges[5].Start.Y, 1e-12)

	// The other way round, the corners are on the wrong side.
	_, err = read(head + edge("60 mm", "300 deg") + edge("60 mm", "300 deg") + edge("60 mm", "300 deg"))
	assert.ErrorContains(t, err, "counter-clockwise")
}

func edge(length, corner string) string {
	return "[[edge]]\nlength = \"" + length + "\"\ncorner = \"" + corner + "\"\n"
}

func TestErrorsAs(t *testing.T) {
	_, err := read("kind = \"edges\"\nname = \"a\"\n[sheet]\nmaterial = \"2024-T33\"\nthickness = \"3 yards\"\n")
	var fault *partfile.Error
	require.ErrorAs(t, err, &fault)
	assert.Equal(t, 1, fault.Line, "the missing [[edge]] is a fault of the file")
	var stuff *material.Error
	assert.ErrorAs(t, err, &stuff)
	var syntax *measure.SyntaxError
	assert.ErrorAs(t, err, &syntax)
	assert.Nil(t, partfile.Faults(nil))
	assert.Nil(t, partfile.Faults(errors.New("another")))
}

// What is found later, on developing, comes out with its line.
func TestLocate(t *testing.T) {
	data := sampleText(t, "u-channel")
	doc, err := partfile.Read("u.toml", strings.NewReader(data))
	require.NoError(t, err)
	other := errors.New("another")
	located := doc.Locate(errors.Join(&flat.Error{Path: "web.edges[2].flanges[0].height", Rule: "is too short"}, other))
	require.ErrorIs(t, located, other)
	f := partfile.Faults(located)
	require.Len(t, f, 1)
	assert.Equal(t, `section leg 3 width`, f[0].Field)
	assert.Contains(t, strings.Split(data, "\n")[f[0].Line-1], `"1.00 in"`)
	assert.NoError(t, doc.Locate(nil))
}

func TestNotAPartFile(t *testing.T) {
	for text, want := range map[string]string{
		"":                                  "kind: is missing",
		"\ufeffkind = \"edges\"":            "name: is missing",
		"name = \"a\xff\"":                  "1:10: byte 0xFF: is not UTF-8",
		"\xfe\xffk\x00i":                    "is not UTF-8",
		strings.Repeat("a", 5<<20):          "4 MiB",
		strings.Repeat("x = \n", 100):       "the value is missing",
		"a = " + strings.Repeat("[", 20000): "nested",
		"[" + strings.Repeat("a.", 20000) + "a]\nb = \"\"": "is missing",
	} {
		_, err := read(text)
		assert.ErrorContains(t, err, want)
		assert.Less(t, len(partfile.Faults(err)), 40)
	}
}
