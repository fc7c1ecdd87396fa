package session

import (
	"fmt"
	"slices"
	"strings"

	"stowright/app/wording"
	"stowright/store"
	"stowright/store/phrase"
)

// AlertList is one of the lists of an alert, which are never one.
type AlertList int

// The lists in the order in which they are shown.
const (
	Certain    AlertList = iota // these pieces are of what the alert names
	Possible                    // so many of them, from to, may be
	Unclear                     // nobody recorded what the alert goes by
	NearMiss                    // marked nearly so: somebody may have misread
	alertLists                  // how many there are
)

// AlertLists are all of them.
func AlertLists() []AlertList { return []AlertList{Certain, Possible, Unclear, NearMiss} }

// String is what a list is called.
func (l AlertList) String() string {
	return [alertLists]string{"Certainly here", "Possibly here", "Cannot tell", "Near misses"}[l]
}

// Says is what a list holds, in a sentence.
func (l AlertList) Says() string {
	return [alertLists]string{
		"of what the alert names",
		"poured together with what it names: at least and at most so many of each are of it",
		"nobody recorded what the alert goes by",
		"not named, and marked nearly so: one character off, or two swapped",
	}[l]
}

// AlertedAt is some of what an alert is about, in one place, sub-assembly or way out.
type AlertedAt struct {
	List  AlertList
	Lot   store.Lot
	Where string // "A-22", "SA-20", "scrapped"
	Path  string // "Garage, Cabinet A"; the name of the sub-assembly
	How   string // "14", "0 to 10 of the 12", "about 180 (176 to 184)"; "" where nobody can know
	// Why is why it cannot be told, or what the pieces are a part of.
	Why string
	// By are the other alerts that name it too.
	By     []string
	Kind   AlertedKind
	Place  string // id; "" where it is no place
	Code   string // of the sub-assembly; "" where it is none
	In     string // the lot as it is called there: its own, or one that it was poured into
	Amount store.Amount
	Bounds store.Bounds

	Condition store.Condition
}

// locked reports whether an alert that names it sets it apart: it is in stock, and good but
// for alerts.
func (at AlertedAt) locked() bool {
	return at.Place != "" && (at.List == Certain || at.List == Possible) && (at.Condition == store.Good || at.Condition.Alerts() != nil)
}

// heap is what tells one heap from another.
func (at AlertedAt) heap() string { return at.Place + "\n" + at.In }

// AlertedKind is what became of it.
type AlertedKind int

// The kinds.
const (
	InStock  AlertedKind = iota
	SetApart             // by this alert
	FittedIn
	Went
	BuiltIn // inside what came assembled
)

// Alerted is an alert with what it comes to.
type Alerted struct {
	Alert store.Alert
	At    []AlertedAt // by list
}

// Alerted is what an alert comes to by its newest issue.
func (s *Reader) Alerted(a store.Alert) (Alerted, error) {
	found, err := s.Shop.AlertFound(a.Number)
	if err != nil {
		return Alerted{}, err
	}
	return s.alerted(a, found)
}

// AlertedBy is what an alert would come to with one more issue, which nobody recorded yet: a
// new alert for number 0.
func (s *Reader) AlertedBy(number uint64, issue store.Issue) (Alerted, error) {
	a := store.Alert{Number: number}
	if number > 0 {
		alerts, err := s.Shop.Alerts()
		if err != nil {
			return Alerted{}, err
		}
		for _, known := range alerts {
			if known.Number == number {
				a = known
			}
		}
	}
	found, err := s.Shop.AlertWould(number, issue)
	if err != nil {
		return Alerted{}, err
	}
	a.Issues = append(slices.Clone(a.Issues), issue)
	return s.alerted(a, found)
}

func (s *Reader) alerted(a store.Alert, found store.AlertFound) (Alerted, error) {
	out := Alerted{Alert: a}
	others, err := s.otherAlerts(a)
	if err != nil {
		return out, err
	}
	for _, list := range []struct {
		of   []store.Whereabouts
		kind AlertList
	}{{found.Named, Certain}, {found.CannotTell, Unclear}, {found.Near, NearMiss}} {
		for _, where := range list.of {
			for _, at := range where.At {
				row := AlertedAt{List: list.kind, Lot: where.Lot, By: others[where.Lot.StockLot()], In: at.In, Amount: at.All, Bounds: at.Bounds, Condition: at.Condition}
				if err := s.alertedAt(&row, a, at); err != nil {
					return out, err
				}
				out.At = append(out.At, row)
			}
		}
	}
	if err := s.assembled(&out, found.Assembled); err != nil {
		return out, err
	}
	slices.SortStableFunc(out.At, func(x, y AlertedAt) int { return int(x.List) - int(y.List) })
	return out, nil
}

// otherAlerts are the other alerts that name lots, by the lots as the keys of heaps have them.
func (s *Reader) otherAlerts(a store.Alert) (map[string][]string, error) {
	by := map[string][]string{}
	alerts, err := s.Shop.Alerts()
	for _, other := range alerts {
		if err != nil || other.Number == a.Number || other.Newest().Item != a.Newest().Item {
			continue
		}
		var found store.AlertFound
		if found, err = s.Shop.AlertFound(other.Number); err != nil {
			break
		}
		for _, w := range found.Named {
			by[w.Lot.StockLot()] = append(by[w.Lot.StockLot()], other.Name())
		}
	}
	return by, err
}

