package store_test

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stowright/store"
	"stowright/store/copies"
	"stowright/store/phototest"
	"stowright/store/storetest"
)

// aPDF begins and ends as a PDF, with so many bytes between that are not all alike.
func aPDF(n, size int) []byte {
	data := fmt.Appendf(nil, "%%PDF-1.7\n%% paper %d\n", n)
	for i := 0; len(data) < size; i++ {
		data = fmt.Appendf(data, "%d ", i*n)
	}
	return append(data, "\nstartxref\n0\n%%EOF\n"...)
}

func (w world) paper(name string, data []byte) store.Paper {
	w.t.Helper()
	p, _, err := w.AddPaperFile(store.Paper{Kind: store.InvoicePaper, Title: name}, name, data)
	w.must(err)
	return p
}

// The file of a paper is kept whole, the same one once, beside photographs, whose numbers go
// on as they did; undone and made again it is still the one; and it goes through an export.
func TestPaperFileIsKept(t *testing.T) {
	w := newWorld(t)
	large := aPDF(7, store.MaxPaperBytes/4)
	w.photograph(store.OfItem("AN3-5A"), "", phototest.JPEG(30, 20, 1))
	first := w.paper("invoice.pdf", large)
	again := w.paper("copy of it.pdf", large)
	picture := w.paper("letter.jpg", phototest.JPEG(30, 20, 2))
	if p := w.photograph(store.OfItem("AN3-5A"), "", phototest.JPEG(30, 20, 3)); p.Number != 2 {
		t.Errorf("the photograph after papers is %s", p.Name())
	}
	if first.File.In != 1 || again.File.In != 1 || picture.File.In != 3 {
		t.Errorf("kept under %d, %d, %d", first.File.In, again.File.In, picture.File.In)
	}
	if n, files, err := w.Pictures(); n != 2 || files != 2 || err != nil {
		t.Errorf("%d pictures and %d files, %v", n, files, err)
	}
	for number, want := range map[uint64][]byte{1: large, 2: large, 3: phototest.JPEG(30, 20, 2)} {
		if got, err := w.PaperBytes(number); err != nil || !bytes.Equal(got, want) {
			t.Errorf("PA-%d has %d bytes of %d, %v", number, len(got), len(want), err)
		}
	}
	w.must(second(w.Undo())) // the photograph
	w.must(second(w.Undo())) // the letter
	wantRefusal(t, second(w.PaperBytes(3)), store.NotFound, "There is no paper “PA-3” in this shop: add it first, or see how its number is written.")
	if p := w.paper("letter again.jpg", phototest.JPEG(30, 20, 2)); p.Number != 4 || p.File.In != 3 {
		t.Errorf("%s is kept under %d", p.Name(), p.File.In)
	}
	w.must(third(w.AddPaper(store.Paper{Kind: store.LetterPaper, Kept: "binder 2"})))
	wantRefusal(t, second(w.PaperBytes(5)), store.NotFound, "PA-5 is on paper only (binder 2): it has no file in the shop.")
	sum := strings.Repeat("0", 64)
	w.must(third(w.AddPaper(store.Paper{Kind: store.LetterPaper, File: &store.PaperFile{Name: "old.pdf", Bytes: 9, SHA256: sum}})))
	wantRefusal(t, second(w.PaperBytes(6)), store.NotFound, "Of PA-6 the shop has the checksum alone, an older program did not keep files: add the file again.")
}

