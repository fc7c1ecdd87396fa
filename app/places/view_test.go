package places

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"stowright/app/apptest"
	"stowright/app/demo"
	"stowright/app/drawing"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/session/sessiontest"
	"stowright/store"
)

// bench is the page on a shop.
type bench struct {
	*sessiontest.Bench
	t *testing.T
	h *apptest.Window
	p *Page
}

func newBench(t *testing.T, b *sessiontest.Bench, about string) *bench {
	t.Helper()
	v := &bench{Bench: b, t: t, h: apptest.NewWindow(t)}
	v.p = New(b.Session, v.h, routes.Route{Screen: routes.Places, About: about})
	v.Drain()
	return v
}

// press presses the button of the page with a key.
func (v *bench) press(key string) {
	v.t.Helper()
	if !look.PressKey(v.p.Object(), key) {
		v.t.Errorf("no button has the key %q", key)
	}
	v.Drain()
}

// answer types into the field of the question that is open, and presses a key in it.
func (v *bench) answer(text, key string) {
	v.t.Helper()
	entry, ok := v.h.First.(*look.Entry)
	if !ok {
		v.t.Fatalf("no field: %T has the focus", v.h.First)
	}
	entry.SetText(text)
	v.h.Dialog.Key(key)
	v.Drain()
}

// keys are those of some keys that a button has.
func (v *bench) keys() string {
	var found []string
	for _, key := range strings.Fields("U N K A") {
		if look.HasKey(v.p.Object(), key) {
			found = append(found, key)
		}
	}
	return strings.Join(found, " ")
}

// actions are the ids of the card's actions.
func (v *bench) actions() string {
	var ids []string
	for _, a := range v.h.Card.Actions {
		ids = append(ids, a.ID)
	}
	return strings.Join(ids, ", ")
}

// What each kind of place shows and offers.
func TestPage(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	for _, row := range []struct {
		name, about string
		keys        string
		picture     bool
	}{
		{"the one room", "", "U N K A", false},
		{"the whole shop", wholeShop, "N K A", false},
		{"a cabinet", b.Place("Cabinet A").ID, "U A", true},
		{"shelves", b.Place("Shelf").ID, "U N K A", true},
	} {
		t.Run(row.name, func(t *testing.T) {
			v := newBench(t, b, row.about)
			if got := v.keys(); got != row.keys {
				t.Errorf("the keys are %q, want %q", got, row.keys)
			}
			if v.p.fronts.Hidden == row.picture || v.p.list.Hidden != row.picture || !v.p.empty.Hidden || !v.p.problem.Hidden {
				t.Errorf("hidden: picture %v, list %v, hint %v, problem %v", v.p.fronts.Hidden, v.p.list.Hidden, v.p.empty.Hidden, v.p.problem.Hidden)
			}
			want := fyne.Focusable(v.p.list)
			if row.picture {
				want = v.p.picture
			}
			if v.p.Results() != want || v.p.Title() != "Places" || !v.p.GivesWay() {
				t.Errorf("the down arrow leads to %T", v.p.Results())
			}
		})
	}
}

// Places lead up, into one another, and to their labels.
func TestPageLeads(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	garage, cabinet := b.Place("Garage").ID, b.Place("Cabinet A").ID
	v := newBench(t, b, cabinet)
	for _, row := range []struct {
		name string
		do   func()
		want routes.Route
	}{
		{"up from the cabinet", func() { v.press("U") }, routes.Route{Screen: routes.Places, About: garage}},
		{"labels of the cabinet", func() { v.press("A") }, routes.Route{Screen: routes.Labels, About: cabinet}},
		{"into a drawer", func() { v.p.picture.OnOpened(0, drawing.Drawer{ID: "x"}) }, routes.Route{Screen: routes.Places, About: "x"}},
		{"into a gap of the picture", func() { v.p.picture.OnOpened(0, drawing.Drawer{}) }, routes.Route{}},
	} {
		v.h.Route = routes.Route{}
		if row.do(); v.h.Route != row.want {
			t.Errorf("%s leads to %+v, want %+v", row.name, v.h.Route, row.want)
		}
	}
	v = newBench(t, b, garage)
	if v.press("U"); v.h.Route.About != wholeShop {
		t.Errorf("up from a room leads to %+v", v.h.Route)
	}
	v = newBench(t, b, wholeShop)
	if v.press("A"); v.h.Route != (routes.Route{Screen: routes.Labels}) {
		t.Errorf("labels of the whole shop lead to %+v", v.h.Route)
	}
	v.p.up() // from the top there is nothing above
	if v.h.Route.Screen != routes.Labels {
		t.Errorf("up from the top leads to %+v", v.h.Route)
	}
}

