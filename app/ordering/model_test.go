package ordering

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stowright/app/apptest"

	"stowright/app/demo"
	"stowright/app/notice"
	"stowright/app/operation"
	"stowright/app/session/sessiontest"
	"stowright/store"
	"stowright/store/measure"
)

// bench is a shop with a clock that a test moves on.
type bench struct {
	*sessiontest.Bench
	t     *testing.T
	clock *demo.Clock
	said  []string
}

func (b *bench) do(operations ...operation.Operation) {
	b.t.Helper()
	for _, o := range operations {
		if _, err := o.Do(context.Background(), b.Session); err != nil {
			b.t.Fatalf("%#v: %v", o, err)
		}
		b.Drain()
	}
}

func (b *bench) weigh(place, gross, sample string) {
	b.t.Helper()
	grams := func(text string) measure.Quantity {
		q, err := measure.ParseQuantity(text, measure.Gram)
		if err != nil {
			b.t.Fatal(err)
		}
		return q
	}
	step := grams(".1")
	w := measure.Weighing{Step: step, Tare: grams("24.3"), Gross: grams(gross), Sample: measure.Sample{Pieces: 100, Net: grams(sample), Step: step}}
	if _, err := b.Shop.WeighSample(b.Heap(place).StockKey, w); err != nil {
		b.t.Fatal(err)
	}
}

func april(day int) time.Time { return time.Date(2026, 4, day, 9, 0, 0, 0, time.Local) }

// april20 is the setting of story 20: C3 is in, the claim for line 42 was answered, A-03 and
// A-21 are weighed as in story 11, nothing is pulled, and it is said how things are bought.
func april20(t *testing.T) *bench {
	t.Helper()
	clock := demo.NewClock(demo.Today, true)
	shop := sessiontest.OpenShop(t, demo.Unpacked, clock)
	if err := demo.Extend(shop); err != nil {
		t.Fatal(err)
	}
	b := &bench{Bench: sessiontest.On(t, shop), t: t, clock: clock}
	b.weigh("A-03", "160.4", "8.1")
	b.weigh("A-21", "137.7", "24.3")
	clock.Set(april(2))
	b.do(operation.Arrive{Crates: []string{"C3"}})
	for _, line := range []int{19, 57, 58, 59, 60} {
		b.do(operation.Receive{Line: line})
	}
	clock.Set(april(20))
	sealant, err := shop.Holdings("SEAL-B2")
	if err != nil || len(sealant) != 1 {
		t.Fatalf("the sealant lies in %v, %v", sealant, err)
	}
	if _, err := shop.PutSubAssembly(store.SubAssembly{Code: "SA-50", Planned: store.Date{Year: 2026, Month: 8, Day: 1}}); err != nil {
		t.Fatal(err)
	}
	b.do(
		operation.DescribeLot{Lot: sealant[0].Lot, Expires: "2026-07-10", ExpiresSource: "the can"},
		operation.SendClaim{On: "2026-04-03", How: "by mail"},
		operation.AnswerClaim{Lines: "42", Answer: store.Replacement, Note: "4 will be sent"},
		operation.PutSupplier{Name: "fastener shop", Minimum: "20.00 USD"},
		operation.PutSupply{Item: "AN3-5A", Supplier: "fastener shop", Pack: "10", Price: ".45", Spare: "10 %"},
		operation.PutSupply{Item: "MS24665-132", Supplier: "fastener shop", Pack: "25", Price: ".06", Keep: "20"},
		operation.PutSupply{Item: "AN3-11", Supplier: "fastener shop", Pack: "5", Price: ".90", Spare: "1"},
		operation.PutSupply{Item: "SEAL-B2", Supplier: "sealant shop", Price: "48.00"},
	)
	return b
}

func (b *bench) model(owed bool) *Model {
	m := NewModel(b.Session, owed, "", func(State) {})
	m.Said = func(n notice.Notice) { b.said = append(b.said, strings.TrimSpace(n.Lead+" "+n.Text)) }
	m.Load()
	b.Drain()
	return m
}

const story20 = `fastener shop | 3 lines | 10.50 | USD | 9.50 USD under | the minimum order
AN3-5A | Bolt, 10-32, grip 1/4 | 34 | +4 | 28 | ea | 10 | 1 × 10 | 4.50 | USD | SA-41
AN3-11 | Bolt, 10-32, grip 3/4 | 4 | +1 | 0 | 4 owed | 5 | 1 × 5 | 4.50 | USD | nothing | 4 are owed on line 42: nothing is unblocked by their being owed
MS24665-132 | Cotter pin, steel, 1/16 by 1/2 (not cross-checked) | 4 | ea | 16 | ea | 25 | 1 × 25 | 1.50 | USD | nothing | 8 under the minimum of 20
sealant shop | 1 line | 96.00 | USD
SEAL-B2 | Tank sealant two-part | 2 | qt | 0 | qt | 2 | qt | 96.00 | USD | SA-50 | 2 here expire 22 days before the job`

