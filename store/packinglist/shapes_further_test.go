package packinglist_test

import (
	"testing"

	"golang.org/x/text/encoding/unicode"
)

// furtherShapes are lists in which two tables, two marks or two languages meet, as text and
// as workbooks.
func furtherShapes(t testing.TB) map[string][]byte {
	utf16 := func(text string) []byte {
		b, err := unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewEncoder().Bytes([]byte(text))
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	files := map[string][]byte{
		"side-by-side.xlsx": workbook(t, tab{name: "List", rows: [][]any{
			{"Part", "Qty", nil, "Part", "Qty"}, {"OQ-1", 12, nil, "OQ-11", 3}, {"OQ-2", 7, nil, "OQ-12", 4}, {"OQ-3", 1},
		}}),
		"crate-merged-over-a-row.xlsx": workbook(t, tab{name: "List", rows: [][]any{
			{"Part", "Description", "Qty"}, {"Crate C1"}, {"OQ-1", "Rib", 12}, {"Crate C2 of 2"}, {"OQ-2", "Skin", 7},
		}, merged: []string{"A2:C2", "A4:C4"}}),
		"units-by-heading.xlsx": workbook(t, tab{name: "List", rows: [][]any{
			{"Part", "Qty (ft)", "Description"}, {"OQ-80-A12", 12, "Angle"}, {"OQ-80-T58", 5.5, "Tube"},
		}}),
	}
	for name, text := range map[string]string{
		"side-by-side.csv":               "Part,Description,Qty,,Part,Description,Qty\nOQ-1,Rib,12,,OQ-11,Cap,3\nOQ-2,Skin,7,,OQ-12,Cover,4\nOQ-3,Spar,1,,,,\n",
		"side-by-side-no-gap.csv":        "Part,Qty,Part,Qty\nOQ-1,12,OQ-11,3\nOQ-2,7,OQ-12,4\n",
		"side-by-side-lines.csv":         "Line,Part,Qty,Line,Part,Qty\n1,OQ-1,12,3,OQ-11,3\n2,OQ-2,7,4,OQ-12,4\n",
		"unit-behind-the-number.csv":     "Part,Description,Qty\nAN3-5A,Bolt,12 EA\nAN3-6A,Bolt,12EA\nOQ-1,Angle,12'\nOQ-2,Tube,\"36\"\"\"\nOQ-3,Rivet,.25#\nOQ-4,Nut,12 PCS\nOQ-5,Nut,(12)\nOQ-6,Nut,12 pc.\nOQ-7,Nut,1 dz\n",
		"thousands-by-comma.csv":         "Part,Qty,Unit\nAN426AD3-3,\"1,200\",ea\nAN426AD3-4,\"12,500\",ea\nAN3-5A,24,ea\n",
		"thousands-by-no-break.csv":      "Part;Qty;Unit\nAN426AD3-3;1\u00a0200;ea\nAN426AD3-4;12\u202f500;ea\nAN3-5A;24;ea\n",
		"thousands-by-apostrophe.csv":    "Part;Qty;Unit\nAN426AD3-3;1'200;ea\nAN426AD3-4;12\u2019500;ea\nAN3-5A;24;ea\n",
		"both-marks.csv":                 "Part;Qty;Unit\nOQ-1;1.200,50;lb\nOQ-2;0,25;lb\nOQ-3;1.200;lb\n",
		"unit-in-the-heading.csv":        "Part,Description,Qty (lb)\nAN426AD3-3,Rivet,0.25\nAN426AD3-4,Rivet,0.5\n",
		"qty-and-weight.csv":             "Part,Qty,Weight lb\nOQ-1,12,3.5\nOQ-2,7,1.25\n",
		"qty-per-kit.csv":                "Part,Description,Qty per kit,Kits\nAN3-5A,Bolt,2,25\nAN3-6A,Bolt,1,10\n",
		"ordered-shipped-back.csv":       "Part,Ordered,Shipped,B/O\nOQ-1,12,12,0\nOQ-2,8,7,1\nOQ-3,4,0,4\nOQ-4,2,,2\n",
		"dates-day-first.csv":            "Part,Qty,Date\nOQ-1,12,14/03/2026\nOQ-2,7,03/04/2026\n",
		"dates-in-the-quantity.csv":      "Part,Qty\nOQ-1,12\nOQ-2,3-Apr\nOQ-3,2026-03-04\nOQ-4,1/2/26\n",
		"part-turned-to-a-date.csv":      "Part,Qty\nAN3-5A,12\nMar-10,4\n3/10/2026,2\n",
		"part-turned-to-a-number.csv":    "Part,Qty\n1.23E+11,12\nOQ-1,4\n",
		"headings-on-every-page.csv":     "Part,Description,Qty\nOQ-1,Rib,12\nPage 1 of 2,,\nPart,Description,Qty\nOQ-2,Skin,7\nPage 2 of 2,,\n",
		"continued.csv":                  "Part,Description,Qty\nBag H101,,\nOQ-1,Rib,12\ncontinued on next page,,\nPart,Description,Qty\nBag H101 (continued),,\nOQ-2,Skin,7\n*** end of list ***,,\n",
		"continued-cell.csv":             "Part,Description,Qty\nOQ-1,Rib with a long,12\n,description,\nOQ-2,Skin,7\n",
		"carried-forward.csv":            "Part,Description,Qty\nOQ-1,Rib,12\n,Carried forward,12\nPart,Description,Qty\n,Brought forward,12\nOQ-2,Skin,7\nTotal,,19\n",
		"semicolons-comma-decimals.csv":  "Pos;Part;Description;Qty;Unit\n1;AN426AD3-3;Rivet;0,25;lb\n2;AN3-5A;Bolt;24;ea\n3;AN426AD3-4;Rivet;1,250;lb\n",
		"tabs-with-quotes.txt":           "Part\tDescription\tQty\nOQ-1\t\"Rib, 3/4\"\" left\"\t12\nOQ-2\t3/4\" skin\t7\nOQ-3\t\"Spar\nof two rows\"\t1\n",
		"spaces-aligned.txt":             "Part        Description      Qty\nOQ-1        Rib               12\nOQ-2        Skin, left         7\nAN3-5A      Bolt, undrilled   24\n",
		"pipes.txt":                      "| Part | Description | Qty |\n|------|-------------|-----|\n| OQ-1 | Rib | 12 |\n| OQ-2 | Skin | 7 |\n",
		"rtf.txt":                        "{\\rtf1\\ansi\\deff0 Part\\tab Qty\\par OQ-1\\tab 12\\par OQ-2\\tab 7\\par}\n",
		"negative.csv":                   "Part,Qty\nOQ-1,12\nOQ-2,-3\nOQ-3,(4)\nOQ-4,5-\n",
		"ranges.csv":                     "Part,Qty\nOQ-1,12\nOQ-2,3-4\nOQ-3,~5\nOQ-4,5+\nOQ-5,min 6\nOQ-6,6 (2 spare)\nOQ-7,6+2\n",
		"left-and-right.csv":             "Part,Description,LH,RH\nOQ-1,Rib,2,2\nOQ-2,Skin,1,0\n",
		"letters-for-digits.csv":         "Part,Qty\nOQ-1,1O\nOQ-2,l2\nOQ-3,I\nOQ-4,12\n",
		"full-width.csv":                 "Part,Qty\nOQ-1,１２\nOQ-2,٣\nOQ-3,½\nOQ-4,1½\n",
		"one-two-many.csv":               "Part,Qty\nOQ-1,one\nOQ-2,a pair\nOQ-3,None\nOQ-4,n/a\nOQ-5,TBD\nOQ-6,-\nOQ-7,0\n",
		"unit-of-heading-and-cell.csv":   "Part,Description,Qty (ft)\nOQ-80-A12,Angle,12\nOQ-80-A06,Angle,8 ft\nAN3-5A,Bolt,24 ea\n",
		"unit-of-heading-and-column.csv": "Part,\"Qty, lb\",Unit\nAN426AD3-3,0.25,\nAN426AD3-4,0.5,lb\nAN3-5A,24,ea\n",
		"qty-in-dozens.csv":              "Part,Qty (doz)\nAN3-5A,2\nAN3-6A,1\n",
		"qty-in-thousands.csv":           "Part,Qty [M]\nAN426AD3-3,2\n",
		"qty-shipped-in-brackets.csv":    "Part,Description,Qty (shipped)\nAN3-5A,Bolt,24\n",
	} {
		files[name] = []byte(text)
	}
	files["tabs-utf16.txt"] = utf16("Part\tDescription\tQty\r\nOQ-1\tRib 3/4\"\t12\r\nOQ-2\tSkin, left\t7\r\n")
	return files
}
