package session

import (
	"fmt"
	"slices"
	"strings"

	"stowright/app/wording"
	"stowright/store"
	"stowright/store/hardware"
	"stowright/store/search"
)

// Found is one answer to what was typed.
type Found struct {
	Kind  search.Kind
	Item  string // designation of an item; empty for a place
	Place string // id of a place; empty for an item
	Exact bool   // its name is what was typed
	Name  string // designation, or name of the place
	Title string // plain words
	Why   string // what answered, where the name alone does not show it
	Near  bool   // it is only close to what was typed
	Stock Stock  // of an item
	Away  []Away // of an item: what is kept for sub-assemblies, and what is not in stock
	Path  string // of a place
}

// Hits are what the index has for what was typed.
type Hits struct {
	query string
	search.Result
}

// Search asks the index, at most limit: what Found reads of the shop.
func (s *Session) Search(query string, limit int) Hits {
	return Hits{query, s.Index.Search(query, limit)}
}

// Found are the hits as the shop has them, the best first. More reports whether there are
// others.
func (s *Reader) Found(hits Hits) (found []Found, more bool, err error) {
	if s.session.indexed.running.Load() && len(hits.Hits) == 0 {
		if hits.Hits, err = s.findWhole(hits.query); err != nil {
			return nil, false, err
		}
	}
	for _, hit := range hits.Hits {
		f, err := s.found(hit)
		if store.KindOf(err) == store.NotFound {
			continue // taken away since the index was asked
		}
		if err != nil {
			return nil, false, err
		}
		found = append(found, f)
	}
	return inShopFirst(found), hits.More, nil
}

// inShopFirst puts what is in the shop before what is not, and leaves the order else as it is.
// What is only close to what was typed stays behind all that answers to it.
func inShopFirst(found []Found) []Found {
	rank := func(f Found) int {
		switch here := f.Item == "" || len(f.Stock.Heaps) > 0; {
		case f.Near && !here:
			return 3
		case f.Near:
			return 2
		case !here:
			return 1
		}
		return 0
	}
	slices.SortStableFunc(found, func(a, b Found) int { return rank(a) - rank(b) })
	return found
}

// Uncounted reports whether none of an item is in stock, and some of it may well be here: until
// its line is checked off, how many there are is not known.
func (f Found) Uncounted() bool {
	return len(f.Stock.Heaps) == 0 && slices.ContainsFunc(f.Away, func(a Away) bool { return a.Uncounted })
}

func (s *Reader) found(hit search.Hit) (Found, error) {
	f := Found{Kind: hit.Kind, Name: hit.Name, Why: hit.Why, Near: hit.Class >= search.Near, Exact: hit.Class == search.Exact}
	if designation, ok := strings.CutPrefix(hit.ID, itemPrefix); ok {
		var err error
		f.Item = designation
		if f.Stock, err = s.Stock(designation); err != nil {
			return f, err
		}
		f.Title = f.Stock.Title
		f.Away, err = s.away(f.Stock.Item)
		return f, err
	}
	f.Place = strings.TrimPrefix(hit.ID, placePrefix)
	path, err := s.Shop.Path(f.Place)
	if err != nil {
		return f, err
	}
	f.Path, f.Title = store.PathText(path), string(path[len(path)-1].Kind)
	return f, nil
}

// NoSuchNumber says why what was typed is no part number, where it has the form of
// one that the tables know: "AN3-8 does not exist: ...". It is empty for all else.
func (s *Session) NoSuchNumber(typed string) string {
	return wording.Sentence(s.Catalog().Decode(strings.TrimSpace(typed)).Problem)
}

// Largest is the heap that an item is taken from first; nil where there is none.
func (f Found) Largest() *Heap {
	if len(f.Stock.Heaps) == 0 {
		return nil
	}
	return &f.Stock.Heaps[0]
}

// OnlyHeap is the heap that lies in a place, nil where it is none or several.
func (s *Reader) OnlyHeap(place string) (*Heap, error) {
	contents, err := s.Shop.Contents(place)
	if err != nil || len(contents) != 1 {
		return nil, err
	}
	path, err := s.Shop.Path(place)
	if err != nil {
		return nil, err
	}
	lot, err := s.Shop.Lot(contents[0].Item, contents[0].Lot)
	return &Heap{Holding: contents[0], Path: path, Of: lot, Named: lot.Printed != ""}, err
}

// Stock is how much of an item there is, and where.
type Stock struct {
	Item  store.Item
	Piece hardware.Result
	Title string       // by the tables, or as the packing list says
	Total store.Amount // good stock, what was pulled for a sub-assembly left out
	Heaps []Heap       // every heap, the largest good one first
	Old   []store.Equivalent
}

