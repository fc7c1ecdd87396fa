package store

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"stowright/store/build"
)

// alone is the board of one sub-assembly with the stock of some items: what it calls and
// what may be used for it, and not what others hold, which asks for all of them.
func (r *Reader) alone(sub SubAssembly, items ...string) (*build.Board, error) {
	of := &build.Reading{Today: r.Today(), Stock: map[string][]build.Heap{}, Places: map[string]build.Place{}}
	listed, err := r.Requirements(sub.Code)
	if err != nil {
		return nil, err
	}
	fitted, err := r.Fitted(sub.Code)
	if err != nil {
		return nil, err
	}
	of.SubAssemblies = []build.SubAssembly{subAssemblyRead(sub, listed, fitted)}
	if err := r.readPapers(of); err != nil {
		return nil, err
	}
	for _, item := range items {
		if of.Stock[item], err = r.heapsAlone(item, of.Places); err != nil {
			return nil, err
		}
	}
	return build.NewBoard(of), nil
}

// heapsAlone are the heaps of an item; the places that they lie in go into places.
func (r *Reader) heapsAlone(item string, places map[string]build.Place) ([]build.Heap, error) {
	holdings, err := r.Holdings(item)
	if err != nil {
		return nil, err
	}
	trays := map[string]string{}
	for _, h := range holdings {
		p, err := r.Place(h.Place)
		if err != nil {
			return nil, err
		}
		places[p.ID] = build.Place{ID: p.ID, Name: p.Name}
		if p.Kind == SubAssemblyKind {
			trays[p.ID] = p.Name
		}
	}
	return r.heaps(item, trays)
}

// mayBook refuses what may not be put into the tray of a sub-assembly, or, where fits is
// said, into the aircraft itself; lender is the code of the one whose tray it is borrowed
// from, or "". A reason that is given lets through what goes with one.
func (w *writer) mayBook(sub SubAssembly, t Transfer, lender string, fits bool) error {
	_, went, err := w.goes(t)
	if err != nil {
		return err
	}
	board, err := readerOf(w.ledger.tx, w.now).alone(sub, t.Item)
	if err != nil {
		return err
	}
	booking := build.Booking{Code: sub.Code, Item: t.Item, Place: t.Place, Lot: t.Lot, Lender: lender, Quantity: went.Quantity, Reason: t.Reason}
	refusal := board.MayUse(booking)
	if !fits {
		refusal = board.MayPull(booking, nil)
	}
	if refusal == nil || refusal.Kind == build.Unclear { // it is held in another unit than is called: nobody can tell
		return nil
	}
	return refusedFor(sub, t.Item, refusal)
}

// refusedFor is a refusal as an error, which asks for a reason where one opens it.
func refusedFor(sub SubAssembly, item string, refusal *build.Refusal) error {
	words := fmt.Sprintf("%s for %s: %s.", item, sub.Code, refusal.Sentence)
	if refusal.Kind.WithReason() {
		return asks(item, "%s With a reason it goes all the same.", words)
	}
	return fail(Conflict, item, "%s", words)
}

// noTray refuses a place that is the tray of a sub-assembly: what goes in there is pulled,
// so that it is held against what is called.
func (w *writer) noTray(place Place, item string) error {
	if place.Kind != SubAssemblyKind {
		return nil
	}
	if _, err := w.openSubAssembly(place.Name); err != nil {
		return err
	}
	return fail(Conflict, item, "%s is the tray of a sub-assembly: pull %s for it, so that it is seen whether it is called there.", place.Name, item)
}

// Closing is everything that is open on a sub-assembly, and whether it may be closed with
// the answers that are given, by [build.Open.Key].
func (r *Reader) Closing(code string, answers map[string]string) (open []build.Open, may bool, err error) {
	err = r.Read(func(r *Reader) error {
		subs, err := r.SubAssemblies()
		if err != nil {
			return err
		}
		i := slices.IndexFunc(subs, func(s SubAssembly) bool { return s.Code == code })
		if i < 0 {
			return noSubAssembly(code)
		}
		open, may, err = r.closing(subs[i], answers)
		return err
	})
	return open, may, err
}

func (r *Reader) closing(sub SubAssembly, answers map[string]string) ([]build.Open, bool, error) {
	records, err := r.buildRecords(sub)
	if err != nil {
		return nil, false, err
	}
	records.Answers = answers
	there, err := r.Contents(sub.Place)
	if err != nil {
		return nil, false, err
	}
	items := map[string]bool{}
	for _, h := range there {
		items[h.Item] = true
	}
	board, err := r.alone(sub, slices.Sorted(maps.Keys(items))...)
	if err != nil {
		return nil, false, err
	}
	return board.Closing(sub.Code, records)
}

// mayClose refuses to close a sub-assembly while something is open that has no answer, and
// returns the answers to what is open.
func (w *writer) mayClose(sub SubAssembly, answers map[string]string) (map[string]string, error) {
	open, may, err := readerOf(w.ledger.tx, w.now).closing(sub, answers)
	if err != nil {
		return nil, err
	}
	var stands []string
	given := map[string]string{}
	for _, o := range open {
		if o.Answer != "" {
			given[o.Key] = o.Answer
		} else {
			stands = append(stands, o.Sentence)
		}
	}
	if !may {
		return nil, fail(Conflict, sub.Code, "%s is not closed: %s.", sub.Code, strings.Join(stands, "; "))
	}
	return given, nil
}
