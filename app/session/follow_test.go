package session_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/app/demo"
	"stowright/app/session"
	"stowright/app/session/sessiontest"
	"stowright/store"
	"stowright/store/build"
	"stowright/store/hardware"
	"stowright/store/measure"
)

// standing is all that a session says of building and buying, by its own board.
func standing(t *testing.T, s *session.Session) string {
	t.Helper()
	var all []any
	say := func(what any, err error) {
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, what)
	}
	look := func(r *session.Reader, b *build.Board) error {
		subs, err := r.Shop.SubAssemblies()
		if err != nil {
			return err
		}
		say(r.Cheapest())
		say(r.Ordering())
		for _, sub := range subs {
			say(r.PullList(sub.Code))
			say(r.Joints(sub.Code))
			say(r.Doubts(sub.Code))
		}
		items, err := r.Shop.Items()
		if err != nil {
			return err
		}
		for _, item := range items {
			say(session.NotInStock(r, item.Designation))
		}
		_, free, held := b.Free("AN3-5A", measure.Each)
		all = append(all, b.Statuses(), free, held)
		return nil
	}
	err := s.Read(func(r *session.Reader) error {
		return r.Board(func(b *build.Board) error { return look(r, b) }) // what it asks is of the same board
	})
	if err != nil {
		t.Fatal(err)
	}
	words, err := json.MarshalIndent(all, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return string(words)
}

// worker does things in a shop at random, each of which may be refused.
type worker struct {
	*store.Shop
	r        *rand.Rand
	subs     []store.SubAssembly
	heaps    []store.Holding
	needs    []store.Requirement
	ship     store.Shipment
	sub      store.SubAssembly // one of subs
	need     store.Requirement // one of needs
	heap     store.Holding     // of an item that is needed, or any
	place    store.Place
	transfer store.Transfer // one of heap, to place
	number   int64
}

func anyOf[T any](r *rand.Rand, list []T) (one T) {
	if len(list) > 0 {
		one = list[r.IntN(len(list))]
	}
	return one
}

// looks has it look at the shop, and choose what it does something with.
func (w *worker) looks(t *testing.T) {
	t.Helper()
	must := func(err error) {
		if err != nil {
			t.Fatal(err)
		}
	}
	var err error
	w.subs, err = w.SubAssemblies()
	must(err)
	w.heaps, err = w.Stock()
	must(err)
	w.needs, err = w.Requirements("")
	must(err)
	ships, err := w.Shipments()
	must(err)
	places, err := w.Places()
	must(err)
	w.ship, w.sub, w.need, w.heap, w.place = ships[0], anyOf(w.r, w.subs), anyOf(w.r, w.needs), anyOf(w.r, w.heaps), anyOf(w.r, places)
	var called []store.Holding
	for _, h := range w.heaps {
		if h.Item == w.need.Item {
			called = append(called, h)
		}
	}
	if len(called) > 0 && w.r.IntN(4) > 0 {
		w.heap = anyOf(w.r, called)
		w.sub = store.SubAssembly{Code: w.need.SubAssembly}
	}
	w.number = w.r.Int64N(1000)
	w.transfer = store.Transfer{StockKey: w.heap.StockKey, To: w.place.ID, Quantity: measure.Of(1, w.heap.Amount.Unit), Reason: "told to", Meeting: store.LotsApart}
}

// whole is the sub-assembly that was chosen, as it is known.
func (w *worker) whole() store.SubAssembly {
	for _, s := range w.subs {
		if s.Code == w.sub.Code {
			return s
		}
	}
	return w.sub
}

func failed(_ any, err error) error { return err }

func failing(_, _ any, err error) error { return err }

