package build

import (
	"math"
	"slices"

	"stowright/store/measure"
)

// left is what of a heap is not promised yet, in millionths of its unit.
type left struct {
	heap           *Heap
	low, mid, high int64
}

// take takes up to want of what is surely there.
func (l *left) take(want int64) int64 {
	got := min(want, l.low)
	l.low, l.mid, l.high = l.low-got, max(0, l.mid-got), l.high-got
	return got
}

// perhaps takes up to want of what may be there besides.
func (l *left) perhaps(want int64) int64 {
	got := min(want, l.high-l.low)
	l.high, l.mid = l.high-got, max(l.low, l.mid-got)
	return got
}

// candidate is a heap that may be used for one ask.
type candidate struct {
	*left
	verdict
	kept bool // better kept for an aircraft that can use little else
}

// promise shares the stock of an item out among those that ask for it, in their order.
func (b *Board) promise(item string) {
	asks, stock := b.pools[item], unpromised(b.reading.Stock[item])
	only := b.onlyFor(asks)
	b.spare[item] = nil
	// Holds grow at the end alone, so that every need can keep the beginning that
	// was there when it was its turn.
	var holds []Hold
	for i := 0; i < len(asks); {
		code := b.reading.SubAssemblies[asks[i].sub].Code
		if b.lateness(asks[i]) > 0 && b.spare[item] == nil {
			b.spare[item] = &spare{stock: slices.Clone(stock), holds: holds}
		}
		held, unit := int64(0), measure.Unit("")
		for ; i < len(asks) && b.reading.SubAssemblies[asks[i].sub].Code == code; i++ {
			n := &b.statuses[asks[i].sub].Needs[asks[i].need]
			n.Held = holds[:len(holds):len(holds)]
			held += b.grant(asks[i], stock, only)
			b.blockers[asks[i].sub][asks[i].need] = nil
			if !n.Met {
				b.blockers[asks[i].sub][asks[i].need] = b.blocker(asks[i].sub, n)
			}
			unit = n.Needed.Unit
		}
		if held > 0 {
			holds = append(holds, Hold{Code: code, Quantity: measure.Quantity{Micro: held, Unit: unit}})
		}
	}
	if b.spare[item] == nil {
		b.spare[item] = &spare{stock: stock, holds: holds}
	}
	b.spare[item].end = stock
}

// spare is what of an item nobody holds, and who holds the rest. What is promised to
// those that let their hold go does not count; at the end it does.
type spare struct {
	stock, end []left
	holds      []Hold
}

// Free is what of an item may be used today and how much of it nobody holds, in a
// unit, with those that hold the rest. Trays do not count.
func (b *Board) Free(item string, unit measure.Unit) (here, free measure.Amount, held []Hold) {
	s := b.spare[item]
	if s == nil {
		s = &spare{stock: unpromised(b.reading.Stock[item])}
	}
	here, free = b.usable(s.stock, wish{day: b.reading.Today, unit: unit})
	return here, free, s.holds
}

// usable is what of a stock outside of trays may be used for a wish, and what is left of it.
func (b *Board) usable(stock []left, w wish) (here, free measure.Amount) {
	var shelf []candidate
	for i := range stock {
		if v := b.books.look(stock[i].heap, w); v.ok && stock[i].heap.Tray == "" {
			shelf = append(shelf, candidate{left: &stock[i], verdict: v})
		}
	}
	return sums(shelf, w.unit)
}

func unpromised(heaps []Heap) []left {
	stock := make([]left, len(heaps))
	for i := range heaps {
		a := heaps[i].Amount
		stock[i] = left{heap: &heaps[i], low: max(0, a.Low.Micro), mid: max(0, a.Micro), high: max(0, a.High.Micro)}
	}
	return stock
}

func amountOf(unit measure.Unit, low, mid, high int64) measure.Amount {
	of := func(micro int64) measure.Quantity { return measure.Quantity{Micro: micro, Unit: unit} }
	return measure.Amount{Quantity: of(mid), Low: of(low), High: of(high)}
}

// onlyFor names the aircraft with a standard certificate that asks for the item; ""
// where none does. Lots whose origin suits it are used last by the others.
func (b *Board) onlyFor(asks []ask) string {
	for _, a := range asks {
		sub := &b.reading.SubAssemblies[a.sub]
		if aircraft, ok := b.reading.Aircraft[sub.Aircraft]; ok && aircraft.Certificate == StandardCategory && sub.Closed.IsZero() {
			return aircraft.Name
		}
	}
	return ""
}

