package session

import (
	"testing"

	"stowright/app/notice"
)

func TestClaimTone(t *testing.T) {
	for days, want := range map[int]notice.Tone{-1: notice.Stop, 0: notice.Stop, 1: notice.Warn, 7: notice.Warn, 8: notice.Quiet, 30: notice.Quiet} {
		if got := ClaimTone(days); got != want {
			t.Errorf("%d days left: got %v, want %v", days, got, want)
		}
	}
}
