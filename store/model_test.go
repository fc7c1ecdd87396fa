package store

import (
	"context"
	"fmt"
	"maps"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"stowright/store/measure"
)

type model struct {
	modelState
	done, undone []modelState // states to go back to, states to go forward to
	shop         *Shop
	ship         string
	lines        map[int]Line
	sub          SubAssembly
	ids          []string        // of all places
	numbers      map[uint64]bool // of photographs that were ever added
}

// try does a verb: allowed is what the model says of it, do is done to the shop,
// and change is done to the model.
func (m *model) try(t *rapid.T, what string, allowed bool, do func() error, change func()) {
	t.Helper()
	err := do()
	if (err == nil) != allowed {
		t.Fatalf("%s: the shop says %v, the model allows it: %v", what, err, allowed)
	}
	if !allowed {
		return
	}
	before := m.copy()
	change()
	m.undone = nil
	entries, err := m.shop.Entries(0, 1)
	if err != nil {
		t.Fatal(err)
	}
	if len(entries[0].Changes) > 0 { // an entry that changed nothing is passed by Undo
		m.done = append(m.done, before)
	}
}

func (m *model) drawKey(t *rapid.T) StockKey {
	if known := slices.SortedFunc(maps.Keys(m.stock), func(a, b StockKey) int { return strings.Compare(a.key(), b.key()) }); len(known) > 0 && rapid.Bool().Draw(t, "known") {
		return rapid.SampledFrom(known).Draw(t, "heap")
	}
	return StockKey{Item: rapid.SampledFrom([]string{"AN3-5A", "AN3-6A"}).Draw(t, "item"), Place: rapid.SampledFrom(m.ids).Draw(t, "place")}
}

func (m *model) receive(t *rapid.T) {
	l := m.lines[rapid.IntRange(1, len(m.lines)).Draw(t, "line")]
	n := rapid.Int64Range(0, 30).Draw(t, "found")
	f := Finding{Found: measure.Pieces(n), Damaged: measure.Pieces(rapid.Int64Range(0, min(n, 3)).Draw(t, "damaged")), Counted: rapid.Bool().Draw(t, "counted")}
	if rapid.Bool().Draw(t, "came") {
		f.Came = &Came{Designation: "AN3-11A", Quantity: measure.Pieces(4)}
	}
	next, before := m.copy(), m.found[l.Number()]
	if f.LotName = before.LotName; f.LotName == "" && n > 0 {
		f.LotName = fresh
	}
	if f.Came != nil {
		f.Came.LotName = fresh
		if before.Came != nil {
			f.Came.LotName = before.Came.LotName
		}
	}
	for _, side := range []struct {
		f    Finding
		sign int64
	}{{before, -1}, {f, 1}} {
		deltas := map[StockKey]int64{
			{Item: l.Designation, Place: l.Place, Lot: side.f.LotName}:                     (side.f.Found.Micro - side.f.Damaged.Micro) * side.sign,
			{Item: l.Designation, Place: l.Place, Lot: side.f.LotName, Condition: Damaged}: side.f.Damaged.Micro * side.sign,
		}
		if side.f.Came != nil {
			deltas[StockKey{Item: "AN3-11A", Place: l.Place, Lot: side.f.Came.LotName, Condition: SetApart}] = side.f.Came.Quantity.Micro * side.sign
		}
		for k, d := range deltas {
			next.add(k, modelAmount{d, d, d})
			next.addCame(modelLot{k.Item, k.Lot}, modelAmount{d, d, d})
		}
	}
	next.found[l.Number()] = f
	allowed := true
	for _, a := range next.stock {
		allowed = allowed && a.q >= 0
	}
	for _, id := range next.path(l.Place) {
		p := next.places[id]
		p.retired = false
		next.places[id] = p
	}
	m.try(t, fmt.Sprintf("receive line %d %+v", l.Number(), f), allowed, func() error {
		given := f
		if given.LotName = ""; f.Came != nil { // which lots they are, is for the shop to say
			given.Came = &Came{Designation: f.Came.Designation, Quantity: f.Came.Quantity, LotName: "L-1"}
		}
		_, err := m.shop.Receive(m.ship, l.ID, given)
		return err
	}, func() {
		is, err := m.shop.Line(m.ship, l.ID)
		if err != nil {
			t.Fatal(err)
		}
		if f.LotName == fresh {
			next.named(l.Designation, is.Finding.LotName)
			f.LotName = is.Finding.LotName
		}
		if f.Came != nil && f.Came.LotName == fresh {
			next.named("AN3-11A", is.Finding.Came.LotName)
			f.Came.LotName = is.Finding.Came.LotName
		}
		next.found[l.Number()] = f
		m.modelState = next
	})
}

