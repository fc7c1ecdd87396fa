package search

import (
	"cmp"
	"encoding/binary"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stowright/store/measure"
)

// commonShop is a segment that is large enough for all of its tables, and its documents in
// their order.
func commonShop(t testing.TB) (*segment, []Doc) {
	t.Helper()
	docs := make([]Doc, 0, 1500)
	for i := range cap(docs) {
		d := Doc{ID: fmt.Sprint(i), Name: fmt.Sprintf("KX%d-%d", i%700, i%7), Words: "alpha", InShop: i%3 == 0}
		if i%4 == 0 {
			d.Aliases = []string{fmt.Sprintf("BM%d", i)}
		}
		if i%5 == 0 {
			d.Words += " zebra"
		}
		if i%90 == 0 {
			d.Words += " rare"
			d.Dims = []Dim{{Role: Role(i % 3), Length: measure.Inches(int64(i%4+1), 16)}}
		}
		docs = append(docs, d)
	}
	s, err := segmentOf(docs)
	if err != nil {
		t.Fatal(err)
	}
	for doc := range docs {
		docs[doc] = Doc{}
		readRecord(s.record(uint32(doc)), &docs[doc])
	}
	return s, docs
}

// codes are the folded name and aliases of a document.
func (d *Doc) codes() []string {
	all := []string{foldCode(d.Name)}
	for _, alias := range d.Aliases {
		all = append(all, foldCode(alias))
	}
	return all
}

// members are the numbers in a set.
func members(set numbers, n int) (all []uint32) {
	for i := range uint32(n) {
		if set.has(i) {
			all = append(all, i)
		}
	}
	return all
}

// The documents of one segment are numbered in the order in which they are shown, and what it
// knows of each is what looking at each says.
func TestSegmentOrder(t *testing.T) {
	s, docs := commonShop(t)
	if s.size() != len(docs) {
		t.Fatalf("%d documents, want %d", s.size(), len(docs))
	}
	for doc := range uint32(s.size()) {
		d := &docs[doc]
		if doc > 0 {
			before := &docs[doc-1]
			order := cmp.Or(cmp.Compare(rankOf(before), rankOf(d)), cmp.Compare(string(appendNatural(nil, before.Name)), string(appendNatural(nil, d.Name))), cmp.Compare(before.ID, d.ID))
			if order >= 0 {
				t.Fatalf("%s comes before %s", before.Name, d.Name)
			}
		}
		if found, ok := s.ids.find(d.ID); !ok || found != doc || s.id(doc) != d.ID {
			t.Errorf("%s is document %d, %t; want %d", d.ID, found, ok, doc)
		}
		if got, want := s.codesOf(doc), strings.Join(d.codes(), terminator)+terminator; got != want {
			t.Errorf("the codes of %d are %q, want %q", doc, got, want)
		}
		for i, entry := 0, s.firstCode[doc]; entry < s.firstCode[doc+1]; i, entry = i+1, entry+1 {
			if s.codeDoc[entry] != doc || s.isName(entry) != (i == 0) {
				t.Errorf("code %d is of document %d, a name: %t", entry, s.codeDoc[entry], s.isName(entry))
			}
		}
		for _, token := range s.held.of(doc) {
			if !slices.Contains(s.docs.of(token), doc) {
				t.Errorf("document %d has token %d, which does not have it", doc, token)
			}
		}
	}
	for token := range uint32(s.tokens.size()) {
		if list := s.docs.of(token); !slices.IsSorted(list) || len(slices.Compact(slices.Clone(list))) != len(list) || len(list) == 0 {
			t.Errorf("the documents of token %d are %v", token, list)
		}
		if token > 0 && s.docs.of(token - 1)[0] > s.docs.of(token)[0] {
			t.Errorf("token %d comes up before token %d", token, token-1)
		}
	}
}

// A bound of documents is that of their codes and of the tokens that come up later.
func TestSegmentBounds(t *testing.T) {
	s, docs := commonShop(t)
	for doc := range uint32(len(docs) + 2) {
		wantCode, wantToken := uint32(math.MaxUint32), uint32(math.MaxUint32)
		if int(doc) < len(docs) {
			wantCode = s.firstCode[doc] << offsetBits
			first := uint32(0)
			for int(first) < s.tokens.size() && s.docs.of(first)[0] < doc {
				first++
			}
			wantToken = first << offsetBits
		}
		if code, token := s.codeBound(doc), s.tokenBound(doc); code != wantCode || token != wantToken {
			t.Fatalf("of document %d the bounds are %d and %d, want %d and %d", doc, code, token, wantCode, wantToken)
		}
	}
}

