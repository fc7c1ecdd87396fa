package store

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"stowright/store/disk"
	"stowright/store/phrase"
)

// PlanChange is a bulletin or a revised plan as it was applied: a dated set of changes of
// what is needed. Nothing that is fitted is altered by it.
type PlanChange struct {
	Number   uint64     `json:"number"`
	Title    string     `json:"title"` // "Bulletin 4"
	Paper    string     `json:"paper,omitempty"`
	Day      Date       `json:"day"`
	Added    []string   `json:"added,omitempty"` // "R-40"
	Ended    []string   `json:"ended,omitempty"`
	Replaced []Replaced `json:"replaced,omitempty"`
	// Left are the other lines of the sub-assemblies that it touched: they stood before it
	// and stand as they were. Changes that older programs applied do not name them.
	Left   []string  `json:"left,omitempty"`
	At     time.Time `json:"at"`
	Hand   string    `json:"hand"`
	Undone bool      `json:"undone,omitempty"`
}

// Replaced is one requirement that took the place of another.
type Replaced struct {
	Old string `json:"old"`
	New string `json:"new"`
}

// PlanEdit is what a plan change does, before it is applied.
type PlanEdit struct {
	Add     []Requirement // each with its SubAssembly
	End     []string      // names
	Replace map[string]Requirement
}

// PlanStep is one thing that a plan change would do.
type PlanStep struct {
	Does        string // "adds", "drops", "replaces"
	SubAssembly string
	Requirement string // the one that it is about; "" of what is added
	Old, New    string // the numbers called; "" for none
	Fitted      Amount // for the requirement already: it stays as it is
}

// Name is what people call it: C-2.
func (c PlanChange) Name() string { return numberName("C", c.Number) }

func (c PlanChange) key() string { return numberKey(c.Number) }

var planChangeTable = table{
	name: tablePlanChanges, one: "change of the plans", since: 6, keys: named, by: replacing,
	forms: []form{formOf[PlanChange]("plan_change")},
	valid: filed(PlanChange.key),
	refers: naming(func(_ string, c PlanChange) []reference {
		if c.Undone {
			return nil
		}
		names := slices.Concat(c.Added, c.Ended, c.Left)
		for _, r := range c.Replaced {
			names = append(names, r.Old, r.New)
		}
		var refs []reference
		for _, name := range names {
			refs = append(refs, reference{tableRequirements, requirementKey(name)})
		}
		return refs
	}),
	indexes: []index{},
	touches: touchingNothing,
	differs: others,
	unmade:  marked(func(c *PlanChange) { c.Undone = true }),
	sheet:   ownSheet("plan-changes.csv", (*Reader).planChangeRows),
}

// ChangePlans applies a bulletin or a revised plan in one entry: what it adds, drops and
// puts in the place of what. It is refused whole where a part of it cannot be.
func (s *Shop) ChangePlans(c PlanChange, edit PlanEdit) (PlanChange, Entry, error) {
	var made PlanChange
	e, err := s.commit(VerbRecord, func(w *writer) (string, error) {
		made = PlanChange{Title: c.Title, Paper: c.Paper, Day: c.Day, At: w.at, Hand: w.hand}
		if made.Day.IsZero() {
			made.Day = DateOf(w.at)
		}
		var err error
		if made.Title, err = cleanName("What changes the plans", made.Title); err != nil {
			return "", err
		}
		if made.Paper, err = cleanOptional("The paper of the change", made.Paper); err != nil {
			return "", err
		}
		if err := w.changePlans(&made, edit); err != nil {
			return "", err
		}
		if made.Left, err = w.leftBy(made); err != nil {
			return "", err
		}
		if made.Number, err = w.nextNumber(tablePlanChanges); err != nil {
			return "", err
		}
		text := fmt.Sprintf("%s, %s: %d added, %d dropped, %d replaced", made.Name(), made.Title, len(made.Added), len(made.Ended), len(made.Replaced))
		return text, w.put(tablePlanChanges, made.key(), made)
	})
	return made, e, err
}

