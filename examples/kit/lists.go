package main

import (
	"bufio"
	"encoding/csv"
	"fmt"
	"html"
	"os"
	"path/filepath"
	"strconv"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/material/measure"
)

// lists are the index page, the cut list and the list of faults, written part by
// part under temporary names and put in place together at the end.
type lists struct {
	index, cut, faults *draft
	rows               *csv.Writer
	patterns           bool
}

// A draft is a file under a temporary name.
type draft struct {
	*bufio.Writer
	file *os.File
	name string
}

func newDraft(name string) (*draft, error) {
	f, err := os.CreateTemp(filepath.Dir(name), "."+filepath.Base(name)+".*")
	if err != nil {
		return nil, err
	}
	return &draft{bufio.NewWriter(f), f, name}, nil
}

func (d *draft) keep() error {
	err := d.Flush()
	if e := d.file.Chmod(0o644); err == nil {
		err = e
	}
	if e := d.file.Close(); err == nil {
		err = e
	}
	if err != nil {
		os.Remove(d.file.Name())
		return err
	}
	return os.Rename(d.file.Name(), d.name)
}

func (d *draft) drop() {
	if d != nil {
		d.file.Close()
		os.Remove(d.file.Name())
	}
}

func (k kit) openLists() (*lists, error) {
	l := &lists{patterns: k.patterns}
	for _, d := range []struct {
		to   **draft
		name string
	}{{&l.index, indexName}, {&l.cut, cutListName}, {&l.faults, faultsName}} {
		var err error
		if *d.to, err = newDraft(k.path(d.name)); err != nil {
			l.drop()
			return nil, err
		}
	}
	l.rows = csv.NewWriter(l.cut)
	l.rows.Write([]string{"part", "title", "sheet", "thickness in", "thickness mm", "grain from x", "blank along x in", "blank along y in", "blank along x mm", "blank along y mm", "area mm2", "mass g", "remark"})
	l.index.WriteString(head)
	for _, caution := range drawing.Cautions() {
		fmt.Fprintf(l.index, "<p class=caution>%s</p>\n", html.EscapeString(caution))
	}
	l.index.WriteString("<ul>\n")
	return l, nil
}

// The page needs no script and nothing from elsewhere.
const head = `<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Kit of parts</title>
<style>
body { font: 16px/1.4 sans-serif; margin: 2rem; color: #1c2126; background: #fff; }
ul { list-style: none; padding: 0; display: grid; gap: 1.5rem; grid-template-columns: repeat(auto-fill, minmax(20rem, 1fr)); }
li { border: 1px solid #c9d1d8; border-radius: 4px; padding: 1rem; }
img { width: 100%; height: auto; background: #fff; }
h2 { font-size: 1.1rem; margin: .5rem 0 0; }
.stop { color: #a4161a; font-weight: bold; }
.caution { margin: 0; font-size: .9rem; }
</style>
<h1>Kit of parts</h1>
`

func (l *lists) part(e entry) error {
	remark := ""
	switch {
	case e.Stopped:
		remark = flat.NotForCutting
	case e.Warnings > 0:
		remark = fmt.Sprintf("%d warnings on the card", e.Warnings)
	}
	num := func(x float64, decimals int) string { return strconv.FormatFloat(x, 'f', decimals, 64) }
	l.rows.Write([]string{
		e.Name, e.Title, e.Sheet, num(e.Thickness/measure.Inch, 4), num(e.Thickness, 3), e.Grain,
		num(e.Width/measure.Inch, 3), num(e.Height/measure.Inch, 3), num(e.Width, 2), num(e.Height, 2),
		num(e.Area, 0), num(e.Grams, 1), remark,
	})
	name := html.EscapeString(e.Name)
	fmt.Fprintf(l.index, "<li><a href=\"%s.svg\"><img src=\"%s.svg\" alt=\"%s\" loading=\"lazy\"></a><h2>%s</h2><p>%s<br>%s %s</p>", name, name, name, name,
		html.EscapeString(e.Title), html.EscapeString(e.Sheet), measure.Both(e.Thickness))
	if remark != "" {
		class := "warn"
		if e.Stopped {
			class = "stop"
		}
		fmt.Fprintf(l.index, "<p class=%s>%s</p>", class, html.EscapeString(remark))
	}
	fmt.Fprintf(l.index, "<p><a href=\"%s.dxf\">DXF</a> <a href=\"%s-card.txt\">card</a>", name, name)
	if l.patterns {
		fmt.Fprintf(l.index, " <a href=\"%s-pattern.pdf\">full-size pattern</a>", name)
	}
	_, err := l.index.WriteString("</p></li>\n")
	if l.rows.Error() != nil {
		return l.rows.Error()
	}
	return err
}

func (l *lists) fault(err error) error {
	_, e := fmt.Fprintf(l.faults, "%v\n\n", err)
	return e
}

// keep puts the finished lists in place.
func (l *lists) keep() error {
	l.rows.Flush()
	if err := l.rows.Error(); err != nil {
		l.drop()
		return err
	}
	l.index.WriteString("</ul>\n</html>\n")
	for i, d := range []*draft{l.index, l.cut, l.faults} {
		if err := d.keep(); err != nil {
			for _, rest := range []*draft{l.index, l.cut, l.faults}[i+1:] {
				rest.drop()
			}
			return err
		}
	}
	return nil
}

func (l *lists) drop() {
	l.index.drop()
	l.cut.drop()
	l.faults.drop()
}
