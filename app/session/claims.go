package session

import (
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

// PressingClaim is the claim clock that is to be kept in sight, in words: the nearest that
// runs, or else one that has passed before its claim was sent, which is still worth sending.
// It is "" where there is none.
func PressingClaim(r *store.Reader) (string, notice.Tone, error) {
	clocks, err := r.Clocks()
	if err != nil {
		return "", notice.Quiet, err
	}
	for _, c := range clocks {
		if c.DaysLeft >= 0 {
			return c.String(), max(notice.Warn, ClaimTone(c.DaysLeft)), nil // it stands out at any time
		}
		switch overdue, err := r.Overdue(c); {
		case err != nil:
			return "", notice.Quiet, err
		case overdue:
			return c.Name() + ": was to be sent by " + c.Due.String(), ClaimTone(c.DaysLeft), nil
		}
	}
	return "", notice.Quiet, nil
}
