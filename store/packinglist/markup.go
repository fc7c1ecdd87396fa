package packinglist

import (
	"bufio"
	"bytes"
	"errors"
	"io"
	"strconv"
	"unicode/utf8"
)

// Bounds of markup: a part of a workbook nests a dozen elements deep, and its
// longest piece is the text of one cell.
const (
	maxDepth = 64
	maxToken = 128 << 10 // bytes of one tag or of the text between two
)

// tokenKind is what markup stands at.
type tokenKind int

const (
	startToken tokenKind = iota
	endToken
	textToken
)

// markup walks through the XML of a part of a workbook (W3C Extensible Markup
// Language 1.0, fifth edition) and keeps only the token in hand, so that neither
// deep nesting nor an endless part takes memory. It reads what workbooks use:
// UTF-8, no document type. What the slices hold is lost with the next token.
type markup struct {
	in    *bufio.Reader
	kind  tokenKind
	name  []byte // of the element, without its prefix
	attrs []attribute
	text  []byte // of a text, its references resolved

	tag   []byte // the whole start tag
	open  []byte // full names of the elements that are open, one behind the other
	ends  []int  // where each of them ends in open
	inTag bool   // the "<" of a tag was read
	empty bool   // the element in hand ends at once
	done  bool   // the outermost element has ended
}

// attribute is one of a start tag, its name without prefix, its value as written.
type attribute struct{ name, value []byte }

var errMarkup = errors.New("not well formed")

func newMarkup(r io.Reader) *markup {
	m := &markup{in: bufio.NewReaderSize(r, maxToken)}
	if mark, err := m.in.Peek(3); err == nil && string(mark) == "\xef\xbb\xbf" {
		_, _ = m.in.Discard(3) // they were there a moment ago
	}
	return m
}

// next goes to the next token. At the end of a part that is whole it returns io.EOF.
func (m *markup) next() error {
	if m.empty {
		m.empty = false
		return m.close(m.open[m.lastOpen():])
	}
	for {
		if !m.inTag {
			found, err := m.readText()
			if found || err != nil {
				return err
			}
		}
		m.inTag = false
		c, err := m.in.Peek(1)
		if err != nil {
			return errMarkup
		}
		switch c[0] {
		case '?':
			err = m.skipPast("?>")
		case '!':
			var isText bool
			if isText, err = m.declaration(); isText && err == nil {
				return nil
			}
		case '/':
			return m.endTag()
		default:
			return m.startTag()
		}
		if err != nil {
			return err
		}
	}
}

// readText reads up to the next tag and says whether there was any text.
func (m *markup) readText() (bool, error) {
	raw, err := m.in.ReadSlice('<')
	if err == io.EOF && len(m.ends) == 0 && m.done && len(bytes.TrimSpace(raw)) == 0 {
		return false, io.EOF
	}
	if err != nil {
		return false, early(err)
	}
	m.inTag = true
	raw = raw[:len(raw)-1]
	if len(m.ends) == 0 {
		if len(bytes.TrimSpace(raw)) > 0 {
			return false, errMarkup
		}
		return false, nil
	}
	if len(raw) == 0 {
		return false, nil
	}
	m.kind = textToken
	m.text, err = resolve(m.text[:0], raw)
	return true, err
}

// early keeps an error of the archive, such as a wrong checksum. No error here is
// a token without end, and the end of the text one that came too early.
func early(err error) error {
	if err == nil || err == io.EOF || err == bufio.ErrBufferFull {
		return errMarkup
	}
	return err
}

// declaration reads what starts with "<!": a comment, or text that stands as it is.
func (m *markup) declaration() (isText bool, err error) {
	if head, err := m.in.Peek(3); err == nil && string(head) == "!--" {
		_, _ = m.in.Discard(3)
		return false, m.skipPast("-->")
	}
	if head, err := m.in.Peek(8); err != nil || string(head) != "![CDATA[" || len(m.ends) == 0 {
		return false, errMarkup
	}
	_, _ = m.in.Discard(8)
	m.text = m.text[:0]
	for !bytes.HasSuffix(m.text, []byte("]]>")) {
		piece, err := m.in.ReadSlice('>')
		if m.text = append(m.text, piece...); err != nil || len(m.text) > maxToken {
			return true, errMarkup
		}
	}
	m.kind, m.text = textToken, m.text[:len(m.text)-3]
	if !utf8.Valid(m.text) {
		return true, errMarkup
	}
	return true, nil
}

func (m *markup) skipPast(end string) error {
	var last [2]byte
	for {
		piece, err := m.in.ReadSlice('>')
		joined := append(last[:], piece...)
		if err == nil && bytes.HasSuffix(joined, []byte(end)) {
			return nil
		}
		if err != nil && err != bufio.ErrBufferFull {
			return errMarkup
		}
		copy(last[:], joined[len(joined)-2:])
	}
}

func (m *markup) endTag() error {
	raw, err := m.in.ReadSlice('>')
	if err != nil {
		return early(err)
	}
	return m.close(bytes.TrimRight(raw[1:len(raw)-1], " \t\r\n"))
}

