package notice

import (
	"fmt"
	"testing"
)

func TestTonesAreWords(t *testing.T) {
	for tone, want := range map[Tone]string{Quiet: "quiet", OK: "ok", Warn: "warn", Stop: "stop"} {
		if got := fmt.Sprint(tone); got != want {
			t.Errorf("tone %d: got %q, want %q", int(tone), got, want)
		}
	}
}
