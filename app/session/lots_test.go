package session_test

import (
	"strings"
	"testing"

	"stowright/app/demo"
	"stowright/app/session"
	"stowright/app/session/sessiontest"
	"stowright/store"
)

// Which lots have a life is followed entry by entry: what is described, undone and done again,
// and what is described while nobody asks. A session that is new says the same.
func TestDatedFollows(t *testing.T) {
	b := tank{sessiontest.Open(t, demo.Unpacked), t}
	dated := func(s *session.Session) string {
		t.Helper()
		list, err := session.Answer(s, func(r *session.Reader) ([]session.LotHere, error) { return r.Dated() })
		if err != nil {
			t.Fatal(err)
		}
		var words []string
		for _, l := range list {
			words = append(words, l.Lot.Item+" "+l.Mark.Word)
		}
		return strings.Join(words, ", ")
	}
	want := func(what, want string) {
		t.Helper()
		if got := dated(b.Session); got != want {
			t.Errorf("%s: %q, want %q", what, got, want)
		}
		if got := dated(sessiontest.On(t, b.Shop).Session); got != want {
			t.Errorf("%s, in a new session: %q, want %q", what, got, want)
		}
	}
	want("nothing has a life", "")
	b.put("1", 2, store.LotFacts{Expiry: &store.Expiry{Day: b.day("2026-03-20"), Source: "the can"}})
	want("one lot", "SEAL-B2 2 days left")
	b.put("2", 1, store.LotFacts{Perishable: true})
	want("another", "SEAL-B2 expiry unknown, SEAL-B2 2 days left")
	lots, err := b.Shop.Lots("AN3-5A")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := b.Shop.DescribeLot(lots[0].Number, store.LotFacts{Perishable: true}); err != nil {
		t.Fatal(err)
	}
	want("bolts that perish", "AN3-5A expiry unknown, SEAL-B2 expiry unknown, SEAL-B2 2 days left")
	if _, err := b.Shop.Undo(); err != nil {
		t.Fatal(err)
	}
	want("undone", "SEAL-B2 expiry unknown, SEAL-B2 2 days left")
}
