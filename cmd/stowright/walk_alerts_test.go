package main

import (
	"path/filepath"
	"strings"
	"testing"
)

// answers types the fields of a form that is open, one after another, and sends it.
func (d *desk) answers(texts ...string) {
	d.t.Helper()
	for _, text := range texts {
		if text != "" {
			d.text(text)
		}
		d.keys("Return")
	}
}

// TestWalkAlerts walks story 18 in a real window by keys alone: an alert by ship window, of
// which nobody can tell until the day is typed; a second alert by lot; the first one narrowed,
// and the second answered by a decision.
func TestWalkAlerts(t *testing.T) {
	d := sitDown(t)
	shop := filepath.Join(d.home, "demo", "demo.stow")
	d.command("demo", "--no-window", "--dir", filepath.Dir(shop))
	d.command("--shop", shop, "take", "MS21042-3", "--amount", "6", "--for", "SA-20")
	d.command("--shop", shop, "fit", "MS21042-3", "--in", "SA-20")
	d.start("--shop", shop, "--day", "2026-03-18", "desktop")

	d.keys("ctrl+9")
	d.wait("page", "alerts")
	d.picture("walk-alerts-1-none")
	d.keys("n")
	d.picture("walk-alerts-2-form")
	d.answers("Nuts that crack", "ms21042-3", "", "2026-03-01", "2026-03-31", "", "2026-03-16", "", "")
	d.picture("walk-alerts-3-comes")
	d.keys("Return")
	d.wait("entry", "A-1 Nuts that crack, issue 1: MS21042-3, shipped 1 March 2026 to 31 March 2026")
	d.wait("card", "A-1")
	d.keys("Return")
	d.wait("page", "alerts", "A-1")
	d.press([]string{"Down", "Down", "Down"}, "card", "MS21042-3", "A-22")
	d.picture("walk-alerts-4-unclear")

	d.keys("Return")
	d.wait("page", "alerts", "MS21042-3")
	d.keys("e")
	d.answers("", "", "", "", "", "", "", "", "", "2026-03-09", "", "", "", "")
	d.wait("entry", "of MS21042-3 described")
	d.picture("walk-alerts-5-lot")
	d.keys("alt+Left")
	d.wait("page", "alerts", "A-1")
	d.picture("walk-alerts-6-set-apart")

	d.keys("1")
	d.wait("page", "alerts")
	d.keys("n")
	d.answers("Wrong heat treatment", "MS21042-3", "Q7714", "", "", "", "", "", "")
	d.picture("walk-alerts-7-second")
	d.keys("Return")
	d.wait("entry", "A-2 Wrong heat treatment, issue 1: MS21042-3, lot Q7714")
	d.wait("card", "A-2", `"14"`)
	d.press([]string{"Down"}, "card", "A-1", `"14"`)
	d.keys("i")
	d.answers("", "", "2026-03-15", "", "", "", "", "")
	d.picture("walk-alerts-8-narrowed")
	d.keys("Return")
	d.wait("entry", "A-1 Nuts that crack, issue 2: MS21042-3, shipped 15 March 2026 to 31 March 2026")
	d.press([]string{"Up"}, "card", "A-2", `"14"`)
	d.picture("walk-alerts-9-two")
	d.keys("r")
	d.answers("q7714", "Kit maker", "letter 12", "", "")
	d.wait("entry", "A-2: L-47 released by D-1")
	d.picture("walk-alerts-10-answered")
	d.find("ms21042-3", "MS21042-3", "A-22")
	d.keys("Down", "d")
	d.wait("page", "alerts", "MS21042-3")
	d.stop()

	for words, args := range map[string][]string{
		"14 ea in Garage, Cabinet A, A-22": {"lot", "Q7714"},
		"6 ea fitted in SA-20":             {"lot", "Q7714"},
		"shipped: 9 March 2026":            {"lot", "Q7714"},
		"no record here names it":          {"alert", "A-2"},
		"Whole":                            {"check"},
	} {
		if out := d.command(append([]string{"--shop", shop}, args...)...); !strings.Contains(out, words) {
			t.Errorf("%v: %s", args, out)
		}
	}
}
