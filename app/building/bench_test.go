package building

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"stowright/app/apptest"

	"stowright/app/operation"
	"stowright/app/routes"
	"stowright/app/session/sessiontest"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/build"
)

// benched is the page of a tray, driven as by its keys.
type benched struct {
	*BenchModel
	t *testing.T
	b *sessiontest.Bench
}

func benchFor(t *testing.T, b *sessiontest.Bench, code string) *benched {
	m := &benched{NewBenchModel(b.Session, code, func(BenchState) {}), t, b}
	m.Load()
	b.Drain()
	return m
}

// key does what a key does on the line of an item, "" for the whole tray, with what is
// typed; a reason is given where one is asked for. It returns what was said.
func (m *benched) key(key, item, text, reason string) string {
	m.t.Helper()
	for i, l := range m.data.lines {
		if l.item == item {
			m.Choose(i)
		}
	}
	line, _ := m.line()
	if item != "" && line.item != item {
		m.t.Fatalf("no line of %s: %+v", item, m.State().Rows)
	}
	for _, a := range acts() {
		if a.key != key {
			continue
		}
		said := ""
		o, err := a.operation(m.BenchModel, line, text, "")
		if err != nil {
			return "refused: " + err.Error()
		}
		var refused error
		back := func(words string, err error) { said, refused = words, err }
		m.Do(o, back)
		m.b.Drain()
		if errors.Is(refused, store.ErrReason) && reason != "" {
			o, _ = a.operation(m.BenchModel, line, text, reason)
			m.Do(o, back)
			m.b.Drain()
		}
		if refused != nil {
			return "refused: " + wording.Error(refused)
		}
		return said
	}
	m.t.Fatalf("no act has the key %s", key)
	return ""
}

func (m *benched) does(key, item, text, reason string) {
	m.t.Helper()
	if said := m.key(key, item, text, reason); strings.HasPrefix(said, "refused") || said == "" {
		m.t.Errorf("%s on %s with %q: %s", key, item, text, said)
	}
}

func pulled(t *testing.T, b *sessiontest.Bench, item, place, amount, code, reason string) {
	t.Helper()
	done := false
	operation.Start(b.Session, nil, operation.Take{Heap: operation.Heap{Item: item, From: place}, Amount: amount, For: code, Reason: reason}, func(_ operation.Result, err error) {
		done = true
		if err != nil {
			t.Errorf("pull %s %s: %v", amount, item, err)
		}
	})
	b.Drain()
	if !done {
		t.Fatal("nothing was pulled")
	}
}

// Story 13, by the keys of the bench.
func TestStory13(t *testing.T) {
	b := extended(t, true)
	pulled(t, b, "AN426AD3-3.5", "A-03", "240", "SA-10", "28 for the ones that will be drilled out")
	pulled(t, b, "AN3-5A", "A-12", "6", "SA-10", "")
	pulled(t, b, "NAS1149F0363P", "A-30", "14", "SA-10", "two spare")
	pulled(t, b, "AN365-1032A", "A-17", "6", "SA-10", "")
	pulled(t, b, "AN470AD4-5", "A-21", "46", "SA-10", "")

	m := benchFor(t, b, "sa-10")
	m.does("S", "AN426AD3-3.5", "212", "")
	m.does("X", "AN426AD3-3.5", "19 drilled out", "")
	m.does("H", "AN426AD3-3.5", "9", "")
	m.does("S", "AN3-5A", "6", "")
	if said := m.key("S", "NAS1149F0363P", "13", ""); !strings.HasPrefix(said, "refused") {
		t.Errorf("13 washers of 12 without a reason: %s", said)
	}
	m.does("S", "NAS1149F0363P", "13", "one more under the head")
	m.does("H", "NAS1149F0363P", "", "")
	m.does("L", "AN365-1032A", "1", "")
	if s := m.State(); len(s.Looked) != 1 || !strings.HasPrefix(s.Looked[0], "1 AN365-1032A") {
		t.Errorf("looked for: %v", s.Looked)
	}
	pulled(t, b, "AN365-1032A", "A-17", "1", "SA-10", "one was lost")
	m.Load()
	b.Drain()
	m.does("S", "AN365-1032A", "6", "")
	m.does("F", "", "", "")
	for place, want := range map[string]string{
		"A-03": "about 1,449 ea (1,437 to 1,461)", "A-12": "22 ea", "A-30": "137 ea", "A-17": "63 ea", "A-21": "about 421 ea (419 to 423)",
	} {
		heap := b.Heap(place)
		apptest.Compare(t, place, heap.Amount.String(), want)
	}
	if said := m.key("C", "", "", ""); !strings.Contains(said, "1 nut not found in SA-10") {
		t.Errorf("C says %s", said)
	}
	if said := m.key("C", "", "looked at by Partner, no camera", ""); !strings.Contains(said, "1 nut not found in SA-10") {
		t.Errorf("C with a reason says %s", said)
	}
	m.does("L", "AN365-1032A", "1", "")
	heap := b.Heap("A-17")
	apptest.Compare(t, "A-17 after the nut was found", heap.Amount.String(), "64 ea")
	m.does("C", "", "looked at by Partner, no camera", "")
	if !m.Closed() {
		t.Error("it is not closed")
	}
	if said := m.key("R", "AN3-5A", "1", ""); !strings.HasPrefix(said, "refused") {
		t.Errorf("removed from a closed one: %s", said)
	}
}

