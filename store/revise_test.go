package store_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/measure"
)

// TestReviseList has each way in which a line can differ. A line is given as "number part
// quantity title", and what was found of it behind a bar.
func TestReviseList(t *testing.T) {
	found := func(n int64) *store.Finding { return &store.Finding{Found: measure.Pieces(n), Counted: true} }
	came := func(part string, n int64) *store.Finding {
		return &store.Finding{Found: measure.Pieces(0), Counted: true, Came: &store.Came{Designation: part, Quantity: measure.Pieces(n), LotName: "L-3"}}
	}
	was := func(number int, part string, n int64, f *store.Finding) store.Line {
		return store.Line{ID: store.LineID(number), Crate: "C1", Group: "H1", Place: "bag", Designation: part, Title: "Bolt", Listed: measure.Pieces(n), Status: store.Shipped, Finding: f}
	}
	now := func(number int, part string, n int64) store.NewLine {
		return store.NewLine{Number: number, Crate: "C1", Group: "H1", Designation: part, Title: "Bolt", Listed: measure.Pieces(n), Status: store.Shipped}
	}
	with := func(l store.NewLine, change func(*store.NewLine)) store.NewLine { change(&l); return l }
	extra := was(9, "AN3-11A", 0, found(4))
	extra.Extra = true
	for _, row := range []struct {
		name    string
		was     []store.Line
		now     []store.NewLine
		changes string
		after   string
	}{
		{"the same", []store.Line{was(1, "AN3-5A", 24, found(20))}, []store.NewLine{now(1, "AN3-5A", 24)}, "", "1 AN3-5A 24 ea, found 20 ea"},
		{"another quantity", []store.Line{was(1, "AN3-5A", 24, found(20))}, []store.NewLine{now(1, "AN3-5A", 20)}, "AN3-5A: 20 ea, was 24 ea", "1 AN3-5A 20 ea, found 20 ea"},
		{"another number on the list", []store.Line{was(1, "AN3-5A", 24, found(20))}, []store.NewLine{now(1, "AN3-4A", 8), now(2, "AN3-5A", 24)}, "AN3-4A: added, 8 ea; line 2 was 1: AN3-5A", "1 AN3-4A 8 ea; 2 AN3-5A 24 ea, found 20 ea"},
		{"gone, not checked", []store.Line{was(1, "AN3-5A", 24, nil), was(2, "AN3-6A", 1, nil)}, []store.NewLine{now(2, "AN3-6A", 1)}, "AN3-5A: not on this list, was 24 ea", "1 AN3-5A 0 ea off the list; 2 AN3-6A 1 ea"},
		{"gone, and found", []store.Line{was(1, "AN3-5A", 24, found(20))}, []store.NewLine{now(2, "AN3-6A", 1)}, "AN3-6A: added, 1 ea; AN3-5A: not on this list, was 24 ea", "1 AN3-5A 0 ea over, found 20 ea; 2 AN3-6A 1 ea"},
		{"gone, and none was found", []store.Line{was(1, "AN3-5A", 24, found(0))}, []store.NewLine{now(2, "AN3-6A", 1)}, "AN3-6A: added, 1 ea; AN3-5A: not on this list, was 24 ea", "1 AN3-5A 0 ea off the list, found 0 ea; 2 AN3-6A 1 ea"},
		{"a revision letter, not checked", []store.Line{was(1, "OQ-20-A", 1, nil)}, []store.NewLine{now(4, "OQ-20-B", 1)}, "OQ-20-B: 1 ea, was OQ-20-A, 1 ea; line 4 was 1", "4 OQ-20-B 1 ea"},
		{"a revision letter, and the old one was found", []store.Line{was(1, "OQ-20-A", 1, found(1))}, []store.NewLine{now(1, "OQ-20-B", 1)}, "OQ-20-B: 1 ea, was OQ-20-A, 1 ea; line 2 was 1: OQ-20-A", "1 OQ-20-B 1 ea; 2 OQ-20-A 0 ea over, found 1 ea"},
		{"a revision letter, and the new one came", []store.Line{was(1, "OQ-20-A", 1, came("OQ-20-B", 1))}, []store.NewLine{now(1, "OQ-20-B", 1)}, "OQ-20-B: 1 ea, was OQ-20-A, 1 ea", "1 OQ-20-B 1 ea, found 1 ea"},
		{"hands are no revisions", []store.Line{was(1, "OQ-31-L", 3, nil)}, []store.NewLine{with(now(1, "OQ-31-R", 3), func(l *store.NewLine) { l.Title = "Hinge right" })}, "OQ-31-R: added, 3 ea; OQ-31-L: not on this list, was 3 ea; it is line 2 now, and was 1", "1 OQ-31-R 3 ea; 2 OQ-31-L 0 ea off the list"},
		{"another number on the same line", []store.Line{was(1, "AN960-10", 12, nil)}, []store.NewLine{now(1, "NAS1149F0363P", 12)}, "NAS1149F0363P: 12 ea, was AN960-10, 12 ea", "1 NAS1149F0363P 12 ea"},
		{
			"another number between the same neighbours of a list that shifted",
			[]store.Line{was(1, "AN310-3", 4, nil), was(2, "AN960-10", 12, nil), was(3, "AN3-5A", 24, nil)},
			[]store.NewLine{now(4, "AN3-5A", 24), now(3, "NAS1149F0363P", 12), now(2, "AN310-3", 4), now(1, "AN3-9A", 1)},
			"NAS1149F0363P: 12 ea, was AN960-10, 12 ea; line 3 was 2; AN3-9A: added, 1 ea; line 4 was 3: AN3-5A; line 2 was 1: AN310-3",
			"1 AN3-9A 1 ea; 2 AN310-3 4 ea; 3 NAS1149F0363P 12 ea; 4 AN3-5A 24 ea",
		},
		{
			"the number of another line of a list that shifted",
			[]store.Line{was(1, "AN310-3", 4, nil), was(2, "AN3-5A", 24, nil)},
			[]store.NewLine{now(1, "MS24665-132", 2), now(2, "AN3-9A", 24), now(3, "AN310-3", 4)},
			"MS24665-132: added, 2 ea; AN3-9A: added, 24 ea; AN3-5A: not on this list, was 24 ea; it is line 4 now, and was 2; line 3 was 1: AN310-3",
			"1 MS24665-132 2 ea; 2 AN3-9A 24 ea; 3 AN310-3 4 ea; 4 AN3-5A 0 ea off the list",
		},
		{"back-ordered now", []store.Line{was(1, "AN3-5A", 24, nil)}, []store.NewLine{with(now(1, "AN3-5A", 24), func(l *store.NewLine) { l.Status = store.BackOrdered })}, "AN3-5A: back-ordered, was shipped", "1 AN3-5A 24 ea back-ordered"},
		{"in another bag", []store.Line{was(1, "AN3-5A", 24, nil)}, []store.NewLine{with(now(1, "AN3-5A", 20), func(l *store.NewLine) { l.Crate, l.Group = "C2", "" })}, "AN3-5A: 20 ea, was 24 ea; crate C2, was C1; bag none, was H1", "1 AN3-5A 20 ea in C2"},
		{"found, and in another bag", []store.Line{was(1, "AN3-5A", 24, found(24))}, []store.NewLine{with(now(1, "AN3-5A", 24), func(l *store.NewLine) { l.Group = "H2" })}, "AN3-5A: in bag H2 of crate C1 on the new list, found in bag H1 of crate C1: what was found stays where it is; see whether more lies there", "1 AN3-5A 24 ea, found 24 ea"},
		{"found, and in another crate", []store.Line{was(1, "AN3-5A", 24, found(24))}, []store.NewLine{with(now(1, "AN3-5A", 20), func(l *store.NewLine) { l.Crate, l.Group = "C2", "" })}, "AN3-5A: 20 ea, was 24 ea; in crate C2 on the new list, found in bag H1 of crate C1: what was found stays where it is; see whether more lies there", "1 AN3-5A 20 ea over, found 24 ea"},
		{"found, and in a bag of that name in another crate", []store.Line{was(1, "AN3-5A", 24, found(24))}, []store.NewLine{with(now(1, "AN3-5A", 24), func(l *store.NewLine) { l.Crate = "C2" })}, "AN3-5A: in bag H1 of crate C2 on the new list, found in bag H1 of crate C1: what was found stays where it is; see whether more lies there", "1 AN3-5A 24 ea, found 24 ea"},
		{"found on no list, and listed in another bag", []store.Line{extra}, []store.NewLine{with(now(2, "AN3-11A", 4), func(l *store.NewLine) { l.Group = "" })}, "AN3-11A: 4 ea, found before though it was on no list; line 2 was 9", "2 AN3-11A 4 ea, found 4 ea"},
		{"found, and of another lot", []store.Line{was(1, "AN3-5A", 24, found(24))}, []store.NewLine{with(now(1, "AN3-5A", 24), func(l *store.NewLine) { l.Lot = "Q7" })}, "AN3-5A: lot Q7 on the new list, found as lot unknown: look at the bag", "1 AN3-5A 24 ea, found 24 ea"},
		{"found by another unit", []store.Line{was(1, "AN470AD4-5", 9, found(9))}, []store.NewLine{with(now(1, "AN470AD4-5", 1), func(l *store.NewLine) { l.Listed = measure.Of(1, measure.Pound) })}, "AN470AD4-5: added, 1 lb; AN470AD4-5: not on this list, was 9 ea; it is line 2 now, and was 1", "1 AN470AD4-5 1 lb; 2 AN470AD4-5 0 ea over, found 9 ea"},
		{"found on no list, and listed now", []store.Line{was(1, "AN3-5A", 1, nil), extra}, []store.NewLine{now(1, "AN3-5A", 1), now(2, "AN3-11A", 4)}, "AN3-11A: 4 ea, found before though it was on no list; line 2 was 9", "1 AN3-5A 1 ea; 2 AN3-11A 4 ea, found 4 ea"},
		{"found on no list, and listed in another crate", []store.Line{was(1, "AN3-5A", 1, nil), extra}, []store.NewLine{now(1, "AN3-5A", 1), with(now(2, "AN3-11A", 4), func(l *store.NewLine) { l.Crate = "C2" })}, "AN3-11A: added, 4 ea", "1 AN3-5A 1 ea; 2 AN3-11A 4 ea in C2; 9 AN3-11A 0 ea over, found 4 ea"},
		{"one number on two lines", []store.Line{was(1, "MS24665-132", 12, found(12)), was(2, "MS24665-132", 4, found(4))}, []store.NewLine{now(1, "AN3-5A", 1), now(2, "MS24665-132", 4), now(3, "MS24665-132", 12)}, "AN3-5A: added, 1 ea; line 3 was 1: MS24665-132", "1 AN3-5A 1 ea; 2 MS24665-132 4 ea, found 4 ea; 3 MS24665-132 12 ea, found 12 ea"},
	} {
		t.Run(row.name, func(t *testing.T) {
			r, err := store.ReviseList(store.OldLines{Lines: row.was}, row.now, nil)
			if err != nil {
				t.Fatal(err)
			}
			var changes, after []string
			for _, c := range append(r.Changes, r.Renumbered...) {
				changes = append(changes, c.String())
			}
			for _, l := range r.After {
				words := fmt.Sprintf("%d %s %s", l.Number(), l.Designation, l.Listed)
				if s := l.State(true); s == store.OffList || s == store.BackOrder || s == store.Over {
					words += " " + string(s)
				}
				if l.Place == "" && l.Crate != "C1" {
					words += " in " + l.Crate
				}
				if l.Finding != nil {
					words += ", found " + l.Finding.Found.String()
				}
				after = append(after, words)
			}
			if got := strings.Join(changes, "; "); got != row.changes {
				t.Errorf("changes:\n got %s\nwant %s", got, row.changes)
			}
			if got := strings.Join(after, "; "); got != row.after {
				t.Errorf("after:\n got %s\nwant %s", got, row.after)
			}
		})
	}
}

