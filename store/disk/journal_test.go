package disk

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store/disk/disktest"
)

// The number in front of a body is read as it is written, or not at all.
func TestSeqIn(t *testing.T) {
	for _, row := range []struct {
		body string
		want uint64
		ok   bool
	}{
		{`{"seq":1,"prev":""}`, 1, true},
		{`{"seq":42}`, 42, true},
		{`{"seq":0}`, 0, true},
		{`{"seq":18446744073709551615,`, 1<<64 - 1, true},
		{`{"seq":18446744073709551616,`, 1<<64 - 1, false},
		{`{"seq":7`, 7, true},
		{`{"seq":-1}`, 0, false},
		{`{"seq": 1}`, 0, false},
		{`{"seq":"1"}`, 0, false},
		{`{"seq":}`, 0, false},
		{`{"seq":`, 0, false},
		{`{"seq"`, 0, false},
		{` {"seq":1}`, 0, false},
		{`{"Seq":1}`, 0, false},
		{``, 0, false},
	} {
		if got, ok := seqIn([]byte(row.body)); ok != row.ok || ok && got != row.want {
			t.Errorf("%s: %d, %t; want %d, %t", row.body, got, ok, row.want, row.ok)
		}
	}
}

// A key sorts as its number does, and says it.
func TestSeqKey(t *testing.T) {
	last := []byte{}
	for _, seq := range []uint64{0, 1, 255, 256, 65535, 65536, 1 << 32, 1<<64 - 1} {
		key := SeqKey(seq)
		if len(key) != seqLength || SeqOf(key) != seq || slices.Compare(last, key) >= 0 {
			t.Errorf("the key of %d is %x, after %x, and says %d", seq, key, last, SeqOf(key))
		}
		last = key
	}
}

// What a record says that it follows is the checksum that it was given, and no checksum
// where that cannot be read.
func TestPrev(t *testing.T) {
	for body, want := range map[string]string{
		`{"seq":2,"prev":"e3069283"}`: "e3069283", `{"seq":1,"prev":""}`: "", `{"seq":1}`: "",
	} {
		if got := (Record{Body: []byte(body)}).Prev(); got != want {
			t.Errorf("%s follows %q, want %q", body, got, want)
		}
	}
	for _, body := range []string{`{"seq":2,"prev":`, `{"seq":2,"prev":7}`, ``} {
		if got := (Record{Body: []byte(body)}).Prev(); len(got) <= sumDigits || !strings.HasPrefix(got, "not to be read: ") {
			t.Errorf("%s follows %q, which could be a checksum", body, got)
		}
	}
}

// A record opens under its own key alone.
func TestOpenRecord(t *testing.T) {
	r := aRecord(5, "e3069283")
	for _, row := range []struct {
		name        string
		key, sealed []byte
		want        string
	}{
		{"its own", SeqKey(5), Seal(r.Body), ""},
		{"the next one's", SeqKey(6), Seal(r.Body), "entry 5 is filed under 0000000000000006"},
		{"a short one", SeqKey(5)[:7], Seal(r.Body), "entry 5 is filed under 00000000000000"},
		{"a long one", append(SeqKey(5), 0), Seal(r.Body), "entry 5 is filed under 000000000000000500"},
		{"none", nil, Seal(r.Body), "entry 5 is filed under "},
		{"without a number", SeqKey(0), Seal([]byte(`{"a":1}`)), "entry 0 is filed under 0000000000000000"},
		{"as a table seals", SeqKey(5), newSealer(bucketJournal, Table, true).seal(SeqKey(5), r.Body), "record of 59 bytes has no version 1 envelope"},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, err := openRecord(row.key, row.sealed)
			if said(err, "kit.stow") != row.want {
				t.Fatalf("it says %v, want %q", err, row.want)
			}
			if d := cmp.Diff(r, got); err == nil && d != "" {
				t.Errorf("the record (-want +got):\n%s", d)
			}
		})
	}
}

