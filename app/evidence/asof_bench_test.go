package evidence

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"stowright/app/demo"
	"stowright/store"
)

// sizeName is the variable that says how many items the shop has that is gone back in: ten
// entries to each, a thousand to a day.
const sizeName = "STOWRIGHT_ASOF_ITEMS"

// How long it takes to open a shop as of a day, by how many entries are newer, and to say then
// what it was worth.
func BenchmarkAsOf(b *testing.B) {
	items, err := strconv.Atoi(os.Getenv(sizeName))
	if err != nil {
		items = 10_000
	}
	file := filepath.Join(b.TempDir(), "shop.stow")
	at, reads := time.Date(2020, 1, 1, 9, 0, 0, 0, time.UTC), 0
	now := func() time.Time {
		if reads++; reads%1000 == 0 {
			at = at.AddDate(0, 0, 1)
		}
		return at
	}
	shop, err := store.Open(file, store.Options{Create: true, Clock: now})
	if err != nil {
		b.Fatal(err)
	}
	if err := demo.Generate(b.Context(), shop, items, func(int, int) {}); err != nil {
		b.Fatal(err)
	}
	newest, err := shop.Newest()
	if err != nil {
		b.Fatal(err)
	}
	if err := shop.Close(); err != nil {
		b.Fatal(err)
	}
	for _, newer := range []uint64{1000, 10_000, newest / 2, newest - 2000} {
		b.Run(fmt.Sprintf("%d of %d", newer, newest), func(b *testing.B) { goBack(b, file, at, newest-newer) })
	}
}

func goBack(b *testing.B, file string, at time.Time, seq uint64) {
	for b.Loop() {
		b.StopTimer()
		s, err := store.Open(file, store.Options{Clock: func() time.Time { return at }})
		if err != nil {
			b.Fatal(err)
		}
		e, err := s.Entry(seq)
		if err != nil {
			b.Fatal(err)
		}
		b.StartTimer()
		if err := s.AsOf(context.Background(), store.DateOf(e.At)); err != nil {
			b.Fatal(err)
		}
		b.StopTimer()
		began := time.Now()
		if _, err := ValueOf(&s.Reader); err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(time.Since(began).Seconds(), "s_value")
		if err := s.Close(); err != nil {
			b.Fatal(err)
		}
		b.StartTimer()
	}
}
