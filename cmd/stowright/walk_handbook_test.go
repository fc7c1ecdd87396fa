package main

import (
	"path/filepath"
	"strings"
	"testing"
)

// TestWalkHandbook walks in a real window: a loose bolt is measured with F6 and its
// drawer lights up, its neighbour's number is looked up, and a figure of a printed
// standard is kept and then used by the command line.
func TestWalkHandbook(t *testing.T) {
	d := sitDown(t)
	shop := filepath.Join(d.home, "demo", "demo.stow")
	d.start("demo", "--dir", filepath.Dir(shop))
	d.keys("F6")
	d.wait("page", "handbook")
	d.picture("walk-handbook-0-measure") // it has come to rest, with the focus in its first field
	d.text(".190")
	d.keys("Tab", "Tab")
	d.text("1/4")
	d.wait("card", "AN3-5A", "A-12")
	d.picture("walk-handbook-1-measured")

	d.keys("Escape", "i")
	d.wait("page", "handbook", "AN3-5A")
	d.wait("card", "AN3-5A", "A-12")
	d.picture("walk-handbook-2-figures")
	d.keys("Escape")
	d.wait("page", "handbook")
	d.picture("walk-handbook-3-back")
	d.keys("F6", "Escape", "c")
	d.text("Bolt")
	d.picture("walk-handbook-4-cleared")
	d.stop()
	if out := d.command("--shop", shop, "identify", "--diameter", ".190", "--grip", "1/4"); !strings.Contains(out, "AN3-5A  (in the shop)") {
		t.Errorf("the command line answers otherwise:\n%s", out)
	}
}
