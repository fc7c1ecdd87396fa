package disk

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"stowright/store/fault"
)

// listed are the names in a folder.
func listed(t testing.TB, folder string) (names []string) {
	t.Helper()
	list, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, entry := range list {
		names = append(names, entry.Name())
	}
	return names
}

// written is a temporary file with something in it.
func written(t testing.TB, path, base, text string) *Temp {
	t.Helper()
	temp, err := NewTemp(path, base)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Lstat(temp.Path()); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("before anything is written: %v", err)
	}
	if err := os.WriteFile(temp.Path(), []byte(text), FilePerm); err != nil {
		t.Fatal(err)
	}
	return temp
}

// A file under work is hidden beside its place, and has its name when it is whole or never.
func TestTemp(t *testing.T) {
	const mine, other = "mine", "another's"
	for _, row := range []struct {
		name  string
		there bool // a file has the name already
		do    func(temp *Temp, path string) error
		err   error
		want  string // what has the name then; empty for nothing
	}{
		{"discarded", false, func(*Temp, string) error { return nil }, nil, ""},
		{"discarded, and one is there", true, func(*Temp, string) error { return nil }, nil, other},
		{"it becomes", false, (*Temp).Become, nil, mine},
		{"it takes the place of one", true, (*Temp).Become, nil, mine},
		{"it becomes a new one", false, (*Temp).BecomeNew, nil, mine},
		{"another one is not replaced by a new one", true, (*Temp).BecomeNew, os.ErrExist, other},
	} {
		t.Run(row.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "kit.stow")
			if row.there {
				if err := os.WriteFile(path, []byte(other), FilePerm); err != nil {
					t.Fatal(err)
				}
			}
			temp := written(t, path, "kit", mine)
			if hidden, err := filepath.Match(filepath.Join(filepath.Dir(path), ".kit-unfinished-*", "kit"), temp.Path()); err != nil || !hidden {
				t.Errorf("it is written to %s", temp.Path())
			}
			if err := row.do(temp, path); !errors.Is(err, row.err) {
				t.Errorf("%v, want %v", err, row.err)
			}
			temp.Discard()
			got, err := os.ReadFile(path)
			if string(got) != row.want || (err == nil) != (row.want != "") {
				t.Errorf("there is %q, %v; want %q", got, err, row.want)
			}
			if names := listed(t, filepath.Dir(path)); len(names) > 1 || row.want == "" && len(names) > 0 {
				t.Errorf("in the folder are %v", names)
			}
		})
	}
}

// It cannot become what cannot be: the error is that of the disk, and it can still be discarded.
func TestTempCannotBecome(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "kit.stow")
	if err := os.MkdirAll(filepath.Join(path, "full"), FolderPerm); err != nil {
		t.Fatal(err)
	}
	temp := written(t, path, "kit", "mine")
	if err := temp.Become(path); err == nil {
		t.Error("it took the place of a folder")
	}
	nowhere := filepath.Join(folder, "gone", "kit.stow")
	if err := temp.BecomeNew(nowhere); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("in a folder that is not there: %v", err)
	}
	temp.Discard()
	if names := listed(t, folder); !slices.Equal(names, []string{"kit.stow"}) {
		t.Errorf("what stays is %v", names)
	}
}

// An error says nothing of the hidden names.
func TestTempErrorsNameTheFile(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "kit.stow")
	temp := written(t, path, "kit", "mine")
	defer temp.Discard()
	for _, row := range []struct {
		name string
		err  error
		want string
	}{
		{"none", nil, ""},
		{"another", errors.New("no room"), "no room"},
		{"of the file", &os.PathError{Op: "write", Path: temp.Path(), Err: os.ErrClosed}, "write " + path + ": file already closed"},
		{"of the folder", &os.PathError{Op: "open", Path: filepath.Dir(temp.Path()), Err: os.ErrPermission}, "open " + path + ": permission denied"},
		{"with a sentence", fault.Wrap(fmt.Errorf("writing %s", temp.Path()), fault.Internal, temp.Path(), "%s cannot be written.", temp.Path()), path + " cannot be written. (writing " + path + ")"},
	} {
		t.Run(row.name, func(t *testing.T) {
			got := temp.Named(row.err)
			text := ""
			if got != nil {
				text = got.Error()
			}
			if text != row.want || (got == nil) != (row.err == nil) || got != nil && fault.KindOf(got) != fault.KindOf(row.err) {
				t.Errorf("it says %q, want %q", text, row.want)
			}
		})
	}
	gone := filepath.Join(folder, "gone", "kit.stow")
	_, err := NewTemp(gone, "kit")
	var of *os.PathError
	if !errors.As(err, &of) || of.Path != gone || !errors.Is(err, os.ErrNotExist) {
		t.Errorf("in a folder that is not there: %v", err)
	}
}

// Leftovers of the same file go when it is worked on next. What another program holds, and
// what belongs to another file, stays.
func TestLeftovers(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "kit.stow")
	held := written(t, path, "kit", "being made")
	for _, name := range []string{".kit-unfinished-1", ".kit-unfinished-2", ".kit2-unfinished-1", ".wing-unfinished-3"} {
		if err := errors.Join(os.Mkdir(filepath.Join(folder, name), FolderPerm), os.WriteFile(filepath.Join(folder, name, "kit"), nil, FilePerm)); err != nil {
			t.Fatal(err)
		}
	}
	if err := errors.Join(os.WriteFile(filepath.Join(folder, ".kit-unfinished-file"), nil, FilePerm), os.WriteFile(filepath.Join(folder, "kit-unfinished-4"), nil, FilePerm)); err != nil {
		t.Fatal(err)
	}
	want := []string{filepath.Base(filepath.Dir(held.Path())), ".kit2-unfinished-1", ".wing-unfinished-3", "kit-unfinished-4"}
	slices.Sort(want)
	RemoveLeftovers(folder, "kit")
	if got := listed(t, folder); !slices.Equal(got, want) {
		t.Errorf("what stays is %v, want %v", got, want)
	}
	held.Discard()
	next := written(t, path, "kit2", "")
	next.Discard()
	if got := listed(t, folder); !slices.Equal(got, []string{".wing-unfinished-3", "kit-unfinished-4"}) {
		t.Errorf("after work on another file %v stays", got)
	}
	RemoveLeftovers(filepath.Join(folder, "gone"), "kit") // there is nothing to do
}

// Each has a folder of its own, while another one is at work on the same file.
func TestTempsBesideEachOther(t *testing.T) {
	path := filepath.Join(t.TempDir(), "kit.stow")
	one, two := written(t, path, "kit", "one"), written(t, path, "kit", "two")
	defer two.Discard()
	one.Discard()
	if got, err := os.ReadFile(two.Path()); err != nil || string(got) != "two" {
		t.Errorf("of the other one %q is there, %v", got, err)
	}
}
