package build

import (
	"slices"
	"strings"
	"testing"

	"stowright/store/measure"
)

// Story 11: shared in order.
func TestStory11SharedInOrder(t *testing.T) {
	b := NewBoard(demoReading())
	if got := startable(b); !slices.Equal(got, []string{"SA-20", "SA-21"}) {
		t.Errorf("before weighing %v can be started, want SA-20 and SA-21", got)
	}
	if ready, of := b.Ready(); ready != 2 || of != 7 {
		t.Errorf("before weighing %d of %d, want 2 of 7", ready, of)
	}
	if got := sentence(t, b, "SA-10"); got != "cannot tell: weigh A-03 and A-21" {
		t.Errorf("SA-10: %q", got)
	}

	r := weighedDemo(t)
	if a := r.Stock["AN470AD4-5"][0].Amount; a.String() != "about 467 ea (465 to 469)" {
		t.Fatalf("A-21 was weighed as %s", a)
	}
	b = NewBoard(r)
	if got := startable(b); !slices.Equal(got, []string{"SA-10", "SA-20", "SA-21"}) {
		t.Errorf("after weighing %v can be started", got)
	}
	for _, row := range []struct {
		code, item string
		need, free int64
		here       int64
		held       string
	}{
		{"SA-21", "AN3-5A", 20, 22, 28, "SA-10 6"},
		{"SA-21", washer, 40, 138, 150, "SA-10 12"},
		{"SA-21", "AN365-1032A", 20, 64, 70, "SA-10 6"},
		{"SA-41", "AN3-5A", 8, 2, 28, "SA-10 6, SA-21 20"},
	} {
		n := needOf(t, b, row.code, row.item)
		if n.Open != measure.Pieces(row.need) || n.Free != pieces(row.free) || n.Here != pieces(row.here) || holdWords(n.Held) != row.held {
			t.Errorf("%s %s: need %s, free %s of %s, held by %s; want %+v", row.code, row.item, n.Open, n.Free, n.Here, holdWords(n.Held), row)
		}
	}
	if got := sentence(t, b, "SA-41"); got != "not ready: AN3-5A: need 8, free 2; 28 here, 6 for SA-10, 20 for SA-21" {
		t.Errorf("SA-41: %q", got)
	}

	moved := *r
	moved.SubAssemblies = slices.Clone(r.SubAssemblies)
	hinges := moved.SubAssemblies[5]
	moved.SubAssemblies = slices.Insert(slices.Delete(moved.SubAssemblies, 5, 6), 2, hinges)
	b = NewBoard(&moved)
	if got := startable(b); !slices.Equal(got, []string{"SA-10", "SA-20", "SA-41"}) {
		t.Errorf("with SA-41 before SA-21 %v can be started", got)
	}
	if n := needOf(t, b, "SA-21", "AN3-5A"); n.Open != measure.Pieces(20) || n.Free != pieces(14) || n.Met {
		t.Errorf("SA-21 then: need %s, free %s", n.Open, n.Free)
	}
	if got := startable(NewBoard(r)); !slices.Equal(got, []string{"SA-10", "SA-20", "SA-21"}) {
		t.Errorf("in the old order %v", got)
	}
}

func holdWords(held []Hold) string {
	var words []string
	for _, h := range held {
		words = append(words, h.Code+" "+h.Quantity.Number())
	}
	return strings.Join(words, ", ")
}

// Story 11: a blocked job keeps its hold until it is let go.
func TestBlockedJobKeepsItsHold(t *testing.T) {
	r := weighedDemo(t)
	free := func() (pins, nuts string) {
		b := NewBoard(r)
		_, p, _ := b.Free("MS24665-132", measure.Each)
		_, n, held := b.Free("AN310-3", measure.Each)
		return p.Number(), n.Number() + " " + holdWords(held)
	}
	if pins, nuts := free(); pins != "12" || nuts != "0 SA-40 4" {
		t.Errorf("free pins %s, nuts %s; want 12, and 0 with 4 for SA-40", pins, nuts)
	}
	r.SubAssemblies[4].LetGo = true
	if pins, nuts := free(); pins != "16" || nuts != "4 " {
		t.Errorf("let go: free pins %s, nuts %s; want 16 and 4", pins, nuts)
	}
	// It still sees what it could have, after all others.
	if n := needOf(t, NewBoard(r), "SA-40", "MS24665-132"); !n.Met || n.Free != pieces(16) {
		t.Errorf("the pins for SA-40, let go: %+v", n)
	}
}

