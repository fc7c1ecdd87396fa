package session_test

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"

	"stowright/app/demo"
	"stowright/app/session"
	"stowright/labels"
)

// Every code of a sheet is read back on every stock; one that was spoiled, covered or says
// something else is named.
func TestReadBack(t *testing.T) {
	s := open(t, demo.Unpacked)
	places, err := s.PlacesMatching("Cabinet A")
	if err != nil {
		t.Fatal(err)
	}
	list, err := s.Labels(places[:12])
	if err != nil {
		t.Fatal(err)
	}
	for _, stock := range labels.Stocks() {
		doc, err := labels.Layout(list, stock, labels.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if err := session.ReadBack(t.Context(), doc, list, func(float64) {}); err != nil {
			t.Errorf("%s: %v", stock.Name, err)
		}
	}
	code := func(cell labels.Cell) labels.Code {
		for _, it := range cell.Items {
			if code, ok := it.(labels.Code); ok {
				return code
			}
		}
		t.Fatal("a label without a code")
		return labels.Code{}
	}
	for _, row := range []struct {
		name  string
		plant func(items []labels.Item, code labels.Code) []labels.Item
		sound bool
	}{
		{"nothing", func(items []labels.Item, _ labels.Code) []labels.Item { return items }, true},
		{"ink over two thirds", func(items []labels.Item, code labels.Code) []labels.Item {
			b := code.Bounds()
			b.H *= 0.67
			return append(items, labels.Fill{Rect: b})
		}, false},
		{"a code of something else", func(items []labels.Item, code labels.Code) []labels.Item {
			other := list[0]
			doc, err := labels.Layout([]labels.Label{other}, labels.Stocks()[0], labels.Options{})
			if err != nil {
				t.Fatal(err)
			}
			for _, it := range doc.Pages[0].Cells[0].Items {
				if wrong, ok := it.(labels.Code); ok {
					code.Runs = wrong.Runs
				}
			}
			items = slices.DeleteFunc(items, func(it labels.Item) bool { _, ok := it.(labels.Code); return ok })
			return append(items, code)
		}, false},
		{"no dark module", func(items []labels.Item, code labels.Code) []labels.Item {
			return append(items, labels.Fill{Rect: code.Bounds(), Ink: labels.White})
		}, false},
	} {
		doc, err := labels.Layout(list, labels.Stocks()[0], labels.Options{})
		if err != nil {
			t.Fatal(err)
		}
		cell := &doc.Pages[0].Cells[6] // of A-07
		cell.Items = row.plant(slices.Clone(cell.Items), code(*cell))
		err = session.ReadBack(t.Context(), doc, list, func(float64) {})
		if (err == nil) != row.sound || err != nil && !strings.Contains(err.Error(), list[6].Name) {
			t.Errorf("%s: %v", row.name, err)
		}
	}
	stopped, stop := context.WithCancel(t.Context())
	stop()
	doc, err := labels.Layout(list, labels.Stocks()[0], labels.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if err := session.ReadBack(stopped, doc, list, func(float64) {}); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
}
