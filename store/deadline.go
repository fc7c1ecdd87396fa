package store

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"stowright/store/build"
	"stowright/store/phrase"
)

const tableDues = "dues"

const dueLetters = "DU"

// Due is what has to be done by a day or by a time of an aircraft, a component or a tool,
// with its rule in words. It says when, and nothing about what was found.
type Due struct {
	Number    uint64 `json:"number"`
	What      string `json:"what"`                // "Condition inspection"
	Aircraft  string `json:"aircraft,omitempty"`  // of one of these three
	Component string `json:"component,omitempty"` // "CO-1"
	Tool      string `json:"tool,omitempty"`
	Rule      string `json:"rule"`             // as its paper has it: "12 calendar months"
	Source    string `json:"source,omitempty"` // where the rule stands
	// Months are calendar months after it was done, to the last day of the last one; Every
	// is so many hours after. Zero: not by that.
	Months int         `json:"months,omitempty"`
	Every  build.Hours `json:"every,omitempty"`
	// Day and At are by when it is due as long as it was not done here: zero, nil: not known.
	Day    Date         `json:"day,omitzero"`
	At     *build.Hours `json:"at,omitempty"`
	Job    string       `json:"job,omitempty"` // code of the sub-assembly that lists what it takes
	Done   []DueDone    `json:"done,omitempty"`
	Ended  *Ended       `json:"ended,omitempty"`
	Undone bool         `json:"undone,omitempty"`
}

// DueDone is an entry that it was done, as somebody made it.
type DueDone struct {
	Day   Date         `json:"day"`
	Hours *build.Hours `json:"hours,omitempty"` // of what it is for, then; nil: not known
	By    string       `json:"by"`
	Note  string       `json:"note,omitempty"`
	At    time.Time    `json:"at"`
	Hand  string       `json:"hand"`
}

// Name is what people call it: DU-1.
func (d Due) Name() string { return numberName(dueLetters, d.Number) }

func (d Due) key() string { return numberKey(d.Number) }

// Of is what it is for, in words.
func (d Due) Of() string { return cmp.Or(d.Aircraft, d.Component, d.Tool) }

// Next is by when it is due next: a day, hours of what it is for, both or neither.
func (d Due) Next() (day Date, at *build.Hours) {
	if d.Ended != nil {
		return Date{}, nil
	}
	if len(d.Done) == 0 {
		return d.Day, d.At
	}
	last := d.Done[len(d.Done)-1]
	if d.Months > 0 {
		day = endOfMonth(addMonths(last.Day, d.Months))
	}
	if d.Every > 0 && last.Hours != nil {
		hours := *last.Hours + d.Every
		at = &hours
	}
	return day, at
}

// endOfMonth is the last day of the month of a day.
func endOfMonth(d Date) Date {
	for d.Day = 31; !d.Valid(); {
		d.Day--
	}
	return d
}

// By is the day or the hours by which something is due, in words: "by 31 May 2029", "at 500 h",
// or both; empty for neither.
func (d Due) By() string {
	day, at := d.Next()
	var words []string
	if !day.IsZero() {
		words = append(words, "by "+day.String())
	}
	if at != nil {
		words = append(words, "at "+at.String())
	}
	return strings.Join(words, " or ")
}

// nextWords are ": due by 31 May 2029 or at 500 h".
func (d Due) nextWords() string {
	if by := d.By(); by != "" {
		return ": due " + by
	}
	return ""
}

var dueTable = table{
	name: tableDues, one: "due date", since: 6, keys: named, by: replacing,
	forms: []form{formOf[Due]("due")},
	valid: filed(Due.key),
	refers: naming(func(_ string, d Due) []reference {
		if d.Undone {
			return nil
		}
		var refs []reference
		if d.Aircraft != "" {
			refs = append(refs, reference{tableAircraft, d.Aircraft})
		}
		if n, ok := numbered(componentLetters, d.Component); ok {
			refs = append(refs, reference{tableComponents, numberKey(n)})
		}
		if d.Job != "" {
			refs = append(refs, reference{tableSubAssemblies, d.Job})
		}
		return refs
	}),
	indexes: []index{},
	touches: touchingNothing,
	differs: others,
	unmade:  marked(func(d *Due) { d.Undone = true }),
	sheet:   ownSheet("dues.csv", (*Reader).dueRows),
}

// PutDue records what is due, or, where it has a number, changes what is known of it but
// for what was done.
func (s *Shop) PutDue(d Due) (Due, Entry, error) {
	e, err := s.commit(VerbRecord, func(w *writer) (string, error) {
		if err := w.cleanDue(&d); err != nil {
			return "", err
		}
		var known Due
		var err error
		if d.Number == 0 {
			d.Number, err = w.nextNumber(tableDues)
		} else {
			known, err = w.due(d.Name())
		}
		if err != nil {
			return "", err
		}
		d.Done, d.Ended, d.Undone = known.Done, known.Ended, false
		return fmt.Sprintf("%s of %s, %s%s", d.What, d.Of(), d.Rule, d.nextWords()), w.put(tableDues, d.key(), d)
	})
	return d, e, err
}

