package session

import (
	"sync"

	"stowright/store"
)

// backlog are entries that wait to go into the index: from one that concerns a great
// many things on, all that follow, so that no verb waits for it.
type backlog struct {
	mu      sync.Mutex
	entries []store.Entry
	running bool
}

// mostAtOnce is how many places an entry may concern for a verb to wait until the
// index knows it: some hundredths of a second.
const mostAtOnce = 200

// index brings the index up to date with an entry, in the background when that takes
// a while. Entries may be taken in any order, as each is read as it stands by then.
func (s *Session) index(e store.Entry) {
	s.backlog.mu.Lock()
	if !s.backlog.running && !s.concernsMany(e) {
		s.backlog.mu.Unlock()
		s.takeIn(e)
		return
	}
	s.backlog.entries = append(s.backlog.entries, e)
	begun := s.backlog.running
	s.backlog.running = true
	s.backlog.mu.Unlock()
	if !begun {
		s.Loop.Run(s.catchUp)
	}
}

// catchUp takes the backlog in, and has the listeners look again after each entry.
func (s *Session) catchUp() {
	for {
		s.backlog.mu.Lock()
		if len(s.backlog.entries) == 0 || s.Shop.Closed() {
			s.backlog.entries, s.backlog.running = nil, false
			s.backlog.mu.Unlock()
			return
		}
		e := s.backlog.entries[0]
		s.backlog.entries = s.backlog.entries[1:]
		s.backlog.mu.Unlock()
		s.takeIn(e)
		s.notify(e)
	}
}

func (s *Session) takeIn(e store.Entry) {
	s.indexing.Lock()
	defer s.indexing.Unlock()
	s.reindex(e)
}

// concernsMany reports whether so many places lie under those of an entry that the verb
// should not wait for the index.
func (s *Session) concernsMany(e store.Entry) bool {
	places := e.Places()
	if len(places) == 0 {
		return false
	}
	left := mostAtOnce
	err := s.Shop.Read(func(r *store.Reader) error {
		for _, id := range places {
			if left = countUnder(r, id, left); left < 0 {
				break
			}
		}
		return nil
	})
	return err == nil && left < 0 // what is wrong is said where the places are shown
}

// countUnder takes the places under a place from what is left, until nothing is.
func countUnder(shop *store.Reader, id string, left int) int {
	children, err := shop.Children(id)
	if err != nil {
		return left
	}
	left -= len(children)
	for _, c := range children {
		if left < 0 {
			break
		}
		left = countUnder(shop, c.ID, left)
	}
	return left
}
