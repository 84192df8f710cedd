package main

import (
	"fmt"
	"hash/fnv"
	"io"
	"strings"

	"github.com/hangarflat/hangarflat/flat/family"
)

func hash(parts ...string) uint64 {
	h := fnv.New64a()
	for _, p := range parts {
		io.WriteString(h, p)
		h.Write([]byte{0})
	}
	return h.Sum64()
}

// hashOfName is the same for names that differ in capitals alone, which are one file on
// some machines.
func hashOfName(name string) uint64 { return hash(strings.ToLower(name)) }

// names keeps two parts from one file. It holds a hash of each name and where it was
// first met, not the name.
type names struct{ first map[uint64]where }

// where is a row of one of the tables.
type where struct{ source, line int32 }

// clash refuses a second part of the same name, and a name that is a device on some
// machines whatever follows it. Letters and length are held by package partfile.
func (n names) clash(name string, line int, sources []source, at int) error {
	fault := func(rule string) error {
		return &family.Error{File: sources[at].table, Line: line, Field: "name", Value: fmt.Sprintf("%q", name), Rule: rule}
	}
	if device(name) {
		return fault("is a device and no file on some machines: choose another name")
	}
	h := hashOfName(name)
	if w, taken := n.first[h]; taken {
		return fault(fmt.Sprintf("is taken by the part of %s:%d", sources[w.source].table, w.line))
	}
	n.first[h] = where{int32(at), int32(line)}
	return nil
}

// device reports whether a name is one of those reserved since the first disk
// operating systems, in capitals or not and whatever stands behind its first dot.
func device(name string) bool {
	stem, _, _ := strings.Cut(strings.ToLower(name), ".")
	switch stem {
	case "con", "prn", "aux", "nul":
		return true
	}
	port, number := stem[:min(3, len(stem))], stem[min(3, len(stem)):]
	return (port == "com" || port == "lpt") && len(number) == 1 && '0' <= number[0] && number[0] <= '9'
}
