package output

import (
	"encoding/binary"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"stowright/store/fault"
)

// database is a file that starts as one of bbolt does: a page of 4096 bytes with the
// magic number behind 16 bytes of head (bbolt, internal/common/page.go and meta.go).
func database() []byte {
	b := make([]byte, 16<<10)
	for _, page := range []int{0, 4096} {
		binary.NativeEndian.PutUint32(b[page+16:], 0xED0CDAED)
	}
	return b
}

// headless is a database of which the first pages are lost, and one record is not.
func headless() []byte {
	b := make([]byte, 3<<20)
	copy(b[scanChunk-5:], `{"v":1,"crc32c":"00000000","d":{"seq":1}}`) // over the edge of what is read in one go
	return b
}

// furnished is a folder with what must never be written over, and with what may be.
func furnished(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for name, data := range map[string][]byte{
		"c.stow": database(), "shop.db": database(), "copy.pdf": database(), "half.txt": headless(),
		"late.bin":      append(make([]byte, 4096), database()[4096:]...),
		"c.stow.recent": make([]byte, 8), "shop.db.recent": make([]byte, 8), "c.stow.before-restore": []byte("junk"), "c.stow.before-restore-2": []byte("junk"),
		"old.stow": nil, "notes.txt": []byte("mine\n"), "export.jsonl": []byte(`{"stowright":"export","version":1}` + "\n" + `{"end":{"entries":1,"crc32c":"01234567"}}` + "\n"),
	} {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o640); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Mkdir(filepath.Join(dir, "x"), 0o700); err != nil {
		t.Fatal(err)
	}
	for name, to := range map[string]string{
		"link.pdf": "c.stow", "far.pdf": filepath.Join(dir, "link.pdf"), "text.pdf": "notes.txt", "dangling.pdf": "none.stow",
		"free.pdf": "fresh.pdf", "round.pdf": "round.pdf", "way": "x", "log.pdf": "c.stow.recent",
	} {
		if err := os.Symlink(to, filepath.Join(dir, name)); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Link(filepath.Join(dir, "c.stow"), filepath.Join(dir, "hard.pdf")); err != nil {
		t.Fatal(err)
	}
	return dir
}

// contents are the files of a folder by name, links as what they lead to. Hidden ones too.
func contents(t *testing.T, dir string) map[string]string {
	t.Helper()
	all := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || path == dir {
			return err
		}
		name, _ := filepath.Rel(dir, path)
		switch {
		case d.IsDir():
			all[name] = "folder"
		case d.Type()&fs.ModeSymlink != 0:
			all[name], err = os.Readlink(path)
			all[name] = "-> " + all[name]
		default:
			var data []byte
			data, err = os.ReadFile(path)
			all[name] = string(data)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func text(s string) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := io.WriteString(w, s)
		return err
	}
}

// What holds a shop's data is never written over, whatever it is called and asked.
func TestNeverOverAShop(t *testing.T) {
	dir := furnished(t)
	before := contents(t, dir)
	for _, name := range []string{
		"c.stow", "shop.db", "copy.pdf", "half.txt", "late.bin", "link.pdf", "far.pdf", "hard.pdf", "dangling.pdf",
		"x/../c.stow", "way/../c.stow", "./c.stow", "c.stow.recent", "shop.db.recent", "log.pdf", "c.stow.before-restore", "c.stow.before-restore-2",
		"old.stow", "new.stow", "NEW.STOW", "new.stow.", "new.stow.recent", "new.stow.before-restore",
	} {
		for _, replace := range []bool{false, true} {
			err := Write(Options{Replace: replace}, File{Path: dir + "/" + name, Write: text("lost")})
			var e *fault.Error
			if !errors.As(err, &e) || e.Kind != fault.Conflict || !strings.Contains(e.Message, "is never written over: name another.") {
				t.Errorf("%s, replace %v: got %v, want a refusal", name, replace, err)
			}
			if _, can := Existing(err); can {
				t.Errorf("%s: the refusal offers to write over it", name)
			}
		}
	}
	if d := cmp.Diff(before, contents(t, dir)); d != "" {
		t.Errorf("the folder has changed (-before +after):\n%s", d)
	}
}

// The shop in use is guarded by its name too: when it is empty, and before it is made.
func TestNeverOverTheShopInUse(t *testing.T) {
	dir := furnished(t)
	empty := filepath.Join(dir, "empty.pdf")
	if err := os.WriteFile(empty, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("absent.pdf", filepath.Join(dir, "to-absent")); err != nil {
		t.Fatal(err)
	}
	before := contents(t, dir)
	for _, row := range []struct{ shop, path string }{
		{"empty.pdf", "empty.pdf"},
		{"absent.pdf", "absent.pdf"},
		{"absent.pdf", "ABSENT.PDF"},
		{"absent.pdf", "x/../absent.pdf"},
		{"absent.pdf", "absent.pdf.recent"},
		{"absent.pdf", "Absent.pdf.Recent"},
		{"to-absent", "absent.pdf"},
		{"absent.pdf", "to-absent"},
		{"Caf\u00e9.pdf", "Cafe\u0301.pdf"}, // one name on macOS (Unicode Standard Annex 15)
	} {
		err := Write(Options{Replace: true, Shop: filepath.Join(dir, row.shop)}, File{Path: dir + "/" + row.path, Write: text("lost")})
		if err == nil || !strings.Contains(err.Error(), "is never written over") {
			t.Errorf("shop %s, written %s: %v", row.shop, row.path, err)
		}
	}
	if d := cmp.Diff(before, contents(t, dir)); d != "" {
		t.Errorf("the folder has changed (-before +after):\n%s", d)
	}
}

// What is new is written, what is there only when that is asked, through links too.
func TestWrite(t *testing.T) {
	for _, row := range []struct {
		name, path string
		o          Options
		lands      string // where the text is then; "" for nowhere
		says       string
	}{
		{"new", "new.txt", Options{}, "new.txt", ""},
		{"new, of another shop", "new.txt", Options{Shop: "none/none.stow"}, "new.txt", ""},
		{"there", "notes.txt", Options{}, "", "There is already DIR/notes.txt: name another, or say --replace to write over it."},
		{"there, asked", "notes.txt", Options{Replace: true}, "notes.txt", ""},
		{"an export, asked", "export.jsonl", Options{Replace: true}, "export.jsonl", ""},
		{"a link to a text", "text.pdf", Options{}, "", "There is already DIR/text.pdf"},
		{"a link to a text, asked", "text.pdf", Options{Replace: true}, "notes.txt", ""},
		{"a link to nothing", "free.pdf", Options{}, "fresh.pdf", ""},
		{"through a linked folder", "way/new.txt", Options{}, "x/new.txt", ""},
		{"links round", "round.pdf", Options{Replace: true}, "", "cannot be written"},
		{"a folder", "x", Options{Replace: true}, "", "DIR/x is a folder: name the file in it too."},
		{"no folder", "none/new.txt", Options{}, "", "There is no folder DIR/none"},
		{"a folder that is a file", "notes.txt/new.txt", Options{}, "", "cannot be written"},
	} {
		t.Run(row.name, func(t *testing.T) {
			dir := furnished(t)
			want := contents(t, dir)
			err := Write(row.o, File{Path: dir + "/" + row.path, Write: text("written")})
			if row.lands != "" {
				want[row.lands] = "written"
			}
			if (err == nil) != (row.says == "") || err != nil && !strings.Contains(err.Error(), strings.ReplaceAll(row.says, "DIR", dir)) {
				t.Errorf("says %v, want %q", err, row.says)
			}
			if d := cmp.Diff(want, contents(t, dir)); d != "" {
				t.Errorf("the folder (-want +got):\n%s", d)
			}
		})
	}
	if err := Write(Options{}, File{Path: "", Write: text("x")}); err == nil {
		t.Error("no name at all is written")
	}
}

// A name is relative to where the program runs.
func TestOddPlaces(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := Write(Options{}, File{Path: "plain.txt", Write: text("x")}); err != nil {
		t.Error(err)
	}
	if d := cmp.Diff(map[string]string{"plain.txt": "x"}, contents(t, ".")); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	if err := os.WriteFile("shut.txt", []byte("mine"), 0o400); err != nil {
		t.Fatal(err)
	}
	if err := Write(Options{Replace: true}, File{Path: "shut.txt", Write: text("x")}); err == nil || !strings.Contains(err.Error(), "is closed to writing") {
		t.Errorf("a file that is closed to writing: %v", err)
	}
}

// A new file is for its owner alone; one that is written over stays what it was.
func TestPermissions(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("Windows has no such permissions")
	}
	dir := furnished(t)
	for name, want := range map[string]fs.FileMode{"new.txt": 0o600, "notes.txt": 0o640} {
		path := filepath.Join(dir, name)
		if err := Write(Options{Replace: true}, File{Path: path, Write: text("x")}); err != nil {
			t.Fatal(err)
		}
		if info, err := os.Stat(path); err != nil || info.Mode().Perm() != want {
			t.Errorf("%s: %v, %v; want %v", name, info.Mode(), err, want)
		}
	}
}

func at(path string, write func(io.Writer) error) File { return File{Path: path, Write: write} }

// Several files are written or none, and a failure leaves nothing.
func TestAllOrNone(t *testing.T) {
	dir := furnished(t)
	before := contents(t, dir)
	stop := errors.New("stopped")
	a, b := filepath.Join(dir, "a.txt"), filepath.Join(dir, "x", "b.txt")
	for name, files := range map[string][]File{
		"the second fails":      {at(a, text("a")), at(b, func(io.Writer) error { return stop })},
		"the second is there":   {at(a, text("a")), at(filepath.Join(dir, "notes.txt"), text("b"))},
		"one appears meanwhile": {at(a, text("a")), at(b, func(io.Writer) error { return os.WriteFile(b, []byte("hers"), 0o600) })},
		"one name twice":        {at(a, text("a")), at(dir+"/x/../a.txt", text("b"))},
	} {
		err := Write(Options{}, files...)
		if err == nil || strings.Contains(err.Error(), stagingPrefix) {
			t.Errorf("%s: says %v", name, err)
		}
		want := cmp.Diff(before, contents(t, dir))
		if name == "one appears meanwhile" {
			if data, _ := os.ReadFile(b); string(data) != "hers" {
				t.Errorf("%s: it holds %q now", name, data)
			}
			if err := os.Remove(b); err != nil {
				t.Fatal(err)
			}
			want = cmp.Diff(before, contents(t, dir))
		}
		if want != "" {
			t.Errorf("%s (-before +after):\n%s", name, want)
		}
	}
	if err := Write(Options{}, File{Path: a, Write: text("a")}, File{Path: b, Write: text("b")}); err != nil {
		t.Fatal(err)
	}
	before["a.txt"], before["x/b.txt"] = "a", "b"
	if d := cmp.Diff(before, contents(t, dir)); d != "" {
		t.Errorf("both (-want +got):\n%s", d)
	}
	err := Write(Options{}, File{Path: filepath.Join(dir, "c.txt"), Write: func(io.Writer) error { return stop }})
	if err != stop {
		t.Errorf("what the caller said comes back as %v", err)
	}
}

// Folders are made only where that was asked, and go again where nothing is written.
func TestMakeFolders(t *testing.T) {
	dir := furnished(t)
	before := contents(t, dir)
	deep := filepath.Join(dir, "one", "two", "a.txt")
	stop := errors.New("stopped")
	if err := Write(Options{}, File{deep, func(io.Writer) error { return stop }, true}); err != stop {
		t.Errorf("got %v", err)
	}
	if err := Write(Options{}, File{filepath.Join(dir, "notes.txt", "two", "a.txt"), text("a"), true}); err == nil {
		t.Error("a folder is made in a file")
	}
	if d := cmp.Diff(before, contents(t, dir)); d != "" {
		t.Errorf("nothing was written (-before +after):\n%s", d)
	}
	if err := Write(Options{}, File{deep, text("a"), true}); err != nil {
		t.Fatal(err)
	}
	before["one"], before["one/two"], before["one/two/a.txt"] = "folder", "folder", "a"
	if d := cmp.Diff(before, contents(t, dir)); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}

// A shop that takes the place of a text while the new one is being made is left alone.
func TestAShopMeanwhile(t *testing.T) {
	dir := furnished(t)
	path := filepath.Join(dir, "notes.txt")
	err := Write(Options{Replace: true}, File{Path: path, Write: func(io.Writer) error { return os.WriteFile(path, database(), 0o600) }})
	if data, _ := os.ReadFile(path); err == nil || string(data) != string(database()) {
		t.Errorf("%v, and it holds %d bytes", err, len(data))
	}
}

// Whoever writes sees no hidden name in an error of the disk.
func TestErrorsShowNoHiddenNames(t *testing.T) {
	w := &writer{to: failing{&fs.PathError{Op: "write", Path: stagingPrefix + "1", Err: fs.ErrClosed}}}
	if _, err := w.Write(nil); err != fs.ErrClosed || w.err != fs.ErrClosed {
		t.Errorf("got %v", err)
	}
	link := &os.LinkError{Op: "rename", Old: stagingPrefix + "1", New: "a", Err: fs.ErrInvalid}
	if err := errWriting("a.txt", link); strings.Contains(err.Error(), stagingPrefix) || !errors.Is(err, fs.ErrInvalid) {
		t.Errorf("got %v", err)
	}
	dir := t.TempDir()
	shut := filepath.Join(dir, "shut")
	if err := os.Mkdir(shut, 0o500); err != nil {
		t.Fatal(err)
	}
	if os.Getuid() != 0 {
		if err := Write(Options{}, File{Path: filepath.Join(shut, "a.txt"), Write: text("x")}); err == nil || strings.Contains(err.Error(), stagingPrefix) {
			t.Errorf("got %v", err)
		}
		if err := MayWrite(shut); err == nil || strings.Contains(err.Error(), stagingPrefix) {
			t.Errorf("got %v", err)
		}
	}
	if err := MayWrite(filepath.Join(dir, "none")); err == nil || strings.Contains(err.Error(), stagingPrefix) {
		t.Errorf("got %v", err)
	}
	if err := MayWrite(dir); err != nil {
		t.Error(err)
	}
	if d := cmp.Diff(map[string]string{"shut": "folder"}, contents(t, dir)); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}

type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }

