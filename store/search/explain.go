package search

import (
	"slices"
	"strings"
)

// hit says what of the document answers the query.
func hit(d *Doc, q query, class Class, typed string) Hit {
	h := Hit{ID: d.ID, Kind: d.Kind, Name: d.Name, Class: class}
	if class >= Near {
		h.Why = "close to " + strings.TrimSpace(typed)
		return h
	}
	e := explainer{query: q, joinedOnly: class <= Inside}
	e.field(FieldName, 0, d.Name)
	inName := len(e.matches) > 0
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
	h.Matches = e.matches
	return h
}

// explainer collects the stretches of one document that answer a query.
type explainer struct {
	query      query
	joinedOnly bool
	matches    []Match
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
	e.merge(from)
}

// text marks the typing inside the words of a text.
func (e *explainer) text(f Field, index int, s string) {
	from := len(e.matches)
	chunks(s, func(chunk string, offset int) {
		var p prepared
		p.chunk(chunk)
		for _, t := range e.query.terms {
			if p.meets(t) == unmet {
				continue
			}
			m, ok := span{0, len(chunk)}, false
			if t.code != "" {
				m, ok = locate(chunk, t.code)
			}
			if !ok {
				m = span{0, len(chunk)}
			}
			e.add(f, index, span{m.start + offset, m.end + offset})
		}
	})
	e.merge(from)
}

func (e *explainer) dims(dims []Dim) {
	for i, d := range dims {
		p := prepared{dims: dims[i : i+1]}
		for _, t := range e.query.terms {
			if p.meets(t) != unmet || d.Role != AnyRole && t.code != "" && strings.HasPrefix(d.Role.String(), t.code) {
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
