package build

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"stowright/store/measure"
	"stowright/store/phrase"
)

// blocker says what keeps a need from being met, and where the rest is.
func (b *Board) blocker(i int, n *Need) *Blocker {
	sub := &b.reading.SubAssemblies[i]
	out := &Blocker{
		Code: sub.Code, Requirement: n.Requirement, Called: n.Called, Item: n.Item,
		Need: n.Open, Free: n.Free, Here: n.Here,
	}
	w := wish{code: sub.Code, requirement: n.Requirement, day: b.statuses[i].Day, unit: n.Needed.Unit}
	w.standard = b.reading.Aircraft[sub.Aircraft].Certificate == StandardCategory
	out.Reasons = b.reasons(n, w)
	out.CannotTell, out.Reasons = tell(n, out.Reasons)
	out.Sentence = n.Item + ": " + blockerWords(n, out.Reasons)
	return out
}

// reasons are where what is missing is, what is nearest at hand first.
func (b *Board) reasons(n *Need, w wish) []Reason {
	heaps, expected := b.reading.Stock[n.Item], b.reading.Expected[n.Item]
	out := make([]Reason, 0, len(heaps)+len(expected)+min(len(n.Held), mostHolders+1)+1)
	for i := range heaps {
		if r, ok := b.heapReason(&heaps[i], w); ok {
			out = append(out, r)
		}
	}
	out = holders(out, n.Held)
	for _, e := range expected {
		out = append(out, expectedReason(e))
	}
	if len(out) == 0 {
		out = append(out, Reason{Kind: Nowhere, Sentence: "on no packing list and not ordered"})
	}
	byKind := func(a, b Reason) int { return int(a.Kind - b.Kind) }
	if !slices.IsSortedFunc(out, byKind) {
		slices.SortStableFunc(out, byKind)
	}
	return out
}

// mostHolders is how many are named that hold what is missing; Need.Held has all.
const mostHolders = 4

// holders adds the first of those that hold what is missing, and the others as one.
func holders(out []Reason, held []Hold) []Reason {
	rest := Reason{Kind: Reserved}
	for i, h := range held {
		if i < mostHolders {
			out = append(out, Reason{Kind: Reserved, Holder: h.Code, Quantity: h.Quantity, Sentence: h.Quantity.Number() + " for " + h.Code})
			continue
		}
		rest.Quantity.Unit = h.Quantity.Unit
		rest.Quantity.Micro += h.Quantity.Micro
	}
	if others := len(held) - mostHolders; others > 0 {
		rest.Sentence = fmt.Sprintf("%s for %d others", rest.Quantity.Number(), others)
		out = append(out, rest)
	}
	return out
}

// tell reports whether the need may be met after all by what lies here and is only
// estimated, held in another unit or without a known expiry. Where even the most of it
// would not do, estimates are no reason: counting changes nothing.
func tell(n *Need, reasons []Reason) (bool, []Reason) {
	most := n.Free.High.Micro + n.Pulled.High.Micro - n.Pulled.Low.Micro
	for _, r := range reasons {
		switch {
		case r.Kind == Uncounted && r.Quantity.Unit != n.Needed.Unit:
			return true, reasons
		case r.Kind == NoExpiry:
			most += r.Quantity.Micro
		}
	}
	if most >= n.Open.Micro {
		return true, reasons
	}
	return false, slices.DeleteFunc(reasons, func(r Reason) bool { return r.Kind == Uncounted })
}

// heapReason says why a heap does not serve, or that it does only by its estimate.
func (b *Board) heapReason(h *Heap, w wish) (Reason, bool) {
	v := b.books.look(h, w)
	if v.ok && !h.Amount.Estimate() || h.Amount.High.Sign() <= 0 {
		return Reason{}, false
	}
	q := h.Amount.Number()
	r := Reason{Kind: v.why, Quantity: h.Amount.Quantity, Place: h.Place, Lot: h.Lot}
	name := cmp.Or(h.LotName, "it")
	switch {
	case v.ok, v.why == Uncounted:
		r.Kind = Uncounted
		r.Sentence = fmt.Sprintf("%s %s", counting(h.Amount, w.unit), b.place(h.Place))
	case v.why == NoExpiry:
		r.Sentence = fmt.Sprintf("expiry of %s unknown: see what its container says, in %s", name, b.place(h.Place))
	case v.why == InTray:
		r.Holder = h.Tray
		r.Sentence = fmt.Sprintf("%s in the tray of %s", q, h.Tray)
	case v.why == OriginAsked:
		r.Sentence = q + " here needs a decision on origin"
		if h.Amount.Quantity != measure.Of(1, h.Amount.Unit) {
			r.Sentence = q + " here need a decision on origin"
		}
	case v.why == Expired:
		r.Until = v.expires
		r.Sentence = expiredWords(q, h.LotName, v.expires, w.day, b.reading.Today)
	default:
		r.Sentence = q + " " + string(h.Condition)
		if h.Why != "" {
			r.Sentence += " (" + h.Why + ")"
		}
	}
	return r, true
}

