package session

import (
	"slices"
	"sync"

	"stowright/store"
	"stowright/store/build"
)

// kept is how the sub-assemblies stood when somebody asked last, and what has changed
// since. In a big shop a new board takes a hundred times as long as what one entry changes.
type kept struct {
	using sync.Mutex // held while the board is asked: it is for one goroutine
	board *build.Board
	plan  *store.Following
	at    uint64 // the newest entry of the state that it is of

	// What was asked of it since it changed; nil where nobody did. Pages show the same ones,
	// so they are read and never changed.
	cheapest *build.Cheapest
	ordering *Ordering
	titles   map[string]string         // of items in plain words, as far as they were asked for
	fitted   map[string][]store.Fitted // by item

	marking sync.Mutex               // held for a moment, so that no entry waits for a reading
	stale   map[store.Concern]uint64 // what changed, by the newest entry that did
}

// mark notes what an entry changed.
func (k *kept) mark(e store.Entry) {
	k.marking.Lock()
	defer k.marking.Unlock()
	if k.stale == nil {
		k.stale = map[store.Concern]uint64{}
	}
	for _, concern := range e.Concerns() {
		k.stale[concern] = max(k.stale[concern], e.Seq)
	}
}

// since takes the marks that a state has: what is to be read again. Marks of later entries
// stay.
func (k *kept) since(newest uint64) (changed []store.Concern) {
	k.marking.Lock()
	defer k.marking.Unlock()
	for concern, seq := range k.stale {
		if seq <= newest {
			changed = append(changed, concern)
			delete(k.stale, concern)
		}
	}
	return changed
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
		if err := s.fill(fresh); err != nil {
			return err
		}
		return do(fresh)
	}
	changed := k.since(s.newest)
	var err error
	if k.board == nil || k.plan.Of.Today != s.Shop.Today() {
		err = s.fill(k)
	} else {
		err = s.follow(k, changed)
	}
	if err != nil {
		k.board = nil // half of it is of another state
		return err
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

// fill makes a board of the state that is read.
func (s *Reader) fill(k *kept) (err error) {
	if k.plan, err = s.Shop.Following(); err != nil {
		return err
	}
	if err := s.supplied(k.plan); err != nil {
		return err
	}
	if k.plan.Of.Expected, err = s.awaited(); err != nil {
		return err
	}
	k.board, k.at = build.NewBoard(k.plan.Of), s.newest
	k.cheapest, k.ordering, k.titles, k.fitted = nil, nil, map[string]string{}, nil
	return nil
}

// follow brings the board up to the state that is read, which differs from its own in what
// changed. What is kept says the same as what is filled in anew.
func (s *Reader) follow(k *kept, changed []store.Concern) error {
	if len(changed) == 0 {
		return nil
	}
	in, supplied := k.forget(changed)
	done, err := s.Shop.Follow(k.plan, changed)
	if err != nil {
		return err
	}
	items := done.Items
	if in[store.AwaitedPart] {
		before := k.plan.Of.Expected
		if k.plan.Of.Expected, err = s.awaited(); err != nil {
			return err
		}
		items = append(items, k.expectedAnew(before)...)
	}
	if supplied || (in[store.ListPart] || in[store.WastePart]) && learns(k.plan.Of) {
		if err := s.supplied(k.plan); err != nil {
			return err
		}
	}
	k.update(done, items)
	k.ordering = nil // it says more than the board does: prices, orders, names
	return nil
}

// forget drops what is kept beside the board and not true any more. It says which parts
// changed, and whether how something is bought did, or the least that is kept of it.
func (k *kept) forget(changed []store.Concern) (in map[store.Part]bool, supplied bool) {
	in = map[store.Part]bool{}
	for _, c := range changed {
		in[c.Part] = true
		_, buys := k.plan.Of.Supply[c.Of]
		supplied = supplied || c.Part == store.SupplyPart || c.Part == store.ItemPart && buys
		if c.Part == store.ItemPart {
			delete(k.titles, c.Of)
		}
	}
	if in[store.FiguresPart] {
		clear(k.titles)
	}
	if in[store.ListPart] {
		k.fitted = nil
	}
	return in, supplied
}

// update has the board say what its reading says now.
func (k *kept) update(done store.Followed, items []string) {
	if done.Whole {
		k.board, k.cheapest = build.NewBoard(k.plan.Of), nil
		return
	}
	for _, code := range done.Codes {
		status, _ := k.board.Status(code)
		for _, n := range status.Needs {
			items = append(items, n.Item)
		}
	}
	if len(items) > 0 {
		k.board.Update(items...)
		k.cheapest = nil
	}
}

// expectedAnew are the items whose stock is known and of which something else is expected
// than was.
func (k *kept) expectedAnew(before map[string][]build.Expected) (items []string) {
	for item := range k.plan.Of.Stock {
		if !slices.Equal(before[item], k.plan.Of.Expected[item]) {
			items = append(items, item)
		}
	}
	return items
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
	if _, read := k.plan.Of.Stock[item]; read {
		return nil
	}
	heaps, err := s.Shop.Heaps(item, k.plan.Trays)
	if err == nil {
		k.plan.Of.Stock[item] = heaps
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