// What is kept of texts that very many have is what looking at every document says.
func TestSegmentCommon(t *testing.T) {
	s, docs := commonShop(t)
	if len(s.common) < 10 || len(s.leading) < 2 || len(s.commonTokens) < 2 {
		t.Fatalf("%d common texts, %d starts, %d tokens: nothing is proven", len(s.common), len(s.leading), len(s.commonTokens))
	}
	for text, set := range s.common {
		var want []uint32
		for i := range docs {
			has := slices.ContainsFunc(docs[i].codes(), func(c string) bool { return strings.Contains(c, text) })
			if len(text) == 1 { // of a single character, those with a word that starts so too
				p := prepare(docs[i])
				has = has || slices.ContainsFunc(p.words, func(w string) bool { return strings.HasPrefix(w, text) })
			}
			if has {
				want = append(want, uint32(i))
			}
		}
		if got := members(set, len(docs)); !slices.Equal(got, want) {
			t.Errorf("%q is in %d documents, want %d", text, len(got), len(want))
		}
		if len(text) > commonLength || len(text) > 1 && len(want) < len(docs)/commonShare/4 {
			t.Errorf("%q is kept, with %d documents", text, len(want))
		}
	}
	for text, list := range s.leading {
		var want []uint32
		for i := range docs {
			if len(want) < leadSize && slices.ContainsFunc(docs[i].codes(), func(c string) bool { return strings.HasPrefix(c, text) }) {
				want = append(want, uint32(i))
			}
		}
		if !slices.Equal(list, want) || len(text) > leadLength {
			t.Errorf("the best that start with %q are %v, want %v", text, list, want)
		}
	}
	for token := range uint32(s.tokens.size()) {
		set, kept := s.commonTokens[token]
		if list := s.docs.of(token); kept != (len(list) >= len(docs)/commonShare) || kept && !slices.Equal(members(set, len(docs)), list) {
			t.Errorf("token %d of %d documents is kept: %t", token, len(list), kept)
		}
	}
	small, err := segmentOf(docs[:smallLexicon-1])
	if err != nil || len(small.common)+len(small.leading)+len(small.commonTokens) > 0 {
		t.Errorf("a small segment keeps %d, %d and %d of them, %v", len(small.common), len(small.leading), len(small.commonTokens), err)
	}
}

// Dimensions are looked up by length, role and pitch as by looking at each, whole and by the
// start of their spelling.
func TestSegmentDimensions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dims := rapid.SliceOfNDistinct(someDim, 1, 12, rapid.ID).Draw(t, "dims")
		s, err := segmentOf([]Doc{{ID: "1", Name: "K", Dims: dims}})
		if err != nil {
			t.Fatal(err)
		}
		asked := term{dims: rapid.SliceOfN(someDim, 0, 2).Draw(t, "wanted"), partial: rapid.SampledFrom([]string{"", ".", ".1", "0.19", "1", "3/", "3/1", "2"}).Draw(t, "partial")}
		lengths := func(tokens []uint32) (all []Dim) {
			for _, token := range tokens {
				i := slices.IndexFunc(s.dims, func(d dimToken) bool { return d.token == token })
				all = append(all, s.dims[i].Dim)
			}
			slices.SortFunc(all, func(a, b Dim) int {
				return cmp.Or(cmp.Compare(a.Length, b.Length), cmp.Compare(a.Role, b.Role), cmp.Compare(a.PerInch, b.PerInch))
			})
			return slices.Compact(all)
		}
		var whole, partial []Dim
		for _, d := range dims {
			if slices.ContainsFunc(asked.dims, d.answers) {
				whole = append(whole, d)
			}
			if asked.partial != "" && asked.admits(d) && beginsLength(asked.partial, d.Length) {
				partial = append(partial, d)
			}
		}
		same := func(what string, got []uint32, want []Dim) {
			slices.SortFunc(want, func(a, b Dim) int {
				return cmp.Or(cmp.Compare(a.Length, b.Length), cmp.Compare(a.Role, b.Role), cmp.Compare(a.PerInch, b.PerInch))
			})
			if !slices.Equal(lengths(got), want) {
				t.Fatalf("%s: of %v, %+v finds %v, want %v", what, dims, asked, lengths(got), want)
			}
		}
		same("whole", s.dimTokens(nil, &asked), whole)
		same("by its start", s.partialTokens(nil, &asked), partial)
	})
}

