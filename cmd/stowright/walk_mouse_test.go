package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// spot is what can be clicked on, with its middle in pixels, as the window traces it.
type spot struct {
	Says string
	X, Y int
}

// look keeps what the window says of what can be clicked on, and reports whether a line says so.
func (d *desk) look(line string) bool {
	var got struct {
		Event string
		Spots []spot
	}
	if json.Unmarshal([]byte(line), &got) != nil || got.Event != "spots" {
		return false
	}
	d.spots = got.Spots
	return true
}

// spot is what says that, or else what has it among what it says.
func (d *desk) spot(says string) (at spot, ok bool) {
	for _, s := range d.spots {
		if s.Says == says {
			return s, true
		}
	}
	for _, s := range d.spots {
		if strings.Contains(s.Says, says) {
			return s, true
		}
	}
	return spot{}, false
}

// click clicks on each of these, when the window has it. What lies on a card that a narrow window
// keeps closed has its pill clicked first.
func (d *desk) click(all ...string) {
	d.t.Helper()
	const again = 10 * time.Second
	for _, says := range all {
		at, ok := d.spot(says)
		for end := time.Now().Add(patience); !ok && time.Now().Before(end); at, ok = d.spot(says) {
			if pill, there := d.spot("Card, key F4"); there {
				d.pressMouse(pill)
				continue
			}
			if pages, there := d.spot(": other pages"); there { // of the Handbook, where a row of them has no room
				d.pressMouse(pages)
				continue
			}
			if !d.within(again, "spots", nil) && d.spots == nil && d.clicked != (spot{}) {
				d.pressMouse(d.clicked) // what it was on had not been drawn there yet
			}
		}
		if !ok {
			d.picture("failed")
			d.t.Fatalf("nothing says %q; there is %v\ntrace:\n%s", says, d.spots, strings.Join(d.seen, ""))
		}
		d.pressMouse(at)
	}
}

// pressMouse clicks; what can be clicked on then is not known before the window says it.
func (d *desk) pressMouse(at spot) {
	d.t.Helper()
	d.spots, d.clicked = nil, at
	d.x("mousemove", "--sync", fmt.Sprint(at.X), fmt.Sprint(at.Y), "click", "1")
}

// written waits until a file is there in the folder of the person.
func (d *desk) written(name string) {
	d.t.Helper()
	for end := time.Now().Add(patience); time.Now().Before(end); d.within(glance, "", nil) {
		if _, err := os.Stat(filepath.Join(d.home, name)); err == nil {
			return
		}
	}
	d.picture("failed")
	d.t.Fatalf("%s was never written", name)
}

// view is a size of the window that stories are walked in.
type view struct {
	name   string
	screen string   // of the X server
	env    []string // of the program
	args   []string // of the desktop
}

func views() []view {
	return []view{
		{"as it is", "1280x800x24", nil, nil},
		{"larger", "1280x800x24", nil, []string{"--large"}},
		{"scale 2", "2560x1600x24", []string{"FYNE_SCALE=2"}, nil},
	}
}

// sitDownAt prepares a desk with a window of that size.
func sitDownAt(t *testing.T, v view) *desk {
	t.Helper()
	d := sitDownBefore(t, v.screen)
	d.env = append(d.env, v.env...)
	return d
}

// TestWalkByMouse walks stories 1 to 3, 5, 6, 8, 9, 11 and 20 in a real window by the mouse alone, in
// three sizes; the keyboard types what a field asks for. What lies on the screen in one size may be
// reached by another way in the other.
func TestWalkByMouse(t *testing.T) {
	for _, v := range views() {
		t.Run(v.name, func(t *testing.T) {
			d := sitDownAt(t, v)
			name := "walk-mouse-" + strings.ReplaceAll(v.name, " ", "-")
			shop := filepath.Join(d.home, "demo", "demo.stow")
			d.command("demo", "--no-window", "--dir", filepath.Dir(shop))
			d.start(append([]string{"--shop", shop, "--day", "2026-03-18", "desktop"}, v.args...)...)
			d.wait("spots")

			d.click("Unpack", "OQ-10-002", "Some")
			d.text("2")
			d.click("Count it")
			d.wait("entry", "line 2, OQ-10-002: found 2 ea")
			d.picture(name + "-1-unpack")
			d.click("Undo")
			d.wait("entry", "undo")
			d.click("Claim", "Save as PDF")
			d.written("claim-OK-20731.pdf")
			d.picture(name + "-2-claim")

			d.click("Find", "what AN3-5A", "Count")
			d.text("27")
			d.click("Counted")
			d.wait("entry", "counted AN3-5A in A-12: 27 ea")
			d.picture(name + "-3-find")

			d.click("Places", "Up", "New place")
			d.text("Hangar")
			d.click("Make it")
			d.wait("entry", "room Hangar made")
			d.click("place Garage", "Look into")
			d.wait("card", "Cabinet A")
			d.click("place Cabinet A", "Move it", "Hangar", "Move it")
			d.wait("entry", "Cabinet A moved to Hangar")
			d.picture(name + "-4-places")

			d.click("Labels", "Save PDF")
			d.written("labels.pdf")
			d.picture(name + "-5-labels")

			d.click("Build", "SA-20", "Pull for SA-20", "Taken: 6")
			d.wait("entry", "MS21042-3: 6 ea pulled for SA-20")
			d.picture(name + "-6-build")

			d.click("Order", "AN3-5A", "Pack")
			d.text("10")
			d.click("Keep it")
			d.wait("entry", "AN3-5A", "packs of 10")
			d.picture(name + "-7-order")

			d.click("Handbook", "Measure")
			d.picture(name + "-8-handbook")
			d.stop()
			if out := d.command("--shop", shop, "find", "AN3-5A"); !strings.Contains(out, "27 ea in Hangar, Cabinet A, A-12") {
				t.Errorf("AN3-5A is\n%s", out)
			}
			if out := d.command("--shop", shop, "check"); !strings.Contains(out, "Whole") {
				t.Errorf("check: %s", out)
			}
		})
	}
}
