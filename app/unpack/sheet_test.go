package unpack

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"stowright/app/demo"
	"stowright/app/operation"
	"stowright/app/routes"
	"stowright/labels"
	"stowright/store"
)

// The check-off sheet of a crate has a box for every line of its list, and its tag.
func TestCheckOffSheet(t *testing.T) {
	b := newBench(t, demo.Unpacking)
	to := b.m.data.ship.Crates[0].Place
	m := NewSheetModel(b.s, to, t.TempDir(), func(SheetState) {}, nil)
	m.Load()
	b.queue.Drain()
	if got := m.State().Title; got != "Check-off sheet for crate C1" {
		t.Errorf("title %q", got)
	}
	place, err := b.s.Shop.Place(to)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := SheetPaper(b.s, b.m.data.ship.ID, "c1")
	if err != nil {
		t.Fatal(err)
	}
	boxes, texts, codes := 0, map[string]bool{}, map[string]bool{}
	for _, p := range doc.Pages {
		for _, it := range p.Items {
			switch it := it.(type) {
			case labels.Box:
				boxes++
			case labels.Text:
				texts[it.Text] = true
			case labels.Code:
				codes[it.Text] = true
			}
		}
	}
	head, err := b.s.Shop.Head()
	if err != nil || !codes[head.Code()] || !texts[head.Grouped()] {
		t.Errorf("entry and hash of %+v do not stand on it: %v, %v", head, codes, err)
	}
	if boxes != 52 || !codes[string(place.Tag)] || !texts["AN3-6A"] || !texts["H103"] || texts["OQ-80-A12"] {
		t.Errorf("%d boxes, want 52; codes %v, want %s; %v", boxes, codes, place.Tag, texts)
	}
	m.Save(filepath.Join(t.TempDir(), "sheet.pdf"))
	b.queue.Drain()
	if s := m.State(); !strings.HasPrefix(s.Said, "Saved to ") || s.Error != "" {
		t.Errorf("saved: %q, %q", s.Said, s.Error)
	}
	if _, err := SheetPaper(b.s, b.m.data.ship.ID, "C9"); err == nil || !strings.Contains(err.Error(), "C1, C2, C3") {
		t.Errorf("a crate that is not on the list: %v", err)
	}
}

// A sheet that is there is asked about before it is written over.
func TestSheetIsNotWrittenOver(t *testing.T) {
	b := newBench(t, demo.Unpacking)
	path := filepath.Join(t.TempDir(), "sheet.pdf")
	if err := os.WriteFile(path, []byte("mine"), 0o600); err != nil {
		t.Fatal(err)
	}
	m := NewSheetModel(b.s, b.m.data.ship.Crates[0].Place, "", func(SheetState) {}, nil)
	asked := 0
	m.AskReplace = func(_ []string, replace func()) { asked++; replace() }
	m.Load()
	b.queue.Drain()
	m.Save("")
	b.queue.Drain()
	if got := m.State().Error; !strings.Contains(got, "Say where") {
		t.Errorf("no path: %q", got)
	}
	m.Save(path)
	b.queue.Drain()
	if asked != 1 || m.State().Error != "" {
		t.Errorf("asked %d times, %q", asked, m.State().Error)
	}
}

