package pdftext

import (
	"bytes"
	"compress/zlib"
	"context"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"testing"
)

// document is a PDF of these objects, the first of which is its catalog.
func document(objects ...string) []byte {
	var b bytes.Buffer
	b.WriteString("%PDF-1.7\n")
	at := make([]int, len(objects))
	for i, o := range objects {
		at[i] = b.Len()
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", i+1, o)
	}
	table := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(objects)+1)
	for _, n := range at {
		fmt.Fprintf(&b, "%010d 00000 n \n", n)
	}
	fmt.Fprintf(&b, "trailer\n<</Size %d/Root 1 0 R>>\nstartxref\n%d\n%%%%EOF\n", len(objects)+1, table)
	return b.Bytes()
}

// deflated is a stream of a text, so often, packed.
func deflated(text string, times int, more string) string {
	var b bytes.Buffer
	w := zlib.NewWriter(&b)
	for range times {
		_, _ = w.Write([]byte(text))
	}
	_ = w.Close()
	return fmt.Sprintf("<</Length %d/Filter/FlateDecode%s>>stream\n%s\nendstream", b.Len(), more, b.String())
}

// pagesOf is a PDF with so many pages that all show the same content.
func pagesOf(n int, content string) []byte {
	kids := strings.Repeat("4 0 R ", n)
	return document("<</Type/Catalog/Pages 2 0 R>>", fmt.Sprintf("<</Type/Pages/Count %d/Kids[%s]>>", n, kids), content,
		"<</Type/Page/Parent 2 0 R/MediaBox[0 0 600 800]/Contents 3 0 R/Resources<</Font<</F 5 0 R>>/XObject<</X 6 0 R>>>>>>", "<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>",
		deflated("/X Do ", 10, "/Type/XObject/Subtype/Form/BBox[0 0 9 9]/Resources<</XObject<</X 6 0 R>>>>"))
}

// lines are so many lines of a hundred letters each, one above the other.
func lines(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "BT /F 1 Tf 1 0 0 1 9 %d Tm (%s) Tj ET\n", i+1, strings.Repeat("xy", 50))
	}
	return b.String()
}

// hostileFile is a small file that becomes a large one, or one without an end.
type hostileFile struct {
	name string
	data func() []byte
	want error // nil: it is read, as far as it has pages
	long bool  // left out of a short run
}

func hostileFiles() []hostileFile {
	const mb = 1 << 20
	tree := func(pages string) []byte { return document("<</Type/Catalog/Pages 2 0 R>>", pages) }
	none := "<</Type/Pages/Count 0/Kids[]>>"
	return []hostileFile{
		{"a gigabyte of blanks", func() []byte { return pagesOf(1, deflated(strings.Repeat(" ", mb), 1024, "")) }, ErrBomb, true},
		{"a gigabyte in many streams", func() []byte {
			return document(append([]string{"<</Type/Catalog/Pages 2 0 R>>", none}, slices.Repeat([]string{deflated(strings.Repeat(" ", mb), 8, "")}, 128)...)...)
		}, ErrBomb, true},
		{"what looks packed, without end", func() []byte {
			return document("<</Type/Catalog/Pages 2 0 R/A("+strings.Repeat("stream\n\x78\x9cx", mb)+")>>", none)
		}, ErrBomb, false},
		{"many letters", func() []byte { return pagesOf(1, deflated(lines(700), 1, "")) }, ErrEndless, false},
		{"ten million letters", func() []byte {
			return pagesOf(1, deflated("BT /F 9 Tf 9 9 Td "+strings.Repeat("(xxxxxxxxxx) Tj ", 1000)+" ET\n", 1000, ""))
		}, ErrEndless, true},
		{"a million texts", func() []byte {
			return pagesOf(1, deflated(strings.Repeat("BT /F 9 Tf 9 9 Td (x) Tj ET\n", 1000), 1000, ""))
		}, ErrEndless, true},
		{"500 pages of the same megabyte", func() []byte { return pagesOf(500, deflated(strings.Repeat("0 0 m 9 9 l S\n", mb/14), 1, "")) }, ErrEndless, true},
		{"500 pages of nothing, for a megabyte each", func() []byte { return pagesOf(500, deflated("q Q ", mb/4, "")) }, ErrEndless, true},
		{"500 pages of one letter, moved about", func() []byte { return pagesOf(500, deflated("BT /F 9 Tf 9 9 Td ET ", mb/21, "")) }, ErrEndless, true},
		{"500 pages of 3,000 letters", func() []byte { return pagesOf(500, deflated(lines(30), 1, "")) }, nil, true},
		{"501 pages", func() []byte { return pagesOf(MaxPages+1, deflated(" ", 1, "")) }, errTooLong, false},
		{"a form that shows itself", func() []byte { return pagesOf(1, deflated("/X Do ", 1000, "")) }, ErrEndless, true},
		{"pages in pages in pages", func() []byte { return tree("<</Type/Pages/Count 9999999/Kids[2 0 R 2 0 R 2 0 R]>>") }, ErrDamaged, true},
		{"a million dictionaries in another", func() []byte {
			return tree("<</Type/Pages/Count 0/Kids[]/A " + strings.Repeat("<</A ", mb) + strings.Repeat(">>", mb) + ">>")
		}, ErrDamaged, true},
		{"packed a hundred times", func() []byte {
			return pagesOf(1, strings.Replace(deflated(" ", mb, ""), "/Filter/FlateDecode", "/Filter["+strings.Repeat("/FlateDecode", 100)+"]", 1))
		}, nil, false},
		{"a table of a hundred million", func() []byte { return bytes.Replace(tree(none), []byte("xref\n0 3"), []byte("xref\n0 100000000"), 1) }, ErrDamaged, false},
		{"a text to the bound", func() []byte {
			return document("<</Type/Catalog/Pages 2 0 R/A("+strings.Repeat(" ", 16*mb)+")>>", none)
		}, ErrDamaged, true},
	}
}

