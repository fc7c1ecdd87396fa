package logfile

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"

	"stowright/store/fault"
)

// TestMain dies of a panic on another goroutine where a test asks for that.
func TestMain(m *testing.M) {
	if folder := os.Getenv("LOGFILE_CRASH"); folder != "" {
		Open(folder, "v1")
		go func() { panic(fmt.Errorf("no bolt fits %q in Zanzibar", "QUUX-7")) }()
		select {}
	}
	os.Exit(m.Run())
}

func readAll(t *testing.T, folder string) string {
	t.Helper()
	var all []byte
	names, err := filepath.Glob(filepath.Join(folder, "*"))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, data...)
	}
	return string(all)
}

// Only words that the program says itself come through.
func TestClean(t *testing.T) {
	for _, row := range []struct{ name, in, want string }{
		{"a sentence", "The shop file cannot be opened.", "The shop file cannot be opened."},
		{"a name in it", "The shop file Zanzibar cannot be opened.", "The shop file … cannot be opened."},
		{"a path", "/home/me/Documents/Zanzibar.stow is damaged", "… is damaged"},
		{"quoted words of the program's own", `There is no item "bolt in the drawer" in this shop.`, "There is no item … in this shop."},
		{"curly quotes", "There is no item “bolt” in this shop", "There is no item … in this shop"},
		{"a designation", "AN3-8 does not exist", "… does not exist"},
		{"figures", "entry 135 of 136", "entry … of …"},
		{"an id", "no place 01JQ8ZK5V2N3P4Q5R6S7T8V9W0 here", "no place 01JQ8ZK5V2N3P4Q5R6S7T8V9W0 here"},
		{"lower case, as names are too", "not in zanzibar quux", "not in …"},
		{"an apostrophe", "the shop's file is there", "the shop's file is there"},
		{"nothing", "", ""},
	} {
		if got := Clean(row.in); got != row.want {
			// A word of the program may have gone out of use; a gap is never wrong there.
			t.Errorf("%s: %q gives %q, want %q", row.name, row.in, got, row.want)
		}
	}
}

// An error is logged with every cause, its kind of error, and what the system said.
func TestChain(t *testing.T) {
	folder := t.TempDir()
	l := Open(folder, "v1.2")
	cause := &fs.PathError{Op: "open", Path: "/home/me/Zanzibar/quux.pdf", Err: syscall.EACCES}
	err := fmt.Errorf("writing %q: %w", "Zanzibar", errors.Join(fault.Wrap(cause, fault.Internal, "/home/me/Zanzibar", "The shop file %s cannot be opened: see that its disk is there and has room.", "Zanzibar"), context.Canceled))
	l.Error("a step failed", "err", err, "item", "Zanzibar", "entry", 135, "odd", []string{"Zanzibar"}, slog.Group("g", "name", "Zanzibar"))
	l.With("name", "Zanzibar").WithGroup("g").Info("Zanzibar", "at", time.Unix(0, 0))
	if err := l.Close(); err != nil {
		t.Fatal(err)
	}
	got := readAll(t, folder)
	for _, want := range []string{
		"level=ERROR", `msg="a step failed"`, "version=v1.2", fmt.Sprintf("process=%d", os.Getpid()), "entry=135",
		"*fmt.wrapError: writing …", "*errors.joinError", "*fault.Error: The shop file … cannot be opened: see that its disk is there and has room.",
		"*fs.PathError: open …", "syscall.Errno: 13 permission denied", "context canceled",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("the log lacks %q:\n%s", want, got)
		}
	}
	if strings.Contains(strings.ToLower(got), "zanzibar") || strings.Contains(got, "quux") || strings.Contains(got, "/home") {
		t.Errorf("the log tells what it must not:\n%s", got)
	}
}

// The log is of a bounded size, its newest lines are found, and nobody else reads it.
func TestRotate(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "state")
	r := &rotating{path: filepath.Join(folder, Name), limit: 1000, parts: 3}
	other := &rotating{path: r.path, limit: r.limit, parts: r.parts} // of another program
	for i := range 200 {
		w := r
		if i%3 == 0 {
			w = other
		}
		if _, err := fmt.Fprintf(w, "line %03d of the log, long enough to fill a file soon\n", i); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := r.Write(bytes.Repeat([]byte("x"), 5000)); err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(r.Close(), r.Close(), other.Close()); err != nil {
		t.Fatal(err)
	}
	names, err := filepath.Glob(filepath.Join(folder, "*"))
	if err != nil || len(names) != 3 {
		t.Errorf("%d files, %v: %v", len(names), err, names)
	}
	for _, name := range names {
		info, err := os.Stat(name)
		if err != nil || info.Size() > 1000 || runtime.GOOS != "windows" && info.Mode().Perm() != 0o600 {
			t.Errorf("%s: %d bytes, %v, %v", name, info.Size(), info.Mode(), err)
		}
	}
	for lines, want := range map[int]string{1: "x", 3: "line 198", 0: "", 20: "line 181"} {
		var b bytes.Buffer
		if err := Tail(folder, lines, &b); err != nil {
			t.Fatal(err)
		}
		if got := b.String(); !strings.HasPrefix(got, want) || strings.Count(got, "\n") != lines {
			t.Errorf("the last %d lines begin %.20q and are %d, want %q", lines, got, strings.Count(got, "\n"), want)
		}
	}
}

// Without a folder that can be written, and without any log, the program goes on.
func TestWithoutALog(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, l := range []*Log{Open(filepath.Join(file, "folder"), "v1"), Nowhere()} {
		l.Error("a step failed")
		if err := l.Close(); err != nil {
			t.Error(err)
		}
	}
	var b bytes.Buffer
	if err := Tail(t.TempDir(), 5, &b); err != nil || b.Len() > 0 {
		t.Errorf("no log yet: %q, %v", b.String(), err)
	}
}

// What the program died of, on whatever goroutine, is in the log from its next start on,
// with its stack; and a file of a program that runs is left alone.
func TestCrash(t *testing.T) {
	folder := t.TempDir()
	program := exec.CommandContext(t.Context(), os.Args[0])
	program.Env = append(os.Environ(), "LOGFILE_CRASH="+folder)
	if out, err := program.CombinedOutput(); err == nil || !strings.Contains(string(out), "panic") {
		t.Fatalf("it did not die: %v\n%s", err, out)
	}
	running := filepath.Join(folder, "crash-1.txt")
	if err := os.WriteFile(running, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	l := Open(folder, "v2")
	if err := l.Close(); err != nil {
		t.Fatal(err)
	}
	got := readAll(t, folder)
	for _, want := range []string{"msg=crashed", "panic", "no bolt fits …", "logfile.TestMain.func1", "logfile_test.go:"} {
		if !strings.Contains(got, want) {
			t.Errorf("the log lacks %q:\n%s", want, got)
		}
	}
	if strings.Contains(got, "Zanzibar") || strings.Contains(got, "QUUX") {
		t.Errorf("the log tells what it must not:\n%s", got)
	}
	if left, _ := filepath.Glob(filepath.Join(folder, "crash-*")); len(left) != 1 || left[0] != running {
		t.Errorf("left: %v", left)
	}
	takeCrashes(folder, l.Logger, time.Now().Add(2*crashAfter))
	if left, _ := filepath.Glob(filepath.Join(folder, "crash-*")); len(left) != 0 {
		t.Errorf("an old one is left: %v", left)
	}
}
