package store_test

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"stowright/store"
	"stowright/store/measure"
)

// bigShop is the file of a generated shop. Make bench makes one and names it here.
const bigShop = "STOWRIGHT_BIG"

func big(b *testing.B) *store.Shop {
	b.Helper()
	path := os.Getenv(bigShop)
	if path == "" {
		b.Skipf("%s names no generated shop: see make bench", bigShop)
	}
	shop, err := store.Open(path, store.Options{})
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { _ = shop.Close() })
	return shop
}

// BenchmarkBigChange is one count on disk, in turn with one page appended to another file
// and synced, of which the aim is two. What is written on the way for later is among the
// mean: the checkpoint that is made when the log is full. Before that, bare puts: the
// least change of the same file that bbolt makes by itself.
func BenchmarkBigChange(b *testing.B) {
	shop := big(b)
	keys, err := shop.StockKeys()
	if err != nil {
		b.Fatal(err)
	}
	f, err := os.Create(filepath.Join(filepath.Dir(shop.File()), "sync"))
	if err != nil {
		b.Fatal(err)
	}
	defer os.Remove(f.Name())
	defer f.Close()
	page := make([]byte, os.Getpagesize())
	var verbs, bares, syncs []time.Duration
	timed := func(list *[]time.Duration, do func() error) {
		began := time.Now()
		if err := do(); err != nil {
			b.Fatal(err)
		}
		*list = append(*list, time.Since(began))
	}
	for range 500 {
		timed(&bares, func() error { return store.PutBare(shop) })
	}
	for b.Loop() {
		timed(&verbs, func() error {
			_, err := shop.Count(keys[rand.IntN(len(keys))], measure.Pieces(1+rand.Int64N(400)))
			return err
		})
		timed(&syncs, func() error {
			if _, err := f.WriteAt(page, int64(len(syncs)*len(page))); err != nil {
				return err
			}
			return f.Sync()
		})
	}
	for name, list := range map[string][]time.Duration{"change": verbs, "bare-put": bares, "page": syncs} {
		b.ReportMetric(mean(list), name+"-mean-ms")
		slices.Sort(list)
		b.ReportMetric(float64(list[len(list)/2].Microseconds())/1000, name+"-p50-ms")
		b.ReportMetric(float64(list[len(list)*99/100].Microseconds())/1000, name+"-p99-ms")
	}
}

func mean(list []time.Duration) float64 {
	var sum time.Duration
	for _, d := range list {
		sum += d
	}
	return float64(sum.Microseconds()) / 1000 / float64(len(list))
}
