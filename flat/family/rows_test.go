package family_test

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/hangarflat/hangarflat/flat/family"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// membersOf reads a table of bays: "7 13 in 93 deg" for a member, its fault for another row.
func membersOf(t *testing.T, table io.Reader) []string {
	t.Helper()
	tmpl, err := family.ReadTemplate("bay.toml", strings.NewReader(edges))
	require.NoError(t, err)
	var got []string
	for m, err := range tmpl.Members("bays.csv", table) {
		if err != nil {
			got = append(got, err.Error())
			continue
		}
		got = append(got, fmt.Sprint(m.Line, ": ", strings.Join(m.Texts, " ")))
	}
	return got
}

// The same two bays, however a spreadsheet saved them.
func TestSavedTables(t *testing.T) {
	const plain = "bay,length,aft\n7,13 in,93 deg\n8,12 in,92 deg\n"
	every := func(from, to string) string { return strings.ReplaceAll(plain, from, to) }
	all := "\"" + strings.ReplaceAll(strings.ReplaceAll(strings.TrimSpace(plain), ",", `","`), "\n", "\"\n\"") + "\""
	for name, table := range map[string]string{
		"plain":                plain,
		"line ends of Windows": every("\n", "\r\n"),
		"semicolons":           every(",", ";"),
		"tabs":                 every(",", "\t"),
		"byte-order mark":      "\ufeff" + plain,
		"mark, quoted cells":   "\ufeff" + all,
		"semicolons, quoted":   strings.ReplaceAll(all, `","`, `";"`),
		"columns of nothing":   every("\n", ",,\n"),
		"blank column within":  "bay,,length,aft\n7,,13 in,93 deg\n8, ,12 in,92 deg\n",
	} {
		assert.Equal(t, []string{"2: 7 13 in 93 deg", "3: 8 12 in 92 deg"}, membersOf(t, strings.NewReader(table)), name)
	}
	// A name on two lines, as spreadsheets wrap it, puts the rows a line lower.
	got := membersOf(t, strings.NewReader(strings.Replace(plain, "length", "\" length\n\"", 1)))
	assert.Equal(t, []string{"3: 7 13 in 93 deg", "4: 8 12 in 92 deg"}, got)
	// What stands within quotation marks parts no cells.
	got = membersOf(t, strings.NewReader("bay;length;aft;\"a,b,c,d\"\n"))
	assert.Equal(t, []string{"bays.csv:1: a,b,c,d: is no word of bay.toml, which has: bay, length, aft"}, got)
	// A tab between two others is a cell of nothing, and not a blank before the next.
	got = membersOf(t, strings.NewReader("bay\tlength\taft\n7\t\t93 deg\n"))
	require.Len(t, got, 1)
	assert.Contains(t, got[0], `edge 1 length: "": `)
}

// Blank rows and remarks are passed over; an error of the spreadsheet is neither.
func TestRowsPassedOver(t *testing.T) {
	table := "\ufeff# bays of 13 1/4\" and less\n,,\n\nbay,length,aft\n,,\n   \n7,13 in,93 deg\n#8,13 in,93 deg\n# 9\n#N/A? not yet\n , , \n#REF!,13 in,93 deg\n#DIV/0!,13 in,93 deg\n10,12 in,92 deg\n,,,,\n"
	got := membersOf(t, strings.NewReader(table))
	require.Len(t, got, 5, "%q", got)
	assert.Equal(t, "7: 7 13 in 93 deg", got[0])
	assert.Contains(t, got[1], "bays.csv:10: 1 cells: ")
	assert.Contains(t, got[2], `bays.csv:12: makes no part:`)
	assert.Contains(t, got[2], `name: "bay-#REF!": `)
	assert.Contains(t, got[3], `name: "bay-#DIV/0!": `)
	assert.Equal(t, "14: 10 12 in 92 deg", got[4])

	tmpl, err := family.ReadTemplate("bay.toml", strings.NewReader(edges))
	require.NoError(t, err)
	n, err := tmpl.CountRows("bays.csv", strings.NewReader(table))
	require.NoError(t, err)
	assert.Equal(t, 5, n)
}

