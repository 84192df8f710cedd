package main

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"github.com/hangarflat/hangarflat/dxfout"
	"github.com/hangarflat/hangarflat/examples/internal/hand"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/family"
)

// A kit is a folder of parts and how they are made.
type kit struct {
	folder  string
	program string // its print, which tells one build from another
	workers int
	files   []file
	dxf     dxfout.Options
	sheets  sheetOptions
	zip     bool
	// The part of the other side of the aircraft is made of every row as well.
	otherHand bool
}

const (
	indexName    = "index.html"
	cutListName  = "cut-list.csv"
	materialName = "material-list.csv"
	sheetsName   = "sheets" // a folder
	faultsName   = "faults.txt"
	zipName      = "kit.zip"
	journalName  = ".kit-journal"
	lockName     = ".kit-lock"
	workName     = ".kit-work" // a folder of what is not whole yet
)

func (k kit) path(name string) string { return filepath.Join(k.folder, name) }

// A job is one row of a table: a part to make, of both hands where that is wanted, or why there is none. Jobs are
// numbered, so that the lists of the kit stand in the order of the tables however
// the work was shared out.
type job struct {
	number   int
	source   source
	template family.Template
	key      uint64 // of what the part is made from
	member   family.Member
	hands    []flat.Part
	err      error
}

// fault names the columns of the table that an error of the row comes from, with their cells.
func (j job) fault(err error) error {
	var faults []error
	for _, f := range j.template.Faults(j.source.table, j.member, err) {
		faults = append(faults, f)
	}
	return errors.Join(faults...)
}

// A result is a finished job.
type result struct {
	number int
	parts  []part // one, or one of each hand
	err    error
}

// A part is one that a row made.
type part struct {
	made entry
	kept bool // made by an earlier run
	cut  cut  // where sheets are wanted
}

// A summary counts what a run did.
type summary struct {
	made, kept, bad, stopped int
	grams                    float64
	need                     materialList
	cuts                     []cut
	sheets                   []laidSheet
	left                     []string            // blanks that are on no sheet, and why
	listed                   map[uint64]struct{} // hashes of the parts' names
	removed                  int                 // files of earlier runs
	changed                  []string            // such files, left because somebody changed them
}

func (s summary) String() string {
	lines := []string{fmt.Sprintf("%d parts made, %d kept from an earlier run, %d rows at fault, %d marked NOT FOR CUTTING; %.3f kg in all",
		s.made, s.kept, s.bad, s.stopped, s.grams/1000)}
	if s.removed > 0 {
		lines = append(lines, fmt.Sprintf("%d files of an earlier run that this kit no longer holds removed", s.removed))
	}
	for _, name := range s.changed {
		lines = append(lines, name+" is of an earlier run and no longer of this kit, but is not as it was made: it is left where it is")
	}
	lines = append(lines, s.need.say()...)
	for _, l := range s.sheets {
		lines = append(lines, l.String())
	}
	return strings.Join(append(lines, s.left...), "\n")
}

// make reads the tables, shares the rows out to workers, and writes the lists of
// the kit as the parts come back in order. Memory does not grow with the kit but for
// two hashes of each name and one of each part an earlier run made; where sheets are
// wanted it holds all outlines.
func (k kit) make(ctx context.Context, sources []source, progress *bar) (summary, error) {
	if err := os.MkdirAll(k.folder, 0o755); err != nil {
		return summary{}, err
	}
	unlock, err := lock(k.path(lockName))
	if err != nil {
		return summary{}, err
	}
	defer unlock()
	rows, err := countRows(sources)
	if err != nil {
		return summary{}, err
	}
	progress.start(rows)
	// What a run that was killed left half written.
	if err := os.RemoveAll(k.path(workName)); err != nil {
		return summary{}, err
	}
	if err := os.Mkdir(k.path(workName), 0o755); err != nil {
		return summary{}, err
	}
	defer os.RemoveAll(k.path(workName))
	past, err := openJournal(k.path(journalName))
	if err != nil {
		return summary{}, err
	}
	defer past.close()

	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	jobs := make(chan job)
	results := make(chan result, k.workers)
	// A worker may run ahead of the slowest by this many parts, and no more.
	ahead := make(chan struct{}, 64*k.workers)
	var feeding error
	go func() {
		defer close(jobs)
		feeding = k.feed(ctx, sources, jobs, ahead)
	}()
	var group sync.WaitGroup
	for range k.workers {
		group.Go(func() {
			w := k.worker()
			for j := range jobs {
				results <- w.do(j, past)
			}
		})
	}
	go func() { group.Wait(); close(results) }()

	lists, err := k.openLists()
	if err != nil {
		cancel()
		for range results {
		}
		return summary{}, err
	}
	sum, err := k.collect(results, ahead, lists, progress, cancel)
	progress.finish()
	switch {
	case err != nil:
	case feeding != nil:
		err = feeding
	case ctx.Err() != nil:
		err = fmt.Errorf("kit: interrupted after %d parts: start it again to go on", sum.made+sum.kept)
	default:
		return k.finish(sum, lists, past)
	}
	lists.drop()
	return sum, err
}

