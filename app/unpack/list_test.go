package unpack

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"stowright/app/demo"
	demofiles "stowright/assets/demo"
	"stowright/store"
)

// importer is a list model on a bench, with what it opened.
type importer struct {
	*ListModel
	b      *bench
	opened []string // "fresh" or "known", in order
	ship   store.Shipment
}

func (b *bench) importer() *importer {
	i := &importer{b: b}
	i.ListModel = NewListModel(b.s, func(ListState) {}, func(ship store.Shipment, fresh bool) {
		i.ship = ship
		i.opened = append(i.opened, map[bool]string{true: "fresh", false: "known"}[fresh])
	})
	return i
}

// read opens a file of that name and content.
func (i *importer) read(name, text string) ListState {
	i.b.t.Helper()
	path := filepath.Join(i.b.t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		i.b.t.Fatal(err)
	}
	i.Open(path)
	i.b.queue.Drain()
	return i.State()
}

func TestDemoListFromEveryFormat(t *testing.T) {
	for _, name := range []string{demofiles.PackingListCSV, demofiles.PackingListXLSX} {
		t.Run(name, func(t *testing.T) {
			b := newBench(t, demo.Furnished)
			i := b.importer()
			s := i.read(name, string(demofiles.PackingList(name)))
			if len(s.Lines) != 60 || !strings.HasSuffix(s.Note, "60 lines in 3 crates and 12 bags") || !s.Ready {
				t.Fatalf("%d lines, note %q, ready %v, trouble %+v", len(s.Lines), s.Note, s.Ready, s.Trouble)
			}
			if got, want := s.Lines[29].Cells[2].Text+" "+s.Lines[29].Cells[3].Text+" "+s.Lines[29].Cells[3].Sub, "AN426AD3-3.5 0.3 lb"; got != want {
				t.Errorf("line 30: got %q, want %q", got, want)
			}
			i.Confirm("OK-20731", "Osterhollow Kitworks")
			b.queue.Drain()
			i.read(name, string(demofiles.PackingList(name)))
			i.Confirm("OK-20731", "")
			b.queue.Drain()
			if got := fmt.Sprint(i.opened); got != "[fresh known]" {
				t.Errorf("the same list twice: %s", got)
			}
			ships, err := b.s.Shop.Shipments()
			if err != nil || len(ships) != 1 {
				t.Fatalf("%d shipments, %v; want one", len(ships), err)
			}
			if ships[0].Order != "OK-20731" || ships[0].Supplier != "Osterhollow Kitworks" {
				t.Errorf("the shipment is %+v", ships[0])
			}
		})
	}
}

func TestBadListsBringNothingIn(t *testing.T) {
	for _, row := range []struct {
		name, text string
		trouble    string
		where      string // of the first problem
	}{
		{"empty.csv", "", "Not read:", ""},
		{"words.csv", "Part number,Qty\nAN3-4A,twelve\nAN3-5A,2\n", "1 row wants mending", "row 2, column B"},
		{"two.csv", "Part number,Qty\nAN3-4A,twelve\n,2\n", "2 rows want mending", "row 2, column B"},
		{"unknown.csv", "Alpha,Beta\nAN3-4A,12\n", "Choose its column", ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			b := newBench(t, demo.Furnished)
			i := b.importer()
			s := i.read(row.name, row.text)
			if s.Ready || s.Trouble == nil || !strings.Contains(s.Trouble.Lead+" "+s.Trouble.Text, row.trouble) {
				t.Errorf("%q: ready %v, trouble %+v; want %q", row.text, s.Ready, s.Trouble, row.trouble)
			}
			if row.where != "" && (len(s.Problems) == 0 || s.Problems[0].Cells[0].Text != row.where) {
				t.Errorf("%q: problems %+v, want the first at %s", row.text, s.Problems, row.where)
			}
			i.Confirm("", "")
			b.queue.Drain()
			if ships, err := b.s.Shop.Shipments(); err != nil || len(ships) != 0 {
				t.Errorf("%q: %d shipments, %v; want none", row.text, len(ships), err)
			}
		})
	}
}

