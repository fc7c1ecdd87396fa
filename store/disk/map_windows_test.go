package disk

import (
	"os"
	"testing"
)

// A file is longer than what is in it only while it is open, and grows no more by being
// opened again and again.
func TestTrim(t *testing.T) {
	y := newToy(t)
	path := y.path
	y.put(3)
	if y.mapped > y.mappedNow() || y.mapped < mapAhead {
		t.Errorf("%d bytes are mapped, and the file has %d; want %d and more of both", y.mapped, y.mappedNow(), mapAhead)
	}
	if err := y.Close(); err != nil {
		t.Fatal(err)
	}
	for range 3 {
		info, err := os.Stat(path)
		if err != nil || info.Size() > 1<<20 {
			t.Errorf("once it is closed it has %d bytes, %v", info.Size(), err)
		}
		wantWhole(t, path, 4)
	}
	again, err := Open(path, toyOptions())
	if err != nil {
		t.Fatal(err)
	}
	long, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	trim(path)
	if info, err := os.Stat(path); err != nil || info.Size() != long.Size() {
		t.Errorf("one that is open was made %d bytes long, %v", info.Size(), err)
	}
	if err := again.Close(); err != nil {
		t.Fatal(err)
	}
}
