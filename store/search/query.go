package search

import (
	"slices"
	"strings"

	"stowright/store/measure"
)

// Bounds of a query. What is typed beyond them is not looked at.
const (
	maxQuery = 256 // bytes
	maxTerms = 12  // words
)

// minNear is how long a word must be before a typing error in it is forgiven:
// one character off, anything shorter is like everything else.
const minNear = 4

// minInside is how long a word must be to be looked for inside the words of
// descriptions and not only at their start. In designations any length is.
const minInside = 3

// query is what the typing asks for.
type query struct {
	terms []term
	// joined is all the words as one designation: "an3 5" is also AN3-5. It is
	// "" where a word can only be a dimension.
	joined string
}

// term is one word of a query. It is met by any one of its alternatives.
type term struct {
	code string // text folded; "" where it can only be a dimension
	dims []Dim  // wanted lengths, any one of which will do
	// partial is a dimension being typed, by the start of its spelling; "" else.
	partial string
}

// parseQuery never fails: any typing asks for something, or for nothing.
func parseQuery(text string) query {
	if len(text) > maxQuery {
		text = strings.ToValidUTF8(text[:maxQuery], "")
	}
	var p queryParser
	chunks(text, func(chunk string, offset int) {
		if len(p.words) < maxTerms {
			p.add(chunk, offset+len(chunk) >= len(strings.TrimRight(text, " ")))
		}
	})
	p.words = p.words[:min(len(p.words), maxTerms)]
	if last := len(p.words) - 1; last > 0 && p.words[last].cross && p.words[last-1].isDim() {
		p.words = p.words[:last]
	}
	p.cross()
	p.bindRoles()
	return p.query()
}

// queryParser gathers the words of a query before their neighbours decide what
// they are.
type queryParser struct{ words []queryWord }

type queryWord struct {
	term
	role  Role // the word is the name of a role
	cross bool // the word is an x
	bare  bool // the word is a whole number
	bound bool // a dimension that has its role, or a role that has its dimension
}

// add takes one chunk of the typing; last says that it may still be unfinished.
func (p *queryParser) add(chunk string, last bool) {
	if last && unfinished(chunk) {
		w := queryWord{term: term{partial: chunk}}
		for _, l := range dimensions(chunk) {
			w.dims = append(w.dims, Dim{Length: l})
		}
		p.words = append(p.words, w)
		return
	}
	if lengths := dimensions(chunk); lengths != nil {
		for _, l := range lengths {
			w := queryWord{term: term{dims: []Dim{{Length: l}}}}
			if len(lengths) == 1 && chunk[0] != '.' && chunk[0] != '#' && !strings.Contains(chunk, "/") {
				w.code = foldCode(chunk) // 3.5 may be a dash number
			}
			p.words = append(p.words, w)
		}
		return
	}
	if d, ok := thread(chunk); ok {
		w := queryWord{term: term{dims: []Dim{d}}}
		if !strings.ContainsAny(chunk, "#/.") {
			w.code = foldCode(chunk)
		}
		p.words = append(p.words, w)
		return
	}
	for part := range strings.SplitSeq(chunk, "/") {
		if code := foldCode(part); code != "" {
			p.words = append(p.words, queryWord{term: term{code: code}, role: roleOf(code), cross: code == "x", bare: whole(part)})
		}
	}
}

// cross drops each x between dimensions and lets the bare numbers beside one
// be inches: "1 x 1 x 1/16".
func (p *queryParser) cross() {
	dim := func(i int) bool { return i >= 0 && i < len(p.words) && (p.words[i].isDim() || p.words[i].bare) }
	sure := slices.ContainsFunc(p.words, func(w queryWord) bool { return w.isDim() })
	if !sure {
		return
	}
	kept := p.words[:0:0]
	for i, w := range p.words {
		switch {
		case w.cross && dim(i-1) && dim(i+1):
			continue
		case w.bare && (dim(i-2) && p.words[i-1].cross || i+1 < len(p.words) && p.words[i+1].cross && dim(i+2)):
			w.inches()
		}
		kept = append(kept, w)
	}
	p.words = kept
}

// inches lets a bare number be a length too.
func (w *queryWord) inches() {
	if l, err := measure.ParseLength(w.code); err == nil {
		w.dims = append(w.dims, Dim{Length: l})
	}
}

// bindRoles joins "9/16 grip" and "grip 9/16" to one wanted dimension. Between
// two dimensions a role may belong to either.
func (p *queryParser) bindRoles() {
	for i := range p.words {
		w := &p.words[i]
		if w.role == AnyRole {
			continue
		}
		before, after := p.free(i-1, w.role), p.free(i+1, w.role)
		switch {
		case before != nil && after != nil && before.isDim() && after.isDim():
			w.code, w.bound = "", true
			for _, d := range append(before.dims[:len(before.dims):len(before.dims)], after.dims...) {
				w.dims = append(w.dims, Dim{Role: w.role, Length: d.Length, PerInch: d.PerInch})
			}
		case before != nil && (before.isDim() || after == nil || !after.isDim()):
			w.bind(before)
		case after != nil:
			w.bind(after)
		}
	}
	p.words = slices.DeleteFunc(p.words, func(w queryWord) bool { return w.bound && w.role != AnyRole && !w.isDim() })
}

// free is word i if it is a dimension, or could be one, without a role of its own.
func (p *queryParser) free(i int, role Role) *queryWord {
	if i < 0 || i >= len(p.words) {
		return nil
	}
	w := &p.words[i]
	if w.bound || w.role != AnyRole || !w.bare && len(w.dims) == 0 || len(w.dims) > 0 && w.dims[0].Role != AnyRole && w.dims[0].Role != role {
		return nil
	}
	return w
}

// bind gives a dimension the role that w names.
func (w *queryWord) bind(dim *queryWord) {
	if dim.bare && len(dim.dims) == 0 {
		dim.inches()
		dim.code = ""
	}
	for i := range dim.dims {
		dim.dims[i].Role = w.role
	}
	dim.bound, w.bound = true, true
}

func (p *queryParser) query() query {
	q := query{terms: make([]term, 0, len(p.words))}
	var joined strings.Builder
	codesOnly := true
	for i := range p.words {
		t := p.words[i].term
		q.terms = append(q.terms, t)
		codesOnly = codesOnly && t.code != ""
		joined.WriteString(t.code)
	}
	if codesOnly {
		q.joined = joined.String()
		if len(q.joined) > maxCode {
			q.joined = q.joined[:maxCode]
		}
	}
	return q
}

func (t *term) isDim() bool { return len(t.dims) > 0 || t.partial != "" }

// near says whether the word is long enough to forgive an error in it.
func (t *term) near() bool { return len(t.code) >= minNear }
