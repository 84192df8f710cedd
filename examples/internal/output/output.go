// Package output writes the files of an example program all together or not at all.
package output

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/hangarflat/hangarflat/flat/paper"
)

// A File is one file to write and what writes it.
type File struct {
	Name  string // within the folder
	Write func(io.Writer) error
}

// Save renders every file before it saves the first, so that a fault in the last
// leaves no half set behind. It makes the folder.
func Save(folder string, files []File) error {
	done := make([]bytes.Buffer, len(files))
	for i, f := range files {
		if err := f.Write(&done[i]); err != nil {
			return fmt.Errorf("%s: %w", f.Name, err)
		}
	}
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	for i, f := range files {
		err := paper.Save(filepath.Join(folder, f.Name), func(w io.Writer) error { _, err := w.Write(done[i].Bytes()); return err })
		if err != nil {
			return err
		}
	}
	return nil
}