// open reports whether something that is open at closing says words.
func (m *benched) open(words string) bool {
	return slices.ContainsFunc(m.data.open, func(o build.Open) bool { return strings.Contains(o.Sentence, words) })
}

// What is noted at the bench is not asked for at closing any more: torque line by line,
// with the value as it was typed and the wrench, and a look of somebody else.
func TestBenchNotes(t *testing.T) {
	b := extended(t, true)
	m := benchFor(t, b, "SA-20")
	const nut = "MS21042-3"
	if !m.open("no torque note for "+nut) || !m.open("no second person") {
		t.Fatalf("open: %+v", m.data.open)
	}
	before := b.Journal()
	for _, row := range []struct{ key, text, want string }{
		{"T", "25", "Type the value with its unit, as in 25 in-lb"},
		{"T", "hand tight", "Type the value with its unit"},
		{"T", "", "Type the value with its unit"},
		{"E", "", "does not say who looked"},
		{"E", "builder", "a look is somebody else's"},
		{"N", "", "Type how many hours"},
		{"N", "long", "is no number of hours"},
	} {
		if said := m.key(row.key, nut, row.text, ""); !strings.Contains(said, row.want) || !strings.HasPrefix(said, "refused") {
			t.Errorf("%s with %q says %s", row.key, row.text, said)
		}
	}
	if b.Journal() != before || !m.open("no torque note") {
		t.Error("something was noted")
	}
	m.does("T", nut, "2,8 N m, wrench 2", "")
	if m.open("torque") || !m.open("no second person") {
		t.Errorf("open after the torque: %+v", m.data.open)
	}
	m.does("E", "", "Partner, two threads past every nut", "")
	if m.open("no second person") {
		t.Errorf("open after the look: %+v", m.data.open)
	}
	m.does("N", "", "3.5", "")
	notes, err := b.Shop.Notes("SA-20")
	if err != nil || len(notes) != 3 {
		t.Fatalf("%+v, %v", notes, err)
	}
	apptest.Compare(t, "torque", notes[0].Text+" by "+notes[0].Tool, "2,8 N m by wrench 2")
	apptest.Compare(t, "look", notes[1].Second+" saw "+notes[1].Text, "Partner saw two threads past every nut")
	apptest.Compare(t, "hours", notes[2].Hours.String(), "3.5 h")
}

// Where several lines call one number, the torque says of which it is.
func TestTorqueOfTheLineThatIsMeant(t *testing.T) {
	b := extended(t, true)
	const nut = "AN365-1032A"
	list := operation.NeedList{For: "SA-95", Name: "Flap", Text: "number,quantity,position\n" + nut + ",4,left\n" + nut + ",4,right\n"}
	operation.Start(b.Session, nil, list, func(_ operation.Result, err error) {
		if err != nil {
			t.Fatal(err)
		}
	})
	b.Drain()
	m := benchFor(t, b, "SA-95")
	lines := m.data.lines[0].requirements
	if len(lines) != 2 || !strings.Contains(torqueQuestion(m.BenchModel, m.data.lines[0]).Hint, lines[0]+" or "+lines[1]) {
		t.Fatalf("lines %v", lines)
	}
	if said := m.key("T", nut, "25 in-lb", ""); !strings.Contains(said, "Type first which line it is, "+lines[0]+" or "+lines[1]) {
		t.Errorf("of which line: %s", said)
	}
	m.does("T", nut, strings.ToLower(lines[1])+" 25 in-lb", "")
	notes, err := b.Shop.Notes("SA-95")
	if err != nil || len(notes) != 1 || notes[0].Requirement != lines[1] || !m.open("no torque note for "+nut) {
		t.Errorf("%+v, %v; open %+v", notes, err, m.data.open)
	}
	m.does("T", nut, lines[0]+" 25 in-lb", "")
	if m.open("torque") {
		t.Errorf("open: %+v", m.data.open)
	}
}

