package main

import (
	"bufio"
	"fmt"
	"io"
	"runtime"
	"strconv"
	"strings"
	"text/tabwriter"
	"time"
)

// A reading is what one benchmark was seen to take, the best of its runs.
type reading struct {
	nanoseconds float64
	bytes       int64
	allocs      int64
}

type readings map[mark]reading

// take reads what go test prints of benchmarks:
// "BenchmarkFold-2   12345   678.9 ns/op   0 B/op   0 allocs/op".
func (r readings) take(pkg string, text io.Reader) error {
	lines := bufio.NewScanner(text)
	for lines.Scan() {
		words := strings.Fields(lines.Text())
		if len(words) < 4 || !strings.HasPrefix(words[0], "Benchmark") {
			continue
		}
		name := strings.TrimPrefix(words[0], "Benchmark")
		if at := strings.LastIndexByte(name, '-'); at > 0 {
			if _, err := strconv.Atoi(name[at+1:]); err == nil {
				name = name[:at] // the number of processors
			}
		}
		var seen reading
		for i := 2; i+1 < len(words); i += 2 {
			x, err := strconv.ParseFloat(words[i], 64)
			if err != nil {
				return fmt.Errorf("%s: cannot read %q", pkg, lines.Text())
			}
			switch words[i+1] {
			case "ns/op":
				seen.nanoseconds = x
			case "B/op":
				seen.bytes = int64(x)
			case "allocs/op":
				seen.allocs = int64(x)
			}
		}
		m := mark{pkg, name}
		if before, again := r[m]; !again || seen.nanoseconds < before.nanoseconds {
			r[m] = seen
		}
	}
	return lines.Err()
}

// report prints every figure. A benchmark that was not seen to run is an error: a
// figure must not vanish because a benchmark got another name.
func report(w io.Writer, r readings) error {
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintf(w, "%s/%s, %d processors, %s\n\n", runtime.GOOS, runtime.GOARCH, runtime.NumCPU(), runtime.Version())
	fmt.Fprintln(table, "figure\tmeasured\tgoal\tof goal\tallocs\tof floor\tfloor")
	for _, f := range figures {
		seen, floor := r[f.mark], r[f.floor]
		if !(seen.nanoseconds > 0) {
			return fmt.Errorf("%s: no benchmark %s", f.pkg, f.name)
		}
		if !(floor.nanoseconds > 0) {
			return fmt.Errorf("%s: no benchmark %s", f.floor.pkg, f.floor.name)
		}
		took := seen.nanoseconds * float64(f.times)
		fmt.Fprintf(table, "%s\t%s\t%s\t%.2f\t%d\t%.1f\t%s\n",
			f.what, duration(took), duration(float64(f.goal)), took/float64(f.goal), seen.allocs*int64(f.times),
			took/(floor.nanoseconds*float64(f.bare)), f.least)
	}
	return table.Flush()
}

// duration writes nanoseconds with three figures.
func duration(ns float64) string {
	for _, u := range []struct {
		name string
		size float64
	}{{"s", float64(time.Second)}, {"ms", float64(time.Millisecond)}, {"µs", float64(time.Microsecond)}} {
		if ns >= u.size {
			return strconv.FormatFloat(ns/u.size, 'g', 3, 64) + " " + u.name
		}
	}
	return strconv.FormatFloat(ns, 'g', 3, 64) + " ns"
}
