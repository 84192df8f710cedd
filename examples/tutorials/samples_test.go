package tutorials

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/paper"
	"github.com/hangarflat/hangarflat/flat/partfile"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// samples is the folder of the parts a maker copies; its page shows each.
const samples = "../intercostal/samples"

// The page of the samples shows every one of them and the channel beside them, each by
// the folded part out of the picture the part is drawn with.
func TestPageOfSamples(t *testing.T) {
	raw, err := os.ReadFile(filepath.Join(samples, "README.md"))
	require.NoError(t, err)
	page := string(raw)
	parts, err := filepath.Glob(filepath.Join(samples, "*.toml"))
	require.NoError(t, err)
	require.NotEmpty(t, parts)
	shown := 0
	for _, part := range append(parts, filepath.Join(samples, "..", "u-channel.toml")) {
		link, err := filepath.Rel(samples, part)
		require.NoError(t, err)
		picture := "pictures/" + strings.TrimSuffix(filepath.Base(part), ".toml") + ".png"
		assert.Contains(t, page, "("+filepath.ToSlash(link)+")", "the page does not name it")
		assert.Contains(t, page, "("+picture+")", "the page does not show it")
		samplePicture(t, filepath.Join(samples, picture), folded(t, part))
		shown++
	}
	files, err := filepath.Glob(filepath.Join(samples, "pictures", "*"))
	require.NoError(t, err)
	assert.Len(t, files, shown, "a picture of no sample")
}

// samplePicture holds a picture on file to what is drawn now, or with -update puts what
// is drawn in its place.
func samplePicture(t *testing.T, name string, drawn image.Image) {
	var have image.Image
	if raw, err := os.ReadFile(name); err == nil {
		have, err = png.Decode(bytes.NewReader(raw))
		require.NoError(t, err, name)
	}
	if alike(have, drawn) {
		return
	}
	if !*update {
		t.Errorf("%s is stale: run go test ./examples/tutorials -update and look at it", name)
		return
	}
	var file bytes.Buffer
	encoder := png.Encoder{CompressionLevel: png.BestCompression}
	require.NoError(t, encoder.Encode(&file, drawn))
	require.NoError(t, os.MkdirAll(filepath.Dir(name), 0o755))
	require.NoError(t, os.WriteFile(name, file.Bytes(), 0o644))
}

// alike allows for processors that round otherwise, which shows at the rim of a line and
// no farther: one pixel in a thousand may be another shade.
func alike(a, b image.Image) bool {
	if a == nil || a.Bounds().Size() != b.Bounds().Size() {
		return false
	}
	other, size := 0, a.Bounds().Size()
	for y := range size.Y {
		for x := range size.X {
			p, q := shade(a, x, y), shade(b, x, y)
			if max(p, q)-min(p, q) > 16 {
				other++
			}
		}
	}
	return other <= size.X*size.Y/1000
}

func shade(m image.Image, x, y int) uint8 {
	at := m.Bounds().Min
	return color.GrayModel.Convert(m.At(at.X+x, at.Y+y)).(color.Gray).Y
}

// folded is the folded part out of the picture of a part file: the right-hand column of
// the A4 sheet, from below its heading to the first empty row, the margins taken off.
func folded(t *testing.T, part string) image.Image {
	const across, sheet, left, right, top = 1000, 297.0, 202.0, 290.0, 13.0 // pixels; mm
	f, err := os.Open(part)
	require.NoError(t, err)
	defer f.Close()
	doc, err := partfile.Read(part, f)
	require.NoError(t, err)
	blank, err := flat.Develop(doc.Part)
	require.NoError(t, err)
	var file bytes.Buffer
	require.NoError(t, paper.PNG(&file, blank, paper.PictureOptions{}, across))
	whole, err := png.Decode(&file)
	require.NoError(t, err)
	pixel := func(mm float64) int { return int(mm * across / sheet) }
	var drawn image.Rectangle
	for y := pixel(top); y < whole.Bounds().Max.Y; y++ {
		row := image.Rectangle{}
		for x := pixel(left); x < pixel(right); x++ {
			if shade(whole, x, y) < 255 {
				row = row.Union(image.Rect(x, y, x+1, y+1))
			}
		}
		if row.Empty() && !drawn.Empty() {
			break
		}
		drawn = drawn.Union(row)
	}
	require.False(t, drawn.Empty(), part)
	return whole.(interface {
		SubImage(image.Rectangle) image.Image
	}).SubImage(drawn.Inset(-6))
}

// A picture of another part, or of the same one moved, is not taken for it.
func TestAlikeBites(t *testing.T) {
	zed := folded(t, filepath.Join(samples, "zed.toml"))
	assert.True(t, alike(zed, zed))
	assert.False(t, alike(nil, zed))
	assert.False(t, alike(folded(t, filepath.Join(samples, "hat-stiffener.toml")), zed))
	moved := image.NewGray(zed.Bounds())
	for y := range zed.Bounds().Dy() {
		for x := range zed.Bounds().Dx() {
			moved.SetGray(zed.Bounds().Min.X+x+2, zed.Bounds().Min.Y+y, color.Gray{Y: shade(zed, x, y)})
		}
	}
	assert.False(t, alike(moved, zed))
}
