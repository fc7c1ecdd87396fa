package packinglist_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store/measure"
	"stowright/store/packinglist"
)

// readLines reads lines of text as a CSV file by the guessed columns.
func readLines(t testing.TB, lines ...string) (packinglist.List, []packinglist.Problem) {
	t.Helper()
	table := open(t, lines...)
	return readTable(table, packinglist.Guess(table))
}

// readOne reads one line below the headings and wants no problem.
func readOne(t *testing.T, headings, line string) packinglist.Line {
	t.Helper()
	list, problems := readLines(t, headings, line)
	if len(problems) > 0 || len(list.Lines) != 1 {
		t.Fatalf("%q: got %d lines, problems %v", line, len(list.Lines), problems)
	}
	return list.Lines[0]
}

func TestQuantities(t *testing.T) {
	of := func(micro int64, u measure.Unit) measure.Quantity { return measure.Quantity{Micro: micro, Unit: u} }
	for _, c := range []struct {
		name, quantity, unit string
		want                 measure.Quantity
	}{
		{"pieces", "24", "ea", measure.Pieces(24)},
		{"no unit is pieces", "24", "", measure.Pieces(24)},
		{"weight", "0.30", "LBS.", of(300_000, measure.Pound)},
		{"thousands", `"1,680"`, "ea", measure.Pieces(1680)},
		{"decimal comma", `"0,30"`, "lb", of(300_000, measure.Pound)},
		{"decimal comma, three places", `"0,125"`, "lb", of(125_000, measure.Pound)},
		{"fraction", "1/2", "pt", of(500_000, measure.Pint)},
		{"mixed", "1 1/2", "pt", of(1_500_000, measure.Pint)},
		{"unit behind the number", "12 ft", "", measure.Of(12, measure.Feet)},
		{"unit close behind", "2qt", "", measure.Of(2, measure.Quart)},
		{"inch mark behind", `"36"""`, "", measure.Of(36, measure.InchUnit)},
		{"no decimals to show", "4.00", "ea", measure.Pieces(4)},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := readOne(t, "Part,Qty,Unit", "AN3-5A,"+c.quantity+","+c.unit).Listed
			if got != c.want {
				t.Errorf("%s %s: got %v, want %v", c.quantity, c.unit, got, c.want)
			}
		})
	}
}

func TestQuantitiesThatAreRefused(t *testing.T) {
	for _, c := range []struct{ name, quantity, unit, column, want string }{
		{"two units", "12 ft", "ea", "B", "the column of units says ea"},
		{"unknown unit behind", "12 bags", "", "B", `unit "bags"`},
		{"two commas", `"1,2,3"`, "ea", "B", "not a plain number"},
		{"nothing", "0", "ea", "B", "the quantity is 0"},
		{"below nothing", "-4", "ea", "B", "not a plain number"},
		{"too fine", "0.0000001", "lb", "B", "six decimal places"},
		{"too large", "999999999", "ea", "B", "too large"},
		{"about", "~ 20", "ea", "B", "not a plain number"},
	} {
		t.Run(c.name, func(t *testing.T) {
			list, problems := readLines(t, "Part,Qty,Unit", "AN3-5A,"+c.quantity+","+c.unit)
			if !list.Empty() || len(problems) != 1 {
				t.Fatalf("%s %s: got %d lines, %d problems; want one problem", c.quantity, c.unit, len(list.Lines), len(problems))
			}
			p := problems[0]
			if p.Row != 2 || p.Column != c.column || !strings.Contains(p.Message, c.want) {
				t.Errorf("%s %s: got %v; want row 2, column %s, %q", c.quantity, c.unit, &p, c.column, c.want)
			}
		})
	}
}

func TestDesignationsAreKeptAsPrinted(t *testing.T) {
	for _, c := range []struct{ name, cell, want string }{
		{"plain", "AN3-5A", "AN3-5A"},
		{"spaces about and inside", "  AN3 \u00a0 5A ", "AN3 5A"},
		{"small letters", "oq-10-031-l", "oq-10-031-l"},
		{"printed dashes", "AN3\u20135A\u2011X", "AN3-5A-X"},
		{"invisible characters", "AN3\u200b-5A\ufeff", "AN3-5A"},
		{"line break", "\"AN3\n5A\"", "AN3 5A"},
		{"half size", "AN426AD3-3.5", "AN426AD3-3.5"},
		{"digits alone", "0012", "0012"},
		{"digits and point", "204.0", "204.0"},
		{"looks a little like a date", "10-20-04", "10-20-04"},
		{"month in a name", "MAR-BRACKET", "MAR-BRACKET"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := readOne(t, "Part,Qty", c.cell+",1").Designation; got != c.want {
				t.Errorf("%q: got %q, want %q", c.cell, got, c.want)
			}
		})
	}
}

