package search

import (
	"cmp"
	"slices"
	"strings"
)

// oracle answers queries by looking at every document, as the package comment
// says it: slow, and simple enough to be believed.
type oracle map[string]oracleDoc

type oracleDoc struct {
	doc     Doc
	terms   prepared
	natural string
}

func (o oracle) put(d Doc) {
	o[d.ID] = oracleDoc{d, prepare(d), string(appendNatural(nil, d.Name))}
}

func (o oracle) search(typed string, limit int) (hits []Hit, more bool) {
	q := parseQuery(typed)
	found := o.scan((*prepared).class, q, nil)
	if len(found) < few && (len(found) == 0 || found[0].Class > Inside) {
		found = append(found, o.scan((*prepared).nearClass, q, found)...)
	}
	if len(found) > limit {
		return found[:limit], true
	}
	return found, false
}

func (o oracle) scan(class func(*prepared, query) (Class, bool), q query, but []Hit) []Hit {
	var found []Hit
	for id, d := range o {
		if slices.ContainsFunc(but, func(h Hit) bool { return h.ID == id }) {
			continue
		}
		if c, ok := class(&d.terms, q); ok {
			found = append(found, Hit{ID: id, Kind: d.doc.Kind, Name: d.doc.Name, Class: c})
		}
	}
	slices.SortFunc(found, func(a, b Hit) int {
		inShop := 0
		if o[a.ID].doc.InShop != o[b.ID].doc.InShop {
			inShop = 1
			if o[a.ID].doc.InShop {
				inShop = -1
			}
		}
		return cmp.Or(cmp.Compare(a.Class, b.Class), inShop, cmp.Compare(a.Kind, b.Kind),
			cmp.Compare(o[a.ID].natural, o[b.ID].natural), cmp.Compare(a.ID, b.ID))
	})
	return found
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
	for i := range q.terms {
		switch p.meets(&q.terms[i]) {
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
	for j := range q.terms {
		if j != i && p.meets(&q.terms[j]) == unmet {
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