// Two sub-assemblies are never promised the same piece, and what was fitted or pulled
// is not asked for again.
func TestSamePieceIsPromisedOnce(t *testing.T) {
	r := &Reading{
		Today:         march18,
		SubAssemblies: []SubAssembly{sub("SA-1", "One", 1, need{"AN470AD4-4", "", 2}), sub("SA-2", "Two", 1, need{"AN470AD4-4", "", 2})},
		Stock:         map[string][]Heap{"AN470AD4-4": {heap("A-08", 2)}},
	}
	b := NewBoard(r)
	if got := startable(b); !slices.Equal(got, []string{"SA-1"}) {
		t.Errorf("with two rivets for two jobs of two each %v can be started", got)
	}
	if got := sentence(t, b, "SA-2"); got != "not ready: AN470AD4-4: need 2, free 0; 2 here, 2 for SA-1" {
		t.Errorf("SA-2: %q", got)
	}

	first := &r.SubAssemblies[0].Requirements[0]
	first.Fitted = []Fit{{Item: "AN470AD4-4", Amount: pieces(2)}}
	b.Update("AN470AD4-4")
	if got := startable(b); !slices.Equal(got, []string{"SA-1", "SA-2"}) {
		t.Errorf("with SA-1's two fitted and two here %v can be started", got)
	}
	r.Stock["AN470AD4-4"] = nil
	b.Update("AN470AD4-4")
	if got := startable(b); !slices.Equal(got, []string{"SA-1"}) {
		t.Errorf("with SA-1's two fitted and none here %v can be started", got)
	}

	first.Fitted = []Fit{{Item: "AN470AD4-4", Amount: pieces(1)}}
	r.Stock["AN470AD4-4"] = []Heap{{Place: "tray", Tray: "SA-1", Amount: pieces(1)}, heap("A-08", 1)}
	b.Update("AN470AD4-4")
	one, two := needOf(t, b, "SA-1", "AN470AD4-4"), needOf(t, b, "SA-2", "AN470AD4-4")
	if !one.Met || one.Fitted != pieces(1) || one.Pulled != pieces(1) || one.Open.Sign() != 0 || len(one.Held) > 0 {
		t.Errorf("one fitted and one in the tray: %+v", one)
	}
	if two.Met || two.Free != pieces(1) {
		t.Errorf("the other: %+v", two)
	}
	if s, _ := b.Status("SA-1"); s.State != Begun || !s.Begun {
		t.Errorf("SA-1 is %s", s.State)
	}
	if got := sentence(t, b, "SA-2"); got != "not ready: AN470AD4-4: need 2, usable 1; 1 in the tray of SA-1" {
		t.Errorf("SA-2: %q", got)
	}
}

// One item on two lines of a sub-assembly: a piece meets one of them.
func TestOneItemOnTwoLines(t *testing.T) {
	s := sub("SA-1", "One", 1, need{"AN3-5A", "", 4}, need{"AN3-5A", "", 3})
	s.Requirements[1].ID = "R-2"
	r := &Reading{Today: march18, SubAssemblies: []SubAssembly{s}, Stock: map[string][]Heap{"AN3-5A": {{Place: "t", Tray: "SA-1", Amount: pieces(5)}, heap("A-12", 1)}}}
	got, _ := NewBoard(r).Status("SA-1")
	if a, b := got.Needs[0], got.Needs[1]; a.Pulled != pieces(4) || !a.Met || b.Pulled != pieces(1) || b.Met || b.Open != measure.Pieces(2) || b.Free != pieces(1) {
		t.Errorf("lines are %+v and %+v", a, b)
	}
	if got.Sentence != "not ready: AN3-5A: need 2 more, have 1, on no packing list and not ordered" {
		t.Errorf("it says %q", got.Sentence)
	}
}

