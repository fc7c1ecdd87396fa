package standards

import (
	"encoding/csv"
	"slices"
	"strings"
	"testing"
)

// TestEveryRow: each row of each table has a source and, where the table
// counts them, a number of checks; no table is held that may not be shown.
func TestEveryRow(t *testing.T) {
	if len(Names()) < 30 {
		t.Errorf("only %d tables", len(Names()))
	}
	for _, name := range Names() {
		t.Run(name, func(t *testing.T) {
			table, err := Read(name)
			if err != nil {
				t.Fatal(err)
			}
			if strings.HasPrefix(name, "unverified") {
				t.Errorf("%s: not to be shown as fact", name)
			}
			if !table.Has("source") && name != "bolts_an3_an20_constants" {
				t.Errorf("%s: no source column in %q", name, table.Header())
			}
			for _, r := range table.Rows {
				if table.Has("source") && r.Source() == "" {
					t.Errorf("%s line %d: no source: %q", name, r.Line, r.Cells())
				}
				for _, column := range table.Header() {
					if column != "checked" && !strings.HasSuffix(column, "_checked") {
						continue
					}
					if v := r.Get(column); len(v) != 1 || v[0] < '0' || v[0] > '9' {
						t.Errorf("%s line %d: %s is %q, want a count", name, r.Line, column, v)
					}
				}
			}
		})
	}
}

func TestReadNoSuchTable(t *testing.T) {
	if _, err := Read("nothing"); err == nil || !strings.Contains(err.Error(), `"nothing"`) {
		t.Errorf("got %v, want an error naming the table", err)
	}
}

func TestGet(t *testing.T) {
	table, err := Read("pins_clevis")
	if err != nil {
		t.Fatal(err)
	}
	if got := table.Rows[0].Get("an_series"); got != "AN392" {
		t.Errorf("got %q, want AN392", got)
	}
	if got := table.Rows[0].Get("no such column"); got != "" {
		t.Errorf("got %q, want nothing", got)
	}
	if got := table.Rows[0].Checked("source"); got != 0 {
		t.Errorf("got %d, want 0 for what is no number", got)
	}
}

// TestReadAsEncodingCSV: every file is read as the standard library reads it.
func TestReadAsEncodingCSV(t *testing.T) {
	for _, name := range Names() {
		f, err := files.Open(name + ".csv")
		if err != nil {
			t.Fatal(err)
		}
		want, err := csv.NewReader(f).ReadAll()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		table, err := Read(name)
		if err != nil {
			t.Fatal(err)
		}
		got := [][]string{table.Header()}
		for _, r := range table.Rows {
			got = append(got, r.Cells())
		}
		if !slices.EqualFunc(got, want, slices.Equal) {
			t.Errorf("%s: got other cells than encoding/csv", name)
		}
	}
}

// TestParse: quotes and what is no table. A line number is that of the file.
func TestParse(t *testing.T) {
	tests := []struct {
		name, text string
		rows       [][]string
		problem    string // part of it, "" where the text is a table
	}{
		{"plain", "a,b\n1,2\n3,4\n", [][]string{{"1", "2"}, {"3", "4"}}, ""},
		{"no line end at the end", "a,b\n1,2", [][]string{{"1", "2"}}, ""},
		{"empty cells", "a,b,c\n,,\n", [][]string{{"", "", ""}}, ""},
		{"comma in quotes", "a,b\n\"1,5\",2\n", [][]string{{"1,5", "2"}}, ""},
		{"last in quotes", "a,b\n1,\"2,5\"\n", [][]string{{"1", "2,5"}}, ""},
		{"quotes in quotes", "a,b\n\"3/16\"\"\",\"\"\n", [][]string{{`3/16"`, ""}}, ""},
		{"header alone", "a,b\n", nil, ""},
		{"empty", "", nil, "empty"},
		{"too few", "a,b\n1,2\n3\n", nil, "line 3: wrong number of fields"},
		{"too many", "a,b\n1,2,3\n", nil, "line 2: wrong number of fields"},
		{"one too few and one too many", "a,b\n1\n2,3,4\n", nil, "line 2: wrong number of fields"},
		{"empty line", "a,b\n\n1,2\n", nil, "line 2: wrong number of fields"},
		{"quote open", "a,b\n\"1,2\n", nil, "line 2: a quote that is not closed"},
		{"quote closed too soon", "a,b\n\"1\"x,2\n", nil, "line 2: a quote that is not closed"},
		{"quote within", "a,b\n1\"x\",2\n", nil, "line 2: a quote in a cell without quotes"},
		{"quote in the header", "a,\"b\n", nil, "a quote that is not closed"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			table, err := parse("test", tt.text)
			if tt.problem != "" {
				if err == nil || !strings.Contains(err.Error(), tt.problem) {
					t.Errorf("%q: got %v, want %q", tt.text, err, tt.problem)
				}
				return
			}
			if err != nil || len(table.Rows) != len(tt.rows) {
				t.Fatalf("%q: got %+v, %v", tt.text, table, err)
			}
			for i, r := range table.Rows {
				if !slices.Equal(r.Cells(), tt.rows[i]) || r.Line != i+2 || r.Get("a") != tt.rows[i][0] {
					t.Errorf("%q: got line %d %q, want %q", tt.text, r.Line, r.Cells(), tt.rows[i])
				}
			}
		})
	}
}