// errTooLong stands for what has no name of its own.
var errTooLong = errors.New("is a PDF of more than 500 pages, too long for a packing list; save the pages of the list alone")

// asked is how many bytes were ever asked for while something is done.
func asked(do func()) uint64 {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	do()
	runtime.ReadMemStats(&after)
	return after.TotalAlloc - before.TotalAlloc
}

// TestHostileFiles refuses each of them for what it is, by what it takes: steps of the engine
// and bytes that were ever asked for, so that neither hangs on the machine.
func TestHostileFiles(t *testing.T) {
	const mostBytes = 100 << 20
	for _, row := range hostileFiles() {
		if row.long && testing.Short() {
			continue
		}
		t.Run(row.name, func(t *testing.T) {
			var pages []Page
			var err error
			data := row.data()
			r := &Reader{}
			used := asked(func() {
				if r, err = NewReader(); err == nil {
					pages, err = r.Read(t.Context(), data)
					r.Close()
				}
			})
			// What is intricate is ended by its steps or by the bound of the memory, which comes first.
			ended := errors.Is(err, ErrEndless) || errors.Is(err, ErrDamaged)
			switch {
			case row.want == nil && (err != nil || len(pages) == 0):
				t.Errorf("%d pages, %v; want the pages there are", len(pages), err)
			case row.want == errTooLong && (err == nil || err.Error() != errTooLong.Error()):
				t.Errorf("got %v, want %v", err, row.want)
			case (row.want == ErrEndless || row.want == ErrDamaged) && !ended, row.want == ErrBomb && !errors.Is(err, ErrBomb):
				t.Errorf("got %v, want %v", err, row.want)
			}
			if row.want != nil && used > mostBytes {
				t.Errorf("%d KB asked for %d MB, want at most %d", len(data)>>10, used>>20, mostBytes>>20)
			}
			if r.gone > patience.most+slice {
				t.Errorf("%d steps, want at most %d", r.gone, patience.most)
			}
			t.Logf("%d million steps, %d MB", r.gone/1e6, used>>20)
		})
	}
}

// What unpacks is added up over all streams, however they stand in the file.
func TestUnpacked(t *testing.T) {
	const mb = 1 << 20
	half := deflated(strings.Repeat(" ", mb), mostUnpacked/mb/2, "")
	for _, row := range []struct {
		name string
		data string
		want error
	}{
		{"nothing", "", nil},
		{"as much as may be", half + half, nil},
		{"a byte more", half + deflated(" ", 1, "") + half, ErrBomb},
		{"as much behind the end of a line as Windows has it", strings.ReplaceAll(half+half+half, "stream\n", "stream\r\n"), ErrBomb},
		{"not packed", strings.Repeat("stream\n ", 9), nil},
		{"damaged half way", half[:len(half)/2], nil},
		{"the word at the end", "stream", nil},
	} {
		if err := checkUnpacked([]byte(row.data), mostUnpacked); !errors.Is(err, row.want) {
			t.Errorf("%s: got %v, want %v", row.name, err, row.want)
		}
	}
}

// BenchmarkHostile says how long each of them takes, and how much memory it asked for.
func BenchmarkHostile(b *testing.B) {
	for _, row := range hostileFiles() {
		b.Run(row.name, func(b *testing.B) {
			var used uint64
			data := row.data()
			for b.Loop() {
				used = asked(func() { _, _ = Read(b.Context(), data) })
			}
			b.ReportMetric(float64(used)/(1<<20), "MB")
		})
	}
}

// FuzzRead reads whatever begins as a PDF; what is read keeps to what is promised.
func FuzzRead(f *testing.F) {
	for _, turn := range []float64{0, 90, 180, 270} {
		f.Add(made(f, turn, 1))
	}
	for _, row := range hostileFiles() {
		if row.long {
			continue
		}
		if data := row.data(); len(data) < 1<<14 {
			f.Add(data)
		}
	}
	f.Add([]byte("%PDF-1.7\nstartxref\n0\n%%EOF\n"))
	f.Fuzz(func(t *testing.T, data []byte) { keeps(t, data) })
}

// FuzzContent reads whatever a page may show, in a file that is whole.
func FuzzContent(f *testing.F) {
	for _, content := range []string{
		"BT /F 9 Tf 9 9 Td (OQ-1) Tj 90 0 Td (2) Tj ET", "BT /F 1e38 Tf 1e38 -1e38 Td (x) Tj ET", "BT /F 9 Tf 0 0 0 0 0 0 Tm (x) Tj ET",
		"q 0 1 -1 0 0 0 cm BT /F 9 Tf (x) Tj ET Q", "/X Do", "BI /W 9 /H 9 ID x EI", "[(a) -9999999 (b)] TJ", "q q q q Q Q Q Q Q Q", "BT /F 9 Tf <feff0041> Tj",
	} {
		f.Add(content)
	}
	f.Fuzz(func(t *testing.T, content string) { keeps(t, pagesOf(1, deflated(content, 1, ""))) })
}

// keeps holds what is read to what is promised: the bounds, and texts that say something.
func keeps(t *testing.T, data []byte) {
	pages, err := shared.Read(context.Background(), data)
	if err != nil {
		if pages != nil || !strings.HasPrefix(err.Error(), "is a PDF") {
			t.Errorf("%d pages and the error %v", len(pages), err)
		}
		return
	}
	texts := 0
	for _, p := range pages {
		texts += len(p.Texts)
	}
	if len(pages) == 0 || len(pages) > MaxPages || texts > mostTexts {
		t.Errorf("%d pages with %d texts", len(pages), texts)
	}
}
