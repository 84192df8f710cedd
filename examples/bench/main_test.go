package main

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/hangarflat/hangarflat/examples/internal/command"
)

func ask(t *testing.T, question string) string {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, run(strings.Fields(question), &out), question)
	assert.Contains(t, out.String(), "APPROVES NOTHING")
	return out.String()
}

// Answers against published and hand-worked ones.
func TestAnswers(t *testing.T) {
	for question, want := range map[string][]string{
		// A trade workbook: T .050, R .032, 90°: allowance .085, deduction .079; to four places by hand
		// (0.00055776 + 0.00039)·90 = 0.0853, 0.164 - 0.0853 = 0.0787.
		"bend 90 deg radius 0.032 in sheet 0.050 in": {"square bend", "= 0.0853 in", "= 0.0787 in", "Name the material"},
		// FAA AC 43.13-1B para 4-56: closed bend, 135° turned, R .25, T .064: setback .758.
		"bend 135 deg radius 0.25 in sheet 0.064 in of alclad 2024-T3 by K 0.45": {"closed bend, 135° turned, 45° between the legs", "= 0.7581 in", "Springback (Fty 310 MPa", "FAA AC 43.13-1B, Table 4-6"},
		// The U-channel of FAA-H-8083-31, R .16, T .040: flats .80, 1.60, .80, and BA .2791 by the
		// formula, so 3.20 + .55814 = 3.7581. Sight lines one R past
		// the tangents: .80 + .16, and .80 + .2791 + 1.60 + .16.
		"section 1 in turn 90 deg leg 2 in turn 90 deg leg 1 in radius 0.16 in sheet 0.040 in of 2024-T3": {"Developed width 3.7581 in", "the legs sum to 4.0000 in", "flat 1 0.8000 in", "flat 2 1.6000 in", "sight line, left leg held          0.9600 in", "sight line, left leg held          2.8391 in"},
		// A hem by hand: R 0, T 1, K .35: 9 + 1.0996 + 49.
		"section 10 mm turn 180 deg leg 50 mm radius 0 mm sheet 1 mm by K 0.35": {"(59.100 mm)", "FD = R + T"},
		// The rule's name ends in a word that asks something too: .71·.040 + 1.57·.125 = .22465.
		"bend 90 deg radius 1/8 in sheet 0.040 in of 2024-T3 by length hard sheet": {"= 0.2247 in"},
		"bend 90 deg by length hard sheet radius 1/8 in sheet 0.040 in":            {"= 0.2247 in"},
		// 20 SWG is .036; .040/.036 = 1.111, cubed 1.372.
		"stock 20 SWG of 2017-T4 instead 2024-T3 turn 90 deg radius 0.05 in": {"x 1.372", "radius must grow by", "mold line out +0.0040 in", "no table says"},
		// Steel's 20 is .0359, aluminium's .0320, stainless steel's .0375 (Machinery's Handbook 31, Table 20).
		"bend 90 deg radius 1/8 in sheet 20 MSG of 2024-T3":                            {"WARN  sheet: ", "(0.0359 in (0.912 mm) against 0.0320 in (0.813 mm))"},
		"section 1 in turn 90 deg leg 2 in radius 1/8 in sheet 20 B&S of 302 1/4 hard": {"(0.0320 in (0.813 mm) against 0.0375 in (0.953 mm))"},
		"stock 20 USG of 2017-T4 instead 2024-T3":                                      {"(0.0375 in (0.953 mm) against 0.0320 in (0.813 mm))"},
	} {
		got := ask(t, question)
		for _, w := range want {
			assert.Contains(t, got, w, question)
		}
	}
}

// The card of a part and the bench say the same of a radius: 3/32 in is what a table prints as .094.
func TestRadiusThatATableRounds(t *testing.T) {
	assert.NotContains(t, ask(t, "bend 90 deg radius 3/32 in sheet 0.040 in of 304 annealed"), "SHARPER")
	assert.Contains(t, ask(t, "bend 90 deg radius 0.092 in sheet 0.040 in of 304 annealed"), "SHARPER")
}

// The bench says what the card of a part does of the same bend: 94.80° by hand in package bend. A sheet without
// strengths has none, and a fold flat on itself has no overbend.
func TestOverbendAsOnTheCard(t *testing.T) {
	assert.Contains(t, ask(t, "bend 90 deg radius 0.16 in sheet 0.040 in of 2024-T3"), "round a nose of R 0.1600 in (4.064 mm) itself through 94.8°, overbend 4.8°")
	assert.Contains(t, ask(t, "bend 90 deg radius 0.16 in sheet 0.040 in of alclad 7075-T6"), "No springback: material alclad 7075-T6: no table at hand gives typical strengths")
	assert.Contains(t, ask(t, "bend 90 deg radius 0 in sheet 0.040 in of 2024-T3 by K 0.4"), "nose of R itself: radius 0")
}

