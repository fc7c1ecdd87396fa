package store

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"stowright/store/disk"
	"stowright/store/measure"
	"stowright/store/phrase"
)

// DecisionKind says what was decided.
type DecisionKind string

// The kinds of decision. The first three put another item in the place of what a
// requirement calls; a withdrawal ends another decision.
const (
	Alternate   DecisionKind = "alternate" // that the plans themselves allow
	OtherItem   DecisionKind = "other item"
	NextSize    DecisionKind = "next size"
	AnyOrigin   DecisionKind = "origin"
	Retest      DecisionKind = "expiry after retest"
	Deviation   DecisionKind = "deviation"
	AlertAnswer DecisionKind = "alert answer"
	Withdrawal  DecisionKind = "withdrawal"
)

// Decision is what somebody allowed, for what, when and by which paper.
type Decision struct {
	Number       uint64       `json:"number"`
	Kind         DecisionKind `json:"kind"`
	Requirements []string     `json:"requirements,omitempty"` // that it is for: "R-31"
	Lots         []string     `json:"lots,omitempty"`         // that it is for: "L-17"
	Item         string       `json:"item,omitempty"`         // that takes the place of what is called
	Extra        []Extra      `json:"extra,omitempty"`        // what comes with Item for each requirement
	Until        Date         `json:"until,omitzero"`         // of a retest: the last day of use
	Who          string       `json:"who"`                    // allowed it
	How          string       `json:"how,omitempty"`          // letter, call
	Paper        string       `json:"paper,omitempty"`        // in words
	Papers       []string     `json:"papers,omitempty"`       // that the shop knows by name, "PA-3", of which it may have the checksum
	Day          Date         `json:"day"`
	Note         string       `json:"note,omitempty"`
	At           time.Time    `json:"at"`
	Hand         string       `json:"hand"`                   // who recorded it
	Withdraws    string       `json:"withdraws,omitempty"`    // "D-1"
	Withdrawn    Date         `json:"withdrawn,omitzero"`     // zero: it stands
	WithdrawnBy  string       `json:"withdrawn_by,omitempty"` // "D-2"
	Undone       bool         `json:"undone,omitempty"`
}

// Extra is what a decision asks for besides the item, for each of its requirements.
type Extra struct {
	Called   string           `json:"called,omitempty"`
	Item     string           `json:"item"`
	Quantity measure.Quantity `json:"quantity"`
}

// Name is what people call it: D-1.
func (d Decision) Name() string { return numberName("D", d.Number) }

func (d Decision) key() string { return numberKey(d.Number) }

// InForce reports whether it holds on a day.
func (d Decision) InForce(day Date) bool {
	return !d.Undone && d.Day.DaysUntil(day) >= 0 && (d.Withdrawn.IsZero() || day.DaysUntil(d.Withdrawn) > 0)
}

// decisionKey is the key of a name such as D-1, which need not be a name at all.
func decisionKey(name string) string {
	n, ok := numbered("D", name)
	if !ok {
		return ""
	}
	return numberKey(n)
}

var decisionTable = table{
	name: tableDecisions, one: "decision", since: 6, keys: named, by: replacing,
	forms: []form{formOf[Decision]("decision")},
	valid: filed(Decision.key),
	refers: naming(func(_ string, d Decision) []reference {
		if d.Undone {
			return nil
		}
		var refs []reference
		for _, r := range d.Requirements {
			refs = append(refs, reference{tableRequirements, requirementKey(r)})
		}
		for _, p := range d.Papers {
			number, _ := PaperNumber(p)
			refs = append(refs, reference{tablePapers, numberKey(number)})
		}
		for _, other := range []string{d.Withdraws, d.WithdrawnBy} {
			if other != "" {
				refs = append(refs, reference{tableDecisions, decisionKey(other)})
			}
		}
		return refs
	}),
	indexes: []index{},
	touches: concerning(RulesPart),
	differs: others,
	unmade:  marked(func(d *Decision) { d.Undone = true }),
	sheet:   ownSheet("decisions.csv", (*Reader).decisionRows),
}