// counting is what makes a number of an amount: weighing what is held by weight,
// counting else.
func counting(a measure.Amount, wanted measure.Unit) string {
	if a.Unit.IsWeight() && !wanted.IsWeight() {
		return "weigh"
	}
	return "count"
}

// expiredWords is "2 of lot 1 expired 22 days ago", or "2 of lot 1 expire 22 days
// before the job" of what is good today.
func expiredWords(q, lot string, last, day, today measure.Date) string {
	of := ""
	if lot != "" {
		of = " of " + lot
	}
	if last.DaysUntil(today) > 0 {
		return fmt.Sprintf("%s%s expired %s ago", q, of, days(last.DaysUntil(today)))
	}
	return fmt.Sprintf("%s%s expire %s before the job", q, of, days(last.DaysUntil(day)))
}

func days(n int) string {
	if n == 1 {
		return "1 day"
	}
	return fmt.Sprintf("%d days", n)
}

// expectedReason says what is known of a quantity that is not in stock.
func expectedReason(e Expected) Reason {
	r := Reason{By: e.By, Quantity: e.Quantity, Line: e.Line, Crate: e.Crate, Supplier: e.Supplier, Since: e.Since, Until: e.Until}
	at := ""
	if e.Line > 0 {
		at = fmt.Sprintf(" on line %d", e.Line)
	}
	switch e.By {
	case NotChecked:
		r.Kind, r.Sentence = UncheckedLine, fmt.Sprintf("line %d is to be checked", e.Line)
		return r
	case Unopened:
		r.Kind, r.Sentence = InCrate, phrase.Crate(e.Crate)+" is not opened"
		return r
	case Missing:
		r.Kind, r.Sentence = Lacking, "short"+at
		if e.Claimed {
			r.Sentence += ", claimed and not answered"
		}
		return r
	case Unusable:
		r.Kind, r.Sentence = Lacking, cmp.Or(e.Note, "not usable")+at
		return r
	case NotCome:
		r.Sentence = phrase.Crate(e.Crate) + " has not come"
	case BackOrdered:
		r.Sentence = "back-ordered"
	default:
		r.Sentence = e.Quantity.Number() + " owed" + at
	}
	r.Kind = Owing
	if !e.Since.IsZero() {
		r.Sentence += " since " + e.Since.String()
	}
	if !e.Until.IsZero() {
		r.Kind = Due
		r.Sentence += ", promised for " + e.Until.String()
	}
	return r
}

// blockerWords is what a blocker says after the item's number.
func blockerWords(n *Need, reasons []Reason) string {
	if unitsDiffer(n, reasons) {
		return "need " + n.Open.String() + ", " + join(reasons, "; ", allReasons)
	}
	need := "need " + n.Open.Number()
	if n.Open != n.Needed {
		need += " more"
	}
	held, here := false, false // something lies here that may not be used
	for i := range reasons {
		k := reasons[i].Kind
		held, here = held || k == Reserved, here || k == NoExpiry || k >= InTray && k <= Expired
	}
	between := "; "
	switch {
	case held:
		need += ", free " + figure(n.Free) + "; " + figure(n.Here) + " here, " + join(reasons, ", ", func(k ReasonKind) bool { return k == Reserved })
	case here:
		need += ", usable " + figure(n.Here) + lots(n.Promised)
	default:
		need, between = need+", have "+figure(n.Here), ", "
	}
	if rest := join(reasons, "; ", func(k ReasonKind) bool { return k != Reserved }); rest != "" {
		need += between + rest
	}
	return need
}

