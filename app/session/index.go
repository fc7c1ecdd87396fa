package session

import (
	"fmt"
	"iter"
	"slices"
	"strings"

	"stowright/store"
	"stowright/store/hardware"
	"stowright/store/measure"
	"stowright/store/search"
)

// The ids of documents say what kind of record they are of.
const (
	itemPrefix  = "item:"
	placePrefix = "place:"
)

// documents yields all that can be found in the shop, and counts it as it goes.
func (s *Session) documents() iter.Seq2[search.Doc, error] {
	return func(yield func(search.Doc, error) bool) {
		all, err := Answer(s, (*Reader).readAll)
		if err != nil {
			yield(search.Doc{}, err)
			return
		}
		s.indexed.total.Store(int64(len(all.items) + len(all.places)))
		for _, item := range all.items {
			s.indexed.done.Add(1)
			if !yield(docOf(s.Catalog(), item, all), nil) {
				return
			}
		}
		for _, p := range all.places {
			s.indexed.done.Add(1)
			if !p.Retired && !yield(placeDoc(p, all.paths[p.ID]), nil) {
				return
			}
		}
	}
}

// everything is what documents are made of, read table by table: reading a hundred
// thousand items one by one takes a hundred thousand transactions.
type everything struct {
	items  []store.Item
	places []store.Place
	byID   map[string]store.Place
	paths  map[string]string             // by place
	lie    map[string][]string           // places by item, in the order of the file
	old    map[string][]store.Equivalent // by new number
}

func (s *Reader) readAll() (everything, error) {
	all := everything{byID: map[string]store.Place{}, paths: map[string]string{}, lie: map[string][]string{}, old: map[string][]store.Equivalent{}}
	var err error
	if all.items, err = s.Shop.Items(); err != nil {
		return all, err
	}
	if all.places, err = s.Shop.Places(); err != nil {
		return all, err
	}
	for _, p := range all.places {
		all.byID[p.ID] = p
	}
	for _, p := range all.places {
		path, err := pathIn(all.byID, p.ID)
		if err != nil {
			return all, err
		}
		all.paths[p.ID] = store.PathText(path)
	}
	keys, err := s.Shop.StockKeys()
	if err != nil {
		return all, err
	}
	for _, k := range keys {
		all.lie[k.Item] = append(all.lie[k.Item], k.Place)
	}
	old, err := s.Shop.Equivalents()
	for _, q := range old {
		all.old[q.New] = append(all.old[q.New], q)
	}
	return all, err
}

// pathIn is a place and the places it lies in, the outermost first.
func pathIn(places map[string]store.Place, id string) ([]store.Place, error) {
	var path []store.Place
	for id != "" {
		p, ok := places[id]
		if !ok {
			break
		}
		if len(path) == store.MaxDepth {
			return nil, fmt.Errorf("place %q is inside itself", id)
		}
		path = append(path, p)
		id = p.Parent
	}
	slices.Reverse(path)
	return path, nil
}

// itemDoc describes an item for the index, by what the file says now.
func (s *Reader) itemDoc(item store.Item) (search.Doc, error) {
	all := everything{paths: map[string]string{}, lie: map[string][]string{}, old: map[string][]store.Equivalent{}}
	old, err := s.oldNumbers(item.Designation)
	if err != nil {
		return search.Doc{}, fmt.Errorf("numbers of %s: %w", item.Designation, err)
	}
	all.old[item.Designation] = old
	holdings, err := s.Shop.Holdings(item.Designation)
	if err != nil {
		return search.Doc{}, fmt.Errorf("stock of %s: %w", item.Designation, err)
	}
	for _, h := range holdings {
		path, err := s.Shop.Path(h.Place)
		if err != nil {
			return search.Doc{}, err
		}
		all.lie[item.Designation] = append(all.lie[item.Designation], h.Place)
		all.paths[h.Place] = store.PathText(path)
	}
	return docOf(s.Catalog(), item, all), nil
}

