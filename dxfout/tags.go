package dxfout

import (
	"io"
	"math"
	"strconv"
)

// tags writes group codes and values. The first failure of the writer below
// sticks and silences the rest.
type tags struct {
	w   io.Writer
	buf []byte
	err error
}

// flushAt is large enough that a million entities feel no write, small enough that
// a small part does not feel the buffer.
const flushAt = 1 << 13

// code writes a group code, right-aligned in three places as the reference has it.
func (t *tags) code(c int) {
	switch {
	case c < 10:
		t.buf = append(t.buf, ' ', ' ')
	case c < 100:
		t.buf = append(t.buf, ' ')
	}
	t.buf = strconv.AppendInt(t.buf, int64(c), 10)
	t.buf = append(t.buf, '\r', '\n')
}

func (t *tags) end() {
	t.buf = append(t.buf, '\r', '\n')
	if len(t.buf) >= flushAt {
		t.flush()
	}
}

func (t *tags) flush() {
	if t.err == nil && len(t.buf) > 0 {
		_, t.err = t.w.Write(t.buf)
	}
	t.buf = t.buf[:0]
}

func (t *tags) str(c int, s string) {
	t.code(c)
	t.buf = append(t.buf, s...)
	t.end()
}

func (t *tags) int(c int, n int64) {
	t.code(c)
	t.buf = strconv.AppendInt(t.buf, n, 10)
	t.end()
}

func (t *tags) handle(c int, h uint64) {
	t.code(c)
	n := len(t.buf)
	t.buf = strconv.AppendUint(t.buf, h, 16)
	for i := n; i < len(t.buf); i++ {
		if t.buf[i] >= 'a' {
			t.buf[i] -= 'a' - 'A'
		}
	}
	t.end()
}

// length writes a coordinate already on the grid, see [grid].
func (t *tags) length(c int, g int64) {
	t.code(c)
	t.buf = appendFixed(t.buf, g, lengthPlaces)
	t.end()
}

// fine writes a bulge or an angle in degrees.
func (t *tags) fine(c int, x float64) {
	t.code(c)
	t.buf = appendFixed(t.buf, int64(math.Round(float64(x*fineSteps))), finePlaces)
	t.end()
}

func (t *tags) point(c int, p gridPoint) {
	t.length(c, p.x)
	t.length(c+10, p.y)
	t.str(c+20, "0.0")
}

const (
	lengthPlaces = 8
	lengthSteps  = 1e8
	finePlaces   = 12
	fineSteps    = 1e12
)

// A gridPoint is a point rounded to the last place that is printed. An end point
// shared by two segments is rounded once, so that it prints the same twice.
type gridPoint struct{ x, y int64 }

// grid rounds a length in the file's unit to what is printed. A kilometre is 1e14
// steps, well inside the 2^53 that a float64 holds exactly.
func grid(x float64) int64 { return int64(math.Round(float64(x * lengthSteps))) }

// appendFixed prints n/10^places in fixed point without trailing zeros but with
// one decimal at least: "0.0", "-12.5". Integers have no minus zero, no exponent
// and nothing that is not a number.
func appendFixed(dst []byte, n int64, places int) []byte {
	if n < 0 {
		dst = append(dst, '-')
		n = -n
	}
	var digits [24]byte
	i := len(digits)
	for u := uint64(n); u > 0 || len(digits)-i <= places; u /= 10 {
		i--
		digits[i] = byte('0' + u%10)
	}
	point := len(digits) - places
	end := len(digits)
	for end > point+1 && digits[end-1] == '0' {
		end--
	}
	dst = append(dst, digits[i:point]...)
	dst = append(dst, '.')
	return append(dst, digits[point:end]...)
}
