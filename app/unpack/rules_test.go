package unpack

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"stowright/app/notice"
	"stowright/store"
	"stowright/store/hardware"
	"stowright/store/measure"
)

func came(designation string, n int64, revision bool) *store.Came {
	return &store.Came{Designation: designation, Quantity: measure.Pieces(n), Revision: revision}
}

// small is a delivery of two crates, of which C1 has come: a bag of two lines, one loose
// line, and a line of C2 that is back-ordered.
func small() delivery {
	d := delivery{
		catalog: hardware.Standard(), titles: map[string]string{}, bags: map[bagged]store.Amount{}, apart: map[bagged]bool{},
		photos: map[store.LineID][]store.Photo{}, crates: map[string][]store.Photo{},
		ship: store.Shipment{
			ID: "s", Order: "OK-1", File: "list.csv",
			Crates:     []store.CrateRef{{Name: "C1", Place: "p1"}, {Name: "C2", Place: "p2"}},
			Deliveries: []store.Delivery{{Crates: []string{"C1"}, Arrived: store.Date{Year: 2026, Month: 3, Day: 14}}},
		},
		lines: []store.Line{
			{ID: 1, Crate: "C1", Group: "B1", Place: "b1", Designation: "AN3-4A", Listed: measure.Pieces(12)},
			{ID: 2, Crate: "C1", Group: "B1", Place: "b1", Designation: "AN3-5A", Listed: measure.Pieces(24)},
			{ID: 3, Crate: "C1", Place: "p1", Designation: "OQ-1", Title: "Skin", Listed: measure.Pieces(1)},
			{ID: 4, Crate: "C2", Place: "p2", Designation: "OQ-2", Title: "Rib", Listed: measure.Pieces(8)},
			{ID: 5, Crate: "C2", Place: "p2", Designation: "OQ-3", Title: "Rib", Listed: measure.Pieces(8), Status: store.BackOrdered},
		},
	}
	d.workOut()
	return d
}

// with puts a finding to a line.
func (d delivery) with(number int, f store.Finding) delivery {
	d.lines = slices.Clone(d.lines)
	for i := range d.lines {
		if d.lines[i].Number() == number {
			d.lines[i].Finding = &f
		}
	}
	d.workOut()
	return d
}

// The key that is filled says what was found, the worst first.
func TestChosenKey(t *testing.T) {
	l := store.Line{Listed: measure.Pieces(12)}
	weighing := &measure.Weighing{}
	for _, row := range []struct {
		name string
		f    store.Finding
		want string
	}{
		{"all", store.Finding{Found: measure.Pieces(12)}, "A"},
		{"some", store.Finding{Found: measure.Pieces(11)}, "S"},
		{"more", store.Finding{Found: measure.Pieces(13)}, "S"},
		{"none", store.Finding{Found: measure.Pieces(0)}, "N"},
		{"damaged of all", store.Finding{Found: measure.Pieces(12), Damaged: measure.Pieces(1)}, "D"},
		{"wrong", store.Finding{Found: measure.Pieces(0), Came: came("AN3-5A", 12, false)}, "W"},
		{"wrong and damaged", store.Finding{Found: measure.Pieces(2), Damaged: measure.Pieces(1), Came: came("AN3-5A", 10, false)}, "W"},
		{"weighed, which no key says", store.Finding{Found: measure.Pieces(12), Weighing: weighing}, ""},
	} {
		if got := chosenKey(row.f, l); got != row.want {
			t.Errorf("%s: key %q, want %q", row.name, got, row.want)
		}
	}
}

