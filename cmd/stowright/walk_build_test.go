package main

import (
	"path/filepath"
	"strings"
	"testing"

	"stowright/store"
)

// weighForBuilding weighs of a demo shop, as story 11 does.
func (d *desk) weighForBuilding(shop string) {
	d.t.Helper()
	for _, args := range [][]string{
		{"AN426AD3-3.5", "--in", "A-03", "--gross", "160.4", "--sample-weight", "8.1"},
		{"AN470AD4-5", "--in", "A-21", "--gross", "137.7", "--sample-weight", "24.3"},
	} {
		d.command(append([]string{"--shop", shop, "weigh", "--step", ".1", "--tare", "24.3", "--sample", "100"}, args...)...)
	}
}

// TestWalkBuild walks stories 11 and 12 in a real window by keys: SA-41 is built before
// SA-21 and that is taken back, SA-10 is pulled, a wrong drawer is scanned, the program is
// killed after three stops, and two are left.
func TestWalkBuild(t *testing.T) {
	d := sitDown(t)
	shop := filepath.Join(d.home, "demo", "demo.stow")
	d.command("demo", "--no-window", "--dir", filepath.Dir(shop))
	d.weighForBuilding(shop)
	wrong, right, first := d.tagOf(shop, "A-31"), d.tagOf(shop, "A-30"), d.tagOf(shop, "A-03")
	d.start("--shop", shop, "--day", "2026-03-18", "desktop")
	d.keys("ctrl+6")
	d.wait("page", "build")
	d.picture("walk-build-1-board")
	d.keys("1") // the first key changes nothing
	d.wait("said", "Nothing is changed yet")
	d.keys("1")
	d.wait("said", "SA-41 before SA-21:", "SA-41 can start now; SA-21 cannot start any more")
	d.picture("walk-build-2-order")
	d.keys("ctrl+z")
	d.wait("entry", "undo")
	d.keys("Left", "p")
	d.wait("card", "A-03", `"212"`)
	d.picture("walk-build-3-pull")

	d.typed(right)
	d.wait("card", "A-30")
	d.typed(wrong)
	d.wait("said", "Wrong drawer: F0332P thin; yours is one to the left")
	d.picture("walk-build-4-wrong")
	d.typed(first)
	d.wait("card", "A-03")
	for _, tick := range []struct{ booked, next string }{
		{"AN426AD3-3.5: 212 ea pulled for SA-10", "A-12"}, {"AN3-5A: 6 ea pulled for SA-10", "A-17"}, {"AN365-1032A: 6 ea pulled for SA-10", "A-21"},
	} {
		d.keys("Return")
		d.wait("entry", tick.booked)
		d.wait("card", tick.next)
	}
	d.kill()

	if out := d.command("--shop", shop, "pull", "SA-10"); strings.Count(out, "\n") != 3 || !strings.Contains(out, " 1  A-21") || !strings.Contains(out, " 2  A-30") {
		t.Errorf("after the kill the list is\n%s", out)
	}
	d.start("--shop", shop, "--day", "2026-03-18", "desktop")
	d.keys("ctrl+6")
	d.wait("page", "build")
	d.press([]string{"p"}, "card", "A-21")
	d.picture("walk-build-5-again")
	d.keys("Return")
	d.wait("entry", "AN470AD4-5: 46 ea pulled")
	d.wait("card", "A-30")
	d.keys("Return")
	d.wait("entry", "NAS1149F0363P: 12 ea pulled")
	d.picture("walk-build-6-done")
	d.stop()
	if out := d.command("--shop", shop, "check"); !strings.Contains(out, "Whole") {
		t.Errorf("check: %s", out)
	}
}

// tagOf is the tag of a place, of a shop that no window has open.
func (d *desk) tagOf(shop, name string) string {
	d.t.Helper()
	s, err := store.Open(shop, store.Options{})
	if err != nil {
		d.t.Fatal(err)
	}
	defer s.Close()
	places, err := s.Places()
	if err != nil {
		d.t.Fatal(err)
	}
	for _, p := range places {
		if p.Name == name {
			return string(p.Tag)
		}
	}
	d.t.Fatalf("there is no place %s", name)
	return ""
}