// revisedList is the small list as its supplier corrected it: fewer of line 2, the rudder
// horn of the revision that came, no nuts, and a bag of washers.
func revisedList() store.NewShipment {
	list := smallList()
	list.File, list.Fingerprint = "second.csv", "second"
	list.Lines[1].Listed = measure.Pieces(12)
	list.Lines[3].Designation = "OQ-20-040-A"
	list.Lines[6] = store.NewLine{Number: 7, Crate: "C1", Group: "H105", Designation: "NAS1149F0363P", Title: "Washer", Listed: measure.Pieces(150), Status: store.Shipped}
	return list
}

// A revised list keeps what was checked, says what the claim loses, and is undone whole.
func TestARevisedListTakesThePlaceOfTheOther(t *testing.T) {
	w := newWorld(t)
	for number, f := range map[int]store.Finding{
		1: found(24), 2: found(12), 7: found(20),
		4: {Found: measure.Pieces(0), Counted: true, Note: "stamped A", Came: &store.Came{Designation: "OQ-20-040-A", Quantity: measure.Pieces(1), Revision: true}},
	} {
		w.must(second(w.Receive(w.ship, store.LineID(number), f)))
	}
	before, err := w.Lines(w.ship)
	w.must(err)
	stock := w.stock()
	list := revisedList()
	list.Revises = w.ship
	of, err := w.Shipment(w.ship)
	w.must(err)
	said, err := w.Revision(of, list)
	w.must(err)
	lost, gained := said.Claims()
	claimed := func(list []store.Claimed) (words []string) {
		for _, c := range list {
			words = append(words, fmt.Sprint(c.Line, " ", c.Kind, ": ", c.Words))
		}
		return words
	}
	if diff := cmp.Diff([]string{"2 short: listed 16, found 12: 4 short", "4 wrong: 1 OQ-20-040-A came: wrong revision, stamped A"}, claimed(lost)); diff != "" {
		t.Errorf("the claim loses:\n%s", diff)
	}
	if diff := cmp.Diff([]string{"7 surplus: 20 came that the list does not have"}, claimed(gained)); diff != "" {
		t.Errorf("the claim gains:\n%s", diff)
	}
	ship, fresh, err := w.Import(list)
	w.must(err)
	if !fresh || ship.ID != w.ship || ship.File != "second.csv" || len(ship.Revised) != 1 || ship.Revised[0].File != "list.csv" {
		t.Errorf("got %+v, new %v; want the shipment there was, by the new list", ship, fresh)
	}
	after, err := w.Lines(w.ship)
	w.must(err)
	if diff := cmp.Diff(before[0], after[0]); diff != "" {
		t.Errorf("a line that stays is otherwise:\n%s", diff)
	}
	var states []string
	for _, l := range after {
		states = append(states, fmt.Sprintf("%d %s %s", l.Number(), l.Designation, l.Describe(l.Crate == "C1")))
	}
	want := []string{
		"1 AN3-5A all here", "2 AN3-6A all here", "3 AN426AD3-3.5 to check", "4 OQ-20-040-A all here", "5 OQ-30-033 back-ordered",
		"6 OQ-50-010-L not arrived", "7 NAS1149F0363P to check", "8 MS21042-3 +20 over",
	}
	if diff := cmp.Diff(want, states); diff != "" {
		t.Errorf("the lines:\n%s", diff)
	}
	if diff := cmp.Diff(strings.ReplaceAll(strings.Join(stock, "\n"), " (set apart)", ""), strings.Join(w.stock(), "\n")); diff != "" {
		t.Errorf("more became of the stock than that the horn is good:\n%s", diff)
	}
	for _, known := range []store.NewShipment{smallList(), revisedList()} {
		if again, fresh, err := w.Import(known); err != nil || fresh || again.ID != w.ship {
			t.Errorf("%s once more: %v, new %v, %v; want the shipment there was", known.File, again.ID, fresh, err)
		}
	}
	w.must(second(w.Undo()))
	back, err := w.Lines(w.ship)
	w.must(err)
	if diff := cmp.Diff(before, back); diff != "" {
		t.Errorf("undone, the lines are otherwise:\n%s", diff)
	}
	if diff := cmp.Diff(stock, w.stock()); diff != "" {
		t.Errorf("undone, the stock is otherwise:\n%s", diff)
	}
}

