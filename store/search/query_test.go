package search

import (
	"context"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"stowright/store/measure"
)

func TestParseQuery(t *testing.T) {
	in := measure.Inches
	dim := func(l measure.Length) term { return term{dims: []Dim{{Length: l}}} }
	for _, row := range []struct {
		name, typed string
		want        query
	}{
		{"nothing", "  ", query{}},
		{"a designation", "AN3-5A", query{joined: "an35a", terms: []term{{code: "an35a"}}}},
		{"in words", "an3 5", query{joined: "an35", terms: []term{{code: "an3"}, {code: "5"}}}},
		{"a half size", "426AD3 3.5", query{joined: "426ad33.5", terms: []term{{code: "426ad3"}, {code: "3.5", dims: []Dim{{Length: in(7, 2)}}}}}},
		{"a fraction", "3/16", query{terms: []term{dim(in(3, 16))}}},
		{"a decimal being typed", ".19", query{terms: []term{{dims: []Dim{{Length: in(19, 100)}}, partial: ".19"}}}},
		{"a fraction being typed", "flush 3/", query{terms: []term{{code: "flush"}, {partial: "3/"}}}},
		{"a screw number", "#10 nut", query{terms: []term{dim(in(190, 1000)), {code: "nut"}}}},
		{"a thread", "10-32", query{joined: "1032", terms: []term{{code: "1032", dims: []Dim{{Role: Thread, Length: in(190, 1000), PerInch: 32}}}}}},
		{"a thread by fraction", "1/4-28", query{terms: []term{{dims: []Dim{{Role: Thread, Length: in(1, 4), PerInch: 28}}}}}},
		{"no such thread", "10-33", query{joined: "1033", terms: []term{{code: "1033"}}}},
		{"dimensions across", "1/4 x 9/16 grip", query{terms: []term{dim(in(1, 4)), {dims: []Dim{{Role: Grip, Length: in(9, 16)}}}}}},
		{"without spaces", "3/4x3/4x1/8", query{terms: []term{dim(in(3, 4)), dim(in(3, 4)), dim(in(1, 8))}}},
		{"whole inches across", "1 x 1/16", query{terms: []term{{code: "1", dims: []Dim{{Length: measure.Inch}}}, dim(in(1, 16))}}},
		{"an x at the end", "1/4 x", query{terms: []term{dim(in(1, 4))}}},
		{"an x of its own", "model x", query{joined: "modelx", terms: []term{{code: "model"}, {code: "x"}}}},
		{"a role before", "length 21/32", query{terms: []term{{dims: []Dim{{Role: OverallLength, Length: in(21, 32)}}}}}},
		{"two roles", "grip 1/4 long 21/32", query{terms: []term{{dims: []Dim{{Role: Grip, Length: in(1, 4)}}}, {dims: []Dim{{Role: OverallLength, Length: in(21, 32)}}}}}},
		{"a role between two", ".19 grip 1/4", query{terms: []term{dim(in(19, 100)), {dims: []Dim{{Role: Grip, Length: in(19, 100)}, {Role: Grip, Length: in(1, 4)}}}, dim(in(1, 4))}}},
		{"a thread keeps its role", "10-32 grip 1/4", query{terms: []term{{code: "1032", dims: []Dim{{Role: Thread, Length: in(190, 1000), PerInch: 32}}}, {dims: []Dim{{Role: Grip, Length: in(1, 4)}}}}}},
		{"a role with whole inches", "grip 2", query{terms: []term{{dims: []Dim{{Role: Grip, Length: 2 * measure.Inch}}}}}},
		{"a role alone", "grip", query{joined: "grip", terms: []term{{code: "grip"}}}},
		{"millimetres", "4.8mm", query{joined: "4.8mm", terms: []term{{code: "4.8mm", dims: []Dim{{Length: 4800 * measure.Micrometre}}}}}},
		{"accents", "GRÖSSE é", query{joined: "grossee", terms: []term{{code: "grosse"}, {code: "e"}}}},
		{"two words by a stroke", "and/or", query{joined: "andor", terms: []term{{code: "and"}, {code: "or"}}}},
	} {
		t.Run(row.name, func(t *testing.T) {
			got := parseQuery(row.typed)
			if diff := cmp.Diff(row.want, got, cmp.AllowUnexported(query{}, term{}), cmpopts.EquateEmpty()); diff != "" {
				t.Errorf("parseQuery(%q) (-want +got):\n%s", row.typed, diff)
			}
		})
	}
}

