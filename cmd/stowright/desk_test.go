package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"
)

// patience is how long a walk waits for the window: long, since machines that run
// tests are busy, and since a walk that works never waits that long.
const patience = 60 * time.Second

// glance is how often a walk looks whether what it waits for is there.
const glance = 20 * time.Millisecond

// desk is the real program in a real window on a display of its own.
type desk struct {
	t        *testing.T
	env      []string
	under    []string // a command that the program is started by and that becomes it
	home     string
	program  *exec.Cmd
	stderr   *bytes.Buffer
	trace    chan string
	seen     []string // lines of the trace, for the report of a failure
	window   string
	spots    []spot // what can be clicked on now; nil before the window said it
	clicked  spot   // the last one
	pictures string
}

// display starts an X server with a screen of that size, which nobody sees, and returns its name.
// Where the programs for that are missing, the test is skipped, unless
// STOWRIGHT_WALK says that it must be walked.
func display(t *testing.T, screen string) string {
	t.Helper()
	for _, name := range []string{"Xvfb", "xdotool", "import", "pdftotext"} {
		if _, err := exec.LookPath(name); err != nil {
			if os.Getenv("STOWRIGHT_WALK") == "must" {
				t.Fatalf("the walk needs %s: run .ci/install test", name)
			}
			t.Skipf("NOT WALKED: the walk needs %s (.ci/install test)", name)
		}
	}
	read, write, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	server := exec.Command("Xvfb", "-displayfd", "3", "-screen", "0", screen, "-nolisten", "tcp")
	server.ExtraFiles = []*os.File{write}
	if err := server.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		_ = server.Process.Signal(syscall.SIGTERM)
		_ = server.Wait() // it was told to end: how it did is of no interest
	})
	write.Close()
	number, err := bufio.NewReader(read).ReadString('\n')
	if err != nil {
		t.Fatalf("the X server did not start: %v", err)
	}
	return ":" + strings.TrimSpace(number)
}

// sitDown prepares a desk with a home folder of its own.
func sitDown(t *testing.T) *desk {
	t.Helper()
	return sitDownBefore(t, "1280x800x24")
}

// sitDownBefore is sitDown before a screen of that size.
func sitDownBefore(t *testing.T, screen string) *desk {
	t.Helper()
	d := &desk{t: t, home: t.TempDir(), pictures: os.Getenv("STOWRIGHT_PICTURES")}
	if d.pictures == "" {
		d.pictures = t.TempDir()
	}
	d.env = append(os.Environ(), "DISPLAY="+display(t, screen), "HOME="+d.home, "XDG_DATA_HOME=", "WAYLAND_DISPLAY=", guardVariable+"=1")
	return d
}

// start runs the program and waits for its window.
func (d *desk) start(args ...string) {
	d.t.Helper()
	d.startOn("today", args...)
}

// startOn is start where the window opens on another page than Today.
func (d *desk) startOn(page string, args ...string) {
	d.t.Helper()
	trace := filepath.Join(d.t.TempDir(), "trace")
	if err := syscall.Mkfifo(trace, 0o600); err != nil {
		d.t.Fatal(err)
	}
	line := slices.Concat(d.under, []string{"stowright"}, args, []string{"--trace", trace, "--theme", "light"})
	d.program = exec.Command(line[0], line[1:]...)
	d.stderr = &bytes.Buffer{}
	d.program.Env, d.program.Stderr = d.env, d.stderr
	if err := d.program.Start(); err != nil {
		d.t.Fatal(err)
	}
	d.t.Cleanup(d.stop)
	f, err := os.Open(trace)
	if err != nil {
		d.t.Fatal(err)
	}
	d.trace = make(chan string, 1000)
	go follow(f, d.trace)
	d.wait("page", page)
	d.window = strings.TrimSpace(d.x("search", "--sync", "--onlyvisible", "--name", "Stowright"))
	d.x("windowfocus", "--sync", d.window)
}

// follow sends the lines of the trace until the program closes it.
func follow(f *os.File, lines chan<- string) {
	defer f.Close()
	defer close(lines)
	for r := bufio.NewReader(f); ; {
		line, err := r.ReadString('\n')
		if err != nil {
			return
		}
		lines <- line
	}
}

// stop ends the program as Ctrl+C in its terminal does, and looks at what it said.
func (d *desk) stop() {
	if d.program == nil {
		return
	}
	_ = d.program.Process.Signal(os.Interrupt)
	err := d.program.Wait()
	d.program = nil
	if err != nil {
		d.t.Errorf("the program ended badly: %v\n%s", err, d.stderr)
	}
	for line := range strings.Lines(d.stderr.String()) {
		if strings.Contains(line, "should have been called in fyne.Do") {
			d.t.Errorf("a call from outside the window's goroutine:\n%s", d.stderr)
			return
		}
	}
}

