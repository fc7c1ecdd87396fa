package disk

import (
	"fmt"
	"slices"
	"testing"
)

// Where an entry was written, not committed and written otherwise under the same
// number, the one that later entries follow is the one that counts.
func TestFollow(t *testing.T) {
	at := func(seq uint64, prev, sum string) Record {
		return Record{Seq: seq, Sum: sum, Body: fmt.Appendf(nil, `{"seq":%d,"prev":%q}`, seq, prev)}
	}
	found := Carved{records: map[uint64][]Record{
		4: {at(4, "three", "four"), at(4, "three", "never"), at(4, "other", "strange")},
		5: {at(5, "four", "five")},
		6: {at(6, "five", "six"), at(6, "five", "six again")},
		8: {at(8, "seven", "eight")},
	}}
	var got []string
	for _, r := range found.Follow(End{3, "three"}) {
		got = append(got, r.Sum)
	}
	if want := []string{"four", "five", "six again"}; !slices.Equal(got, want) {
		t.Errorf("the run is %v, want %v", got, want)
	}
	if got := found.Follow(End{3, "elsewhere"}); len(got) != 0 {
		t.Errorf("of another journal %v is taken", got)
	}
	if got := found.Highest(); got != 8 {
		t.Errorf("the highest is %d, want 8", got)
	}
}
