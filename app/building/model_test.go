package building

import (
	"fmt"
	"strings"
	"testing"

	"stowright/app/apptest"

	"stowright/app/demo"
	"stowright/app/drawing"
	"stowright/app/notice"
	"stowright/app/session"
	"stowright/app/session/sessiontest"
	"stowright/store/build"
	"stowright/store/measure"
)

// extended is the demo with the sub-assemblies of the building stories, A-03 weighed as in
// story 4 and A-21 with 100 of 24.3 g: about 467 (465 to 469).
func extended(t *testing.T, weighed bool) *sessiontest.Bench {
	t.Helper()
	return extend(t, sessiontest.Open(t, demo.Unpacked), weighed)
}

// extend makes that of a demo shop.
func extend(t *testing.T, b *sessiontest.Bench, weighed bool) *sessiontest.Bench {
	t.Helper()
	if err := demo.Extend(b.Shop); err != nil {
		t.Fatal(err)
	}
	if weighed {
		weigh(t, b, "A-03", "160.4", "8.1")
		weigh(t, b, "A-21", "137.7", "24.3")
	}
	return b
}

func weigh(t *testing.T, b *sessiontest.Bench, place, gross, sample string) {
	t.Helper()
	grams := func(text string) measure.Quantity {
		q, err := measure.ParseQuantity(text, measure.Gram)
		if err != nil {
			t.Fatal(err)
		}
		return q
	}
	step := grams(".1")
	w := measure.Weighing{Step: step, Tare: grams("24.3"), Gross: grams(gross), Sample: measure.Sample{Pieces: 100, Net: grams(sample), Step: step}}
	if _, err := b.Shop.WeighSample(b.Heap(place).StockKey, w); err != nil {
		t.Fatal(err)
	}
}

// board opens the picture of all sub-assemblies.
func board(b *sessiontest.Bench, code string) *Model {
	m := NewModel(b.Session, code, func(State) {})
	m.Load()
	b.Drain()
	return m
}

// tiles are the tiles as a person reads them.
func tiles(s State) string {
	var lines []string
	for _, t := range s.Tiles {
		if t.New {
			continue
		}
		squares := ""
		for _, q := range t.Squares {
			squares += map[drawing.Square]string{drawing.InHand: "#", drawing.Estimated: "/", drawing.Missing: "o", drawing.Awaited: ":"}[q]
		}
		lines = append(lines, fmt.Sprintf("%s %s [%s] %s %s", t.Code, t.Name, squares, t.Mark.Tone, t.Mark.Word))
	}
	return strings.Join(lines, "\n")
}

// Story 11: what can be started before the weighing and after it.
func TestStory11(t *testing.T) {
	m := board(extended(t, false), "")
	apptest.Compare(t, "before the weighing", tiles(m.State()), `SA-10 Fin [//###] warn weigh 2 places
SA-20 Rudder [#] ok ready
SA-21 Rudder hinges [###] ok ready
SA-30 Tailplane [:] stop OQ-30-033 owed
SA-40 Elevator [o##] stop AN3-11: 4 short
SA-41 Elevator hinges [o##] stop AN3-5A: 6 short
SA-50 Tank [:] stop crate C3 not here`)
	if s := m.State(); s.Note != "7 sub-assemblies in your order; 2 can be started" || m.Chosen() != "SA-20" || s.Cheapest[0] != (Advice{Do: "Weigh A-03 and A-21", Frees: "SA-10 can start, 20 h of work"}) {
		t.Errorf("note %q, chosen %s, cheapest %v", s.Note, m.Chosen(), s.Cheapest)
	}
	m = board(extended(t, true), "SA-21")
	if s := m.State(); s.Note != "7 sub-assemblies in your order; 3 can be started" || !strings.HasPrefix(tiles(s), "SA-10 Fin [#####] ok ready\n") {
		t.Errorf("after the weighing: %s\n%s", s.Note, tiles(s))
	}
	apptest.Compare(t, "SA-21", apptest.Words(m.State().Lines), `AN3-5A | Bolt, 10-32, grip 1/4 | 20 | 22 | in A-12
NAS1149F0363P | Washer, No. 10, 0.063 thick · called AN960-10 | 40 | 138 | in A-30; beware of A-31
AN365-1032A | Lock nut, 10-32 | 20 | 64 | in A-17`)
}

// Story 11: what holds SA-41 up is said with who has it.
func TestBlockedLines(t *testing.T) {
	b := extended(t, true)
	m := board(b, "SA-41")
	s := m.State()
	apptest.Compare(t, "SA-41", apptest.Words(s.Lines), `AN3-5A | Bolt, 10-32, grip 1/4 | 8 | 2 | 28 here: 6 for SA-10, 20 for SA-21
NAS1149F0363P | Washer, No. 10, 0.063 thick · called AN960-10 | 16 | 98 | in A-30; beware of A-31
AN365-1032A | Lock nut, 10-32 | 8 | 44 | in A-17`)
	if s.Head != "SA-41 Elevator hinges" || s.Sentence != "Not ready: AN3-5A: need 8, free 2; 28 here, 6 for SA-10, 20 for SA-21." {
		t.Errorf("%s: %s", s.Head, s.Sentence)
	}
	m = board(b, "SA-10")
	apptest.Compare(t, "SA-10", apptest.Words(m.State().Lines), `AN426AD3-3.5 | Flush rivet, 3/32 by 7/32 | 212 | about 1,680 | in A-03
AN470AD4-5 | Dome rivet, 1/8 by 5/16 | 46 | about 467 | in A-21
AN3-5A | Bolt, 10-32, grip 1/4 | 6 | 28 | in A-12
NAS1149F0363P | Washer, No. 10, 0.063 thick · called AN960-10 | 12 | 150 | in A-30; beware of A-31
AN365-1032A | Lock nut, 10-32 | 6 | 70 | in A-17`)
	m = board(b, "SA-40")
	apptest.Compare(t, "SA-40", apptest.Words(m.State().Lines), `AN3-11 | Bolt, 10-32, grip 3/4 | 4 | 0 | short on line 42
AN310-3 | Castle nut, 10-32 | 4 | 4 | in A-19
MS24665-132 | Cotter pin, steel, 1/16 by 1/2 (not cross-checked) | 4 | 16 | in A-23`)
}