// Story 7: blocked, then ready.
func TestStory7BlockedThenReady(t *testing.T) {
	r := weighedDemo(t)
	b := NewBoard(r)
	if got := sentence(t, b, "SA-30"); got != "not ready: OQ-30-033: need 2, have 0, back-ordered" {
		t.Errorf("SA-30: %q", got)
	}
	if got := sentence(t, b, "SA-40"); got != "not ready: AN3-11: need 4, have 0, short on line 42" {
		t.Errorf("SA-40: %q", got)
	}
	if got := sentence(t, b, "SA-50"); got != "not ready: SEAL-B2: need 2, have 0, crate C3 has not come" {
		t.Errorf("SA-50: %q", got)
	}
	r.Expected["OQ-30-033"] = nil
	r.Stock["OQ-30-033"] = []Heap{heap("S3", 2)}
	b.Update("OQ-30-033")
	if s, _ := b.Status("SA-30"); s.State != Ready {
		t.Errorf("SA-30 with its two doublers: %s", s.Sentence)
	}
}

// Story 15: another item, allowed by a decision.
func TestStory15OtherItem(t *testing.T) {
	r := weighedDemo(t)
	r.Today = day(2026, 4, 8)
	elevator := &r.SubAssemblies[4]
	elevator.Requirements[0].ID = "R-31"
	r.Stock["AN3-12"] = nil
	r.Stock["AN3-11A"] = []Heap{heap("S6", 4)}
	if n := needOf(t, NewBoard(r), "SA-40", "AN3-11"); n.Met || n.Here.Sign() != 0 {
		t.Errorf("AN3-11A counts for AN3-11: %+v", n)
	}
	r.Decisions = []Decision{{
		ID: "D-1", Kind: OtherItem, Requirement: "R-31", From: day(2026, 4, 8), Who: "kit maker", Paper: "letter", Item: "AN3-12",
		Extra: []Extra{{Called: "AN960-10", Item: washer, Quantity: measure.Pieces(8)}},
	}}
	b := NewBoard(r)
	if got := sentence(t, b, "SA-40"); got != "not ready: AN3-12: need 4, have 0, on no packing list and not ordered" {
		t.Errorf("SA-40 by D-1: %q", got)
	}
	if n := needOf(t, b, "SA-40", washer); n.Open != measure.Pieces(8) || !n.Met || n.Decision != "D-1" {
		t.Errorf("its washers: %+v", n)
	}
	r.Stock["AN3-12"] = []Heap{heap("A-36", 4)}
	b.Update("AN3-12")
	if s, _ := b.Status("SA-40"); s.State != Ready || s.Sentence != "ready, by D-1" {
		t.Errorf("with four AN3-12: %s", s.Sentence)
	}
	// The day before it was made it allowed nothing.
	r.Today = day(2026, 4, 7)
	if s, _ := NewBoard(r).Status("SA-40"); s.State != Blocked {
		t.Errorf("the day before D-1: %s", s.Sentence)
	}
	r.Today = day(2026, 4, 20)
	// Fitted, and D-1 withdrawn afterwards: what is fitted stays fitted.
	elevator.Requirements[0].Fitted = []Fit{{Item: "AN3-12", Amount: pieces(4)}, {Item: washer, Amount: pieces(8)}}
	r.Stock["AN3-12"] = nil
	if n := needOf(t, NewBoard(r), "SA-40", washer); n.Open.Sign() != 0 || n.Fitted != pieces(8) {
		t.Errorf("eight washers fitted by D-1: %+v", n)
	}
	r.Decisions[0].Withdrawn = day(2026, 4, 20)
	n := needOf(t, NewBoard(r), "SA-40", "AN3-11")
	if n.Fitted != pieces(4) || n.Open.Sign() != 0 || !n.Met {
		t.Errorf("after D-1 was withdrawn: %+v", n)
	}
}

// sealant is the two lots of story 17.
func sealant() []Heap {
	return []Heap{
		{Place: "S6", Lot: "L-1", LotName: "lot 1", Amount: measure.Exact(measure.Of(2, measure.Quart)), Perishable: true, Expires: day(2026, 7, 10)},
		{Place: "S6", Lot: "L-2", LotName: "lot 2", Amount: measure.Exact(measure.Of(1, measure.Quart)), Perishable: true, Expires: day(2027, 1, 2)},
	}
}

