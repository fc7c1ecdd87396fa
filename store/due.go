package store

import (
	"slices"

	"stowright/store/measure"
)

// Due is what the supplier still owes of a line of the shipment: what the list says is
// back-ordered and has not come, or what was promised in answer to a claim and has not
// come. What was claimed and not answered so is not owed. Why says which, and since when.
func (s Shipment) Due(l Line) (due measure.Quantity, why string) {
	due = measure.Quantity{Unit: l.Listed.Unit}
	if l.Extra {
		return due, ""
	}
	if l.Status == BackOrdered {
		due.Micro = l.Listed.Micro
		if l.Finding != nil {
			due.Micro = max(0, l.Listed.Micro-l.Finding.Found.Micro)
		}
		return due, "back-ordered"
	}
	promised := s.promised(l)
	if l.Finding == nil || len(promised) == 0 {
		return due, ""
	}
	f := l.Finding
	short, damaged := l.lacks()
	came := f.Replaced.Micro
	for _, part := range []struct {
		micro int64
		kinds []ClaimKind
	}{{short, []ClaimKind{ClaimShort, ClaimWrong}}, {damaged, []ClaimKind{ClaimDamaged}}} {
		left := max(0, part.micro-came)
		came = max(0, came-part.micro)
		if slices.ContainsFunc(part.kinds, func(k ClaimKind) bool { return promised[k] }) {
			due.Micro += left
		}
	}
	return due, "replacement promised"
}

// promised are the kinds of claim of a line to which the supplier answered that a
// replacement comes, each by its newest answer.
func (s Shipment) promised(l Line) map[ClaimKind]bool {
	answers := map[ClaimKind]Reply{}
	for _, claim := range s.Claims {
		for _, c := range claim.Lines {
			if c.Line == l.ID && c.Answer != NoAnswer {
				answers[c.Kind] = c.Answer
			}
		}
	}
	promised := map[ClaimKind]bool{}
	for kind, answer := range answers {
		if answer == Replacement {
			promised[kind] = true
		}
	}
	return promised
}

// lacks is how much of a line was short, and how much damaged, before anything came in
// place of it; in millionths of the unit.
func (l Line) lacks() (short, damaged int64) {
	f := l.Finding
	if f == nil {
		return 0, 0
	}
	return max(0, l.Listed.Micro-(f.Found.Micro-f.Replaced.Micro)), f.Damaged.Micro
}

// Waits are the lines of sent claims that no answer was noted of, and the day on which the
// first of them was sent.
func (s Shipment) Waits() (lines int, since Date) {
	for _, claim := range s.Claims {
		for _, c := range claim.Lines {
			if claim.GivenUp != "" || c.Answer != NoAnswer || c.Kind == ClaimSurplus {
				continue
			}
			if lines++; since.IsZero() || claim.Sent.DaysUntil(since) > 0 {
				since = claim.Sent
			}
		}
	}
	return lines, since
}

// checkHow checks how pieces came to be found: by weight, or in place of what was claimed.
func checkHow(l Line, f *Finding) error {
	if err := checkWeighing(l, f); err != nil {
		return err
	}
	return checkReplaced(l, f)
}

// checkReplaced checks what came in place of what was claimed.
func checkReplaced(l Line, f *Finding) error {
	if f.Replaced.Micro == 0 {
		f.Replaced = measure.Quantity{}
		return nil
	}
	if c, err := f.Replaced.Cmp(f.Found); err != nil || c > 0 || f.Replaced.Sign() < 0 || !wholePieces(f.Replaced) {
		return fail(Invalid, l.Designation, "Of line %d, %s were found: that many at most can be replacements.", l.Number(), f.Found)
	}
	return nil
}
