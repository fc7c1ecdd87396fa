package build

import (
	"fmt"
	"slices"
	"strings"

	"stowright/store/measure"
)

// Refused says why something is not booked into a tray.
type Refused string

// What is refused. A stranger, an excess, what is held for others, what has no known
// expiry and what expired in the tray go with a reason, which is kept; the others need
// more than a reason.
const (
	Stranger   Refused = "stranger"   // the sub-assembly does not call it
	Excess     Refused = "excess"     // more than is called
	HeldBack   Refused = "held"       // an earlier sub-assembly holds it
	Undated    Refused = "undated"    // it has a shelf life and nobody wrote the date down
	PastDate   Refused = "expired"    // a retest is a decision
	PastInTray Refused = "past"       // it was pulled while it was good, and may be used by now
	SetAside   Refused = "set apart"  // damaged, quarantined, removed and not looked at
	NoDecision Refused = "origin"     // its origin asks for a decision
	NotThere   Refused = "not there"  // less is there than is to be taken
	Unclear    Refused = "other unit" // it is held in another unit than it is called in
	NoSuch     Refused = "unknown"    // there is no such sub-assembly
)

// WithReason reports whether it goes all the same when somebody says why.
func (r Refused) WithReason() bool {
	switch r {
	case Stranger, Excess, HeldBack, Undated, PastInTray:
		return true
	}
	return false
}

// Booking is what somebody is about to put into a tray.
type Booking struct {
	Code     string
	Item     string
	Place    string // id of where it is taken from
	Lot      string
	Lender   string // code of the sub-assembly whose tray it is borrowed from; "" for none
	Quantity measure.Quantity
	Reason   string // that a person gave; "" none yet
}

// Refusal is why a booking is not made.
type Refusal struct {
	Kind     Refused
	Sentence string // "6 called, 6 pulled"
}

// Alike says how the second of two easily confused items differs from the first, and
// whether they are such; see hardware.Catalog.Alike.
type Alike func(first, second string) (difference string, ok bool)

// MayPull says whether a booking may be made: nil, or why not. What is refused with
// [Refused.WithReason] is let through once the booking has a reason. Alike may be nil.
func (b *Board) MayPull(booking Booking, alike Alike) *Refusal {
	i, ok := b.index[booking.Code]
	if !ok {
		return noSuch(booking.Code)
	}
	needs := b.needsOf(i, booking.Item)
	refusal := b.mayTake(i, needs, booking)
	if refusal == nil || refusal.Kind.WithReason() {
		if calls := b.mayCall(i, needs, booking, alike); calls != nil {
			refusal = calls
		}
	}
	return booking.answered(refusal)
}

// MayUse says whether what a booking takes may go into the aircraft, as far as where it
// lies, its condition, its date and its origin go: nil, or why not. How much is called is
// not asked.
func (b *Board) MayUse(booking Booking) *Refusal {
	i, ok := b.index[booking.Code]
	if !ok {
		return noSuch(booking.Code)
	}
	return booking.answered(b.mayTake(i, b.needsOf(i, booking.Item), booking))
}

// MayTakeHeld says whether what goes straight from storage into the aircraft is held by
// sub-assemblies that come earlier: nil, or by which. Where it is not called, or any quantity
// is, nobody can tell; see [Board.MayUse].
func (b *Board) MayTakeHeld(booking Booking) *Refusal {
	i, ok := b.index[booking.Code]
	if !ok {
		return noSuch(booking.Code)
	}
	needs := b.needsOf(i, booking.Item)
	if len(needs) == 0 || slices.ContainsFunc(needs, func(n *Need) bool { return n.Kind == AsRequired }) {
		return nil
	}
	return booking.answered(b.heldBack(needs, booking, needs[0].Free.High.Micro))
}

// answered is a refusal, or nil where the reason that was given opens it.
func (booking Booking) answered(refusal *Refusal) *Refusal {
	if refusal != nil && refusal.Kind.WithReason() && strings.TrimSpace(booking.Reason) != "" {
		return nil
	}
	return refusal
}

