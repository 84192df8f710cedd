package paper

import (
	"os"
	"os/exec"
	"testing"
)

// outside finds a program that is no part of this project. On the project's own
// checks it must be there; elsewhere the test is skipped.
func outside(t *testing.T, program string, args ...string) *exec.Cmd {
	t.Helper()
	path, err := exec.LookPath(program)
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatalf("%s is needed here: %v", program, err)
		}
		t.Skipf("%s is not installed: %v", program, err)
	}
	return exec.Command(path, args...)
}
