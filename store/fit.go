package store

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"stowright/store/build"
	"stowright/store/disk"
	"stowright/store/measure"
	"stowright/store/phrase"
)

// Fitted is how much of an item of a lot went into a sub-assembly for a requirement. It
// is no stock any more: it is part of the aircraft.
type Fitted struct {
	SubAssembly string // code
	Requirement string // "R-31"; "" for what is not called there, and for what was fitted before format 6
	Item        string
	Lot         string
	Amount      Amount

	old bool // fitted before format 6: its key has no requirement
}

func (f Fitted) key() string {
	if f.old {
		return strings.Join([]string{f.SubAssembly, f.Item, f.Lot}, keySeparator)
	}
	return strings.Join([]string{f.SubAssembly, f.Requirement, f.Item, f.Lot}, keySeparator)
}

// parseFittedKey is what a key names, without how much.
func parseFittedKey(s string) (Fitted, error) {
	p := strings.Split(s, keySeparator)
	switch len(p) {
	case 3:
		return Fitted{SubAssembly: p[0], Item: p[1], Lot: p[2], old: true}, nil
	case 4:
		return Fitted{SubAssembly: p[0], Requirement: p[1], Item: p[2], Lot: p[3]}, nil
	}
	return Fitted{}, fmt.Errorf("%q is no key of fitted parts", s)
}

// Fit is an event: so much of an item went into an aircraft, or, below zero, came out of
// it again. What is fitted is what the events add up to.
type Fit struct {
	Number      uint64    `json:"number"`
	SubAssembly string    `json:"sub_assembly"`          // code
	Requirement string    `json:"requirement,omitempty"` // "R-31"; empty for what is not called
	Item        string    `json:"item"`
	Lot         string    `json:"lot,omitempty"`
	Amount      Amount    `json:"amount"`
	Position    string    `json:"position,omitempty"`
	Decision    string    `json:"decision,omitempty"` // "D-1": by which it is another item than is called, or goes in whatever its origin
	Reason      string    `json:"reason,omitempty"`   // why it is more than is called, or why it came out
	Note        string    `json:"note,omitempty"`
	At          time.Time `json:"at"`
	Hand        string    `json:"hand"`
	// Aircraft is the one that it came out of, and Hours the total time of that then, in
	// tenths of an hour; nil where nobody recorded any.
	Aircraft string       `json:"aircraft,omitempty"`
	Hours    *build.Hours `json:"hours,omitempty"`
	Old      bool         `json:"old,omitempty"`    // of what was fitted before format 6
	Undone   bool         `json:"undone,omitempty"` // its making was undone
}

func (f Fit) key() string { return numberKey(f.Number) }

// fitted is what the event adds to.
func (f Fit) fitted() Fitted {
	return Fitted{SubAssembly: f.SubAssembly, Requirement: f.Requirement, Item: f.Item, Lot: f.Lot, Amount: f.Amount, old: f.Old}
}

var fittedTable = table{
	name: tableFitted, one: "fitted part", since: 2, keys: named, by: adding,
	forms: []form{formOf[Amount]("amount")},
	valid: func(key string, _ []byte) error {
		_, err := parseFittedKey(key)
		return err
	},
	refers: func(key string, _ []byte) ([]reference, error) {
		f, err := parseFittedKey(key)
		refs := append([]reference{{tableItems, f.Item}, {tableSubAssemblies, f.SubAssembly}}, lotReference(f.Lot)...)
		if f.Requirement != "" {
			refs = append(refs, reference{tableRequirements, requirementKey(f.Requirement)})
		}
		return refs, err
	},
	indexes: []index{},
	touches: func(c Change) (touched, error) {
		f, err := parseFittedKey(c.Key)
		return touched{item: f.Item, building: Concern{ListPart, f.SubAssembly}}, err
	},
	differs: others,
	unmade:  gone,
	sheet:   ownSheet("fitted.csv", (*Reader).fittedRows),
}

const indexFitsOf = "fits_of" // sub-assembly, number -> nothing

