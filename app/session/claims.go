package session

import (
	"slices"

	"stowright/app/notice"
	"stowright/store"
)

// claimSoon is how many days before its end a claim clock begins to warn: a week,
// since a claim needs photos and a letter. No standard says so.
const claimSoon = 7

// ClaimTone is how much a claim clock needs attention with so many days left, which
// are below 0 when its end is past.
func ClaimTone(daysLeft int) notice.Tone {
	switch {
	case daysLeft <= 0:
		return notice.Stop
	case daysLeft <= claimSoon:
		return notice.Warn
	}
	return notice.Quiet
}

// PressingClaim is the claim clock that is to be kept in sight, in words, of those in the
// order of Reader.Clocks: the nearest that runs, or else one that has passed before its claim
// was sent, which is still worth sending. It is "" where there is none.
func PressingClaim(clocks []store.Clock) (string, notice.Tone) {
	i := slices.IndexFunc(clocks, func(c store.Clock) bool { return c.DaysLeft >= 0 || c.Unsent > 0 })
	if i < 0 {
		return "", notice.Quiet
	}
	c := clocks[i]
	if c.DaysLeft < 0 {
		return c.Name() + ": was to be sent by " + c.Due.String(), ClaimTone(c.DaysLeft)
	}
	return c.String(), max(notice.Warn, ClaimTone(c.DaysLeft)) // it stands out at any time
}
