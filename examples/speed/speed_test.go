package main

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every benchmark a figure or a floor names is there to be run.
func TestFiguresHaveBenchmarks(t *testing.T) {
	sources := map[string]string{}
	for _, pkg := range packages() {
		files, err := filepath.Glob(filepath.Join("..", "..", filepath.FromSlash(pkg), "*_test.go"))
		require.NoError(t, err)
		for _, name := range files {
			text, err := os.ReadFile(name)
			require.NoError(t, err)
			sources[pkg] += string(text)
		}
	}
	for _, f := range figures {
		for _, m := range []mark{f.mark, f.floor} {
			assert.Contains(t, sources[m.pkg], "func "+m.function()+"(", "%s", f.what)
		}
		assert.Positive(t, f.times, f.what)
		assert.Positive(t, f.bare, f.what)
		assert.Positive(t, f.goal, f.what)
	}
	assert.Equal(t, "^(BenchmarkSmooth1e6|BenchmarkBareSums1e6)$", pattern("flat/loft"))
}

// The form of the lines is that of the Go project's benchmark data format
// (golang.org/design/14313-benchmark-format).
func TestTakesTheBestRun(t *testing.T) {
	r := readings{}
	require.NoError(t, r.take("flat", strings.NewReader(`goos: linux
BenchmarkDevelop-2   	   12345	     90000 ns/op	   51200 B/op	     248 allocs/op
BenchmarkDevelop-2   	   12345	     84000.5 ns/op	   51200 B/op	     248 allocs/op
BenchmarkDevelop-2   	   12345	     87000 ns/op	   51200 B/op	     248 allocs/op
BenchmarkOffset/polygon-in/1000         	     100	   1000 ns/op	 12.5 MB/s	 3 B/op	 1 allocs/op
PASS
`)))
	assert.Equal(t, readings{
		{"flat", "Develop"}:                reading{84000.5, 51200, 248},
		{"flat", "Offset/polygon-in/1000"}: reading{1000, 3, 1},
	}, r)
	require.Error(t, r.take("flat", strings.NewReader("BenchmarkX 12 many ns/op\n")))
}

func TestReport(t *testing.T) {
	r := readings{}
	for _, f := range figures {
		r[f.floor] = reading{nanoseconds: 500}
	}
	for _, f := range figures {
		r[f.mark] = reading{nanoseconds: 1500, allocs: 2}
	}
	var out bytes.Buffer
	require.NoError(t, report(&out, r))
	// 1500 ns against a goal of 60 µs: 0.025; a kit is 50 times 1500 ns = 75 µs.
	assert.Regexp(t, `develop it and prove it +1.5 µs +60 µs +0\.03 +2 +3\.0 +one fold alone`, out.String())
	assert.Regexp(t, `a kit of 10,000 parts +75 µs +2 s +0\.00 +100 `, out.String())

	delete(r, mark{"flat/fold", "Fold"})
	require.ErrorContains(t, report(&out, r), "flat/fold: no benchmark Fold")
	delete(r, mark{"bend", "Allowance/Handbook"})
	require.ErrorContains(t, report(&out, r), "bend: no benchmark Allowance/Handbook")

	require.Error(t, run([]string{"-count", "0"}, &out, &out))
	require.Error(t, run([]string{"-no-such"}, &out, &out))
}

func TestDuration(t *testing.T) {
	for ns, want := range map[float64]string{12.345: "12.3 ns", 84000: "84 µs", 4.4e6: "4.4 ms", 2e9: "2 s", 1000: "1 µs"} {
		assert.Equal(t, want, duration(ns))
	}
}

// Every figure of the report is one that a benchmark measures: each is run once.
func TestEveryFigureIsMeasured(t *testing.T) {
	if testing.Short() {
		t.Skip("runs every benchmark")
	}
	var out bytes.Buffer
	require.NoError(t, run([]string{"-count", "1", "-time", "1x"}, &out, io.Discard))
	for _, f := range figures {
		assert.Contains(t, out.String(), f.what)
	}
}