// typed types a tag into the command bar.
func (d *desk) typed(tag string) {
	d.t.Helper()
	d.keys("ctrl+k", "ctrl+a")
	d.text(strings.ToLower(tag))
	d.keys("Return")
}

// kill ends the program at once, as a power failure does.
func (d *desk) kill() {
	d.t.Helper()
	if err := d.program.Process.Kill(); err != nil {
		d.t.Fatal(err)
	}
	_ = d.program.Wait() // it was killed
	d.program = nil
}

// TestWalkBench walks story 13 in a real window by keys: what was pulled for SA-10 is
// fitted, spoiled, put back, lost and found, and the sub-assembly is closed.
func TestWalkBench(t *testing.T) {
	d := sitDown(t)
	shop := filepath.Join(d.home, "demo", "demo.stow")
	d.command("demo", "--no-window", "--dir", filepath.Dir(shop))
	d.weighForBuilding(shop)
	d.command("--shop", shop, "pull", "SA-10", "--confirm")
	d.command("--shop", shop, "take", "AN426AD3-3.5", "--amount", "28", "--for", "SA-10", "--reason", "some will be drilled out")
	d.command("--shop", shop, "take", "NAS1149F0363P", "--amount", "2", "--for", "SA-10", "--reason", "two spare")
	tray := d.tagOf(shop, "SA-10")
	d.start("--shop", shop, "--day", "2026-03-18", "desktop")
	d.scan(tray, "card", "SA-10")
	d.picture("walk-bench-1-tray")
	answer := func(key, typed string, entry ...string) {
		t.Helper()
		d.keys(key)
		if typed != "" {
			d.text(typed)
		}
		d.keys("Return")
		d.wait("entry", entry...)
		d.wait("said", "Done")
		d.wait("card", "SA-10") // the tray was read again
	}
	d.keys("s") // which begins nothing with a line that nobody chose
	d.wait("said", "Nothing is done yet")
	answer("s", "212", "AN426AD3-3.5: 212 ea fitted in SA-10")
	answer("x", "19 drilled out", "AN426AD3-3.5: 19 ea", "drilled out")
	answer("h", "", "AN426AD3-3.5: 9 ea put back from SA-10")
	d.keys("Down", "Down")
	answer("s", "6", "AN3-5A: 6 ea fitted")
	d.keys("Down", "s")
	d.text("13")
	d.keys("Return")
	d.picture("walk-bench-2-reason")
	d.text("one more under the head")
	d.keys("Return")
	d.wait("entry", "NAS1149F0363P: 13 ea fitted", "one more under the head")
	d.wait("said", "Done")
	d.wait("card", "SA-10")
	answer("h", "", "NAS1149F0363P: 1 ea put back")
	d.keys("Down")
	answer("l", "", "AN365-1032A: 1 ea", "lost")
	d.picture("walk-bench-3-lost")
	d.keys("p")
	d.wait("card", "A-17")
	d.keys("Return")
	d.wait("entry", "AN365-1032A: 1 ea pulled for SA-10")
	d.wait("said", "AN365-1032A: 1 ea pulled")
	d.press([]string{"Escape"}, "page", "build", "SA-10") // what was said goes first, then the page
	d.wait("card", "SA-10", "its tray")
	d.keys("Down", "Down", "Down", "Down")
	answer("s", "6", "AN365-1032A: 6 ea fitted")
	answer("f", "", "AN470AD4-5: 46 ea fitted")
	d.keys("c", "Return")
	d.picture("walk-bench-4-not-closed")
	d.keys("Escape")
	answer("l", "", "AN365-1032A: 1 ea")
	answer("c", "looked at by Partner", "SA-10 Fin closed")
	d.picture("walk-bench-5-closed")
	d.stop()

	for item, want := range map[string]string{
		"AN426AD3-3.5": "1449", "AN3-5A": "22", "NAS1149F0363P": "137", "AN365-1032A": "64", "AN470AD4-5": "421",
	} {
		if out := d.command("--shop", shop, "find", item, "--json"); !strings.Contains(out, `"quantity": "`+want+`"`) {
			t.Errorf("%s should be %s:\n%s", item, want, out)
		}
	}
	if out := d.command("--shop", shop, "check"); !strings.Contains(out, "Whole") {
		t.Errorf("check: %s", out)
	}
}