// Story 17: dates, seen on the planned day.
func TestStory17Dates(t *testing.T) {
	if made := day(2026, 4, 2); made.AddDays(275) != day(2027, 1, 2) {
		t.Fatal("nine months from 2 April 2026 are not 2 January 2027")
	}
	r := weighedDemo(t)
	r.Today = day(2026, 4, 20)
	r.Expected["SEAL-B2"] = nil
	r.Stock["SEAL-B2"] = sealant()
	tank := &r.SubAssemblies[6]
	on := func(planned measure.Date) (Status, string) {
		tank.Planned = planned
		s, _ := NewBoard(r).Status("SA-50")
		return s, shareWords(s.Needs[0].Promised)
	}
	if s, from := on(day(2026, 7, 1)); s.State != Ready || from != "2 of lot 1" {
		t.Errorf("on 1 July: %s, from %s", s.Sentence, from)
	}
	if s, _ := on(day(2026, 7, 10)); s.State != Ready || !slices.Contains(s.Needs[0].Hints, "lot 1 expires on 10 July 2026: last day") {
		t.Errorf("on 10 July: %s, %q", s.Sentence, s.Needs[0].Hints)
	}
	if s, _ := on(day(2026, 7, 11)); s.State != Blocked || s.Sentence != "not ready: SEAL-B2: need 2, usable 1 (lot 2); 2 of lot 1 expire 1 day before the job" {
		t.Errorf("on 11 July: %s", s.Sentence)
	}
	r.Today = day(2026, 8, 1) // the planned day has passed: today counts
	if s, _ := on(day(2026, 7, 1)); s.Sentence != "not ready: SEAL-B2: need 2, usable 1 (lot 2); 2 of lot 1 expired 22 days ago" {
		t.Errorf("on 1 August: %s", s.Sentence)
	}
	r.Decisions = []Decision{{ID: "D-2", Kind: Retest, Lot: "L-1", From: day(2026, 8, 1), Until: day(2026, 10, 10)}}
	if s, from := on(measure.Date{}); s.State != Ready || s.Sentence != "ready, by D-2" || from != "2 of lot 1" {
		t.Errorf("with a retest: %s, from %s", s.Sentence, from)
	}
	if s, _ := on(day(2026, 10, 11)); s.State != Blocked {
		t.Errorf("after the retest's last day: %s", s.Sentence)
	}
	r.Decisions, r.Today = nil, day(2026, 4, 20)
	r.Stock["SEAL-B2"][0].Expires = measure.Date{}
	if s, _ := on(day(2026, 7, 1)); s.State != Estimate || s.Sentence != "cannot tell: see the date of SEAL-B2 in S6" {
		t.Errorf("with lot 1 undated: %s", s.Sentence)
	}
	r.Stock["SEAL-B2"] = sealant()[1:]
	if s, _ := on(day(2026, 7, 1)); s.State != Blocked {
		t.Errorf("with one quart: %s", s.Sentence)
	}
}

func shareWords(shares []Share) string {
	var words []string
	for _, s := range shares {
		words = append(words, s.Quantity.Number()+" of "+s.Heap.LotName)
	}
	return strings.Join(words, ", ")
}

// Story 10: the one lot that there is expired.
func TestStory10Expired(t *testing.T) {
	r := weighedDemo(t)
	r.Today = day(2026, 8, 1)
	r.Stock["SEAL-B2"] = sealant()[:1]
	r.Stock["SEAL-B2"][0].LotName = "SEAL-B2"
	r.Expected["SEAL-B2"] = nil
	if got := sentence(t, NewBoard(r), "SA-50"); got != "not ready: SEAL-B2: need 2, usable 0; 2 of SEAL-B2 expired 22 days ago" {
		t.Errorf("it says %q", got)
	}
}

