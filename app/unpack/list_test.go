package unpack

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"

	"stowright/app/demo"
	demofiles "stowright/assets/demo"
	"stowright/store"
	"stowright/store/measure"
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
	i.ListModel = NewListModel(b.s, func(ListState) {}, func(b Brought) {
		i.ship = b.Ship
		i.opened = append(i.opened, map[bool]string{true: "fresh", false: "known"}[b.Fresh])
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
		{"words.csv", "Part number,Qty\nAN3-4A,twelve\nAN3-5A,2\n", "1 row needs correction", "row 2, column B"},
		{"two.csv", "Part number,Qty\nAN3-4A,twelve\n,2\n", "2 rows need correction", "row 2, column B"},
		{"unknown.csv", "Alpha,Beta\nAN3-4A,12\n", "Choose its column", ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			b := newBench(t, demo.Furnished)
			i := b.importer()
			s := i.read(row.name, row.text)
			if s.Ready || s.Trouble == nil || !strings.Contains(s.Trouble.Lead+" "+s.Trouble.Text, row.trouble) {
				t.Errorf("%q: ready %v, trouble %+v; want %q", row.text, s.Ready, s.Trouble, row.trouble)
			}
			if row.where != "" && (len(s.Points) == 0 || s.Points[0].Cells[0].Text != row.where) {
				t.Errorf("%q: points %+v, want the first at %s", row.text, s.Points, row.where)
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
	want := "8 lines are still to check: what they lack is not claimed here yet. " +
		"Look once more before it is sent: line 7, inside the fin skin (line 5), and in the packing; line 17, inside the tailplane skin (line 18), and in the packing; line 28, inside other parts of C2, and in the packing. No photograph yet shows what came damaged or wrong of line 12."
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
	i.read("list.xlsx", buf.String())
	if s := i.State(); s.Sheets != 2 || len(s.Lines) != 2 || s.Lines[0].Cells[2].Text != "OQ-1" || s.Lines[1].Cells[2].Text != "OQ-2" {
		t.Fatalf("%d sheets, %q, lines %+v; want those of both", s.Sheets, s.Note, s.Lines)
	}
}

// What can be read in two ways is settled by one key, every place of it at once.
func TestQuestionsAreSettledByAKey(t *testing.T) {
	b := newBench(t, demo.Furnished)
	i := b.importer()
	s := i.read("list.csv", "Part;Qty\nOQ-1;1.200\nOQ-2;2.400\nTotal;3601\n")
	if s.Ready || !s.Settle || len(s.Ways) != 2 || !strings.Contains(s.Trouble.Lead+s.Trouble.Text, "1 question is open") || s.Lines[0].Cells[4].Text != "unsure" {
		t.Fatalf("ready %v, ways %q, trouble %+v, lines %+v; want the question", s.Ready, s.Ways, s.Trouble, s.Lines)
	}
	i.Confirm("", "")
	b.queue.Drain()
	if len(i.opened) > 0 {
		t.Fatal("a list with an open question was brought in")
	}
	i.Settle(2)
	b.queue.Drain()
	if s = i.State(); s.Ready || len(s.Ways) != 1 || s.Lines[0].Cells[3].Text != "1,200" || s.Lines[1].Cells[3].Text != "2,400" {
		t.Fatalf("ready %v, ways %q, lines %+v; want both lines settled, and the total asked about", s.Ready, s.Ways, s.Lines)
	}
	i.Settle(1)
	b.queue.Drain()
	if s = i.State(); !s.Ready || s.Settle {
		t.Fatalf("ready %v, trouble %+v; want all settled", s.Ready, s.Trouble)
	}
	i.Confirm("", "")
	b.queue.Drain()
	if got := fmt.Sprint(i.opened); got != "[fresh]" {
		t.Errorf("opened %s", got)
	}
}

// A bad row is typed again or left out; the good rows are shown meanwhile.
func TestBadRowsAreMendedInPlace(t *testing.T) {
	b := newBench(t, demo.Furnished)
	i := b.importer()
	s := i.read("list.csv", "Part,Qty\nOQ-1,2\nOQ-2,some\nOQ-3,many\n")
	if len(s.Lines) != 1 || len(s.Points) < 2 || s.Ready {
		t.Fatalf("lines %+v, points %+v; want one line and two points", s.Lines, s.Points)
	}
	cell := i.Settle(1)
	if cell == nil || cell.Text != "some" || cell.Where != "row 3, column B" {
		t.Fatalf("to be typed anew: %+v", cell)
	}
	i.Mend(cell, " 7 ")
	b.queue.Drain()
	if s = i.State(); len(s.Lines) != 2 || s.Lines[1].Cells[3].Text != "7" {
		t.Fatalf("mended: lines %+v", s.Lines)
	}
	i.Settle(2)
	b.queue.Drain()
	if s = i.State(); !s.Ready || len(s.Lines) != 2 {
		t.Fatalf("left out: ready %v, lines %+v", s.Ready, s.Lines)
	}
	i.ShowPoints()
	for n, row := range i.State().Points {
		if row.Cells[0].Text == "row 4" {
			i.ChoosePoint(n)
		}
	}
	i.Settle(1)
	b.queue.Drain()
	if s = i.State(); s.Ready {
		t.Error("a row that is read after all is not bad any more")
	}
}

// Sheets are read and left out by choice, and hidden ones are named.
func TestSheetsAreChosen(t *testing.T) {
	b := newBench(t, demo.Furnished)
	for _, c := range []struct{ name, sheet, before, after string }{
		{"sheet-per-crate.xlsx", "sheet Crate C2", "OQ-1 OQ-2 OQ-3", "OQ-1 OQ-2"},
		{"hidden-older-list.xlsx", "sheet Old", "12", "12 99"},
	} {
		i := b.importer()
		i.Open(filepath.Join("..", "..", "testdata", "packinglists", "shapes", c.name))
		b.queue.Drain()
		cells := func(column int) string {
			var all []string
			for _, l := range i.State().Lines {
				all = append(all, l.Cells[column].Text)
			}
			return strings.Join(all, " ")
		}
		column := 2
		if c.name == "hidden-older-list.xlsx" {
			column = 3
		}
		if got := cells(column); got != c.before {
			t.Errorf("%s: got %s, want %s", c.name, got, c.before)
		}
		i.ShowPoints()
		for n, row := range i.State().Points {
			if row.Cells[0].Text == c.sheet {
				i.ChoosePoint(n)
			}
		}
		i.Settle(1)
		b.queue.Drain()
		if got := cells(column); got != c.after {
			t.Errorf("%s after the choice: got %s, want %s", c.name, got, c.after)
		}
	}
}

// A table is pasted as it was copied from a spreadsheet.
func TestATableIsPasted(t *testing.T) {
	b := newBench(t, demo.Furnished)
	i := b.importer()
	i.Paste("Part\tQty\nOQ-1\t2\n")
	b.queue.Drain()
	if s := i.State(); !s.Ready || len(s.Lines) != 1 || s.Title != "pasted table" {
		t.Errorf("ready %v, title %q, lines %+v", s.Ready, s.Title, s.Lines)
	}
}

// twoLists brings a list of a crate in, checks its lines off, and opens another list of the
// same order.
func (i *importer) twoLists() ListState {
	i.b.t.Helper()
	const head = "Order: OK-1,,,\nLine,Crate,Part,Qty\n"
	i.read("first.csv", head+"1,C1,OQ-1,2\n2,C1,OQ-2,5\n")
	i.Confirm("", "")
	i.b.queue.Drain()
	shop := i.b.s.Shop
	if _, err := shop.Arrive(i.ship.ID, store.Delivery{Crates: []string{"C1"}, Arrived: shop.Today()}); err != nil {
		i.b.t.Fatal(err)
	}
	for number, n := range map[int]int64{1: 2, 2: 4} {
		if _, err := shop.Receive(i.ship.ID, store.LineID(number), store.Finding{Found: measure.Pieces(n), Counted: true}); err != nil {
			i.b.t.Fatal(err)
		}
	}
	return i.read("second.csv", head+"1,C1,OQ-1,3\n2,C1,OQ-2,4\n3,C1,OQ-3,1\n")
}

// Another list of the same order is compared with the one in the shop, and a person says
// whether it is one of its own, or takes the place of that one: then what was checked stays,
// and what the claim loses and gains was said before.
func TestAnotherListOfAnOrderIsAskedAbout(t *testing.T) {
	for _, row := range []struct {
		name  string
		way   int
		lists int
		lines string
	}{
		{"the revised one", 1, 1, "OQ-1 1 short; OQ-2 all here; OQ-3 to check"},
		{"one of its own", 2, 2, "OQ-1 not arrived; OQ-2 not arrived; OQ-3 not arrived"},
	} {
		t.Run(row.name, func(t *testing.T) {
			b := newBench(t, demo.Furnished)
			before, err := b.s.Shop.Shipments()
			if err != nil {
				t.Fatal(err)
			}
			i := b.importer()
			s := i.twoLists()
			var points []string
			for _, p := range s.Points[1:] {
				points = append(points, p.Cells[0].Text+": "+p.Cells[1].Text)
			}
			want := []string{
				"line 1: OQ-1: 3 ea, was 2 ea.", "line 2: OQ-2: 4 ea, was 5 ea.", "line 3: OQ-3: added, 1 ea.",
				"claim: The claim loses: line 2, short: listed 5, found 4: 1 short.", "claim: The claim gains: line 1, short: listed 3, found 2: 1 short.",
				"row 1: Left out, above the headings: Order: OK-1",
			}
			if diff := cmp.Diff(want, points); s.Ready || !s.Settle || diff != "" {
				t.Fatalf("ready %v, asks %v, and says\n%s", s.Ready, s.Settle, diff)
			}
			i.Settle(row.way)
			if s = i.State(); !s.Ready || s.Points[0].Cells[2].Mark.Word != "settled" {
				t.Fatalf("settled: ready %v, %+v", s.Ready, s.Points[0])
			}
			i.Confirm("", "")
			b.queue.Drain()
			ships, err := b.s.Shop.Shipments()
			if err != nil || len(ships)-len(before) != row.lists {
				t.Errorf("%d lists more, %v; want %d", len(ships)-len(before), err, row.lists)
			}
			lines, err := b.s.Shop.Lines(i.ship.ID)
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, l := range lines {
				_, arrived := i.ship.Delivery(l.Crate)
				got = append(got, l.Designation+" "+l.Describe(arrived))
			}
			if strings.Join(got, "; ") != row.lines {
				t.Errorf("got %s, want %s", strings.Join(got, "; "), row.lines)
			}
			i.read("third.csv", "Part,Qty\nOQ-1,4\n")
			i.Confirm("ok-1", "")
			b.queue.Drain()
			if s = i.State(); len(i.opened) != 2 || s.Ready || !s.Settle {
				t.Errorf("with the order typed by hand: opened %v, ready %v; want it asked", i.opened, s.Ready)
			}
		})
	}
}

// A number that no standard has is doubted in the preview, in the words of the
// Handbook, and the list can be brought in all the same.
func TestDoubtedNumbersInThePreview(t *testing.T) {
	b := newBench(t, demo.Furnished)
	i := b.importer()
	const head = "Line,Crate,Part number,Description,Quantity,Unit\n"
	s := i.read("doubt.csv", head+"1,C1,AN3-5A,Bolt,24,ea\n2,C1,AN3-8A,Bolt,16,ea\n3,C1,OQ-10-001,Rib,2,ea\n4,C1,AN9999-4,Bolt,2,ea\n5,C1,NAS1149F0999P,Washer,4,ea\n6,C1,AN3-5(A),Bolt,4,ea\n")
	if !s.Ready || s.Trouble == nil || s.Trouble.Lead != "Look at line 2:" || !strings.Contains(s.Trouble.Text, "AN3-8A does not exist") || !strings.Contains(s.Trouble.Text, "3 other lines") {
		t.Errorf("ready %v, trouble %+v", s.Ready, s.Trouble)
	}
	for n, want := range map[int]string{0: "Bolt", 1: "AN3-8A does not exist", 2: "Rib", 3: "AN9999 is not a series", 4: "NAS1149F0999P is not in the tables", 5: "\"(A)\" may be part of the number"} {
		cells := s.Lines[n].Cells
		if doubted := strings.Contains(want, " is ") || strings.Contains(want, " does ") || strings.Contains(want, " may "); !strings.HasPrefix(cells[2].Sub, want) || (cells[4].Mark.Word == "look at it") != doubted {
			t.Errorf("line %d: got %q, %+v, want %q", n+1, cells[2].Sub, cells[4], want)
		}
	}
	if s := i.read("good.csv", head+"1,C1,AN3-5A,Bolt,24,ea\n"); s.Trouble != nil {
		t.Errorf("a good list is doubted: %+v", s.Trouble)
	}
}
