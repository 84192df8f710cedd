package paper

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/brake"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// channel is the U-channel of FAA-H-8083-31 chapter 4: 0.040 in 2024-T3, inside
// radius 0.16 in, mold lines 1.00, 2.00 and 1.00 in; 6 in long.
func channel() flat.Part {
	const inch = measure.Inch
	leg := []flat.Flange{{Angle: 90 * measure.Degree, Height: 1 * inch}}
	return flat.Part{
		Name: "channel", Title: "Channel of the handbook",
		Sheet:  material.Sheet{Material: material.Material{Alloy: "2024", Temper: "T3"}, Thickness: 0.040 * inch},
		Radius: 0.16 * inch,
		Web: flat.Web{Edges: []flat.Edge{
			{Name: "lower", Flanges: leg}, {Name: "right", Start: r2.Vec{X: 6 * inch}},
			{Name: "upper", Start: r2.Vec{X: 6 * inch, Y: 2 * inch}, Flanges: leg}, {Name: "left", Start: r2.Vec{Y: 2 * inch}},
		}},
	}
}

// outputs are all that a blank is written as.
var outputs = map[string]func(io.Writer, flat.Blank) error{
	"card":     func(w io.Writer, b flat.Blank) error { return Card(w, b, CardOptions{Fractions: true}) },
	"card.pdf": func(w io.Writer, b flat.Blank) error { return CardPDF(w, b, CardOptions{}) },
	"svg":      func(w io.Writer, b flat.Blank) error { return SVG(w, b, PictureOptions{}) },
	"dark.svg": func(w io.Writer, b flat.Blank) error { return SVG(w, b, PictureOptions{Background: Dark}) },
	"pdf":      func(w io.Writer, b flat.Blank) error { return PDF(w, b, PictureOptions{}) },
	"png":      func(w io.Writer, b flat.Blank) error { return PNG(w, b, PictureOptions{}, 600) },
	"pattern":  func(w io.Writer, b flat.Blank) error { return Pattern(w, b, PatternOptions{}) },
}

func written(t testing.TB, name string, b flat.Blank) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, outputs[name](&out, b), name)
	return out.Bytes()
}

func TestSameBytesTwice(t *testing.T) {
	b := develop(t, intercostal())
	for name := range outputs {
		assert.True(t, bytes.Equal(written(t, name, b), written(t, name, b)), name)
	}
}

// The numbers of the handbook's channel as it prints them: setback .20, flats .80,
// and the deduction of the formula, 2·.2 - (.01743·.16 + .0078·.04)·90 = .1209.
func TestCardOfHandbookChannel(t *testing.T) {
	card := string(written(t, "card", develop(t, channel())))
	for _, want := range []string{
		"0.0400 in (1.016 mm)", "0.2000 / 5.080", "0.8000 / 20.320", "0.2791 / 7.088", "0.1209 / 3.072",
		"square bend", "SB = (R + T)·tan(A/2) = (0.16 + 0.04)·tan(90°/2)", "FAA AC 43.13-1B, para 4-56 b",
		"UP, toward the reader", "6.0000 in", "3.7581 in", // 1.6 + 2·.8 + 2·.2791 = 3.7581
		"BRAKE", "INSPECTION", "Inspector", "CAUTIONS", "PROOF",
	} {
		assert.Contains(t, card, want)
	}
	name := filepath.Join("testdata", "channel-card.txt")
	if *update {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(name, []byte(card), 0o644))
	}
	golden, err := os.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, string(golden), card)
}

// Both angles and the word stand for every bend: 84.2° turned leaves 95.8°, open.
func TestCardSaysBothAngles(t *testing.T) {
	card := string(written(t, "card", develop(t, intercostal())))
	for _, row := range [][]string{
		{"keel", "UP", "84.2°", "95.8°", "open bend"}, {"aft", "DOWN", "96.5°", "83.5°", "closed bend"},
		{"skin", "UP", "101.3°", "78.7°", "closed bend"}, {"fwd", "UP", "88.1°", "91.9°", "open bend"},
	} {
		found := false
		for _, line := range strings.Split(card, "\n") {
			all := true
			for _, word := range row {
				all = all && strings.Contains(line, word)
			}
			found = found || all
		}
		assert.True(t, found, "%v", row)
	}
}

