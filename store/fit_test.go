package store_test

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/measure"
)

// fitted is what is fitted, in words.
func (w world) fitted(code string) []string {
	w.t.Helper()
	list, err := w.Fitted(code)
	w.must(err)
	lines := []string{}
	for _, f := range list {
		lines = append(lines, fmt.Sprintf("%s %s %s %s", f.SubAssembly, f.Item, f.Lot, f.Amount))
	}
	return lines
}

// Pulled, fitted, some back, one scrapped, and all of it undone.
func TestFitReturnScrap(t *testing.T) {
	w := newWorld(t)
	w.receive(7, found(20))
	nuts := w.in("MS21042-3", "H104")
	nuts.Lot = "Q7714"
	w.must(second(w.Pull("SA-10", store.Transfer{StockKey: nuts, Quantity: measure.Pieces(8)})))
	pulled := nuts
	pulled.Place = w.place["SA-10"]
	before := w.stock()
	for _, step := range []struct {
		name   string
		do     func() (store.Entry, error)
		text   string
		fitted []string
		stock  []string
	}{
		{
			"fit six", func() (store.Entry, error) {
				return w.Fit("SA-10", store.Transfer{StockKey: pulled, Quantity: measure.Pieces(6)})
			}, "MS21042-3: 6 ea fitted in SA-10 Fin",
			[]string{"SA-10 MS21042-3 L-1 6 ea"},
			[]string{"MS21042-3 lot Q7714 in C1, H104: 12 ea", "MS21042-3 lot Q7714 in SA-10: 2 ea"},
		},
		{
			"one back", func() (store.Entry, error) {
				return w.Return(store.Fitted{SubAssembly: "SA-10", Item: "MS21042-3", Lot: "Q7714"}, measure.Pieces(1), w.place["A-01"])
			}, "MS21042-3: 1 ea back from SA-10 to A-01",
			[]string{"SA-10 MS21042-3 L-1 5 ea"},
			[]string{"MS21042-3 lot Q7714 in C1, H104: 12 ea", "MS21042-3 lot Q7714 in Garage, Cabinet A, A-01: 1 ea", "MS21042-3 lot Q7714 in SA-10: 2 ea"},
		},
		{
			"scrap it", func() (store.Entry, error) {
				k := nuts
				k.Place = w.place["A-01"]
				return w.Scrap(store.Transfer{StockKey: k}, " worn  thread ")
			}, "MS21042-3: 1 ea scrapped, worn thread",
			[]string{"SA-10 MS21042-3 L-1 5 ea"},
			[]string{"MS21042-3 lot Q7714 in C1, H104: 12 ea", "MS21042-3 lot Q7714 in SA-10: 2 ea"},
		},
		{
			"the rest back", func() (store.Entry, error) {
				return w.Return(store.Fitted{SubAssembly: "SA-10", Item: "MS21042-3", Lot: "Q7714"}, measure.Quantity{}, w.place["SA-10"])
			}, "MS21042-3: 5 ea back from SA-10 to SA-10",
			[]string{},
			[]string{"MS21042-3 lot Q7714 in C1, H104: 12 ea", "MS21042-3 lot Q7714 in SA-10: 7 ea"},
		},
	} {
		e, err := step.do()
		w.must(err)
		if e.Text != step.text {
			t.Errorf("%s: the entry says %q, want %q", step.name, e.Text, step.text)
		}
		if d := cmp.Diff([]string{"MS21042-3"}, e.Items()); d != "" {
			t.Errorf("%s touched (-want +got):\n%s", step.name, d)
		}
		if d := cmp.Diff(step.fitted, w.fitted("SA-10")); d != "" {
			t.Errorf("%s: fitted (-want +got):\n%s", step.name, d)
		}
		w.wantStock(step.stock...)
	}
	for range 4 {
		w.must(second(w.Undo()))
	}
	w.wantStock(before...)
	if got := w.fitted(""); len(got) != 0 {
		t.Errorf("after the undo there is fitted %v", got)
	}
}

func TestFitRefusals(t *testing.T) {
	w := newWorld(t)
	w.receive(1, store.Finding{Found: measure.Pieces(24), Damaged: measure.Pieces(1)})
	bad := w.to("AN3-5A", "H103", 1, "H103")
	bad.Condition = store.Damaged
	w.must(second(w.Fit("SA-10", w.to("AN3-5A", "H103", 6, "H103"))))
	six := store.Fitted{SubAssembly: "SA-10", Item: "AN3-5A"}
	stock, fitted := w.stock(), w.fitted("")
	for _, row := range []struct {
		name     string
		do       func() (store.Entry, error)
		kind     store.Kind
		sentence string
	}{
		{"nothing", func() (store.Entry, error) { return w.Fit("SA-10") }, store.Invalid, "Nothing is chosen: say what was fitted."},
		{"damaged", func() (store.Entry, error) { return w.Fit("SA-10", bad) }, store.Conflict, "AN3-5A there is damaged: it is not fitted."},
		{
			"more than is there", func() (store.Entry, error) { return w.Fit("SA-10", w.to("AN3-5A", "H103", 18, "H103")) }, store.Conflict,
			"There is 17 ea of AN3-5A there, and 18 ea cannot be taken: count it, or take less.",
		},
		{
			"in no sub-assembly", func() (store.Entry, error) { return w.Fit("SA-99", w.to("AN3-5A", "H103", 1, "H103")) }, store.NotFound,
			"There is no sub-assembly “SA-99” in this shop: make it first, or see how its code is spelled.",
		},
		{
			"more back than fitted", func() (store.Entry, error) { return w.Return(six, measure.Pieces(7), w.place["A-01"]) }, store.Conflict,
			"6 ea of AN3-5A is fitted in SA-10, and 7 ea cannot come back: correct the figure.",
		},
		{"back of what was never fitted", func() (store.Entry, error) {
			return w.Return(store.Fitted{SubAssembly: "SA-10", Item: "AN3-6A"}, measure.Quantity{}, w.place["A-01"])
		}, store.Conflict, "0 of AN3-6A is fitted in SA-10, and 0 cannot come back: correct the figure."},
		{"scrap for no reason", func() (store.Entry, error) { return w.Scrap(w.to("AN3-5A", "H103", 1, "H103"), " ") }, store.Invalid, "The reason is empty: type it."},
		{"another unit while fitted", func() (store.Entry, error) {
			return w.Weigh(w.in("AN3-5A", "H103"), store.Exact(measure.Of(1, measure.Pound)))
		}, store.Conflict, "AN3-5A is kept by ea and some of it is fitted: give it in ea."},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, err := row.do()
			wantRefusal(t, err, row.kind, row.sentence)
			w.wantStock(stock...)
			if d := cmp.Diff(fitted, w.fitted("")); d != "" {
				t.Errorf("fitted (-before +after):\n%s", d)
			}
		})
	}
}
