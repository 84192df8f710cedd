package main

import (
	"fmt"
	"io"
	"strings"
	"time"
)

// A bar shows how far the kit is and how long it will take.
type bar struct {
	w          io.Writer
	now        func() time.Time
	total, n   int
	bad        int
	begun, was time.Time
}

func newBar(w io.Writer) *bar { return &bar{w: w, now: time.Now} }

func (b *bar) start(total int) {
	b.total, b.begun = total, b.now()
}

// step counts a part and redraws the bar, ten times a second at most.
func (b *bar) step(bad bool) {
	b.n++
	if bad {
		b.bad++
	}
	now := b.now()
	if now.Sub(b.was) < 100*time.Millisecond && b.n < b.total {
		return
	}
	b.was = now
	const width = 30
	done := width * b.n / max(b.total, 1)
	left := time.Duration(float64(now.Sub(b.begun)) / float64(b.n) * float64(b.total-b.n)).Round(time.Second)
	fmt.Fprintf(b.w, "\r[%s%s] %d of %d, %d at fault, %v left ", strings.Repeat("=", done), strings.Repeat(" ", width-done), b.n, b.total, b.bad, left)
}

func (b *bar) finish() { fmt.Fprintln(b.w) }