// The line in hand fills the key of what was counted, and no key is of use for a line
// whose crate has not come.
func TestKeysOfTheLineInHand(t *testing.T) {
	d := small()
	for _, row := range []struct {
		name          string
		d             delivery
		number        int
		primary       string
		off           bool
		counted, seen string
	}{
		{"to check", d, 1, "A", false, "○", "○"},
		{"counted", d.with(1, store.Finding{Found: measure.Pieces(12), Counted: true}), 1, "A", false, "✓", "○"},
		{"some", d.with(1, store.Finding{Found: measure.Pieces(7), Counted: true, Looked: true}), 1, "S", false, "✓", "✓"},
		{"given some of another bag", d.with(1, store.Finding{Found: measure.Pieces(7)}), 1, "", false, "○", "○"},
		{"not come", d, 4, "", true, "○", "○"},
		{"back-ordered: can come by itself", d, 5, "", false, "○", "○"},
	} {
		t.Run(row.name, func(t *testing.T) {
			c := row.d.currentLine(*row.d.line(store.LineID(row.number)), false)
			primary := ""
			for _, a := range c.Actions {
				if a.Primary {
					primary += a.ID
				}
				if a.Off != row.off || a.Key != a.ID {
					t.Errorf("%s: off %v, key %q", a.ID, a.Off, a.Key)
				}
				if want := "Some: 7"; a.ID == "S" && row.primary == "S" && a.Label != want {
					t.Errorf("the key says %q, want %q", a.Label, want)
				}
			}
			if primary != row.primary {
				t.Errorf("filled: %q, want %q", primary, row.primary)
			}
			counted, seen, _ := strings.Cut(c.Ticks, " · ")
			if !strings.HasPrefix(counted, row.counted) || !strings.HasPrefix(seen, row.seen) {
				t.Errorf("ticks: %q, want %s and %s", c.Ticks, row.counted, row.seen)
			}
		})
	}
	rare := map[string]bool{} // of line 1: whether it is off
	for _, a := range d.currentLine(*d.line(1), false).More {
		rare[a.ID] = a.Off
	}
	for _, key := range []string{"D", "W", "X", "L", "U", "H", "Y"} {
		if off, there := rare[key]; !there || off {
			t.Errorf("more: %s is there %v, off %v", key, there, off)
		}
	}
	if c := d.currentLine(*d.line(1), false); len(c.Actions) > 3 {
		t.Errorf("%d buttons besides that for more", len(c.Actions))
	}
	if c := d.currentLine(*d.line(1), true); !strings.Contains(c.Ticks, "✓ checked for damage") {
		t.Errorf("looked at before it is counted: %q", c.Ticks)
	}
}

// The line in hand shows its form, and warns of what looks like it in the same bag alone.
func TestAlikeInTheBag(t *testing.T) {
	d := small()
	for i := range d.lines {
		d.lines[i].Crate, d.lines[i].Group, d.lines[i].Designation = "C1", "H103", []string{"AN3-5A", "AN3-6A", "AN3-5A", "OQ-20-001"}[i%4]
	}
	d.lines[3].Group = "H104"
	d.lines[3].Designation = "AN3-4A"
	d.workOut()
	c := d.currentLine(d.lines[0], false)
	if c.Piece == nil || len(c.Beware) != 1 || c.Beware[0].Lead != "Not AN3-6A" || !strings.Contains(c.Beware[0].Text, "in the same bag: 1/8 longer in the grip") {
		t.Errorf("AN3-5A: piece %v, %+v; want its form, and AN3-6A alone", c.Piece, c.Beware)
	}
	if c := d.currentLine(d.lines[3], false); len(c.Beware) != 0 {
		t.Errorf("AN3-4A of another bag: %+v", c.Beware)
	}
}

// Only what is to be shown to the supplier, and was not yet, is to be photographed.
func TestToPhotograph(t *testing.T) {
	for _, row := range []struct {
		name   string
		f      *store.Finding
		photos int
		want   bool
	}{
		{"not checked", nil, 0, false},
		{"all here", &store.Finding{Found: measure.Pieces(12)}, 0, false},
		{"short", &store.Finding{Found: measure.Pieces(1)}, 0, false},
		{"damaged", &store.Finding{Found: measure.Pieces(12), Damaged: measure.Pieces(1)}, 0, true},
		{"wrong", &store.Finding{Came: came("X", 1, false)}, 0, true},
		{"damaged, shown", &store.Finding{Found: measure.Pieces(12), Damaged: measure.Pieces(1)}, 1, false},
	} {
		d := small()
		d.photos[1] = make([]store.Photo, row.photos)
		l := *d.line(1)
		l.Finding = row.f
		if got := d.needsPhoto(l); got != row.want {
			t.Errorf("%s: %v, want %v", row.name, got, row.want)
		}
	}
}