// Every step of the working stands on the card with formula, answer and source.
func TestCardHoldsAllWorking(t *testing.T) {
	b := develop(t, intercostal())
	card := strings.Join(strings.Fields(string(written(t, "card", b))), " ")
	steps := b.Working()
	require.NotEmpty(t, steps)
	for _, s := range steps {
		assert.Contains(t, card, strings.Join(strings.Fields(s.Equation(bend.Inches)+" ["+s.Source.String()+"]"), " "))
		assert.Contains(t, card, s.Answer())
	}
}

// The card of a plain part is one page. One that does not fit in the smallest lettering has two, and
// then in the largest that keeps to two.
func TestCardPDFIsAsFewPagesAsCanBeRead(t *testing.T) {
	name := filepath.Join(t.TempDir(), "card.pdf")
	plain := intercostal()
	plain.Web.Edges[0].Flanges, plain.Web.Edges[2].Flanges = nil, nil
	for pages, p := range map[string]flat.Part{"1": plain, "2": intercostal()} {
		require.NoError(t, os.WriteFile(name, written(t, "card.pdf", develop(t, p)), 0o644))
		out, err := outside(t, "pdfinfo", name).Output()
		require.NoError(t, err)
		assert.Regexp(t, `Pages:\s+`+pages+`\b`, string(out))
	}
	require.NoError(t, os.WriteFile(name, written(t, "card.pdf", develop(t, intercostal())), 0o644))
	// A word of 1.75 mm lettering, the smallest, is 5.7 points high by its font; of 2 mm, 6.5.
	bounds, err := outside(t, "pdftotext", "-bbox", name, "-").Output()
	require.NoError(t, err)
	word := regexp.MustCompile(`yMin="([\d.]+)" xMax="[\d.]+" yMax="([\d.]+)">keel<`).FindStringSubmatch(string(bounds))
	require.NotNil(t, word)
	top, err1 := strconv.ParseFloat(word[1], 64)
	foot, err2 := strconv.ParseFloat(word[2], 64)
	require.NoError(t, errors.Join(err1, err2))
	assert.Greater(t, foot-top, 6.5)
	fonts, err := outside(t, "pdffonts", name).Output()
	require.NoError(t, err)
	for _, line := range strings.Split(strings.TrimSpace(string(fonts)), "\n")[2:] {
		assert.Regexp(t, `\byes\b`, line, "embedded")
	}
}

// A finding that stops the part is said on everything that leaves the program.
func TestNotForCuttingOnEveryOutput(t *testing.T) {
	b := develop(t, intercostal())
	for _, stopped := range []bool{false, true} {
		if stopped {
			b.Findings = append(b.Findings, flat.Finding{Severity: flat.Stop, Place: "web", Text: "would crack"})
		}
		for name := range outputs {
			got := written(t, name, b)
			text := string(got)
			switch {
			case name == "png":
				continue // drawn by the same code as the SVG
			case bytes.HasPrefix(got, []byte("%PDF")):
				file := filepath.Join(t.TempDir(), "x.pdf")
				require.NoError(t, os.WriteFile(file, got, 0o644))
				out, err := outside(t, "pdftotext", "-layout", file, "-").Output()
				require.NoError(t, err)
				text = string(out)
			}
			assert.Equal(t, stopped, strings.Contains(text, flat.NotForCutting), name)
		}
	}
}

