package main

import (
	"fmt"
	"io"
	"strings"

	"stowright/app/operation"
	"stowright/app/session"
	"stowright/store"
)

// lotCommand shows a lot and where its pieces are, and records what is known of it.
type lotCommand struct {
	Lot           string   `arg:"" help:"The lot: its number, such as L-17, or what is printed on it." placeholder:"L-17"`
	Item          string   `help:"Of this item, where several lots have that printed." placeholder:"DESIGNATION"`
	Printed       string   `help:"What is printed on it, lot or batch; 'none' for nothing." placeholder:"LOT"`
	Origin        string   `help:"Where it is from: kit maker, bought outside aviation, standard part and so on." placeholder:"WORDS"`
	From          string   `help:"Of what was removed: the aircraft, and its hours." placeholder:"WORDS"`
	Maker         string   `help:"Who made it." placeholder:"NAME"`
	Shipped       string   `help:"The day on which it was sent." placeholder:"2026-03-09"`
	Made          string   `help:"The day on which it was made." placeholder:"2026-04-02"`
	Life          string   `help:"How long it may be used after that." placeholder:"'9 months'"`
	LifeSource    string   `help:"Where that is said." placeholder:"WORDS"`
	Expires       string   `help:"The last day that is printed on it." placeholder:"2026-07-10"`
	ExpiresSource string   `help:"Where it is printed." placeholder:"WORDS"`
	Opened        string   `help:"The day on which it was opened." placeholder:"2026-05-01"`
	Perishable    bool     `help:"It has a life, though nobody knows which."`
	Price         string   `help:"Of one unit, with its currency." placeholder:"'4.50 USD'"`
	Invoice       string   `help:"The number of its invoice." placeholder:"NUMBER"`
	Paper         []string `help:"A paper that belongs to it, by its number." placeholder:"PA-3"`
	Note          string   `help:"Anything else; 'none' takes a field away." placeholder:"WORDS"`
}

// lotAnswer is a lot in the JSON answer.
type lotAnswer struct {
	Lot        string         `json:"lot"`
	Item       string         `json:"item"`
	Words      string         `json:"words"`
	Kind       string         `json:"kind"`
	Printed    string         `json:"printed"`
	Order      string         `json:"order"`
	Line       int            `json:"line"`
	Date       store.Date     `json:"date"`
	Came       store.Amount   `json:"came"`
	Facts      store.LotFacts `json:"facts"`
	Expires    store.Date     `json:"expires"` // worked out; empty where unknown
	Perishable bool           `json:"perishable"`
	Together   lotBounds      `json:"together"`
	At         []lotAt        `json:"at"`
}

// lotBounds are at least and at most how many, in the unit of the item.
type lotBounds struct {
	Low  string `json:"low"`
	High string `json:"high"`
}

type lotAt struct {
	Place       string `json:"place"`
	Condition   string `json:"condition"`
	SubAssembly string `json:"sub_assembly"`
	Gone        string `json:"gone"`
	In          string `json:"in"` // the lot that it was poured into, or the lot itself
	All         string `json:"all"`
	lotBounds
}

// Run records what is said, and shows the lot.
func (c *lotCommand) Run(p *program) error {
	return p.withSession(func(s *session.Session) error {
		lot, err := operation.LotNamed(s, c.Lot, c.Item)
		if o := c.describe(); err == nil && c.describes() {
			if _, err := o.Do(p.ctx, s); err != nil {
				return err
			}
			lot, err = s.Shop.LotNumbered(lot.Number) // it may be called otherwise now
		}
		var answer lotAnswer
		if err == nil {
			err = s.Read(func(r *session.Reader) error {
				answer, err = lotAnswerOf(r, lot)
				return err
			})
		}
		if err != nil {
			return err
		}
		return p.emit(answer, answer.print)
	})
}

func (c *lotCommand) describe() operation.DescribeLot {
	return operation.DescribeLot{
		Lot: c.Lot, Item: c.Item, Printed: c.Printed, Origin: c.Origin, From: c.From, Maker: c.Maker, Invoice: c.Invoice, Note: c.Note, Price: c.Price,
		Shipped: c.Shipped, Made: c.Made, Opened: c.Opened, Life: c.Life, LifeSource: c.LifeSource, Expires: c.Expires, ExpiresSource: c.ExpiresSource,
		Perishable: c.Perishable, Papers: c.Paper,
	}
}

