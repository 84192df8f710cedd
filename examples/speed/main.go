// Speed runs the benchmarks of the library and prints what they measure on this
// machine beside the goals they were written to, and beside floors: the least any
// program would pay for the same work, measured in the same run. Times hang on the
// machine and on what else it does; the ratio to a floor hardly does.
//
//	go run ./examples/speed
//	go run ./examples/speed -count 6 -time 200ms
package main

import (
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"

	"github.com/hangarflat/hangarflat/examples/internal/command"
)

func main() {
	command.End(run(os.Args[1:], os.Stdout, os.Stderr))
}

func run(args []string, out, progress io.Writer) error {
	flags := flag.NewFlagSet("speed", flag.ContinueOnError)
	count := flags.Int("count", 3, "how often each benchmark runs; the best counts")
	time := flags.String("time", "300ms", "how long each runs, as go test's -benchtime")
	if err := command.Parse(flags, "", args); err != nil {
		return err
	}
	if *count < 1 {
		return fmt.Errorf("count %d: must be at least 1", *count)
	}
	best := readings{}
	for _, pkg := range packages() {
		fmt.Fprintln(progress, "measuring", pkg)
		test := exec.Command("go", "test", "-run", "^$", "-bench", pattern(pkg), "-benchmem",
			"-count", fmt.Sprint(*count), "-benchtime", *time, module+pkg)
		test.Stderr = progress
		text, err := test.Output()
		if err != nil {
			return fmt.Errorf("%s: %w\n%s", pkg, err, text)
		}
		if err := best.take(pkg, strings.NewReader(string(text))); err != nil {
			return err
		}
	}
	return report(out, best)
}
