package paper_test

import (
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/hangarflat/hangarflat/flat/paper"
)

// A file appears whole or not at all.
func ExampleSave() {
	folder, err := os.MkdirTemp("", "bench")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(folder)
	name := filepath.Join(folder, "card.txt")
	err = paper.Save(name, func(w io.Writer) error {
		fmt.Fprintln(w, "half of it")
		return fmt.Errorf("ran out of ink")
	})
	_, missing := os.Stat(name)
	fmt.Println(err, os.IsNotExist(missing))
	// Output:
	// ran out of ink true
}