func TestPictureIsWellFormed(t *testing.T) {
	p := intercostal()
	p.Name, p.Title = `a<b>&"c"`, "x\x00\n]]></svg>\xff é"
	p.Web.Edges[0].Name = "<script>"
	svg := written(t, "svg", develop(t, p))
	groups := map[string]int{}
	d := xml.NewDecoder(bytes.NewReader(svg))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
		if s, ok := token.(xml.StartElement); ok {
			require.NotEqual(t, "script", s.Name.Local)
			for _, a := range s.Attr {
				if a.Name.Local == "id" {
					groups[a.Value]++
				}
			}
		}
	}
	for _, layer := range []string{"CUT_LINES", "HOLE_LINES", "BEND_TANGENT_LINES", "SIGHT_LINES", "FOLDED", "DIMENSIONS"} {
		assert.Equal(t, 1, groups[layer], layer)
	}
	assert.Contains(t, string(svg), `width="297mm" height="210mm" viewBox="0 0 297 210"`)
}

func TestImage(t *testing.T) {
	b := develop(t, intercostal())
	img, err := png.Decode(bytes.NewReader(written(t, "png", b)))
	require.NoError(t, err)
	assert.Equal(t, 600, img.Bounds().Dx())
	assert.Equal(t, 424, img.Bounds().Dy()) // 600·210/297 = 424.2
	for _, n := range []int{-1, 399, 20001} {
		var e *Error
		assert.ErrorAs(t, PNG(io.Discard, b, PictureOptions{}, n), &e)
	}
	for _, draw := range []func() error{
		func() error { return SVG(io.Discard, b, PictureOptions{Background: 7}) },
		func() error { return SVG(io.Discard, flat.Blank{}, PictureOptions{}) },
	} {
		var e *Error
		assert.ErrorAs(t, draw(), &e)
	}
}

// roomyBrake bends the channel.
func roomyBrake() brake.Brake {
	return brake.Brake{
		Length: 1000, Nose: brake.Nose{Depth: 30, Height: 60, Most: 135 * measure.Degree, Lift: 40},
		Bed: brake.Bed{Depth: 200, Height: 80}, Leaf: brake.Leaf{Depth: 80, Height: 50}, Clear: 1,
	}
}

// A plan of another blank is refused with all that tells so, and nothing is written.
func TestCardRefusesAnotherBlanksPlan(t *testing.T) {
	b := develop(t, channel())
	own := roomyBrake()
	good, err := own.Order(b, nil)
	require.NoError(t, err)
	require.Len(t, good.Steps, 2) // bend 0, lower, then bend 1, upper, each on panel 0, up 90°
	unbent := b
	unbent.Bends = nil
	for name, c := range map[string]struct {
		blank  flat.Blank
		change func(s []brake.Step) []brake.Step
		want   []string
	}{
		"itself":      {b, func(s []brake.Step) []brake.Step { return s }, nil},
		"no bends":    {unbent, func(s []brake.Step) []brake.Step { return s }, []string{"plan 2 steps: the blank has 0 bends", "plan step 1 bend 0", "plan step 2 bend 1"}},
		"too far":     {b, func(s []brake.Step) []brake.Step { s[1].Bend = 2; return s }, []string{"plan step 2 bend 2: the blank has 2 bends, the first of them 0: is the plan of another blank?"}},
		"below":       {b, func(s []brake.Step) []brake.Step { s[0].Bend = -1; return s }, []string{"plan step 1 bend -1"}},
		"one left":    {b, func(s []brake.Step) []brake.Step { return s[:1] }, []string{"plan 1 steps: the blank has 2 bends"}},
		"twice":       {b, func(s []brake.Step) []brake.Step { s[1] = s[0]; return s }, []string{"plan step 2 bend 0: an earlier step makes it"}},
		"other name":  {b, func(s []brake.Step) []brake.Step { s[0].Name = "aft"; return s }, []string{`plan step 1 flange "aft" up 90°: bend 0 of the blank is "lower" up 90°`}},
		"other turn":  {b, func(s []brake.Step) []brake.Step { s[1].Turn = flat.Down; return s }, []string{`plan step 2 flange "upper" down 90°`}},
		"other angle": {b, func(s []brake.Step) []brake.Step { s[1].Angle = 80 * measure.Degree; return s }, []string{`plan step 2 flange "upper" up 80°`}},
		"other panel": {b, func(s []brake.Step) []brake.Step { s[0].Hold = 2; return s }, []string{"plan step 1 held panel 2: must be 0 or 1, beside the bend"}},
	} {
		plan := good
		plan.Steps = c.change(slices.Clone(good.Steps))
		for _, write := range []func(io.Writer, flat.Blank, CardOptions) error{Card, CardPDF} {
			var out bytes.Buffer
			err := write(&out, c.blank, CardOptions{Plan: &plan, Brake: own})
			if c.want == nil {
				require.NoError(t, err, name)
				continue
			}
			var e *Error
			require.ErrorAs(t, err, &e, name)
			lines := strings.Split(err.Error(), "\n")
			require.Len(t, lines, len(c.want), "%s: %v", name, err)
			for i, want := range c.want {
				assert.Contains(t, lines[i], want, name)
			}
			assert.Zero(t, out.Len(), name)
		}
	}
}

