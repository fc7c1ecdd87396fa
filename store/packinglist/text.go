package packinglist

import (
	"bytes"
	"errors"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

// separators are the characters that may part the columns of a text.
var separators = []struct {
	char byte
	name string
}{{',', "commas"}, {';', "semicolons"}, {'\t', "tabs"}}

// openText reads text with separated columns. Of the three separators it takes
// the one by which most headings are recognised, then the one that gives most
// cells; commas win a tie.
func openText(b *Book, data []byte) error {
	text, encoding, err := decodeText(data)
	if err != nil {
		return err
	}
	if hint, rest, ok := separatorHint(text); ok {
		return b.addText(splitTable(b, rest, encoding, hint, 1))
	}
	var best *Table
	var bestErr *Problem
	bestScore, rows := -1, 0
	for i := range separators {
		b.size, b.rows = 0, 0
		t, err := splitTable(b, text, encoding, i, 0)
		if score := Guess(t).score()*1_000_000 + cellsIn(t); score > bestScore {
			best, bestErr, bestScore, rows = t, err, score, b.rows
		}
	}
	b.rows = rows
	return b.addText(best, bestErr)
}

// addText adds the table as the only sheet, unless there is a problem with it.
func (b *Book) addText(t *Table, p *Problem) error {
	if p != nil {
		return p
	}
	b.Format = t.Format
	b.add(Sheet{Table: t})
	return nil
}

// separatorHint reads the first line "sep=;" that some spreadsheets write.
func separatorHint(text string) (index int, rest string, ok bool) {
	for i, s := range separators {
		if rest, found := strings.CutPrefix(text, "sep="+string(s.char)); found {
			return i, strings.TrimPrefix(strings.TrimPrefix(rest, "\r"), "\n"), true
		}
	}
	return 0, text, false
}

// cellsIn counts the filled cells beyond the first of each row.
func cellsIn(t *Table) int {
	n := 0
	for _, r := range t.Rows {
		n += len(r.Cells) - 1
	}
	return min(n, 999_999)
}

// splitTable makes a table of the text; skipped rows come before it in the file.
// With a problem comes the table up to there, to judge the separator by.
func splitTable(b *Book, text, encoding string, sep, skipped int) (*Table, *Problem) {
	s := separators[sep]
	t := b.newTable("text, "+s.name+", "+encoding, "")
	t.semicolons, t.commas = s.char == ';', s.char == ','
	scan := &scanner{text: text, sep: s.char, row: skipped}
	for scan.next() {
		if p := t.addRow(Row{Number: scan.row, Cells: scan.cells}); p != nil {
			return t, p
		}
		if scan.row == MaxRows {
			scan.skipBlank()
		}
	}
	if scan.err != nil {
		return t, &Problem{File: b.File, Row: scan.row, Column: ColumnName(len(scan.cells) + 1), Message: scan.err.Error()}
	}
	if n := len(t.Rows); n > 0 && t.Rows[n-1].Number == scan.row && !strings.HasSuffix(text, "\n") && !strings.HasSuffix(text, "\r") {
		t.openCells = len(scan.cells)
	}
	if len(t.Rows) == 0 {
		return t, fileProblem(b.File, "has no rows; save the list again")
	}
	return t, nil
}

// decodeText finds the encoding: a byte order mark decides, then zero bytes give
// away UTF-16, then what is valid UTF-8 is that, and the rest is Windows-1252.
func decodeText(data []byte) (text, encoding string, err error) {
	switch {
	case bytes.HasPrefix(data, []byte("\xef\xbb\xbf")):
		data, encoding = data[3:], "UTF-8"
	case bytes.HasPrefix(data, []byte("\xff\xfe")):
		return decodeUTF16(data[2:], false)
	case bytes.HasPrefix(data, []byte("\xfe\xff")):
		return decodeUTF16(data[2:], true)
	}
	if even, odd := zeroBytes(data); even+odd > 0 {
		switch {
		case encoding != "" || min(even, odd)*4 > max(even, odd):
			return "", "", errors.New("is not text; save the list as CSV or XLSX")
		default:
			return decodeUTF16(data, even > odd)
		}
	}
	if utf8.Valid(data) {
		return string(data), "UTF-8", nil
	}
	if encoding != "" {
		return "", "", errors.New("says that it is UTF-8 and is not; save the list again as CSV in UTF-8")
	}
	out, err := charmap.Windows1252.NewDecoder().Bytes(data)
	if err != nil || bytes.ContainsRune(out, utf8.RuneError) {
		return "", "", errors.New("has characters of no known encoding; save the list again as CSV in UTF-8")
	}
	return string(out), "Windows-1252", nil
}

// zeroBytes counts the zero bytes at even and odd offsets.
func zeroBytes(data []byte) (even, odd int) {
	for i, b := range data {
		switch {
		case b != 0:
		case i%2 == 0:
			even++
		default:
			odd++
		}
	}
	return even, odd
}

func decodeUTF16(data []byte, bigEndian bool) (text, encoding string, err error) {
	encoding = "UTF-16 LE"
	if bigEndian {
		encoding = "UTF-16 BE"
	}
	if len(data)%2 != 0 {
		return "", "", errors.New("ends in the middle of a character, so it was cut short; copy or download it again")
	}
	units := make([]uint16, len(data)/2)
	for i := range units {
		hi, lo := data[2*i+1], data[2*i]
		if bigEndian {
			hi, lo = lo, hi
		}
		units[i] = uint16(hi)<<8 | uint16(lo)
	}
	for i := 0; i < len(units); i++ {
		r := rune(units[i])
		if !utf16.IsSurrogate(r) {
			continue
		}
		if i+1 == len(units) || utf16.DecodeRune(r, rune(units[i+1])) == utf8.RuneError {
			return "", "", errors.New("has half a character in it, so it was damaged; copy or download it again")
		}
		i++
	}
	return string(utf16.Decode(units)), encoding, nil
}
