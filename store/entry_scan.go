package store

import (
	"bytes"
	"encoding/json"
	"time"

	"stowright/store/disk"
)

// Going back over a journal needs of each entry what its changes changed, and not what they
// changed it to. Decoding all of an entry takes five times as long as going back by it.

// scanned is an entry without its text, and with changes that lack what they changed to.
func scanned(r disk.Record) (Entry, error) {
	s := scanner{rest: r.Body, ok: true}
	e := Entry{Seq: r.Seq}
	s.object(func(name string, value []byte) {
		switch name {
		case "at":
			var err error
			e.At, err = time.Parse(time.RFC3339Nano, s.text(value))
			s.ok = s.ok && err == nil
		case "verb":
			e.Verb = Verb(s.text(value))
		case "undoes":
			s.decode(value, &e.Undoes)
		case "changes":
			e.Changes = s.changes(value)
		}
	})
	if !s.ok || e.At.IsZero() {
		return entryOf(r) // as it is spelled nowhere here; it may be damaged
	}
	return e, nil
}

// scanner goes over JSON as encoding/json writes it: without blanks.
type scanner struct {
	rest []byte
	ok   bool // nothing was met that is not understood
}

// changes are those of an entry.
func (s *scanner) changes(list []byte) []Change {
	if bytes.Equal(list, []byte("null")) {
		return nil
	}
	var all []Change
	in := scanner{rest: list, ok: s.ok}
	for in.take('['); in.ok && !in.took(']'); in.took(',') {
		var c Change
		in.object(func(name string, value []byte) {
			switch name {
			case "table":
				c.Table = in.text(value)
			case "key":
				c.Key = in.text(value)
			case "before":
				c.Before = bytes.Clone(value)
			case "delta":
				c.Delta = &Amount{}
				in.decode(value, c.Delta)
			}
		})
		all = append(all, c)
	}
	s.ok = s.ok && in.ok
	return all
}

// object calls do with each member of the object that comes next.
func (s *scanner) object(do func(name string, value []byte)) {
	for s.take('{'); s.ok && !s.took('}'); s.took(',') {
		name := s.value()
		s.take(':')
		if value := s.value(); s.ok {
			do(string(name[1:len(name)-1]), value)
		}
	}
}

// take takes a byte that has to come next.
func (s *scanner) take(b byte) { s.ok = s.took(b) && s.ok }

// took takes a byte if it comes next.
func (s *scanner) took(b byte) bool {
	if len(s.rest) == 0 || s.rest[0] != b {
		return false
	}
	s.rest = s.rest[1:]
	return true
}

// value is the value that comes next, as it is spelled.
func (s *scanner) value() []byte {
	depth, at := 0, 0
	for at < len(s.rest) {
		switch b := s.rest[at]; {
		case b == '"':
			end := endOfText(s.rest[at+1:])
			if end < 0 {
				s.ok = false
				return nil
			}
			at += end + 1
		case b == '{' || b == '[':
			depth++
		case (b == '}' || b == ']' || b == ',') && depth == 0:
			return s.cut(at)
		case b == '}' || b == ']':
			depth--
		case b == ':' && depth == 0: // a name
			return s.cut(at)
		}
		at++
	}
	s.ok = false
	return nil
}

func (s *scanner) cut(at int) []byte {
	value := s.rest[:at]
	s.rest = s.rest[at:]
	if s.ok = s.ok && at > 1 || s.ok && at == 1 && value[0] != '"'; !s.ok {
		return []byte(`""`)
	}
	return value
}

// endOfText is where the quotation mark is that ends a text; -1 for nowhere.
func endOfText(b []byte) int {
	for at := 0; ; at++ {
		i := bytes.IndexByte(b[at:], '"')
		if i < 0 {
			return -1
		}
		at += i
		slashes := 0
		for at-slashes > 0 && b[at-slashes-1] == '\\' {
			slashes++
		}
		if slashes%2 == 0 {
			return at
		}
	}
}

// text is a text without its quotation marks.
func (s *scanner) text(value []byte) string {
	if len(value) < 2 || value[0] != '"' {
		s.ok = false
		return ""
	}
	inside := value[1 : len(value)-1]
	if bytes.IndexByte(inside, '\\') < 0 {
		return string(inside)
	}
	if plain := bytes.ReplaceAll(inside, []byte(`\u0000`), []byte{0}); bytes.IndexByte(plain, '\\') < 0 {
		return string(plain) // the keys of heaps and their like
	}
	var text string
	s.decode(value, &text)
	return text
}

func (s *scanner) decode(value []byte, into any) {
	if err := json.Unmarshal(value, into); err != nil {
		s.ok = false
	}
}
