package partfile

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A table longer than its index's threshold answers as a short one does: every key
// once, the second of the same name refused with both lines told.
func TestLongTable(t *testing.T) {
	for _, n := range []int{long - 1, long, long + 1, 4 * long} {
		var text strings.Builder
		for i := range n {
			fmt.Fprintf(&text, "key%d = \"%d\"\n", i, i)
		}
		var f faults
		root, _ := parse([]byte(text.String()), &f)
		require.Empty(t, f.list, "%d keys", n)
		for i := range n {
			e := root.get(fmt.Sprintf("key%d", i))
			require.NotNil(t, e)
			assert.Equal(t, fmt.Sprint(i), e.value.text)
		}
		assert.Nil(t, root.get("key"))

		for _, again := range []int{0, n - 1} {
			f = faults{}
			parse([]byte(text.String()+fmt.Sprintf("key%d = \"x\"\n", again)), &f)
			require.Len(t, f.list, 1, "%d keys, key%d twice", n, again)
			assert.Equal(t, n+1, f.list[0].Line)
		}
	}
}

// A section of a hundred legs is read; one of a hundred and one is refused once,
// by the line of its legs, and nothing else is said of what it would have held.
func TestLegsHaveALimit(t *testing.T) {
	section := func(n int) string {
		var text strings.Builder
		text.WriteString(`kind = "section"
name = "ladder"
[sheet]
material = "2024-T3"
thickness = ".040 in"
[bends]
radius = "5/32 in"
[section]
length = "6 in"
`)
		for i := range n {
			text.WriteString("[[section.leg]]\nwidth = \"1 in\"\n")
			if i < n-1 {
				fmt.Fprintf(&text, "bend = \"90 deg\"\nturn = %q\n", []string{"up", "down"}[i/2%2])
			}
		}
		return text.String()
	}
	about := func(n int) (refused int, others []string) {
		_, err := Read("ladder.toml", strings.NewReader(section(n)))
		for _, fault := range Faults(err) {
			if strings.Contains(fault.Rule, "more than 100 legs") {
				refused++
			} else {
				others = append(others, fault.Error())
			}
		}
		return refused, others
	}
	refused, _ := about(mostLegs)
	assert.Zero(t, refused)
	refused, others := about(mostLegs + 1)
	assert.Equal(t, 1, refused)
	assert.Empty(t, others)
}
