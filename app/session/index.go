package session

import (
	"fmt"
	"iter"
	"slices"
	"strings"

	"stowright/store"
	"stowright/store/hardware"
	"stowright/store/search"
)

// The ids of documents say what kind of record they are of.
const (
	itemPrefix  = "item:"
	placePrefix = "place:"
)

// documents yields all that can be found in the shop.
func (s *Session) documents() iter.Seq2[search.Doc, error] {
	return func(yield func(search.Doc, error) bool) {
		items, err := s.Shop.Items()
		if err != nil {
			yield(search.Doc{}, err)
			return
		}
		for _, item := range items {
			doc, err := s.itemDoc(item)
			if !yield(doc, err) {
				return
			}
		}
		places, err := s.Shop.Places()
		if err != nil {
			yield(search.Doc{}, err)
			return
		}
		for _, p := range places {
			if p.Retired {
				continue
			}
			doc, err := s.placeDoc(p)
			if !yield(doc, err) {
				return
			}
		}
	}
}

// itemDoc describes an item for the index: its numbers, its words, its published
// dimensions, and where it lies.
func (s *Session) itemDoc(item store.Item) (search.Doc, error) {
	piece := s.Catalog().Decode(item.Designation)
	doc := search.Doc{
		ID: itemPrefix + item.Designation, Kind: search.Item, Name: item.Designation,
		Words: strings.Join([]string{item.Title, piece.Title, item.Note}, " "), Dims: dims(piece),
	}
	old, err := s.oldNumbers(item.Designation)
	if err != nil {
		return doc, fmt.Errorf("numbers of %s: %w", item.Designation, err)
	}
	for _, q := range old {
		doc.Aliases = append(doc.Aliases, q.Old)
	}
	holdings, err := s.Shop.Holdings(item.Designation)
	if err != nil {
		return doc, fmt.Errorf("stock of %s: %w", item.Designation, err)
	}
	for _, h := range holdings {
		path, err := s.Shop.Path(h.Place)
		if err != nil {
			return doc, err
		}
		doc.InShop = true
		if text := store.PathText(path); !slices.Contains(doc.Places, text) {
			doc.Places = append(doc.Places, text)
		}
	}
	return doc, nil
}

func (s *Session) oldNumbers(item string) ([]store.Equivalent, error) {
	all, err := s.Shop.Equivalents()
	if err != nil {
		return nil, err
	}
	return slices.DeleteFunc(all, func(q store.Equivalent) bool { return q.New != item }), nil
}

// placeDoc describes a place for the index.
func (s *Session) placeDoc(p store.Place) (search.Doc, error) {
	path, err := s.Shop.Path(p.ID)
	if err != nil {
		return search.Doc{}, err
	}
	return search.Doc{
		ID: placePrefix + p.ID, Kind: placeKind(p.Kind), Name: p.Name,
		// The tag is a word and not a number: "sp" is a spar before it is every tag.
		Words: string(p.Kind) + " " + string(p.Tag), Places: []string{store.PathText(path)}, InShop: true,
	}, nil
}

func placeKind(k store.PlaceKind) search.Kind {
	switch k {
	case store.Bag:
		return search.Bag
	case store.Crate:
		return search.Crate
	case store.SubAssemblyKind:
		return search.SubAssembly
	}
	return search.Place
}

// roles are the published fields that are searched as dimensions.
var roles = map[string]search.Role{
	hardware.Grip: search.Grip, hardware.LengthField: search.OverallLength, hardware.Diameter: search.Diameter,
	hardware.Thickness: search.Thickness, hardware.OutsideDiameter: search.Width, hardware.InsideDiameter: search.Diameter,
	hardware.TubeDiameter: search.Diameter,
}

func dims(piece hardware.Result) []search.Dim {
	var list []search.Dim
	for _, f := range piece.Fields {
		if role, ok := roles[f.Name]; ok && f.Length > 0 {
			list = append(list, search.Dim{Role: role, Length: f.Length})
		}
	}
	return list
}

// reindex brings the index up to date with an entry. A record that cannot be read
// leaves the index as it was: the screens that show the record say what is wrong.
func (s *Session) reindex(e store.Entry) {
	items := append(e.Items(), s.forgetFigures(e)...)
	for _, id := range e.Places() {
		items = append(items, s.reindexPlace(id)...)
	}
	slices.Sort(items)
	for _, designation := range slices.Compact(items) {
		item, err := s.Shop.Item(designation)
		if store.KindOf(err) == store.NotFound && err != nil {
			s.Index.Remove(itemPrefix + designation)
			continue
		}
		if err != nil {
			continue
		}
		if doc, err := s.itemDoc(item); err == nil {
			s.Index.Put(doc)
		}
	}
}

// reindexPlace brings a place, and those within it, up to date, and returns the
// items that lie there: their paths have changed.
func (s *Session) reindexPlace(id string) []string {
	p, err := s.Shop.Place(id)
	if err != nil || p.Retired {
		s.Index.Remove(placePrefix + id)
		return nil
	}
	doc, err := s.placeDoc(p)
	if err != nil {
		return nil
	}
	s.Index.Put(doc)
	var items []string
	holdings, err := s.Shop.Contents(id)
	if err != nil {
		return nil
	}
	for _, h := range holdings {
		items = append(items, h.Item)
	}
	children, err := s.Shop.Children(id)
	if err != nil {
		return items
	}
	for _, c := range children {
		items = append(items, s.reindexPlace(c.ID)...)
	}
	return items
}
