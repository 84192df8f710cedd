package survey

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"github.com/hangarflat/hangarflat/material/measure"
)

func ExampleReadXYZ() {
	points, err := ReadXYZ(strings.NewReader("# x y z brightness, metres\n1.5 0.25 -0.125 77\n1.5;0.26;-0.125\n"), measure.Metre)
	fmt.Println(points, err)
	_, err = ReadXYZ(strings.NewReader("1 2 3\n4 5\n6 seven 8\n"), measure.Millimetre)
	fmt.Println(err)
	// Output:
	// [{1500 250 -125} {1500 260 -125}] <nil>
	// survey: line 2: 2 numbers: a point has x, y and z
	// survey: line 3: "seven": must be a number
}

var three = []r3.Vec{{X: 1, Y: 2, Z: 3}, {X: -4.5, Y: 5, Z: 6.25}, {X: 1000, Y: 0, Z: -0.5}}

// plyBytes writes the three points in every way the format allows, as the published
// description has it: other elements before, lists, other properties between.
func plyBytes(format, number string) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "ply\nformat %s 1.0\ncomment made by hand\nelement face 2\nproperty list uchar int vertex_indices\nelement vertex 3\nproperty %[2]s x\nproperty uchar red\nproperty %[2]s y\nproperty %[2]s z\nproperty float quality\nend_header\n", format, number)
	if format == "ascii" {
		b.WriteString("3 0 1 2\n4 0 1 2 0\n")
		for _, p := range three {
			fmt.Fprintf(&b, "%g 200 %g %g 0.5\n", p.X, p.Y, p.Z)
		}
		return b.Bytes()
	}
	var order binary.AppendByteOrder = binary.LittleEndian
	if format == "binary_big_endian" {
		order = binary.BigEndian
	}
	put := func(x float64) {
		if number == "double" {
			b.Write(order.AppendUint64(nil, math.Float64bits(x)))
		} else {
			b.Write(order.AppendUint32(nil, math.Float32bits(float32(x))))
		}
	}
	for _, face := range [][]uint32{{0, 1, 2}, {0, 1, 2, 0}} {
		b.WriteByte(byte(len(face)))
		for _, v := range face {
			b.Write(order.AppendUint32(nil, v))
		}
	}
	for _, p := range three {
		put(p.X)
		b.WriteByte(200)
		put(p.Y)
		put(p.Z)
		b.Write(order.AppendUint32(nil, math.Float32bits(0.5)))
	}
	return b.Bytes()
}

func TestReadPLYInAllItsForms(t *testing.T) {
	for _, format := range []string{"ascii", "binary_little_endian", "binary_big_endian"} {
		for _, number := range []string{"float", "double"} {
			got, err := ReadPLY(iotest.OneByteReader(bytes.NewReader(plyBytes(format, number))), 1)
			require.NoError(t, err, format)
			assert.Equal(t, three, got, format)
			got, err = ReadPLY(bytes.NewReader(plyBytes(format, number)), measure.Inch)
			require.NoError(t, err)
			assert.InDelta(t, 25.4, got[0].X, 1e-12)
			// Cut off anywhere, it is an error and never fewer points.
			whole := plyBytes(format, number)
			for n := range whole {
				got, err := ReadPLY(bytes.NewReader(whole[:n]), 1)
				if err == nil {
					t.Fatalf("%s %s cut at %d of %d: %v", format, number, n, len(whole), got)
				}
			}
		}
	}
}

