package search

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
	"pgregory.net/rapid"
)

// anyText is text with all that people and files write: letters with accents, in one piece and
// in two, of other scripts and widths, signs, and bytes that are no text.
var anyText = rapid.Custom(func(t *rapid.T) string {
	part := rapid.OneOf(
		rapid.StringMatching(`[A-Za-z0-9 ./#'"_,;-]{0,6}`), rapid.String(),
		rapid.SampledFrom([]string{"Größe", "Gro\u0308ße", "ﬁtting", "ＡＮ３", "Винт", "½", "3.5", "\u0301", "x\u0301", "Å", "ǅ", "İ", "\xff", "\xc3", "\x00", "″", "”", "…"}),
	)
	return strings.Join(rapid.SliceOfN(part, 0, 5).Draw(t, "parts"), "")
})

// What text folds to does not depend on how it was written.
func TestFoldForgetsHowItIsWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyText.Draw(t, "text")
		folded := fold(s)
		if again := fold(folded); again != folded {
			t.Fatalf("%q folds to %q, and that to %q", s, folded, again)
		}
		if string(appendFold([]byte("before"), s)) != "before"+folded {
			t.Fatalf("%q is appended as %q", s, appendFold(nil, s))
		}
		if utf8.ValidString(s) {
			for name, as := range map[string]string{"composed": norm.NFC.String(s), "decomposed": norm.NFD.String(s)} {
				if got := fold(as); got != folded {
					t.Fatalf("%q folds to %q, and %s to %q", s, folded, name, got)
				}
			}
		}
		for i, r := range folded {
			point := r == '.' && i > 0 && digit(folded[i-1]) && i+1 < len(folded) && digit(folded[i+1])
			if !point && (!unicode.IsLetter(r) && !unicode.IsDigit(r) || unicode.ToLower(r) != r) {
				t.Fatalf("%q folds to %q, with %q", s, folded, r)
			}
		}
	})
}

// Every letter and digit there is (but for accents that stand alone, which fold to nothing) folds to small ones without accents that stay what they are.
func TestFoldOfEveryLetter(t *testing.T) {
	for r := rune(utf8.RuneSelf); r < 0x20000; r++ {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			continue
		}
		once := fold(string(r))
		if again := fold(once); again != once {
			t.Errorf("%q folds to %q, and that to %q", r, once, again)
		}
		if large := fold(string(unicode.ToUpper(r))); unicode.ToLower(unicode.ToUpper(r)) == r && large != once {
			t.Errorf("%q folds to %q, and its capital to %q", r, once, large)
		}
	}
}

// Signs, spaces and case of a designation do not count.
func TestFoldOfDesignations(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := rapid.StringMatching(`[a-z0-9]{1,12}`).Draw(t, "code")
		var written strings.Builder
		for _, c := range want {
			written.WriteString(rapid.StringMatching(`[-_ /#'",()]{0,2}`).Draw(t, "signs"))
			if rapid.Bool().Draw(t, "large") {
				c = unicode.ToUpper(c)
			}
			written.WriteRune(c)
		}
		if got := fold(written.String()); got != want {
			t.Fatalf("%q folds to %q, want %q", written.String(), got, want)
		}
	})
}

// A byte is folded by itself as all of the text is.
func TestFoldByte(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringMatching(`[A-Za-z0-9. /#-]{0,12}`).Draw(t, "text")
		var all []byte
		for i := range len(s) {
			if c, ok := foldByte(s, i); ok {
				all = append(all, c)
			}
		}
		if string(all) != fold(s) {
			t.Fatalf("%q folds to %q, byte by byte to %q", s, fold(s), all)
		}
	})
}

// What is indexed of a designation ends after 63 bytes, and the typing with it.
func TestFoldCodeIsCut(t *testing.T) {
	for length, want := range map[int]int{0: 0, 1: 1, maxCode - 1: maxCode - 1, maxCode: maxCode, maxCode + 1: maxCode, 500: maxCode} {
		if got := foldCode(strings.Repeat("A", length)); len(got) != want {
			t.Errorf("of %d bytes %d are kept, want %d", length, len(got), want)
		}
	}
	name := strings.Repeat("a", maxCode-1) + "bcd"
	x := New(nil)
	x.Put(Doc{ID: "1", Name: name})
	for typed, class := range map[string]Class{name[:maxCode]: Exact, name: Exact, name[:maxCode-1]: Starts, "aab": Inside, name[:maxCode+1]: Exact} {
		r := x.Search(typed, 1)
		if len(r.Hits) != 1 || r.Hits[0].Class != class {
			t.Errorf("%d bytes find %+v, want class %d", len(typed), r.Hits, class)
		}
	}
}

// Chunks lie in the text one behind the other, and no letter or digit is left between them.
func TestChunksLoseNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, end := anyText.Draw(t, "text"), 0
		between := func(from, to int) {
			for _, r := range s[from:to] {
				if r != utf8.RuneError && (unicode.IsLetter(r) || unicode.IsDigit(r)) {
					t.Fatalf("of %q the %q is in no chunk", s, r)
				}
			}
		}
		chunks(s, func(chunk string, offset int) {
			if chunk == "" || offset < end || s[offset:offset+len(chunk)] != chunk {
				t.Fatalf("%q has the chunk %q at %d, behind %d", s, chunk, offset, end)
			}
			if strings.ContainsAny(chunk, " ,;()\n") {
				t.Fatalf("%q has the chunk %q", s, chunk)
			}
			between(end, offset)
			end = offset + len(chunk)
		})
		between(end, len(s))
	})
}

