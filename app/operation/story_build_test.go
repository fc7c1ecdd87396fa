package operation_test

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"stowright/app/demo"
	"stowright/app/operation"
	"stowright/app/session"
	"stowright/app/session/sessiontest"
	"stowright/store"
	"stowright/store/build"
	"stowright/store/measure"
)

// weighed is the demo with the sub-assemblies of the building stories, A-03 and A-21 weighed.
func weighed(t *testing.T, clock *demo.Clock) *sessiontest.Bench {
	t.Helper()
	shop := sessiontest.OpenShop(t, demo.Unpacked, clock)
	if err := demo.Extend(shop); err != nil {
		t.Fatal(err)
	}
	b := sessiontest.On(t, shop)
	for _, w := range []struct{ place, gross, net string }{{"A-03", "160.4", "8.1"}, {"A-21", "137.7", "24.3"}} {
		if _, err := b.Shop.WeighSample(b.Heap(w.place).StockKey, measure.Weighing{
			Step: grams(t, ".1"), Tare: grams(t, "24.3"), Gross: grams(t, w.gross), Sample: measure.Sample{Pieces: 100, Net: grams(t, w.net), Step: grams(t, ".1")},
		}); err != nil {
			t.Fatal(err)
		}
	}
	return b
}

func grams(t *testing.T, text string) measure.Quantity {
	t.Helper()
	q, err := measure.ParseQuantity(text, measure.Gram)
	if err != nil {
		t.Fatal(err)
	}
	return q
}

// morning is the clock of the demo on 18 March 2026.
func morning() *demo.Clock { return demo.NewClock(demo.Today, true) }

// holds is how much of an item good for use lies in a place.
func holds(t *testing.T, b *sessiontest.Bench, item, place, want string) {
	t.Helper()
	heaps, err := b.Shop.Holdings(item)
	if err != nil {
		t.Fatal(err)
	}
	id, got := b.Place(place).ID, ""
	for _, h := range heaps {
		if h.Place == id && h.Condition == store.Good {
			got += h.Amount.String()
		}
	}
	if got != want {
		t.Errorf("%s in %s: %q, want %q", item, place, got, want)
	}
}

// needs are the needs of a sub-assembly as its list stands: called, item, needed, here.
func needs(t *testing.T, b *sessiontest.Bench, code string) (state build.State, lines []string) {
	t.Helper()
	err := b.Read(func(r *session.Reader) error {
		return r.Board(func(board *build.Board) error {
			s, _ := board.Status(code)
			state = s.State
			for _, n := range s.Needs {
				lines = append(lines, n.Called+" is "+n.Item+": need "+n.Needed.Number()+", have "+n.Here.Number()+", fitted "+n.Fitted.Number())
			}
			return nil
		})
	})
	if err != nil {
		t.Fatal(err)
	}
	return state, lines
}

const rivet, dome, washer, lockNut = "AN426AD3-3.5", "AN470AD4-5", "NAS1149F0363P", "AN365-1032A"

