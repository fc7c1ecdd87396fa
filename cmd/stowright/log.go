package main

import (
	"fmt"
	"io"
	"log/slog"
	"os"
	"path/filepath"
	"strings"

	"stowright/app/logfile"
	"stowright/app/userdirs"
)

// startLog has all that is logged from now on, by whatever library, go into the person's
// log. Where there is no folder for it, it goes nowhere.
func startLog() (closeLog func()) {
	log := logfile.Nowhere()
	if folder, err := userdirs.Here().State(); err == nil {
		log = logfile.Open(folder, thisVersion().Version)
	}
	slog.SetDefault(log.Logger) // the standard log too
	return func() { _ = log.Close() }
}

// logPath is where the log is; empty where there is no folder for it.
func logPath() string {
	folder, err := userdirs.Here().State()
	if err != nil {
		return ""
	}
	return filepath.Join(folder, logfile.Name)
}

// logCommand says where the log is.
type logCommand struct {
	Tail int `help:"Print so many of its last lines too." placeholder:"N"`
}

// logAnswer is what log prints with --json.
type logAnswer struct {
	File  string   `json:"file"`
	Lines []string `json:"lines"` // the last ones, the oldest first, where they were asked for
}

// Run prints where the log is, and its last lines.
func (c *logCommand) Run(p *program) error {
	if c.Tail < 0 {
		return &usageError{fmt.Errorf("--tail: %d is not a number of lines", c.Tail)}
	}
	path := logPath()
	if path == "" {
		return &noError{"there is no folder for a log on this system: set HOME.", ""}
	}
	var text strings.Builder
	if err := logfile.Tail(filepath.Dir(path), c.Tail, &text); err != nil {
		return err
	}
	answer := logAnswer{File: path, Lines: []string{}}
	for line := range strings.Lines(text.String()) {
		answer.Lines = append(answer.Lines, strings.TrimSuffix(line, "\n"))
	}
	return p.emit(answer, func(w io.Writer) error {
		note := ""
		if _, err := os.Stat(path); err != nil {
			note = " (nothing is in it yet)"
		}
		_, err := fmt.Fprintf(w, "%s%s\n%s", path, note, text.String())
		return err
	})
}
