package packinglist_test

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"stowright/store/packinglist"
)

// textShapes are lists in the shapes in which they come, as text.
func textShapes() map[string]string {
	bad := "Line,Part number,Description,Qty\n"
	for n := 1; n <= 33; n++ {
		qty := fmt.Sprint(n%7 + 1)
		if n == 20 {
			qty = "4 or 5"
		}
		bad += fmt.Sprintf("%d,OQ-7-%03d,Bracket,%s\n", n, n, qty)
	}
	return map[string]string{
		"total-in-part-column.csv":   "Part,Description,Qty,Unit\nOQ-1,Rib,12,ea\nOQ-2,Skin,7,ea\nTotal,,19,\n",
		"total-in-description.csv":   "Part,Description,Qty\nOQ-1,Rib,12\nOQ-2,Skin,7\n,Total pieces:,19\n",
		"total-disagrees.csv":        "Part,Description,Qty,Unit\nOQ-1,Rib,12,ea\nOQ-2,Skin,7,ea\nTotal,,20,\n",
		"subtotals.csv":              "Line,Part,Qty\nCrate C1,,\n1,OQ-1,12\n2,OQ-2,7\nSubtotal,,19\nCrate C2,,\n3,OQ-3,5\nSub-total,,5\nGrand total,,24\n",
		"one-bad-row.csv":            bad,
		"so-many-of-so-many.csv":     "Part,Description,Qty\nOQ-1,Rib,12/24\nOQ-2,Skin,1/2\nOQ-3,Spar,2\n",
		"fractions-of-a-pound.csv":   "Part,Qty,Unit\nAN426AD3-3,1/4,lb\nAN426AD3-4,1/2,lb\nAN470AD4-4,1 1/2,lb\n",
		"marks-not-told.csv":         "Part;Qty\nAN426AD3-3;1.200\nAN3-5A;24\n",
		"marks-told-by-comma.csv":    "Part;Qty;Unit\nAN426AD3-3;1.200;ea\nAN470AD4-4;0,25;lb\n",
		"marks-told-by-point.csv":    "Part;Qty;Unit\nAN426AD3-3;1.200;lb\nAN470AD4-4;0.25;lb\n",
		"item-numbers.csv":           "Item,Part No.,Description,Qty\n1,OQ-1,Rib,12\n2,OQ-2,Skin,7\n3,OQ-3,Spar,1\nTotal,,,20\n",
		"item-is-the-part.csv":       "Item,Description,Qty\nAN3-5A,Bolt,12\nAN3-6A,Bolt,7\n",
		"two-row-headings.csv":       "Osterhollow Kitworks,,,,\nPacking slip,,Order,OK-20731,\n,,,,\nLine,Part,,Qty,Qty\nNo.,Number,Description,Ordered,Shipped\n1,OQ-1,Rib,12,12\n2,OQ-2,Skin,8,7\n",
		"nested-columns.csv":         "Crate,Sub-kit,Bag,Part,Description,Qty\nC1,SK10,,OQ-10-001,Fin spar,1\nC1,SK10,,OQ-10-002,Fin rib,2\nC1,H100,H101,AN3-5A,Bolt,24\nC1,H100,H101,AN3-6A,Bolt,16\nC1,H100,H102,AN365-1032A,Nut,70\n",
		"nested-rows.csv":            "Part,Description,Qty\nCRATE C1 of 2,,\nSub-kit SK10 - Fin,,\nOQ-10-001,Fin spar,1\nOQ-10-002,Fin rib,2\nBag H101,,\nAN3-5A,Bolt,24\nBag No. H102 (in SK10),,\nAN3-6A,Bolt,16\nCRATE C2,,\nOQ-80-A12,Angle,12 FT\n",
		"group-shown-once.csv":       "Crate,Bag,Part,Qty\nC1,H101,AN3-5A,24\n,,AN3-6A,16\n,H102,AN365-1032A,70\nC2,,OQ-80-A12,2\n",
		"group-blank-for-none.csv":   "Crate,Bag,Part,Qty\nC1,H101,AN3-5A,24\nC1,H101,AN3-6A,16\nC1,,OQ-1,2\nC2,,OQ-2,1\n",
		"words-between.csv":          "Part,Description,Qty\n,Fin,\nOQ-10-001,Fin spar,1\n,Rudder,\nOQ-20-001,Rudder spar,1\n,Thank you for your order,\n",
		"quantities.csv":             "Part,Description,Quantity\nOQ-1,Bolt,12 EA\nOQ-2,Rivet,0.25 LB\nOQ-3,Angle,6 FT\nOQ-4,Pair of hinges,2 pr\nOQ-5,Decals,1 set\nOQ-6,Tube,36 in.\n",
		"quantities-to-ask.csv":      "Part,Description,Quantity\nOQ-1,Hinge,2 @ 36 IN\nOQ-2,Sealant,A/R\nOQ-3,Washer,2 x 12\nOQ-4,Wire,2 M\n",
		"pasted.txt":                 "Crate C1\t\t\nPart Number\tDescription\tQty\nOQ-1\tRib 3/4\"\t12\nOQ-2\tSkin, left\t7\n",
		"two-quantities.csv":         "Part,Description,Qty,Pcs\nOQ-1,Rib,12,10\nOQ-2,Skin,7,7\n",
		"ordered-alone.csv":          "Part,Description,Qty ordered\nOQ-1,Rib,12\n",
		"two-tables.csv":             "Part,Description,Qty\nOQ-1,Rib,12\n,,\nQty,Part,Description\n7,OQ-2,Skin\n",
		"a-piece-is-no-fraction.csv": "Part,Qty,Unit\nOQ-1,1.5,ea\nOQ-2,2,ea\n",
		"units-disagree.csv":         "Part,Qty,Unit\nOQ-1,12 FT,EA\nOQ-2,2,ea\n",
	}
}

