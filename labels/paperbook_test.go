package labels

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"slices"
	"strings"
	"testing"
	"time"
)

// book is a paper with chapters, and photographs that are read late: n of them, of one width.
func book(t *testing.T, n int) (p Paper, read *[]string) {
	t.Helper()
	read = &[]string{}
	p = Paper{Title: "Evidence", Foot: "Entry 68 of the journal."}
	for i := range 3 {
		b := Block{Heading: fmt.Sprintf("SA-%d0", i+1), Chapter: true, Texts: slices.Repeat([]string{"what was done"}, 90*i)}
		for k := range n {
			name := fmt.Sprintf("P-%d%d", i, k)
			img := image.NewRGBA(image.Rect(0, 0, 64, 48))
			img.Set(i, k, color.White)
			var file bytes.Buffer
			if err := jpeg.Encode(&file, img, nil); err != nil {
				t.Fatal(err)
			}
			b.Pictures = append(b.Pictures, PaperPicture{W: 64, H: 48, Large: true, Name: name, Lines: []string{name + ", the spar"}, Read: func() ([]byte, error) {
				*read = append(*read, name)
				return file.Bytes(), nil
			}})
		}
		p.Blocks = append(p.Blocks, b, Block{Heading: "no chapter"})
	}
	return p, read
}

// The list of contents names the page on which each chapter begins, and every page has what
// is to stand on its foot.
func TestPaperHasContents(t *testing.T) {
	p, _ := book(t, 1)
	doc, err := p.Layout(Stocks()[0])
	if err != nil {
		t.Fatal(err)
	}
	checkInside(t, doc)
	begins := map[string]string{}
	for n, page := range doc.Pages {
		w := words(page)
		if !strings.Contains(w, "Entry 68 of the journal.") {
			t.Errorf("page %d lacks its foot", n+1)
		}
		if n == 0 {
			continue
		}
		if first, _, _ := strings.Cut(w, "\n"); strings.HasPrefix(first, "SA-") {
			begins[first] = fmt.Sprint(n + 1)
		}
	}
	if len(begins) != 3 || begins["SA-10"] != "2" || begins["SA-30"] == "4" {
		t.Fatalf("the chapters begin on %v", begins)
	}
	for chapter, page := range begins {
		if !strings.Contains(words(doc.Pages[0])+"\n", chapter+"\n"+page+"\n") {
			t.Errorf("the contents do not say that %s is on page %s:\n%s", chapter, page, words(doc.Pages[0]))
		}
	}
}

// Photographs are read one after the other while the file is written, each once, and two
// files of one document are the same, though the photographs are all of one width.
func TestPhotographsAreReadLate(t *testing.T) {
	p, read := book(t, 5)
	doc, err := p.Layout(Stocks()[0])
	if err != nil {
		t.Fatal(err)
	}
	if len(*read) > 0 {
		t.Errorf("%q were read before the file is written", *read)
	}
	var files [2]bytes.Buffer
	steps := 0
	made := PDFOptions{Made: time.Date(2026, 3, 18, 9, 0, 0, 0, time.UTC), Progress: func(done, total int) error {
		if steps++; total != len(doc.Pages)+15 {
			t.Errorf("%d of %d", done, total)
		}
		return nil
	}}
	for i := range files {
		if err := PDF(&files[i], doc, made); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(files[0].Bytes(), files[1].Bytes()) {
		t.Error("two files of one document differ")
	}
	if len(*read) != 30 || steps != 2*(len(doc.Pages)+15) {
		t.Errorf("%d photographs were read, in %d steps", len(*read), steps)
	}
	path := pdfFile(t, doc)
	if list := tool(t, "pdfimages", "-list", path); strings.Count(list, "jpeg") != 15 || strings.Count(list, " 64    48 ") != 15 {
		t.Errorf("the photographs in the file:\n%s", list)
	}
	if text := tool(t, "pdftotext", "-layout", path, "-"); !strings.Contains(text, "P-14, the spar") {
		t.Errorf("the caption is not in the file:\n%s", text)
	}
}

func TestPDFStopsAtAPhotograph(t *testing.T) {
	p, _ := book(t, 2)
	doc, err := p.Layout(Stocks()[0])
	if err != nil {
		t.Fatal(err)
	}
	enough := errors.New("enough")
	err = PDF(&bytes.Buffer{}, doc, PDFOptions{Progress: func(done, _ int) error {
		if done > len(doc.Pages) {
			return enough
		}
		return nil
	}})
	if !errors.Is(err, enough) {
		t.Errorf("stopped with %v", err)
	}
	damaged := doc.Pages[1].Items
	for i, it := range damaged {
		if im, ok := it.(Image); ok {
			im.Read = func() ([]byte, error) { return []byte("no JPEG"), nil }
			damaged[i] = im
		}
	}
	if err := PDF(&bytes.Buffer{}, doc, PDFOptions{}); err == nil || !strings.Contains(err.Error(), "reading a photograph") {
		t.Errorf("a damaged photograph: %v", err)
	}
}
