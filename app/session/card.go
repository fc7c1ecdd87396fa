package session

import (
	"cmp"
	"fmt"
	"strings"

	"stowright/app/card"
	"stowright/app/drawing"
	"stowright/app/notice"
	"stowright/app/photos"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/build"
	"stowright/store/hardware"
)

// ItemCard is an item as a card: what it is, how many and how that is known,
// where, and what looks like it nearby. Its actions are the screen's to add, and the
// pictures of its photographs those of Session.Picture.
func (s *Reader) ItemCard(designation string) (card.Card, error) {
	stock, err := s.Stock(designation)
	if err != nil {
		return card.Card{}, err
	}
	c := card.Card{Designation: designation, Title: cmp.Or(Marked(stock.Piece.Title, stock.Piece), stock.Title), Piece: drawing.PieceOf(stock.Piece, s.Lengths())}
	if err := s.addPhotos(&c, store.OfItem(designation)); err != nil {
		return c, err
	}
	c.Quantity = stock.Total.Figure()
	c.Unit = wording.UnitBehind(c.Quantity, stock.Item.Unit)
	if err := s.whereabouts(&c, stock); err != nil {
		return c, err
	}
	if err := s.addAway(&c, stock); err != nil {
		return c, err
	}
	notes, err := s.itemNotes(stock)
	if err != nil {
		return c, err
	}
	c.Notes = append(append(notes, c.Notes...), stock.Piece.Warnings...)
	s.addConverted(&c, stock.Piece)
	return c, nil
}

// addConverted puts the lengths in millimetres on a card, where those are read.
func (s *Reader) addConverted(c *card.Card, piece hardware.Result) {
	if words := s.session.Converted(piece); words != "" {
		c.Notes = append([]string{words}, c.Notes...)
	}
}

// addAway says on a card what of an item is not in stock, and has it not counted where none is
// and some may be here.
func (s *Reader) addAway(c *card.Card, stock Stock) error {
	away, err := s.notInStock(stock.Item.Designation)
	if err != nil {
		return err
	}
	for _, a := range away {
		c.Notes = append(c.Notes, a.String())
	}
	if (Found{Stock: stock, Away: away}).Uncounted() {
		c.Quantity, c.Unit, c.Mark = "", "", notice.Mark{Word: "not checked off", Tone: notice.Warn}
	}
	return nil
}

// cardPhotos is how many photographs a card shows.
const cardPhotos = 2

// addPhotos puts the newest photographs of a subject before those that the card has.
func (s *Reader) addPhotos(c *card.Card, of store.Subject) error {
	list, err := s.Shop.Photos(of)
	if err != nil {
		return err
	}
	c.Photographed = photos.About(of)
	c.Photos = append(photos.Named(list, cardPhotos), c.Photos...)
	c.Photos = c.Photos[:min(len(c.Photos), cardPhotos)]
	return nil
}

// whereabouts fills in the place of the largest heap, how its count is known, and
// the look-alikes within reach of it.
func (s *Reader) whereabouts(c *card.Card, stock Stock) error {
	if len(stock.Heaps) == 0 {
		c.Mark = notice.Mark{Word: "none in the shop", Tone: notice.Quiet}
		return nil
	}
	heap := stock.Heaps[0]
	c.At, c.Place = heap.Path[len(heap.Path)-1].Name, PlaceWords(heap.Path)
	if !heap.Usable() {
		c.Mark = notice.Mark{Word: heap.State(), Tone: notice.Warn}
	}
	known, err := s.known(heap)
	if err != nil {
		return err
	}
	c.Known = known
	picture, err := s.Around(heap.Place)
	if err != nil {
		return err
	}
	c.Cabinet = picture
	c.Beware, err = s.beware(stock.Item.Designation, heap.Path[len(heap.Path)-1])
	return err
}

// State is why a heap cannot be taken from, in a word or two; "" where it can.
func (h Heap) State() string {
	if h.Pulled() {
		return "pulled for " + h.Path[len(h.Path)-1].Name
	}
	return string(h.Condition)
}

// known says how the amount of a heap is known.
func (s *Reader) known(h Heap) (string, error) {
	if h.Amount.Estimate() {
		return fmt.Sprintf("by weight, %s to %s", h.Amount.Low.Number(), h.Amount.High.Number()), nil
	}
	counted, found, err := s.Shop.LastCounted(h.StockKey)
	if err != nil || !found {
		return "not counted yet", err
	}
	return fmt.Sprintf("counted %s by %s", counted.At.Format("2 Jan"), counted.Hand), nil
}

// PlaceWords is a path as a card says it: "Garage, Cabinet A, drawer A-12".
func PlaceWords(path []store.Place) string {
	if len(path) == 0 {
		return ""
	}
	last := path[len(path)-1]
	names := make([]string, 0, len(path))
	for _, p := range path {
		names = append(names, p.Name)
	}
	kind := string(last.Kind)
	if last.Kind != store.Room && !strings.Contains(strings.ToLower(last.Name), kind) {
		names[len(names)-1] = kind + " " + last.Name
	}
	return strings.Join(names, store.PathSeparator)
}

