package partfile

import (
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// A decoder turns the tree of one file into a part.
type decoder struct {
	faults
	atlas
	headless bool // some table of the file could not be read
	// noRadius is set if the file gives no radius for the whole part: it records,
	// once, that some flange would have needed it.
	noRadius func()
}

// A table reads one table of the file. Its node is nil where the file has no
// such table: then every field is lost, without a word.
type table struct {
	d     *decoder
	n     *node
	field string // how the maker finds it: "edge 2 flange 1"; empty for the file
	path  string // the same in the part: "web.edges[1].flanges[0]"
	asked []string
}

func joined(a, sep, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + sep + b
}

func (t *table) name(key string) string { return joined(t.field, " ", key) }
func (t *table) pathOf(key string) string {
	return joined(t.path, ".", key)
}

// find returns the entry of a key, or nil. An entry whose line could not be read
// counts as lost.
func (t *table) find(key string) *entry {
	t.asked = append(t.asked, key)
	if t.n == nil {
		t.d.lose(t.pathOf(key))
		return nil
	}
	e := t.n.get(key)
	if e == nil {
		return nil
	}
	path := t.pathOf(key)
	t.d.mark(path, spot{e.value.at, t.name(key), e.value.shown()})
	if e.value.kind == unstable.Invalid {
		t.d.lose(path)
		return nil
	}
	return e
}

// refuse records a fault of a value that is there.
func (t *table) refuse(key string, v *node, rule string, from error) {
	t.d.lose(t.pathOf(key))
	t.d.add(v.at, t.name(key), v.shown(), rule, from)
}

// miss records that a key is wanting, unless the file has it in a line that
// could not be read.
func (t *table) miss(key, rule string) {
	if t.d.lost[t.pathOf(key)] || t.n == nil {
		return
	}
	t.d.lose(t.pathOf(key))
	t.d.add(t.n.at, t.name(key), "", "is missing: "+rule, nil)
}

// maybe reads a value that may be left out.
func maybe[T any](t *table, key string, q quantity[T]) (v T, given bool) {
	e := t.find(key)
	if e == nil {
		return v, false
	}
	v, rule, err := q.read(e.value)
	if rule != "" {
		t.refuse(key, e.value, rule, err)
		var none T
		return none, false
	}
	return v, true
}

// need reads a value that must be there.
func need[T any](t *table, key string, q quantity[T]) T {
	v, given := maybe(t, key, q)
	if !given {
		t.miss(key, "write "+key+" = "+q.example)
	}
	return v
}

// coordinates reads a point: as many lengths as there are axes ("xy", "xyz"), each
// by the same rule; nil after a fault.
func (t *table) coordinates(key string, n *node, axes string, each quantity[float64]) []float64 {
	const example = `["12.5 in", "3/4 in", "0 in"]`
	if n.kind != unstable.Array || n.made == headers || len(n.items) != len(axes) {
		rule := "a point is " + strconv.Itoa(len(axes)) + " lengths in square brackets, " + strings.Join(strings.Split(axes, ""), ", ") + `: [`
		t.refuse(key, n, rule+strings.Join(strings.Split(example[1:len(example)-1], ", ")[:len(axes)], ", ")+"]", nil)
		return nil
	}
	point := make([]float64, len(axes))
	whole := true
	for i, item := range n.items {
		axis := axes[i : i+1]
		path := t.pathOf(key) + "." + axis
		t.d.mark(path, spot{item.at, t.name(key) + " " + axis, item.shown()})
		v, rule, err := each.read(item)
		if rule != "" {
			t.d.lose(path)
			whole = false
			t.d.add(item.at, t.name(key)+" "+axis, item.shown(), rule, err)
		}
		point[i] = v
	}
	if !whole {
		return nil
	}
	return point
}

// sub reads a table of its own: [sheet]. path is that of the part.
func (t *table) sub(key, path string) *table {
	s := &table{d: t.d, field: t.name(key), path: path}
	e := t.find(key)
	if e == nil {
		return s
	}
	if e.value.kind != unstable.InlineTable {
		rule := "must be a table: write [" + key + "] on a line of its own and the values below it"
		if e.value.made == headers {
			rule = "stands once in a file: write [" + key + "] with one pair of brackets"
		}
		t.refuse(key, e.value, rule, nil)
		return s
	}
	s.n = e.value
	t.d.mark(path, spot{e.value.at, s.field, ""})
	return s
}

// needSub is sub for a table that must be there.
func (t *table) needSub(key, path string) *table {
	s := t.sub(key, path)
	if s.n == nil && !t.d.headless {
		t.miss(key, "write ["+key+"] on a line of its own and the values below it")
	}
	return s
}

// header is how a table under key is headed in the file: edge.flange.
func (t *table) header(key string) string {
	var words []string
	for _, w := range strings.Fields(t.name(key)) {
		if _, err := strconv.Atoi(w); err != nil { // edge 2 flange 1
			words = append(words, w)
		}
	}
	return strings.Join(words, ".")
}

// tables reads a list of tables, [[edge]], and calls read with each: its index
// and the table. where gives the path of each in the part.
func (t *table) tables(key string, where func(i int) string, read func(i int, s *table)) int {
	e := t.find(key)
	if e == nil {
		return 0
	}
	n := e.value
	if n.kind != unstable.Array {
		t.refuse(key, n, "is a list: write [["+t.header(key)+"]] with two pairs of brackets for each", nil)
		return 0
	}
	for i, item := range n.items {
		s := &table{d: t.d, field: t.name(key) + " " + strconv.Itoa(i+1), path: where(i)}
		if item.kind == unstable.InlineTable {
			s.n = item
			t.d.mark(s.path, spot{item.at, s.field, ""})
		} else {
			t.d.lose(s.path)
			t.d.add(item.at, s.field, item.shown(), "must be a table: write [["+key+"]] and the values below it", nil)
		}
		read(i, s)
		s.done()
	}
	return len(n.items)
}

// done refuses every key that nothing asked for.
func (t *table) done() {
	if t.n == nil {
		return
	}
	for _, e := range t.n.keys {
		known := false
		for _, k := range t.asked {
			known = known || k == e.name
		}
		if !known {
			t.d.add(e.at, t.name(e.name), "", "is not known here: "+didYouMean(e.name, t.asked), nil)
		}
	}
}
