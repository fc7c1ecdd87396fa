package alerts

import (
	"os"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"stowright/app"
	"stowright/app/apptest"
	"stowright/app/demo"
	"stowright/app/gallery"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/operation"
	"stowright/app/routes"
	"stowright/app/session/sessiontest"
	"stowright/store"
	"stowright/store/measure"
)

// seat is a person before one page of the screen.
type seat struct {
	*sessiontest.Bench
	t    *testing.T
	w    *apptest.Window
	page *Page
}

func sit(t *testing.T, b *sessiontest.Bench) *seat {
	return &seat{Bench: b, t: t, w: apptest.NewWindow(t)}
}

// to goes to a page.
func (s *seat) to(part, about string) {
	s.page = New(s.Session, s.w, routes.Route{Screen: routes.Alerts, Part: part, About: about})
	s.Drain()
}

// walk calls do with everything in the question that is open.
func (s *seat) walk(do func(o fyne.CanvasObject)) {
	var walk func(o fyne.CanvasObject)
	walk = func(o fyne.CanvasObject) {
		do(o)
		switch o := o.(type) {
		case *look.Entry:
		case *fyne.Container:
			for _, in := range o.Objects {
				walk(in)
			}
		case fyne.Widget:
			for _, in := range test.WidgetRenderer(o).Objects() {
				walk(in)
			}
		}
	}
	walk(s.w.Dialog)
}

// question is what the question that is open says.
func (s *seat) question() string {
	var words []string
	s.walk(func(o fyne.CanvasObject) {
		switch o := o.(type) {
		case *look.Notice:
			if o.Visible() {
				words = append(words, o.Text())
			}
		case *look.Paragraph:
			if o.Text() != "" {
				words = append(words, o.Text())
			}
		}
	})
	return strings.Join(words, "\n")
}

// fill answers the form that a key opens, one text a field; "=" leaves it as proposed.
func (s *seat) fill(key string, typed ...string) {
	s.t.Helper()
	s.w.Said = notice.Notice{}
	if !s.page.HandleKey(key) || !s.w.Asking() {
		s.t.Fatalf("%s asks nothing: there are %v", key, s.page.model.State().Acts)
	}
	var fields []*look.Entry
	s.walk(func(o fyne.CanvasObject) {
		if e, ok := o.(*look.Entry); ok {
			fields = append(fields, e)
		}
	})
	for i, text := range typed {
		if text != "=" {
			fields[i].SetText(text)
		}
	}
	s.enter()
}

func (s *seat) enter() {
	s.w.Dialog.Key("Enter")
	s.Drain()
}

// done fails unless something was done, and no question is open.
func (s *seat) done() {
	s.t.Helper()
	if s.w.Said.Tone != notice.OK || s.w.Asking() {
		s.t.Fatalf("said %+v, asking %v: %s", s.w.Said, s.w.Asking(), s.question())
	}
	s.page.Changed() // as the window tells the page of every entry
	s.Drain()
}

func (s *seat) wantRows(what, want string) {
	s.t.Helper()
	apptest.Compare(s.t, what, apptest.Words(s.page.model.State().Rows), want)
}

// nuts is the shop of story 10: 14 nuts in A-22, 6 fitted in SA-20; SA-40 came assembled.
func nuts(t *testing.T) *sessiontest.Bench {
	t.Helper()
	b := sessiontest.Open(t, demo.Unpacked)
	const nut = "MS21042-3"
	for _, o := range []operation.Operation{
		operation.Take{Heap: operation.Heap{Item: nut}, Amount: "6", For: "SA-20"},
		operation.Fit{Heap: operation.Heap{Item: nut}, For: "SA-20"},
	} {
		if _, err := o.Do(t.Context(), b.Session); err != nil {
			t.Fatal(err)
		}
	}
	shipped := store.Date{Year: 2026, Month: time.March, Day: 9}
	if _, err := b.Shop.PutSubAssembly(store.SubAssembly{Code: "SA-40", Name: "Elevator", Assembled: &store.Assembled{By: "the kit maker", Shipped: shipped}}); err != nil {
		t.Fatal(err)
	}
	return b
}