// works are what a worker can do, by what of a board it changes: something of every part.
var works = []struct {
	name string
	do   func(w *worker) error
}{
	{"pull", func(w *worker) error { return failed(w.Pull(w.sub.Code, w.transfer)) }},
	{"fit", func(w *worker) error { return failed(w.Fit(w.sub.Code, store.Fitting{Transfer: w.transfer})) }},
	{"remove", func(w *worker) error {
		fitted, err := w.Fitted("")
		if err != nil || len(fitted) == 0 {
			return errors.Join(err, errors.New("nothing is fitted"))
		}
		return failed(w.Remove(store.Removal{Fitted: anyOf(w.r, fitted), To: w.place.ID}))
	}},
	{"count", func(w *worker) error {
		return failed(w.Count(w.heap.StockKey, measure.Of(w.r.Int64N(30), w.heap.Amount.Unit)))
	}},
	{"put in what is new here", func(w *worker) error {
		return failed(w.PutIn(store.StockKey{Item: w.need.Item, Place: w.place.ID}, store.Exact(w.need.Needed), store.LotsApart))
	}},
	{"scrap", func(w *worker) error { return failed(w.Scrap(w.transfer, anyOf(w.r, []string{"bent", "lost"}))) }},
	{"spoil many", func(w *worker) error {
		heaps, err := w.Holdings(usedUp)
		return errors.Join(err, failed(w.Scrap(store.Transfer{StockKey: anyOf(w.r, heaps).StockKey, Quantity: measure.Pieces(build.LearnedFrom + 1)}, "bent")))
	}},
	{"fit what is used up", func(w *worker) error {
		heaps, err := w.Holdings(usedUp)
		return errors.Join(err, failed(w.Fit("SA-90", store.Fitting{Transfer: store.Transfer{StockKey: anyOf(w.r, heaps).StockKey, Quantity: measure.Pieces(build.LearnedFrom)}})))
	}},
	{"undo", func(w *worker) error { return failed(w.Undo()) }},
	{"undo, and redo", func(w *worker) error { return errors.Join(failed(w.Undo()), failed(w.Redo())) }},
	{"receive", func(w *worker) error {
		lines, err := w.Lines(w.ship.ID)
		waits := slices.DeleteFunc(slices.Clone(lines), func(l store.Line) bool { return l.Finding != nil })
		l := anyOf(w.r, append(waits, lines[w.number%int64(len(lines))])) // of crate C3, or again
		return errors.Join(err, failed(w.Receive(w.ship.ID, l.ID, store.Finding{Found: measure.Of(1+w.r.Int64N(9), l.Listed.Unit), Counted: true, Looked: true})))
	}},
	{"price a line", func(w *worker) error {
		price, err := store.ParseMoney("1.25", "USD")
		if err != nil {
			return err
		}
		return failed(w.PriceLine(w.ship.ID, store.LineID(1+w.number%48), price, "as typed"))
	}},
	{"another need", func(w *worker) error {
		return failed(w.PutSubAssembly(w.whole(), store.Requirement{Called: anyOf(w.r, []string{"AN3-5A", "AN3-6A"}), Needed: measure.Pieces(1 + w.number%9)}))
	}},
	{"a sub-assembly that is new", func(w *worker) error {
		return failed(w.PutSubAssembly(store.SubAssembly{Code: fmt.Sprint("SA-9", w.number%3), Name: fmt.Sprint(w.number)}))
	}},
	{"hours and a day", func(w *worker) error {
		sub := w.whole()
		sub.Hours, sub.Planned = build.Hours(w.number), store.Date{Year: 2026, Month: 7, Day: int(1 + w.number%28)}
		return failed(w.PutSubAssembly(sub))
	}},
	{"for an aircraft", func(w *worker) error {
		sub := w.whole()
		sub.Aircraft = anyOf(w.r, []string{"Q", "T", ""})
		return failed(w.PutSubAssembly(sub))
	}},
	{"another order", func(w *worker) error { return failed(w.OrderSubAssemblies(w.sub.Code)) }},
	{"let go", func(w *worker) error { return failed(w.LetGo(w.sub.Code, w.number%2 == 0)) }},
	{"end a requirement", func(w *worker) error { return failed(w.EndRequirement(w.need.Name(), "bulletin")) }},
	{"replace a requirement", func(w *worker) error {
		return failing(w.ReplaceRequirement(w.need.Name(), store.Requirement{Called: w.need.Called, Needed: measure.Quantity{Micro: w.need.Needed.Micro + 1_000_000, Unit: w.need.Needed.Unit}}))
	}},
	{"a joint", func(w *worker) error {
		return failed(w.PutJoint(w.need.SubAssembly, fmt.Sprint("hinge ", w.number%2), []string{w.need.Name()}, []store.Layer{{Thickness: measure.Inches(1+w.number%8, 8)}}))
	}},
	{"close", func(w *worker) error {
		open, _, err := w.Closing(w.sub.Code, nil)
		answers := map[string]string{}
		for _, o := range open {
			answers[o.Key] = "as it is"
		}
		if err != nil {
			return err
		}
		return failed(w.CloseSubAssembly(w.sub.Code, answers))
	}},
	{"reopen", func(w *worker) error { return failed(w.ReopenSubAssembly(w.sub.Code, "a look")) }},
	{"allow another item", func(w *worker) error {
		return failing(w.Decide(store.Decision{
			Kind: store.OtherItem, Requirements: []string{w.need.Name()}, Item: w.heap.Item, Who: "kit maker",
			Extra: []store.Extra{{Called: "AN310-3", Item: "AN310-3", Quantity: measure.Pieces(1)}},
		}))
	}},
	{"withdraw what was allowed", func(w *worker) error {
		made, err := w.Decisions()
		return errors.Join(err, failing(w.Decide(store.Decision{Kind: store.Withdrawal, Withdraws: anyOf(w.r, made).Name(), Who: "kit maker"})))
	}},
	{"a recorded number", func(w *worker) error {
		return failed(w.PutEquivalent(store.Equivalent{Old: fmt.Sprint("OLD-", w.number%7), New: w.need.Item, Source: "letter"}))
	}},
	{"an aircraft", func(w *worker) error {
		return failed(w.PutAircraft(store.Aircraft{Name: anyOf(w.r, []string{"Q", "T"}), Certificate: anyOf(w.r, []build.Certificate{build.NoCertificate, build.StandardCategory})}))
	}},
	{"another name of a place", func(w *worker) error { return failed(w.RenamePlace(w.heap.Place, fmt.Sprint("Place ", w.number))) }},
	{"another title", func(w *worker) error {
		return failed(w.PutItem(store.Item{Designation: anyOf(w.r, []string{usedUp, "AN3-5A"}), Unit: measure.Each, Title: fmt.Sprint("Title ", w.number), Minimum: measure.Pieces(w.number % 3 * 40)}))
	}},
	{"the facts of a lot", func(w *worker) error {
		number, _ := store.LotNumber(w.heap.Lot)
		return failed(w.DescribeLot(number, store.LotFacts{Perishable: w.number%2 == 0, Origin: anyOf(w.r, []build.Origin{build.StandardPart, build.UnknownOrigin})}))
	}},
	{"a supplier", func(w *worker) error {
		price, err := store.ParseMoney(fmt.Sprint(w.number), "USD")
		if err != nil {
			return err
		}
		return failed(w.PutSupplier(store.Supplier{Name: fmt.Sprint("Shop ", w.number%2), Minimum: price}))
	}},
	{"how it is bought", func(w *worker) error {
		return failed(w.PutSupply(store.Supply{Item: w.need.Item, Supplier: fmt.Sprint("Shop ", w.number%2), Pack: 1 + w.number%9, ByWaste: w.number%3 > 0, Percent: 10}, measure.Quantity{}))
	}},
	{"order", func(w *worker) error {
		return failing(w.Order(store.NewOrder{Order: store.Order{Supplier: fmt.Sprint("Shop ", w.number%2)}, Lines: []store.OrderLine{{Item: w.need.Item, Quantity: measure.Pieces(5)}}}))
	}},
	{"a promise", func(w *worker) error {
		return failed(w.Promise(int(1+w.number%4), nil, store.Date{Year: 2026, Month: 9, Day: int(1 + w.number%28)}))
	}},
	{"own figures", func(w *worker) error {
		row := hardware.OwnRow{Designation: "AN7-10", Source: "printed sheet", Figures: []hardware.OwnFigure{
			{Name: hardware.Grip, Length: measure.Inches(7, 16)}, {Name: hardware.LengthField, Length: measure.Inches(34+w.number%3, 32)},
		}}
		return failed(w.PutFigures([]hardware.OwnRow{row}))
	}},
	{"an alert", func(w *worker) error { return failing(w.Alert(0, "Bulletin", store.Issue{Item: w.heap.Item})) }},
	{"a note", func(w *worker) error {
		return failing(w.Note(store.Note{Kind: store.TorqueNote, SubAssembly: w.sub.Code, Text: "25 in-lb"}))
	}},
}

