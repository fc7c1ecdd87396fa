package disk

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"stowright/store/disk/disktest"
)

// pagesOf is what is sealed on pages of its own, as it lies in a log.
func pagesOf(sealed []byte) []byte {
	return append(bytes.Clone(sealed), make([]byte, logPages(len(sealed))-int64(len(sealed)))...)
}

// slotOf is the page of a checkpoint; of generation 0 it is empty.
func slotOf(t testing.TB, c checkpoint) []byte {
	t.Helper()
	body, err := json.Marshal(c)
	if err != nil {
		t.Fatal(err)
	}
	if c.Generation == 0 {
		return make([]byte, logPage)
	}
	return pagesOf(Seal(body))
}

// chainFrom are so many records that follow each other behind an end, of which the one of a
// number is large.
func chainFrom(end End, n, large int) (records []Record) {
	for i := range n {
		prev := end.Sum
		body := fmt.Appendf(nil, `{"seq":%d,"prev":%q}`, end.Seq+1, prev)
		if i == large {
			body = fmt.Appendf(nil, `{"seq":%d,"prev":%q,"note":%q}`, end.Seq+1, prev, strings.Repeat("x", 2*logPage))
		}
		records = append(records, Record{Seq: end.Seq + 1, Sum: Checksum(body), Body: body})
		end = records[i].end()
	}
	return records
}

// What a log says is the newest checkpoint and the records that follow it without a gap: what
// was torn last was never said to be done, and where something is missing before that, it is
// refused.
func TestReadLog(t *testing.T) {
	early, late := checkpoint{Generation: 6, Seq: 4, Sum: "0000cafe"}, checkpoint{Generation: 7, Seq: 6, Sum: ""}
	chain := chainFrom(early.end(nil), 6, -1) // 5 to 10
	late.Sum = chain[1].Sum
	grand := chainFrom(early.end(nil), 3, 1)
	stranger := chainFrom(End{4, "0000beef"}, 2, -1)
	page := func(r Record) []byte { return pagesOf(Seal(r.Body)) }
	torn := func(r Record) []byte {
		p := page(r)
		clear(p[45:])
		return p
	}
	flipped := func(data []byte, at int) []byte { data[at] ^= 1; return data }
	empty := make([]byte, logPage)
	e, l, none := slotOf(t, early), slotOf(t, late), slotOf(t, checkpoint{})
	for _, row := range []struct {
		name  string
		pages [][]byte
		from  uint64   // generation of the checkpoint that counts
		want  []uint64 // records that follow it
		err   string
	}{
		{"nothing", nil, 0, nil, ""},
		{"just made", [][]byte{none, none, empty}, 0, nil, ""},
		{"half a checkpoint", [][]byte{e[:50]}, 0, nil, ""},
		{"a checkpoint alone", [][]byte{none, e}, 6, nil, ""},
		{"in the other place", [][]byte{e, none}, 6, nil, ""},
		{"the newer of two", [][]byte{e, l}, 7, nil, ""},
		{"the newer one first", [][]byte{l, e}, 7, nil, ""},
		{"the newer one is torn", [][]byte{e, append(bytes.Clone(l[:40]), empty[40:]...), page(chain[0])}, 6, []uint64{5}, ""},
		{"the newer one has a wrong bit", [][]byte{flipped(bytes.Clone(l), 30), e, page(chain[0])}, 6, []uint64{5}, ""},
		{"both are torn", [][]byte{flipped(bytes.Clone(l), 30), flipped(bytes.Clone(e), 30), page(chain[0])}, 0, nil, ""},
		{"records", [][]byte{none, e, page(chain[0]), page(chain[1]), page(chain[2])}, 6, []uint64{5, 6, 7}, ""},
		{"and nothing behind", [][]byte{none, e, page(chain[0]), empty, empty}, 6, []uint64{5}, ""},
		{"a large one among them", [][]byte{none, e, page(grand[0]), page(grand[1]), page(grand[2])}, 6, []uint64{5, 6, 7}, ""},
		{"the last one torn", [][]byte{none, e, page(chain[0]), torn(chain[1])}, 6, []uint64{5}, ""},
		{"the last large one torn", [][]byte{none, e, page(grand[0]), page(grand[1])[:logPage]}, 6, []uint64{5}, ""},
		{"only one, torn", [][]byte{none, e, torn(chain[0])}, 6, nil, ""},
		{"one before the last torn", [][]byte{none, e, torn(chain[0]), page(chain[1])}, 0, nil, "entry 6 does not follow entry 4"},
		{"one missing", [][]byte{none, e, page(chain[0]), page(chain[2])}, 0, nil, "entry 7 does not follow entry 5"},
		{"a page of nothing between", [][]byte{none, e, page(chain[0]), empty, page(chain[1])}, 0, nil, "entry 6 does not follow entry 5"},
		{"in the wrong order", [][]byte{none, e, page(chain[1]), page(chain[0])}, 0, nil, "entry 6 does not follow entry 4"},
		{"the last one twice", [][]byte{none, e, page(chain[0]), page(chain[0])}, 6, []uint64{5}, ""},
		{"one twice, then another", [][]byte{none, e, page(chain[0]), page(chain[0]), page(chain[1])}, 0, nil, "entry 6 does not follow entry 5"},
		{"of another journal", [][]byte{none, e, page(stranger[0])}, 0, nil, "entry 5 does not follow entry 4"},
		{"one of another behind", [][]byte{none, e, page(chain[0]), page(stranger[1])}, 0, nil, "entry 6 does not follow entry 5"},
		{"those before the checkpoint", [][]byte{e, l, page(chain[0]), page(chain[1])}, 7, nil, ""},
		{"new ones over old ones", [][]byte{e, l, page(chain[2]), page(chain[1])}, 7, []uint64{7}, ""},
		{"old ones under new ones", [][]byte{e, l, page(chain[2]), page(chain[1]), page(chain[3])}, 0, nil, "entry 8 does not follow entry 7"},
		{"one within a page", [][]byte{none, e, append(make([]byte, 100), page(chain[0])[:logPage-100]...)}, 6, nil, ""},
		{"a checkpoint as a record", [][]byte{none, e, e, page(chain[0])}, 0, nil, "entry 5 does not follow entry 4"},
	} {
		t.Run(row.name, func(t *testing.T) {
			c, records, err := readLog(bare(t, row.pages...))
			if said(err, "kit.stow") != row.err {
				t.Fatalf("it says %v, want %q", err, row.err)
			}
			if d := cmp.Diff(row.want, seqs(records)); d != "" || c.Generation != row.from {
				t.Errorf("generation %d, want %d; records (-want +got):\n%s", c.Generation, row.from, d)
			}
			end, want := c.end(records), End{}
			switch {
			case len(records) > 0:
				want = records[len(records)-1].end()
			case row.from > 0:
				want = map[uint64]checkpoint{6: early, 7: late}[row.from].end(nil)
			}
			if end != want {
				t.Errorf("the end is %v, want %v", end, want)
			}
		})
	}
	if _, _, err := readLog(filepath.Join(t.TempDir(), "gone.recent")); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("a log that is not there: %v", err)
	}
	if _, _, err := readLog(t.TempDir()); err == nil || errors.Is(err, io.EOF) {
		t.Errorf("a folder: %v", err)
	}
}