func TestReadFaultsAreLocated(t *testing.T) {
	plyWith := func(header, body string) string {
		return "ply\nformat ascii 1.0\n" + header + "end_header\n" + body
	}
	const xyz = "property float x\nproperty float y\nproperty float z\n"
	xyzIn := func(s string) error { _, err := ReadXYZ(strings.NewReader(s), 1); return err }
	csvIn := func(s string) error { _, err := ReadCSV(strings.NewReader(s)); return err }
	plyIn := func(s string) error { _, err := ReadPLY(strings.NewReader(s), 1); return err }
	cases := []struct {
		name  string
		err   error
		field string
	}{
		{"empty", xyzIn(""), "scan"},
		{"NaN", xyzIn("1 2 3\n1 NaN 3\n"), "line 2 y"},
		{"huge", xyzIn("1 2 3\n\n1e9 0 3\n"), "line 3 x"},
		// Decimal commas: each was read as another point, (1, 5, 2) the first.
		{"comma x", xyzIn("1 2 3\n1,5 2,5 3,5\n"), "line 2"},
		{"comma y", xyzIn("1;2,5;3\n"), "line 1"},
		{"comma z", xyzIn("1\t2\t3,5\n"), "line 1"},
		{"comma of two", xyzIn("1,5 2\n"), "line 1"},
		{"long line", xyzIn("1 2 3\n" + strings.Repeat("1", mostLine+1)), "line 2"},
		{"csv empty", csvIn(""), "table"},
		{"csv no unit", csvIn("x,y [mm],z [mm]\n1,2,3\n"), "line 1 column 1"},
		{"csv bad unit", csvIn("x [furlong],y [mm],z [mm]\n1,2,3\n"), "line 1 column 1"},
		{"csv fraction", csvIn("x [mm],y [mm],z [1/8 in]\n1,2,3\n"), "line 1 column 3"}, // was taken as 1 1/8 in
		{"csv twice", csvIn("x [mm],y [mm],z [mm],x [mm]\n"), "line 1 column 4"},
		{"csv cells", csvIn("x [mm],y [mm],z [mm]\n1,2\n"), "line 2"},
		{"csv word", csvIn("x [mm],y [mm],z [mm]\n1,two,3\n"), "line 2 column y"},
		{"csv NaN", csvIn("x [mm],y [mm],z [mm]\n1,nan,3\n"), "line 2 y"},
		{"csv none", csvIn("x [mm],y [mm],z [mm]\n"), "scan"},
		{"no magic", plyIn("plx\n"), "header line 1"},
		{"bad format", plyIn("ply\nformat utf8 1.0\n"), "header line 2"},
		{"no format", plyIn("ply\nelement vertex 1\nend_header\n"), "header line 3"},
		{"bad count", plyIn(plyWith("element vertex -1\n", "")), "header line 3"},
		{"great count", plyIn(plyWith("element vertex 999999999999\n", "")), "header line 3"},
		{"bad property", plyIn(plyWith("element vertex 1\nproperty real x\n", "")), "header line 4"},
		{"no z", plyIn(plyWith("element vertex 1\nproperty float x\nproperty float y\n", "1 2\n")), "header"},
		{"no vertex", plyIn(plyWith("element face 0\n", "")), "header"},
		{"too few", plyIn(plyWith("element vertex 2\n"+xyz, "1 2 3\n")), "vertex 1"},
		{"word", plyIn(plyWith("element vertex 1\n"+xyz, "1 2 up\n")), "vertex 0 z"},
		{"comma", plyIn(plyWith("element vertex 1\n"+xyz, "1,5 2,5 3,5\n")), "vertex 0 x"},
		{"infinite", plyIn(plyWith("element vertex 1\n"+xyz, "1 Inf 3\n")), "vertex 0 y"},
		{"short row", plyIn(plyWith("element vertex 1\n"+xyz, "1 2\n")), "vertex 0"},
		{"none", plyIn(plyWith("element vertex 0\n"+xyz, "")), "scan"},
		{"claims much", plyIn("ply\nformat binary_little_endian 1.0\nelement vertex 90000000\n" + xyz + "end_header\nshort"), "vertex 0"},
	}
	for _, c := range cases {
		var e *Error
		if assert.ErrorAs(t, c.err, &e, c.name) {
			assert.Equal(t, c.field, e.Field, c.name)
		}
	}
	broken := errors.New("cable pulled")
	_, err := ReadXYZ(io.MultiReader(strings.NewReader("1 2 3\n"), iotest.ErrReader(broken)), 1)
	assert.ErrorIs(t, err, broken)
	_, err = ReadXYZ(strings.NewReader("1 2 3"), 0)
	var e *Error
	require.ErrorAs(t, err, &e)
	assert.Equal(t, "unit", e.Field)
}

