package store

import (
	"fmt"
	"slices"

	"stowright/store/measure"
	"stowright/store/phrase"
)

// ClaimKind is what a line of a claim says.
type ClaimKind string

// The kinds of claim, in the order in which a claim lists them.
const (
	ClaimShort   ClaimKind = "short"
	ClaimDamaged ClaimKind = "damaged"
	ClaimWrong   ClaimKind = "wrong"
	ClaimSurplus ClaimKind = "surplus"
)

// Reply is what the supplier answered to a line of a claim.
type Reply string

// The answers of a supplier.
const (
	NoAnswer    Reply = ""
	Replacement Reply = "replacement coming"
	Credit      Reply = "credit"
	Refused     Reply = "refused"
)

// Claimed is a line of a claim.
type Claimed struct {
	Line LineID `json:"line"`
	// Printed is the number that the line had on the list when it was claimed; 0: that of Line.
	Printed int       `json:"printed,omitempty"`
	Kind    ClaimKind `json:"kind"`
	Words   string    `json:"words"` // "listed 3, found 2: 1 short"
	Answer  Reply     `json:"answer,omitempty"`
	Note    string    `json:"note,omitempty"` // to the answer
	// Credited is what the supplier credits for it; zero: no sum was noted.
	Credited Money `json:"credited,omitzero"`
	// Quantity is how much the words say is claimed; it is worked out and not kept.
	Quantity measure.Quantity `json:"-"`
}

// Number is the number that the line had on the list when it was claimed.
func (c Claimed) Number() int {
	return Line{ID: c.Line, Printed: c.Printed}.Number()
}

// same reports whether two lines of a claim claim the same.
func (c Claimed) same(other Claimed) bool {
	return c.Line == other.Line && c.Kind == other.Kind && c.Words == other.Words
}

// Worth is what a line of a claim is worth at the price of one unit; nothing where none is
// known, nor for what came and was not listed.
func (c Claimed) Worth(price Money) (Money, error) {
	if c.Kind == ClaimSurplus {
		return Money{}, nil
	}
	return price.Times(c.Quantity)
}

// SentClaim is a claim as it was sent to the supplier of a shipment, or as it was given up.
type SentClaim struct {
	Sent    Date      `json:"sent"` // or given up
	Hand    string    `json:"hand"`
	How     string    `json:"how,omitempty"`
	GivenUp string    `json:"given_up,omitempty"` // why it is not sent; empty: it was
	Lines   []Claimed `json:"lines"`
}

// Claims are what is to be claimed of a line. Left and right, and revisions, are never
// set off against each other; what was found again, and what the list says is
// back-ordered, is not claimed, nor a line that only has strays of another bag.
func (l Line) Claims() []Claimed {
	f := l.Finding
	if f == nil || !f.Counted && f.Came == nil && !l.Extra {
		return nil
	}
	if f.Replaced.Sign() > 0 { // what was claimed stays as it was claimed
		before := *f
		before.Found.Micro -= f.Replaced.Micro
		before.Replaced = measure.Quantity{}
		l.Finding, f = &before, &before
	}
	var all []Claimed
	add := func(kind ClaimKind, q measure.Quantity, words string) {
		if words != "" {
			all = append(all, Claimed{Line: l.ID, Printed: l.Printed, Kind: kind, Words: words, Quantity: q})
		}
	}
	short, stray := l.claimShort()
	add(ClaimShort, l.missing(), short)
	if f.Damaged.Sign() > 0 {
		add(ClaimDamaged, f.Damaged, withNote(plainAmount(f.Damaged)+" damaged", f.Note))
	}
	if f.Came != nil && !stray {
		what := "wrong item"
		if f.Came.Revision {
			what = "wrong revision"
		}
		add(ClaimWrong, f.Came.Quantity, withNote(fmt.Sprintf("%s %s came: %s", plainAmount(f.Came.Quantity), f.Came.Designation, what), f.Note))
	}
	add(ClaimSurplus, measure.Quantity{Unit: l.Listed.Unit}, l.claimSurplus())
	return all
}

