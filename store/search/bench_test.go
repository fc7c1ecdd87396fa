package search_test

import (
	"context"
	"flag"
	"fmt"
	"runtime"
	"slices"
	"testing"
	"time"

	"stowright/store/search"
	"stowright/store/search/searchtest"
)

var million = flag.Bool("million", false, "also measure an index of a million documents")

// answers is how many hits a list on screen shows.
const answers = 20

// BenchmarkFind prints the median and the 99th percentile over the queries of
// a kind, in milliseconds. The time of each query is the median of five runs,
// so that what else the machine does is left out.
func BenchmarkFind(b *testing.B) {
	for _, n := range sizes() {
		shop := searchtest.New(n, 1)
		x := built(b, shop.Docs)
		for _, kind := range searchtest.Kinds() {
			queries := shop.Queries(kind, 1000, 7)
			b.Run(fmt.Sprintf("%d/%s", n, kind), func(b *testing.B) {
				b.ReportAllocs()
				times := make([][]time.Duration, len(queries))
				for i := 0; b.Loop(); i++ {
					start := time.Now()
					x.Search(queries[i%len(queries)], answers)
					times[i%len(queries)] = append(times[i%len(queries)], time.Since(start))
				}
				medians := make([]time.Duration, 0, len(times))
				for _, t := range times {
					if len(t) > 0 {
						slices.Sort(t)
						medians = append(medians, t[len(t)/2])
					}
				}
				report(b, medians)
			})
		}
	}
}

func sizes() []int {
	if *million {
		return []int{100_000, 1_000_000}
	}
	return []int{100_000}
}

func report(b *testing.B, times []time.Duration) {
	slices.Sort(times)
	b.ReportMetric(float64(times[len(times)/2])/1e6, "p50-ms")
	b.ReportMetric(float64(times[len(times)*99/100])/1e6, "p99-ms")
}

// BenchmarkBuild prints the time and the memory of an index.
func BenchmarkBuild(b *testing.B) {
	for _, n := range sizes() {
		shop := searchtest.New(n, 1)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			var x *search.Index
			before := heap()
			for b.Loop() {
				x = search.New(nil)
				if err := x.Build(context.Background(), seq(shop.Docs), nil); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(heap()-before)/1e6, "MB")
			runtime.KeepAlive(x)
		})
	}
}

func heap() uint64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}

// BenchmarkPut prints what keeping the index current costs while merges run
// beside it.
func BenchmarkPut(b *testing.B) {
	for _, n := range sizes() {
		shop := searchtest.New(n, 1)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			x := search.New(func(work func()) { go work() })
			if err := x.Build(context.Background(), seq(shop.Docs), nil); err != nil {
				b.Fatal(err)
			}
			times := make([]time.Duration, 0, b.N)
			for i := 0; b.Loop(); i++ {
				d := shop.Docs[i*7919%n]
				d.InShop = !d.InShop
				start := time.Now()
				x.Put(d)
				times = append(times, time.Since(start))
			}
			report(b, times)
		})
	}
}
