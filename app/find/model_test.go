package find

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/app/demo"
	"stowright/app/session"
	"stowright/app/session/sessiontest"
	"stowright/app/table"
	"stowright/store"
	"stowright/store/measure"
)

// rig is a model on the demo shop, with the headings that it has shown.
type rig struct {
	*sessiontest.Bench
	m     *Model
	shown []string
	cards []string // of the same states
}

func newRig(t *testing.T, b *sessiontest.Bench) *rig {
	t.Helper()
	r := &rig{Bench: b}
	r.m = NewModel(b.Session, func(s State) {
		r.shown, r.cards = append(r.shown, s.Heading), append(r.cards, s.Card.Designation)
	})
	b.Listen(func(store.Entry) { r.m.Again() })
	return r
}

// The list with the card of its first row is one state of the shop, however long it is.
func TestOneReading(t *testing.T) {
	r := newRig(t, sessiontest.Open(t, demo.Unpacked))
	for _, query := range []string{"", "an3", "a-12", "xyz-9"} {
		r.OneReading("asking for "+query, func() { r.m.Ask(query) })
	}
	r.m.Ask("an3")
	r.Drain()
	if n := len(r.m.State().Rows); n < 10 {
		t.Errorf("an3 has %d rows: this test shows little", n)
	}
	r.OneReading("choosing a row", func() { r.m.Choose(1) })
}

func TestAsk(t *testing.T) {
	r := newRig(t, sessiontest.Open(t, demo.Unpacked))
	for _, row := range []struct {
		name, query           string
		heading, first, place string
		dim                   bool
	}{
		{"three characters", "n3-5", "found", "AN3-5A", "Garage, Cabinet A, drawer A-12", false},
		{"nothing typed", "  ", "In the shop", "AN3-4A", "Garage, Cabinet A, drawer A-26", false},
		{"a place", "a-12", "found", "A-12", "Garage, Cabinet A, drawer A-12", false},
		{"none in the shop", "SEAL-B2", "found", "SEAL-B2", "", true},
		{"nothing found", "xyz-9", "Nothing answers to xyz-9", "", "", false},
	} {
		t.Run(row.name, func(t *testing.T) {
			r.m.Ask(row.query)
			before := len(r.shown)
			if r.Waiting() == 0 || len(r.shown) != before {
				t.Error("the question is answered at once, want in the background")
			}
			r.Drain()
			s := r.m.State()
			if !strings.Contains(s.Heading, row.heading) || s.Error != "" || s.Empty {
				t.Errorf("asked %q: heading %q, error %q, empty %v; want %q", row.query, s.Heading, s.Error, s.Empty, row.heading)
			}
			if row.first == "" {
				if len(s.Rows) != 0 || s.Chosen != -1 || !s.Card.Empty() {
					t.Errorf("asked %q: %d rows, row %d chosen, card of %q; want none", row.query, len(s.Rows), s.Chosen, s.Card.Designation)
				}
				return
			}
			if got := s.Rows[0]; got.Cells[0].Text != row.first || got.Dim != row.dim || s.Chosen != 0 || s.Card.Place != row.place {
				t.Errorf("asked %q: %+v, row %d chosen, card in %q; want %s in %q", row.query, got, s.Chosen, s.Card.Place, row.first, row.place)
			}
		})
	}
}

// A slow answer to what was typed first does not show over the answer to what was
// typed last.
func TestLateAnswers(t *testing.T) {
	r := newRig(t, sessiontest.Open(t, demo.Unpacked))
	r.m.Ask("an4")
	r.Step() // the work is done, its answer waits
	r.m.Ask("an3-5a")
	r.Drain()
	if d := cmp.Diff([]string{"1 found"}, r.shown); d != "" {
		t.Errorf("shown (-want +got):\n%s", d)
	}
	r.m.Ask("an3")
	r.Drain()
	r.cards = nil
	r.m.Choose(1)
	r.Step()
	r.m.Choose(2)
	r.Drain()
	s := r.m.State()
	if slices.Contains(r.cards, s.Rows[1].ID) {
		t.Errorf("the card of the row chosen before is shown late: %q", r.cards)
	}
	if s.Chosen != 2 || s.Card.Designation != s.Rows[2].ID {
		t.Errorf("row %d is chosen with the card of %q, want row 2 with %q", s.Chosen, s.Card.Designation, s.Rows[2].ID)
	}
	r.m.Choose(-1)
	r.m.Choose(len(s.Rows))
	if r.Waiting() > 0 || r.m.State().Chosen != 2 {
		t.Error("a row that is not there is chosen")
	}
}

