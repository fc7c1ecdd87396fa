package session

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"sync/atomic"

	"stowright/store"
	"stowright/store/search"
)

// indexing is how far the index is. It is updated by the goroutine that builds it
// and asked from any.
type indexing struct {
	running     atomic.Bool
	done, total atomic.Int64
	stop        context.CancelFunc // nil where nothing was started in the background
	ended       chan struct{}      // closed when the building has ended, well or not
	then        []func(error)      // guarded by mu of the session
	failed      error              // guarded by mu of the session
}

// Indexing says how many things of how many are in the index, and whether it is
// still being built. The total is 0 until the shop is read.
func (s *Session) Indexing() (done, total int, running bool) {
	return int(s.indexed.done.Load()), int(s.indexed.total.Load()), s.indexed.running.Load()
}

// Indexed is closed when the building of the index has ended, well or not.
func (s *Session) Indexed() <-chan struct{} { return s.indexed.ended }

// IndexWords is what Indexing says, for people; empty once the index is there.
func IndexWords(done, total int, running bool) string {
	switch {
	case !running:
		return ""
	case total == 0:
		return "getting Find ready"
	}
	return fmt.Sprintf("getting Find ready, %d %%", 100*done/total)
}

// WhenIndexed has f posted to the window's loop once the index is there, or with
// what went wrong: at once where it has ended. It is not called after Close.
func (s *Session) WhenIndexed(f func(error)) {
	s.mu.Lock()
	running, failed := s.indexed.running.Load(), s.indexed.failed
	if running {
		s.indexed.then = append(s.indexed.then, f)
	}
	s.mu.Unlock()
	if !running {
		s.Loop.Post(func() { f(failed) })
	}
}

func (s *Session) finishIndex(err error) {
	s.mu.Lock()
	then := s.indexed.then
	s.indexed.then, s.indexed.failed = nil, err
	s.indexed.running.Store(false)
	s.mu.Unlock()
	if errors.Is(err, context.Canceled) {
		return
	}
	s.Loop.Post(func() {
		for _, f := range then {
			f(err)
		}
	})
}

// findWhole answers from the file while the index is being built: an item by its
// whole number, or a place by its tag.
func (s *Reader) findWhole(query string) (hits []search.Hit, err error) {
	query = strings.TrimSpace(query)
	if query == "" {
		return nil, nil
	}
	for _, spelled := range []string{query, strings.ToUpper(query), s.Canonical(query)} {
		if _, err := s.Shop.Item(spelled); err == nil {
			return []search.Hit{{ID: itemPrefix + spelled, Kind: search.Item, Name: spelled}}, nil
		} else if store.KindOf(err) != store.NotFound {
			return nil, err
		}
	}
	r, err := s.Shop.Resolve(query)
	if err != nil || r.Answer != store.TagFound {
		return nil, err
	}
	return []search.Hit{{ID: placePrefix + r.Place.ID, Kind: placeKind(r.Place.Kind), Name: r.Place.Name}}, nil
}
