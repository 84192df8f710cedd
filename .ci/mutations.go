//go:build ignore

// Holds the tests against testdata/mutations.txt: see .ci/mutations. Nothing in the tree is written. Of the functions that
// are changed a package gets copies, each with one change, and the function itself asks the environment first which of them to
// be: so the mutants of a package are compiled and linked once, together, through an overlay.
package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
)

const list = "testdata/mutations.txt"

func main() {
	only := ""
	if len(os.Args) > 2 { // behind --
		only = os.Args[2]
	}
	if err := run(only); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// A mutation is one change and the test that must see it.
type mutation struct {
	line          int // of the list
	file          string
	pkg, test     string
	before, after string
}

func (m mutation) String() string {
	return fmt.Sprintf("%s:%d: %s: %s -> %s", list, m.line, m.file, m.before, m.after)
}

func run(only string) error {
	text, err := os.ReadFile(list)
	if err != nil {
		return err
	}
	all, err := read(string(text))
	if err != nil {
		return err
	}
	all = slices.DeleteFunc(all, func(m mutation) bool { return !strings.Contains(m.file, only) })
	if len(all) == 0 {
		return fmt.Errorf("%s: no mutation of a file named %s", list, only)
	}
	scratch, err := os.MkdirTemp("", "mutations")
	if err != nil {
		return err
	}
	defer os.RemoveAll(scratch)
	var packages []string
	of := map[string][]mutation{}
	for _, m := range all {
		if of[m.pkg] == nil {
			packages = append(packages, m.pkg)
		}
		of[m.pkg] = append(of[m.pkg], m)
	}
	faults := make([]error, len(packages))
	var wait sync.WaitGroup
	free := make(chan struct{}, runtime.NumCPU())
	for i, pkg := range packages {
		wait.Go(func() {
			free <- struct{}{}
			defer func() { <-free }()
			faults[i] = hold(pkg, of[pkg], filepath.Join(scratch, fmt.Sprint(i)))
		})
	}
	wait.Wait()
	if err := errors.Join(faults...); err != nil {
		return err
	}
	fmt.Printf("%d mutants of %d packages, each seen by its test\n", len(all), len(packages))
	return nil
}

// read takes the list apart: a line "file package test", one with the old text behind "- ", one with the new behind "+ ".
func read(text string) (all []mutation, err error) {
	for i, line := range strings.Split(text, "\n") {
		last := len(all) - 1
		old, isOld := strings.CutPrefix(line, "- ")
		changed, isNew := strings.CutPrefix(line, "+ ")
		head := strings.Fields(line)
		switch {
		case line == "" || line[0] == '#':
		case isOld && last >= 0 && all[last].before == "":
			all[last].before = old
		case isNew && last >= 0 && all[last].before != "" && all[last].after == "":
			all[last].after = changed
		case !isOld && !isNew && len(head) == 3 && (last < 0 || all[last].after != ""):
			all = append(all, mutation{line: i + 1, file: head[0], pkg: head[1], test: head[2]})
		default:
			return nil, fmt.Errorf("%s:%d: %q: a mutation is a line with file, package and test, one with - and the old text, one with + and the new", list, i+1, line)
		}
	}
	if n := len(all); n == 0 || all[n-1].after == "" {
		return nil, fmt.Errorf("%s: ends before its last mutation does", list)
	}
	return all, nil
}

// hold compiles the tests of a package with its mutants and runs for each the test that must see it.
func hold(pkg string, all []mutation, scratch string) error {
	binary := filepath.Join(scratch, "mutants.test")
	if err := compile(pkg, all, scratch, binary); err != nil {
		return whichDoNot(pkg, all, scratch, err)
	}
	var tests []string
	for _, m := range all {
		tests = append(tests, m.test)
	}
	if out, err := test(binary, pkg, strings.Join(tests, "|"), ""); err != nil {
		return fmt.Errorf("%s: the tests fail without any mutant: %w\n%s", pkg, err, out)
	}
	var faults []error
	for _, m := range all {
		if _, err := test(binary, pkg, m.test, fmt.Sprint(m.line)); err == nil {
			faults = append(faults, fmt.Errorf("%v: LIVES: %s in %s does not see it", m, m.test, pkg))
		} else if exit := (*exec.ExitError)(nil); !errors.As(err, &exit) {
			faults = append(faults, fmt.Errorf("%v: %w", m, err))
		}
	}
	return errors.Join(faults...)
}

func test(binary, pkg, pattern, mutant string) ([]byte, error) {
	args := []string{"-test.short", "-test.timeout=60s", "-test.failfast", "-test.run", pattern}
	if flags, _ := exec.Command(binary, "-h").CombinedOutput(); bytes.Contains(flags, []byte("rapid.nofailfile")) {
		args = append(args, "-rapid.nofailfile") // or it is written beside the test
	}
	c := exec.Command(binary, args...)
	c.Dir, c.Env = pkg, append(os.Environ(), "MUTANT="+mutant)
	return c.CombinedOutput()
}

// whichDoNot says which of some mutants is at fault that do not compile together.
func whichDoNot(pkg string, all []mutation, scratch string, together error) error {
	var faults []error
	for _, m := range all {
		if err := compile(pkg, []mutation{m}, scratch, os.DevNull); err != nil {
			faults = append(faults, fmt.Errorf("%v: %w", m, err))
		}
	}
	if len(faults) == 0 {
		return together
	}
	return errors.Join(faults...)
}

// compile builds the test binary of a package with mutants.
func compile(pkg string, all []mutation, scratch, binary string) error {
	if err := os.MkdirAll(scratch, 0o777); err != nil {
		return err
	}
	edits := map[string][]edit{}
	sources := map[string][]byte{}
	switches := map[string]string{} // of the folders that have mutants, the name of the package
	for _, m := range all {
		source, err := os.ReadFile(m.file)
		if err != nil {
			return err
		}
		more, name, err := m.edits(source)
		if err != nil {
			return err
		}
		sources[m.file], switches[filepath.Dir(m.file)] = source, name
		edits[m.file] = append(edits[m.file], more...)
	}
	replace := map[string]string{}
	put := func(file string, text []byte) error {
		full, err := filepath.Abs(file)
		if err != nil {
			return err
		}
		at := filepath.Join(scratch, fmt.Sprintf("%d.go", len(replace)))
		replace[full] = at
		return os.WriteFile(at, text, 0o666)
	}
	for file, source := range sources {
		if err := put(file, apply(source, edits[file])); err != nil {
			return err
		}
	}
	for folder, name := range switches {
		text := fmt.Sprintf("package %s\n\nimport \"os\"\n\nvar mutantNow = os.Getenv(\"MUTANT\")\n", name)
		if err := put(filepath.Join(folder, "zz_mutant_now.go"), []byte(text)); err != nil {
			return err
		}
	}
	overlay, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		return err
	}
	at := filepath.Join(scratch, "overlay.json")
	if err := os.WriteFile(at, overlay, 0o666); err != nil {
		return err
	}
	if out, err := exec.Command("go", "test", "-c", "-vet=off", "-ldflags=-s -w", "-overlay", at, "-o", binary, pkg).CombinedOutput(); err != nil {
		return fmt.Errorf("does not compile: %w\n%s", err, out)
	}
	return nil
}