// runs are the runs of digits and of other signs of a name, in order.
func runs(name string) (all []string) {
	for i := 0; i < len(name); {
		from := i
		for i < len(name) && digit(name[i]) == digit(name[from]) {
			i++
		}
		all = append(all, name[from:i])
	}
	return all
}

// byHand compares names as people do: run by run, digits by what they count.
func byHand(a, b string) int {
	return slices.CompareFunc(runs(strings.ToLower(a)), runs(strings.ToLower(b)), func(x, y string) int {
		if !digit(x[0]) || !digit(y[0]) {
			return strings.Compare(x, y)
		}
		m, _ := strconv.Atoi(x)
		n, _ := strconv.Atoi(y)
		return cmp.Compare(m, n)
	})
}

// Names of one pattern sort by what their numbers count.
func TestNaturalOrder(t *testing.T) {
	some := rapid.StringMatching(`[A-C]{2}[0-9]{1,9}([A-C][0-9]{1,4})?`)
	rapid.Check(t, func(t *rapid.T) {
		a, b := some.Draw(t, "a"), some.Draw(t, "b")
		if runs(a)[0] != runs(b)[0] {
			b = runs(a)[0] + b[len(runs(b)[0]):]
		}
		got := cmp.Compare(string(appendNatural(nil, a)), string(appendNatural(nil, b)))
		if want := byHand(a, b); got != want {
			t.Fatalf("%s, %s: %d, want %d", a, b, got, want)
		}
	})
	for _, pair := range [][2]string{
		{"AN3", "an03"}, {"A-1", "A_01"}, {"A 7", "a-7"}, // the same place in the order: their IDs decide
	} {
		if a, b := appendNatural(nil, pair[0]), appendNatural(nil, pair[1]); string(a) != string(b) {
			t.Errorf("%s sorts as %q, %s as %q", pair[0], a, pair[1], b)
		}
	}
}

// What is not plain text is found as it is typed, whichever way either is written.
func TestUnusualText(t *testing.T) {
	for _, row := range []struct {
		name, word string
		typed      []string
		not        []string
	}{
		{"an accent", "Größe", []string{"größe", "GRÖSSE", "grosse", "Gro\u0308ße", "gross"}, []string{"groose", "grob"}},
		{"letters of their own", "Kjøkkenæske", []string{"kjokkenaeske", "KJØKKEN", "æske"}, nil},
		{"a crossed letter", "Łata", []string{"lata", "łata"}, nil},
		{"other scripts", "Винт М5", []string{"винт", "ВИНТ М5", "м5"}, []string{"bинт"}},
		{"ligatures of a PDF", "ﬁtting ﬂange eﬀort", []string{"fitting", "flange", "effort", "ﬁtting"}, nil},
		{"wide letters", "ＡＮ３－５Ａ", []string{"an3", "AN3 5A", "ＡＮ３"}, nil},
		{"wide typing", "AN3-5A bolt", []string{"ｂｏｌｔ", "ＡＮ３"}, nil},
		{"digits of another script", "٣", []string{"٣"}, []string{"3"}},
		{"a half", "½ nut", []string{"nut"}, []string{"½"}},
		{"a broken byte", "nut \xff bolt", []string{"nut", "bolt", "nut bolt"}, []string{"\xff"}},
		{"a long dash", "rod–end", []string{"rod", "end", "rod end"}, nil},
		{"a quotation mark for inches", "tube 2″ and 1”", []string{`2"`, "2″", "1″"}, []string{"3″"}},
		{"a space that does not break", "rod\u00a0end", []string{"rod end", "end"}, nil},
		{"a zero byte", "rod\x00end", []string{"rod", "end"}, nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			x := New(nil)
			if err := x.Build(context.Background(), docSeq([]Doc{{ID: "1", Name: "K", Words: row.word}, {ID: "2", Name: row.word}}), nil); err != nil {
				t.Fatal(err)
			}
			for _, typed := range row.typed {
				r := x.Search(typed, 9)
				if len(r.Hits) != 2 || r.Hits[0].Class >= Near {
					t.Errorf("%q finds %+v, want it as a word and as a name", typed, r.Hits)
				}
				for _, h := range r.Hits {
					if len(h.Matches) == 0 {
						t.Errorf("%q marks nothing in %+v", typed, h)
					}
				}
			}
			for _, typed := range row.not {
				if r := x.Search(typed, 9); slices.ContainsFunc(r.Hits, func(h Hit) bool { return h.Class < Near }) {
					t.Errorf("%q finds %+v", typed, r.Hits)
				}
			}
		})
	}
}

// FuzzFold folds anything twice.
func FuzzFold(f *testing.F) {
	for _, s := range []string{"", "AN3-5A", "Größe", "ﬁ", "ＡＮ", "\xff", "1.5.", "ǅİŉ", fmt.Sprint('\u0345')} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if once := fold(s); fold(once) != once || !utf8.ValidString(once) {
			t.Fatalf("%q folds to %q, and that to %q", s, once, fold(once))
		}
	})
}