// Story 20 in the window: the list, marked as ordered it is owed and the list is empty; ten
// that come by their number, as a person says, clear that line alone.
func TestStory20(t *testing.T) {
	b := april20(t)
	m := b.model(false)
	apptest.Compare(t, "the list", apptest.Words(m.State().Rows), story20)
	if s := m.State(); s.Note != "4 lines of 2 suppliers, together 106.50 USD" || m.Item() != "AN3-5A" || s.Card.Quantity != "10" {
		t.Errorf("note %q, chosen %s, card %+v", s.Note, m.Item(), s.Card)
	}
	if strings.Contains(apptest.Words(m.State().Rows), "OQ-30-033") {
		t.Error("the doublers came, and are on the list")
	}

	m.Change(operation.MarkOrdered{All: true, Promised: "2026-04-30"}, func(problem string) { b.said = append(b.said, problem) })
	b.Drain()
	m.Load()
	b.Drain()
	if s := m.State(); len(s.Rows) > 0 || s.Lead != "Nothing is to be bought." {
		t.Errorf("marked as ordered, the list says %q\n%s", s.Lead, apptest.Words(s.Rows))
	}
	if got := strings.Join(b.said, "|"); got != "|Done: O-1 ordered of fastener shop: 3 lines; O-2 ordered of sealant shop: 1 line. Ctrl+Z undoes it." {
		t.Errorf("said is %q", got)
	}
	m.Show(true)
	owed := `AN3-11 | Bolt, 10-32, grip 3/4 | 5 | of 5 | O-1 line 2 | fastener shop | in 10 days
MS24665-132 | Cotter pin, steel, 1/16 by 1/2 (not cross-checked) | 25 | of 25 | O-1 line 3 | fastener shop | in 10 days
SEAL-B2 | Tank sealant two-part | 2 | of 2 | O-2 line 1 | sealant shop | in 10 days`
	bolts := "AN3-5A | Bolt, 10-32, grip 1/4 | 10 | of 10 | O-1 line 1 | fastener shop | in 10 days\n"
	apptest.Compare(t, "owed", apptest.Words(m.State().Rows), bolts+owed)
	if s := m.State(); s.Note != "4 lines are owed; ordered so far for 106.50 USD" {
		t.Errorf("the note is %q", s.Note)
	}

	// Ten come on a list of their own. It is asked, and not assumed.
	_, _, err := b.Shop.Import(store.NewShipment{Order: "F-1", Supplier: "Fastener Shop", File: "f1.csv", Fingerprint: "f1", Lines: []store.NewLine{
		{Number: 1, Crate: "parcel", Designation: "AN3-5A", Listed: measure.Pieces(10), Status: store.Shipped},
	}})
	if err != nil {
		t.Fatal(err)
	}
	b.do(operation.Arrive{List: "F-1", Crates: []string{"parcel"}}, operation.Receive{List: "F-1", Line: 1})
	m = b.model(true)
	asked := "AN3-5A | Bolt, 10-32, grip 1/4 | 10 | came | O-1 line 1? | line 1 of F-1 | say whether\n"
	apptest.Compare(t, "it came", apptest.Words(m.State().Rows), asked+bolts+owed)
	m.Answer(true)
	b.Drain()
	m.Load()
	b.Drain()
	apptest.Compare(t, "it was that", apptest.Words(m.State().Rows), owed)
	if s := b.model(false).State(); len(s.Rows) > 0 || s.Ask != "" {
		t.Errorf("then the list is %q\n%s", s.Ask, apptest.Words(s.Rows))
	}
	b.do(operation.Undo{})
	m.Load()
	b.Drain()
	apptest.Compare(t, "undone", apptest.Words(m.State().Rows), asked+bolts+owed)
	m.Choose(0)
	m.Answer(false)
	b.Drain()
	m.Load()
	b.Drain()
	apptest.Compare(t, "it was something else", apptest.Words(m.State().Rows), bolts+owed)
}

// Unanswered, the four of line 42 are not owed, and five are to buy: one pack, the same.
func TestStory20Unanswered(t *testing.T) {
	b := april20(t)
	b.do(operation.AnswerClaim{Lines: "42", Answer: store.Credit})
	want := "AN3-11 | Bolt, 10-32, grip 3/4 | 4 | +1 | 0 | ea | 5 | 1 × 5 | 4.50 | USD | SA-40"
	if got := strings.Split(apptest.Words(b.model(false).State().Rows), "\n")[2]; got != want {
		t.Errorf("the line is %q, want %q", got, want)
	}
}

