package session

import (
	"testing"

	"stowright/app/notice"
	"stowright/store"
)

func TestClaimTone(t *testing.T) {
	for days, want := range map[int]notice.Tone{-1: notice.Stop, 0: notice.Stop, 1: notice.Warn, 7: notice.Warn, 8: notice.Quiet, 30: notice.Quiet} {
		if got := ClaimTone(days); got != want {
			t.Errorf("%d days left: got %v, want %v", days, got, want)
		}
	}
}

// What presses most is the nearest day that is still to come; a claim that was not sent by its
// day stays in sight, and one without anything to claim does not.
func TestPressingClaim(t *testing.T) {
	on := func(day, left, unsent int, about store.ClaimFor) store.Clock {
		return store.Clock{For: about, Due: store.Date{Year: 2026, Month: 4, Day: day}, DaysLeft: left, Unsent: unsent}
	}
	for _, row := range []struct {
		name   string
		clocks []store.Clock
		want   string
		tone   notice.Tone
	}{
		{"none", nil, "", notice.Quiet},
		{"far away, it stands out all the same", []store.Clock{on(13, 26, 0, store.ForShortage)}, "Shortages: 26 days left", notice.Warn},
		{"the last day", []store.Clock{on(1, 0, 2, store.ForDamage), on(13, 26, 0, store.ForShortage)}, "Damage claim: last day today", notice.Stop},
		{"past, and another one to come", []store.Clock{on(13, 3, 0, store.ForShortage), on(1, -14, 2, store.ForDamage)}, "Shortages: 3 days left", notice.Warn},
		{"past and not sent", []store.Clock{on(1, -256, 0, store.ForDamage), on(13, -244, 1, store.ForShortage)}, "Shortages: was to be sent by 13 April 2026", notice.Stop},
		{"past, and nothing to claim", []store.Clock{on(1, -1, 0, store.ForDamage)}, "", notice.Quiet},
	} {
		if got, tone := PressingClaim(row.clocks); got != row.want || tone != row.tone {
			t.Errorf("%s: got %q, %v; want %q, %v", row.name, got, tone, row.want, row.tone)
		}
	}
}
