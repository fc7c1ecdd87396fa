package today

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"stowright/app/demo"
	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/session/sessiontest"
	"stowright/store"
	"stowright/store/measure"
)

// words are the rows of a section, cells joined: what a person reads.
func words(s State, id string) string {
	var lines []string
	for _, section := range s.Sections {
		if section.ID != id {
			continue
		}
		for _, row := range section.Rows {
			var cells []string
			for _, c := range row.Cells {
				for _, part := range []string{c.Text, c.Sub, c.Mark.Word} {
					if part != "" {
						cells = append(cells, part)
					}
				}
			}
			lines = append(lines, strings.Join(cells, " | "))
		}
	}
	return strings.Join(lines, "\n")
}

// model opens the screen on a shop; what it leads to is kept in the route.
func (b *shop) model() (*Model, *routes.Route) {
	route := &routes.Route{}
	m := NewModel(b.s, func(State) {}, func(r routes.Route) { *route = r })
	m.Load()
	b.queue.Drain()
	return m, route
}

// All that waits is of one state of the shop, whether the lines of its lists are kept or not.
func TestOneReading(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	m := NewModel(b.Session, func(State) {}, func(routes.Route) {})
	for range 2 {
		b.OneReading("Today", m.Load)
	}
	if len(m.State().Sections) == 0 {
		t.Error("nothing is shown")
	}
}

func TestWhatWaits(t *testing.T) {
	for _, row := range []struct {
		name  string
		scene demo.Scene
		day   time.Time
		want  map[string]string
	}{
		{"arrived", demo.Arrived, demo.Today, map[string]string{
			Deliveries: "C1, C2 | order OK-20731, came 14 March | 55 of 55 to check | damage: 1 day | shortages: 26 days\n" +
				"C3 | order OK-20731 | 4 lines | not come yet",
			ToStow: "",
		}},
		{"unpacking", demo.Unpacking, demo.Today, map[string]string{
			Deliveries: "C1, C2 | order OK-20731, came 14 March | 8 of 55 to check | damage: 1 day | shortages: 26 days\n" +
				"C3 | order OK-20731 | 4 lines | not come yet",
		}},
		{"unpacked", demo.Unpacked, demo.Today, map[string]string{
			Deliveries: "C1, C2 | order OK-20731, came 14 March | all checked | 10 lines to claim | damage: 1 day | shortages: 26 days\n" +
				"C3 | order OK-20731 | 4 lines | not come yet",
			Needs: "OQ-30-033 | Spar doubler | Tailplane | SA-30 | need 2, have 0 | back-ordered | not ready\n" +
				"AN3-11 | Bolt, 10-32, grip 3/4 | Elevator | SA-40 | need 4, have 0 | short on line 42 | not ready\n" +
				"SEAL-B2 | Tank sealant two-part | Tank | SA-50 | need 2, have 0 | crate C3 has not come | not ready\n" +
				"AN426AD3-3.5 | Flush rivet, 3/32 by 7/32 | Fin | SA-10 | need 212 ea, have 0.3 lb | weigh a sample to count them | cannot tell\n" +
				"AN470AD4-5 | Dome rivet, 1/8 by 5/16 | Fin | SA-10 | need 46 ea, have 0.25 lb | weigh a sample to count them | cannot tell",
		}},
		{"past both clocks", demo.Unpacked, time.Date(2026, 4, 20, 9, 0, 0, 0, time.UTC), map[string]string{
			Deliveries: "C1, C2 | order OK-20731, came 14 March | all checked | 10 lines to claim | damage: was due 19 Mar | shortages: was due 13 Apr\n" +
				"C3 | order OK-20731 | 4 lines | not come yet",
		}},
		{"last day", demo.Unpacked, time.Date(2026, 3, 19, 9, 0, 0, 0, time.UTC), map[string]string{
			Deliveries: "C1, C2 | order OK-20731, came 14 March | all checked | 10 lines to claim | damage: last day | shortages: 25 days\n" +
				"C3 | order OK-20731 | 4 lines | not come yet",
		}},
	} {
		t.Run(row.name, func(t *testing.T) {
			b := open(t, scene(row.scene))
			b.clock.Set(row.day)
			m, _ := b.model()
			for id, want := range row.want {
				if got := words(m.State(), id); got != want {
					t.Errorf("%s: got\n%s\nwant\n%s", id, got, want)
				}
			}
		})
	}
}

