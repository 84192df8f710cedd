package family_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/family"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const channel = `kind = "section"     # <this> is a remark
name = "stringer-<no>"
title = "<no>"

[sheet]
material  = "2024-T3"
thickness = "0.040 in"

[bends]
radius = "0.16 in"

[section]
length = '<length>'   # <no>

[[section.leg]]
name  = "<leg> leg"
width = "<leg>"
bend  = "90 deg"
turn  = "up"

[[section.leg]]
name  = "lower"
width = "2.00 in"
`

func ExampleTemplate_Members() {
	t, err := family.ReadTemplate("bay.toml", strings.NewReader(edges))
	if err != nil {
		fmt.Println(err)
		return
	}
	table := "bay,length,aft\n7,13 1/4 in,93 deg\n8,12 7/8 in,92.5 deg\n9,12.5,92 deg\n"
	for m, err := range t.Members("bays.csv", strings.NewReader(table)) {
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Printf("line %d: %s, %v\n", m.Line, m.Part.Name, m.Part.Web.Edges[3].Flanges[0].Angle)
	}
	// Output:
	// line 2: bay-7, 93°
	// line 3: bay-8, 92.5°
	// bays.csv:4: makes no part:
	// bay.toml:12:10: edge 1 length: "12.5": a bare number has no unit: write "12.5 mm" or "12.5 in"
	// bay.toml:20:10: edge 3 length: "12.5": a bare number has no unit: write "12.5 mm" or "12.5 in"
}

const edges = `kind = "edges"
name = "bay-<bay>"
[sheet]
material = "2024-T3"
thickness = "0.040 in"
[bends]
radius = "3/16 in"

# A bay.
[[edge]]
name = "keel"
length = "<length>"
corner = "90 deg"
[[edge]]
name = "fwd"
length = "6 in"
corner = "90 deg"
[[edge]]
name = "skin"
length = "<length>"
corner = "90 deg"
[[edge]]
name = "aft"
[[edge.flange]]
turn = "up"
angle = "<aft>"
height = "3/4 in"
`

// A section fills in as edges do, and what stands in a remark is left alone.
func TestSectionFamily(t *testing.T) {
	tmpl, err := family.ReadTemplate("stringer.toml", strings.NewReader(channel))
	require.NoError(t, err)
	assert.Equal(t, []string{"no", "length", "leg"}, tmpl.Words)
	_, err = tmpl.Fill([]string{"1", "6 in"})
	require.Error(t, err, "a text is missing")
	doc, err := tmpl.Fill([]string{"1", "6 in", "1 in"})
	require.NoError(t, err)
	assert.Equal(t, "stringer-1", doc.Part.Name)
}

// Where words stand, by hand.
func TestWords(t *testing.T) {
	tmpl, err := family.ReadTemplate("stringer.toml", strings.NewReader(channel))
	require.NoError(t, err)
	assert.Equal(t, channel, tmpl.Text())
	for line, want := range map[int][]string{-1: nil, 0: nil, 1: nil, 2: {"no"}, 13: {"length"}, 16: {"leg"}, 17: {"leg"}, 99: nil} {
		assert.Equal(t, want, tmpl.WordsOn(line), line)
	}
	assert.True(t, tmpl.Alone("length"), "in single quotes")
	assert.False(t, tmpl.Alone("no"), "stands behind stringer- once")
	assert.False(t, tmpl.Alone("leg"), "stands before leg once")
	assert.False(t, tmpl.Alone("this"), "stands in a remark")
}

// A # between quotation marks, of any of TOML's four kinds, begins no remark, and one behind
// them does, whatever the text within ends with.
func TestRemarksBegin(t *testing.T) {
	for name, c := range map[string]struct {
		line string
		want []string
	}{
		"basic":             {`title = "Rib #<num> of <set>" # <no>`, []string{"num", "set"}},
		"literal":           {`title = 'Rib #<num> of <set>' # <no>`, []string{"num", "set"}},
		"empty":             {`title = "" # <no>`, nil},
		"escaped mark":      {`title = "6\" #<num>" # <no>`, []string{"num"}},
		"escaped backslash": {`title = "<num>\\" # "<no>"`, []string{"num"}},
		"no escapes":        {`title = '<num>\' # '<no>'`, []string{"num"}},
		"other mark":        {`title = "don't #<num>" # don't <no>`, []string{"num"}},
		"in a remark":       {`# "title" <no>`, nil},
		"quoted key":        {`"ti#tle" = "<num>"`, []string{"num"}},
		"lines":             {"title = \"\"\"a \"b\" #<num>\n# <set> \\\"\"\"\nc\"\"\" # <no>", []string{"num", "set"}},
		"literal lines":     {"title = '''a 'b' #<num>\n# <set> \\''' # <no>", []string{"num", "set"}},
		"ends in a mark":    {"title = \"\"\"a <num>\"\"\"\" # <no>", []string{"num"}},
		"ends in marks":     {"title = \"\"\"a \"<num>\"\"\"\"\" # <no>", []string{"num"}},
		"ends a line":       {"title = \"\"\"a \\\n# <num>\"\"\" # <no>", []string{"num"}},
		"never closed":      {"title = \"a\n# <no>\nname = '<num>\n# <no>", []string{"num"}},
	} {
		tmpl, err := family.ReadTemplate("t.toml", strings.NewReader("name = \"<first>\"\n"+c.line+"\n# <no>\nlast = \"<last>\"\n"))
		require.NoError(t, err, name)
		assert.Equal(t, append(append([]string{"first"}, c.want...), "last"), tmpl.Words, name)
	}
	tmpl, err := family.ReadTemplate("bay.toml", strings.NewReader(strings.Replace(edges, "\n", "\ntitle = \"Rib #<num> of <bay>\"\n", 1)))
	require.NoError(t, err)
	doc, err := tmpl.Fill([]string{"3", "7", "13 in", "92 deg"})
	require.NoError(t, err)
	assert.Equal(t, "Rib #3 of 7", doc.Part.Title)
	assert.Equal(t, []string{"num", "bay"}, tmpl.WordsOn(2))
}

