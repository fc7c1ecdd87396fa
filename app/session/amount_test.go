package session

import (
	"strings"
	"testing"

	"stowright/app/wording"
	"stowright/store/measure"
)

func TestParseAmount(t *testing.T) {
	for _, row := range []struct {
		text    string
		unit    measure.Unit
		want    string
		problem string
	}{
		{"12", measure.Each, "12 ea", ""},
		{" 12 ", measure.Each, "12 ea", ""},
		{"0", measure.Each, "0 ea", ""},
		{"0.30", measure.Pound, "0.3 lb", ""},
		{"1.5", measure.Feet, "1.5 ft", ""},
		{"1.5", measure.Each, "", "1.5 is not a whole number of pieces: count them again."},
		{"twelve", measure.Each, "", "\"twelve\" is not an amount: type a number such as 12."},
		{"", measure.Each, "", "\"\" is not an amount"},
		{"-2", measure.Each, "", "\"-2\" is not an amount"},
	} {
		t.Run(row.text+" "+string(row.unit), func(t *testing.T) {
			q, err := ParseAmount(row.text, row.unit)
			if row.problem != "" {
				if got := wording.Error(err); !strings.HasPrefix(got, row.problem) {
					t.Errorf("got %q, want %q", got, row.problem)
				}
				return
			}
			if err != nil || q.String() != row.want {
				t.Errorf("got %q and %v, want %q", q, err, row.want)
			}
		})
	}
}
