package labelling

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stowright/app/demo"
	"stowright/app/session"
	"stowright/app/session/sessiontest"
	"stowright/labels"
)

// kept is a memory for tests.
type kept map[string]string

func (k kept) String(name string) string   { return k[name] }
func (k kept) SetString(name, text string) { k[name] = text }

// Copies, cut marks, a size of one's own and the printer's error are taken together or
// not at all, and the next run has them again, each printer its own.
func TestSetup(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	r, memory := newRig(t, b, b.Place("A-12").ID), kept{}
	r.m.Remember(memory)
	const size = "63.5 x 38.1 mm, 3 x 7 on A4, first at 7.2 x 15.1, pitch 66 x 38.1"
	for _, row := range []struct {
		name  string
		typed Typed
		want  Refused
	}{
		{"no number", Typed{Copies: "many"}, Refused{Copies: "Type a number from 1 to 100."}},
		{"none", Typed{Copies: "0"}, Refused{Copies: "Type a number from 1 to 100."}},
		{"too many", Typed{Copies: "101"}, Refused{Copies: "Type a number from 1 to 100."}},
		{"no error of a printer", Typed{Error: "much"}, Refused{Error: "Write two numbers of millimetres, such as 0.5 and -1.2, with a space between them and 10 at most."}},
		{"no size", Typed{Size: "large", Copies: "2"}, Refused{Size: `"large" is no size of labels: write it as ` + labels.StockExample + "."}},
	} {
		if got := r.m.TakeSetup(row.typed); got != row.want || r.Waiting() > 0 {
			t.Errorf("%s: %+v, want %+v", row.name, got, row.want)
		}
	}
	if len(memory) > 0 || r.m.State().Setup.Copies != 1 {
		t.Errorf("what was refused is kept: %v", memory)
	}
	if bad := r.m.TakeSetup(Typed{Copies: " 3 ", CutMarks: true, Size: size, Printer: "garage", Error: "0.5 -1.2"}); bad != (Refused{}) {
		t.Fatalf("refused: %+v", bad)
	}
	r.Drain()
	s := r.m.State()
	if s.Labels != 3 || s.Stocks[s.Stock].Name != strings.ToLower(size) || len(s.Page.Cells) != 3 || len(s.Page.Items) < 12 {
		t.Errorf("%d labels, %d on the sheet with %d items, on %s", s.Labels, len(s.Page.Cells), len(s.Page.Items), s.Stocks[s.Stock])
	}
	r.m.TakeSetup(Typed{Size: size, Printer: "office"})
	r.Drain()

	again := newRig(t, b, "")
	again.m.Remember(memory)
	s = again.m.State()
	if n := len(s.Stocks) - len(labels.Stocks()); n != 1 || s.Stocks[len(s.Stocks)-1].Name != strings.ToLower(size) {
		t.Errorf("%d sizes of one's own afterwards: %v", n, s.Stocks[len(s.Stocks)-1])
	}
	if s.Setup.Printer != "office" || s.Setup.Error != (labels.Correction{}) || again.m.ErrorOf("garage") != "0.5 -1.2" {
		t.Errorf("afterwards the printer is %+v, and the error of the other %q", s.Setup, again.m.ErrorOf("garage"))
	}
}

// The sizes that are kept are not endless, and one that is damaged is left out.
func TestSizesAreBounded(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	memory := kept{sizesKey: strings.Repeat("57 x 33\n", mostSizes) + "nonsense\n"}
	r := newRig(t, b, b.Place("A-12").ID)
	r.m.Remember(memory)
	if n := len(r.m.State().Stocks) - len(labels.Stocks()); n != mostSizes {
		t.Errorf("%d sizes are read, want %d", n, mostSizes)
	}
	r.m.TakeSetup(Typed{Size: "57 x 32"})
	r.Drain()
	if lines := strings.Split(memory[sizesKey], "\n"); len(lines) != mostSizes || lines[mostSizes-1] != "57 x 32" {
		t.Errorf("%d sizes are kept, the last is %q", len(lines), lines[len(lines)-1])
	}
}

// What is saved is moved against the printer's error; what is on the screen is not.
func TestSaveCorrectsThePrinter(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	r := newRig(t, b, b.Place("A-12").ID)
	before := r.m.State().Page.Cells[0].Rect
	save := func(name string) []byte {
		t.Helper()
		path := filepath.Join(t.TempDir(), name)
		r.m.Save(path)
		r.Drain()
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		return data
	}
	plain := save("a.pdf")
	r.m.TakeSetup(Typed{Error: "0.5 0"})
	r.Drain()
	var want bytes.Buffer
	if err := labels.PDF(&want, labels.Correction{Right: 0.5}.Apply(r.m.doc), labels.PDFOptions{Made: r.Shop.Now()}); err != nil {
		t.Fatal(err)
	}
	if got := save("b.pdf"); bytes.Equal(got, plain) || !bytes.Equal(got, want.Bytes()) {
		t.Error("the PDF is not moved by what was measured")
	}
	if r.m.State().Page.Cells[0].Rect != before {
		t.Error("the sheet on the screen has moved")
	}
}

