package search_test

import (
	"context"
	"errors"
	"fmt"
	"iter"
	"sync"
	"testing"

	"stowright/store/search"
	"stowright/store/search/searchtest"
)

func doc(id, name string) search.Doc { return search.Doc{ID: id, Name: name, InShop: true} }

func TestPutAndRemove(t *testing.T) {
	x := search.New(nil)
	for _, step := range []struct {
		name   string
		change func()
		want   string // what "an" finds
	}{
		{"the first", func() { x.Put(doc("1", "AN3-5A")) }, "AN3-5A"},
		{"a second, before it", func() { x.Put(doc("2", "AN3-4A")) }, "AN3-4A AN3-5A"},
		{"another name for the first", func() { x.Put(doc("1", "AN3-3A")) }, "AN3-3A AN3-4A"},
		{"none left of the second", func() { x.Put(search.Doc{ID: "2", Name: "AN3-4A"}) }, "AN3-3A AN3-4A"},
		{"more of what comes behind", func() { x.Put(doc("3", "AN4-4A")) }, "AN3-3A AN4-4A AN3-4A"},
		{"the first goes", func() { x.Remove("1") }, "AN4-4A AN3-4A"},
		{"what is not there goes", func() { x.Remove("1") }, "AN4-4A AN3-4A"},
		{"the first comes back", func() { x.Put(doc("1", "AN3-9A")) }, "AN3-9A AN4-4A AN3-4A"},
		{"all go", func() { x.Remove("1"); x.Remove("2"); x.Remove("3") }, ""},
	} {
		step.change()
		if got := names(x.Search("an", 10)); got != step.want {
			t.Fatalf("%s: Search(an) = %q, want %q", step.name, got, step.want)
		}
	}
	if x.Len() != 0 {
		t.Errorf("Len() = %d, want 0", x.Len())
	}
}

func TestBuild(t *testing.T) {
	old := []search.Doc{doc("1", "AN3-5A"), doc("2", "AN3-6A")}
	broken := errors.New("page 7 is damaged")
	cancelled, cancel := context.WithCancel(context.Background())
	cancel()
	for _, row := range []struct {
		name string
		ctx  context.Context
		docs func(x *search.Index) iter.Seq2[search.Doc, error]
		want string
		err  error
	}{
		{"replaces all", context.Background(), func(*search.Index) iter.Seq2[search.Doc, error] {
			return seq([]search.Doc{doc("3", "AN3-7A")})
		}, "AN3-7A", nil},
		{"to nothing", context.Background(), func(*search.Index) iter.Seq2[search.Doc, error] {
			return seq(nil)
		}, "", nil},
		{"the later of two with one ID", context.Background(), func(*search.Index) iter.Seq2[search.Doc, error] {
			return seq([]search.Doc{doc("3", "AN3-7A"), doc("4", "AN3-3A"), doc("3", "AN3-8A")})
		}, "AN3-3A AN3-8A", nil},
		{"an error keeps the old", context.Background(), func(*search.Index) iter.Seq2[search.Doc, error] {
			return func(yield func(search.Doc, error) bool) {
				_ = yield(doc("3", "AN3-7A"), nil) && yield(search.Doc{}, broken)
			}
		}, "AN3-5A AN3-6A", broken},
		{"cancelling keeps the old", cancelled, func(*search.Index) iter.Seq2[search.Doc, error] {
			return seq([]search.Doc{doc("3", "AN3-7A")})
		}, "AN3-5A AN3-6A", context.Canceled},
		{"changes meanwhile stay", context.Background(), func(x *search.Index) iter.Seq2[search.Doc, error] {
			return func(yield func(search.Doc, error) bool) {
				_ = yield(doc("1", "AN3-3A"), nil) && yield(doc("2", "AN3-4A"), nil) && yield(doc("3", "AN3-7A"), nil)
				x.Put(doc("1", "AN3-9A"))
				x.Put(doc("5", "AN3-2A"))
				x.Remove("2")
				x.Remove("5")
				x.Put(doc("6", "AN3-1A"))
			}
		}, "AN3-1A AN3-7A AN3-9A", nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			x := built(t, old)
			err := x.Build(row.ctx, row.docs(x), nil)
			if !errors.Is(err, row.err) {
				t.Errorf("Build() = %v, want %v", err, row.err)
			}
			if got := names(x.Search("an", 10)); got != row.want {
				t.Errorf("Search(an) = %q, want %q", got, row.want)
			}
		})
	}
}

