package main

import (
	"errors"
	"fmt"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
)

// TestWalkSecondStart opens a shop file by its name, as a file manager does, while a window
// has it: it says which one, and that window gets the focus. The window has the program's
// icon.
func TestWalkSecondStart(t *testing.T) {
	d := sitDown(t)
	d.env = append(d.env, "XDG_RUNTIME_DIR=")
	shop := filepath.Join(d.home, "demo", "demo.stow")
	d.start("demo", "--dir", filepath.Dir(shop))
	root := regexp.MustCompile(`Window id: (0x[0-9a-f]+)`).FindStringSubmatch(d.tool("xwininfo", "-root"))
	if root == nil {
		t.Fatal("the display has no root window")
	}
	d.x("windowfocus", "--sync", root[1])

	second := exec.Command("stowright", shop)
	second.Env = d.env
	out, err := second.CombinedOutput()
	var exit *exec.ExitError
	if !errors.As(err, &exit) || exit.ExitCode() != exitDamaged {
		t.Errorf("the second start ended with %v, want exit code %d", err, exitDamaged)
	}
	for _, want := range []string{"A window of Stowright has " + shop + " open since ", fmt.Sprintf("(process %d)", d.program.Process.Pid)} {
		if !strings.Contains(string(out), want) {
			t.Errorf("the second start says %q, want %q in it", out, want)
		}
	}
	d.x("search", "--sync", "--onlyvisible", "--name", "Stowright")
	var focused string
	// The second start ends once the window was asked; the display follows when it comes to it.
	for end := time.Now().Add(20 * time.Second); focused != d.window && time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		focused = strings.TrimSpace(d.x("getwindowfocus", "-f"))
	}
	if focused != d.window {
		t.Errorf("window %s has the focus, want %s", focused, d.window)
	}
	if got := d.tool("xprop", "-id", d.window, "-len", "16", "-notype", "32c", "_NET_WM_ICON"); !strings.Contains(got, "= 256, 256") {
		t.Errorf("the icon of the window is %.200s", got)
	}
}

// A line that is nothing but the name of a shop file opens it.
func TestOpening(t *testing.T) {
	for _, row := range []struct{ line, want string }{
		{"kit.stow", "open -- kit.stow"},
		{"/a/Kit.STOW", "open -- /a/Kit.STOW"},
		{"-kit.stow", "open -- -kit.stow"},
		{"kit.stow.recent", "kit.stow.recent"},
		{"find kit.stow", "find kit.stow"},
		{"find", "find"},
		{"", ""},
	} {
		if got := strings.Join(opening(strings.Fields(row.line)), " "); got != row.want {
			t.Errorf("%q is read as %q, want %q", row.line, got, row.want)
		}
	}
}
