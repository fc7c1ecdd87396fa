package searchtest

import (
	"math/rand/v2"
	"strings"
)

// Kind is a way of asking.
type Kind string

// The ways of asking that are measured.
const (
	Prefix    Kind = "prefix"             // the start of a designation
	Short     Kind = "prefix, 1-2 signs"  // so short that very much answers
	Substring Kind = "substring"          // a piece out of the middle
	Typo      Kind = "one typing error"   // a designation with one
	WordTypo  Kind = "error in a word"    // a word of a description with one
	Word      Kind = "word"               // the start of a word
	Words     Kind = "two words"          // two words of one thing
	Mixed     Kind = "word and dimension" // a word and a dimension of one thing
	OldNumber Kind = "old number"         // the whole of one
	Drawer    Kind = "place"              // the name of a drawer
	Apart     Kind = "words never met"    // two common words that nothing has both
	Nothing   Kind = "nothing like it"    // no such thing
)

// Kinds are all the ways of asking.
func Kinds() []Kind {
	return []Kind{Prefix, Short, Substring, Typo, WordTypo, Word, Words, Mixed, OldNumber, Drawer, Apart, Nothing}
}

// Queries draws n queries of a kind that suit the shop, from a seed.
func (s *Shop) Queries(kind Kind, n int, seed uint64) []string {
	t := typist{shop: s, rand: rand.New(rand.NewPCG(seed, 1))}
	queries := make([]string, 0, n)
	for len(queries) < n {
		if q := t.ask(kind); q != "" {
			queries = append(queries, q)
		}
	}
	return queries
}

type typist struct {
	shop *Shop
	rand *rand.Rand
}

// ask draws one query, or "" when what it drew has no such thing to ask for.
func (t *typist) ask(kind Kind) string {
	d := &t.shop.Docs[t.rand.IntN(len(t.shop.Docs))]
	name := t.asTyped(d.Name)
	words := longWords(d.Words)
	word := words[t.rand.IntN(len(words))]
	switch kind {
	case Prefix:
		return name[:min(3+t.rand.IntN(len(name)), len(name))]
	case Short:
		return name[:1+t.rand.IntN(2)]
	case Substring:
		from := 1 + t.rand.IntN(len(name)-4)
		return strings.Trim(name[from:from+min(3+t.rand.IntN(5), len(name)-from)], "-. ")
	case Typo:
		return t.mistype(name)
	case WordTypo:
		if len(word) < 5 {
			return ""
		}
		return t.mistype(word)
	case Word:
		return word[:min(3+t.rand.IntN(4), len(word))]
	case Words:
		return words[0] + " " + words[len(words)-1]
	case Mixed:
		if len(d.Dims) == 0 {
			return ""
		}
		length, ok := d.Dims[t.rand.IntN(len(d.Dims))].Length.Fraction()
		if !ok || !strings.Contains(length, "/") {
			return ""
		}
		return words[0] + " " + length
	case OldNumber:
		if len(d.Aliases) == 0 {
			return ""
		}
		return t.asTyped(d.Aliases[0])
	case Drawer:
		if len(d.Places) == 0 {
			return ""
		}
		return d.Places[0][strings.LastIndexByte(d.Places[0], ' ')+1:]
	case Apart:
		return []string{"bolt rivet", "washer spar", "rivet tank", "nut shear", "skin flush"}[t.rand.IntN(5)]
	}
	return "zq" + t.mistype(name)[:4] + "qz"
}

// longWords are the words of a description that have three letters and no
// digit, of which every description has at least one.
func longWords(text string) []string {
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return r < 'a' || r > 'z' })
	kept := words[:0]
	for _, w := range words {
		if len(w) >= 3 {
			kept = append(kept, w)
		}
	}
	return kept
}

// asTyped writes a designation the way someone in a hurry does.
func (t *typist) asTyped(name string) string {
	switch t.rand.IntN(4) {
	case 0:
		return strings.ToLower(name)
	case 1:
		return strings.ReplaceAll(strings.ToLower(name), "-", "")
	case 2:
		return strings.ReplaceAll(strings.ToLower(name), "-", " ")
	}
	return name
}

// mistype puts one error into a text.
func (t *typist) mistype(s string) string {
	const signs = "abcdefghijklmnopqrstuvwxyz0123456789"
	at, sign := t.rand.IntN(len(s)-1), signs[t.rand.IntN(len(signs))]
	switch t.rand.IntN(4) {
	case 0:
		return s[:at] + s[at+1:]
	case 1:
		return s[:at] + string(sign) + s[at:]
	case 2:
		return s[:at] + string(sign) + s[at+1:]
	}
	return s[:at] + s[at+1:at+2] + s[at:at+1] + s[at+2:]
}
