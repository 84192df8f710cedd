package paper

import (
	"bufio"
	"io"
	"os"
	"path/filepath"
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
