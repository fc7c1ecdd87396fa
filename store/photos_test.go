package store_test

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/copies"
	"stowright/store/exchange"
	"stowright/store/phototest"
	"stowright/store/storetest"
)

func (w world) photograph(of store.Subject, caption string, picture []byte) store.Photo {
	w.t.Helper()
	p, _, err := w.AddPhoto(of, caption, picture)
	w.must(err)
	return p
}

// A photograph of a position is of one on one aircraft, and the position stays while it is.
func TestPhotographOfAPosition(t *testing.T) {
	w := newWorld(t)
	w.must(second(w.PutAircraft(store.Aircraft{Name: "Q"})))
	hinge, onQ := store.PositionOf("", "Tailplane/hinge 2"), store.PositionOf("Q", "Tailplane/hinge 2")
	_, _, err := w.AddPhoto(store.OfPosition(hinge), "", phototest.JPEG(40, 30, 1))
	if store.KindOf(err) != store.NotFound {
		t.Errorf("of a position that is not recorded: %v", err)
	}
	w.must(second(w.PutPosition(hinge)))
	w.must(second(w.PutPosition(onQ)))
	before := w.photograph(store.OfPosition(onQ), "before it is closed", phototest.JPEG(40, 30, 1))
	for of, want := range map[store.Position]int{onQ: 1, hinge: 0} {
		if list, err := w.Photos(store.OfPosition(of)); err != nil || len(list) != want {
			t.Errorf("of %+v there are %v, %v; want %d", of, list, err, want)
		}
	}
	if name, err := w.SubjectText(before.Of); err != nil || name != "position Tailplane / hinge 2 on Q" {
		t.Errorf("it is called %q, %v", name, err)
	}
	stray := store.OfPlace(w.place["A-01"])
	stray.Aircraft = "Q"
	if _, _, err := w.AddPhoto(stray, "", phototest.JPEG(40, 30, 1)); store.KindOf(err) != store.Invalid {
		t.Errorf("of a drawer on an aircraft: %v", err)
	}
}

// Photographs of a line, a place and an item, several of one: taken away, described,
// undone and redone, each with its own picture.
func TestPhotographs(t *testing.T) {
	t.Parallel()
	w := newWorld(t)
	small, large := phototest.JPEG(40, 30, 1), phototest.JPEG(400, 300, 2)
	line, drawer, item := store.OfLine(w.ship, 4), store.OfPlace(w.place["A-01"]), store.OfItem("AN3-5A")
	first := w.photograph(line, " stamped  A ", small)
	second := w.photograph(line, "", large)
	third := w.photograph(drawer, "", small)
	w.photograph(item, "", small)
	if d := cmp.Diff(store.Photo{Number: 1, Of: line, Caption: "stamped A", At: w.Now(), Hand: "Builder", Width: 40, Height: 30, Bytes: len(small), SHA256: first.SHA256}, first); d != "" {
		t.Errorf("the first (-want +got):\n%s", d)
	}
	numbers := func(of store.Subject) (names []string) {
		list, err := w.Photos(of)
		w.must(err)
		for _, p := range list {
			names = append(names, p.Name()+" "+p.Caption)
		}
		return names
	}
	check := func(when string, want ...string) {
		t.Helper()
		if d := cmp.Diff(want, numbers(line)); d != "" {
			t.Errorf("%s (-want +got):\n%s", when, d)
		}
	}
	check("added", "P-1 stamped A", "P-2 ")
	if d := cmp.Diff([]string{"P-3 "}, numbers(drawer)); d != "" {
		t.Errorf("of the drawer (-want +got):\n%s", d)
	}
	e, err := w.CaptionPhoto(second.Number, "the other side")
	w.must(err)
	if e.Text != "photograph P-2 described: the other side" || len(e.Photos()) != 1 || e.Photos()[0] != line {
		t.Errorf("the entry says %q of %v", e.Text, e.Photos())
	}
	e, err = w.RemovePhoto(first.Number)
	w.must(err)
	if e.Text != "photograph P-1 of line 4 OQ-20-040-B taken away" {
		t.Errorf("the entry says %q", e.Text)
	}
	check("taken away", "P-2 the other side")
	if _, err := w.Picture(first.Number); store.KindOf(err) != store.NotFound {
		t.Errorf("the picture that was taken away: %v", err)
	}
	for range 2 {
		_, err = w.Undo()
		w.must(err)
	}
	check("undone", "P-1 stamped A", "P-2 ")
	if got, err := w.Picture(first.Number); err != nil || !bytes.Equal(got, small) {
		t.Errorf("the picture that is back has %d bytes, %v", len(got), err)
	}
	_, err = w.Redo()
	w.must(err)
	check("redone", "P-1 stamped A", "P-2 the other side")
	if got, err := w.Picture(second.Number); err != nil || !bytes.Equal(got, large) {
		t.Errorf("the large picture has %d bytes of %d, %v", len(got), len(large), err)
	}
	lines, err := w.PhotosOfLines(w.ship)
	if err != nil || len(lines) != 1 || len(lines[4]) != 2 {
		t.Errorf("of the lines: %v, %v", lines, err)
	}
	if n, _, err := w.Pictures(); n != 4 || err != nil {
		t.Errorf("%d pictures, %v, want 4", n, err)
	}
	// A number whose photograph was undone is not given again: a copy may know it.
	w.photograph(drawer, "", large)
	_, err = w.Undo()
	w.must(err)
	if p := w.photograph(drawer, "", small); p.Number != 6 || third.Number != 3 {
		t.Errorf("the sixth has number %d", p.Number)
	}
}

