package unpack

import (
	"strings"
	"testing"
	"time"

	"stowright/app/demo"
	"stowright/store"
	"stowright/store/measure"
)

// arrival opens the arrival form of the bench's shipment.
func (b *bench) arrival() *ArrivalModel {
	entered := ""
	m := NewArrivalModel(b.s, b.m.data.ship.ID, func(ArrivalState) {}, func(id string) { entered = id })
	m.Load()
	b.queue.Drain()
	b.t.Cleanup(func() {
		if m.State().Missing == "" && entered == "" {
			b.t.Error("an arrival was complete and never entered")
		}
	})
	return m
}

func notices(m *ArrivalModel) string {
	var lines []string
	for _, n := range m.State().Dates {
		lines = append(lines, n.Lead+" "+n.Text)
	}
	return strings.Join(lines, "\n")
}

// Story 1: two claim clocks per delivery, from its own paperwork.
func TestStoryOneClocks(t *testing.T) {
	b := newBench(t, demo.Furnished)
	b.clock.Set(demo.ArrivalDay)
	if _, err := demo.Import(b.s.Shop); err != nil {
		t.Fatal(err)
	}
	b.queue.Drain()
	m := b.arrival()
	if got := m.State().Day; got != "14 March 2026" {
		t.Errorf("proposed day: got %q, want the shop's own", got)
	}
	if m.State().Damage != (Days{}) || m.State().Shortage != (Days{}) {
		t.Error("days to claim are proposed: none may be assumed")
	}
	m.Toggle(0)
	m.Toggle(1)
	if got := m.State().Missing; !strings.Contains(got, "damage") {
		t.Errorf("without days: %q, want that the days for damage are asked for", got)
	}
	m.SetDamage(Days{Text: "5"})
	m.SetShortage(Days{Text: "30"})
	want := "Damage: report by Thu 19 March 2026, 5 days left\nShortages: report by Mon 13 April 2026, 30 days left"
	if got := notices(m); got != want {
		t.Errorf("before Enter: got\n%s\nwant\n%s", got, want)
	}
	m.Confirm()
	b.queue.Drain()

	b.clock.Set(time.Date(2026, 3, 18, 9, 0, 0, 0, time.UTC))
	b.open("")
	b.wantClocks("18 March", "Damage: by Thu 19 March, 1 day left", "Shortages: by Mon 13 April, 26 days left")

	b.clock.Set(time.Date(2026, 4, 2, 9, 0, 0, 0, time.UTC))
	m = b.arrival()
	if c := m.State().Crates; len(c) != 1 || c[0].Name != "C3" || !c[0].Chosen {
		t.Errorf("crates that may have come: got %+v, want C3 alone, chosen", c)
	}
	m.SetDamage(Days{Text: "5"})
	m.SetShortage(Days{Text: "30"})
	if got, want := notices(m), "Damage: report by Tue 7 April 2026, 5 days left\nShortages: report by Sat 2 May 2026, 30 days left"; got != want {
		t.Errorf("C3: got\n%s\nwant\n%s", got, want)
	}
	m.Confirm()
	b.queue.Drain()
	b.open("")
	b.wantClocks("2 April",
		"C1, C2 damage: was to be sent by Thu 19 March 2026; ask the supplier all the same, or give it up", "C1, C2 shortages: by Mon 13 April, 11 days left",
		"C3 damage: by Tue 7 April, 5 days left", "C3 shortages: by Sat 2 May, 30 days left")
}

