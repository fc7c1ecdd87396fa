package hardware

import (
	"bytes"
	"slices"
	"strings"

	"stowright/store/measure"
)

// A word beside a number is a second reading of the piece: "AN960-10 thin" names
// one washer by its number and another by its word. Where the two contradict each
// other neither is taken.

// claim is what a word says of a piece: one of the texts stands in the fact of
// that name.
type claim struct {
	field string
	of    []string
}

var claims = map[string]claim{
	"STEEL":       {Material, []string{"steel"}},
	"STAINLESS":   {Material, []string{"corrosion-resistant", "A286"}},
	"ALUMINUM":    {Material, []string{"aluminium"}},
	"ALUMINIUM":   {Material, []string{"aluminium"}},
	"BRASS":       {Material, []string{"brass"}},
	"FLUSH":       {HeadStyle, []string{"countersunk"}},
	"COUNTERSUNK": {HeadStyle, []string{"countersunk"}},
	"CSK":         {HeadStyle, []string{"countersunk"}},
	"UNIVERSAL":   {HeadStyle, []string{"universal"}},
	"DOME":        {HeadStyle, []string{"universal", "round", "brazier", "protruding", "domed"}},
	"PAN":         {HeadStyle, []string{"pan"}},
	"HEX":         {HeadStyle, []string{"hex"}},
	"NYLON":       {Lock, []string{"insert"}},
	"FIBER":       {Lock, []string{"insert"}},
	"FIBRE":       {Lock, []string{"insert"}},
	"INSERT":      {Lock, []string{"insert"}},
	"METAL":       {Lock, []string{"all metal"}},
	"UNDRILLED":   {ShankDrilled, []string{"no"}},
}

// sorts are the words for what a piece is, with what its kind or its noun says
// then: a bolt with a slotted head is called a screw as well.
var sorts = map[string][]string{
	"BOLT": {"bolt", "screw"}, "SCREW": {"screw", "bolt"}, "NUT": {"nut"}, "WASHER": {"washer"}, "RIVET": {"rivet"},
	"PIN": {"pin"}, "CLAMP": {"clamp"},
}

// notes end what is said of the piece itself: "bolt for the flush skin".
var notes = words("FOR", "IN", "ON", "AT", "OF", "WITH")

// contradicted refuses a piece of which the words around its number, those in
// front of prefix and those behind the number, say another thing.
func (sc *scanner) contradicted(p *piece, prefix string) *refusal {
	front := bytes.LastIndex(sc.s[:sc.from], []byte(prefix))
	if front <= 0 && sc.at == len(sc.s) {
		return nil
	}
	r := p.result()
	if thread := r.otherThread(sc.s[sc.at:]); thread != "" {
		f, _ := r.Field(Thread)
		return p.denies(thread, "for thread "+f.Text)
	}
	said := append(wordsOf(sc.s[:max(front, 0)], nil), wordsOf(sc.s[sc.at:], notes)...)
	var sort string // the word that names another sort of piece, while none names this one
	fits := false
	for i, w := range said {
		if of, ok := sorts[strings.TrimSuffix(w, "S")]; ok {
			fits = fits || p.s.called(of)
			sort = w
		}
		if says := r.against(said, i); says != "" {
			return p.denies(w, says)
		}
	}
	if sort != "" && !fits {
		return p.denies(sort, "a "+p.s.says())
	}
	return nil
}

// denies says which word does not go with which piece.
func (p *piece) denies(word, what string) *refusal {
	return &refusal{
		s: p.s, nearest: []string{p.canonical()},
		problem: quote([]byte(word)) + " does not go with " + p.canonical() + ", which is " + what + ": look which of the two is meant",
	}
}

// wordsOf are the words of a text up to one of those that end it.
func wordsOf(text []byte, ends map[string]bool) []string {
	list := strings.FieldsFunc(string(text), func(r rune) bool { return !upper(byte(r)) })
	for i, w := range list {
		if ends[w] {
			return list[:i]
		}
	}
	return list
}