func allReasons(ReasonKind) bool { return true }

// unitsDiffer reports whether all that lies here is held in another unit.
func unitsDiffer(n *Need, reasons []Reason) bool {
	return n.Here.High.Sign() == 0 && len(reasons) > 0 && reasons[0].Kind == Uncounted && reasons[0].Quantity.Unit != n.Needed.Unit
}

func figure(a measure.Amount) string {
	if !a.Estimate() {
		return a.Number()
	}
	return fmt.Sprintf("about %s (%s to %s)", a.Number(), a.Low.Number(), a.High.Number())
}

// lots names the lots of shares, where they have names: " (lot 2)".
func lots(shares []Share) string {
	var names []string
	for _, s := range shares {
		if s.Heap.LotName != "" && !slices.Contains(names, s.Heap.LotName) {
			names = append(names, s.Heap.LotName)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return " (" + strings.Join(names, ", ") + ")"
}

// join puts the sentences of reasons of some kinds together.
func join(reasons []Reason, between string, wanted func(ReasonKind) bool) string {
	var words []string
	for i := range reasons {
		if wanted(reasons[i].Kind) {
			words = append(words, reasons[i].Sentence)
		}
	}
	return strings.Join(words, between)
}

func (b *Board) place(id string) string { return cmp.Or(b.reading.Places[id].Name, id) }

// mostStops is how many blockers the sentence of a sub-assembly says.
const mostStops = 4

// sentence is how a sub-assembly stands, in words.
func (b *Board) sentence(s *Status, sub *SubAssembly) string {
	by := ""
	if len(s.By) > 0 {
		by = ", by " + strings.Join(s.By, " and ")
	}
	switch s.State {
	case Closed:
		return "closed on " + sub.Closed.String()
	case Unlisted:
		return "nothing is listed yet that it needs"
	case Ready:
		return "ready" + by
	case Begun:
		return "begun; all that is left to pull is here" + by
	case Estimate:
		return "cannot tell: " + b.toDo(s.Blockers)
	}
	var stops []string
	for _, x := range s.Blockers {
		if x.CannotTell {
			continue
		}
		if len(stops) == mostStops {
			stops = append(stops, "and more")
			break
		}
		stops = append(stops, x.Sentence)
	}
	return "not ready: " + strings.Join(stops, " | ")
}

// toDo is what tells after all: "weigh A-03 and A-21".
func (b *Board) toDo(blockers []*Blocker) string {
	var verbs []string
	places := map[string][]string{}
	add := func(verb, what string) {
		if !slices.Contains(verbs, verb) {
			verbs = append(verbs, verb)
		}
		if !slices.Contains(places[verb], what) {
			places[verb] = append(places[verb], what)
		}
	}
	for _, x := range blockers {
		for _, r := range x.Reasons {
			switch r.Kind {
			case Uncounted:
				verb, _, _ := strings.Cut(r.Sentence, " ")
				add(verb, b.place(r.Place))
			case NoExpiry:
				add("see the date of "+x.Item+" in", b.place(r.Place))
			}
		}
	}
	var words []string
	for _, verb := range verbs {
		words = append(words, verb+" "+listed(places[verb]))
	}
	return strings.Join(words, ", ")
}

// listed is "A-03", "A-03 and A-21" or "A-03, A-12 and A-21".
func listed(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// hints are what is worth knowing of a need though it stops nothing.
func (b *Board) hints(n *Need, shelf []candidate, w wish, only string) []string {
	var out []string
	for _, s := range n.Promised {
		last := b.books.look(&s.Heap, w).expires
		if !last.IsZero() && last == w.day {
			out = append(out, fmt.Sprintf("%s expires on %s: last day", cmp.Or(s.Heap.LotName, n.Item), last))
		}
	}
	if only == "" || w.standard {
		return out
	}
	var kept []string
	for _, c := range shelf {
		if c.kept && c.heap.Amount.Low.Sign() > 0 {
			kept = append(kept, cmp.Or(c.heap.LotName, c.heap.Lot, b.place(c.heap.Place)))
		}
	}
	if len(kept) == 1 {
		out = append(out, fmt.Sprintf("%s is the only one for %s", kept[0], only))
	}
	return out
}
