package main

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stowright/app/operation"
	"stowright/app/session"
	"stowright/store"
)

// boughtAt has a shop be as story 20 begins, but for how AN3-5A is packed: C3 is in, what
// was short of line 42 will be sent, and it is said how things are bought.
func (d *desk) boughtAt(file string) {
	d.t.Helper()
	day := 2
	clock := func() time.Time { return time.Date(2026, 4, day, 9, 0, 0, 0, time.Local) }
	shop, err := store.Open(file, store.Options{Clock: clock})
	if err != nil {
		d.t.Fatal(err)
	}
	defer func() { _ = shop.Close() }() // what is lacking shows in the window
	s, err := session.Open(d.t.Context(), shop, session.Inline(), nil)
	if err != nil {
		d.t.Fatal(err)
	}
	for _, step := range []struct {
		day int
		do  operation.Operation
	}{
		{2, operation.Arrive{Crates: []string{"C3"}}},
		{2, operation.Receive{Line: 19}},
		{2, operation.Receive{Line: 59}},
		{3, operation.SendClaim{On: "2026-04-03", How: "by mail"}},
		{10, operation.AnswerClaim{Lines: "42", Answer: store.Replacement}},
		{20, operation.PutSupplier{Name: "fastener shop", Minimum: "20.00 USD"}},
		{20, operation.PutSupply{Item: "MS24665-132", Supplier: "fastener shop", Pack: "25", Price: ".06", Keep: "20"}},
		{20, operation.PutSupply{Item: "AN3-11", Supplier: "fastener shop", Pack: "5", Price: ".90", Spare: "1"}},
		{20, operation.PutSupply{Item: "AN3-5A", Supplier: "fastener shop", Price: ".45"}},
	} {
		day = step.day
		if _, err := step.do.Do(d.t.Context(), s); err != nil {
			d.t.Fatalf("%#v: %v", step.do, err)
		}
	}
}

// TestWalkOrder walks story 20 in a real window by keys: how a bolt is bought is said at its
// line, the list is marked as ordered, what is owed is promised, and one step is undone.
func TestWalkOrder(t *testing.T) {
	d := sitDown(t)
	shop := filepath.Join(d.home, "demo", "demo.stow")
	d.command("demo", "--no-window", "--dir", filepath.Dir(shop))
	d.boughtAt(shop)
	d.start("--shop", shop, "--day", "2026-04-20", "desktop")
	d.keys("ctrl+7")
	d.wait("page", "order")
	d.wait("card", "AN3-5A")
	d.picture("walk-order-1-list")
	answer := func(key, typed string, entry ...string) {
		t.Helper()
		d.keys(key)
		d.text(typed)
		d.keys("Return")
		d.wait("entry", entry...)
	}
	answer("k", "10", "AN3-5A: from fastener shop, packs of 10")
	answer("r", "10 %", "AN3-5A: from fastener shop, packs of 10, 0.45 USD each, spare 10 %")
	d.picture("walk-order-2-spares")
	d.keys("m")
	d.picture("walk-order-3-mark")
	d.keys("Return")
	d.wait("entry", "O-1 ordered of fastener shop: 3 lines")
	d.keys("o")
	d.wait("card", "AN3-5A")
	answer("p", "2026-05-04", "AN3-5A")
	d.picture("walk-order-4-owed")
	d.keys("ctrl+z")
	d.wait("entry", "undo")
	d.stop()

	if out := d.command("--shop", shop, "--day", "2026-04-20", "order", "--owed"); !strings.Contains(out, "O-1") || !strings.Contains(out, "10 ea") {
		t.Errorf("owed is\n%s", out)
	}
	if out := d.command("--shop", shop, "check"); !strings.Contains(out, "Whole") {
		t.Errorf("check: %s", out)
	}
}