// counts are what was listed and found, as a claim says it.
func (l Line) counts() string {
	return fmt.Sprintf("listed %s, found %s: ", plainAmount(l.Listed), plainAmount(l.Finding.Found))
}

// claimShort is what is claimed as short, empty for nothing, and whether it says also what
// came in its place: of one thing one line says both. What the list says is back-ordered
// comes later.
func (l Line) claimShort() (words string, stray bool) {
	f, short := l.Finding, l.missing()
	if l.Extra || l.Status == BackOrdered || short.Sign() <= 0 {
		return "", false
	}
	words = l.counts() + plainAmount(short) + " short"
	if f.Came == nil || f.Came.Revision {
		return words, false
	}
	return withNote(words+"; "+plainAmount(f.Came.Quantity)+" "+f.Came.Designation+" came in its place: wrong item", f.Note), true
}

// claimSurplus is what came and was not listed; empty for nothing.
func (l Line) claimSurplus() string {
	over := l.Difference()
	switch {
	case l.Extra && l.Finding.Found.Sign() > 0:
		return plainAmount(l.Finding.Found) + " came that the list does not have"
	case !l.Extra && l.missing().Sign() <= 0 && over.Sign() > 0:
		return l.counts() + plainAmount(over) + " over"
	}
	return ""
}

// missing is what is short of a line; the same part of another revision is wrong, and
// not short as well.
func (l Line) missing() measure.Quantity {
	short := l.Difference().Neg()
	if c := l.Finding.Came; c != nil && c.Revision {
		short.Micro -= c.Quantity.Micro
	}
	return short
}

// plainAmount is a quantity as a letter says it: pieces are plain figures.
func plainAmount(q measure.Quantity) string {
	if q.Unit == measure.Each {
		return q.Number()
	}
	return q.String()
}

func withNote(words, note string) string {
	if note == "" {
		return words
	}
	return words + ", " + note
}

// Claim is what was sent of a line of a claim, or given up, the newest first, and whether it
// was: a finding that has changed since is another line.
func (s Shipment) Claim(c Claimed) (sent SentClaim, as Claimed, found bool) {
	for _, claim := range slices.Backward(s.Claims) {
		for _, l := range claim.Lines {
			if l.same(c) {
				return claim, l, true
			}
		}
	}
	return SentClaim{}, Claimed{}, false
}

// Unsent are the lines that a claim would have and that were neither sent nor given up yet.
func (s Shipment) Unsent(lines []Line) []Claimed {
	var list []Claimed
	for _, l := range lines {
		for _, c := range l.Claims() {
			if _, _, sent := s.Claim(c); !sent {
				list = append(list, c)
			}
		}
	}
	return list
}

// UnsentFor is how many lines of some crates a claim would have that a clock is about and
// that were not sent yet.
func (s Shipment) UnsentFor(about ClaimFor, crates []string, lines []Line) int {
	n := 0
	for _, l := range lines {
		if !slices.Contains(crates, l.Crate) {
			continue
		}
		for _, c := range s.Unsent([]Line{l}) {
			if (c.Kind == ClaimDamaged) == (about == ForDamage) {
				n++
			}
		}
	}
	return n
}

// Settled reports whether a claim clock of a delivery need not be counted down any more:
// every line that came is checked, a claim was sent or given up, and nothing for that clock
// is left.
func (s Shipment) Settled(d Delivery, about ClaimFor, lines []Line) bool {
	if len(s.Claims) == 0 {
		return false
	}
	for _, l := range lines {
		if !slices.Contains(d.Crates, l.Crate) {
			continue
		}
		if l.State(true) == ToCheck || l.Finding != nil && !l.Finding.Counted && l.Finding.Came == nil && !l.Extra {
			return false
		}
	}
	return s.UnsentFor(about, d.Crates, lines) == 0
}

