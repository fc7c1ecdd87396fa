package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"strings"
	"time"
	"unicode/utf8"

	"stowright/app/wording"
	"stowright/store/progress"
)

// progressEvery is how often a line of progress is rewritten.
const progressEvery = 100 * time.Millisecond

// progressLine is one line on the terminal that says how far long work is. Where
// nobody reads along, as in a file or a pipe, it says nothing.
type progressLine struct {
	w     io.Writer // nil: nobody reads along
	now   func() time.Time
	last  time.Time
	width int // of what stands there
}

// progress is the line of a command that takes long. Clear it before anything else
// is printed.
func (p *program) progress() *progressLine {
	l := &progressLine{now: time.Now}
	if f, ok := p.log.(*os.File); ok && isTerminal(f) {
		l.w = p.log
	}
	return l
}

// long does long work on the shop, which says how far it is.
func (p *program) long(work func(ctx context.Context) error) error {
	line := p.progress()
	defer line.clear()
	return work(progress.With(p.ctx, line.work))
}

// isTerminal reports whether what is written to a file is seen by a person at once.
func isTerminal(f *os.File) bool {
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}

// entries says how many entries are done.
func (l *progressLine) entries(done, total uint64) {
	l.say(func() string { return fmt.Sprintf("%d of %d entries", done, total) })
}

// work says what is being done, and how much of it where that is known.
func (l *progressLine) work(what string, done float64) {
	l.say(func() string { return wording.Progress(what, done) })
}

func (l *progressLine) say(text func() string) {
	if l.w == nil {
		return
	}
	if now := l.now(); now.Sub(l.last) >= progressEvery {
		l.last = now
		l.write(text())
	}
}

// clear takes the line away.
func (l *progressLine) clear() {
	if l.width > 0 {
		l.write("")
		fmt.Fprint(l.w, "\r")
	}
}

// write puts a text in the place of the one before, blanks over what is left of that:
// not every terminal knows how to clear a line.
func (l *progressLine) write(text string) {
	width := utf8.RuneCountInString(text)
	fmt.Fprint(l.w, "\r", text, strings.Repeat(" ", max(0, l.width-width)))
	l.width = width
}
