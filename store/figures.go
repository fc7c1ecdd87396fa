package store

import (
	"fmt"
	"strings"

	"stowright/store/hardware"
	"stowright/store/phrase"
)

// figurePrefix begins the keys of the builder's own figures among the settings:
// they are of the shop as a whole, and not of any stock in it.
const figurePrefix = "figure" + keySeparator

// Figures are the rows that the builder took from a printed standard, by
// designation. A catalog takes them in with hardware.Catalog.With.
func (r *Reader) Figures() ([]hardware.OwnRow, error) {
	return all[hardware.OwnRow](r, tableSettings, figurePrefix)
}

// PutFigures keeps rows of a printed standard, each in place of what was kept
// under its number. All of them are checked with those that stay; where one is
// wrong, none is kept, and the cause is a joined list of *hardware.OwnError.
func (s *Shop) PutFigures(rows []hardware.OwnRow) (Entry, error) {
	return s.commit(VerbRecord, func(w *writer) (string, error) {
		if len(rows) == 0 {
			return "", fail(Invalid, "figures", "There are no figures to keep: give at least one row.")
		}
		numbered := make([]hardware.OwnRow, 0, len(rows))
		given := map[string]bool{}
		var wrong []error
		for _, row := range rows {
			number, err := hardware.Standard().OwnNumber(row.Designation)
			switch {
			case err != nil:
				wrong = append(wrong, &hardware.OwnError{Line: row.Line, Column: "designation", Value: row.Designation, Reason: err.Error()})
			case given[number]:
				wrong = append(wrong, &hardware.OwnError{Line: row.Line, Column: "designation", Value: row.Designation, Reason: "is there twice"})
			}
			given[number] = true
			row.Designation, row.Source = number, strings.Join(strings.Fields(row.Source), " ")
			numbered = append(numbered, row)
		}
		kept, err := w.otherFigures(given)
		if err != nil {
			return "", err
		}
		if wrong = append(wrong, hardware.Standard().CheckOwn(append(kept, numbered...))...); len(wrong) > 0 {
			return "", figuresRefused(wrong)
		}
		for _, row := range numbered {
			row.Line = 0 // of a file that is gone
			if err := w.put(tableSettings, figurePrefix+row.Designation, row); err != nil {
				return "", err
			}
		}
		return figuresText(numbered), nil
	})
}

// otherFigures are the rows that stay beside those of the given numbers.
func (w *writer) otherFigures(given map[string]bool) ([]hardware.OwnRow, error) {
	var kept []hardware.OwnRow
	err := scan(w.ledger.tx, tableSettings, figurePrefix, func(_ string, row hardware.OwnRow) error {
		if !given[row.Designation] {
			kept = append(kept, row)
		}
		return nil
	})
	return kept, err
}

func figuresRefused(wrong []error) error {
	e := fail(Invalid, "figures", "None of these figures was kept: %v", wrong[0])
	if n := len(wrong) - 1; n > 0 {
		e.Message += fmt.Sprintf(", and %d more to correct", n)
	}
	e.Message = strings.TrimSuffix(e.Message, ".") + "."
	e.Err = &causes{wrong}
	return e
}

// causes are errors that a message has told of already.
type causes struct{ list []error }

func (c *causes) Error() string { return fmt.Sprintf("%d to correct", len(c.list)) }

func (c *causes) Unwrap() []error { return c.list }

func figuresText(rows []hardware.OwnRow) string {
	if len(rows) == 1 {
		return fmt.Sprintf("own figures of %s, from %s", rows[0].Designation, rows[0].Source)
	}
	return fmt.Sprintf("own figures of %s to %s (%d numbers), from %s", rows[0].Designation, rows[len(rows)-1].Designation, len(rows), rows[0].Source)
}

// DropFigures takes own figures away by their designations.
func (s *Shop) DropFigures(designations ...string) (Entry, error) {
	return s.commit(VerbRecord, func(w *writer) (string, error) {
		if len(designations) == 0 {
			return "", fail(Invalid, "figures", "There are no figures to take away: choose at least one row.")
		}
		for _, d := range designations {
			key := figurePrefix + d
			before, err := w.ledger.get(tableSettings, key)
			if err != nil {
				return "", err
			}
			if before == nil {
				return "", fail(NotFound, d, "There are no own figures of %s in this shop: look at the list again.", phrase.Quote(d))
			}
			if err := w.change(Change{Table: tableSettings, Key: key, Before: before}); err != nil {
				return "", err
			}
		}
		return "own figures of " + strings.Join(designations[:min(len(designations), 3)], ", ") + " taken away", nil
	})
}
