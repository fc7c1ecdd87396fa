package store_test

import (
	"bytes"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/disk/disktest"
	"stowright/store/exchange"
	"stowright/store/storetest"
)

// sector is what a disk writes in whole or not at all.
const sector = 512

// A power failure leaves of what was written and not synced whatever it likes: of each
// sector any of the states that it had since the last sync. Here every state of the shop
// file since its checkpoint is kept, and files are put together of their sectors at random.
// Each must open as the shop that stood, with every entry that was acknowledged.
func TestPowerFails(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		powerFails(t, 100, 8)
		return
	}
	powerFails(t, 300, 25)
}

// The power fails after each verb of the store, with the entries of small ones before it
// in the log: nothing that a verb does is lost, whatever it writes beside its entry.
func TestPowerFailsAfterEveryVerb(t *testing.T) {
	t.Parallel()
	o, w := newOutages(t)
	for _, v := range verbs() {
		t.Run(v.name, func(t *testing.T) {
			o.t = t
			o.do(w.addBin)
			done := false
			for tries := 0; tries < 300 && !done; tries++ {
				o.do(func() error {
					s, err := w.scene()
					if err != nil {
						return err
					}
					before := newestEntry(t, w.shop)
					err = v.do(s)
					done = err == nil && newestEntry(t, w.shop) > before
					return err
				})
			}
			if !done {
				t.Fatal("it was refused every time: so nothing is proven")
			}
			o.fail(w.shop)
			o.do(w.addBin)
			o.fail(w.shop)
		})
	}
}

// addBin is a small change that no verb waits for.
func (w toiler) addBin() error {
	return third(w.shop.AddPlace(store.Place{Kind: store.Bin, Name: fmt.Sprint("Bin ", w.r.Int())}))
}

func newestEntry(t *testing.T, shop *store.Shop) uint64 {
	t.Helper()
	list, err := shop.Entries(0, 1)
	if err != nil {
		t.Fatal(err)
	}
	if len(list) == 0 {
		return 0
	}
	return list[0].Seq
}

func powerFails(t *testing.T, verbs, failures int) {
	o, w := newOutages(t)
	for i := 0; i < verbs || o.moved == 0 && i < 10*verbs; i++ { // some verbs alone move the checkpoint
		verb := w.verb
		if i/50%2 == 1 {
			verb = w.small // so that many lie in the log before the next checkpoint
		}
		o.do(verb)
		if o.r.IntN(verbs) < failures && len(o.states) > 0 {
			o.fail(w.shop)
		}
	}
	t.Logf("%d entries replayed, %d failures at a checkpoint", o.replayed, o.moved)
	if o.moved == 0 || o.replayed == 0 {
		t.Error("so nothing is proven")
	}
}

// newOutages is a new shop with a few small changes, and somebody who works in it.
func newOutages(t *testing.T) (*outages, toiler) {
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	o := &outages{t: t, r: rand.New(rand.NewPCG(seed, 2)), file: filepath.Join(storetest.Folder(t), "shop.stow")}
	shop, err := store.Open(o.file, store.Options{Create: true})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = shop.Close() })
	w := toiler{shop: shop, r: o.r, folder: storetest.Folder(t)}
	for range 3 {
		o.do(w.addBin)
	}
	return o, w
}

// outages keeps what a power failure could leave.
type outages struct {
	t    *testing.T
	r    *rand.Rand
	file string

	generation uint64   // of the base
	states     [][]byte // of the shop file since that
	beside     []byte   // the file beside after the last verb
	entries    int      // in it

	replayed, moved int
}

// do does a verb, which may be refused, and keeps the state after it.
func (o *outages) do(verb func() error) {
	o.t.Helper()
	if err := verb(); err != nil && (store.KindOf(err) == store.Internal || store.KindOf(err) == store.Corrupt) {
		o.t.Fatal(err)
	}
	o.look()
}

// look keeps the state after a verb. Where that has moved the base, the power could also
// have failed on the way: then what stood before the verb has to be there.
func (o *outages) look() {
	if _, err := os.Lstat(o.file + ".recent"); err != nil {
		return // before the second change
	}
	state, beside := read(o.t, o.file), read(o.t, o.file+".recent")
	log := disktest.ReadLog(beside)
	if log.Generation != o.generation {
		// Of a verb of two changes the first is in the log before the second moves the checkpoint:
		// the log that stood before the verb lacks it, and is none that could be left.
		if n := len(o.states); n > 0 && disktest.Transaction(state) == disktest.Transaction(o.states[n-1])+1 {
			o.moved++
			was, err := store.Open(o.put(o.states[len(o.states)-1], o.beside), store.Options{})
			if err != nil {
				o.t.Fatal(err)
			}
			o.states = append(o.states, state)
			o.fail(was)
			if err := was.Close(); err != nil {
				o.t.Fatal(err)
			}
		}
		o.generation, o.states = log.Generation, nil
	}
	if len(o.states) == 0 || !bytes.Equal(o.states[len(o.states)-1], state) {
		o.states = append(o.states, state)
	}
	o.beside, o.entries = beside, log.Records
}

