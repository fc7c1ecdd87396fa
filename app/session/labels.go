package session

import (
	"fmt"
	"path"
	"slices"
	"strings"

	"stowright/app/wording"
	"stowright/labels"
	"stowright/store"
)

// PlacesMatching are the places that a pattern names, in the order of the shop:
// a name ("Cabinet A", which means the places within it), or a pattern of names
// with * and ? ("A-*"). Case does not matter; an empty pattern means every drawer,
// bin, tub and shelf.
func (s *Reader) PlacesMatching(pattern string) ([]store.Place, error) {
	pattern = strings.ToLower(strings.TrimSpace(pattern))
	if _, err := path.Match(pattern, ""); err != nil {
		return nil, &store.Error{Kind: store.Invalid, Where: pattern, Message: fmt.Sprintf("%q is not a pattern of places: write it like A-* or Cabinet A.", pattern)}
	}
	all, err := s.Shop.Places()
	if err != nil {
		return nil, err
	}
	var found []store.Place
	for _, p := range all {
		if p.Retired {
			continue
		}
		name := strings.ToLower(p.Name)
		match, _ := path.Match(pattern, name)
		switch {
		case pattern == "":
			if p.Kind == store.Drawer || p.Kind == store.Bin || p.Kind == store.Tub || p.Kind == store.Shelf {
				found = append(found, p)
			}
		case match:
			children, err := s.Shop.Children(p.ID)
			if err != nil {
				return nil, err
			}
			if name == pattern && len(children) > 0 && p.Kind != store.Crate {
				found = append(found, children...)
			} else {
				found = append(found, p)
			}
		}
	}
	return found, nil
}

// Label is the label of a place. It names what lies in the place, never the room
// that the place stands in, so that it stays true when a cabinet moves.
func (s *Reader) Label(p store.Place) (labels.Label, error) {
	l := labels.Label{Tag: string(p.Tag), Name: p.Name, Title: wording.Upper(string(p.Kind))}
	if p.Kind == store.Drawer {
		l.Title = "" // it is seen to be one
	}
	if p.Kind == store.Crate {
		return s.crateLabel(l, p)
	}
	contents, err := s.Shop.Contents(p.ID)
	if err != nil {
		return l, err
	}
	items := itemsOf(contents)
	if p.Kind.Storage() {
		if l.PlacePath, err = s.withinRoom(p); err != nil {
			return l, err
		}
	}
	switch len(items) {
	case 0:
		return l, nil
	case 1:
		l.Place = p.Name
		return s.itemLabel(l, p, items[0])
	}
	l.Title = fmt.Sprintf("%d kinds of things", len(items))
	l.Lines = items
	return l, nil
}

func itemsOf(contents []store.Holding) []string {
	var items []string
	for _, h := range contents {
		if !slices.Contains(items, h.Item) {
			items = append(items, h.Item)
		}
	}
	return items
}

// withinRoom is where a place is, without the room and without itself.
func (s *Reader) withinRoom(p store.Place) (string, error) {
	whole, err := s.Shop.Path(p.ID)
	if err != nil {
		return "", err
	}
	whole = slices.DeleteFunc(whole, func(q store.Place) bool { return q.Kind == store.Room || q.ID == p.ID })
	return store.PathText(whole), nil
}

func (s *Reader) itemLabel(l labels.Label, p store.Place, item string) (labels.Label, error) {
	stock, err := s.Stock(item)
	if err != nil {
		return l, err
	}
	l.Name, l.Title, l.Piece = item, stock.Title, labelPiece(stock.Piece)
	for _, q := range stock.Old {
		l.Lines = append(l.Lines, "plans: "+q.Old)
	}
	near, err := s.alikeNear(item, p)
	if err != nil {
		return l, err
	}
	if len(near) > 0 {
		l.Beware = labels.Beware{Name: near[0].item, Why: "that one is " + near[0].difference}
	}
	return l, nil
}

func (s *Reader) crateLabel(l labels.Label, p store.Place) (labels.Label, error) {
	ships, err := s.Shop.Shipments()
	if err != nil {
		return l, err
	}
	for _, ship := range ships {
		for i, c := range ship.Crates {
			if c.Place != p.ID {
				continue
			}
			l.Title = fmt.Sprintf("Crate %d of %d", i+1, len(ship.Crates))
			if ship.Order != "" {
				l.Lines = append(l.Lines, "order "+ship.Order)
			}
			describeArrival(&l, ship, c.Name)
		}
	}
	return l, nil
}

func describeArrival(l *labels.Label, ship store.Shipment, crate string) {
	d, come := ship.Delivery(crate)
	if !come {
		l.Lines = append(l.Lines, "not arrived yet")
		return
	}
	l.Lines = append(l.Lines, "came "+d.Arrived.String())
	if d.DamageDays != nil {
		l.Due = "damage by " + d.Arrived.AddDays(*d.DamageDays).Short()
	}
	if d.ShortageDays != nil {
		l.Later = "shortages by " + d.Arrived.AddDays(*d.ShortageDays).Short()
	}
}

// Labels are the labels of places, in their order.
func (s *Reader) Labels(places []store.Place) ([]labels.Label, error) {
	list := make([]labels.Label, 0, len(places))
	for _, p := range places {
		l, err := s.Label(p)
		if err != nil {
			return nil, err
		}
		list = append(list, l)
	}
	return list, nil
}

// SizingCard is what lies in places, each piece at its real size with where it lies, in
// their order.
func (s *Reader) SizingCard(title string, places []store.Place) (labels.SizingCard, error) {
	card := labels.SizingCard{Title: title}
	for _, p := range places {
		contents, err := s.Shop.Contents(p.ID)
		if err != nil {
			return card, err
		}
		for _, item := range itemsOf(contents) {
			stock, err := s.Stock(item)
			if err != nil {
				return card, err
			}
			card.Pieces = append(card.Pieces, labels.SizedPiece{Name: item, Place: p.Name, Piece: labelPiece(stock.Piece)})
		}
	}
	return card, nil
}