// What would mix two numbers up is refused, and nothing has happened then.
func TestRevisedListRefusals(t *testing.T) {
	t.Parallel()
	wrong := store.Finding{Found: measure.Pieces(0), Counted: true, Came: &store.Came{Designation: "OQ-20-040-A", Quantity: measure.Pieces(2), Revision: true}}
	both := wrong
	both.Found = measure.Pieces(1)
	for _, row := range []struct {
		name     string
		finding  store.Finding
		change   func(w world, list *store.NewShipment)
		kind     store.Kind
		sentence string
	}{
		{"found under both numbers", both, nil, store.Conflict, "Of line 4 both OQ-20-040-B and OQ-20-040-A were found, and the new list names one of them: correct what was found of it first."},
		{"no such list", wrong, func(_ world, list *store.NewShipment) { list.Revises = "x" }, store.NotFound, "That packing list is not in this shop: bring it in first."},
		{"a bad line", wrong, func(_ world, list *store.NewShipment) { list.Lines[0].Number = 0 }, store.Invalid, "Line number 0 of second.csv is not a number from 1 to 900000 that occurs once: correct the list."},
	} {
		t.Run(row.name, func(t *testing.T) {
			w := newWorld(t)
			w.must(second(w.Receive(w.ship, 4, row.finding)))
			list := revisedList()
			list.Revises = w.ship
			if row.change != nil {
				row.change(w, &list)
			}
			newest, err := w.Newest()
			w.must(err)
			_, _, err = w.Import(list)
			wantRefusal(t, err, row.kind, row.sentence)
			if now, _ := w.Newest(); now != newest {
				t.Errorf("entry %d was written all the same", now)
			}
		})
	}
}

