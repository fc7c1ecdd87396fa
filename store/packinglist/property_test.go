package packinglist_test

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stowright/store/measure"
	"stowright/store/packinglist"
)

// drawLine draws a line with all that part numbers and descriptions may have in
// them: marks that part columns, quotes, letters of other scripts, doubled spaces.
func drawLine(t *rapid.T, number int) packinglist.Line {
	text := rapid.StringMatching(`[A-Za-z0-9"'][A-Za-z0-9"';,/#&<>.é½ 漢-]{0,20}[A-Za-z0-9"')]`)
	fold := func(s string) string { return strings.Join(strings.Fields(s), " ") }
	listed := measure.Quantity{
		Micro: rapid.Int64Range(1, 99_999).Draw(t, "quantity") * rapid.SampledFrom([]int64{1_000_000, 10_000, 100}).Draw(t, "step"),
		Unit:  rapid.SampledFrom([]measure.Unit{measure.Each, measure.Pound, measure.Feet, measure.FluidOunce}).Draw(t, "unit"),
	}
	if listed.Unit.Whole() {
		listed.Micro = max(listed.Micro-listed.Micro%1_000_000, 1_000_000)
	}
	return packinglist.Line{
		Number:      number,
		Crate:       rapid.SampledFrom([]string{"C1", "C2", "Crate 3"}).Draw(t, "crate"),
		Group:       rapid.SampledFrom([]string{"", "SK10", "H101"}).Draw(t, "group"),
		Designation: "OQ" + fold(text.Draw(t, "designation")),
		Description: fold(text.Draw(t, "description")),
		Listed:      listed,
		Status:      rapid.SampledFrom([]packinglist.Status{packinglist.Shipped, packinglist.BackOrdered, packinglist.NotArrived}).Draw(t, "status"),
		Lot:         rapid.SampledFrom([]string{"", "Q7714"}).Draw(t, "lot"),
	}
}

// xmlText writes text for XML.
func xmlText(s string) string {
	return strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;").Replace(s)
}

// asXLSX and asODS write rows with numbers as numbers, without the library that reads them.
func asXLSX(t testing.TB, rows [][]string) []byte {
	var b strings.Builder
	for i, r := range rows {
		fmt.Fprintf(&b, `<row r="%d">`, i+1)
		for j, cell := range r {
			ref := packinglist.ColumnName(j+1) + strconv.Itoa(i+1)
			if i > 0 && (j == 0 || j == 5) {
				fmt.Fprintf(&b, `<c r="%s"><v>%s</v></c>`, ref, cell)
			} else if cell != "" {
				fmt.Fprintf(&b, `<c r="%s" t="inlineStr"><is><t xml:space="preserve">%s</t></is></c>`, ref, xmlText(cell))
			}
		}
		b.WriteString("</row>")
	}
	return parts(t, "<worksheet><sheetData>"+b.String()+"</sheetData></worksheet>", "<sst></sst>")
}

func asODS(t testing.TB, rows [][]string) []byte {
	var b strings.Builder
	for i, r := range rows {
		b.WriteString("<table-row>")
		for j, cell := range r {
			kind := `value-type="string"`
			if i > 0 && (j == 0 || j == 5) {
				kind = `value-type="float" value="` + cell + `"`
			}
			fmt.Fprintf(&b, "<table-cell %s><p>%s</p></table-cell>", kind, xmlText(cell))
		}
		b.WriteString("</table-row>")
	}
	return odsParts(t, odsRows(b.String()))
}

// TestAnyListIsTheSameInEveryFormat writes random lists in each format and wants
// the very lines back.
func TestAnyListIsTheSameInEveryFormat(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		rows := [][]string{{"Line", "Crate", "Group", "Part number", "Description", "Quantity", "Unit", "Status", "Lot"}}
		var lines []packinglist.Line
		for n := range rapid.IntRange(1, 8).Draw(rt, "lines") {
			l := drawLine(rt, n+1)
			lines = append(lines, l)
			rows = append(rows, []string{
				strconv.Itoa(l.Number), l.Crate, l.Group, l.Designation, l.Description,
				l.Listed.Plain(), string(l.Listed.Unit), l.Status.String(), l.Lot,
			})
		}
		want := packinglist.List{Lines: lines}.Fingerprint()
		for name, data := range map[string][]byte{
			"commas.csv":     []byte(written(t, rows, ',', "\n")),
			"semicolons.csv": []byte("\ufeff" + written(t, rows, ';', "\r\n")),
			"tabs.txt":       utf16Bytes(written(t, rows, '\t', "\r\n"), false),
			"book.xlsx":      asXLSX(t, rows),
			"book.ods":       asODS(t, rows),
		} {
			table, err := openTable(name, data)
			if err != nil {
				rt.Fatalf("%v", err)
			}
			got, problems := readBy(table, packinglist.Guess(table), plainly)
			if len(problems) > 0 || got.Fingerprint() != want {
				rt.Fatalf("%s (%s): got %+v, %v; want %+v", name, table.Format, got.Lines, problems, lines)
			}
		}
	})
}