func TestBuildTellsProgress(t *testing.T) {
	var told []int
	x := search.New(nil)
	err := x.Build(context.Background(), seq(searchtest.New(2500, 1).Docs), func(done int) { told = append(told, done) })
	if err != nil || fmt.Sprint(told) != "[1000 2000]" || x.Len() != 2500 {
		t.Errorf("Build() = %v, progress %v, Len() %d; want progress [1000 2000] of 2500", err, told, x.Len())
	}
}

// TestMergeBeside lets merges wait while the index changes on, as they do when
// they run in a goroutine.
func TestMergeBeside(t *testing.T) {
	var waiting []func()
	x := search.New(func(work func()) { waiting = append(waiting, work) })
	want := map[string]bool{}
	for i := range 300 {
		id := fmt.Sprint(i)
		x.Put(doc(id, "AN"+id))
		want[id] = true
		if i%3 == 0 {
			x.Remove(fmt.Sprint(i / 2))
			delete(want, fmt.Sprint(i/2))
		}
		if i%40 == 39 {
			for _, work := range waiting {
				work()
			}
			waiting = nil
		}
		if i == 150 && len(waiting) == 0 {
			t.Error("no merge was asked for after 30 changes")
		}
	}
	r := x.Search("an", 1000)
	if len(r.Hits) != len(want) || x.Len() != len(want) {
		t.Fatalf("%d hits, Len() %d, want %d", len(r.Hits), x.Len(), len(want))
	}
	for i, h := range r.Hits {
		if !want[h.ID] || i > 0 && len(h.Name) < len(r.Hits[i-1].Name) {
			t.Fatalf("hit %d is %+v, after %+v", i, h, r.Hits[max(i-1, 0)])
		}
	}
}

// TestSearchWhileChanging is for the race detector: a document that is only
// ever replaced is found at every moment.
func TestSearchWhileChanging(t *testing.T) {
	x := built(t, searchtest.New(2000, 3).Docs)
	x.Put(doc("always", "ZZ9-9"))
	var merges, readers sync.WaitGroup
	beside := search.New(func(work func()) { merges.Go(work) })
	beside.Put(doc("always", "ZZ9-9"))
	done := make(chan struct{})
	for _, index := range []*search.Index{x, beside} {
		readers.Go(func() {
			for {
				select {
				case <-done:
					return
				default:
				}
				if r := index.Search("zz9 9", 3); len(r.Hits) != 1 {
					t.Errorf("Search(zz9 9) = %+v, want one hit", r.Hits)
					return
				}
			}
		})
	}
	for i := range 400 {
		for _, index := range []*search.Index{x, beside} {
			index.Put(doc("always", "ZZ9-9"))
			index.Put(doc(fmt.Sprint(i), fmt.Sprintf("AN%d-4", i)))
		}
	}
	close(done)
	readers.Wait()
	merges.Wait()
}

func ExampleIndex_Search() {
	x := search.New(nil)
	x.Put(search.Doc{ID: "1", Name: "NAS1149F0363P", Words: "Washer", Aliases: []string{"AN960-10"}, InShop: true})
	x.Put(search.Doc{ID: "2", Name: "AN3-5A", Words: "Bolt, grip 1/4", InShop: true})
	for _, typed := range []string{"960 10", "bolt .25"} {
		for _, h := range x.Search(typed, 10).Hits {
			fmt.Println(h.Name, h.Why)
		}
	}
	// Output:
	// NAS1149F0363P old number AN960-10
	// AN3-5A
}