const assembled = "SA-40 | Elevator | – | inside not known | came assembled by the kit maker, shipped 9 March 2026: inside not known | not known"

// Story 18 by keys: what an alert will set apart is said before it is recorded, four lists
// are never one, and two alerts are two locks.
func TestStory18(t *testing.T) {
	s := sit(t, nuts(t))
	s.to(AlertsPart, "")
	before := s.Journal()
	s.fill("N", "Nuts that crack", "ms21042-3", "", "2026-03-01", "2026-03-31")
	apptest.Compare(t, "what it comes to", s.question(), strings.Join([]string{
		"What it comes to", "Set apart: nothing.", "Certainly here: none.", "Possibly here: none.", "Cannot tell: 14 in A-22, 6 in SA-20 and SA-40.", "Near misses: none.",
		"Nothing is recorded yet. Once it is, it is one entry, and Ctrl+Z takes it back.",
	}, "\n"))
	if s.Journal() != before {
		t.Error("the preview was recorded")
	}
	s.enter()
	s.done()
	s.wantRows("all alerts", "A-1 | Nuts that crack | issue 1 | 18 March 2026 | – | – | 20 | open")
	if s.Journal() != before+1 {
		t.Errorf("it took %d entries", s.Journal()-before)
	}
	s.page.HandleKey("Enter")
	if s.w.Route != AlertRoute("A-1") {
		t.Fatalf("Enter leads to %+v", s.w.Route)
	}
	s.to(AlertPart, "A-1")
	const lot, late = "lot Q7714 | the ship date is not typed", "lot Q7714 | OK-20731, line 48, came 14 March 2026"
	s.wantRows("not typed", strings.Join([]string{
		"Certainly here | none", "Possibly here | none", "Cannot tell | 3 rows",
		"A-22 | Garage, Cabinet A | 14 | " + lot + " | in stock", "SA-20 | Rudder | 6 | " + lot + " | fitted", assembled, "Near misses | none",
	}, "\n"))

	s.to(LotsPart, "MS21042-3")
	s.fill("E", "=", "=", "=", "=", "=", "=", "=", "=", "=", "2026-03-09")
	s.done()
	s.to(AlertPart, "A-1")
	s.wantRows("typed", strings.Join([]string{
		"Certainly here | 2 rows", "A-22 | Garage, Cabinet A | 14 | " + late + " | set apart", "SA-20 | Rudder | 6 | " + late + " | fitted",
		"Possibly here | none", "Cannot tell | 1 row", assembled, "Near misses | none",
	}, "\n"))
	if _, err := (operation.Scrap{Heap: operation.Heap{Key: s.Heap("A-22").StockKey}, Amount: "2", Reason: "recalled"}).Do(t.Context(), s.Session); err != nil {
		t.Fatal(err)
	}
	s.to(AlertsPart, "")
	s.fill("N", "Wrong lot", "MS21042-3", "Q7741") // story 10: a near miss, then its correction
	s.enter()
	s.done()
	s.wantRows("two alerts", "A-2 | Wrong lot | issue 1 | 18 March 2026 | – | – | – | open\nA-1 | Nuts that crack | issue 1 | 18 March 2026 | 12 | 6 | – | open")
	s.to(AlertPart, "A-2")
	s.wantRows("a near miss", strings.Join([]string{
		"Certainly here | none", "Possibly here | none", "Cannot tell | 1 row", assembled,
		"Near misses | 3 rows", "A-22 | Garage, Cabinet A | 12 | also A-1 | lot Q7714 | marked Q7714 | in stock",
		"SA-20 | Rudder | 6 | also A-1 | lot Q7714 | marked Q7714 | fitted", "scrapped | 2 | also A-1 | lot Q7714 | marked Q7714 | gone",
	}, "\n"))
	s.fill("I", "=", "Q7714")
	if q := s.question(); !strings.Contains(q, "Set apart: 12 in A-22.") || !strings.Contains(q, "Certainly here: 12 in A-22, 6 in SA-20 and 2 scrapped.") {
		t.Errorf("the correction comes to %s", q)
	}
	s.enter()
	s.done()

	s.to(AlertPart, "A-1")
	s.fill("I", "=", "=", "2026-03-15", "=")
	if q := s.question(); !strings.Contains(q, "Let go by this alert: 12 in A-22. What another alert names stays set apart.") {
		t.Errorf("issue 2 comes to %s", q)
	}
	s.enter()
	s.done()
	if h := s.Heap("A-22"); h.Condition != store.Quarantined("A-2") || h.Amount != store.Exact(measure.Pieces(12)) {
		t.Errorf("A-22 has %+v", h)
	}
	s.wantRows("narrowed", "Certainly here | none\nPossibly here | none\nCannot tell | 1 row\n"+assembled+"\nNear misses | none")
	s.page.HandleKey("Up")
	for s.page.model.State().Chosen > 0 {
		s.page.HandleKey("Up")
	}
	if notes := strings.Join(s.w.Card.Notes, "\n"); !strings.Contains(notes, "issue 2, 18 March 2026: MS21042-3, shipped 15 March 2026 to 31 March 2026") || !strings.Contains(notes, "issue 1, 18 March 2026: MS21042-3, shipped 1 March 2026 to 31 March 2026") {
		t.Errorf("both issues are to be read: %s", notes)
	}

	s.to(AlertPart, "A-2")
	s.fill("R", "q7714", "", "letter 12")
	if !s.w.Asking() || !strings.Contains(s.question(), "Who allowed it") {
		t.Errorf("without who decided: %s", s.question())
	}
	s.w.Dialog.Key("Esc")
	s.fill("R", "q7714", "Kit maker", "letter 12")
	s.done()
	if h := s.Heap("A-22"); h.Condition != store.Good {
		t.Errorf("released, A-22 has %+v", h)
	}
	s.to(AlertsPart, "")
	if notes := strings.Join(s.w.Card.Notes, "\n"); s.w.Card.Designation != "A-2" || !strings.Contains(notes, s.nuts()+" released by D-1 on 18 March 2026, by Builder") {
		t.Errorf("answered, the card of %s has %s", s.w.Card.Designation, notes)
	}
}

