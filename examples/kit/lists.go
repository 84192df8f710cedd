package main

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"html"
	"os"
	"path/filepath"
	"slices"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/material/measure"
)

// lists are the index page, the cut list, the list of what the store has to give out
// and the list of faults, written part by part in the folder of what is not whole and
// put in place at the end, when all of them are whole.
type lists struct {
	index, cut, material, faults *draft

	rows  *csv.Writer
	files []file
}

// all are the lists in the order they are put in place: the index page comes last, so
// that it never leads to lists older than itself.
func (l *lists) all() []*draft { return []*draft{l.cut, l.material, l.faults, l.index} }

// A draft is a file that is not in its place yet.
type draft struct {
	*bufio.Writer
	file *os.File
	name string
}

func (k kit) newDraft(name string) (*draft, error) {
	f, err := os.Create(filepath.Join(k.path(workName), name))
	if err != nil {
		return nil, err
	}
	return &draft{bufio.NewWriter(f), f, k.path(name)}, nil
}

// finish has all of the file on the disk, still out of its place.
func (d *draft) finish() error {
	return errors.Join(d.Flush(), d.file.Sync(), d.file.Close())
}

func (d *draft) place() error { return os.Rename(d.file.Name(), d.name) }

func (d *draft) drop() {
	if d != nil {
		d.file.Close()
		os.Remove(d.file.Name())
	}
}

func (k kit) openLists() (*lists, error) {
	l := &lists{files: k.files}
	for _, d := range []struct {
		to   **draft
		name string
	}{{&l.index, indexName}, {&l.cut, cutListName}, {&l.material, materialName}, {&l.faults, faultsName}} {
		var err error
		if *d.to, err = k.newDraft(d.name); err != nil {
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
.warn { color: #8a4b08; }
.sheet { max-width: 70rem; margin: 0 0 1.5rem; }
li p { margin: .3rem 0; }
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
	l.rows.Write([]string{
		e.Name, e.Title, e.Sheet, decimals(e.Thickness/measure.Inch, 4), decimals(e.Thickness, 3), e.Grain,
		decimals(e.Width/measure.Inch, 3), decimals(e.Height/measure.Inch, 3), decimals(e.Width, 2), decimals(e.Height, 2),
		decimals(e.Area, 0), decimals(e.Grams, 1), remark,
	})
	l.card(e, remark)
	if l.rows.Error() != nil {
		return &writeError{l.rows.Error()}
	}
	if _, err := l.index.WriteString("</p></li>\n"); err != nil {
		return &writeError{err}
	}
	return nil
}

// card is a part's place on the index page.
func (l *lists) card(e entry, remark string) {
	name := html.EscapeString(e.Name)
	l.index.WriteString("<li>")
	if slices.ContainsFunc(l.files, func(f file) bool { return f.kind == picture }) {
		fmt.Fprintf(l.index, "<a href=\"%s.svg\"><img src=\"%s.svg\" alt=\"blank of %s\" loading=\"lazy\"></a>", name, name, name)
	}
	fmt.Fprintf(l.index, "<h2>%s</h2><p>%s<br>%s %s, grain %s<br>blank %s x %s, %s g</p>", name, html.EscapeString(e.Title), html.EscapeString(e.Sheet),
		measure.Both(e.Thickness), html.EscapeString(e.Grain), measure.InchText(e.Width, 2), measure.InchText(e.Height, 2), decimals(e.Grams, 1))
	if remark != "" {
		class := "warn"
		if e.Stopped {
			class = "stop"
		}
		fmt.Fprintf(l.index, "<p class=%s>%s</p>", class, html.EscapeString(remark))
	}
	l.index.WriteString("<p class=files>")
	for i, f := range l.files {
		if i > 0 {
			l.index.WriteString(" · ")
		}
		fmt.Fprintf(l.index, "<a href=\"%s%s\">%s</a>", name, f.suffix, f.label)
	}
}

func (l *lists) fault(err error) error {
	if _, e := fmt.Fprintf(l.faults, "%v\n\n", err); e != nil {
		return &writeError{e}
	}
	return nil
}

// keep finishes the lists with what is known at the end and puts them in place.
func (l *lists) keep(sum summary) error {
	l.rows.Flush()
	err := l.rows.Error()
	if err == nil {
		err = sum.need.write(csv.NewWriter(l.material))
	}
	l.foot(sum)
	for _, step := range []func(*draft) error{(*draft).finish, (*draft).place} {
		for _, d := range l.all() {
			if err == nil {
				err = step(d)
			}
		}
	}
	if err != nil {
		l.drop()
	}
	return err
}

// foot writes what the index page says below the parts.
func (l *lists) foot(sum summary) {
	l.index.WriteString("</ul>\n<h2>Material</h2>\n")
	for _, line := range sum.need.say() {
		fmt.Fprintf(l.index, "<p>%s</p>\n", html.EscapeString(line))
	}
	fmt.Fprintf(l.index, "<p><a href=\"%s\">cut list</a> · <a href=\"%s\">material list</a>", cutListName, materialName)
	if sum.bad > 0 {
		fmt.Fprintf(l.index, " · <a class=stop href=\"%s\">%d rows made no part</a>", faultsName, sum.bad)
	}
	l.index.WriteString("</p>\n")
	if len(sum.sheets)+len(sum.left) == 0 {
		l.index.WriteString("</html>\n")
		return
	}
	l.index.WriteString("<h2>Stock sheets</h2>\n")
	if len(sum.sheets) > 0 {
		fmt.Fprintf(l.index, "<p><a href=\"%s/%s\">cut list, sheet by sheet</a></p>\n", sheetsName, sheetListName)
	}
	for _, s := range sum.sheets {
		fmt.Fprintf(l.index, "<div class=sheet><a href=\"%[1]s/%[2]s.svg\"><img src=\"%[1]s/%[2]s.svg\" alt=\"%[2]s\" loading=\"lazy\"></a><p>%[3]s<br><a href=\"%[1]s/%[2]s.dxf\">DXF</a></p></div>\n",
			sheetsName, s.name, html.EscapeString(s.String()))
	}
	for _, line := range sum.left {
		fmt.Fprintf(l.index, "<p class=warn>%s</p>\n", html.EscapeString(line))
	}
	l.index.WriteString("</html>\n")
}

func (l *lists) drop() {
	for _, d := range l.all() {
		d.drop()
	}
}
