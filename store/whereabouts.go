package store

import (
	"cmp"
	"fmt"
	"slices"

	"stowright/store/disk"
	"stowright/store/measure"
)

// Bounds is how much of a lot may be somewhere: at least Low, at most High, both in the
// unit of the item. They are the same where nothing was poured together.
type Bounds struct{ Low, High measure.Quantity }

// String is "10", or "0 to 10".
func (b Bounds) String() string {
	if b.Low == b.High {
		return b.Low.Number()
	}
	return fmt.Sprintf("%s to %s", b.Low.Number(), b.High.Number())
}

// Certain reports whether some of the lot is there for sure.
func (b Bounds) Certain() bool { return b.Low.Sign() > 0 }

// Whereabouts is where the pieces of a lot are, as far as anybody can know.
type Whereabouts struct {
	Lot Lot
	// Together is how many there are in all, what is gone among them.
	Together Bounds
	At       []LotAt // where there may be some: stock first, then fitted, then gone
}

// LotAt is one place, sub-assembly or way out in which some of a lot may be. Exactly one
// of Place, SubAssembly and Gone is set.
type LotAt struct {
	Place       string // id
	Condition   Condition
	SubAssembly string // code: fitted there
	Gone        string // "scrapped", "sent back"
	In          string // the lot as it is called there: the lot itself, or one that it was poured into
	All         Amount // how much of that is there
	Bounds      Bounds // how much of it is of the lot that is asked about
}

// Whereabouts says where the pieces of a lot of an item may be: in stock, fitted or gone.
// Of what was poured together it gives the bounds that follow from how much of each lot
// went in and how much of the mix is where. It invents no order in which pieces were taken.
func (r *Reader) Whereabouts(item, lot string) (Whereabouts, error) {
	var out Whereabouts
	err := r.Read(func(r *Reader) error {
		var err error
		if out.Lot, err = r.Lot(item, lot); err != nil {
			return err
		}
		a, err := r.lotAccounts(item)
		if err != nil {
			return err
		}
		out.At, out.Together = a.whereabouts(lot)
		return nil
	})
	return out, err
}

// LotsWhereabouts says the same of all recorded lots of an item, by number.
func (r *Reader) LotsWhereabouts(item string) (list []Whereabouts, err error) {
	err = r.Read(func(r *Reader) error {
		a, err := r.lotAccounts(item)
		if err != nil {
			return err
		}
		for _, l := range a.lots {
			where := Whereabouts{Lot: l}
			where.At, where.Together = a.whereabouts(l.Name())
			list = append(list, where)
		}
		return nil
	})
	return list, err
}

// lotAccounts is all that is known of the lots of one item.
type lotAccounts struct {
	unit measure.Unit
	lots []Lot // by number: a mix comes after what went into it
	at   []LotAt
}

func (r *Reader) lotAccounts(item string) (lotAccounts, error) {
	var a lotAccounts
	err := r.view(func(tx *disk.Tx) (err error) {
		a.lots, err = lotsOf(tx, item)
		return err
	})
	if err != nil {
		return a, err
	}
	known, err := r.Item(item)
	if err != nil {
		return a, err
	}
	a.unit = known.Unit
	heaps, err := r.Holdings(item)
	if err != nil {
		return a, err
	}
	for _, h := range heaps {
		a.at = append(a.at, LotAt{Place: h.Place, Condition: h.Condition, In: h.Lot, All: h.Amount})
	}
	fitted, err := r.Fitted("")
	if err != nil {
		return a, err
	}
	for _, f := range fitted {
		if f.Item == item {
			a.at = append(a.at, LotAt{SubAssembly: f.SubAssembly, In: f.Lot, All: f.Amount})
		}
	}
	left, err := r.Gone(item)
	for _, g := range left {
		a.at = append(a.at, LotAt{Gone: g.How, In: g.Lot, All: g.Amount})
	}
	return a, err
}

