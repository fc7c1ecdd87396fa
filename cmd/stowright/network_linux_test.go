package main

import (
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// job is what a person may do by command, from an empty folder on. All of it has to
// work with the network off.
var job = [][]string{
	{"demo", "--no-window", "--dir", "demo"},
	{"--shop", "demo/demo.stow", "check"},
	{"--shop", "demo/demo.stow", "find", "3-5a"},
	{"--shop", "demo/demo.stow", "labels", "--places", "A-*", "--out", "a.pdf"},
	{"--shop", "demo/demo.stow", "backup"},
	{"--shop", "demo/demo.stow", "export", "all.zip", "--tables", "tables"},
	{"--shop", "new/shop.stow", "restore", "all.zip", "--yes"},
	{"--shop", "other/shop.stow", "import", "demo/packing-list.csv"},
	{"decode", "AN3-5A"},
}

// do does the job in a new folder with the program started by a wrapper, and
// returns the folder.
func do(t *testing.T, wrapper ...string) string {
	t.Helper()
	dir := t.TempDir()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	// The test's own binary is the program where it is called by its name.
	program := filepath.Join(t.TempDir(), "stowright")
	if err := os.Symlink(self, program); err != nil {
		t.Fatal(err)
	}
	for _, args := range job {
		if list, err := filepath.Glob(filepath.Join(dir, "demo", "*.csv")); err == nil && len(list) > 0 && args[len(args)-1] == "demo/packing-list.csv" {
			args = append(args[:len(args)-1:len(args)-1], list[0])
		}
		line := append(append(wrapper[:len(wrapper):len(wrapper)], program), args...)
		c := exec.CommandContext(t.Context(), line[0], line[1:]...)
		c.Dir = dir
		c.Env = append(os.Environ(), "HOME="+dir, "XDG_DATA_HOME=", "XDG_CACHE_HOME=", "XDG_CONFIG_HOME=", "DISPLAY=", "WAYLAND_DISPLAY=")
		if out, err := c.CombinedOutput(); err != nil {
			t.Fatalf("%s: %v\n%s", strings.Join(line, " "), err, out)
		}
	}
	return dir
}

// permitted skips, loudly, where a command that the test stands on is missing or may
// not do its work here.
func permitted(t *testing.T, command ...string) {
	t.Helper()
	if out, err := exec.CommandContext(t.Context(), command[0], append(command[1:], "true")...).CombinedOutput(); err != nil {
		t.Skipf("######## NOT CHECKED: %s: %v %s ########", strings.Join(command, " "), err, out)
	}
}

// The whole job is done in a network namespace that has no network, not even the
// machine's own address.
func TestWorksWithoutNetwork(t *testing.T) {
	permitted(t, "unshare", "-rn")
	do(t, "unshare", "-rn")
}

// networkCall is a socket of any kind but those within the machine by a file name
// (AF_UNIX), or what follows one.
var networkCall = regexp.MustCompile(`socket\(AF_(INET|PACKET|NETLINK|BLUETOOTH|VSOCK)|(connect|bind|sendto)\([^{]*\{sa_family=AF_INET|\blisten\(`)

// A socket that is bound to the name of a file hears nothing from beyond this machine: the
// window listens to it for another start on the same shop.
var (
	fileSocket = regexp.MustCompile(`bind\((\d+), \{sa_family=AF_UNIX, sun_path="/`)
	listening  = regexp.MustCompile(`\blisten\((\d+),`)
)

// No command makes a network call, or listens to anything.
func TestNoNetworkCall(t *testing.T) {
	trace := filepath.Join(t.TempDir(), "trace")
	permitted(t, "strace", "-f", "-o", trace)
	// The watch itself must see what it is for.
	seen := filepath.Join(t.TempDir(), "seen")
	_ = exec.CommandContext(t.Context(), "strace", "-f", "-e", "trace=network", "-o", seen, "bash", "-c", "exec 3<>/dev/udp/127.0.0.1/9").Run()
	if text, err := os.ReadFile(seen); err != nil || !networkCall.Match(text) {
		t.Fatalf("the watch does not see a network call: %v\n%s", err, text)
	}
	do(t, "strace", "-f", "-e", "trace=network", "-A", "-o", trace)
	noneIn(t, trace)
}

func noneIn(t *testing.T, trace string) {
	t.Helper()
	text, err := os.ReadFile(trace)
	if err != nil {
		t.Fatal(err)
	}
	files := map[string]bool{}
	for line := range strings.Lines(string(text)) {
		if bound := fileSocket.FindStringSubmatch(line); bound != nil {
			files[bound[1]] = true
		}
		if heard := listening.FindStringSubmatch(line); heard != nil && files[heard[1]] {
			continue
		}
		if networkCall.MatchString(line) {
			t.Errorf("a network call: %s", line)
		}
	}
}

// Nor does the window: what it says to the display goes through a file.
func TestNoNetworkCallOfTheWindow(t *testing.T) {
	trace := filepath.Join(t.TempDir(), "trace")
	permitted(t, "strace", "-D", "-f", "-o", trace)
	d := sitDown(t)
	d.under = []string{"strace", "-D", "-f", "-e", "trace=network", "-o", trace}
	d.start("desktop")
	d.keys("ctrl+3")
	d.wait("page", "find")
	d.stop()
	if text, err := os.ReadFile(trace); err != nil || !strings.Contains(string(text), "AF_UNIX") {
		t.Fatalf("the watch did not see the display: %v", err)
	}
	noneIn(t, trace)
}

// All that the program writes is for its owner alone.
func TestFileModes(t *testing.T) {
	dir := do(t, "env")
	files := 0
	err := filepath.WalkDir(dir, func(name string, d fs.DirEntry, err error) error {
		if err != nil || name == dir {
			return err
		}
		info, err := d.Info()
		if err != nil {
			return err
		}
		files++
		rel, _ := filepath.Rel(dir, name)
		if d.IsDir() && rel == ".cache" {
			if mode := info.Mode().Perm(); mode != 0o700 {
				t.Errorf("the folder of caches has mode %o, want 700", mode)
			}
			return filepath.SkipDir // what the window's library keeps in it, nobody else can reach
		}
		if mode := info.Mode().Perm(); mode&0o077 != 0 {
			t.Errorf("%s has mode %o, want nothing for others", rel, mode)
		}
		return nil
	})
	if err != nil || files < 10 {
		t.Errorf("%d files, %v", files, err)
	}
}
