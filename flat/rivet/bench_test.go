package rivet_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/flat/rivet"
	"github.com/hangarflat/hangarflat/material"
)

// skinRows is a skin of 400 slightly curved rows of 250 rivets, 100,000 in all.
func skinRows(t testing.TB) rivet.Layout {
	out := rivet.Layout{Rivet: eighth}
	for i := range 400 {
		y := 20 * float64(i)
		edge := outline.Path{Vertices: []outline.Vertex{{P: at(0, y), Bulge: .002}, {P: at(249*20, y)}}}
		l, err := rivet.Pattern{Name: fmt.Sprintf("row %d", i), Edge: edge, Pitch: 20.001}.Lay(eighth)
		require.NoError(t, err)
		out.Rows = append(out.Rows, l.Rows...)
	}
	require.Equal(t, 100000, out.Count())
	return out
}

func BenchmarkLay100kRivets(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		skinRows(b)
	}
}

// One staggered pattern of 400 rows, 250 and 249 rivets in turn, across a stringer.
func BenchmarkLayPattern100k(b *testing.B) {
	p := rivet.Pattern{Name: "skin", Edge: line(at(0, 0), at(249*20, 0)), Rows: 400, Spacing: 15, Pitch: 20.001, Stagger: true,
		Keep: []rivet.Keepout{{Name: "stringer", Shape: line(at(2000, -10), at(2300, 7000)), Clear: 12}}}
	b.ReportAllocs()
	for b.Loop() {
		_, err := p.Lay(eighth)
		require.NoError(b, err)
	}
}

func BenchmarkDrivingOrder100k(b *testing.B) {
	l := skinRows(b)
	b.ReportAllocs()
	for b.Loop() {
		order, err := rivet.DrivingOrder(l.Rows)
		require.NoError(b, err)
		require.Len(b, order, 100000)
	}
}

func BenchmarkCheck100k(b *testing.B) {
	c := rivet.Check{Layout: skinRows(b), Stack: []material.Sheet{clad(.040), clad(.040)},
		Edges: []rivet.SheetEdge{{Name: "skin", Path: outline.Rect(at(-20, -20), at(5000, 8020))}}}
	b.ReportAllocs()
	for b.Loop() {
		_, err := c.Findings()
		require.NoError(b, err)
	}
}

func BenchmarkPatch(b *testing.B) {
	p := hatch(b)
	p.Roll = rivet.Roll{Radius: 600}
	b.ReportAllocs()
	for b.Loop() {
		_, err := p.Fit()
		require.NoError(b, err)
	}
}
