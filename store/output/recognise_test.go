package output

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store/fault"
)

// A database is known by its magic number at the start of either of its first pages, of
// whatever size they are and in whatever order its machine puts bytes.
func TestHasMagic(t *testing.T) {
	const largest = largestPage + pageHead + 4
	put := func(order binary.ByteOrder, at int) []byte {
		b := make([]byte, largest)
		order.PutUint32(b[at:], magic)
		return b
	}
	for _, order := range []binary.ByteOrder{binary.LittleEndian, binary.BigEndian} {
		for page := smallestPage; page <= largestPage; page *= 2 {
			if !hasMagic(put(order, page+pageHead)) {
				t.Errorf("%v, the second of pages of %d bytes is not known", order, page)
			}
			if hasMagic(put(order, page+pageHead)[:page+pageHead+3]) {
				t.Errorf("%v, half of the number after %d bytes is taken for it", order, page)
			}
			if hasMagic(put(order, page+pageHead-1)) || hasMagic(put(order, page)) {
				t.Errorf("%v, the number elsewhere in the page at %d is taken for it", order, page)
			}
		}
		if !hasMagic(put(order, pageHead)) || !hasMagic(put(order, pageHead)[:pageHead+4]) || hasMagic(put(order, pageHead)[:pageHead+3]) {
			t.Errorf("%v, the first page is not known, or half of the number is", order)
		}
		if hasMagic(put(order, smallestPage/2+pageHead)) || hasMagic(put(order, pageHead-4)) {
			t.Errorf("%v, a page of half the smallest size is known", order)
		}
	}
	if hasMagic(nil) || hasMagic(make([]byte, largest)) {
		t.Error("nothing is taken for a database")
	}
}

// A record is known by how its envelope starts, whatever version it is of, and nothing else is.
func TestHasEnvelope(t *testing.T) {
	for text, want := range map[string]bool{
		`{"v":1,"crc32c":"`: true, `{"v":2,"crc32c":"48fa5ed9","d":{}}`: true, `{"v":999,"crc32c":"`: true, `xx{"v":1,"crc32c":"xx`: true,
		`{"v":{"v":1,"crc32c":"`: true, `{"v":1,{"v":12,"crc32c":"`: true,
		`{"v":1000,"crc32c":"`: false, `{"v":,"crc32c":"`: false, `{"v":x,"crc32c":"`: false, `{"v":1,"crc32c":`: false, `{"v":1, "crc32c":"`: false,
		`{"v":-1,"crc32c":"`: false, `{"V":1,"crc32c":"`: false, `{"v":`: false, `{"v":1`: false, "": false, `{"end":{"entries":1,"crc32c":"01234567"}}`: false,
	} {
		if got := hasEnvelope([]byte(text)); got != want {
			t.Errorf("%s: %t", text, got)
		}
	}
}

// A record is found wherever it lies in a file, where one look at it ends and the next
// begins as well.
func TestKeepsWhereLooksMeet(t *testing.T) {
	path := filepath.Join(t.TempDir(), "any.pdf")
	for _, envelope := range []string{`{"v":1,"crc32c":"`, `{"v":123,"crc32c":"`} {
		for from := scanChunk - len(envelope) - 1; from <= scanChunk+1; from += 3 {
			for _, cut := range []int{0, 1} { // a byte less of it is none
				data := append(make([]byte, from), envelope[:len(envelope)-cut]...)
				if err := os.WriteFile(path, data, 0o600); err != nil {
					t.Fatal(err)
				}
				if got, err := keeps(path); err != nil || got != (cut == 0) {
					t.Errorf("%s at %d, %d less: %t, %v", envelope, from, cut, got, err)
				}
			}
		}
	}
	for name, path := range map[string]string{"a folder": t.TempDir(), "nothing": path + ".none"} {
		if got, err := keeps(path); err == nil || got {
			t.Errorf("%s: %t, %v", name, got, err)
		}
	}
}

