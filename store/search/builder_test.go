package search

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// Of several documents with one ID the last one counts, wherever the others stood, and
// nothing of them is found.
func TestLaterDocumentsReplace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		docs := rapid.SliceOfN(someDoc, 0, 40).Draw(t, "docs")
		last := map[string]Doc{}
		for _, d := range docs {
			last[d.ID] = d
		}
		x := New(nil)
		if err := x.Build(context.Background(), docSeq(docs), nil); err != nil {
			t.Fatal(err)
		}
		queries := rapid.SliceOfN(someQuery, 1, 5).Draw(t, "queries")
		if d := cmp.Diff(answered(rebuilt(t, last), queries), answered(x, queries)); d != "" || x.Len() != len(last) {
			t.Fatalf("%q of %d documents, %d are said (-of the last +of all):\n%s", queries, len(last), x.Len(), d)
		}
		if docs, parts := x.size(); docs != len(last) || parts > 1 {
			t.Fatalf("%d documents in %d segments, want %d in one", docs, parts, len(last))
		}
	})
}

// The order in which documents come makes no difference to what is built of them.
func TestOrderOfBuildingDoesNotCount(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		docs := rapid.SliceOfNDistinct(someDoc, 1, 30, func(d Doc) string { return d.ID }).Draw(t, "docs")
		shuffled := rapid.Permutation(docs).Draw(t, "shuffled")
		one, err := segmentOf(docs)
		if err != nil {
			t.Fatal(err)
		}
		two, err := segmentOf(shuffled)
		if err != nil {
			t.Fatal(err)
		}
		for doc := range uint32(one.size()) {
			if one.id(doc) != two.id(doc) || one.codesOf(doc) != two.codesOf(doc) || len(one.held.of(doc)) != len(two.held.of(doc)) {
				t.Fatalf("document %d is %s with %q, and %s with %q", doc, one.id(doc), one.codesOf(doc), two.id(doc), two.codesOf(doc))
			}
		}
		if one.codes.text != two.codes.text || one.tokens.size() != two.tokens.size() || !slices.Equal(one.codes.suffix.values, two.codes.suffix.values) {
			t.Fatalf("%d tokens and %d, of codes %q and %q", one.tokens.size(), two.tokens.size(), one.codes.text, two.codes.text)
		}
	})
}

// What a builder remembers so as not to take texts apart twice is bounded, and nothing where
// few documents come.
func TestBuilderRemembersLittle(t *testing.T) {
	words := func(n int) string { return strings.Repeat("w", n) }
	small, large := newBuilder(tailSize), newBuilder(tailSize+1)
	for _, b := range []*builder{small, large} {
		for _, text := range []string{"bolt tail", words(maxKnownText), words(maxKnownText + 1)} {
			if err := b.add(&Doc{ID: text, Words: text}); err != nil {
				t.Fatal(err)
			}
		}
	}
	if small.known != nil {
		t.Errorf("of a few documents %d texts are remembered", len(small.known))
	}
	for text, want := range map[string]bool{"bolt tail": true, "bolt": true, "tail": true, words(maxKnownText): true, words(maxKnownText + 1): false} {
		if _, kept := large.known[text]; kept != want {
			t.Errorf("a text of %d bytes is remembered: %t", len(text), kept)
		}
	}
	for i := len(large.known); i < maxKnownTexts; i++ {
		large.known[fmt.Sprint(i)] = nil
	}
	large.takeApart("one more")
	if _, kept := large.known["one more"]; kept || len(large.known) != maxKnownTexts {
		t.Errorf("%d texts are remembered", len(large.known))
	}
	// A text that is known is taken apart as it was.
	before := len(large.tokens)
	large.takeApart("bolt tail")
	if got := large.tokens[before:]; len(got) != 2 || !slices.Equal(got, large.known["bolt tail"]) {
		t.Errorf("the second time its tokens are %v", got)
	}
}

// bytes are how many a segment takes, but for the headers of its slices.
func (s *segment) bytes() int {
	of := func(l *lexicon) int {
		n := len(l.text) + 4*len(l.starts)
		for _, sorted := range []*sorted{&l.whole, &l.suffix} {
			n += 4 * (len(sorted.values) + len(sorted.buckets))
			for _, level := range sorted.levels {
				n += 4 * len(level)
			}
		}
		return n
	}
	n := len(s.text) + 4*(len(s.records)+len(s.ids.slots)+len(s.codeDoc)+len(s.firstCode)) + of(s.codes) + of(s.tokens)
	for _, p := range []postings{s.docs, s.held} {
		n += 4 * (len(p.starts) + len(p.all))
	}
	for _, set := range s.common {
		n += 8 * len(set)
	}
	for _, set := range s.commonTokens {
		n += 8 * len(set)
	}
	for _, list := range s.leading {
		n += 4 * len(list)
	}
	return n + 32*len(s.dims) + 64*len(s.spellings)
}

