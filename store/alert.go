package store

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"stowright/store/phrase"
)

const (
	tableAlerts = "alerts"
	alertLetter = "A"
)

// Alert is a warning of a maker or a bulletin, with its issues, the newest last. What the
// newest one names is set apart in its place. An alert takes back only its own effects:
// two alerts on one lot are two locks.
type Alert struct {
	Number  uint64         `json:"number"` // for life: 3 is A-3
	Title   string         `json:"title"`
	Issues  []Issue        `json:"issues"`
	Answers []AlertRelease `json:"answers,omitempty"` // by decisions
	Undone  bool           `json:"undone,omitempty"`
}

// Issue is one edition of an alert.
type Issue struct {
	Day     Date     `json:"day"`
	Item    string   `json:"item"`              // part number
	Printed []string `json:"printed,omitempty"` // lots as they are marked; none: whatever is marked
	From    Date     `json:"from,omitzero"`     // shipped from this day on
	Until   Date     `json:"until,omitzero"`    // shipped up to this day
	Maker   string   `json:"maker,omitempty"`
	Paper   string   `json:"paper,omitempty"` // "PA-3"
	Note    string   `json:"note,omitempty"`
	Hand    string   `json:"hand"` // who recorded it
}

// AlertRelease releases lots from an alert, by a decision.
type AlertRelease struct {
	Lots     []string `json:"lots"`     // "L-17", or, of a lot of an older shop, what is printed on it
	Decision string   `json:"decision"` // "D-2"
	Day      Date     `json:"day"`
	Hand     string   `json:"hand"`
}

// AlertName is what an alert is called: "A-3".
func AlertName(number uint64) string { return numberName(alertLetter, number) }

// AlertNumber reads a name such as A-3, in any case, or the number alone.
func AlertNumber(name string) (uint64, bool) { return numbered(alertLetter, name) }

// Name is what people call it: "A-3".
func (a Alert) Name() string { return AlertName(a.Number) }

func (a Alert) key() string { return numberKey(a.Number) }

// Newest is the issue that holds.
func (a Alert) Newest() Issue { return a.Issues[len(a.Issues)-1] }

// Match says whether an issue of an alert names a lot.
type Match int

// The ways in which it does or does not. CannotTell is that of a lot of which nobody
// recorded what the issue goes by.
const (
	NotNamed Match = iota
	CannotTell
	Named
)

// criterion is one thing that an issue goes by, held against a lot.
type criterion struct {
	asked, known, same bool
	unknown            string // what is said where nobody recorded it
}

func (i Issue) asks(l Lot) []criterion {
	return []criterion{
		{len(i.Printed) > 0, l.Printed != "", slices.ContainsFunc(i.Printed, func(p string) bool { return strings.EqualFold(p, l.Printed) }), "no lot is recorded"},
		{!i.From.IsZero(), !l.Facts.Shipped.IsZero(), i.From.DaysUntil(l.Facts.Shipped) >= 0, "the ship date is not typed"},
		{!i.Until.IsZero(), !l.Facts.Shipped.IsZero(), l.Facts.Shipped.DaysUntil(i.Until) >= 0, "the ship date is not typed"},
		{i.Maker != "", l.Facts.Maker != "", strings.EqualFold(i.Maker, l.Facts.Maker), "the maker is not recorded"},
	}
}

// Names says whether an issue names a lot of its item that was made of no others.
func (i Issue) Names(l Lot) Match {
	if l.Item != i.Item {
		return NotNamed
	}
	match := Named
	for _, by := range i.asks(l) {
		switch {
		case by.asked && !by.known:
			match = min(match, CannotTell)
		case by.asked && !by.same:
			return NotNamed
		}
	}
	return match
}

// Unknown is what an issue goes by that nobody recorded of a lot, in words.
func (i Issue) Unknown(l Lot) (words []string) {
	for _, by := range i.asks(l) {
		if by.asked && !by.known && !slices.Contains(words, by.unknown) {
			words = append(words, by.unknown)
		}
	}
	return words
}