// describes reports whether anything is to be recorded.
func (c *lotCommand) describes() bool {
	said := strings.Join(append([]string{
		c.Printed, c.Origin, c.From, c.Maker, c.Invoice, c.Note, c.Price, c.Shipped, c.Made, c.Opened, c.Life, c.LifeSource, c.Expires, c.ExpiresSource,
	}, c.Paper...), "")
	return said != "" || c.Perishable
}

func lotAnswerOf(r *session.Reader, lot store.Lot) (lotAnswer, error) {
	a := lotAnswer{
		Lot: lot.StockLot(), Item: lot.Item, Words: lot.Words(), Kind: string(lot.Kind), Printed: lot.Printed, Date: lot.Date, Came: lot.Came, Facts: lot.Facts, At: []lotAt{},
	}
	if lot.Receipt != nil {
		a.Order, a.Line = lot.Receipt.Order, lot.Receipt.Number()
	}
	states, err := r.Shop.LotStates(lot.Item)
	if err != nil {
		return a, err
	}
	a.Expires, a.Perishable = states[lot.StockLot()].Expires, states[lot.StockLot()].Perishable
	where, err := r.Shop.Whereabouts(lot.Item, lot.StockLot())
	if err != nil {
		return a, err
	}
	a.Together = lotBounds{where.Together.Low.String(), where.Together.High.String()}
	for _, at := range where.At {
		row := lotAt{
			Condition: string(at.Condition), SubAssembly: at.SubAssembly, Gone: at.Gone, In: at.In, All: at.All.String(),
			lotBounds: lotBounds{at.Bounds.Low.String(), at.Bounds.High.String()},
		}
		if at.Place != "" {
			path, err := r.Shop.Path(at.Place)
			if err != nil {
				return a, err
			}
			row.Place = store.PathText(path)
		}
		a.At = append(a.At, row)
	}
	return a, nil
}

func (b lotBounds) words() string {
	if b.Low == b.High {
		return b.High
	}
	low, _, _ := strings.Cut(b.Low, " ")
	return low + " to " + b.High
}

func (a lotAnswer) print(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s of %s: %s\n  %s of it came on %s\n", a.Lot, a.Item, a.Words, a.Came, a.Date)
	switch {
	case !a.Expires.IsZero():
		fmt.Fprintf(&b, "  may be used up to %s\n", a.Expires)
	case a.Perishable:
		b.WriteString("  expiry unknown: see its date\n")
	}
	for _, f := range a.fields() {
		if f.text != "" {
			fmt.Fprintf(&b, "  %s: %s\n", f.name, f.text)
		}
	}
	for _, at := range a.At {
		fmt.Fprintf(&b, "  %s %s\n", at.words(), at.where(a.Lot))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// lotField is something that was recorded of a lot.
type lotField struct{ name, text string }

func (a lotAnswer) fields() []lotField {
	fields := []lotField{
		{"origin", string(a.Facts.Origin)},
		{"from", a.Facts.From},
		{"maker", a.Facts.Maker},
		{"price", a.Facts.Price.String()},
		{"invoice", a.Facts.Invoice},
		{"papers", strings.Join(a.Facts.Papers, ", ")},
		{"note", a.Facts.Note},
	}
	for _, day := range []struct {
		name string
		day  store.Date
	}{{"shipped", a.Facts.Shipped}, {"made", a.Facts.Made}, {"opened", a.Facts.Opened}} {
		if !day.day.IsZero() {
			fields = append(fields, lotField{day.name, day.day.String()})
		}
	}
	return fields
}

// where says where some of a lot is, and out of which mix.
func (at lotAt) where(lot string) string {
	words := "in " + at.Place
	switch {
	case at.SubAssembly != "":
		words = "fitted in " + at.SubAssembly
	case at.Gone != "":
		words = at.Gone
	}
	if at.Condition != "" {
		words += " (" + at.Condition + ")"
	}
	if at.In != lot {
		words += fmt.Sprintf(", of the %s of %s", at.All, at.In)
	}
	return words
}