// What no label was made for is a group of its own; what is saved leaves it, and the last
// takes it away.
func TestWithoutALabel(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	memory := kept{}
	open := func(about string) (*rig, Group) {
		r := newRig(t, b, "")
		r.m.Remember(memory)
		r.m.Open(about)
		r.Drain()
		for _, g := range r.m.State().Groups {
			if g.ID == withoutID {
				return r, g
			}
		}
		return r, Group{}
	}
	save := func(r *rig) {
		t.Helper()
		r.m.Save(filepath.Join(t.TempDir(), "a.pdf"))
		r.Drain()
		if r.m.State().Saved == "" {
			t.Fatalf("not saved: %q", r.m.State().Problem)
		}
	}
	r, g := open(b.Place("Cabinet A").ID)
	all := len(g.places)
	if all < 60 || g.On || g.Note != fmt.Sprintf("%d labels, none made here", all) {
		t.Fatalf("%+v", g)
	}
	save(r)
	r, g = open(withoutID)
	if len(g.places) != all-40 || !g.On || r.m.State().Labels != all-40 {
		t.Errorf("with the labels of the cabinet %d are left, picked %v, %d labels", len(g.places), g.On, r.m.State().Labels)
	}
	r.m.SaveTest(filepath.Join(t.TempDir(), "b.pdf"))
	r.Drain()
	if _, g = open(""); len(g.places) != all-40 {
		t.Errorf("a test print leaves %d, want %d", len(g.places), all-40)
	}
	save(r)
	for _, g := range r.m.State().Groups {
		if g.ID == withoutID {
			t.Errorf("with all labels there is still %+v", g)
		}
	}
	if _, g = open(""); g.ID != "" {
		t.Errorf("opened anew there is still %+v", g)
	}
}

// A sheet with a code that cannot be read is neither shown nor saved, and it is said which
// label it is.
func TestUnreadableIsNotOffered(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	r := newRig(t, b, "")
	r.m.readBack = func(ctx context.Context, doc labels.Document, list []labels.Label, tell func(float64)) error {
		cell := &doc.Pages[1].Cells[1]
		cell.Items = append(cell.Items, labels.Fill{Rect: cell.Rect})
		return session.ReadBack(ctx, doc, list, tell)
	}
	r.m.Lay()
	r.Drain()
	if s := r.m.State(); s.Page.W != 0 || s.Labels != 0 || !strings.Contains(s.Problem, "The code of A-32 ") || !strings.Contains(s.Problem, "on sheet 2 cannot be read back") {
		t.Errorf("%d labels are offered: %q", s.Labels, s.Problem)
	}
	path := filepath.Join(t.TempDir(), "labels.pdf")
	r.m.Save(path)
	r.Drain()
	if _, err := os.Stat(path); err == nil {
		t.Error("it is saved")
	}
}

// The rarer settings are asked for by one key; what is refused stays beside its field.
func TestSetupIsAsked(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	p, h := newPage(t, b, b.Place("A-12").ID)
	if !p.HandleKey("C") || h.Dialog == nil {
		t.Fatal("nothing is asked")
	}
	stocks := len(p.model.State().Stocks)
	p.asked.copies.SetText("2")
	p.asked.size.SetText("57 x")
	h.Dialog.Key("Enter")
	if p.model.State().Setup.Copies != 1 || !h.Asking() {
		t.Error("a size that cannot be read is taken")
	}
	p.asked.size.SetText("57 x 32")
	h.Dialog.Key("Enter")
	b.Drain()
	if s := p.model.State(); s.Labels != 2 || s.Stocks[s.Stock].Name != "57 x 32" || len(s.Stocks) != stocks+1 || h.Asking() {
		t.Errorf("%d labels on %s, %d stocks are listed", s.Labels, s.Stocks[s.Stock], len(s.Stocks))
	}
}

// The sheet is shown before its codes are read back; what is asked for meanwhile is done
// afterwards, with the layout that is there then.
func TestSheetIsShownBeforeItIsReadBack(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	r := newRig(t, b, "")
	var read []int // the labels of the documents that were read back
	path := filepath.Join(t.TempDir(), "labels.pdf")
	written := func() bool {
		_, err := os.Stat(path)
		return err == nil
	}
	r.m.readBack = func(ctx context.Context, doc labels.Document, list []labels.Label, tell func(float64)) error {
		read = append(read, doc.Labels())
		if written() {
			t.Error("a sheet is saved before it was read back")
		}
		if s := r.m.State(); s.Labels != doc.Labels() || s.Page.W == 0 {
			t.Errorf("%d labels are shown while %d are read back", s.Labels, doc.Labels())
		}
		if len(read) == 1 {
			r.m.Save(path)
			r.m.SetStock(stockIndex(t, r.m.State(), "a4-5x13"))
			if ctx.Err() == nil {
				t.Error("a sheet that is out of date is read on")
			}
		}
		return ctx.Err()
	}
	r.m.Lay()
	r.Drain()
	if s := r.m.State(); len(read) != 2 || !written() || s.Problem != "" || s.Lead != "Saved:" {
		t.Errorf("read back %v, saved %t: %q, %q", read, written(), s.Lead, s.Problem)
	}
}
