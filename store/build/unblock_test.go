package build

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"stowright/store/measure"
)

func sentences(c Cheapest) []string {
	var out []string
	for _, u := range c.Unblocks {
		out = append(out, u.Sentence)
	}
	return out
}

// The demo on 18 March: what is cheapest first, and what it frees in hours.
func TestCheapestOfTheDemo(t *testing.T) {
	got := NewBoard(demoReading()).Cheapest()
	want := []string{
		"Weigh A-03 and A-21: SA-10, 20 h",
		"Put SA-41 before SA-21: SA-41, 5 h; costs SA-21, 8 h",
		"Chase crate C3: SA-50, 40 h",
		"Chase OQ-30-033: SA-30, 35 h",
		"Chase AN3-11: SA-40, 15 h",
		"Buy AN3-5A: SA-41, 5 h",
	}
	if s := sentences(got); !slices.Equal(s, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(s, "\n"), strings.Join(want, "\n"))
	}
	if len(got.Rest) > 0 || got.LeftOut > 0 {
		t.Errorf("rest %v, left out %d", got.Rest, got.LeftOut)
	}
	// A promised day is waited for, and that is less trouble than asking.
	r := demoReading()
	r.Expected["SEAL-B2"][0].Until = day(2026, 4, 2)
	if s := sentences(NewBoard(r).Cheapest()); s[2] != "Wait for crate C3, promised for 2 April 2026: SA-50, 40 h" {
		t.Errorf("with a day promised: %q", s)
	}
}

// Every class of action, on a shop where it is the cheapest.
func TestActionClasses(t *testing.T) {
	for _, row := range []struct {
		name   string
		change func(r *Reading)
		want   string
		class  Class
	}{
		{"undated", func(r *Reading) { r.Stock["X"][0].Perishable = true }, "See the date of X in A-01: SA-1, 3 h", LookClass},
		{"removed", func(r *Reading) { r.Stock["X"][0].Condition = Removed }, "Look at the removed X in A-01: SA-1, 3 h", LookClass},
		{"estimated", func(r *Reading) { r.Stock["X"][0].Amount.Low = measure.Pieces(1) }, "Count A-01: SA-1, 3 h", CountClass},
		{"unchecked", func(r *Reading) { r.expect("X", Expected{By: NotChecked, Crate: "C1", Line: 4}) }, "Check off crate C1: SA-1, 3 h", CheckOffClass},
		{"unopened", func(r *Reading) { r.expect("X", Expected{By: Unopened, Crate: "C1"}) }, "Check off crate C1: SA-1, 3 h", CheckOffClass},
		{"held by a blocked one", func(r *Reading) {
			r.SubAssemblies = append([]SubAssembly{sub("SA-0", "", 9, need{"X", "", 4}, need{"Y", "", 1})}, r.SubAssemblies...)
		}, "Put SA-1 before SA-0: SA-1, 3 h", OrderClass},
		{"origin", func(r *Reading) { r.SubAssemblies[0].Aircraft = "T" }, "Get a decision on the origin of X: SA-1, 3 h", AnswerClass},
		{"expired", func(r *Reading) { r.Stock["X"][0].Expires = day(2026, 3, 1) }, "Get a retest of X: SA-1, 3 h", AnswerClass},
		{"promised", func(r *Reading) { r.expect("X", Expected{By: Ordered, Until: day(2026, 4, 1)}) }, "Wait for X, promised for 1 April 2026: SA-1, 3 h", WaitClass},
		{"owed", func(r *Reading) { r.expect("X", Expected{By: BackOrdered}) }, "Chase X: SA-1, 3 h", ChaseClass},
		{"nowhere", func(r *Reading) { r.Stock["X"] = nil }, "Buy X: SA-1, 3 h", BuyClass},
	} {
		t.Run(row.name, func(t *testing.T) {
			r := demoReading()
			r.SubAssemblies, r.Expected = []SubAssembly{sub("SA-1", "", 3, need{"X", "", 4})}, map[string][]Expected{}
			r.Stock = map[string][]Heap{"X": {heap("A-01", 4)}}
			row.change(r)
			got := NewBoard(r).Cheapest()
			if len(got.Unblocks) == 0 || got.Unblocks[0].Sentence != row.want || got.Unblocks[0].Actions[0].Class != row.class {
				t.Errorf("got %q, rest %v; want %q", sentences(got), got.Rest, row.want)
			}
		})
	}
}