func (w *writer) changePlans(c *PlanChange, edit PlanEdit) error {
	if len(edit.Add)+len(edit.End)+len(edit.Replace) == 0 {
		return fail(Invalid, c.Title, "%s changes nothing: say what it adds, drops or replaces.", c.Title)
	}
	for _, name := range slices.Sorted(maps.Keys(edit.Replace)) {
		old, sub, err := w.standing(name)
		if err != nil {
			return err
		}
		made, err := w.replace(old, sub, edit.Replace[name])
		if err != nil {
			return err
		}
		c.Replaced = append(c.Replaced, Replaced{old.Name(), made.Name()})
	}
	for _, name := range edit.End {
		r, _, err := w.standing(name)
		if err == nil {
			err = w.end(r, c.Title)
		}
		if err != nil {
			return err
		}
		c.Ended = append(c.Ended, r.Name())
	}
	for _, r := range edit.Add {
		sub, err := w.openSubAssembly(r.SubAssembly)
		if err != nil {
			return err
		}
		made, err := w.addRequirement(sub, r)
		if err != nil {
			return err
		}
		c.Added = append(c.Added, made.Name())
	}
	return nil
}

// leftBy are the lines that a change leaves as they are, of the sub-assemblies that it touches.
func (w *writer) leftBy(c PlanChange) (left []string, err error) {
	made, of := slices.Clone(c.Added), map[string]bool{}
	touched := append(slices.Clone(c.Added), c.Ended...)
	for _, x := range c.Replaced {
		made, touched = append(made, x.New), append(touched, x.Old)
	}
	for _, name := range touched {
		r, _, err := lookup[Requirement](w.ledger, tableRequirements, requirementKey(name))
		if err != nil {
			return nil, err
		}
		of[r.SubAssembly] = true
	}
	for _, code := range slices.Sorted(maps.Keys(of)) {
		lines, err := numberedOf[Requirement](w.ledger.tx, tableRequirements, indexRequirementsOf, code)
		if err != nil {
			return nil, err
		}
		for _, r := range lines {
			if r.InForce() && !slices.Contains(made, r.Name()) {
				left = append(left, r.Name())
			}
		}
	}
	return left, nil
}

// PreviewPlans is what a change of the plans would do, and what of it is fitted already.
func (r *Reader) PreviewPlans(edit PlanEdit) ([]PlanStep, error) {
	var steps []PlanStep
	err := r.view(func(tx *disk.Tx) error {
		about := func(does, name, called string) error {
			old, found, err := lookup[Requirement](fileLedger{tx}, tableRequirements, requirementKey(name))
			if err != nil || !found || !old.InForce() {
				if err == nil {
					err = fail(NotFound, name, "There is no requirement %s in force in this shop: see the list of its sub-assembly.", phrase.Quote(name))
				}
				return err
			}
			step := PlanStep{Does: does, SubAssembly: old.SubAssembly, Requirement: old.Name(), Old: old.Called, New: called}
			fitted, err := fittedIn(tx, old.SubAssembly)
			for _, f := range fitted {
				if f.Requirement == old.Name() && err == nil {
					step.Fitted, err = step.Fitted.Add(f.Amount)
				}
			}
			steps = append(steps, step)
			return err
		}
		for _, name := range slices.Sorted(maps.Keys(edit.Replace)) {
			if err := about("replaces", name, edit.Replace[name].Called); err != nil {
				return err
			}
		}
		for _, name := range edit.End {
			if err := about("drops", name, ""); err != nil {
				return err
			}
		}
		for _, a := range edit.Add {
			steps = append(steps, PlanStep{Does: "adds", SubAssembly: a.SubAssembly, New: a.Called})
		}
		return nil
	})
	return steps, err
}

// PlanChanges are all that were applied, the oldest first.
func (r *Reader) PlanChanges() ([]PlanChange, error) {
	list, err := all[PlanChange](r, tablePlanChanges, "")
	var standing []PlanChange
	for _, c := range list {
		if !c.Undone {
			standing = append(standing, c)
		}
	}
	return standing, err
}

func (r *Reader) planChangeRows() ([][]string, error) {
	list, err := r.PlanChanges()
	rows := [][]string{{"change", "day", "title", "paper", "added", "dropped", "replaced", "left as they were", "applied by"}}
	for _, c := range list {
		var replaced []string
		for _, x := range c.Replaced {
			replaced = append(replaced, x.Old+" by "+x.New)
		}
		rows = append(rows, []string{c.Name(), c.Day.String(), c.Title, c.Paper, strings.Join(c.Added, ", "), strings.Join(c.Ended, ", "), strings.Join(replaced, ", "), strings.Join(c.Left, ", "), c.Hand})
	}
	return rows, err
}
