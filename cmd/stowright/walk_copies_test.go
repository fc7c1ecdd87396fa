package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestWalkRestore walks in a real window: an older copy is restored by keys; then the
// file is damaged, the program started again, and the newest good copy restored by
// Enter, with what was done since put back. What is looked for is found each time.
func TestWalkRestore(t *testing.T) {
	d := sitDown(t)
	shop := filepath.Join(d.home, "demo", "demo.stow")
	d.start("demo", "--dir", filepath.Dir(shop))
	d.wait("copied", "demo-")
	d.keys("ctrl+2")
	d.wait("page", "unpack")
	d.picture("walk-copies-0-bag")
	d.keys("a") // the first key on the page may have been meant for another one
	d.wait("said", "Nothing is recorded yet.")
	d.keys("a")
	d.wait("entry", "line 40, AN3-6A")
	d.keys("F12")
	d.wait("page", "copies")
	d.picture("walk-copies-1-list")
	d.keys("Return")
	d.wait("shown", "would go missing", "line 40")
	d.picture("walk-copies-2-restore")
	d.keys("Return")
	d.wait("said", "Restored.", "18 March 2026")
	d.picture("walk-copies-3-restored")
	d.find("an3-6a", "AN3-6A", "")
	d.stop()
	if out := d.command("--shop", shop, "journal", "--limit", "5"); strings.Contains(out, "line 40") {
		t.Errorf("the journal still has what was done after the copy:\n%s", out)
	}

	data, err := os.ReadFile(shop)
	if err != nil {
		t.Fatal(err)
	}
	clear(data[:8192])
	if err := os.WriteFile(shop, data, 0o600); err != nil {
		t.Fatal(err)
	}
	d.startOn("rescue", "--shop", shop, "--day", "2026-03-18", "desktop")
	d.wait("shown", "newest good copy")
	d.picture("walk-copies-4-damaged")
	d.keys("Return")
	d.wait("said", "Restored.", "before-restore")
	d.picture("walk-copies-5-whole")
	d.find("an470ad4-7", "AN470AD4-7", "Garage, Cabinet A, drawer A-07")
	d.stop()
	if out := d.command("--shop", shop, "check"); !strings.Contains(out, "Whole") {
		t.Errorf("check: %s", out)
	}
}