// What is no paper is refused with one sentence in no time, and nothing is kept.
func TestPaperFileRefused(t *testing.T) {
	w := newWorld(t)
	whole := phototest.JPEG(30, 20, 1)
	lie := bytes.Clone(whole) // its frame says 65,535 pixels each way: ITU-T T.81, B.2.2
	at := bytes.Index(lie, []byte{0xff, 0xc0})
	copy(lie[at+5:], []byte{0xff, 0xff, 0xff, 0xff})
	for _, row := range []struct {
		name string
		data []byte
		want string
	}{
		{"nothing", nil, "The file is empty: choose the file of the paper."},
		{"200 MB", append(aPDF(1, 100), make([]byte, 200<<20)...), "The file is larger than 16 MB: scan the paper smaller, or in parts."},
		{"a text", []byte("invoice 7"), "The file is no PDF, JPEG or PNG: save the paper as one of them."},
		{"half a PDF", aPDF(1, 9000)[:5000], "The file is a PDF that was cut short or damaged: get it again."},
		{"half a JPEG", whole[:len(whole)/2], "The file is a JPEG picture that was cut short or damaged: get it again."},
		{"the head of a PNG", []byte("\x89PNG\r\n\x1a\n"), "The file is a PNG picture that was cut short or damaged: get it again."},
		{"a JPEG that lies", lie, "The file is a picture of 65535 x 65535 pixels, more than a scan of a paper has: save it smaller."},
	} {
		began := time.Now()
		err := third(w.AddPaperFile(store.Paper{Kind: store.LetterPaper}, "a.pdf", row.data))
		wantRefusal(t, err, store.Invalid, row.want)
		if took := time.Since(began); took > time.Second {
			t.Errorf("%s is refused after %v", row.name, took)
		}
	}
	if _, n, err := w.Pictures(); n != 0 || err != nil {
		t.Errorf("%d are kept, %v", n, err)
	}
}

// What was brought in after the newest copy is put back out of a damaged file with its papers;
// one whose file is damaged itself is put back without, and said to be.
func TestRestorePutsPapersBack(t *testing.T) {
	t.Parallel()
	for _, damaged := range []bool{false, true} {
		w := newWorld(t)
		first, late := aPDF(3, 200_000), aPDF(4, 300_000)
		w.paper("first.pdf", first)
		made, err := copies.NewKeeper(w.Shop, "").Make(context.Background(), filepath.Join(t.TempDir(), "copies"), copies.ByHand)
		w.must(err)
		w.paper("first again.pdf", first)
		w.paper("late.pdf", late)
		w.must(w.Close())
		file, err := os.ReadFile(w.File())
		w.must(err)
		clear(file[:8192]) // the pages that say where everything is
		if damaged {
			file[bytes.LastIndex(file, late[200_000:201_000])+10] ^= 1
		}
		w.must(os.WriteFile(w.File(), file, 0o600))
		plan, err := copies.PlanRestoreFrom(context.Background(), w.File(), made.File)
		w.must(err)
		if len(plan.Missing) != 2 || (len(plan.Lost) == 1) != damaged || strings.Contains(plan.Sentence(), "The file of paper PA-3 cannot be read any more.") != damaged {
			t.Errorf("%d missing, lost %v: %s", len(plan.Missing), plan.Lost, plan.Sentence())
		}
		_, err = copies.Restore(context.Background(), plan, true)
		w.must(err)
		back := storetest.OpenFile(t, w.File(), store.Options{})
		comesBack(t, back)
		for _, number := range []uint64{1, 2} {
			if got, err := back.PaperBytes(number); err != nil || !bytes.Equal(got, first) {
				t.Errorf("PA-%d has %d bytes of %d, %v", number, len(got), len(first), err)
			}
		}
		got, err := back.PaperBytes(3)
		switch {
		case damaged:
			wantRefusal(t, err, store.NotFound, "The file of paper PA-3 was lost when the shop was restored after damage: look in an older copy.")
			p, _, err := back.AddPaperFile(store.Paper{Kind: store.LetterPaper}, "late.pdf", late)
			if err != nil || p.File.In != p.Number {
				t.Errorf("added again it is kept under %d, %v", p.File.In, err)
			}
		case err != nil || !bytes.Equal(got, late):
			t.Errorf("PA-3 has %d bytes of %d, %v", len(got), len(late), err)
		}
	}
}
