package disk

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"stowright/store/disk/disktest"
)

// The end of a journal is read plainly, whether its records lie within the page of all
// buckets, on one page or on many, while the file is open and when it was closed.
func TestEndOf(t *testing.T) {
	for _, records := range []int{0, 1, 2, 30, 300} {
		t.Run(fmt.Sprint(records), func(t *testing.T) {
			y := &toy{t: t}
			y.open(filepath.Join(t.TempDir(), "toy.stow"))
			y.SetUnsynced(true)
			y.put(records)
			var ends []End // by number
			view(t, y.File, func(tx *Tx) error {
				ends = append(ends, End{})
				return tx.Records(func(r Record, damage error) error {
					ends = append(ends, r.end())
					return damage
				})
			})
			look := func(path string) {
				t.Helper()
				if got, err := EndOf(path); err != nil || got != ends[records] {
					t.Errorf("the end is %v, %v; want %v", got, err, ends[records])
				}
				for seq := range uint64(records + 2) {
					want := End{}
					if seq <= uint64(records) {
						want = ends[seq]
					}
					if got, err := RecordOf(path, seq); err != nil || got != want {
						t.Fatalf("record %d is %v, %v; want %v", seq, got, err, want)
					}
				}
				if format, ok := FormatOf(path); !ok || format != KeysSealed {
					t.Errorf("the format is %d, %t", format, ok)
				}
			}
			look(y.path)
			look(y.closed())
		})
	}
}

// What is no file of ours has no end and no format.
func TestEndOfOthers(t *testing.T) {
	const damaged = "corrupt: FILE is damaged, or is not a shop file: keep it, and open a copy made earlier."
	good := toyBytes(t)
	for name, row := range map[string]struct {
		data []byte
		want string
	}{
		"nothing":            {nil, damaged},
		"text":               {[]byte("AN3-5A 20\n"), damaged},
		"the first page":     {good[:os.Getpagesize()], "corrupt: FILE is damaged: keep it, and open a copy made earlier."},
		"cut within a meta":  {good[:60], damaged},
		"metas without rest": {good[:2*os.Getpagesize()], "corrupt: FILE is damaged: keep it, and open a copy made earlier."},
	} {
		t.Run(name, func(t *testing.T) {
			path := bare(t, row.data)
			if end, err := EndOf(path); said(err, path) != row.want || end != (End{}) {
				t.Errorf("the end is %v, %v; want %q", end, err, row.want)
			}
			if format, ok := FormatOf(path); ok {
				t.Errorf("the format is %d", format)
			}
		})
	}
	gone := filepath.Join(t.TempDir(), "gone.stow")
	if _, err := EndOf(gone); said(err, gone) != damaged {
		t.Errorf("of a file that is not there: %v", err)
	}
	if _, ok := FormatOf(gone); ok {
		t.Error("a file that is not there has a format")
	}
}

// A record of the journal that is not what was written is not taken for the end.
func TestEndOfDamagedJournal(t *testing.T) {
	for name, spoil := range map[string]func(raw disktest.Raw) error{
		"a bit of the last record": func(raw disktest.Raw) error {
			bad := raw.Get(bucketJournal, SeqKey(5))
			bad[len(bad)-3] ^= 1
			return raw.Put(bucketJournal, SeqKey(5), bad)
		},
		"one under another key": func(raw disktest.Raw) error {
			return raw.Put(bucketJournal, SeqKey(6), raw.Get(bucketJournal, SeqKey(4)))
		},
		"a key that is no number": func(raw disktest.Raw) error {
			return raw.Put(bucketJournal, []byte{0xff}, raw.Get(bucketJournal, SeqKey(4)))
		},
	} {
		t.Run(name, func(t *testing.T) {
			y := quietToy(t)
			y.put(4)
			path := y.closed()
			disktest.Change(t, path, spoil)
			if end, err := EndOf(path); said(err, path) != "corrupt: FILE is damaged: keep it, and open a copy made earlier." || end != (End{}) {
				t.Errorf("the end is %v, %v", end, err)
			}
			if end, err := RecordOf(path, 3); err != nil || end.Seq != 3 {
				t.Errorf("a record before it is %v, %v", end, err)
			}
			err := reopened(t, path).View(func(tx *Tx) error { _, err := tx.End(); return err })
			if said(err, path) != "corrupt: An entry of the journal is damaged: keep the file, and open a copy made earlier." {
				t.Errorf("in a transaction: %v", err)
			}
		})
	}
}

// A format that is no number is none.
func TestFormatOfStrange(t *testing.T) {
	for says, want := range map[string]int{"5": 5, "12": 12, "": 0, "five": 0, "5 ": 0} {
		y := quietToy(t)
		path := y.closed()
		disktest.Change(t, path, func(raw disktest.Raw) error { return raw.Put(bucketMeta, []byte(keyFormat), []byte(says)) })
		if got, ok := FormatOf(path); got != want || ok != (want != 0) {
			t.Errorf("%q is format %d, %t", says, got, ok)
		}
	}
}
