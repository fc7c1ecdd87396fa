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

// Work is what sort of work a sub-assembly is.
type Work string

// The sorts of work.
const (
	Build      Work = ""
	Inspection Work = "inspection"
	Alteration Work = "change"
)

// SubAssembly is a part of an aircraft that is built in one go. What is pulled
// for it lies in its place until it is fitted. What it needs are requirements.
type SubAssembly struct {
	Code      string      `json:"code"` // SA-10
	Name      string      `json:"name"` // Fin
	Place     string      `json:"place"`
	Work      Work        `json:"work,omitempty"`
	Parent    string      `json:"parent,omitempty"`    // code of the one that it is part of
	Aircraft  string      `json:"aircraft,omitempty"`  // name; empty where the shop builds one only
	Order     int         `json:"order,omitempty"`     // its place in the builder's order, from 1
	Hours     build.Hours `json:"hours,omitempty"`     // planned, in tenths of an hour
	Planned   Date        `json:"planned,omitzero"`    // the day the work is planned for
	Assembled *Assembled  `json:"assembled,omitempty"` // it came assembled; nil: it is built here
	LetGo     bool        `json:"let_go,omitempty"`    // its hold on stock was let go: others are promised first
	Closed    *Closed     `json:"closed,omitempty"`    // nil: open

	// Old is what programs before format 6 listed; it is moved into requirements.
	Old []OldRequirement `json:"requirements,omitempty"`
}

// Assembled says by whom a sub-assembly came assembled: what is inside is not known.
type Assembled struct {
	By       string `json:"by"`                 // the kit maker
	Shipment string `json:"shipment,omitempty"` // id of the packing list that it came by
	Shipped  Date   `json:"shipped,omitzero"`
	Received Date   `json:"received,omitzero"`
}

// Closed is when a sub-assembly was closed, by whom, and what was said of what stayed open.
type Closed struct {
	On      Date              `json:"on"`
	At      time.Time         `json:"at"`
	Hand    string            `json:"hand"`
	Answers map[string]string `json:"answers,omitempty"` // reasons, by what they answer
}

// OldRequirement is a requirement as programs before format 6 kept it, in the record of
// its sub-assembly.
type OldRequirement struct {
	Item    string           `json:"item"`
	Needed  measure.Quantity `json:"needed"`
	Callout string           `json:"callout,omitempty"`
}

var subAssemblyTable = table{
	name: tableSubAssemblies, one: "sub-assembly", since: 1, keys: named, by: replacing,
	forms: []form{formOf[SubAssembly]("sub_assembly")},
	valid: filed(func(s SubAssembly) string { return s.Code }),
	refers: naming(func(_ string, s SubAssembly) []reference {
		refs := []reference{{tablePlaces, s.Place}}
		if s.Parent != "" {
			refs = append(refs, reference{tableSubAssemblies, s.Parent})
		}
		if s.Aircraft != "" {
			refs = append(refs, reference{tableAircraft, s.Aircraft})
		}
		return refs
	}),
	indexes: []index{},
	touches: concerning(SubsPart),
	differs: others,
	unmade:  gone,
	sheet:   ownSheet("sub-assemblies.csv", (*Reader).subAssemblyRows),
}

// Needs is a sub-assembly with what is listed for it.
type Needs struct {
	SubAssembly  SubAssembly
	Requirements []Requirement
}

// PutSubAssembly makes a sub-assembly, with a place for what is pulled for it, or changes
// what is known of it, and lists requirements for it. Its Place and Order are the shop's
// to give; letting go, closing and reopening are verbs of their own.
func (s *Shop) PutSubAssembly(sub SubAssembly, needs ...Requirement) (Entry, error) {
	return s.commit(VerbRecord, func(w *writer) (string, error) {
		known, found, err := lookup[SubAssembly](w.ledger, tableSubAssemblies, sub.Code)
		if err != nil {
			return "", err
		}
		sub, err := w.putSubAssembly(sub)
		if err != nil {
			return "", err
		}
		for _, r := range needs {
			if _, err := w.addRequirement(sub, r); err != nil {
				return "", err
			}
		}
		listed, err := w.inForce(sub.Code)
		text := fmt.Sprintf("%s %s: %s", sub.Code, sub.Name, phrase.Count(len(listed), "need", "needs"))
		if found {
			text += sub.changedFrom(known)
		}
		return text, err
	})
}

