package command

import (
	"fmt"
	"os"
	"path/filepath"

	"github.com/hangarflat/hangarflat/bend/striplog"
)

// Strips reads the shop's log of test strips that a part file names from its own folder.
func Strips(partFile, log string) (striplog.Log, error) {
	name := filepath.Join(filepath.Dir(partFile), filepath.FromSlash(log))
	raw, err := os.ReadFile(name)
	if err != nil {
		return striplog.Log{}, fmt.Errorf("%s: its test strips: %w", partFile, err)
	}
	read, err := striplog.Read(filepath.Base(name), raw)
	if err != nil {
		return striplog.Log{}, fmt.Errorf("%s: its test strips, %s:\n%w", partFile, name, err)
	}
	return read, nil
}