func noSuch(code string) *Refusal {
	return &Refusal{NoSuch, fmt.Sprintf("there is no sub-assembly %q: see how its code is spelled", code)}
}

// needsOf are the needs of a sub-assembly that ask for an item.
func (b *Board) needsOf(i int, item string) []*Need {
	var needs []*Need
	for k := range b.statuses[i].Needs {
		if n := &b.statuses[i].Needs[k]; n.Item == item {
			needs = append(needs, n)
		}
	}
	return needs
}

// mayTake holds a booking against what lies where it is taken from.
func (b *Board) mayTake(i int, needs []*Need, booking Booking) *Refusal {
	sub := &b.reading.SubAssemblies[i]
	w := wish{code: sub.Code, lender: booking.Lender, day: b.reading.Today, unit: booking.Quantity.Unit}
	w.standard = b.reading.Aircraft[sub.Aircraft].Certificate == StandardCategory
	if len(needs) > 0 {
		w.requirement = needs[0].Requirement
	}
	heaps := b.reading.Stock[booking.Item]
	var first *Refusal // of a heap there that may not be taken
	for k := range heaps {
		h := &heaps[k]
		if h.Place != booking.Place || h.Lot != booking.Lot {
			continue
		}
		v := b.books.look(h, w)
		if v.ok && h.Amount.High.Micro >= booking.Quantity.Micro {
			return nil
		}
		if refusal := b.refusal(h, v, booking); first == nil || v.ok {
			first = refusal
		}
	}
	if first == nil {
		first = &Refusal{NotThere, fmt.Sprintf("there is no %s of that lot in %s: see the drawer", booking.Item, b.place(booking.Place))}
	}
	return first
}

// refusal says why a heap is not taken.
func (b *Board) refusal(h *Heap, v verdict, booking Booking) *Refusal {
	at := b.place(h.Place)
	switch {
	case v.ok:
		return &Refusal{NotThere, fmt.Sprintf("%s has %s, and %s is to be taken: count it", at, h.Amount, booking.Quantity)}
	case v.why == NotGood:
		words := string(h.Condition)
		if h.Why != "" {
			words += " by " + h.Why
		}
		return &Refusal{SetAside, fmt.Sprintf("%s in %s is %s: it is not pulled", booking.Item, at, words)}
	case v.why == Expired:
		words := expiredWords(h.Amount.Number(), h.LotName, v.expires, b.reading.Today, b.reading.Today)
		if h.Tray == booking.Code {
			return &Refusal{PastInTray, words + ": say when it was used"}
		}
		return &Refusal{PastDate, words + ": a retest with its paper is a decision"}
	case v.why == OriginAsked:
		words := fmt.Sprintf("the origin of %s is %q: who installs it has to establish more (%s); it takes a decision", booking.Item, originWords(h.Origin), originSources)
		if h.Untied {
			words += "; no paper ties it to the specification (" + traceSource + ")"
		}
		return &Refusal{NoDecision, words}
	case v.why == NoExpiry:
		return &Refusal{Undated, fmt.Sprintf("expiry of %s unknown: see what its container says, and give a reason", booking.Item)}
	case v.why == InTray:
		return &Refusal{NotThere, fmt.Sprintf("it is in the tray of %s: borrow it from there", h.Tray)}
	}
	return &Refusal{Unclear, fmt.Sprintf("%s has %s, and %s is called: %s it first", at, h.Amount, booking.Quantity, counting(h.Amount, booking.Quantity.Unit))}
}

func originWords(o Origin) string {
	if o == UnknownOrigin {
		return "unknown"
	}
	return string(o)
}