var fitTable = table{
	name: tableFits, one: "fit", since: 6, keys: named, by: replacing,
	forms: []form{formOf[Fit]("fit")},
	valid: filed(Fit.key),
	refers: naming(func(_ string, f Fit) []reference {
		if f.Undone {
			return nil
		}
		refs := append([]reference{{tableSubAssemblies, f.SubAssembly}, {tableItems, f.Item}}, lotReference(f.Lot)...)
		if f.Requirement != "" {
			refs = append(refs, reference{tableRequirements, requirementKey(f.Requirement)})
		}
		if f.Decision != "" {
			refs = append(refs, reference{tableDecisions, decisionKey(f.Decision)})
		}
		return refs
	}),
	indexes: []index{{name: indexFitsOf, since: 6, key: func(key string, body []byte) (string, error) {
		f, err := decode[Fit](body)
		return f.SubAssembly + keySeparator + key, err
	}}},
	touches: touchingNothing, // what is fitted is
	differs: others,
	unmade:  marked(func(f *Fit) { f.Undone = true }),
	sheet:   ownSheet("fits.csv", (*Reader).fitRows),
}

// Fitting is stock on its way into an aircraft. To of the transfer does not count, and
// its Reason says why it is more than is called, or another thing.
type Fitting struct {
	Transfer
	Requirement string // "R-31"; "": those that call the item, in their order
	Position    string // ""; that of the requirement
	Note        string
}

// Fit records what went into a sub-assembly, named by its code, and out of which
// places: out of its own mostly, where what was pulled for it lies. Stock that is not
// good is refused, and what is not called, or more than is called, without a reason.
func (s *Shop) Fit(code string, fittings ...Fitting) (Entry, error) {
	return s.commit(VerbFit, func(w *writer) (string, error) {
		sub, err := w.openSubAssembly(code)
		if err != nil {
			return "", err
		}
		if len(fittings) == 0 {
			return "", fail(Invalid, code, "Nothing is chosen: say what was fitted.")
		}
		fitted := tally{}
		for _, f := range fittings {
			went, err := w.fit(sub, f)
			if err == nil {
				err = fitted.add(f.Item, went)
			}
			if err != nil {
				return "", err
			}
		}
		return fmt.Sprintf("%s fitted in %s %s", fitted, sub.Code, sub.Name) + w.because(), nil
	})
}

// fit fits one heap, or some of it.
func (w *writer) fit(sub SubAssembly, f Fitting) (Amount, error) {
	if f.Condition != Good {
		return Amount{}, fail(Conflict, f.Item, "%s there is %s: it is not fitted.", f.Item, f.Condition)
	}
	if err := w.give(&f.Reason); err != nil {
		return Amount{}, err
	}
	var err error
	if f.StockKey, err = w.meant(f.StockKey); err != nil {
		return Amount{}, err
	}
	if err := w.mayBook(sub, f.Transfer, "", true); err != nil {
		return Amount{}, err
	}
	from, went, err := w.take(f.Transfer)
	if err != nil {
		return went, err
	}
	f.Lot = from.Lot
	calls, err := w.calls(sub, f.Item)
	if err != nil {
		return went, err
	}
	parts, err := calls.share(f, went)
	if err != nil {
		return went, err
	}
	for _, p := range parts {
		if err := w.event(p); err != nil {
			return went, err
		}
	}
	return went, nil
}

// event makes an event, and what it adds up to.
func (w *writer) event(f Fit) (err error) {
	if f.Number, err = w.nextNumber(tableFits); err != nil {
		return err
	}
	f.At, f.Hand = w.at, w.hand
	if f.Position, err = cleanLong("The position", f.Position); err != nil {
		return err
	}
	f.Position = positionOf(f.Position)
	if f.Note, err = cleanLong("The note", f.Note); err != nil {
		return err
	}
	if err := w.put(tableFits, f.key(), f); err != nil {
		return err
	}
	return w.change(Change{Table: tableFitted, Key: f.fitted().key(), Delta: &f.Amount})
}

// Removal is what comes out of an aircraft.
type Removal struct {
	Fitted                    // what; its Amount does not count
	Quantity measure.Quantity // zero: all of it
	To       string           // place id; "": the tray of the sub-assembly
	AsGood   bool             // it is to be good at once, which is refused: see Release
	Reason   string           // "" none is given
	Meeting  Meeting          // where another lot of the item lies there
}