// nuts is the lot of the nuts.
func (s *seat) nuts() string {
	s.t.Helper()
	lots, err := s.Shop.Lots("MS21042-3")
	if err != nil || len(lots) == 0 {
		s.t.Fatal(lots, err)
	}
	return lots[0].Name()
}

// alerted is the shop of story 10 with an alert of two issues, and one by ship window.
func alerted(t *testing.T) *sessiontest.Bench {
	t.Helper()
	b := nuts(t)
	for _, o := range []operation.Operation{
		operation.Alert{Title: "Nuts that crack", Item: "MS21042-3", Lots: []string{"Q7741"}},
		operation.Alert{Alert: "A-1", Item: "MS21042-3", Lots: []string{"Q7714"}, Note: "the lot was misprinted"},
		operation.Alert{Title: "Pins that are too soft", Item: "MS24665-132", From: "2026-03-01", Until: "2026-03-31"},
		operation.PutIn{Item: "MS21042-3", Amount: "10", Place: "A-23"},
		operation.PutIn{Item: "SEAL-B2", Amount: "2", Place: "S6"},
		operation.PutIn{Item: "SEAL-B2", Amount: "1", Place: "S6", Meeting: store.LotsApart},
	} {
		if _, err := o.Do(t.Context(), b.Session); err != nil {
			t.Fatal(err)
		}
	}
	lots, err := b.Shop.Lots("SEAL-B2")
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range []operation.Operation{
		operation.DescribeLot{Lot: lots[0].Name(), Printed: "1", Expires: "2026-03-10", ExpiresSource: "the can"},
		operation.DescribeLot{Lot: lots[1].Name(), Printed: "2", Made: "2026-01-02", Life: "9 months", LifeSource: "the can"},
	} {
		if _, err := o.Do(t.Context(), b.Session); err != nil {
			t.Fatal(err)
		}
	}
	return b
}

