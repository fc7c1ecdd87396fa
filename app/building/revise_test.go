package building

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stowright/app/apptest"

	"fyne.io/fyne/v2"

	"stowright/app/gallery"
	"stowright/app/routes"
	"stowright/store"
)

// revisedHinges is a list of SA-21 that calls longer bolts and no nuts.
const revisedHinges = "sub-assembly,number,quantity,replaces\nSA-21,AN3-6A,10 x 2 sides,AN3-5A\nSA-21,AN960-10,40,\nSA-21,MS24665-132,20,\n"

func listOf(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "hinges-b.csv")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// A list of which some is listed already may be a revised one: then what it adds, drops
// and replaces is shown, with what is fitted and stays so, before anything is changed.
func TestRevisedList(t *testing.T) {
	b := extended(t, true)
	pulled(t, b, "AN3-5A", "A-12", "6", "SA-21", "")
	benchFor(t, b, "SA-21").does("F", "", "", "")
	l := listFor(b)
	l.Open(listOf(t, revisedHinges))
	b.Drain()
	if s := l.State(); s.Ready || !s.Listed || s.Revising {
		t.Errorf("as a new list: %+v", s)
	}
	before := b.Journal()
	l.Revise()
	b.Drain()
	apptest.Compare(t, "what it changes", l.rows(), `2 | SA-21 | AN3-6A | joint hinge: spar 0.125, bracket 0.063 · R-12 was AN3-5A, 20 ea (10 x 2 sides) | 20 ea (10 x 2 sides) | 6 fitted already: stays so
– | SA-21 | AN365-1032A | was in joint hinge | 20 ea (10 x 2 sides) | dropped: R-14
4 | SA-21 | MS24665-132 | 20 ea | added`)
	if s := l.State(); !s.Ready || !s.Revising || s.Note != "The whole list of SA-21: 3 changes, 1 line stays as it is" || len(s.Questions) != 3 || !strings.Contains(s.Questions[2], "Joint hinge: AN3-6A in a stack of 0.188") {
		t.Errorf("%+v", s)
	}
	var problem error
	back := func(err error) { problem = err }
	l.Apply(" ", "", "", back)
	b.Drain()
	if problem == nil || b.Journal() != before {
		t.Errorf("without a paper: %v, %d entries", problem, b.Journal()-before)
	}
	l.Apply("Revision B", "binder 2", "2026-03-10", back)
	b.Drain()
	if problem != nil || b.Journal() != before+1 || l.code != "SA-21" {
		t.Errorf("applied: %v, %d entries, %q", problem, b.Journal()-before, l.code)
	}
	fitted, err := b.Shop.Fitted("SA-21")
	if err != nil || len(fitted) != 1 || fitted[0].Item != "AN3-5A" || fitted[0].Requirement != "R-12" {
		t.Errorf("fitted are %+v, %v", fitted, err)
	}
	l.Open(l.list.Path)
	b.Drain()
	if s := l.State(); s.Ready || !strings.HasSuffix(s.Note, "which changes nothing: 3 lines stay as they are") {
		t.Errorf("once more: %+v", s)
	}
	l.Revise()
	b.Drain()
	if s := l.State(); s.Revising || !s.Listed {
		t.Errorf("as a new list again: %+v", s)
	}
}

// A bulletin leaves alone what it does not name; a row that may mean several lines, or
// none, keeps all of it out.
func TestBulletin(t *testing.T) {
	b := extended(t, true)
	l := listFor(b)
	l.Revise()
	if s := l.State(); !s.Revising {
		t.Errorf("before a file is chosen: %+v", s)
	}
	l.Open(listOf(t, "change,sub-assembly,number,quantity\ndrops,SA-21,AN365-1032A,\ndrops,SA-41,AN3-11,\n"))
	b.Drain()
	apptest.Compare(t, "a bulletin", l.rows(), `3 | SA-41 | AN3-11 | no line of SA-41 calls AN3-11`)
	if s := l.State(); s.Ready || s.Problem != "Hinges-b.csv, row 3, column C: no line of SA-41 calls AN3-11: see its list." {
		t.Errorf("%+v", s)
	}
	l.Open(listOf(t, "change,sub-assembly,number,quantity\ndrops,SA-21,AN365-1032A,\n"))
	b.Drain()
	if s := l.State(); !s.Ready || s.Note != "A bulletin on SA-21: 1 change, 2 lines stay as they are" {
		t.Errorf("%+v", s)
	}
	l.Open(filepath.Join(t.TempDir(), "none.csv"))
	b.Drain()
	if s := l.State(); s.Problem == "" || s.Ready || !s.Revising {
		t.Errorf("a file that is not there: %+v", s)
	}
	if changes, err := b.Shop.PlanChanges(); err != nil || len(changes) != 0 {
		t.Errorf("%d changes, %v: something was applied", len(changes), err)
	}
}

func TestRevisionPicture(t *testing.T) {
	b := extended(t, true)
	pulled(t, b, "AN3-5A", "A-12", "6", "SA-21", "")
	if _, err := b.Shop.Fit("SA-21", store.Fitting{Transfer: store.Transfer{StockKey: b.Heap("SA-21").StockKey, Quantity: b.Heap("SA-21").Amount.Quantity}}); err != nil {
		t.Fatal(err)
	}
	path := listOf(t, revisedHinges)
	pictured(t, gallery.State{Name: "build-revised", Width: gallery.Width, Height: gallery.Height, Make: func() fyne.CanvasObject {
		f := window(b, routes.Route{Part: ListPart})
		p := f.Page().(*ListPage)
		p.model.Revise()
		p.path.SetPath(path)
		p.open(path)
		b.Drain()
		return f.Object()
	}})
}
