// Package tutorials holds the tutorials and the test that follows them.
package tutorials

import (
	"bytes"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "rewrite the pictures of the tutorials")

// A step is one fenced block of a tutorial.
type step struct {
	kind string // sh, refused, diff, text, go
	file string // that a diff changes, or that Go code stands in
	text string
	line int
}

var fence = regexp.MustCompile("^```(.*)$")

// steps reads the blocks of a tutorial. The word after the fence says what a block is
// (sh: commands; text: what they print; diff, go: a file); "sh refused" are commands
// that end in an error.
func steps(t *testing.T, text string) []step {
	var all []step
	in := false
	for i, line := range strings.Split(text, "\n") {
		m := fence.FindStringSubmatch(line)
		switch {
		case m != nil && !in:
			kind, file, _ := strings.Cut(m[1], " ")
			all, in = append(all, step{kind: kind, file: file, line: i + 2}), true
		case m != nil:
			in = false
		case in:
			all[len(all)-1].text += line + "\n"
		}
	}
	require.False(t, in, "a block is not closed")
	require.NotEmpty(t, all)
	return all
}

// Every tutorial does what it says: each command is run as it stands in a copy of the
// repository, what is printed under it is what it prints, each change of a file fits
// the file, each piece of code stands in its file, each picture is what the commands
// drew.
func TestTutorials(t *testing.T) {
	if testing.Short() {
		t.Skip("the tutorials build every program they use")
	}
	if _, err := exec.LookPath("bash"); err != nil {
		t.Skip("no shell to follow the tutorials in")
	}
	names, err := filepath.Glob("*.md")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(names), 4)
	for _, name := range append(names, filepath.Join(samples, "README.md")) {
		t.Run(name, func(t *testing.T) { follow(t, name) })
	}
}

func follow(t *testing.T, name string) {
	raw, err := os.ReadFile(name)
	require.NoError(t, err)
	root := copied(t)
	printed := ""
	for _, s := range steps(t, string(raw)) {
		where := fmt.Sprintf("%s:%d", name, s.line)
		switch s.kind {
		case "sh":
			printed = ""
			for command := range strings.Lines(s.text) {
				out, err := inShell(root, command)
				if s.file == "refused" {
					require.Error(t, err, "%s: %s", where, command)
				} else {
					require.NoError(t, err, "%s: %s%s", where, command, out)
				}
				printed += out
			}
		case "text":
			inOrder(t, where, s.text, printed)
		case "diff":
			change(t, where, filepath.Join(root, s.file), s.text)
		case "go":
			code, err := os.ReadFile(filepath.Join(root, s.file))
			require.NoError(t, err, where)
			assert.Contains(t, string(code), s.text, where)
		default:
			t.Errorf("%s: a block of kind %q is checked by nothing", where, s.kind)
		}
	}
	pictures(t, name, string(raw), root)
}

// inShell runs one command as a reader would, at the root of the copy.
func inShell(root, command string) (string, error) {
	c := exec.Command("bash", "-euo", "pipefail", "-c", command)
	c.Dir = root
	c.Env = append(os.Environ(), "GOFLAGS=-trimpath") // one build cache for every copy
	out, err := c.CombinedOutput()
	return string(out), err
}

// inOrder checks that what stands in each line was printed, in that order.
func inOrder(t *testing.T, where, want, got string) {
	for line := range strings.Lines(want) {
		_, rest, ok := strings.Cut(got, strings.TrimSuffix(line, "\n"))
		require.True(t, ok, "%s: not printed: %s\nbut:\n%s", where, line, got)
		got = rest
	}
}

// change puts the lines with + in the place of the lines with - before them.
func change(t *testing.T, where, name, text string) {
	raw, err := os.ReadFile(name)
	require.NoError(t, err, where)
	var from, to string
	for line := range strings.Lines(text) {
		switch line[0] {
		case '-':
			from += line[1:]
		case '+':
			to += line[1:]
		default:
			from, to = from+line[1:], to+line[1:]
		}
	}
	require.Equal(t, 1, strings.Count(string(raw), from), "%s: must stand once in %s:\n%s", where, name, from)
	require.NoError(t, os.WriteFile(name, []byte(strings.Replace(string(raw), from, to, 1)), 0o644))
}

var picture = regexp.MustCompile(`!\[[^]]*\]\(([^)]+)\)`)

// pictures holds the pictures beside a tutorial to those its commands drew.
func pictures(t *testing.T, name, text, root string) {
	for _, m := range picture.FindAllStringSubmatch(text, -1) {
		drawn := filepath.Join(root, "out", filepath.Base(m[1]))
		if strings.Contains(m[1], "/") {
			assert.FileExists(t, filepath.Join(filepath.Dir(name), m[1])) // held by the test beside it, or by that of the samples
			continue
		}
		got, err := os.ReadFile(drawn)
		require.NoError(t, err)
		if *update {
			require.NoError(t, os.WriteFile(m[1], got, 0o644))
		}
		have, err := os.ReadFile(m[1])
		require.NoError(t, err)
		assert.True(t, bytes.Equal(have, got), "%s is stale: run go test ./examples/tutorials -update and look at it", m[1])
	}
}

// copied is a copy of the repository, without what was made in it.
func copied(t *testing.T) string {
	root := t.TempDir()
	const from = "../.."
	require.NoError(t, filepath.WalkDir(from, func(name string, d fs.DirEntry, err error) error {
		require.NoError(t, err)
		rel, err := filepath.Rel(from, name)
		require.NoError(t, err)
		if d.IsDir() {
			if rel != "." && (strings.HasPrefix(d.Name(), ".") || d.Name() == "out" || d.Name() == "fuzz") {
				return filepath.SkipDir
			}
			return os.MkdirAll(filepath.Join(root, rel), 0o755)
		}
		raw, err := os.ReadFile(name)
		require.NoError(t, err)
		return os.WriteFile(filepath.Join(root, rel), raw, 0o644)
	}))
	return root
}

// The follower sees what is wrong: the test above would be worth nothing without.
func TestFollowerBites(t *testing.T) {
	all := steps(t, "a\n```sh\nls\n```\nb\n```diff some/file\n-x\n+y\n```\n")
	require.Len(t, all, 2)
	assert.Equal(t, step{"diff", "some/file", "-x\n+y\n", 7}, all[1])
	name := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(name, []byte("a\nx\nb\n"), 0o644))
	change(t, "here", name, " a\n-x\n+y\n+z\n b\n")
	raw, err := os.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, "a\ny\nz\nb\n", string(raw))
	inOrder(t, "here", "a\nb\n", string(raw))
}