// An index takes a few times what its documents say: four bytes for each letter of a number
// and of a different word, and little beside.
func TestIndexMemory(t *testing.T) {
	for _, n := range []int{1, 100, 1500} {
		docs := make([]Doc, n)
		said := 0
		for i := range docs {
			docs[i] = Doc{ID: fmt.Sprint("i", i), Name: fmt.Sprintf("KX%d-%d", i%700, i%7), Words: fmt.Sprintf("bolt tail w%d", i%50), Places: []string{fmt.Sprintf("Garage, Cabinet A, A-%02d", i%90)}}
			said += len(docs[i].ID) + len(docs[i].Name) + len(docs[i].Words) + len(docs[i].Places[0])
		}
		s, err := segmentOf(docs)
		if err != nil {
			t.Fatal(err)
		}
		fixed := 2000 // of an index of one document
		if n >= smallLexicon {
			fixed += 2 * 2 * 4 * (classes*classes + 1)
		}
		if got := s.bytes(); got > 5*said+fixed {
			t.Errorf("%d documents of %d bytes take %d", n, said, got)
		}
	}
}

// A tree has the least of each sixteen below, up to one node over all.
func TestMinTreeLevels(t *testing.T) {
	for _, n := range []int{0, 1, fan, fan + 1, fan * fan, fan*fan + 1, 5000} {
		values := make([]uint32, n)
		for i := range values {
			values[i] = uint32((i * 7919) % (n + 1))
		}
		tree := newMinTree(values)
		below := values
		for level, nodes := range tree.levels {
			if len(nodes) != (len(below)+fan-1)/fan {
				t.Errorf("%d values: level %d has %d nodes over %d", n, level, len(nodes), len(below))
			}
			for i, least := range nodes {
				if want := slices.Min(below[i*fan : min(len(below), (i+1)*fan)]); least != want {
					t.Errorf("%d values: node %d of level %d is %d, want %d", n, i, level, least, want)
				}
			}
			below = nodes
		}
		if len(below) > fan {
			t.Errorf("%d values: the highest level has %d nodes", n, len(below))
		}
		// Without a bound every value of a stretch is handed out, and none other.
		for _, stretch := range [][2]int{{0, n}, {n / 3, n / 2}, {0, 0}, {max(0, n-1), n}} {
			var got []uint32
			tree.least(stretch[0], stretch[1], ^uint32(0), func(v uint32) uint32 { got = append(got, v); return ^uint32(0) })
			want := slices.Clone(values[stretch[0]:stretch[1]])
			slices.Sort(want)
			slices.Sort(got)
			if !slices.Equal(got, want) {
				t.Errorf("%d values: of %v %d are handed out, want %d", n, stretch, len(got), len(want))
			}
		}
	}
}

// Sets are like maps.
func TestNumbersAreLikeAMap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const n = 150
		some := rapid.SliceOf(rapid.Uint32Range(0, n-1))
		a, b := some.Draw(t, "a"), some.Draw(t, "b")
		set := func(all []uint32) (s numbers) {
			s = numbers(nil).sized(n)
			s.setAll(all)
			return s
		}
		union, both := set(a), set(a)
		union.unite(set(b))
		count := both.intersect(set(b))
		wanted := 0
		for i := range uint32(n + 70) {
			inA, inB := slices.Contains(a, i), slices.Contains(b, i)
			if union.has(i) != (inA || inB) || both.has(i) != (inA && inB) {
				t.Fatalf("%d: in the union %t, in both %t", i, union.has(i), both.has(i))
			}
			if inA && inB {
				wanted++
			}
		}
		if count != wanted {
			t.Fatalf("%d are in both, want %d", count, wanted)
		}
		for _, i := range a {
			union.clear(i)
		}
		for i := range uint32(n) {
			if union.has(i) != (slices.Contains(b, i) && !slices.Contains(a, i)) {
				t.Fatalf("%d stays: %t", i, union.has(i))
			}
		}
	})
}
