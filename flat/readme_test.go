package flat_test

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The README's code is the body of ExampleDevelop, and what it prints is what the
// example prints.
func TestReadmeIsTheExample(t *testing.T) {
	readme, err := os.ReadFile("../README.md")
	require.NoError(t, err)
	source, err := os.ReadFile("channel_test.go")
	require.NoError(t, err)

	_, after, ok := strings.Cut(string(readme), "<!-- ExampleDevelop -->\n```go\n")
	require.True(t, ok)
	code, after, ok := strings.Cut(after, "```")
	require.True(t, ok)
	_, after, ok = strings.Cut(after, "```\n")
	require.True(t, ok)
	printed, _, ok := strings.Cut(after, "```")
	require.True(t, ok)

	_, example, ok := strings.Cut(string(source), "func ExampleDevelop() {\n")
	require.True(t, ok)
	body, output, ok := strings.Cut(example, "\t// Output:\n")
	require.True(t, ok)
	output, _, ok = strings.Cut(output, "}\n")
	require.True(t, ok)

	assert.Equal(t, unindent(body), code)
	assert.Equal(t, strings.ReplaceAll(unindent(output), "// ", ""), printed)
}

// unindent takes one tab off every line.
func unindent(s string) string {
	return strings.ReplaceAll(strings.TrimPrefix(s, "\t"), "\n\t", "\n")
}
