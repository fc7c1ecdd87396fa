package store

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"stowright/store/build"
	"stowright/store/disk"
)

// alone is the board of one sub-assembly with the stock of some items: what it calls and
// what may be used for it, and not what others hold, which asks for all of them.
func (r *Reader) alone(sub SubAssembly, items ...string) (*build.Board, error) {
	of := &build.Reading{Today: r.Today(), Stock: map[string][]build.Heap{}, Places: map[string]build.Place{}}
	one, err := r.planned(sub)
	if err != nil {
		return nil, err
	}
	of.SubAssemblies = []build.SubAssembly{one}
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

// planned is a sub-assembly as the rules see it, with all that it calls and what is fitted.
func (r *Reader) planned(sub SubAssembly) (build.SubAssembly, error) {
	listed, err := r.Requirements(sub.Code)
	if err != nil {
		return build.SubAssembly{}, err
	}
	fitted, err := r.Fitted(sub.Code)
	return subAssemblyRead(sub, listed, fitted), err
}

// among is the board of a sub-assembly and of all others that ask for an item, in the
// builder's order, so that it is seen what of the item they hold. Of the others it has those
// lines alone which ask for it.
func (r *Reader) among(sub SubAssembly, item string) (*build.Board, error) {
	of := &build.Reading{Today: r.Today(), Stock: map[string][]build.Heap{}, Places: map[string]build.Place{}}
	if err := r.readPapers(of); err != nil {
		return nil, err
	}
	asking, err := r.askingFor(item, of.Decisions)
	if err != nil {
		return nil, err
	}
	asking.subs[sub.Code] = true
	subs, err := r.subAssembliesOf(slices.Collect(maps.Keys(asking.subs)))
	if err != nil {
		return nil, err
	}
	for _, s := range subs {
		one, err := r.planned(s)
		if err != nil {
			return nil, err
		}
		if s.Code != sub.Code {
			one.Requirements = slices.DeleteFunc(one.Requirements, func(q build.Requirement) bool { return !asking.names[q.ID] })
		}
		of.SubAssemblies = append(of.SubAssemblies, one)
	}
	if of.Stock[item], err = r.heapsAlone(item, of.Places); err != nil {
		return nil, err
	}
	return build.NewBoard(of), nil
}

// asking is which requirements ask for an item, and of which sub-assemblies they are.
type asking struct {
	names, subs map[string]bool
}

// askingFor finds the requirements that call an item, and those for which a decision allows
// it or asks for it besides.
func (r *Reader) askingFor(item string, decisions []build.Decision) (asking, error) {
	a := asking{map[string]bool{}, map[string]bool{}}
	for _, d := range decisions {
		if d.Item == item || slices.ContainsFunc(d.Extra, func(x build.Extra) bool { return x.Item == item }) {
			a.names[d.Requirement] = true
		}
	}
	decided := maps.Clone(a.names)
	return a, r.view(func(tx *disk.Tx) error {
		return requirementsNaming(tx, item, decided, func(need Requirement) {
			a.names[need.Name()], a.subs[need.SubAssembly] = true, true
		})
	})
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
// from, or "". What lies in a tray is held by nobody else: of what is taken elsewhere it asks
// what others hold. A reason that is given lets through what goes with one.
func (w *writer) mayBook(sub SubAssembly, t Transfer, lender string, fits bool) error {
	_, went, err := w.goes(t)
	if err != nil {
		return err
	}
	reader := readerOf(w.ledger.tx, w.now)
	var board *build.Board
	if lender != "" || t.Place == sub.Place {
		board, err = reader.alone(sub, t.Item)
	} else {
		board, err = reader.among(sub, t.Item)
	}
	if err != nil {
		return err
	}
	booking := build.Booking{Code: sub.Code, Item: t.Item, Place: t.Place, Lot: t.Lot, Lender: lender, Quantity: went.Quantity, Reason: t.Reason}
	refusal := cmp.Or(board.MayUse(booking), board.MayTakeHeld(booking))
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
	err := &Error{Kind: Conflict, Where: item, Message: words}
	if refusal.Kind == build.NoDecision {
		err.Err = ErrOrigin
	}
	return err
}

// ErrOrigin is in the chain of an error that says that somebody has to decide on the origin of
// a lot before it goes into an aircraft.
var ErrOrigin = errors.New("a decision on the origin is asked for")

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
