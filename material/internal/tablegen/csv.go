package main

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// A table is one CSV file: the keys of its "# key: text" head, its column names
// and its rows. A key may come more than once.
type table struct {
	file string
	head map[string][]string
	cols []string
	rows [][]string
}

// key returns the first text of a head key, or "".
func (t table) key(name string) string {
	if all := t.head[name]; len(all) > 0 {
		return all[0]
	}
	return ""
}

// column returns a row's cell by column name. A name the table has not is "".
func (t table) column(row []string, name string) string {
	for i, c := range t.cols {
		if c == name {
			return row[i]
		}
	}
	return ""
}

func (t table) fault(row []string, cell string, err error) error {
	return fmt.Errorf("%s: row %q: %q: %w", t.file, row[0], cell, err)
}

// load reads one table. A table without a word on its source is refused.
func load(dir, file string) (table, error) {
	raw, err := os.ReadFile(filepath.Join(dir, file))
	if err != nil {
		return table{}, err
	}
	t := table{file: file, head: map[string][]string{}}
	var body bytes.Buffer
	lines := bufio.NewScanner(bytes.NewReader(raw))
	for lines.Scan() {
		comment, isHead := strings.CutPrefix(lines.Text(), "#")
		if !isHead {
			body.WriteString(lines.Text() + "\n")
			continue
		}
		if key, text, ok := strings.Cut(comment, ":"); ok {
			key = strings.TrimSpace(key)
			t.head[key] = append(t.head[key], strings.TrimSpace(text))
		}
	}
	if err := lines.Err(); err != nil {
		return table{}, fmt.Errorf("%s: %w", file, err)
	}
	rows, err := csv.NewReader(&body).ReadAll()
	if err != nil {
		return table{}, fmt.Errorf("%s: %w", file, err)
	}
	if len(rows) < 2 || len(t.head["source"]) == 0 {
		return table{}, fmt.Errorf("%s: want a # source: head, column names and rows", file)
	}
	t.cols, t.rows = rows[0], rows[1:]
	return t, nil
}

// provenance gives the Go name for a word of provenance in a table.
func provenance(word string) (string, error) {
	switch {
	case strings.HasPrefix(word, "seen"):
		return "Read", nil
	case strings.HasPrefix(word, "memory"):
		return "Memory", nil
	case word == "common practice":
		return "CommonPractice", nil
	}
	return "", fmt.Errorf("provenance must be seen, memory or common practice, got %q", word)
}

// decimal passes on a cell that is a plain number, as text a Go file can hold.
func decimal(cell string) (string, error) {
	x, err := strconv.ParseFloat(cell, 64)
	if err != nil || x < 0 {
		return "", fmt.Errorf("want a number, 0 or more")
	}
	return strconv.FormatFloat(x, 'f', -1, 64), nil
}

// inches gives a Go expression in mm for a cell in inches, decimal or fraction.
func inches(cell string) (string, error) {
	if above, below, ok := strings.Cut(cell, "/"); ok {
		n, err1 := decimal(above)
		d, err2 := decimal(below)
		if err1 != nil || err2 != nil || d == "0" {
			return "", fmt.Errorf("want a length in inches")
		}
		return n + ".0 / " + d + " * inch", nil
	}
	x, err := decimal(cell)
	if err != nil {
		return "", err
	}
	return x + " * inch", nil
}
