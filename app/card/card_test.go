package card

import (
	"testing"
)

func TestEmptyCard(t *testing.T) {
	for name, row := range map[string]struct {
		card Card
		want bool
	}{
		"zero": {Card{}, true}, "only notes": {Card{Notes: []string{"x"}}, true}, "designation": {Card{Designation: "A"}, false},
		"place": {Card{Place: "Garage"}, false}, "tallies": {Card{Tallies: []Tally{{Words: "short"}}}, false},
	} {
		t.Run(name, func(t *testing.T) {
			if got := row.card.Empty(); got != row.want {
				t.Errorf("%+v: got %v, want %v", row.card, got, row.want)
			}
		})
	}
}

func TestActionsOfACard(t *testing.T) {
	actions := []Action{{ID: "a"}, {ID: "b"}, {ID: "c"}, {ID: "d"}, {ID: "e"}, {ID: "f"}}
	for n, want := range map[int]string{0: "|", 1: "a|", 4: "abcd|", 5: "abc|de", 6: "abc|def"} {
		c := Card{Actions: actions[:n]}
		got := ""
		for _, a := range c.Buttons() {
			got += a.ID
		}
		got += "|"
		for _, a := range c.More() {
			got += a.ID
		}
		if got != want {
			t.Errorf("%d actions: got %q as buttons and in the list, want %q", n, got, want)
		}
	}
}
