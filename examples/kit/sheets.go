package main

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/hangarflat/hangarflat/dxfout"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/nest"
	"github.com/hangarflat/hangarflat/material/measure"
)

// sheetOptions say whether and on what the blanks are laid out.
type sheetOptions struct {
	wanted bool
	stock  nest.Stock
}

// readStock reads "96 in x 48 in", a gap and a margin; all faults at once come from
// package nest, when the numbers can be read.
func readStock(size, gap, margin string) (sheetOptions, error) {
	if size == "" {
		return sheetOptions{}, nil
	}
	s := sheetOptions{wanted: true}
	length, width, ok := strings.Cut(size, " x ")
	if !ok {
		return s, fmt.Errorf("kit: stock %q: write the length, along the grain, and the width: \"96 in x 48 in\"", size)
	}
	for _, q := range []struct {
		to         *float64
		name, text string
	}{{&s.stock.Length, "stock length", length}, {&s.stock.Width, "stock width", width}, {&s.stock.Gap, "gap", gap}, {&s.stock.Margin, "margin", margin}} {
		mm, err := measure.ParseLength(q.text)
		if err != nil {
			return s, fmt.Errorf("kit: %s: %w", q.name, err)
		}
		*q.to = mm
	}
	return s, s.stock.Validate()
}

// A cut is what a sheet needs to know of a blank.
type cut struct {
	kind    sheetKind
	piece   nest.Piece
	grams   float64
	drawing drawing.Drawing // what is cut and marked, nothing lettered
}

func toCut(b flat.Blank) cut {
	c := cut{
		kind:  sheetKind{b.Part.Sheet.Material.String(), b.Part.Sheet.Thickness},
		grams: b.Mass,
		piece: nest.Piece{Name: b.Part.Name, Outline: b.Outline, Grain: b.Part.Sheet.Grain},
	}
	d := drawing.Of(b)
	shown := func(l drawing.Layer) bool {
		return slices.Contains([]drawing.Layer{drawing.Cut, drawing.Hole, drawing.Rivet, drawing.BendTangent}, l)
	}
	c.drawing.Paths = slices.DeleteFunc(d.Paths, func(p drawing.Path) bool { return !shown(p.Layer) })
	c.drawing.Circles = slices.DeleteFunc(d.Circles, func(p drawing.Circle) bool { return !shown(p.Layer) })
	return c
}

// A laidSheet is one sheet of stock as the lists speak of it.
type laidSheet struct {
	name  string // of its files, without their suffix
	kind  sheetKind
	sheet nest.Sheet
	cuts  []cut
	stock nest.Stock
}

func (l laidSheet) String() string {
	left := l.stock.Length - l.sheet.Reach - l.stock.Gap
	rest := "nothing of its length is left whole"
	if left > 0 {
		rest = measure.InchText(left, 1) + " of its length is left whole"
	}
	return fmt.Sprintf("%s, %s: %d blanks, %.1f %% of the sheet used, %.1f %% of the length cut from; %s",
		l.name, l.kind, len(l.sheet.Placed), 100*l.sheet.Used(l.stock), 100*l.sheet.UsedOfReach(l.stock), rest)
}

// layOut lays the blanks out kind by kind. left names those that no sheet takes.
func (o sheetOptions) layOut(cuts []cut) (sheets []laidSheet, left []string, err error) {
	groups := map[sheetKind][]cut{}
	list := materialList{}
	for _, c := range cuts {
		groups[c.kind] = append(groups[c.kind], c)
		list[c.kind] = need{}
	}
	for _, kind := range list.kinds() {
		group := groups[kind]
		pieces := make([]nest.Piece, len(group))
		for i, c := range group {
			pieces[i] = c.piece
		}
		l, err := nest.Lay(o.stock, pieces)
		if err != nil {
			return nil, nil, fmt.Errorf("kit: %s: %w", kind, err)
		}
		for _, s := range l.Sheets {
			name := fmt.Sprintf("sheet-%d", len(sheets)+1)
			sheets = append(sheets, laidSheet{name, kind, s, group, o.stock})
		}
		for _, p := range l.Left {
			left = append(left, fmt.Sprintf("%s fits no sheet: %s", pieces[p.Piece].Name, p.Reason))
		}
	}
	return sheets, left, nil
}