// A claim that was sent and not answered waits, and warns after two weeks; an answer ends
// that.
func TestUnansweredClaim(t *testing.T) {
	b := open(t, scene(demo.Unpacked))
	b.clock.Set(demo.Today)
	ships, err := b.Shipments()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := b.ClaimSent(ships[0].ID, b.Today(), "by mail"); err != nil {
		t.Fatal(err)
	}
	b.clock.Set(demo.Today.AddDate(0, 0, 13))
	m, _ := b.model()
	want := "Claim | order OK-20731, sent 18 March | 8 lines | no answer, 13 days"
	if got := words(m.State(), Deliveries); !strings.Contains(got, want) {
		t.Errorf("not answered: %s, want %s", got, want)
	}
	for days, tone := range map[int]notice.Tone{13: notice.Quiet, 14: notice.Warn} {
		if got := (list{ship: ships[0]}).unanswered(1, b.Today(), b.Today().AddDays(days)).Cells[2].Mark.Tone; got != tone {
			t.Errorf("after %d days: tone %v, want %v", days, got, tone)
		}
	}
	if _, err := b.ClaimAnswered(ships[0].ID, nil, store.ClaimAnswer{Reply: store.Credit}); err != nil {
		t.Fatal(err)
	}
	m, _ = b.model()
	if got := words(m.State(), Deliveries); strings.Contains(got, "Claim") {
		t.Errorf("answered: %s", got)
	}
}

// What a revised list does not have any more is neither to check nor to claim.
func TestOffTheListWaitsForNobody(t *testing.T) {
	b := open(t, scene(demo.Unpacked))
	ships, err := b.Shipments()
	if err != nil {
		t.Fatal(err)
	}
	lines, err := b.Lines(ships[0].ID)
	if err != nil {
		t.Fatal(err)
	}
	list := store.NewShipment{File: "second.csv", Fingerprint: "second", Revises: ships[0].ID}
	for _, l := range lines {
		if l.Number() != 42 && !l.Extra { // of which none came
			list.Lines = append(list.Lines, store.NewLine{Number: l.Number(), Crate: l.Crate, Group: l.Group, Designation: l.Designation, Title: l.Title, Listed: l.Listed, Status: l.Status, Lot: l.Lot})
		}
	}
	m, _ := b.model()
	if got := words(m.State(), Deliveries); !strings.Contains(got, "10 lines to claim") {
		t.Fatalf("before: %s", got)
	}
	if _, _, err := b.Import(list); err != nil {
		t.Fatal(err)
	}
	m, _ = b.model()
	if got := words(m.State(), Deliveries); !strings.Contains(got, "9 lines to claim") {
		t.Errorf("after: %s", got)
	}
}

// A line that is never going to be checked is neither to check nor to claim.
func TestNeverCheckedWaitsForNobody(t *testing.T) {
	b := open(t, scene(demo.Arrived))
	ships, err := b.Shipments()
	if err != nil {
		t.Fatal(err)
	}
	m, _ := b.model()
	before := words(m.State(), Deliveries)
	if _, err := b.Shop.LeaveUnchecked(ships[0].ID, 41, "given away"); err != nil {
		t.Fatal(err)
	}
	m, _ = b.model()
	if after := words(m.State(), Deliveries); !strings.Contains(before, "55 of 55 to check") || !strings.Contains(after, "54 of 54 to check") {
		t.Errorf("before: %s\nafter: %s", before, after)
	}
}

// The doubler that was back-ordered comes, and its sub-assembly is ready.
func TestReadyOnceItCame(t *testing.T) {
	b := open(t, scene(demo.Unpacked))
	ships, err := b.Shipments()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := b.Receive(ships[0].ID, 19, store.Finding{Found: measure.Pieces(2), Counted: true}); err != nil {
		t.Fatal(err)
	}
	m, _ := b.model()
	if got := words(m.State(), Needs); strings.Contains(got, "OQ-30-033") {
		t.Errorf("needs are\n%s\nwant none of OQ-30-033", got)
	}
	if got := m.State().Sections[2].Note; !strings.Contains(got, "SA-30 Tailplane") {
		t.Errorf("heading %q, want SA-30 among the ready ones", got)
	}
	if got := words(m.State(), ToStow); got != "SK30 | crate C1 | OQ-30-033 | 1 kind" {
		t.Errorf("to put away: %q", got)
	}
}