// What is short is looked for before it is claimed: hardware in bags with what looks
// like it first, parts inside larger ones.
func TestLookFirst(t *testing.T) {
	d := small()
	bag := func(number int, group, designation, title string) {
		d.lines = append(d.lines, store.Line{ID: store.LineID(number), Crate: "C1", Group: group, Place: group, Designation: designation, Title: title, Listed: measure.Pieces(1)})
	}
	bag(10, "B2", "AN960-10", "Washer")
	bag(11, "B3", "AN3-5A", "Bolt")
	bag(12, "B4", "AN365-1032", "Nut")
	bag(13, "B5", "AN3-4A", "Bolt")
	bag(14, "B6", "OQ-9", "Rib")
	d.workOut()
	if got := d.otherBags(*d.line(1)); !slices.Equal(got, []string{"B3", "B5", "B2"}) {
		t.Errorf("AN3-4A is looked for in %q, want the look-alike and its own number first, three at most, and no bag of parts", got)
	}
	if got := d.lookFirst(*d.line(1)); !strings.Contains(got, "B3, B5, B2") {
		t.Errorf("AN3-4A: %q", got)
	}
	for i, title := range []string{"Fuel TANK", "Wing skin", "Rib", "Junction box", "Cowl, upper"} {
		d.lines = append(d.lines, store.Line{ID: store.LineID(20 + i), Crate: "C2", Place: "p2", Designation: fmt.Sprint("OQ-2", i), Title: title, Listed: measure.Pieces(1)})
	}
	d.workOut()
	want := []string{"the fuel tank (line 20)", "the wing skin (line 21)", "the junction box (line 23)"}
	if got := d.largerParts(*d.line(4)); !slices.Equal(got, want) {
		t.Errorf("a rib is looked for inside %q, want %q", got, want)
	}
	if got := d.largerParts(*d.line(20)); slices.Contains(got, want[0]) {
		t.Errorf("the tank is looked for inside itself: %q", got)
	}
}

// What was just checked is spoken of only while another line is in hand.
func TestBefore(t *testing.T) {
	short := small().with(1, store.Finding{Found: measure.Pieces(11), Counted: true})
	damaged := small().with(1, store.Finding{Found: measure.Pieces(12), Damaged: measure.Pieces(2), Counted: true})
	for _, row := range []struct {
		name             string
		d                delivery
		checked, current int
		want             string
		tone             notice.Tone
	}{
		{"nothing checked", short, 0, 2, "", 0},
		{"the line in hand itself", short, 1, 1, "", 0},
		{"short", short, 1, 2, "AN3-4A is 1 short", notice.Stop},
		{"damaged", damaged, 1, 2, "AN3-4A goes on the claim as 2 damaged", notice.Warn},
		{"all here", small().with(1, store.Finding{Found: measure.Pieces(12), Counted: true}), 1, 2, "", 0},
	} {
		got := row.d.before(store.LineID(row.checked), store.LineID(row.current))
		switch {
		case row.want == "" && got != nil:
			t.Errorf("%s: %+v, want nothing", row.name, got)
		case row.want != "" && (got == nil || !strings.HasPrefix(got.Lead, row.want) || got.Tone != row.tone):
			t.Errorf("%s: %+v, want %q in tone %v", row.name, got, row.want, row.tone)
		}
	}
}

