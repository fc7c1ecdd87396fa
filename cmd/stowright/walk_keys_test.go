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

// TestWalkFastKeys types stories at 20 ms a key, without waiting for what is asked: nothing is
// lost, and nothing reaches another page than it was meant for.
func TestWalkFastKeys(t *testing.T) {
	d := sitDown(t)
	shop := filepath.Join(d.home, "demo", "demo.stow")
	d.command("demo", "--no-window", "--dir", filepath.Dir(shop))
	d.start("--shop", shop, "--day", "2026-03-18", "desktop")

	d.fast("ctrl+4", "Down", "r", `"R2`, "Return", "u", "n", `"Hangar`, "Return")
	d.wait("entry", "R2")
	d.wait("entry", "room Hangar made")
	d.fast("ctrl+3", `"an3-5a`, "Return", "c", `"27`, "Return")
	d.wait("entry", "AN3-5A", "27 ea")
	d.stop()
}