// itemNotes are the quiet lines of an item: other heaps, old numbers, who needs it.
func (s *Reader) itemNotes(stock Stock) ([]string, error) {
	var notes []string
	for i, h := range stock.Heaps {
		if i == 0 {
			continue
		}
		note := fmt.Sprintf("%s in %s", h.Amount, PlaceWords(h.Path))
		if h.Named {
			note += ", " + h.Of.Words()
		}
		if h.Condition != store.Good {
			note += " (" + string(h.Condition) + ")"
		}
		notes = append(notes, note)
	}
	for _, q := range stock.Old {
		note := fmt.Sprintf("plans may say %s: %s", q.Old, q.Source)
		if !q.Date.IsZero() {
			note += ", " + q.Date.String()
		}
		notes = append(notes, note)
	}
	needs, err := s.neededBy(stock.Item.Designation)
	if err != nil || needs == "" {
		return notes, err
	}
	notes = append(notes, "needed by "+needs)
	kept, err := s.reserved(stock.Item)
	if kept != "" {
		notes = append(notes, kept)
	}
	return notes, err
}

// reserved is what of an item is kept for sub-assemblies, and how much is free: "6 kept
// for SA-10, 20 for SA-21; 2 free". It is empty where nothing is.
func (s *Reader) reserved(item store.Item) (words string, err error) {
	err = s.Board(func(b *build.Board) error {
		_, free, held := b.Free(item.Designation, item.Unit)
		for i, h := range held {
			if i == 0 {
				words = h.Quantity.Number() + " kept for " + h.Code
				continue
			}
			words += ", " + h.Quantity.Number() + " for " + h.Code
		}
		if words != "" {
			words += "; " + free.Figure() + " free"
		}
		return nil
	})
	return words, err
}

// neededBy is "SA-10 Fin (46), SA-40 Elevator (60)".
func (s *Reader) neededBy(designation string) (string, error) {
	listed, err := s.Shop.RequirementsFor(designation)
	if err != nil || len(listed) == 0 {
		return "", err
	}
	subs, err := s.Shop.SubAssemblies()
	if err != nil {
		return "", err
	}
	var needs []string
	for _, sub := range subs {
		for _, r := range listed {
			if r.SubAssembly == sub.Code && r.InForce() {
				needs = append(needs, fmt.Sprintf("%s %s (%s)", sub.Code, sub.Name, cmp.Or(r.Needed.Number(), string(r.Kind))))
			}
		}
	}
	return strings.Join(needs, ", "), nil
}

// PlaceCard is a place as a card: what lies in it, and where it is.
func (s *Reader) PlaceCard(id string) (card.Card, error) {
	path, err := s.Shop.Path(id)
	if err != nil {
		return card.Card{}, err
	}
	place := path[len(path)-1]
	contents, err := s.Shop.Contents(id)
	if err != nil {
		return card.Card{}, err
	}
	if len(contents) == 1 {
		c, err := s.ItemCard(contents[0].Item)
		if err == nil && c.Place == PlaceWords(path) {
			return c, s.addPhotos(&c, store.OfPlace(id))
		}
	}
	c := card.Card{Designation: place.Name, Place: PlaceWords(path), Notes: []string{"tag " + place.Tag.Spaced()}}
	if err := s.addPhotos(&c, store.OfPlace(id)); err != nil {
		return c, err
	}
	if c.Cabinet, err = s.Around(id); err != nil {
		return c, err
	}
	children, err := s.Shop.Children(id)
	if err != nil {
		return c, err
	}
	c.Title = placeTitle(place, len(children), len(contents))
	if c.Cabinet == nil && len(children) > 0 && place.Kind != store.Room && place.Kind.Storage() {
		picture, err := s.Cabinet(id)
		if err != nil {
			return c, err
		}
		c.Cabinet = &picture
	}
	for i, h := range contents {
		if i == maxTallies {
			c.Notes = append([]string{fmt.Sprintf("and %d more kinds", len(contents)-i)}, c.Notes...)
			break
		}
		tally := card.Tally{Words: h.Item, Figure: h.Amount.Figure() + " " + string(h.Amount.Unit)}
		if h.Condition != store.Good {
			tally.Words += " (" + string(h.Condition) + ")"
			tally.Tone = notice.Warn
		}
		c.Tallies = append(c.Tallies, tally)
	}
	return c, nil
}

// maxTallies is how many kinds a card lists.
const maxTallies = 8

func placeTitle(p store.Place, places, kinds int) string {
	title := wording.Upper(string(p.Kind))
	switch {
	case kinds == 0 && places == 0:
		return title + ", empty"
	case kinds == 0:
		if p.Kind == store.Cabinet {
			return title + " with " + wording.Plural(places, "drawer", "drawers")
		}
		return title + " with " + wording.Plural(places, "place", "places")
	case kinds == 1:
		return title + ", 1 kind of thing"
	}
	return fmt.Sprintf("%s, %d kinds of things", title, kinds)
}

// ShortPath is a path without its room: "Cabinet A · A-12".
func ShortPath(path []store.Place) string {
	var names []string
	for _, p := range path {
		if p.Kind != store.Room {
			names = append(names, p.Name)
		}
	}
	if len(names) == 0 && len(path) > 0 {
		return path[len(path)-1].Name
	}
	return strings.Join(names, " · ")
}
