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
const flushAt = 1 << 12

// code writes a group code, right-aligned in three places as the reference has it.
// The codes of this format are below 1000.
func (t *tags) code(c int) {
	hundreds, tens, ones := byte('0'+c/100), byte('0'+c/10%10), byte('0'+c%10)
	switch {
	case c < 10:
		hundreds, tens = ' ', ' '
	case c < 100:
		hundreds = ' '
	}
	t.buf = append(t.buf, hundreds, tens, ones, '\r', '\n')
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
	var digits [16]byte
	i := len(digits)
	for first := true; first || h > 0; h >>= 4 {
		i--
		digits[i] = hex[h&0xF]
		first = false
	}
	t.buf = append(t.buf, digits[i:]...)
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

const hex = "0123456789ABCDEF"

// pairs are the numbers from 00 to 99: two digits at a time are half the divisions.
const pairs = "00010203040506070809" + "10111213141516171819" +
	"20212223242526272829" + "30313233343536373839" +
	"40414243444546474849" + "50515253545556575859" +
	"60616263646566676869" + "70717273747576777879" +
	"80818283848586878889" + "90919293949596979899"

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
	for u := uint64(n); u > 0 || len(digits)-i <= places; u /= 100 {
		i -= 2
		pair := u % 100 * 2
		digits[i], digits[i+1] = pairs[pair], pairs[pair+1]
	}
	point := len(digits) - places
	if digits[i] == '0' && i+1 < point {
		i++ // the last pair had but one digit
	}
	end := len(digits)
	for end > point+1 && digits[end-1] == '0' {
		end--
	}
	dst = append(dst, digits[i:point]...)
	dst = append(dst, '.')
	return append(dst, digits[point:end]...)
}