func TestStatuses(t *testing.T) {
	for want, inputs := range map[packinglist.Status][]string{
		packinglist.Shipped:     {"", "S", "s", "Shipped", "SHIPPED ", "packed", "included", "yes"},
		packinglist.BackOrdered: {"B", "B/O", "BO", "Back-ordered", "back ordered", "BACKORDER", "on back order"},
		packinglist.NotArrived:  {"N", "not arrived", "Not yet shipped", "NOT SHIPPED", "ships separately"},
	} {
		for _, s := range inputs {
			if got, err := packinglist.ParseStatus(s); err != nil || got != want {
				t.Errorf("ParseStatus(%q): got %v, %v; want %v", s, got, err, want)
			}
		}
		text, _ := json.Marshal(want)
		var back packinglist.Status
		if err := json.Unmarshal(text, &back); err != nil || back != want {
			t.Errorf("%v is written %s and reads as %v, %v", want, text, back, err)
		}
		if got, err := packinglist.ParseStatus(want.Letter()); err != nil || got != want {
			t.Errorf("letter %q: got %v, %v; want %v", want.Letter(), got, err, want)
		}
	}
	for _, s := range []string{"X", "SB", "lost", "0"} {
		if got, err := packinglist.ParseStatus(s); err == nil {
			t.Errorf("ParseStatus(%q): got %v, want an error", s, got)
		}
	}
	if got := readOne(t, "Part,Qty", "AN3-5A,1").Status; got != packinglist.Shipped {
		t.Errorf("no status column: got %v, want shipped", got)
	}
}

func TestRowsAmongTheLines(t *testing.T) {
	list, problems := readLines(t,
		"Osterhollow Kitworks,,", "Order:,OK-20731,", "Part,Description,Qty",
		",Crate C1,", "", "OQ-1,Rib,2", "PART,description,QTY", "OQ-2,\"Skin, left\",1", ",see drawing 4,", ",,")
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	var left []string
	for _, l := range list.LeftOut {
		left = append(left, fmt.Sprintf("%d %s: %s", l.Place.Row, l.Text, l.Why))
	}
	want := []string{
		"1 Osterhollow Kitworks: above the headings", "2 Order: OK-20731: above the headings", "4 Crate C1: names where the lines below are",
		"7 PART description QTY: the headings again", "9 see drawing 4: words among the lines",
	}
	if diff := cmp.Diff(want, left); diff != "" {
		t.Errorf("left out (-want +got):\n%s", diff)
	}
	if list.Order != "OK-20731" || list.File != "list.csv" {
		t.Errorf("got order %q, file %q", list.Order, list.File)
	}
	if len(list.Lines) != 2 || list.Lines[0].Number != 1 || list.Lines[1].Number != 2 || list.Lines[1].Row != 8 || list.Lines[1].Description != "Skin, left" {
		t.Errorf("lines: got %+v", list.Lines)
	}
}

// TestWhatIsOwed has lines sent whole, in part and not at all, where the list says
// so in a column beside the quantity.
func TestWhatIsOwed(t *testing.T) {
	for _, c := range []struct {
		name  string
		lines []string
		want  string
	}{
		{
			"numbered lines",
			[]string{"Line,Part,Qty shipped,Qty B/O,Unit", "7,OQ-1,2,1,ea", "8,OQ-2,0,3,ea", "9,OQ-3,0.25,,lb", "4,OQ-4,,2,ea", "5,OQ-5,1,0,ea"},
			"7 OQ-1 2 ea shipped; 10 OQ-1 1 ea back-ordered; 8 OQ-2 3 ea back-ordered; 9 OQ-3 0.25 lb shipped; 4 OQ-4 2 ea back-ordered; 5 OQ-5 1 ea shipped",
		},
		{
			"lines without numbers",
			[]string{"Part,Shipped,Back ordered", "OQ-1,2,1", "OQ-2,1,"},
			"1 OQ-1 2 ea shipped; 3 OQ-1 1 ea back-ordered; 2 OQ-2 1 ea shipped",
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			list, problems := readLines(t, c.lines...)
			if len(problems) > 0 {
				t.Fatal(problems)
			}
			var got []string
			for _, l := range list.Lines {
				got = append(got, fmt.Sprintf("%d %s %s %s", l.Number, l.Designation, l.Listed, l.Status))
			}
			if s := strings.Join(got, "; "); s != c.want {
				t.Errorf("got  %s\nwant %s", s, c.want)
			}
		})
	}
	for _, c := range []struct{ name, row, column string }{
		{"neither sent nor owed", "OQ-1,0,0", "B"},
		{"no number", "OQ-1,2,some", "C"},
	} {
		t.Run(c.name, func(t *testing.T) {
			list, problems := readLines(t, "Part,Qty shipped,Qty B/O", c.row)
			if !list.Empty() || len(problems) != 1 || problems[0].Column != c.column {
				t.Errorf("%q: got %v, want one problem in column %s", c.row, problems, c.column)
			}
		})
	}
}

