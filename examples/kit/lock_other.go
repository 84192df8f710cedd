//go:build !unix

package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
)

// lock keeps a second run out of the folder. A run that is killed leaves the file
// behind, to be deleted by hand.
func lock(name string) (unlock func(), err error) {
	f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, fs.ErrExist) {
		return nil, fmt.Errorf("kit: another run is writing into this folder: wait for it, or delete %s if none is", name)
	}
	if err != nil {
		return nil, err
	}
	return func() { f.Close(); os.Remove(name) }, nil
}
