package today

import (
	"testing"

	"stowright/app/demo"
	"stowright/app/operation"
	"stowright/app/routes"
	"stowright/store"
)

// An alert by which something is set apart, and a lot that is expired, are said before the
// deliveries, and lead to where their work is done. Where there is none nothing is said.
func TestAlerts(t *testing.T) {
	seal := operation.PutIn{Item: "SEAL-B2", Amount: "2", Place: "S6"}
	expires := func(day string) operation.DescribeLot {
		return operation.DescribeLot{Lot: "one", Item: "SEAL-B2", Expires: day, ExpiresSource: "the can"}
	}
	named := operation.Alert{Title: "Nuts that crack", Item: "MS21042-3", Lots: []string{"Q7714"}}
	const alert, one = "A-1 Nuts that crack | MS21042-3, lot Q7714 | 20 set apart | 20 in A-22 | open", "SEAL-B2 | L-57 (lot one) | 2 qt | "
	for _, row := range []struct {
		name string
		do   []operation.Operation
		want string
		lead routes.Route
	}{
		{"none", nil, "", routes.Route{}},
		{"a near miss", []operation.Operation{operation.Alert{Title: "Nuts", Item: "MS21042-3", Lots: []string{"Q7741"}}}, "", routes.Route{}},
		{"an alert", []operation.Operation{named}, alert, routes.Route{Screen: routes.Alerts, Part: "alert", About: "A-1"}},
		{"expired", []operation.Operation{seal, expires("2026-03-17")}, one + "17 March 2026, printed: the can | 1 day past", routes.Route{Screen: routes.Alerts, Part: "lots", About: "SEAL-B2/L-57"}},
		{"its last day", []operation.Operation{seal, expires("2026-03-18")}, one + "18 March 2026, printed: the can | last day today", routes.Route{Screen: routes.Alerts, Part: "lots", About: "SEAL-B2/L-57"}},
		{"in a month", []operation.Operation{seal, expires("2026-04-17")}, one + "17 April 2026, printed: the can | 30 days left", routes.Route{Screen: routes.Alerts, Part: "lots", About: "SEAL-B2/L-57"}},
		{"later", []operation.Operation{seal, expires("2026-04-18")}, "", routes.Route{}},
		{"after a retest", []operation.Operation{seal, expires("2026-03-17"), operation.Decide{Decision: store.Decision{
			Kind: store.Retest, Who: "Lab", Lots: []string{"one"}, Until: store.Date{Year: 2026, Month: 10, Day: 10},
		}}}, "", routes.Route{}},
		{"unknown", []operation.Operation{seal, operation.DescribeLot{Lot: "one", Item: "SEAL-B2", Perishable: true}}, one + "unknown: see what its container says | expiry unknown", routes.Route{Screen: routes.Alerts, Part: "lots", About: "SEAL-B2/L-57"}},
		{"all of it gone", []operation.Operation{seal, expires("2026-03-17"), operation.Scrap{Heap: operation.Heap{Item: "SEAL-B2"}, Amount: "2", Reason: "expired"}}, "", routes.Route{}},
	} {
		t.Run(row.name, func(t *testing.T) {
			b := open(t, scene(demo.Unpacked))
			for _, o := range row.do {
				if _, err := o.Do(t.Context(), b.s); err != nil {
					t.Fatal(err)
				}
				if _, put := o.(operation.PutIn); !put {
					continue
				}
				lots, err := b.Lots("SEAL-B2")
				if err != nil {
					t.Fatal(err)
				}
				if _, err := b.MarkLot(lots[0].Number, "one", store.LotFacts{}); err != nil {
					t.Fatal(err)
				}
			}
			m, to := b.model()
			if got := words(m.State(), Alerts); got != row.want {
				t.Errorf("got\n%s\nwant\n%s", got, row.want)
			}
			if row.want == "" {
				return
			}
			if m.Open(0); *to != row.lead {
				t.Errorf("the row leads to %+v", *to)
			}
		})
	}
}
