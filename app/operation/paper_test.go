package operation_test

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stowright/app/demo"
	"stowright/app/operation"
	"stowright/app/session/sessiontest"
	"stowright/store"
	"stowright/store/phototest"
)

// pdf is a file that holds together as a PDF, with so many packed streams.
func pdf(packed []byte, streams int) []byte {
	var z bytes.Buffer
	w := zlib.NewWriter(&z)
	_, _ = w.Write(packed) // to memory
	_ = w.Close()
	data := []byte("%PDF-1.4\n")
	for i := range streams {
		data = fmt.Appendf(data, "%d 0 obj\n<</Filter/FlateDecode/Length %d>>\nstream\n%s\nendstream\nendobj\n", i+1, z.Len(), z.Bytes())
	}
	return fmt.Appendf(data, "xref\n0 1\n0000000000 65535 f \ntrailer\n<</Size 2>>\nstartxref\n%d\n%%%%EOF\n", len(data))
}

// A paper is a file that is kept, or one on paper only; what is hostile is refused in one
// sentence that names the file, soon.
func TestAddPaper(t *testing.T) {
	b := sessiontest.Open(t, demo.Furnished)
	dir := t.TempDir()
	write := func(name string, data []byte) string {
		t.Helper()
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	large := write("large.pdf", nil)
	if err := os.Truncate(large, 200<<20); err != nil {
		t.Fatal(err)
	}
	lie := phototest.JPEG(30, 20, 1) // it claims more than there is, and less than is refused unseen
	at := bytes.Index(lie, []byte{0xff, 0xc0})
	copy(lie[at+5:], []byte{0x23, 0x28, 0x23, 0x28})
	whole := pdf(bytes.Repeat([]byte("0 0 m "), 1000), 1)
	add := func(path string) operation.AddPaper {
		return operation.AddPaper{Kind: "letter", Title: "4", Issuer: "kit maker", Date: "2026-03-10", File: path}
	}
	began := time.Now()
	each(t, b, []row{
		{"no such file", add(filepath.Join(dir, "none.pdf")), "", "There is no file " + filepath.Join(dir, "none.pdf")},
		{"a folder", add(dir), "", "cannot be read: see that it is a file"},
		{"an empty file", add(write("empty.pdf", nil)), "", "empty.pdf: The file is empty: choose the file of the paper."},
		{"200 MB", add(large), "", "large.pdf: The file is larger than 16 MB: scan the paper smaller, or in parts."},
		{"a bomb", add(write("bomb.pdf", pdf(make([]byte, 32<<20), 400))), "", "bomb.pdf is a PDF that unpacks to more than 400 MB: save it smaller, or as pictures."},
		{"a PDF cut short", add(write("cut.pdf", whole[:len(whole)/2])), "", "cut.pdf: The file is a PDF that was cut short or damaged: get it again."},
		{"a PDF without its table", add(write("table.pdf", bytes.Replace(whole, []byte("xref\n0 1"), []byte("nope\n0 1"), 1))), "", "table.pdf is a PDF that was cut short or damaged; download it again."},
		{"a picture that lies", add(write("lie.jpg", lie)), "", "lie.jpg "},
		{"a page of a browser", add(write("page.html", []byte("<html>"))), "", "page.html: The file is no PDF, JPEG or PNG: save the paper as one of them."},
		{"on no day", operation.AddPaper{Kind: "letter", Title: "4", Kept: "binder 2", Date: "soon"}, "", "soon"},
		{"of no kind", operation.AddPaper{Kind: "poem", Title: "4", Kept: "binder 2"}, "", "poem"},
		{"a file", add(write("letter.pdf", whole)), "PA-1", ""},
		{"on paper only", operation.AddPaper{Kind: "letter", Title: "5", Kept: "binder 2"}, "PA-2", ""},
		{"by a decision", operation.Decide{Decision: store.Decision{Kind: store.Deviation, Who: "kit maker", Note: "one hole more"}, Document: filepath.Join(dir, "letter.pdf")}, "D-1", ""},
	})
	if took := time.Since(began); took > 15*time.Second { // nearly all of it is the bomb, 1.5 seconds on a machine that is free
		t.Errorf("it took %v", took)
	}
	papers, err := b.Shop.Papers()
	if err != nil || len(papers) != 3 {
		t.Fatalf("%+v, %v", papers, err)
	}
	for _, number := range []uint64{1, 3} {
		p := papers[number-1]
		if p.File == nil || p.File.In != 1 || p.File.Name != "letter.pdf" || strings.Contains(p.File.Name, "/") {
			t.Errorf("the file of %s is kept as %+v", p.Name(), p.File)
		}
		if got, err := b.Shop.PaperBytes(number); err != nil || !bytes.Equal(got, whole) {
			t.Errorf("%s has %d bytes of %d, %v", p.Name(), len(got), len(whole), err)
		}
	}
}
