package unpack

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/jung-kurt/gofpdf"

	"stowright/app/demo"
)

// Bringing a list in is stopped like any other work: nothing was brought in, and it can be
// done again. The queue works one step at a time, so that it is stopped before it ends.
func TestBringingInIsStopped(t *testing.T) {
	b := newBench(t, demo.Furnished)
	i := b.importer()
	i.read("list.csv", "Part,Qty\nOQ-1,2\n")
	before, err := b.s.Shop.Shipments()
	if err != nil {
		t.Fatal(err)
	}
	i.Confirm("OK-2", "")
	i.Stop()
	if got := i.State().Working; got != "Stopping" {
		t.Fatalf("after Stop: %q", got)
	}
	b.queue.Drain()
	s := i.State()
	if s.Working != "" || s.Trouble == nil || !strings.Contains(s.Trouble.Text, "Stopped. Nothing was brought in.") || !s.Ready {
		t.Errorf("stopped: %+v, working %q, ready %v", s.Trouble, s.Working, s.Ready)
	}
	if ships, err := b.s.Shop.Shipments(); err != nil || len(ships) != len(before) {
		t.Errorf("%d lists, %d before, %v", len(ships), len(before), err)
	}
	i.Confirm("OK-2", "")
	b.queue.Drain()
	if i.ship.ID == "" {
		t.Errorf("again: %+v", i.State())
	}
}

// Reading a PDF says how far it is, page by page, and is stopped in the middle of it. What a
// page says that comes after that is not shown.
func TestReadingAPDFSaysHowFarItIs(t *testing.T) {
	doc := gofpdf.New("P", "pt", "A4", "")
	for range 4 {
		doc.AddPage()
		doc.SetFont("Helvetica", "", 9)
		for i, words := range []string{"Part", "Qty", "Unit"} {
			doc.Text(60+100*float64(i), 60, words)
		}
	}
	path := filepath.Join(t.TempDir(), "list.pdf")
	if err := doc.OutputFileAndClose(path); err != nil {
		t.Fatal(err)
	}
	b := newBench(t, demo.Furnished)
	i := b.importer()
	var said []string
	i.show = func(s ListState) { said = append(said, s.Working) }
	i.Open(path)
	b.queue.Drain()
	want := []string{"", ": getting ready for PDFs", ": reading pages, 25 %", ": reading pages, 50 %", ": reading pages, 75 %", ": reading pages, 100 %"}
	for k, w := range want {
		want[k] = "Reading " + path + w
	}
	if got := said[:min(len(said), len(want))]; !slices.Equal(got, want) {
		t.Errorf("said %q, want %q", got, want)
	}
	said = nil
	i.Open(path)
	b.queue.Step() // it is read, and what it said waits
	i.Stop()
	b.queue.Drain()
	if len(said) != 2 || said[1] != "" || !strings.Contains(i.State().Trouble.Text, "Stopped") {
		t.Errorf("stopped, and then said %q, %+v", said, i.State().Trouble)
	}
}
