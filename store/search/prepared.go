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

func (p *prepared) meets(t *term) level {
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
			} else if i > 0 && len(t.code) >= minInside {
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
		if t.partial != "" && t.admits(d) && beginsLength(t.partial, d.Length) {
			best = inside
		}
	}
	return best
}

// admits says whether the dimension has the role that the one being typed has.
func (t *term) admits(d Dim) bool {
	return len(t.dims) == 0 || d.answers(Dim{Role: t.dims[0].Role, Length: d.Length})
}

func beginsLength(partial string, l measure.Length) bool {
	for _, s := range spellings(l) {
		if strings.HasPrefix(s, partial) {
			return true
		}
	}
	return false
}
