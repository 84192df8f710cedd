//go:build unix

package main

import (
	"fmt"
	"os"
	"syscall"
)

// lock keeps a second run out of the folder. The system lets go of the lock when
// the run ends, also when it is killed.
func lock(name string) (unlock func(), err error) {
	f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o644)
	if err != nil {
		return nil, err
	}
	if err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); err != nil {
		f.Close()
		return nil, fmt.Errorf("kit: another run is writing into this folder (%s is held): wait for it or choose another folder", name)
	}
	return func() { f.Close() }, nil
}
