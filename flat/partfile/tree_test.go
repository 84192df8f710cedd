package partfile

import (
	"reflect"
	"strings"
	"testing"

	toml "github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"
	"github.com/stretchr/testify/assert"
)

// shape is a value without its place: what tables and lists hold, the text of
// strings, and "?" for every other scalar.
func shape(n *node) any {
	switch n.kind {
	case unstable.InlineTable:
		m := map[string]any{}
		for _, e := range n.keys {
			m[e.name] = shape(e.value)
		}
		return m
	case unstable.Array:
		list := []any{}
		for _, item := range n.items {
			list = append(list, shape(item))
		}
		return list
	case unstable.String:
		return n.text
	}
	return "?"
}

func decoded(v any) any {
	switch v := v.(type) {
	case map[string]any:
		m := map[string]any{}
		for k, x := range v {
			m[k] = decoded(x)
		}
		return m
	case []any:
		list := []any{}
		for _, x := range v {
			list = append(list, decoded(x))
		}
		return list
	case string:
		return v
	}
	return "?"
}

// scalars reports whether a tree holds numbers or dates, in which the library's
// decoder finds faults that its parser, and the tree, do not look for.
func scalars(n *node) bool {
	for _, e := range n.keys {
		if scalars(e.value) {
			return true
		}
	}
	for _, item := range n.items {
		if scalars(item) {
			return true
		}
	}
	return n.kind != unstable.InlineTable && n.kind != unstable.Array && n.kind != unstable.String && n.kind != unstable.Bool
}

// compare holds the tree against the library's own decoder: the same files are
// good, and hold the same.
func compare(t *testing.T, text string) (good bool) {
	var f faults
	root, _ := parse([]byte(text), &f)
	var want map[string]any
	err := toml.Unmarshal([]byte(strings.TrimPrefix(text, "\ufeff")), &want)
	switch {
	case err == nil && len(f.list) > 0:
		t.Errorf("%q: %v, but the decoder takes it", text, f.err())
	case err == nil && !reflect.DeepEqual(shape(root), decoded(want)):
		t.Errorf("%q: %v, decoder has %v", text, shape(root), want)
	case err != nil && len(f.list) == 0 && !scalars(root):
		t.Errorf("%q: no fault, decoder: %v", text, err)
	}
	return err == nil
}

// The rules of TOML 1.0 on what may stand twice and what may be reopened, from the
// examples of the specification (toml.io/en/v1.0.0, sections Keys, Table, Inline
// Table and Array of Tables).
func TestTreeAgainstTheDecoder(t *testing.T) {
	good, bad := 0, 0
	for _, text := range []string{
		"name = \"a\"\nname = \"b\"", "a.b = \"\"\na.c = \"\"", "a = \"\"\na.b = \"\"", "a.b = \"\"\na = \"\"",
		"[a]\n[a]", "[a]\nb = \"\"\n[a.b]", "[a.b]\n[a]", "[a.b]\n[a]\n[a]", "[a.b]\n[a]\nb.x = \"\"", "[a.b.c]\n[a]\nb.x = \"\"",
		"[f]\napple.color = \"\"\n[f.apple]", "[f]\napple.taste.x = \"\"\n[f.apple.taste]", "[f]\napple.color = \"\"\n[f.apple.texture]",
		"a = { b = \"\" }\n[a.c]", "a = { b = \"\" }\na.c = \"\"", "a = { b = { c = \"\" } }\na.b.d = \"\"", "a = { b.c = \"\", b.d = \"\" }", "a = { b = \"\", b.d = \"\" }", "a = { b = \"\", b = \"\" }",
		"[[a]]\n[[a]]", "[[a]]\n[a]", "[a]\n[[a]]", "a = []\n[[a]]", "[[a]]\n[a.b]\n[[a]]\n[a.b]", "[[a]]\n[[a.b]]\n[a.b.c]\n[[a.b]]\n[a.b.c]", "[[a]]\n[a.b]\n[[a.b]]", "[a.b]\n[[a]]", "a = [{ x = \"\" }]\n[a.b]",
		"\"a\" = \"\"\na = \"\"", "'a b' = \"\"\n[x.\"a b\"]", "a = [ [\"x\"], [] ]", "a = \"\"\"\nx\n\"\"\"", "a = \"\\u00e9\"", "[a]\n[b]\n[a]", "[]", "[a", "a", "= \"\"", "a = ", "a = \"x\" b = \"y\"", "a = \"\r\"", "\ufeffa = \"\"",
	} {
		if compare(t, text) {
			good++
		} else {
			bad++
		}
	}
	assert.GreaterOrEqual(t, good, 12)
	assert.Greater(t, bad, 20)
}

func FuzzTree(f *testing.F) {
	f.Add("[a]\nb.c = { d = [\"x\"] }\n[[e]]\n[e.f]\n")
	f.Add("a = \"x\nb = ]\n")
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) < 1<<12 && strings.ToValidUTF8(text, "") == text {
			compare(t, text)
		}
	})
}

func TestNearest(t *testing.T) {
	known := []string{"height", "height_end", "turn", "angle", "at"}
	for word, want := range map[string]string{
		"hieght": "height", "Height": "height", "heightend": "height_end", "trun": "turn", "angel": "angle",
		"heigh": "height", "banana": "", "": "", strings.Repeat("height", 99): "height",
	} {
		assert.Equal(t, want, nearest(word, known), word)
	}
	// By hand: a swap is one, as is a letter dropped, added or changed.
	assert.Equal(t, 1, distance("trun", "turn"))
	assert.Equal(t, 2, distance("ab", "ba!"))
	assert.Equal(t, 3, distance("kitten", "sitting"))
}
