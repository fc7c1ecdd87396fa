package unpack

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"stowright/app/notice"
	"stowright/store"
	"stowright/store/measure"
	"stowright/store/packinglist"
)

func titles(c Claim) (all []string) {
	for _, s := range c.Sections {
		all = append(all, s.Title)
	}
	return all
}

// A claim has the sections that it has lines for, and says so where it has none.
func TestSectionsOfAClaim(t *testing.T) {
	none := small().claim()
	if got := none.Text(); len(none.Sections) > 0 || !strings.HasSuffix(got, "\nNothing to claim.\n") || !strings.HasPrefix(got, "Claim for order OK-1\nCrate C1 came 14 March 2026.\n") {
		t.Errorf("nothing found wrong: %q\n%s", titles(none), got)
	}
	for _, row := range []struct {
		name string
		f    store.Finding
		want []string
	}{
		{"all here", store.Finding{Found: measure.Pieces(12), Counted: true}, nil},
		{"short", store.Finding{Found: measure.Pieces(11), Counted: true}, []string{"Short"}},
		{"over", store.Finding{Found: measure.Pieces(13), Counted: true}, []string{"Surplus"}},
		{"damaged and short", store.Finding{Found: measure.Pieces(11), Damaged: measure.Pieces(1), Counted: true}, []string{"Short", "Damaged"}},
		{"damaged of more than listed", store.Finding{Found: measure.Pieces(13), Damaged: measure.Pieces(1), Counted: true}, []string{"Damaged", "Surplus"}},
		{"another revision", store.Finding{Found: measure.Pieces(0), Came: came("AN3-4B", 12, true), Counted: true}, []string{"Wrong item or revision"}},
	} {
		c := small().with(1, row.f).claim()
		if got := titles(c); !slices.Equal(got, row.want) {
			t.Errorf("%s: sections %q, want %q\n%s", row.name, got, row.want, c.Text())
		}
		for _, s := range c.Sections {
			if len(s.Lines) != 1 || s.Lines[0].Number != 1 || s.Lines[0].Sent != "" {
				t.Errorf("%s: %s has %+v", row.name, s.Title, s.Lines)
			}
		}
		if sent, unsent := c.sent(); sent != 0 || unsent != len(row.want) {
			t.Errorf("%s: %d sent, %d not", row.name, sent, unsent)
		}
	}
}

// A photograph that stands in two sections is sent once.
func TestPhotographsOfAClaim(t *testing.T) {
	d := small().with(1, store.Finding{Found: measure.Pieces(11), Damaged: measure.Pieces(1), Counted: true})
	d.photos[1] = []store.Photo{{Number: 4}, {Number: 7}}
	d.crates["C1"] = []store.Photo{{Number: 2}}
	c := d.claim()
	var names []string
	for _, p := range c.Photos() {
		names = append(names, p.Name())
	}
	if want := []string{"P-2", "P-4", "P-7"}; !slices.Equal(names, want) {
		t.Errorf("photographs %q, want %q", names, want)
	}
	if got := c.Sections[0].Lines[0].PhotoWords(); got != "2 photographs: P-4, P-7" {
		t.Errorf("the line says %q", got)
	}
	if !strings.Contains(c.Text(), "1 photograph: P-2.") || (ClaimLine{}).PhotoWords() != "" {
		t.Errorf("the claim says\n%s", c.Text())
	}
}

// What was sent and answered is said of the line; what came later is new.
func TestWhatWasSentIsSaid(t *testing.T) {
	for _, row := range []struct {
		sent, unsent int
		want         string
	}{{0, 3, ""}, {0, 0, ""}, {3, 0, "Everything on this claim was sent."}, {3, 1, "1 line is new"}, {1, 2, "2 lines are new"}} {
		if got := sentNote(row.sent, row.unsent); !strings.HasPrefix(got, row.want) || (row.want == "") != (got == "") {
			t.Errorf("%d sent, %d not: %q, want %q", row.sent, row.unsent, got, row.want)
		}
	}
}

// A way that was taken says so, and each has the digit of its key.
func TestWaysOfAPoint(t *testing.T) {
	p := point{at: "row 2", text: "Which?", open: true, ways: []way{{words: "Pounds"}, {words: "Pieces", chosen: true}}}
	if got := p.words(); !slices.Equal(got, []string{"Pounds", "Pieces (chosen)"}) {
		t.Errorf("ways: %q", got)
	}
	rows := pointRows([]point{p, {text: "Left out", more: "the row", state: notice.Mark{Word: "left out"}, ways: p.ways}})
	if got := rows[0].Cells[1].Sub; got != "1 Pounds · 2 Pieces (chosen)" {
		t.Errorf("under the question: %q", got)
	}
	if got := rows[1]; got.Cells[1].Sub != "the row" || !got.Dim {
		t.Errorf("under a row that was left out: %+v, want the row itself", got)
	}
	if p.where() != "row 2: " || (point{}).where() != "" || p.tone() != notice.Stop || (point{}).tone() != notice.Quiet {
		t.Errorf("where %q, tone %v", p.where(), p.tone())
	}
}