// withSegment is a JPEG file with a segment of a marker after its start.
func withSegment(picture []byte, marker byte, text string) []byte {
	n := len(text) + 2
	segment := append([]byte{0xff, marker, byte(n >> 8), byte(n)}, text...)
	return append(append(bytes.Clone(picture[:2]), segment...), picture[2:]...)
}

func TestPhotographsRefused(t *testing.T) {
	w := newWorld(t)
	good, item := phototest.JPEG(40, 30, 1), store.OfItem("AN3-5A")
	for _, row := range []struct {
		name    string
		of      store.Subject
		caption string
		picture []byte
		want    string
	}{
		{"nothing", item, "", nil, "is not a complete JPEG picture"},
		{"no picture", item, "", []byte("GIF89a"), "is not a complete JPEG picture"},
		{"cut", item, "", good[:len(good)-1], "is not a complete JPEG picture"},
		{"too wide", item, "", phototest.JPEG(1601, 8, 1), "has 1601 x 8 pixels, and 1600"},
		{"too many bytes", item, "", append(bytes.Clone(good), make([]byte, store.MaxPhotoBytes)...), "are kept at most"},
		{"its position", item, "", withSegment(good, 0xe1, "Exif\x00\x00"), "carries remarks of the camera"},
		{"a remark", item, "", withSegment(good, 0xfe, "home"), "carries remarks of the camera"},
		{"of nothing", store.Subject{}, "", good, "Say what the photograph is of"},
		{"of two things", store.Subject{Item: "AN3-5A", Place: w.place["S1"]}, "", good, "Say what the photograph is of"},
		{"of a line of no list", store.Subject{Line: 3}, "", good, "Say what the photograph is of"},
		{"of no such line", store.OfLine(w.ship, 99), "", good, "is not in this shop"},
		{"of no such place", store.OfPlace("x"), "", good, "is not in this shop"},
		{"of no such item", store.OfItem("AN3-8"), "", good, "is not in this shop"},
		{"too long a caption", item, strings.Repeat("x", 1001), good, "longer than 1000"},
	} {
		t.Run(row.name, func(t *testing.T) {
			if _, _, err := w.AddPhoto(row.of, row.caption, row.picture); err == nil || !strings.Contains(err.Error(), row.want) {
				t.Errorf("got %v, want %q", err, row.want)
			}
		})
	}
	if n, _, err := w.Pictures(); n != 0 || err != nil {
		t.Errorf("%d pictures are left of what was refused, %v", n, err)
	}
	for name, do := range map[string]func() error{
		"picture": func() error { return second(w.Picture(7)) },
		"photo":   func() error { return second(w.Photo(7)) },
		"remove":  func() error { return second(w.RemovePhoto(7)) },
		"caption": func() error { return second(w.CaptionPhoto(7, "x")) },
	} {
		if err := do(); store.KindOf(err) != store.NotFound {
			t.Errorf("%s of one that is not there: %v", name, err)
		}
	}
}

func TestPhotoNumber(t *testing.T) {
	for text, want := range map[string]uint64{"P-17": 17, "p17": 17, " 17 ": 17, "P-": 0, "-1": 1, "P-0": 0, "": 0, "../P-1": 0, "99999999999": 0} {
		got, ok := store.PhotoNumber(text)
		if got != want && (ok || want != 0) || ok != (want > 0) {
			t.Errorf("%q is %d, %v, want %d", text, got, ok, want)
		}
	}
}

