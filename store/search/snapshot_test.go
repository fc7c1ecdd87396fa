package search

import (
	"context"
	"errors"
	"fmt"
	"iter"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// size is how many documents the segments of an index hold, dead ones with them, and in how
// many segments.
func (x *Index) size() (docs, parts int) {
	for _, p := range x.snap.Load().parts {
		docs += p.seg.size()
	}
	return docs, len(x.snap.Load().parts)
}

// answered is all that an index answers to some queries.
func answered(x *Index, queries []string) []Result {
	all := make([]Result, len(queries))
	for i, typed := range queries {
		all[i] = x.Search(typed, 7)
	}
	return all
}

// rebuilt is an index of the living documents of another one, built at once.
func rebuilt(t fataler, all map[string]Doc) *Index {
	x := New(nil)
	docs := make([]Doc, 0, len(all))
	for _, d := range all {
		docs = append(docs, d)
	}
	if err := x.Build(context.Background(), docSeq(docs), nil); err != nil {
		t.Fatalf("building: %v", err)
	}
	return x
}

// An index that was changed in any way, with merges at once or late or never, answers as one
// that was built of what is in it: the same hits, marked and explained the same.
func TestChangedIsLikeBuilt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var waiting []func()
		late := rapid.Bool().Draw(t, "merges wait")
		x := New(func(work func()) {
			if waiting = append(waiting, work); !late {
				work()
				waiting = nil
			}
		})
		all := map[string]Doc{}
		for _, d := range rapid.SliceOfN(someDoc, 0, 60).Draw(t, "puts") {
			x.Put(d)
			all[d.ID] = d
			if rapid.IntRange(0, 3).Draw(t, "take out") == 0 {
				id := fmt.Sprint(rapid.IntRange(0, 40).Draw(t, "id"))
				x.Remove(id)
				delete(all, id)
			}
			if len(waiting) > 0 && rapid.IntRange(0, 9).Draw(t, "merge") == 0 {
				waiting[0]()
				waiting = waiting[1:]
			}
		}
		queries := rapid.SliceOfN(someQuery, 1, 6).Draw(t, "queries")
		if d := cmp.Diff(answered(rebuilt(t, all), queries), answered(x, queries)); d != "" || x.Len() != len(all) {
			t.Fatalf("%q of %d documents, %d are said (-built +changed):\n%s", queries, len(all), x.Len(), d)
		}
	})
}

// What a search goes over is the contents of one moment: whatever is put, taken out, merged
// or built meanwhile does not change them.
func TestSnapshotsStay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var waiting []func()
		x := New(func(work func()) { waiting = append(waiting, work) })
		for _, d := range rapid.SliceOfN(someDoc, 1, 30).Draw(t, "before") {
			x.Put(d)
		}
		queries := rapid.SliceOfN(someQuery, 1, 4).Draw(t, "queries")
		held := New(nil)
		held.snap.Store(x.snap.Load())
		want, length := answered(held, queries), held.Len()
		for _, d := range rapid.SliceOfN(someDoc, 1, 30).Draw(t, "after") {
			x.Put(d)
			x.Remove(fmt.Sprint(rapid.IntRange(0, 40).Draw(t, "id")))
		}
		for _, work := range waiting {
			work()
		}
		if err := x.Build(context.Background(), docSeq(rapid.SliceOfN(someDoc, 0, 5).Draw(t, "built")), nil); err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(want, answered(held, queries)); d != "" || held.Len() != length {
			t.Fatalf("%q (-then +now):\n%s", queries, d)
		}
	})
}

// Taking a second document out of a segment leaves those who look at it with the first one
// gone alone.
func TestSnapshotKeepsItsDead(t *testing.T) {
	x := New(nil)
	docs := make([]Doc, 10)
	for i := range docs {
		docs[i] = Doc{ID: fmt.Sprint(i), Name: fmt.Sprintf("AN%d", i)}
	}
	if err := x.Build(context.Background(), docSeq(docs), nil); err != nil {
		t.Fatal(err)
	}
	for i := range docs {
		held := New(nil)
		held.snap.Store(x.snap.Load())
		x.Remove(fmt.Sprint(i))
		if then, now := held.Search("an", 20), x.Search("an", 20); len(then.Hits) != 10-i || len(now.Hits) != 9-i {
			t.Errorf("taking %d out, %d are found in what was held, and %d then", i, len(then.Hits), len(now.Hits))
		}
	}
}

