package storetest

import (
	"os"
	"testing"
)

// Folder is a folder of the test's own for its shops: in memory, where the system has
// room for files there. A shop waits for the disk with every change, of which no test of
// what a verb does sees anything, and all of them together waited longer than they worked.
// Tests of what is on the disk after a failure have it in t.TempDir.
func Folder(t testing.TB) string {
	t.Helper()
	in := memory()
	if in == "" {
		return t.TempDir()
	}
	dir, err := os.MkdirTemp(in, "stowright-")
	if err != nil {
		return t.TempDir()
	}
	t.Cleanup(func() {
		if err := os.RemoveAll(dir); err != nil {
			t.Errorf("removing the folder of the test: %v", err)
		}
	})
	return dir
}