// FuzzEnvelope looks for records in anything: each that is there is found.
func FuzzEnvelope(f *testing.F) {
	f.Add([]byte(`{"v":`), []byte(`{"v":1`))
	f.Add([]byte("\x00{"), []byte(nil))
	f.Fuzz(func(t *testing.T, before, behind []byte) {
		if !hasEnvelope(bytes.Join([][]byte{before, []byte(`{"v":2,"crc32c":"`), behind}, nil)) {
			t.Fatalf("between %q and %q none is found", before, behind)
		}
	})
}

// The name of a shop file is known as Windows reads it too, and what lies beside one by its own.
func TestNamesOfShops(t *testing.T) {
	for name, want := range map[string]bool{
		"kit.stow": true, "KIT.STOW": true, "kit.stow.": true, "kit.stow . .": true, "/a/kit.Stow": true, ".stow": true,
		"kit.pdf": false, "kit.stowx": false, "kit": false, "stow": false, "kit.stow.pdf": false, "kit.stow/x.pdf": false, "": false,
	} {
		if got := shopName(name); got != want {
			t.Errorf("%q is the name of a shop: %t", name, got)
		}
	}
	for name, want := range map[string]string{
		"/a/kit.stow.recent": "/a/kit.stow", "/a/kit.stow.RECENT": "/a/kit.stow", "kit.stow.before-restore": "kit.stow", "kit.stow.before-restore-2": "kit.stow",
		"kit.recent": "kit", "a.recent.recent": "a.recent", "kit.stow.before-restore.recent": "kit.stow.before-restore",
		".recent": "", "recent": "", "kit.stow": "", "kit.recen": "", "/a.recent/kit": "",
	} {
		if got, ok := ofShop(name); got != want || ok != (want != "") {
			t.Errorf("%q lies beside %q, %t; want %q", name, got, ok, want)
		}
	}
	for _, pair := range [][2]string{{"/a/kit", "/A/KIT"}, {"caf\u00e9", "cafe\u0301"}, {"CAF\u00c9", "cafe\u0301"}, {"ſ", "S"}} {
		if !sameName(pair[0], pair[1]) || !sameName(pair[1], pair[0]) {
			t.Errorf("%q and %q are two names", pair[0], pair[1])
		}
	}
	if sameName("cafe", "café") || sameName("kit", "kit2") {
		t.Error("two names are one")
	}
}

// Each refusal says what is wrong and what to do, and has no hidden name in it.
func TestRefusals(t *testing.T) {
	hidden := &fs.PathError{Op: "write", Path: "/x/" + stagingPrefix + "1", Err: syscall.ENOSPC}
	for _, row := range []struct {
		err  *fault.Error
		kind fault.Kind
		want string
	}{
		{errWriting("a.pdf", hidden), fault.Internal, "a.pdf could not be written: see that its disk is there and has room. (no space left on device)"},
		{errWriting("a.pdf", fs.ErrPermission), fault.Invalid, "a.pdf cannot be written: name a file in a folder that may be. (permission denied)"},
		{errWriting("a.pdf", syscall.EACCES), fault.Invalid, "a.pdf cannot be written: name a file in a folder that may be. (permission denied)"},
		{errWriting("a.pdf", &os.LinkError{Op: "link", Old: stagingPrefix, New: "b", Err: errors.New("no links")}), fault.Internal, "a.pdf could not be written: see that its disk is there and has room. (no links)"},
		{errExists("a.pdf"), fault.Conflict, "There is already a.pdf: name another, or say --replace to write over it. (the file is there already)"},
		{errExists("a.pdf", "b.pdf", "c.pdf"), fault.Conflict, "There is already a.pdf, and 2 more of these files: name another folder, or say --replace to write over them. (the file is there already)"},
		{errKept("a.stow"), fault.Conflict, "a.stow is a shop file, a safe copy of one, or lies beside one, and is never written over: name another."},
	} {
		if row.err.Kind != row.kind || row.err.Error() != row.want {
			t.Errorf("%s: %s, want %s: %s", row.err.Kind, row.err, row.kind, row.want)
		}
	}
	if files, ok := Existing(fmt.Errorf("saving: %w", errExists("a", "b"))); !ok || cmp.Diff([]string{"a", "b"}, files) != "" {
		t.Errorf("of an error within another it takes %q, %t", files, ok)
	}
	for _, err := range []error{nil, errKept("a"), fs.ErrExist, errors.New(ErrExist.Error())} {
		if files, ok := Existing(err); ok || files != nil {
			t.Errorf("of %v it takes %q", err, files)
		}
	}
}