func (b *bench) wantClocks(when string, want ...string) {
	b.t.Helper()
	var got []string
	for _, n := range b.m.State().Side.Clocks {
		got = append(got, n.Lead+" "+n.Text)
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		b.t.Errorf("%s: clocks are\n%s\nwant\n%s", when, strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

func TestArrivalRefuses(t *testing.T) {
	for _, row := range []struct {
		name             string
		day              string
		damage, shortage Days
		want             string
	}{
		{"no days", "14 March 2026", Days{}, Days{Text: "30"}, "Type the days that the paperwork allows for damage"},
		{"no shortages", "14 March 2026", Days{Text: "5"}, Days{}, "allows for shortages"},
		{"words", "14 March 2026", Days{Text: "five"}, Days{Text: "30"}, `"five" is not a number of days`},
		{"negative", "14 March 2026", Days{Text: "-1"}, Days{Text: "30"}, `"-1" is not a number of days`},
		{"too many", "14 March 2026", Days{Text: "5"}, Days{Text: "99999"}, `"99999" is not a number of days`},
		{"no such day", "31 February 2026", Days{Text: "5"}, Days{Text: "30"}, `"31 February 2026" is not a day`},
		{"no day", "", Days{Text: "5"}, Days{Text: "30"}, "is not a day"},
		{"silent paper", "14 March 2026", Days{Silent: true}, Days{Silent: true}, ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			b := newBench(t, demo.Furnished)
			if _, err := demo.Import(b.s.Shop); err != nil {
				t.Fatal(err)
			}
			b.queue.Drain()
			m := NewArrivalModel(b.s, b.m.data.ship.ID, func(ArrivalState) {}, func(string) {})
			m.Load()
			b.queue.Drain()
			m.Toggle(0)
			m.SetDay(row.day)
			m.SetDamage(row.damage)
			m.SetShortage(row.shortage)
			if got := m.State().Missing; (row.want == "") != (got == "") || !strings.Contains(got, row.want) {
				t.Errorf("%+v: missing is %q, want %q", row, got, row.want)
			}
			m.Confirm()
			b.queue.Drain()
			ship, err := b.s.Shop.Shipment(m.data.ship.ID)
			if err != nil {
				t.Fatal(err)
			}
			if came := len(ship.Deliveries) == 1; came != (row.want == "") {
				t.Errorf("%+v: recorded %v", row, came)
			}
			if n := len(ship.Clocks(b.s.Shop.Today())); n != 0 {
				t.Errorf("%+v: %d clocks run, want none", row, n)
			}
		})
	}
}

// The claim of day one, with the eighth rib found: stories 2 and 3.
const claimText = `Claim for order OK-20731
To: Osterhollow Kitworks
Crates C1, C2 came 14 March 2026; damage by 19 March 2026; shortages by 13 April 2026.

Short
  line 7  OQ-10-031-R  Hinge plate right
      listed 3, found 2: 1 short
  line 28  OQ-80-T58  Pushrod tube 5/8
      listed 64 in, found 60 in: 4 in short
  line 40  AN3-6A  Bolt
      listed 16, found 12: 4 short
  line 42  AN3-11  Bolt drilled shank
      listed 4, found 0: 4 short; 4 AN3-11A came in its place: wrong item, no cotter-pin hole

Damaged
  line 5  OQ-10-020  Fin skin
      1 damaged, dented in the middle
  line 24  OQ-90-005  Rod-end 3/16
      1 damaged, bad thread

Wrong item or revision
  line 12  OQ-20-040-B  Rudder horn rev B
      1 OQ-20-040-A came: wrong revision

Surplus
  line 6  OQ-10-031-L  Hinge plate left
      listed 3, found 4: 1 over
  line 39  AN3-5A  Bolt
      listed 24, found 28: 4 over
`

// Story 3: left and right never net off, and the claim holds what it should.
func TestStoryThreeHands(t *testing.T) {
	b := newBench(t, demo.Arrived)
	b.dayOne()
	for line, want := range map[int]string{6: "+1 over", 7: "1 short"} {
		if got := b.word(line); got != want {
			t.Errorf("line %d: got %q, want %q", line, got, want)
		}
	}
	b.to(17)
	b.keys("A")
	b.queue.Drain()
	m := NewClaimModel(b.s, b.m.data.ship.ID, t.TempDir(), func(ClaimState) {})
	m.Load()
	b.queue.Drain()
	if got := m.State().Text; got != claimText {
		t.Errorf("the claim is\n%s\nwant\n%s", got, claimText)
	}
	for _, line := range []string{"line 17", "line 19"} {
		if strings.Contains(m.State().Text, line+" ") {
			t.Errorf("the claim names %s, which is found or back-ordered", line)
		}
	}
}

// Story 5, the bag: what is in a bag and on no line is an extra, never the listed bolt.
func TestSplitFindsAnUnlistedNumber(t *testing.T) {
	b := newBench(t, demo.Arrived)
	b.to(42)
	b.keys("X", `"4"`, "Enter", `"an3-11a"`)
	if got := b.m.State().Prompt.Options; len(got) != 1 || got[0].Cells[0].Text != "AN3-11A" || !strings.HasPrefix(got[0].Cells[1].Text, "not on the list") {
		t.Fatalf("options for an3-11a: %+v", got)
	}
	b.keys("Enter", `"4"`, "Enter")
	if got := b.word(42); got != "4 short" {
		t.Errorf("line 42: got %q, want 4 short", got)
	}
	extra := b.m.data.lines[len(b.m.data.lines)-1]
	if !extra.Extra || extra.Designation != "AN3-11A" || extra.Finding.Found.Number() != "4" {
		t.Errorf("the extra line is %+v", extra)
	}
}

// A split bag is one entry: one Undo takes all of it back, and one Redo does it again.
func TestSplitIsOneEntry(t *testing.T) {
	b := newBench(t, demo.Unpacking)
	entries, err := b.s.Shop.Entries(0, 1)
	if err != nil {
		t.Fatal(err)
	}
	states := func() string { return b.word(39) + ", " + b.word(40) }
	before := states()
	b.to(40)
	b.keys("X", "Enter", `"AN3-5A"`, "Enter", `"4"`, "Enter", "Enter")
	after, err := b.s.Shop.Entries(0, 1)
	if err != nil {
		t.Fatal(err)
	}
	if want := "line 40, AN3-6A: found 12 ea; line 39, AN3-5A: found 28 ea"; after[0].Seq != entries[0].Seq+1 || after[0].Text != want {
		t.Errorf("the last entry is %d %q, want %d %q", after[0].Seq, after[0].Text, entries[0].Seq+1, want)
	}
	if got, want := states(), "+4 over, 4 short"; got != want || before != "all here, to check" {
		t.Errorf("split: %q after %q, want %q", got, before, want)
	}
	for _, row := range []struct {
		do   func() (store.Entry, error)
		want string
	}{{b.s.Shop.Undo, before}, {b.s.Shop.Redo, "+4 over, 4 short"}} {
		if _, err := row.do(); err != nil {
			t.Fatal(err)
		}
		b.m.Changed()
		b.queue.Drain()
		if got := states(); got != row.want {
			t.Errorf("after undo and redo: %q, want %q", got, row.want)
		}
	}
}

func TestSplitWarnsOfNumbersThatDoNotExist(t *testing.T) {
	b := newBench(t, demo.Arrived)
	b.to(40)
	b.keys("X", "Enter", `"AN3-8"`)
	options := b.m.State().Prompt.Options
	last := options[len(options)-1]
	if last.Cells[0].Text != "AN3-8" || !strings.Contains(last.Cells[1].Text, "AN3-8 does not exist") {
		t.Errorf("AN3-8 is offered as %+v, want a warning that it does not exist", last.Cells)
	}
}

// A bag that is split before the other line was counted leaves that line to check,
// and its own bag comes on top.
func TestSplitBeforeTheOtherLine(t *testing.T) {
	b := newBench(t, demo.Arrived)
	b.to(40)
	b.keys("X", "Enter", `"AN3-5A"`, "Enter", `"4"`, "Enter", "Enter")
	if got := b.word(39); got != "to check, 4 here" {
		t.Errorf("line 39: got %q, want it still to check", got)
	}
	b.to(39)
	b.keys("A")
	if p := b.m.State().Prompt; p == nil || p.Text != "24" || !strings.Contains(p.Hint, "4 from another bag") {
		t.Fatalf("all here on a line that was given some asks %+v", p)
	}
	b.keys("Enter")
	if got := b.word(39); got != "+4 over" {
		t.Errorf("line 39: got %q, want +4 over", got)
	}
	want, err := b.s.Shop.Totals(b.m.data.ship.ID)
	if err != nil {
		t.Fatal(err)
	}
	if want[store.Over] != 1 || want[store.Short] != 1 {
		t.Errorf("totals are %v", want)
	}
}

// A claim is marked as sent and answered by keys; what is found later is said to be new.
func TestClaimMarkedSent(t *testing.T) {
	b := newBench(t, demo.Unpacked)
	m := NewClaimModel(b.s, b.m.data.ship.ID, t.TempDir(), func(ClaimState) {})
	m.Load()
	b.queue.Drain()
	if got := m.State(); got.Unsent == 0 || got.Sent != 0 || strings.Contains(got.Note, "was sent") {
		t.Fatalf("before: %d unsent, %d sent, %q", got.Unsent, got.Sent, got.Note)
	}
	lines := m.State().Unsent
	for day, want := range map[string]string{
		"19 March 2026": "that day is still to come", "2026-03-13": "which arrived on 14 March 2026", "soon": "is not a date", "": "is not a date",
	} {
		said := ""
		m.MarkSent(day, "by e-mail", func(problem string) { said = problem })
		if b.queue.Drain(); !strings.Contains(said, want) || m.State().Sent != 0 {
			t.Errorf("sent on %q: %q and %d lines sent, want it refused: %q", day, said, m.State().Sent, want)
		}
	}
	problem := "not asked"
	m.MarkSent(m.State().Today, "by e-mail", func(p string) { problem = p })
	b.queue.Drain()
	if problem != "" {
		t.Errorf("sent today: %q", problem)
	}
	if got := m.State(); got.Unsent != 0 || got.Sent != lines || !strings.HasPrefix(got.Note, "Everything on this claim was sent.") || !strings.Contains(got.Text, "sent on 18 March 2026 by Builder, by e-mail") {
		t.Errorf("sent: %d unsent, %d sent, %q\n%s", got.Unsent, got.Sent, got.Note, got.Text)
	}
	m.Answered("7, 28", store.Credit, "", "")
	b.queue.Drain()
	if got := m.State(); got.Error != "" || strings.Count(got.Text, "answered: credit") != 2 {
		t.Errorf("answered: %q\n%s", got.Error, got.Text)
	}
	m.Answered("seven", store.Credit, "", "")
	b.queue.Drain()
	if got := m.State().Error; got != "seven is not a line: type the numbers of the lines, or all." {
		t.Errorf("the error is %q", got)
	}
	if _, err := b.s.Shop.Receive(b.m.data.ship.ID, 50, store.Finding{Found: measure.Pieces(149), Counted: true}); err == nil {
		t.Fatal("what was stowed can be taken away")
	}
	l := b.m.data.line(17)
	f := store.Finding{Found: measure.Pieces(8), Damaged: measure.Pieces(1), Counted: true, Note: "bent"}
	if _, err := b.s.Shop.Receive(l.Shipment, l.ID, f); err != nil {
		t.Fatal(err)
	}
	m.Load()
	b.queue.Drain()
	if got := m.State(); got.Unsent != 1 || !strings.HasPrefix(got.Note, "1 line is new since the last claim that was sent.") {
		t.Errorf("found later: %d unsent, %q", got.Unsent, got.Note)
	}
}