// draw makes the drawing of a sheet: its edge as a mark that is not cut, and the
// blanks with what is cut and marked on them.
func (l laidSheet) draw() drawing.Drawing {
	d := drawing.Drawing{Name: l.name, Title: "Stock sheet " + l.kind.String()}
	length, width := l.stock.Length, l.stock.Width
	d.Add(drawing.Note, "sheet", rectangle(length, width))
	for _, p := range l.sheet.Placed {
		c := l.cuts[p.Piece]
		for _, path := range c.drawing.Paths {
			d.Add(path.Layer, path.Name, path.Transform(p.Move))
		}
		for _, h := range c.drawing.Circles {
			h.Center = p.Move.Apply(h.Center)
			d.Circles = append(d.Circles, h)
		}
		outline := c.piece.Outline.Transform(p.Move)
		d.Labels = append(d.Labels, drawing.Label{Layer: drawing.Note, Text: []string{c.piece.Name}, At: outline.Centroid()})
	}
	d.Notes = append([]string{l.String(), "The grain runs along the length, left to right. Blanks lie marking face up."}, drawing.Cautions()...)
	return d
}

const (
	sheetFiles    = "sheet-*.*"
	sheetListName = "sheet-cut-list.csv"
)

// sheetList is the cut list sheet by sheet: what is cut from which, and where it lies.
func sheetList(sheets []laidSheet) []byte {
	var list bytes.Buffer
	rows := csv.NewWriter(&list)
	rows.Write([]string{"stock sheet", "sheet", "thickness mm", "part", "grain from x", "turned to lie", "mass g", "from the left mm", "from below mm"})
	for _, s := range sheets {
		for _, p := range s.sheet.Placed {
			c := s.cuts[p.Piece]
			grain := "not stated"
			if c.piece.Grain.Stated {
				grain = c.piece.Grain.Angle.String()
			}
			at := c.piece.Outline.Transform(p.Move).Bounds().Min
			rows.Write([]string{s.name, s.kind.material, decimals(s.kind.thickness, 3), c.piece.Name, grain, p.Turned.String(), decimals(c.grams, 1), decimals(at.X, 1), decimals(at.Y, 1)})
		}
	}
	rows.Flush() // into memory, which has no errors
	return list.Bytes()
}

// standingSheets names the files of sheets that stand in the kit, sorted. The pattern is
// held against their own names only: the folder may be called what the user likes, in
// brackets too.
func (k kit) standingSheets() ([]string, error) {
	all, err := os.ReadDir(k.path(sheetsName))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var names []string
	for _, d := range all {
		ours, err := filepath.Match(sheetFiles, d.Name())
		if err != nil {
			return nil, err
		}
		if ours {
			names = append(names, d.Name())
		}
	}
	return names, nil
}

// writeSheets takes away the sheets of an earlier run and writes these.
func (k kit) writeSheets(sheets []laidSheet) error {
	old, err := k.standingSheets()
	if err != nil {
		return &writeError{err}
	}
	for _, name := range old {
		if err := os.Remove(k.path(filepath.Join(sheetsName, name))); err != nil {
			return &writeError{err}
		}
	}
	if len(sheets) == 0 {
		return nil
	}
	for _, folder := range []string{k.path(sheetsName), k.path(filepath.Join(workName, sheetsName))} {
		if err := os.MkdirAll(folder, 0o755); err != nil {
			return &writeError{err}
		}
	}
	if err := k.save(filepath.Join(sheetsName, sheetListName), sheetList(sheets)); err != nil {
		return &writeError{err}
	}
	for _, s := range sheets {
		d := s.draw()
		var dxf, svg bytes.Buffer
		if err := dxfout.Write(&dxf, d, k.dxf); err != nil {
			return fmt.Errorf("kit: %s: %w", s.name, err)
		}
		sheetPicture(&svg, s, d)
		for _, f := range []struct {
			suffix string
			data   []byte
		}{{".dxf", dxf.Bytes()}, {".svg", svg.Bytes()}} {
			if err := k.save(filepath.Join(sheetsName, s.name+f.suffix), f.data); err != nil {
				return &writeError{err}
			}
		}
	}
	return nil
}