// A plan that was tried in a brake stands on the card step by step; where the brake
// makes the bends in no order, that stands there with what is in the way, below the
// proposal.
func TestCardTellsTheBrakesOrder(t *testing.T) {
	b := develop(t, channel())
	roomy := roomyBrake()
	card := func(own brake.Brake) string {
		plan, err := own.Order(b, nil)
		require.NoError(t, err)
		var text bytes.Buffer
		require.NoError(t, Card(&text, b, CardOptions{Plan: &plan, Brake: own}))
		return strings.Join(strings.Fields(text.String()), " ")
	}
	good := card(roomy)
	for i, s := range []string{"1. 1 lower up", "2. 2 upper up"} {
		assert.Contains(t, good, s, "step %d", i+1)
	}
	assert.Contains(t, good, "tried in the brake given")
	// 1000 mm is 39.37 in; what the plan hangs on stands beside it.
	dimensions := "bends 39.3701 in (1000.000 mm) long; nose bar 1.1811 in (30.000 mm) deep"
	assert.Contains(t, good, dimensions)
	assert.NotContains(t, good, "proposal")
	// The near flange is held by the web: its line lies 1.0791 in up, as by hand above.
	assert.Contains(t, good, "1 lower 0.000, 1.079 - 6.000, 1.079")
	assert.Contains(t, good, "whole 90° nothing near")
	// Of fingers of 1 in five go where a sixth would leave nothing clear of 6 in.
	fingers := roomy
	fingers.Nose.Finger, fingers.Clear = measure.Inch, 1
	assert.Contains(t, card(fingers), "5.0000 / 127.000 90° nothing near")

	// A bar whose front leans back so little that no flange turns square.
	roomy.Nose.Most = 60 * measure.Degree
	bad := card(roomy)
	assert.Contains(t, bad, "The brake given makes these bends in no order")
	assert.Contains(t, bad, dimensions)
	assert.Contains(t, bad, "turns to 60°")
	assert.Contains(t, bad, "STOP")
	assert.Contains(t, bad, "proposal")
	assert.NotContains(t, bad, "tried in the brake given")
}

// The flange of the handbook's channel, held by the web, in inches: one standard
// deviation each of .001 in T, .004 in R, half a degree and .05 in K move it by
//
//	T  .001·|1 - .4416·π/2|           = .00031     (K of the handbook law .4416)
//	R  .004·|1 - π/2|                 = .00228
//	A  (π/360)·|.2 - (.16 + .4416·.04)| = .00019
//	K  .05·.04·π/2                    = .00314
//
// together .0039, twice that .0078; with K known to .01 mm/√3 = .00023 in, .0046.
func TestScatterOfHandbookChannel(t *testing.T) {
	card := strings.Join(strings.Fields(string(written(t, "card", develop(t, channel())))), " ")
	assert.Contains(t, card, "1 lower 0.0078 / 0.198 0.0046 / 0.118 K")
}