// cell is a cell of a workbook to be written, with its number format.
type cell struct {
	value  any
	format string
}

// tab is a sheet of a workbook to be written.
type tab struct {
	name   string
	hidden bool
	rows   [][]any // values, or cells
	merged []string
	unseen []int // rows that are hidden
}

// written by excelize, which is not the reader.
func workbook(t testing.TB, tabs ...tab) []byte {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, s := range tabs {
		_, err := f.NewSheet(s.name)
		must(err)
		for i, row := range s.rows {
			for j, v := range row {
				at, err := excelize.CoordinatesToCellName(j+1, i+1)
				must(err)
				if c, ok := v.(cell); ok {
					style, err := f.NewStyle(&excelize.Style{CustomNumFmt: &c.format})
					must(err)
					must(f.SetCellStyle(s.name, at, at, style))
					v = c.value
				}
				if v != nil {
					must(f.SetCellValue(s.name, at, v))
				}
			}
		}
		for _, m := range s.merged {
			from, to, _ := strings.Cut(m, ":")
			must(f.MergeCell(s.name, from, to))
		}
		for _, row := range s.unseen {
			must(f.SetRowVisible(s.name, row, false))
		}
	}
	must(f.DeleteSheet("Sheet1"))
	for _, s := range tabs {
		must(f.SetSheetVisible(s.name, !s.hidden))
	}
	buf, err := f.WriteToBuffer()
	must(err)
	return buf.Bytes()
}

// bookShapes are lists in the shapes in which they come, as workbooks.
func bookShapes(t testing.TB) map[string][]byte {
	head := []any{"Part number", "Description", "Qty"}
	return map[string][]byte{
		"sheet-per-crate.xlsx": workbook(t,
			tab{name: "Cover", rows: [][]any{{"Your kit comes in two crates"}}},
			tab{name: "Crate C1", rows: [][]any{head, {"OQ-1", "Rib", 12}, {"OQ-2", "Skin", 7}}},
			tab{name: "Crate C2", rows: [][]any{head, {"OQ-3", "Spar", 1}}}),
		"hidden-older-list.xlsx": workbook(t,
			tab{name: "List", rows: [][]any{head, {"OQ-1", "Rib", 12}}},
			tab{name: "Old", hidden: true, rows: [][]any{head, {"OQ-1", "Rib", 99}}}),
		"summary-beside-crates.xlsx": workbook(t,
			tab{name: "All", rows: [][]any{head, {"OQ-1", "Rib", 12}, {"OQ-2", "Skin", 7}}},
			tab{name: "C1", rows: [][]any{head, {"OQ-1", "Rib", 12}, {"OQ-2", "Skin", 7}}}),
		"unit-in-the-format.xlsx": workbook(t, tab{name: "List", rows: [][]any{
			head, {"AN426AD3-3", "Rivet", cell{0.25, `0.00" LB"`}}, {"OQ-80-A12", "Angle", cell{12, `0" ft"`}}, {"AN3-5A", "Bolt", cell{24, `0 "pcs"`}},
		}}),
		"fraction-format.xlsx": workbook(t, tab{name: "List", rows: [][]any{
			{"Part number", "Description", "Qty", "Unit"}, {"AN426AD3-3", "Rivet", cell{0.25, `# ?/?`}, "lb"}, {"AN426AD3-4", "Rivet", cell{1.5, `# ??/??`}, "lb"},
		}}),
		"odd-formats.xlsx": workbook(t, tab{name: "List", rows: [][]any{
			head,
			{"OQ-1", "percent", cell{0.5, `0%`}},
			{"OQ-2", "money", cell{12, `$#,##0`}},
			{"OQ-3", "scaled", cell{1200, `0,`}},
			{"OQ-4", "a date", cell{45000, `d-mmm`}},
			{cell{0.25, `# ?/?`}, "a fraction for a part number", 1},
			{"OQ-6", "boxes", cell{12, `0" boxes"`}},
		}}),
		"merged-groups.xlsx": workbook(t, tab{name: "List", rows: [][]any{
			{"Packing list, order OK-20731"},
			{"Crate", "Part", "Description", "Quantity", nil},
			{nil, "Number", nil, "Ordered", "Shipped"},
			{"Bag H101"},
			{"C1", "AN3-5A", "Bolt", 24, 24},
			{nil, "AN3-6A", "Bolt", 16, 12},
			{nil, "AN3-7A", "Bolt", 8, 8},
			{"Bag H102"},
			{"C2", "AN365-1032A", "Nut", 70, 70},
		}, merged: []string{"A1:E1", "D2:E2", "A4:E4", "A5:A7", "A8:E8"}}),
		"merged-crates.xlsx": workbook(t, tab{name: "List", rows: [][]any{
			{"Crate", "Part", "Qty"}, {"C1", "OQ-1", 12}, {nil, "OQ-2", 7}, {"C2", "OQ-3", 1}, {nil, "OQ-4", 2},
		}, merged: []string{"A2:A3", "A4:A5"}}),
		"merged-quantity.xlsx": workbook(t, tab{name: "List", rows: [][]any{head, {"OQ-1", "Rib", 12}, {"OQ-2", "Skin", nil}}, merged: []string{"C2:C3"}}),
		"hidden-rows.xlsx":     workbook(t, tab{name: "List", rows: [][]any{head, {"OQ-1", "Rib", 12}, {"OQ-2", "Skin", 7}}, unseen: []int{3}}),
		"hidden-sheet.ods": odsParts(t, `<document-content><automatic-styles><style name="ta1"><table-properties display="false"/></style></automatic-styles><body>`+
			`<table name="Old" style-name="ta1">`+odsLine("Part", "Qty")+odsLine("OQ-1", "99")+`</table><table name="List">`+odsLine("Part", "Qty")+odsLine("OQ-1", "12")+`</table></body></document-content>`),
		"unit-in-the-format.ods": odsParts(t, odsRows(odsLine("Part", "Qty"),
			`<table-row><table-cell><p>AN426AD3-3</p></table-cell><table-cell value-type="float" value="0.25"><p>0.25 LB</p></table-cell></table-row>`,
			`<table-row><table-cell><p>AN426AD3-4</p></table-cell><table-cell value-type="float" value="0.5"><p>1/2 LB</p></table-cell></table-row>`)),
	}
}