// A lexicon sorts as the standard library does, small or in buckets, however much its entries
// are alike.
func TestLexiconSorts(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	stems := []string{"", "nas1149f0", "nas1149f0363p", strings.Repeat("a", 40), "é", "éé"}
	for _, n := range []int{1, 40, 400} {
		var text []byte
		var entries []string
		for range n {
			e := stems[r.IntN(len(stems))]
			for range r.IntN(12) {
				e += string("ab01.é"[r.IntN(5)])
			}
			entries = append(entries, e)
			text = append(append(text, e...), 0)
		}
		l := newLexicon(text)
		at := func(v uint32) string { return entries[v>>offsetBits][v&offsetMask:] }
		sorted := func(s *sorted, what string, want int) {
			t.Helper()
			if len(s.values) != want {
				t.Errorf("%d entries: %d %s, want %d", n, len(s.values), what, want)
			}
			for i := 1; i < len(s.values); i++ {
				if at(s.values[i-1]) > at(s.values[i]) {
					t.Fatalf("%d entries: of the %s %q comes before %q", n, what, at(s.values[i-1]), at(s.values[i]))
				}
			}
			if (s.buckets != nil) != (want >= smallLexicon) {
				t.Errorf("%d %s are in buckets: %t", want, what, s.buckets != nil)
			}
		}
		whole, suffixes := 0, 0
		for _, e := range entries {
			suffixes += len(e)
			if e != "" {
				whole++
			}
		}
		sorted(&l.whole, "entries", whole)
		sorted(&l.suffix, "suffixes", suffixes)
	}
}

// Classes of bytes keep the order of the bytes.
func TestClassOf(t *testing.T) {
	last := -1
	for _, c := range []byte("\x00.0123456789abcdefghijklmnopqrstuvwxyz\x80\xff") {
		class := classOf(c)
		if class < last || class >= classes || class == last && c < 0x80 {
			t.Errorf("%q is of class %d, behind %d", c, class, last)
		}
		last = class
	}
}

// The best of any number that is wanted are the least, each once, without those that are gone
// or were taken before, in whatever order they are offered.
func TestBest(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for _, want := range []int{0, 1, 2, maxInsert - 1, maxInsert, maxInsert + 1, 2 * maxInsert, 1000} {
		for _, sorted := range []bool{false, true} {
			b := best{want: want, dead: numbers(nil).sized(4000), seen: numbers(nil).sized(4000)}
			var offered, wanted []uint32
			for range 3000 {
				offered = append(offered, r.Uint32N(4000))
			}
			b.dead.setAll([]uint32{0, 17, 64})
			b.seen.setAll([]uint32{1, 63})
			wanted = slices.Clone(offered)
			slices.Sort(wanted)
			wanted = slices.DeleteFunc(slices.Compact(wanted), func(d uint32) bool { return b.dead.has(d) || b.seen.has(d) })
			if sorted {
				slices.Sort(offered)
				b.offerAll(offered)
			} else {
				for _, d := range offered {
					if bound := b.bound(); want > 0 && len(b.docs) < want && bound != math.MaxUint32 {
						t.Fatalf("with %d of %d the bound is %d", len(b.docs), want, bound)
					}
					b.offer(d)
				}
			}
			b.settle()
			if wanted = wanted[:min(want, len(wanted))]; !slices.Equal(b.docs, wanted) {
				t.Errorf("the best %d, offered in order %t: %d of them, want %d", want, sorted, len(b.docs), len(wanted))
			}
			if bound := b.bound(); want > 0 && len(wanted) == want && bound != wanted[want-1] || want == 0 && bound != 0 {
				t.Errorf("the bound of the best %d is %d", want, bound)
			}
		}
	}
}

