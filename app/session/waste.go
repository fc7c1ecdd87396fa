package session

import (
	"slices"
	"strings"
	"sync"

	"stowright/store/build"
)

// waste is what was scrapped because it was spoiled, by item, as the journal says it. The
// journal is read once, and from then on only what is new in it.
type waste struct {
	mu      sync.Mutex
	spoiled map[string]int64 // in millionths of the item's unit
	until   uint64           // the entry that was read last
}

// notSpoiled are the reasons of scrapping that say nothing of how an item is used up.
var notSpoiled = []string{"lost", "expired", "practice", "recalled", "sold", "given"}

// entriesAtOnce is how many entries of the journal are read together.
const entriesAtOnce = 1000

// uses are how pieces of items went in this shop: how many are fitted, and how many were
// spoiled. Nothing is read where nobody wants to know.
func (s *Reader) uses(wanted bool) (map[string]build.Uses, error) {
	if !wanted {
		return nil, nil
	}
	fitted, err := s.Shop.Fitted("")
	if err != nil {
		return nil, err
	}
	w := &s.session.waste
	w.mu.Lock()
	defer w.mu.Unlock()
	spoiled := w.spoiled
	from := w.until
	if s.newest < from || spoiled == nil { // of an older state than what was read: it is read by itself
		spoiled, from = map[string]int64{}, 0
	}
	if err := s.readWaste(spoiled, from); err != nil {
		w.spoiled, w.until = nil, 0
		return nil, err
	}
	if s.newest >= w.until {
		w.spoiled, w.until = spoiled, s.newest
	}
	const one = 1_000_000
	all := map[string]build.Uses{}
	for _, f := range fitted {
		u := all[f.Item]
		u.Good += f.Amount.Micro / one
		all[f.Item] = u
	}
	for item, micro := range spoiled {
		u := all[item]
		u.Spoiled = max(0, micro/one)
		all[item] = u
	}
	return all, nil
}

// readWaste adds what the entries after one say, up to those of the state that is read.
func (s *Reader) readWaste(spoiled map[string]int64, after uint64) error {
	for before := s.newest + 1; before > after+1; {
		entries, err := s.Shop.Entries(before, entriesAtOnce)
		if err != nil || len(entries) == 0 {
			return err
		}
		for _, e := range entries {
			if e.Seq <= after {
				return nil
			}
			before = e.Seq
			taken, reason := e.Scrapped()
			if !spoils(reason) {
				continue
			}
			for _, h := range taken {
				spoiled[h.Item] += h.Amount.Micro
			}
		}
	}
	return nil
}

// spoils reports whether a reason says that pieces were used up in the work.
func spoils(reason string) bool {
	return !slices.ContainsFunc(notSpoiled, func(other string) bool { return strings.HasPrefix(strings.ToLower(reason), other) })
}
