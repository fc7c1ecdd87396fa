package session_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/app/demo"
	"stowright/app/session/sessiontest"
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
			all, err := b.AllLines(ships[:1])
			if err != nil || ship.ID == ships[0].ID && cmp.Diff(want, all[0]) != "" {
				t.Errorf("%s: %v %s", when, err, cmp.Diff(want, all[0]))
			}
			if got, err := b.Lines(ship.ID); err != nil || cmp.Diff(want, got) != "" {
				t.Errorf("%s: %v %s", when, err, cmp.Diff(want, got))
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
	if _, err := b.AllLines(ships); err != nil {
		t.Error(err)
	}
}