// Dates: what is unknown first, then what expires first, and where that is from.
func TestDates(t *testing.T) {
	s := sit(t, alerted(t))
	s.to(DatesPart, "")
	lots, err := s.Shop.Lots("SEAL-B2")
	if err != nil {
		t.Fatal(err)
	}
	one, two := lots[0].Name()+" (lot 1)", lots[1].Name()+" (lot 2)"
	s.wantRows("dates", "SEAL-B2 | "+one+" | 2 in S6 | 10 March 2026 | printed: the can | 8 days past\n"+
		"SEAL-B2 | "+two+" | 1 in S6 | 2 October 2026 | made 2 January 2026 and 9 months, by the can | 198 days left")
	s.fill("E", "=", "=", "=", "none")
	s.done()
	s.wantRows("one unknown", "SEAL-B2 | "+one+" | 2 in S6 | unknown | see what its container says | expiry unknown\n"+
		"SEAL-B2 | "+two+" | 1 in S6 | 2 October 2026 | made 2 January 2026 and 9 months, by the can | 198 days left")
	s.fill("E", "=", "good")
	if !strings.Contains(s.question(), "is no origin: it is one of approved production") {
		t.Errorf("an origin that is none: %s", s.question())
	}
	s.w.Dialog.Key("Esc")
	if s.page.HandleKey("Enter"); s.w.Route != LotsRoute("SEAL-B2", lots[0].Name()) {
		t.Errorf("Enter leads to %+v", s.w.Route)
	}
	s.to(LotsPart, s.w.Route.About)
	if got := s.page.model.State(); got.Chosen != 1 || got.Rows[1].ID != lots[0].Name() || !strings.Contains(strings.Join(s.w.Card.Notes, "\n"), "origin: not recorded\nsent on: not recorded") {
		t.Errorf("the lots begin at %d of %s, with %v", got.Chosen, apptest.Words(got.Rows), s.w.Card.Notes)
	}
}

// A shop with nothing of it says what to do first, and what does is one key.
func TestNothing(t *testing.T) {
	s := sit(t, sessiontest.Empty(t))
	for part, about := range map[string]string{AlertsPart: "", AlertPart: "A-9", DatesPart: "", LotsPart: "AN3-5A"} {
		s.to(part, about)
		if st := s.page.model.State(); st.Lead == "" || st.Hint == "" || st.Chosen != -1 || s.page.first.Hidden || len(st.Acts) != 1 || st.Acts[0].id != "new" {
			t.Errorf("%q: %+v", part, st)
		}
	}
	s.to(AlertsPart, "")
	for key, part := range map[string]string{"2": DatesPart, "1": AlertsPart} {
		if look.PressKey(s.page.Object(), key); s.w.Route.Part != part {
			t.Errorf("%s leads to %+v", key, s.w.Route)
		}
		s.to(part, "")
	}
	s.fill("N", "Bolts", "AN3-5A")
	if !strings.Contains(s.question(), "No record here names AN3-5A: see that the part number is right.") {
		t.Errorf("of what the shop never had: %s", s.question())
	}
	if s.w.Dialog.Key("Esc"); !s.w.Asking() || s.w.First.(*look.Entry).Text != "Bolts" {
		t.Error("Esc does not lead back to what was typed")
	}
	s.w.Dialog.Key("Esc")
	s.fill("N", "", "AN3-5A")
	if !strings.Contains(s.question(), "Say what the alert is called") {
		t.Errorf("without a title: %s", s.question())
	}
}

