package partfile_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/hangarflat/hangarflat/flat"
	"github.com/hangarflat/hangarflat/flat/partfile"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestSamplesReadDevelopAndWrite(t *testing.T) {
	files, err := filepath.Glob("testdata/*.toml")
	require.NoError(t, err)
	require.Len(t, files, 4)
	for _, name := range files {
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		doc, err := partfile.Read(name, bytes.NewReader(text))
		require.NoError(t, err)
		blank, err := flat.Develop(doc.Part)
		require.NoError(t, doc.Locate(err))
		for _, b := range blank.Bends {
			t.Logf("%s %v %.3f", b.Name, b.Bend.Angle, b.Bend.Radius)
		}
		for _, f := range blank.Findings {
			t.Log(f)
		}
		t.Logf("%+v", blank.Proof)
		assert.Less(t, blank.Proof.Largest(), 1e-6, name)

		var out strings.Builder
		require.NoError(t, partfile.Write(&out, doc.Part), name)
		t.Log(out.String())
		again, err := partfile.Read("again", strings.NewReader(out.String()))
		require.NoError(t, err, name)
		assert.Equal(t, doc.Part, again.Part, name)
	}
}
