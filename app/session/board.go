package session

import (
	"maps"
	"sync"

	"stowright/store"
	"stowright/store/build"
)

// kept is how the sub-assemblies stood when somebody asked last, and what has changed
// since. In a big shop a new board takes a hundred times as long as one item's part of it.
type kept struct {
	using sync.Mutex // held while the board is asked: it is for one goroutine
	board *build.Board
	of    *build.Reading
	away  map[string][]Away // what of items is not in stock, by item
	trays map[string]string // codes by the ids of their trays
	at    uint64            // the newest entry of the state that it is of

	// What was asked of the board since it changed; nil where nobody did. Pages show the
	// same ones, so they are read and never changed.
	cheapest *build.Cheapest
	ordering *Ordering
	titles   map[string]string // of items in plain words, as far as they were asked for

	learns  bool              // what is scrapped changes what is to be bought
	marking sync.Mutex        // held for a moment, so that no entry waits for a reading
	stale   map[string]uint64 // items whose stock changed, by the newest entry that did
	whole   uint64            // the newest entry after which nothing but a new board will do
}

// mark notes what an entry changed.
func (k *kept) mark(e store.Entry) {
	k.marking.Lock()
	defer k.marking.Unlock()
	if scrapped, _ := e.Scrapped(); !e.OnlyStock() || len(scrapped) > 0 && k.learns {
		k.whole = max(k.whole, e.Seq)
	}
	if k.stale == nil {
		k.stale = map[string]uint64{}
	}
	for _, item := range e.Items() {
		k.stale[item] = max(k.stale[item], e.Seq)
	}
}

// since takes the marks that a state has: the items whose stock is to be read again, and
// whether everything is. Marks of later entries stay.
func (k *kept) since(at, newest uint64) (items []string, whole bool) {
	k.marking.Lock()
	defer k.marking.Unlock()
	for item, seq := range k.stale {
		if seq <= newest {
			items = append(items, item)
			delete(k.stale, item)
		}
	}
	return items, k.whole > at && k.whole <= newest
}

// Board calls do with how all sub-assemblies stand in the state that is read. What do is
// given is the session's own and must not be kept; what do asks of the reader gets the same.
func (s *Reader) Board(do func(b *build.Board) error) error {
	return s.board(func(k *kept) error { return do(k.board) })
}

func (s *Reader) board(ask func(k *kept) error) error {
	if s.asking != nil {
		return ask(s.asking)
	}
	do := func(k *kept) error {
		s.asking = k
		defer func() { s.asking = nil }()
		return ask(k)
	}
	k := &s.session.boards
	k.using.Lock()
	defer k.using.Unlock()
	followed := s.session.followed.Load()
	if s.newest > followed || s.newest < k.at { // of a state that the marks do not tell about
		fresh := &kept{}
		if err := s.fill(fresh, nil); err != nil {
			return err
		}
		return do(fresh)
	}
	items, whole := k.since(k.at, s.newest)
	if k.board == nil || whole || k.of.Today != s.Shop.Today() {
		known := k.unchanged(items)
		k.board, k.of = nil, nil // where reading fails, nothing old is shown next time
		if err := s.fill(k, known); err != nil {
			return err
		}
		return do(k)
	}
	var changed []string
	for _, item := range items {
		if _, read := k.of.Stock[item]; !read {
			continue
		}
		heaps, err := s.Shop.Heaps(item, k.trays)
		if err != nil {
			k.board, k.of = nil, nil
			return err
		}
		k.of.Stock[item] = heaps
		changed = append(changed, item)
	}
	if len(changed) > 0 {
		k.board.Update(changed...)
		k.cheapest, k.ordering = nil, nil
	}
	k.at = s.newest
	return do(k)
}

// Cheapest is what would free the most for the least, as the board says it; see
// [build.Board.Cheapest]. It is the session's own, to be read and not changed.
func (s *Reader) Cheapest() (build.Cheapest, error) {
	var of build.Cheapest
	err := s.board(func(k *kept) error {
		if k.cheapest == nil {
			fresh := k.board.Cheapest()
			k.cheapest = &fresh
		}
		of = *k.cheapest
		return nil
	})
	return of, err
}

// title is an item in plain words, read once for a board.
func (s *Reader) title(k *kept, item string) (string, error) {
	if words, known := k.titles[item]; known {
		return words, nil
	}
	record, err := s.Shop.Item(item)
	if err != nil && store.KindOf(err) != store.NotFound {
		return "", err
	}
	words := Title(record, s.Catalog().Decode(item))
	k.titles[item] = words
	return words, nil
}

// unchanged are the heaps that were read before, without those of items that changed since.
func (k *kept) unchanged(changed []string) map[string][]build.Heap {
	if k.of == nil {
		return nil
	}
	for _, item := range changed {
		delete(k.of.Stock, item)
	}
	return k.of.Stock
}

// fill makes a board of the state that is read; known are heaps that were read before and
// that nothing has changed since.
func (s *Reader) fill(k *kept, known map[string][]build.Heap) error {
	ships, err := s.Shop.Shipments()
	if err != nil {
		return err
	}
	lines, err := s.AllLines(ships)
	if err != nil {
		return err
	}
	trays, err := s.trays()
	if err != nil {
		return err
	}
	if !maps.Equal(trays, k.trays) { // heaps say whose tray they lie in
		known = nil
	}
	reading, err := s.readingWith(ships, lines, known)
	if err != nil {
		return err
	}
	if k.away, err = s.allAway(ships, lines); err != nil {
		return err
	}
	k.trays = trays
	k.marking.Lock()
	k.learns = learns(reading)
	k.marking.Unlock()
	k.of, k.board, k.at = reading, build.NewBoard(reading), s.newest
	k.cheapest, k.ordering, k.titles = nil, nil, map[string]string{}
	return nil
}

// learns reports whether what is scrapped changes how many spares are wanted.
func learns(r *build.Reading) bool {
	for _, u := range r.Supply {
		if u.Spare.ByWaste {
			return true
		}
	}
	return false
}

// knows makes sure that the heaps of an item that no sub-assembly asks for are in the
// board's reading, so that it can be refused by name.
func (s *Reader) knows(k *kept, item string) error {
	if _, read := k.of.Stock[item]; read {
		return nil
	}
	heaps, err := s.Shop.Heaps(item, k.trays)
	if err == nil {
		k.of.Stock[item] = heaps
	}
	return err
}

// MayPull says whether a booking into a tray may be made: nil, or why not.
func (s *Reader) MayPull(booking build.Booking) (refusal *build.Refusal, err error) {
	err = s.board(func(k *kept) error {
		if err := s.knows(k, booking.Item); err != nil {
			return err
		}
		refusal = k.board.MayPull(booking, s.Catalog().Alike)
		return nil
	})
	return refusal, err
}