// refuseSent says why a claim that names those lines cannot have been sent on a day:
// it is still to come, or a crate of theirs was.
func (s Shipment) refuseSent(on, today Date, lines []Line, claimed []Claimed) error {
	if today.DaysUntil(on) > 0 {
		return fail(Invalid, on.String(), "The claim cannot have been sent on %s: that day is still to come.", on)
	}
	for _, l := range lines {
		if !slices.ContainsFunc(claimed, func(c Claimed) bool { return c.Line == l.ID }) {
			continue
		}
		for _, d := range s.Deliveries {
			if slices.Contains(d.Crates, l.Crate) && on.DaysUntil(d.Arrived) > 0 {
				return fail(Invalid, on.String(), "The claim cannot have been sent on %s: it names line %d of %s, which arrived on %s.", on, l.Number(), phrase.Crate(l.Crate), d.Arrived)
			}
		}
	}
	return nil
}

// ClaimSent records that the claim of a shipment was sent, with all that was not sent
// before, on a day that is not still to come and not before what it names arrived.
// Who sent it is the hand that works.
func (s *Shop) ClaimSent(shipment string, sent Date, how string) (Entry, error) {
	return s.commit(VerbClaim, func(w *writer) (string, error) {
		ship, lines, err := w.shipmentLines(shipment)
		if err != nil {
			return "", err
		}
		claim := SentClaim{Sent: sent, Hand: w.hand, Lines: ship.Unsent(lines)}
		if sent.IsZero() || !sent.Valid() {
			return "", fail(Invalid, ship.File, "Say on which day the claim was sent: a day of the calendar.")
		}
		if len(claim.Lines) == 0 {
			return "", fail(Conflict, ship.File, "There is nothing to claim that was not sent before: check lines off first.")
		}
		if err := ship.refuseSent(sent, s.Today(), lines, claim.Lines); err != nil {
			return "", err
		}
		if claim.How, err = cleanOptional("How it was sent", how); err != nil {
			return "", err
		}
		ship.Claims = append(slices.Clone(ship.Claims), claim)
		text := fmt.Sprintf("claim sent on %s: %s", sent, phrase.Count(len(claim.Lines), "line", "lines"))
		return withNote(text, claim.How), w.put(tableShipments, shipment, ship)
	})
}

// ClaimGivenUp records that lines of the list are not claimed though they could be, and why;
// no lines are all that were not sent. They are in sight no more as what is still to send;
// what is found of them after that is. Undo claims them again.
func (s *Shop) ClaimGivenUp(shipment string, of []LineID, why string) (Entry, error) {
	return s.commit(VerbClaim, func(w *writer) (string, error) {
		ship, lines, err := w.shipmentLines(shipment)
		if err != nil {
			return "", err
		}
		if why, err = cleanOptional("The reason", why); err != nil {
			return "", err
		}
		if why == "" {
			return "", fail(Invalid, ship.File, "Say why the claim is given up: the journal keeps the reason.")
		}
		claim := SentClaim{Sent: s.Today(), Hand: w.hand, GivenUp: why}
		unsent := ship.Unsent(lines)
		for _, id := range of {
			if !slices.ContainsFunc(unsent, func(c Claimed) bool { return c.Line == id }) {
				n := numberOf(lines, id)
				return "", fail(Conflict, fmt.Sprint(n), "There is nothing of line %d to give up: it is not claimed, or that was sent or given up before.", n)
			}
		}
		for _, c := range unsent {
			if len(of) == 0 || slices.Contains(of, c.Line) {
				claim.Lines = append(claim.Lines, c)
			}
		}
		if len(claim.Lines) == 0 {
			return "", fail(Conflict, ship.File, "There is nothing to give up: nothing is claimed that was not sent before.")
		}
		ship.Claims = append(slices.Clone(ship.Claims), claim)
		text := fmt.Sprintf("claim given up: %s", phrase.Count(len(claim.Lines), "line", "lines"))
		return withNote(text, why), w.put(tableShipments, shipment, ship)
	})
}