// mayCall holds a booking against what the sub-assembly calls. Where nothing is listed for
// it nobody can tell.
func (b *Board) mayCall(i int, needs []*Need, booking Booking, alike Alike) *Refusal {
	if len(b.reading.SubAssemblies[i].Requirements) == 0 {
		return nil
	}
	if len(needs) == 0 {
		return &Refusal{Stranger, "not called here" + b.insteadOf(i, booking.Item, alike)}
	}
	var called, pulled, open int64
	for _, n := range needs {
		if n.Kind == AsRequired {
			return nil
		}
		called, pulled, open = called+n.Needed.Micro, pulled+n.Fitted.Micro, open+n.Open.Micro
	}
	unit := booking.Quantity.Unit
	for _, h := range b.reading.Stock[booking.Item] {
		if h.Tray == booking.Code && h.Amount.Unit == unit {
			pulled += h.Amount.Micro
		}
	}
	if booking.Quantity.Micro > open {
		q := func(micro int64) string { return measure.Quantity{Micro: micro, Unit: unit}.Number() }
		words := fmt.Sprintf("%s called, %s pulled", q(called), q(pulled))
		if open > 0 {
			words += ": " + q(open) + " to go"
		}
		return &Refusal{Excess, words}
	}
	if booking.Lender != "" {
		return nil // the lender gives away what it holds
	}
	free := int64(0)
	for _, n := range needs {
		for _, share := range n.Promised {
			free += share.Quantity.Micro
		}
		free += n.Free.High.Micro - n.Free.Low.Micro // of an estimate, what may be there besides
	}
	return b.heldBack(needs, booking, free)
}

// heldBack refuses what is only there because an earlier sub-assembly did not take it yet;
// free is how much such ones leave, in millionths.
func (b *Board) heldBack(needs []*Need, booking Booking, free int64) *Refusal {
	held := needs[len(needs)-1].Held
	if booking.Quantity.Micro <= free || len(held) == 0 {
		return nil
	}
	var words []string
	for _, r := range holders(nil, held) {
		words = append(words, r.Sentence)
	}
	return &Refusal{HeldBack, fmt.Sprintf("%s is free here: %s", measure.Quantity{Micro: free, Unit: booking.Quantity.Unit}.Number(), strings.Join(words, ", "))}
}

// insteadOf names what a sub-assembly calls that an item is easily taken for.
func (b *Board) insteadOf(i int, item string, alike Alike) string {
	if alike == nil {
		return ""
	}
	var words []string
	for k := range b.statuses[i].Needs {
		n := &b.statuses[i].Needs[k]
		if _, ok := alike(item, n.Item); !ok {
			continue
		}
		at := n.Item
		if len(n.Promised) > 0 {
			at += " in " + b.place(n.Promised[0].Heap.Place)
		}
		if !slices.Contains(words, at) {
			words = append(words, at)
		}
	}
	if len(words) == 0 {
		return ""
	}
	return "; it calls " + listed(words)
}

// WrongDrawer says what is in a place that was scanned at a stop where another is
// meant, and where the right one is; "" for the right one. There is what lies in the
// scanned place: its difference from the stop's item where it is easily taken for it.
func WrongDrawer(stop Stop, scanned Place, there []Neighbour) string {
	if scanned.ID == stop.Place.ID {
		return ""
	}
	var holds []string
	for _, n := range there {
		holds = append(holds, strings.TrimSpace(n.name()+" "+n.Difference))
	}
	what := "empty"
	if len(holds) > 0 {
		what = strings.Join(holds, ", ")
	}
	return fmt.Sprintf("wrong drawer: %s; yours is %s", what, direction(scanned, stop.Place))
}

// direction is where a drawer is, seen from another: "one to the left", or its name
// where it is not near.
func direction(from, to Place) string {
	down, right := to.Row-from.Row, to.Column-from.Column
	const near = 3
	if from.Room != to.Room || from.Furniture != to.Furniture || from.Column == 0 || to.Column == 0 || abs(down) > near || abs(right) > near || down == 0 && right == 0 {
		return to.Name
	}
	number := [near + 1]string{"", "one", "two", "three"}
	var words []string
	switch {
	case down > 0:
		words = append(words, number[down]+" down")
	case down < 0:
		words = append(words, number[-down]+" up")
	}
	switch {
	case right > 0:
		words = append(words, number[right]+" to the right")
	case right < 0:
		words = append(words, number[-right]+" to the left")
	}
	return strings.Join(words, " and ")
}
