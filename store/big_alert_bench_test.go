package store_test

import (
	"testing"

	"stowright/store"
)

// BenchmarkBigAlert is one issue of an alert on an item of the generated shop, and reading
// what it comes to.
func BenchmarkBigAlert(b *testing.B) {
	shop := big(b)
	keys, err := shop.StockKeys()
	if err != nil {
		b.Fatal(err)
	}
	at := 0
	for b.Loop() {
		at = (at + 7919) % len(keys)
		a, _, err := shop.Alert(0, "Alert", store.Issue{Item: keys[at].Item, From: store.Date{Year: 2026, Month: 3, Day: 1}})
		if err != nil {
			b.Fatal(err)
		}
		if _, err := shop.AlertFound(a.Number); err != nil {
			b.Fatal(err)
		}
	}
}
