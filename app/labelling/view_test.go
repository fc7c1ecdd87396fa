package labelling

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"stowright/app/apptest"
	"stowright/app/demo"
	"stowright/app/look"
	"stowright/app/routes"
	"stowright/app/session/sessiontest"
	"stowright/store"
)

// newPage is the page on a shop, with its documents in a folder of the test's own.
func newPage(t *testing.T, b *sessiontest.Bench, about string) (*Page, *apptest.Window) {
	t.Helper()
	b.Folders.Home = t.TempDir()
	h := apptest.NewWindow(t)
	p := New(b.Session, h, routes.Route{Screen: routes.Labels, About: about})
	b.Drain()
	return p, h
}

// The page shows the groups, the sheet and what it is printed on, once it has read them.
func TestPage(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	p, h := newPage(t, b, "")
	if p.Title() != "Labels" || !p.GivesWay() || p.Results() != fyne.Focusable(p.groups) {
		t.Errorf("title %q, gives way %v", p.Title(), p.GivesWay())
	}
	if p.groups.Len() != 7 || p.stock.Text() != "66.7 x 25.4 mm, 30 on US Letter" {
		t.Errorf("%d groups on %q", p.groups.Len(), p.stock.Text())
	}
	if !strings.HasPrefix(p.summary.Text(), "40 labels on 2 sheets of 66.7 x 25.4 mm, 30 on US Letter") || p.turn.Text() != "sheet 1 of 2" {
		t.Errorf("it says %q and %q", p.summary.Text(), p.turn.Text())
	}
	if p.sheet.Hidden || !p.empty.Hidden || !p.problem.Hidden || !p.saved.Hidden || p.work.Hidden {
		t.Errorf("hidden: sheet %v, empty %v, problem %v, saved %v", p.sheet.Hidden, p.empty.Hidden, p.problem.Hidden, p.saved.Hidden)
	}
	if h.Sides != 1 || h.Side != fyne.CanvasObject(p.side) {
		t.Errorf("the side was shown %d times", h.Sides)
	}
	p.Changed()
	b.Drain()
	if h.Sides != 1 {
		t.Errorf("read anew, the side was shown %d times, want once", h.Sides)
	}
}

// Groups are picked and left out by a key and by a tap; the one stood on stays.
func TestPagePicks(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	p, _ := newPage(t, b, "")
	p.groups.Choose(1)
	if !look.PressKey(p.Object(), "Enter") {
		t.Fatal("Enter picks nothing")
	}
	b.Drain()
	if got := picked(p.model.State()); got != "Cabinet A, Shelf" {
		t.Errorf("picked %q", got)
	}
	if row, ok := p.groups.Chosen(); !ok || row.ID != p.model.State().Groups[1].ID {
		t.Errorf("the list stands on %q afterwards", row.ID)
	}
	p.groups.OnTapped(0, p.model.State().Rows()[0])
	b.Drain()
	if got := picked(p.model.State()); got != "Shelf" {
		t.Errorf("after a tap on the cabinet %q are picked", got)
	}
	p.groups.OnOpened(1, p.model.State().Rows()[1])
	b.Drain()
	if got := p.summary.Text(); got != "nothing is picked yet" || !p.sheet.Hidden || p.turn.Text() != "" {
		t.Errorf("nothing is picked: %q, sheet hidden %v, %q", got, p.sheet.Hidden, p.turn.Text())
	}
}

// Sheets are turned by keys, as long as there are several.
func TestPageTurns(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	p, _ := newPage(t, b, "")
	for _, step := range []struct{ key, want string }{{">", "sheet 2 of 2"}, {">", "sheet 2 of 2"}, {"<", "sheet 1 of 2"}, {"<", "sheet 1 of 2"}} {
		if !look.PressKey(p.Object(), step.key) || p.turn.Text() != step.want {
			t.Errorf("after %s: %q, want %q", step.key, p.turn.Text(), step.want)
		}
	}
	one, _ := newPage(t, b, b.Place("A-12").ID)
	if look.HasKey(one.Object(), ">") || look.HasKey(one.Object(), "<") {
		t.Error("a single sheet can be turned")
	}
}

// The first free label is typed or tapped; a wrong number is refused beside its field, and
// what was typed stays.
func TestPageStart(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	p, h := newPage(t, b, "")
	p.start.SetText("31")
	b.Drain()
	if got := p.model.State(); got.BadAt == "" || got.StartAt != 1 || p.start.Text != "31" {
		t.Errorf("31 of 30: %q, start at %d, field %q", got.BadAt, got.StartAt, p.start.Text)
	}
	p.start.SetText("12")
	b.Drain()
	if got := p.model.State(); got.BadAt != "" || got.StartAt != 12 || len(got.Used) != 11 {
		t.Errorf("12: %q, start at %d, %d used", got.BadAt, got.StartAt, len(got.Used))
	}
	cell := p.model.State().Stocks[0].Cell(4)
	p.sheet.OnTapped(cell.X+1, cell.Y+1)
	b.Drain()
	if p.start.Text != "5" || p.model.State().StartAt != 5 {
		t.Errorf("the fifth label was tapped: field %q, start at %d", p.start.Text, p.model.State().StartAt)
	}
	p.start.SetText("")
	b.Drain()
	if p.model.State().StartAt != 1 || p.start.Text != "" {
		t.Errorf("emptied: start at %d, field %q", p.model.State().StartAt, p.start.Text)
	}
	if !look.PressKey(h.Side, "K") || h.Dialog == nil {
		t.Fatal("K asks for no stock")
	}
	list := h.First.(*look.RowList)
	if row, _ := list.Chosen(); list.Len() != len(p.model.State().Stocks) || row.ID != p.model.State().Stocks[0].Name {
		t.Errorf("%d stocks are listed, at %q", list.Len(), row.ID)
	}
	list.Choose(1)
	h.Dialog.Key("Enter")
	b.Drain()
	if h.Asking() || p.stock.Text() != "101.6 x 25.4 mm, 20 on US Letter" || p.model.State().Stock != 1 || !strings.Contains(p.summary.Text(), "101.6 x 25.4 mm, 20 on US Letter") {
		t.Errorf("another stock: %d, %q", p.model.State().Stock, p.summary.Text())
	}
}

