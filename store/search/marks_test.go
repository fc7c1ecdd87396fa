package search

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"stowright/store/measure"
)

// Whatever is typed, the query keeps its bounds and only what stands within them counts.
func TestQueryBounds(t *testing.T) {
	word := func(n int) string { return fmt.Sprintf("w%c", 'a'+n) }
	many := func(n int) (text string) {
		for i := range n {
			text += word(i) + " "
		}
		return text
	}
	for _, row := range []struct {
		name, typed string
		terms       int
		joined      string
	}{
		{"as many words as count", many(maxTerms), maxTerms, strings.ReplaceAll(many(maxTerms), " ", "")},
		{"one word more", many(maxTerms + 1), maxTerms, strings.ReplaceAll(many(maxTerms), " ", "")},
		{"dimensions of one chunk", strings.Repeat("1/4x", 20) + "1/4", maxTerms, ""},
		{"as many bytes as count", strings.Repeat(" ", maxQuery-2) + "ab", 1, "ab"},
		{"one byte more", strings.Repeat(" ", maxQuery-1) + "ab", 1, "a"},
		{"behind all that counts", strings.Repeat(" ", maxQuery) + "ab", 0, ""},
		{"a letter that is cut through", strings.Repeat(" ", maxQuery-2) + "aö", 1, "a"},
		{"a long word", strings.Repeat("a", 100), 1, strings.Repeat("a", maxCode)},
		{"long words together", strings.Repeat("a", 40) + " " + strings.Repeat("b", 40), 2, strings.Repeat("a", 40) + strings.Repeat("b", maxCode-40)},
	} {
		t.Run(row.name, func(t *testing.T) {
			q := parseQuery(row.typed)
			if len(q.terms) != row.terms || q.joined != row.joined {
				t.Errorf("%d words, joined %q; want %d, %q", len(q.terms), q.joined, row.terms, row.joined)
			}
		})
	}
}

// A role takes the dimension beside it, and an x between dimensions is none of the words.
func TestRolesAndCrosses(t *testing.T) {
	in := measure.Inches
	dim := func(l measure.Length) term { return term{dims: []Dim{{Length: l}}} }
	of := func(r Role, l measure.Length) term { return term{dims: []Dim{{Role: r, Length: l}}} }
	code := func(s string) term { return term{code: s} }
	inch := func(s string, n int64) term {
		return term{code: s, dims: []Dim{{Length: measure.Length(n) * measure.Inch}}}
	}
	for _, row := range []struct {
		typed string
		want  []term
	}{
		{"1/4 grip", []term{of(Grip, in(1, 4))}},
		{"grip 1/4", []term{of(Grip, in(1, 4))}},
		{"GRIP 1/4", []term{of(Grip, in(1, 4))}},
		{"1/4 grip 3/8", []term{dim(in(1, 4)), {dims: []Dim{{Role: Grip, Length: in(1, 4)}, {Role: Grip, Length: in(3, 8)}}}, dim(in(3, 8))}},
		{"1/4 grip bolt", []term{of(Grip, in(1, 4)), code("bolt")}},
		{"bolt grip 1/4", []term{code("bolt"), of(Grip, in(1, 4))}},
		{"bolt grip", []term{code("bolt"), code("grip")}},
		{"grip grip", []term{code("grip"), code("grip")}},
		{"grip 1/4 grip", []term{of(Grip, in(1, 4)), code("grip")}},
		{"2 grip", []term{of(Grip, 2*measure.Inch)}},
		{"grip 2 1/4", []term{of(Grip, 2*measure.Inch), dim(in(1, 4))}},
		{"1/4 dia 3/8 long", []term{dim(in(1, 4)), {dims: []Dim{{Role: Diameter, Length: in(1, 4)}, {Role: Diameter, Length: in(3, 8)}}}, of(OverallLength, in(3, 8))}},
		{"dia 1/4 long 3/8", []term{of(Diameter, in(1, 4)), of(OverallLength, in(3, 8))}},
		{"10-32 thread", []term{{code: "1032", dims: []Dim{{Role: Thread, Length: in(190, 1000), PerInch: 32}}}}},
		{"10-32 grip", []term{{code: "1032", dims: []Dim{{Role: Thread, Length: in(190, 1000), PerInch: 32}}}, code("grip")}},
		{"1/4 x 3/8", []term{dim(in(1, 4)), dim(in(3, 8))}},
		{"1/4 X 3/8", []term{dim(in(1, 4)), dim(in(3, 8))}},
		{"1/4 x", []term{dim(in(1, 4))}},
		{"x 1/4", []term{code("x"), dim(in(1, 4))}},
		{"1/4 x x 3/8", []term{dim(in(1, 4)), code("x"), code("x"), dim(in(3, 8))}},
		{"bolt x 1/4", []term{code("bolt"), code("x"), dim(in(1, 4))}},
		{"2 x 4", []term{code("2"), code("x"), code("4")}},
		{"2 x 4 x 1/8", []term{inch("2", 2), inch("4", 4), dim(in(1, 8))}},
		{"1/8 x 2 x 4", []term{dim(in(1, 8)), inch("2", 2), inch("4", 4)}},
		{"2 4 x 1/8", []term{code("2"), inch("4", 4), dim(in(1, 8))}},
		{"1/8 2", []term{dim(in(1, 8)), code("2")}},
	} {
		t.Run(row.typed, func(t *testing.T) {
			if d := cmp.Diff(row.want, parseQuery(row.typed+" ").terms, cmp.AllowUnexported(term{}), cmpopts.EquateEmpty()); d != "" {
				t.Errorf("(-want +got):\n%s", d)
			}
		})
	}
}

