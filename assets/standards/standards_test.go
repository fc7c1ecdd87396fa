package standards

import (
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
