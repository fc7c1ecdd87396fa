package demo_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/app/demo"
	"stowright/store"
	"stowright/store/storetest"
)

// open is the demo shop at a scene.
func open(t *testing.T, scene demo.Scene) *store.Shop {
	t.Helper()
	clock := demo.NewClock(demo.Today, true)
	shop := storetest.Open(t, store.Options{Clock: clock.Now})
	if err := demo.Fill(shop, clock, scene); err != nil {
		t.Fatalf("Fill: %v", err)
	}
	return shop
}

func TestScenes(t *testing.T) {
	for _, tc := range []struct {
		name  string
		scene demo.Scene
		want  map[store.State]int
	}{
		{"arrived", demo.Arrived, map[store.State]int{store.ToCheck: 55, store.BackOrder: 1, store.NotArrived: 4}},
		{"unpacking", demo.Unpacking, map[store.State]int{
			store.AllHere: 40, store.Short: 3, store.Over: 1, store.DamagedState: 2, store.WrongRevision: 1,
			store.BackOrder: 1, store.NotArrived: 4, store.ToCheck: 8,
		}},
		{"unpacked: the day-one totals of the scenario", demo.Unpacked, map[store.State]int{
			store.AllHere: 45, store.Short: 5, store.Over: 2, store.DamagedState: 2, store.WrongRevision: 1,
			store.BackOrder: 1, store.NotArrived: 4,
		}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			shop := open(t, tc.scene)
			ships, err := shop.Shipments()
			if err != nil || len(ships) != 1 {
				t.Fatalf("shipments: %v, %v", ships, err)
			}
			got, err := shop.Totals(ships[0].ID)
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(tc.want, got); d != "" {
				t.Errorf("totals (-want +got):\n%s", d)
			}
		})
	}
}

func TestClocksOfTheScenario(t *testing.T) {
	shop := open(t, demo.Unpacking)
	clocks, err := shop.Clocks()
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, c := range clocks {
		got = append(got, c.Due.String()+" "+c.String())
	}
	want := []string{"19 March 2026 Damage claim: 1 day left", "13 April 2026 Shortages: 26 days left"}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("clocks on 18 March (-want +got):\n%s", d)
	}
}

func TestNothingIsLeftInTheBags(t *testing.T) {
	shop := open(t, demo.Unpacked)
	stock, err := shop.Stock()
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range stock {
		p, err := shop.Place(h.Place)
		if err != nil {
			t.Fatal(err)
		}
		if !p.Kind.Storage() {
			t.Errorf("%s %s still lies in %s %s", h.Amount, h.Item, p.Kind, p.Name)
		}
	}
}
