// Package storetest opens temporary shops for tests. Every shop that it opens is
// checked when the test ends: its journal is replayed and compared with its file.
package storetest

import (
	"context"
	"math/rand/v2"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"stowright/store"
)

// Clock is a clock that stands still until it is moved. It is safe for use by
// several goroutines.
type Clock struct {
	mu  sync.Mutex
	now time.Time
}

// NewClock returns a clock at nine in the morning, UTC, of a day such as "2026-03-14".
func NewClock(t testing.TB, day string) *Clock {
	t.Helper()
	c := &Clock{}
	c.Set(t, day)
	return c
}

// Now is the time it shows.
func (c *Clock) Now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.now
}

// Set moves it to nine in the morning, UTC, of a day.
func (c *Clock) Set(t testing.TB, day string) {
	t.Helper()
	at, err := time.Parse(time.DateOnly, day)
	if err != nil {
		t.Fatalf("clock: %v", err)
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	c.now = at.Add(9 * time.Hour)
}

// Day is the day on which shops of tests are opened, unless they say otherwise.
const Day = "2026-03-14"

// Seed makes ids and tags the same in every run.
const Seed = 20731

// Random is a stream of bytes that is the same in every run.
func Random() *rand.ChaCha8 { return rand.NewChaCha8([32]byte{0: Seed & 0xff, 1: Seed >> 8}) }

// Open opens an empty shop in a folder of the test's own, on Day, with ids and
// tags that are the same in every run. Zero fields of o are filled in.
func Open(t testing.TB, o store.Options) *store.Shop {
	t.Helper()
	return OpenFile(t, filepath.Join(Folder(t), "shop.stow"), o)
}

// OpenFile is Open on a file of a given name, which is made when it is not there.
func OpenFile(t testing.TB, path string, o store.Options) *store.Shop {
	t.Helper()
	if o.Clock == nil {
		o.Clock = NewClock(t, Day).Now
	}
	if o.Random == nil {
		o.Random = Random()
	}
	o.Create = true
	shop, err := store.Open(path, o)
	if err != nil {
		t.Fatalf("opening a shop: %v", err)
	}
	t.Cleanup(func() { finish(t, shop) })
	return shop
}

// finish checks a shop and closes it. A test that closed its shop has to have
// opened it again under another name, whose cleanup then checks it.
func finish(t testing.TB, shop *store.Shop) {
	if shop.Closed() {
		return
	}
	report, err := shop.Check(context.Background(), nil)
	if err != nil {
		t.Errorf("checking the shop: %v", err)
	}
	for _, p := range report.Problems {
		t.Errorf("the shop is not whole: %s", p)
	}
	if err := shop.Close(); err != nil {
		t.Errorf("closing the shop: %v", err)
	}
}
