package unpack

import (
	"context"
	"fmt"
	"testing"
	"time"

	"stowright/app/demo"
	"stowright/app/loop"
	"stowright/app/session"
	"stowright/app/session/sessiontest"
	"stowright/store"
	"stowright/store/hardware"
	"stowright/store/measure"
	"stowright/store/storetest"
)

// bench is a demo shop with the check-off open on it, driven by keys.
type bench struct {
	t     *testing.T
	queue *loop.Queue
	s     *session.Session
	clock *demo.Clock
	m     *Model
}

func newBench(t *testing.T, scene demo.Scene) *bench {
	t.Helper()
	b := &bench{t: t, queue: &loop.Queue{}, clock: demo.NewClock(demo.Today, true)}
	b.session(sessiontest.OpenShop(t, scene, b.clock))
	b.open("")
	return b
}

// empty gives the bench a shop with nothing in it.
func (b *bench) empty() {
	b.queue, b.clock = &loop.Queue{}, demo.NewClock(demo.ArrivalDay, true)
	b.session(storetest.Open(b.t, store.Options{Clock: b.clock.Now}))
}

func (b *bench) session(shop *store.Shop) {
	b.t.Helper()
	inline := loop.Loop{Run: func(f func()) { f() }, Post: func(f func()) { f() }, After: func(time.Duration, func()) {}}
	s, err := session.Open(context.Background(), shop, inline, nil)
	if err != nil {
		b.t.Fatal(err)
	}
	s.Loop = b.queue.Loop()
	s.Listen(func(store.Entry) {
		if b.m != nil {
			b.m.Changed()
		}
	})
	b.s = s
}

func (b *bench) open(about string) {
	b.m = NewModel(b.s, about, func(State) {})
	b.m.Load()
	b.queue.Drain()
}

// keys presses keys; a text in quotes is typed as an answer.
func (b *bench) keys(keys ...string) {
	b.t.Helper()
	for _, k := range keys {
		if k[0] == '"' {
			b.m.Type(k[1 : len(k)-1])
			continue
		}
		if !b.m.Key(k) {
			b.t.Fatalf("key %s was not taken; state %+v", k, b.m.State().Current)
		}
		b.queue.Drain()
	}
	if e := b.m.State().Error; e != "" {
		b.t.Fatalf("after keys %q: %s", keys, e)
	}
}

// to makes a line current.
func (b *bench) to(line int) {
	b.t.Helper()
	b.m.ChooseBag(0)
	b.queue.Drain()
	for i, row := range b.m.State().Lines {
		if row.ID == fmt.Sprint(line) {
			b.m.ChooseLine(i)
			b.queue.Drain()
		}
	}
	if got := b.m.State().Current.Number; got != line {
		b.t.Fatalf("line in hand: got %d, want %d", got, line)
	}
}

func (b *bench) word(line int) string {
	for _, l := range b.m.data.lines {
		if l.Number() == line {
			return b.m.data.mark(l).Word
		}
	}
	return ""
}

// totals are the figures at the side, by state, as words and figures.
func (b *bench) totals() string {
	var s string
	for _, t := range b.m.State().Side.Tallies {
		s += t.Words + " " + t.Figure + "\n"
	}
	return s
}

func totals(ok, short, over, damaged, revision, back, notArrived, toCheck int) string {
	return fmt.Sprintf("all here %d\nshort %d\nover %d\ndamaged %d\nwrong revision %d\nback-ordered %d\nnot arrived %d\nto check %d\n",
		ok, short, over, damaged, revision, back, notArrived, toCheck)
}

func (b *bench) wantTotals(when, want string) {
	b.t.Helper()
	if got := b.totals(); got != want {
		b.t.Errorf("%s: totals are\n%swant\n%s", when, got, want)
	}
}

// dayOneOrder is the order in which the lines are offered: crate C1 to its end, without
// what is back-ordered, then C2.
func dayOneOrder() []int {
	var order []int
	for n := 1; n <= 56; n++ {
		if n != 19 && (n < 25 || n > 28) {
			order = append(order, n)
		}
	}
	return append(order, 25, 26, 27, 28)
}

