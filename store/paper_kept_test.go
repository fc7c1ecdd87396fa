package store

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"
)

// paperChange is the change that makes the record of a paper, with its file kept under in.
func paperChange(number, in uint64, sum string) Change {
	body := fmt.Sprintf(`{"number":%d,"kind":"letter","file":{"name":"a.pdf","bytes":9,"sha256":%q,"in":%d}}`, number, strings.Repeat(sum, 64), in)
	return Change{Table: tablePapers, Key: numberKey(number), After: json.RawMessage(body)}
}

// What a paper keeps never becomes another, whoever wrote the entries.
func TestKeptNeverChanges(t *testing.T) {
	first := paperChange(1, 1, "a")
	for _, row := range []struct {
		name    string
		changes []Change
		want    string
	}{
		{"two papers of one file", []Change{first, paperChange(2, 1, "a"), paperChange(3, 3, "b")}, ""},
		{"another file under its number", []Change{first, paperChange(2, 1, "b")}, "the file of paper PA-1 becomes another"},
		{"a file of a paper that is none", []Change{first, paperChange(3, 2, "a")}, "the file of paper PA-2 was never brought in"},
		{"a file of a later paper", []Change{paperChange(1, 2, "a")}, "paper PA-1 names a file that no paper before it brought in"},
		{"a checksum alone", []Change{paperChange(1, 0, "a"), paperChange(1, 0, "b")}, ""},
	} {
		all, said := keptBlobs{}, ""
		for _, c := range row.changes {
			if err := all.note(c); err != nil {
				said = err.Error()
			}
		}
		if said != row.want {
			t.Errorf("%s: %q, want %q", row.name, said, row.want)
		}
	}
	// Of the entries that are put back after damage those alone bring a file in that made the
	// paper under whose number it is.
	brought, err := broughtIn([]Entry{{Verb: VerbRecord, Changes: []Change{paperChange(7, 2, "a"), paperChange(8, 8, "b")}}})
	if err != nil || len(brought) != 1 || brought[paperBlobs+8].Name() != "PA-8" {
		t.Errorf("brought in: %+v, %v", brought, err)
	}
}
