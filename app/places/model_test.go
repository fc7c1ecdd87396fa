package places

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/app/demo"
	"stowright/app/drawing"
	"stowright/app/session/sessiontest"
	"stowright/store"
	"stowright/store/hardware"
)

type rig struct {
	*sessiontest.Bench
	m     *Model
	shown []string // title and card of every state that was shown
}

func newRig(b *sessiontest.Bench) *rig {
	r := &rig{Bench: b}
	r.m = NewModel(b.Session, func(s State) { r.shown = append(r.shown, s.Title+": "+s.Card.Designation) })
	b.Listen(func(store.Entry) { r.m.Again() })
	return r
}

func (r *rig) open(id string) State {
	r.m.Open(id)
	r.Drain()
	return r.m.State()
}

// A cabinet with all its drawers is one state of the shop, and so is the card of one.
func TestOneReading(t *testing.T) {
	r := newRig(sessiontest.Open(t, demo.Unpacked))
	for _, name := range []string{"Garage", "Cabinet A"} {
		id := r.Place(name).ID
		r.OneReading("opening "+name, func() { r.m.Open(id) })
	}
	drawer := r.Place("A-12").ID
	r.OneReading("choosing a drawer", func() { r.m.Choose(drawer) })
}

func TestOpen(t *testing.T) {
	r := newRig(sessiontest.Open(t, demo.Unpacked))
	for _, row := range []struct {
		name, place string
		title, note string
		drawers     int // of the picture; 0 for a list
		rows        int
		chosen      string
		card        string
		grid        bool
	}{
		{"the shop", "", "The shop", "rooms", 0, 1, "", "", false},
		{"a room", "Garage", "Garage", "3 places, tag SP", 0, 3, "", "", false},
		{"a cabinet", "Cabinet A", "Garage · Cabinet A", "40 drawers, 14 empty, tag SP", 40, 40, "", "", true},
		{"a drawer", "A-12", "Garage · Cabinet A", "40 drawers", 40, 40, "A-12", "AN3-5A", true},
		{"an empty drawer", "A-02", "Garage · Cabinet A", "40 drawers", 40, 40, "A-02", "A-02", true},
		{"a rack with shelves", "Shelf", "Garage · Shelf", "6 places, 1 empty", 6, 6, "", "", false},
		{"a shelf", "S1", "Garage · Shelf", "6 places", 6, 6, "S1", "S1", false},
	} {
		t.Run(row.name, func(t *testing.T) {
			id, chosen := "", ""
			if row.place != "" {
				id = r.Place(row.place).ID
			}
			if row.chosen != "" {
				chosen = r.Place(row.chosen).ID
			}
			r.m.Open(id)
			if r.Waiting() != 1 {
				t.Errorf("%d pieces of work wait, want 1", r.Waiting())
			}
			r.Drain()
			s := r.m.State()
			drawers := 0
			if s.Cabinet != nil {
				drawers = len(s.Cabinet.Drawers)
			}
			if s.Title != row.title || !strings.HasPrefix(s.Note, row.note) || drawers != row.drawers || len(s.Rows) != row.rows || s.Grid != row.grid || s.Problem != "" {
				t.Errorf("opened %q: %q, %q, %d drawers, %d rows, grid %v, %q; want %+v", row.place, s.Title, s.Note, drawers, len(s.Rows), s.Grid, s.Problem, row)
			}
			if s.Chosen != chosen || s.Card.Designation != row.card {
				t.Errorf("opened %q: chosen %q with the card of %q, want %q with %q", row.place, s.Chosen, s.Card.Designation, row.chosen, row.card)
			}
			if lit := s.Cabinet; lit != nil && chosen != "" && (lit.Lit() < 0 || lit.Drawers[lit.Lit()].ID != chosen) {
				t.Errorf("opened %q: drawer %d is lit", row.place, lit.Lit())
			}
		})
	}
}

// A row says how many places are in a place, and how many kinds of things in all of them.
func TestRows(t *testing.T) {
	r := newRig(sessiontest.Open(t, demo.Unpacked))
	var got []string
	for _, row := range r.open(r.Place("Garage").ID).Rows {
		got = append(got, row.Cells[0].Text+": "+row.Cells[1].Text+", "+row.Cells[2].Text+", "+row.Cells[3].Text)
	}
	want := []string{"Cabinet A: cabinet, 40, 26", "R1: rack, none, 4", "Shelf: rack, 6, 24"}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("rows (-want +got):\n%s", d)
	}
}