// What a page shows is of one state of the shop.
func TestOneReading(t *testing.T) {
	for part, about := range map[string]string{AlertsPart: "", AlertPart: "A-1", DatesPart: "", LotsPart: "MS21042-3"} {
		s := sit(t, alerted(t))
		s.to(part, about)
		s.OneReading("part "+part, s.page.model.Load)
	}
}

func TestPictures(t *testing.T) {
	empty, full := sessiontest.Empty(t), alerted(t)
	window := func(b *sessiontest.Bench, part, about string, downs int) func() fyne.CanvasObject {
		return func() fyne.CanvasObject {
			var f *app.Frame
			var page *Page
			f = app.NewFrame(app.Options{Screens: gallery.Rail(), Loop: b.Queue.Loop(), Pages: func(r routes.Route) (app.Page, error) {
				page = New(b.Session, f, r)
				return page, nil
			}})
			f.SetFooter(app.Footer{Shop: "Type Q", Last: "Partner: A-1 Nuts that crack, issue 2", CanUndo: true})
			f.Object().Resize(fyne.NewSize(gallery.Width, gallery.Height))
			f.Go(routes.Route{Screen: routes.Alerts, Part: part, About: about})
			b.Drain()
			for range downs {
				page.HandleKey("Down")
			}
			return f.Object()
		}
	}
	var states []gallery.State
	for _, x := range []struct {
		name, part, about string
		of                *sessiontest.Bench
		downs             int
	}{
		{"alerts", AlertsPart, "", full, 1},
		{"alerts-none", AlertsPart, "", empty, 0},
		{"alert", AlertPart, "A-1", full, 0},
		{"alert-piece", AlertPart, "A-1", full, 1},
		{"alert-unclear", AlertPart, "A-2", full, 3},
		{"dates", DatesPart, "", full, 0},
		{"dates-none", DatesPart, "", empty, 0},
		{"lots", LotsPart, "MS21042-3", full, 1},
	} {
		states = append(states, gallery.State{Name: x.name, Width: gallery.Width, Height: gallery.Height, Make: window(x.of, x.part, x.about, x.downs)})
	}
	apptest.Pictured(t, os.Getenv("STOWRIGHT_PICTURES"), states...)
}

// Of what was poured together the alert says from and to, never among what is certain; all
// of the heap is set apart.
func TestPossibly(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	const bolt = "AN3-5A"
	do := func(o operation.Operation) {
		t.Helper()
		if _, err := o.Do(t.Context(), b.Session); err != nil {
			t.Fatal(err)
		}
	}
	do(operation.PutIn{Item: bolt, Amount: "10", Place: "A-12", Meeting: store.PourLots})
	lots, err := b.Shop.Lots(bolt)
	if err != nil {
		t.Fatal(err)
	}
	do(operation.DescribeLot{Lot: lots[1].Name(), Printed: "B7"})
	do(operation.Take{Heap: operation.Heap{Item: bolt}, Amount: "6", For: "SA-10"})
	do(operation.Fit{Heap: operation.Heap{Item: bolt}, For: "SA-10"})
	do(operation.Alert{Title: "Bolts that crack", Item: bolt, Lots: []string{"B7"}})
	s := sit(t, b)
	s.to(AlertPart, "A-1")
	rows := apptest.Words(s.page.model.State().Rows)
	for _, want := range []string{
		"Certainly here | none\nPossibly here | 2 rows\nA-12 | Garage, Cabinet A | 4 to 10 of the 32 | lot B7 | ", " | set apart\nSA-10 | Fin | 0 to 6 of the 6 | lot B7 | ",
		"22 to 28 of the 32 | ", "0 to 6 of the 6",
	} {
		if !strings.Contains(rows, want) {
			t.Errorf("the alert reads\n%s\nwithout %q", rows, want)
		}
	}
	s.to(AlertsPart, "")
	if got := apptest.Words(s.page.model.State().Rows); !strings.Contains(got, " | 32 | 0 to 6 | ") {
		t.Errorf("all alerts: %s", got)
	}
}
