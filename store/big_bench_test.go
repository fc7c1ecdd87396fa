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

// BenchmarkBigChange is one count on disk, in turn with the least change of the same
// file that there is and with one page written to another file and synced: what the
// verb costs beyond the first is its own, what that costs beyond the second is bbolt's.
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
	var writes, bytes int64
	timed := func(list *[]time.Duration, do func() error) {
		began := time.Now()
		if err := do(); err != nil {
			b.Fatal(err)
		}
		*list = append(*list, time.Since(began))
	}
	for b.Loop() {
		writes0, bytes0 := store.Writes(shop)
		timed(&verbs, func() error {
			_, err := shop.Count(keys[rand.IntN(len(keys))], measure.Pieces(1+rand.Int64N(400)))
			return err
		})
		writes1, bytes1 := store.Writes(shop)
		writes, bytes = writes+writes1-writes0, bytes+bytes1-bytes0
		timed(&bares, func() error { return store.PutBare(shop) })
		timed(&syncs, func() error {
			if _, err := f.WriteAt(page, int64(len(syncs)*len(page))); err != nil {
				return err
			}
			return f.Sync()
		})
	}
	for name, list := range map[string][]time.Duration{"change": verbs, "bare-put": bares, "page": syncs} {
		slices.Sort(list)
		b.ReportMetric(float64(list[len(list)/2].Microseconds())/1000, name+"-p50-ms")
		b.ReportMetric(float64(list[len(list)*99/100].Microseconds())/1000, name+"-p99-ms")
	}
	b.ReportMetric(float64(writes)/float64(b.N), "writes/change")
	b.ReportMetric(float64(bytes)/1000/float64(b.N), "kB/change")
}