// The screen starts at the crate or bag that was asked for, or else at the first bag
// with a line to check.
func TestStart(t *testing.T) {
	d := small()
	done := d
	for n := 1; n <= 3; n++ {
		done = done.with(n, store.Finding{Found: done.line(store.LineID(n)).Listed, Counted: true})
	}
	for _, row := range []struct {
		name  string
		d     delivery
		about string
		want  scope
	}{
		{"of itself", d, "", scope{"C1", "B1"}},
		{"a crate", d, "p2", scope{crate: "C2"}},
		{"a bag", d, "b1", scope{"C1", "B1"}},
		{"the bag is done", d.with(1, store.Finding{Counted: true}).with(2, store.Finding{Counted: true}), "", scope{crate: "C1"}},
		{"all is done", done, "", scope{}},
		{"something else", d, "s", scope{"C1", "B1"}},
	} {
		if got := row.d.start(row.about); got != row.want {
			t.Errorf("%s: %+v, want %+v", row.name, got, row.want)
		}
	}
	for about, want := range map[string]bool{"": false, "s": true, "p1": true, "p2": true, "b1": true, "C1": false} {
		if got := d.is(about); got != want {
			t.Errorf("about %q: is this delivery %v, want %v", about, got, want)
		}
	}
	d.lines[0].Place, d.ship.Crates[0].Place = "", ""
	if d.is("") {
		t.Error("no place is taken for a place without an id")
	}
}

// The next line to check is after the one in hand, and else the first.
func TestNextOpen(t *testing.T) {
	d := small()
	for after, want := range map[store.LineID]store.LineID{0: 1, 1: 2, 2: 3, 3: 1, 9: 1} {
		if got := nextOpen(d, d.lines, after); got != want {
			t.Errorf("after %d: %d, want %d", after, got, want)
		}
	}
	d = d.with(1, store.Finding{Counted: true}).with(2, store.Finding{Found: measure.Pieces(3)})
	for after, want := range map[store.LineID]store.LineID{0: 2, 2: 3, 3: 2} {
		if got := nextOpen(d, d.lines, after); got != want {
			t.Errorf("line 1 counted, line 2 only given some: after %d: %d, want %d", after, got, want)
		}
	}
	if got := nextOpen(d, d.lines[:1], 0); got != 0 {
		t.Errorf("with nothing to check: %d", got)
	}
}

// An undo elsewhere is followed where it concerns one line, and one only.
func TestWhichLineWasChanged(t *testing.T) {
	twelve := store.Finding{Found: measure.Pieces(12), Counted: true}
	d := small()
	one := d.with(1, twelve)
	two := one.with(2, twelve)
	for _, row := range []struct {
		name          string
		before, after delivery
		want          store.LineID
	}{
		{"nothing", one, one, 0},
		{"checked", d, one, 1},
		{"taken back", one, d, 1},
		{"changed", one, one.with(1, store.Finding{Found: measure.Pieces(11), Counted: true}), 1},
		{"several", d, two, 0},
	} {
		if got := changedLine(row.before, row.after); got != row.want {
			t.Errorf("%s: line %d, want %d", row.name, got, row.want)
		}
	}
	bag := func(d delivery, an3, an5 int64) delivery {
		d.bags = map[bagged]store.Amount{{"b1", "AN3-4A"}: store.Exact(measure.Pieces(an3)), {"b1", "AN3-5A"}: store.Exact(measure.Pieces(an5))}
		return d
	}
	for _, row := range []struct {
		name          string
		before, after delivery
		want          store.LineID
	}{
		{"as before", bag(two, 12, 24), bag(two, 12, 24), 0},
		{"taken out", bag(two, 12, 24), bag(two, 0, 24), 0},
		{"put back", bag(two, 0, 24), bag(two, 12, 24), 1},
		{"both put back", bag(two, 0, 0), bag(two, 12, 24), 0},
		{"of a line that is not checked", bag(one, 12, 0), bag(one, 12, 24), 0},
	} {
		if got := putBack(row.before, row.after); got != row.want {
			t.Errorf("%s: line %d, want %d", row.name, got, row.want)
		}
	}
}