// audited is what holding a tray against a weight says.
func audited(m *benched, typed string) string {
	said := ""
	m.WeighTray(typed, func(words string, err error) {
		said = words
		if err != nil {
			said = "refused: " + err.Error()
		}
	})
	m.b.Drain()
	return said
}

// The questions of the bench say what is missing in what was typed, and change nothing.
func TestBenchAsks(t *testing.T) {
	b := extended(t, true)
	pulled(t, b, "AN3-5A", "A-12", "6", "SA-10", "")
	m := benchFor(t, b, "SA-10")
	before := b.Journal()
	for _, row := range []struct{ key, text, want string }{
		{"B", "2", "Type the number and the code of the lender"},
		{"D", "AN3-6A", "who allowed it and by which paper"},
		{"S", "7", "6 ea"},
		{"X", "", "Type how many"},
		{"B", "2 SA-99", "SA-99"},
	} {
		if said := m.key(row.key, "AN3-5A", row.text, ""); !strings.Contains(said, row.want) || !strings.HasPrefix(said, "refused") {
			t.Errorf("%s with %q says %s", row.key, row.text, said)
		}
	}
	for typed, want := range map[string]string{"26": "as in 26.0 24.3 0.1 g", "26 24 0.1 ft": "is no unit of weight", "a b c": "is no weight", "26.0 24.3 0.1": "weigh a sample of AN3-5A"} {
		if said := audited(m, typed); !strings.Contains(said, want) {
			t.Errorf("weighed %q: %s", typed, said)
		}
	}
	if b.Journal() != before {
		t.Error("something was booked")
	}
	m.does("H", "AN3-5A", "", "")
	if heap := b.Heap("A-12"); heap.Amount.String() != "28 ea" {
		t.Errorf("put back: %s", heap.Amount)
	}
	if none := benchFor(t, b, "SA-99"); !strings.Contains(none.State().Problem, "SA-99") {
		t.Errorf("%+v", none.State())
	}
	b.OneReading("the bench", m.Load)
}

// Another tray lends, and owes again what it lent; another item is used by a decision.
func TestBorrowAndDecide(t *testing.T) {
	b := extended(t, true)
	pulled(t, b, "AN3-5A", "A-12", "20", "SA-21", "")
	m := benchFor(t, b, "SA-41")
	m.does("B", "AN3-5A", "2 SA-21", "")
	if lender := benchFor(t, b, "SA-21"); lender.data.lines[0].tray.Number() != "18" || lender.data.lines[0].mark().Word != "2 to pull" {
		t.Errorf("the lender: %+v", lender.data.lines[0])
	}
	m.does("D", "AN3-5A", "AN3-6A, kit maker, letter of 8 April 2026", "")
	apptest.Compare(t, "then it calls", m.data.lines[0].item, "AN3-6A")
	if _, err := (operation.AddPaper{Kind: "letter", Kept: "binder 2"}).Do(t.Context(), b.Session); err != nil {
		t.Fatal(err)
	}
	m.does("D", "AN365-1032A", "AN365-1032, kit maker, pa-1", "")
	if all, err := b.Shop.Decisions(); err != nil || len(all) != 2 || all[1].Paper != "" || !slices.Equal(all[1].Papers, []string{"PA-1"}) {
		t.Errorf("decided is %+v, %v", all, err)
	}
}

func TestBenchPictures(t *testing.T) {
	b := extended(t, true)
	walkFor(b, "SA-10").press("Enter", "Enter", "Enter", "Enter")
	m := benchFor(t, b, "SA-10")
	m.does("S", "AN426AD3-3.5", "200", "")
	m.does("L", "AN365-1032A", "1", "")
	pictured(t, state("bench", b, routes.Route{Part: BenchPart, About: "SA-10"}))
}
