package packinglist_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"stowright/store/packinglist"
)

// TestPrices reads a price for certain or not at all: of a line it is never a reason to be
// left out. Where the currency alone is not known it is asked, once for the list.
func TestPrices(t *testing.T) {
	for _, row := range []struct {
		heading, cell string
		answer        string // to which currency
		want          string
		asks          string // the readings of the question; empty: none is asked
	}{
		{"Unit price", "4.50 USD", "", "4.50 USD", ""},
		{"Unit price", "EUR 4.50", "", "4.50 EUR", ""},
		{"Unit price", "4.50 nzd", "", "4.50 NZD", ""},
		{"Unit price", "NZD 4.50", "", "4.50 NZD", ""},
		{"Unit price", "€4,50", "", "4.50 EUR", ""},
		{"Unit price", "£.45", "", ".45 GBP", ""},
		{"Unit price", "usd 1,234.50", "", "1234.50 USD", ""},
		{"Unit price", "1.234,50 EUR", "", "1234.50 EUR", ""},
		{"Unit price", "CAD $4.50", "", "4.50 CAD", ""},
		{"Unit price (USD)", "$4.50", "", "4.50 USD", ""},
		{"Price each EUR", "0,125", "", "0.125 EUR", ""},
		{"Unit cost GBP", "12", "", "12 GBP", ""},
		{"Unit price (USD)", "1.250", "", "", ""}, // thousands, or thousandths
		{"Unit price (USD)", "1,250", "", "", ""},
		{"Unit price (USD)", "0.250", "", "0.250 USD", ""},
		{"Unit price (USD)", "1,234,567", "", "1234567 USD", ""},
		{"Unit price (USD)", "0.00", "", "", ""}, // part of the kit
		{"Unit price (USD)", "N/C", "", "", ""},
		{"Unit price (USD)", "-4.50", "", "", ""},
		{"Unit price (USD)", "4.50/100", "", "", ""},
		{"Unit price (USD)", "", "", "", ""},
		{"Unit price", "$4.50", "", "", "USD CAD AUD NZD none"},
		{"Unit price", "$4.50", "AUD", "4.50 AUD", "USD CAD AUD NZD none"},
		{"Unit price", "$4.50", "none", "", "USD CAD AUD NZD none"},
		{"Unit price", "4.50", "EUR", "4.50 EUR", "USD EUR GBP CAD AUD none"},
		{"Unit price", "N/C", "", "", ""},
		{"Price (USD)", "4.50", "", "", ""}, // it may be that of the line
	} {
		t.Run(row.heading+" "+row.cell, func(t *testing.T) {
			r := reading(t, packinglist.Choices{Answers: map[string]string{"currency": row.answer}}, "Part;Qty;"+row.heading+"\nOQ-1;2;"+row.cell+"\nOQ-2;3;"+row.cell+"\n")
			if len(r.Lines) != 2 || len(r.Bad) > 0 {
				t.Fatalf("%d lines, bad %+v", len(r.Lines), r.Bad)
			}
			var asks []string
			for _, q := range r.Questions {
				for _, a := range q.Readings {
					asks = append(asks, a.ID)
				}
			}
			if got := strings.Join(asks, " "); r.Lines[0].Price != row.want || got != row.asks {
				t.Errorf("got %q, asked %q, want %q, asked %q", r.Lines[0].Price, got, row.want, row.asks)
			}
			if open := row.asks != "" && row.answer == ""; (len(r.Open()) == 1) != open || (r.Lines[1].Doubt == "currency") != open {
				t.Errorf("open %+v, line in doubt %q", r.Open(), r.Lines[1].Doubt)
			}
		})
	}
}

// A workbook says in the format of its cells that they are money, and often of which currency.
func TestPricesInAWorkbook(t *testing.T) {
	for code, want := range map[string]string{`"$"#,##0.00`: "1234.50 USD", `[$€-407] #,##0.00`: "1234.50 EUR", `#,##0.00 "GBP"`: "1234.50 GBP"} {
		f := excelize.NewFile()
		style, err := f.NewStyle(&excelize.Style{CustomNumFmt: &code})
		if err != nil {
			t.Fatal(err)
		}
		for i, row := range [][]any{{"Part", "Qty", "Unit price"}, {"OQ-1", 2, 1234.5}} {
			if err := f.SetSheetRow("Sheet1", fmt.Sprintf("A%d", i+1), &row); err != nil {
				t.Fatal(err)
			}
		}
		if err := f.SetCellStyle("Sheet1", "C2", "C2", style); err != nil {
			t.Fatal(err)
		}
		data, err := f.WriteToBuffer()
		if err != nil {
			t.Fatal(err)
		}
		book, err := packinglist.Open("list.xlsx", data.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		r := book.Read(packinglist.Choices{Answers: map[string]string{"currency": "USD"}})
		if len(r.Lines) != 1 || r.Lines[0].Price != want {
			t.Errorf("%s: got %+v, want %s", code, r.Lines, want)
		}
	}
}

// A price makes another list of one that says none, so that it can be brought in to add them.
func TestPriceAndFingerprint(t *testing.T) {
	print := func(price string) string {
		return packinglist.List{Lines: []packinglist.Line{{Number: 1, Designation: "OQ-1", Price: price}}}.Fingerprint()
	}
	if print("") == print("4.50 USD") || print("4.50 USD") == print("4.51 USD") || print("") != (packinglist.List{Lines: []packinglist.Line{{Number: 1, Designation: "OQ-1"}}}).Fingerprint() {
		t.Error("the fingerprint does not go by the price")
	}
}