func TestStart(t *testing.T) {
	r := newRig(sessiontest.Open(t, demo.Unpacked))
	r.m.Start()
	r.Drain()
	if got := r.m.State().Title; got != "Garage" {
		t.Errorf("a shop of one room starts in %q, want Garage", got)
	}
	if _, _, err := r.Shop.AddPlace(store.Place{Kind: store.Room, Name: "Hangar"}); err != nil {
		t.Fatal(err)
	}
	r.m.Start()
	r.Drain()
	if s := r.m.State(); s.Title != "The shop" || len(s.Rows) != 2 {
		t.Errorf("a shop of two rooms starts in %q with %d rows, want The shop with 2", s.Title, len(s.Rows))
	}
	none := newRig(sessiontest.Empty(t))
	none.m.Start()
	none.Drain()
	if !none.m.State().Empty {
		t.Error("an empty shop is not said to be empty")
	}
}

// The last place that was asked for is shown, whatever order the answers come in,
// and a change of the shop keeps the chosen drawer.
func TestLateAnswers(t *testing.T) {
	r := newRig(sessiontest.Open(t, demo.Unpacked))
	r.m.Open(r.Place("Garage").ID)
	r.Step()
	r.m.Open(r.Place("A-12").ID)
	r.m.Choose(r.Place("A-13").ID)
	r.Drain()
	if s := r.m.State(); s.Title != "Garage · Cabinet A" || s.Card.Designation != "AN3-5A" || slices.Contains(r.shown, "Garage: ") {
		t.Errorf("shown: %q", r.shown)
	}
	r.m.Choose(r.Place("A-30").ID)
	r.Step()
	r.m.Choose(r.Place("A-31").ID)
	r.Drain()
	if got := r.m.State().Card.Designation; got != "NAS1149F0332P" || slices.Contains(r.shown, "Garage · Cabinet A: NAS1149F0363P") {
		t.Errorf("the card is of %q, want NAS1149F0332P and not the one before it: %q", got, r.shown)
	}
	if _, err := r.Shop.RenamePlace(r.Place("A-31").ID, "A-77"); err != nil {
		t.Fatal(err)
	}
	r.Drain()
	if p, ok := r.m.Chosen(); !ok || p.Name != "A-77" || r.m.State().Card.Designation != "NAS1149F0332P" {
		t.Errorf("after the renaming %q is chosen with the card of %q", p.Name, r.m.State().Card.Designation)
	}
	if got := r.open("no such place"); !strings.HasSuffix(got.Problem, ".") {
		t.Errorf("a place that is not there: %q, want a sentence", got.Problem)
	}
}

func TestSubject(t *testing.T) {
	r := newRig(sessiontest.Open(t, demo.Unpacked))
	if _, ok := r.m.Subject(); ok {
		t.Error("the whole shop is the subject of an action")
	}
	r.open(r.Place("Cabinet A").ID)
	if p, ok := r.m.Subject(); !ok || p.Name != "Cabinet A" {
		t.Errorf("the subject is %q, want Cabinet A", p.Name)
	}
	r.open(r.Place("A-12").ID)
	if p, ok := r.m.Subject(); !ok || p.Name != "A-12" || r.m.State().Heap == nil {
		t.Errorf("the subject is %q, want A-12 with its heap", p.Name)
	}
}

// The line under a cabinet names the look-alikes that lie closest together.
func TestFoot(t *testing.T) {
	cabinet := func(items ...string) *drawing.Cabinet {
		c := drawing.Blank("A", 1, len(items))
		for i, item := range items {
			c.Drawers[i].Designation = item
		}
		return &c
	}
	for _, row := range []struct {
		name    string
		cabinet *drawing.Cabinet
		want    string
	}{
		{"no cabinet", nil, ""},
		{"none alike", cabinet("AN3-5A", "", "MS24665-132"), ""},
		{"beside each other", cabinet("AN3-5A", "AN3-6A", "MS24665-132"), "≠ a look-alike lies within reach of this drawer. Nearest pair: AN3-5A (A-01) and AN3-6A (A-02)."},
		{"apart", cabinet("AN3-5A", "", "AN3-6A"), "No look-alikes lie beside each other. Nearest pair: AN3-5A (A-01) and AN3-6A (A-03)."},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := foot(hardware.Standard(), row.cabinet); got != row.want {
				t.Errorf("got %q, want %q", got, row.want)
			}
		})
	}
}