// changedFrom is what of a sub-assembly differs from how it was known before, for the
// journal: ", 12.5 h planned, planned for 1 August 2026".
func (s SubAssembly) changedFrom(known SubAssembly) string {
	words := ""
	if s.Name != known.Name {
		words += ", renamed from " + cmp.Or(known.Name, "no name")
	}
	if s.Hours != known.Hours {
		words += ", " + s.Hours.String() + " planned"
	}
	if s.Planned != known.Planned {
		words += ", planned for " + s.Planned.String()
	}
	if s.Aircraft != known.Aircraft {
		words += ", for " + cmp.Or(s.Aircraft, "no aircraft")
	}
	if s.Parent != known.Parent {
		words += ", part of " + cmp.Or(s.Parent, "no other")
	}
	if s.Work != known.Work {
		words += ", work: " + cmp.Or(string(s.Work), "build")
	}
	return words
}

// PutNeeds lists requirements for several sub-assemblies in one entry, and makes those
// that are not there. Of one that is there only what is said changes. Source is where
// the list comes from, for people.
func (s *Shop) PutNeeds(source string, lists ...Needs) ([]Requirement, Entry, error) {
	var made []Requirement
	e, err := s.commit(VerbRecord, func(w *writer) (string, error) {
		made = nil
		if len(lists) == 0 {
			return "", fail(Invalid, source, "Nothing is listed: say what which sub-assembly needs.")
		}
		source, err := cleanOptional("Where the list comes from", source)
		if err != nil {
			return "", err
		}
		for _, list := range lists {
			sub, err := w.amended(list.SubAssembly)
			if err != nil {
				return "", err
			}
			for _, r := range list.Requirements {
				r, err := w.addRequirement(sub, r)
				if err != nil {
					return "", err
				}
				made = append(made, r)
			}
		}
		text := fmt.Sprintf("%s listed for %s", phrase.Count(len(made), "need", "needs"), phrase.Count(len(lists), "sub-assembly", "sub-assemblies"))
		if source != "" {
			text += ", " + source
		}
		return text, nil
	})
	return made, e, err
}

// amended is a sub-assembly that is changed in what is said of it alone.
func (w *writer) amended(sub SubAssembly) (SubAssembly, error) {
	code, err := cleanName("The code of the sub-assembly", sub.Code)
	if err != nil {
		return sub, err
	}
	known, found, err := lookup[SubAssembly](w.ledger, tableSubAssemblies, code)
	if err != nil || !found {
		if err == nil {
			sub, err = w.putSubAssembly(sub)
		}
		return sub, err
	}
	sub.Name = cmp.Or(sub.Name, known.Name)
	sub.Work = cmp.Or(sub.Work, known.Work)
	sub.Parent = cmp.Or(sub.Parent, known.Parent)
	sub.Aircraft = cmp.Or(sub.Aircraft, known.Aircraft)
	sub.Hours = cmp.Or(sub.Hours, known.Hours)
	sub.Planned = cmp.Or(sub.Planned, known.Planned)
	sub.Assembled = cmp.Or(sub.Assembled, known.Assembled)
	return w.putSubAssembly(sub)
}