// What a killed program left goes with the next file that is written there; what another
// one is writing, what is young, and what only looks like it stay.
func TestSweep(t *testing.T) {
	dir := t.TempDir()
	old := time.Now().Add(-48 * time.Hour)
	make := func(name, file string, at time.Time) string {
		t.Helper()
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(path, 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(path, file), []byte("half"), 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.Chtimes(path, at, at); err != nil {
			t.Fatal(err)
		}
		return path
	}
	make(".stowright-1.unfinished", "1", old)
	held := make(".stowright-2.unfinished", "1", old)
	make(".stowright-3.unfinished", "1", time.Now())
	make(".stowright-4.unfinished", "letter.txt", old)
	make(".stowright-5", "1", old)
	unlock, err := lock(held)
	if err != nil {
		t.Fatal(err)
	}
	want := contents(t, dir)
	delete(want, ".stowright-1.unfinished")
	delete(want, ".stowright-1.unfinished/1")
	want["a.txt"] = "a"
	if err := Write(Options{}, File{Path: filepath.Join(dir, "a.txt"), Write: text("a")}); err != nil {
		t.Fatal(err)
	}
	if !canLock {
		delete(want, ".stowright-2.unfinished")
		delete(want, ".stowright-2.unfinished/1")
	}
	if d := cmp.Diff(want, contents(t, dir)); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	unlock()
	odd := filepath.Join(dir, "a[b")
	if err := os.MkdirAll(filepath.Join(odd, ".stowright-1.unfinished"), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.Chtimes(filepath.Join(odd, ".stowright-1.unfinished"), old, old); err != nil {
		t.Fatal(err)
	}
	if err := MayWrite(odd); err != nil || len(contents(t, odd)) != 0 {
		t.Errorf("in a folder with a sign of patterns in its name: %v, %v", err, contents(t, odd))
	}
}

// A file that is written bit by bit is there at once, and is guarded as others are.
func TestCreate(t *testing.T) {
	dir := furnished(t)
	path := filepath.Join(dir, "trace.jsonl")
	f, err := Create(path, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range []string{"one\n", "two\n"} {
		if _, err := f.WriteString(line); err != nil {
			t.Fatal(err)
		}
	}
	if data, err := os.ReadFile(path); string(data) != "one\ntwo\n" || f.Close() != nil {
		t.Errorf("it holds %q, %v", data, err)
	}
	for _, name := range []string{"trace.jsonl", "c.stow"} {
		if f, err := Create(filepath.Join(dir, name), Options{}); err == nil {
			t.Errorf("%s is created over what is there", name)
			f.Close()
		}
	}
	if files, ok := Existing(func() error { _, err := Create(path, Options{}); return err }()); !ok || !slices.Equal(files, []string{path}) {
		t.Errorf("Existing: %q, %v", files, ok)
	}
	// Of several all are named: all of them would be written over.
	all := []string{path, filepath.Join(dir, "notes.txt")}
	err = Write(Options{}, at(all[0], text("x")), at(filepath.Join(dir, "new.txt"), text("x")), at(all[1], text("x")))
	if files, ok := Existing(err); !ok || !slices.Equal(files, all) || !strings.Contains(err.Error(), "trace.jsonl, and 1 more of these files") {
		t.Errorf("Existing: %q, %v, %v", files, ok, err)
	}
}
