package building

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"stowright/app/apptest"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/operation"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/session/sessiontest"
	"stowright/store"
)

// pressed presses a key that has a button of the page.
func pressed(t *testing.T, b *sessiontest.Bench, page fyne.CanvasObject, key string) {
	t.Helper()
	if !look.PressKey(page, key) {
		t.Errorf("no button has the key %q", key)
	}
	b.Drain()
}

// The keys of the picture of all lead to the tray, to a list, to a new sub-assembly; what
// was chosen is so again when one comes back.
func TestBoardKeys(t *testing.T) {
	b := extended(t, true)
	w := apptest.NewWindow(t)
	p := New(b.Session, w, routes.Route{Screen: routes.Build, About: "SA-21"}).(*Page)
	b.Drain()
	for key, want := range map[string]routes.Route{
		"Enter": {Screen: routes.Build, Part: BenchPart, About: "SA-21"}, "N": {Screen: routes.Build, Part: ListPart, About: typing},
	} {
		if !p.HandleKey(key) || w.Route != want {
			t.Errorf("%s leads to %+v", key, w.Route)
		}
	}
	if pressed(t, b, p.Object(), "I"); w.Route != (routes.Route{Screen: routes.Build, Part: ListPart}) {
		t.Errorf("I leads to %+v", w.Route)
	}
	p.HandleKey(" ")
	p.HandleKey("Right")
	b.Drain()
	kept := p.Saved()
	p.tapped(0)
	b.Drain()
	if got := p.model.Chosen(); got != "SA-10" {
		t.Errorf("tapped, %s is chosen", got)
	}
	p.tapped(len(p.model.State().Tiles) - 1)
	if w.Route.About != typing {
		t.Errorf("the last tile leads to %+v", w.Route)
	}
	again := New(b.Session, w, routes.Route{Screen: routes.Build}).(*Page)
	again.Restore(kept)
	b.Drain()
	if got := strings.Join(again.model.WalkFor(), " "); again.model.Chosen() != "SA-30" || got != "SA-21" {
		t.Errorf("come back, %s is chosen and the walk is for %s", again.model.Chosen(), got)
	}
	before := again.model.State().Sentence
	if _, err := b.Shop.LetGo("SA-10", true); err != nil {
		t.Fatal(err)
	}
	again.Changed()
	b.Drain()
	if again.model.State().Sentence != before {
		t.Errorf("SA-30 reads %q, and read %q", again.model.State().Sentence, before)
	}
}

// At the bench a question stays open while its answer is wrong, asks for a reason where it
// goes with one alone, and proposes what lies in the tray.
func TestBenchQuestions(t *testing.T) {
	b := extended(t, true)
	pulled(t, b, "AN3-5A", "A-12", "8", "SA-10", "two spare")
	w := apptest.NewWindow(t)
	p := New(b.Session, w, routes.Route{Screen: routes.Build, Part: BenchPart, About: "SA-10"}).(*BenchPage)
	b.Drain()
	for p.model.item != "AN3-5A" {
		if !p.HandleKey("Down") {
			t.Fatal("the arrows do not lead to the bolts")
		}
	}
	w.Act("some")
	if got := w.First.(*look.Entry).Text; got != "8" {
		t.Errorf("it proposes %q", got)
	}
	w.Answer(t, "some", "Enter")
	b.Drain()
	if !w.Asking() {
		t.Fatal("what is no amount is taken")
	}
	w.Answer(t, "8", "Enter")
	b.Drain()
	if !w.Asking() || b.Heap("SA-10").Amount.Figure() != "8" {
		t.Fatal("8 of 6 are fitted without a reason")
	}
	w.Answer(t, "the worn hole took two", "Enter")
	b.Drain()
	if w.Asking() || w.Said.Tone != notice.OK {
		t.Errorf("said %+v", w.Said)
	}
	fitted, err := b.Shop.Fitted("SA-10")
	if err != nil || len(fitted) != 1 || fitted[0].Amount.Figure() != "8" {
		t.Errorf("fitted are %+v, %v", fitted, err)
	}
	p.Changed()
	b.Drain()
	w.Act("remove")
	if got := w.First.(*look.Entry).Text; got != "8" {
		t.Errorf("of what is fitted it proposes %q", got)
	}
	w.Dialog.Key("Esc")
	w.Act("weigh tray")
	w.Answer(t, "26.0 24.3", "Enter")
	b.Drain()
	if !w.Asking() {
		t.Error("two weights are enough")
	}
	w.Dialog.Key("Esc")
	if w.Act("label"); w.Route.Screen != routes.Labels || w.Route.About != b.Place("SA-10").ID {
		t.Errorf("its label is at %+v", w.Route)
	}
	if pressed(t, b, p.Object(), "P"); w.Route != (routes.Route{Screen: routes.Build, Part: PullPart, About: "SA-10"}) {
		t.Errorf("P leads to %+v", w.Route)
	}
}