// Every fault of a question is named at once.
func TestFaults(t *testing.T) {
	for question, want := range map[string]string{
		"":                                    "what is asked",
		"fold 90":                             "is not asked here",
		"bend 90":                             `bare number|"radius" is missing|"sheet" is missing`,
		"bend":                                `bend: ""|"radius" is missing`,
		"bend 190 deg radius 1 mm sheet 1 mm": "at most 180°",
		"bend 90 deg radius 1 mm radius 2 mm sheet 1 mm":              `"radius" stands there 2 times`,
		"bend 90 deg radius x sheet 20 of 2024 by guess":              `radius: "x"|sheet: "20"|the temper is missing|is no rule`,
		"section 1 in leg 1 in radius 1 mm sheet 1 mm":                "a turn must stand between",
		"section 1 in turn 90 deg turn 90 deg radius 1 mm sheet 1 mm": "a leg must stand before",
		"section 1 in turn 90 deg radius 1 mm sheet 1 mm":             "must end with a leg",
		"section 1 mm turn 90 deg leg 1 x radius 1 mm sheet 1 mm":     "leg 2",
		"section 1 mm turn 90 deg leg 1 mm radius 1 mm sheet 1 mm":    "shorter than the bends beside it take",
		"chart of 2024-T3 by K":                                       "is no rule",
		"chart sideways":                                              `"of" is missing|"sideways"`,
		"chart of 2024-T3 by K 2":                                     "inside the sheet",
		"stock 20 SWG":                                                `"of" is missing`,
		"stock 20 SWG of 2017-T4 turn 90 deg":                         `"radius" is missing`,
		"stock 20 SWG of 2017-T4 instead 2025-T3":                     "did you mean",
		"stock 1/2 in of 2024-T3":                                     "outside the standard",
	} {
		dir := t.TempDir()
		t.Chdir(dir)
		err := run(strings.Fields(question), io.Discard)
		if !assert.Error(t, err, question) {
			continue
		}
		for _, w := range strings.Split(want, "|") {
			assert.Contains(t, err.Error(), w, question)
		}
		entries, err := os.ReadDir(dir)
		require.NoError(t, err)
		assert.Empty(t, entries, "nothing is written: %s", question)
	}
}

// The chart gives the handbook's figures. Against the chart of FAA-H-8083-31 from memory: .040,
// R 1/8: .224 and .002493; ours comes from the rounded 0.01743 and is .2242, .002491. Shaded by
// AC 43.13-1B: .040 2024-T3 5t = .200, so 3/16 is sharp and 7/32 is not.
func TestChart(t *testing.T) {
	dir := t.TempDir()
	text := ask(t, "chart of 2024-T3 into "+dir)
	row := ""
	for _, line := range strings.Split(text, "\n") {
		if strings.HasPrefix(line, "0.040") {
			row = line
		}
	}
	cells := strings.Fields(row)
	require.Len(t, cells, 17)
	assert.Equal(t, "0.224*", cells[4])
	assert.True(t, strings.HasSuffix(cells[6], "*"), "3/16")
	assert.False(t, strings.HasSuffix(cells[7], "*"), "7/32")
	assert.Contains(t, text, "0.002491")

	svg, err := os.ReadFile(filepath.Join(dir, "bend-chart.svg"))
	require.NoError(t, err)
	words := 0
	d := xml.NewDecoder(bytes.NewReader(svg))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
		if e, ok := token.(xml.StartElement); ok && e.Name.Local == "text" {
			words++
		}
	}
	// Title, six lines below, and two words a cell of 14 rows (head, 13 sheets) by 17.
	assert.Equal(t, 1+6+2*14*17, words)
	again := t.TempDir()
	ask(t, "chart of 2024-T3 into "+again)
	for _, name := range []string{"bend-chart.svg", "bend-chart.pdf"} {
		one, err := os.ReadFile(filepath.Join(dir, name))
		require.NoError(t, err)
		two, err := os.ReadFile(filepath.Join(again, name))
		require.NoError(t, err)
		assert.True(t, bytes.Equal(one, two), "%s differs from run to run", name)
	}
	readPDF(t, filepath.Join(dir, "bend-chart.pdf"))
}

// readPDF has poppler read the chart back.
func readPDF(t *testing.T, name string) {
	reader, err := exec.LookPath("pdftotext")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("pdftotext (poppler) is missing")
		}
		t.Skip("pdftotext (poppler) is not installed")
	}
	out, err := exec.Command(reader, "-layout", name, "-").Output()
	require.NoError(t, err)
	for _, want := range []string{"Bend allowance, 2024-T3, 90° turned", "0.224*", "0.002491", "3/16", "APPROVES NOTHING", "handbook: BA"} {
		assert.Contains(t, string(out), want)
	}
}

// A material without a table of radii has every cell marked, and where a rule has no
// answer the chart shows a dash, not a zero.
func TestChartWithoutTables(t *testing.T) {
	text := ask(t, "chart of 321 by DIN angle 45 deg into "+t.TempDir())
	for _, line := range strings.Split(text, "\n") {
		if strings.HasPrefix(line, "0.0") {
			assert.Equal(t, 16, strings.Count(line, "*"), "no table of radii: every cell is marked")
		}
	}
	upper, lower := chartCell{none: "no answer"}.figures()
	assert.Equal(t, []string{"-", "-"}, []string{upper, lower})
}

// Every question that the help shows can be asked.
func TestHelpCanBeAsked(t *testing.T) {
	var shown command.Help
	require.ErrorAs(t, run([]string{"-h"}, io.Discard), &shown)
	asked := 0
	for _, line := range strings.Split(string(shown), "\n") {
		if words, ok := strings.CutPrefix(line, "go run ./examples/bench "); ok {
			words = strings.ReplaceAll(words, `\'`, "'")
			require.NoError(t, run(strings.Fields(words+intoTemp(t, words)), io.Discard), words)
			asked++
		}
	}
	assert.Equal(t, len(questions()), asked, "one of each kind")
}

// intoTemp sends the files of a chart away.
func intoTemp(t *testing.T, words string) string {
	if strings.HasPrefix(words, "chart") {
		return " into " + t.TempDir()
	}
	return ""
}
