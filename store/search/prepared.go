package search

import (
	"strings"

	"stowright/store/measure"
)

// prepared is what of a document is compared with typing.
type prepared struct {
	codes []string // the name and the aliases, folded; may be empty strings
	words []string // folded words of description, places and roles
	dims  []Dim
}

// prepare takes a document apart.
func prepare(d Doc) prepared {
	p := prepared{codes: make([]string, 0, 1+len(d.Aliases)), dims: d.Dims[:len(d.Dims):len(d.Dims)]}
	for _, name := range append([]string{d.Name}, d.Aliases...) {
		p.codes = append(p.codes, foldCode(name))
		if len(name) > maxCode {
			p.text(name)
		}
	}
	p.text(d.Words)
	for _, place := range d.Places {
		p.text(place)
	}
	for _, dim := range d.Dims {
		if dim.Role != AnyRole {
			p.words = append(p.words, dim.Role.String())
		}
	}
	return p
}

func (p *prepared) text(s string) { chunks(s, func(chunk string, _ int) { p.chunk(chunk) }) }

func (p *prepared) chunk(chunk string) {
	if lengths := dimensions(chunk); lengths != nil {
		for _, l := range lengths {
			p.dims = append(p.dims, Dim{Length: l})
		}
		if len(lengths) == 1 && !strings.ContainsAny(chunk, "/#") && chunk[0] != '.' {
			p.word(chunk)
		}
		return
	}
	if d, ok := thread(chunk); ok {
		p.dims = append(p.dims, d)
		if !strings.ContainsAny(chunk, "#/.") {
			p.word(chunk)
		}
		return
	}
	for part := range strings.SplitSeq(chunk, "/") {
		p.word(part)
		if strings.ContainsAny(part, "-_.'") {
			for piece := range strings.FieldsFuncSeq(part, func(r rune) bool { return strings.ContainsRune("-_.'", r) }) {
				p.word(piece)
			}
		}
	}
}

func (p *prepared) word(s string) {
	if code := foldCode(s); code != "" {
		p.words = append(p.words, code)
	}
}

// level is how a document meets one word of a query.
type level uint8

const (
	unmet  level = iota
	inside       // inside a word, or by the start of a dimension's spelling
	start        // in a number, at the start of a word, or as a dimension
)

func (p *prepared) meets(t term) level {
	best := unmet
	if t.code != "" {
		for _, code := range p.codes {
			if strings.Contains(code, t.code) {
				return start
			}
		}
		for _, w := range p.words {
			if i := strings.Index(w, t.code); i == 0 {
				return start
			} else if i > 0 {
				best = inside
			}
		}
	}
	for _, d := range p.dims {
		for _, want := range t.dims {
			if d.answers(want) {
				return start
			}
		}
		if t.partial != "" && t.begins(d) {
			best = inside
		}
	}
	return best
}

// begins says whether the dimension may be the one that is being typed.
func (t term) begins(d Dim) bool {
	if len(t.dims) > 0 && !d.answers(Dim{Role: t.dims[0].Role, Length: d.Length}) {
		return false
	}
	return beginsLength(t.partial, d.Length)
}

func beginsLength(partial string, l measure.Length) bool {
	for _, s := range spellings(l) {
		if strings.HasPrefix(s, partial) {
			return true
		}
	}
	return false
}

// class is how the document answers the query without a typing error.
func (p *prepared) class(q query) (Class, bool) {
	best, found := WordsInside, false
	if q.joined != "" {
		for i, code := range p.codes {
			c := WordsInside
			switch at := strings.Index(code, q.joined); {
			case code == q.joined && i == 0:
				c = Exact
			case code == q.joined:
				c = ExactOld
			case at == 0:
				c = Starts
			case at > 0:
				c = Inside
			default:
				continue
			}
			best, found = min(best, c), true
		}
	}
	if found {
		return best, true
	}
	best = Words
	for _, t := range q.terms {
		switch p.meets(t) {
		case unmet:
			return 0, false
		case inside:
			best = WordsInside
		}
	}
	return best, len(q.terms) > 0
}

// nearClass is how the document answers with one typing error.
func (p *prepared) nearClass(q query) (Class, bool) {
	found := false
	if len(q.joined) >= minNear {
		for _, code := range p.codes {
			if oneOff(q.joined, code) {
				return Near, true
			}
			found = found || oneOffInside(q.joined, code)
		}
	}
	for i := 0; i < len(q.terms) && !found; i++ {
		found = q.terms[i].near() && p.meetsNearly(q, i)
	}
	return NearInside, found
}

// meetsNearly says whether word i, with one error, and every other word
// exactly is in the document.
func (p *prepared) meetsNearly(q query, i int) bool {
	for j, t := range q.terms {
		if j != i && p.meets(t) == unmet {
			return false
		}
	}
	for _, code := range p.codes {
		if oneOffInside(q.terms[i].code, code) {
			return true
		}
	}
	for _, w := range p.words {
		if oneOffInside(q.terms[i].code, w) {
			return true
		}
	}
	return false
}

// oneOff says whether a becomes b by at most one insertion, deletion or
// replacement of a byte or exchange of two neighbours.
func oneOff(a, b string) bool {
	for len(a) > 0 && len(b) > 0 && a[0] == b[0] {
		a, b = a[1:], b[1:]
	}
	for len(a) > 0 && len(b) > 0 && a[len(a)-1] == b[len(b)-1] {
		a, b = a[:len(a)-1], b[:len(b)-1]
	}
	return len(a) <= 1 && len(b) <= 1 || len(a) == 2 && len(b) == 2 && a[0] == b[1] && a[1] == b[0]
}

// oneOffInside says whether some stretch of s is one off from a.
func oneOffInside(a, s string) bool {
	for from := range len(s) + 1 {
		for n := len(a) - 1; n <= len(a)+1 && from+n <= len(s); n++ {
			if oneOff(a, s[from:from+n]) {
				return true
			}
		}
	}
	return false
}
