// Package bell makes the sound that goes with a wrong drawer, by the player of sounds that
// the system has. It is never needed: what it is about is said in words too, and where no
// player is found, or the sound is off, nothing happens.
package bell

import (
	"context"
	"errors"
	"os"
	"os/exec"
	"runtime"
	"sync/atomic"
	"time"
)

// ErrNoPlayer is what a sound fails with where the system has no player that is known here.
var ErrNoPlayer = errors.New("no player of sounds is found")

// longest is how long a sound may take: one that comes later warns of nothing.
const longest = 3 * time.Second

// Play makes the sound and waits for its end.
type Play func(ctx context.Context) error

// Bell rings, unless it is off. A nil Bell is off for ever.
type Bell struct {
	play Play
	off  atomic.Bool
	keep func(off bool)
}

// New makes a bell that is off or not; keep is called when that is changed.
func New(play Play, off bool, keep func(off bool)) *Bell {
	b := &Bell{play: play, keep: keep}
	b.off.Store(off)
	return b
}

// Off reports whether it is off.
func (b *Bell) Off() bool { return b == nil || b.off.Load() }

// SetOff has it be off, or not, from now on.
func (b *Bell) SetOff(off bool) {
	if b != nil && b.off.Swap(off) != off {
		b.keep(off)
	}
}

// Ring makes the sound, for three seconds at most, and waits for its end: it is not for
// the window's goroutine.
func (b *Bell) Ring(ctx context.Context) error {
	if b.Off() {
		return nil
	}
	ctx, cancel := context.WithTimeout(ctx, longest)
	defer cancel()
	return b.play(ctx)
}

// System plays the system's own warning, or fails with ErrNoPlayer.
func System(ctx context.Context) error {
	command := player(runtime.GOOS,
		func(program string) bool { _, err := exec.LookPath(program); return err == nil },
		func(file string) bool { _, err := os.Stat(file); return err == nil })
	if command == nil {
		return ErrNoPlayer
	}
	return exec.CommandContext(ctx, command[0], command[1:]...).Run()
}

// What systems play: the warning of the theme that desktops of freedesktop.org fall back
// to, and the sound of macOS that stands for "no".
const (
	warning = "/usr/share/sounds/freedesktop/stereo/dialog-warning.oga"
	basso   = "/System/Library/Sounds/Basso.aiff"
)

// player is the program of a system that plays its warning, with its arguments, of those
// that are found with what they play; nil for none.
func player(system string, found, there func(name string) bool) []string {
	type way struct {
		file    string // that has to be there; "" for none
		command []string
	}
	ways := []way{
		{"", []string{"canberra-gtk-play", "--id=dialog-warning"}},
		{warning, []string{"pw-play", warning}},
		{warning, []string{"paplay", warning}},
	}
	switch system {
	case "windows":
		ways = []way{{"", []string{"rundll32", "user32.dll,MessageBeep"}}}
	case "darwin":
		ways = []way{{basso, []string{"afplay", basso}}}
	}
	for _, w := range ways {
		if (w.file == "" || there(w.file)) && found(w.command[0]) {
			return w.command
		}
	}
	return nil
}
