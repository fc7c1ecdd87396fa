package labelling

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/app/demo"
	"stowright/app/session/sessiontest"
	"stowright/labels"
	"stowright/store"
	"stowright/store/measure"
)

type rig struct {
	*sessiontest.Bench
	m     *Model
	shown []int // the sheets of every state that was shown
}

func newRig(t *testing.T, b *sessiontest.Bench, about string) *rig {
	t.Helper()
	b.Folders.Home = t.TempDir()
	r := &rig{Bench: b}
	r.m = NewModel(b.Session, func(s State) { r.shown = append(r.shown, s.Sheets) })
	b.Listen(func(store.Entry) { r.m.Lay() })
	r.m.Open(about)
	r.Drain()
	return r
}

// stockIndex is where a stock is in the list.
func stockIndex(t *testing.T, s State, name string) int {
	t.Helper()
	for i, stock := range s.Stocks {
		if stock.Name == name {
			return i
		}
	}
	t.Fatalf("no stock is named %q", name)
	return -1
}

// picked are the names of the groups that are printed.
func picked(s State) string {
	var names []string
	for _, g := range s.Groups {
		if g.On {
			names = append(names, g.Name)
		}
	}
	return strings.Join(names, ", ")
}

func TestOpen(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	for _, row := range []struct {
		name, about, picked string
		labels, sheets      int
	}{
		{"nothing said", "", "Cabinet A", 40, 2},
		{"a cabinet", b.Place("Cabinet A").ID, "Cabinet A", 40, 2},
		{"a drawer", b.Place("A-12").ID, "A-12", 1, 1},
		{"a rack of shelves", b.Place("Shelf").ID, "Shelf", 6, 1},
		{"a crate", b.Place("C1").ID, "C1", 1, 1},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := newRig(t, b, row.about).m.State()
			if picked(s) != row.picked || s.Labels != row.labels || s.Sheets != row.sheets || s.Problem != "" || s.Empty {
				t.Errorf("picked %q, %d labels on %d sheets, %q; want %q, %d on %d", picked(s), s.Labels, s.Sheets, s.Problem, row.picked, row.labels, row.sheets)
			}
			if s.Page.W == 0 || s.First.W == 0 || s.Module < 0.5 {
				t.Errorf("the sheet is %g mm wide, its first label %g mm, its modules %g mm", s.Page.W, s.First.W, s.Module)
			}
		})
	}
}

// What can have labels, cabinets first, with what they are.
func TestGroups(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	for _, name := range []string{"Bench 10", "Bench 9"} {
		rack, _, err := b.Shop.AddPlace(store.Place{Kind: store.Rack, Name: name})
		if err != nil {
			t.Fatal(err)
		}
		if _, _, err := b.Shop.AddPlace(store.Place{Parent: rack.ID, Kind: store.Shelf, Name: name + " top"}); err != nil {
			t.Fatal(err)
		}
	}
	s := newRig(t, b, "").m.State()
	var got []string
	for _, row := range s.Rows() {
		got = append(got, row.Cells[0].Text+": "+row.Cells[0].Sub+": "+row.Cells[1].Mark.Word)
	}
	want := []string{
		"Cabinet A: A-01 to A-40, 40 labels: picked", "Bench 9: Bench 9 top, 1 label: left out", "Bench 10: Bench 10 top, 1 label: left out",
		"Shelf: S1 to S6, 6 labels: left out", "Furniture: Bench 9 and 5 more: left out", "Crates: C1 to C3, 3 labels: left out",
		"Bags: H101 to SK50, 12 labels: left out", "Sub-assemblies: SA-10 to SA-50, 5 labels: left out",
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("groups (-want +got):\n%s", d)
	}
}

func TestPickAndTurn(t *testing.T) {
	r := newRig(t, sessiontest.Open(t, demo.Unpacked), "")
	r.m.Toggle(r.Place("Shelf").ID)
	if r.Waiting() == 0 {
		t.Error("the labels are laid out at once, want in the background")
	}
	r.Drain()
	if s := r.m.State(); s.Labels != 46 || s.Sheets != 2 {
		t.Errorf("with the shelves %d labels on %d sheets, want 46 on 2", s.Labels, s.Sheets)
	}
	r.m.Turn(1)
	r.m.Turn(1)
	if s := r.m.State(); s.Sheet != 1 || len(s.Page.Cells) != 16 || s.Page.Cells[0].Rect != s.First {
		t.Errorf("sheet %d with %d labels, want the second with 16", s.Sheet+1, len(s.Page.Cells))
	}
	for _, g := range r.m.State().Groups {
		if g.On {
			r.m.Toggle(g.ID)
		}
	}
	r.Drain()
	if s := r.m.State(); s.Labels != 0 || s.Page.W != 0 || s.Summary() != "nothing is picked yet" || s.Sheet != 0 {
		t.Errorf("nothing picked: %d labels, %q, sheet %d", s.Labels, s.Summary(), s.Sheet)
	}
	r.m.Save(filepath.Join(t.TempDir(), "none.pdf"))
	if s := r.m.State(); !strings.Contains(s.Problem, "Pick at least one group") {
		t.Errorf("nothing to save: %q", s.Problem)
	}
}

