package building

import (
	"strings"
	"testing"

	"stowright/app/apptest"
	"stowright/app/demo"
	"stowright/app/look"
	"stowright/app/operation"
	"stowright/app/routes"
	"stowright/app/session/sessiontest"
)

// revised is a shop whose SA-21 has 6 bolts fitted and was changed by a revised list, and
// whose SA-41 was changed by a bulletin after it, with its clock.
func revised(t *testing.T) (*sessiontest.Bench, *demo.Clock) {
	t.Helper()
	clock := demo.NewClock(demo.Today, true)
	b := extend(t, sessiontest.On(t, sessiontest.OpenShop(t, demo.Unpacked, clock)), true)
	pulled(t, b, "AN3-5A", "A-12", "6", "SA-21", "")
	benchFor(t, b, "SA-21").does("F", "", "", "")
	for _, o := range []operation.ReviseNeeds{
		{List: operation.NeedList{Path: listOf(t, revisedHinges)}, Title: "Revision B", Paper: "binder 2", On: "2026-03-10"},
		{List: operation.NeedList{Path: listOf(t, "change,sub-assembly,number,quantity\ndrops,SA-41,AN365-1032A,\n")}, Title: "Bulletin 4", On: "2026-03-12"},
	} {
		if _, err := o.Do(t.Context(), b.Session); err != nil {
			t.Fatal(err)
		}
	}
	b.Drain()
	return b, clock
}

// What a paper changed is shown for ever, the newest first: when, by whom, from which paper,
// of which sub-assembly, line by line, with what was fitted by then and what it left alone.
func TestChanges(t *testing.T) {
	b, clock := revised(t)
	clock.Set(demo.Today.AddDate(0, 0, 1))
	if _, err := (operation.Remove{Item: "AN3-5A", Amount: "2", From: "SA-21", Reason: "too short"}).Do(t.Context(), b.Session); err != nil {
		t.Fatal(err) // of the 6 that were fitted when the list was changed
	}
	w := apptest.NewWindow(t)
	p := New(b.Session, w, routes.Route{Screen: routes.Build, Part: ChangesPart}).(*ChangesPage)
	b.Drain()
	apptest.Compare(t, "the changes", apptest.Words(p.model.State().Rows), `C-2 | Bulletin 4 | 12 March 2026 | SA-41 | 1 dropped | 2 lines stay as they were
C-1 | Revision B | 10 March 2026, binder 2 | SA-21 | 1 replaced, 1 dropped, 1 added | 1 line stays as it was`)
	if !p.HandleKey("Down") || w.Card.Designation != "C-1" {
		t.Fatalf("the card is that of %q", w.Card.Designation)
	}
	apptest.Compare(t, "its card", strings.Join(w.Card.Notes, "; "), "from: binder 2; applied on 18 March 2026 by Builder; 6 ea AN3-5A fitted before it: stays so")
	if !p.HandleKey("Enter") || w.Route != (routes.Route{Screen: routes.Build, Part: ChangePart, About: "C-1"}) {
		t.Fatalf("Enter leads to %+v", w.Route)
	}
	one := New(b.Session, w, w.Route).(*ChangesPage)
	b.Drain()
	apptest.Compare(t, "line by line", apptest.Words(one.model.State().Rows), `SA-21 | R-18 | AN3-6A | 20 ea; was AN3-5A, 20 ea | 6 fitted before: stays so
SA-21 | R-14 | AN365-1032A | 20 ea | dropped
SA-21 | R-19 | MS24665-132 | 20 ea | added
SA-21 | R-13 | AN960-10 | 40 ea | as it was`)
	if s := one.model.State(); s.Title != "C-1 Revision B" || s.Note != "1 replaced, 1 dropped, 1 added; 1 line stays as it was." || one.HandleKey("Enter") {
		t.Errorf("%q, %q", s.Title, s.Note)
	}
	b.OneReading("one change", one.model.Load)

	of := New(b.Session, w, routes.Route{Screen: routes.Build, Part: ChangesPart, About: "SA-41"}).(*ChangesPage)
	b.Drain()
	if rows := apptest.Words(of.model.State().Rows); !strings.HasPrefix(rows, "C-2") || strings.Contains(rows, "C-1") {
		t.Errorf("of SA-41 there are\n%s", rows)
	}
}

// A change that was undone is shown no more, and a shop without any says what to do.
func TestNoChange(t *testing.T) {
	b, _ := revised(t)
	w := apptest.NewWindow(t)
	p := New(b.Session, w, routes.Route{Screen: routes.Build, Part: ChangePart, About: "C-2"}).(*ChangesPage)
	b.Drain()
	if _, err := (operation.Undo{}).Do(t.Context(), b.Session); err != nil {
		t.Fatal(err)
	}
	p.Changed()
	b.Drain()
	if s := p.model.State(); len(s.Rows) != 0 || s.Problem != "There is no change C-2 of the plans: it was undone." {
		t.Errorf("undone: %+v", s)
	}
	b = extended(t, true)
	none := New(b.Session, w, routes.Route{Screen: routes.Build, Part: ChangesPart}).(*ChangesPage)
	if b.Drain(); none.none.Hidden || !none.list.Hidden {
		t.Error("nothing says what to do first")
	}
	if look.PressKey(none.Object(), "I"); w.Route.Part != ListPart {
		t.Errorf("I leads to %+v", w.Route)
	}
}

func TestChangesPictures(t *testing.T) {
	b, _ := revised(t)
	pictured(t,
		state("changes", b, routes.Route{Part: ChangesPart}),
		state("change", b, routes.Route{Part: ChangePart, About: "C-1"}),
		state("changes-none", extended(t, true), routes.Route{Part: ChangesPart}),
	)
}
