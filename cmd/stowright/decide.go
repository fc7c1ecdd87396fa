package main

import (
	"fmt"
	"strings"

	"stowright/app/operation"
	"stowright/store"
	"stowright/store/measure"
)

// decideCommand records what somebody allowed.
type decideCommand struct {
	Kind        string   `arg:"" help:"What was decided: alternate, 'other item', 'next size', origin, 'expiry after retest', deviation, 'alert answer' or withdrawal."`
	Who         string   `help:"Who allowed it." required:"" placeholder:"NAME"`
	On          string   `help:"The day; without it, today." placeholder:"DAY"`
	In          string   `help:"The sub-assembly whose list it is about, by its code." placeholder:"CODE"`
	Called      string   `help:"The part number that its list calls." placeholder:"NUMBER"`
	Requirement []string `help:"The lines that it is for, as R-31." placeholder:"R-31"`
	Lot         []string `help:"The lots that it is for." placeholder:"LOT"`
	Use         string   `help:"The part number that takes the place of what is called." placeholder:"NUMBER"`
	With        []string `help:"What comes with it for a line, as '8 NAS1149F0363P'." placeholder:"'NUMBER ITEM'"`
	Until       string   `help:"Of a retest: the last day of use." placeholder:"DAY"`
	How         string   `help:"How it was allowed: letter, call." placeholder:"WORDS"`
	Paper       string   `help:"The paper that says so." placeholder:"WORDS"`
	Document    string   `help:"The paper itself: one that the shop knows, as PA-3, or a file, of which the shop keeps the checksum." placeholder:"PA-3"`
	Note        string   `help:"What else is to be known of it." placeholder:"WORDS"`
	Withdraws   string   `help:"The decision that it withdraws, as D-1." placeholder:"D-1"`
}

// Run records it.
func (c *decideCommand) Run(p *program) error {
	d := store.Decision{
		Kind: store.DecisionKind(strings.ToLower(strings.TrimSpace(c.Kind))), Who: c.Who, Requirements: c.Requirement, Lots: c.Lot, Item: c.Use,
		How: c.How, Paper: c.Paper, Note: c.Note, Withdraws: c.Withdraws,
	}
	for _, day := range []struct {
		text string
		into *store.Date
	}{{c.On, &d.Day}, {c.Until, &d.Until}} {
		if day.text == "" {
			continue
		}
		var err error
		if *day.into, err = store.ParseDate(day.text); err != nil {
			return err
		}
	}
	for _, text := range c.With {
		x, err := extraOf(text)
		if err != nil {
			return err
		}
		d.Extra = append(d.Extra, x)
	}
	return p.do(operation.Decide{Decision: d, For: c.In, Called: c.Called, Document: c.Document})
}

// extraOf reads "8 NAS1149F0363P" or "2 qt SEAL-B2".
func extraOf(text string) (store.Extra, error) {
	words := strings.Fields(text)
	unit, item := measure.Each, ""
	switch len(words) {
	case 2:
		item = words[1]
	case 3:
		u, err := measure.ParseUnit(words[1])
		if err != nil {
			return store.Extra{}, fmt.Errorf("%q: %w", text, err)
		}
		unit, item = u, words[2]
	default:
		return store.Extra{}, &store.Error{Kind: store.Invalid, Where: text, Message: fmt.Sprintf("%q is not a quantity and a part number: write it like '8 NAS1149F0363P'.", text)}
	}
	q, err := measure.ParseQuantity(words[0], unit)
	if err != nil {
		return store.Extra{}, &store.Error{Kind: store.Invalid, Where: text, Message: fmt.Sprintf("%q is not a quantity: write it like '8 NAS1149F0363P'.", words[0]), Err: err}
	}
	return store.Extra{Called: item, Quantity: q}, nil
}
