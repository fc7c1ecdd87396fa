package build

import (
	"cmp"

	"stowright/store/measure"
)

// decisionBook finds decisions by what they are for.
type decisionBook struct {
	requirement map[string][]*Decision
	lot         map[string][]*Decision
}

func bookOf(all []Decision) decisionBook {
	book := decisionBook{map[string][]*Decision{}, map[string][]*Decision{}}
	for i := range all {
		d := &all[i]
		if d.Requirement != "" {
			book.requirement[d.Requirement] = append(book.requirement[d.Requirement], d)
		}
		if d.Lot != "" {
			book.lot[d.Lot] = append(book.lot[d.Lot], d)
		}
	}
	return book
}

// otherItem is the newest decision in force on a day that another item may go in for
// a requirement; nil for none.
func (b decisionBook) otherItem(requirement string, day measure.Date) *Decision {
	var newest *Decision
	for _, d := range b.requirement[requirement] {
		if d.Kind == OtherItem && d.InForce(day) && (newest == nil || newest.From.DaysUntil(d.From) >= 0) {
			newest = d
		}
	}
	return newest
}

// everItem reports whether some decision, in force or not, let an item go in for a
// requirement. What was fitted by it stays fitted.
func (b decisionBook) everItem(requirement, item string) bool {
	for _, d := range b.requirement[requirement] {
		if d.Kind == OtherItem && d.Item == item {
			return true
		}
	}
	return false
}

// retest is the newest retest of a lot in force on a day; nil for none.
func (b decisionBook) retest(lot string, day measure.Date) *Decision {
	var newest *Decision
	if lot == "" {
		return nil
	}
	for _, d := range b.lot[lot] {
		if d.Kind == Retest && d.InForce(day) && (newest == nil || newest.From.DaysUntil(d.From) >= 0) {
			newest = d
		}
	}
	return newest
}

// origin is a decision in force that a lot may go in for a requirement whatever its
// origin; nil for none.
func (b decisionBook) origin(requirement, lot string, day measure.Date) *Decision {
	for _, d := range b.requirement[requirement] {
		if d.Kind == AnyOrigin && d.Lot == lot && d.InForce(day) {
			return d
		}
	}
	return nil
}

// originSources are what an installer has to establish before a part goes into an
// aircraft with a standard certificate.
const originSources = "AC 20-62E par. 6; 14 CFR 43.13(b)"

// traceSource says that only hardware that can be traced to its source is used.
const traceSource = "AC 43.13-1B par. 7-34"

// establishes reports whether an origin by itself says what AC 20-62E par. 6 a-c asks
// the installer of a type-certificated aircraft to establish. What it does not say
// somebody has to decide.
func (o Origin) establishes() bool {
	switch o {
	case ApprovedProduction, StandardPart, CommercialPart, OwnerProduced:
		return true
	}
	return false
}

// wish is who wants stock: for which requirement, on which day, in which unit.
type wish struct {
	code        string
	lender      string // whose tray may be borrowed from; "" for none
	requirement string
	day         measure.Date
	unit        measure.Unit
	standard    bool // its aircraft has a standard certificate
}

// reaches reports whether a wish may take out of a tray, or, for "", out of storage.
func (w wish) reaches(tray string) bool { return tray == "" || tray == w.code || tray == w.lender }

// verdict is whether a heap may be used for a wish.
type verdict struct {
	ok      bool
	why     ReasonKind   // where it may not
	by      string       // decision that allows it
	expires measure.Date // retests counted; zero: none
}

// look holds a heap against a wish.
func (b decisionBook) look(h *Heap, w wish) verdict {
	v := verdict{expires: h.Expires}
	if d := b.retest(h.Lot, w.day); d != nil {
		v.expires, v.by = d.Until, d.ID
	}
	switch {
	case !w.reaches(h.Tray):
		v.why = InTray
		return v
	case h.Condition != Good:
		v.why = NotGood
		return v
	case !v.expires.IsZero() && v.expires.DaysUntil(w.day) > 0:
		v.why = Expired
		return v
	case w.standard && !h.Origin.establishes():
		d := b.origin(w.requirement, h.Lot, w.day)
		if d == nil {
			v.why = OriginAsked
			return v
		}
		v.by = cmp.Or(v.by, d.ID)
	}
	switch {
	case h.Perishable && v.expires.IsZero():
		v.why = NoExpiry
	case h.Amount.Unit != w.unit && w.unit != "" && h.Amount.Sign() > 0:
		v.why = Uncounted
	default:
		v.ok = true
	}
	return v
}
