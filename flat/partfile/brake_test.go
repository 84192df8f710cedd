package partfile_test

import (
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/flat/partfile"
	"github.com/hangarflat/hangarflat/material/measure"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const brakeSample = "../../examples/intercostal/brakes/hand-brake.toml"

func TestReadBrake(t *testing.T) {
	f, err := os.Open(brakeSample)
	require.NoError(t, err)
	defer f.Close()
	b, err := partfile.ReadBrake("hand-brake.toml", f)
	require.NoError(t, err)
	const inch = measure.Inch
	assert.InEpsilonSlice(t, []float64{
		36 * inch, 1, 1.75 * inch, 2.5 * inch, 1.25 * inch, inch / 2, 8 * inch, 3 * inch, 3 * inch, 2 * inch,
	}, []float64{
		b.Length, b.Clear, b.Nose.Depth, b.Nose.Height, b.Nose.Lift, b.Nose.Finger, b.Bed.Depth, b.Bed.Height, b.Leaf.Depth, b.Leaf.Height,
	}, 1e-12)
	assert.Equal(t, 135*measure.Degree, b.Nose.Most)
}

// Every dimension of the sample in turn is left out, made zero, bare, far too large and
// misspelt: the one fault stands in its line, or in that of its table, and names it.
func TestEveryDimensionOfABrakeSpoilt(t *testing.T) {
	data, err := os.ReadFile(brakeSample)
	require.NoError(t, err)
	lines := strings.Split(string(data), "\n")
	dimension := regexp.MustCompile(`^(\w+)(\s*= )"[^"]*"`)
	mayBeLeftOut := map[string]bool{"clear": true, "finger": true}
	spoilt := 0
	for i, line := range lines {
		m := dimension.FindStringSubmatch(line)
		if m == nil {
			continue
		}
		for how, now := range map[string]string{
			"left out": "", "bare": m[1] + m[2] + "3", "negative": m[1] + m[2] + `"-3 in"`, "huge": m[1] + m[2] + `"3000 in"`,
			"misspelt": m[1] + "x" + m[2] + `"3 in"`,
		} {
			changed := append([]string(nil), lines...)
			changed[i] = now
			_, err := partfile.ReadBrake("b.toml", strings.NewReader(strings.Join(changed, "\n")))
			if how == "left out" && mayBeLeftOut[m[1]] {
				require.NoError(t, err, m[1])
				continue
			}
			faults := partfile.Faults(err)
			require.NotEmpty(t, faults, "%s %s", m[1], how)
			assert.Contains(t, err.Error(), m[1], how)
			if how == "misspelt" {
				assert.Contains(t, err.Error(), "is not known here")
			} else {
				assert.Len(t, faults, 1, "%s %s: %v", m[1], how, err)
			}
			if how == "negative" || how == "bare" || how == "huge" {
				assert.Equal(t, i+1, faults[0].Line, "%s %s: %v", m[1], how, err)
			}
			spoilt++
		}
	}
	assert.Equal(t, 11*5-2, spoilt)

	_, err = partfile.ReadBrake("b.toml", strings.NewReader("length = \"36 in\"\n"))
	for _, table := range []string{"[nose]", "[bed]", "[leaf]"} {
		assert.ErrorContains(t, err, table)
	}
	_, err = partfile.ReadBrake("b.toml", strings.NewReader("\xff"))
	assert.ErrorContains(t, err, "UTF-8")
}
