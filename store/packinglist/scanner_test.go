package packinglist

import (
	"encoding/csv"
	"reflect"
	"strings"
	"testing"
)

// TestScannerByRFC4180 has one row for each rule of RFC 4180, section 2, and
// those for what the scanner takes beyond it.
func TestScannerByRFC4180(t *testing.T) {
	for _, c := range []struct {
		name, input string
		sep         byte
		want        [][]string
	}{
		{"rule 1, rows end in CRLF", "aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", ',', [][]string{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}}},
		{"rule 2, the last may not", "aaa,bbb,ccc\r\nzzz,yyy,xxx", ',', [][]string{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}}},
		{"rule 4, spaces belong to a cell", "aaa, bbb ,ccc", ',', [][]string{{"aaa", " bbb ", "ccc"}}},
		{"rule 5, quotes around a cell", "\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx", ',', [][]string{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}}},
		{"rule 6, line ends and commas in quotes", "\"aaa\",\"b\r\nbb\",\"c,cc\"\r\nzzz,yyy,xxx", ',', [][]string{{"aaa", "b\r\nbb", "c,cc"}, {"zzz", "yyy", "xxx"}}},
		{"rule 7, a quote doubled in quotes", `"aaa","b""bb","ccc"`, ',', [][]string{{"aaa", `b"bb`, "ccc"}}},
		{"only doubled quotes", `"""",""`, ',', [][]string{{`"`, ""}}},
		{"a quote inside a bare cell", `AN3-5A,Bolt 3/16",24`, ',', [][]string{{"AN3-5A", `Bolt 3/16"`, "24"}}},
		{"empty cells", ",a,,\n", ',', [][]string{{"", "a", "", ""}}},
		{"a separator at the very end", "a,", ',', [][]string{{"a", ""}}},
		{"blank rows count", "a\n\n\nb", ',', [][]string{{"a"}, {""}, {""}, {"b"}}},
		{"LF alone", "a,b\nc,d\n", ',', [][]string{{"a", "b"}, {"c", "d"}}},
		{"CR alone", "a,b\rc,d\r", ',', [][]string{{"a", "b"}, {"c", "d"}}},
		{"semicolons", "a,b;c\n", ';', [][]string{{"a,b", "c"}}},
		{"tabs", "a\t\"b\tc\"\n", '\t', [][]string{{"a", "b\tc"}}},
		{"words of several rows, with commas", "a,b,c\nd,\"e, f, g\nh i\",j\n", ',', [][]string{{"a", "b", "c"}, {"d", "e, f, g\nh i", "j"}}},
		{"words of several rows in the last column", "a,b\nc,\"1\nd, 2\"\n", ',', [][]string{{"a", "b"}, {"c", "1\nd, 2"}}},
		{"nothing", "", ',', nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := scan(c.input, c.sep)
			if err != nil || !reflect.DeepEqual(got, c.want) {
				t.Errorf("%q: got %q, %v; want %q", c.input, got, err, c.want)
			}
		})
	}
}

func TestScannerStopsWhereACellIsBroken(t *testing.T) {
	for _, c := range []struct {
		name, input, want string
		row, cell         int
	}{
		{"never ends", "a,b\nc,\"d,e\nf,g\n", "never ends", 2, 1},
		{"ends in a doubled quote", `a,"b""`, "never ends", 1, 1},
		{"holds the end of a row and the beginning of the next", "a,b,c\nd,\"e,1\nf,g\",2\n", "over whole rows", 2, 1},
		{"that with a blank row between", "a,b,c\n\nd,\"e,1\r\nf,g\",2\n", "over whole rows", 3, 1},
		{"that of the first column", "a,b,c\n\"d,e,1\nf\",g,2\n", "over whole rows", 2, 0},
		{"that of the last column, with tabs", "a\tb\nc\t\"1\nd\t2\"\n", "over whole rows", 2, 1},
		{"several rows", "a,b,c\nd,\"e,1\nf,g,2\nh,i\",3\n", "over whole rows", 2, 1},
		{"text behind a quote", "a\n\"3/16\" bolt,4\n", "behind the closing quote", 2, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := &scanner{text: c.input, sep: ','}
			if strings.Contains(c.input, "\t") {
				s.sep = '\t'
			}
			for s.next() {
			}
			if s.err == nil || !strings.Contains(s.err.Error(), c.want) || s.row != c.row || len(s.cells) != c.cell {
				t.Errorf("%q: got %v in row %d after %d cells; want %q in row %d after %d", c.input, s.err, s.row, len(s.cells), c.want, c.row, c.cell)
			}
			if s.next() {
				t.Error("it goes on after an error")
			}
		})
	}
}

// scan is all rows of a text.
func scan(text string, sep byte) (rows [][]string, err error) {
	s := &scanner{text: text, sep: sep}
	for s.next() {
		rows = append(rows, append([]string(nil), s.cells...))
	}
	return rows, s.err
}

// FuzzScanner takes encoding/csv as the judge wherever that is content: it drops
// blank rows, is strict about quotes, and knows no CR alone.
func FuzzScanner(f *testing.F) {
	for _, s := range []string{"a,b\nc,d\n", "\"a\"\"b\",\"c\nd\"\n", ",\n", "a,", "\n\na", "\"a\"x", "\"", "a\"b,c"} {
		f.Add(s, byte(','))
	}
	f.Fuzz(func(t *testing.T, text string, sep byte) {
		sep = separators[int(sep)%len(separators)].char
		got, gotErr := scan(text, sep)
		if n := strings.Count(text, "\n") + strings.Count(text, "\r") + 1; len(got) > n {
			t.Fatalf("%q: %d rows out of %d lines", text, len(got), n)
		}
		if strings.Contains(text, "\r") {
			return
		}
		judge := csv.NewReader(strings.NewReader(text))
		judge.Comma, judge.FieldsPerRecord = rune(sep), -1
		want, err := judge.ReadAll()
		if err != nil {
			return
		}
		var filled [][]string
		for _, r := range got {
			if len(r) > 1 || r[0] != "" {
				filled = append(filled, r)
			}
		}
		// A row of one empty cell in quotes is blank here and a record there.
		var records [][]string
		for _, r := range want {
			if len(r) > 1 || r[0] != "" {
				records = append(records, r)
			}
		}
		if gotErr != nil || !reflect.DeepEqual(filled, records) {
			t.Fatalf("%q by %q: got %q, %v; encoding/csv has %q", text, sep, filled, gotErr, records)
		}
	})
}

// Blank rows at the end are not looked at one by one; what is not blank is.
func TestBlankRowsAreSkipped(t *testing.T) {
	for text, want := range map[string]string{",,\r\n \t\n": "", "": "", ",,\nx,\n": ",,\nx,\n"} {
		s := &scanner{text: text, sep: ','}
		if s.skipBlank(); s.text != want {
			t.Errorf("of %q is left %q, want %q", text, s.text, want)
		}
	}
}
