package main

import (
	"crypto/sha256"
	"fmt"
	"io"
	"os"
)

// thisProgram is the SHA-256 of the program that runs: code and tables, and so all that
// a part is made from beside its template and its row. The same sources give the same
// program, with go run too.
func thisProgram() (string, error) {
	name, err := os.Executable()
	if err != nil {
		return "", unread(err)
	}
	f, err := os.Open(name)
	if err != nil {
		return "", unread(err)
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return "", unread(err)
	}
	return fmt.Sprintf("%x", h.Sum(nil)), nil
}

func unread(err error) error {
	return fmt.Errorf("kit: %w: the program must be able to read its own file, to tell the parts it made from another build's", err)
}
