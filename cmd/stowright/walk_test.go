package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	demodata "stowright/assets/demo"
	"stowright/store"
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
	before := pdfText(t, d.file("s", filepath.Join(d.home, "labels.pdf")))
	d.picture("walk-2-labels")

	d.keys("ctrl+4")
	d.wait("page", "places")
	d.keys("u")
	d.wait("page", "places", `"shop"`)
	d.keys("n")
	d.text("Hangar")
	d.keys("Return")
	d.wait("said", "room Hangar made")
	d.picture("walk-3-hangar")

	d.keys("Return") // into the garage, which is chosen first
	d.wait("page", "places")
	d.wait("card", "Cabinet A")
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
	d.picture("walk-7-labels")
	if after := pdfText(t, d.file("s", filepath.Join(d.home, "labels.pdf"))); after != before {
		t.Errorf("the labels say something else after the move:\n%s\nbefore:\n%s", after, before)
	}
	if !strings.Contains(before, "AN470AD4-4") || !strings.Contains(before, "A-07") {
		t.Errorf("the label of A-07 is not on the sheet:\n%s", before)
	}
	d.stop()

	d.start("--shop", shop, "--day", "2026-03-18", "desktop")
	d.find("an470ad4-7", "AN470AD4-7", "Hangar, Cabinet A, drawer A-07")
	d.picture("walk-8-after-restart")
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

