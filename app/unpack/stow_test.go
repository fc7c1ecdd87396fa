package unpack

import (
	"slices"
	"strings"
	"testing"

	"stowright/app/demo"
	"stowright/app/notice"
	"stowright/store"
)

// where says in which places how much of an item lies: "A-21: 12 ea".
func (b *bench) where(item string) string {
	b.t.Helper()
	heaps, err := b.s.Shop.Holdings(item)
	if err != nil {
		b.t.Fatal(err)
	}
	var all []string
	for _, h := range heaps {
		p, err := b.s.Shop.Place(h.Place)
		if err != nil {
			b.t.Fatal(err)
		}
		all = append(all, strings.TrimSpace(p.Name+": "+h.Amount.String()+" "+string(h.Condition)))
	}
	return strings.Join(all, ", ")
}

// What was just checked is asked about while the next line is in hand already, and
// Enter stows it where it is suggested without anything typed.
func TestStowWithoutRetyping(t *testing.T) {
	b := newBench(t, demo.Arrived)
	b.to(38)
	b.keys("A")
	s := b.m.State()
	if s.Current.Number != 39 {
		t.Errorf("line in hand: got %d, want 39", s.Current.Number)
	}
	if s.Side.Stow == nil || s.Side.Stow.What != "12 AN3-4A" || s.Side.Stow.Place != "Cabinet A · A-01" {
		t.Fatalf("asked at the side: %+v, want 12 AN3-4A for A-01", s.Side.Stow)
	}
	if i := s.Side.Stow.Cabinet.Lit(); i != 0 {
		t.Errorf("lit drawer: got %d, want the first", i)
	}
	b.keys("Enter")
	if got := b.where("AN3-4A"); got != "A-01: 12 ea" {
		t.Errorf("AN3-4A lies in %s, want A-01: 12 ea", got)
	}
	if s := b.m.State(); s.Side.Stow != nil || s.Current.Number != 39 {
		t.Errorf("after stowing: side asks %+v, line in hand %d", s.Side.Stow, s.Current.Number)
	}
	if _, err := b.s.Shop.Undo(); err != nil {
		t.Fatal(err)
	}
	b.queue.Drain()
	if s := b.m.State(); s.Side.Stow == nil || s.Side.Stow.Line != 38 || s.Current.Number != 39 {
		t.Errorf("after undo: side asks %+v, line in hand %d; want 38 asked about again", s.Side.Stow, s.Current.Number)
	}
	b.keys("Enter", "A")
	if got := b.m.State().Side.Stow; got == nil || got.Place == "Cabinet A · A-02" || !strings.Contains(got.Why, "AN3-4A") {
		t.Errorf("AN3-5A is suggested beside its look-alike: %+v", got)
	}
	if _, err := b.s.Shop.Undo(); err != nil {
		t.Fatal(err)
	}
	if _, err := b.s.Shop.Undo(); err != nil {
		t.Fatal(err)
	}
	b.queue.Drain()
	if got := b.where("AN3-4A"); got != "H103: 12 ea" {
		t.Errorf("after two undos AN3-4A lies in %s, want H103: 12 ea", got)
	}
}

// The label of a drawer that is scanned while the side asks takes what it asks about; other
// labels, and labels while something else is asked, lead where they always do.
func TestStowByScanning(t *testing.T) {
	b := newBench(t, demo.Arrived)
	place := func(name string) store.Place {
		t.Helper()
		places, err := b.s.Shop.Places()
		if err != nil {
			t.Fatal(err)
		}
		i := slices.IndexFunc(places, func(p store.Place) bool { return p.Name == name })
		return places[i]
	}
	b.to(38)
	if b.m.Scan(place("A-07")) {
		t.Error("a drawer is taken though nothing is asked")
	}
	b.keys("A")
	for _, name := range []string{"Garage", "Cabinet A", "C1", "H103"} {
		if b.m.Scan(place(name)) {
			t.Errorf("%s is taken for a place to stow in", name)
		}
	}
	b.keys("E")
	if b.m.Scan(place("A-07")) {
		t.Error("a drawer is taken while another place is typed")
	}
	b.keys("Esc")
	if !b.m.Scan(place("A-07")) {
		t.Error("the drawer is not taken")
	}
	b.queue.Drain()
	if got := b.where("AN3-4A"); got != "A-07: 12 ea" || b.m.State().Side.Stow != nil {
		t.Errorf("AN3-4A lies in %s, and the side asks %+v", got, b.m.State().Side.Stow)
	}
}