// After a change of the shop the same row is chosen, with the new figures.
func TestAgain(t *testing.T) {
	r := newRig(t, sessiontest.Open(t, demo.Unpacked))
	r.m.Ask("an3")
	r.Drain()
	at := -1
	for i, row := range r.m.State().Rows {
		if row.ID == "AN3-6A" {
			at = i
		}
	}
	r.m.Choose(at)
	r.Drain()
	heap := r.Heap("A-38")
	if _, err := r.Shop.Count(heap.StockKey, measure.Pieces(11)); err != nil {
		t.Fatal(err)
	}
	r.Drain()
	s := r.m.State()
	if s.Card.Designation != "AN3-6A" || s.Card.Quantity != "11" || s.Rows[s.Chosen].Cells[1].Text != "11" {
		t.Errorf("after the count: card of %q with %q, row %+v; want AN3-6A with 11", s.Card.Designation, s.Card.Quantity, s.Rows[s.Chosen])
	}
	if f, ok := r.m.Chosen(); !ok || f.Item != "AN3-6A" || f.Largest() == nil {
		t.Errorf("chosen: %+v, %v", f, ok)
	}
}

// The number that was typed is chosen although none of it is here: its look-alike, which is,
// stands above it and is never taken for it.
func TestTypedNumberIsChosen(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	if _, err := b.Shop.PutItem(store.Item{Designation: "AN3-5", Title: "Bolt", Unit: measure.Each}); err != nil {
		t.Fatal(err)
	}
	r := newRig(t, b)
	r.m.Ask("an3-5")
	r.Drain()
	s := r.m.State()
	if s.Rows[0].ID != "AN3-5A" || s.Chosen < 1 || s.Rows[s.Chosen].ID != "AN3-5" || s.Card.Designation != "AN3-5" {
		t.Errorf("first %s, row %d chosen with the card of %s; want AN3-5A above AN3-5, which is chosen", s.Rows[0].ID, s.Chosen, s.Card.Designation)
	}
}

// A number that no standard has is said not to exist, with the nearest that do;
// one that is still being typed, or that is no part number, is not.
func TestNoSuchNumber(t *testing.T) {
	r := newRig(t, sessiontest.Open(t, demo.Unpacked))
	for _, row := range []struct{ query, want string }{
		{"AN3-8", "AN3-8 does not exist"},
		{"an3-8a", "the nearest are AN3-7A and AN3-10A."},
		{"an3-1", ""},
		{"an3", ""},
		{"AN3-5A", ""},
		{"AN3-5", ""},
		{"xyz-9", ""},
		{"washer", ""},
		{"", ""},
		{"MS21024-3", "MS21024 is not a series in the tables here"},
	} {
		r.m.Ask(row.query)
		r.Drain()
		if got := r.m.State().Warning; !strings.Contains(got, row.want) || (got == "") != (row.want == "") {
			t.Errorf("asked %q: warned %q, want %q", row.query, got, row.want)
		}
	}
}

func TestEmptyShop(t *testing.T) {
	r := newRig(t, sessiontest.Empty(t))
	r.m.Ask("")
	r.Drain()
	if s := r.m.State(); !s.Empty || len(s.Rows) != 0 {
		t.Errorf("an empty shop: empty %v, %d rows", s.Empty, len(s.Rows))
	}
	r.m.Ask("an3")
	r.Drain()
	if s := r.m.State(); s.Empty || s.Heading != "Nothing answers to an3" {
		t.Errorf("asked in an empty shop: empty %v, %q", s.Empty, s.Heading)
	}
}

func TestUnreadableShop(t *testing.T) {
	r := newRig(t, sessiontest.Open(t, demo.Unpacked))
	if err := r.Shop.Close(); err != nil {
		t.Fatal(err)
	}
	r.m.Ask("an3-5a")
	r.Drain()
	if s := r.m.State(); !strings.HasSuffix(s.Error, ".") || len(s.Rows) != 0 || !s.Card.Empty() {
		t.Errorf("the file is closed: %q with %d rows, want a sentence and none", s.Error, len(s.Rows))
	}
}