// near reports whether what is printed on a lot is one digit or two swapped ones away from
// what an issue names, and is none of that: somebody may have misread either.
func (i Issue) near(printed string) bool {
	if slices.ContainsFunc(i.Printed, func(p string) bool { return strings.EqualFold(p, printed) }) {
		return false // an issue may name two that are one digit apart
	}
	return printed != "" && slices.ContainsFunc(i.Printed, func(p string) bool { return misread(strings.ToUpper(p), strings.ToUpper(printed)) })
}

func misread(a, b string) bool {
	if len(a) != len(b) || a == b {
		return false
	}
	var differ []int
	for i := range len(a) {
		if a[i] != b[i] {
			differ = append(differ, i)
		}
	}
	switch len(differ) {
	case 1:
		return true
	case 2:
		i, j := differ[0], differ[1]
		return j == i+1 && a[i] == b[j] && a[j] == b[i]
	}
	return false
}

var alertTable = table{
	name: tableAlerts, one: "alert", since: 6, keys: named, by: replacing,
	forms: []form{formOf[Alert]("alert")},
	valid: filed(Alert.key),
	refers: naming(func(_ string, a Alert) []reference {
		var refs []reference
		for _, i := range a.Issues {
			if number, ok := PaperNumber(i.Paper); ok && !a.Undone {
				refs = append(refs, reference{tablePapers, numberKey(number)})
			}
		}
		return refs
	}),
	indexes: []index{},
	touches: touchingNothing, // what it sets apart is
	differs: others,
	unmade:  marked(func(a *Alert) { a.Undone = true }),
	sheet:   ownSheet("alerts.csv", (*Reader).alertRows),
}

// Alert records an issue of an alert: of a new one for number 0. What its newest issue
// names is set apart where it lies, and what that no longer names is released from it.
func (s *Shop) Alert(number uint64, title string, issue Issue) (Alert, Entry, error) {
	var a Alert
	e, err := s.commit(VerbAlert, func(w *writer) (string, error) {
		var err error
		if a, err = w.alert(number, title); err != nil {
			return "", err
		}
		if issue, err = w.cleanIssue(issue); err != nil {
			return "", err
		}
		a.Issues = append(slices.Clone(a.Issues), issue)
		return fmt.Sprintf("%s %s, issue %d: %s", a.Name(), a.Title, len(a.Issues), issue.Words()), w.put(tableAlerts, a.key(), a)
	})
	return a, e, err
}

// alert is the alert of a number, or a new one for 0.
func (w *writer) alert(number uint64, title string) (Alert, error) {
	if number > 0 {
		a, found, err := lookup[Alert](w.ledger, tableAlerts, numberKey(number))
		if err == nil && (!found || a.Undone) {
			err = fail(NotFound, AlertName(number), "There is no alert %s in this shop: see its alerts.", AlertName(number))
		}
		return a, err
	}
	title, err := cleanName("The title of the alert", title)
	if err != nil {
		return Alert{}, err
	}
	number, err = w.nextNumber(tableAlerts)
	return Alert{Number: number, Title: title}, err
}

func (w *writer) cleanIssue(i Issue) (Issue, error) {
	var err error
	if i.Item, err = cleanName("The part number of the alert", i.Item); err != nil {
		return i, err
	}
	i.Printed = slices.Clone(i.Printed)
	for at := range i.Printed {
		if i.Printed[at], err = cleanName("A lot of the alert", i.Printed[at]); err != nil {
			return i, err
		}
	}
	if i.Maker, err = cleanOptional("The maker", i.Maker); err != nil {
		return i, err
	}
	if i.Note, err = cleanLong("The note on the alert", i.Note); err != nil {
		return i, err
	}
	if err := i.checkDays(); err != nil {
		return i, err
	}
	if i.Paper != "" {
		number, _ := PaperNumber(i.Paper)
		p, found, err := lookup[Paper](w.ledger, tablePapers, numberKey(number))
		if err != nil || !found || p.Undone {
			return i, cmp.Or(err, noPaper(i.Paper))
		}
		i.Paper = p.Name()
	}
	if i.Hand = w.hand; i.Day.IsZero() {
		i.Day = DateOf(w.at)
	}
	return i, nil
}