// What is no table of text, or not quite, is told with what to do about it.
func TestTablesRefused(t *testing.T) {
	var wide []byte
	for _, u := range utf16.Encode([]rune("\ufeffbay,length,aft\n")) {
		wide = append(wide, byte(u), byte(u>>8))
	}
	const row = "bay,length,aft\n"
	for name, c := range map[string]struct{ table, want string }{
		"UTF-16":           {string(wide), `bays.csv: is UTF-16 text, not UTF-8: save it as "CSV UTF-8" in the spreadsheet`},
		"workbook":         {"PK\x03\x04\x14\x00", `bays.csv: is a workbook, not a table of text: save it as "CSV UTF-8" in the spreadsheet`},
		"old line ends":    {"bay,length,aft\r7,13 in,93 deg\r", `bays.csv: has lines that end in carriage returns alone: save it as "CSV UTF-8" in the spreadsheet`},
		"degrees of 8 bit": {row + "7,13 in,93\xb0\n", "bays.csv:2: makes no part:\nbay.toml: aft: \"93\\xb0\": is not UTF-8 text: save the table as \"CSV UTF-8\" in the spreadsheet"},
		"inch mark":        {row + "7,\"13\"\"\",93 deg\n", "bays.csv:2: makes no part:\nbay.toml: length: \"13\\\"\": a quotation mark cannot be filled in: write inches as \"13 1/4 in\""},
		"bare inch mark":   {row + "7,13\",93 deg\n", "bays.csv:2: is not a row of the table: a quotation mark stands within a cell; write inches as \"13 1/4 in\":\nparse error on line 2, column 5: bare \" in non-quoted-field"},
		"never closed":     {row + "7,\"13 in,93 deg\n8,12 in,92 deg\n", "bays.csv:2: is not a row of the table: the quotation marks of a cell do not close, or something follows them:\nrecord on line 2; parse error on line 3, column 16: extraneous or missing \" in quoted-field"},
		"no name":          {"bay,,length,aft\n7,left,13 in,93 deg\n", `bays.csv:2: "left": stands in column 2, which has no name in the first row`},
		"nothing":          {"\n,,\n# a\n", "bays.csv: has no first row that names the columns"},
		"line of the head": {"# a\n\nbay,length\n", "bays.csv:3: aft: this word of bay.toml has no column"},
	} {
		got := membersOf(t, strings.NewReader(c.table))
		require.Len(t, got, 1, name)
		assert.Equal(t, c.want, got[0], name)
	}
	got := membersOf(t, io.MultiReader(strings.NewReader(row), failing{}))
	assert.Equal(t, []string{"bays.csv: cannot be read:\nno light"}, got)
	// Behind so much of a table that it was begun already.
	got = membersOf(t, io.MultiReader(strings.NewReader(row+"7,13 in,93 deg\n"+strings.Repeat(",,\n", 1<<16)), failing{}))
	assert.Equal(t, []string{"2: 7 13 in 93 deg", "bays.csv: cannot be read:\nno light"}, got)
}

type failing struct{}

func (failing) Read([]byte) (int, error) { return 0, errors.New("no light") }

// A name of a column and a word of the template are one however their parts stand apart.
func TestWordsOfTwoParts(t *testing.T) {
	tmpl, err := family.ReadTemplate("bay.toml", strings.NewReader(strings.ReplaceAll(edges, "<length>", "< keel  length >")))
	require.NoError(t, err)
	assert.Equal(t, []string{"bay", "keel length", "aft"}, tmpl.Words)
	for m, err := range tmpl.Members("bays.csv", strings.NewReader("bay,keel\u00a0length,aft\n7,13 in,93 deg\n")) {
		require.NoError(t, err)
		assert.InDelta(t, 13*25.4, m.Part.Web.Edges[1].Start.X-m.Part.Web.Edges[0].Start.X, 1e-9)
	}
}