// unmixed are the lots of the item that are no mixes, whose parents say where they are:
// those that are recorded, and those of an older shop that lie, were fitted, went or were
// poured under what is printed on them.
func (a lotAccounts) unmixed(item string) []Lot {
	var lots []Lot
	var old []string
	note := func(lot string) {
		if _, numbered := lotNamed(lot); !numbered {
			old = append(old, lot)
		}
	}
	for _, l := range a.lots {
		if !l.derived() {
			lots = append(lots, l)
		}
		for _, p := range l.Parents {
			note(p.Lot)
		}
	}
	for _, at := range a.at {
		note(at.In)
	}
	slices.Sort(old)
	for _, lot := range slices.Compact(old) {
		lots = append(lots, unrecorded(item, lot))
	}
	return lots
}

// share is how many pieces of the lot that is asked about another one has, in millionths.
type share struct{ low, high int64 }

// whereabouts goes from the lot itself to the mixes that it was poured into, in the order
// in which they were made, so that what a mix got is known before it is shared out.
func (a lotAccounts) whereabouts(lot string) ([]LotAt, Bounds) {
	shares := map[string]share{}
	var out []LotAt
	var own share
	for _, at := range a.at {
		if at.In == lot {
			at.Bounds = a.bounds(share{at.All.Low.Micro, at.All.High.Micro})
			out = append(out, at)
			own = share{own.low + at.All.Low.Micro, own.high + at.All.High.Micro}
		}
	}
	for _, mix := range a.lots {
		var got share
		for _, p := range mix.Parents {
			portion := a.portion(shares, p, lot)
			got = share{got.low + portion.low, got.high + portion.high}
			if p.Lot == lot {
				own = share{own.low + p.Amount.Low.Micro, own.high + p.Amount.High.Micro}
			}
		}
		if got.high == 0 {
			continue
		}
		shares[mix.Name()] = got
		for _, at := range a.at {
			if at.In != mix.Name() {
				continue
			}
			at.Bounds = a.bounds(a.of(mix.Name(), got, at.All))
			if at.Bounds.High.Sign() > 0 {
				out = append(out, at)
			}
		}
	}
	slices.SortStableFunc(out, func(x, y LotAt) int { return cmp.Compare(x.rank(), y.rank()) })
	return out, a.bounds(own)
}

func (at LotAt) rank() int {
	switch {
	case at.Place != "":
		return 0
	case at.SubAssembly != "":
		return 1
	}
	return 2
}

func (a lotAccounts) bounds(s share) Bounds {
	return Bounds{measure.Quantity{Micro: max(0, s.low), Unit: a.unit}, measure.Quantity{Micro: max(0, s.high), Unit: a.unit}}
}

// portion is how much of the lot that is asked about went into a mix with one of those
// that were poured together.
func (a lotAccounts) portion(shares map[string]share, p Portion, lot string) share {
	if p.Lot == lot {
		return share{p.Amount.Low.Micro, p.Amount.High.Micro}
	}
	got, some := shares[p.Lot]
	if !some {
		return share{}
	}
	return a.of(p.Lot, got, p.Amount)
}

// of is how many of lo to hi pieces in a mix may be in a part of it: all that the rest of
// it has no room for, up to as many as the part has. What counts found missing of the mix
// is a part of the rest, and what they found over may be of any lot.
func (a lotAccounts) of(mix string, got share, part Amount) share {
	var all Amount // that is anywhere
	add := func(x Amount) {
		if x.Unit == a.unit {
			all.Micro, all.Low.Micro, all.High.Micro = all.Micro+x.Micro, all.Low.Micro+x.Low.Micro, all.High.Micro+x.High.Micro
		}
	}
	for _, at := range a.at {
		if at.In == mix {
			add(at.All)
		}
	}
	var came Amount
	for _, l := range a.lots {
		if l.Name() == mix {
			came = l.Came
		}
		for _, p := range l.Parents {
			if p.Lot == mix {
				add(p.Amount)
			}
		}
	}
	if part.Unit != a.unit || came.Unit != a.unit { // by another unit once: nothing is converted
		return share{0, part.High.Micro}
	}
	var missing, over int64
	if came.Low.Micro != all.Low.Micro || came.High.Micro != all.High.Micro {
		missing, over = max(0, came.High.Micro-all.Low.Micro), max(0, all.High.Micro-came.Low.Micro)
	}
	rest := all.High.Micro - part.High.Micro + missing
	return share{max(0, got.low-rest), min(part.High.Micro, got.high+over)}
}