// Story 13 of the building stories: at the bench.
func TestStory13AtTheBench(t *testing.T) {
	b := weighed(t, morning())
	tray := func(i string) operation.Heap { return item(i) }
	from := func(i, place string) operation.Heap { return operation.Heap{Item: i, From: place} }
	each(t, b, []row{
		{"rivets, 28 above", operation.Take{Heap: item(rivet), Amount: "240", For: "SA-10"}, "", "212 called, 0 pulled: 212 to go. With a reason it goes all the same."},
		{"with a reason", operation.Take{Heap: item(rivet), Amount: "240", For: "SA-10", Reason: "some will spoil"}, "240 ea pulled for SA-10 Fin, because: some will spoil", ""},
		{"bolts", operation.Take{Heap: item("AN3-5A"), Amount: "6", For: "SA-10"}, "6 ea pulled", ""},
		{"washers", operation.Take{Heap: item(washer), Amount: "14", For: "SA-10", Reason: "thick paint"}, "14 ea pulled", ""},
		{"nuts", operation.Take{Heap: item(lockNut), Amount: "6", For: "SA-10"}, "6 ea pulled", ""},
		{"domes", operation.Take{Heap: item(dome), Amount: "46", For: "SA-10"}, "46 ea pulled", ""},

		{"fit rivets", operation.Fit{Heap: tray(rivet), Amount: "212", For: "SA-10"}, "212 ea fitted", ""},
		{"drilled out", operation.Scrap{Heap: from(rivet, "SA-10"), Amount: "19", Reason: "spoiled: drilled out"}, "19 ea scrapped", ""},
		{"nine home", operation.PutBack{Heap: tray(rivet), From: "SA-10"}, "9 ea put back from SA-10 to A-03", ""},
		{"fit bolts", operation.Fit{Heap: tray("AN3-5A"), For: "SA-10"}, "6 ea fitted", ""},
		{"thirteen washers", operation.Fit{Heap: tray(washer), Amount: "13", For: "SA-10"}, "", "12 of NAS1149F0363P called in SA-10, 0 fitted: say why 1 more."},
		{"by a reason", operation.Fit{Heap: tray(washer), Amount: "13", For: "SA-10", Reason: "one under a head"}, "13 ea fitted in SA-10 Fin, because: one under a head", ""},
		{"one home", operation.PutBack{Heap: tray(washer), From: "SA-10"}, "1 ea put back from SA-10 to A-30", ""},
		{"a nut falls", operation.Scrap{Heap: from(lockNut, "SA-10"), Amount: "1", Reason: "lost"}, "1 ea scrapped, lost", ""},
		{"one more, unasked", operation.Take{Heap: from(lockNut, "A-17"), Amount: "1", For: "SA-10"}, "1 ea pulled", ""},
		{"fit nuts", operation.Fit{Heap: tray(lockNut), For: "SA-10"}, "6 ea fitted", ""},
		{"fit domes", operation.Fit{Heap: tray(dome), For: "SA-10"}, "46 ea fitted", ""},
	})
	holds(t, b, rivet, "A-03", "about 1,449 ea (1,437 to 1,461)")
	holds(t, b, "AN3-5A", "A-12", "22 ea")
	holds(t, b, washer, "A-30", "137 ea")
	holds(t, b, lockNut, "A-17", "63 ea")
	holds(t, b, dome, "A-21", "about 421 ea (419 to 423)")
	check(t, b, operation.Close{For: "SA-10", Unnoted: "on paper"}, "", "SA-10 is not closed: 1 nut not found in SA-10.")
	check(t, b, operation.Found{Name: lockNut, From: "SA-10"}, "1 ea found that was lost in SA-10, to A-17", "")
	holds(t, b, lockNut, "A-17", "64 ea")
	check(t, b, operation.Close{For: "SA-10", Unnoted: "on paper"}, "SA-10 Fin closed", "")
	gone, err := b.Shop.Gone(rivet)
	if err != nil || len(gone) != 1 || gone[0].Amount.String() != "19 ea" { // 212 + 19 + 1,449 = 1,680
		t.Errorf("gone: %+v, %v", gone, err)
	}
	whole(t, b)
}

func whole(t *testing.T, b *sessiontest.Bench) {
	t.Helper()
	report, err := b.Shop.Check(t.Context(), nil)
	if err != nil || !report.OK {
		t.Errorf("the shop is not whole: %q, %v", report.Problems, err)
	}
}

// Story 15 of the building stories: another item, allowed.
func TestStory15AnotherItemAllowed(t *testing.T) {
	clock := morning()
	b := weighed(t, clock)
	clock.Set(time.Date(2026, 4, 8, 9, 0, 0, 0, time.UTC))
	lacks := []string{"AN3-11 is AN3-11: need 4, have 0, fitted 0", "AN310-3 is AN310-3: need 4, have 4, fitted 0", "MS24665-132 is MS24665-132: need 4, have 16, fitted 0"}
	state, got := needs(t, b, "SA-40")
	if d := cmp.Diff(lacks, got); d != "" || state != build.Blocked {
		t.Errorf("before the decision it is %s (-want +got):\n%s", state, d)
	}
	letter := store.Decision{
		Kind: store.OtherItem, Item: "AN3-12", Extra: []store.Extra{{Called: washer, Quantity: measure.Pieces(8)}}, Who: "Osterhollow Kitworks",
		How: "letter", Paper: "letter 12", Day: store.Date{Year: 2026, Month: 4, Day: 8},
	}
	check(t, b, operation.Decide{Decision: letter, For: "SA-40", Called: "AN3-11"}, "D-1: AN3-12 for R-", "")
	decided := []string{"AN3-11 is AN3-12: need 4, have 0, fitted 0", washer + " is " + washer + ": need 8, have 150, fitted 0", lacks[1], lacks[2]}
	if state, got = needs(t, b, "SA-40"); cmp.Diff(decided, got) != "" || state != build.Blocked {
		t.Errorf("decided, it is %s (-want +got):\n%s", state, cmp.Diff(decided, got))
	}
	check(t, b, operation.Take{Heap: item("AN3-6A"), Amount: "4", For: "SA-40"}, "", "not called here")
	each(t, b, []row{
		{"four come", operation.PutIn{Item: "AN3-12", Amount: "4", Place: "A-35"}, "AN3-12", ""},
		{"take them", operation.Take{Heap: item("AN3-12"), Amount: "4", For: "SA-40"}, "4 ea pulled for SA-40 Elevator", ""},
		{"take washers", operation.Take{Heap: item(washer), Amount: "8", For: "SA-40"}, "8 ea pulled", ""},
	})
	if state, _ = needs(t, b, "SA-40"); !state.Startable() {
		t.Errorf("with all of it in the tray it is %s", state)
	}
	check(t, b, operation.Fit{Heap: item("AN3-12"), For: "SA-40"}, "4 ea fitted in SA-40 Elevator", "")
	check(t, b, operation.Fit{Heap: item(washer), For: "SA-40"}, "8 ea fitted in SA-40 Elevator", "")
	clock.Set(time.Date(2026, 5, 1, 9, 0, 0, 0, time.UTC))
	check(t, b, operation.Decide{Decision: store.Decision{Kind: store.Withdrawal, Withdraws: "D-1", Who: "Osterhollow Kitworks"}}, "D-2 withdraws D-1", "")
	evidence(t, b)
	// What was fitted by it counts for the line also now.
	after := []string{"AN3-11 is AN3-11: need 4, have 0, fitted 4", lacks[1], lacks[2]}
	if _, got = needs(t, b, "SA-40"); cmp.Diff(after, got) != "" {
		t.Errorf("withdrawn (-want +got):\n%s", cmp.Diff(after, got))
	}
	whole(t, b)
}

