package store

import (
	"compress/gzip"
	"io"
	"os"
	"path/filepath"
	"testing"

	"stowright/store/disk"
	"stowright/store/disk/disktest"
)

// unpackKept writes a shop that is kept for tests to a file, with its log if it has one.
func unpackKept(t testing.TB, name string) string {
	t.Helper()
	kept := filepath.Join("..", "testdata", "store", name)
	path := filepath.Join(t.TempDir(), "shop.stow")
	unzip(t, kept+".gz", path)
	if disktest.There(disk.LogPath(kept) + ".gz") {
		unzip(t, disk.LogPath(kept)+".gz", disk.LogPath(path))
	}
	return path
}

func unzip(t testing.TB, kept, path string) {
	t.Helper()
	f, err := os.Open(kept)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	data, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
}

func formatOf(t *testing.T, path string) int {
	t.Helper()
	format, ok := disk.FormatOf(path)
	if !ok {
		t.Fatalf("%s says no format", path)
	}
	return format
}

// The steps lead from the first layout to the newest, one by one.
func TestMigrationsInOrder(t *testing.T) {
	last := 1
	for _, m := range migrations() {
		if m.to != last+1 || m.name == "" {
			t.Errorf("migration %q leads to %d after %d", m.name, m.to, last)
		}
		last = m.to
	}
	if last != formatVersion {
		t.Errorf("the migrations lead to %d, the program writes %d", last, formatVersion)
	}
}

// noCopy lets a file of an older layout be upgraded that a test has a copy of.
func noCopy(*Shop) error { return nil }