// TestARowWithHalfALineIsNoRemark has rows that lack part number or quantity and
// yet are lines: they must not pass for remarks.
func TestARowWithHalfALineIsNoRemark(t *testing.T) {
	for _, c := range []struct{ name, row, column string }{
		{"quantity alone", ",Rib,,2", "A"},
		{"part number alone", "OQ-1,Rib,,", "D"},
		{"line number alone", ",Rib,7,", "A"},
	} {
		t.Run(c.name, func(t *testing.T) {
			list, problems := readLines(t, "Part,Description,Line,Qty", "OQ-2,Rib,1,2", c.row)
			if !list.Empty() || len(problems) == 0 || problems[0].Row != 3 {
				t.Errorf("%q: got %d lines, %v; want a problem in row 3", c.row, len(list.Lines), problems)
			}
			for _, p := range problems {
				if p.Column == c.column {
					return
				}
			}
			t.Errorf("%q: got %v; want one in column %s", c.row, problems, c.column)
		})
	}
}

func TestOrderNumbers(t *testing.T) {
	for _, c := range []struct{ name, title, want string }{
		{"with a colon", "Order: OK-20731", "OK-20731"},
		{"without", "ORDER OK-20731", "OK-20731"},
		{"number sign", "Order #20731", "20731"},
		{"in full", "Your order number: 20731, two crates", "20731"},
		{"in the next cell", "Sales order no.,OK-20731", "OK-20731"},
		{"no number", "Order form", ""},
		{"another word", "Ordered 2026", ""},
		{"none", "Packing list", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			list, problems := readLines(t, strings.Replace(c.title, ", two", " ; two", 1), "Part,Qty", "OQ-1,1")
			if len(problems) > 0 || list.Order != c.want {
				t.Errorf("%q: got %q, %v; want %q", c.title, list.Order, problems, c.want)
			}
		})
	}
}

func TestColumnsChosenByHand(t *testing.T) {
	table := open(t, "1,C1,OQ-1,2", "2,C1,OQ-2,4")
	cols := packinglist.Columns{}.With(packinglist.Designation, 3).With(packinglist.Quantity, 4).With(packinglist.LineNumber, 1)
	list, problems := readTable(table, cols)
	if len(problems) > 0 || len(list.Lines) != 2 || list.Lines[1].Designation != "OQ-2" || list.Lines[1].Number != 2 {
		t.Errorf("got %+v, %v", list.Lines, problems)
	}
	list, problems = readTable(table, cols.With(packinglist.Designation, 9))
	if !list.Empty() || len(problems) != 2 {
		t.Errorf("an empty column as part number: got %d lines, %v; want two problems", len(list.Lines), problems)
	}
}

func TestProblemsAreBounded(t *testing.T) {
	lines := []string{"Part,Qty"}
	for i := range packinglist.MaxProblems + 7 {
		lines = append(lines, fmt.Sprintf("OQ-%d,some", i))
	}
	_, problems := readLines(t, lines...)
	if len(problems) != packinglist.MaxProblems+1 {
		t.Fatalf("problems: got %d, want %d", len(problems), packinglist.MaxProblems+1)
	}
	if last := problems[packinglist.MaxProblems]; !strings.Contains(last.Error(), "7 more problems") || last.Row != 0 {
		t.Errorf("last: got %v, want it to count 7 more", &last)
	}
}

func TestFingerprint(t *testing.T) {
	base := []string{"Line,Crate,Part,Description,Qty,Unit,Status,Lot", "1,C1,OQ-1,Rib,2,ea,S,", "2,C1,OQ-2,Skin,1,ea,S,L7"}
	print := func(lines ...string) string {
		list, problems := readLines(t, lines...)
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		return list.Fingerprint()
	}
	want := print(base...)
	if len(want) != 64 {
		t.Errorf("got %q, want 64 hexadecimal digits", want)
	}
	for _, c := range []struct {
		name, old, new string
		same           bool
	}{
		{"another spelling of quantity, unit and status", "2,ea,S,", "2.0,Each,shipped,", true},
		{"spaces", "Rib", " Rib ", true},
		{"another quantity", "Rib,2", "Rib,3", false},
		{"another unit", "2,ea", "2,lb", false},
		{"another status", "2,ea,S", "2,ea,B", false},
		{"another lot", "L7", "L8", false},
		{"another crate", "1,C1", "1,C2", false},
		{"another description", "Rib", "Ribs", false},
		{"text moved between two cells", "C1,OQ-1", "C1O,Q-1", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			changed := append([]string(nil), base...)
			changed[1], changed[2] = strings.Replace(base[1], c.old, c.new, 1), strings.Replace(base[2], c.old, c.new, 1)
			if got := print(changed...); (got == want) != c.same {
				t.Errorf("%s: same fingerprint %v, want %v", changed[1], got == want, c.same)
			}
		})
	}
}