func (i Issue) checkDays() error {
	for _, day := range []Date{i.Day, i.From, i.Until} {
		if !day.IsZero() && !day.Valid() {
			return fail(Invalid, i.Item, "A day of the alert is none: write it like 2026-03-14.")
		}
	}
	if !i.From.IsZero() && !i.Until.IsZero() && i.From.DaysUntil(i.Until) < 0 {
		return fail(Invalid, i.Item, "The days of the alert end before they begin: see which is which.")
	}
	return nil
}

// Words say what an issue names: "MS21042-3, lot Q7714, shipped 1 March 2026 to 31 March 2026".
func (i Issue) Words() string {
	words := i.Item
	if len(i.Printed) > 0 {
		words += ", lot " + phrase.List(i.Printed)
	}
	if i.Maker != "" {
		words += ", by " + i.Maker
	}
	switch {
	case !i.From.IsZero() && !i.Until.IsZero():
		words += fmt.Sprintf(", shipped %s to %s", i.From, i.Until)
	case !i.From.IsZero():
		words += fmt.Sprintf(", shipped from %s on", i.From)
	case !i.Until.IsZero():
		words += fmt.Sprintf(", shipped up to %s", i.Until)
	}
	return words
}

// AnswerAlert releases lots from an alert, by a decision that answers it. What another
// alert names as well stays set apart by that.
func (s *Shop) AnswerAlert(number uint64, decision string, lots ...string) (Entry, error) {
	return s.commit(VerbAlert, func(w *writer) (string, error) {
		if number == 0 {
			return "", fail(NotFound, "alert", "There is no alert A-0: say which is answered.")
		}
		a, err := w.alert(number, "")
		if err != nil {
			return "", err
		}
		n, _ := numbered("D", decision)
		d, found, err := lookup[Decision](w.ledger, tableDecisions, numberKey(n))
		if err != nil {
			return "", err
		}
		if !found || d.Undone || d.Kind != AlertAnswer || !d.Withdrawn.IsZero() {
			return "", fail(Conflict, decision, "%s is no decision that answers an alert: record it first, with who made it.", phrase.Quote(decision))
		}
		names := make([]string, 0, len(lots))
		for _, l := range lots {
			name, err := w.releasable(a.Newest().Item, l)
			if err != nil {
				return "", err
			}
			names = append(names, name)
		}
		if len(names) == 0 {
			return "", fail(Invalid, a.Name(), "Say which lots the decision releases: by their numbers.")
		}
		a.Answers = append(slices.Clone(a.Answers), AlertRelease{Lots: names, Decision: d.Name(), Day: DateOf(w.at), Hand: w.hand})
		return fmt.Sprintf("%s: %s released by %s", a.Name(), phrase.List(names), d.Name()), w.put(tableAlerts, a.key(), a)
	})
}

// releasable is the lot in the keys of heaps that somebody names: by its number, or, of an
// older shop, by what is printed on it.
func (w *writer) releasable(item, named string) (string, error) {
	if number, ok := LotNumber(named); ok {
		lot, err := lotOf(w.ledger, item, LotName(number))
		return lot.Name(), err
	}
	there := false
	err := scan(w.ledger.tx, tableStock, item+keySeparator, func(key string, _ Amount) error {
		k, err := parseStockKey(key)
		there = there || k.Lot == named && named != ""
		return err
	})
	if err == nil && !there {
		err = fail(NotFound, named, "There is no lot %s of %s in this shop: give its number, such as L-17.", phrase.Quote(named), item)
	}
	return named, err
}

