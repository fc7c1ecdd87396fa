package copies

import (
	"bytes"
	"os"
	"testing"
)

// cut makes a file half as long.
func cut(t *testing.T, file string) {
	t.Helper()
	info, err := os.Stat(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(file, info.Size()/2); err != nil {
		t.Fatal(err)
	}
}

// behead writes zeros over both first pages of a file, without which bbolt does not open it.
func behead(t *testing.T, file string) {
	t.Helper()
	f, err := os.OpenFile(file, os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if _, err := f.WriteAt(make([]byte, 8192), 0); err != nil {
		t.Fatal(err)
	}
}

// misspell changes one letter wherever a text stands in a file.
func misspell(t *testing.T, file, text string) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	f, err := os.OpenFile(file, os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	changed := 0
	for at := 0; ; at += len(text) {
		i := bytes.Index(data[at:], []byte(text))
		if i < 0 {
			break
		}
		at += i
		changed++
		if _, err := f.WriteAt([]byte{text[0] ^ 1}, int64(at)); err != nil {
			t.Fatal(err)
		}
	}
	if changed == 0 {
		t.Fatalf("%q is not in %s", text, file)
	}
}