// The samples of a column are its first values, each once, and none above the headings.
func TestSamplesOfAColumn(t *testing.T) {
	table := &packinglist.Table{}
	for i, text := range []string{"My list", "Part", "OQ-1", "OQ-10", "", "OQ-1", "OQ-2", "OQ-3"} {
		table.Rows = append(table.Rows, packinglist.Row{Number: i + 1, Cells: []string{text}})
	}
	if heading, values := sample(table, packinglist.Columns{Heading: 2}, 1); heading != "Part" || values != "OQ-1, OQ-10, OQ-2" {
		t.Errorf("heading %q, samples %q", heading, values)
	}
	if heading, values := sample(table, packinglist.Columns{}, 1); heading != "" || values != "My list, Part, OQ-1" {
		t.Errorf("without headings: %q, samples %q", heading, values)
	}
	if width(table) != 1 || width(&packinglist.Table{}) != 0 {
		t.Errorf("%d columns", width(table))
	}
}

// The list is summed up by its crates and bags; one name in two crates is two bags.
func TestSummaryOfAList(t *testing.T) {
	line := func(crate, group string) packinglist.Line { return packinglist.Line{Crate: crate, Group: group} }
	for _, row := range []struct {
		lines []packinglist.Line
		want  string
	}{
		{nil, "no line could be read"},
		{[]packinglist.Line{line("C1", "")}, "1 line in 1 crate"},
		{[]packinglist.Line{line("C1", "B1"), line("C1", "B1"), line("C1", "")}, "3 lines in 1 crate and 1 bag"},
		{[]packinglist.Line{line("C1", "B1"), line("C2", "B1")}, "2 lines in 2 crates and 2 bags"},
	} {
		if got := summary(row.lines); got != row.want {
			t.Errorf("%d lines: %q, want %q", len(row.lines), got, row.want)
		}
	}
}

// Figures of nothing are not shown, and what is no count is not taken for one.
func TestNothingIsNotShown(t *testing.T) {
	d := small()
	d.ship.Deliveries[0].Crates = []string{"C1", "C2"}
	d.workOut()
	s := d.side()
	if s.Crates != "" || len(s.Tallies) != len(states) {
		t.Errorf("all has come and nothing is extra: crates %q, %d totals, want %d", s.Crates, len(s.Tallies), len(states))
	}
	if sub := d.lineRow(*d.line(1)).Cells[1].Sub; strings.Contains(sub, "photograph") {
		t.Errorf("without photographs the row says %q", sub)
	}
	if !partial(store.Line{Finding: &store.Finding{}}) {
		t.Error("what another bag gave is taken for a count")
	}
	for name, l := range map[string]store.Line{
		"not found yet":      {},
		"counted":            {Finding: &store.Finding{Counted: true}},
		"another came":       {Finding: &store.Finding{Came: came("X", 1, false)}},
		"not on the list":    {Extra: true, Finding: &store.Finding{}},
		"not on it, counted": {Extra: true, Finding: &store.Finding{Counted: true}},
	} {
		if partial(l) {
			t.Errorf("%s: taken for what another bag gave", name)
		}
	}
	d.lines[1].Listed = measure.Quantity{Micro: 3_000_000, Unit: measure.Pound}
	if got := d.mightBe("an35a", d.lines[0]); len(got) != 1 || got[0].id != "typed" {
		t.Errorf("pieces are put to a line by weight: %+v", got)
	}
	if strings.Contains(d.hint(d.lines[0]), "set apart") {
		t.Errorf("hint: %q", d.hint(d.lines[0]))
	}
	d.apart[bagged{"b1", "AN3-4A"}] = true
	if !strings.Contains(d.hint(d.lines[0]), "set apart") {
		t.Errorf("hint of what is set apart: %q", d.hint(d.lines[0]))
	}
}

func TestClaimPath(t *testing.T) {
	for order, want := range map[string]string{"OK-20731": "claim-OK-20731.txt", "": "claim.txt", "7/12 é": "claim-7-12-é.txt", `..\x`: "claim----x.txt"} {
		if got := claimPath("dir", order); got != filepath.Join("dir", want) {
			t.Errorf("order %q: %s, want %s", order, got, want)
		}
	}
}
