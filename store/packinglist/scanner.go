package packinglist

import (
	"errors"
	"strings"
)

// scanner splits text into rows and cells by RFC 4180, with any separator and
// any line end. It keeps blank rows, so that rows number as a spreadsheet shows
// them, and takes a quote inside an unquoted cell as it stands: `Bolt 3/16"` is
// common on packing lists. A quoted cell must end where it ends: one that runs
// to the end of the text, or has text behind its closing quote, is an error.
type scanner struct {
	text  string
	sep   byte
	row   int      // 1-based number of the row in cells
	cells []string // lost with the next row
	err   error    // why next stopped, nil at the end of the text
	width int      // separators of the last row that had any, 0 for none
}

// next reads a row into cells and says whether there was one.
func (s *scanner) next() bool {
	if s.err != nil || s.text == "" {
		return false
	}
	s.row++
	if n := len(s.cells) - 1; n > 0 {
		s.width = n
	}
	s.cells = s.cells[:0]
	for {
		cell, ok := s.cell()
		if !ok {
			return false
		}
		if s.cells = append(s.cells, cell); len(s.cells) > maxFilled {
			s.err = errors.New("the row goes on too far to the right; delete what is not part of the list")
			return false
		}
		if s.text == "" {
			return true
		}
		end := s.text[0]
		s.text = s.text[1:]
		switch end {
		case '\r':
			s.text = strings.TrimPrefix(s.text, "\n")
			return true
		case '\n':
			return true
		}
		if s.text == "" { // a separator at the very end: one more, empty cell
			s.cells = append(s.cells, "")
			return true
		}
	}
}

// cell reads up to the separator or line end and leaves that in the text.
func (s *scanner) cell() (string, bool) {
	if !strings.HasPrefix(s.text, `"`) {
		n := strings.IndexAny(s.text, string(s.sep)+"\r\n")
		if n < 0 {
			n = len(s.text)
		}
		cell := s.text[:n]
		s.text = s.text[n:]
		return cell, true
	}
	var cell strings.Builder
	rest := s.text[1:]
	for {
		before, after, found := strings.Cut(rest, `"`)
		if !found {
			s.err = errors.New("a quoted cell starts here and never ends, so the file was cut short or a quote is missing; save the list again")
			return "", false
		}
		cell.WriteString(before)
		if !strings.HasPrefix(after, `"`) {
			s.text = after
			break
		}
		cell.WriteByte('"')
		rest = after[1:]
	}
	if s.text != "" && s.text[0] != s.sep && s.text[0] != '\r' && s.text[0] != '\n' {
		s.err = errors.New("there is text behind the closing quote of a cell; double the quotes inside it or leave them out")
		return "", false
	}
	if s.swallows(cell.String()) {
		s.err = errors.New("a quoted cell starts here and goes on over whole rows, so a quote is missing or one too many; double the quotes inside a cell or leave them out")
		return "", false
	}
	return cell.String(), true
}

// swallows reports whether a quoted cell holds the end of a row and the beginning of another,
// by how many separators a row has: that cell would take the place of the rows in it.
func (s *scanner) swallows(cell string) bool {
	first, rest, several := strings.Cut(strings.ReplaceAll(cell, "\r", "\n"), "\n")
	if !several || s.width < 1 {
		return false
	}
	last := rest[strings.LastIndexByte(rest, '\n')+1:]
	before := len(s.cells)
	left := s.width - before
	if s.sep != '\t' { // words of a last column may have commas, and no tabs
		left = max(1, left)
	}
	return strings.Count(first, string(s.sep)) >= left && strings.Count(last, string(s.sep)) >= before
}

// skipBlank ends the text where nothing but blank rows follows, as a spreadsheet
// may write a million of them.
func (s *scanner) skipBlank() {
	if strings.TrimLeft(s.text, string(s.sep)+"\r\n \t") == "" {
		s.text = ""
	}
}