// The card of a place has what can be done with it, and with what lies in it.
func TestPageCard(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	v := newBench(t, b, b.Place("Cabinet A").ID)
	if !v.h.Card.Empty() {
		t.Errorf("with nothing chosen there is the card of %q", v.h.Card.Designation)
	}
	choose := func(name string) {
		v.p.picture.OnChosen(0, drawing.Drawer{ID: b.Place(name).ID})
		v.Drain()
	}
	choose("A-02")
	if got := v.actions(); got != "put, label, rename, retire" {
		t.Errorf("an empty drawer has %q", got)
	}
	v.h.Act("label")
	if v.h.Route != (routes.Route{Screen: routes.Labels, About: b.Place("A-02").ID}) {
		t.Errorf("its label leads to %+v", v.h.Route)
	}
	choose("A-12")
	if got := v.actions(); !strings.Contains(got, "count") || strings.Contains(got, "retire") {
		t.Errorf("a drawer with bolts has %q", got)
	}
	v.p.picture.OnChosen(0, drawing.Drawer{})
	v.Drain()
	if v.h.Card.Designation != "AN3-5A" {
		t.Errorf("a gap of the picture was chosen: card of %q", v.h.Card.Designation)
	}
	v = newBench(t, b, b.Place("Garage").ID)
	v.p.list.Choose(0)
	v.Drain()
	if got := v.actions(); got != "open, move place, label, rename, retire" {
		t.Errorf("a cabinet in a room has %q", got)
	}
	row, _ := v.p.list.Chosen()
	if v.h.Act("open"); v.h.Route.About != row.ID {
		t.Errorf("looking into it leads to %+v", v.h.Route)
	}
}

// A place is made in a question, which says what is wrong and stays open until it is right.
func TestPageMakesPlaces(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	v := newBench(t, b, b.Place("Garage").ID)
	journal := b.Journal()
	v.press("N")
	v.answer("Shelf", "Enter") // there is one
	if b.Journal() != journal || !v.h.Asking() {
		t.Errorf("a name that is taken: %d entries more, asking %v", b.Journal()-journal, v.h.Asking())
	}
	v.answer("Rack 9", "Enter")
	if b.Place("Rack 9").Kind != store.Rack || v.h.Asking() || v.h.Said.Text == "" {
		t.Errorf("a rack in a room: %+v, asking %v, said %+v", b.Place("Rack 9"), v.h.Asking(), v.h.Said)
	}
	journal = b.Journal()
	v.press("N")
	v.answer("Rack 10", "Esc")
	if b.Journal() != journal || v.h.Asking() {
		t.Error("a question that was left has made something")
	}
	v.press("K")
	v.answer("Cabinet B", "Enter")
	cabinet := b.Place("Cabinet B")
	if cabinet.Rows != 5 || cabinet.Columns != 8 || b.Place("B-40").Parent != cabinet.ID {
		t.Errorf("the cabinet is %+v", cabinet)
	}
}