// named gives what is of a fresh lot of an item the name that the shop gave it.
func (s modelState) named(item, lot string) {
	for k, a := range s.stock {
		if k.Item == item && k.Lot == fresh {
			delete(s.stock, k)
			k.Lot = lot
			s.stock[k] = a
		}
	}
	for _, list := range []map[modelLot]modelAmount{s.came, s.excess} {
		if a, ok := list[modelLot{item, fresh}]; ok {
			delete(list, modelLot{item, fresh})
			list[modelLot{item, lot}] = a
		}
	}
}

func (m *model) count(t *rapid.T) {
	k, n, spread := m.drawKey(t), rapid.Int64Range(0, 40).Draw(t, "n"), rapid.Int64Range(0, 3).Draw(t, "spread")
	a := Amount{Quantity: measure.Pieces(n), Low: measure.Pieces(max(0, n-spread)), High: measure.Pieces(n + spread)}
	heap, one := m.meant(k)
	m.try(t, fmt.Sprintf("count %v: %v", k, a), !m.places[k.Place].retired && one, func() error {
		if !a.Estimate() {
			_, err := m.shop.Count(k, a.Quantity)
			return err
		}
		_, err := m.shop.Weigh(k, a)
		return err
	}, func() {
		now := modelAmount{a.Micro, a.Low.Micro, a.High.Micro}
		if heap.Lot == "" && now != (modelAmount{}) {
			heap = m.foundHere(t, heap, now)
		}
		was := m.stock[heap]
		of := modelLot{heap.Item, heap.Lot}
		m.excess[of] = m.excess[of].plus(modelAmount{now.q - was.q, now.low - was.low, now.high - was.high})
		delete(m.stock, heap)
		m.add(heap, now)
	})
}

// foundHere is the heap that a count has made where the model had none: of a lot that was
// made for it, or of one that was counted there to be none before.
func (m *model) foundHere(t *rapid.T, k StockKey, now modelAmount) StockKey {
	heaps, err := m.shop.Holdings(k.Item)
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range heaps {
		k.Lot = h.Lot
		if _, known := m.stock[k]; known || h.StockKey != k {
			continue
		}
		lot, err := m.shop.Lot(k.Item, k.Lot)
		if err != nil {
			t.Fatal(err)
		}
		of := modelLot{k.Item, k.Lot}
		if _, known := m.came[of]; !known {
			if lot.Kind != FoundHere {
				t.Fatalf("the count made the lot %+v", lot)
			}
			m.addCame(of, now)
			m.excess[of] = modelAmount{-now.q, -now.low, -now.high}
		}
		return k
	}
	t.Fatalf("the count of %v made no heap", k)
	return k
}

func (m *model) transfer(t *rapid.T) {
	k, to := m.drawKey(t), rapid.SampledFrom(m.ids).Draw(t, "to")
	n := rapid.Int64Range(0, 40).Draw(t, "n") * 1_000_000
	verb := rapid.SampledFrom([]Verb{VerbStow, VerbMove, VerbPull}).Draw(t, "verb")
	if verb == VerbPull {
		to = m.sub.Place
	}
	given := k
	k, one := m.meant(k)
	have := m.stock[k]
	went := modelAmount{n, n, n}
	if n == 0 {
		went = have
	}
	meeting := rapid.SampledFrom([]Meeting{AskMeeting, PourLots, LotsApart}).Draw(t, "meeting")
	there := k
	there.Place = to
	others := m.otherLots(there)
	allowed := one && to != k.Place && !m.places[to].retired && went.q > 0 && went.q <= have.q && (verb == VerbPull && k.Condition == Good || verb != VerbPull && to != m.sub.Place) &&
		(len(others) == 0 || meeting != AskMeeting)
	m.try(t, fmt.Sprintf("%s %d of %v to %s", verb, n, k, to), allowed, func() error {
		transfer := Transfer{StockKey: given, To: to, Quantity: measure.Quantity{Micro: n, Unit: measure.Each}, Meeting: meeting}
		var err error
		switch verb {
		case VerbStow:
			_, err = m.shop.Stow(transfer)
		case VerbMove:
			_, err = m.shop.Move(transfer)
		default:
			_, err = m.shop.Pull(m.sub.Code, transfer)
		}
		return err
	}, func() {
		m.add(k, modelAmount{-went.q, -went.low, -went.high})
		if len(others) > 0 && meeting == PourLots {
			m.pour(t, there, went, others)
			return
		}
		m.add(there, went)
	})
}