// Stock that was pulled for another sub-assembly, and damaged stock, meets no need.
func TestOnlyFreeGoodStockCounts(t *testing.T) {
	b := open(t, scene(demo.Unpacked))
	stock := func(q int64, c store.Condition) {
		t.Helper()
		places, err := b.Places()
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range places {
			if p.Name == "A-40" {
				if _, err := b.Count(store.StockKey{Item: "AN3-11", Place: p.ID, Condition: c}, measure.Pieces(q)); err != nil {
					t.Fatal(err)
				}
				return
			}
		}
	}
	have := func() string {
		m, _ := b.model()
		for _, line := range strings.Split(words(m.State(), Needs), "\n") {
			if strings.HasPrefix(line, "AN3-11 ") {
				return line
			}
		}
		return ""
	}
	stock(9, store.Damaged)
	if got := have(); !strings.Contains(got, "need 4, have 0") {
		t.Errorf("with nine damaged: %q", got)
	}
	stock(3, store.Good)
	if got := have(); !strings.Contains(got, "need 4, have 3") {
		t.Errorf("with three good: %q", got)
	}
	stock(4, store.Good)
	if got := have(); got != "" {
		t.Errorf("with four good: %q, want it ready", got)
	}
}

// Every row leads somewhere, and the keys reach every row.
func TestEveryRowLeadsSomewhere(t *testing.T) {
	b := open(t, scene(demo.Unpacking))
	m, route := b.model()
	ships, err := b.Shipments()
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for {
		*route = routes.Route{}
		if !m.Key("Enter") {
			t.Fatalf("Enter on row %d leads nowhere", m.State().Chosen)
		}
		about := route.About
		if about == ships[0].ID {
			about = "the shipment"
		}
		got = append(got, strings.TrimSpace(fmt.Sprintf("%s %s %s", route.Screen, route.Part, about)))
		before := m.State().Chosen
		m.Key("Down")
		if m.State().Chosen == before {
			break
		}
	}
	want := []string{
		"unpack  the shipment", "unpack arrival the shipment",
		"build  SA-30", "build  SA-50", "build  SA-10", "build  SA-40", "build  SA-40", "build  SA-10",
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("rows lead to\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	for range want {
		m.Key("Up")
	}
	if m.State().Chosen != 0 || m.Key("Up") {
		t.Error("Up on the first row is not left to the window")
	}
	for i := range m.State().Entries {
		*route = routes.Route{}
		if m.OpenEntry(i); route.Screen == "" {
			t.Errorf("entry %d leads nowhere", i)
		}
	}
}

func TestUndoAndItsEntry(t *testing.T) {
	b := open(t, scene(demo.Unpacked))
	m, _ := b.model()
	newest := m.State().Entries[0].Cells[0].Text
	m.Undo()
	b.queue.Drain()
	s := m.State()
	if got := s.Entries[0].Cells[0].Text; got != "undid: "+newest {
		t.Errorf("newest entry: %q, want %q undone", got, newest)
	}
	if !s.Entries[1].Dim || !strings.HasSuffix(s.Entries[1].Cells[0].Sub, "undone") {
		t.Errorf("the entry that was undone is shown as %+v", s.Entries[1])
	}
	if _, err := b.Redo(); err != nil {
		t.Fatal(err)
	}
	m.Load()
	b.queue.Drain()
	if s := m.State(); s.Entries[2].Dim || !s.Entries[1].Dim {
		t.Errorf("after redo the entry stands again: %+v", s.Entries[:3])
	}
}

// What one sub-assembly takes the next has not, and what was fitted is not asked for again.
func TestOneStockForTwo(t *testing.T) {
	b := open(t, scene(demo.Unpacked))
	for _, code := range []string{"SA-05", "SA-06"} {
		sub := store.SubAssembly{Code: code, Name: "Pair"}
		if _, err := b.PutSubAssembly(sub, store.Requirement{Item: "AN3-7A", Needed: measure.Pieces(8)}); err != nil {
			t.Fatal(err)
		}
	}
	seen := func() string {
		m, _ := b.model()
		found := m.State().Sections[2].Title + " · " + m.State().Sections[2].Note
		for _, line := range strings.Split(words(m.State(), Needs), "\n") {
			if strings.HasPrefix(line, "AN3-7A ") {
				found += " | " + line
			}
		}
		return found
	}
	got := seen()
	if !strings.Contains(got, "SA-05 Pair") || !strings.HasSuffix(got, "| Pair | SA-06 | need 8, free 0 | 8 here, 8 for SA-05 | not ready") || strings.Count(got, "AN3-7A") != 1 {
		t.Errorf("with eight bolts for two of eight: %s", got)
	}
	heaps, err := b.Holdings("AN3-7A")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := b.Fit("SA-05", store.Fitting{Transfer: store.Transfer{StockKey: heaps[0].StockKey}}); err != nil {
		t.Fatal(err)
	}
	got = seen()
	if !strings.Contains(got, "SA-05 Pair") || !strings.Contains(got, "SA-06 | need 8, have 0") || strings.Count(got, "AN3-7A") != 1 {
		t.Errorf("with SA-05's eight fitted: %s", got)
	}
}