// An edit puts text into a source.
type edit struct {
	at   int
	text string
}

func apply(source []byte, edits []edit) []byte {
	slices.SortStableFunc(edits, func(a, b edit) int { return a.at - b.at })
	edits = slices.Compact(edits) // a receiver is named once for two mutants
	var out bytes.Buffer
	from := 0
	for _, e := range edits {
		out.Write(source[from:e.at])
		out.WriteString(e.text)
		from = e.at
	}
	out.Write(source[from:])
	return out.Bytes()
}

// edits are a switch at the start of the function that is changed and, behind it, the function as changed.
func (m mutation) edits(source []byte) (edits []edit, pkg string, err error) {
	if n := bytes.Count(source, []byte(m.before)); n != 1 {
		return nil, "", fmt.Errorf("the old text must be found once, and is found %d times", n)
	}
	at := bytes.Index(source, []byte(m.before))
	set := token.NewFileSet()
	file, err := parser.ParseFile(set, m.file, source, parser.SkipObjectResolution)
	if err != nil {
		return nil, "", err
	}
	place := func(p token.Pos) int { return set.Position(p).Offset }
	for _, d := range file.Decls {
		f, ok := d.(*ast.FuncDecl)
		if !ok || f.Body == nil || !(place(f.Body.Pos()) < at && at < place(f.Body.End())) {
			continue
		}
		name := fmt.Sprintf("%sMutant%d", f.Name.Name, m.line)
		if r := f.Recv; r != nil && len(r.List[0].Names) == 0 {
			edits = append(edits, edit{place(r.List[0].Type.Pos()), "own "})
			r.List[0].Names = []*ast.Ident{ast.NewIdent("own")}
		}
		call, err := callOf(f, name)
		if err != nil {
			return nil, "", err
		}
		from, named, end := place(f.Type.Func), place(f.Name.Pos()), place(f.End())
		changed := string(source[from:named]) + name + string(source[named+len(f.Name.Name):at]) + m.after + string(source[at+len(m.before):end])
		edits = append(edits,
			edit{place(f.Body.Lbrace) + 1, fmt.Sprintf(" if mutantNow == \"%d\" { %s };", m.line, call)},
			edit{end, "\n\n" + changed + "\n"})
		return edits, file.Name.Name, nil
	}
	return nil, "", errors.New("the old text must lie in a function")
}

// callOf hands all that a function was given on to another of the same kind.
func callOf(f *ast.FuncDecl, name string) (string, error) {
	var names []string
	fields := slices.Clone(f.Type.Params.List)
	if f.Recv != nil {
		fields = slices.Concat(f.Recv.List, fields)
	}
	for _, p := range fields {
		if len(p.Names) == 0 || slices.ContainsFunc(p.Names, func(n *ast.Ident) bool { return n.Name == "_" }) {
			return "", fmt.Errorf("%s has a parameter without a name", f.Name.Name)
		}
		for _, n := range p.Names {
			if _, many := p.Type.(*ast.Ellipsis); many {
				names = append(names, n.Name+"...")
			} else {
				names = append(names, n.Name)
			}
		}
	}
	if f.Recv != nil {
		name, names = names[0]+"."+name, names[1:]
	}
	call := name + "(" + strings.Join(names, ", ") + ")"
	if f.Type.Results == nil {
		return call + "; return", nil
	}
	return "return " + call, nil
}