// words are the lines of a card, each with its runs of space made one.
func words(card []byte) []string {
	lines := strings.Split(string(card), "\n")
	for i, l := range lines {
		lines[i] = strings.Join(strings.Fields(l), " ")
	}
	return lines
}

// A flange that only tapers has one angle and one radius, which stand once in each
// table; a bevel that changes has two of each. By hand, in the channel: heights 1 in
// and 1.25 in less the setback .2 in leave flats of .8 and 1.05 in.
func TestCardSaysOnceWhatIsOnce(t *testing.T) {
	p := channel()
	p.Web.Edges[0].Flanges = []flat.Flange{{Angle: 90 * measure.Degree, Height: 1 * measure.Inch, HeightEnd: 1.25 * measure.Inch}}
	lines := words(written(t, "card", develop(t, p)))
	for line, times := range map[string]int{
		"1 lower UP, toward the reader 90° 90° square bend":                                                          1,
		"1 lower, start 0.1600 / 4.064 0.2000 / 5.080 0.2791 / 7.088 0.1209 / 3.072 1.0000 / 25.400 0.8000 / 20.320": 1,
		"1 lower, end 1.2500 / 31.750 1.0500 / 26.670":                                                               1,
		"1 lower, start 90° _____ ________ 0.1600 / 4.064 _____ ________ 1.0000 / 25.400 _____ ________":             1,
		"1 lower, end 1.2500 / 31.750 _____ ________":                                                                1,
		"1 lower, start UP, toward the reader 90° 90° square bend":                                                   0,
		"2 upper 0.1600 / 4.064 0.2000 / 5.080 0.2791 / 7.088 0.1209 / 3.072 1.0000 / 25.400 0.8000 / 20.320":        1,
	} {
		n := 0
		for _, l := range lines {
			if l == line {
				n++
			}
		}
		assert.Equal(t, times, n, line)
	}

	p.Web.Edges[0].Flanges[0].AngleEnd = 80 * measure.Degree
	lines = words(written(t, "card", develop(t, p)))
	assert.Contains(t, lines, "1 lower, start UP, toward the reader 90° 90° square bend")
	assert.Contains(t, lines, "1 lower, end UP, toward the reader 80° 100° open bend")
	assert.Contains(t, lines, "1 lower, end 100° _____ ________ 0.1600 / 4.064 _____ ________ 1.2500 / 31.750 _____ ________")
}

// To 1/64 in, by hand: .8 in is 51.2/64, 1 in is 1; .16 in is 10.24/64 = 5/32.
// Without the wish there are no fractions.
func TestCardFractions(t *testing.T) {
	b := develop(t, channel())
	assert.Contains(t, words(written(t, "card", b)), "1 lower 1 in 51/64 in 5/32 in")
	var plain bytes.Buffer
	require.NoError(t, Card(&plain, b, CardOptions{}))
	assert.NotRegexp(t, `\d/\d+ in`, plain.String())
}

// What is found of two flanges alike stands once, with both their names; another
// figure, limit or gravity keeps it apart.
func TestFindingsSaidOnce(t *testing.T) {
	one := flat.Finding{Severity: flat.Warn, Place: "A", Text: "too sharp", Figure: 1, Limit: 2}
	two, three, four := one, one, one
	two.Place, three.Place, four.Place = "B", "C", "D"
	three.Figure, four.Severity = 1.5, flat.Note
	b := develop(t, channel())
	b.Findings = []flat.Finding{one, two, three, four}
	got := findingsBlock(b).lines
	require.Len(t, got, 3)
	assert.Contains(t, got[0], "A; B: too sharp")
	assert.Contains(t, got[1], "C: too sharp")
	assert.Contains(t, got[2], "D: too sharp")
}