// TestWalkCheckOff checks the open bags of the demo off and stows what was found, by
// single keys, and finds the day-one totals of the scenario in the file.
func TestWalkCheckOff(t *testing.T) {
	d := sitDown(t)
	shop := filepath.Join(d.home, "demo", "demo.stow")
	d.start("demo", "--dir", filepath.Dir(shop))
	d.keys("ctrl+2")
	d.wait("page", "unpack")
	d.picture("walk-unpack-1-bag")
	d.keys("x")
	d.picture("walk-unpack-2-split")
	d.keys("Return")
	d.picture("walk-unpack-2-what")
	d.text("AN3-5A")
	d.keys("Return")
	d.picture("walk-unpack-2-many")
	d.text("4")
	d.keys("Return")
	d.picture("walk-unpack-2-rest")
	d.keys("Return")
	d.wait("entry", "line 40, AN3-6A: found 12 ea; line 39, AN3-5A: found 28 ea")
	d.picture("walk-unpack-3-stow")
	d.keys("Return")
	d.wait("entry", "AN3-6A: 12 ea stowed in")

	d.keys("ctrl+z")
	d.wait("entry", "undo", "stowed")
	d.keys("ctrl+shift+z")
	d.wait("entry", "redo", "stowed")

	d.keys("a")
	d.wait("entry", "line 41, AN3-7A: found 8 ea")
	d.keys("n")
	d.wait("entry", "line 42, AN3-11: found 0 ea")
	for _, line := range []string{"43", "44", "45", "46", "47"} {
		d.keys("a")
		d.wait("entry", "line "+line)
	}
	d.picture("walk-unpack-4-done")
	d.stop()

	s, err := store.Open(shop, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	ships, err := s.Shipments()
	if err != nil {
		t.Fatal(err)
	}
	got, err := s.Totals(ships[0].ID)
	if err != nil {
		t.Fatal(err)
	}
	want := map[store.State]int{
		store.AllHere: 45, store.Short: 5, store.Over: 2, store.DamagedState: 2, store.WrongRevision: 1, store.BackOrder: 1, store.NotArrived: 4,
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("totals (-want +got):\n%s", diff)
	}
}

// TestWalkScan shows a label to the camera, which here plays a folder of pictures,
// and types one as a hand scanner does.
func TestWalkScan(t *testing.T) {
	d := sitDown(t)
	shop := filepath.Join(d.home, "demo", "demo.stow")
	d.command("demo", "--no-window", "--dir", filepath.Dir(shop))
	var found struct {
		Places []struct{ Path, Tag string }
	}
	if err := json.Unmarshal([]byte(d.command("--shop", shop, "find", "A-07", "--json")), &found); err != nil || len(found.Places) == 0 {
		t.Fatalf("find A-07: %v, %v", found, err)
	}
	tag := found.Places[0].Tag
	pictures := t.TempDir()
	if err := os.WriteFile(filepath.Join(pictures, "label.png"), qr(t, tag), 0o600); err != nil {
		t.Fatal(err)
	}
	d.start("--shop", shop, "--day", "2026-03-18", "desktop", "--camera", pictures)
	d.keys("F2")
	d.wait("page", "camera")
	d.wait("card", "AN470AD4-7", "drawer A-07")
	d.picture("walk-scan-1-camera")
	d.keys("Return")
	d.wait("page", "places")
	d.wait("card", "AN470AD4-7", "drawer A-07")

	d.scan(tag, "page", "places")
	d.wait("card", "AN470AD4-7", "drawer A-07")
	d.picture("walk-scan-2-scanner")

	wrong := "A"
	if strings.HasSuffix(tag, wrong) {
		wrong = "B"
	}
	for _, scanned := range []struct{ name, text, answer string }{
		{"mistyped", tag[:9] + wrong, "one of its characters is wrong"},
		{"another shop's", anotherTag(t), "is not of this shop"},
	} {
		d.keys("ctrl+k", "ctrl+a")
		d.text(scanned.text)
		d.keys("Return")
		d.wait("said", scanned.answer)
	}
}

// scan types a tag on Today as a hand scanner does, until the event comes. A busy machine
// may stop what plays the scanner between two characters, which a scanner never does.
func (d *desk) scan(tag, event string, texts ...string) {
	d.t.Helper()
	const again = 10 * time.Second
	for range int(patience / again) {
		d.keys("ctrl+1")
		d.wait("page", "today")
		d.x("type", "--delay", "5", strings.ToLower(tag)+"\n")
		if d.within(again, event, texts) {
			return
		}
	}
	d.wait(event, texts...)
}

// anotherTag is a good tag that no shop of these tests has issued.
func anotherTag(t *testing.T) string {
	t.Helper()
	tag, err := store.NewTag(strings.NewReader(strings.Repeat("another shop", 100)), store.TagPlace)
	if err != nil {
		t.Fatal(err)
	}
	return string(tag)
}

// TestWalkFirstRun starts with nothing: an empty shop says what to do, the workbook
// of the packing list is chosen and brought in by keys alone, and the days to claim are typed
// from the paperwork of the delivery.
func TestWalkFirstRun(t *testing.T) {
	d := sitDown(t)
	list := filepath.Join(d.home, "list.xlsx")
	if err := os.WriteFile(list, demodata.PackingList(demodata.PackingListXLSX), 0o600); err != nil {
		t.Fatal(err)
	}
	shop := filepath.Join(d.home, "new", "shop.stow")
	d.start("--shop", shop, "--day", "2026-03-14", "desktop")
	d.picture("walk-first-1-empty")
	d.keys("i")
	d.wait("page", "unpack")
	d.picture("walk-first-2-list")
	d.keys("F5")
	d.picture("walk-first-2-choose")
	d.keys("End", "Return")
	d.picture("walk-first-3-columns")
	d.keys("Return")
	d.wait("entry", "60 lines")
	d.wait("page", "unpack")
	d.picture("walk-first-4-arrival")
	d.keys("1", "2", "Return")
	d.text("5")
	d.keys("Return")
	d.text("30")
	d.picture("walk-first-5-days")
	d.keys("Return")
	d.wait("entry", "C1 and C2 arrived on 14 March 2026")
	d.picture("walk-first-6-check-off")
	d.stop()

	day := store.Date{Year: 2026, Month: 3, Day: 18}
	s, err := store.Open(shop, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	ships, err := s.Shipments()
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, c := range ships[0].Clocks(day) {
		got = append(got, c.Due.String()+": "+c.String())
	}
	want := []string{"19 March 2026: Damage claim: 1 day left", "13 April 2026: Shortages: 26 days left"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("claim clocks on 18 March (-want +got):\n%s", diff)
	}
}
