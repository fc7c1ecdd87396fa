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
	"stowright/app/session/sessiontest"
)

// lister is the page of a list with what was done.
type lister struct {
	*ListModel
	b    *sessiontest.Bench
	code string
}

func listFor(b *sessiontest.Bench) *lister {
	l := &lister{b: b}
	l.ListModel = NewListModel(b.Session, func(ListState) {}, func(code, _ string) { l.code = code })
	return l
}

func (l *lister) rows() string { return apptest.Words(l.State().Rows) }

// What is typed is understood while it is typed: the old number with its source, the
// quantity with what it comes to, the number that does not exist; then it comes in.
func TestTypedList(t *testing.T) {
	b := extended(t, true)
	l := listFor(b)
	l.Type("SA-60", "Wing", "an3-5a 10 x 2 sides, figure 3\nAN960-10, 40\nAN3-8\t6")
	b.Drain()
	apptest.Compare(t, "typed", l.rows(), `1 | SA-60 | AN3-5A | Bolt, 10-32, grip 1/4 | 20 ea (10 x 2 sides) | figure 3
2 | SA-60 | AN960-10 | kept as NAS1149F0363P · Osterhollow cover letter | 40 ea | understood
3 | SA-60 | AN3-8 | 6 ea | AN3-8 does not exist`)
	if !l.State().Ready || len(l.State().Questions) == 0 || l.State().Note != "3 lines for SA-60" {
		t.Errorf("%+v", l.State())
	}
	l.Type("SA-60", "Wing", "an3-5a 10 per side")
	b.Drain()
	before := b.Journal()
	l.BringIn()
	b.Drain()
	if s := l.State(); s.Ready || !strings.HasPrefix(s.Problem, "What is typed, row 1: ") || !strings.Contains(s.Problem, "how many sides there are") || b.Journal() != before {
		t.Errorf("an expression that is none: %+v", s)
	}
	l.Type("SA-60", "Wing", "an3-5a 10 x 2 sides, figure 3")
	b.Drain()
	l.BringIn()
	b.Drain()
	if b.Journal() != before+1 || l.code != "SA-60" {
		t.Errorf("%d entries, %q", b.Journal()-before, l.code)
	}
	m := board(b, "SA-60")
	if s := m.State(); s.Head != "SA-60 Wing" || len(s.Lines) != 1 {
		t.Errorf("then Build shows %s, %+v", s.Head, s.Lines)
	}
	l.Type("", "", " ")
	b.Drain()
	if s := l.State(); s.Ready || len(s.Rows) > 0 {
		t.Errorf("nothing typed: %+v", s)
	}
	l.Type("", "", "AN3-5A 2")
	b.Drain()
	if s := l.State(); !strings.Contains(s.Problem, "for which sub-assembly") {
		t.Errorf("no code typed: %+v", s)
	}
}

// A file with one bad row brings nothing in, and every bad row says what is wrong with it.
func TestListFile(t *testing.T) {
	b := extended(t, true)
	path := filepath.Join(t.TempDir(), "wing.csv")
	if err := os.WriteFile(path, []byte("sub-assembly,number,quantity,unit\nSA-60,AN3-5A,6,ea\n,,4,ea\nSA-60,AN365-1032A,6,ft\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	l := listFor(b)
	l.Open(path)
	b.Drain()
	apptest.Compare(t, "the file", l.rows(), `2 | SA-60 | AN3-5A | Bolt, 10-32, grip 1/4 | 6 ea | understood
3 | SA-60 | the row has no part number
4 | SA-60 | AN365-1032A | Lock nut, 10-32 | AN365-1032A is kept by ea here, and the list says ft`)
	before := b.Journal()
	l.BringIn()
	b.Drain()
	if s := l.State(); s.Ready || !strings.Contains(s.Problem, "row 3, column B") || b.Journal() != before {
		t.Errorf("%+v", s)
	}
	l.Open(filepath.Join(t.TempDir(), "none.csv"))
	b.Drain()
	if s := l.State(); s.Problem == "" || len(s.Rows) > 0 {
		t.Errorf("a file that is not there: %+v", s)
	}
}

// joinedList is a list with a joint whose bolt is too short for what it goes through.
const joinedList = "sub-assembly,number,quantity,joint,stack\nSA-60,AN3-5A,8,hinge,\"spar .188, bracket .190\"\nSA-60,AN960-10,16,hinge,\nSA-60,AN365-1032A,8,hinge,\n"

// Which lines are one joint and what it goes through is shown before the list comes in, and
// what the tables say against it is asked.
func TestListWithJoints(t *testing.T) {
	b := extended(t, true)
	l := listFor(b)
	l.Open(listOf(t, joinedList))
	b.Drain()
	apptest.Compare(t, "the list", l.rows(), `2 | SA-60 | AN3-5A | joint hinge: spar 0.188, bracket 0.19 · Bolt, 10-32, grip 1/4 | 8 ea | understood
3 | SA-60 | AN960-10 | joint hinge · kept as NAS1149F0363P · Osterhollow cover letter | 16 ea | understood
4 | SA-60 | AN365-1032A | joint hinge · Lock nut, 10-32 | 8 ea | understood`)
	if asked := strings.Join(l.State().Questions, " "); !l.State().Ready || !strings.Contains(asked, "SA-60: Joint hinge: AN3-5A in a stack of 0.378") {
		t.Errorf("asked is %q", asked)
	}
}

func TestListPictures(t *testing.T) {
	b := extended(t, true)
	typed := gallery.State{Name: "build-typed", Width: gallery.Width, Height: gallery.Height, Make: func() fyne.CanvasObject {
		f := window(b, routes.Route{Part: ListPart, About: typing})
		p := f.Page().(*ListPage)
		p.code.SetText("SA-60")
		p.name.SetText("Wing")
		p.text.SetText("AN3-5A 10 x 2 sides, figure 3\nAN960-10 20 x 2 sides\nAN3-8 6")
		b.Drain()
		return f.Object()
	}}
	path := listOf(t, joinedList)
	joined := gallery.State{Name: "build-list-joints", Width: gallery.Width, Height: gallery.Height, Make: func() fyne.CanvasObject {
		f := window(b, routes.Route{Part: ListPart})
		f.Page().(*ListPage).open(path)
		b.Drain()
		return f.Object()
	}}
	pictured(t, typed, joined, state("build-list", b, routes.Route{Part: ListPart}))
}
