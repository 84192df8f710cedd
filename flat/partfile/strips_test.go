package partfile_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/bend"
	"github.com/hangarflat/hangarflat/bend/striplog"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/partfile"
	"github.com/hangarflat/hangarflat/material"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// stripped is the channel worked out by a log of test strips.
func stripped(t *testing.T, strips string) string {
	channel := sampleText(t, "u-channel")
	const old = `rule   = "handbook"`
	require.Contains(t, channel, old)
	return strings.Replace(channel, old, "rule = \"test strips\"\n"+strips, 1)
}

// three strips of a sheet round a bar, R and T mm, each of which takes up what K 0.4 says at 90°, R + 0.4·T
// times π/2, of a blank of 100 whose legs, to the mold line, add up to 100 - BA + 2·(R + T).
func three(material string, r, t float64) string {
	legs := 100 - (r+0.4*t)*1.5707963267948966 + 2*(r+t)
	log := "strip,material,thickness,radius,angle,blank,leg a,leg b\n"
	for n := range 3 {
		log += fmt.Sprintf("S%d,%s,%v mm,%v mm,90 deg,100 mm,50 mm,%.6f mm\n", n+1, material, t, r, legs-50)
	}
	return log
}

// The bends are allowed for by the K of the log, whose hash and standard error are the source of each; a part
// that is written again names the log as before, and before the log is read nothing is laid out.
func TestPartOfTestStrips(t *testing.T) {
	text := stripped(t, `strips = "../shop/strips.csv"`)
	doc, err := partfile.Read("channel.toml", strings.NewReader(text))
	require.NoError(t, err)
	file, asked := doc.Strips()
	assert.True(t, asked)
	assert.Equal(t, "../shop/strips.csv", file)
	_, err = flat.Develop(doc.Part)
	assert.ErrorContains(t, doc.Locate(err), "strips ../shop/strips.csv: the log has not been read")

	sheet := doc.Part.Sheet
	log, err := striplog.Read("strips.csv", []byte(three(sheet.Material.String(), doc.Part.Radius, sheet.Thickness)))
	require.NoError(t, err)
	doc.Calibrate(log)
	b, err := flat.Develop(doc.Part)
	require.NoError(t, err)
	require.Len(t, b.Bends, 2)
	for _, line := range b.Bends {
		// The channel's bends are square.
		assert.InDelta(t, (doc.Part.Radius+0.4*sheet.Thickness)*1.5707963267948966, line.Allowance.Length, 1e-5)
		assert.InDelta(t, 0.4, line.Allowance.K, 1e-5)
		assert.Regexp(t, `^measured: strips.csv, sha256 `+log.SHA256[:12]+`: K 0.4000 ± 0\.\d+ of 3 strips, 0 left out$`, line.Allowance.Law.Source.String())
	}

	var out strings.Builder
	require.NoError(t, partfile.Write(&out, doc.Part))
	assert.Contains(t, out.String(), "rule = \"test strips\"\nstrips = \"../shop/strips.csv\"\n")
	doc.Part.Rule = partfile.TestStrips{File: "strips.csv", Material: material.Material{Alloy: "6061", Temper: "T6"}}
	assert.ErrorContains(t, partfile.Write(&out, doc.Part), "the strips of a file are of the sheet of its part")

	// What was not tried is told at the flange, with what is nearest.
	for _, c := range []struct {
		log, want string
	}{
		{three(sheet.Material.String(), 2*doc.Part.Radius, sheet.Thickness), "the nearest tried is " + measure.Both(2*doc.Part.Radius)},
		{three(sheet.Material.String(), doc.Part.Radius, 3), "in it, only of"},
		{three("6061-T6", doc.Part.Radius, sheet.Thickness), "strips.csv has no test strips of it"},
	} {
		doc, err := partfile.Read("channel.toml", strings.NewReader(text))
		require.NoError(t, err)
		log, err := striplog.Read("strips.csv", []byte(c.log))
		require.NoError(t, err)
		doc.Calibrate(log)
		_, err = flat.Develop(doc.Part)
		faults := partfile.Faults(doc.Locate(err))
		require.Len(t, faults, 2, "of each bend")
		assert.Contains(t, faults[0].Rule, c.want)
		assert.Positive(t, faults[0].Line)
	}

	// A part of another rule is left as it is.
	plain := sample(t, "u-channel")
	plain.Calibrate(log)
	_, asked = plain.Strips()
	assert.False(t, asked)
	assert.Equal(t, bend.Handbook{}, plain.Part.Rule)
}

func TestFaultsOfTestStrips(t *testing.T) {
	for strips, want := range map[string]string{
		``:                                       "bends strips: is missing",
		`strips = ""`:                            `such as "strips.csv"`,
		`strips = "/home/strips.csv"`:            "so that it is found on every computer",
		`strips = "..\\shop.csv"`:                "so that it is found on every computer",
		`strips = "C:strips.csv"`:                "so that it is found on every computer",
		`strips = 5`:                             "must be a file in quotation marks",
		"strips = \"strips.csv\"\nneutral = 0.4": `belongs to rule = "neutral axis"`,
	} {
		_, err := partfile.Read("channel.toml", strings.NewReader(stripped(t, strips)))
		require.Len(t, partfile.Faults(err), 1, "%s: %v", strips, err)
		assert.ErrorContains(t, err, want)
	}
	text := strings.Replace(stripped(t, `strips = "strips.csv"`), `"test strips"`, `"handbook"`, 1)
	_, err := partfile.Read("channel.toml", strings.NewReader(text))
	assert.ErrorContains(t, err, `belongs to rule = "test strips"`)
	_, err = partfile.TestStrips{}.Allowance(bend.Bend{})
	assert.Error(t, err)
}

// A part file names the shop's log; who opens files reads it.
func ExampleDocument_Calibrate() {
	const file = `
kind = "section"
name = "angle"
[sheet]
material  = "2024-T3"
thickness = "1 mm"
[bends]
radius = "3 mm"
rule   = "test strips"
strips = "strips.csv"
[section]
length = "200 mm"
[[section.leg]]
width = "30 mm"
bend  = "90 deg"
turn  = "up"
[[section.leg]]
width = "50 mm"
`
	doc, err := partfile.Read("angle.toml", strings.NewReader(file))
	if err != nil {
		fmt.Println(err)
		return
	}
	name, _ := doc.Strips()
	strips := `strip,material,thickness,radius,angle,blank,leg a,leg b
A,2024-T3,1.00 mm,3 mm,90 deg,100 mm,51.33 mm,51.34 mm
B,2024-T3,1.01 mm,3 mm,90 deg,100 mm,51.35 mm,51.33 mm
C,2024-T3,1.00 mm,3 mm,90 deg,100 mm,51.30 mm,51.36 mm
`
	log, err := striplog.Read(name, []byte(strips))
	if err != nil {
		fmt.Println(err)
		return
	}
	doc.Calibrate(log)
	blank, err := flat.Develop(doc.Part)
	if err != nil {
		fmt.Println(doc.Locate(err))
		return
	}
	allowance := blank.Bends[0].Allowance
	fmt.Printf("%.3f mm by K %.3f\n", allowance.Length, allowance.K)
	// Output:
	// 5.335 mm by K 0.396
}
