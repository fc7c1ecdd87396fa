package exchange

import (
	"archive/zip"
	"encoding/xml"
	"fmt"
	"io"
	"regexp"
	"strings"
	"unicode/utf8"
)

// WriteCSV writes rows for a spreadsheet, the heading first. No cell is taken for a formula.
func WriteCSV(w io.Writer, rows [][]string) error {
	copied := make([][]string, len(rows))
	for i, row := range rows {
		copied[i] = append([]string(nil), row...)
	}
	return writeSheet(copied, w)
}

// The parts of a workbook with one sheet, as ECMA-376 (Office Open XML) has them; what a
// reader can do without is left out.
const (
	workbookTypes = xml.Header + `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">` +
		`<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>` +
		`<Default Extension="xml" ContentType="application/xml"/>` +
		`<Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/>` +
		`<Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/></Types>`
	workbookRels = xml.Header + `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">` +
		`<Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>`
	sheetRels = xml.Header + `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">` +
		`<Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`
	workbookPart = xml.Header + `<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" ` +
		`xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="%s" sheetId="1" r:id="rId1"/></sheets></workbook>`
	sheetBegin = xml.Header + `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>`
	sheetEnd   = `</sheetData></worksheet>`
)

// plainFigure is a figure as a cell may hold one: no leading noughts, which are a name's.
var plainFigure = regexp.MustCompile(`^-?(0|[1-9][0-9]{0,14})(\.[0-9]{1,6})?$`)

// WriteXLSX writes rows as a workbook with one sheet, the heading first. Cells of the
// columns that are figures are numbers where they can be; all others are texts.
func WriteXLSX(w io.Writer, name string, rows [][]string, figures map[int]bool) error {
	z := zip.NewWriter(w)
	for _, part := range []struct{ name, text string }{
		{"[Content_Types].xml", workbookTypes},
		{"_rels/.rels", workbookRels},
		{"xl/workbook.xml", fmt.Sprintf(workbookPart, escaped(name))},
		{"xl/_rels/workbook.xml.rels", sheetRels},
		{"xl/worksheets/sheet1.xml", sheetText(rows, figures)},
	} {
		f, err := z.Create(part.name)
		if err != nil {
			return err
		}
		if _, err := io.WriteString(f, part.text); err != nil {
			return err
		}
	}
	return z.Close()
}

func sheetText(rows [][]string, figures map[int]bool) string {
	var b strings.Builder
	b.WriteString(sheetBegin)
	for i, row := range rows {
		fmt.Fprintf(&b, `<row r="%d">`, i+1)
		for j, cell := range row {
			at := fmt.Sprintf("%s%d", columnName(j), i+1)
			switch {
			case cell == "":
			case i > 0 && figures[j] && plainFigure.MatchString(cell):
				fmt.Fprintf(&b, `<c r="%s"><v>%s</v></c>`, at, cell)
			default:
				fmt.Fprintf(&b, `<c r="%s" t="inlineStr"><is><t xml:space="preserve">%s</t></is></c>`, at, escaped(cell))
			}
		}
		b.WriteString(`</row>`)
	}
	b.WriteString(sheetEnd)
	return b.String()
}

// columnName is A for 0, Z for 25 and AA for 26.
func columnName(n int) string {
	name := ""
	for ; n >= 0; n = n/26 - 1 {
		name = string(rune('A'+n%26)) + name
	}
	return name
}

// escaped is a text as XML has it; what XML cannot have is left out.
func escaped(s string) string {
	var b strings.Builder
	if !utf8.ValidString(s) {
		s = strings.ToValidUTF8(s, "")
	}
	_ = xml.EscapeText(&b, []byte(s)) // a builder takes all
	return b.String()
}