// Story 19: two aircraft, two lots of one number.
func TestStory19TwoAircraft(t *testing.T) {
	quick := sub("SA-60", "Regulator", 2, need{"REG-14", "", 1})
	owner := sub("T-10", "Regulator of T", 2, need{"REG-14", "", 1})
	owner.Aircraft = "T"
	lots := func() []Heap {
		return []Heap{
			{Place: "S1", Lot: "L-1", LotName: "L-1", Amount: pieces(1), Origin: ApprovedProduction},
			{Place: "S1", Lot: "L-2", LotName: "L-2", Amount: pieces(1), Origin: OutsideAviation},
		}
	}
	r := demoReading()
	r.SubAssemblies = []SubAssembly{quick, owner}
	r.Stock = map[string][]Heap{"REG-14": lots()}
	for _, order := range [][]SubAssembly{{quick, owner}, {owner, quick}} {
		r.SubAssemblies = order
		b := NewBoard(r)
		n := needOf(t, b, "SA-60", "REG-14")
		if shareWords(n.Promised) != "1 of L-2" || !slices.Equal(n.Hints, []string{"L-1 is the only one for T"}) {
			t.Errorf("SA-60 gets %s, with %q", shareWords(n.Promised), n.Hints)
		}
		if n := needOf(t, b, "T-10", "REG-14"); shareWords(n.Promised) != "1 of L-1" || !n.Met {
			t.Errorf("T-10 gets %s", shareWords(n.Promised))
		}
	}
	r.SubAssemblies = []SubAssembly{quick, owner}
	r.Stock["REG-14"][0].Tray = "SA-60" // L-1 pulled for Q after all
	b := NewBoard(r)
	if got := sentence(t, b, "T-10"); got != "not ready: REG-14: need 1, usable 0; 1 in the tray of SA-60; 1 here needs a decision on origin" {
		t.Errorf("T-10: %q", got)
	}
	r.Decisions = []Decision{{ID: "D-4", Kind: AnyOrigin, Requirement: "T-10 REG-14", Lot: "L-2", From: march18}}
	b = NewBoard(r)
	if s, _ := b.Status("T-10"); s.State != Ready || s.Sentence != "ready, by D-4" {
		t.Errorf("by a decision: %s", s.Sentence)
	}
}

// Estimates: only the low end is promised, and counting tells where it decides.
func TestEstimates(t *testing.T) {
	about := measure.Amount{Quantity: measure.Pieces(100), Low: measure.Pieces(95), High: measure.Pieces(105)}
	for _, row := range []struct {
		name  string
		needs []int64
		state []State
		last  string // what the last one says
	}{
		{"within the low end", []int64{60, 35}, []State{Ready, Ready}, "ready"},
		{"over the low end", []int64{60, 36}, []State{Ready, Estimate}, "cannot tell: count A-12"},
		{"to the high end", []int64{60, 45}, []State{Ready, Estimate}, "cannot tell: count A-12"},
		{
			"over the high end",
			[]int64{60, 46},
			[]State{Ready, Blocked},
			"not ready: AN3-5A: need 46, free about 40 (35 to 45); about 100 (95 to 105) here, 60 for SA-A",
		},
		{"an uncertain hold is a hold", []int64{100, 6}, []State{Estimate, Blocked}, "not ready: AN3-5A: need 6, free about 0 (0 to 5); about 100 (95 to 105) here, 100 for SA-A"},
	} {
		t.Run(row.name, func(t *testing.T) {
			r := demoReading()
			r.SubAssemblies = nil
			for i, n := range row.needs {
				r.SubAssemblies = append(r.SubAssemblies, sub("SA-"+string(rune('A'+i)), "", 1, need{"AN3-5A", "", n}))
			}
			r.Stock = map[string][]Heap{"AN3-5A": {{Place: "A-12", Amount: about}}}
			b := NewBoard(r)
			for i, want := range row.state {
				if got := b.Statuses()[i].State; got != want {
					t.Errorf("number %d is %s, want %s", i, got, want)
				}
			}
			if got := b.Statuses()[len(row.needs)-1].Sentence; got != row.last {
				t.Errorf("it says %q, want %q", got, row.last)
			}
		})
	}
}