func TestStowElsewhere(t *testing.T) {
	b := newBench(t, demo.Arrived)
	b.to(38)
	b.keys("A", "E", `"zz"`, "Enter")
	p := b.m.State().Prompt
	if p == nil || !strings.Contains(p.Error, `No place here is named "zz"`) {
		t.Fatalf("an unknown place: %+v", p)
	}
	b.keys(`"a1"`)
	var names []string
	for _, row := range b.m.State().Prompt.Options {
		names = append(names, row.Cells[0].Text)
	}
	if got := strings.Join(names, " "); got != "A-10 A-11 A-12 A-13 A-14" {
		t.Errorf("places for a1: %s", got)
	}
	b.keys("Down", "Enter")
	if got := b.where("AN3-4A"); got != "A-11: 12 ea" {
		t.Errorf("AN3-4A lies in %s, want A-11: 12 ea", got)
	}
}

// Damaged pieces and what came in place of something else stay set apart.
func TestOnlyGoodStockIsStowed(t *testing.T) {
	b := newBench(t, demo.Arrived)
	b.to(24)
	b.keys("D", "Enter", `"bad thread"`, "Enter", "Enter")
	if got := b.where("OQ-90-005"); !strings.Contains(got, "SK40: 1 ea damaged") || !strings.Contains(got, "S1: 3 ea") {
		t.Errorf("OQ-90-005 lies in %s, want 3 on the first shelf and the damaged one in SK40", got)
	}
	b.to(42)
	b.keys("W", `"an3-11a"`, "Enter", `"4"`, "Enter", "Enter")
	if got := b.m.State().Side.Stow; got != nil {
		t.Errorf("a wrong item is to be stowed: %+v", got)
	}
	if got := b.where("AN3-11A"); got != "H103: 4 ea set apart" {
		t.Errorf("AN3-11A lies in %s, want it set apart", got)
	}
}

// What was checked and left in its bag is found again one after the other.
func TestNextToStow(t *testing.T) {
	b := newBench(t, demo.Arrived)
	b.to(38)
	b.keys("A", "A")
	b.to(1)
	if got := b.m.State().Side.Waiting; got != "2 lines to stow" {
		t.Errorf("waiting: %q", got)
	}
	b.keys("T", "Enter", "T")
	if s := b.m.State(); s.Current.Number != 39 || s.Side.Stow == nil {
		t.Errorf("next to stow: line %d, %+v; want 39", s.Current.Number, s.Side.Stow)
	}
}

func TestAShopWithoutPlaces(t *testing.T) {
	b := &bench{t: t}
	b.empty()
	b.open("")
	if s := b.m.State(); s.NextPart != ListPart {
		t.Fatalf("an empty shop says %q and leads to %q", s.Nothing, s.NextPart)
	}
	ship, err := demo.Import(b.s.Shop)
	if err != nil {
		t.Fatal(err)
	}
	b.queue.Drain()
	if s := b.m.State(); s.NextPart != ArrivalPart {
		t.Fatalf("a list of which nothing came says %q and leads to %q", s.Nothing, s.NextPart)
	}
	if b.m.Key("A") {
		t.Error("A is taken while nothing has come")
	}
	if err := demo.Arrive(b.s.Shop, ship.ID, "C1"); err != nil {
		t.Fatal(err)
	}
	b.queue.Drain()
	b.keys("A")
	if s := b.m.State().Side.Stow; s == nil || s.Place != "" || !strings.Contains(s.Why, "make a cabinet") {
		t.Errorf("without places the side says %+v", s)
	}
}

