package partfile

import (
	"bytes"

	"github.com/pelletier/go-toml/v2/unstable"
)

// A node is a value of the file and where it stands.
type node struct {
	kind  unstable.Kind // InlineTable stands for every table
	at    place
	text  string // of a scalar: a string's content, or the letters of the file
	keys  []entry
	index map[string]int // of the keys, once there are more than a few
	items []*node        // of an array, or of a [[list of tables]]
	made  origin
}

// An origin is how a table or a list came about, which decides what may add to it.
type origin uint8

const (
	onTheWay origin = iota // to a [header.deeper]: one [header] may still open it
	header                 // [header], or one item of [[header]]
	headers                // the list that [[header]] grows
	dotted                 // by dotted.keys: more of them may add to it
	complete               // {...} and [...]: nothing may
)

// An entry is a key of a table, in the order of the file.
type entry struct {
	name  string
	at    place
	value *node
}

// long is how many keys a table has before looking through them is too slow.
const long = 32

func (n *node) get(name string) *entry {
	if n == nil {
		return nil
	}
	if len(n.keys) > long {
		if i, known := n.index[name]; known {
			return &n.keys[i]
		}
		return nil
	}
	for i := range n.keys {
		if n.keys[i].name == name {
			return &n.keys[i]
		}
	}
	return nil
}

// shown is the value as a fault prints it.
func (n *node) shown() string {
	switch n.kind {
	case unstable.String:
		return shown(n.text)
	case unstable.Array:
		return "[...]"
	case unstable.InlineTable:
		return "{...}"
	}
	return n.text
}

// A grower puts expressions of the file together to a tree, by the rules of
// TOML 1.0: no key twice, no table reopened.
type grower struct {
	faults   *faults
	data     []byte
	lines    lines
	p        *unstable.Parser
	root     *node
	table    *node // of the last header; nil while the header itself was refused
	base     int   // offset in the file of the first byte the parser was given
	headless bool
}

func newTable(at place, made origin) *node {
	return &node{kind: unstable.InlineTable, at: at, made: made}
}

func (g *grower) place(r unstable.Range) place { return g.lines.place(g.base + int(r.Offset)) }

func (g *grower) expression(e *unstable.Node) {
	switch e.Kind {
	case unstable.Table:
		g.table = g.open(e, false)
	case unstable.ArrayTable:
		g.table = g.open(e, true)
	case unstable.KeyValue:
		if g.table != nil {
			g.set(g.table, e)
		}
	}
}

// A part of a dotted key.
type step struct {
	name string
	at   place
}

func (g *grower) path(e *unstable.Node) []step {
	var path []step
	for it := e.Key(); it.Next(); {
		path = append(path, step{string(it.Node().Data), g.place(it.Node().Raw)})
	}
	return path
}

// open finds or makes the table of a [header] or the next of a [[header]]; nil
// after a fault.
func (g *grower) open(e *unstable.Node, list bool) *node {
	path := g.path(e)
	here := g.root
	for _, s := range path[:len(path)-1] {
		found := here.get(s.name)
		if found == nil {
			here = here.add(s, newTable(s.at, onTheWay))
			continue
		}
		here = found.value
		if here.made == headers {
			here = here.items[len(here.items)-1]
		}
		if here.kind != unstable.InlineTable || here.made == complete {
			g.twice(s, found)
			g.headless = true
			return nil
		}
	}
	last := path[len(path)-1]
	found := here.get(last.name)
	t := newTable(last.at, header)
	switch {
	case found == nil && list:
		here.add(last, &node{kind: unstable.Array, at: last.at, made: headers, items: []*node{t}})
	case found == nil:
		here.add(last, t)
	case list && found.value.made == headers:
		found.value.items = append(found.value.items, t)
	case !list && found.value.made == onTheWay && found.value.kind == unstable.InlineTable:
		t = found.value
		t.at, t.made = last.at, header
	case found.value.made == headers:
		g.faults.addf(last.at, last.name, "", "is a list that starts in line %d: write two brackets, [[...]], for the next of it", found.at.line)
		g.headless = true
		return nil
	default:
		g.twice(last, found)
		g.headless = true
		return nil
	}
	return t
}

func (n *node) add(s step, value *node) *node {
	n.keys = append(n.keys, entry{s.name, s.at, value})
	switch {
	case len(n.keys) == long+1:
		n.index = make(map[string]int)
		for i, e := range n.keys {
			n.index[e.name] = i
		}
	case len(n.keys) > long:
		n.index[s.name] = len(n.keys) - 1
	}
	return value
}

func (g *grower) twice(s step, first *entry) {
	g.faults.addf(s.at, s.name, "", "stands here for the second time; the first is in line %d: keep one", first.at.line)
}

// set puts a key and its value into a table.
func (g *grower) set(t *node, e *unstable.Node) {
	path := g.path(e)
	for _, s := range path[:len(path)-1] {
		found := t.get(s.name)
		switch {
		case found == nil:
			t = t.add(s, newTable(s.at, dotted))
		case found.value.made == dotted:
			t = found.value
		default:
			g.twice(s, found)
			return
		}
	}
	last := path[len(path)-1]
	if found := t.get(last.name); found != nil {
		g.twice(last, found)
		return
	}
	t.add(last, g.value(e.Value(), g.afterKey(e)))
}

// afterKey is where the value of a key begins.
func (g *grower) afterKey(e *unstable.Node) place {
	var last *unstable.Node
	for it := e.Key(); it.Next(); {
		last = it.Node()
	}
	from := int(last.Raw.Offset + last.Raw.Length)
	rest := g.p.Data()[from:]
	return g.lines.place(g.base + from + len(rest) - len(bytes.TrimLeft(rest, " \t=")))
}

// value copies what the parser will overwrite. at serves where the parser keeps
// no place: for arrays.
func (g *grower) value(v *unstable.Node, at place) *node {
	n := &node{kind: v.Kind, at: at}
	if v.Raw.Length > 0 {
		n.at = g.place(v.Raw)
	}
	switch v.Kind {
	case unstable.Array:
		n.made = complete
		for it := v.Children(); it.Next(); {
			n.items = append(n.items, g.value(it.Node(), n.at))
		}
	case unstable.InlineTable:
		n.made = complete
		for it := v.Children(); it.Next(); {
			g.set(n, it.Node())
		}
	default:
		n.text = string(v.Data)
	}
	return n
}
