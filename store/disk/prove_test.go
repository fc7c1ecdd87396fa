package disk

import (
	"bytes"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"stowright/store/fault"
)

// The checksum of a record covers its bucket and key. That of this one was worked out by
// another implementation of CRC-32C over items, 0, 0 0 0 5, AN9-9, {}.
func TestSealOfKey(t *testing.T) {
	s := newSealer("items", Table, true)
	if got, want := string(s.seal([]byte("AN9-9"), []byte("{}"))), `{"v":2,"crc32c":"48fa5ed9","d":{}}`; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

// Nothing but what was sealed under a key of a bucket opens there.
func TestSealedKeyIsProven(t *testing.T) {
	key, body := []byte("AN3-5A\x00place"), []byte(`{"q":"24 ea"}`)
	for _, kind := range []Kind{Table, Index} {
		s := newSealer("stock", kind, true)
		sealed := s.seal(key, body)
		if got, err := s.open(key, sealed); err != nil || !bytes.Equal(got, body) {
			t.Fatalf("opened as %q, %v", got, err)
		}
		refused := func(what string, s sealer, key, sealed []byte) {
			t.Helper()
			if got, err := s.open(key, sealed); fault.KindOf(err) != fault.Corrupt || err == nil {
				t.Errorf("kind %d, %s: opened as %q, %v", kind, what, got, err)
			}
		}
		for i := range key {
			for bit := range 8 {
				other := bytes.Clone(key)
				other[i] ^= 1 << bit
				refused(fmt.Sprintf("bit %d of byte %d of the key", bit, i), s, other, sealed)
			}
		}
		for i := range sealed {
			for bit := range 8 {
				other := bytes.Clone(sealed)
				other[i] ^= 1 << bit
				refused(fmt.Sprintf("bit %d of byte %d", bit, i), s, key, other)
			}
		}
		refused("in another bucket", newSealer("counted", kind, true), key, sealed)
		refused("a byte from the key to the body", s, key[:len(key)-1], append([]byte{}, sealed...))
		refused("nothing", s, key, nil)
		refused("as an older format seals", s, key, newSealer("stock", kind, false).seal(key, body))
	}
}

// Whatever is put and taken away, in one transaction or over many, what is there is found
// and what is not is proven not to be: no file that bbolt writes is taken for damaged.
func TestProofsHoldOfAnyFile(t *testing.T) {
	t.Parallel()
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	r := rand.New(rand.NewPCG(seed, 0))
	y := quietToy(t)
	model := map[string]string{"P-1": `"some"`}
	drawn := func() string { return fmt.Sprintf("%c%03d", 'a'+r.IntN(3), r.IntN(700)) }
	rounds := 120
	if testing.Short() {
		rounds = 20
	}
	for round := range rounds {
		deleting := round%10 >= 6 // until pages are merged and gone
		err := y.Update(func(tx *Tx) error {
			b, err := tx.Bucket(toyThings)
			for i := 0; i < 150 && err == nil; i++ {
				key := drawn()
				if deleting && r.IntN(8) > 0 {
					delete(model, key)
					err = b.Delete([]byte(key))
				} else {
					model[key] = strings.Repeat("x", r.IntN(300))
					err = b.Put([]byte(key), []byte(model[key]))
				}
				if err == nil && i%10 == 0 {
					err = agrees(b, model, drawn())
				}
			}
			return err
		})
		if err != nil {
			t.Fatalf("round %d: %v", round, err)
		}
		err = y.View(func(tx *Tx) error {
			b, err := tx.Bucket(toyThings)
			for i := 0; i < 30 && err == nil; i++ {
				err = agrees(b, model, drawn())
			}
			return err
		})
		if err != nil {
			t.Fatalf("round %d, after it: %v", round, err)
		}
	}
}

// agrees says where what a bucket has of a key, or of those that start like it, is not
// what a model has.
func agrees(b *Bucket, model map[string]string, key string) error {
	got, err := b.Get([]byte(key))
	want, has := model[key]
	if err != nil || string(got) != want || (got != nil) != has {
		return fmt.Errorf("%s is %q, %w; want %q", key, got, err, want)
	}
	prefix := key[:len(key)%3+1]
	var wanted []string
	for _, k := range slices.Sorted(maps.Keys(model)) {
		if strings.HasPrefix(k, prefix) {
			wanted = append(wanted, k+"="+model[k])
		}
	}
	for name, way := range map[string]func([]byte, func(k, v []byte) error) error{"scan": b.Scan, "unmapped": b.ScanUnmapped} {
		var list []string
		err := way([]byte(prefix), func(k, v []byte) error {
			list = append(list, string(k)+"="+string(v))
			return nil
		})
		if d := cmp.Diff(wanted, list); d != "" || err != nil {
			return fmt.Errorf("%s of %s: %w\n%s", name, prefix, err, d)
		}
	}
	k, v, err := b.First(func(k []byte) bool { return string(k) == key })
	if err != nil || string(v) != want || (k != nil) != has {
		return fmt.Errorf("the first that is %s is %q, %w; want %q", key, v, err, want)
	}
	return nil
}