// FuzzQuery types anything and compares with looking at every document.
func FuzzQuery(f *testing.F) {
	for _, typed := range []string{"an3 5", "1/4 x 9/16 grip", "10-32", ".190", "#10", "A-07", "3/", "x", "1x", "\xff", "grip grip 1/4 x", "½", "0x1/4", "1/0", strings.Repeat("1/4 x ", 60), strings.Repeat("1/4x", 60) + "1/4"} {
		f.Add(typed)
	}
	docs := []Doc{
		{ID: "1", Name: "AN3-5A", Words: "Bolt 10-32 grip 1/4", Dims: []Dim{{Role: Grip, Length: measure.Inches(1, 4)}}, InShop: true},
		{ID: "2", Name: "NAS1149F0363P", Aliases: []string{"AN960-10"}, Words: "Washer, replaces AN960-10"},
		{ID: "3", Kind: Place, Name: "A-07", Places: []string{"Garage, Cabinet A, A-07"}},
		{ID: "4", Name: strings.Repeat("Long name ", 12), Words: "½ \xff 3/4x3/4x1/8 Größe"},
	}
	x, all := New(nil), oracle{}
	if err := x.Build(context.Background(), docSeq(docs), nil); err != nil {
		f.Fatal(err)
	}
	for _, d := range docs {
		all.put(d)
	}
	f.Fuzz(func(t *testing.T, typed string) {
		q := parseQuery(typed)
		if len(q.terms) > maxTerms || len(q.joined) > maxCode || !utf8.ValidString(q.joined) && utf8.ValidString(typed) && len(q.joined) < maxCode-utf8.UTFMax {
			t.Fatalf("parseQuery(%q) = %+v: out of bounds", typed, q)
		}
		compare(t, x, all, typed, 3)
	})
}

func TestNearMatcher(t *testing.T) {
	for _, row := range []struct {
		name, word, text string
		want             bool
	}{
		{"the word itself", "an35", "xan35y", true},
		{"one left out of the text", "ms21042", "ms2142", true},
		{"one more in the text", "ms21042", "ms210942", true},
		{"one replaced", "ms21042", "ms21942", true},
		{"two exchanged", "ms21042", "ms21024", true},
		{"exchanged at the start", "bolt", "oblt", true},
		{"exchanged at the end", "bolt", "botl", true},
		{"two left out", "ms21042", "ms242", false},
		{"two replaced", "bolt", "bxxt", false},
		{"over the end of a text", "bolt", "xbo\x00ltx", false},
	} {
		t.Run(row.name, func(t *testing.T) {
			var m nearMatcher
			m.reset("another")
			m.reset(row.word)
			if got := m.inside(row.text + terminator); got != row.want {
				t.Errorf("%q inside %q = %t, want %t", row.word, row.text, got, row.want)
			}
		})
	}
}

func TestNatural(t *testing.T) {
	names := strings.Fields("A-1 A-07 A-10 AN3-5 AN3-5A AN3-10 AN3-10A AN4-5 AN310-3 AN426AD3-3 AN426AD3-3.5 AN426AD3-4 B MS9")
	for i := 1; i < len(names); i++ {
		a, b := string(appendNatural(nil, names[i-1])), string(appendNatural(nil, names[i]))
		if a >= b {
			t.Errorf("%s does not sort before %s: %q, %q", names[i-1], names[i], a, b)
		}
	}
}