// grant answers one ask out of what is left, and returns how much of the stock
// outside its tray is held for it.
func (b *Board) grant(a ask, stock []left, only string) int64 {
	sub := &b.reading.SubAssemblies[a.sub]
	n := &b.statuses[a.sub].Needs[a.need]
	w := wish{code: sub.Code, requirement: n.Requirement, day: b.statuses[a.sub].Day, unit: n.Needed.Unit}
	if n.Kind == AsRequired && n.Needed.IsZero() {
		w.unit = "" // any will do
	}
	w.standard = b.reading.Aircraft[sub.Aircraft].Certificate == StandardCategory
	n.Fitted = b.fitted(a, n)
	tray, shelf := b.candidates(stock, w, only)
	want := max(0, n.Needed.Micro-n.Fitted.Micro)
	if n.Kind == Temporary {
		want = n.Needed.Micro // what was fitted of it came out again
	}
	n.Pulled = pulled(tray, n, want)
	open := max(0, want-n.Pulled.Low.Micro)
	n.Open = measure.Quantity{Micro: open, Unit: w.unit}
	n.Here, n.Free = sums(shelf, w.unit)
	n.Promised, n.Hints = nil, nil
	if n.Kind == AsRequired || !sub.Closed.IsZero() {
		n.Met = true
		return 0
	}
	held := b.share(n, shelf, open)
	n.Met = held == open
	n.Hints = b.hints(n, shelf, w, only)
	for i := range shelf {
		if held == open {
			break
		}
		held += shelf[i].perhaps(open - held)
	}
	return held
}

// pulled is what of a tray serves a need, up to what is wanted; where the quantity is
// as required, all of it does.
func pulled(tray []candidate, n *Need, want int64) measure.Amount {
	unit := n.Needed.Unit
	if n.Kind == AsRequired {
		want = math.MaxInt64
		if len(tray) > 0 {
			unit = tray[0].heap.Amount.Unit
		}
	}
	sure, maybe := int64(0), int64(0)
	for _, c := range tray {
		sure += c.take(want - sure)
		maybe += c.perhaps(max(0, want-sure-maybe))
	}
	return amountOf(unit, sure, sure, sure+maybe)
}

// sums are what lies in the shop for a need, and what of it is not promised yet.
func sums(shelf []candidate, unit measure.Unit) (here, free measure.Amount) {
	here, free = amountOf(unit, 0, 0, 0), amountOf(unit, 0, 0, 0)
	for _, c := range shelf {
		h := &c.heap.Amount
		here = amountOf(unit, here.Low.Micro+max(0, h.Low.Micro), here.Micro+h.Micro, here.High.Micro+h.High.Micro)
		free = amountOf(unit, free.Low.Micro+c.low, free.Micro+c.mid, free.High.Micro+c.high)
	}
	return here, free
}

// share promises what is surely there and returns how much it is.
func (b *Board) share(n *Need, shelf []candidate, open int64) (got int64) {
	give := func(c candidate, want int64) {
		if q := c.take(want); q > 0 {
			n.Promised = append(n.Promised, Share{Heap: *c.heap, Quantity: measure.Quantity{Micro: q, Unit: n.Needed.Unit}, By: c.by})
			got += q
		}
	}
	if i := enough(shelf, open); i >= 0 {
		give(shelf[i], open)
		return got
	}
	for _, c := range shelf {
		give(c, open-got)
	}
	return got
}

// enough is the first candidate that holds all that is asked for, so that nobody walks
// to two drawers where one does; -1 for none, and where dates or origins say in which
// order stock is used.
func enough(shelf []candidate, open int64) int {
	for i, c := range shelf {
		if !c.expires.IsZero() || c.kept != shelf[0].kept {
			return -1
		}
		if c.low >= open {
			return i
		}
	}
	return -1
}

// candidates are the heaps that may be used: those in the tray, and the others in the
// order in which they are used: what others can do without first, the earliest expiry
// first, then as the reading has them.
func (b *Board) candidates(stock []left, w wish, only string) (tray, shelf []candidate) {
	for i := range stock {
		v := b.books.look(stock[i].heap, w)
		if !v.ok {
			continue
		}
		c := candidate{left: &stock[i], verdict: v}
		if stock[i].heap.Tray != "" {
			tray = append(tray, c)
			continue
		}
		c.kept = only != "" && !w.standard && stock[i].heap.Origin.establishes()
		shelf = append(shelf, c)
	}
	if len(shelf) > 1 {
		slices.SortStableFunc(shelf, order)
	}
	return tray, shelf
}

func order(a, b candidate) int {
	switch {
	case a.kept != b.kept && a.kept:
		return 1
	case a.kept != b.kept:
		return -1
	case a.expires == b.expires:
		return 0
	case a.expires.IsZero():
		return 1
	case b.expires.IsZero():
		return -1
	}
	return b.expires.DaysUntil(a.expires)
}

// fitted is what went into the aircraft for an ask. What a decision let in counts for
// its requirement, also after it was withdrawn.
func (b *Board) fitted(a ask, n *Need) measure.Amount {
	var low, mid, high int64
	r := &b.reading.SubAssemblies[a.sub].Requirements[a.requirement]
	for _, f := range r.Fitted {
		counts := f.Item == n.Item
		if !a.extra {
			counts = counts || f.Item == r.Item || f.Item == r.Called || b.books.everItem(r.ID, f.Item)
		}
		if counts && f.Amount.Unit == n.Needed.Unit {
			low, mid, high = low+f.Amount.Low.Micro, mid+f.Amount.Micro, high+f.Amount.High.Micro
		}
	}
	return amountOf(n.Needed.Unit, low, mid, high)
}