func (w *writer) cleanDue(d *Due) (err error) {
	if d.What, err = cleanName("What is due", d.What); err != nil {
		return err
	}
	if d.Rule, err = cleanName("The rule of "+d.What, d.Rule); err != nil {
		return err
	}
	if d.Source, err = cleanOptional("Where the rule stands", d.Source); err != nil {
		return err
	}
	if d.Tool, err = cleanOptional("The tool", d.Tool); err != nil {
		return err
	}
	if err := d.complete(); err != nil {
		return err
	}
	if d.Aircraft != "" {
		if _, err = w.aircraft(d.Aircraft); err != nil {
			return err
		}
	}
	if d.Component != "" {
		c, err := w.component(d.Component)
		if err != nil {
			return err
		}
		d.Component = c.Name()
	}
	if d.Job != "" {
		_, err = w.subAssembly(d.Job)
	}
	return err
}

// complete refuses what does not say of what it is, or when.
func (d *Due) complete() error {
	of := slices.DeleteFunc([]string{d.Aircraft, d.Component, d.Tool}, func(s string) bool { return s == "" })
	hours := d.Every != 0 || d.At != nil
	switch {
	case len(of) != 1:
		return fail(Invalid, d.What, "Say of what it is: of one aircraft, one component or one tool.")
	case hours && d.Tool != "":
		return fail(Invalid, d.What, "The hours of a tool are not kept: give it a day or months.")
	case d.Months < 0 || d.Months > maxLife || !possible(&d.Every) || !possible(d.At):
		return fail(Invalid, d.What, "That is no interval and no time: correct it.")
	case !d.Day.IsZero() && !d.Day.Valid():
		return fail(Invalid, d.What, "The day is none: write it like 2029-05-31.")
	case d.Months == 0 && !hours && d.Day.IsZero():
		return fail(Invalid, d.What, "Say when it is due: a day, calendar months, or hours.")
	}
	return nil
}

// possible reports whether hours are such as can be kept; those that are not known are.
func possible(h *build.Hours) bool { return h == nil || *h >= 0 && *h <= maxHours }

// due is what is due under a name.
func (w *writer) due(name string) (Due, error) {
	n, _ := numbered(dueLetters, name)
	d, found, err := lookup[Due](w.ledger, tableDues, numberKey(n))
	switch {
	case err != nil:
	case !found || d.Undone:
		err = fail(NotFound, name, "Nothing is due under %s in this shop: see the list.", phrase.Quote(name))
	case d.Ended != nil:
		err = fail(Conflict, d.Name(), "%s of %s ended on %s: record a new one.", d.What, d.Of(), d.Ended.On)
	}
	return d, err
}

// EnterDue enters that something was done that is due, under its name. From then on it is
// due again by its rule. A day zero is today.
func (s *Shop) EnterDue(name string, done DueDone) (Entry, error) {
	return s.commit(VerbRecord, func(w *writer) (string, error) {
		d, err := w.due(name)
		if err != nil {
			return "", err
		}
		done.Day, done.At, done.Hand = cmp.Or(done.Day, DateOf(w.at)), w.at, w.hand
		if done.By, err = cleanName("Who did it", done.By); err != nil {
			return "", err
		}
		if done.Note, err = cleanLong("The note", done.Note); err != nil {
			return "", err
		}
		switch {
		case !done.Day.Valid():
			return "", fail(Invalid, d.What, "The day is none: write it like 2029-05-31.")
		case !possible(done.Hours):
			return "", fail(Invalid, d.What, "%s is no reading of hours: correct it.", *done.Hours)
		case d.Every > 0 && done.Hours == nil:
			return "", fail(Invalid, d.What, "It is due by hours: say how many %s had.", d.Of())
		}
		if n := len(d.Done); n > 0 && done.Day.DaysUntil(d.Done[n-1].Day) > 0 {
			return "", fail(Conflict, d.What, "It was entered for %s already: correct the day.", d.Done[n-1].Day)
		}
		d.Done = append(slices.Clone(d.Done), done)
		return fmt.Sprintf("%s of %s entered for %s, by %s%s", d.What, d.Of(), done.Day, done.By, d.nextWords()), w.put(tableDues, d.key(), d)
	})
}

// EndDue records that something is due no more, and why.
func (s *Shop) EndDue(name, why string) (Entry, error) {
	return s.commit(VerbRecord, func(w *writer) (string, error) {
		d, err := w.due(name)
		if err != nil {
			return "", err
		}
		ended := Ended{On: DateOf(w.at), Hand: w.hand}
		if ended.Why, err = cleanName("The reason", why); err != nil {
			return "", err
		}
		d.Ended = &ended
		return fmt.Sprintf("%s of %s ended: %s", d.What, d.Of(), ended.Why), w.put(tableDues, d.key(), d)
	})
}

// Dues are all that is or was due, by number.
func (r *Reader) Dues() ([]Due, error) {
	list, err := all[Due](r, tableDues, "")
	return slices.DeleteFunc(list, func(d Due) bool { return d.Undone }), err
}

func (r *Reader) dueRows() ([][]string, error) {
	list, err := r.Dues()
	rows := [][]string{{"number", "what", "of", "rule", "where it stands", "job", "done on", "by", "due by", "due at", "ended"}}
	for _, d := range list {
		row := []string{d.Name(), d.What, d.Of(), d.Rule, d.Source, d.Job, "", "", "", "", ""}
		if n := len(d.Done); n > 0 {
			row[6], row[7] = d.Done[n-1].Day.String(), d.Done[n-1].By
		}
		by, at := d.Next()
		row[8] = day(by)
		if at != nil {
			row[9] = at.String()
		}
		if d.Ended != nil {
			row[10] = d.Ended.On.String()
		}
		rows = append(rows, row)
	}
	return rows, err
}
