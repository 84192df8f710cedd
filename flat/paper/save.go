package paper

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
)

// Save writes a file by the given function into a temporary file beside it and
// renames that when all went well: a reader, or a cutter watching the folder,
// sees the old file or the whole new one and never a part. On an error nothing is
// left behind and an existing file stays as it was. It makes no folder.
func Save(name string, write func(io.Writer) error) (err error) {
	f, err := os.CreateTemp(filepath.Dir(name), "."+filepath.Base(name)+".*")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(f.Name())
		}
	}()
	w := bufio.NewWriterSize(f, 1<<16)
	if err = write(w); err != nil {
		return err
	}
	if err = w.Flush(); err != nil {
		return err
	}
	// CreateTemp makes a file only its owner may read; the cutter's computer is another.
	if err = f.Chmod(0o644); err != nil {
		return err
	}
	if err = f.Sync(); err != nil {
		return err
	}
	if err = f.Close(); err != nil {
		return err
	}
	return os.Rename(f.Name(), name)
}

// A File is one file of a set and what writes it.
type File struct {
	Name  string // within the folder of the set
	Write func(io.Writer) error
}

// SaveAll saves a set of files in a folder, which it makes. Every file is written to
// memory before the first is saved, so that a fault in the last leaves no half set
// behind; an error names the file. Two files of one name, or a name that leads out of the
// folder, are refused with an [*Error] each.
func SaveAll(folder string, files []File) error {
	if err := distinct(files); err != nil {
		return err
	}
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
		err := Save(filepath.Join(folder, f.Name), func(w io.Writer) error { _, err := done[i].WriteTo(w); return err })
		if err != nil {
			return err
		}
	}
	return nil
}

// distinct tells which files of a set cannot stand beside the others in one folder.
func distinct(files []File) error {
	var faults []error
	taken := make(map[string]bool, len(files))
	for _, f := range files {
		switch {
		case !filepath.IsLocal(f.Name) || filepath.Base(f.Name) != f.Name || f.Name == ".":
			faults = append(faults, &Error{"file", strconv.Quote(f.Name), "must be the name of a file in the folder"})
		case taken[f.Name]:
			faults = append(faults, &Error{"file", strconv.Quote(f.Name), "must be the only file of that name"})
		}
		taken[f.Name] = true
	}
	return errors.Join(faults...)
}
