package search

import (
	"slices"
	"strings"
	"unicode/utf8"
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
			h.Why = "also " + alias
			if d.Kind == Item {
				h.Why = "old number " + alias
			}
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
		if m, ok := locate(s, e.query.joined, true); ok {
			e.add(f, index, m)
		}
		return
	}
	from := len(e.matches)
	for _, t := range e.query.terms {
		if t.code == "" {
			continue
		}
		if m, ok := locate(s, t.code, true); ok {
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
	chunked := !isASCII(s)
	for i := range e.query.terms {
		t := &e.query.terms[i]
		chunked = chunked || t.isDim()
		for at := 0; t.code != "" && at < len(s); {
			m, ok := locate(s[at:], t.code, false)
			if !ok {
				break
			}
			m = span{m.start + at, m.end + at}
			if len(t.code) >= minInside || startsWord(s, m.start) {
				e.add(f, index, m)
			}
			at = m.end
		}
	}
	if chunked {
		chunks(s, func(chunk string, offset int) { e.chunk(f, index, chunk, offset) })
	}
	e.merge(from)
}

// startsWord says whether a word, or a part of one behind a sign, starts at i.
func startsWord(s string, i int) bool {
	if i == 0 {
		return true
	}
	if before, _ := utf8.DecodeLastRuneInString(s[:i]); before >= utf8.RuneSelf {
		return !inChunk(before)
	}
	_, before := foldByte(s, i-1)
	return !before
}

// chunk marks a chunk of a text that is a dimension asked for, or has letters
// that need more than a look to compare.
func (e *explainer) chunk(f Field, index int, chunk string, offset int) {
	var p prepared
	for i := range e.query.terms {
		t := &e.query.terms[i]
		if isASCII(chunk) && !(t.isDim() && startsDimension(chunk)) {
			continue
		}
		if p.words == nil && p.dims == nil {
			p.chunk(chunk)
		}
		if p.meets(t) != unmet {
			e.add(f, index, span{offset, offset + len(chunk)})
		}
	}
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

// locate finds the first stretch of s that folds to code; acrossWords lets it
// go on behind a space, as in a designation. Where letters beyond ASCII are
// part of a designation the stretch is all of it.
func locate(s, code string, acrossWords bool) (span, bool) {
	for i := range len(s) {
		if c, ok := foldByte(s, i); !ok || c != code[0] {
			continue
		}
		if end, ok := matchAt(s, i, code, acrossWords); ok {
			return span{i, end}, true
		}
	}
	if acrossWords && !isASCII(s) && strings.Contains(fold(s), code) {
		return span{0, len(s)}, true
	}
	return span{}, false
}

// matchAt returns where the stretch of s that starts at i and folds to code ends.
func matchAt(s string, i int, code string, acrossWords bool) (end int, ok bool) {
	met := 0
	for ; i < len(s); i++ {
		c, ok := foldByte(s, i)
		switch {
		case ok && c == code[met]:
			if met++; met == len(code) {
				return i + 1, true
			}
		case ok, s[i] >= utf8.RuneSelf, !acrossWords && strings.IndexByte("-_.'\"#", s[i]) < 0:
			return 0, false
		}
	}
	return 0, false
}

// foldByte is the folded form of byte i of s, and whether it has one.
func foldByte(s string, i int) (byte, bool) {
	c := s[i]
	switch {
	case 'a' <= c && c <= 'z', digit(c):
		return c, true
	case 'A' <= c && c <= 'Z':
		return c + 'a' - 'A', true
	case c == '.':
		return c, i > 0 && i+1 < len(s) && digit(s[i-1]) && digit(s[i+1])
	}
	return 0, false
}
