package session_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"stowright/app/demo"
	"stowright/app/session"
	"stowright/app/session/sessiontest"
	"stowright/store"
	"stowright/store/build"
	"stowright/store/measure"
)

// tank is the demo shop with the sealant of story 17: two quarts of lot 1, and one of lot 2.
type tank struct {
	*sessiontest.Bench
	t *testing.T
}

func (b tank) day(text string) store.Date {
	b.t.Helper()
	d, err := store.ParseDate(text)
	if err != nil {
		b.t.Fatal(err)
	}
	return d
}

func (b tank) put(printed string, quarts int64, facts store.LotFacts) {
	b.t.Helper()
	k := store.StockKey{Item: "SEAL-B2", Place: b.Place("S6").ID, Lot: printed}
	if _, err := b.Shop.PutIn(k, store.Exact(measure.Of(quarts, measure.Quart)), store.LotsApart); err != nil {
		b.t.Fatal(err)
	}
	lots, err := b.Shop.Lots("SEAL-B2")
	if err != nil {
		b.t.Fatal(err)
	}
	if _, err := b.Shop.DescribeLot(lots[len(lots)-1].Number, facts); err != nil {
		b.t.Fatal(err)
	}
}

// plan sets the day that SA-50 is planned for, and returns how it stands.
func (b tank) plan(day store.Date) build.Status {
	b.t.Helper()
	subs, err := b.Shop.SubAssemblies()
	if err != nil {
		b.t.Fatal(err)
	}
	for _, sub := range subs {
		if sub.Code == "SA-50" {
			sub.Planned = day
			if _, err := b.Shop.PutSubAssembly(sub); err != nil {
				b.t.Fatal(err)
			}
		}
	}
	var status build.Status
	err = b.Session.Read(func(r *session.Reader) error {
		return r.Board(func(board *build.Board) error {
			status, _ = board.Status("SA-50")
			return nil
		})
	})
	if err != nil {
		b.t.Fatal(err)
	}
	return status
}

// Story 17, dates, on what the shop itself says of its lots. Its retest is a decision.
func TestDatesOfLots(t *testing.T) {
	clock := demo.NewClock(demo.Today, true)
	b := tank{sessiontest.On(t, sessiontest.OpenShop(t, demo.Unpacked, clock)), t}
	clock.Set(time.Date(2026, 4, 20, 9, 0, 0, 0, time.UTC))
	b.put("1", 2, store.LotFacts{Expiry: &store.Expiry{Day: b.day("2026-07-10"), Source: "the can"}})
	b.put("2", 1, store.LotFacts{Made: b.day("2026-04-02"), Life: &store.Life{Months: 9, Source: "the can"}})
	s := b.plan(b.day("2026-07-01"))
	if s.State != build.Ready || len(s.Needs[0].Promised) != 1 || s.Needs[0].Promised[0].Heap.LotName != "lot 1" {
		t.Errorf("on 1 July: %s", s.Sentence)
	}
	if s := b.plan(b.day("2026-07-10")); s.State != build.Ready || !slices.Contains(s.Needs[0].Hints, "lot 1 expires on 10 July 2026: last day") {
		t.Errorf("on 10 July: %s, %q", s.Sentence, s.Needs[0].Hints)
	}
	if s := b.plan(b.day("2026-07-11")); s.State != build.Blocked {
		t.Errorf("on 11 July: %s", s.Sentence)
	}
	clock.Set(time.Date(2026, 8, 1, 9, 0, 0, 0, time.UTC))
	if s := b.plan(store.Date{}); !strings.HasPrefix(s.Sentence, "not ready: SEAL-B2: need 2, usable 1 (lot 2); 2 of lot 1 expired 22 days ago") {
		t.Errorf("on 1 August: %s", s.Sentence)
	}
	clock.Set(time.Date(2026, 4, 20, 9, 0, 0, 0, time.UTC))
	lots, err := b.Shop.Lots("SEAL-B2")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := b.Shop.DescribeLot(lots[0].Number, store.LotFacts{}); err != nil {
		t.Fatal(err)
	}
	if s := b.plan(b.day("2026-07-01")); s.Sentence != "cannot tell: see the date of SEAL-B2 in S6" {
		t.Errorf("with lot 1 undated: %s", s.Sentence)
	}
}