// Decide records what somebody allowed. One that withdraws another ends it on its day;
// nothing that was fitted by it changes.
func (s *Shop) Decide(d Decision) (Decision, Entry, error) {
	var made Decision
	e, err := s.commit(VerbDecide, func(w *writer) (string, error) {
		made = d
		made.At, made.Hand, made.Withdrawn, made.WithdrawnBy, made.Undone = w.at, w.hand, Date{}, "", false
		if made.Day.IsZero() {
			made.Day = DateOf(w.at)
		}
		if err := w.cleanDecision(&made); err != nil {
			return "", err
		}
		var err error
		if made.Number, err = w.nextNumber(tableDecisions); err != nil {
			return "", err
		}
		if made.Withdraws != "" {
			if err := w.withdraw(&made); err != nil {
				return "", err
			}
		}
		return made.String(), w.put(tableDecisions, made.key(), made)
	})
	return made, e, err
}

// String is "D-1: AN3-12 for R-8 with 8 ea NAS1149F0363P, allowed by the kit maker on 8 April 2026 (letter)".
func (d Decision) String() string {
	if d.Withdraws != "" {
		return fmt.Sprintf("%s withdraws %s, by %s on %s", d.Name(), d.Withdraws, d.Who, d.Day)
	}
	text := d.Name() + ": " + string(d.Kind)
	if d.Item != "" {
		text = d.Name() + ": " + d.Item
	}
	if about := append(slices.Clone(d.Requirements), d.Lots...); len(about) > 0 {
		text += " for " + phrase.List(about)
	}
	for _, x := range d.Extra {
		text += fmt.Sprintf(", with %s %s", x.Quantity, x.Item)
	}
	text += fmt.Sprintf(", allowed by %s on %s", d.Who, d.Day)
	by := slices.DeleteFunc(append([]string{d.How, d.Paper}, d.Papers...), func(s string) bool { return s == "" })
	if len(by) > 0 {
		text += " (" + strings.Join(by, ", ") + ")"
	}
	return text
}

func (w *writer) cleanDecision(d *Decision) (err error) {
	if d.Who, err = cleanName("Who allowed it", d.Who); err != nil {
		return err
	}
	for _, field := range []struct {
		what string
		text *string
	}{{"How it was allowed", &d.How}, {"The paper of the decision", &d.Paper}, {"The item of the decision", &d.Item}, {"The note on the decision", &d.Note}} {
		if *field.text, err = cleanLong(field.what, *field.text); err != nil {
			return err
		}
	}
	if !d.Day.Valid() || !d.Until.IsZero() && !d.Until.Valid() {
		return fail(Invalid, d.Who, "The day of the decision is no day of the calendar: correct it.")
	}
	if d.Papers, err = w.papers(d.Papers); err != nil {
		return err
	}
	if d.Requirements = slices.Clone(d.Requirements); len(d.Requirements) > 0 {
		for i, name := range d.Requirements {
			r, _, err := w.standing(name)
			if err != nil {
				return err
			}
			d.Requirements[i] = r.Name()
		}
	}
	if d.Extra = slices.Clone(d.Extra); len(d.Extra) > 0 {
		for i := range d.Extra {
			if err := w.cleanExtra(&d.Extra[i]); err != nil {
				return err
			}
		}
	}
	return d.complete()
}

// cleanExtra finds the item that an extra is kept under.
func (w *writer) cleanExtra(x *Extra) error {
	r := Requirement{Called: x.Called, Item: x.Item}
	if r.Called == "" {
		r.Called = r.Item
	}
	var err error
	if r.Called, err = cleanName("A part number of the decision", r.Called); err != nil {
		return err
	}
	if err := w.resolve(&r); err != nil {
		return err
	}
	if x.Quantity.Sign() <= 0 || !canBeKept(x.Quantity) {
		return fail(Invalid, r.Called, "The decision asks for %s of %s: give a quantity above zero.", x.Quantity, r.Called)
	}
	x.Called, x.Item = r.Called, r.Item
	return nil
}