// close ends the element of that full name, which must be the innermost.
func (m *markup) close(full []byte) error {
	if len(m.ends) == 0 {
		return errMarkup
	}
	start := m.lastOpen()
	if !bytes.Equal(full, m.open[start:]) {
		return errMarkup
	}
	m.kind, m.name = endToken, local(m.open[start:])
	m.open, m.ends = m.open[:start], m.ends[:len(m.ends)-1]
	m.done = len(m.ends) == 0
	return nil
}

// lastOpen is where the name of the innermost element starts.
func (m *markup) lastOpen() int {
	if len(m.ends) < 2 {
		return 0
	}
	return m.ends[len(m.ends)-2]
}

func (m *markup) startTag() error {
	m.tag = m.tag[:0]
	for quote := byte(0); ; {
		piece, err := m.in.ReadSlice('>')
		if m.tag = append(m.tag, piece...); err != nil || len(m.tag) > maxToken {
			return early(err)
		}
		if quote = quoteAfter(piece, quote); quote == 0 {
			break
		}
	}
	if m.done || len(m.ends) == maxDepth || !utf8.Valid(m.tag) {
		return errMarkup
	}
	body, empty := bytes.CutSuffix(m.tag[:len(m.tag)-1], []byte("/"))
	full, rest := cutName(body)
	if len(full) == 0 {
		return errMarkup
	}
	if err := m.readAttributes(rest); err != nil {
		return err
	}
	m.open = append(m.open, full...)
	m.ends = append(m.ends, len(m.open))
	m.kind, m.name, m.empty = startToken, local(full), empty
	return nil
}

// quoteAfter is the quote that is open behind a piece of a tag, 0 for none.
func quoteAfter(piece []byte, quote byte) byte {
	for _, c := range piece {
		switch {
		case quote == 0 && (c == '"' || c == '\''):
			quote = c
		case c == quote:
			quote = 0
		}
	}
	return quote
}

// cutName parts a name from what follows it.
func cutName(s []byte) (name, rest []byte) {
	for n, c := range s {
		switch c {
		case ' ', '\t', '\r', '\n', '=', '"', '\'', '<', '>', '/', '&':
			return s[:n], s[n:]
		}
	}
	return s, nil
}

// trimSpace cuts the white space of XML off the front.
func trimSpace(s []byte) []byte {
	for len(s) > 0 && (s[0] == ' ' || s[0] == '\t' || s[0] == '\r' || s[0] == '\n') {
		s = s[1:]
	}
	return s
}

func (m *markup) readAttributes(rest []byte) error {
	m.attrs = m.attrs[:0]
	for {
		trimmed := trimSpace(rest)
		if len(trimmed) == 0 {
			return nil
		}
		if len(trimmed) == len(rest) {
			return errMarkup // nothing parts it from what stands before
		}
		name, after := cutName(trimmed)
		after = trimSpace(after)
		if len(name) == 0 || len(after) == 0 || after[0] != '=' {
			return errMarkup
		}
		after = trimSpace(after[1:])
		if len(after) == 0 || (after[0] != '"' && after[0] != '\'') {
			return errMarkup
		}
		end := bytes.IndexByte(after[1:], after[0])
		if end < 0 || bytes.IndexByte(after[1:1+end], '<') >= 0 {
			return errMarkup
		}
		m.attrs = append(m.attrs, attribute{local(name), after[1 : 1+end]})
		rest = after[2+end:]
	}
}

// local is a name without its prefix.
func local(name []byte) []byte { return name[bytes.IndexByte(name, ':')+1:] }

// attr is the value of the attribute with that name, empty for none.
func (m *markup) attr(name string) string {
	for _, a := range m.attrs {
		if string(a.name) != name {
			continue
		}
		if bytes.IndexByte(a.value, '&') < 0 {
			return string(a.value)
		}
		value, err := resolve(nil, a.value)
		if err != nil {
			return ""
		}
		return string(value)
	}
	return ""
}

// references are those that XML knows by name (section 4.6).
var references = map[string]string{"amp": "&", "lt": "<", "gt": ">", "quot": `"`, "apos": "'"}

// resolve appends the text with its references replaced.
func resolve(to, raw []byte) ([]byte, error) {
	if !utf8.Valid(raw) {
		return to, errMarkup
	}
	for {
		n := bytes.IndexByte(raw, '&')
		if n < 0 {
			return append(to, raw...), nil
		}
		to = append(to, raw[:n]...)
		raw = raw[n+1:]
		end := bytes.IndexByte(raw, ';')
		if end < 1 || end > 10 {
			return to, errMarkup
		}
		name := string(raw[:end])
		raw = raw[end+1:]
		if s, ok := references[name]; ok {
			to = append(to, s...)
			continue
		}
		r, ok := numbered(name)
		if !ok {
			return to, errMarkup
		}
		to = utf8.AppendRune(to, r)
	}
}

// numbered is the character of a reference such as #65 or #x41.
func numbered(name string) (rune, bool) {
	if len(name) < 2 || name[0] != '#' {
		return 0, false
	}
	digits, base := name[1:], 10
	if digits[0] == 'x' {
		digits, base = digits[1:], 16
	}
	n, err := strconv.ParseUint(digits, base, 32)
	if err != nil || n > utf8.MaxRune || !utf8.ValidRune(rune(n)) || n < ' ' && n != '\t' && n != '\n' && n != '\r' {
		return 0, false
	}
	return rune(n), true
}