// A number reads as it was written, whatever stands behind it.
func TestReader(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, l, s := rapid.Uint64().Draw(t, "number"), rapid.Int64().Draw(t, "length"), rapid.String().Draw(t, "text")
		raw := binary.AppendVarint(binary.AppendUvarint(nil, n), l)
		r := reader(appendText(appendTexts(raw, []string{s, "", s}), "end"))
		if got := r.number(); got != n {
			t.Fatalf("%d reads as %d", n, got)
		}
		if got := r.length(); got != measure.Length(l) {
			t.Fatalf("the length %d reads as %d", l, got)
		}
		if got := r.texts([]string{"first"}); !slices.Equal(got, []string{"first", s, "", s}) {
			t.Fatalf("%q reads as %q", s, got)
		}
		if got := r.text(); got != "end" || r != "" {
			t.Fatalf("the end reads as %q, and leaves %q", got, r)
		}
	})
}

// A name is read without what comes behind it, and the memory of the last one is used again.
func TestReadNames(t *testing.T) {
	long := Doc{ID: "1", Kind: Shipment, Name: "AN3", Aliases: []string{"A", "B", "C"}, Words: "w", InShop: true}
	short := Doc{ID: "2", Name: "", Aliases: nil}
	text := string(appendRecord(nil, &long))
	var d Doc
	if rest := readNames(text, &d); d.ID != "1" || d.Kind != Shipment || d.Name != "AN3" || !d.InShop || len(d.Aliases) != 3 || d.Words != "" || !strings.HasPrefix(string(rest), "\x01w") {
		t.Errorf("it reads %+v, and leaves %q", d, rest)
	}
	kept := d.Aliases
	readNames(string(appendRecord(nil, &short)), &d)
	if d.ID != "2" || d.InShop || d.Kind != Item || len(d.Aliases) != 0 || &kept[0] != &d.Aliases[:1][0] {
		t.Errorf("the next one reads %+v", d)
	}
	if id := recordID(text); id != "1" {
		t.Errorf("its ID alone is %q", id)
	}
	if id := readID([]byte(text)); id != "1" {
		t.Errorf("its ID alone is %q by the builder", id)
	}
}

// Words of every length that may be looked for with an error, up to 64 bytes, are.
func TestNearMatcherLengths(t *testing.T) {
	for length := 2; length <= 64; length++ {
		word := strings.Repeat("abcdefgh", 8)[:length]
		var m nearMatcher
		m.reset(word)
		for _, row := range []struct {
			text string
			want bool
		}{
			{word, true},
			{"zz" + word + "zz", true},
			{word[:length-1], true},
			{word[1:], true},
			{"z" + word[1:], true},
			{word[:length-1] + "z", true},
			{word[:length/2] + "z" + word[length/2:], true},
			{strings.Repeat("z", length), false},
			{"", false},
			{word[:length-2], false},
			{word[:length/2] + terminator + word[length/2:], length <= 3},
		} {
			if got := m.inside(row.text + terminator); got != row.want {
				t.Errorf("%q in %q: %t, want %t", word, row.text, got, row.want)
			}
		}
	}
}

// A table of IDs finds what was put, whatever IDs there are, and grows with them.
func TestIDTableIsLikeAMap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ids := rapid.SliceOfN(rapid.StringMatching(`[ab]{0,3}`), 0, 80).Draw(t, "ids")
		table, model := newIDTable(rapid.IntRange(0, 3).Draw(t, "room"), func(doc uint32) string { return ids[doc] }), map[string]uint32{}
		for i, id := range ids {
			want, had := model[id]
			if old, has := table.put(id, uint32(i)); has != had || had && old != want {
				t.Fatalf("%q had %d, %t; want %d, %t", id, old, has, want, had)
			}
			model[id] = uint32(i)
		}
		if table.used != len(model) || 2*table.used > len(table.slots) {
			t.Fatalf("%d of %d slots are used by %d IDs", table.used, len(table.slots), len(model))
		}
		asked := rapid.StringMatching(`[abc]{0,3}`).Draw(t, "asked")
		want, there := model[asked]
		if doc, ok := table.find(asked); ok != there || ok && doc != want {
			t.Fatalf("%q is %d, %t; want %d, %t", asked, doc, ok, want, there)
		}
	})
}
