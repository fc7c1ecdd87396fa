package operation_test

import (
	"testing"

	"stowright/app/demo"
	"stowright/app/operation"
	"stowright/app/session/sessiontest"
	"stowright/store"
)

// What is known of a lot is said field by field, stays, and is taken back by none; a lot
// that a text may name in two ways is asked about.
func TestDescribeLot(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	lot := func() store.Lot {
		t.Helper()
		l, err := operation.LotNamed(b.Session, "q7714", "MS21042-3")
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	each(t, b, []row{
		{"none of it", operation.DescribeLot{Lot: "Q1"}, "", `There is no lot "Q1" in this shop`},
		{"of another item", operation.DescribeLot{Lot: "Q7714", Item: "AN3-5A"}, "", `There is no lot "Q7714" in this shop`},
		{"a life in words", operation.DescribeLot{Lot: "Q7714", Life: "long"}, "", `"long" is no life: write it like 9 months, or 2 years.`},
		{"a life of none", operation.DescribeLot{Lot: "Q7714", Life: "0 months"}, "", `"0 months" is no life`},
		{"a life in weeks", operation.DescribeLot{Lot: "Q7714", Life: "9 weeks"}, "", `"9 weeks" is no life`},
		{"a day in words", operation.DescribeLot{Lot: "Q7714", Shipped: "soon"}, "", "soon"},
		{"an expiry in words", operation.DescribeLot{Lot: "Q7714", Expires: "soon"}, "", "soon"},
		{"a price in words", operation.DescribeLot{Lot: "Q7714", Price: "cheap"}, "", "cheap"},
		{"from an aircraft that it was not in", operation.DescribeLot{Lot: "Q7714", From: "Q"}, "", "Only what was removed from an aircraft says from which"},
		{"facts", operation.DescribeLot{
			Lot: " q7714 ", Maker: "Maker A", Note: "blue bag", Price: "4.50 USD", Shipped: "2026-03-09", Made: "2026-01-02", Life: "2 years", LifeSource: "the can", Perishable: true,
		}, "", ""},
		{"one more", operation.DescribeLot{Lot: "Q7714", Invoice: "77", Expires: "2026-07-10", ExpiresSource: "the can"}, "", ""},
	})
	f := lot().Facts
	if f.Maker != "Maker A" || f.Note != "blue bag" || f.Invoice != "77" || f.Price.String() != "4.50 USD" || f.Shipped.String() != "9 March 2026" || !f.Perishable {
		t.Errorf("known is %+v", f)
	}
	if f.Life == nil || f.Life.Months != 24 || f.Life.Source != "the can" || f.Expiry == nil || f.Expiry.Day.String() != "10 July 2026" || f.Expiry.Source != "the can" {
		t.Errorf("it lives %+v, to %+v", f.Life, f.Expiry)
	}
	check(t, b, operation.DescribeLot{Lot: "Q7714", Maker: "none", Price: "none", Shipped: "none", Life: "none", Expires: "none"}, "", "")
	if f = lot().Facts; f.Maker != "" || !f.Price.IsZero() || !f.Shipped.IsZero() || f.Life != nil || f.Expiry != nil || f.Note != "blue bag" || f.Made.IsZero() {
		t.Errorf("taken back, known is %+v", f)
	}
}

// An alert has issues, each with what it names and its days; what it set apart is let go
// by a decision that answers it.
func TestAlert(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	each(t, b, []row{
		{"on no day", operation.Alert{Title: "Nuts", Item: "MS21042-3", From: "soon"}, "", "soon"},
		{"no alert", operation.Alert{Alert: "B-1", Item: "MS21042-3"}, "", `"B-1" is no alert: give its number, such as A-3.`},
		{"a new one", operation.Alert{Title: "Nuts that crack", Item: "ms21042-3", Lots: []string{"Q7714"}, Day: "2026-03-15"}, "A-1 Nuts that crack, issue 1", ""},
		{"its next issue", operation.Alert{Alert: "a-1", Item: "MS21042-3", Lots: []string{"Q7714"}, Note: "both sizes"}, "issue 2", ""},
		{"an answer to no alert", operation.AnswerAlert{Alert: "one", Decision: "D-1", Lots: []string{"Q7714"}}, "", `"one" is no alert`},
		{"by no decision", operation.AnswerAlert{Alert: "A-1", Decision: "D-1", Lots: []string{"Q7714"}}, "", "D-1"},
		{"decide", operation.Decide{Decision: store.Decision{Kind: store.AlertAnswer, Who: "kit maker", Paper: "letter"}}, "D-1", ""},
	})
	if h := b.Heap("A-22"); h.Condition != "quarantined (A-1)" {
		t.Errorf("the nuts are %q", h.Condition)
	}
	check(t, b, operation.AnswerAlert{Alert: "A-1", Decision: "D-1", Lots: []string{"q7714"}, Item: "MS21042-3"}, "", "")
	if h := b.Heap("A-22"); h.Condition != store.Good {
		t.Errorf("answered, the nuts are %q", h.Condition)
	}
}
