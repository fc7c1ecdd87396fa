package store

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"stowright/store/build"
	"stowright/store/disk"
	"stowright/store/phrase"
)

// LotFacts are what somebody recorded of a lot, off its container, its papers or its
// invoice. What is left open is unknown, and nothing is assumed of it.
type LotFacts struct {
	Origin  build.Origin `json:"origin,omitempty"`
	From    string       `json:"from,omitempty"` // of what was removed: the aircraft, and its hours then
	Maker   string       `json:"maker,omitempty"`
	Shipped Date         `json:"shipped,omitzero"` // day on which it was sent
	Price   Money        `json:"price,omitzero"`   // of one unit
	Invoice string       `json:"invoice,omitempty"`
	Made    Date         `json:"made,omitzero"`    // or cured; of a quarter or a month its last day
	Life    *Life        `json:"life,omitempty"`   // nil: none is known
	Expiry  *Expiry      `json:"expiry,omitempty"` // nil: none is printed
	Opened  Date         `json:"opened,omitzero"`  // lives hold for what was never opened
	// Perishable says that it has a life, whether anybody knows it or not.
	Perishable bool     `json:"perishable,omitempty"`
	Papers     []string `json:"papers,omitempty"` // by name
	Note       string   `json:"note,omitempty"`
}

// Life is how long after it was made a lot may be used, and where that is said.
type Life struct {
	Months int    `json:"months"`
	Source string `json:"source"` // "printed on the can"
}

// Expiry is the last day on which a lot may be used, as it is printed, and where.
type Expiry struct {
	Day    Date   `json:"day"`
	Source string `json:"source"`
}

// Origins are all origins that a lot may be said to have; the empty one is unknown.
func Origins() []build.Origin {
	return []build.Origin{
		build.UnknownOrigin, build.ApprovedProduction, build.StandardPart, build.CommercialPart, build.OwnerProduced,
		build.FromKitMaker, build.MadeHere, build.OutsideAviation, build.FromAircraft, build.MilitarySurplus,
	}
}

// maxLife bounds a life in months: a hundred years.
const maxLife = 1200

// Expires is the last day on which a lot may be used: as printed, which wins; else by
// when it was made and its life; zero where neither is known. It is worked out whenever
// it is asked, and never stored.
func (f LotFacts) Expires() Date {
	switch {
	case f.Expiry != nil:
		return f.Expiry.Day
	case f.Life != nil && !f.Made.IsZero():
		return addMonths(f.Made, f.Life.Months)
	}
	return Date{}
}

// Perishes reports whether it has a life, known or not.
func (f LotFacts) Perishes() bool { return f.Perishable || f.Life != nil || f.Expiry != nil }

// addMonths is the same day of a later month, or its last where it has no such day.
func addMonths(d Date, months int) Date {
	index := int(d.Month) - 1 + months
	later := Date{Year: d.Year + index/12, Month: time.Month(index%12 + 1), Day: d.Day}
	for !later.Valid() {
		later.Day--
	}
	return later
}

// DescribeLot records what is known of a lot, in place of what was recorded before.
func (s *Shop) DescribeLot(number uint64, facts LotFacts) (Entry, error) {
	return s.describeLot(number, nil, facts)
}

// MarkLot records what is printed on a lot, "" for nothing, and what is known of it, in
// place of what was recorded before.
func (s *Shop) MarkLot(number uint64, printed string, facts LotFacts) (Entry, error) {
	return s.describeLot(number, &printed, facts)
}

func (s *Shop) describeLot(number uint64, printed *string, facts LotFacts) (Entry, error) {
	return s.commit(VerbRecord, func(w *writer) (string, error) {
		lot, found, err := lookup[Lot](w.ledger, tableLots, numberKey(number))
		if err != nil {
			return "", err
		}
		if !found || lot.Undone {
			return "", fail(NotFound, LotName(number), "There is no lot %s in this shop: see the lots of its item.", LotName(number))
		}
		if printed != nil {
			if lot.Printed, err = w.marked(lot, *printed); err != nil {
				return "", err
			}
		}
		if lot.Facts, err = cleanFacts(lot, facts); err != nil {
			return "", err
		}
		if lot.Facts.Papers, err = w.papers(lot.Facts.Papers); err != nil {
			return "", err
		}
		return fmt.Sprintf("%s of %s described", lot.Called(), lot.Item), w.put(tableLots, lot.key(), lot)
	})
}

// marked is what is printed on a lot then. The finding that made it has it too, so that a
// correction of how many came does not bring the old number back. How many were counted is as
// it was.
func (w *writer) marked(lot Lot, printed string) (string, error) {
	printed, err := cleanOptional("The lot or batch", printed)
	if err != nil || printed == lot.Printed {
		return printed, err
	}
	if lot.derived() {
		return "", fail(Invalid, lot.Name(), "%s was made of other lots, which have what is printed: mark those.", lot.Name())
	}
	if lot.Receipt == nil || lot.Receipt.Shipment == "" {
		return printed, nil
	}
	l, err := w.line(lot.Receipt.Shipment, lot.Receipt.Line)
	if err != nil || l.Finding == nil || l.Finding.LotName != lot.Name() { // what came in place of what is listed
		return printed, err
	}
	if printed == "" && l.Lot != "" {
		return "", fail(Conflict, lot.Name(), "Line %d of the packing list says that it is lot %s: type what is printed on it.", l.Number(), l.Lot)
	}
	finding := *l.Finding
	finding.Lot = printed
	l.Finding = &finding
	return printed, w.put(tableLines, lineKey(l.Shipment, l.ID), l)
}