// complete refuses a decision that does not say what it has to.
func (d *Decision) complete() error {
	lacks := func(what string) error {
		return fail(Invalid, string(d.Kind), "The decision (%s) does not say %s: add it.", d.Kind, what)
	}
	if len(d.Extra) > 0 && d.Item == "" {
		return lacks("which item takes the place of what is called")
	}
	switch d.Kind {
	case Alternate, OtherItem, NextSize:
		if len(d.Requirements) == 0 {
			return lacks("for which requirement it is")
		}
		if d.Item == "" {
			return lacks("which item takes the place of what is called")
		}
	case AnyOrigin:
		if len(d.Requirements) == 0 || len(d.Lots) == 0 {
			return lacks("which lot it allows for which requirement")
		}
	case Retest:
		if len(d.Lots) == 0 || d.Until.IsZero() {
			return lacks("of which lot it is, and until when that may be used")
		}
	case Withdrawal:
		if d.Withdraws == "" {
			return lacks("which decision it withdraws")
		}
	case Deviation, AlertAnswer:
	default:
		return fail(Invalid, string(d.Kind), "%s is no kind of decision: say alternate, other item, next size, origin, expiry after retest, deviation, alert answer or withdrawal.", phrase.Quote(string(d.Kind)))
	}
	return nil
}

// withdraw ends the decision that another one withdraws.
func (w *writer) withdraw(by *Decision) error {
	d, found, err := Decision{}, false, error(nil)
	if key := decisionKey(by.Withdraws); key != "" {
		d, found, err = lookup[Decision](w.ledger, tableDecisions, key)
	}
	switch {
	case err != nil:
		return err
	case !found || d.Undone:
		return fail(NotFound, by.Withdraws, "There is no decision %s in this shop: see the list of them.", phrase.Quote(by.Withdraws))
	case !d.Withdrawn.IsZero():
		return fail(Conflict, d.Name(), "%s was withdrawn on %s already, by %s.", d.Name(), d.Withdrawn, d.WithdrawnBy)
	case by.Day.DaysUntil(d.Day) > 0:
		return fail(Invalid, d.Name(), "%s was made on %s, and cannot be withdrawn on %s: correct the day.", d.Name(), d.Day, by.Day)
	}
	by.Withdraws = d.Name()
	d.Withdrawn, d.WithdrawnBy = by.Day, by.Name()
	return w.put(tableDecisions, d.key(), d)
}

// decisionsInForce are those that hold today.
func (w *writer) decisionsInForce() ([]Decision, error) {
	var list []Decision
	today := DateOf(w.at)
	err := scan(w.ledger.tx, tableDecisions, "", func(_ string, d Decision) error {
		if d.InForce(today) {
			list = append(list, d)
		}
		return nil
	})
	return list, err
}

// Decisions are all that were made, withdrawn ones too, the oldest first.
func (r *Reader) Decisions() ([]Decision, error) {
	var list []Decision
	err := r.view(func(tx *disk.Tx) error {
		return scan(tx, tableDecisions, "", func(_ string, d Decision) error {
			if !d.Undone {
				list = append(list, d)
			}
			return nil
		})
	})
	return list, err
}

func (r *Reader) decisionRows() ([][]string, error) {
	list, err := r.Decisions()
	rows := [][]string{{"decision", "day", "kind", "for", "part number", "with it", "until", "allowed by", "how", "paper", "note", "recorded by", "withdrawn on", "by"}}
	for _, d := range list {
		var extra []string
		for _, x := range d.Extra {
			extra = append(extra, x.Quantity.String()+" "+x.Item)
		}
		day := func(d Date) string {
			if d.IsZero() {
				return ""
			}
			return d.String()
		}
		rows = append(rows, []string{
			d.Name(), d.Day.String(), string(d.Kind), strings.Join(append(slices.Clone(d.Requirements), d.Lots...), ", "), d.Item,
			strings.Join(extra, ", "), day(d.Until), d.Who, d.How, strings.Trim(d.Paper+", "+strings.Join(d.Papers, ", "), ", "), d.Note, d.Hand, day(d.Withdrawn), d.WithdrawnBy,
		})
	}
	return rows, err
}
