package aircraft

import (
	"os"
	"slices"
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
	"stowright/app/photos"
	"stowright/app/routes"
	"stowright/app/session/sessiontest"
	"stowright/store"
)

// seat is a person before one list of the screen.
type seat struct {
	*sessiontest.Bench
	t    *testing.T
	w    *apptest.Window
	page *Page
}

func sit(t *testing.T, b *sessiontest.Bench) *seat {
	return &seat{Bench: b, t: t, w: apptest.NewWindow(t)}
}

// to goes to a list.
func (s *seat) to(part string) {
	s.page = New(s.Session, s.w, routes.Route{Screen: routes.Aircraft, Part: part})
	s.Drain()
}

// entries are the fields of the question that is open.
func (s *seat) entries() []*look.Entry {
	s.t.Helper()
	var found []*look.Entry
	var walk func(o fyne.CanvasObject)
	walk = func(o fyne.CanvasObject) {
		switch o := o.(type) {
		case *look.Entry:
			found = append(found, o)
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
	return found
}

// fill answers the question that a key opens, one text a field; "=" leaves a field as it
// is proposed. What is said is the answer, or what is wrong.
func (s *seat) fill(key string, typed ...string) notice.Notice {
	s.t.Helper()
	s.w.Said = notice.Notice{}
	if !look.PressKey(s.page.Object(), key) {
		for _, a := range s.w.Card.Actions {
			if a.Key == key {
				s.w.Act(a.ID)
			}
		}
	}
	if !s.w.Asking() {
		s.t.Fatalf("%s asks nothing; the card has %v", key, s.w.Card.Actions)
	}
	fields := s.entries()
	if len(fields) < len(typed) {
		s.t.Fatalf("%s asks %d things, not %d", key, len(fields), len(typed))
	}
	for i, text := range typed {
		if text != "=" {
			fields[i].SetText(text)
		}
	}
	s.w.Dialog.Key("Enter")
	s.Drain()
	return s.w.Said
}

func (s *seat) rows() string { return apptest.Words(s.page.model.State().Rows) }

// tallies are the figures on the card.
func (s *seat) tallies() string {
	var words []string
	for _, t := range s.w.Card.Tallies {
		words = append(words, t.Words+" = "+t.Figure)
	}
	return strings.Join(words, "; ")
}

// Story 21: a propeller on at 0.0, off at 112.4, on again at 130.0 and now at 165.7 ran
// 148.1 h; corrected to 112.2 it ran 147.9. What is due follows from its last entry.
func TestStory21(t *testing.T) {
	clock := demo.NewClock(time.Date(2026, 3, 18, 10, 0, 0, 0, time.UTC), true)
	s := sit(t, sessiontest.On(t, sessiontest.OpenShop(t, demo.Unpacked, clock)))
	must := func(said notice.Notice) {
		t.Helper()
		if said.Tone != notice.OK || s.w.Asking() {
			t.Fatalf("said %+v, asking %v", said, s.w.Asking())
		}
	}
	s.to(AircraftPart)
	must(s.fill("N", "Q", "none"))
	must(s.fill("H", "165.7", "2028-05-14"))
	s.to(ComponentPart)
	must(s.fill("N", "OQ-PROP", "0007"))
	must(s.fill("M", "=", "Nose / hub", "0", "2027-05-01"))
	must(s.fill("O", "112.4", "2028-03-01", "S2"))
	apptest.Compare(t, "off it", s.rows(), "OQ-PROP | serial 0007, CO-1 | on no aircraft | in S2 | 112.4 h")
	must(s.fill("M", "Q", "Nose / hub", "130.0", "2028-04-02"))
	apptest.Compare(t, "on again", s.rows(), "OQ-PROP | serial 0007, CO-1 | on Q | Nose / hub | 148.1 h")
	must(s.fill("K", "1", "", "112.2"))
	apptest.Compare(t, "corrected", s.rows(), "OQ-PROP | serial 0007, CO-1 | on Q | Nose / hub | 147.9 h")
	apptest.Compare(t, "its times", s.tallies(), "1: on Q, 1 May 2027 = 0 h; 1: off, 1 March 2028 = 112.2 h; 2: on Q, 2 April 2028 = 130 h")

	s.to(DuePart)
	must(s.fill("N", "Condition inspection", "Q", "12 calendar months", "limitations, page 2", "12"))
	apptest.Compare(t, "before it was entered", s.rows(), "Condition inspection | DU-1 · 12 calendar months | Q | by when is not known")
	clock.Set(time.Date(2028, 5, 14, 12, 0, 0, 0, time.UTC))
	must(s.fill("D", "A. Mechanic", "2028-05-14", "165.7"))
	clock.Set(time.Date(2029, 5, 1, 12, 0, 0, 0, time.UTC))
	s.to(DuePart)
	apptest.Compare(t, "on 1 May 2029", s.rows(), "Condition inspection | DU-1 · 12 calendar months | Q | by 31 May 2029 | 30 days left")
	if mark := s.w.Card.Mark; mark.Tone != notice.Warn {
		t.Errorf("30 days before it is marked %+v", mark)
	}
	s.to(AircraftPart)
	apptest.Compare(t, "of the aircraft", s.rows(), "Q | none yet | 165.7 h | 30 days left")
	clock.Set(time.Date(2029, 6, 2, 12, 0, 0, 0, time.UTC))
	s.to(DuePart)
	if mark := s.w.Card.Mark; mark != (notice.Mark{Word: "2 days past", Tone: notice.Stop}) {
		t.Errorf("two days after it is marked %+v", mark)
	}
	must(s.fill("X", "sold"))
	if mark := s.w.Card.Mark; mark.Word != "ended" || len(s.w.Card.Actions) != 0 {
		t.Errorf("ended it is marked %+v, with %v", mark, s.w.Card.Actions)
	}
}

// What is due by hours counts those of the component since new; what is due of what nobody
// recorded is refused, and a tool has to be said to be one.
func TestDueOf(t *testing.T) {
	s := sit(t, fleet(t))
	s.to(DuePart)
	for _, row := range []struct {
		of    string
		wrong string
		want  string // of the new row
	}{
		{"Q", "", "Oil | DU-4 · 50 hours | Q | by when is not known"},
		{"co-1", "", "Oil | DU-5 · 50 hours | OT-PROP 0007 | by when is not known"},
		{"0007", "", "Oil | DU-6 · 50 hours | OT-PROP 0007 | by when is not known"},
		{"tool wrench 3", "The hours of a tool are not kept", ""},
		{"wrench 3", `There is no aircraft and no component "wrench 3"`, ""},
		{"", "Say of what it is", ""},
	} {
		before := s.Journal()
		said := s.fill("N", "Oil", row.of, "50 hours", "", "", "50")
		if wrong := said.Tone != notice.OK; wrong != (row.wrong != "") || (s.Journal() == before) != wrong {
			t.Errorf("%q: said %+v, %d entries", row.of, said, s.Journal()-before)
		}
		if row.wrong != "" {
			if !strings.Contains(s.dialogText(), row.wrong) {
				t.Errorf("%q: the question reads %s", row.of, s.dialogText())
			}
			s.w.Dialog.Key("Esc")
			continue
		}
		if rows := s.rows(); !strings.Contains(rows, row.want) {
			t.Errorf("%q: the list is\n%s", row.of, rows)
		}
	}
	if rows := strings.Split(s.rows(), "\n"); !strings.HasPrefix(rows[0], "Held against a known weight | DU-3 · 24 calendar months | wrench 2 | by 28 February 2026 | 18 days past") {
		t.Errorf("the first is %s", rows[0])
	}
}

// dialogText is all that the open question reads.
func (s *seat) dialogText() string {
	var words []string
	var walk func(o fyne.CanvasObject)
	walk = func(o fyne.CanvasObject) {
		switch o := o.(type) {
		case *look.Notice:
			words = append(words, o.Text())
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
	return strings.Join(words, " ")
}

// Positions are those that are recorded and those that a list names; what is not recorded
// becomes so, and then leads to its photographs.
func TestPositions(t *testing.T) {
	s := sit(t, fleet(t))
	s.to(PositionPart)
	apptest.Compare(t, "the list", s.rows(), strings.Join([]string{
		"Tailplane | – | –",
		"Tailplane / left | – | –",
		"Tailplane / left / hinge 2 | panel 3, 12 screws | – | 1",
		"Tailplane / right | – | –",
		"Tailplane / right / hinge 2 | – | –",
	}, "\n"))
	heap := s.Heap("A-12")
	if _, err := s.Shop.Fit("SA-21", store.Fitting{Transfer: store.Transfer{StockKey: heap.StockKey, Quantity: heap.Amount.Quantity, Reason: "for the test"}, Position: "Fin / hinge 1"}); err != nil {
		t.Fatal(err)
	}
	s.page.Changed()
	s.Drain()
	if first := strings.Split(s.rows(), "\n")[0]; first != "Fin / hinge 1 | named by a list, not recorded | 1 | –" || s.tallies() != "" && s.w.Card.Photographed != "" {
		t.Errorf("first is %s, with %q and %q", first, s.tallies(), s.w.Card.Photographed)
	}
	s.page.HandleKey("Up")
	for s.page.model.State().Chosen > 0 {
		s.page.HandleKey("Up")
	}
	if got := s.w.Card.Actions[0].Label; got != "Record it" || s.w.Card.Photographed != "" {
		t.Errorf("of one that is not recorded: %s, photographs %q", got, s.w.Card.Photographed)
	}
	if said := s.fill("E"); said.Tone != notice.OK {
		t.Errorf("said %+v", said)
	}
	want := photos.About(store.OfPosition(store.PositionOf("", "Fin / hinge 1")))
	if got := s.w.Card; got.Photographed != want || got.Actions[0].Label != "Describe" || !slices.ContainsFunc(got.Notes, func(n string) bool { return strings.Contains(n, "AN3-5A for SA-21") }) {
		t.Errorf("recorded: photographs %q, %v, %v", got.Photographed, got.Actions, got.Notes)
	}
}

// A shop with nothing of it says what to do first, and keys lead from list to list.
func TestNothingRecorded(t *testing.T) {
	s := sit(t, sessiontest.Empty(t))
	for key, part := range map[string]string{"1": AircraftPart, "2": ComponentPart, "3": DuePart, "4": PositionPart} {
		s.to(part)
		if st := s.page.model.State(); st.Lead == "" || st.Hint == "" || st.Chosen != -1 || s.page.first.Hidden || !s.page.list.Hidden {
			t.Errorf("%q: %+v", part, st)
		}
		s.to(AircraftPart)
		if look.PressKey(s.page.Object(), key); s.w.Route != (routes.Route{Screen: routes.Aircraft, Part: part}) {
			t.Errorf("%s leads to %+v", key, s.w.Route)
		}
	}
	s.to(AircraftPart)
	if s.page.HandleKey("Down"); s.page.HandleKey("Up") {
		t.Error("up from nothing does not lead to the command bar")
	}
}

// What a list shows is of one state of the shop.
func TestOneReading(t *testing.T) {
	for part := range titles {
		s := sit(t, fleet(t))
		s.to(part)
		s.OneReading(part, s.page.model.Load)
	}
}

// fleet is the demo shop with a second aircraft.
func fleet(t *testing.T) *sessiontest.Bench {
	t.Helper()
	b := sessiontest.Open(t, demo.Unpacked)
	if err := demo.Extend(b.Shop); err != nil {
		t.Fatal(err)
	}
	if err := demo.Fleet(b.Shop); err != nil {
		t.Fatal(err)
	}
	return b
}

func TestPictures(t *testing.T) {
	empty, full := sessiontest.Empty(t), fleet(t)
	window := func(b *sessiontest.Bench, part string, keys ...string) func() fyne.CanvasObject {
		return func() fyne.CanvasObject {
			var f *app.Frame
			f = app.NewFrame(app.Options{Screens: gallery.Rail(), Loop: b.Queue.Loop(), Pages: func(r routes.Route) (app.Page, error) { return New(b.Session, f, r), nil }})
			f.SetFooter(app.Footer{Shop: "Type Q", Last: "Partner: T had 1204.5 h on 7 March 2026", CanUndo: true})
			f.Object().Resize(fyne.NewSize(gallery.Width, gallery.Height))
			f.Go(routes.Route{Screen: routes.Aircraft, Part: part})
			b.Drain()
			return f.Object()
		}
	}
	var states []gallery.State
	for part, name := range map[string]string{AircraftPart: "aircraft", ComponentPart: "components", DuePart: "due", PositionPart: "positions"} {
		states = append(states,
			gallery.State{Name: name, Width: gallery.Width, Height: gallery.Height, Make: window(full, part)},
			gallery.State{Name: name + "-none", Width: gallery.Width, Height: gallery.Height, Make: window(empty, part)})
	}
	apptest.Pictured(t, os.Getenv("STOWRIGHT_PICTURES"), states...)
}

// The evidence of an aircraft and of a component is asked for by a key of its card; of a
// position there is none.
func TestEvidenceIsAskedFor(t *testing.T) {
	s := sit(t, fleet(t))
	for part, has := range map[string]bool{AircraftPart: true, ComponentPart: true, PositionPart: false} {
		s.w.Dialog = nil
		s.to(part)
		for _, a := range s.w.Card.Actions {
			if a.Key == "G" {
				s.w.Act(a.ID)
			}
		}
		if s.Drain(); (s.w.Dialog != nil) != has {
			t.Errorf("of %q: asked %v", part, s.w.Dialog != nil)
		}
	}
}
