package store

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"stowright/store/measure"
)

// agreeOnLots holds the lots of the shop against the model's, and of each of them what
// came, and what counts found more or less, against what of it is in stock and in trays,
// fitted, and gone.
func (m *model) agreeOnLots(t *rapid.T, stock map[StockKey]modelAmount, fitted map[modelLot]int64) {
	t.Helper()
	lots, err := m.shop.Lots("")
	if err != nil {
		t.Fatal(err)
	}
	came := map[modelLot]modelAmount{}
	for _, l := range lots {
		came[modelLot{l.Item, l.Name()}] = modelAmount{l.Came.Micro, l.Came.Low.Micro, l.Came.High.Micro}
	}
	want := map[modelLot]modelAmount{}
	for l, a := range m.came {
		if l.lot != "" { // of a finding of nothing
			want[l] = a
		}
	}
	if d := cmp.Diff(want, came, cmp.AllowUnexported(modelAmount{}, modelLot{})); d != "" {
		t.Fatalf("what came of lots (-model +shop):\n%s", d)
	}
	went, err := m.shop.Gone("")
	if err != nil {
		t.Fatal(err)
	}
	gone := map[modelLot]int64{}
	for _, g := range went {
		gone[modelLot{g.Item, g.Lot}] += g.Amount.Micro
	}
	if d := cmp.Diff(m.gone, gone, cmp.AllowUnexported(modelLot{})); d != "" {
		t.Fatalf("what went of lots (-model +shop):\n%s", d)
	}
	for l, due := range came {
		due = due.plus(m.excess[l])
		is := modelAmount{}
		for k, a := range stock {
			if k.Item == l.item && k.Lot == l.lot {
				is = is.plus(a)
			}
		}
		for _, exact := range []int64{fitted[l], gone[l]} {
			is = is.plus(modelAmount{exact, exact, exact})
		}
		is = is.plus(m.poured[l])
		if is != due {
			t.Fatalf("of %v %v came or were counted, and %v are in stock, fitted, gone or poured", l, due, is)
		}
	}
}

// A number is for life: what Undo unmakes leaves its number behind, Redo brings it back,
// and the next lot has the next number.
func TestLotNumbersAreForLife(t *testing.T) {
	shop, bin, heap := smallShop(t)
	other := StockKey{Item: "AN3-6A", Place: bin.ID}
	must := func(_ Entry, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	names := func(want ...string) {
		t.Helper()
		lots, err := shop.Lots("")
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, l := range lots {
			got = append(got, l.Name())
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("lots (-want +got):\n%s", d)
		}
	}
	names(heap.Lot)
	count := func() { must(shop.Count(other, measure.Pieces(3))) }
	count()
	names("L-1", "L-2")
	must(shop.Undo())
	names("L-1")
	if _, err := shop.LotNumbered(2); KindOf(err) != NotFound {
		t.Errorf("looking up what was undone: %v", err)
	}
	must(shop.Redo())
	names("L-1", "L-2")
	must(shop.Undo())
	count()
	names("L-1", "L-3")
}

// Only one spelling of a name is that of a lot in a key; people may write it in any case.
func TestLotNames(t *testing.T) {
	for name, want := range map[string]uint64{"L-17": 17, "L-017": 0, "L17": 0, "L-0": 0, "L-": 0, "l-17": 0, "L-99999999": 99_999_999, "L-100000000": 0, "Q7714": 0, "": 0, "L- 1": 0, "L-+1": 0} {
		n, ok := lotNamed(name)
		if ok != (want > 0) || ok && n != want {
			t.Errorf("%q is read as %d, %v; want %d", name, n, ok, want)
		}
	}
	if n, ok := LotNumber(" l-17"); n != 17 || !ok {
		t.Errorf("typed in small letters it is %d, %v", n, ok)
	}
}

// otherLots are the heaps of other lots that what comes to a heap would meet.
func (m *model) otherLots(there StockKey) []StockKey {
	if !m.places[there.Place].kind.Storage() {
		return nil
	}
	var others []StockKey
	for k := range m.stock {
		if k.Item != there.Item || k.Place != there.Place || k.Condition != there.Condition {
			continue
		}
		if k.Lot == there.Lot {
			return nil
		}
		others = append(others, k)
	}
	return others
}

// pour makes one heap of what comes to a place and of those that lie there: of a lot that
// the shop has made, out of those.
func (m *model) pour(t *rapid.T, there StockKey, went modelAmount, others []StockKey) {
	t.Helper()
	lots, err := m.shop.Lots(there.Item)
	if err != nil {
		t.Fatal(err)
	}
	mix := lots[len(lots)-1]
	parts := map[string]modelAmount{there.Lot: went}
	sum := went
	for _, k := range others {
		parts[k.Lot] = m.stock[k]
		sum = sum.plus(m.stock[k])
		delete(m.stock, k)
	}
	got := map[string]modelAmount{}
	for _, p := range mix.Parents {
		got[p.Lot] = modelAmount{p.Amount.Micro, p.Amount.Low.Micro, p.Amount.High.Micro}
	}
	if d := cmp.Diff(parts, got, cmp.AllowUnexported(modelAmount{})); d != "" || mix.Kind != MixLot {
		t.Fatalf("poured together (-model +shop): %+v\n%s", mix, d)
	}
	for lot, a := range parts {
		m.poured[modelLot{there.Item, lot}] = m.poured[modelLot{there.Item, lot}].plus(a)
	}
	m.came[modelLot{there.Item, mix.Name()}] = sum
	there.Lot = mix.Name()
	m.add(there, sum)
}

func (m *model) putIn(t *rapid.T) {
	k := StockKey{Item: "AN3-6A", Place: rapid.SampledFrom(m.ids).Draw(t, "place"), Lot: fresh}
	q := measure.Pieces(rapid.Int64Range(0, 9).Draw(t, "n"))
	meeting := rapid.SampledFrom([]Meeting{AskMeeting, PourLots, LotsApart}).Draw(t, "meeting")
	others := m.otherLots(k)
	allowed := !m.places[k.Place].retired && q.Sign() > 0 && (len(others) == 0 || meeting != AskMeeting)
	m.try(t, fmt.Sprintf("put %s in %s", q, k.Place), allowed, func() error {
		_, err := m.shop.PutIn(StockKey{Item: k.Item, Place: k.Place}, Exact(q), meeting)
		return err
	}, func() {
		lots, err := m.shop.Lots(k.Item)
		if err != nil {
			t.Fatal(err)
		}
		made := lots[len(lots)-1]
		went := modelAmount{q.Micro, q.Micro, q.Micro}
		if len(others) > 0 && meeting == PourLots {
			made = lots[len(lots)-2]
		}
		k.Lot = made.Name()
		if made.Kind != FoundHere {
			t.Fatalf("what was put in is the lot %+v", made)
		}
		m.came[modelLot{k.Item, k.Lot}] = went
		if len(others) > 0 && meeting == PourLots {
			m.pour(t, k, went, others)
			return
		}
		m.add(k, went)
	})
}
