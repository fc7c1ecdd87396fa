//go:build unix && !solaris && !illumos && !aix

package disk

import (
	"path/filepath"
	"testing"
)

// Only one holds a folder at a time.
func TestHold(t *testing.T) {
	folder := t.TempDir()
	unlock, held := hold(folder)
	if !held {
		t.Fatal("a new folder is not held")
	}
	if _, held := holdNew(folder); held {
		t.Error("it is held twice")
	}
	unlock()
	if unlock, held := holdNew(folder); !held {
		t.Error("it is still held")
	} else {
		unlock()
	}
	if _, held := hold(filepath.Join(folder, "gone")); held {
		t.Error("what is not there is held")
	}
}