// change makes a Change, and what it was told last.
func change(b *sessiontest.Bench) (c *Change, words, problem *string) {
	words, problem = new(string), new(string)
	return NewChange(b.Session, func(w string, err error) {
		*words, *problem = w, ""
		if err != nil {
			*problem = err.Error()
		}
	}), words, problem
}

func TestChanges(t *testing.T) {
	for _, row := range []struct {
		name          string
		do            func(b *sessiontest.Bench, c *Change)
		words, refuse string
	}{
		{"add", func(b *sessiontest.Bench, c *Change) { c.Add(b.Place("Garage").ID, store.Rack, "R2") }, "R2", ""},
		{"add without a name", func(b *sessiontest.Bench, c *Change) { c.Add(b.Place("Garage").ID, store.Rack, "  ") }, "", "name"},
		{"cabinet", func(_ *sessiontest.Bench, c *Change) {
			c.AddCabinet("", CabinetForm{Name: "Cabinet B", Prefix: "B", Rows: "5", Columns: " 8 "})
		}, "Cabinet B", ""},
		{"cabinet of words", func(_ *sessiontest.Bench, c *Change) {
			c.AddCabinet("", CabinetForm{Name: "Cabinet B", Prefix: "B", Rows: "five", Columns: "8"})
		}, "", `rows is a whole number such as 5, not "five"`},
		{"cabinet without columns", func(_ *sessiontest.Bench, c *Change) {
			c.AddCabinet("", CabinetForm{Name: "Cabinet B", Prefix: "B", Rows: "5", Columns: ""})
		}, "", "columns"},
		{"cabinet of none", func(_ *sessiontest.Bench, c *Change) {
			c.AddCabinet("", CabinetForm{Name: "Cabinet B", Prefix: "B", Rows: "0", Columns: "8"})
		}, "", "row"},
		{"rename", func(b *sessiontest.Bench, c *Change) { c.Rename(b.Place("A-02").ID, "Odd bits") }, "Odd bits", ""},
		{"retire", func(b *sessiontest.Bench, c *Change) { c.Retire(b.Place("A-02").ID) }, "A-02", ""},
		{"retire what is full", func(b *sessiontest.Bench, c *Change) { c.Retire(b.Place("A-12").ID) }, "", "A-12"},
		{"move into itself", func(b *sessiontest.Bench, c *Change) { c.Move(b.Place("Cabinet A").ID, b.Place("A-02").ID) }, "", "Cabinet A"},
	} {
		t.Run(row.name, func(t *testing.T) {
			b := sessiontest.Open(t, demo.Unpacked)
			c, words, problem := change(b)
			journal := b.Journal()
			row.do(b, c)
			if b.Journal() != journal {
				t.Error("the shop has changed before the background work")
			}
			b.Drain()
			if !strings.Contains(*words, row.words) || !strings.Contains(*problem, row.refuse) || (row.refuse == "") != (*problem == "") {
				t.Errorf("got %q, %q; want %q, %q", *words, *problem, row.words, row.refuse)
			}
			if changed := b.Journal() != journal; changed != (row.refuse == "") {
				t.Errorf("the shop has changed: %v", changed)
			}
		})
	}
}

// Until the shop has answered, the same change is not asked for again.
func TestSecondEnter(t *testing.T) {
	b := sessiontest.Open(t, demo.Furnished)
	c, words, problem := change(b)
	c.Add("", store.Room, "Hangar")
	c.Add("", store.Room, "Hangar")
	b.Drain()
	if *words == "" || *problem != "" {
		t.Errorf("two Enters: %q, %q; want one room", *words, *problem)
	}
	b.Place("Hangar")
	c.Add("", store.Room, "Barn")
	b.Drain()
	b.Place("Barn")
}