// evidence holds the events of SA-40 against what was called, fitted, and by which decision.
func evidence(t *testing.T, b *sessiontest.Bench) {
	t.Helper()
	fits, err := b.Shop.Fits("SA-40")
	if err != nil {
		t.Fatal(err)
	}
	decisions, err := b.Shop.Decisions()
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, f := range fits {
		got = append(got, f.Item+" "+f.Amount.String()+" by "+f.Decision)
	}
	if d := cmp.Diff([]string{"AN3-12 4 ea by D-1", washer + " 8 ea by D-1"}, got); d != "" {
		t.Errorf("events (-want +got):\n%s", d)
	}
	if d := decisions[0]; d.Withdrawn.String() != "1 May 2026" || d.WithdrawnBy != "D-2" || d.Paper != "letter 12" {
		t.Errorf("D-1 is %+v", d)
	}
}

// Story 16 of the building stories: not twice.
func TestStory16NotTwice(t *testing.T) {
	b := weighed(t, morning())
	const pin, nut = "MS24665-132", "AN310-3"
	each(t, b, []row{
		{"take pins", operation.Take{Heap: item(pin), Amount: "4", For: "SA-40"}, "4 ea pulled", ""},
		{"take nuts", operation.Take{Heap: item(nut), Amount: "4", For: "SA-40"}, "4 ea pulled", ""},
		{"fit pins", operation.Fit{Heap: item(pin), For: "SA-40"}, "4 ea fitted", ""},
		{"fit nuts", operation.Fit{Heap: item(nut), For: "SA-40"}, "4 ea fitted", ""},
	})
	holds(t, b, pin, "A-23", "12 ea")
	each(t, b, []row{
		{"pins as good", operation.Remove{Item: pin, From: "SA-40", AsGood: true}, "", "MS24665-132 is used once (AC 43.13-1B 7-38): what came out is scrapped."},
		{"pins", operation.Remove{Item: pin, From: "SA-40"}, "4 ea removed from SA-40 Elevator, scrapped: used once (AC 43.13-1B 7-38)", ""},
		{"nuts", operation.Remove{Item: nut, From: "SA-40"}, "4 ea removed from SA-40 Elevator, to SA-40", ""},
		{"nuts are not pulled so", operation.Take{Heap: item(nut), Amount: "4", For: "SA-40"}, "", nut},
		{"nuts looked at", operation.Release{Item: nut, By: "Partner", To: "A-19"}, "4 ea looked at by Partner, good, in A-19", ""},
		{"new pins", operation.Take{Heap: item(pin), Amount: "4", For: "SA-40"}, "4 ea pulled", ""},
	})
	holds(t, b, nut, "A-19", "4 ea")
	holds(t, b, pin, "A-23", "8 ea")
	check(t, b, operation.Fit{Heap: item(pin), For: "SA-40"}, "4 ea fitted", "")
	fitted, err := b.Shop.Fitted("SA-40")
	if err != nil || len(fitted) != 1 || fitted[0].Amount.String() != "4 ea" {
		t.Errorf("fitted %+v, %v", fitted, err)
	}
	gone, err := b.Shop.Gone(pin) // 16 = 8 + 4 fitted + 4 scrapped
	if err != nil || len(gone) != 1 || gone[0].Amount.String() != "4 ea" {
		t.Errorf("gone %+v, %v", gone, err)
	}
	check(t, b, operation.MarkSingleUse{Item: nut}, nut, "")
	check(t, b, operation.Take{Heap: item(nut), Amount: "4", For: "SA-40"}, "4 ea pulled", "")
	check(t, b, operation.Fit{Heap: item(nut), For: "SA-40"}, "4 ea fitted", "")
	check(t, b, operation.Remove{Item: nut, From: "SA-40"}, "scrapped: used once (marked so in this shop)", "")
	whole(t, b)
}