// The PDF, the test print and the sizing card are saved by keys into the file of the field.
func TestPageSaves(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	p, h := newPage(t, b, "")
	dir := t.TempDir()
	p.path.SetPath(filepath.Join(dir, "drawers.pdf"))
	for key, name := range map[string]string{"S": "drawers.pdf", "T": "drawers-test.pdf", "Z": "drawers-sizes.pdf"} {
		if !look.PressKey(h.Side, key) && !p.HandleKey(key) {
			t.Fatalf("nothing has the key %s", key)
		}
		b.Drain()
		file := filepath.Join(dir, name)
		data, err := os.ReadFile(file)
		if err != nil || !strings.HasPrefix(string(data), "%PDF-") {
			t.Errorf("%s: %d bytes, %v", name, len(data), err)
		}
		if p.saved.Hidden || !strings.Contains(p.saved.Text(), file) || !p.problem.Hidden {
			t.Errorf("%s: it says %q", name, p.saved.Text())
		}
	}
	p.path.SetPath(filepath.Join(dir, "no", "folder", "x.pdf"))
	look.PressKey(h.Side, "S")
	b.Drain()
	if p.problem.Hidden || !strings.Contains(p.problem.Text(), "was not saved") || !p.saved.Hidden {
		t.Errorf("into a folder that is not there: %q, saved hidden %v", p.problem.Text(), p.saved.Hidden)
	}
}

// The side has three buttons, the first one filled; what is done more seldom is listed by M.
func TestPageMore(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	p, h := newPage(t, b, "")
	p.path.SetPath(filepath.Join(t.TempDir(), "drawers.pdf"))
	for _, key := range []string{"T", "Z", "C"} {
		if look.HasKey(h.Side, key) {
			t.Errorf("%s has a button", key)
		}
	}
	if !look.PressKey(h.Side, "M") || h.First.(*look.RowList).Len() != 3 {
		t.Fatal("M lists nothing")
	}
	h.Dialog.Key("T")
	b.Drain()
	if !strings.Contains(p.saved.Text(), "drawers-test.pdf") || h.Asking() {
		t.Errorf("T of the list: %q", p.saved.Text())
	}
	if p.HandleKey("M") || p.HandleKey("Q") {
		t.Error("a key that a button has, or none, is taken")
	}
	none, _ := newPage(t, sessiontest.Empty(t), "")
	if none.HandleKey("T") {
		t.Error("a test print of nothing")
	}
}

// What a person should know before printing stands below the path, and goes with it.
func TestPageNotes(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	p, _ := newPage(t, b, "")
	a4 := -1
	for i, s := range p.model.State().Stocks {
		if s.Name == "a4-3x10" { // which has no margin for the caution
			a4 = i
		}
	}
	p.model.SetStock(a4)
	b.Drain()
	if p.notes.Hidden || len(p.notes.Objects) != len(p.model.State().Notes) || len(p.notes.Objects) == 0 {
		t.Errorf("%d notes are shown, hidden %v; there are %q", len(p.notes.Objects), p.notes.Hidden, p.model.State().Notes)
	}
	p.model.SetStock(0)
	b.Drain()
	if len(p.notes.Objects) != len(p.model.State().Notes) || p.notes.Hidden != (len(p.notes.Objects) == 0) {
		t.Errorf("%d notes are shown, hidden %v", len(p.notes.Objects), p.notes.Hidden)
	}
}

// A shop without places leads to where they are made, and shows no side; once there is
// one, it does.
func TestPageEmpty(t *testing.T) {
	b := sessiontest.Empty(t)
	p, h := newPage(t, b, "")
	if p.empty.Hidden || !p.work.Hidden || h.Side != nil || h.Hidden == 0 {
		t.Errorf("empty: hint hidden %v, work hidden %v", p.empty.Hidden, p.work.Hidden)
	}
	if !look.PressKey(p.Object(), "P") || h.Route.Screen != routes.Places {
		t.Errorf("it leads to %+v", h.Route)
	}
	if _, _, err := b.Shop.AddCabinet(store.CabinetSpec{Name: "Cabinet A", Prefix: "A", Rows: 1, Columns: 2}); err != nil {
		t.Fatal(err)
	}
	p.model.Open("")
	b.Drain()
	if !p.empty.Hidden || h.Side == nil || p.groups.Len() == 0 {
		t.Errorf("with a cabinet: hint hidden %v, %d groups", p.empty.Hidden, p.groups.Len())
	}
}

// Labels that cannot be read say why, on the page, and nothing is shown as if they could.
func TestPageCannotRead(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	p, _ := newPage(t, b, "")
	if err := b.Shop.Close(); err != nil {
		t.Fatal(err)
	}
	p.Changed()
	b.Drain()
	if p.problem.Hidden || p.problem.Text() == "" || !p.sheet.Hidden || p.summary.Text() != "nothing is picked yet" {
		t.Errorf("it says %q and %q, sheet hidden %v", p.problem.Text(), p.summary.Text(), p.sheet.Hidden)
	}
	p.model.Open("")
	b.Drain()
	if p.problem.Hidden || p.problem.Text() == "" {
		t.Errorf("the groups cannot be read, and it says %q", p.problem.Text())
	}
}
