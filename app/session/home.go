package session

import "stowright/store"

// Home is the place that something in a tray was pulled from, or, where nobody knows any
// more, the only one that holds more of it; found is false where there is none.
func (s *Reader) Home(tray store.StockKey) (home store.Place, found bool, err error) {
	id, found, err := s.Shop.PulledFrom(tray)
	if err != nil {
		return home, false, err
	}
	if !found {
		if id, found, err = s.onlyPlace(tray); err != nil || !found {
			return home, false, err
		}
	}
	home, err = s.Shop.Place(id)
	return home, err == nil && !home.Retired, err
}

// onlyPlace is the one place of storage that holds good stock of the same lot.
func (s *Reader) onlyPlace(tray store.StockKey) (id string, found bool, err error) {
	heaps, err := s.Shop.Holdings(tray.Item)
	if err != nil {
		return "", false, err
	}
	for _, h := range heaps {
		p, err := s.Shop.Place(h.Place)
		if err != nil {
			return "", false, err
		}
		if h.Lot != tray.Lot || h.Condition != store.Good || !p.Kind.Storage() {
			continue
		}
		if found {
			return "", false, nil
		}
		id, found = h.Place, true
	}
	return id, found, nil
}