// expect takes all of an item away and expects it in another way.
func (r *Reading) expect(item string, e Expected) {
	e.Quantity = measure.Pieces(4)
	r.Stock[item], r.Expected[item] = nil, []Expected{e}
}

// What three drawers hold up no two weighings free: it is not hidden.
func TestCheapestHidesNothing(t *testing.T) {
	r := demoReading()
	r.SubAssemblies = []SubAssembly{sub("SA-1", "", 3, need{"X", "", 4}, need{"Y", "", 4}, need{"Z", "", 4})}
	r.Stock = map[string][]Heap{}
	for i, item := range []string{"X", "Y", "Z"} {
		r.Stock[item] = []Heap{{Place: fmt.Sprintf("A-0%d", i+1), Amount: hundredths(10, measure.Pound)}}
	}
	got := NewBoard(r).Cheapest()
	if len(got.Unblocks) > 0 || !slices.Equal(got.Rest, []string{"SA-1"}) {
		t.Errorf("got %q, rest %v", sentences(got), got.Rest)
	}
}

// Letting a hold go frees the next, and costs nothing that could be started.
func TestLetGoFrees(t *testing.T) {
	r := demoReading()
	r.SubAssemblies = []SubAssembly{sub("SA-0", "", 9, need{"X", "", 4}, need{"Y", "", 1}), sub("SA-1", "", 3, need{"X", "", 4})}
	r.Stock = map[string][]Heap{"X": {heap("A-01", 4)}}
	b := NewBoard(r)
	for _, a := range b.actions() {
		if a.Verb == "Let go" {
			if u := b.try(a); u.Sentence != "Let go the hold of SA-0: SA-1, 3 h" || len(u.Costs) > 0 {
				t.Errorf("it says %q", u.Sentence)
			}
			return
		}
	}
	t.Error("no hold is offered to be let go")
}

// What is worked out on the affected items alone is what a whole new board says.
func TestTryIsExact(t *testing.T) {
	tried := 0
	for seed := range uint64(60) {
		rnd := rand.New(rand.NewPCG(seed, 7))
		r := randomReading(rnd, 3+rnd.IntN(6), 2+rnd.IntN(8), 6+rnd.IntN(20))
		b := NewBoard(r)
		for _, a := range b.actions() {
			u := b.try(a)
			whole := *r
			whole.Stock = map[string][]Heap{}
			for item, heaps := range r.Stock {
				whole.Stock[item] = slices.Clone(heaps)
			}
			whole.SubAssemblies = slices.Clone(r.SubAssemblies)
			for _, e := range a.effects {
				e.change(&whole)
			}
			if a.reorder != nil {
				whole.SubAssemblies = a.reorder(whole.SubAssemblies)
			}
			then, frees := NewBoard(&whole), []string(nil)
			for _, s := range b.Statuses() {
				after, _ := then.Status(s.Code)
				if !s.State.Startable() && after.State.Startable() {
					frees = append(frees, s.Code)
				}
			}
			if !slices.Equal(u.Frees, frees) {
				t.Fatalf("seed %d, %s: frees %v, a whole board says %v", seed, u.Sentence, u.Frees, frees)
			}
			tried++
		}
	}
	if tried < 300 {
		t.Errorf("only %d actions were tried", tried)
	}
}

func BenchmarkCheapest(b *testing.B) {
	board := NewBoard(randomReading(rand.New(rand.NewPCG(1, 1)), 200, 20_000, 12_000))
	within(b, 200*time.Millisecond, func() { board.Cheapest() })
}
