package disk

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"
)

// A path leads to the file itself, over as many links as there are, and where the file is
// to be made, to where it will be.
func TestResolve(t *testing.T) {
	folder, err := filepath.EvalSymlinks(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	in := func(name string) string { return filepath.Join(folder, name) }
	for _, err := range []error{
		os.Mkdir(in("garage"), FolderPerm), os.WriteFile(in("garage/kit.stow"), nil, FilePerm),
		os.Symlink(in("garage/kit.stow"), in("absolute.stow")),
		os.Symlink("garage/kit.stow", in("relative.stow")),
		os.Symlink("relative.stow", in("second.stow")),
		os.Symlink("garage", in("door")),
		os.Symlink("kit.stow", in("garage/beside.stow")),
		os.Symlink("garage/new.stow", in("dangling.stow")),
		os.Symlink("../dangling.stow", in("garage/back.stow")),
		os.Symlink("loop.stow", in("loop.stow")),
		os.Symlink("nowhere/new.stow", in("lost.stow")),
	} {
		if err != nil {
			t.Fatal(err)
		}
	}
	last := "garage/kit.stow"
	for i := range mostLinks - 1 {
		name := fmt.Sprintf("chain%d.stow", i)
		if err := os.Symlink(in(last), in(name)); err != nil {
			t.Fatal(err)
		}
		last = name
	}
	for _, row := range []struct{ name, path, want string }{
		{"the file", "garage/kit.stow", "garage/kit.stow"},
		{"a link", "absolute.stow", "garage/kit.stow"},
		{"a relative link", "relative.stow", "garage/kit.stow"},
		{"a link to a link", "second.stow", "garage/kit.stow"},
		{"a link in the same folder", "garage/beside.stow", "garage/kit.stow"},
		{"a linked folder", "door/kit.stow", "garage/kit.stow"},
		{"many links", last, "garage/kit.stow"},
		{"a file to be made", "garage/other.stow", "garage/other.stow"},
		{"one in a linked folder", "door/other.stow", "garage/other.stow"},
		{"a link to one to be made", "dangling.stow", "garage/new.stow"},
		{"a link to that link", "garage/back.stow", "garage/new.stow"},
		{"in a folder to be made", "attic/new.stow", "attic/new.stow"},
		{"a link into one to be made", "lost.stow", "nowhere/new.stow"},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got, err := Resolve(in(row.path)); err != nil || got != in(row.want) {
				t.Errorf("%s leads to %s, %v; want %s", row.path, got, err, in(row.want))
			}
		})
	}
	for path, want := range map[string]string{
		in("loop.stow"):            "invalid: The shop file FILE cannot be looked at: see that its folder is there and may be read.",
		in("garage/kit.stow/more"): "invalid: The shop file FILE cannot be looked at: see that its folder is there and may be read.",
	} {
		if got, err := Resolve(path); said(err, path) != want || got != "" {
			t.Errorf("%s leads to %q, %v; want %q", path, got, err, want)
		}
	}
}

// The first name that nothing has is taken, not even a link that leads nowhere.
func TestUnusedName(t *testing.T) {
	folder := t.TempDir()
	stem := filepath.Join(folder, "kit")
	for _, row := range []struct {
		make func(name string) error
		want string
	}{
		{func(name string) error { return os.WriteFile(name, nil, FilePerm) }, "kit.stow"},
		{func(name string) error { return os.Symlink("nowhere", name) }, "kit-2.stow"},
		{func(name string) error { return os.Mkdir(name, FolderPerm) }, "kit-3.stow"},
		{nil, "kit-4.stow"},
	} {
		got := UnusedName(stem, Ext)
		if got != filepath.Join(folder, row.want) {
			t.Fatalf("the name is %s, want %s", got, row.want)
		}
		if row.make != nil {
			if err := row.make(got); err != nil {
				t.Fatal(err)
			}
		}
	}
}

func TestBaseName(t *testing.T) {
	for path, want := range map[string]string{
		"/garage/kit.stow": "kit", "kit.stow": "kit", "kit": "kit", "kit.stow.stow": "kit.stow", "/garage/kit.recent": "kit.recent", ".stow": "",
	} {
		if got := BaseName(path); got != want {
			t.Errorf("BaseName(%s) is %q, want %q", path, got, want)
		}
	}
}

func ExampleRecordName() {
	fmt.Println(RecordName("stock", "AN3-5A\x00A-12\x00"))
	fmt.Println(RecordName("items", "AN3-5A"))
	fmt.Println(RecordName("meta", ""))
	// Output:
	// stock AN3-5A / A-12
	// items AN3-5A
	// meta
}

func ExampleLogPath() {
	fmt.Println(LogPath("garage/kit.stow"))
	// Output: garage/kit.stow.recent
}

func ExampleUnusedName() {
	fmt.Println(UnusedName("no-such-folder/kit", ".pdf"))
	// Output: no-such-folder/kit.pdf
}
