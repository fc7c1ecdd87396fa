package session

import (
	"fmt"
	"slices"

	"stowright/store"
	"stowright/store/hardware"
)

// Suggestion is a place to stow something, and why.
type Suggestion struct {
	Place store.Place
	Path  []store.Place
	Why   string
}

// SuggestPlace says where an item that is to be stowed would lie well: with its
// own kind if there is some; else, hardware in an empty drawer away from what it is
// easily taken for, and parts on the shelf where parts of the same group lie. Found
// is false where the shop has no such place.
func (s *Reader) SuggestPlace(item, group string) (suggestion Suggestion, found bool, err error) {
	place, why, err := s.withOwnKind(item)
	if err == nil && why == "" {
		if s.Catalog().Decode(item).Known {
			place, why, err = s.emptyDrawer(item)
		} else {
			place, why, err = s.withGroup(group)
		}
	}
	if err != nil || why == "" {
		return Suggestion{}, false, err
	}
	path, err := s.Shop.Path(place.ID)
	return Suggestion{Place: place, Path: path, Why: why}, err == nil, err
}

func (s *Reader) withOwnKind(item string) (store.Place, string, error) {
	holdings, err := s.Shop.Holdings(item)
	if err != nil {
		return store.Place{}, "", err
	}
	for _, h := range holdings {
		p, err := s.Shop.Place(h.Place)
		if err != nil {
			return store.Place{}, "", err
		}
		if p.Kind.Storage() && h.Condition == store.Good {
			return p, fmt.Sprintf("%s of them are there already", h.Amount), nil
		}
	}
	return store.Place{}, "", nil
}

// emptyDrawer is the empty drawer that is farthest from any look-alike of an item.
func (s *Reader) emptyDrawer(item string) (store.Place, string, error) {
	places, err := s.Shop.Places()
	if err != nil {
		return store.Place{}, "", err
	}
	var best store.Place
	var why string
	bestAway := -1
	for _, cabinet := range places {
		if cabinet.Kind != store.Cabinet || cabinet.Retired {
			continue
		}
		drawers, err := s.drawersOf(cabinet.ID)
		if err != nil {
			return store.Place{}, "", err
		}
		for _, d := range drawers {
			if d.item != "" || d.place.Row == 0 {
				continue
			}
			if away, like := distance(s.Catalog(), drawers, d.place, item); away > bestAway {
				best, bestAway, why = d.place, away, emptyWhy(away, like)
			}
		}
	}
	return best, why, nil
}

type drawerOf struct {
	place store.Place
	item  string
}

func (s *Reader) drawersOf(cabinet string) ([]drawerOf, error) {
	children, err := s.Shop.Children(cabinet)
	if err != nil {
		return nil, err
	}
	drawers := make([]drawerOf, 0, len(children))
	for _, c := range children {
		contents, err := s.Shop.Contents(c.ID)
		if err != nil {
			return nil, err
		}
		d := drawerOf{place: c}
		if len(contents) > 0 {
			d.item = contents[0].Item
		}
		drawers = append(drawers, d)
	}
	return drawers, nil
}

// farEnough is the distance in drawers beyond which a look-alike does not matter:
// then the first drawer in reading order is as good as any other.
const farEnough = 2

// distance is how many drawers away the nearest look-alike of item is from a
// drawer, at most farEnough, and which it is.
func distance(catalog *hardware.Catalog, drawers []drawerOf, from store.Place, item string) (away int, like string) {
	away = farEnough
	for _, d := range drawers {
		if d.item == "" {
			continue
		}
		if _, alike := catalog.Alike(item, d.item); !alike {
			continue
		}
		if n := steps(d.place, from); like == "" || n < away {
			away, like = min(away, n), d.item
		}
	}
	return away, like
}

func emptyWhy(away int, like string) string {
	switch {
	case like == "":
		return "empty, and no look-alike is in this cabinet"
	case away >= farEnough:
		return "empty, and not beside " + like + ", which looks the same"
	}
	return "empty, but beside " + like + ", which looks the same: no better drawer is free"
}

// withGroup is the shelf where the last parts of a packing list group were stowed,
// or else the first shelf or rack that there is.
func (s *Reader) withGroup(group string) (store.Place, string, error) {
	place, found, err := s.lastOfGroup(group)
	if err != nil {
		return store.Place{}, "", err
	}
	if found {
		return place, "other parts of " + group + " are there", nil
	}
	places, err := s.Shop.Places()
	if err != nil {
		return store.Place{}, "", err
	}
	slices.SortFunc(places, func(a, b store.Place) int { return store.CompareNames(a.Name, b.Name) })
	for _, kind := range []store.PlaceKind{store.Shelf, store.Rack, store.Bin, store.Tub} {
		for _, p := range places {
			if p.Kind == kind && !p.Retired {
				return p, "the first " + string(kind) + " of the shop", nil
			}
		}
	}
	return store.Place{}, "", nil
}

func (s *Reader) lastOfGroup(group string) (store.Place, bool, error) {
	ships, err := s.Shop.Shipments()
	if err != nil || group == "" {
		return store.Place{}, false, err
	}
	for _, ship := range ships {
		lines, err := s.Shop.Lines(ship.ID)
		if err != nil {
			return store.Place{}, false, err
		}
		for i := len(lines) - 1; i >= 0; i-- {
			if lines[i].Group != group {
				continue
			}
			place, why, err := s.withOwnKind(lines[i].Designation)
			if err != nil || why != "" {
				return place, why != "", err
			}
		}
	}
	return store.Place{}, false, nil
}
