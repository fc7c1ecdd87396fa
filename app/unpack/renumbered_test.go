package unpack

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/app/demo"
	"stowright/store"
)

// said are the points: where each is, and what it says.
func said(s ListState) (points []string) {
	for _, p := range s.Points {
		points = append(points, p.Cells[0].Text+": "+p.Cells[1].Text)
	}
	return points
}

// Where more than one line of a revised list may be meant, the preview asks, keeps what was
// said in sight, and asks again; until all is said nothing can be brought in.
func TestWhichLineIsAskedInThePreview(t *testing.T) {
	b := newBench(t, demo.Furnished)
	i := b.importer()
	i.twoLists()
	const open = "line 2: Line 2, OQ-2, 5 ea in crate C1: it may be line 2 (3 ea in bag A of crate C1) or line 3 (2 ea in bag B of crate C1) of the new list, or be on it no more. Say which."
	s := i.read("third.csv", "Order: OK-1,,,,\nLine,Crate,Bag,Part,Qty\n1,C1,A,OQ-1,2\n2,C1,A,OQ-2,3\n3,C1,B,OQ-2,2\n")
	i.Settle(1) // the revised one
	s = i.State()
	if s.Ready || len(s.Points) < 2 || said(s)[1] != open || s.Points[1].Cells[2].Mark.Word != "unsure" {
		t.Fatalf("ready %v, points %q", s.Ready, said(s))
	}
	if strings.Contains(strings.Join(said(s), "\n"), "claim") {
		t.Errorf("before it is said which line it is, the claim is worked out: %q", said(s))
	}
	choose := func(point, way int) {
		i.ChoosePoint(point)
		i.Settle(way)
		b.queue.Drain()
		s = i.State()
	}
	choose(1, 3)
	if !s.Ready || said(s)[1] != "as you said: Line 2, OQ-2, is on the new list no more." {
		t.Errorf("ready %v, points %q", s.Ready, said(s))
	}
	i.ShowPoints()
	choose(1, 1)
	if s.Ready || said(s)[1] != open {
		t.Errorf("asked again: ready %v, points %q", s.Ready, said(s))
	}
	choose(1, 2)
	if want := []string{"as you said: Line 2, OQ-2, is line 3 of the new list.", "line 2: OQ-2: added, 3 ea."}; !s.Ready || !strings.HasPrefix(strings.Join(said(s)[1:], "\n"), want[0]) || !strings.Contains(strings.Join(said(s), "\n"), want[1]) {
		t.Errorf("ready %v, points %q, want %q", s.Ready, said(s), want)
	}
	i.Confirm("", "")
	b.queue.Drain()
	lines, err := b.s.Shop.Lines(i.ship.ID)
	if err != nil {
		t.Fatal(err)
	}
	if l := lines[2]; l.Number() != 3 || l.ID != 2 || l.Finding == nil || lines[1].Finding != nil {
		t.Errorf("the lines are %+v", lines)
	}
}

// Lines that are under other numbers are said one by one, behind all that differs, and an
// answer about a line is dropped when the list is read in another way.
func TestRenumberedLinesInThePreview(t *testing.T) {
	b := newBench(t, demo.Furnished)
	i := b.importer()
	i.twoLists()
	s := i.read("third.csv", "Order: OK-1,,,\nLine,Crate,Part,Qty\n1,C1,OQ-3,1\n2,C1,OQ-1,2\n3,C1,OQ-2,5\n")
	want := []string{"line 1: OQ-3: added, 1 ea.", "line 2: Line 2 was 1: OQ-1.", "line 3: Line 3 was 2: OQ-2.", "row 1: Left out, above the headings: Order: OK-1"}
	if diff := cmp.Diff(want, said(s)[1:]); diff != "" {
		t.Errorf("the points:\n%s", diff)
	}
	i.tell(told{line: 1, is: 2})
	b.queue.Drain()
	i.Headings()
	b.queue.Drain()
	if len(i.told) != 0 {
		t.Errorf("answers that are left: %+v", i.told)
	}
}

// The line in hand, what was ticked of it and what was typed at it follow the line, and not
// its number.
func TestTheLineInHandFollowsItsLine(t *testing.T) {
	b := newBench(t, demo.Arrived)
	b.to(39)
	b.keys("L")
	if !b.m.looked[39] {
		t.Fatal("nothing is ticked")
	}
	b.revise(func(lines []store.NewLine) []store.NewLine {
		first := lines[0]
		first.Number, first.Designation, first.Title = 1, "OQ-10-999", "Fin cap"
		for i := range lines {
			lines[i].Number++
		}
		return append([]store.NewLine{first}, lines...)
	})
	s := b.m.State()
	if s.Current.Designation != "AN3-5A" || s.Current.Number != 40 || !strings.Contains(s.Current.Ticks, "✓ checked for damage") {
		t.Fatalf("in hand is %+v", s.Current)
	}
	if row := s.Lines[s.Line]; row.Cells[0].Text != "40" || row.Cells[1].Text != "AN3-5A" {
		t.Errorf("its row says %+v", row)
	}
	b.keys("A")
	l, err := b.s.Shop.LineNumbered(b.m.data.ship.ID, 40)
	if err != nil || l.ID != 39 || l.Finding == nil || !l.Finding.Looked {
		t.Errorf("line 40 is %+v, %v", l, err)
	}
	if first := b.m.data.lines[0]; first.Finding != nil || first.Number() != 1 {
		t.Errorf("line 1 is %+v", first)
	}
}
