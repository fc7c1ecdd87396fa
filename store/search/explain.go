package search

import (
	"slices"
	"strings"
)

// explainer finds the stretches of documents that answer a query.
type explainer struct {
	query      *query
	typed      string
	joinedOnly bool    // the typing is looked for as a whole
	matches    []Match // of all documents so far
}

// hit says what of the document answers the query.
func (e *explainer) hit(d *Doc, class Class) Hit {
	h := Hit{ID: d.ID, Kind: d.Kind, Name: d.Name, Class: class}
	if class >= Near {
		h.Why = "close to " + strings.TrimSpace(e.typed)
		return h
	}
	from := len(e.matches)
	e.joinedOnly = class <= Inside
	e.field(FieldName, 0, d.Name)
	inName := len(e.matches) > from
	for i, alias := range d.Aliases {
		before := len(e.matches)
		e.field(FieldAlias, i, alias)
		if len(e.matches) > before && !inName && h.Why == "" {
			h.Why = "old number " + alias
		}
	}
	if !e.joinedOnly {
		e.text(FieldWords, 0, d.Words)
		e.dims(d.Dims)
		for i, place := range d.Places {
			e.text(FieldPlace, i, place)
		}
	}
	if len(e.matches) > from {
		h.Matches = e.matches[from:len(e.matches):len(e.matches)]
	}
	return h
}

// field marks the typing inside a designation.
func (e *explainer) field(f Field, index int, s string) {
	if e.joinedOnly {
		if m, ok := locate(s, e.query.joined); ok {
			e.add(f, index, m)
		}
		return
	}
	from := len(e.matches)
	for _, t := range e.query.terms {
		if t.code == "" {
			continue
		}
		if m, ok := locate(s, t.code); ok {
			e.add(f, index, m)
		}
	}
	if len(s) > maxCode {
		e.text(f, index, s)
	}
	e.merge(from)
}

// text marks the typing inside the words of a text.
func (e *explainer) text(f Field, index int, s string) {
	from := len(e.matches)
	chunks(s, func(chunk string, offset int) {
		for i := range e.query.terms {
			if m, ok := e.query.terms[i].locate(chunk); ok {
				e.add(f, index, span{m.start + offset, m.end + offset})
			}
		}
	})
	e.merge(from)
}

// locate finds what of a chunk of text answers the word.
func (t *term) locate(chunk string) (span, bool) {
	if t.code != "" {
		if m, ok := locate(chunk, t.code); ok {
			return m, true
		}
	}
	if !digit(chunk[0]) && chunk[0] != '.' && chunk[0] != '#' || len(t.dims) == 0 && t.partial == "" {
		return span{}, false
	}
	p := prepared{}
	p.chunk(chunk)
	return span{0, len(chunk)}, p.meets(t) != unmet
}

func (e *explainer) dims(dims []Dim) {
	for i, d := range dims {
		p := prepared{dims: dims[i : i+1]}
		for j := range e.query.terms {
			t := &e.query.terms[j]
			if p.meets(t) != unmet || d.Role != AnyRole && t.code != "" && strings.Contains(d.Role.String(), t.code) {
				e.add(FieldDim, i, span{})
				break
			}
		}
	}
}

func (e *explainer) add(f Field, index int, m span) {
	e.matches = append(e.matches, Match{Field: f, Index: index, Start: m.start, End: m.end})
}

// merge sorts the matches of one field, from the given one on, and joins those
// that touch.
func (e *explainer) merge(from int) {
	all := e.matches[from:]
	if len(all) < 2 {
		return
	}
	slices.SortFunc(all, func(a, b Match) int { return a.Start - b.Start })
	kept := all[:1]
	for _, m := range all[1:] {
		if last := &kept[len(kept)-1]; m.Start <= last.End {
			last.End = max(last.End, m.End)
			continue
		}
		kept = append(kept, m)
	}
	e.matches = e.matches[:from+len(kept)]
}

type span struct{ start, end int }

// locate finds the first stretch of s that folds to code.
func locate(s, code string) (span, bool) {
	var folded [64]byte
	var offsets [64]int
	at := offsets[:0]
	text := appendFold(folded[:0], s, &at)
	i := strings.Index(string(text), code)
	if i < 0 {
		return span{}, false
	}
	end := len(s)
	if i+len(code) < len(at) {
		end = at[i+len(code)]
		for end > 0 && isDivider(s[end-1]) {
			end--
		}
	}
	return span{at[i], end}, true
}

func isDivider(c byte) bool { return strings.IndexByte("-/_. \t\"'#,()", c) >= 0 }