// A key that comes while the store works is done afterwards, on the line that is
// then in hand.
func TestKeysWaitForTheStore(t *testing.T) {
	k := newTypist(t, demo.Arrived)
	b, v := k.bench, k.check()
	b.m = v.model
	v.hasty.Taken()
	b.to(38)
	k.ahead("aaa")
	k.settle()
	for line, want := range map[int]string{38: "all here", 39: "all here", 40: "all here", 41: "to check"} {
		if got := b.word(line); got != want {
			t.Errorf("line %d: got %q, want %q", line, got, want)
		}
	}
}

func TestTicksAreSeparate(t *testing.T) {
	b := newBench(t, demo.Arrived)
	finding := func(line int) store.Finding { return *b.m.data.line(store.LineID(line)).Finding }
	b.to(38)
	b.keys("L", "A")
	if f := finding(38); !f.Counted || !f.Looked {
		t.Errorf("looked at, then counted: %+v", f)
	}
	b.keys("A")
	if f := finding(39); !f.Counted || f.Looked {
		t.Errorf("counted only: %+v", f)
	}
	b.to(39)
	b.keys("L")
	if f := finding(39); !f.Counted || !f.Looked || f.Found.Number() != "24" {
		t.Errorf("looked at afterwards: %+v", f)
	}
	b.keys("L")
	if f := finding(39); f.Looked {
		t.Errorf("taken back: %+v", f)
	}
}

// Answers that cannot be are refused where they are asked, and change nothing.
func TestAnswersRefused(t *testing.T) {
	for _, row := range []struct {
		name string
		line int
		keys []string
		want string
	}{
		{"some: words", 38, []string{"S", `"twelve"`, "Enter"}, `"twelve" is not an amount`},
		{"some: negative", 38, []string{"S", `"-2"`, "Enter"}, `"-2" is not an amount`},
		{"some: empty", 38, []string{"S", `""`, "Enter"}, `"" is not an amount`},
		{"damaged: more than here", 38, []string{"D", `"13"`, "Enter"}, "12 are here: 1 to 12"},
		{"damaged: none", 38, []string{"D", `"0"`, "Enter"}, "12 are here: 1 to 12"},
		{"wrong: the right number", 38, []string{"W", `"an3-4a"`, "Enter"}, "with the right number use A, S or N"},
		{"wrong: none of it", 38, []string{"W", `"AN3-5A"`, "Enter", `"0"`, "Enter"}, "how many AN3-5A came"},
		{"split: more than in the bag", 40, []string{"X", `"6"`, "Enter", `"AN3-5A"`, "Enter", `"7"`, "Enter"}, "1 to 6 of them can be AN3-5A"},
	} {
		t.Run(row.name, func(t *testing.T) {
			b := newBench(t, demo.Arrived)
			b.to(row.line)
			b.keys(row.keys...)
			if p := b.m.State().Prompt; p == nil || !strings.Contains(p.Error, row.want) {
				t.Errorf("keys %q: %+v, want %q", row.keys, p, row.want)
			}
			b.keys("Esc")
			if got := b.word(row.line); got != "to check" || b.m.State().Prompt != nil {
				t.Errorf("after Esc line %d is %q", row.line, got)
			}
		})
	}
}

func TestKeysToTheOtherParts(t *testing.T) {
	for _, row := range []struct {
		scene demo.Scene
		want  string
	}{
		{demo.Furnished, "I list"}, {demo.Arrived, "C claim, I list, R arrival"},
	} {
		b := newBench(t, row.scene)
		var got []string
		for _, key := range []string{"C", "I", "R", "Q"} {
			if to, ok := b.m.Part(key); ok {
				got = append(got, key+" "+to.Part)
			}
		}
		if s := strings.Join(got, ", "); s != row.want {
			t.Errorf("scene %v: keys lead to %q, want %q", row.scene, s, row.want)
		}
		if row.scene == demo.Arrived {
			b.keys("S")
			if _, ok := b.m.Part("C"); ok {
				t.Error("C leads away from an open question")
			}
		}
	}
}

