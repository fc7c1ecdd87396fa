package unpack

import (
	"strings"
	"testing"

	"stowright/app/demo"
)

// Bringing a list in is stopped like any other work: nothing was brought in, and it can be
// done again. The queue works one step at a time, so that it is stopped before it ends.
func TestBringingInIsStopped(t *testing.T) {
	b := newBench(t, demo.Furnished)
	i := b.importer()
	i.read("list.csv", "Part,Qty\nOQ-1,2\n")
	before, err := b.s.Shop.Shipments()
	if err != nil {
		t.Fatal(err)
	}
	i.Confirm("OK-2", "")
	i.Stop()
	if got := i.State().Working; got != "Stopping" {
		t.Fatalf("after Stop: %q", got)
	}
	b.queue.Drain()
	s := i.State()
	if s.Working != "" || s.Trouble == nil || !strings.Contains(s.Trouble.Text, "Stopped. Nothing was brought in.") || !s.Ready {
		t.Errorf("stopped: %+v, working %q, ready %v", s.Trouble, s.Working, s.Ready)
	}
	if ships, err := b.s.Shop.Shipments(); err != nil || len(ships) != len(before) {
		t.Errorf("%d lists, %d before, %v", len(ships), len(before), err)
	}
	i.Confirm("OK-2", "")
	b.queue.Drain()
	if i.ship.ID == "" {
		t.Errorf("again: %+v", i.State())
	}
}