// dayOne checks C1 and C2 off as the scenario says, by keys alone.
func (b *bench) dayOne() {
	b.t.Helper()
	special := map[int][]string{
		5:  {"D", `"1"`, "Enter", `"dented in the middle"`, "Enter"},
		6:  {"S", `"4"`, "Enter"},
		7:  {"2", "Enter"},
		12: {"W", `"oq-20-040-a"`, "Enter", "Enter", "Enter"},
		17: {"S", `"7"`, "Enter"},
		24: {"D", "Enter", `"bad thread"`, "Enter"},
		28: {"S", `"60"`, "Enter"},
		40: {"X", "Enter", `"an35a"`, "Enter", `"4"`, "Enter", "Enter"},
		42: {"W", `"AN3-11A"`, "Enter", `"4"`, "Enter", "Enter"},
	}
	b.open("")
	for _, n := range dayOneOrder() {
		if n == 25 {
			b.keys("G") // C1 is finished: C2 is opened
		}
		if got := b.m.State().Current.Number; got != n {
			b.t.Fatalf("line in hand: got %d, want %d", got, n)
		}
		keys, ok := special[n]
		if !ok {
			keys = []string{"A"}
		}
		b.keys(keys...)
	}
}

func TestStoryTwoByKeys(t *testing.T) {
	b := newBench(t, demo.Arrived)
	b.wantTotals("before", totals(0, 0, 0, 0, 0, 1, 4, 55))
	b.dayOne()
	dayOne := totals(45, 5, 2, 2, 1, 1, 4, 0)
	b.wantTotals("day one", dayOne)
	for _, line := range []struct {
		number int
		want   string
	}{
		{5, "1 damaged"},
		{6, "+1 over"},
		{7, "1 short"},
		{12, "wrong revision"},
		{17, "1 short"},
		{19, "back-ordered"},
		{24, "1 damaged"},
		{28, "4 in short"},
		{39, "+4 over"},
		{40, "4 short"},
		{42, "4 short"},
		{57, "not arrived"},
	} {
		if got := b.word(line.number); got != line.want {
			t.Errorf("line %d: got %q, want %q", line.number, got, line.want)
		}
	}
	b.to(17)
	b.keys("8", "Enter")
	found := totals(46, 4, 2, 2, 1, 1, 4, 0)
	b.wantTotals("eighth rib", found)
	if _, err := b.s.Shop.Undo(); err != nil {
		t.Fatal(err)
	}
	b.queue.Drain()
	b.wantTotals("undo", dayOne)
	if got := b.m.State().Current.Number; got != 17 {
		t.Errorf("line in hand after undo: got %d, want 17", got)
	}
	if _, err := b.s.Shop.Redo(); err != nil {
		t.Fatal(err)
	}
	b.queue.Drain()
	b.wantTotals("redo", found)
}

// Titles and spelling are by the shop's own figures too, and say so.
func TestOwnFigures(t *testing.T) {
	catalog, err := hardware.Standard().With([]hardware.OwnRow{{
		Designation: "AN7-70", Source: "printed sheet", Figures: []hardware.OwnFigure{{Name: hardware.Grip, Length: measure.Inches(95, 16)}},
	}})
	if err != nil {
		t.Fatal(err)
	}
	d := delivery{catalog: catalog}
	if got := d.title(store.Line{Designation: "AN7-70A", Title: "Bolt"}); got != "Bolt, 7/16-20, grip 5-15/16 ("+hardware.BuildersOwn+")" {
		t.Errorf("the title is %q", got)
	}
	if got := d.number("an7 70a"); got != "AN7-70A" {
		t.Errorf("typed as %q", got)
	}
	if got := d.difference("AN7-67A", "AN7-70"); got == "" {
		t.Error("AN7-70 came for AN7-67A, and no difference is known")
	}
}