// Heap is one heap of stock, its place and its lot.
type Heap struct {
	store.Holding
	Path []store.Place
	Of   store.Lot
	// Named says that its lot is worth a word: it is printed, or there is another one of
	// the item in the place.
	Named bool
}

// Pulled reports whether the heap lies with a sub-assembly already.
func (h Heap) Pulled() bool { return h.Path[len(h.Path)-1].Kind == store.SubAssemblyKind }

// Usable reports whether the heap can be taken from: it is good and not pulled.
func (h Heap) Usable() bool { return h.Condition == store.Good && !h.Pulled() }

// Stock adds up an item.
func (s *Reader) Stock(designation string) (Stock, error) {
	item, err := s.Shop.Item(designation)
	if err != nil {
		return Stock{}, err
	}
	stock := Stock{Item: item, Piece: s.Catalog().Decode(designation)}
	stock.Title = Title(item, stock.Piece)
	stock.Total.Unit = item.Unit
	holdings, err := s.Shop.Holdings(designation)
	if err != nil {
		return Stock{}, err
	}
	for _, h := range holdings {
		path, err := s.Shop.Path(h.Place)
		if err != nil {
			return Stock{}, err
		}
		lot, err := s.Shop.Lot(designation, h.Lot)
		if err != nil {
			return Stock{}, err
		}
		heap := Heap{Holding: h, Path: path, Of: lot, Named: lot.Printed != "" || severalLots(holdings, h)}
		stock.Heaps = append(stock.Heaps, heap)
		if !heap.Usable() {
			continue
		}
		if stock.Total, err = stock.Total.Add(h.Amount); err != nil {
			return Stock{}, fmt.Errorf("adding up %s: %w", designation, err)
		}
	}
	slices.SortStableFunc(stock.Heaps, func(a, b Heap) int {
		if a.Usable() != b.Usable() {
			if a.Usable() {
				return -1
			}
			return 1
		}
		return int(max(-1, min(1, b.Amount.Micro-a.Amount.Micro)))
	})
	stock.Old, err = s.oldNumbers(designation)
	return stock, err
}

// HeapOf is what was found of a line of a packing list, where it lies in its bag.
func (s *Reader) HeapOf(l store.Line) (Heap, error) {
	stock, err := s.Stock(l.Designation)
	if err != nil {
		return Heap{}, err
	}
	for _, h := range stock.Heaps {
		if h.Place == l.Place && h.Condition == store.Good && l.Finding != nil && (h.Lot == l.Finding.LotName || l.Finding.LotName == "") {
			return h, nil
		}
	}
	return Heap{}, named(store.NotFound, l.Designation, "None of line %d lies in its bag: count them where they are.", l.Number())
}

// severalLots reports whether the place of a heap has another lot of its item.
func severalLots(holdings []store.Holding, h store.Holding) bool {
	return slices.ContainsFunc(holdings, func(other store.Holding) bool { return other.Place == h.Place && other.Lot != h.Lot })
}

// Title is an item in plain words: by the tables where they know it, and as the
// packing list says where they do not. A row that was not cross-checked, or is the
// builder's own, says so.
func Title(item store.Item, piece hardware.Result) string {
	if piece.Known && piece.Short != "" {
		return Marked(piece.Short, piece)
	}
	return item.Title
}

// InShop are the items of which there is some, by designation, at most limit.
func (s *Reader) InShop(limit int) (found []Found, more bool, err error) {
	items, err := s.Shop.ItemsInStock()
	if err != nil {
		return nil, false, err
	}
	first := firstItems(items, limit+1)
	if more = len(first) > limit; more {
		first = first[:limit]
	}
	for _, designation := range first {
		f, err := s.found(search.Hit{ID: itemPrefix + designation, Kind: search.Item, Name: designation, Class: search.Starts})
		if store.KindOf(err) == store.NotFound {
			continue // taken away since
		}
		if err != nil {
			return nil, false, err
		}
		found = append(found, f)
	}
	return found, more, nil
}

// firstItems are the first n of items in their natural order. Only a few of them are ever
// put in order: all of a big shop would take longer than a person waits for a screen.
func firstItems(items []string, n int) []string {
	first := make([]string, 0, n+1)
	for _, item := range items {
		if len(first) == n && store.CompareNames(item, first[n-1]) >= 0 {
			continue
		}
		at, _ := slices.BinarySearchFunc(first, item, store.CompareNames)
		first = slices.Insert(first, at, item)
		first = first[:min(len(first), n)]
	}
	return first
}