// What is open is said before closing, and goes with a reason where nobody noted it; a
// closed sub-assembly is worked on again for a reason.
func TestCloseAtTheBench(t *testing.T) {
	b := extended(t, true)
	w := apptest.NewWindow(t)
	p := New(b.Session, w, routes.Route{Screen: routes.Build, Part: BenchPart, About: "SA-20"}).(*BenchPage)
	b.Drain()
	if hint := closingHint(p.model.data.open); !strings.HasPrefix(hint, "6 of 6 MS21042-3 not fitted; ") || !strings.HasSuffix(hint, "The rest has to be done first.") {
		t.Errorf("before anything is fitted it says %q", hint)
	}
	if hint := closingHint(nil); !strings.HasPrefix(hint, "Nothing is open.") {
		t.Errorf("with nothing open it says %q", hint)
	}
	pulled(t, b, "MS21042-3", "A-22", "6", "SA-20", "")
	p.model.Load()
	b.Drain()
	w.Act("fit")
	w.Dialog.Key("Enter")
	b.Drain()
	w.Act("close")
	w.Answer(t, "noted in the book", "Enter")
	b.Drain()
	if !p.model.Closed() || w.Asking() {
		t.Fatalf("SA-20 is not closed: %+v", w.Said)
	}
	if a := w.Card.Actions; len(a) != 3 || a[0].Key != "O" || a[1].Key != "V" || a[2].Key != "G" { // of which the last two change nothing
		t.Errorf("closed, the keys are %+v", a)
	}
	if w.Act("changes"); w.Route != (routes.Route{Screen: routes.Build, Part: ChangesPart, About: "SA-20"}) {
		t.Errorf("V leads to %+v", w.Route)
	}
	w.Act("reopen")
	w.Answer(t, "a nut was loose", "Enter")
	b.Drain()
	if p.model.Closed() {
		t.Errorf("it is closed still: %+v", w.Said)
	}
}

// Lost is asked about until it is found.
func TestLostQuestion(t *testing.T) {
	l := benchLine{item: "AN365-1032A"}
	if q := lostQuestion(&BenchModel{session: &session.Session{}}, l); q.Yes != "Lost" || q.Text != "1" {
		t.Errorf("it asks %+v", q)
	}
	l.lost.Micro, l.lost.Unit = 2_000_000, "ea"
	if q := lostQuestion(&BenchModel{session: &session.Session{}}, l); q.Yes != "Found" || q.Text != "2" {
		t.Errorf("of what is looked for it asks %+v", q)
	}
}

// A revised list is applied under the name of its paper, which is asked for.
func TestApplyByKeys(t *testing.T) {
	b := extended(t, true)
	w := apptest.NewWindow(t)
	p := New(b.Session, w, routes.Route{Screen: routes.Build, Part: ListPart}).(*ListPage)
	b.Drain()
	p.bringIn()
	if w.Asking() {
		t.Error("of no list it is asked")
	}
	p.open(listOf(t, revisedHinges))
	b.Drain()
	pressed(t, b, p.Object(), "R")
	pressed(t, b, p.Object(), "Enter")
	w.Answer(t, "", "Enter")
	b.Drain()
	if !w.Asking() || w.Rested != 1 {
		t.Fatalf("it is applied without a paper; rested %d times", w.Rested)
	}
	w.Answer(t, "Revision B", "Enter")
	b.Drain()
	if w.Asking() || w.Route != (routes.Route{Screen: routes.Build, About: "SA-21"}) || !strings.HasPrefix(w.Said.Text, "C-1, Revision B: ") {
		t.Errorf("it leads to %+v and says %+v", w.Route, w.Said)
	}
}