// What is still being typed is told from what is done by the space behind it, or a sign.
func TestStillTyping(t *testing.T) {
	for typed, want := range map[string]string{
		"3/": "3/", "3/1": "3/1", "3/16": "", ".1": ".1", ".1 ": ".1", ".1 x": "", "bolt 3/3": "3/3", "3/3 bolt": "", "0.5": "0.5", "1.5": "", "1-1/3": "1-1/3",
	} {
		got := ""
		for _, t := range parseQuery(typed).terms {
			got += t.partial
		}
		if got != want {
			t.Errorf("of %q %q may still be typed, want %q", typed, got, want)
		}
	}
}

// A word that begins a length is one that its spellings start with, at each sign.
func TestBeginsLength(t *testing.T) {
	for length, all := range map[measure.Length][]string{
		measure.Inches(3, 16): {"0.1875", ".1875", "3/16"}, measure.Inches(3, 2): {"1.5", "1-1/2"}, 2 * measure.Inch: {"2"}, measure.Inches(19, 100): {"0.19", ".19"},
	} {
		if got := spellings(length); !slices.Equal(got, all) {
			t.Errorf("%v is written %q, want %q", length, got, all)
		}
		for _, text := range all {
			for end := range len(text) {
				if !beginsLength(text[:end+1], length) {
					t.Errorf("%q does not begin %v", text[:end+1], length)
				}
			}
			if beginsLength(text+"9", length) || beginsLength("9"+text, length) {
				t.Errorf("more than %q begins %v", text, length)
			}
		}
	}
}

// markedDoc draws documents of text that is not plain too.
var markedDoc = rapid.Custom(func(t *rapid.T) Doc {
	d := someDoc.Draw(t, "doc")
	d.ID = "1"
	if rapid.Bool().Draw(t, "unusual") {
		d.Words = anyText.Draw(t, "words")
	}
	if rapid.IntRange(0, 3).Draw(t, "unusual name") == 0 {
		d.Name = anyText.Draw(t, "name")
	}
	return d
})

// What is marked of a field holds, folded, a word that was typed or a dimension; marks do not
// touch each other and cut no letter in two.
func TestMarksHoldWhatWasTyped(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := markedDoc.Draw(t, "doc")
		typed := someQuery.Draw(t, "query")
		if words := strings.Fields(d.Words); len(words) > 0 && rapid.Bool().Draw(t, "of the text") {
			typed = rapid.SampledFrom(words).Draw(t, "word")
		}
		x := New(nil)
		x.Put(d)
		r := x.Search(typed, 1)
		if len(r.Hits) == 0 || r.Hits[0].Class >= Near {
			return
		}
		q := parseQuery(typed)
		last := Match{Field: 99}
		for _, m := range r.Hits[0].Matches {
			if m.Field == FieldDim {
				continue
			}
			text := map[Field][]string{FieldName: {d.Name}, FieldAlias: d.Aliases, FieldWords: {d.Words}, FieldPlace: d.Places}[m.Field][m.Index]
			if m.Field == last.Field && m.Index == last.Index && m.Start <= last.End {
				t.Fatalf("%q in %q: %+v touches %+v", typed, text, m, last)
			}
			last = m
			part := text[m.Start:m.End]
			if utf8.ValidString(text) && !utf8.ValidString(part) {
				t.Fatalf("%q in %q: %q is cut in two", typed, text, part)
			}
			var p prepared
			p.text(part)
			holds := q.joined != "" && strings.Contains(fold(part), q.joined)
			for i := range q.terms {
				term := &q.terms[i]
				holds = holds || term.code != "" && strings.Contains(fold(part), term.code) || p.meets(term) != unmet
			}
			if !holds {
				t.Fatalf("%q marks %q in %q", typed, part, text)
			}
		}
	})
}

