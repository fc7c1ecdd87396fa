package today

import (
	"testing"
	"time"

	"stowright/app/demo"
	"stowright/app/routes"
	"stowright/store"
)

// fleet is the unpacked shop with aircraft, and something due of each kind.
func fleet(shop *store.Shop, clock *demo.Clock) error {
	if err := scene(demo.Unpacked)(shop, clock); err != nil {
		return err
	}
	return demo.Fleet(shop)
}

// listless is a shop with an aircraft and no packing list: somebody else built it, or it flies.
func listless(shop *store.Shop, clock *demo.Clock) error {
	if err := scene(demo.Furnished)(shop, clock); err != nil {
		return err
	}
	if _, err := shop.PutAircraft(store.Aircraft{Name: "T"}); err != nil {
		return err
	}
	_, _, err := shop.PutDue(store.Due{What: "Condition inspection", Aircraft: "T", Rule: "12 calendar months", Months: 12, Day: store.Date{Year: 2026, Month: 3, Day: 31}})
	return err
}

// What is overdue or due soon is one row, what presses most, in the words of its own list, to
// which the row and D lead. Where nothing presses nothing is said of it.
func TestDue(t *testing.T) {
	day := func(month time.Month, day int) time.Time { return time.Date(2026, month, day, 9, 0, 0, 0, time.UTC) }
	for _, row := range []struct {
		name string
		fill func(*store.Shop, *demo.Clock) error
		on   time.Time
		want string // "": nothing is said
	}{
		{"none is kept", scene(demo.Unpacked), demo.Today, ""},
		{"one is past", fleet, demo.Today, "Held against a known weight | 24 calendar months | wrench 2 | by 28 February 2026 | 18 days past"},
		{"without a packing list", listless, demo.Today, "Condition inspection | 12 calendar months | T | by 31 March 2026 | 13 days left"},
		{"and one more is near", fleet, day(3, 31), "Held against a known weight | and 1 other that is due | wrench 2 | by 28 February 2026 | 31 days past"},
		{"a day before that", fleet, day(3, 30), "Held against a known weight | 24 calendar months | wrench 2 | by 28 February 2026 | 30 days past"},
		{"what was done is due again", func(shop *store.Shop, clock *demo.Clock) error {
			if err := fleet(shop, clock); err != nil {
				return err
			}
			_, err := shop.EnterDue("DU-3", store.DueDone{By: "Builder"})
			return err
		}, demo.Today, ""},
		{"and ended ones are not", func(shop *store.Shop, clock *demo.Clock) error {
			if err := fleet(shop, clock); err != nil {
				return err
			}
			_, err := shop.EndDue("DU-3", "the wrench is sold")
			return err
		}, day(3, 31), "Condition inspection | 12 calendar months | T | by 30 April 2026 | 30 days left"},
	} {
		t.Run(row.name, func(t *testing.T) {
			b := open(t, row.fill)
			b.clock.Set(row.on)
			m, to := b.model()
			if got := words(m.State(), Due); got != row.want {
				t.Errorf("got\n%s\nwant\n%s", got, row.want)
			}
			if did := m.Key("D"); did != (row.want != "") || did && *to != (routes.Route{Screen: routes.Aircraft, Part: "due"}) {
				t.Errorf("D does something: %v, and leads to %+v", did, *to)
			}
			if *to = (routes.Route{}); row.want == "" {
				return
			}
			if m.Open(0); to.Part != "due" {
				t.Errorf("the row leads to %+v", *to)
			}
		})
	}
}