// Every reason has its words, and what is nearest at hand comes first.
func TestReasons(t *testing.T) {
	r := demoReading()
	r.SubAssemblies = []SubAssembly{sub("SA-1", "", 1, need{"AN3-5A", "", 50})}
	r.Stock = map[string][]Heap{"AN3-5A": {
		heap("A-12", 3),
		{Place: "S6", Condition: Damaged, Amount: pieces(4)},
		{Place: "S6", Condition: Quarantined, Why: "alert 3", Amount: pieces(5)},
		{Place: "S6", Condition: Removed, Amount: pieces(6)},
		{Place: "t", Tray: "SA-9", Amount: pieces(7)},
	}}
	r.Expected = map[string][]Expected{"AN3-5A": {
		{By: Ordered, Quantity: measure.Pieces(8), Since: day(2026, 3, 1), Until: day(2026, 4, 1), Line: 2},
		{By: NotChecked, Line: 7, Crate: "C1"},
		{By: Unopened, Crate: "C2"},
		{By: Promised, Quantity: measure.Pieces(1), Line: 9},
		{By: Missing, Line: 10, Claimed: true},
		{By: Unusable, Line: 11, Note: "bad thread"},
	}}
	want := "AN3-5A: need 50, usable 3; crate C2 is not opened; line 7 is to be checked; 7 in the tray of SA-9; 4 damaged; 5 quarantined (alert 3); 6 removed; " +
		"8 owed on line 2 since 1 March 2026, promised for 1 April 2026; 1 owed on line 9; short on line 10, claimed and not answered; bad thread on line 11"
	s, _ := NewBoard(r).Status("SA-1")
	if got := s.Blockers[0].Sentence; got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

// What is as required never blocks and holds nothing; what is temporary is pulled for
// every time.
func TestKinds(t *testing.T) {
	s := sub("SA-1", "", 1, need{"CLECO", "", 20}, need{"SEAL", "", 0})
	s.Requirements[0].Kind, s.Requirements[1].Kind = Temporary, AsRequired
	s.Requirements[0].Fitted = []Fit{{Item: "CLECO", Amount: pieces(20)}}
	r := &Reading{Today: march18, SubAssemblies: []SubAssembly{s}, Stock: map[string][]Heap{
		"CLECO": {heap("A-01", 30)},
		"SEAL":  {{Place: "S6", Tray: "SA-1", Amount: measure.Exact(measure.Of(1, measure.Quart))}},
	}}
	b := NewBoard(r)
	if n := needOf(t, b, "SA-1", "CLECO"); n.Open != measure.Pieces(20) || !n.Met {
		t.Errorf("temporary: %+v", n)
	}
	if n := needOf(t, b, "SA-1", "SEAL"); !n.Met || n.Pulled.String() != "1 qt" {
		t.Errorf("as required: %+v", n)
	}
	r.SubAssemblies[0].Closed = march18
	if s, _ := NewBoard(r).Status("SA-1"); s.State != Closed || len(s.Blockers) > 0 || s.Sentence != "closed on 18 March 2026" {
		t.Errorf("closed: %+v", s)
	}
	if _, free, _ := NewBoard(r).Free("CLECO", measure.Each); free != pieces(30) {
		t.Errorf("a closed job holds clecos: %s are free", free)
	}
}

// One drawer that holds enough is gone to, not two; where none does, the need is split.
func TestOnePlaceThatHoldsEnough(t *testing.T) {
	r := demoReading()
	r.SubAssemblies = []SubAssembly{sub("SA-1", "", 1, need{"AN3-5A", "", 6})}
	for _, row := range []struct {
		name  string
		heaps []Heap
		want  string
	}{
		{"the second holds enough", []Heap{heap("A-12", 3), heap("A-13", 9)}, "A-13 6"},
		{"none does", []Heap{heap("A-12", 3), heap("A-13", 4)}, "A-12 3, A-13 3"},
		{"dates go first", []Heap{{Place: "A-12", Amount: pieces(9), Expires: day(2026, 9, 1)}, {Place: "A-13", Amount: pieces(2), Expires: day(2026, 8, 1)}}, "A-13 2, A-12 4"},
	} {
		r.Stock = map[string][]Heap{"AN3-5A": row.heaps}
		var got []string
		for _, s := range needOf(t, NewBoard(r), "SA-1", "AN3-5A").Promised {
			got = append(got, s.Heap.Place+" "+s.Quantity.Number())
		}
		if strings.Join(got, ", ") != row.want {
			t.Errorf("%s: %v, want %s", row.name, got, row.want)
		}
	}
}
