package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// On a terminal one line is written over and over, ten times a second at most, and is
// blank again at the end.
func TestProgressLine(t *testing.T) {
	var out bytes.Buffer
	at := time.Date(2026, time.March, 18, 9, 0, 0, 0, time.UTC)
	l := &progressLine{w: &out, now: func() time.Time { return at }}
	for i := range uint64(1000) {
		l.entries(1000-i, 1000)
		at = at.Add(time.Millisecond / 2)
	}
	l.clear()
	want := "\r1000 of 1000 entries\r800 of 1000 entries \r600 of 1000 entries\r400 of 1000 entries\r200 of 1000 entries\r                   \r"
	if got := out.String(); got != want {
		t.Errorf("written in half a second:\n%q, want\n%q", got, want)
	}
}

// Work that tells its words is said as they come, with how much of it where that is known.
func TestProgressOfWork(t *testing.T) {
	var out bytes.Buffer
	at := time.Date(2026, time.March, 18, 9, 0, 0, 0, time.UTC)
	l := &progressLine{w: &out, now: func() time.Time { at = at.Add(time.Second); return at }}
	l.work("copying", 0.5)
	l.work("reading it", -1)
	l.clear()
	if got, want := out.String(), "\rcopying, 50 %\rreading it   \r          \r"; got != want {
		t.Errorf("written: %q, want %q", got, want)
	}
}

// In a file and with --json nothing is said of progress.
func TestProgressIsForTerminals(t *testing.T) {
	f, err := os.Create(filepath.Join(t.TempDir(), "log"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for _, p := range []*program{{log: f}, {log: &bytes.Buffer{}}} {
		l := p.progress()
		l.entries(1, 2)
		l.clear()
		if l.w != nil {
			t.Errorf("progress goes to %T", l.w)
		}
	}
	if info, err := f.Stat(); err != nil || info.Size() != 0 {
		t.Errorf("%d bytes were written, %v", info.Size(), err)
	}
}
