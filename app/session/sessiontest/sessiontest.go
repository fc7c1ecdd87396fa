// Package sessiontest opens sessions on shops of tests. Nothing that a session is
// asked to do in the background happens before the test says so, so that what a
// model does at once is distinguished from what it does when an answer is there.
package sessiontest

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"stowright/app/demo"
	"stowright/app/loop"
	"stowright/app/session"
	"stowright/store"
	"stowright/store/storetest"
)

// Bench is a session whose background work waits in a queue.
type Bench struct {
	*session.Session
	*loop.Queue
	t testing.TB
}

// filled are the files of the demo shop at its scenes, each made once and copied
// for every test: making one takes longer than most tests.
var filled = map[demo.Scene]func() ([]byte, error){
	demo.Furnished: sync.OnceValues(func() ([]byte, error) { return fill(demo.Furnished) }),
	demo.Arrived:   sync.OnceValues(func() ([]byte, error) { return fill(demo.Arrived) }),
	demo.Unpacking: sync.OnceValues(func() ([]byte, error) { return fill(demo.Unpacking) }),
	demo.Unpacked:  sync.OnceValues(func() ([]byte, error) { return fill(demo.Unpacked) }),
}

func fill(scene demo.Scene) (data []byte, err error) {
	dir, err := os.MkdirTemp("", "stowright-*")
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(dir)) }()
	path, clock := filepath.Join(dir, "demo.stow"), demo.NewClock(demo.Today, true)
	shop, err := store.Open(path, store.Options{Clock: clock.Now, Random: demo.Random(), Create: true})
	if err != nil {
		return nil, err
	}
	if err := errors.Join(demo.Fill(shop, clock, scene), shop.Close()); err != nil {
		return nil, err
	}
	return os.ReadFile(path)
}

// Open is a session on the demo shop at a scene, on the morning of 18 March 2026.
func Open(t testing.TB, scene demo.Scene) *Bench {
	t.Helper()
	return On(t, OpenShop(t, scene, demo.NewClock(demo.Today, true)))
}

// OpenShop is the demo shop at a scene with a clock of the test's own.
func OpenShop(t testing.TB, scene demo.Scene, clock *demo.Clock) *store.Shop {
	t.Helper()
	data, err := filled[scene]()
	if err != nil {
		t.Fatalf("filling the shop: %v", err)
	}
	path := filepath.Join(storetest.Folder(t), "demo.stow")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return storetest.OpenFile(t, path, store.Options{Clock: clock.Now})
}

// Empty is a session on a shop in which nothing is.
func Empty(t testing.TB) *Bench {
	t.Helper()
	return On(t, storetest.Open(t, store.Options{}))
}

// On is a session on a shop.
func On(t testing.TB, shop *store.Shop) *Bench {
	t.Helper()
	s, err := session.Open(context.Background(), shop, session.Inline(), nil)
	if err != nil {
		t.Fatalf("opening the session: %v", err)
	}
	b := &Bench{Session: s, Queue: &loop.Queue{}, t: t}
	s.Loop = b.Queue.Loop()
	s.Folders.Loop = s.Loop
	return b
}

// Place is the one place of a name that is in use.
func (b *Bench) Place(name string) store.Place {
	b.t.Helper()
	places, err := b.Shop.Places()
	if err != nil {
		b.t.Fatal(err)
	}
	var found []store.Place
	for _, p := range places {
		if p.Name == name && !p.Retired {
			found = append(found, p)
		}
	}
	if len(found) != 1 {
		b.t.Fatalf("%d places are called %q, want 1", len(found), name)
	}
	return found[0]
}

// OneReading fails unless what is done reads the shop in one transaction, with all that
// it does in the background: then it shows one state of the shop.
func (b *Bench) OneReading(what string, do func()) {
	b.t.Helper()
	before := b.Shop.Reads()
	do()
	b.Drain()
	if got := b.Shop.Reads() - before; got != 1 {
		b.t.Errorf("%s reads %d transactions, want 1", what, got)
	}
}

// Heap is the one heap that lies in a place.
func (b *Bench) Heap(place string) session.Heap {
	b.t.Helper()
	heap, err := b.OnlyHeap(b.Place(place).ID)
	if err != nil || heap == nil {
		b.t.Fatalf("the one heap in %s: %v, %v", place, heap, err)
	}
	return *heap
}

// Journal is how many entries the shop has.
func (b *Bench) Journal() int {
	b.t.Helper()
	entries, err := b.Shop.Entries(0, 1)
	if err != nil {
		b.t.Fatal(err)
	}
	if len(entries) == 0 {
		return 0
	}
	return int(entries[0].Seq)
}

// Waits fails unless what was just asked for waits in the background, with the
// shop as it was: the window's goroutine never touches the file.
func (b *Bench) Waits(journal int) {
	b.t.Helper()
	if b.Waiting() == 0 {
		b.t.Error("nothing waits in the background")
	}
	if got := b.Journal(); got != journal {
		b.t.Errorf("the journal has %d entries before the background work, want %d", got, journal)
	}
}