// fail makes files of what a failure can leave, and holds them against the shop that stood.
func (o *outages) fail(stood *store.Shop) {
	o.replayed += o.entries
	torn := o.put(mix(o.r, o.states), spoil(o.r, o.beside))
	if o.r.IntN(3) == 0 {
		failAgain(o.t, o.r, torn)
	}
	sameShop(o.t, stood, torn)
}

// put writes a shop file and the file beside it.
func (o *outages) put(shop, beside []byte) (file string) {
	file = filepath.Join(storetest.Folder(o.t), "shop.stow")
	write(o.t, file, shop)
	write(o.t, file+".recent", beside)
	return file
}

func read(t *testing.T, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func write(t *testing.T, name string, data []byte) {
	t.Helper()
	if err := os.WriteFile(name, data, 0o600); err != nil {
		t.Fatal(err)
	}
}

// mix puts a file together of sectors of its states, as long as any of them. Now and then
// a sector that was being written is neither.
func mix(r *rand.Rand, states [][]byte) []byte {
	out := bytes.Clone(states[r.IntN(len(states))])
	newest := r.IntN(2) == 0 // mostly the newest, or anything
	for at := 0; at < len(out); at += sector {
		from := states[len(states)-1]
		if !newest || r.IntN(4) == 0 {
			from = states[r.IntN(len(states))]
		}
		if at+sector <= len(from) {
			copy(out[at:at+sector], from[at:])
		}
		if r.IntN(50) == 0 && written(states, at) {
			for i := range sector {
				out[at+i] = byte(r.Uint32())
			}
		}
	}
	return out
}

// written reports whether a sector has changed since the first state.
func written(states [][]byte, at int) bool {
	for _, s := range states[1:] {
		if at+sector > len(states[0]) || at+sector > len(s) || !bytes.Equal(s[at:at+sector], states[0][at:at+sector]) {
			return true
		}
	}
	return false
}

// spoil changes a file beside where that is not synced: the base that does not count, and
// what comes after the entries.
func spoil(r *rand.Rand, beside []byte) []byte {
	out := bytes.Clone(beside)
	log := disktest.ReadLog(out)
	for _, part := range [][]byte{out[log.Old[0]:log.Old[1]], out[log.End:min(len(out), log.End+1<<14)]} {
		for at := 0; at+sector <= len(part) && r.IntN(2) == 0; at += sector {
			for i := range sector {
				part[at+i] = byte(r.Uint32())
			}
		}
	}
	return out
}

// failAgain has the power fail while the file is opened after a failure.
func failAgain(t *testing.T, r *rand.Rand, torn string) {
	t.Helper()
	beside := read(t, torn+".recent")
	var states [][]byte
	keep := func() { states = append(states, read(t, torn)) }
	if err := store.Recover(torn, keep); err != nil {
		t.Fatal(err)
	}
	keep()
	write(t, torn, mix(r, states))
	write(t, torn+".recent", beside)
}

// sameShop opens a file and looks whether it is whole and the shop that stands.
func sameShop(t *testing.T, want *store.Shop, file string) {
	t.Helper()
	got, err := store.Open(file, store.Options{})
	if err != nil {
		t.Fatalf("opening what a failure left: %v", err)
	}
	defer got.Close()
	if report, err := got.Check(context.Background(), nil); err != nil || !report.OK {
		t.Fatalf("the file is not whole: %v, %v", report.Problems, err)
	}
	if !bytes.Equal(archiveOf(t, want), archiveOf(t, got)) {
		t.Fatalf("the archives of the two, with all entries, records and pictures, are not the same; the entries (-want +got):\n%s",
			cmp.Diff(allEntries(t, want), allEntries(t, got)))
	}
	if _, err := os.Lstat(file + ".recent"); !os.IsNotExist(err) {
		t.Errorf("the log is still there: %v", err)
	}
}

func allEntries(t *testing.T, shop *store.Shop) []store.Entry {
	t.Helper()
	list, err := shop.Entries(0, 1e6)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// archiveOf is all that a shop holds.
func archiveOf(t *testing.T, shop *store.Shop) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := exchange.ExportArchive(context.Background(), shop, &out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}