// What came in place of a line and is what the new list names is good wherever it lies: it
// was stowed long before a revised list came. What else is set apart stays so.
func TestWhatCameIsGoodWhereItLies(t *testing.T) {
	w := newWorld(t)
	horns := func(n int64) *store.Came {
		return &store.Came{Designation: "OQ-20-040-A", Quantity: measure.Pieces(n), Revision: true}
	}
	w.must(second(w.Receive(w.ship, 4, store.Finding{Counted: true, Found: measure.Pieces(0), Came: horns(3)})))
	w.must(second(w.Receive(w.ship, 1, store.Finding{Counted: true, Found: measure.Pieces(24), Came: horns(2)})))
	k := w.heap("OQ-20-040-A", "", "SK20")
	k.Condition = store.SetApart
	w.must(second(w.Move(store.Transfer{StockKey: k, To: w.place["S1"], Quantity: measure.Pieces(2)})))
	k.Place = w.place["S1"]
	w.must(second(w.Count(k, measure.Pieces(2))))
	heaps, err := w.Contents(w.place["S1"])
	w.must(err)
	bent := heaps[0].StockKey
	bent.Condition = store.Damaged
	w.must(second(w.Count(bent, measure.Pieces(1))))
	list := revisedList()
	list.Revises = w.ship
	w.must(third(w.Import(list)))
	var horn []string
	for _, line := range w.stock() {
		if strings.HasPrefix(line, "OQ-20-040-A") {
			horn = append(horn, line)
		}
	}
	want := []string{"OQ-20-040-A (damaged) in Garage, S1: 1 ea", "OQ-20-040-A (set apart) in C1, H103: 2 ea", "OQ-20-040-A in C1, SK20: 1 ea", "OQ-20-040-A in Garage, S1: 2 ea"}
	if diff := cmp.Diff(want, horn); diff != "" {
		t.Errorf("the horns:\n%s", diff)
	}
	k.Condition = store.Good
	if counted, found, err := w.LastCounted(w.heap("OQ-20-040-A", "", "S1")); err != nil || !found || counted.Hand == "" {
		t.Errorf("they were counted in S1, and are %+v, %v, %v", counted, found, err)
	}
}

