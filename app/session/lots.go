package session

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"

	"stowright/app/notice"
	"stowright/app/wording"
	"stowright/store"
)

// LotHere is a lot with what follows for it, and where its pieces are.
type LotHere struct {
	store.LotState
	Came  string // "20 ea on 14 March 2026, order OK-20731, line 48"
	Where store.Whereabouts
	// Until is the last day of use, retests counted; zero: none, or none known.
	Until  store.Date
	Retest string // the decision that Until is by; ""
	Mark   notice.Mark
	Today  store.Date
}

// Here reports whether some of it is in stock.
func (l LotHere) Here() bool {
	return slices.ContainsFunc(l.Where.At, func(at store.LotAt) bool { return at.Place != "" && at.Bounds.High.Sign() > 0 })
}

// InStock is how much of it may be in stock: "2", "0 to 10".
func (l LotHere) InStock() string {
	var sum store.Bounds
	for _, at := range l.Where.At {
		if at.Place != "" {
			sum.Low.Micro, sum.High.Micro = sum.Low.Micro+at.Bounds.Low.Micro, sum.High.Micro+at.Bounds.High.Micro
			sum.Low.Unit, sum.High.Unit = at.Bounds.Low.Unit, at.Bounds.High.Unit
		}
	}
	return sum.String() + " " + string(sum.High.Unit)
}

// Lots are the lots of an item, the newest last, those of an older shop left out.
func (s *Reader) Lots(item string) (list []LotHere, err error) {
	lots, err := s.Shop.LotsWhereabouts(item)
	if err != nil {
		if store.KindOf(err) == store.NotFound { // of what the shop never had there are no lots
			err = nil
		}
		return nil, err
	}
	states, err := s.Shop.LotStates(item)
	if err != nil {
		return nil, err
	}
	retests, err := s.retests()
	if err != nil {
		return nil, err
	}
	for _, where := range lots {
		name := where.Lot.Name()
		here := LotHere{LotState: states[name], Came: came(where.Lot), Where: where, Today: s.Shop.Today(), Until: states[name].Expires}
		if d, ok := retests[name]; ok {
			here.Until, here.Retest = d.Until, d.Name()
		}
		here.Mark = here.dateMark()
		list = append(list, here)
	}
	return list, nil
}

// retests are the newest retests in force, by lot.
func (s *Reader) retests() (map[string]store.Decision, error) {
	all, err := s.Shop.Decisions()
	by := map[string]store.Decision{}
	for _, d := range all {
		if d.Kind != store.Retest || !d.InForce(s.Shop.Today()) {
			continue
		}
		for _, lot := range d.Lots {
			by[lot] = d
		}
	}
	return by, err
}

// came is how much of a lot came, when and by what.
func came(l store.Lot) string {
	words := fmt.Sprintf("%s on %s", l.Came, l.Date)
	if l.Receipt != nil && l.Receipt.Order != "" {
		words += fmt.Sprintf(", order %s, line %d", l.Receipt.Order, l.Receipt.Number())
	}
	return words
}

// soonLots is how many days before it expires a lot is marked: no rule says so.
const soonLots = 30

func (l LotHere) dateMark() notice.Mark {
	if l.Until.IsZero() {
		if l.Perishable {
			return notice.Mark{Word: "expiry unknown", Tone: notice.Warn}
		}
		return notice.Mark{}
	}
	left := l.Today.DaysUntil(l.Until)
	mark := notice.Mark{Word: wording.DaysLeft(left), Tone: notice.Quiet}
	switch {
	case left < 0:
		mark.Tone = notice.Stop
	case left <= soonLots:
		mark.Tone = notice.Warn
	}
	return mark
}

// Pressing reports whether some of it is here and expired, expires soon, or may.
func (l LotHere) Pressing() bool {
	return l.Here() && (l.Mark.Tone == notice.Stop || l.Mark.Tone == notice.Warn)
}