func TestNextCabinet(t *testing.T) {
	b := sessiontest.Open(t, demo.Furnished)
	form, err := NextCabinet(b.Session, store.Place{})
	form.Stands = nil // tested on its own
	if d := cmp.Diff(CabinetForm{Name: "Cabinet B", Prefix: "B", Rows: "5", Columns: "8"}, form); d != "" || err != nil {
		t.Errorf("beside Cabinet A (-want +got), %v:\n%s", err, d)
	}
	add := func(kind store.PlaceKind, letter rune) store.Place {
		place, _, err := b.Shop.AddPlace(store.Place{Kind: kind, Name: "cabinet " + string(letter)})
		if err != nil {
			t.Fatal(err)
		}
		return place
	}
	next := func(want string) {
		t.Helper()
		if form, err := NextCabinet(b.Session, store.Place{}); err != nil || form.Name != want {
			t.Errorf("the next is %q, %v; want %q", form.Name, err, want)
		}
	}
	rack := add(store.Rack, 'B') // no cabinet: the letter is free, and its name is refused where it is made
	next("Cabinet B")
	if _, err := b.Shop.RetirePlace(rack.ID); err != nil {
		t.Fatal(err)
	}
	second := add(store.Cabinet, 'B')
	next("Cabinet C")
	if _, err := b.Shop.RetirePlace(second.ID); err != nil {
		t.Fatal(err)
	}
	next("Cabinet B")
	for letter := 'B'; letter < 'Z'; letter++ {
		add(store.Cabinet, letter)
	}
	next("Cabinet Z")
	add(store.Cabinet, 'Z')
	if form, err := NextCabinet(b.Session, store.Place{}); err != nil || form.Name != "" || form.Rows != "5" {
		t.Errorf("with every letter taken: %+v, %v; want no name", form, err)
	}
}

// A new cabinet stands in the place that is open. With none open it must be said, unless there
// is only one room.
func TestWhereACabinetStands(t *testing.T) {
	b := sessiontest.Empty(t)
	in := func(open store.Place) string {
		t.Helper()
		form, err := NextCabinet(b.Session, open)
		if err != nil {
			t.Fatal(err)
		}
		if form.In < 0 {
			return "to be said"
		}
		return form.Stands[form.In].Name
	}
	room := func(name string) store.Place {
		t.Helper()
		p, _, err := b.Shop.AddPlace(store.Place{Kind: store.Room, Name: name})
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	got := []string{in(store.Place{})}
	garage := room("Garage")
	got = append(got, in(store.Place{}), in(garage))
	hangar := room("Hangar")
	got = append(got, in(store.Place{}), in(hangar))
	want := []string{"No room", "Garage", "Garage", "to be said", "Hangar"}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("where it stands (-want +got):\n%s", d)
	}
}

// A place goes into storage that it does not hold and where it is not yet: rooms
// first, in the order of their names.
func TestDestinations(t *testing.T) {
	b := sessiontest.Open(t, demo.Furnished)
	for _, name := range []string{"Hangar 10", "Hangar 2"} {
		if _, _, err := b.Shop.AddPlace(store.Place{Kind: store.Room, Name: name}); err != nil {
			t.Fatal(err)
		}
	}
	for _, row := range []struct{ moved, want string }{
		{"Cabinet A", "Hangar 2|Hangar 10|Garage, R1|Garage, Shelf|Garage, Shelf, S1|Garage, Shelf, S2|Garage, Shelf, S3|Garage, Shelf, S4|Garage, Shelf, S5|Garage, Shelf, S6|beside the rooms of the shop"},
		{"Shelf", "Hangar 2|Hangar 10|Garage, Cabinet A|Garage, R1|beside the rooms of the shop"},
		{"Garage", "Hangar 2|Hangar 10"},
	} {
		t.Run(row.moved, func(t *testing.T) {
			list, err := Destinations(b.Session, b.Place(row.moved))
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, d := range list {
				got = append(got, d.Path)
			}
			if d := cmp.Diff(strings.Split(row.want, "|"), got); d != "" {
				t.Errorf("destinations of %s (-want +got):\n%s", row.moved, d)
			}
		})
	}
}

// A new place is most likely what its surroundings hold, and each kind has a name
// to go by.
func TestLikelyKinds(t *testing.T) {
	for _, row := range []struct{ parent, want store.PlaceKind }{
		{"", store.Room}, {store.Room, store.Rack}, {store.Rack, store.Shelf}, {store.Shelf, store.Bin}, {store.Cabinet, store.Drawer}, {store.Drawer, store.Bin},
	} {
		if got := Kinds()[FirstKind(row.parent)]; got != row.want {
			t.Errorf("in a %q: %q, want %q", row.parent, got, row.want)
		}
	}
	for _, k := range Kinds() {
		if Example(k) == "" {
			t.Errorf("no example of a name for a %s", k)
		}
	}
}

// BenchmarkOpen is what a person waits for on the way into a room.
func BenchmarkOpen(b *testing.B) {
	r := newRig(sessiontest.Open(b, demo.Unpacked))
	id := r.Place("Garage").ID
	for b.Loop() {
		r.open(id)
	}
}