// otherThread is a thread behind the number, "AN4-7A 10-32", that is not the thread
// of the piece; "" for none. A bag may be called 10-24.
func (r *Result) otherThread(behind []byte) string {
	f, ok := r.Field(Thread)
	if !ok || f.Unknown || bytes.IndexByte(behind, '-') < 0 {
		return ""
	}
	size, tpi := threadOf(threadKey(f.Text))
	named := false // the word before names what follows: BAG 10-24
	for _, w := range strings.FieldsFunc(string(behind), func(c rune) bool { return strings.ContainsRune(" ,;()", c) }) {
		w, _, _ = strings.Cut(w, "X")
		if l, n := threadOf(w); !named && unified(l, n) && (l != size || n != tpi) {
			return w
		}
		named = nameWords[strings.TrimSuffix(w, ":")]
	}
	return ""
}

// nameWords stand in front of the name of a bag or a line.
var nameWords = words("BAG", "BAGS", "LOT", "LINE", "ITEM", "BOX")

// unified says that there may be a thread of that size and so many to the inch, by
// the sizes of ASME B1.1: 24 to 80 below 1/4, from there on 8 to 32, of which only
// coarse ones are odd.
func unified(size measure.Length, tpi int) bool {
	if size < measure.Inch/4 {
		return size > 0 && tpi >= 24 && tpi <= 80 && tpi%2 == 0
	}
	return size <= 2*measure.Inch && tpi >= 8 && tpi <= 32 && (tpi%2 == 0 || tpi <= 13)
}

// called says that pieces of the series are of one of the sorts.
func (s *series) called(of []string) bool {
	for _, sort := range of {
		if strings.Contains(string(s.kind), sort) || strings.Contains(strings.ToLower(s.noun), sort) {
			return true
		}
	}
	return false
}

// against is what the piece is by its number where the word at a place denies it,
// "" where it does not.
func (r *Result) against(said []string, at int) string {
	w := said[at]
	switch w {
	case "DRILLED":
		return r.drilledAgainst(said, at)
	case "THIN", "LIGHT":
		return r.thickAgainst(true)
	case "THICK":
		return r.thickAgainst(false)
	}
	c, ok := claims[w]
	if !ok {
		return ""
	}
	f, ok := r.Field(c.field)
	if !ok || f.Unknown {
		return ""
	}
	for _, text := range c.of {
		if strings.Contains(f.Text, text) {
			return ""
		}
	}
	if c.field == ShankDrilled {
		return "drilled for a cotter pin"
	}
	return f.Text
}

// drilledAgainst holds "drilled" against the piece: with "head" or "shank" beside
// it, that alone is meant, and else either.
func (r *Result) drilledAgainst(said []string, at int) string {
	beside := said[max(at-1, 0):min(at+2, len(said))]
	head, shank := slices.Contains(beside, "HEAD"), slices.Contains(beside, "SHANK")
	switch {
	case head && r.denied(HeadDrilled):
		return "not drilled in the head"
	case shank && r.denied(ShankDrilled):
		return "not drilled in the shank"
	case !head && !shank && r.denied(HeadDrilled) && r.denied(ShankDrilled):
		return "not drilled"
	}
	return ""
}

// denied says that the fact of that name is known to be no.
func (r *Result) denied(name string) bool {
	f, ok := r.Field(name)
	return ok && !f.Unknown && strings.HasPrefix(f.Text, "no")
}

// thickAgainst holds "thin" or "thick" against the piece: washers come in two,
// and nuts are thin for shear or of full height.
func (r *Result) thickAgainst(thin bool) string {
	if r.Kind == Nut {
		for _, style := range [...]string{"full height", "thin"} {
			if strings.Contains(r.Title, style) && thin != (style == "thin") {
				return style
			}
		}
	}
	t, ok := r.Field(Thickness)
	if !ok || r.Kind != Washer {
		return ""
	}
	// The thin ones of AN960 and NAS1149 are half the thickness: 0.032 of 0.063,
	// 0.016 of 0.032 below No. 10.
	full := thousandths(63)
	if d, ok := r.Field(Fits); ok && strings.HasPrefix(d.Text, "No. ") && !strings.HasPrefix(d.Text, "No. 10") {
		full = thousandths(32)
	}
	if isThin := t.Length < full; isThin != thin {
		return t.Length.Printed() + " thick"
	}
	return ""
}