// The stretch that is marked is the first one, and goes over signs, and over spaces only in a
// designation.
func TestLocate(t *testing.T) {
	for _, row := range []struct {
		text, code string
		across     bool
		want       string // in brackets; empty: none
	}{
		{"AN3-5A", "an35", false, "[AN3-5]A"},
		{"AN3-5A", "35a", true, "AN[3-5A]"},
		{"AN 3 5A", "an35", true, "[AN 3 5]A"},
		{"AN 3 5A", "an35", false, ""},
		{"rod-end", "rodend", false, "[rod-end]"},
		{"rod/end", "rodend", false, ""},
		{"rod/end", "rodend", true, "[rod/end]"},
		{"it's", "its", false, "[it's]"},
		{"a_b.c#d", "abcd", false, "[a_b.c#d]"},
		{"3.5", "3.5", false, "[3.5]"},
		{"3.5", "35", false, ""},
		{"no. 5", "no5", true, "[no. 5]"},
		{"aab", "ab", false, "a[ab]"},
		{"ab ab", "ab", false, "[ab] ab"},
		{"Größe", "grosse", false, ""},
		{"Größe", "grosse", true, "[Größe]"},
		{"Größe 5", "5", true, "Größe [5]"},
		{"größe", "e", false, "größ[e]"},
		{"", "a", true, ""},
		{"-", "a", true, ""},
	} {
		got := ""
		if m, ok := locate(row.text, row.code, row.across); ok {
			got = row.text[:m.start] + "[" + row.text[m.start:m.end] + "]" + row.text[m.end:]
		}
		if got != row.want {
			t.Errorf("%q in %q, across words %t: %q, want %q", row.code, row.text, row.across, got, row.want)
		}
	}
}

// A short word is marked where a word starts, whatever sign stands before it.
func TestShortWordsAreMarked(t *testing.T) {
	for text, want := range map[string]string{
		"a5": "[a5]", "box a5": "box [a5]", "box-a5": "box-[a5]", "box–a5": "box–[a5]", "«a5»": "«[a5]»", "\xffa5": "\xff[a5]", "½a5": "½[a5]",
		"boxa5": "", "öa5": "", "ö\u0308a5": "", "винтa5": "",
	} {
		x := New(nil)
		x.Put(Doc{ID: "1", Name: "K", Words: text})
		got := ""
		for _, h := range x.Search("a5", 1).Hits {
			for _, m := range h.Matches {
				got = text[:m.Start] + "[" + text[m.Start:m.End] + "]" + text[m.End:]
			}
		}
		if got != want {
			t.Errorf("a5 in %q is marked %q, want %q", text, got, want)
		}
	}
}

// Marks of one field are put in order, and those that touch are one.
func TestMergedMarks(t *testing.T) {
	at := func(pairs ...int) (all []Match) {
		for i := 0; i < len(pairs); i += 2 {
			all = append(all, Match{Start: pairs[i], End: pairs[i+1]})
		}
		return all
	}
	for _, row := range []struct {
		name     string
		in, want []Match
	}{
		{"none", nil, nil},
		{"one", at(3, 5), at(3, 5)},
		{"apart", at(7, 9, 3, 5), at(3, 5, 7, 9)},
		{"side by side", at(3, 5, 5, 9), at(3, 9)},
		{"one within", at(3, 9, 4, 5), at(3, 9)},
		{"one over the end", at(4, 9, 3, 6), at(3, 9)},
		{"the same twice", at(3, 5, 3, 5), at(3, 5)},
		{"three in a row", at(8, 9, 3, 5, 4, 8), at(3, 9)},
		{"some together", at(1, 2, 2, 3, 5, 6), at(1, 3, 5, 6)},
	} {
		e := explainer{matches: append(at(50, 51), row.in...)} // of an earlier field, which stays
		e.merge(1)
		if d := cmp.Diff(append(at(50, 51), row.want...), e.matches); d != "" {
			t.Errorf("%s (-want +got):\n%s", row.name, d)
		}
	}
}

// Why a thing was found is said where its name does not show it.
func TestWhy(t *testing.T) {
	docs := []Doc{
		{ID: "item", Name: "NAS1149", Aliases: []string{"AN960-10", "AN960-416"}},
		{ID: "bin", Kind: Place, Name: "A-07", Aliases: []string{"Bin 7"}},
		{ID: "both", Name: "AN970", Aliases: []string{"XAN970"}},
	}
	x := New(nil)
	if err := x.Build(context.Background(), docSeq(docs), nil); err != nil {
		t.Fatal(err)
	}
	for typed, want := range map[string]string{
		"an960-10": "item old number AN960-10", "an960": "item old number AN960-10", "960 416": "item old number AN960-416", "bin 7": "bin also Bin 7",
		"nas": "item ", "an970": "both ", "xan970": "both old number XAN970", "nas1194": "item close to nas1194", "  an690-10": "item close to an690-10",
	} {
		r := x.Search(typed, 1)
		got := ""
		if len(r.Hits) > 0 {
			got = r.Hits[0].ID + " " + r.Hits[0].Why
		}
		if got != want {
			t.Errorf("%q: %q, want %q", typed, got, want)
		}
	}
}

// FuzzSearch types anything at a document of anything: it keeps its bounds, and what has a
// word is found by it.
func FuzzSearch(f *testing.F) {
	f.Add("AN3-5A", "Bolt, rod-end 3/16", "rod 3/16")
	f.Add("ＡＮ３", "ﬁtting", "fitting an3")
	f.Add("\xff", "\x00", "\xff\x00")
	f.Add("0", "\xf21", "0") // was found and not marked
	f.Fuzz(func(t *testing.T, name, words, typed string) {
		x, all, d := New(nil), oracle{}, Doc{ID: "1", Name: name, Words: words}
		x.Put(d)
		all.put(d)
		for _, typed := range []string{typed, name, words} {
			compare(t, x, all, typed, 2)
		}
	})
}
