package session_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/app/demo"
	"stowright/app/session"
	"stowright/app/session/sessiontest"
	"stowright/store"
)

// Lines that are kept are those of the file, after every change and its undo.
func TestLines(t *testing.T) {
	b := sessiontest.Open(t, demo.Arrived)
	ships, err := b.Shop.Shipments()
	if err != nil {
		t.Fatal(err)
	}
	same := func(when string) {
		t.Helper()
		for _, ship := range ships {
			want, err := b.Shop.Lines(ship.ID)
			if err != nil {
				t.Fatal(err)
			}
			for range 2 { // read, and kept
				got, err := linesOf(b.Session, ship)
				if err != nil || cmp.Diff(want, got) != "" {
					t.Errorf("%s: %v %s", when, err, cmp.Diff(want, got))
				}
			}
		}
	}
	same("at first")
	if err := demo.CheckOff(b.Shop, ships[0].ID, 1); err != nil {
		t.Fatal(err)
	}
	same("after a line was checked off")
	if _, err := b.Shop.Undo(); err != nil {
		t.Fatal(err)
	}
	same("after that was undone")
}

// linesOf are the lines of a shipment as the session has them.
func linesOf(s *session.Session, ship store.Shipment) ([]store.Line, error) {
	return session.Answer(s, func(r *session.Reader) ([]store.Line, error) { return linesIn(r, ship) })
}

func linesIn(r *session.Reader, ship store.Shipment) ([]store.Line, error) {
	all, err := r.AllLines([]store.Shipment{ship})
	if err != nil {
		return nil, err
	}
	return all[0], nil
}
