package main

import (
	"io"
	"os"
	"testing"

	"github.com/hangarflat/hangarflat/dxfout"
	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/drawing"
	"github.com/hangarflat/hangarflat/flat/partfile"
)

// BenchmarkWholePart develops and proves the demo part, draws it and writes the
// bytes of its DXF.
func BenchmarkWholePart(b *testing.B) {
	f, err := os.Open("keel-bay-7.toml")
	if err != nil {
		b.Fatal(err)
	}
	defer f.Close()
	doc, err := partfile.Read("keel-bay-7.toml", f)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		blank, err := flat.Develop(doc.Part)
		if err != nil {
			b.Fatal(err)
		}
		if err := dxfout.Write(io.Discard, drawing.Of(blank), dxfout.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
