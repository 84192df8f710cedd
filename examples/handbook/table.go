package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// A table is one published table as it stands in the repository.
type table struct {
	file    string   // from the root
	sources []string // the "# source:" lines of its head
	rows    int
	tests   []string
}

// readTables reads the head and counts the rows of every table.
func readTables(root string) ([]table, error) {
	var all []table
	for _, folder := range []string{"testdata", "flat/rivet"} {
		names, err := filepath.Glob(filepath.Join(root, filepath.FromSlash(folder), "*.csv"))
		if err != nil {
			return nil, err
		}
		slices.Sort(names)
		for _, name := range names {
			raw, err := os.ReadFile(name)
			if err != nil {
				return nil, err
			}
			t := table{file: folder + "/" + filepath.Base(name)}
			for line := range strings.Lines(string(raw)) {
				if source, ok := strings.CutPrefix(line, "# source:"); ok {
					t.sources = append(t.sources, strings.TrimSpace(source))
				}
			}
			if len(t.sources) == 0 {
				return nil, fmt.Errorf("%s: no \"# source:\" line", t.file)
			}
			r := csv.NewReader(bytes.NewReader(raw))
			r.Comment, r.FieldsPerRecord = '#', -1
			rows, err := r.ReadAll()
			if err != nil {
				return nil, fmt.Errorf("%s: %w", t.file, err)
			}
			t.rows = len(rows) - 1
			all = append(all, t)
		}
	}
	return all, nil
}
