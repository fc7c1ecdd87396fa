package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestWalkMoveAndFind walks in a real window: labels are printed, the cabinet is
// moved from the garage to a hangar in one step, the program is started again, and
// what was typed finds the drawer in the hangar. The labels say the same as before.
func TestWalkMoveAndFind(t *testing.T) {
	d := sitDown(t)
	shop := filepath.Join(d.home, "demo", "demo.stow")
	d.start("demo", "--dir", filepath.Dir(shop))
	d.picture("walk-1-today")

	d.keys("ctrl+5")
	d.wait("page", "labels")
	d.keys("s")
	before := pdfText(t, d.file(filepath.Join(d.home, "labels.pdf")))
	d.picture("walk-2-labels")

	d.keys("ctrl+4")
	d.wait("page", "places")
	d.press([]string{"u"}, "page", "places", `"shop"`)
	d.keys("n")
	d.text("Hangar")
	d.keys("Return")
	d.wait("said", "room Hangar made")
	d.picture("walk-3-hangar")

	d.press([]string{"slash", "Down"}, "card", "Garage")
	d.keys("Return")
	d.wait("page", "places")
	d.press([]string{"slash", "Down"}, "card", "Cabinet A")
	d.picture("walk-4-cabinet")
	d.keys("m")
	d.keys("Return")
	d.wait("said", "Cabinet A moved to Hangar")
	d.picture("walk-5-moved")

	d.find("an470ad4-7", "AN470AD4-7", "Hangar, Cabinet A, drawer A-07")
	d.picture("walk-6-found")

	if err := os.Rename(filepath.Join(d.home, "labels.pdf"), filepath.Join(d.home, "before.pdf")); err != nil {
		t.Fatal(err)
	}
	d.keys("Escape", "Escape", "ctrl+5")
	d.wait("page", "labels")
	d.keys("s")
	if after := pdfText(t, d.file(filepath.Join(d.home, "labels.pdf"))); after != before {
		t.Errorf("the labels say something else after the move:\n%s\nbefore:\n%s", after, before)
	}
	if !strings.Contains(before, "AN470AD4-4") || !strings.Contains(before, "A-07") {
		t.Errorf("the label of A-07 is not on the sheet:\n%s", before)
	}
	d.stop()

	d.start("--shop", shop, "--day", "2026-03-18", "desktop")
	d.find("an470ad4-7", "AN470AD4-7", "Hangar, Cabinet A, drawer A-07")
	d.picture("walk-7-after-restart")
	d.stop()

	for _, name := range []string{"S1", "R1"} {
		if out := d.command("--shop", shop, "find", name); !strings.Contains(out, "Garage") {
			t.Errorf("%s did not stay in the garage:\n%s", name, out)
		}
	}
	if out := d.command("--shop", shop, "check"); !strings.Contains(out, "Whole") {
		t.Errorf("check: %s", out)
	}
}

// find types into the command bar and waits for the card that answers.
func (d *desk) find(typed, item, place string) {
	d.t.Helper()
	d.keys("ctrl+k", "ctrl+a")
	d.text(typed)
	d.wait("card", item, place)
}