// A column that was not recognised is chosen by hand.
func TestColumnsAreCorrected(t *testing.T) {
	b := newBench(t, demo.Furnished)
	i := b.importer()
	i.read("list.csv", "Thing,Part number,Pieces there\nBolt,AN3-4A,12\nBolt,AN3-5A,24\n")
	column := func(field string) string {
		for _, row := range i.State().Columns {
			if row.ID == field {
				return row.Cells[1].Text
			}
		}
		return ""
	}
	choose := func(field string) {
		for n, row := range i.State().Columns {
			if row.ID == field {
				i.ChooseField(n)
			}
		}
	}
	// On its way over the columns the quantity takes that of the part number.
	for _, field := range []struct{ name, want string }{{"quantity", "C: Pieces there"}, {"part number", "B: Part number"}} {
		choose(field.name)
		for n := 0; n < 4 && column(field.name) != field.want; n++ {
			i.Shift(1)
			b.queue.Drain()
		}
	}
	if s := i.State(); !s.Ready || len(s.Lines) != 2 || s.Lines[0].Cells[3].Text != "12" {
		t.Fatalf("quantity is %q: ready %v, %+v", column("quantity"), s.Ready, s.Trouble)
	}
	i.Headings()
	b.queue.Drain()
	if s := i.State(); s.Ready || !strings.Contains(s.Note, "no headings") {
		t.Errorf("with the headings read as a line: ready %v, note %q", s.Ready, s.Note)
	}
	i.Headings()
	b.queue.Drain()
	choose("part number")
	i.Shift(-1)
	b.queue.Drain()
	if s := i.State(); column("part number") != "A: Thing" || s.Lines[0].Cells[2].Text != "Bolt" {
		t.Errorf("one column before: %q", column("part number"))
	}
	i.Shift(-1)
	b.queue.Drain()
	if s := i.State(); column("part number") != "no column" || s.Ready {
		t.Errorf("before the first column: %q, ready %v", column("part number"), s.Ready)
	}
}

// What was stopped does not come up later.
func TestStoppedReadingIsDropped(t *testing.T) {
	b := newBench(t, demo.Furnished)
	i := b.importer()
	path := filepath.Join(t.TempDir(), "list.csv")
	if err := os.WriteFile(path, demofiles.PackingList(demofiles.PackingListCSV), 0o600); err != nil {
		t.Fatal(err)
	}
	i.Open(path)
	if i.State().Working == "" {
		t.Error("nothing says that the file is being read")
	}
	i.Stop()
	b.queue.Drain()
	if s := i.State(); len(s.Lines) != 0 || s.Working != "" || s.Trouble == nil {
		t.Errorf("after Stop: %d lines, working %q, %+v", len(s.Lines), s.Working, s.Trouble)
	}
}

func TestClaimIsSavedWhole(t *testing.T) {
	b := newBench(t, demo.Unpacked)
	dir := t.TempDir()
	m := NewClaimModel(b.s, b.m.data.ship.ID, dir, func(ClaimState) {})
	m.Load()
	b.queue.Drain()
	path := m.State().Path
	if filepath.Base(path) != "claim-OK-20731.txt" {
		t.Errorf("proposed file: %s", path)
	}
	m.Save(path)
	b.queue.Drain()
	data, err := os.ReadFile(path)
	if err != nil || string(data) != m.State().Text {
		t.Errorf("saved %q, %v; want the text of the claim", data, err)
	}
	for _, words := range []string{"1 damaged, dented\n      1 photograph: P-1\n", "1 photograph: P-2\n"} {
		if !strings.Contains(string(data), words) {
			t.Errorf("the claim does not say %q:\n%s", words, data)
		}
	}
	if got := m.State().Said; !strings.HasSuffix(got, "with 2 photographs in "+strings.TrimSuffix(path, ".txt")+"-photographs.") {
		t.Errorf("said %q", got)
	}
	m.Save(filepath.Join(dir, "nowhere", "claim.txt"))
	b.queue.Drain()
	if got := m.State().Error; !strings.Contains(got, "There is no folder") {
		t.Errorf("a folder that is not there: %q", got)
	}
	var names []string
	for _, pattern := range []string{"*", "*/*"} {
		found, err := filepath.Glob(filepath.Join(dir, pattern))
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range found {
			names = append(names, filepath.Base(name))
		}
	}
	if got := strings.Join(names, " "); got != "claim-OK-20731-photographs claim-OK-20731.txt P-1.jpg P-2.jpg" {
		t.Errorf("in the folder: %s; want the claim and its photographs alone", got)
	}
}

func TestClaimSaysWhatIsStillToCheck(t *testing.T) {
	b := newBench(t, demo.Unpacking)
	m := NewClaimModel(b.s, b.m.data.ship.ID, t.TempDir(), func(ClaimState) {})
	m.Load()
	b.queue.Drain()
	want := "8 lines are still to check: what they lack is not claimed here yet. No photograph yet shows what came damaged or wrong of line 12."
	if got := m.State().Note; got != want {
		t.Errorf("note: %q, want %q", got, want)
	}
}

