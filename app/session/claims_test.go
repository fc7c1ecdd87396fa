package session_test

import (
	"testing"
	"time"

	"stowright/app/demo"
	"stowright/app/notice"
	"stowright/app/session"
	"stowright/app/session/sessiontest"
)

func TestClaimTone(t *testing.T) {
	for days, want := range map[int]notice.Tone{-1: notice.Stop, 0: notice.Stop, 1: notice.Warn, 7: notice.Warn, 8: notice.Quiet, 30: notice.Quiet} {
		if got := session.ClaimTone(days); got != want {
			t.Errorf("%d days left: got %v, want %v", days, got, want)
		}
	}
}

// What presses most is the nearest day that is still to come; a claim that was not sent by its
// day stays in sight until it is, and nothing does where there is nothing to claim.
func TestPressingClaim(t *testing.T) {
	for _, row := range []struct {
		name  string
		scene demo.Scene
		day   int // of April 2026
		sent  bool
		want  string
		tone  notice.Tone
	}{
		{"far away, it stands out all the same", demo.Unpacked, 1, false, "Shortages: 12 days left", notice.Warn},
		{"the last day", demo.Unpacked, 13, false, "Shortages: last day today", notice.Stop},
		{"past and not sent", demo.Unpacked, 14, false, "Damage claim: was to be sent by 19 March 2026", notice.Stop},
		{"past and sent", demo.Unpacked, 14, true, "", notice.Quiet},
		{"past, and nothing was checked", demo.Arrived, 14, false, "", notice.Quiet},
		{"nothing has come", demo.Furnished, 14, false, "", notice.Quiet},
	} {
		t.Run(row.name, func(t *testing.T) {
			clock := demo.NewClock(demo.Today, true)
			shop := sessiontest.OpenShop(t, row.scene, clock)
			if row.sent {
				ships, err := shop.Shipments()
				if err != nil {
					t.Fatal(err)
				}
				if _, err := shop.ClaimSent(ships[0].ID, shop.Today(), "by e-mail"); err != nil {
					t.Fatal(err)
				}
			}
			clock.Set(time.Date(2026, 4, row.day, 9, 0, 0, 0, time.UTC))
			got, tone, err := session.PressingClaim(&shop.Reader)
			if err != nil || got != row.want || tone != row.tone {
				t.Errorf("got %q, %v, %v; want %q, %v", got, tone, err, row.want, row.tone)
			}
		})
	}
}
