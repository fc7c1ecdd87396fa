package search_test

import (
	"context"
	"iter"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store/measure"
	"stowright/store/search"
)

// shop is part of the invented tail kit: what is in the drawers, what the
// plans ask for and the drawers themselves. Grips of AN3 bolts are as NASM3-20
// has them, by way of the demonstration data: AN3-5 1/4, AN3-6 3/8.
func shop() []search.Doc {
	thread := search.Dim{Role: search.Thread, Length: measure.Inches(190, 1000), PerInch: 32}
	grip := func(n, d int64) search.Dim { return search.Dim{Role: search.Grip, Length: measure.Inches(n, d)} }
	item := func(name, words string, inShop bool, place string, dims ...search.Dim) search.Doc {
		d := search.Doc{ID: name, Name: name, Words: words, InShop: inShop, Dims: dims}
		if place != "" {
			d.Places = []string{"Garage, Cabinet A, " + place}
		}
		return d
	}
	diameter := func(n, d int64) search.Dim { return search.Dim{Role: search.Diameter, Length: measure.Inches(n, d)} }
	washer := item("NAS1149F0363P", "Washer", true, "A-30")
	washer.Aliases = []string{"AN960-10"}
	thin := item("NAS1149F0332P", "Washer thin", true, "A-31")
	thin.Aliases = []string{"AN960-10L"}
	docs := []search.Doc{
		item("AN3-5A", "Bolt", true, "A-12", diameter(3, 16), thread, grip(1, 4)),
		item("AN3-5", "Bolt drilled shank", false, "", diameter(3, 16), thread, grip(1, 4)),
		item("AN3-6A", "Bolt", true, "A-13", diameter(3, 16), thread, grip(3, 8)),
		item("AN3-11A", "Bolt", true, "A-14", diameter(3, 16), thread),
		item("AN3-11", "Bolt drilled shank", false, "", diameter(3, 16), thread),
		item("AN4-12A", "Bolt", true, "A-15", diameter(1, 4), grip(9, 16)),
		item("AN365-1032A", "Lock nut full", true, "A-21", thread),
		item("AN310-3", "Castle nut", true, "A-20", thread),
		item("MS21042-3", "Lock nut all-metal lot Q7714", true, "A-22", thread),
		item("AN426AD3-3", "Flush rivet", true, "A-01", diameter(3, 32)),
		item("AN426AD3-3.5", "Flush rivet", true, "A-02", diameter(3, 32)),
		item("AN470AD3-4", "Dome rivet", true, "A-05", diameter(3, 32)),
		item("AN470AD4-7", "Dome rivet", true, "A-07", diameter(1, 8)),
		item("AN470AD4-4", "Dome rivet", true, "A-08", diameter(1, 8)),
		item("AN507-832R8", "Flush screw", true, "A-35"),
		item("OQ-90-005", "Rod-end 3/16", true, ""),
		item("OQ-80-A12", "Angle 3/4x3/4x1/8", true, ""),
		washer, thin,
	}
	for _, name := range []string{"A-01", "A-07", "A-08", "A-30"} {
		docs = append(docs, search.Doc{ID: "place " + name, Kind: search.Place, Name: name, Words: "Drawer", Places: []string{"Garage, Cabinet A, " + name}, InShop: true})
	}
	return docs
}

func seq(docs []search.Doc) iter.Seq2[search.Doc, error] {
	return func(yield func(search.Doc, error) bool) {
		for _, d := range docs {
			if !yield(d, nil) {
				return
			}
		}
	}
}

func built(t testing.TB, docs []search.Doc) *search.Index {
	t.Helper()
	x := search.New(nil)
	if err := x.Build(context.Background(), seq(docs), nil); err != nil {
		t.Fatal(err)
	}
	return x
}

// names are the names of the hits, in order.
func names(r search.Result) string {
	all := make([]string, 0, len(r.Hits))
	for _, h := range r.Hits {
		all = append(all, h.Name)
	}
	return strings.Join(all, " ")
}