// Hits are the caller's: what the next search finds is written elsewhere.
func TestHitsAreTheCallers(t *testing.T) {
	x := New(nil)
	for i := range 50 {
		x.Put(Doc{ID: fmt.Sprint(i), Name: fmt.Sprintf("AN%d-5", i), Words: "bolt tail bolts"})
	}
	first := x.Search("bolt tail", 20)
	matches := slices.Clone(first.Hits[0].Matches)
	ids := make([]string, len(first.Hits))
	for i, h := range first.Hits {
		ids[i] = h.ID
	}
	second := slices.Clone(first.Hits[1].Matches)
	_ = append(first.Hits[0].Matches, Match{Start: 99}) // has no room in the next one's
	for _, typed := range []string{"tail", "an", "bolts"} {
		x.Search(typed, 20)
	}
	for i, h := range first.Hits {
		if h.ID != ids[i] {
			t.Fatalf("hit %d is %s now, and was %s", i, h.ID, ids[i])
		}
	}
	if d := cmp.Diff([][]Match{matches, second}, [][]Match{first.Hits[0].Matches, first.Hits[1].Matches}); d != "" {
		t.Errorf("matches (-then +now):\n%s", d)
	}
}

// However documents come and go, they lie in few segments, and the dead are let go of.
func TestSegmentsStayFew(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for name, change := range map[string]func(x *Index, i int){
		"put one after the other": func(x *Index, i int) { x.Put(Doc{ID: fmt.Sprint(i), Name: fmt.Sprintf("AN%d", i)}) },
		"one again and again":     func(x *Index, i int) { x.Put(Doc{ID: "1", Name: fmt.Sprintf("AN%d", i)}) },
		"some again and again":    func(x *Index, i int) { x.Put(Doc{ID: fmt.Sprint(i % 100), Name: fmt.Sprintf("AN%d", i)}) },
		"put and taken out": func(x *Index, i int) {
			x.Put(Doc{ID: fmt.Sprint(i), Name: fmt.Sprintf("AN%d", i)})
			x.Remove(fmt.Sprint(i - 50))
		},
		"at random": func(x *Index, i int) {
			x.Put(Doc{ID: fmt.Sprint(r.IntN(400)), Name: fmt.Sprintf("AN%d", i)})
			x.Remove(fmt.Sprint(r.IntN(400)))
		},
	} {
		t.Run(name, func(t *testing.T) {
			x := New(nil)
			mostDocs, mostParts := 0.0, 0
			for i := range 1500 {
				change(x, i)
				docs, parts := x.size()
				mostDocs = max(mostDocs, float64(docs)/float64(x.Len()+4*tailSize))
				mostParts = max(mostParts, parts)
			}
			// Each segment has more than mergeRatio times what all newer ones have: so there are
			// no more than five of up to 1,500, and one or two of the newest.
			if mostParts > 7 || mostDocs > 1+mergeRatio {
				t.Errorf("up to %d segments, with up to %.1f documents for each that is there", mostParts, mostDocs)
			}
		})
	}
}

// An index from which all was taken out holds nothing.
func TestEmptied(t *testing.T) {
	x := New(nil)
	for i := range 200 {
		x.Put(Doc{ID: fmt.Sprint(i), Name: "AN3"})
	}
	for i := range 200 {
		x.Remove(fmt.Sprint(i))
		if r := x.Search("an3", 500); len(r.Hits) != 199-i {
			t.Fatalf("%d hits when %d were taken out", len(r.Hits), i+1)
		}
	}
	if docs, parts := x.size(); docs != 0 || parts != 0 {
		t.Errorf("%d documents in %d segments are left", docs, parts)
	}
}

// A search gives back what it held of the documents.
func TestSearchHoldsNothing(t *testing.T) {
	x := New(nil)
	x.Put(Doc{ID: "1", Name: "AN3"})
	s := x.pool.Get().(*searcher)
	q := parseQuery("an3")
	s.open(x.snap.Load(), &q, 3)
	s.finders[0].exact()
	s.close()
	if f := s.finders[0]; f.seg != nil || f.dead != nil || f.q != nil || f.best.dead != nil || f.best.seen != nil || f.seen.has(0) {
		t.Errorf("after the search it holds %+v", f)
	}
}