// Records are asked for by number, and backwards from any of them, as a list has them.
func TestRecordsByNumber(t *testing.T) {
	for _, records := range []uint64{1, 2, 3, 400} {
		t.Run(fmt.Sprint(records), func(t *testing.T) {
			y := quietToy(t)
			y.put(int(records) - 1)
			view(t, y.File, func(tx *Tx) error {
				for _, before := range []uint64{0, 1, 2, 3, records / 2, records, records + 1, 1<<64 - 1} {
					want := []uint64{}
					for seq := min(records, before-1); seq > 0; seq-- { // before 0 is behind the newest
						want = append(want, seq)
					}
					for _, stop := range []int{1, 2, len(want), len(want) + 1} {
						got := []uint64{}
						err := tx.RecordsBefore(before, func(r Record) (bool, error) {
							got = append(got, r.Seq)
							return len(got) < stop, nil
						})
						if d := cmp.Diff(want[:min(len(want), stop)], got); d != "" || err != nil {
							t.Fatalf("before %d, %d of them: %v (-want +got):\n%s", before, stop, err, d)
						}
					}
				}
				for _, seq := range []uint64{0, 1, records, records + 1} {
					r, found, err := tx.Record(seq)
					if err != nil || found != (seq > 0 && seq <= records) || found && (r.Seq != seq || Checksum(r.Body) != r.Sum) {
						t.Errorf("record %d: %v, %t, %v", seq, r, found, err)
					}
				}
				return nil
			})
		})
	}
}

// An empty journal ends at nothing, and has nothing.
func TestEmptyJournal(t *testing.T) {
	f, err := Open(t.TempDir()+"/toy.stow", toyOptions())
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	view(t, f, func(tx *Tx) error {
		never := func() { t.Error("there is a record") }
		end, err := tx.End()
		_, found, recordErr := tx.Record(1)
		if end != (End{}) || found {
			t.Errorf("it ends at %v, record 1 is there: %t", end, found)
		}
		return errors.Join(err, recordErr,
			tx.Records(func(Record, error) error { never(); return nil }),
			tx.RecordsBefore(0, func(Record) (bool, error) { never(); return true, nil }),
			tx.RecordsBefore(9, func(Record) (bool, error) { never(); return true, nil }))
	})
}

// Going over records ends with the error of what is called.
func TestRecordsEnd(t *testing.T) {
	y := quietToy(t)
	y.put(4)
	no := errors.New("no")
	view(t, y.File, func(tx *Tx) error {
		calls := 0
		if err := tx.Records(func(Record, error) error { calls++; return no }); !errors.Is(err, no) || calls != 1 {
			t.Errorf("forwards: %v after %d", err, calls)
		}
		if err := tx.Records(func(Record, error) error { calls++; return ErrStop }); err != nil || calls != 2 {
			t.Errorf("forwards, enough: %v after %d", err, calls)
		}
		if err := tx.RecordsBefore(0, func(Record) (bool, error) { calls++; return true, no }); !errors.Is(err, no) || calls != 3 {
			t.Errorf("backwards: %v after %d", err, calls)
		}
		return nil
	})
}

// A record that is damaged, or that stands where another should, is named; those that are
// asked for beside it are there.
func TestDamagedRecords(t *testing.T) {
	const said3 = "corrupt: An entry of the journal is damaged: keep the file, and open a copy made earlier."
	for _, row := range []struct {
		name  string
		spoil func(raw disktest.Raw) error
		all   []uint64 // that Records shows undamaged
		back  []uint64 // that RecordsBefore shows until it is refused
	}{
		{"a bit", func(raw disktest.Raw) error {
			bad := raw.Get(bucketJournal, SeqKey(3))
			bad[len(bad)-2] ^= 1
			return raw.Put(bucketJournal, SeqKey(3), bad)
		}, []uint64{1, 2, 4, 5}, []uint64{5, 4}},
		{"one is missing", func(raw disktest.Raw) error { return raw.Delete(bucketJournal, SeqKey(3)) }, []uint64{1, 2, 4, 5}, []uint64{5, 4}},
		{"one stands between", func(raw disktest.Raw) error {
			return raw.Put(bucketJournal, append(SeqKey(3), 0), raw.Get(bucketJournal, SeqKey(3)))
		}, []uint64{1, 2, 3, 4, 5}, []uint64{5, 4}},
		{"another's body", func(raw disktest.Raw) error {
			return raw.Put(bucketJournal, SeqKey(3), raw.Get(bucketJournal, SeqKey(2)))
		}, []uint64{1, 2, 4, 5}, []uint64{5, 4}},
	} {
		t.Run(row.name, func(t *testing.T) {
			y := quietToy(t)
			y.put(4)
			path := y.closed()
			disktest.Change(t, path, row.spoil)
			view(t, reopened(t, path), func(tx *Tx) error {
				all, back := []uint64{}, []uint64{}
				err := tx.Records(func(r Record, damage error) error {
					if damage == nil {
						all = append(all, r.Seq)
					} else if said(damage, path) != said3 {
						t.Errorf("one is refused by %v", damage)
					}
					return nil
				})
				if d := cmp.Diff(row.all, all); d != "" || err != nil {
					t.Errorf("forwards, %v (-want +got):\n%s", err, d)
				}
				err = tx.RecordsBefore(0, func(r Record) (bool, error) { back = append(back, r.Seq); return true, nil })
				if d := cmp.Diff(row.back, back); d != "" || said(err, path) != said3 {
					t.Errorf("backwards, %v (-want +got):\n%s", err, d)
				}
				return nil
			})
		})
	}
}