// What was ticked is typed down the column and entered as one entry.
func TestColumnByKeys(t *testing.T) {
	k := newTypist(t, demo.Arrived)
	m := k.check().model
	m.ChooseBag(0)
	k.settle()
	k.text("k")
	v := k.frame.Page().(*Page).shown.(*sheetView)
	if k.frame.Route() != (routes.Route{Screen: routes.Unpack, Part: SheetPart, About: k.firstCrate()}) || len(v.model.State().Rows) != 51 {
		t.Fatalf("K leads to %+v with %d lines, want 51 of C1", k.frame.Route(), len(v.model.State().Rows))
	}
	for _, text := range []string{"a", "1", "", "n", ".", "4"} { // lines 1 to 6
		k.text(text)
		k.press(fyne.KeyReturn)
	}
	k.text("two")
	k.press(fyne.KeyReturn)
	if s := v.model.State(); s.Row != 6 || !strings.Contains(s.Problem, `"two"`) {
		t.Fatalf("words for a count: row %d, %q", s.Row, s.Problem)
	}
	k.press(fyne.KeyBackspace, fyne.KeyBackspace, fyne.KeyBackspace)
	k.text("2")
	k.press(fyne.KeyReturn)
	if s := v.model.State(); s.Filled != 6 || s.Rows[5].Cells[4].Mark.Word != "+1 over" || s.Rows[2].Cells[4].Mark.Word != "not ticked" {
		t.Errorf("%d filled: %+v", s.Filled, s.Rows[:7])
	}
	before := k.entries()
	k.press(fyne.KeyEscape)
	k.text("e")
	if got := k.frame.Route(); got.Part != "" {
		t.Fatalf("after E: %+v, %+v", got, v.model.State())
	}
	if got := k.entries() - before; got != 1 {
		t.Errorf("%d entries, want one", got)
	}
	d, err := load(k.s, "")
	if err != nil {
		t.Fatal(err)
	}
	for line, want := range map[int]string{1: "all here", 2: "all here", 3: "to check", 4: "1 short", 5: "all here", 6: "+1 over", 7: "1 short", 8: "to check"} {
		if got := d.mark(*d.line(store.LineID(line))).Word; got != want {
			t.Errorf("line %d: %q, want %q", line, got, want)
		}
	}
}

// firstCrate is the place of the crate of the first line.
func (k *typist) firstCrate() string {
	ships, err := k.s.Shop.Shipments()
	if err != nil {
		k.t.Fatal(err)
	}
	return ships[0].Crates[0].Place
}

func (k *typist) entries() uint64 {
	last, err := k.s.Shop.Entries(0, 1)
	if err != nil {
		k.t.Fatal(err)
	}
	return last[0].Seq
}

// A line that was checked meanwhile, or that another bag gave to, is not overwritten.
func TestColumnOverwritesNothing(t *testing.T) {
	b := newBench(t, demo.Arrived)
	b.to(40)
	b.keys("X", "Enter", `"AN3-5A"`, "Enter", `"4"`, "Enter", "Enter")
	place := b.m.data.line(40).Place
	m := NewSheetModel(b.s, place, "", func(SheetState) {}, func(string) { t.Error("entered") })
	m.Load()
	b.queue.Drain()
	if s := m.State(); len(s.Rows) != 4 || !strings.Contains(s.Note, "1 line got some from another bag") || s.Title != "Check-off sheet for bag H103 of crate C1" {
		t.Fatalf("H103: %d lines, %q, %q", len(s.Rows), s.Note, s.Title)
	}
	m.Type("12")
	if _, err := (operation.Receive{Line: 38, Found: "11"}).Do(t.Context(), b.s); err != nil {
		t.Fatal(err)
	}
	m.Enter()
	b.queue.Drain()
	if s := m.State(); !strings.Contains(s.Error, "Line 38 is checked already") {
		t.Errorf("entered over another count: %q", s.Error)
	}
	if _, err := (operation.Column{Found: []operation.Ticked{{Line: 41, Found: "8"}, {Line: 38, Found: "12"}}}).Do(t.Context(), b.s); err == nil {
		t.Error("half of a column is entered")
	}
	if _, err := (operation.Column{Found: []operation.Ticked{{Line: 41}}}).Do(t.Context(), b.s); err == nil {
		t.Error("an empty column is entered")
	}
	b.m.Load()
	b.queue.Drain()
	if b.word(41) != "to check" || b.word(38) != "1 short" {
		t.Errorf("line 41 %s, line 38 %s", b.word(41), b.word(38))
	}
}