// A merge that ends after the contents were replaced, or after what it merged was taken out,
// puts nothing back.
func TestMergesThatComeLate(t *testing.T) {
	fill := func() (x *Index, merge func()) {
		var waiting []func()
		x = New(func(work func()) { waiting = append(waiting, work) })
		for i := 0; len(waiting) == 0; i++ {
			x.Put(Doc{ID: fmt.Sprint(i), Name: fmt.Sprintf("AN%d", i)})
		}
		return x, waiting[0]
	}
	for name, row := range map[string]struct {
		meanwhile func(x *Index)
		want      func(before int) int // documents then
	}{
		"nothing":      {func(*Index) {}, func(n int) int { return n }},
		"one taken":    {func(x *Index) { x.Remove("0") }, func(n int) int { return n - 1 }},
		"one replaced": {func(x *Index) { x.Put(Doc{ID: "0", Name: "AN0X"}) }, func(n int) int { return n }},
		"all taken": {func(x *Index) {
			for i := range 100 {
				x.Remove(fmt.Sprint(i))
			}
		}, func(int) int { return 0 }},
		"one more": {func(x *Index) { x.Put(Doc{ID: "new", Name: "AN99"}) }, func(n int) int { return n + 1 }},
		"all replaced": {func(x *Index) {
			if err := x.Build(context.Background(), docSeq([]Doc{{ID: "only", Name: "AN1"}}), nil); err != nil {
				t.Fatal(err)
			}
		}, func(int) int { return 1 }},
	} {
		t.Run(name, func(t *testing.T) {
			x, merge := fill()
			before := x.Len()
			row.meanwhile(x)
			was := answered(x, []string{"an", "an0", "an1", "an99"})
			merge()
			if x.Len() != row.want(before) {
				t.Errorf("%d documents, want %d", x.Len(), row.want(before))
			}
			if d := cmp.Diff(was, answered(x, []string{"an", "an0", "an1", "an99"})); d != "" {
				t.Errorf("the merge changed what is found (-before +after):\n%s", d)
			}
			x.Put(Doc{ID: "last", Name: "AN98"}) // and it goes on
			if r := x.Search("an98", 1); len(r.Hits) != 1 || r.Hits[0].Class != Exact {
				t.Errorf("what is put then is found as %+v", r.Hits)
			}
		})
	}
}

// Two that are built at once come one after the other, and each in whole.
func TestBuildsBesideEachOther(t *testing.T) {
	x := New(nil)
	inside, goOn := make(chan bool), make(chan bool)
	slow := func(yield func(Doc, error) bool) {
		_ = yield(Doc{ID: "1", Name: "AN1"}, nil)
		inside <- true
		<-goOn
		_ = yield(Doc{ID: "2", Name: "AN2"}, nil)
	}
	first, second := make(chan error, 1), make(chan error, 1)
	go func() { first <- x.Build(context.Background(), slow, nil) }()
	<-inside
	go func() { second <- x.Build(context.Background(), docSeq([]Doc{{ID: "3", Name: "AN3"}}), nil) }()
	x.Put(Doc{ID: "4", Name: "AN4"})
	close(goOn)
	if err := errors.Join(<-first, <-second); err != nil {
		t.Fatal(err)
	}
	if r := x.Search("an", 9); len(r.Hits) != 1 || r.Hits[0].ID != "3" { // 4 came before the second one began
		t.Errorf("there is %+v", r.Hits)
	}
}

// Where building fails, whatever was put and taken out meanwhile is in the old contents, and
// the next time it is built nothing of the failure is left.
func TestBuildFails(t *testing.T) {
	no := errors.New("page 7 is damaged")
	failing := func(x *Index) iter.Seq2[Doc, error] {
		return func(yield func(Doc, error) bool) {
			x.Put(Doc{ID: "new", Name: "AN5"})
			x.Remove("old")
			_ = yield(Doc{}, no)
		}
	}
	x := New(nil)
	x.Put(Doc{ID: "old", Name: "AN1"})
	x.Put(Doc{ID: "kept", Name: "AN2"})
	err := x.Build(context.Background(), failing(x), nil)
	if !errors.Is(err, no) || err.Error() != "index document 1: page 7 is damaged" {
		t.Errorf("it says %v", err)
	}
	var ids []string
	for _, h := range x.Search("an", 9).Hits {
		ids = append(ids, h.ID)
	}
	if !slices.Equal(ids, []string{"kept", "new"}) {
		t.Errorf("there is %v", ids)
	}
	if err := x.Build(context.Background(), docSeq([]Doc{{ID: "3", Name: "AN3"}}), nil); err != nil || x.Len() != 1 {
		t.Errorf("built then: %v, %d documents", err, x.Len())
	}
}