// Degrees and minutes end in an apostrophe, 97° 30' is 97.5°: they are refused where it would
// close the quotation marks, and nowhere else.
func TestApostrophes(t *testing.T) {
	texts := []string{"7", "13 in", "97 30'"}
	tmpl, err := family.ReadTemplate("bay.toml", strings.NewReader(edges))
	require.NoError(t, err)
	doc, err := tmpl.Fill(texts)
	require.NoError(t, err)
	assert.InDelta(t, 97.5, doc.Part.Web.Edges[3].Flanges[0].Angle.Degrees(), 1e-9)
	for _, quoted := range []string{"'<aft>'", "'''<aft>'''", "\"<aft>\" # '<aft>'\n# \"\n#"} {
		tmpl, err := family.ReadTemplate("bay.toml", strings.NewReader(strings.Replace(edges, `"<aft>"`, quoted, 1)))
		require.NoError(t, err)
		_, err = tmpl.Fill([]string{"7", "13 in", "97.5 deg"})
		require.NoError(t, err)
		_, err = tmpl.Fill(texts)
		if strings.HasPrefix(quoted, `"`) {
			require.NoError(t, err, "only a remark has it between single ones")
			continue
		}
		var fault *family.Error
		require.ErrorAs(t, err, &fault, quoted)
		assert.Equal(t, family.Error{File: "bay.toml", Field: "aft", Value: `"97 30'"`, Rule: `would end the single quotation marks that the word stands between: write "<aft>" in the template`}, *fault)
	}
}

// A fault of a row is given to the cells it comes from.
func TestFaultsOfCells(t *testing.T) {
	tmpl, err := family.ReadTemplate("bay.toml", strings.NewReader(edges))
	require.NoError(t, err)
	table := "bay,length,aft\n7,13,190\n\"7\n8\",13 in,93 deg\n9,13 in\n10,0.001 in,93 deg\n"
	var got []string
	for m, err := range tmpl.Members("bays.csv", strings.NewReader(table)) {
		if err == nil {
			_, err = flat.Develop(m.Part)
		}
		for _, fault := range tmpl.Faults("bays.csv", m, err) {
			got = append(got, fmt.Sprint(fault.File, " ", fault.Line, " ", fault.Field, " ", fault.Value))
		}
	}
	require.GreaterOrEqual(t, len(got), 6)
	assert.Equal(t, []string{
		`bays.csv 2 length "13"`, `bays.csv 2 length "13"`, `bays.csv 2 aft "190"`, // the length stands on two edges
		`bays.csv 3 bay "7\n8"`, "bays.csv 5  2 cells",
	}, got[:5])
	assert.Contains(t, got[5], "bays.csv 6 ")
	assert.Empty(t, tmpl.Faults("bays.csv", family.Member{}, nil))
	other := tmpl.Faults("bays.csv", family.Member{Line: 3}, errors.New("no light"))
	require.Len(t, other, 1)
	assert.ErrorContains(t, other[0], "bays.csv:3: makes no part:\nno light")
}