// Whatever of its pages a failing disk left as they were, out of a log is read what was said
// to be done, and nothing that was not begun; or it is refused where more than the last is lost.
func TestReadLogOfSomePages(t *testing.T) {
	start := checkpoint{Generation: 3, Seq: 10, Sum: "0000cafe"}
	slot := slotOf(t, start)
	folder := t.TempDir()
	rapid.Check(t, func(r *rapid.T) {
		n := rapid.IntRange(0, 5).Draw(r, "records")
		chain := chainFrom(start.end(nil), n, rapid.IntRange(-1, 4).Draw(r, "large"))
		data, kept := bytes.Clone(append(make([]byte, logPage), slot...)), n
		for i, record := range chain {
			p := pagesOf(Seal(record.Body))
			if rapid.IntRange(0, 3).Draw(r, "lost") == 0 {
				clear(p[rapid.IntRange(0, len(Seal(record.Body))-2).Draw(r, "from"):])
				kept = min(kept, i)
			}
			data = append(data, p...)
		}
		path := filepath.Join(folder, "toy.recent")
		if err := os.WriteFile(path, data, FilePerm); err != nil {
			r.Fatal(err)
		}
		_, records, err := readLog(path)
		switch {
		case err != nil && kept >= n-1:
			r.Errorf("with %d of %d records: %v", kept, n, err)
		case err == nil && len(records) != kept:
			r.Errorf("%d records are read, %d follow the checkpoint", len(records), kept)
		}
		for i, got := range records {
			if d := cmp.Diff(chain[i], got); d != "" {
				r.Errorf("record %d (-want +got):\n%s", i, d)
			}
		}
	})
}

// Only a page that is a checkpoint is read as one.
func TestParseCheckpoint(t *testing.T) {
	want := checkpoint{Generation: 9, Meta: []byte{1, 2, 0}, Seq: 4, Sum: "e3069283"}
	page := slotOf(t, want)
	if d := cmp.Diff(want, parseCheckpoint(page)); d != "" {
		t.Errorf("as it was written (-want +got):\n%s", d)
	}
	for name, bad := range map[string][]byte{
		"nothing": nil, "an empty page": make([]byte, logPage), "cut short": page[:70], "a record": pagesOf(Seal([]byte(`[1]`))),
		"text behind it": append(bytes.TrimRight(bytes.Clone(page), "\x00"), 'x'), "no numbers": pagesOf(Seal([]byte(`{"generation":"9"}`))),
	} {
		if d := cmp.Diff(checkpoint{}, parseCheckpoint(bad)); d != "" {
			t.Errorf("%s is read as one (-want +got):\n%s", name, d)
		}
	}
}

