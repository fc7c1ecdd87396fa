package labelling

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stowright/app/demo"
	"stowright/app/look"
	"stowright/app/printing"
	"stowright/app/session/sessiontest"
	"stowright/labels"
)

// desk is the printers of a machine for tests.
type desk struct {
	names  []string
	fails  error
	before int // jobs that are printed before it fails
	jobs   []printing.Job
	opened []string
}

func (d *desk) Printers(context.Context) ([]string, error) { return d.names, nil }

func (d *desk) Print(_ context.Context, j printing.Job) (string, error) {
	d.jobs = append(d.jobs, j)
	if len(d.jobs) <= d.before {
		return "A4", nil
	}
	return "A4", d.fails
}

func (d *desk) Show(_ context.Context, file string) error {
	d.opened = append(d.opened, file)
	return d.fails
}

func printRig(t *testing.T, b *sessiontest.Bench, d *desk, memory kept) *rig {
	t.Helper()
	r := newRig(t, b, b.Place("A-12").ID)
	r.m.printers = d
	r.m.Remember(memory)
	return r
}

// The printer is asked for once and remembered, what is printed is corrected by what was
// measured of it, and it counts as made.
func TestPrint(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	memory := kept{errorKey + "garage": "0.5 0"}
	d := &desk{names: []string{"office", "garage"}}
	r := printRig(t, b, d, memory)
	asked := 0
	ask := func(names []string, take func(string)) { asked++; take(names[1]) }
	r.m.AskPrinter = ask
	path := filepath.Join(t.TempDir(), "a.pdf")
	r.m.Print(path)
	r.Drain()
	if s := r.m.State(); len(d.jobs) != 1 || s.Lead != "Printed:" || s.Saved != "1 label went to garage at actual size, on its paper A4." || s.Problem != "" {
		t.Fatalf("%d jobs, %q %q, %q", len(d.jobs), s.Lead, s.Saved, s.Problem)
	}
	var want bytes.Buffer
	if err := labels.PDF(&want, labels.Correction{Right: 0.5}.Apply(r.m.doc), labels.PDFOptions{Made: r.Shop.Now()}); err != nil {
		t.Fatal(err)
	}
	j := d.jobs[0]
	if j.Printer != "garage" || j.Title != "1 label" || j.Paper.String() != "215.9 x 279.4 mm" || !bytes.Equal(j.PDF, want.Bytes()) {
		t.Errorf("job for %s, %q on %s, %d bytes, want %d", j.Printer, j.Title, j.Paper, len(j.PDF), want.Len())
	}
	if tag := string(b.Place("A-12").Tag); memory[madeKey] != tag {
		t.Errorf("made are %q, want %q", memory[madeKey], tag)
	}
	if _, err := os.Stat(path); err == nil {
		t.Error("printing saves a PDF")
	}
	again := printRig(t, b, d, memory)
	again.m.AskPrinter = ask
	again.m.Print(path)
	again.Drain()
	if asked != 1 || len(d.jobs) != 2 || d.jobs[1].Printer != "garage" {
		t.Errorf("asked %d times, jobs %d", asked, len(d.jobs))
	}
	d.fails = errors.New("no paper")
	again.m.Print(path)
	again.Drain()
	if s := again.m.State(); !strings.HasPrefix(s.Problem, "Nothing was printed. ") || s.Saved != "" {
		t.Errorf("it fails: %q, %q", s.Problem, s.Saved)
	}
}

// Where one of two jobs went to the printer, what is said is not that nothing did.
func TestPrintedInPart(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	d := &desk{names: []string{"garage"}, fails: errors.New("no paper"), before: 1}
	r := printRig(t, b, d, kept{})
	longer := r.m.doc.Pages[0]
	longer.W += 10 // labels of tape have their own lengths
	r.m.doc.Pages = append(r.m.doc.Pages, longer)
	r.m.Print(filepath.Join(t.TempDir(), "a.pdf"))
	r.Drain()
	if s := r.m.State(); s.Problem != "1 label went to the printer, the others did not: leave out what came, then print again. No paper." || s.Saved != "" {
		t.Errorf("said %q, %q", s.Problem, s.Saved)
	}
}

// Without a printer the PDF is opened in the viewer, with how to print it; a viewer that is
// not there leaves it saved.
func TestPrintWithoutAPrinter(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	d := &desk{}
	r := printRig(t, b, d, kept{})
	path := filepath.Join(t.TempDir(), "a.pdf")
	r.m.Print(path)
	r.Drain()
	s := r.m.State()
	if data, err := os.ReadFile(path); err != nil || !bytes.HasPrefix(data, []byte("%PDF-")) || fmt.Sprint(d.opened) != fmt.Sprint([]string{path}) {
		t.Fatalf("%d bytes, %v, opened %q", len(data), err, d.opened)
	}
	if !strings.Contains(s.Saved, "actual size, 100 %") || s.Problem != "" || len(d.jobs) != 0 {
		t.Errorf("it says %q, %q", s.Saved, s.Problem)
	}
	d.fails = errors.New("no viewer")
	other := filepath.Join(t.TempDir(), "b.pdf")
	r.m.Print(other)
	r.Drain()
	if s := r.m.State(); s.Problem == "" || strings.Contains(s.Problem, "not saved") || !strings.HasPrefix(s.Saved, other) {
		t.Errorf("no viewer: %q, saved %q", s.Problem, s.Saved)
	}
}

// Labels of tape have their own lengths: those that follow each other and are as long are
// one job.
func TestPrintTape(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	d := &desk{names: []string{"tape"}}
	r := printRig(t, b, d, kept{})
	r.m.Open(b.Place("Cabinet A").ID)
	r.m.SetStock(stockIndex(t, r.m.State(), "tape-12"))
	r.Drain()
	r.m.Print("")
	r.Drain()
	pages, papers := 0, map[string]bool{}
	for i, j := range d.jobs {
		pages += bytes.Count(j.PDF, []byte("/Type /Page\n"))
		if papers[j.Paper.String()] = true; i > 0 && d.jobs[i-1].Paper == j.Paper {
			t.Errorf("jobs %d and %d have the same paper", i-1, i)
		}
		if j.Paper.H != 12 || !j.Paper.Roll {
			t.Errorf("job %d is on %+v", i, j.Paper)
		}
	}
	if pages != 40 || len(papers) < 3 {
		t.Errorf("%d labels on %v", pages, papers)
	}
}

// Print has a key; of several printers one is chosen from a list.
func TestPrinterIsAsked(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	p, h := newPage(t, b, b.Place("A-12").ID)
	d := &desk{names: []string{"office", "garage"}}
	p.model.printers = d
	look.PressKey(h.Side, "I")
	b.Drain()
	if !h.Asking() || len(d.jobs) > 0 {
		t.Fatalf("asked %v, %d jobs", h.Asking(), len(d.jobs))
	}
	h.Dialog.Key("Enter")
	b.Drain()
	if h.Asking() || len(d.jobs) != 1 || d.jobs[0].Printer != "office" || !strings.Contains(p.saved.Text(), "Printed:") {
		t.Errorf("%d jobs, still asking %v, %q", len(d.jobs), h.Asking(), p.saved.Text())
	}
}
