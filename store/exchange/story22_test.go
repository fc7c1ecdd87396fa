package exchange

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"stowright/store"
	"stowright/store/disk"
	"stowright/store/measure"
	"stowright/store/storetest"
)

// Story 22, the part of the shop: what was printed at entry 200 is held against the shop at
// entry 350, against an export of which a byte was changed, and against one of which the
// whole chain was worked out anew after that.
func TestStory22Anchors(t *testing.T) {
	ctx := context.Background()
	shop := storetest.Open(t, store.Options{})
	bin, _, err := shop.AddPlace(store.Place{Kind: store.Bin, Name: "Bin 1"})
	if err != nil {
		t.Fatal(err)
	}
	var printed store.Anchor
	for n := int64(1); ; n++ {
		e, err := shop.Count(store.StockKey{Item: "AN3-5A", Place: bin.ID}, measure.Pieces(1000+n))
		if err != nil {
			t.Fatal(err)
		}
		if e.Seq == 200 {
			if printed, err = shop.Head(); err != nil || printed.Entry != 200 || !printed.At.Equal(e.At) {
				t.Fatalf("the head after entry 200 is %+v, %v", printed, err)
			}
		}
		if e.Seq == 350 {
			break
		}
	}
	paper, err := store.ReadPaper(200, printed.Grouped())
	if err != nil {
		t.Fatal(err)
	}
	wantAnswer(t, shop, paper, "Contains entry 200 as printed: unchanged since that paper.")

	var export bytes.Buffer
	if err := Export(ctx, shop, &export); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSuffix(export.String(), "\n"), "\n")
	at := slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(l, `{"entry":{"seq":68,`) })
	lines[at] = strings.Replace(lines[at], `"hand":"Builder"`, `"hand":"Guilder"`, 1)
	folder := t.TempDir()
	err = Import(ctx, filepath.Join(folder, "one.stow"), strings.NewReader(strings.Join(lines, "\n")+"\n"))
	if err == nil || !strings.Contains(err.Error(), "entry 68 is not what entry 69 was written after") {
		t.Errorf("one byte of entry 68 changed: %v", err)
	}

	// The records follow from the entries, and say nothing of who did them; so the chain
	// alone has to be worked out anew.
	path := filepath.Join(folder, "all.stow")
	if err := Import(ctx, path, bytes.NewReader(reseal(rechained(t, lines)))); err != nil {
		t.Fatal(err)
	}
	forged := storetest.OpenFile(t, path, store.Options{})
	wantAnswer(t, forged, paper, "Differs from the paper at entry 200: that entry or one before it is not what it was.")
	early, err := store.ReadPaper(67, hashAt(t, shop, 67))
	if err != nil {
		t.Fatal(err)
	}
	wantAnswer(t, forged, early, "Contains entry 67 as printed: unchanged since that paper.")
}

// wantAnswer is what a whole shop says to a paper.
func wantAnswer(t *testing.T, shop *store.Shop, paper store.OnPaper, want string) {
	t.Helper()
	r, err := shop.CheckPaper(context.Background(), paper, nil)
	if err != nil || !r.OK {
		t.Fatalf("%+v, %v", r, err)
	}
	if got := r.Paper.Words(r.Entries); got != want {
		t.Errorf("got %s\nwant %s", got, want)
	}
}

// rechained gives every entry among the lines the checksum and the hash of the one before it,
// as it stands now.
func rechained(t *testing.T, lines []string) []string {
	t.Helper()
	out := slices.Clone(lines)
	prev, hash := "", ""
	for i, line := range out {
		body, ok := strings.CutPrefix(line, entryLine)
		if !ok {
			continue
		}
		e, err := strictly[store.Entry]([]byte(strings.TrimSuffix(body, "}")))
		if err != nil {
			t.Fatal(err)
		}
		e.Prev, e.PrevSHA256 = prev, hash
		again, err := json.Marshal(e)
		if err != nil {
			t.Fatal(err)
		}
		prev, hash = disk.Checksum(again), disk.Hash(hash, again)
		out[i] = fmt.Sprintf("%s%s}", entryLine, again)
	}
	return out
}

// hashAt is the hash of an entry, as the next one carries it.
func hashAt(t *testing.T, shop *store.Shop, seq uint64) string {
	t.Helper()
	e, err := shop.Entry(seq + 1)
	if err != nil {
		t.Fatal(err)
	}
	return e.PrevSHA256
}