// The keys of a walk: what is taken, a question that is left again, the ticks, the paper.
func TestWalkPage(t *testing.T) {
	b := extended(t, true)
	w := apptest.NewWindow(t)
	p := New(b.Session, w, routes.Route{Screen: routes.Build, Part: PullPart, About: "SA-10"}).(*WalkPage)
	b.Drain()
	p.HandleKey("S")
	if p.model.State().Prompt == nil || p.hand.asking.Hidden {
		t.Fatal("S asks nothing")
	}
	p.hand.field.SetText("200")
	p.hand.field.OnSubmitted("200")
	b.Drain()
	if b.Heap("SA-10").Amount.Figure() != "200" || w.Said.Tone != notice.OK {
		t.Errorf("in the tray lie %s; said %+v", b.Heap("SA-10").Amount, w.Said)
	}
	p.Changed()
	b.Drain()
	p.HandleKey("N")
	if p.hand.field.OnEscape(); p.model.State().Prompt != nil {
		t.Error("Esc leaves the question open")
	}
	if !p.Query("SP7K") || p.Query("an3") {
		t.Error("a tag leaves the walk, or a part number does not")
	}
	if !p.Tag(store.Resolution{Place: b.Place("A-30")}) || p.model.State().Hand.Place != "A-30" {
		t.Errorf("A-30 scanned, in hand is %s", p.model.State().Hand.Place)
	}
	p.model.kept.places["AN3-5A"] = "A-12"
	again := New(b.Session, w, routes.Route{Screen: routes.Build, Part: PullPart, About: "SA-10"}).(*WalkPage)
	if again.Restore(p.Saved()); again.model.kept.places["AN3-5A"] != "A-12" {
		t.Error("where it was taken from is forgotten")
	}
	if pressed(t, b, p.Object(), "K"); w.Route != (routes.Route{Screen: routes.Build, Part: TickPart, About: "SA-10"}) {
		t.Errorf("K leads to %+v", w.Route)
	}
	if w.Act("camera"); w.Route.Screen != routes.Camera {
		t.Errorf("F2 leads to %+v", w.Route)
	}
	if w.Act("paper"); !w.Asking() {
		t.Error("L asks for no file")
	}
}

// The column of ticks is booked by E, and leads back to what is left.
func TestTicksByKeys(t *testing.T) {
	b := extended(t, true)
	w := apptest.NewWindow(t)
	p := New(b.Session, w, routes.Route{Screen: routes.Build, Part: TickPart, About: "SA-20"}).(*TicksPage)
	b.Drain()
	p.field.SetText("8")
	p.HandleKey("Enter")
	pressed(t, b, p.Object(), "E")
	w.Answer(t, " ", "Enter")
	b.Drain()
	if !w.Asking() {
		t.Fatal("more than is called goes without a reason")
	}
	w.Answer(t, "two spare", "Enter")
	b.Drain()
	if w.Asking() || w.Route != (routes.Route{Screen: routes.Build, Part: PullPart, About: "SA-20"}) || w.Said.Text != "1 stop booked as ticked." {
		t.Errorf("it leads to %+v and says %+v", w.Route, w.Said)
	}
	if _, err := (operation.Undo{}).Do(t.Context(), b.Session); err != nil {
		t.Fatal(err)
	}
	p.Changed()
	b.Drain()
	if s := p.model.State(); len(s.Rows) != 1 || s.Rows[0].Cells[4].Text != "" {
		t.Errorf("undone, the column is %+v", s.Rows)
	}
}

// The evidence of a sub-assembly is asked for at its bench, closed or not, by its own key.
func TestEvidenceAtTheBench(t *testing.T) {
	b := extended(t, true)
	w := apptest.NewWindow(t)
	New(b.Session, w, routes.Route{Screen: routes.Build, Part: BenchPart, About: "SA-20"})
	b.Drain()
	for _, a := range w.Card.Actions {
		if a.Key == "G" {
			w.Act(a.ID)
		}
	}
	if b.Drain(); !w.Asking() {
		t.Errorf("nothing is asked: %+v", w.Card.Actions)
	}
}