// setUp has the shop buy what it has no figures of, and what is used up: so that what is to be
// bought says their names, and what was learned.
func setUp(t *testing.T, shop *store.Shop) {
	t.Helper()
	shelf, err := sessiontest.On(t, shop).PlaceNamed("S1")
	ships, failure := shop.Shipments()
	if failure != nil {
		t.Fatal(failure)
	}
	bought := store.OrderLine{Item: "AN7-10", Quantity: measure.Pieces(2)}
	for _, err := range []error{
		err, demo.Arrive(shop, ships[0].ID, "C3"),
		failed(shop.PutItem(store.Item{Designation: bought.Item, Unit: measure.Each})),
		failed(shop.PutSupplier(store.Supplier{Name: "Shop 0"})),
		failing(shop.Order(store.NewOrder{Order: store.Order{Supplier: "Shop 0"}, Lines: []store.OrderLine{bought}})),
		failed(shop.PutSubAssembly(store.SubAssembly{Code: "SA-90"}, store.Requirement{Called: usedUp, Needed: measure.Pieces(500)})),
		failed(shop.PutIn(store.StockKey{Item: usedUp, Place: shelf.ID}, store.Exact(measure.Pieces(400)), store.LotsApart)),
		failed(shop.PutSupply(store.Supply{Item: usedUp, Supplier: "Shop 0", ByWaste: true, Percent: 10}, measure.Quantity{})),
	} {
		if err != nil {
			t.Fatal(err)
		}
	}
}

