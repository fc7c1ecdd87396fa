package disk

import (
	"bytes"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// pasts are keys with their bodies; nil: there was nothing.
var pasts = rapid.MapOfN(rapid.StringMatching(`[ab]{1,4}`), rapid.SampledFrom([][]byte{nil, {}, []byte("was")}), 0, 12)

// A bucket of a transaction that went back is the bucket of the file with what was otherwise
// in its place, whichever way it is read.
func TestPastBucketIsAMap(t *testing.T) {
	y := newToy(t)
	rapid.Check(t, func(r *rapid.T) {
		now := rapid.MapOfN(rapid.StringMatching(`[ab]{1,4}`), rapid.Just([]byte("is")), 0, 12).Draw(r, "now")
		otherwise := pasts.Draw(r, "otherwise")
		prefix := rapid.StringMatching(`[ab]{0,2}`).Draw(r, "prefix")
		want, past := maps.Clone(now), NewPast()
		for key, body := range otherwise {
			past.Put(toyThings, key, body)
			want[key] = body
		}
		maps.DeleteFunc(want, func(_ string, body []byte) bool { return body == nil })
		past.Seal()
		err := y.Update(writing(outsideThings, func(b *Bucket) error {
			var old []string
			err := b.Scan(nil, func(key, _ []byte) error { old = append(old, string(key)); return nil })
			for _, key := range old {
				if err == nil {
					err = b.Delete([]byte(key))
				}
			}
			for key, body := range now {
				if err == nil {
					err = b.Put([]byte(key), body)
				}
			}
			return err
		}))
		if err != nil {
			r.Fatal(err)
		}
		if err := y.View(func(tx *Tx) error { tx.GoBack(past); return wantBucket(r, tx, want, prefix) }); err != nil {
			r.Fatal(err)
		}
		if err := y.View(func(tx *Tx) error { return wantBucket(r, tx, now, prefix) }); err != nil { // as it is
			r.Fatal(err)
		}
	})
}

func wantBucket(r *rapid.T, tx *Tx, want map[string][]byte, prefix string) error {
	b, err := tx.Bucket(toyThings)
	if err != nil {
		return err
	}
	var keys []string
	for _, key := range slices.Sorted(maps.Keys(want)) {
		if strings.HasPrefix(key, prefix) {
			keys = append(keys, key)
		}
	}
	for name, scan := range map[string]func([]byte, func(key, body []byte) error) error{"scan": b.Scan, "unmapped": b.ScanUnmapped} {
		var got []string
		err := scan([]byte(prefix), func(key, body []byte) error {
			if !bytes.Equal(body, want[string(key)]) {
				r.Errorf("%s: %q is %q", name, key, body)
			}
			got = append(got, string(key))
			return nil
		})
		if d := cmp.Diff(keys, got); d != "" || err != nil {
			r.Errorf("%s of %q (-want +got):\n%s%v", name, prefix, d, err)
		}
	}
	last, first := "", ""
	if all := slices.Sorted(maps.Keys(want)); len(all) > 0 {
		last = all[len(all)-1]
	}
	if len(keys) > 0 {
		first = keys[0]
	}
	if got, err := b.Last(); err != nil || string(got) != last {
		r.Errorf("the last is %q, want %q, %v", got, last, err)
	}
	if got, _, err := b.First(func(key []byte) bool { return strings.HasPrefix(string(key), prefix) }); err != nil || string(got) != first {
		r.Errorf("the first of %q is %q, want %q, %v", prefix, got, first, err)
	}
	for _, key := range []string{"a", "ab", "bb", "zz"} {
		body, err := b.Get([]byte(key))
		has, hasErr := b.Has([]byte(key))
		if err != nil || hasErr != nil || has != (want[key] != nil) || !bytes.Equal(body, want[key]) {
			r.Errorf("%q is %q, %v: want %q; %v, %v", key, body, has, want[key], err, hasErr)
		}
	}
	return nil
}

// The journal ends where it ended.
func TestPastJournal(t *testing.T) {
	y := newToy(t)
	y.put(5)
	err := y.View(func(tx *Tx) error {
		third, _, err := tx.Record(3)
		if err != nil {
			return err
		}
		past := NewPast()
		past.End = third.end()
		past.Seal()
		tx.GoBack(past)
		if _, found, err := tx.Record(4); found || err != nil {
			t.Errorf("entry 4 is there: %v", err)
		}
		var forward, back []uint64
		if err := tx.Records(func(r Record, err error) error { forward = append(forward, r.Seq); return err }); err != nil {
			return err
		}
		err = tx.RecordsBefore(0, func(r Record) (bool, error) { back = append(back, r.Seq); return true, nil })
		if !slices.Equal(forward, []uint64{1, 2, 3}) || !slices.Equal(back, []uint64{3, 2, 1}) {
			t.Errorf("the entries are %v, and back %v", forward, back)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}
