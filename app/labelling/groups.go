package labelling

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"stowright/app/session"
	"stowright/store"
)

// groups lists what can have labels: each cabinet, rack or shelf with the places in it,
// the furniture itself, the crates, the bags and the sub-assemblies. The group of about is
// selected; a place within a group becomes a group of its own, before the others. With made, the
// tags of the labels that were made, there is a group of what has none; nil is for where that is
// not known.
func groups(s *session.Reader, about string, made []string) ([]Group, error) {
	all, err := s.Shop.Places()
	if err != nil {
		return nil, err
	}
	all = slices.DeleteFunc(all, func(p store.Place) bool { return p.Retired })
	var list []Group
	for _, p := range all {
		if p.Kind == store.Room || !p.Kind.Storage() {
			continue
		}
		children, err := s.Shop.Children(p.ID)
		if err != nil {
			return nil, err
		}
		if len(children) > 0 {
			list = append(list, Group{ID: p.ID, Name: p.Name, Note: named(children), kind: p.Kind, places: children})
		}
	}
	// Drawers need labels most.
	slices.SortStableFunc(list, func(a, b Group) int { return cmp.Or(cmp.Compare(rank(a), rank(b)), store.CompareNames(a.Name, b.Name)) })
	list = append(list, byKind(all)...)
	if made != nil {
		if none, some := without(all, made); some {
			list = append(list, none)
		}
	}
	return pick(list, all, about), nil
}

// rank sorts cabinets before other furniture.
func rank(g Group) int {
	if g.kind == store.Cabinet {
		return 0
	}
	return 1
}

// named is "A-01 to A-40, 40 labels".
func named(places []store.Place) string {
	if len(places) == 1 {
		return places[0].Name + ", 1 label"
	}
	return fmt.Sprintf("%s to %s, %d labels", places[0].Name, places[len(places)-1].Name, len(places))
}

// byKind groups the furniture, the crates and the sub-assemblies of a shop.
func byKind(all []store.Place) []Group {
	kinds := []struct {
		id, name string
		is       func(store.PlaceKind) bool
	}{
		{furnitureID, "Furniture", func(k store.PlaceKind) bool { return k == store.Cabinet || k == store.Rack || k == store.Room }},
		{"crates", "Crates", func(k store.PlaceKind) bool { return k == store.Crate }},
		{"bags", "Bags", func(k store.PlaceKind) bool { return k == store.Bag }},
		{"sub-assemblies", "Sub-assemblies", func(k store.PlaceKind) bool { return k == store.SubAssemblyKind }},
	}
	var list []Group
	for _, kind := range kinds {
		var places []store.Place
		for _, p := range all {
			if kind.is(p.Kind) {
				places = append(places, p)
			}
		}
		slices.SortStableFunc(places, func(a, b store.Place) int { return store.CompareNames(a.Name, b.Name) })
		if len(places) > 0 {
			note := named(places)
			if kind.id == furnitureID {
				note = short(places)
			}
			list = append(list, Group{ID: kind.id, Name: kind.name, Note: note, places: places})
		}
	}
	return list
}

// furnitureID is the id of the group of furniture, which is not numbered: its note lists
// names instead of the first and the last number.
const furnitureID = "furniture"

// shortNames is how many names a note lists.
const shortNames = 1

// short is "Cabinet A and 3 more".
func short(places []store.Place) string {
	names := make([]string, 0, shortNames)
	for _, p := range places[:min(len(places), shortNames)] {
		names = append(names, p.Name)
	}
	text := strings.Join(names, ", ")
	if more := len(places) - len(names); more > 0 {
		text += fmt.Sprintf(" and %d more", more)
	}
	return text
}

// pick selects the group of about.
func pick(list []Group, all []store.Place, about string) []Group {
	if len(list) == 0 {
		return nil
	}
	for i := range list {
		if list[i].ID == about {
			list[i].On = true
			return list
		}
	}
	for _, p := range all {
		if p.ID == about {
			one := Group{ID: p.ID, Name: p.Name, Note: "1 label", On: true, places: []store.Place{p}}
			return append([]Group{one}, list...)
		}
	}
	list[0].On = true
	return list
}