// Remove records that something came out of an aircraft again. It is removed then, and
// not used before somebody looked at it (Release); what is used once is scrapped.
func (s *Shop) Remove(r Removal) (Entry, error) {
	return s.commit(VerbRemove, func(w *writer) (string, error) {
		sub, err := w.openSubAssembly(r.SubAssembly)
		if err != nil {
			return "", err
		}
		if err := w.give(&r.Reason); err != nil {
			return "", err
		}
		if r.To == "" {
			r.To = sub.Place
		}
		to, err := w.usablePlace(r.To)
		if err != nil {
			return "", err
		}
		source, once, err := w.usedOnce(r.Item)
		if err != nil {
			return "", err
		}
		if r.AsGood {
			return "", notAsGood(r.Item, source, once)
		}
		if r.Fitted, err = w.fittedMeant(r.Fitted); err != nil {
			return "", err
		}
		went, err := w.unfit(sub, r)
		if err != nil {
			return "", err
		}
		text := fmt.Sprintf("%s: %s removed from %s %s", r.Item, went, sub.Code, sub.Name)
		if once {
			return text + ", scrapped: used once (" + source + ")" + w.because(), w.scrapped(Scrapped{
				Item: r.Item, Lot: r.Lot, Amount: went, Place: sub.Place, Reason: UsedOnce, Words: source, SubAssembly: sub.Code,
			})
		}
		lot, err := w.removedLot(sub, r.Fitted, went)
		if err != nil {
			return "", err
		}
		heap := StockKey{Item: r.Item, Lot: lot, Place: to.ID, Condition: Removed}
		return text + ", to " + to.Name + w.because(), w.putInto(to, Holding{heap, went}, r.Meeting)
	})
}

// notAsGood is why nothing that came out of an aircraft is good at once.
func notAsGood(item, source string, once bool) error {
	if once {
		return fail(Conflict, item, "%s is used once (%s): what came out is scrapped.", item, source)
	}
	return fail(Conflict, item, "%s that came out is looked at first: remove it, then release it and say who looked.", item)
}

// unfit takes something out of what is fitted.
func (w *writer) unfit(sub SubAssembly, r Removal) (Amount, error) {
	have, _, err := lookup[Amount](w.ledger, tableFitted, r.key())
	if err != nil {
		return Amount{}, err
	}
	went := Exact(r.Quantity)
	if r.Quantity.IsZero() {
		went = have
	}
	if c, err := went.Cmp(have.Quantity); err != nil || c > 0 || went.Quantity.Sign() <= 0 {
		return Amount{}, fail(Conflict, r.Item, "%s of %s is fitted in %s, and %s cannot come out: correct the figure.", have, r.Item, sub.Code, went.Quantity)
	}
	hours, err := w.hoursOf(sub.Aircraft)
	if err != nil {
		return Amount{}, err
	}
	position, err := w.onlyPosition(r.Fitted)
	if err != nil {
		return Amount{}, err
	}
	return went, w.event(Fit{Position: position, SubAssembly: sub.Code, Requirement: r.Requirement, Item: r.Item, Lot: r.Lot, Amount: went.Neg(), Reason: r.Reason, Old: r.old, Aircraft: sub.Aircraft, Hours: hours})
}

// fittedMeant is what is fitted that is meant: its lot may be named as it is printed, and
// lot and requirement may be left out, where that leaves one.
func (w *writer) fittedMeant(f Fitted) (Fitted, error) {
	all, err := fittedIn(w.ledger.tx, f.SubAssembly)
	if err != nil {
		return f, err
	}
	var found []Fitted
	for _, have := range all {
		if have.key() == f.key() {
			return have, nil
		}
		meant, err := w.mayMean(f, have)
		if err != nil {
			return f, err
		}
		if meant {
			found = append(found, have)
		}
	}
	switch len(found) {
	case 0:
		return f, nil // there is none of it, which whoever takes it out says
	case 1:
		return found[0], nil
	}
	return f, w.severalFitted(f, found)
}

// mayMean reports whether somebody may mean what is fitted.
func (w *writer) mayMean(said, have Fitted) (bool, error) {
	if have.Item != said.Item || said.Requirement != "" && have.Requirement != said.Requirement {
		return false, nil
	}
	lot, err := lotOf(w.ledger, have.Item, have.Lot)
	return said.Lot == "" || have.Lot == said.Lot || lot.Answers(said.Lot), err
}