// A place is renamed, moved and taken out of use by its card.
func TestPageChangesPlaces(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	if _, _, err := b.Shop.AddPlace(store.Place{Name: "Barn", Kind: store.Room}); err != nil {
		t.Fatal(err)
	}
	if _, _, err := b.Shop.AddPlace(store.Place{Name: "Rack 9", Kind: store.Rack, Parent: b.Place("Garage").ID}); err != nil {
		t.Fatal(err)
	}
	v := newBench(t, b, b.Place("Garage").ID)
	choose := func(name string) {
		t.Helper()
		v.p.Changed()
		v.Drain()
		for i, row := range v.p.model.State().Rows {
			if row.ID == b.Place(name).ID {
				v.p.list.Choose(i)
			}
		}
		v.Drain()
	}
	choose("Rack 9")
	v.h.Act("rename")
	v.answer("Rack 10", "Enter")
	rack := b.Place("Rack 10")

	choose("Rack 10")
	v.h.Act("move place")
	v.Drain()
	list := v.h.First.(*look.RowList)
	if row, ok := list.Chosen(); !ok || row.ID != b.Place("Barn").ID {
		t.Errorf("the first place to move it to is %+v", row)
	}
	v.h.Dialog.Key("Enter")
	v.Drain()
	if got := b.Place("Rack 10").Parent; got != b.Place("Barn").ID {
		t.Errorf("it lies in %q", got)
	}
	v.p.Changed()
	v.Drain()
	if got := v.actions(); got != "open" { // it is chosen still, and not here any more
		t.Errorf("a place that has gone away has %q", got)
	}

	v = newBench(t, b, b.Place("Barn").ID)
	choose("Rack 10")
	v.h.Act("retire")
	v.h.Dialog.Key("Esc")
	v.Drain()
	if p, err := b.Shop.Place(rack.ID); err != nil || p.Retired {
		t.Errorf("a question that was left: retired %v, %v", p.Retired, err)
	}
	v.h.Act("retire")
	v.h.Dialog.Key("Enter")
	v.Drain()
	if p, err := b.Shop.Place(rack.ID); err != nil || !p.Retired {
		t.Errorf("taken out of use: retired %v, %v", p.Retired, err)
	}
}

// A place that is not empty is not taken out of use, and the question says why.
func TestPageRefusesToRetire(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	v := newBench(t, b, b.Place("Garage").ID)
	v.p.list.Choose(0)
	v.Drain()
	v.h.Act("retire")
	v.h.Dialog.Key("Enter")
	v.Drain()
	row, _ := v.p.list.Chosen()
	if p, err := b.Shop.Place(row.ID); err != nil || p.Retired || !v.h.Asking() {
		t.Errorf("%s: retired %v, %v; asking %v", p.Name, p.Retired, err, v.h.Asking())
	}
}

// A place that cannot be moved anywhere says what to do first.
func TestPageNowhereToMove(t *testing.T) {
	b := sessiontest.Empty(t)
	if _, _, err := b.Shop.AddPlace(store.Place{Name: "Rack 1", Kind: store.Rack}); err != nil {
		t.Fatal(err)
	}
	v := newBench(t, b, wholeShop)
	v.p.list.Choose(0)
	v.Drain()
	v.h.Act("move place")
	v.Drain()
	if v.h.Asking() || v.h.Said.Tone != notice.Warn || !strings.Contains(v.h.Said.Text, "make the room") {
		t.Errorf("asking %v, said %+v", v.h.Asking(), v.h.Said)
	}
}

// An empty shop offers to make its first place.
func TestPageEmpty(t *testing.T) {
	b := sessiontest.Empty(t)
	v := newBench(t, b, "")
	if v.p.empty.Hidden || v.keys() != "N K" {
		t.Fatalf("hint hidden %v, keys %q", v.p.empty.Hidden, v.keys())
	}
	v.press("N")
	v.answer("Garage", "Enter")
	v.p.Changed()
	v.Drain()
	if b.Place("Garage").Kind != store.Room || !v.p.empty.Hidden {
		t.Errorf("the first place is a %s; hint hidden %v", b.Place("Garage").Kind, v.p.empty.Hidden)
	}
}

// Furniture with a single place in it is shown as it looks, and without any as a list.
func TestPageOfOnePlace(t *testing.T) {
	b := sessiontest.Empty(t)
	rack, _, err := b.Shop.AddPlace(store.Place{Name: "Rack 1", Kind: store.Rack})
	if err != nil {
		t.Fatal(err)
	}
	if v := newBench(t, b, rack.ID); v.p.model.State().Cabinet != nil || v.p.list.Hidden {
		t.Error("a rack without shelves is shown as a picture")
	}
	if _, _, err := b.Shop.AddPlace(store.Place{Name: "S1", Kind: store.Shelf, Parent: rack.ID}); err != nil {
		t.Fatal(err)
	}
	if v := newBench(t, b, rack.ID); v.p.model.State().Cabinet == nil || v.p.fronts.Hidden {
		t.Error("a rack with one shelf is not shown as it looks")
	}
}
