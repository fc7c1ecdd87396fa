package stockdialog

import (
	"testing"

	"stowright/store/measure"
)

// A count far from what was there is asked about once more, with both figures.
func TestCountDoubts(t *testing.T) {
	r := newRig(t, "A-12") // 28 ea
	for _, row := range []struct {
		text string
		want string // "": taken as it is
	}{
		{"28", ""},
		{"56", ""},
		{"57", "28 ea here becomes 57 ea: Enter again if that is so."},
		{"14", ""},
		{"13", "28 ea here becomes 13 ea: Enter again if that is so."},
		{"150", "28 ea here becomes 150 ea: Enter again if that is so."},
		{"150", ""},
		{"151", "28 ea here becomes 151 ea: Enter again if that is so."},
		{"0", "28 ea here becomes 0 ea: Enter again if that is so."},
		{"some", ""},
		{"", ""},
	} {
		if got := r.m.Doubt(row.text); got != row.want {
			t.Errorf("%q is doubted with %q, want %q", row.text, got, row.want)
		}
	}
}

// A few pieces are no great difference; of an estimate its ends count, and of a weight
// every difference.
func TestFar(t *testing.T) {
	lb := func(micro int64) measure.Quantity { return measure.Quantity{Micro: micro, Unit: measure.Pound} }
	weighed := measure.Amount{Quantity: measure.Pieces(100), Low: measure.Pieces(90), High: measure.Pieces(110)}
	for name, row := range map[string]struct {
		was  measure.Amount
		is   measure.Quantity
		want bool
	}{
		"1 to 5 pieces":            {measure.Exact(measure.Pieces(1)), measure.Pieces(5), false},
		"1 to 6 pieces":            {measure.Exact(measure.Pieces(1)), measure.Pieces(6), true},
		"5 pieces to none":         {measure.Exact(measure.Pieces(5)), measure.Pieces(0), true},
		"4 pieces to none":         {measure.Exact(measure.Pieces(4)), measure.Pieces(0), false},
		"twice the upper end":      {weighed, measure.Pieces(220), false},
		"above that":               {weighed, measure.Pieces(221), true},
		"half of the lower end":    {weighed, measure.Pieces(45), false},
		"below that":               {weighed, measure.Pieces(44), true},
		"a tenth of a pound less":  {measure.Exact(lb(250_000)), lb(150_000), false},
		"a quarter pound to a bit": {measure.Exact(lb(250_000)), lb(100_000), true},
	} {
		if got := far(row.was, row.is); got != row.want {
			t.Errorf("%s: got %t, want %t", name, got, row.want)
		}
	}
}
