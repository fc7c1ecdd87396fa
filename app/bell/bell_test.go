package bell

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"
)

// The first player that the system has plays the system's own sound.
func TestPlayer(t *testing.T) {
	for _, row := range []struct{ name, system, has, want string }{
		{"by the desktop", "linux", "canberra-gtk-play paplay " + warning, "canberra-gtk-play --id=dialog-warning"},
		{"by the sound server", "linux", "paplay pw-play " + warning, "pw-play " + warning},
		{"by an older one", "freebsd", "paplay " + warning, "paplay " + warning},
		{"without a sound to play", "linux", "paplay pw-play", ""},
		{"without a player", "linux", warning, ""},
		{"macOS", "darwin", "afplay canberra-gtk-play " + basso, "afplay " + basso},
		{"macOS without it", "darwin", "afplay", ""},
		{"Windows", "windows", "rundll32", "rundll32 user32.dll,MessageBeep"},
	} {
		t.Run(row.name, func(t *testing.T) {
			has := func(name string) bool { return slices.Contains(strings.Fields(row.has), name) }
			if got := strings.Join(player(row.system, has, has), " "); got != row.want {
				t.Errorf("got %q, want %q", got, row.want)
			}
		})
	}
}

// It rings for a limited time unless somebody said that it is off, which is kept once; a
// bell that is none is silent.
func TestRing(t *testing.T) {
	rung, broken := 0, errors.New("no sound server")
	var kept []bool
	b := New(func(ctx context.Context) error {
		if _, limited := ctx.Deadline(); !limited {
			t.Error("it may take for ever")
		}
		rung++
		return broken
	}, false, func(off bool) { kept = append(kept, off) })
	if err := b.Ring(t.Context()); !errors.Is(err, broken) || rung != 1 {
		t.Errorf("rang %d times, %v", rung, err)
	}
	b.SetOff(false)
	b.SetOff(true)
	if err := b.Ring(t.Context()); err != nil || rung != 1 || !b.Off() || !slices.Equal(kept, []bool{true}) {
		t.Errorf("off: rang %d times, %v, kept %v", rung, err, kept)
	}
	var none *Bell
	none.SetOff(false)
	if err := none.Ring(t.Context()); err != nil || !none.Off() {
		t.Errorf("none: %v, off %v", err, none.Off())
	}
}