func odsLine(cells ...string) string {
	s := "<table-row>"
	for _, c := range cells {
		s += "<table-cell><p>" + c + "</p></table-cell>"
	}
	return s + "</table-row>"
}

// toldOf is all that a reading says.
func toldOf(r *packinglist.Reading) string {
	var b strings.Builder
	if r.Order != "" {
		fmt.Fprintf(&b, "order %s\n", r.Order)
	}
	for _, s := range r.Sheets {
		switch {
		case s.Taken && s.Name != "":
			fmt.Fprintf(&b, "sheet %s: %d lines\n", s.Name, s.Lines)
		case !s.Taken:
			fmt.Fprintf(&b, "sheet %s left out: %s\n", s.Name, s.Why)
		}
	}
	for _, l := range r.Lines {
		fmt.Fprintf(&b, "%d | %s | %s | %s | %s | %s | %s", l.Number, l.Crate, l.Group, l.Designation, l.Description, l.Listed, l.Status)
		if l.Doubt != "" {
			fmt.Fprintf(&b, " | unsure: %s", l.Doubt)
		}
		b.WriteByte('\n')
	}
	for _, o := range r.LeftOut {
		fmt.Fprintf(&b, "left out %s: %q: %s\n", place(o.Place), o.Text, o.Why)
	}
	for _, bad := range r.Bad {
		for _, p := range bad.Problems {
			fmt.Fprintf(&b, "bad %s: %q: %s\n", place(bad.Place), bad.Text, p.Error())
		}
	}
	for _, q := range r.Questions {
		fmt.Fprintf(&b, "asked %s: %s\n", q.ID, q.Text)
		for _, a := range q.Readings {
			fmt.Fprintf(&b, "    %s: %s\n", a.ID, a.Text)
		}
		for _, p := range q.Places {
			fmt.Fprintf(&b, "    at %s\n", place(p))
		}
	}
	return b.String()
}

func place(p packinglist.Place) string {
	return strings.TrimSpace(fmt.Sprintf("%s row %d %s", p.Sheet, p.Row, packinglist.ColumnName(p.Column)))
}

// TestShapes compares all that is made of each sample with what is kept beside it.
func TestShapes(t *testing.T) {
	folder := filepath.Join(samples, "shapes")
	if *update {
		files := bookShapes(t)
		for name, text := range textShapes() {
			files[name] = []byte(text)
		}
		maps.Copy(files, furtherShapes(t))
		for name, data := range files {
			if err := os.WriteFile(filepath.Join(folder, name), data, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if strings.HasSuffix(e.Name(), ".read.txt") {
			continue
		}
		t.Run(e.Name(), func(t *testing.T) {
			path := filepath.Join(folder, e.Name())
			book, err := packinglist.OpenFile(t.Context(), path)
			if err != nil {
				t.Fatal(err)
			}
			got := toldOf(book.Read(packinglist.Choices{}))
			if *update {
				if err := os.WriteFile(path+".read.txt", []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(path + ".read.txt")
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("got:\n%swant:\n%s", got, want)
			}
		})
	}
}
