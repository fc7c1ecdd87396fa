package main

import (
	"fmt"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// fast types at 20 ms a key, without waiting for anything: texts, and keys of several letters.
func (d *desk) fast(names ...string) {
	d.t.Helper()
	var script strings.Builder
	for _, name := range names {
		how := "key"
		if name[0] == '"' { // in a command line "type" would take the keys behind it for text
			how, name = "type", name[1:]
		}
		fmt.Fprintf(&script, "%s --delay 20 %s\n", how, name)
	}
	cmd := exec.Command("xdotool", "-")
	cmd.Env, cmd.Stdin = d.env, strings.NewReader(script.String())
	if out, err := cmd.CombinedOutput(); err != nil {
		d.t.Fatalf("xdotool: %v\n%s", err, out)
	}
}

// TestWalkFastKeys types stories at 20 ms a key, without waiting for what is asked, in three sizes:
// nothing is lost, and nothing reaches another page than it was meant for.
func TestWalkFastKeys(t *testing.T) {
	for _, v := range views() {
		t.Run(v.name, func(t *testing.T) { walkFast(t, v) })
	}
}

func walkFast(t *testing.T, v view) {
	d := sitDownAt(t, v)
	shop := filepath.Join(d.home, "demo", "demo.stow")
	d.command("demo", "--no-window", "--dir", filepath.Dir(shop))
	d.start(append([]string{"--shop", shop, "--day", "2026-03-18", "desktop"}, v.args...)...)

	d.fast("ctrl+4", "Down", "r", `"R2`, "Return")
	d.wait("entry", "R2")
	// Tab leads from field to field of a question that is not there yet, and back.
	d.fast("ctrl+4", "u", "k", "Tab", "ctrl+a", `"Q`, "Tab", "ctrl+a", `"2`, "Tab", "ctrl+a", `"3`, "shift+Tab", "shift+Tab", "shift+Tab", "ctrl+a", `"Bin`, "Return")
	d.wait("entry", "Bin made with 6 drawers")
	d.fast("u", "n", `"Hangar`, "Return")
	d.wait("entry", "room Hangar made")
	d.fast("ctrl+3", `"an3-5a`, "Return", "c", `"28`, "BackSpace", `"7`, "Return")
	d.wait("entry", "AN3-5A", "27 ea")
	d.fast("ctrl+4", "u", "k", "Escape", "n", `"Loft`, "Return")
	d.wait("entry", "room Loft made")
	// A line in hand, by the arrows, and what is found of it; the first key records nothing.
	d.fast("ctrl+2", "n", "Down", "s", `"2`, "Return")
	d.wait("entry", "line 2, OQ-10-002: found 2 ea")
	d.fast("ctrl+6", "plus", "Right", "Left", "Return", "x", "Down", "Up", "Escape", "ctrl+3", `"an3-6a`, "Tab", "Tab")
	d.wait("card", "AN3-6A")
	d.stop()
	if out := d.command("--shop", shop, "find", "Q-06"); !strings.Contains(out, "Bin") {
		t.Errorf("the drawers of the new cabinet are not lettered Q:\n%s", out)
	}
}
