package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"text/tabwriter"

	"stowright/app/session"
	"stowright/store"
	"stowright/store/copies"
	"stowright/store/packinglist"
)

// importCommand brings a packing list into a shipment.
type importCommand struct {
	File     string         `arg:"" help:"The packing list." type:"path"`
	DryRun   bool           `help:"Show the lines and bring nothing in."`
	Sheet    string         `help:"The sheet of a workbook (default: the first with a packing list's headings)."`
	Column   map[string]int `help:"Which column holds what, where the headings do not tell: --column quantity=6." placeholder:"NAME=NUMBER"`
	Order    string         `help:"The order number."`
	Supplier string         `help:"Who sent it."`
}

// importLine is a line in the JSON answer.
type importLine struct {
	Line        int    `json:"line"`
	Crate       string `json:"crate"`
	Group       string `json:"group"`
	Designation string `json:"designation"`
	Description string `json:"description"`
	Quantity    string `json:"quantity"`
	Unit        string `json:"unit"`
	Status      string `json:"status"`
}

// importProblem is a reason in the JSON answer why nothing was brought in.
type importProblem struct {
	Row     int    `json:"row"`
	Column  string `json:"column"`
	Message string `json:"message"`
}

// importAnswer is the JSON answer. Shipment is empty where nothing was brought in.
type importAnswer struct {
	Shipment string          `json:"shipment"`
	New      bool            `json:"new"`
	Lines    []importLine    `json:"lines"`
	Problems []importProblem `json:"problems"`
	Doubts   []importDoubt   `json:"doubts"`
}

// importDoubt is a number in the JSON answer that no table has, as decode says it.
type importDoubt struct {
	Line        int    `json:"line"`
	Designation string `json:"designation"`
	Message     string `json:"message"`
}

// Run reads the list whole, or says what is wrong with every bad row.
func (c *importCommand) Run(p *program) error {
	list, problems, err := c.read()
	if err != nil {
		return err
	}
	k, err := p.know()
	if err != nil {
		return err
	}
	answer := importAnswer{Lines: []importLine{}, Problems: []importProblem{}, Doubts: []importDoubt{}}
	for _, l := range list.Lines {
		answer.Lines = append(answer.Lines, importLine{
			Line: l.Number, Crate: l.Crate, Group: l.Group, Designation: session.Canonical(k.Catalog, l.Designation), Description: l.Description,
			Quantity: l.Listed.Plain(), Unit: string(l.Listed.Unit), Status: l.Status.String(),
		})
	}
	for _, d := range session.ListDoubts(k.Catalog, list) {
		answer.Doubts = append(answer.Doubts, importDoubt{d.Line, d.Designation, d.Problem})
	}
	for _, b := range problems {
		answer.Problems = append(answer.Problems, importProblem{Row: b.Row, Column: b.Column, Message: b.Message})
	}
	if len(problems) == 0 && !c.DryRun {
		if err := c.bringIn(p, list, &answer); err != nil {
			return err
		}
	}
	if err := p.emit(answer, func(w io.Writer) error { return c.print(w, answer) }); err != nil {
		return err
	}
	if len(problems) > 0 {
		return fmt.Errorf("nothing was brought in: %w", &problems[0])
	}
	return nil
}

func (c *importCommand) read() (packinglist.List, []packinglist.Problem, error) {
	table, err := packinglist.OpenFile(c.File)
	if err != nil {
		return packinglist.List{}, nil, err
	}
	columns := packinglist.Guess(table)
	for name, number := range c.Column {
		field, ok := fieldOf(name)
		if !ok {
			return packinglist.List{}, nil, &usageError{fmt.Errorf("--column: %q is not one of line, crate, group, part number, description, quantity, unit, status, lot", name)}
		}
		columns = columns.With(field, number)
	}
	list, problems := packinglist.Read(table, columns)
	if c.Order != "" {
		list.Order = c.Order
	}
	return list, problems, nil
}

func fieldOf(name string) (packinglist.Field, bool) {
	for _, f := range packinglist.Fields() {
		if f.String() == name {
			return f, true
		}
	}
	return 0, false
}

func (c *importCommand) bringIn(p *program, list packinglist.List, answer *importAnswer) error {
	shop, err := p.open(true)
	if err != nil {
		return err
	}
	catalog, err := session.Catalog(&shop.Reader)
	if err != nil {
		return errors.Join(err, shop.Close())
	}
	var ship store.Shipment
	err = p.long(func(ctx context.Context) (err error) {
		ship, answer.New, err = session.BringIn(ctx, shop, copies.NewKeeper(shop, ""), session.NewShipment(catalog, list, c.Supplier))
		answer.Shipment = ship.ID
		return err
	})
	return errors.Join(err, shop.Close())
}

func (c *importCommand) print(w io.Writer, a importAnswer) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, l := range a.Lines {
		fmt.Fprintf(t, "%d\t%s\t%s\t%s\t%s\t%s %s\t%s\n", l.Line, l.Crate, l.Group, l.Designation, l.Description, l.Quantity, l.Unit, l.Status)
	}
	for _, d := range a.Doubts {
		fmt.Fprintf(t, "Look at line %d: %s\n", d.Line, d.Message)
	}
	for _, b := range a.Problems {
		fmt.Fprintf(t, "row %d, column %s\t%s\n", b.Row, b.Column, b.Message)
	}
	switch {
	case len(a.Problems) > 0:
	case c.DryRun:
		fmt.Fprintf(t, "%d lines; nothing was brought in.\n", len(a.Lines))
	case a.New:
		fmt.Fprintf(t, "%d lines brought in.\n", len(a.Lines))
	default:
		fmt.Fprintln(t, "The shop has this list already: nothing was changed.")
	}
	return t.Flush()
}