func (w *writer) putSubAssembly(sub SubAssembly) (SubAssembly, error) {
	var err error
	if sub.Code, err = cleanName("The code of the sub-assembly", sub.Code); err != nil {
		return sub, err
	}
	known, found, err := lookup[SubAssembly](w.ledger, tableSubAssemblies, sub.Code)
	if err != nil {
		return sub, err
	}
	if known.Closed != nil {
		return sub, errClosed(known)
	}
	sub.Place, sub.Order, sub.LetGo, sub.Closed, sub.Old = known.Place, known.Order, known.LetGo, nil, nil
	if !found {
		place, err := w.newPlace(Place{Kind: SubAssemblyKind, Name: sub.Code})
		if err != nil {
			return sub, err
		}
		sub.Place = place.ID
		if sub.Order, err = w.lastInOrder(); err != nil {
			return sub, err
		}
		sub.Order++
	}
	if err := w.cleanSubAssembly(&sub); err != nil {
		return sub, err
	}
	return sub, w.put(tableSubAssemblies, sub.Code, sub)
}

// maxHours is the longest that a job may be planned for, in tenths of an hour.
const maxHours = 1_000_000

func (w *writer) cleanSubAssembly(sub *SubAssembly) (err error) {
	if sub.Name, err = cleanOptional("The name of the sub-assembly", sub.Name); err != nil {
		return err
	}
	switch sub.Work {
	case Build, Inspection, Alteration:
	default:
		return fail(Invalid, sub.Code, "%s is no sort of work: say build, inspection or change.", phrase.Quote(string(sub.Work)))
	}
	if sub.Hours < 0 || sub.Hours > maxHours {
		return fail(Invalid, sub.Code, "%s cannot take %s: correct the hours.", sub.Code, sub.Hours)
	}
	if sub.Aircraft, err = cleanOptional("The name of the aircraft", sub.Aircraft); err != nil {
		return err
	}
	if sub.Aircraft != "" {
		if _, err := w.aircraft(sub.Aircraft); err != nil {
			return err
		}
	}
	if a := sub.Assembled; a != nil {
		if a.By, err = cleanName("Who assembled "+sub.Code, a.By); err != nil {
			return err
		}
		if a.Shipment != "" {
			if _, found, err := lookup[Shipment](w.ledger, tableShipments, a.Shipment); err != nil || !found {
				return cmp.Or(err, error(fail(NotFound, sub.Code, "The packing list that %s came by is not in this shop: bring it in first.", sub.Code)))
			}
		}
	}
	return w.checkParent(*sub)
}

// checkParent refuses a sub-assembly that would lie in itself.
func (w *writer) checkParent(sub SubAssembly) error {
	for at := sub.Parent; at != ""; {
		if at == sub.Code {
			return fail(Invalid, sub.Code, "%s would be part of itself: choose another one for it to be part of.", sub.Code)
		}
		parent, err := w.subAssembly(at)
		if err != nil {
			return err
		}
		at = parent.Parent
	}
	return nil
}

// lastInOrder is the highest place in the builder's order that is taken.
func (w *writer) lastInOrder() (last int, err error) {
	err = scan(w.ledger.tx, tableSubAssemblies, "", func(_ string, s SubAssembly) error {
		last = max(last, s.Order)
		return nil
	})
	return last, err
}

// inForce are the requirements of a sub-assembly that are in force.
func (w *writer) inForce(code string) ([]Requirement, error) {
	all, err := requirementsOf(w.ledger.tx, code)
	return slices.DeleteFunc(all, func(r Requirement) bool { return !r.InForce() }), err
}

// OrderSubAssemblies sets the builder's order: those that are named come first, as they
// are named, and the others after them as they were.
func (s *Shop) OrderSubAssemblies(codes ...string) (Entry, error) {
	return s.commit(VerbRecord, func(w *writer) (string, error) {
		if len(codes) == 0 {
			return "", fail(Invalid, "", "No sub-assembly is named: say in which order they are built.")
		}
		for i, code := range codes {
			if slices.Contains(codes[:i], code) {
				return "", fail(Invalid, code, "%s is named twice: name each once.", code)
			}
			if _, err := w.subAssembly(code); err != nil {
				return "", err
			}
		}
		subs, err := inBuildersOrder(w.ledger.tx)
		if err != nil {
			return "", err
		}
		place := func(s SubAssembly) int {
			if i := slices.Index(codes, s.Code); i >= 0 {
				return i
			}
			return len(codes)
		}
		slices.SortStableFunc(subs, func(a, b SubAssembly) int { return place(a) - place(b) })
		for i, sub := range subs {
			sub.Order = i + 1
			if err := w.put(tableSubAssemblies, sub.Code, sub); err != nil {
				return "", err
			}
		}
		return "built in this order: " + strings.Join(codes, ", "), nil
	})
}