func TestFaults(t *testing.T) {
	for name, text := range map[string]string{
		"no word":    "kind = \"edges\"\n",
		"empty word": "name = \"< >\"\n",
	} {
		_, err := family.ReadTemplate("t.toml", strings.NewReader(text))
		var fault *family.Error
		require.ErrorAs(t, err, &fault, name)
	}
	tmpl, err := family.ReadTemplate("bay.toml", strings.NewReader(edges))
	require.NoError(t, err)
	assert.Equal(t, []string{"bay", "length", "aft"}, tmpl.Words)

	for name, c := range map[string]struct {
		table string
		want  []string // one a row given
	}{
		"empty":          {"", []string{"no first row"}},
		"missing column": {"bay,length\n7,1 in\n", []string{`aft: this word of bay.toml has no column`}},
		"unknown column": {"bay,length,aft,hue\n", []string{`hue: is no word of bay.toml`}},
		"column twice":   {"bay,length,aft,aft\n", []string{`aft: stands at the head of two columns`}},
		"short row":      {"bay,length,aft\n7,1 in\n8,13 in,93 deg\n", []string{"2 cells: the table has 3 columns", ""}},
		"quote":          {"bay,length,aft\n7,\"13 in\"\"\nname = \"\"x\",93 deg\n8,13 in,93 deg\n", []string{"cannot be filled in", ""}},
		"broken quotes":  {"bay,length,aft\n7,13 \"in,93 deg\n8,13 in,93 deg\n", []string{"is not a row", ""}},
		"newline":        {"bay,length,aft\n\"7\n8\",13 in,93 deg\n8,13 in,93 deg\n", []string{"cannot be filled in", ""}},
		"path in name":   {"bay,length,aft\n../../x,13 in,93 deg\n8,13 in,93 deg\n", []string{"name", ""}},
	} {
		t.Run(name, func(t *testing.T) {
			var got []string
			for _, err := range tmpl.Members("bays.csv", strings.NewReader(c.table)) {
				if err == nil {
					got = append(got, "")
					continue
				}
				assert.Contains(t, err.Error(), "bays.csv")
				got = append(got, err.Error())
			}
			require.Len(t, got, len(c.want), "%q", got)
			for i := range got {
				if c.want[i] == "" {
					assert.Empty(t, got[i])
				}
				assert.Contains(t, got[i], c.want[i])
			}
		})
	}
}

func FuzzMembers(f *testing.F) {
	f.Add(edges, "bay,length,aft\n7,13 in,93 deg\n")
	f.Add(channel, "no,length,leg\n1,6 in,1 in\n")
	f.Fuzz(func(t *testing.T, template, table string) {
		tmpl, err := family.ReadTemplate("t", strings.NewReader(template))
		if err != nil {
			return
		}
		for m, err := range tmpl.Members("c", strings.NewReader(table)) {
			if err == nil && m.Part.Name == "" {
				t.Fatal("a part without a name")
			}
		}
	})
}

func BenchmarkFill(b *testing.B) {
	t, err := family.ReadTemplate("bay.toml", strings.NewReader(edges))
	if err != nil {
		b.Fatal(err)
	}
	texts := []string{"7", "13 1/4 in", "93 deg"}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := t.Fill(texts); err != nil {
			b.Fatal(err)
		}
	}
}

// A delete character and a template of more than 1 MiB are refused.
func TestUnfitTexts(t *testing.T) {
	tpl, err := family.ReadTemplate("channel.toml", strings.NewReader(channel))
	require.NoError(t, err)
	texts := make([]string, len(tpl.Words))
	for i := range texts {
		texts[i] = "1 in"
	}
	texts[0] = "a\x7f"
	_, err = tpl.Fill(texts)
	assert.ErrorContains(t, err, "control character cannot be filled in")
	remark := "# " + strings.Repeat("x", 1<<20-len(channel)-3) + "\n"
	_, err = family.ReadTemplate("channel.toml", strings.NewReader(remark+channel))
	assert.NoError(t, err, "1 MiB")
	_, err = family.ReadTemplate("channel.toml", strings.NewReader("\n"+remark+channel))
	assert.ErrorContains(t, err, "more than 1 MiB")
}