// locks reports whether an alert sets a lot apart. Of a mix, one parent is enough.
func (a Alert) locks(l Lot, byName map[string]Lot) bool { return a.matches(l, byName) == Named }

func (a Alert) matches(l Lot, byName map[string]Lot) Match {
	for _, answer := range a.Answers {
		if slices.Contains(answer.Lots, l.StockLot()) {
			return NotNamed
		}
	}
	if !l.derived() {
		return a.Newest().Names(l)
	}
	match := NotNamed
	for _, p := range l.Parents {
		parent, recorded := byName[p.Lot]
		if !recorded {
			parent = unrecorded(l.Item, p.Lot)
		}
		match = max(match, a.matches(parent, byName))
	}
	return match
}

// Alerts are all alerts, by number.
func (r *Reader) Alerts() ([]Alert, error) {
	list, err := all[Alert](r, tableAlerts, "")
	return slices.DeleteFunc(list, func(a Alert) bool { return a.Undone }), err
}

// AlertFound is what an alert comes to by its newest issue: four lists that are never one.
type AlertFound struct {
	Named      []Whereabouts // with how many are where, for sure or perhaps
	CannotTell []Whereabouts // nobody recorded what the issue goes by
	Near       []Whereabouts // not named, and one digit or two swapped ones away
	// Assembled are the codes of sub-assemblies that came assembled: what is inside is not
	// known.
	Assembled []string
}

// AlertFound says where what an alert names is.
func (r *Reader) AlertFound(number uint64) (AlertFound, error) {
	var found AlertFound
	err := r.Read(func(r *Reader) error {
		a, err := one[Alert](r, tableAlerts, numberKey(number), "alert", AlertName(number))
		if err == nil {
			found, err = r.found(a)
		}
		return err
	})
	return found, err
}

// AlertWould says where what an issue names is, before anybody records it: as the next one
// of an alert, or of a new one for number 0.
func (r *Reader) AlertWould(number uint64, issue Issue) (AlertFound, error) {
	var found AlertFound
	err := r.Read(func(r *Reader) (err error) {
		var a Alert
		if number > 0 {
			if a, err = one[Alert](r, tableAlerts, numberKey(number), "alert", AlertName(number)); err != nil {
				return err
			}
		}
		a.Issues = append(slices.Clone(a.Issues), issue)
		found, err = r.found(a)
		return err
	})
	return found, err
}

func (r *Reader) found(a Alert) (found AlertFound, err error) {
	accounts, err := r.lotAccounts(a.Newest().Item)
	if err != nil && KindOf(err) != NotFound { // of what the shop never had there are no lots
		return found, err
	}
	for _, l := range accounts.unmixed(a.Newest().Item) {
		list := map[Match]*[]Whereabouts{Named: &found.Named, CannotTell: &found.CannotTell}[a.matches(l, nil)]
		if a.Newest().near(l.Printed) {
			list = &found.Near
		}
		if list == nil {
			continue
		}
		where := Whereabouts{Lot: l}
		where.At, where.Together = accounts.whereabouts(l.StockLot())
		*list = append(*list, where)
	}
	subs, err := r.SubAssemblies()
	for _, s := range subs {
		if s.Assembled != nil {
			found.Assembled = append(found.Assembled, s.Code)
		}
	}
	return found, err
}

func (r *Reader) alertRows() ([][]string, error) {
	alerts, err := r.Alerts()
	rows := [][]string{{"alert", "title", "issue", "day", "names", "paper", "who"}}
	for _, a := range alerts {
		for n, i := range a.Issues {
			rows = append(rows, []string{a.Name(), a.Title, fmt.Sprint(n + 1), day(i.Day), i.Words(), i.Paper, i.Hand})
		}
	}
	return rows, err
}