// A crate in which all lies in one bag is not listed beside that bag.
func TestScopes(t *testing.T) {
	d := small()
	want := []scope{{}, {crate: "C1"}, {"C1", "B1"}, {crate: "C2"}}
	if got := d.scopes(); !slices.Equal(got, want) {
		t.Errorf("crates and bags: %+v, want %+v", got, want)
	}
	d.lines = d.lines[:2]
	d.workOut()
	if got := d.scopes(); !slices.Equal(got, []scope{{}, {"C1", "B1"}}) {
		t.Errorf("one bag alone in its crate: %+v", got)
	}
	if d.line(4) != nil || (delivery{}).line(1) != nil || (delivery{}).within(scope{}) != nil || (delivery{}).waitingToStow() != 0 {
		t.Error("a line that is not there is found")
	}
}

// A bag says how many of its lines are checked, of those that can be.
func TestBagRows(t *testing.T) {
	d := small()
	counted := store.Finding{Found: measure.Pieces(12), Counted: true}
	for _, row := range []struct {
		name         string
		d            delivery
		scope        scope
		words, under string
		figure       string
		dim          bool
	}{
		{"all", d, scope{}, "All", "lines", "0/3", false},
		{"a crate", d, scope{crate: "C1"}, "C1", "whole crate", "0/3", false},
		{"a bag", d, scope{"C1", "B1"}, "B1", "crate C1", "0/2", false},
		{"a line checked", d.with(1, counted), scope{"C1", "B1"}, "B1", "crate C1", "1/2", false},
		{"a bag done", d.with(1, counted).with(2, counted), scope{"C1", "B1"}, "B1", "crate C1", "✓ 2/2", false},
		{"a crate to come", d, scope{crate: "C2"}, "C2", "to come", "", true},
		{"what was back-ordered came", d.with(5, counted), scope{crate: "C2"}, "C2", "to come", "✓ 1/1", true},
	} {
		got := row.d.bagRow(row.scope)
		if got.Cells[0].Text != row.words || got.Cells[0].Sub != row.under || got.Cells[1].Text != row.figure || got.Dim != row.dim {
			t.Errorf("%s: %+v, want %q, %q, %q, dim %v", row.name, got, row.words, row.under, row.figure, row.dim)
		}
	}
}

// A row says what came instead, what waits in the bag, and how many photographs show it.
func TestLineRows(t *testing.T) {
	d := small()
	d.titles["AN3-4A"] = "Bolt"
	d.photos[1] = make([]store.Photo, 2)
	d.bags[bagged{"b1", "AN3-4A"}] = store.Exact(measure.Pieces(12))
	for _, row := range []struct {
		name, want string
		f          *store.Finding
	}{
		{"to check", "Bolt · 2 photographs", nil},
		{"in its bag", "Bolt · to stow · 2 photographs", &store.Finding{Found: measure.Pieces(12), Counted: true}},
		{"given some", "Bolt · 2 photographs", &store.Finding{Found: measure.Pieces(12)}},
		{"wrong", "Bolt came: 4 AN3-5A · 2 photographs", &store.Finding{Came: came("AN3-5A", 4, false), Counted: true}},
	} {
		l := *d.line(1)
		l.Finding = row.f
		if got := d.lineRow(l).Cells[1].Sub; got != row.want {
			t.Errorf("%s: %q, want %q", row.name, got, row.want)
		}
	}
	if row := d.lineRow(store.Line{ID: 9, Crate: "C1", Designation: "X", Listed: measure.Pieces(0), Extra: true, Finding: &store.Finding{Found: measure.Pieces(4)}}); row.Cells[2].Text != "" || row.Cells[4].Mark.Tone != notice.Warn || row.Cells[3].Text != "4" {
		t.Errorf("what is not on the list: %+v, want nothing listed", row.Cells)
	}
	for number, dim := range map[int]bool{1: false, 4: true, 5: false} {
		if got := d.lineRow(*d.line(store.LineID(number))).Dim; got != dim {
			t.Errorf("line %d: dim %v, want %v", number, got, dim)
		}
	}
}

func TestTones(t *testing.T) {
	for state, want := range map[store.State]notice.Tone{
		store.AllHere: notice.OK, store.Over: notice.Warn, store.Short: notice.Stop, store.DamagedState: notice.Stop,
		store.WrongRevision: notice.Stop, store.BackOrder: notice.Quiet, store.NotArrived: notice.Quiet, store.ToCheck: notice.Quiet,
	} {
		if got := tone(state); got != want {
			t.Errorf("%s: tone %v, want %v", state, got, want)
		}
	}
}