func (m *model) fit(t *rapid.T) {
	k, n := m.drawKey(t), rapid.Int64Range(1, 20).Draw(t, "n")
	q := measure.Pieces(n)
	given := k
	k, one := m.meant(k)
	m.try(t, fmt.Sprintf("fit %d of %v", n, k), one && k.Condition == Good && q.Micro <= m.stock[k].q, func() error {
		_, err := m.shop.Fit(m.sub.Code, Fitting{Transfer: Transfer{StockKey: given, Quantity: q}})
		return err
	}, func() {
		m.add(k, modelAmount{-q.Micro, -q.Micro, -q.Micro})
		m.fitted[modelLot{k.Item, k.Lot}] += q.Micro
	})
}

func (m *model) remove(t *rapid.T) {
	k, n := m.drawKey(t), rapid.Int64Range(1, 20).Draw(t, "n")
	q := measure.Pieces(n)
	named := rapid.Bool().Draw(t, "lot named") && k.Lot != ""
	var lots []modelLot
	for l := range m.fitted {
		if l.item == k.Item && (!named || l.lot == k.Lot) {
			lots = append(lots, l)
		}
	}
	if !named {
		k.Lot = ""
	}
	meeting := rapid.SampledFrom([]Meeting{AskMeeting, PourLots, LotsApart}).Draw(t, "meeting")
	out := k
	var others []StockKey // removed pieces of other lots that lie there
	if out.Condition = Removed; len(lots) == 1 {
		out.Lot = lots[0].lot
		others = m.otherLots(out)
	}
	allowed := !m.places[k.Place].retired && len(lots) == 1 && q.Micro <= m.fitted[lots[0]] && (len(others) == 0 || meeting != AskMeeting)
	m.try(t, fmt.Sprintf("remove %d of %v", n, k), allowed, func() error {
		_, err := m.shop.Remove(Removal{Fitted: Fitted{SubAssembly: m.sub.Code, Item: k.Item, Lot: k.Lot}, Quantity: q, To: k.Place, Meeting: meeting})
		return err
	}, func() {
		if m.fitted[lots[0]] -= q.Micro; m.fitted[lots[0]] == 0 {
			delete(m.fitted, lots[0])
		}
		came := modelAmount{q.Micro, q.Micro, q.Micro}
		if len(others) > 0 && meeting == PourLots {
			m.pour(t, out, came, others)
			return
		}
		m.add(out, came)
	})
}

func (m *model) scrap(t *rapid.T) {
	k, n := m.drawKey(t), rapid.Int64Range(1, 20).Draw(t, "n")
	q := measure.Pieces(n)
	given := k
	k, one := m.meant(k)
	m.try(t, fmt.Sprintf("scrap %d of %v", n, k), one && q.Micro <= m.stock[k].q, func() error {
		_, err := m.shop.Scrap(Transfer{StockKey: given, Quantity: q}, "bad thread")
		return err
	}, func() {
		m.add(k, modelAmount{-q.Micro, -q.Micro, -q.Micro})
		m.gone[modelLot{k.Item, k.Lot}] += q.Micro
	})
}

func (m *model) movePlace(t *rapid.T) {
	id, to := rapid.SampledFrom(m.ids).Draw(t, "place"), rapid.SampledFrom(append([]string{""}, m.ids...)).Draw(t, "into")
	p, into := m.places[id], m.places[to]
	allowed := !p.retired && p.parent != to && !slices.Contains(m.path(to), id) && !into.retired &&
		(to == "" || into.kind.Storage() || p.kind == Bag && into.kind != SubAssemblyKind) && !m.nameTaken(to, p.name, id)
	m.try(t, fmt.Sprintf("move place %s into %q", p.name, into.name), allowed, func() error {
		_, err := m.shop.MovePlace(id, to)
		return err
	}, func() {
		p.parent = to
		m.places[id] = p
	})
}