// Append gives a record its number and what it follows, and refuses a body that does not
// start with that number and end with that hash.
func TestAppend(t *testing.T) {
	y := quietToy(t)
	no := errors.New("no")
	end := headOf(t, y.File)
	body := func(seq uint64, hash string) func(Head) ([]byte, error) {
		return func(Head) ([]byte, error) { return aLink(seq, end.Sum, hash).Body, nil }
	}
	for _, row := range []struct {
		name string
		body func(after Head) ([]byte, error)
		want string
	}{
		{"an error", func(Head) ([]byte, error) { return nil, no }, "no"},
		{"no number", func(h Head) ([]byte, error) { return fmt.Appendf(nil, `{"a":1,"prev_sha256":%q}`, h.Hash), nil }, "the body of record 2 does not start with its number"},
		{"another number", body(3, end.Hash), "the body of record 2 does not start with its number"},
		{"no hash", body(2, ""), "the body of record 2 does not end with the hash of record 1"},
		{"another hash", body(2, Hash("", nil)), "the body of record 2 does not end with the hash of record 1"},
		{"as it should be", func(h Head) ([]byte, error) {
			if h.Seq != 1 || h.Sum != end.Sum || h.Hash != end.Hash {
				t.Errorf("behind %+v, want %+v", h, end)
			}
			return aLink(2, h.Sum, h.Hash).Body, nil
		}, ""},
	} {
		err := y.Update(func(tx *Tx) error { return tx.Append(row.body) })
		if said(err, y.path) != row.want {
			t.Errorf("%s: %v, want %q", row.name, err, row.want)
		}
	}
	view(t, y.File, func(tx *Tx) error {
		got, err := tx.End()
		if want := aLink(2, end.Sum, end.Hash).end(); got != want {
			t.Errorf("the journal ends at %v, want %v", got, want)
		}
		return err
	})
	// The journal is written by Append alone.
	for _, open := range []func(tx *Tx) (*Bucket, error){
		func(tx *Tx) (*Bucket, error) { return tx.Bucket(bucketJournal) }, func(tx *Tx) (*Bucket, error) { return tx.ReplayedBucket(bucketJournal) },
	} {
		err := y.Update(func(tx *Tx) error { _, err := open(tx); return err })
		if said(err, y.path) != `corrupt: The shop file has no table "journal": keep it, and open a copy made earlier.` {
			t.Errorf("it is opened as a bucket: %v", err)
		}
	}
}

func ExampleTx_Append() {
	// A record carries the checksum of the one before it, so that a chain of them proves itself.
	first := Record{Seq: 1, Body: []byte(`{"seq":1,"prev":""}`)}
	second := Record{Seq: 2, Body: fmt.Appendf(nil, `{"seq":2,"prev":%q}`, Checksum(first.Body))}
	fmt.Println(second.Prev() == Checksum(first.Body), string(second.Body))
	// Output: true {"seq":2,"prev":"c80a3475"}
}