// usedUp is an item of which much is spoiled.
const usedUp = "OQ-77-001"

// What the session keeps of the board is what a session that keeps nothing says, whatever is
// done to the shop, and however much between two looks.
func TestBoardFollows(t *testing.T) {
	shop := sessiontest.OpenShop(t, demo.Unpacked, demo.NewClock(demo.Today, true))
	if err := demo.Extend(shop); err != nil {
		t.Fatal(err)
	}
	setUp(t, shop)
	bench := sessiontest.On(t, shop)
	forgetful := session.Forgetful(shop, bench.Session.Loop)
	w := &worker{Shop: shop, r: rand.New(rand.NewPCG(11, 1))}
	rounds := 6
	if testing.Short() {
		rounds = 2
	}
	did := map[string]int{}
	standing(t, bench.Session)
	for range rounds {
		for _, k := range w.r.Perm(len(works)) {
			work := works[k]
			w.looks(t)
			if err := work.do(w); err != nil {
				continue
			}
			did[work.name]++
			if w.r.IntN(5) == 0 { // nobody looks before the next one
				continue
			}
			if d := cmp.Diff(standing(t, forgetful), standing(t, bench.Session)); d != "" {
				t.Fatalf("after %s of %s for %s (-anew +kept):\n%s", work.name, w.heap.Item, w.sub.Code, d)
			}
		}
	}
	for _, work := range works {
		if did[work.name] == 0 && !testing.Short() {
			t.Errorf("%s was refused every time: so nothing is proven of it", work.name)
		}
	}
}

// What was fitted by a decision counts for its line also when that is withdrawn: what comes out
// of it again changes a line that asks for another item.
func TestBoardFollowsWhatWasAllowed(t *testing.T) {
	bench := sessiontest.Open(t, demo.Unpacked)
	shop, heap := bench.Shop, bench.Heap("A-14")
	needs, err := shop.Requirements("SA-10")
	if err != nil {
		t.Fatal(err)
	}
	at := slices.IndexFunc(needs, func(r store.Requirement) bool { return r.Called == "AN3-5A" })
	one := store.Transfer{StockKey: heap.StockKey, Quantity: measure.Pieces(1)}
	decide := func(d store.Decision) error {
		d.Who = "kit maker"
		return failing(shop.Decide(d))
	}
	for _, do := range []func() error{
		func() error {
			return decide(store.Decision{Kind: store.OtherItem, Requirements: []string{needs[at].Name()}, Item: heap.Item})
		},
		func() error { return failed(shop.Fit("SA-10", store.Fitting{Transfer: one})) },
		func() error { return decide(store.Decision{Kind: store.Withdrawal, Withdraws: "D-1"}) },
		func() error {
			return failed(shop.Remove(store.Removal{Fitted: store.Fitted{SubAssembly: "SA-10", Requirement: needs[at].Name(), Item: heap.Item, Lot: heap.Lot}, To: heap.Place}))
		},
	} {
		if err := do(); err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(standing(t, session.Forgetful(shop, bench.Session.Loop)), standing(t, bench.Session)); d != "" {
			t.Fatalf("-anew +kept:\n%s", d)
		}
	}
}
