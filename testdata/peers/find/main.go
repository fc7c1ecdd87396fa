// Command find asks the index behind Find and SQLite's trigram index the same
// questions about the same generated shop, in one run, and prints how long each
// took. It ends with status 1 where the index is behind on any kind of question.
//
//	go run -tags sqlite_fts5 ./find            100,000 things
//	go run -tags sqlite_fts5 ./find -n 1000000
//
// Each question is asked several times, in several rounds, and the median of its
// times counts, so that what else the machine does is left out. The two do not
// answer quite the same: the index ranks its answers, tells what matched and looks
// for words and dimensions where a designation has too few answers; of SQLite only
// the first answers are asked, in the order in which it finds them, and no more
// than the kind of question needs.
package main

import (
	"context"
	"flag"
	"fmt"
	"iter"
	"os"
	"runtime"
	"slices"
	"text/tabwriter"
	"time"

	"stowright/store/search"
	"stowright/store/search/searchtest"
)

const (
	answers = 20 // hits asked for
	repeats = 5  // of a question, one after the other
	rounds  = 3  // over all questions
	seed    = 7
)

func main() {
	n := flag.Int("n", 100_000, "how many things")
	queries := flag.Int("queries", 1000, "questions of each kind")
	patience := flag.Duration("patience", 10*time.Second, "how long one kind of question may take one of the two")
	flag.Parse()
	behind, err := run(*n, *queries, *patience)
	if err != nil {
		fmt.Fprintln(os.Stderr, "find:", err)
		os.Exit(2)
	}
	if behind {
		os.Exit(1)
	}
}

func run(n, queries int, patience time.Duration) (behind bool, err error) {
	shop := searchtest.New(n, 1)
	ours, err := buildIndex(shop)
	if err != nil {
		return false, err
	}
	peer, err := openPeer(shop)
	if err != nil {
		return false, err
	}
	defer peer.close()
	fmt.Printf("\n%d things; milliseconds, median and 99th percentile\n\n", n)
	table := tabwriter.NewWriter(os.Stdout, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(table, "question\tasked\tindex p50\tp99\tSQLite p50\tp99\t\t")
	for _, kind := range searchtest.Kinds() {
		asked := shop.Queries(kind, queries, seed)
		a, err := measure(asked, patience, func(q string) error {
			ours.Search(q, answers)
			return nil
		})
		if err != nil {
			return false, err
		}
		b, err := measure(asked, patience, func(q string) error { return peer.ask(kind, q) })
		if err != nil {
			return false, fmt.Errorf("%s: %w", kind, err)
		}
		verdict := ""
		if percentile(a, 50) > percentile(b, 50) || percentile(a, 99) > percentile(b, 99) {
			verdict, behind = "behind", true
		}
		fmt.Fprintf(table, "%s\t%d/%d\t%.4f\t%.4f\t%.4f\t%.4f\t%s\t\n", kind, len(a), len(b), percentile(a, 50), percentile(a, 99), percentile(b, 50), percentile(b, 99), verdict)
	}
	return behind, table.Flush()
}

// measure returns the median times of the questions, ascending; fewer than all
// where patience ran out. What else the machine does for a moment falls on one round
// of a question, and not on all of its times.
func measure(queries []string, patience time.Duration, ask func(string) error) ([]time.Duration, error) {
	end := time.Now().Add(patience)
	times := make([][]time.Duration, len(queries))
	for range rounds {
		for i, q := range queries {
			if time.Now().After(end) {
				break
			}
			for range repeats {
				start := time.Now()
				if err := ask(q); err != nil {
					return nil, fmt.Errorf("ask %q: %w", q, err)
				}
				times[i] = append(times[i], time.Since(start))
			}
		}
	}
	medians := make([]time.Duration, 0, len(queries))
	for _, t := range times {
		if len(t) > 0 {
			slices.Sort(t)
			medians = append(medians, t[len(t)/2])
		}
	}
	slices.Sort(medians)
	return medians, nil
}

// percentile is in milliseconds.
func percentile(times []time.Duration, p int) float64 {
	return float64(times[len(times)*p/100]) / 1e6
}

func buildIndex(shop *searchtest.Shop) (*search.Index, error) {
	x := search.New(nil)
	before, cpu, start := heap(), processor(), time.Now()
	if err := x.Build(context.Background(), documents(shop), nil); err != nil {
		return nil, err
	}
	took, worked := time.Since(start), processor()-cpu
	fmt.Printf("index built in %.2f s (%.2f s of processor), %.0f MB\n", took.Seconds(), worked.Seconds(), float64(heap()-before)/1e6)
	return x, nil
}

func documents(shop *searchtest.Shop) iter.Seq2[search.Doc, error] {
	return func(yield func(search.Doc, error) bool) {
		for _, d := range shop.Docs {
			if !yield(d, nil) {
				return
			}
		}
	}
}

func heap() uint64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}