// A record goes into the log where there is room for it, in the log, in the map, and in the
// file, which must not grow much before the next checkpoint.
func TestLogTakes(t *testing.T) {
	const small, large = int64(1 << 20), int64(64 << 20)
	for _, row := range []struct {
		name       string
		length     int // of the record in bytes, -1 for none
		next       int64
		atStart    int64 // how large the file was at the checkpoint
		size, room int64 // how large it is, and how much more of it is mapped
		want       bool
	}{
		{"the first one", 100, logRecords, small, small, 1 << 30, true},
		{"no record", -1, logRecords, small, small, 1 << 30, false},
		{"an empty one", 0, logRecords, small, small, 1 << 30, true},
		{"a large one", maxLogged, logRecords, small, small, 1 << 30, true},
		{"one too large", maxLogged + 1, logRecords, small, small, 1 << 30, false},
		{"the last page", logPage, logLength - logPage, small, small, 1 << 30, true},
		{"a byte more than the last page", logPage + 1, logLength - logPage, small, small, 1 << 30, false},
		{"no page left", 1, logLength, small, small, 1 << 30, false},
		{"just enough of it is mapped", 100, logRecords, small, small, maxGrown + 1, true},
		{"too little of it is mapped", 100, logRecords, small, small, maxGrown, false},
		{"grown as far as may be", 100, logRecords, small, small + maxPinned, 1 << 30, true},
		{"grown too far", 100, logRecords, small, small + maxPinned + 1, 1 << 30, false},
		{"a large file may grow more", 100, logRecords, large, large + large/8, 1 << 30, true},
		{"but not by more than an eighth", 100, logRecords, large, large + large/8 + 1, 1 << 30, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			w := &writeAheadLog{size: row.atStart, next: row.next}
			var record []byte
			if row.length >= 0 {
				record = make([]byte, row.length)
			}
			if got := w.takes(record, row.size, row.size+row.room); got != row.want {
				t.Errorf("it is taken: %t", got)
			}
		})
	}
}

func TestLogPages(t *testing.T) {
	for length, want := range map[int]int64{0: 0, 1: logPage, logPage: logPage, logPage + 1: 2 * logPage, maxLogged: maxLogged} {
		if got := logPages(length); got != want {
			t.Errorf("%d bytes have %d of pages, want %d", length, got, want)
		}
	}
}

// Each record begins on a page of its own, in the envelope that it has in the journal, and the
// log that tests read by themselves says the same.
func TestLogLayout(t *testing.T) {
	y := newToy(t)
	y.put(2)
	y.putAs("large", strings.Repeat("x", 3*logPage))
	y.put(1)
	data, err := os.ReadFile(LogPath(y.path))
	if err != nil {
		t.Fatal(err)
	}
	at := logRecords
	view(t, y.File, func(tx *Tx) error {
		return tx.Records(func(r Record, damage error) error {
			if r.Seq == 1 {
				return damage // it was there before the log
			}
			if sealed := Seal(r.Body); !bytes.HasPrefix(data[at:], sealed) {
				t.Errorf("record %d is not at %d", r.Seq, at)
			} else {
				at += int(logPages(len(sealed)))
			}
			return damage
		})
	})
	if y.log.next != int64(at) {
		t.Errorf("the next one goes to %d, want %d", y.log.next, at)
	}
	_, records, err := readLog(LogPath(y.path))
	if l := disktest.ReadLog(data); err != nil || len(records) != 4 || l.Records != len(records) || l.End != at {
		t.Errorf("%d records are read, %v, and %+v", len(records), err, l)
	}
}

// A log that was done with is empty, should it turn up again, and gone.
func TestRemoveLog(t *testing.T) {
	y := newToy(t)
	y.put(4)
	path := y.crash()
	beside := LogPath(path)
	second := beside + ".again"
	if err := os.Link(beside, second); err != nil {
		t.Skip(err)
	}
	wantWhole(t, path, 5)
	if c, records, err := readLog(second); err != nil || c.Generation != 0 || len(records) != 0 {
		t.Errorf("under its other name it has generation %d and %d records, %v", c.Generation, len(records), err)
	}
	// One that lies in its place meanwhile is not ours to take away.
	f, err := os.OpenFile(second, os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := errors.Join(os.Remove(second), os.WriteFile(second, []byte("another"), FilePerm), removeLog(f)); err != nil {
		t.Fatal(err)
	}
	if got, err := os.ReadFile(second); err != nil || string(got) != "another" {
		t.Errorf("another log is %q, %v", got, err)
	}
}