// x runs xdotool.
func (d *desk) x(args ...string) string {
	d.t.Helper()
	return d.tool("xdotool", args...)
}

// tool runs a program on the display.
func (d *desk) tool(name string, args ...string) string {
	d.t.Helper()
	cmd := exec.Command(name, args...)
	cmd.Env = d.env
	out, err := cmd.CombinedOutput()
	if err != nil {
		d.t.Fatalf("%s %s: %v\n%s", name, strings.Join(args, " "), err, out)
	}
	return string(out)
}

// keys presses keys one after another.
func (d *desk) keys(names ...string) {
	d.t.Helper()
	d.x(append([]string{"key", "--delay", "60"}, names...)...)
}

// text types text at the pace of a person.
func (d *desk) text(s string) {
	d.t.Helper()
	d.x("type", "--delay", "60", s)
}

// wait reads the trace until a line of that event holds all the texts.
func (d *desk) wait(event string, texts ...string) {
	d.t.Helper()
	if !d.within(patience, event, texts) {
		d.picture("failed")
		d.t.Fatalf("%s %q never came\ntrace:\n%s\nstderr:\n%s", event, texts, strings.Join(d.seen, ""), d.stderr)
	}
}

// press presses keys until the event comes: on a page that has just been opened and
// is still reading, keys that choose something have nothing to choose yet.
func (d *desk) press(keys []string, event string, texts ...string) {
	d.t.Helper()
	const again = 3 * time.Second
	for range int(patience / again) {
		d.keys(keys...)
		if d.within(again, event, texts) {
			return
		}
	}
	d.wait(event, texts...)
}

// within reads the trace for so long, and reports whether the event came.
func (d *desk) within(limit time.Duration, event string, texts []string) bool {
	d.t.Helper()
	timeout := time.After(limit)
	for {
		select {
		case line, open := <-d.trace:
			if !open {
				d.picture("failed")
				d.t.Fatalf("the window closed before %s %q\ntrace:\n%s\nstderr:\n%s", event, texts, strings.Join(d.seen, ""), d.stderr)
			}
			if !d.look(line) {
				d.seen = append(d.seen, line)
			}
			if matches(line, event, texts) {
				return true
			}
		case <-timeout:
			return false
		}
	}
}

func matches(line, event string, texts []string) bool {
	var got struct{ Event string }
	if json.Unmarshal([]byte(line), &got) != nil || got.Event != event {
		return false
	}
	for _, text := range texts {
		if !strings.Contains(line, text) {
			return false
		}
	}
	return true
}

// picture saves what the window shows once it has come to rest: two pictures in a
// row are the same.
func (d *desk) picture(name string) {
	d.t.Helper()
	if d.window == "" {
		return
	}
	var last []byte
	for range 20 {
		cmd := exec.Command("import", "-define", "png:exclude-chunks=date,time", "-window", d.window, "png:-")
		cmd.Env = d.env
		shot, err := cmd.Output()
		if err != nil {
			d.t.Logf("picture %s: %v", name, err)
			return
		}
		if bytes.Equal(shot, last) {
			break
		}
		last = shot
		time.Sleep(5 * glance)
	}
	if err := os.WriteFile(filepath.Join(d.pictures, name+".png"), last, 0o600); err != nil {
		d.t.Log(err)
	}
}

// file presses a key until a file is there whole. The key does no harm when it is
// pressed twice; on a busy machine it may come before the page has any use for it.
func (d *desk) file(key, name string) []byte {
	d.t.Helper()
	const again = 5 * time.Second
	for end := time.Now().Add(patience); time.Now().Before(end); {
		d.keys(key)
		for next := time.Now().Add(again); time.Now().Before(next); time.Sleep(glance) {
			if data, err := os.ReadFile(name); err == nil {
				return data
			}
		}
	}
	d.picture("failed")
	d.t.Fatalf("%s was never written", name)
	return nil
}

// command runs a subcommand of the program and returns what it printed.
func (d *desk) command(args ...string) string {
	d.t.Helper()
	cmd := exec.Command("stowright", args...)
	cmd.Env = d.env
	out, err := cmd.CombinedOutput()
	if err != nil {
		d.t.Fatalf("stowright %s: %v\n%s", strings.Join(args, " "), err, out)
	}
	return string(out)
}

// pdfText is the text of a PDF, by a program that is not ours.
func pdfText(t *testing.T, data []byte) string {
	t.Helper()
	cmd := exec.Command("pdftotext", "-", "-")
	cmd.Stdin = bytes.NewReader(data)
	var out bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, io.Discard
	if err := cmd.Run(); err != nil {
		t.Fatalf("pdftotext: %v", err)
	}
	return out.String()
}