func TestKeysOutOfPlace(t *testing.T) {
	b := newBench(t, demo.Arrived)
	b.to(57)
	b.m.Key("A")
	if got := b.m.State().Error; !strings.Contains(got, "Crate C3 has not come") {
		t.Errorf("A on a line that has not come: %q", got)
	}
	for _, key := range []string{"Q", "Enter", "E", "T", "F6", "O"} {
		if b.m.Key(key) {
			t.Errorf("key %s was taken with nothing for it to do", key)
		}
	}
}

// What is short is said after the next line is in hand already.
func TestShortLineSaysWhereToLook(t *testing.T) {
	b := newBench(t, demo.Arrived)
	b.to(17)
	b.keys("7", "Enter")
	s := b.m.State()
	want := notice.Notice{Tone: notice.Stop, Lead: "OQ-30-011 is 1 short so far.", Text: "Look first: inside the tailplane skin (line 18), and in the packing."}
	if s.Current.Number != 18 || s.Before == nil || *s.Before != want {
		t.Errorf("line in hand %d, %+v; want 18 and %+v", s.Current.Number, s.Before, want)
	}
	b.keys("Up")
	if s := b.m.State(); s.Before != nil || !strings.Contains(s.Current.Hint, "Look first: inside the tailplane skin") {
		t.Errorf("on the line itself: %+v, hint %q", s.Before, s.Current.Hint)
	}
}

func TestWhereToLookFirst(t *testing.T) {
	b := newBench(t, demo.Unpacked)
	for _, row := range []struct {
		name string
		line int
		want string
	}{
		{"a rib", 17, "inside the tailplane skin (line 18), and in the packing"},
		{"a bolt whose number is in one bag only", 40, "in the wrong bag, such as H101, H102, H104, and among its look-alikes"},
		{"a tube in a crate of its own", 28, "inside other parts of C2, and in the packing"},
		{"a cotter pin that is on two lines", 49, "in the wrong bag, such as H106, H101, H102, and among its look-alikes"},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := b.m.data.lookFirst(*b.m.data.line(store.LineID(row.line))); got != row.want {
				t.Errorf("line %d: got %q, want %q", row.line, got, row.want)
			}
		})
	}
}

// Cotter pins are on two lines, which are two lots: where the second goes to the drawer of
// the first, it is asked once what becomes of them, and nothing is guessed.
func TestLotsThatMeetAreAskedAbout(t *testing.T) {
	for _, row := range []struct {
		name, want string
		keys       []string
	}{
		{"poured", "A-01: 16 ea", []string{"Enter"}},
		{"apart", "A-01: 12 ea, A-01: 4 ea", []string{"Down", "Enter"}},
		{"left", "A-01: 12 ea, H106: 4 ea", []string{"Esc"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			b := newBench(t, demo.Arrived)
			b.to(49)
			b.keys("A", "E", `"a-01"`, "Enter")
			b.to(56)
			b.keys("A", "E", `"a-01"`, "Enter")
			p := b.m.State().Prompt
			if p == nil || !strings.Contains(p.Question, "A-01 has another lot of MS24665-132, 12 ea of L-1") || len(p.Options) != 2 {
				t.Fatalf("asked: %+v", p)
			}
			b.keys(row.keys...)
			got := strings.Split(b.where("MS24665-132"), ", ")
			slices.Sort(got)
			if strings.Join(got, ", ") != row.want {
				t.Errorf("they lie in %q, want %s", got, row.want)
			}
		})
	}
}

// What is asked about the line that was checked names that line: another one is in hand by then.
func TestTheQuestionNamesItsLine(t *testing.T) {
	b := newBench(t, demo.Arrived)
	b.to(38)
	b.keys("A", "E")
	s := b.m.State()
	if s.Current.Designation != "AN3-5A" || s.Prompt == nil || s.Prompt.About != "AN3-4A" {
		t.Fatalf("in hand %s, asked %+v; want AN3-4A asked about", s.Current.Designation, s.Prompt)
	}
	b.keys("Esc", "S")
	if s := b.m.State(); s.Prompt == nil || s.Prompt.About != "AN3-5A" {
		t.Errorf("some of the line in hand: %+v", s.Prompt)
	}
}