// LetGo lets the hold of a sub-assembly on stock go, so that others are promised first,
// or takes it up again.
func (s *Shop) LetGo(code string, let bool) (Entry, error) {
	return s.commit(VerbRecord, func(w *writer) (string, error) {
		sub, err := w.openSubAssembly(code)
		if err != nil {
			return "", err
		}
		sub.LetGo = let
		text := "%s %s lets go of what is kept for it"
		if !let {
			text = "%s %s holds what it needs again"
		}
		return fmt.Sprintf(text, sub.Code, sub.Name), w.put(tableSubAssemblies, sub.Code, sub)
	})
}

func (w *writer) subAssembly(code string) (SubAssembly, error) {
	sub, found, err := lookup[SubAssembly](w.ledger, tableSubAssemblies, code)
	if err == nil && !found {
		err = noSubAssembly(code)
	}
	return sub, err
}

func noSubAssembly(code string) error {
	return fail(NotFound, code, "There is no sub-assembly %s in this shop: make it first, or see how its code is spelled.", phrase.Quote(code))
}

// openSubAssembly is a sub-assembly that may change.
func (w *writer) openSubAssembly(code string) (SubAssembly, error) {
	sub, err := w.subAssembly(code)
	if err == nil && sub.Closed != nil {
		err = errClosed(sub)
	}
	return sub, err
}

func errClosed(sub SubAssembly) error {
	return fail(Conflict, sub.Code, "%s was closed on %s: reopen it first.", sub.Code, sub.Closed.On)
}

func inBuildersOrder(tx *disk.Tx) ([]SubAssembly, error) {
	var list []SubAssembly
	err := scanAll(tx, tableSubAssemblies, "", func(_ string, s SubAssembly) error {
		list = append(list, s)
		return nil
	})
	slices.SortStableFunc(list, byBuildersOrder)
	return list, err
}

func byBuildersOrder(a, b SubAssembly) int {
	return cmp.Or(a.Order-b.Order, cmp.Compare(a.Code, b.Code))
}

// subAssembliesOf are those of the codes that there are, in the builder's order.
func (r *Reader) subAssembliesOf(codes []string) ([]SubAssembly, error) {
	var list []SubAssembly
	err := r.view(func(tx *disk.Tx) error {
		for _, code := range codes {
			sub, found, err := lookup[SubAssembly](fileLedger{tx}, tableSubAssemblies, code)
			if err != nil {
				return err
			}
			if found {
				list = append(list, sub)
			}
		}
		return nil
	})
	slices.SortFunc(list, byBuildersOrder)
	return list, err
}

// SubAssemblies are all sub-assemblies in the builder's order.
func (r *Reader) SubAssemblies() ([]SubAssembly, error) {
	var list []SubAssembly
	err := r.view(func(tx *disk.Tx) (err error) {
		list, err = inBuildersOrder(tx)
		return err
	})
	return list, err
}

func (r *Reader) subAssemblyRows() ([][]string, error) {
	list, err := r.SubAssemblies()
	rows := [][]string{{"sub-assembly", "name", "work", "part of", "aircraft", "hours planned", "planned for", "came assembled by", "closed on"}}
	for _, s := range list {
		by, closed, planned := "", "", ""
		if s.Assembled != nil {
			by = s.Assembled.By
		}
		if s.Closed != nil {
			closed = s.Closed.On.String()
		}
		if !s.Planned.IsZero() {
			planned = s.Planned.String()
		}
		rows = append(rows, []string{s.Code, s.Name, cmp.Or(string(s.Work), "build"), s.Parent, s.Aircraft, s.Hours.String(), planned, by, closed})
	}
	return rows, err
}
