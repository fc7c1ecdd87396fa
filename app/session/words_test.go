package session

import (
	"testing"

	"stowright/store"
	"stowright/store/hardware"
)

// A path is said whole on a card, with the kind of the place where its name does not say
// it, and without its room where there is little space.
func TestPathsInWords(t *testing.T) {
	place := func(kind store.PlaceKind, name string) store.Place { return store.Place{Kind: kind, Name: name} }
	room, cabinet, drawer := place(store.Room, "Garage"), place(store.Cabinet, "Cabinet A"), place(store.Drawer, "A-12")
	for _, row := range []struct {
		name         string
		path         []store.Place
		whole, short string
	}{
		{"nowhere", nil, "", ""},
		{"a room", []store.Place{room}, "Garage", "Garage"},
		{"a room in a room", []store.Place{room, place(store.Room, "Loft")}, "Garage" + store.PathSeparator + "Loft", "Loft"},
		{"a cabinet that says so", []store.Place{room, cabinet}, "Garage" + store.PathSeparator + "Cabinet A", "Cabinet A"},
		{"a drawer", []store.Place{room, cabinet, drawer}, "Garage" + store.PathSeparator + "Cabinet A" + store.PathSeparator + "drawer A-12", "Cabinet A · A-12"},
		{"named in capitals", []store.Place{room, place(store.Cabinet, "CABINET B")}, "Garage" + store.PathSeparator + "CABINET B", "CABINET B"},
	} {
		if got := PlaceWords(row.path); got != row.whole {
			t.Errorf("%s: %q, want %q", row.name, got, row.whole)
		}
		if got := ShortPath(row.path); got != row.short {
			t.Errorf("%s, short: %q, want %q", row.name, got, row.short)
		}
	}
}

// While the index is built its progress is said, and nothing once it is there.
func TestIndexWords(t *testing.T) {
	for _, row := range []struct {
		done, total int
		running     bool
		want        string
	}{
		{0, 0, false, ""},
		{10, 10, false, ""},
		{0, 0, true, "getting Find ready"},
		{0, 10, true, "getting Find ready, 0 %"},
		{9, 10, true, "getting Find ready, 90 %"},
		{10, 10, true, "getting Find ready, 100 %"},
	} {
		if got := IndexWords(row.done, row.total, row.running); got != row.want {
			t.Errorf("%d of %d, running %v: %q, want %q", row.done, row.total, row.running, got, row.want)
		}
	}
}

// An item is said by the tables where they know it, and else as its list does.
func TestTitles(t *testing.T) {
	c := hardware.Standard()
	item := store.Item{Title: "as the list says"}
	bolt := c.Decode("AN3-5A")
	if got := Title(item, bolt); got != Marked(bolt.Short, bolt) || got == item.Title {
		t.Errorf("a bolt of the tables: %q", got)
	}
	for _, designation := range []string{"OQ-10-001", "AN3-8A"} {
		if got := Title(item, c.Decode(designation)); got != item.Title {
			t.Errorf("%s, which no table has: %q, want %q", designation, got, item.Title)
		}
	}
	if got := Marked("", bolt); got != "" {
		t.Errorf("no title: %q, want no mark alone", got)
	}
}

// A place says how much is in it, by kinds where something is, else by its places.
func TestPlaceTitles(t *testing.T) {
	for _, row := range []struct {
		kind          store.PlaceKind
		places, kinds int
		want          string
	}{
		{store.Drawer, 0, 0, "Drawer, empty"},
		{store.Drawer, 0, 1, "Drawer, 1 kind of thing"},
		{store.Drawer, 0, 2, "Drawer, 2 kinds of things"},
		{store.Cabinet, 42, 0, "Cabinet with 42 drawers"},
		{store.Cabinet, 1, 0, "Cabinet with 1 drawer"},
		{store.Shelf, 2, 0, "Shelf with 2 places"},
		{store.Shelf, 2, 3, "Shelf, 3 kinds of things"},
	} {
		if got := placeTitle(store.Place{Kind: row.kind}, row.places, row.kinds); got != row.want {
			t.Errorf("%s, %d places, %d kinds: %q, want %q", row.kind, row.places, row.kinds, got, row.want)
		}
	}
}
