package main

import (
	"slices"
	"strings"
	"time"
)

const module = "github.com/hangarflat/hangarflat/"

// A mark is one benchmark of one package: "flat/outline Offset/polygon-in/1000".
type mark struct{ pkg, name string }

// A figure is a speed somebody waits for.
type figure struct {
	what string
	mark
	times int           // what is asked for is so many of what the benchmark does once
	goal  time.Duration // for all of them
	floor mark          // the same work done bare, or the part of it that can't be saved
	bare  int           // so many of the floor's once
	least string        // what the floor is
}

const bareMiter = "each corner moved along its miter, nothing tested"

// figures are what the library promises itself, and why: offsets that keep arcs as
// fast as the best that do not; the rest so that nobody at a bench waits.
var figures = [...]figure{
	{"one bend", mark{"bend", "Allowance/Handbook"}, 1, 50, mark{"bend", "BareFormula"}, 1, "the formula, nothing tested"},
	{"develop a 4-flange part", mark{"flat", "Develop/alone"}, 1, 20 * time.Microsecond, mark{"bend", "Allowance/Handbook"}, 4, "its four bends alone"},
	{"develop it and prove it", mark{"flat", "Develop/proof"}, 1, 60 * time.Microsecond, mark{"flat/fold", "Fold"}, 1, "one fold alone"},
	{"develop, prove and inspect it", mark{"flat", "Develop/proof-findings"}, 1, 60 * time.Microsecond, mark{"flat/fold", "Fold"}, 1, "one fold alone"},
	{"whole part to DXF bytes", mark{"examples/intercostal", "WholePart"}, 1, 100 * time.Microsecond, mark{"flat", "Develop/proof-findings"}, 1, "develop, prove and inspect alone"},
	{"offset, 1k points", mark{"flat/outline", "Offset/polygon-in/1000"}, 1, 270 * time.Microsecond, mark{"flat/outline", "BareMiter/1000"}, 1, bareMiter},
	{"offset, 10k points", mark{"flat/outline", "Offset/polygon-in/10000"}, 1, 4400 * time.Microsecond, mark{"flat/outline", "BareMiter/10000"}, 1, bareMiter},
	{"offset, 100k points", mark{"flat/outline", "Offset/polygon-in/100000"}, 1, 36 * time.Millisecond, mark{"flat/outline", "BareMiter/100000"}, 1, bareMiter},
	{"offset, 1k lines and arcs", mark{"flat/outline", "Offset/arcs-in/1000"}, 1, 7 * time.Millisecond, mark{"flat/outline", "BareMiter/1000"}, 1, bareMiter},
	{"offset, 100k lines and arcs", mark{"flat/outline", "Offset/arcs-in/100000"}, 1, 4800 * time.Millisecond, mark{"flat/outline", "BareMiter/100000"}, 1, bareMiter},
	{"smooth 1e6 points", mark{"flat/loft", "Smooth1e6"}, 1, 60 * time.Millisecond, mark{"flat/loft", "BareSums1e6"}, 1, "each point read and weighed once"},
	{"a million DXF entities", mark{"dxfout", "MillionEntities/r2000-mm"}, 1, 400 * time.Millisecond, mark{"dxfout", "BareNumbers"}, 1, "the numbers formatted bare"},
	{"a kit of 10,000 parts", mark{"examples/kit", "Kit/dxf"}, 50, 2 * time.Second, mark{"examples/intercostal", "WholePart"}, 10_000, "10,000 whole parts, one by one"},
}

// packages are those with a figure or a floor, each once.
func packages() []string {
	var list []string
	for _, f := range figures {
		for _, m := range []mark{f.mark, f.floor} {
			if !slices.Contains(list, m.pkg) {
				list = append(list, m.pkg)
			}
		}
	}
	slices.Sort(list)
	return list
}

// pattern is the -bench expression that runs what is wanted of a package.
func pattern(pkg string) string {
	var list []string
	for _, f := range figures {
		for _, m := range []mark{f.mark, f.floor} {
			if name := m.function(); m.pkg == pkg && !slices.Contains(list, name) {
				list = append(list, name)
			}
		}
	}
	return "^(" + strings.Join(list, "|") + ")$"
}

// function is the name of the Go function that the benchmark is, or is part of.
func (m mark) function() string {
	name, _, _ := strings.Cut(m.name, "/")
	return "Benchmark" + name
}
