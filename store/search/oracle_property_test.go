package search

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"stowright/store/measure"
)

// Small alphabets, so that documents share parts and queries meet them.
var (
	someNames  = rapid.StringMatching(`[A-C]{1,2}[0-3]{0,3}(-[0-3]{1,2}(\.5)?)?[A-C]?`)
	someWords  = rapid.SampledFrom([]string{"bolt", "Bolt,", "bolts", "eyebolt", "rod-end", "and/or", "3/16", "3/16x1/4", "10-32", ".190", "AB1-2", "Größe", "x", "2.5", "a", "abc12", "2", "#10", "1/4\"", strings.Repeat("long", 20)})
	someText   = rapid.Custom(func(t *rapid.T) string { return strings.Join(rapid.SliceOfN(someWords, 0, 4).Draw(t, "words"), " ") })
	someLength = rapid.SampledFrom([]measure.Length{measure.Inches(3, 16), measure.Inches(190, 1000), measure.Inches(1, 4), measure.Inch, 2 * measure.Inch})
	someDim    = rapid.Custom(func(t *rapid.T) Dim {
		d := Dim{Role: Role(rapid.IntRange(0, 4).Draw(t, "role")), Length: someLength.Draw(t, "length")}
		if d.Role == Thread {
			d.PerInch = rapid.SampledFrom([]uint16{0, 28, 32}).Draw(t, "pitch")
		}
		return d
	})
	someDoc = rapid.Custom(func(t *rapid.T) Doc {
		return Doc{
			ID:      fmt.Sprint(rapid.IntRange(0, 40).Draw(t, "id")),
			Kind:    Kind(rapid.IntRange(0, 2).Draw(t, "kind")),
			Name:    rapid.OneOf(someNames, someText).Draw(t, "name"),
			Aliases: rapid.SliceOfN(someNames, 0, 2).Draw(t, "aliases"),
			Words:   someText.Draw(t, "words"),
			Dims:    rapid.SliceOfN(someDim, 0, 2).Draw(t, "dims"),
			Places:  rapid.SliceOfN(someText, 0, 2).Draw(t, "places"),
			InShop:  rapid.Bool().Draw(t, "in shop"),
		}
	})
	someQuery = rapid.Custom(func(t *rapid.T) string {
		part := rapid.OneOf(
			someNames, someWords,
			rapid.SampledFrom([]string{"grip", "1/4 x 3/16", "grip 1/4", "1 x 3/16", "3/1", ".1", "bo", "b", "12", "bolr", "obltx"}),
			rapid.StringMatching(`[a-c0-3]{1,6}`),
		)
		return strings.Join(rapid.SliceOfN(part, 1, 3).Draw(t, "typed"), " ")
	})
)

// TestAgainstOracle changes an index at random and compares what it finds with
// what looking at every document finds.
func TestAgainstOracle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x, all := New(nil), oracle{}
		docs := rapid.SliceOfN(someDoc, 0, 40).Draw(t, "docs")
		if err := x.Build(context.Background(), docSeq(docs), nil); err != nil {
			t.Fatal(err)
		}
		for _, d := range docs {
			all.put(d)
		}
		t.Repeat(map[string]func(*rapid.T){
			"put": func(t *rapid.T) {
				for _, d := range rapid.SliceOfN(someDoc, 1, 12).Draw(t, "puts") {
					x.Put(d)
					all.put(d)
				}
			},
			"remove": func(t *rapid.T) {
				id := fmt.Sprint(rapid.IntRange(0, 40).Draw(t, "id"))
				x.Remove(id)
				delete(all, id)
			},
			"": func(t *rapid.T) {
				if x.Len() != len(all) {
					t.Fatalf("Len() = %d, want %d", x.Len(), len(all))
				}
				compare(t, x, all, someQuery.Draw(t, "query"), rapid.IntRange(1, 12).Draw(t, "limit"))
			},
		})
	})
}

func docSeq(docs []Doc) func(func(Doc, error) bool) {
	return func(yield func(Doc, error) bool) {
		for _, d := range docs {
			if !yield(d, nil) {
				return
			}
		}
	}
}

type fataler interface {
	Helper()
	Fatalf(format string, args ...any)
}

func compare(t fataler, x *Index, all oracle, typed string, limit int) {
	t.Helper()
	got := x.Search(typed, limit)
	want, more := all.search(typed, limit)
	if diff := cmp.Diff(want, got.Hits, cmpopts.EquateEmpty(), cmpopts.IgnoreFields(Hit{}, "Matches", "Why")); diff != "" {
		t.Fatalf("Search(%q, %d) (-want +got):\n%s", typed, limit, diff)
	}
	if got.More != more {
		t.Fatalf("Search(%q, %d).More = %t, want %t", typed, limit, got.More, more)
	}
	for _, h := range got.Hits {
		checkMatches(t, h, all[h.ID].doc)
	}
}

// checkMatches sees that matches lie in their fields, in order, apart.
func checkMatches(t fataler, h Hit, d Doc) {
	t.Helper()
	fields := map[Field][]string{FieldName: {d.Name}, FieldAlias: d.Aliases, FieldWords: {d.Words}, FieldPlace: d.Places}
	sorted := slices.IsSortedFunc(h.Matches, func(a, b Match) int {
		return int(a.Field)*1e6 + a.Index*1e3 + a.Start - int(b.Field)*1e6 - b.Index*1e3 - b.Start
	})
	if !sorted || h.Class < Near && len(h.Matches) == 0 {
		t.Fatalf("hit %+v: matches missing or out of order", h)
	}
	for _, m := range h.Matches {
		if m.Field == FieldDim {
			if m.Index >= len(d.Dims) {
				t.Fatalf("hit %+v: no dimension %d", h, m.Index)
			}
			continue
		}
		if m.Start >= m.End || m.End > len(fields[m.Field][m.Index]) {
			t.Fatalf("hit %+v: match %+v outside of %q", h, m, fields[m.Field])
		}
	}
}