// finish lays the sheets out, puts the lists in place, takes away what they no longer
// hold and packs the kit.
func (k kit) finish(sum summary, lists *lists, past *journal) (summary, error) {
	var err error
	var left []string
	sum.sheets, left, err = k.sheets.layOut(sum.cuts)
	sum.left = append(sum.left, left...)
	sum.cuts = nil
	if err == nil {
		err = k.writeSheets(sum.sheets)
	}
	if err != nil {
		lists.drop()
		return sum, err
	}
	if err := lists.keep(sum); err != nil {
		return sum, &writeError{err}
	}
	if err := k.sweep(&sum, past); err != nil {
		return sum, &writeError{err}
	}
	if k.zip {
		if err := k.pack(past); err != nil {
			return sum, &writeError{err}
		}
	}
	return sum, nil
}

// feed hands out the rows of the tables, each with a free place in the window.
func (k kit) feed(ctx context.Context, sources []source, jobs chan<- job, ahead chan<- struct{}) error {
	number := 0
	names := names{map[uint64]where{}}
	for at, s := range sources {
		template, text, err := readTemplate(s.template)
		if err != nil {
			return err
		}
		table, err := os.Open(s.table)
		if err != nil {
			return err
		}
		defer table.Close()
		logs := stripLogs{}
		for m, err := range template.Members(s.table, table) {
			var strips string
			if err == nil {
				strips, err = logs.calibrate(s.template, &m)
			}
			j := job{number: number, source: s, template: template, member: m}
			number++
			if err == nil {
				j.hands = hand.Hands(m.Part, k.otherHand)
				for _, p := range j.hands {
					j.err = cmp.Or(j.err, names.clash(p.Name, m.Line, sources, at))
				}
				j.key = k.keyOf(text+strips, m)
			} else {
				j.err = j.fault(err)
			}
			select {
			case ahead <- struct{}{}:
			case <-ctx.Done():
				return nil
			}
			select {
			case jobs <- j:
			case <-ctx.Done():
				return nil
			}
		}
	}
	return nil
}

func readTemplate(name string) (family.Template, string, error) {
	text, err := os.ReadFile(name)
	if err != nil {
		return family.Template{}, "", err
	}
	template, err := family.ReadTemplate(name, bytes.NewReader(text))
	return template, string(text), err
}

// countRows counts the rows of the tables, for the progress bar, and finds out
// early that a file is missing.
func countRows(sources []source) (int, error) {
	rows := 0
	for _, s := range sources {
		template, _, err := readTemplate(s.template)
		if err != nil {
			return 0, err
		}
		table, err := os.Open(s.table)
		if err != nil {
			return 0, err
		}
		n, err := template.CountRows(s.table, table)
		table.Close()
		if err != nil {
			return 0, err
		}
		rows += n
	}
	if rows == 0 {
		// It would clear away all that an earlier run made.
		return 0, fmt.Errorf("%s: no row under the head: there is no part to make", sources[0].table)
	}
	return rows, nil
}

// collect puts results back in order and writes the lists.
func (k kit) collect(results <-chan result, ahead <-chan struct{}, lists *lists, progress *bar, cancel func()) (summary, error) {
	sum := summary{need: materialList{}, listed: map[uint64]struct{}{}}
	var failed error
	waiting := map[int]result{}
	next := 0
	for r := range results {
		waiting[r.number] = r
		for {
			r, ok := waiting[next]
			if !ok {
				break
			}
			delete(waiting, next)
			next++
			<-ahead
			if failed != nil {
				continue
			}
			if failed = sum.count(r, lists); failed != nil {
				cancel() // the folder cannot be written: no more parts
			}
			progress.step(r.err != nil)
		}
	}
	return sum, failed
}

// count adds a result to the summary and the lists. The error is of the folder; a
// part's own fault is listed.
func (s *summary) count(r result, lists *lists) error {
	var full *writeError
	if errors.As(r.err, &full) {
		return r.err
	}
	if r.err != nil {
		s.bad++
		return lists.fault(r.err)
	}
	for _, p := range r.parts {
		s.add(p)
		if err := lists.part(p.made); err != nil {
			return err
		}
	}
	return nil
}

// add counts a part.
func (s *summary) add(p part) {
	if p.kept {
		s.kept++
	} else {
		s.made++
	}
	s.listed[hashOfName(p.made.Name)] = struct{}{}
	if p.made.Stopped {
		s.stopped++
	}
	s.grams += p.made.Grams
	s.need.add(p.made)
	if p.cut.piece.Name != "" {
		if p.made.Stopped {
			s.left = append(s.left, p.made.Name+" is laid on no sheet: it is "+flat.NotForCutting)
		} else {
			s.cuts = append(s.cuts, p.cut)
		}
	}
}