// A box of four sides: opposite sides first; a lip before the flange it hangs from.
func TestBendOrder(t *testing.T) {
	p := intercostal()
	p.Web.Edges[1].Flanges[0].Flanges = []flat.Flange{{Name: "lip", Angle: 90 * measure.Degree, Height: 12}}
	b := develop(t, p)
	var names []string
	for _, i := range BendOrder(b) {
		names = append(names, b.Bends[i].Name)
	}
	assert.Equal(t, []string{"lip", "keel", "skin", "aft", "fwd"}, names)
}

func TestSave(t *testing.T) {
	folder := t.TempDir()
	name := filepath.Join(folder, "part.svg")
	write := func(text string, err error) func(io.Writer) error {
		return func(w io.Writer) error { io.WriteString(w, text); return err }
	}
	require.NoError(t, Save(name, write("first", nil)))
	broken := errors.New("broken")
	require.ErrorIs(t, Save(name, write("second, half of it", broken)), broken)
	got, err := os.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, "first", string(got), "the old file stays as it was")
	all, err := os.ReadDir(folder)
	require.NoError(t, err)
	assert.Len(t, all, 1, "nothing half-written is left")
	require.Error(t, Save(filepath.Join(folder, "nowhere", "x"), write("", nil)))
	require.NoError(t, Save(name, write("third", nil)))
	info, err := os.Stat(name)
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o644), info.Mode().Perm())
}

func TestSaveAllOrNothing(t *testing.T) {
	good := File{"a.txt", func(w io.Writer) error { _, err := io.WriteString(w, "a"); return err }}
	fault := errors.New("no ink")
	bad := File{"b.txt", func(io.Writer) error { return fault }}
	folder := filepath.Join(t.TempDir(), "out")
	err := SaveAll(folder, []File{good, bad})
	require.ErrorIs(t, err, fault)
	assert.ErrorContains(t, err, "b.txt")
	require.NoDirExists(t, folder)
	require.NoError(t, SaveAll(folder, []File{good}))
	text, err := os.ReadFile(filepath.Join(folder, "a.txt"))
	require.NoError(t, err)
	assert.Equal(t, "a", string(text))
}

// All names of a set that cannot be are told at once, and nothing is saved.
func TestSaveAllRefusesNames(t *testing.T) {
	write := func(io.Writer) error { return nil }
	folder := filepath.Join(t.TempDir(), "out")
	err := SaveAll(folder, []File{{"a", write}, {"../b", write}, {"c/d", write}, {"", write}, {".", write}, {"..", write}, {"a", write}})
	var fault *Error
	require.ErrorAs(t, err, &fault)
	assert.Equal(t, []string{
		`paper: file "../b": must be the name of a file in the folder`,
		`paper: file "c/d": must be the name of a file in the folder`,
		`paper: file "": must be the name of a file in the folder`,
		`paper: file ".": must be the name of a file in the folder`,
		`paper: file "..": must be the name of a file in the folder`,
		`paper: file "a": must be the only file of that name`,
	}, strings.Split(err.Error(), "\n"))
	assert.NoDirExists(t, folder)
}

// Whatever a part is called, its papers are written and stay well formed.
func FuzzNames(f *testing.F) {
	for _, s := range []string{"", "keel-bay-7", "<&>", "\x00\n\r\t", "\xff\xfe", strings.Repeat("x", 500), "Ω \U0001F6E9"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		p := channel()
		p.Name, p.Title, p.Web.Edges[0].Flanges[0].Name = s, s, s
		b, err := flat.Develop(p)
		if err != nil {
			return
		}
		for _, name := range []string{"card", "svg", "card.pdf"} {
			written(t, name, b)
		}
		require.NoError(t, xml.Unmarshal(written(t, "svg", b), new(struct {
			XMLName xml.Name
		})))
		for _, line := range strings.Split(string(written(t, "card", b)), "\n") {
			require.NotContains(t, line, "\r")
		}
	})
}

func BenchmarkOutputs(b *testing.B) {
	blank := develop(b, intercostal())
	for _, name := range []string{"card", "svg", "card.pdf", "pattern"} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := outputs[name](io.Discard, blank); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