// docOf describes an item for the index: its numbers, its words, its published
// dimensions, and where it lies.
func docOf(catalog *hardware.Catalog, item store.Item, all everything) search.Doc {
	piece := catalog.Decode(item.Designation)
	doc := search.Doc{
		ID: itemPrefix + item.Designation, Kind: search.Item, Name: item.Designation,
		Words: strings.Join([]string{item.Title, piece.Title, item.Note}, " "), Dims: dims(piece),
	}
	for _, q := range all.old[item.Designation] {
		doc.Aliases = append(doc.Aliases, q.Old)
	}
	for _, place := range all.lie[item.Designation] {
		doc.InShop = true
		if text := all.paths[place]; !slices.Contains(doc.Places, text) {
			doc.Places = append(doc.Places, text)
		}
	}
	return doc
}

func (s *Reader) oldNumbers(item string) ([]store.Equivalent, error) {
	all, err := s.Shop.Equivalents()
	if err != nil {
		return nil, err
	}
	return slices.DeleteFunc(all, func(q store.Equivalent) bool { return q.New != item }), nil
}

// placeDoc describes a place for the index, whose path in words is path.
func placeDoc(p store.Place, path string) search.Doc {
	return search.Doc{
		ID: placePrefix + p.ID, Kind: placeKind(p.Kind), Name: p.Name,
		// The tag is a word and not a number: "sp" is a spar before it is every tag.
		Words: string(p.Kind) + " " + string(p.Tag), Places: []string{path}, InShop: true,
	}
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

// numberTen is the diameter of a #10 bolt, which is sold and asked for as 3/16
// (common practice: the first number of an AN bolt is its diameter in sixteenths).
var numberTen = measure.Inches(190, 1000)

func dims(piece hardware.Result) []search.Dim {
	var list []search.Dim
	for _, f := range piece.Fields {
		if role, ok := roles[f.Name]; ok && f.Length > 0 {
			list = append(list, search.Dim{Role: role, Length: f.Length})
		}
		if f.Name == hardware.Diameter && piece.Kind == hardware.Bolt && f.Length == numberTen {
			list = append(list, search.Dim{Role: search.Diameter, Length: 3 * measure.Inch / 16})
		}
	}
	return list
}

// reindex brings the index up to date with an entry. A record that cannot be read
// leaves the index as it was: the screens that show the record say what is wrong.
func (s *Session) reindex(e store.Entry) {
	var news indexNews
	err := s.Read(func(r *Reader) error {
		items := append(e.Items(), r.itemsOfFigures(e)...)
		for _, id := range e.Places() {
			items = append(items, r.placeNews(&news, id)...)
		}
		slices.Sort(items)
		for _, designation := range slices.Compact(items) {
			r.itemNews(&news, designation)
		}
		return nil
	})
	if err != nil {
		return
	}
	for _, id := range news.gone {
		s.Index.Remove(id)
	}
	for _, doc := range news.docs {
		s.Index.Put(doc)
	}
}

// indexNews is what an entry changes of the index.
type indexNews struct {
	docs []search.Doc
	gone []string // ids
}

func (s *Reader) itemNews(news *indexNews, designation string) {
	item, err := s.Shop.Item(designation)
	if store.KindOf(err) == store.NotFound {
		news.gone = append(news.gone, itemPrefix+designation)
		return
	}
	if err != nil {
		return
	}
	if doc, err := s.itemDoc(item); err == nil {
		news.docs = append(news.docs, doc)
	}
}

// placeNews takes in a place, and those within it, and returns the items that lie there:
// their paths have changed.
func (s *Reader) placeNews(news *indexNews, id string) []string {
	p, err := s.Shop.Place(id)
	if err != nil || p.Retired {
		news.gone = append(news.gone, placePrefix+id)
		return nil
	}
	path, err := s.Shop.Path(p.ID)
	if err != nil {
		return nil
	}
	news.docs = append(news.docs, placeDoc(p, store.PathText(path)))
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
		items = append(items, s.placeNews(news, c.ID)...)
	}
	return items
}