// severalFitted says which of what is fitted somebody may mean.
func (w *writer) severalFitted(f Fitted, found []Fitted) error {
	var ways []string
	for _, have := range found {
		lot, err := lotOf(w.ledger, have.Item, have.Lot)
		if err != nil {
			return err
		}
		ways = append(ways, strings.TrimSpace(lot.Called()+" "+have.Requirement))
	}
	return fail(Invalid, f.Item, "%s is fitted in %s more than once: say which of %s.", f.Item, f.SubAssembly, phrase.List(ways))
}

// Release takes stock that came out of an aircraft for good again, since somebody looked
// at it. Where the transfer says no place it stays where it is.
func (s *Shop) Release(t Transfer, by string) (Entry, error) {
	return s.commit(VerbRelease, func(w *writer) (string, error) {
		by, err := cleanName("Who looked at it", by)
		if err != nil {
			return "", err
		}
		if t.Condition != Removed {
			return "", fail(Conflict, t.Item, "%s there did not come out of an aircraft: only what did is released so.", t.Item)
		}
		if source, once, err := w.usedOnce(t.Item); err != nil || once {
			return "", cmp.Or(err, notAsGood(t.Item, source, once))
		}
		if err := w.give(&t.Reason); err != nil {
			return "", err
		}
		t.To = cmp.Or(t.To, t.Place)
		to, err := w.usablePlace(t.To)
		if err == nil && t.To != t.Place {
			err = w.noTray(to, t.Item)
		}
		if err != nil {
			return "", err
		}
		from, went, err := w.take(t)
		if err != nil {
			return "", err
		}
		good := Holding{StockKey{Item: t.Item, Lot: from.Lot, Place: t.To}, went}
		return fmt.Sprintf("%s: %s looked at by %s, good, in %s", t.Item, went, by, to.Name) + w.because(), w.putInto(to, good, t.Meeting)
	})
}

// isFitted reports whether any of an item is fitted anywhere.
func (w *writer) isFitted(item string) (fitted bool, err error) {
	err = scan(w.ledger.tx, tableFitted, "", func(key string, _ Amount) error {
		f, err := parseFittedKey(key)
		fitted = fitted || f.Item == item
		return err
	})
	return fitted, err
}

// fittedIn is what is fitted in a sub-assembly, or in all of them for "".
func fittedIn(tx *disk.Tx, code string) ([]Fitted, error) {
	prefix := ""
	if code != "" {
		prefix = code + keySeparator
	}
	var list []Fitted
	err := scan(tx, tableFitted, prefix, func(key string, a Amount) error {
		f, err := parseFittedKey(key)
		f.Amount = a
		list = append(list, f)
		return err
	})
	return list, err
}

// Fitted is what went into a sub-assembly, or into all of them for "", by requirement,
// item and lot.
func (r *Reader) Fitted(code string) (list []Fitted, err error) {
	err = r.view(func(tx *disk.Tx) error {
		list, err = fittedIn(tx, code)
		return err
	})
	return list, err
}

// Fits are the events of a sub-assembly, or of all of them for "", the oldest first.
func (r *Reader) Fits(code string) ([]Fit, error) {
	var list []Fit
	err := r.view(func(tx *disk.Tx) (err error) {
		list, err = numberedOf[Fit](tx, tableFits, indexFitsOf, code)
		return err
	})
	return slices.DeleteFunc(list, func(f Fit) bool { return f.Undone }), err
}

func (r *Reader) fittedRows() ([][]string, error) {
	list, err := r.Fitted("")
	rows := [][]string{{"sub-assembly", "requirement", "part number", "lot", "quantity", "at least", "at most", "unit"}}
	for _, f := range list {
		lot, err := r.Lot(f.Item, f.Lot)
		if err != nil {
			return nil, err
		}
		rows = append(rows, append(append([]string{f.SubAssembly, f.Requirement, f.Item, lot.cell()}, figures(f.Amount)...), string(f.Amount.Unit)))
	}
	return rows, err
}

func (r *Reader) fitRows() ([][]string, error) {
	list, err := r.Fits("")
	rows := [][]string{{"when", "who", "sub-assembly", "requirement", "part number", "lot", "quantity", "unit", "position", "decision", "reason", "note"}}
	for _, f := range list {
		rows = append(rows, []string{
			f.At.Format(time.RFC3339), f.Hand, f.SubAssembly, f.Requirement, f.Item, f.Lot, f.Amount.Plain(), string(f.Amount.Unit),
			f.Position, f.Decision, f.Reason, f.Note,
		})
	}
	return rows, err
}