// ClaimAnswer is what the supplier answered to lines of a claim.
type ClaimAnswer struct {
	Reply    Reply
	Note     string
	Credited Money // for one line; zero: no sum
}

// clean refuses what is no answer to those lines.
func (a *ClaimAnswer) clean(of []LineID) (err error) {
	if a.Reply != Replacement && a.Reply != Credit && a.Reply != Refused {
		return fail(Invalid, string(a.Reply), "%s is not an answer: it is %s, %s or %s.", phrase.Quote(string(a.Reply)), Replacement, Credit, Refused)
	}
	if a.Credited.Known() && (a.Reply != Credit || len(of) != 1) {
		return fail(Invalid, a.Credited.String(), "A sum is that of one line that is credited: give it line by line, with the answer %s.", Credit)
	}
	a.Note, err = cleanOptional("The note on the answer", a.Note)
	return err
}

// ClaimAnswered records what the supplier answered to lines of the list that were
// sent; no lines are all that have no answer yet. A sum that is credited is that of one line.
func (s *Shop) ClaimAnswered(shipment string, of []LineID, answer ClaimAnswer) (Entry, error) {
	return s.commit(VerbClaim, func(w *writer) (string, error) {
		ship, lines, err := w.shipmentLines(shipment)
		if err != nil {
			return "", err
		}
		if err := answer.clean(of); err != nil {
			return "", err
		}
		var answered []LineID
		var last *Claimed
		ship.Claims = slices.Clone(ship.Claims)
		for i := range ship.Claims {
			if ship.Claims[i].GivenUp != "" {
				continue
			}
			ship.Claims[i].Lines = slices.Clone(ship.Claims[i].Lines)
			for j := range ship.Claims[i].Lines {
				l := &ship.Claims[i].Lines[j]
				if slices.Contains(of, l.Line) || len(of) == 0 && l.Answer == NoAnswer {
					l.Answer, l.Note, l.Credited = answer.Reply, answer.Note, Money{}
					answered = append(answered, l.Line)
					last = l
				}
			}
		}
		for _, id := range of {
			if !slices.Contains(answered, id) {
				n := numberOf(lines, id)
				return "", fail(Conflict, fmt.Sprint(n), "Line %d is on no claim that was sent: mark the claim as sent first.", n)
			}
		}
		if len(answered) == 0 {
			return "", fail(Conflict, ship.File, "No line of a sent claim waits for an answer: mark the claim as sent first.")
		}
		last.Credited = answer.Credited // a line can stand there twice: the sum is there once
		text := fmt.Sprintf("claim answered: %s, %s", phrase.Count(len(answered), "line", "lines"), answer.Reply)
		if answer.Credited.Known() {
			text += " of " + answer.Credited.String()
		}
		return withNote(text, answer.Note), w.put(tableShipments, shipment, ship)
	})
}

// shipmentLines is a shipment with its lines, by number.
func (w *writer) shipmentLines(shipment string) (Shipment, []Line, error) {
	ship, found, err := lookup[Shipment](w.ledger, tableShipments, shipment)
	if err != nil {
		return ship, nil, err
	}
	if !found {
		return ship, nil, fail(NotFound, "", "That packing list is not in this shop: bring it in first.")
	}
	var lines []Line
	err = scan(w.ledger.tx, tableLines, shipment+keySeparator, func(_ string, l Line) error {
		lines = append(lines, l)
		return nil
	})
	return ship, byNumber(lines), err
}

// numberOf is the number of a line among some lines; one that is not there has that of its id.
func numberOf(lines []Line, id LineID) int {
	at := slices.IndexFunc(lines, func(l Line) bool { return l.ID == id })
	if at < 0 {
		return int(id)
	}
	return lines[at].Number()
}