// On a used sheet printing starts at the first free label: typed, or tapped.
func TestStart(t *testing.T) {
	r := newRig(t, sessiontest.Open(t, demo.Unpacked), "")
	free := labels.Stocks()[0].Cell(4)
	for _, row := range []struct {
		name  string
		do    func()
		want  int
		wrong string
	}{
		{"typed", func() { r.m.TypeStart(" 12 ") }, 12, ""},
		{"beyond the sheet", func() { r.m.TypeStart("31") }, 12, "from 1 to 30"},
		{"words", func() { r.m.TypeStart("last") }, 12, "from 1 to 30"},
		{"tapped", func() { r.m.StartHere(free.X+1, free.Y+1) }, 5, ""},
		{"tapped beside", func() { r.m.StartHere(1, 1) }, 5, ""},
		{"emptied", func() { r.m.TypeStart("") }, 1, ""},
		{"not there", func() { r.m.SetStart(0) }, 1, ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			row.do()
			r.Drain()
			s := r.m.State()
			if s.StartAt != row.want || !strings.Contains(s.BadAt, row.wrong) || (s.BadAt == "") != (row.wrong == "") || len(s.Used) != row.want-1 {
				t.Errorf("starts at %d with %d used, %q; want %d, %q", s.StartAt, len(s.Used), s.BadAt, row.want, row.wrong)
			}
			if want := labels.Stocks()[0].Cell(row.want - 1); s.Page.Cells[0].Rect != want {
				t.Errorf("the first label is at %v, want %v", s.Page.Cells[0].Rect, want)
			}
		})
	}
	r.m.TypeStart("12")
	r.Drain()
	r.m.SetStock(3) // of six labels
	r.Drain()
	if s := r.m.State(); s.StartAt != 1 || s.Stocks[s.Stock].PerPage() != 6 {
		t.Errorf("another stock starts at %d of %d", s.StartAt, s.Stocks[s.Stock].PerPage())
	}
	r.m.Turn(1)
	r.m.StartHere(free.X+1, free.Y+1)
	if r.m.State().StartAt != 1 {
		t.Error("a tap on the second sheet changes where the first one starts")
	}
	r.m.SetStock(-1)
	r.m.SetStock(99)
	if r.Waiting() > 0 {
		t.Error("a stock that is not there is laid out")
	}
}

func TestSave(t *testing.T) {
	r := newRig(t, sessiontest.Open(t, demo.Unpacked), "")
	dir := t.TempDir()
	if got := r.m.State().Path; got != filepath.Join(r.Folders.Home, "labels.pdf") {
		t.Errorf("the PDF goes to %q, want labels.pdf in the person's own folder", got)
	}
	for _, row := range []struct {
		name, path, file, refuse string
		save                     func(path string)
	}{
		{"a name", filepath.Join(dir, "drawers.pdf"), "drawers.pdf", "", r.m.Save},
		{"without an ending", filepath.Join(dir, "plain"), "plain.pdf", "", r.m.Save},
		{"over something else", filepath.Join(dir, "notes.txt"), "notes.txt.pdf", "", r.m.Save},
		{"a test print", filepath.Join(dir, "drawers.pdf"), "drawers-test.pdf", "", r.m.SaveTest},
		{"a folder that is not there", filepath.Join(dir, "none", "a.pdf"), "", "The PDF was not saved", r.m.Save},
		{"no name", "", "", "name the PDF", r.m.Save},
	} {
		t.Run(row.name, func(t *testing.T) {
			row.save(row.path)
			if row.path != "" {
				if _, err := os.Stat(filepath.Join(dir, row.file)); row.file != "" && err == nil {
					t.Error("the file is there before the background work")
				}
			}
			r.Drain()
			s := r.m.State()
			if row.refuse != "" {
				if !strings.Contains(s.Problem, row.refuse) || s.Saved != "" {
					t.Errorf("got %q, saved %q; want %q", s.Problem, s.Saved, row.refuse)
				}
				return
			}
			data, err := os.ReadFile(filepath.Join(dir, row.file))
			if err != nil || !bytes.HasPrefix(data, []byte("%PDF-")) {
				t.Errorf("%s: %d bytes, %v; want a PDF", row.file, len(data), err)
			}
			if !strings.Contains(s.Saved, row.file) || !strings.Contains(s.Saved, "100 %") || s.Problem != "" {
				t.Errorf("said %q, %q", s.Saved, s.Problem)
			}
		})
	}
}

