package store

import (
	"maps"
	"slices"

	"stowright/store/measure"
)

// LotHeap is so much of an item in one place, fitted in one sub-assembly, or gone one way,
// with the lots that it may be of.
type LotHeap struct {
	LotAt // Bounds is not used
	Item  string
	Of    []LotShare // by number: one that is no mix, or those that a mix was poured together of
}

// LotShare is how much of a heap is of a lot that is no mix.
type LotShare struct {
	Lot Lot
	Bounds
}

// LotHeaps calls do with every heap of the shop, with what is fitted and with what is gone,
// by item. Of what was poured together it gives the bounds that Whereabouts gives.
func (r *Reader) LotHeaps(do func(h LotHeap) error) error {
	return r.Read(func(r *Reader) error {
		accounts, err := r.allAccounts()
		if err != nil {
			return err
		}
		for _, item := range slices.Sorted(maps.Keys(accounts)) {
			for _, h := range accounts[item].heaps(item) {
				if err := do(h); err != nil {
					return err
				}
			}
		}
		return nil
	})
}

// allAccounts are what lotAccounts gives of each item, from one pass over each table.
func (r *Reader) allAccounts() (map[string]*lotAccounts, error) {
	all := map[string]*lotAccounts{}
	of := func(item string) *lotAccounts {
		if all[item] == nil {
			all[item] = &lotAccounts{}
		}
		return all[item]
	}
	items, err := r.Items()
	if err != nil {
		return nil, err
	}
	for _, i := range items {
		of(i.Designation).unit = i.Unit
	}
	lots, err := r.Lots("")
	if err != nil {
		return nil, err
	}
	for _, l := range lots {
		of(l.Item).lots = append(of(l.Item).lots, l)
	}
	stock, err := r.Stock()
	if err != nil {
		return nil, err
	}
	for _, h := range stock {
		of(h.Item).at = append(of(h.Item).at, LotAt{Place: h.Place, Condition: h.Condition, In: h.Lot, All: h.Amount})
	}
	fitted, err := r.Fitted("")
	if err != nil {
		return nil, err
	}
	for _, f := range fitted {
		of(f.Item).fitted(LotAt{SubAssembly: f.SubAssembly, In: f.Lot, All: f.Amount})
	}
	left, err := r.Gone("")
	for _, g := range left {
		of(g.Item).at = append(of(g.Item).at, LotAt{Gone: g.How, In: g.Lot, All: g.Amount})
	}
	return all, err
}

// fitted adds what is fitted for one requirement to what is for the others.
func (a *lotAccounts) fitted(at LotAt) {
	for i := range a.at {
		if have := &a.at[i]; have.SubAssembly == at.SubAssembly && have.In == at.In && have.Place == "" && have.Gone == "" {
			if sum, err := have.All.Add(at.All); err == nil {
				have.All = sum
				return
			}
		}
	}
	a.at = append(a.at, at)
}

// spotOf tells heaps of one item apart.
type spotOf struct {
	place       string
	condition   Condition
	subAssembly string
	gone, in    string
	unit        measure.Unit
}

func (at LotAt) spot() spotOf {
	return spotOf{at.Place, at.Condition, at.SubAssembly, at.Gone, at.In, at.All.Unit}
}

// heaps are all of an item.
func (a lotAccounts) heaps(item string) []LotHeap {
	shares := map[spotOf][]LotShare{}
	note := func(l Lot, at LotAt) {
		shares[at.spot()] = append(shares[at.spot()], LotShare{l, at.Bounds})
	}
	if slices.ContainsFunc(a.lots, func(l Lot) bool { return l.Kind == MixLot }) {
		for _, l := range a.unmixed(item) {
			all, _ := a.whereabouts(l.StockLot())
			for _, at := range all {
				note(l, at)
			}
		}
	} else {
		byName := map[string]Lot{}
		for _, l := range a.lots {
			byName[l.Name()] = l
		}
		for _, at := range a.at {
			l, recorded := byName[at.In]
			if !recorded {
				l = unrecorded(item, at.In)
			}
			at.Bounds = Bounds{at.All.Low, at.All.High}
			note(l, at)
		}
	}
	out := make([]LotHeap, 0, len(a.at))
	for _, at := range a.at {
		out = append(out, LotHeap{LotAt: at, Item: item, Of: shares[at.spot()]})
	}
	return out
}