// Dated are the lots in stock that have a life, known or not: what expires first, first; of what
// nobody knows the day, before all.
func (s *Reader) Dated() (list []LotHere, err error) {
	items, err := s.perishing()
	if err != nil {
		return nil, err
	}
	for _, item := range items {
		lots, err := s.Lots(item)
		if err != nil {
			return nil, err
		}
		for _, l := range lots {
			if l.Here() && l.Perishable {
				list = append(list, l)
			}
		}
	}
	slices.SortStableFunc(list, func(a, b LotHere) int {
		return cmp.Or(b.Until.DaysUntil(a.Until), strings.Compare(a.Lot.Item, b.Lot.Item))
	})
	return list, nil
}

// perishables are the items that may have a lot with a life, of the state that an entry made.
type perishables struct {
	using sync.Mutex
	items map[string]bool // nil: nobody asked yet
	at    uint64
}

// mostFollowed is how many entries are gone through one by one for what they touch; for more of
// them all lots are read again.
const mostFollowed = 500

// perishing are the items that may have a lot with a life. All lots are read once; after that
// what an entry touched is looked at, since a large shop has a hundred thousand of them.
func (s *Reader) perishing() ([]string, error) {
	k := &s.session.perishables
	k.using.Lock()
	defer k.using.Unlock()
	if k.items == nil || s.newest < k.at || s.newest-k.at > mostFollowed {
		all, err := s.Shop.Lots("")
		if err != nil {
			return nil, err
		}
		k.items, k.at = map[string]bool{}, s.newest
		for _, l := range all {
			if l.Facts.Perishes() {
				k.items[l.Item] = true
			}
		}
	}
	for k.at < s.newest {
		e, err := s.Shop.Entry(k.at + 1)
		if err != nil {
			return nil, err
		}
		for _, item := range e.Items() {
			if err := k.look(s, item); err != nil {
				return nil, err
			}
		}
		k.at++
	}
	return slices.Sorted(maps.Keys(k.items)), nil
}

// look notes whether an item has a lot with a life now.
func (k *perishables) look(s *Reader, item string) error {
	lots, err := s.Shop.Lots(item)
	delete(k.items, item)
	if slices.ContainsFunc(lots, func(l store.Lot) bool { return l.Facts.Perishes() }) {
		k.items[item] = true
	}
	return err
}

// LotAtWords say where some of a lot is, and how many: "14 in A-22 (quarantined (A-1))", "0 to 10 of
// the 20 fitted in SA-21".
func (s *Reader) LotAtWords(lot store.Lot, at store.LotAt) (string, error) {
	many := at.Bounds.String()
	if at.In != lot.StockLot() && at.Bounds.Low != at.Bounds.High {
		many += " of the " + at.All.Figure()
	} else if at.All.Estimate() && at.In == lot.StockLot() {
		many = at.All.Figure()
	}
	switch {
	case at.SubAssembly != "":
		return many + " fitted in " + at.SubAssembly, nil
	case at.Gone != "":
		return many + " " + at.Gone, nil
	}
	p, err := s.Shop.Place(at.Place)
	words := many + " in " + p.Name
	if p.Kind == store.SubAssemblyKind {
		words = many + " in the tray of " + p.Name
	}
	if at.Condition != store.Good {
		words += " (" + string(at.Condition) + ")"
	}
	return words, err
}

// Expiry says until when a lot may be used and where that is from, or that it is unknown.
func (l LotHere) Expiry() string {
	f := l.Lot.Facts
	switch {
	case l.Retest != "":
		return fmt.Sprintf("%s, by %s", l.Until, l.Retest)
	case f.Expiry != nil:
		return fmt.Sprintf("%s, printed: %s", f.Expiry.Day, f.Expiry.Source)
	case f.Life != nil && !f.Made.IsZero():
		return fmt.Sprintf("%s: made %s and %s, by %s", l.Expires, f.Made, wording.Plural(f.Life.Months, "month", "months"), f.Life.Source)
	case !l.Expires.IsZero():
		return fmt.Sprintf("%s, the earliest of what it was made of", l.Expires)
	case l.Perishable:
		return "unknown: see what its container says"
	}
	return "not recorded"
}