func TestRevised(t *testing.T) {
	for _, row := range []struct {
		name, listed, came string
		want               bool
	}{
		{"another revision", "OQ-20-040-B", "OQ-20-040-A", true},
		{"the other hand", "OQ-10-031-L", "OQ-10-031-R", false},
		{"a hand and a revision", "OQ-10-031-L", "OQ-10-031-B", true},
		{"another part", "OQ-20-040-B", "OQ-20-041-A", false},
		{"a drilled bolt", "AN3-11", "AN3-11A", false},
		{"digits", "OQ-10-1", "OQ-10-2", false},
		{"nothing after the dash", "OQ-", "OQ-A", false},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := revised(row.listed, row.came); got != row.want {
				t.Errorf("%s and %s: got %v, want %v", row.listed, row.came, got, row.want)
			}
		})
	}
}

// A workbook may hold a sheet for each crate: each is brought in by itself.
func TestSheetsOfAWorkbook(t *testing.T) {
	f := excelize.NewFile()
	defer f.Close()
	for i, sheet := range []string{"First", "Second"} {
		if _, err := f.NewSheet(sheet); err != nil {
			t.Fatal(err)
		}
		for at, row := range map[string][]any{"A1": {"Part number", "Qty"}, "A2": {fmt.Sprintf("OQ-%d", i+1), 3}} {
			if err := f.SetSheetRow(sheet, at, &row); err != nil {
				t.Fatal(err)
			}
		}
	}
	buf, err := f.WriteToBuffer()
	if err != nil {
		t.Fatal(err)
	}
	b := newBench(t, demo.Furnished)
	i := b.importer()
	for n, want := range []string{"OQ-1", "OQ-2", "OQ-1"} {
		if n == 0 {
			i.read("list.xlsx", buf.String())
		} else {
			i.NextSheet()
			b.queue.Drain()
		}
		if s := i.State(); s.Sheets != 2 || len(s.Lines) != 1 || s.Lines[0].Cells[2].Text != want {
			t.Fatalf("step %d: %d sheets, %q, lines %+v; want %s", n, s.Sheets, s.Note, s.Lines, want)
		}
	}
	if got := i.State().Note; !strings.Contains(got, "sheet First, one of 2") {
		t.Errorf("note: %q", got)
	}
}

// While a list is being brought in it cannot be stopped half-way.
func TestBringingInIsNotStopped(t *testing.T) {
	b := newBench(t, demo.Furnished)
	i := b.importer()
	i.read("list.csv", string(demofiles.PackingList(demofiles.PackingListCSV)))
	i.Confirm("", "")
	i.Stop()
	b.queue.Drain()
	if got := fmt.Sprint(i.opened); got != "[fresh]" {
		t.Errorf("opened %s, want the list brought in", got)
	}
}

// A number that no standard has is doubted in the preview, in the words of the
// Handbook, and the list can be brought in all the same.
func TestDoubtedNumbersInThePreview(t *testing.T) {
	b := newBench(t, demo.Furnished)
	i := b.importer()
	const head = "Line,Crate,Part number,Description,Quantity,Unit\n"
	s := i.read("doubt.csv", head+"1,C1,AN3-5A,Bolt,24,ea\n2,C1,AN3-8A,Bolt,16,ea\n3,C1,OQ-10-001,Rib,2,ea\n4,C1,AN9999-4,Bolt,2,ea\n")
	if !s.Ready || s.Trouble == nil || s.Trouble.Lead != "Look at line 2:" || !strings.Contains(s.Trouble.Text, "AN3-8A does not exist") || !strings.Contains(s.Trouble.Text, "1 other line") {
		t.Errorf("ready %v, trouble %+v", s.Ready, s.Trouble)
	}
	for n, want := range map[int]string{0: "Bolt", 1: "AN3-8A does not exist", 2: "Rib", 3: "AN9999 is not a series"} {
		cells := s.Lines[n].Cells
		if doubted := strings.Contains(want, " is ") || strings.Contains(want, " does "); !strings.HasPrefix(cells[2].Sub, want) || (cells[4].Mark.Word == "look at it") != doubted {
			t.Errorf("line %d: got %q, %+v, want %q", n+1, cells[2].Sub, cells[4], want)
		}
	}
	if s := i.read("good.csv", head+"1,C1,AN3-5A,Bolt,24,ea\n"); s.Trouble != nil {
		t.Errorf("a good list is doubted: %+v", s.Trouble)
	}
}