// Tape has no room for a test print, and says so.
func TestNoTestPrint(t *testing.T) {
	r := newRig(t, sessiontest.Open(t, demo.Unpacked), "")
	r.m.SetStock(stockIndex(t, r.m.State(), "tape-12"))
	r.Drain()
	r.m.SaveTest("")
	r.Drain()
	if s := r.m.State(); !strings.Contains(s.Problem, "too small for a ruler") || s.Saved != "" {
		t.Errorf("a test print on tape: %q, saved %q", s.Problem, s.Saved)
	}
}

// What is saved is what the person sees next, not a layout that is not there yet.
func TestSaveWaitsForTheLayout(t *testing.T) {
	r := newRig(t, sessiontest.Open(t, demo.Unpacked), "")
	path := filepath.Join(t.TempDir(), "labels.pdf")
	r.m.SetStock(2)
	r.m.Save(path)
	r.Drain()
	if s := r.m.State(); s.Stock != 2 || !strings.HasPrefix(s.Saved, path) {
		t.Fatalf("stock %d, saved %q", s.Stock, s.Saved)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got := bytes.Count(data, []byte("/Type /Page\n")); got != 4 { // 40 labels, ten a sheet
		t.Errorf("the PDF has %d pages, want 4", got)
	}
	r.shown = nil
	r.m.SetStock(0)
	r.Step() // the layout is done, its result waits
	r.m.SetStock(3)
	r.Drain()
	if d := cmp.Diff([]int{7}, slices.Compact(r.shown)); d != "" { // 40 labels, six a sheet, again while they are read back
		t.Errorf("sheets shown (-want +got):\n%s", d)
	}
}

// The labels follow what lies in the drawers, and a stock without a margin carries
// the caution on screen.
func TestFollowsTheShop(t *testing.T) {
	r := newRig(t, sessiontest.Open(t, demo.Unpacked), "")
	drawer := r.Place("A-02")
	r.m.Open(drawer.ID)
	r.Drain()
	if _, err := r.Shop.Count(store.StockKey{Item: "AN4-6A", Place: drawer.ID}, measure.Pieces(9)); err != nil {
		t.Fatal(err)
	}
	r.Drain()
	var texts []string
	for _, item := range r.m.State().Page.Cells[0].Items {
		if t, ok := item.(labels.Text); ok {
			texts = append(texts, t.Text)
		}
	}
	if got := strings.Join(texts, "|"); !strings.Contains(got, "AN4-6A") {
		t.Errorf("the label says %q, want AN4-6A", got)
	}
	r.m.SetStock(stockIndex(t, r.m.State(), "a4-3x10")) // its labels reach the edge of the paper
	r.Drain()
	if notes := strings.Join(r.m.State().Notes, " "); !strings.Contains(notes, labels.Caution) {
		t.Errorf("the notes are %q, want the caution", notes)
	}
}

func TestEmptyShop(t *testing.T) {
	s := newRig(t, sessiontest.Empty(t), "").m.State()
	if !s.Empty || s.Labels != 0 || s.Problem != "" {
		t.Errorf("an empty shop: empty %v, %d labels, %q", s.Empty, s.Labels, s.Problem)
	}
}

// Notes are one line a label, those of all labels first, and not endless.
func TestNotes(t *testing.T) {
	list := make([]labels.Label, 8)
	for i := range list {
		list[i].Name = string(rune('A' + i))
	}
	all := []labels.Note{{Label: 0, Text: "no room"}, {Label: 0, Text: "no room again"}, {Label: -1, Text: "no margin"}}
	if d := cmp.Diff([]string{"No margin.", "A: no room and for 1 more."}, notes(all, list)); d != "" {
		t.Errorf("notes (-want +got):\n%s", d)
	}
	for i := 1; i < len(list); i++ {
		all = append(all, labels.Note{Label: i, Text: "no room"})
	}
	got := notes(all, list)
	if len(got) != 1+maxNotes+1 || got[len(got)-1] != "6 other labels need larger stock too." {
		t.Errorf("eight labels: %q", got)
	}
}

// Modules of 0.76 mm are read from 0.76 x 739 = 562 mm, said as 55 cm.
func TestSummary(t *testing.T) {
	s := State{Stocks: labels.Stocks(), Labels: 40, Sheets: 2, Module: 0.762}
	if got, want := s.Summary(), "40 labels on 2 sheets of 66.7 x 25.4 mm, 30 on US Letter; modules 0.76 mm, a camera reads them from about 55 cm"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got, want := s.Turned(), "sheet 1 of 2"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	tape := State{Stocks: labels.Stocks(), Stock: stockIndex(t, s, "tape-12"), Labels: 3, Sheets: 3, Sheet: 1}
	if got, want := tape.Summary()+"; "+tape.Turned(), "3 labels on 12 mm roll, cut to length; label 2 of 3"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	s.Labels, s.Sheets, s.Module = 1, 1, 0
	if got, want := s.Summary(), "1 label on 1 sheet of 66.7 x 25.4 mm, 30 on US Letter"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}