// TestRevisionsKeepTheLedger brings lists in at random over lines that were checked at
// random: what was found of a number is the same before and after, in the lines and in the
// stock, and no number is given twice. The shop is checked at the end.
func TestRevisionsKeepTheLedger(t *testing.T) {
	t.Parallel()
	w := newWorld(t)
	parts := []string{"AN3-5A", "AN3-6A", "MS21042-3", "OQ-20-040-B", "OQ-20-040-C", "OQ-7"}
	r := rand.New(rand.NewPCG(1, 2))
	for round := range 60 {
		lines, err := w.Lines(w.ship)
		w.must(err)
		if l := lines[r.IntN(len(lines))]; l.Crate == "C1" && l.Listed.Unit == measure.Each {
			f := found(r.Int64N(9))
			if f.Found.IsZero() && !strings.HasPrefix(l.Designation, "OQ-20") {
				f.Came = &store.Came{Designation: "AN3-11A", Quantity: measure.Pieces(2)}
			}
			w.must(second(w.Receive(w.ship, l.ID, f)))
		}
		list := smallList()
		list.Fingerprint, list.Revises, list.Lines = fmt.Sprint("round ", round), w.ship, nil
		for n := range 1 + r.IntN(8) {
			list.Lines = append(list.Lines, store.NewLine{
				Number: n + 1 + r.IntN(2)*10, Crate: "C1", Group: "H103", Designation: parts[r.IntN(len(parts))], Title: "Bolt", Listed: measure.Pieces(r.Int64N(30)), Status: store.Shipped,
			})
		}
		list.Told = w.anyAnswers(r, list)
		before, stock := w.foundOf(), w.stock()
		w.must(third(w.Import(list)))
		if diff := cmp.Diff(before, w.foundOf()); diff != "" {
			t.Fatalf("round %d: what was found is otherwise:\n%s", round, diff)
		}
		if diff := cmp.Diff(stock, w.stock()); diff != "" {
			t.Fatalf("round %d: the stock is otherwise:\n%s", round, diff)
		}
		if r.IntN(3) == 0 {
			w.must(second(w.Undo()))
		}
	}
}

// anyAnswers say of the lines that are asked about that they are any of those they could be.
func (w world) anyAnswers(r *rand.Rand, list store.NewShipment) map[store.LineID]int {
	w.t.Helper()
	told, used := map[store.LineID]int{}, map[int]bool{}
	for {
		list.Told = told
		of, err := w.Shipment(w.ship)
		w.must(err)
		revision, err := w.Revision(of, list)
		w.must(err)
		if len(revision.Asked) == 0 {
			return told
		}
		for _, q := range revision.Asked {
			told[q.Was.ID] = 0
			if b := q.Could[r.IntN(len(q.Could))]; !used[b.Number] {
				told[q.Was.ID], used[b.Number] = b.Number, true
			}
		}
	}
}

// foundOf is how much was found of each number, on all lines.
func (w world) foundOf() map[string]int64 {
	w.t.Helper()
	lines, err := w.Lines(w.ship)
	w.must(err)
	all := map[string]int64{}
	for _, l := range lines {
		if l.Finding != nil && l.Finding.Found.Sign() > 0 {
			all[l.Designation] += l.Finding.Found.Micro
		}
	}
	return all
}