// Commas that part the numbers are no decimal marks, nor is one that parts a colour off;
// nor the mark that some editors put before the first line a number.
func TestReadXYZPartsNumbers(t *testing.T) {
	for _, line := range []string{"1.5,2,3", "1.5, 2, 3", "1.5 ,2 ,3", "1.5,2,3 200,90,90", "1.5,2,3;77", "1.5 2 3, 77", "1.5 2 3", "1.5;2;3;4,5", "\ufeff1.5 2 3", "1.5, 2 3"} {
		got, err := ReadXYZ(strings.NewReader(line+"\n"), 1)
		require.NoError(t, err, line)
		assert.Equal(t, []r3.Vec{{X: 1.5, Y: 2, Z: 3}}, got, line)
	}
}

func TestReadCSV(t *testing.T) {
	got, err := ReadCSV(strings.NewReader("\ufeffname, Z [in],x [mm], y [ft]\n# by hand\np1,1,2,3\n\np2,-1,0,0\n"))
	require.NoError(t, err)
	require.Len(t, got, 2)
	assert.InDelta(t, 2, got[0].X, 1e-12)
	assert.InDelta(t, 914.4, got[0].Y, 1e-9)
	assert.InDelta(t, 25.4, got[0].Z, 1e-12)
	assert.Equal(t, r3.Vec{Z: -25.4}, got[1])
}

func FuzzReadPLY(f *testing.F) {
	for _, format := range []string{"ascii", "binary_little_endian", "binary_big_endian"} {
		f.Add(plyBytes(format, "float"))
		f.Add(plyBytes(format, "double"))
	}
	f.Add([]byte("ply\nformat ascii 1.0\nelement face 99999\nproperty list int int v\nelement vertex 1\nproperty char x\nproperty char y\nproperty char z\nend_header\n"))
	f.Add([]byte("ply\nformat binary_big_endian 1.0\nelement face 90000000\nelement vertex 1\n"))
	f.Fuzz(func(t *testing.T, b []byte) {
		points, err := ReadPLY(bytes.NewReader(b), 1)
		checkRead(t, points, err)
	})
}

func FuzzReadText(f *testing.F) {
	f.Add("1 2 3\n")
	f.Add("x [mm],y [mm],z [mm]\n1,2,3\n")
	f.Add("x [],y [mm,z mm]\n1,,\n")
	f.Fuzz(func(t *testing.T, s string) {
		points, err := ReadXYZ(strings.NewReader(s), 1)
		checkRead(t, points, err)
		points, err = ReadCSV(strings.NewReader(s))
		checkRead(t, points, err)
	})
}

// checkRead: either finite points or an error that is this package's.
func checkRead(t *testing.T, points []r3.Vec, err error) {
	t.Helper()
	var e *Error
	if err != nil {
		if !errors.As(err, &e) || len(points) > 0 {
			t.Fatalf("%d points and error %v", len(points), err)
		}
		return
	}
	if len(points) == 0 {
		t.Fatal("no points and no error")
	}
	for _, p := range points {
		if !finite3(p) {
			t.Fatalf("point %v", p)
		}
	}
}

func BenchmarkReadPLY1e6(b *testing.B) {
	const n = 1_000_000
	var buf bytes.Buffer
	fmt.Fprintf(&buf, "ply\nformat binary_little_endian 1.0\nelement vertex %d\nproperty float x\nproperty float y\nproperty float z\nend_header\n", n)
	rnd := rand.New(rand.NewPCG(1, 1))
	for range 3 * n {
		buf.Write(binary.LittleEndian.AppendUint32(nil, math.Float32bits(rnd.Float32()*1000)))
	}
	b.SetBytes(int64(buf.Len()))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ReadPLY(bytes.NewReader(buf.Bytes()), 1); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkReadXYZ1e6(b *testing.B) {
	var buf bytes.Buffer
	rnd := rand.New(rand.NewPCG(1, 1))
	for range 1_000_000 {
		fmt.Fprintf(&buf, "%.3f %.3f %.3f\n", rnd.Float64()*1000, rnd.Float64()*1000, rnd.Float64()*1000)
	}
	b.SetBytes(int64(buf.Len()))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ReadXYZ(bytes.NewReader(buf.Bytes()), 1); err != nil {
			b.Fatal(err)
		}
	}
}
