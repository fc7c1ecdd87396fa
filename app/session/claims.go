package session

import "stowright/app/notice"

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