// A safe copy has the photographs; restored, they are there byte for byte.
func TestCopiesHoldPhotographs(t *testing.T) {
	t.Parallel()
	w := newWorld(t)
	pictures := map[uint64][]byte{}
	for i := range uint64(3) {
		picture := phototest.JPEG(300, 200+int(i), i)
		pictures[w.photograph(store.OfLine(w.ship, 1), "", picture).Number] = picture
	}
	_, err := w.RemovePhoto(2)
	w.must(err)
	made, err := copies.NewKeeper(w.Shop, "").Make(context.Background(), filepath.Join(t.TempDir(), "copies"), copies.ByHand)
	w.must(err)
	elsewhere := filepath.Join(t.TempDir(), "machine", "shop.stow")
	plan, err := copies.PlanRestoreFrom(context.Background(), elsewhere, made.File)
	w.must(err)
	_, err = copies.Restore(context.Background(), plan, true)
	w.must(err)
	back := storetest.OpenFile(t, elsewhere, store.Options{})
	_, err = back.Undo() // brings the second back
	w.must(err)
	for number, want := range pictures {
		if got, err := back.Picture(number); err != nil || !bytes.Equal(got, want) {
			t.Errorf("P-%d has %d bytes of %d, %v", number, len(got), len(want), err)
		}
	}
}

// What was photographed after the newest copy is found in the damaged file; where a
// picture is damaged itself, its photograph is put back without, and said to be lost.
func TestRestorePutsPhotographsBack(t *testing.T) {
	t.Parallel()
	for _, damaged := range []bool{false, true} {
		t.Run(fmt.Sprint("damaged ", damaged), func(t *testing.T) {
			w := newWorld(t)
			first, late := phototest.JPEG(300, 200, 1), phototest.JPEG(400, 300, 2)
			w.photograph(store.OfItem("AN3-5A"), "", first)
			made, err := copies.NewKeeper(w.Shop, "").Make(context.Background(), filepath.Join(t.TempDir(), "copies"), copies.ByHand)
			w.must(err)
			w.photograph(store.OfItem("AN3-5A"), "dent", late)
			w.must(w.Close())
			file, err := os.ReadFile(w.File())
			w.must(err)
			clear(file[:8192]) // the pages that say where everything is
			if damaged {
				at := bytes.LastIndex(file, late[len(late)-2000:len(late)-1000])
				file[at+10] ^= 1
			}
			w.must(os.WriteFile(w.File(), file, 0o600))
			plan, err := copies.PlanRestoreFrom(context.Background(), w.File(), made.File)
			w.must(err)
			if len(plan.Missing) != 1 || (len(plan.Lost) == 1) != damaged || strings.Contains(plan.Sentence(), "P-2 cannot be read any more") != damaged {
				t.Errorf("%d missing, lost %v: %s", len(plan.Missing), plan.Lost, plan.Sentence())
			}
			_, err = copies.Restore(context.Background(), plan, true)
			w.must(err)
			back := storetest.OpenFile(t, w.File(), store.Options{})
			comesBack(t, back) // a lost picture does not stand in the way
			if got, err := back.Picture(1); err != nil || !bytes.Equal(got, first) {
				t.Errorf("the first has %d bytes of %d, %v", len(got), len(first), err)
			}
			got, err := back.Picture(2)
			if damaged && (store.KindOf(err) != store.NotFound || !strings.Contains(err.Error(), "was lost")) {
				t.Errorf("the lost one: %d bytes, %v", len(got), err)
			}
			if !damaged && (err != nil || !bytes.Equal(got, late)) {
				t.Errorf("the late one has %d bytes of %d, %v", len(got), len(late), err)
			}
		})
	}
}