// Nowhere is not written, and a file that its owner closed to writing is left alone.
func TestWriteRefuses(t *testing.T) {
	dir := t.TempDir()
	shut, empty := filepath.Join(dir, "shut.txt"), ""
	if err := os.WriteFile(shut, []byte("mine"), 0o400); err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]string{
		empty:                               "Say where to write it: a folder and a name.",
		string(filepath.Separator):          "Say where to write it: a folder and a name.",
		shut:                                shut + " is closed to writing: name another, or open it first. (permission denied)",
		filepath.Join(dir, "none", "a.txt"): "There is no folder " + filepath.Join(dir, "none") + ": make it, or name another for a.txt. (no such file or directory)",
		filepath.Join(dir, strings.Repeat("x", 300)): filepath.Join(dir, strings.Repeat("x", 300)) + " cannot be looked at: name a file in another folder. (file name too long)",
	} {
		called := false
		err := Write(Options{Replace: true}, File{Path: path, Write: func(io.Writer) error { called = true; return nil }})
		if err == nil || err.Error() != want || called {
			t.Errorf("%.40q: %v, called %t; want %q", path, err, called, want)
		}
	}
	if d := cmp.Diff(map[string]string{"shut.txt": "mine"}, contents(t, dir)); d != "" {
		t.Errorf("the folder has changed (-want +got):\n%s", d)
	}
}

// A new name is taken only where nothing has it at that moment.
func TestPlaceNew(t *testing.T) {
	dir := t.TempDir()
	hidden, real := filepath.Join(dir, "hidden"), filepath.Join(dir, "real")
	if err := os.WriteFile(hidden, []byte("new"), 0o600); err != nil {
		t.Fatal(err)
	}
	to := target{named: "real", real: real}
	if err := placeNew(hidden, to); err != nil {
		t.Fatal(err)
	}
	if err := placeNew(hidden, to); !errors.Is(err, ErrExist) {
		t.Errorf("where something has it: %v", err)
	}
	if err := placeNew(hidden+"-gone", target{named: "other", real: filepath.Join(dir, "other")}); fault.KindOf(err) != fault.Internal {
		t.Errorf("of a file that is gone: %v", err)
	}
	if d := cmp.Diff(map[string]string{"hidden": "new", "real": "new"}, contents(t, dir)); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}

// Where the disk fails while a file is written, that is said, and not what the caller made of it.
func TestDiskFailsWhileWriting(t *testing.T) {
	w := &writer{to: failing{&fs.PathError{Op: "write", Path: "hidden", Err: syscall.ENOSPC}}}
	for range 2 {
		if _, err := w.Write([]byte("x")); !errors.Is(err, syscall.ENOSPC) || strings.Contains(err.Error(), "hidden") {
			t.Errorf("it says %v", err)
		}
	}
	first := w.err
	w.to = failing{errors.New("another")}
	if _, err := w.Write([]byte("x")); !errors.Is(err, syscall.ENOSPC) || w.err != first {
		t.Errorf("the second failure hides the first: %v, %v", err, w.err)
	}
	good := &writer{to: io.Discard}
	if n, err := good.Write([]byte("abc")); n != 3 || err != nil || good.err != nil {
		t.Errorf("%d bytes, %v, %v", n, err, good.err)
	}
}

func ExampleWrite() {
	dir, err := os.MkdirTemp("", "example")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(dir)
	label := File{Path: filepath.Join(dir, "labels.txt"), Write: func(to io.Writer) error {
		_, err := io.WriteString(to, "A-07\n")
		return err
	}}
	fmt.Println(Write(Options{}, label))
	files, there := Existing(Write(Options{}, label)) // it is there now, and nobody asked to replace it
	fmt.Println(there, filepath.Base(files[0]))
	fmt.Println(Write(Options{Replace: true}, label))
	// Output:
	// <nil>
	// true labels.txt
	// <nil>
}
