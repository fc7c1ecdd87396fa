package session

import (
	"stowright/app/card"
	"stowright/app/drawing"
	"stowright/labels"
	"stowright/store"
)

// Reader answers from one state of the shop: whatever is put together of its answers
// shows that state, whatever is changed meanwhile.
type Reader struct {
	Shop    *store.Reader
	session *Session
	newest  uint64 // the newest entry of the state
	asking  *kept  // the board that is being asked; nil: none
}

// Read calls do with a Reader of the newest state. What store.Reader.Read says holds here:
// do reads and returns, and reads nothing through the session itself.
func (s *Session) Read(do func(r *Reader) error) error {
	return s.Shop.Read(func(at *store.Reader) error {
		newest, err := at.Newest()
		if err != nil {
			return err
		}
		return do(&Reader{Shop: at, session: s, newest: newest})
	})
}

// current reports whether the state that is read is the one that the session has
// followed the shop to: then what it keeps of the shop is of that state.
func (s *Reader) current() bool { return s.newest == s.session.followed.Load() }

// Answer is what an answer comes to, from one state of the shop.
func Answer[T any](s *Session, answer func(r *Reader) (T, error)) (v T, err error) {
	err = s.Read(func(r *Reader) error {
		v, err = answer(r)
		return err
	})
	return v, err
}

// What follows is each answer by itself. Its documentation is that of the Reader.

// ItemCard is Reader.ItemCard with its pictures.
func (s *Session) ItemCard(designation string) (card.Card, error) {
	return s.pictured(func(r *Reader) (card.Card, error) { return r.ItemCard(designation) })
}

// PlaceCard is Reader.PlaceCard with its pictures.
func (s *Session) PlaceCard(id string) (card.Card, error) {
	return s.pictured(func(r *Reader) (card.Card, error) { return r.PlaceCard(id) })
}

// PieceCard is Reader.PieceCard with its pictures.
func (s *Session) PieceCard(designation string) (card.Card, error) {
	return s.pictured(func(r *Reader) (card.Card, error) { return r.PieceCard(designation) })
}

func (s *Session) pictured(answer func(r *Reader) (card.Card, error)) (card.Card, error) {
	c, err := Answer(s, answer)
	s.Picture(&c)
	return c, err
}

// Picture reads the pictures of a card's photographs, which takes its time: it is for
// after the Read that gave the card.
func (s *Session) Picture(c *card.Card) { s.Photos.Fill(c.Photos) }

// Find answers what was typed, the best first, at most limit. More reports whether there are
// others.
func (s *Session) Find(query string, limit int) (found []Found, more bool, err error) {
	hits := s.Search(query, limit)
	err = s.Read(func(r *Reader) error {
		found, more, err = r.Found(hits)
		return err
	})
	return found, more, err
}

// InShop is Reader.InShop.
func (s *Session) InShop(limit int) (found []Found, more bool, err error) {
	err = s.Read(func(r *Reader) error {
		found, more, err = r.InShop(limit)
		return err
	})
	return found, more, err
}

// Cabinet is Reader.Cabinet.
func (s *Session) Cabinet(id string) (drawing.Cabinet, error) {
	return Answer(s, func(r *Reader) (drawing.Cabinet, error) { return r.Cabinet(id) })
}

// Stock is Reader.Stock.
func (s *Session) Stock(designation string) (Stock, error) {
	return Answer(s, func(r *Reader) (Stock, error) { return r.Stock(designation) })
}

// OnlyHeap is Reader.OnlyHeap.
func (s *Session) OnlyHeap(place string) (*Heap, error) {
	return Answer(s, func(r *Reader) (*Heap, error) { return r.OnlyHeap(place) })
}

// HeapNamed is Reader.HeapNamed.
func (s *Session) HeapNamed(item string, which Which) (Heap, error) {
	return Answer(s, func(r *Reader) (Heap, error) { return r.HeapNamed(item, which) })
}

// PlaceNamed is Reader.PlaceNamed.
func (s *Session) PlaceNamed(text string) (store.Place, error) {
	return Answer(s, func(r *Reader) (store.Place, error) { return r.PlaceNamed(text) })
}

// PlacesMatching is Reader.PlacesMatching.
func (s *Session) PlacesMatching(pattern string) ([]store.Place, error) {
	return Answer(s, func(r *Reader) ([]store.Place, error) { return r.PlacesMatching(pattern) })
}

// SuggestPlace is Reader.SuggestPlace.
func (s *Session) SuggestPlace(item, group string) (suggestion Suggestion, found bool, err error) {
	err = s.Read(func(r *Reader) error {
		suggestion, found, err = r.SuggestPlace(item, group)
		return err
	})
	return suggestion, found, err
}

// SizingCard is Reader.SizingCard.
func (s *Session) SizingCard(title string, places []store.Place) (labels.SizingCard, error) {
	return Answer(s, func(r *Reader) (labels.SizingCard, error) { return r.SizingCard(title, places) })
}

// Label is Reader.Label.
func (s *Session) Label(p store.Place) (labels.Label, error) {
	return Answer(s, func(r *Reader) (labels.Label, error) { return r.Label(p) })
}

// Labels is Reader.Labels.
func (s *Session) Labels(places []store.Place) ([]labels.Label, error) {
	return Answer(s, func(r *Reader) ([]labels.Label, error) { return r.Labels(places) })
}