// Story 11: SA-41 before SA-21 by one key, which says what that changes; Undo brings the old
// order back. A blocked one keeps its hold until it lets go.
func TestStory11Order(t *testing.T) {
	b := extended(t, true)
	m := board(b, "SA-41")
	said := ""
	m.Said = func(n notice.Notice) { said = n.Lead + " " + n.Text }
	press := func(key, want string) {
		t.Helper()
		said = ""
		m.Key(key, 4)
		b.Drain()
		if said != want {
			t.Errorf("%s says %q, want %q", key, said, want)
		}
	}
	was := tiles(m.State())
	press("1", "SA-41 before SA-21: SA-41 can start now; SA-21 cannot start any more.")
	if s := m.State(); s.Note != "7 sub-assemblies in your order; 3 can be started" || !strings.Contains(tiles(s), "SA-41 Elevator hinges [###] ok ready\nSA-21 Rudder hinges [o##] stop AN3-5A: 6 short") {
		t.Errorf("%s:\n%s", s.Note, tiles(s))
	}
	if _, err := b.Shop.Undo(); err != nil {
		t.Fatal(err)
	}
	m.Load()
	b.Drain()
	apptest.Compare(t, "after Undo", tiles(m.State()), was)
	press("-", "SA-41 before SA-40: What can be started stays as it is.")
	press("+", "SA-40 before SA-41: What can be started stays as it is.")

	m = board(b, "SA-40")
	m.Said = func(n notice.Notice) { said = n.Lead + " " + n.Text }
	pins := func() string { return freeOf(t, b, "MS24665-132") }
	if got := pins(); got != "12" {
		t.Errorf("free pins while SA-40 holds 4: %s", got)
	}
	press("G", "SA-40 lets go of what is kept for it: What can be started stays as it is.")
	if got := pins(); got != "16" {
		t.Errorf("free pins when it let go: %s", got)
	}
	if m.State().LetGo != "Hold its parts again" {
		t.Errorf("G then says %q", m.State().LetGo)
	}
}

// freeOf is how many of an item nobody holds.
func freeOf(t *testing.T, b *sessiontest.Bench, item string) (free string) {
	t.Helper()
	err := b.Read(func(r *session.Reader) error {
		return r.Board(func(board *build.Board) error {
			_, amount, _ := board.Free(item, measure.Each)
			free = amount.Figure()
			return nil
		})
	})
	if err != nil {
		t.Fatal(err)
	}
	return free
}

// The arrows go from tile to tile, and Space takes one along on the walk.
func TestKeys(t *testing.T) {
	b := extended(t, true)
	m := board(b, "SA-10")
	press := func(keys ...string) {
		for _, key := range keys {
			m.Key(key, 4)
		}
		b.Drain()
	}
	press("Right", "Down", "Left", "Up")
	if m.Chosen() != "SA-10" {
		t.Errorf("round the tiles to %s", m.Chosen())
	}
	if m.Key("Up", 4) {
		t.Error("Up in the first line does not go on to the command bar")
	}
	press("Left", "Right", "Right")
	if m.Chosen() != "SA-21" || m.State().Walk != "SA-21" || m.State().All != "SA-10, SA-20 and SA-21" {
		t.Errorf("chosen %s, walk for %q, all %q", m.Chosen(), m.State().Walk, m.State().All)
	}
	press("Space", "Left", "Left", "Space")
	if s := m.State(); s.Walk != "SA-10 and SA-21" || !s.Tiles[0].Taken || s.Tiles[1].Taken || !s.Tiles[2].Taken {
		t.Errorf("taken along: %q", s.Walk)
	}
	press("Space", "Down", "Right", "Right", "Right", "Right")
	if m.State().Walk != "SA-21" || m.Chosen() != "SA-50" {
		t.Errorf("walk for %q, at the end %s", m.State().Walk, m.Chosen())
	}
}

// An empty shop says what to do first.
func TestEmpty(t *testing.T) {
	b := sessiontest.Empty(t)
	if m := board(b, ""); !m.State().Empty || m.Key("Right", 4) {
		t.Errorf("an empty shop shows %+v", m.State())
	}
}

// All that is shown is of one state of the shop.
func TestOneReading(t *testing.T) {
	b := extended(t, true)
	m := NewModel(b.Session, "", func(State) {})
	b.OneReading("the tiles", m.Load)
}
