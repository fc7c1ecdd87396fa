package main

import (
	"errors"
	"fmt"

	"stowright/app/session"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/measure"
)

// heapFlags say which heap of an item is meant; they may be left out where there is one.
type heapFlags struct {
	Item    string `arg:"" help:"The part number."`
	From    string `help:"The place that it lies in, by name or tag, or one around it." placeholder:"PLACE"`
	Lot     string `help:"The lot." placeholder:"LOT"`
	Damaged bool   `help:"What is damaged or set apart, and not what is good."`
}

func (f heapFlags) which() session.Which {
	return session.Which{From: f.From, Lot: f.Lot, Damaged: f.Damaged}
}

// transfer is a heap, or an amount of it, on its way to a place.
func (f heapFlags) transfer(s *session.Session, which session.Which, amount, to string) (store.Transfer, error) {
	heap, err := s.HeapNamed(f.Item, which)
	if err != nil {
		return store.Transfer{}, err
	}
	t := store.Transfer{StockKey: heap.StockKey}
	if amount != "" {
		if t.Quantity, err = amountOf(amount, heap.Amount.Unit); err != nil {
			return t, err
		}
		if t.Quantity.Sign() == 0 {
			return t, &usageError{fmt.Errorf("--amount %s moves nothing", amount)}
		}
	}
	if to != "" {
		place, err := s.PlaceNamed(to)
		if err != nil {
			return t, err
		}
		t.To = place.ID
	}
	return t, nil
}

// amountOf reads an amount in the unit that the item is kept by.
func amountOf(text string, unit measure.Unit) (measure.Quantity, error) {
	q, err := measure.ParseQuantity(text, unit)
	if errors.Is(err, measure.ErrPiece) {
		return q, &usageError{fmt.Errorf("%q is not an amount of %s: %w; write a whole number", text, wording.Unit(unit), measure.ErrPiece)}
	}
	if err != nil {
		return q, &usageError{fmt.Errorf("%q is not an amount: write a number such as 12 (the unit is %s)", text, wording.Unit(unit))}
	}
	return q, nil
}

// goes says how much of a heap goes where.
type goes struct {
	heapFlags
	To     string `help:"Where it goes, by name or tag." required:"" placeholder:"PLACE"`
	Amount string `help:"How much of it; without it, all." placeholder:"NUMBER"`
}

// stowCommand puts things from their bag or crate where they belong.
type stowCommand struct{ goes }

// Run stows.
func (c *stowCommand) Run(p *program) error {
	which := c.which()
	which.InBags = true
	return p.transfer(c.goes, which, (*store.Shop).Stow)
}

// moveCommand takes things from one place to another.
type moveCommand struct{ goes }

// Run moves.
func (c *moveCommand) Run(p *program) error { return p.transfer(c.goes, c.which(), (*store.Shop).Move) }

func (p *program) transfer(g goes, which session.Which, verb func(*store.Shop, ...store.Transfer) (store.Entry, error)) error {
	return p.change(func(s *session.Session) (store.Entry, error) {
		t, err := g.heapFlags.transfer(s, which, g.Amount, g.To)
		if err != nil {
			return store.Entry{}, err
		}
		return verb(s.Shop, t)
	})
}

// takeCommand takes things out for a sub-assembly.
type takeCommand struct {
	heapFlags
	Amount string `help:"How much of it." required:"" placeholder:"NUMBER"`
	For    string `help:"The sub-assembly, by its code." required:"" placeholder:"CODE"`
}

// Run takes out.
func (c *takeCommand) Run(p *program) error {
	return p.change(func(s *session.Session) (store.Entry, error) {
		t, err := c.transfer(s, c.which(), c.Amount, "")
		if err != nil {
			return store.Entry{}, err
		}
		return s.Shop.Pull(c.For, t)
	})
}

// countCommand records what was counted in a place.
type countCommand struct {
	Item    string `arg:"" help:"The part number."`
	Counted string `arg:"" help:"How many there are, in the unit that the item is kept by."`
	In      string `help:"The place that was counted, by name or tag; it may be left out where the item lies in one place." placeholder:"PLACE"`
	Lot     string `help:"The lot." placeholder:"LOT"`
}

// Run records the count. A place where none was known to be gets its first.
func (c *countCommand) Run(p *program) error {
	return p.change(func(s *session.Session) (store.Entry, error) {
		key, unit, err := c.key(s)
		if err != nil {
			return store.Entry{}, err
		}
		counted, err := amountOf(c.Counted, unit)
		if err != nil {
			return store.Entry{}, err
		}
		return s.Shop.Count(key, counted)
	})
}

func (c *countCommand) key(s *session.Session) (store.StockKey, measure.Unit, error) {
	if c.In == "" {
		heap, err := s.HeapNamed(c.Item, session.Which{Lot: c.Lot})
		return heap.StockKey, heap.Amount.Unit, err
	}
	place, err := s.PlaceNamed(c.In)
	if err != nil {
		return store.StockKey{}, "", err
	}
	stock, err := s.Stock(s.Canonical(c.Item))
	return store.StockKey{Item: stock.Item.Designation, Place: place.ID, Lot: c.Lot}, stock.Item.Unit, err
}
