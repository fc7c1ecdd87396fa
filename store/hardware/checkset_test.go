package hardware

import (
	"encoding/csv"
	"os"
	"strconv"
	"strings"
	"testing"
)

// TestCheckSet holds decoding against testdata/hardware/numbers.csv: numbers of
// every family with what is expected of them and where that comes from. The
// expectations were written from the sources named there, not from the tables.
//
//	expect   known, refused (with part of the sentence), or no (not hardware)
//	field    a field whose text begins with want; "kind"; "checked X" for the
//	         count of sources of field X; "no field" for one that must not be there
func TestCheckSet(t *testing.T) {
	f, err := os.Open("../../testdata/hardware/numbers.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	texts := map[string]bool{}
	for i, row := range rows[1:] {
		text, expect, designation, field, want, source := row[0], row[1], row[2], row[3], row[4], row[5]
		texts[text] = true
		if source == "" {
			t.Errorf("row %d: %s: no source", i+2, text)
		}
		r := Decode(text)
		switch {
		case expect == "known" && (!r.Known || r.Designation != designation):
			t.Errorf("row %d: %q: got %q (%s), want %s", i+2, text, r.Designation, r.Problem, designation)
			continue
		case expect == "refused" && (r.Known || r.Problem == "" || !strings.Contains(r.Problem, want)):
			t.Errorf("row %d: %q: got %v %q, want it refused with %q", i+2, text, r.Known, r.Problem, want)
			continue
		case expect == "no" && (r.Known || r.Problem != ""):
			t.Errorf("row %d: %q: got %q %q, want nothing", i+2, text, r.Designation, r.Problem)
			continue
		}
		if expect == "known" && !says(r, field, want) {
			got, _ := r.Field(strings.TrimPrefix(field, "checked "))
			t.Errorf("row %d: %q %s: got %q with %d sources, want %q (%s)", i+2, text, field, got.Text, got.Checked, want, source)
		}
	}
	if len(rows)-1 < 400 || len(texts) < 400 {
		t.Errorf("%d rows on %d numbers: the set is to hold 400", len(rows)-1, len(texts))
	}
}

// says holds one expectation against a result.
func says(r Result, field, want string) bool {
	switch {
	case field == "kind":
		return string(r.Kind) == want
	case field == "no field":
		_, there := r.Field(want)
		return !there
	case strings.HasPrefix(field, "checked "):
		f, ok := r.Field(strings.TrimPrefix(field, "checked "))
		return ok && strconv.Itoa(f.Checked) == want
	}
	f, ok := r.Field(field)
	return ok && strings.HasPrefix(f.Text+" ", want)
}
