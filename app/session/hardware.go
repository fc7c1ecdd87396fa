package session

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"stowright/app/card"
	"stowright/app/drawing"
	"stowright/app/notice"
	"stowright/store"
	"stowright/store/hardware"
)

// Catalog is what is known of hardware: the published tables, with the builder's
// own figures that are kept in the shop file. Where those cannot be read it is
// the tables alone: the screen that lists the figures says what is wrong.
func (s *Session) Catalog() *hardware.Catalog {
	if c := s.keptCatalog(); c != nil {
		return c
	}
	c, err := Answer(s, func(r *Reader) (*hardware.Catalog, error) { return r.Catalog(), nil })
	if err != nil {
		return hardware.Standard()
	}
	return c
}

func (s *Session) keptCatalog() *hardware.Catalog {
	s.figures.Lock()
	defer s.figures.Unlock()
	return s.catalog
}

// Catalog is that of the session.
func (s *Reader) Catalog() *hardware.Catalog {
	if c := s.session.keptCatalog(); c != nil {
		return c
	}
	c, err := Catalog(s.Shop)
	if err != nil {
		return hardware.Standard()
	}
	s.session.figures.Lock()
	defer s.session.figures.Unlock()
	if s.current() {
		s.session.catalog = c
	}
	return c
}

// Catalog is the published tables with the own figures of a shop.
func Catalog(shop *store.Reader) (*hardware.Catalog, error) {
	rows, err := shop.Figures()
	if err != nil || len(rows) == 0 {
		return hardware.Standard(), err
	}
	return hardware.Standard().With(rows)
}

// ReadFigures reads the rows of a CSV with figures of a printed standard. An error
// says what is wrong first, and carries every *hardware.OwnError.
func ReadFigures(path string) ([]hardware.OwnRow, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, &store.Error{Kind: store.Invalid, Where: path, Message: fmt.Sprintf("%s cannot be read: see that it is there and may be read.", path)}
	}
	rows, errs := hardware.ReadOwn(f, filepath.Base(path))
	if err := f.Close(); err != nil {
		errs = append(errs, err)
	}
	if len(errs) == 0 {
		return rows, nil
	}
	message := errs[0].Error()
	if n := len(errs) - 1; n > 0 {
		message += fmt.Sprintf(" (and %d more to correct)", n)
	}
	return nil, &store.Error{Kind: store.Invalid, Where: path, Message: message, Err: errors.Join(errs...)}
}

// AtHand are the designations of which there is good stock, pulled or not.
func AtHand(shop *store.Shop) ([]string, error) {
	stock, err := shop.StockKeys()
	if err != nil {
		return nil, err
	}
	var have []string
	for _, h := range stock {
		if h.Condition == store.Good && (len(have) == 0 || have[len(have)-1] != h.Item) {
			have = append(have, h.Item)
		}
	}
	return have, nil
}

// forgetFigures has the catalog made again after an entry that changed own figures.
func (s *Session) forgetFigures(e store.Entry) {
	if len(e.Figures()) == 0 {
		return
	}
	s.figures.Lock()
	defer s.figures.Unlock()
	s.catalog = nil
}

// itemsOfFigures are the items whose own figures an entry changed.
func (s *Reader) itemsOfFigures(e store.Entry) []string {
	changed := e.Figures()
	if len(changed) == 0 {
		return nil
	}
	items, err := s.Shop.Items()
	if err != nil {
		return nil
	}
	var touched []string
	for _, item := range items {
		if n, err := hardware.Standard().OwnNumber(item.Designation); err == nil && slices.Contains(changed, n) {
			touched = append(touched, item.Designation)
		}
	}
	return touched
}

// Marked is the title of a piece with the mark that must go with it: that its row was
// not cross-checked, or is the builder's own.
func Marked(title string, piece hardware.Result) string {
	if mark := piece.Mark(); mark != "" && title != "" {
		return title + " (" + mark + ")"
	}
	return title
}

// PieceCard is the card of any designation: of the item, where the shop knows it,
// and of the tables where it does not.
func (s *Reader) PieceCard(designation string) (card.Card, error) {
	c, err := s.ItemCard(designation)
	if err == nil || store.KindOf(err) != store.NotFound {
		return c, err
	}
	piece := s.Catalog().Decode(designation)
	c = card.Card{
		Designation: piece.Designation, Title: piece.Title, Piece: drawing.PieceOf(piece, s.Lengths()),
		Mark: notice.Mark{Word: "none in the shop", Tone: notice.Quiet},
	}
	c.Title = Marked(c.Title, piece)
	s.addConverted(&c, piece)
	if next := piece.SupersededBy; next != nil {
		if holdings, err := s.Shop.Holdings(next.Designation); err != nil {
			return c, err
		} else if len(holdings) > 0 {
			c.Notes = append(c.Notes, "the shop has "+next.Designation+", which took the place of this number: see the source before using one for the other")
		}
	}
	var alike []lookAlike
	for _, l := range piece.LookAlikes {
		alike = append(alike, lookAlike{item: l.Designation, difference: l.Difference})
	}
	c.Beware = warnings(alike)
	return c, nil
}