// A flipped byte of a picture is found by check and refused by Picture, and no copy
// of such a file counts as good.
func TestDamagedPicture(t *testing.T) {
	w := newWorld(t)
	picture := phototest.JPEG(400, 300, 1)
	w.photograph(store.OfItem("AN3-5A"), "", picture)
	w.must(w.Close())
	file, err := os.ReadFile(w.File())
	w.must(err)
	file[bytes.Index(file, picture[1000:2000])+5] ^= 0x20
	path := filepath.Join(t.TempDir(), "flipped.stow")
	w.must(os.WriteFile(path, file, 0o600))
	shop, err := store.Open(path, store.Options{})
	w.must(err)
	defer shop.Close()
	report, err := shop.Check(context.Background(), nil)
	if err != nil || report.OK || len(report.Problems) != 1 || !strings.Contains(report.Problems[0], "the picture of photograph P-1: part 0 of blob 1: checksum") {
		t.Errorf("check: %+v, %v", report, err)
	}
	if _, err := shop.Picture(1); store.KindOf(err) != store.Corrupt {
		t.Errorf("the picture: %v", err)
	}
	folder := filepath.Join(t.TempDir(), "copies")
	if _, err := copies.NewKeeper(shop, "").Make(context.Background(), folder, copies.ByHand); store.KindOf(err) != store.Corrupt {
		t.Errorf("a copy: %v", err)
	}
	if err := exchange.ExportArchive(context.Background(), shop, &bytes.Buffer{}); store.KindOf(err) != store.Corrupt {
		t.Errorf("an archive: %v", err)
	}
	if names, err := filepath.Glob(filepath.Join(folder, "*")); err != nil || len(names) > 0 {
		t.Errorf("left of the copy: %v, %v", names, err)
	}
}

// manyPhotos is a shop with that many photographs of 300 kB.
func manyPhotos(b *testing.B, n int) *store.Shop {
	b.Helper()
	shop, err := store.Open(filepath.Join(b.TempDir(), "shop.stow"), store.Options{Create: true})
	if err != nil {
		b.Fatal(err)
	}
	place, _, err := shop.AddPlace(store.Place{Kind: store.Shelf, Name: "S1"})
	if err != nil {
		b.Fatal(err)
	}
	for done := 0; done < n; done += 50 {
		err := shop.Together(func(group *store.Shop) error {
			for i := range min(50, n-done) {
				if _, _, err := group.AddPhoto(store.OfPlace(place.ID), "", photo300(uint64(done+i))); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			b.Fatal(err)
		}
	}
	return shop
}

// photo300 is a picture of 300 kB, cheaper to make than one of its own noise: the
// number of the seed stands in the data of one and the same picture, and is no marker.
func photo300(seed uint64) []byte {
	once300.Do(func() { noise300 = phototest.JPEG(584, 584, 1) })
	picture := bytes.Clone(noise300)
	for i := range 8 {
		picture[200_000+2*i] = byte(seed>>(8*i)) & 0x7f
	}
	return picture
}

var (
	once300  sync.Once
	noise300 []byte
)

// What 2,000 photographs of 300 kB cost: adding one more, opening, a safe copy that is
// verified, and looking at one.
func BenchmarkPhotographs(b *testing.B) {
	const n = 2000
	shop := manyPhotos(b, n)
	place, err := shop.Places()
	if err != nil {
		b.Fatal(err)
	}
	of := store.OfPlace(place[0].ID)
	b.Run("add", func(b *testing.B) {
		var took []time.Duration
		for i := 0; b.Loop(); i++ {
			start := time.Now()
			if _, _, err := shop.AddPhoto(of, "", photo300(uint64(n+i))); err != nil {
				b.Fatal(err)
			}
			took = append(took, time.Since(start))
		}
		slices.Sort(took)
		b.ReportMetric(float64(took[len(took)/2].Microseconds())/1000, "ms-median")
	})
	b.Run("list", func(b *testing.B) {
		for b.Loop() {
			if _, err := shop.Photos(of); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("picture", func(b *testing.B) {
		for b.Loop() {
			if _, err := shop.Picture(n / 2); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("backup", func(b *testing.B) {
		for b.Loop() {
			if _, err := copies.NewKeeper(shop, "").Make(context.Background(), filepath.Join(b.TempDir(), "copies"), copies.ByHand); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("check", func(b *testing.B) {
		for b.Loop() {
			if report, err := shop.Check(context.Background(), nil); err != nil || !report.OK {
				b.Fatal(report, err)
			}
		}
	})
	b.Run("open", func(b *testing.B) {
		for b.Loop() {
			if err := shop.Close(); err != nil {
				b.Fatal(err)
			}
			if shop, err = store.Open(shop.File(), store.Options{}); err != nil {
				b.Fatal(err)
			}
		}
	})
	if err := shop.Close(); err != nil {
		b.Fatal(err)
	}
}