func (m *model) rename(t *rapid.T) {
	id, name := rapid.SampledFrom(m.ids).Draw(t, "place"), rapid.SampledFrom([]string{"S1", "s2", "X"}).Draw(t, "name")
	p := m.places[id]
	m.try(t, "rename "+p.name+" to "+name, !p.retired && p.kind != SubAssemblyKind && !m.nameTaken(p.parent, name, id), func() error {
		_, err := m.shop.RenamePlace(id, name)
		return err
	}, func() {
		p.name = name
		m.places[id] = p
	})
}

func (m *model) retire(t *rapid.T) {
	id := rapid.SampledFrom(m.ids).Draw(t, "place")
	inside := m.within(id)
	allowed := !m.places[id].retired
	for _, other := range inside {
		allowed = allowed && m.places[other].kind != SubAssemblyKind
	}
	for k := range m.stock {
		allowed = allowed && !slices.Contains(inside, k.Place)
	}
	m.try(t, "retire "+m.places[id].name, allowed, func() error {
		_, err := m.shop.RetirePlace(id)
		return err
	}, func() {
		for _, other := range inside {
			p := m.places[other]
			p.retired = true
			m.places[other] = p
		}
	})
}

func (m *model) undo(t *rapid.T) { m.back(t, "undo", &m.done, &m.undone, m.shop.Undo) }
func (m *model) redo(t *rapid.T) { m.back(t, "redo", &m.undone, &m.done, m.shop.Redo) }

func (m *model) back(t *rapid.T, what string, from, to *[]modelState, do func() (Entry, error)) {
	if what == "undo" && len(*from) == 0 {
		return // what is left to undo is how the shop was set up
	}
	_, err := do()
	if (err == nil) != (len(*from) > 0) {
		t.Fatalf("%s: %v, with %d states to go to", what, err, len(*from))
	}
	if err != nil {
		return
	}
	last := len(*from) - 1
	*to = append(*to, m.copy())
	m.modelState = (*from)[last]
	*from = (*from)[:last]
}

// sameQuantity takes nothing of no unit and nothing of a unit to be the same.
var sameQuantity = cmp.Comparer(func(a, b measure.Quantity) bool { return a.Micro == b.Micro && (a.Unit == b.Unit || a.IsZero()) })

// agree compares all that the model knows with what the shop says.
func (m *model) agree(t *rapid.T) {
	heaps, err := m.shop.Stock()
	if err != nil {
		t.Fatal(err)
	}
	stock := map[StockKey]modelAmount{}
	for _, h := range heaps {
		stock[h.StockKey] = modelAmount{h.Amount.Micro, h.Amount.Low.Micro, h.Amount.High.Micro}
	}
	if d := cmp.Diff(m.stock, stock, cmp.AllowUnexported(modelAmount{})); d != "" {
		t.Fatalf("stock (-model +shop):\n%s", d)
	}
	list, err := m.shop.Fitted("")
	if err != nil {
		t.Fatal(err)
	}
	fitted := map[modelLot]int64{}
	for _, f := range list {
		fitted[modelLot{f.Item, f.Lot}] = f.Amount.Micro
	}
	m.agreeOnLots(t, stock, fitted)
	if d := cmp.Diff(m.fitted, fitted); d != "" {
		t.Fatalf("fitted (-model +shop):\n%s", d)
	}
	places, err := m.shop.Places()
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]modelPlace{}
	for _, p := range places {
		got[p.ID] = modelPlace{p.Parent, p.Name, p.Kind, p.Retired}
		if r, err := m.shop.Resolve(string(p.Tag)); err != nil || (r.Answer == TagFound) == p.Retired {
			t.Fatalf("the tag of %+v is %s, %v", p, r.Answer, err)
		}
	}
	if d := cmp.Diff(m.places, got, cmp.AllowUnexported(modelPlace{})); d != "" {
		t.Fatalf("places (-model +shop):\n%s", d)
	}
	m.agreeOnPhotos(t)
	for number, l := range m.lines {
		line, err := m.shop.Line(l.Shipment, l.ID)
		if err != nil {
			t.Fatal(err)
		}
		want, checked := m.found[number]
		if (line.Finding != nil) != checked || checked && cmp.Diff(want, *line.Finding, sameQuantity) != "" {
			t.Fatalf("line %d: the shop says %+v, the model %+v (%v)", number, line.Finding, want, checked)
		}
	}
}