func TestDemoShop(t *testing.T) {
	x := built(t, shop())
	for _, row := range []struct{ name, typed, want string }{
		{"a piece of a designation in two words", "an3 5", "AN3-5 AN3-5A AN365-1032A"},
		{"the same without a space", "an35", "AN3-5 AN3-5A"},
		{"the whole designation comes first", "AN3-5", "AN3-5 AN3-5A"},
		{"inside, with a space for the dash", "470ad4 7", "AN470AD4-7 AN470AD4-4"},
		{"natural order of dashes", "an3-", "AN3-5A AN3-6A AN3-11A AN310-3 AN365-1032A AN3-5 AN3-11"},
		{"half sizes", "426ad3 3.5", "AN426AD3-3.5"},
		{"an old number before what only starts with it", "AN960-10", "NAS1149F0363P NAS1149F0332P"},
		{"inside an old number", "960-10", "NAS1149F0332P NAS1149F0363P"},
		{"a word and a dimension", "flush 3/32", "AN426AD3-3 AN426AD3-3.5"},
		{"the same as a decimal", "flush .09375", "AN426AD3-3 AN426AD3-3.5"},
		{"a dimension half typed", "flush 3/3", "AN426AD3-3 AN426AD3-3.5"},
		{"diameter and grip", "1/4 x 9/16 grip", "AN4-12A"},
		{"grip first", "grip 9/16", "AN4-12A"},
		{"no such grip", "grip 5/16", ""},
		{"a thread, and a designation that says it", "nut 10-32", "AN310-3 AN365-1032A MS21042-3"},
		{"the thread's diameter", "nut .190", "AN310-3 AN365-1032A MS21042-3"},
		{"the thread's number", "nut #10", "AN310-3 AN365-1032A MS21042-3"},
		{"a dimension in a description", ".1875 rod", "OQ-90-005"},
		{"one of several in a description", "angle 1/8", "OQ-80-A12"},
		{"a drawer and what is in it", "A-07", "A-07 AN470AD4-7"},
		{"words by their start", "cas nu", "AN310-3"},
		{"the inside of a word", "etal", "MS21042-3"},
		{"a lot in the description", "q7714", "MS21042-3"},
		{"one character too many", "AN4700AD4-7", "AN470AD4-7"},
		{"two characters exchanged", "MS21024-3", "MS21042-3"},
		{"a wrong letter in a word", "castlo nut", "AN310-3"},
		{"two errors are too many", "MS21204-8", ""},
		{"every word must match", "bolt q7714", ""},
		{"nothing", "", ""},
		{"only signs", " -/ ", ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := names(x.Search(row.typed, 10)); got != row.want {
				t.Errorf("Search(%q) = %q, want %q", row.typed, got, row.want)
			}
		})
	}
}

func TestHitSaysWhy(t *testing.T) {
	x := built(t, shop())
	for _, row := range []struct {
		name, typed string
		want        search.Hit
	}{
		{"old number", "an960 10", search.Hit{
			ID: "NAS1149F0363P", Name: "NAS1149F0363P", Class: search.ExactOld, Why: "old number AN960-10",
			Matches: []search.Match{{Field: search.FieldAlias, Start: 0, End: 8}},
		}},
		{"across the dash", "n35a", search.Hit{
			ID: "AN3-5A", Name: "AN3-5A", Class: search.Inside,
			Matches: []search.Match{{Field: search.FieldName, Start: 1, End: 6}},
		}},
		{"word and dimension", "rod .1875", search.Hit{
			ID: "OQ-90-005", Name: "OQ-90-005", Class: search.Words,
			Matches: []search.Match{{Field: search.FieldWords, Start: 0, End: 3}, {Field: search.FieldWords, Start: 8, End: 12}},
		}},
		{"a dimension of its own", "bolt 9/16 grip", search.Hit{
			ID: "AN4-12A", Name: "AN4-12A", Class: search.Words,
			Matches: []search.Match{{Field: search.FieldWords, Start: 0, End: 4}, {Field: search.FieldDim, Index: 1}},
		}},
		{"a typing error", " MS21024-3", search.Hit{
			ID: "MS21042-3", Name: "MS21042-3", Class: search.Near, Why: "close to MS21024-3",
		}},
	} {
		t.Run(row.name, func(t *testing.T) {
			r := x.Search(row.typed, 1)
			if len(r.Hits) == 0 {
				t.Fatalf("Search(%q) found nothing", row.typed)
			}
			if diff := cmp.Diff(row.want, r.Hits[0]); diff != "" {
				t.Errorf("Search(%q) (-want +got):\n%s", row.typed, diff)
			}
		})
	}
}