// alertedAt says where something is, how many, and what became of it.
func (s *Reader) alertedAt(row *AlertedAt, a store.Alert, at store.LotAt) error {
	poured := at.In != row.Lot.StockLot()
	switch {
	case !poured && at.All.Estimate():
		row.How = at.All.Figure()
	case !poured || at.Bounds.Low == at.Bounds.High:
		row.How = at.Bounds.String()
	default:
		row.How = fmt.Sprintf("%s of the %s", at.Bounds, at.All.Figure())
		if row.List == Certain {
			row.List = Possible
		}
	}
	switch row.List {
	case Unclear:
		row.Why = strings.Join(a.Newest().Unknown(row.Lot), ", ")
	case NearMiss:
		row.Why = "marked " + row.Lot.Printed
	}
	if poured {
		mix, err := s.Shop.Lot(row.Lot.Item, at.In)
		if err != nil {
			return err
		}
		row.Why = wording.Joined(", ", row.Why, "in "+mix.Words())
	}
	switch {
	case at.Gone != "":
		row.Kind, row.Where = Went, at.Gone
		return nil
	case at.SubAssembly != "":
		row.Kind, row.Where, row.Code = FittedIn, at.SubAssembly, at.SubAssembly
		sub, err := s.subAssembly(at.SubAssembly)
		row.Path = sub.Name
		return err
	}
	path, err := s.Shop.Path(at.Place)
	if err != nil {
		return err
	}
	row.Place, row.Where, row.Path = at.Place, path[len(path)-1].Name, store.PathText(path[:len(path)-1])
	if slices.Contains(at.Condition.Alerts(), a.Name()) {
		row.Kind = SetApart
	}
	return nil
}

func (s *Reader) subAssembly(code string) (store.SubAssembly, error) {
	subs, err := s.Shop.SubAssemblies()
	if err != nil {
		return store.SubAssembly{}, err
	}
	return SubAssemblyNamed(subs, code)
}

// assembled adds what came assembled: nobody here knows what is inside.
func (s *Reader) assembled(out *Alerted, codes []string) error {
	for _, code := range codes {
		sub, err := s.subAssembly(code)
		if err != nil {
			return err
		}
		why := "came assembled by " + sub.Assembled.By
		if !sub.Assembled.Shipped.IsZero() {
			why += ", shipped " + sub.Assembled.Shipped.String()
		}
		out.At = append(out.At, AlertedAt{List: Unclear, Kind: BuiltIn, Where: code, Code: code, Path: sub.Name, Why: why + ": inside not known"})
	}
	return nil
}

// SetApart is how many pieces the alert sets apart, all of a mix where it names a part of it.
func (a Alerted) SetApart() string {
	return a.sum(func(at AlertedAt) bool { return at.Kind == SetApart })
}

// Heaps are those that the alert sets apart, or would, each once: "14 in A-22".
func (a Alerted) Heaps() (words []string) {
	seen := map[string]bool{}
	for _, at := range a.At {
		if at.locked() && !seen[at.heap()] {
			seen[at.heap()] = true
			words = append(words, at.Amount.Figure()+" in "+at.Where)
		}
	}
	return words
}

// Lets are the heaps that it sets apart and would not any more by what comes after.
func (a Alerted) Lets(after Alerted) (words []string) {
	stays := map[string]bool{}
	for _, at := range after.At {
		stays[at.heap()] = stays[at.heap()] || at.locked()
	}
	for _, at := range a.At {
		if at.Kind == SetApart && !stays[at.heap()] {
			stays[at.heap()] = true
			words = append(words, at.Amount.Figure()+" in "+at.Where)
		}
	}
	return words
}

// sum adds whole heaps up, each once; "" where there are none.
func (a Alerted) sum(of func(AlertedAt) bool) string {
	seen := map[string]bool{}
	var sum store.Amount
	for _, at := range a.At {
		if !of(at) || seen[at.heap()] {
			continue
		}
		seen[at.heap()] = true
		if len(seen) == 1 {
			sum = at.Amount
		} else if added, err := sum.Add(at.Amount); err == nil { // of one item: in one unit
			sum = added
		}
	}
	if len(seen) == 0 {
		return ""
	}
	return sum.Figure()
}

// Within adds the bounds of what is in lists and of kinds: "6", "0 to 10"; "" for none.
func (a Alerted) Within(of func(AlertedAt) bool) string {
	var sum store.Bounds
	some := false
	for _, at := range a.At {
		if of(at) && at.Kind != BuiltIn {
			some = true
			sum.Low.Micro, sum.High.Micro = sum.Low.Micro+at.Bounds.Low.Micro, sum.High.Micro+at.Bounds.High.Micro
			sum.Low.Unit, sum.High.Unit = at.Bounds.Low.Unit, at.Bounds.High.Unit
		}
	}
	if !some {
		return ""
	}
	return sum.String()
}

// Fitted is how many of what the alert names went into an aircraft.
func (a Alerted) Fitted() string {
	return a.Within(func(at AlertedAt) bool { return at.Kind == FittedIn && (at.List == Certain || at.List == Possible) })
}

// Unclear is of how many nobody can tell.
func (a Alerted) Unclear() string {
	return a.Within(func(at AlertedAt) bool { return at.List == Unclear })
}

// Built are the sub-assemblies that came assembled.
func (a Alerted) Built() (codes []string) {
	for _, at := range a.At {
		if at.Kind == BuiltIn {
			codes = append(codes, at.Code)
		}
	}
	return codes
}

// Open reports whether something is left to be done: pieces are set apart, in an aircraft,
// or nobody can tell.
func (a Alerted) Open() bool {
	return slices.ContainsFunc(a.At, func(at AlertedAt) bool { return at.List != NearMiss && at.Kind != Went })
}

// Released are the answers to an alert, as lines: "L-17 released by D-2 on 1 May 2026, by Partner".
func Released(a store.Alert) (lines []string) {
	for _, r := range a.Answers {
		lines = append(lines, fmt.Sprintf("%s released by %s on %s, by %s", phrase.List(r.Lots), r.Decision, r.Day, r.Hand))
	}
	return lines
}