func cleanFacts(lot Lot, f LotFacts) (LotFacts, error) {
	name := lot.Name()
	if !slices.Contains(Origins(), f.Origin) {
		return f, fail(Invalid, name, "%s is no origin: it is one of %s.", phrase.Quote(string(f.Origin)), originList())
	}
	var life, expiry string
	if f.Life != nil {
		copied := *f.Life
		f.Life, life = &copied, copied.Source
	}
	if f.Expiry != nil {
		copied := *f.Expiry
		f.Expiry, expiry = &copied, copied.Source
	}
	for _, field := range []struct {
		what string
		text *string
	}{
		{"What it was removed from", &f.From},
		{"The maker", &f.Maker},
		{"The invoice", &f.Invoice},
		{"Where its life is said", &life},
		{"Where its expiry is said", &expiry},
		{"The note", &f.Note},
	} {
		var err error
		if *field.text, err = cleanOptional(field.what, *field.text); err != nil {
			return f, err
		}
	}
	if f.Life != nil {
		f.Life.Source = life
	}
	if f.Expiry != nil {
		f.Expiry.Source = expiry
	}
	if err := checkDates(name, f); err != nil {
		return f, err
	}
	papers := make([]string, 0, len(f.Papers))
	for _, p := range f.Papers {
		number, ok := PaperNumber(p)
		if !ok {
			return f, noPaper(p)
		}
		if p = PaperName(number); !slices.Contains(papers, p) {
			papers = append(papers, p)
		}
	}
	f.Papers = slices.Clip(papers)
	if len(papers) == 0 {
		f.Papers = nil
	}
	return f, nil
}

func originList() string {
	names := make([]string, 0, len(Origins()))
	for _, o := range Origins()[1:] {
		names = append(names, string(o))
	}
	return strings.Join(names, ", ")
}

// checkDates refuses days and lives that cannot be: a life counts from a day, and has a
// source.
func checkDates(name string, f LotFacts) error {
	expiry := Date{}
	if f.Expiry != nil {
		expiry = f.Expiry.Day
		if expiry.IsZero() || f.Expiry.Source == "" {
			return fail(Invalid, name, "Say the day of its expiry and where it is printed: on the container, or in which paper.")
		}
	}
	for _, day := range []struct {
		what string
		day  Date
	}{{"on which it was shipped", f.Shipped}, {"on which it was made", f.Made}, {"on which it was opened", f.Opened}, {"of its expiry", expiry}} {
		if !day.day.IsZero() && !day.day.Valid() {
			return fail(Invalid, name, "The day %s is none: write it like 2026-03-14.", day.what)
		}
	}
	if !expiry.IsZero() && !f.Made.IsZero() && f.Made.DaysUntil(expiry) < 0 {
		return fail(Invalid, name, "It would expire on %s, before it was made: see which day is which.", expiry)
	}
	if f.From != "" && f.Origin != build.FromAircraft {
		return fail(Invalid, name, "Only what was removed from an aircraft says from which: correct its origin.")
	}
	return checkLife(name, f.Life)
}

func checkLife(name string, life *Life) error {
	switch {
	case life == nil:
		return nil
	case life.Months < 1 || life.Months > maxLife:
		return fail(Invalid, name, "A life of %d months is none: give 1 to %d, as the container says.", life.Months, maxLife)
	case life.Source == "":
		return fail(Invalid, name, "Say where its life is said: on the container, or in which paper.")
	}
	return nil
}

// LotState is a lot with what follows for it from those that were poured into it.
type LotState struct {
	Lot        Lot
	Origin     build.Origin // of a mix: that of all its parents, or unknown
	Expires    Date         // of a mix: the earliest of its parents
	Perishable bool         // it has a life: of a mix, any parent has, and of a lot, any lot of its item
}

// LotStates are the states of all recorded lots of an item, by name.
func (r *Reader) LotStates(item string) (map[string]LotState, error) {
	states := map[string]LotState{}
	err := r.view(func(tx *disk.Tx) error {
		lots, err := lotsOf(tx, item)
		if err != nil {
			return err
		}
		perishable := false
		for _, l := range lots {
			s := LotState{Lot: l, Origin: l.Facts.Origin, Expires: l.Facts.Expires()}
			perishable = perishable || l.Facts.Perishes()
			if l.derived() {
				s.mix(states)
			}
			states[l.Name()] = s
		}
		for name, s := range states {
			s.Perishable = perishable
			states[name] = s
		}
		return nil
	})
	return states, err
}

// mix takes over what holds for all that a lot was made of, unless it was recorded of
// the lot itself. Parents have lower numbers, so that their states are known.
func (s *LotState) mix(known map[string]LotState) {
	origin, unknown := s.Lot.Facts.Origin, false
	for i, p := range s.Lot.Parents {
		of := known[p.Lot] // of an older shop: nothing is known
		if s.Lot.Facts.Origin == build.UnknownOrigin {
			if i == 0 {
				origin = of.Origin
			} else if of.Origin != origin {
				unknown = true
			}
		}
		if s.Lot.Facts.Expiry == nil && !of.Expires.IsZero() && (s.Expires.IsZero() || of.Expires.DaysUntil(s.Expires) > 0) {
			s.Expires = of.Expires
		}
	}
	if s.Origin = origin; unknown {
		s.Origin = build.UnknownOrigin
	}
}