func TestHeadings(t *testing.T) {
	for _, row := range []struct {
		query         string
		n             int
		near, more    bool
		heading, note string
	}{
		{"", 12, false, false, "In the shop", "type a part number"},
		{"x", 0, false, false, "Nothing answers to x", "try fewer characters"},
		{"x", 1, false, false, "1 found", "best first"},
		{"x", 3, true, false, "Nothing is called x", "close to it"},
		{"x", 200, false, true, "More than 200 found", "narrow it down"},
	} {
		a := answers{found: make([]session.Found, row.n), more: row.more}
		if row.n > 0 {
			a.found[0].Near = row.near
		}
		heading, note := headings(row.query, a)
		if heading != row.heading || !strings.Contains(note, row.note) {
			t.Errorf("headings(%q, %d, near %v, more %v): %q, %q; want %q, %q", row.query, row.n, row.near, row.more, heading, note, row.heading, row.note)
		}
	}
}

// A row says how much there is and where, and why it cannot be taken.
func TestRow(t *testing.T) {
	drawer := []store.Place{{Kind: store.Room, Name: "Garage"}, {Kind: store.Cabinet, Name: "Cabinet A"}, {Kind: store.Drawer, Name: "A-12"}}
	heap := func(n int64, c store.Condition) session.Heap {
		h := session.Heap{Path: drawer}
		h.Amount, h.Condition = store.Exact(measure.Pieces(n)), c
		return h
	}
	found := func(total store.Amount, heaps ...session.Heap) session.Found {
		f := session.Found{Item: "AN3-5A", Name: "AN3-5A", Title: "Bolt"}
		f.Stock.Item.Unit, f.Stock.Total, f.Stock.Heaps = measure.Each, total, heaps
		return f
	}
	about := store.Amount{Quantity: measure.Pieces(100), Low: measure.Pieces(98), High: measure.Pieces(102)}
	toCheck := session.Away{Text: "30 listed in crate C1", State: "not checked off", Uncounted: true}
	owed, kept, fitted := session.Away{Text: "2 owed", State: "back-ordered"}, session.Away{Text: "6 kept for SA-10; 22 free"}, session.Away{Text: "4 fitted in SA-20"}
	away := func(f session.Found, away ...session.Away) session.Found {
		f.Away = away
		return f
	}
	for _, row := range []struct {
		name  string
		found session.Found
		many  string
		where table.Cell
	}{
		{"listed", away(found(store.Exact(measure.Pieces(0))), toCheck), "", table.Cell{Text: "30 listed in crate C1", Sub: "not checked off"}},
		{"owed and fitted", away(found(store.Exact(measure.Pieces(0))), owed, fitted), "0", table.Cell{Text: "2 owed", Sub: "back-ordered; 4 fitted in SA-20"}},
		{"kept, and more listed", away(found(store.Exact(measure.Pieces(28)), heap(28, store.Good)), kept, toCheck), "28", table.Cell{Text: "Cabinet A · A-12", Sub: "6 kept for SA-10; 22 free; 30 listed in crate C1, not checked off"}},
		{"counted", found(store.Exact(measure.Pieces(28)), heap(28, store.Good)), "28", table.T("Cabinet A · A-12")},
		{"estimated, in two places", found(about, heap(90, store.Good), heap(10, store.Good)), "about 100", table.Cell{Text: "Cabinet A · A-12", Sub: "and 1 more"}},
		{"set apart", found(store.Exact(measure.Pieces(0)), heap(4, store.SetApart)), "0", table.Cell{Text: "Cabinet A · A-12", Sub: "4 ea, set apart"}},
		{"none", found(store.Exact(measure.Pieces(0))), "0", table.T("none in the shop")},
	} {
		t.Run(row.name, func(t *testing.T) {
			got := rowOf(row.found)
			want := []table.Cell{table.Name("AN3-5A", "Bolt"), {Text: row.many, Sub: "ea"}, row.where}
			if row.many == "" { // nobody knows before somebody looks
				want[1] = table.T("to check")
			}
			if d := cmp.Diff(want, got.Cells); d != "" {
				t.Errorf("row (-want +got):\n%s", d)
			}
		})
	}
	why := found(store.Exact(measure.Pieces(1)))
	why.Why = "old number AN960-10"
	if got := rowOf(why).Cells[0].Sub; got != "old number AN960-10 · Bolt" {
		t.Errorf("a row found by its old number says %q", got)
	}
}

// rowOf is row, whose name the table takes.
func rowOf(f session.Found) table.Row { return row(f) }
