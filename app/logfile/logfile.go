// Package logfile keeps the program's log: when it began and ended, what went wrong
// inside it with all causes, and what it died of. The log is for those who fix the
// program and may be sent to them, so nothing of a shop is in it: whatever text is
// logged, only words that the program itself says in its messages are kept, and the rest
// stands as "…".
//
// The log is small, a person's own, and never in the way: where it cannot be written the
// program does without.
package logfile

import (
	"io"
	"log/slog"
	"os"
	"path/filepath"
)

// Name is the file name of the newest part of the log.
const Name = "stowright.log"

// How much is kept.
const (
	partBytes = 1 << 20 // of one file, before another one is begun
	parts     = 5       // files, the newest among them
)

// Log is an open log.
type Log struct {
	*slog.Logger
	path  string
	file  *rotating
	crash *crash
}

// Open opens the log in a folder, which is made where it is not there. What a crashed
// program left there is taken into it. Version is the program's own, for every line.
func Open(folder, version string) *Log {
	l := &Log{path: filepath.Join(folder, Name)}
	l.file = &rotating{path: l.path, limit: partBytes, parts: parts}
	lines := slog.NewTextHandler(l.file, nil).WithAttrs([]slog.Attr{slog.String("version", version), slog.Int("process", os.Getpid())})
	l.Logger = slog.New(handler{lines})
	l.crash = openCrash(folder, l.Logger)
	return l
}

// Nowhere is a log that keeps nothing.
func Nowhere() *Log { return &Log{Logger: slog.New(slog.DiscardHandler)} }

// Path is where the newest part of the log is; empty for Nowhere.
func (l *Log) Path() string { return l.path }

// Close closes the log.
func (l *Log) Close() error {
	if l.file == nil {
		return nil
	}
	l.crash.close()
	return l.file.Close()
}

// Tail copies the last lines of the log in a folder, the oldest first.
func Tail(folder string, lines int, to io.Writer) error {
	r := &rotating{path: filepath.Join(folder, Name), parts: parts}
	return r.tail(lines, to)
}