// What is said of how a thing is bought is typed as it stands, and changes the list.
func TestFields(t *testing.T) {
	b := april20(t)
	m := b.model(false)
	for field, want := range map[Field]string{SupplierField: "fastener shop", PackField: "10", PriceField: "0.45 USD", SpareField: "10 %", LeastField: "", KeepField: "", MinimumField: ""} {
		if field != MinimumField && m.Typed(field) != want {
			t.Errorf("field %d is %q, want %q", field, m.Typed(field), want)
		}
	}
	change := func(f Field, typed, refused string) {
		t.Helper()
		m.Change(f.Change(m.Item(), m.Supplier(), typed), func(problem string) {
			if (refused == "") != (problem == "") || !strings.Contains(problem, refused) {
				t.Errorf("%q typed: %q, want %q", typed, problem, refused)
			}
		})
		b.Drain()
		m.Load()
		b.Drain()
	}
	change(PriceField, "free", "is not an amount of money")
	change(SpareField, "", "")
	change(PackField, "4", "")
	change(LeastField, "12", "")
	change(KeepField, "11", "")
	want := "AN3-5A | Bolt, 10-32, grip 1/4 | 34 | ea | 28 | ea | 20 | 5 × 4 | 9.00 | USD | SA-41 | 11 under the minimum of 11"
	if got := strings.Split(apptest.Words(m.State().Rows), "\n")[1]; got != want {
		t.Errorf("changed, the line is %q, want %q", got, want)
	}
	m.Choose(0)
	if m.Typed(MinimumField) != "20.00 USD" {
		t.Errorf("the minimum order is %q", m.Typed(MinimumField))
	}
	change(MinimumField, "", "")
	if got := strings.Split(apptest.Words(m.State().Rows), "\n")[0]; strings.Contains(got, "under") {
		t.Errorf("without a minimum: %s", got)
	}
	if !m.Key("Down") || m.Item() != "AN3-5A" || !m.Key("Up") || m.Item() != "" || m.Key("Left") {
		t.Errorf("the arrows lead to %q", m.Item())
	}
}

// An empty list says what to do first.
func TestNothingToOrder(t *testing.T) {
	m := (&bench{Bench: sessiontest.Empty(t), t: t}).model(false)
	if s := m.State(); s.Lead != "What do you build?" || len(s.Rows) > 0 {
		t.Errorf("an empty shop says %q", s.Lead)
	}
	m.Show(true)
	if s := m.State(); s.Lead != "Nothing that was ordered is owed." {
		t.Errorf("an empty shop owes %q", s.Lead)
	}
	b := &bench{Bench: sessiontest.Open(t, demo.Unpacked), t: t}
	s := b.model(false).State()
	if !strings.HasPrefix(s.Ask, "AN426AD3-3.5: weigh A-03 before it is ordered") || s.Note != "1 line of 1 supplier; 1 line has no price yet" {
		t.Errorf("before the weighing it asks %q, note %q", s.Ask, s.Note)
	}
}

// What was learned of waste stands with its bound, and what is scrapped teaches at once.
func TestLearnedSpares(t *testing.T) {
	b := april20(t)
	rivets := operation.Heap{Item: "AN470AD4-5"}
	b.do(
		operation.Count{Heap: rivets, Counted: "100"},
		operation.PutSupply{Item: rivets.Item, Spare: "learned or 10 %", Keep: "60"},
		operation.Take{Heap: rivets, Amount: "40", For: "SA-10"},
		operation.Fit{Heap: rivets, For: "SA-10"},
	)
	spare := func() string {
		for _, s := range b.model(false).data.List.Suppliers {
			for _, l := range s.Lines {
				if l.Item == rivets.Item {
					return l.Spare.Number() + " by " + l.By
				}
			}
		}
		return "not on the list"
	}
	if got, want := spare(), "1 by learned from 0 spoiled of 40 (0.0 %, upper bound 7.2 %)"; got != want {
		t.Errorf("none spoiled: %s, want %s", got, want)
	}
	b.do(operation.Scrap{Heap: operation.Heap{Item: rivets.Item, From: "A-21"}, Amount: "5", Reason: "drilled out"})
	if got := spare(); !strings.Contains(got, "learned from 5 spoiled of 45") {
		t.Errorf("five spoiled: %s", got)
	}
	b.do(operation.Undo{})
	if got := spare(); !strings.Contains(got, "learned from 0 spoiled of 40") {
		t.Errorf("undone: %s", got)
	}
}

// The list is written in the form that its ending says, and not over a file unasked.
func TestSave(t *testing.T) {
	b := april20(t)
	m := b.model(false)
	dir := t.TempDir()
	for name, begins := range map[string]string{"order.pdf": "%PDF-", "order.csv": "supplier,part number,", "order.XLSX": "PK"} {
		path := filepath.Join(dir, name)
		m.Save(path)
		b.Drain()
		data, err := os.ReadFile(path)
		if err != nil || !strings.HasPrefix(string(data), begins) {
			t.Errorf("%s begins with %.20q, %v", name, data, err)
		}
	}
	asked := 0
	m.AskReplace = func(files []string, replace func()) {
		if asked++; len(files) == 1 {
			replace()
		}
	}
	b.said = nil
	path := filepath.Join(dir, "order.csv")
	m.Save(path)
	b.Drain()
	if asked != 1 || len(b.said) != 1 || b.said[0] != fmt.Sprintf("Saved: %s.", path) {
		t.Errorf("asked %d times, said %q", asked, b.said)
	}
	m.Save(filepath.Join(dir, "order.doc"))
	b.Drain()
	if got := b.said[len(b.said)-1]; !strings.Contains(got, "saved as .pdf, .csv or .xlsx") {
		t.Errorf("another ending: %q", got)
	}
}
