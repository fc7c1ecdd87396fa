package main

import (
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stowright/labels"
)

// form answers the fields of a question one after another, the last one with Enter too.
func (d *desk) form(key string, answers ...string) {
	d.t.Helper()
	d.keys(key)
	for _, text := range answers {
		if text != "" {
			d.text(text)
		}
		d.keys("Return")
	}
}

// TestWalkAircraft walks the aircraft's pages in a real window by keys: an aircraft with its
// hours, a propeller that goes on and comes off, what is due, a position that is
// photographed; what a bulletin changed is read line by line, and bolts are sent back.
func TestWalkAircraft(t *testing.T) {
	d := sitDown(t)
	shop := filepath.Join(d.home, "demo", "demo.stow")
	d.command("demo", "--no-window", "--dir", filepath.Dir(shop))
	list := filepath.Join(d.home, "bulletin.csv")
	if err := os.WriteFile(list, []byte("change,sub-assembly,number,quantity\nreplaces,SA-10,AN3-5A,7\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	d.command("--shop", shop, "needs", list, "--revises", "Bulletin 4", "--paper", "letter, binder 2", "--dated", "2026-03-16")
	d.start("--shop", shop, "--day", "2026-03-18", "desktop")

	d.keys("F11")
	d.wait("page", "aircraft")
	d.picture("walk-aircraft-1-none")
	d.form("n", "Type Q", "", "", "")
	d.wait("entry", "aircraft Type Q: certificate none yet")
	d.wait("card", "Type Q")
	d.form("h", "165.7", "")
	d.wait("entry", "Type Q had 165.7 h on 18 March 2026")
	d.wait("card", "Type Q", "165.7")

	d.keys("2")
	d.wait("page", "aircraft")
	d.picture("walk-aircraft-2-none")
	d.form("n", "OQ-PROP", "0007", "", "", "", "")
	d.wait("entry", "CO-1: OQ-PROP serial 0007")
	d.wait("card", "OQ-PROP")
	d.form("m", "", "Nose / hub", "0.0", "2025-05-01")
	d.wait("entry", "on Type Q at 0 h")
	d.wait("card", "OQ-PROP", "165.7")
	d.form("o", "112.4", "2025-09-01", "S2")
	d.wait("entry", "off Type Q at 112.4 h, to S2")
	d.wait("card", "OQ-PROP", "112.4")
	d.form("m", "", "Nose / hub", "130.0", "2025-10-01")
	d.wait("entry", "on Type Q at 130 h")
	d.wait("card", "OQ-PROP", "148.1")
	d.keys("k")
	d.picture("walk-aircraft-2-correct")
	d.keys("Escape")
	d.picture("walk-aircraft-3-component")

	d.keys("3")
	d.wait("page", "aircraft")
	d.picture("walk-aircraft-4-none")
	d.keys("n")
	d.picture("walk-aircraft-4-due")
	for _, text := range []string{"Condition inspection", "", "12 calendar months", "limitations, page 2", "12", "", "2026-04-30", "", ""} {
		if text != "" {
			d.text(text)
		}
		d.keys("Return")
	}
	d.wait("entry", "Condition inspection of Type Q, 12 calendar months: due by 30 April 2026")
	d.wait("card", "DU-1")
	d.form("d", "Partner", "", "165.7", "")
	d.wait("entry", "entered for 18 March 2026, by Partner: due by 31 March 2027")
	d.picture("walk-aircraft-5-entered")

	d.keys("4")
	d.wait("page", "aircraft")
	d.picture("walk-aircraft-6-none")
	d.form("n", "Tailplane/left/hinge 2", "", "panel 3, 12 screws", "")
	d.wait("entry", "position Tailplane / left / hinge 2, by panel 3, 12 screws")
	d.wait("card", "Tailplane")
	d.press([]string{"Down", "Down"}, "card", "hinge 2")
	d.picture("walk-aircraft-6-position")
	d.keys("F3")
	d.wait("page", "photographs", "hinge 2")
	d.picture("walk-aircraft-7-photographs")
	d.keys("Escape")
	d.wait("page", "aircraft")

	d.keys("ctrl+6")
	d.wait("page", "build")
	d.press([]string{"c"}, "card", "C-1")
	d.picture("walk-aircraft-8-changes")
	d.keys("Return")
	d.wait("page", "build", "C-1")
	d.picture("walk-aircraft-9-change")

	d.find("an3-5a", "AN3-5A", "A-12")
	d.keys("Down", "m")
	d.keys("F7")
	d.text("3")
	d.keys("Return")
	d.text("Bolt works")
	d.keys("Return")
	d.text("wrong finish")
	d.picture("walk-aircraft-10-back")
	d.keys("Return")
	d.wait("entry", "AN3-5A: 3 ea sent back to Bolt works, wrong finish")
	d.stop()

	if out := d.command("--shop", shop, "component", "CO-1"); !strings.Contains(out, "ran here 148.1 h") {
		t.Errorf("the propeller: %s", out)
	}
	if out := d.command("--shop", shop, "check"); !strings.Contains(out, "Whole") {
		t.Errorf("check: %s", out)
	}
}

// photograph is a picture file of the label of a tag.
func (d *desk) photograph(tag, name string) string {
	d.t.Helper()
	doc, err := labels.Layout([]labels.Label{{Tag: tag, Name: "label"}}, labels.Stocks()[0], labels.Options{})
	if err != nil {
		d.t.Fatal(err)
	}
	picture, err := labels.Picture(doc.Pages[0], 3)
	if err != nil {
		d.t.Fatal(err)
	}
	path := filepath.Join(d.home, name)
	file, err := os.Create(path)
	if err != nil {
		d.t.Fatal(err)
	}
	defer file.Close()
	if err := png.Encode(file, picture); err != nil {
		d.t.Fatal(err)
	}
	return path
}

// TestWalkCamera walks in the larger size with a camera before a drawer: of a wrong one it is
// said that it is, and nothing is booked.
func TestWalkCamera(t *testing.T) {
	d := sitDown(t)
	shop := filepath.Join(d.home, "demo", "demo.stow")
	d.command("demo", "--no-window", "--dir", filepath.Dir(shop))
	d.weighForBuilding(shop)
	wrong, right := d.photograph(d.tagOf(shop, "A-31"), "wrong.png"), d.photograph(d.tagOf(shop, "A-30"), "right.png")
	look := func(where string) {
		t.Helper()
		d.start("--shop", shop, "--day", "2026-03-18", "desktop", "--camera", where)
		d.keys("F8", "ctrl+6")
		d.wait("page", "build")
		d.press([]string{"p"}, "card", "A-03", `"212"`)
		d.picture("walk-camera-1-larger")
		d.keys("F2")
		d.wait("page", "camera")
	}
	look(wrong)
	d.wait("said", "Wrong drawer: NAS1149F0332P; yours is A-03.")
	d.picture("walk-camera-2-wrong")
	d.keys("F8")
	d.stop()
	look(right)
	d.wait("page", "build", "SA-10")
	d.wait("card", "A-30")
	d.wait("said", "A-30: the right drawer")
	d.picture("walk-camera-3-right")
	d.stop()
	if out := d.command("--shop", shop, "pull", "SA-10"); strings.Count(out, "\n") < 5 {
		t.Errorf("something was booked:\n%s", out)
	}
}
