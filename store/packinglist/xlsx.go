package packinglist

import (
	"fmt"
	"path"
	"regexp"
	"strconv"
	"strings"
)

// Bounds inside an XLSX workbook, against one that multiplies a long string over
// a long row.
const (
	maxFilled = 1024    // cells with a value in one row
	maxString = 64_000  // bytes of one shared string; spreadsheets allow 32,767 characters
	maxTexts  = 400_000 // shared strings
	maxSheets = 100
)

// xlsxBook is an XLSX workbook (ISO/IEC 29500-1, part 18) while it is read. It
// is held to what the standard says: a pointer outside the table of strings, or
// rows out of order, would lose lines unseen.
type xlsxBook struct {
	archive *archive
	root    string            // folder of the workbook part
	targets map[string]string // part by the id of a relationship
	kinds   map[string]string // part by the last word of the relationship's type
	sheets  []xlsxSheet
	formats []cellFormat // by the number of a cell's style
	strings []string
}

// xlsxSheet is an entry of the workbook's table of sheets.
type xlsxSheet struct {
	name, id string
	hidden   bool
}

// openXLSX reads the sheets of an XLSX workbook.
func openXLSX(b *Book, a *archive) error {
	x := &xlsxBook{archive: a}
	if err := a.walk("_rels/.rels", x.readRelation); err != nil {
		return err
	}
	main := x.part(x.kinds["officeDocument"])
	if main == "" {
		main = "xl/workbook.xml"
	}
	x.root, x.kinds, x.targets = path.Dir(main), nil, nil
	if err := a.walk(main, x.readWorkbook); err != nil {
		return err
	}
	if err := a.walk(path.Join(x.root, "_rels", path.Base(main)+".rels"), x.readRelation); err != nil {
		return err
	}
	if len(x.sheets) > maxSheets {
		return fmt.Errorf("has more than %d sheets; save the list alone in a new workbook", maxSheets)
	}
	if err := a.walkIfThere(x.part(x.kinds["styles"]), x.styles()); err != nil {
		return err
	}
	if err := a.walkIfThere(x.part(x.kinds["sharedStrings"]), x.sharedStrings()); err != nil {
		return err
	}
	for _, s := range x.sheets {
		if err := x.readSheet(b, s); err != nil {
			return err
		}
	}
	return nil
}

// readRelation notes where a related part is, by its id and by its kind.
func (x *xlsxBook) readRelation(m *markup) error {
	if m.kind != startToken || string(m.name) != "Relationship" {
		return nil
	}
	if x.targets == nil {
		x.targets, x.kinds = make(map[string]string), make(map[string]string)
	}
	target := m.attr("Target")
	x.targets[m.attr("Id")] = target
	x.kinds[path.Base(m.attr("Type"))] = target
	return nil
}

// part is the name of a part in the archive, from the target of a relationship.
func (x *xlsxBook) part(target string) string {
	switch {
	case target == "":
		return ""
	case strings.HasPrefix(target, "/"):
		return strings.TrimPrefix(path.Clean(target), "/")
	}
	return path.Join(x.root, target)
}

// readWorkbook reads the table of sheets.
func (x *xlsxBook) readWorkbook(m *markup) error {
	if m.kind == startToken && string(m.name) == "sheet" {
		state := m.attr("state")
		x.sheets = append(x.sheets, xlsxSheet{name: m.attr("name"), id: m.attr("id"), hidden: state == "hidden" || state == "veryHidden"})
		if len(x.sheets) > maxParts {
			return errMarkup
		}
	}
	return nil
}

// styles reads which number format each style of a cell has.
func (x *xlsxBook) styles() func(*markup) error {
	codes := make(map[string]string)
	known := make(map[string]cellFormat)
	inCells := false
	return func(m *markup) error {
		switch name := string(m.name); {
		case m.kind == textToken:
		case name == "cellXfs":
			inCells = m.kind == startToken
		case m.kind == endToken:
		case name == "numFmt":
			codes[m.attr("numFmtId")] = m.attr("formatCode")
		case name == "xf" && inCells:
			id := m.attr("numFmtId")
			f, ok := known[id]
			if !ok {
				f = parseFormat(formatCode(id, codes))
				known[id] = f
			}
			if x.formats = append(x.formats, f); len(x.formats) > maxStyles {
				return errMarkup
			}
		}
		return nil
	}
}

// maxStyles is what spreadsheets allow of them (common practice: 65,490).
const maxStyles = 1 << 16

func formatCode(id string, codes map[string]string) string {
	if code, ok := codes[id]; ok {
		return code
	}
	n, err := strconv.Atoi(id)
	if err != nil {
		return "General"
	}
	return standardFormat(n)
}

// sharedStrings reads the table of strings, of each as much as tells that it is too long.
func (x *xlsxBook) sharedStrings() func(*markup) error {
	var text stringReader
	length, total := 0, 0
	return func(m *markup) error {
		if m.kind == textToken {
			length += len(m.text)
		}
		text.token(m)
		if string(m.name) != "si" || m.kind == textToken {
			return nil
		}
		if m.kind == startToken {
			text, length = stringReader{}, 0
			return nil
		}
		s := text.string()
		if total += len(s); length > maxString || total > MaxText {
			return errMarkup
		}
		if x.strings = append(x.strings, s); len(x.strings) > maxTexts {
			return errUnpacked
		}
		return nil
	}
}

// stringReader gathers the text of a string: one element t, or several in runs,
// without the ones that say how it is pronounced (ISO/IEC 29500-1, 18.4).
type stringReader struct {
	text     []byte
	inText   bool
	phonetic bool
}

func (s *stringReader) token(m *markup) {
	switch {
	case m.kind == textToken:
		if s.inText && !s.phonetic && len(s.text) <= MaxCell {
			s.text = append(s.text, m.text...)
		}
	case string(m.name) == "t":
		s.inText = m.kind == startToken
	case string(m.name) == "rPh":
		s.phonetic = m.kind == startToken
	}
}

// escaped is a character written by its code (ISO/IEC 29500-1, 22.9.2.19).
var escaped = regexp.MustCompile(`_x[0-9A-Fa-f]{4}_`)

func (s *stringReader) string() string {
	text := string(s.text)
	if !strings.Contains(text, "_x") {
		return text
	}
	return escaped.ReplaceAllStringFunc(text, func(code string) string {
		n, err := strconv.ParseUint(code[2:6], 16, 16)
		if err != nil {
			return code
		}
		return string(rune(n))
	})
}
