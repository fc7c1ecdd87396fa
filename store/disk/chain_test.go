package disk

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"stowright/store/disk/disktest"
)

// aLink is a record that carries the hash of the one before it, or none.
func aLink(seq uint64, prev, hash string) Record {
	r := aRecord(seq, prev)
	if hash == "" {
		return r
	}
	body := fmt.Appendf(nil, `{"seq":%d,"prev":%q,"prev_sha256":%q}`, seq, prev, hash)
	return Record{Seq: seq, Sum: Checksum(body), Body: body}
}

func headOf(t *testing.T, f *File) (h Head) {
	t.Helper()
	view(t, f, func(tx *Tx) (err error) { h, err = tx.Head(); return err })
	return h
}

func TestHash(t *testing.T) {
	for _, row := range []struct{ before, body, want string }{ // by sha256sum
		{"", "", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"},
		{"", `{"seq":1}`, "b41e95c43f388d561b146326d84e3a6b9e31c4ef32ab97c04774c31aada3246a"},
		{"ab", "c", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"},
	} {
		if got := Hash(row.before, []byte(row.body)); got != row.want {
			t.Errorf("Hash(%q, %q) is %s, want %s", row.before, row.body, got, row.want)
		}
	}
}

func TestCarriedHash(t *testing.T) {
	hash := Hash("", nil)
	for _, row := range []struct {
		name, body string
		want       bool
	}{
		{"the last field", `{"seq":1,"prev_sha256":"` + hash + `"}`, true},
		{"none", `{"seq":1,"prev":"00000000"}`, false},
		{"empty", ``, false},
		{"nothing but the hash", hash + `"}`, false},
		{"not the last field", `{"seq":1,"prev_sha256":"` + hash + `","x":""}`, false},
		{"in a text", `{"seq":1,"text":"a,\"prev_sha256\":\"` + hash + `\""}`, false},
		{"the end of another field's name", `{"seq":1,"not_prev_sha256":"` + hash + `"}`, false},
		{"in a record within", `{"seq":1,"c":{"x":1,"prev_sha256":"` + hash + `"}}`, false},
		{"a digit short", `{"seq":1,"prev_sha256":"` + hash[1:] + `"}`, false},
		{"in large letters", `{"seq":1,"prev_sha256":"` + strings.ToUpper(hash) + `"}`, false},
	} {
		got, ok := CarriedHash([]byte(row.body))
		if ok != row.want || ok && got != hash {
			t.Errorf("%s: %q, %v", row.name, got, ok)
		}
	}
}

// Each record carries the hash of the one before, in the log too, and a file of records
// that carry none is gone on with: what was there is covered by the next one.
func TestChainOfHashes(t *testing.T) {
	y := newToy(t)
	y.put(5)
	hash := ""
	view(t, y.File, func(tx *Tx) error {
		return tx.Records(func(r Record, _ error) error {
			if carried, _ := CarriedHash(r.Body); carried != hash {
				t.Errorf("record %d carries %q, want %q", r.Seq, carried, hash)
			}
			hash = Hash(hash, r.Body)
			return nil
		})
	})
	if got := headOf(t, y.File); got.Seq != 6 || got.Hash != hash {
		t.Errorf("the head is %d with %s, want %s", got.Seq, got.Hash, hash)
	}
}

func TestChainIsBegunLater(t *testing.T) {
	y := quietToy(t)
	if err := y.Close(); err != nil {
		t.Fatal(err)
	}
	first := aRecord(1, "")
	second := aRecord(2, first.Sum)
	disktest.Change(t, y.path, func(raw disktest.Raw) error {
		return errors.Join(raw.Put(bucketJournal, SeqKey(1), Seal(first.Body)), raw.Put(bucketJournal, SeqKey(2), Seal(second.Body)))
	})
	want := Hash(Hash("", first.Body), second.Body)
	y.open(y.path)
	if got := headOf(t, y.File); got.Seq != 2 || got.Hash != want {
		t.Errorf("the head is %d with %s, want %s", got.Seq, got.Hash, want)
	}
	if known := y.hashed.Load(); known == nil || *known != (hashedEnd{second.end(), want}) {
		t.Errorf("what is kept of it is %+v", known)
	}
	// A change that comes to nothing leaves nothing that is taken for the end later.
	undone := errors.New("undone")
	if err := y.Update(func(tx *Tx) error {
		third := aRecord(3, second.Sum)
		if err := tx.putRecord(third); err != nil {
			return err
		}
		h, err := tx.Head()
		if h.Hash != Hash(want, third.Body) {
			t.Errorf("within a change the head is %d with %s", h.Seq, h.Hash)
		}
		return errors.Join(err, undone)
	}); !errors.Is(err, undone) {
		t.Error(err)
	}
	if known := y.hashed.Load(); known.end != second.end() {
		t.Errorf("kept of a change that was given up: %+v", known)
	}
	y.put(1)
	view(t, y.File, func(tx *Tx) error {
		r, _, err := tx.Record(3)
		if carried, _ := CarriedHash(r.Body); carried != want {
			t.Errorf("record 3 carries %q, want %q", carried, want)
		}
		return err
	})
}

// BenchmarkHash is what each change takes longer by: the hash of an entry of a usual size.
func BenchmarkHash(b *testing.B) {
	hash, body := Hash("", nil), []byte(strings.Repeat("x", 700))
	b.ReportAllocs()
	for b.Loop() {
		hash = Hash(hash, body)
	}
}