func TestHeading(t *testing.T) {
	d := small()
	for _, row := range []struct {
		scope       scope
		title, note string
	}{
		{scope{}, "All lines", "order OK-1"},
		{scope{crate: "C1"}, "Crate C1", "order OK-1, came 14 March 2026"},
		{scope{"C1", "B1"}, "Crate C1 · bag B1", "order OK-1, came 14 March 2026"},
		{scope{crate: "crate 7"}, "crate 7", "order OK-1, not come yet"},
	} {
		if title, note := d.heading(row.scope); title != row.title || note != row.note {
			t.Errorf("%+v: %q, %q; want %q, %q", row.scope, title, note, row.title, row.note)
		}
	}
	d.ship.Order = ""
	if _, note := d.heading(scope{}); note != "packing list list.csv" {
		t.Errorf("without an order: %q", note)
	}
	for crate, want := range map[string]string{"C1": "Photograph crate C1", "C2": "", "": ""} {
		if got := d.cratePhotoWords(crate); got != want {
			t.Errorf("photographs of %q: %q, want %q", crate, got, want)
		}
	}
}

// Lines that hang on a delivery to come, or are on no list, are no part of the work.
func TestProgressAndTotals(t *testing.T) {
	d := small().with(1, store.Finding{Found: measure.Pieces(12), Counted: true}).with(2, store.Finding{Found: measure.Pieces(23), Counted: true})
	d.lines = append(d.lines, store.Line{ID: 6, Crate: "C1", Extra: true, Finding: &store.Finding{Found: measure.Pieces(1), Counted: true}})
	d.workOut()
	p := d.progress()
	if want := []Share{{1, notice.OK}, {0, notice.Warn}, {1, notice.Stop}, {1, notice.Quiet}}; p.Words != "2 of 3 lines" || !slices.Equal(p.Shares, want) {
		t.Errorf("progress: %+v, want 2 of 3 and %+v", p, want)
	}
	s := d.side()
	figures := map[string]string{}
	for _, tally := range s.Tallies {
		figures[tally.Words] = tally.Figure
	}
	for words, want := range map[string]string{string(store.AllHere): "1", string(store.Short): "1", string(store.ToCheck): "1", string(store.NotArrived): "1", string(store.BackOrder): "1", "not listed": "1"} {
		if figures[words] != want {
			t.Errorf("%s: %q, want %s", words, figures[words], want)
		}
	}
	if s.Crates != "C2" || s.Others || s.Waiting != "" {
		t.Errorf("crates to come %q, others %v, waiting %q", s.Crates, s.Others, s.Waiting)
	}
}

// Places are found by part of their name: the name itself, then those that begin so.
func TestMatchingPlaces(t *testing.T) {
	places := []offer{{id: "1", name: "Shelf A-1"}, {id: "2", name: "A-10"}, {id: "3", name: "A-2"}, {id: "4", name: "A-1"}, {id: "5", name: "A-100"}, {id: "6", name: "B-1"}}
	for text, want := range map[string]string{"a1": "4 2 5 1", "A 1": "4 2 5 1", "b": "6", "": "", "-": "", "zz": ""} {
		var got []string
		for _, o := range matching(places, text) {
			got = append(got, o.id)
		}
		if s := strings.Join(got, " "); s != want {
			t.Errorf("%q: %s, want %s", text, s, want)
		}
	}
}

func TestHolds(t *testing.T) {
	a, b := store.Holding{StockKey: store.StockKey{Item: "AN3-4A"}}, store.Holding{StockKey: store.StockKey{Item: "AN3-5A"}}
	for want, contents := range map[string][]store.Holding{"empty": nil, "AN3-4A": {a}, "AN3-4A and more": {a, b}} {
		if got := holds(contents); got != want {
			t.Errorf("%d heaps: %q, want %q", len(contents), got, want)
		}
	}
}