func (m *model) whole(t *rapid.T) {
	report, err := m.shop.Check(context.Background(), nil)
	if err != nil || !report.OK {
		t.Fatalf("the shop is not whole: %v, %v", report.Problems, err)
	}
}

func newModel(t *rapid.T, file string) *model {
	random := rand.NewChaCha8([32]byte{1}) // the same ids in every run, so that a sequence can be shrunk
	shop, err := Open(file, Options{Create: true, Random: random, Clock: func() time.Time { return time.Date(2026, 3, 14, 9, 0, 0, 0, time.UTC) }})
	if err != nil {
		t.Fatal(err)
	}
	shop.file.SetUnsynced(true) // a crash is tested elsewhere
	m := &model{shop: shop, lines: map[int]Line{}, numbers: map[uint64]bool{}, modelState: modelState{map[StockKey]modelAmount{}, map[int]Finding{}, map[modelLot]int64{}, map[modelLot]int64{}, map[modelLot]modelAmount{}, map[modelLot]modelAmount{}, map[modelLot]modelAmount{}, map[string]modelPlace{}, map[uint64]modelPhoto{}}}
	must := func(_ any, err error) {
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range []string{"Garage", "S1", "S2"} {
		_, _, err := shop.AddPlace(Place{Kind: Shelf, Name: name})
		must(nil, err)
	}
	ship, _, err := shop.Import(NewShipment{Fingerprint: "f", Lines: []NewLine{
		{Number: 1, Crate: "C1", Group: "H103", Designation: "AN3-5A", Listed: measure.Pieces(24), Status: Shipped},
		{Number: 2, Crate: "C1", Group: "H103", Designation: "AN3-6A", Listed: measure.Pieces(16), Status: Shipped},
		{Number: 3, Crate: "C1", Group: "H103", Designation: "AN3-5A", Listed: measure.Pieces(4), Status: Shipped},
	}})
	must(nil, err)
	m.ship = ship.ID
	must(shop.Arrive(ship.ID, Delivery{Crates: []string{"C1"}, Arrived: Date{Year: 2026, Month: 3, Day: 14}}))
	must(shop.PutSubAssembly(SubAssembly{Code: "SA-10", Name: "Fin"}))
	for n := 1; n <= 3; n++ {
		l, err := shop.Line(ship.ID, LineID(n))
		must(nil, err)
		m.lines[n] = l
	}
	subs, err := shop.SubAssemblies()
	must(nil, err)
	m.sub = subs[0]
	places, err := shop.Places()
	must(nil, err)
	for _, p := range places {
		m.ids = append(m.ids, p.ID)
		m.places[p.ID] = modelPlace{p.Parent, p.Name, p.Kind, p.Retired}
	}
	return m
}

// About three thousand random verbs; go test -rapid.checks=10000 does more. A
// failure prints its seed and the shortest sequence that still fails.
func TestShopAgainstModel(t *testing.T) {
	t.Parallel()
	dir, n := t.TempDir(), 0
	rapid.Check(t, func(rt *rapid.T) {
		n++
		m := newModel(rt, filepath.Join(dir, fmt.Sprintf("%d.stow", n)))
		defer m.shop.Close()
		rt.Repeat(map[string]func(*rapid.T){
			"receive": m.receive, "count": m.count, "transfer": m.transfer, "move on": m.transfer, "move place": m.movePlace,
			"rename": m.rename, "retire": m.retire, "fit": m.fit, "remove": m.remove, "scrap": m.scrap, "put in": m.putIn,
			"photograph": m.photograph, "take a photograph away": m.removePhoto, "describe a photograph": m.caption,
			"undo": m.undo, "undo more": m.undo, "redo": m.redo, "": m.agree,
		})
		m.whole(rt)
	})
}