// TestTheFirstHeadingsHold has headings again on a later page, where a column that was
// blank so far has its first figures: the lines above them are still lines.
func TestTheFirstHeadingsHold(t *testing.T) {
	for _, c := range []struct{ heading, last, status string }{
		{"Back ordered", "2", "back-ordered"},
		{"Item", "1", "shipped"},
	} {
		lines := []string{"Part,Qty," + c.heading, "OQ-1,2,", "OQ-2,3,"}
		for range 12 {
			lines = append(lines, "OQ-3,1,")
		}
		lines = append(lines, "Part,Qty,"+c.heading, "OQ-4,1,"+c.last)
		list, problems := readLines(t, lines...)
		if len(problems) > 0 || len(list.Lines) < 15 || list.Lines[0].Designation != "OQ-1" || list.Lines[len(list.Lines)-1].Status.String() != c.status {
			t.Errorf("%s: got %+v, %v; want every line, the last one %s", c.heading, list.Lines, problems, c.status)
		}
	}
}

// TestARowAboveTheHeadingsIsAskedAbout has a line in the place of titles.
func TestARowAboveTheHeadingsIsAskedAbout(t *testing.T) {
	r := reading(t, packinglist.Choices{}, "OQ-1,Rib,2\nPart,Description,Qty\nOQ-2,Skin,3\n")
	if open := r.Open(); len(open) != 1 || open[0].ID != "above-headings" || open[0].Places[0].Row != 1 {
		t.Errorf("asked %+v, want about row 1", open)
	}
}

// TestOneAnswerSettlesEveryPlace answers a question about three cells.
func TestOneAnswerSettlesEveryPlace(t *testing.T) {
	const text = "Part;Qty\nOQ-1;1.200\nOQ-2;2.500\nOQ-3;24\nOQ-4;3.000\n"
	for answer, want := range map[string]string{"comma": "1200 2500 24 3000", "": "asked"} {
		r := reading(t, packinglist.Choices{Answers: map[string]string{"decimal-mark": answer}}, text)
		if answer == "" {
			if q := r.Open(); len(q) != 1 || len(q[0].Places) != 3 {
				t.Errorf("asked %+v, want one question about three cells", q)
			}
			if list, problems := r.List(); !list.Empty() || len(problems) != 1 {
				t.Errorf("with an open question: got %d lines, %v", len(list.Lines), problems)
			}
			continue
		}
		list, problems := r.List()
		got := ""
		for _, l := range list.Lines {
			got += " " + l.Listed.Plain()
		}
		if len(problems) > 0 || strings.TrimSpace(got) != want {
			t.Errorf("%s: got %s, %v; want %s", answer, got, problems, want)
		}
	}
	if r := reading(t, packinglist.Choices{Answers: map[string]string{"decimal-mark": "semicolon"}}, text); len(r.Open()) != 1 {
		t.Error("an answer that is none settles the question")
	}
}

// TestBadRowsAreMendedOrLeftOut settles one bad row in each of the two ways.
func TestBadRowsAreMendedOrLeftOut(t *testing.T) {
	const text = "Part,Qty\nOQ-1,2\nOQ-2,some\nOQ-3,4\n"
	for name, c := range map[string]packinglist.Choices{
		"OQ-1 2 ea; OQ-2 7 ea; OQ-3 4 ea": {Cells: map[packinglist.Place]string{{Row: 3, Column: 2}: "7"}},
		"OQ-1 2 ea; OQ-3 4 ea":            {LeftOut: map[packinglist.Place]bool{{Row: 3}: true}},
	} {
		list, problems := reading(t, c, text).List()
		var got []string
		for _, l := range list.Lines {
			got = append(got, l.Designation+" "+l.Listed.String())
		}
		if len(problems) > 0 || strings.Join(got, "; ") != name {
			t.Errorf("got %v, %v; want %s", got, problems, name)
		}
	}
	if r := reading(t, packinglist.Choices{}, text); len(r.Lines) != 2 || len(r.Bad) != 1 || r.Bad[0].Place.Row != 3 {
		t.Errorf("unsettled: got %d lines and %+v; want the two good ones and the bad row", len(r.Lines), r.Bad)
	}
}
