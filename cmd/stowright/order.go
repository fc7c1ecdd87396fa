package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"stowright/app/operation"
	"stowright/app/ordering"
	"stowright/app/session"
	"stowright/store"
	"stowright/store/build"
)

// orderCommand shows what is to be bought, writes it to a file, and records what was
// ordered, promised, canceled and matched with what came.
type orderCommand struct {
	asOfFlag
	replaceFlag
	listFlag
	Save      string   `help:"Write the list to a file: .pdf, .csv or .xlsx." type:"path" placeholder:"FILE" xor:"do"`
	Mark      bool     `help:"It was ordered: from now on it is owed." xor:"do"`
	Owed      bool     `help:"What was ordered and has not come." xor:"do"`
	Promise   string   `help:"The day that an order, or a line of it, is promised for." placeholder:"O-3" xor:"do"`
	Cancel    string   `help:"What has not come of an order, or of a line of it, never will." placeholder:"O-3" xor:"do"`
	Match     []string `help:"The orders that a line of a packing list brings, \"none\" for no order." placeholder:"O-3,..." xor:"do"`
	From      string   `help:"With --mark: only what this supplier sells." placeholder:"SUPPLIER"`
	Items     []string `help:"With --mark: only these." placeholder:"NUMBER,..."`
	On        string   `help:"With --mark: the day it was ordered (default: today)." placeholder:"2026-04-20"`
	For       string   `help:"With --mark or --promise: the day it is promised for; \"none\" takes it back." placeholder:"2026-04-27"`
	Reference string   `help:"With --mark: the supplier's own number of the order." placeholder:"NUMBER"`
	Reason    string   `help:"With --cancel: why." placeholder:"WORDS"`
	Line      int      `help:"With --match: the line of the packing list." placeholder:"LINE"`
}

// orderLine is a line of the order list in the JSON answer. Quantities are in Unit.
type orderLine struct {
	Item     string   `json:"item"`
	Needed   string   `json:"needed"`
	Spare    string   `json:"spare"`
	By       string   `json:"spare_by,omitempty"`
	Have     string   `json:"have"`
	Owed     string   `json:"owed"`
	Buy      string   `json:"buy"`
	Unit     string   `json:"unit"`
	Packs    int64    `json:"packs"`
	Pack     int64    `json:"pack"`
	Order    string   `json:"order"`
	Price    string   `json:"price"`
	NeededBy string   `json:"needed_by,omitempty"`
	Unblocks []string `json:"unblocks"`
	Helps    []string `json:"helps,omitempty"`
	Note     string   `json:"note"`
}

type orderSupplier struct {
	Name         string      `json:"name"`
	Lines        []orderLine `json:"lines"`
	Total        string      `json:"total"`
	UnderMinimum string      `json:"under_minimum"`
	Unpriced     int         `json:"unpriced,omitempty"`
}

type orderOwed struct {
	Order    string `json:"order"`
	Line     int    `json:"line"`
	Supplier string `json:"supplier"`
	Item     string `json:"item"`
	Ordered  string `json:"ordered"`
	Quantity string `json:"quantity"`
	Came     string `json:"came"`
	Coming   string `json:"coming"`
	Owed     string `json:"owed"`
	Unit     string `json:"unit"`
	Promised string `json:"promised,omitempty"`
}

type orderForecast struct {
	Code    string   `json:"code"`
	From    string   `json:"from,omitempty"`
	To      string   `json:"to,omitempty"`
	Unknown bool     `json:"unknown,omitempty"`
	Reasons []string `json:"reasons"`
}

type orderAnswer struct {
	Suppliers []orderSupplier `json:"suppliers"`
	Total     string          `json:"total"`
	Ask       []string        `json:"ask,omitempty"`
	Owed      []orderOwed     `json:"owed"`
	Asked     []string        `json:"may_be_ordered,omitempty"`
	Forecast  []orderForecast `json:"forecast"`
	Ordered   string          `json:"ordered_so_far,omitempty"`
	AsOf      *pastState      `json:"as_of,omitempty"`
}

// Run prints the list, or does what it is asked to.
func (c *orderCommand) Run(p *program) error {
	c.on(p)
	if err := c.check(); err != nil {
		return err
	}
	switch {
	case c.Mark:
		return p.do(operation.MarkOrdered{Supplier: c.From, All: c.From == "", Items: c.Items, On: c.On, Promised: c.For, Reference: c.Reference})
	case c.Promise != "":
		return p.do(operation.PromiseOrder{Order: c.Promise, Day: c.For})
	case c.Cancel != "":
		return p.do(operation.CancelOrder{Order: c.Cancel, Reason: c.Reason})
	case len(c.Match) > 0:
		return p.do(operation.MatchOrder{List: c.List, Line: c.Line, Orders: c.Match})
	case c.Save != "":
		return p.withSession(func(s *session.Session) error {
			if err := ordering.Save(s, c.Save, c.files(p)); err != nil {
				return err
			}
			return p.emit(map[string]string{"file": c.Save}, func(w io.Writer) error {
				_, err := fmt.Fprintf(w, "The order list is in %s.\n", c.Save)
				return err
			})
		})
	}
	return p.withSession(func(s *session.Session) error {
		list, err := session.Answer(s, (*session.Reader).Ordering)
		if err != nil {
			return err
		}
		answer := orderOf(list)
		answer.AsOf = p.past
		if c.Owed {
			return p.emit(answer, answer.printOwed)
		}
		return p.emit(answer, answer.print)
	})
}

// check refuses options without what they go with.
func (c *orderCommand) check() error {
	for _, is := range []struct {
		given, goes bool
		words       string
	}{
		{c.From != "" || len(c.Items) > 0 || c.On != "" || c.Reference != "", c.Mark, "--from, --items, --on and --reference go with --mark"},
		{c.For != "", c.Mark || c.Promise != "", "--for goes with --mark or --promise"},
		{c.Reason != "", c.Cancel != "", "--reason goes with --cancel"},
		{c.Line != 0 || c.List != "", len(c.Match) > 0, "--line and --list go with --match"},
	} {
		if is.given && !is.goes {
			return &usageError{fmt.Errorf("%s: give both", is.words)}
		}
	}
	switch {
	case c.Promise != "" && c.For == "":
		return &usageError{fmt.Errorf("--promise needs the day: say --for 2026-04-27, or --for none")}
	case len(c.Match) > 0 && c.Line == 0:
		return &usageError{fmt.Errorf("--match needs the line of the packing list: say --line 3")}
	}
	return nil
}

// orderOf is the JSON answer of an order list.
func orderOf(o session.Ordering) orderAnswer {
	a := orderAnswer{Suppliers: []orderSupplier{}, Owed: []orderOwed{}, Forecast: []orderForecast{}, Total: ordering.Sums(o.List.Totals), Ordered: ordering.Sums(o.Ordered)}
	for _, s := range o.List.Suppliers {
		out := orderSupplier{Name: s.Name, Total: store.Money{Amount: s.Total}.String(), UnderMinimum: store.Money{Amount: s.UnderMinimum}.String(), Unpriced: s.Unpriced}
		for _, l := range s.Lines {
			out.Lines = append(out.Lines, orderLineOf(l))
		}
		a.Suppliers = append(a.Suppliers, out)
	}
	for _, q := range o.List.Ask {
		a.Ask = append(a.Ask, q.Sentence)
	}
	for _, w := range o.Owing {
		if w.Owed.Sign() <= 0 && w.Coming.Sign() <= 0 {
			continue
		}
		a.Owed = append(a.Owed, orderOwed{
			Order: w.OrderName(), Line: w.Number, Supplier: w.Supplier, Item: w.Item, Ordered: isoDay(w.Ordered), Quantity: w.Quantity.Plain(),
			Came: w.Came.Plain(), Coming: w.Coming.Plain(), Owed: w.Owed.Plain(), Unit: string(w.Quantity.Unit), Promised: isoDay(w.Promised),
		})
	}
	for _, offer := range o.Offers {
		a.Asked = append(a.Asked, ordering.OfferWords(offer))
	}
	for _, f := range o.Forecast {
		a.Forecast = append(a.Forecast, orderForecast{Code: f.Code, From: isoDay(f.From), To: isoDay(f.To), Unknown: f.Unknown, Reasons: append([]string{}, f.Reasons...)})
	}
	return a
}

func orderLineOf(l build.OrderLine) orderLine {
	return orderLine{
		Item: l.Item, Needed: l.Needed.Plain(), Spare: l.Spare.Plain(), By: l.By, Have: l.Have.Plain(), Owed: l.Owed.Plain(), Buy: l.Buy.Plain(),
		Unit: string(l.Buy.Unit), Packs: l.Packs, Pack: l.Pack, Order: l.Order.Plain(), Price: store.Money{Amount: l.Price}.String(),
		NeededBy: isoDay(l.NeededBy), Unblocks: append([]string{}, l.Unblocks...), Helps: l.Helps, Note: l.Note,
	}
}

func isoDay(d store.Date) string {
	text, err := d.MarshalText()
	if err != nil {
		return ""
	}
	return string(text)
}

func (a orderAnswer) print(w io.Writer) error {
	var b strings.Builder
	for _, s := range a.Suppliers {
		b.WriteString(s.words())
	}
	if len(a.Suppliers) > 1 && a.Total != "" {
		fmt.Fprintf(&b, "All together %s\n", a.Total)
	}
	if len(a.Suppliers) == 0 {
		b.WriteString("Nothing is to be ordered.\n")
	}
	for _, q := range slices.Concat(a.Ask, a.Asked) {
		fmt.Fprintf(&b, "? %s\n", q)
	}
	for _, f := range a.Forecast {
		when := "unknown"
		if !f.Unknown {
			if when = f.To; f.From != f.To {
				when = f.From + " to " + f.To
			}
		}
		fmt.Fprintf(&b, "%s can start: %s (%s)\n", f.Code, when, strings.Join(f.Reasons, "; "))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// words are what is to be bought of a supplier.
func (s orderSupplier) words() string {
	var b strings.Builder
	b.WriteString(ordering.SupplierName(s.Name) + "\n")
	for _, l := range s.Lines {
		b.WriteString(l.words())
	}
	if s.Total != "" {
		b.WriteString("  together " + s.Total)
		if s.UnderMinimum != "" {
			b.WriteString(", " + s.UnderMinimum + " under the minimum order")
		}
		b.WriteString("\n")
	}
	return b.String()
}

func (l orderLine) words() string {
	var b strings.Builder
	spare := ""
	if l.Spare != "0" {
		spare = " + " + l.Spare + " spare (" + l.By + ")"
	}
	fmt.Fprintf(&b, "  %s: need %s%s, have %s, owed %s: %s %s missing, order %s", l.Item, l.Needed, spare, l.Have, l.Owed, l.Buy, l.Unit, l.Order)
	if l.Pack > 1 {
		fmt.Fprintf(&b, " (%d of %d)", l.Packs, l.Pack)
	}
	if l.Price != "" {
		b.WriteString(", " + l.Price)
	}
	b.WriteString("\n")
	if len(l.Unblocks) > 0 {
		b.WriteString("    unblocks " + strings.Join(l.Unblocks, ", ") + "\n")
	}
	if len(l.Helps) > 0 {
		b.WriteString("    for " + strings.Join(l.Helps, ", ") + ", not enough alone\n")
	}
	if l.Note != "" {
		b.WriteString("    " + l.Note + "\n")
	}
	return b.String()
}

func (a orderAnswer) printOwed(w io.Writer) error {
	var b strings.Builder
	for _, o := range a.Owed {
		fmt.Fprintf(&b, "%s line %d  %s of %s %s  %s", o.Order, o.Line, o.Owed, o.Quantity, o.Unit, o.Item)
		if o.Supplier != "" {
			fmt.Fprintf(&b, "  %s", o.Supplier)
		}
		fmt.Fprintf(&b, "  ordered %s", o.Ordered)
		if o.Promised != "" {
			fmt.Fprintf(&b, ", promised for %s", o.Promised)
		}
		if o.Coming != "0" {
			fmt.Fprintf(&b, ", %s coming", o.Coming)
		}
		b.WriteString("\n")
	}
	if len(a.Owed) == 0 {
		b.WriteString("Nothing that was ordered is owed.\n")
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// supplierCommand shows suppliers, or says what is known of one.
type supplierCommand struct {
	Name     string `arg:"" optional:"" help:"The supplier; without it, all are listed."`
	Minimum  string `help:"The minimum of one order; \"none\" takes it back." placeholder:"\"20.00 USD\""`
	Currency string `help:"Of its prices." placeholder:"USD"`
	Note     string `help:"Telephone, web shop, customer number." placeholder:"WORDS"`
}

// Run changes the supplier, or lists all.
func (c *supplierCommand) Run(p *program) error {
	if c.Name != "" {
		return p.do(operation.PutSupplier{Name: c.Name, Minimum: c.Minimum, Currency: c.Currency, Note: c.Note})
	}
	if c.Minimum != "" || c.Currency != "" || c.Note != "" {
		return &usageError{fmt.Errorf("say which supplier: its name stands before the options")}
	}
	return p.withShop(func(s *store.Shop) error {
		all, err := s.Suppliers()
		if err != nil {
			return err
		}
		answer := struct {
			Suppliers []store.Supplier `json:"suppliers"`
		}{append([]store.Supplier{}, all...)}
		return p.emit(answer, func(w io.Writer) error {
			var b strings.Builder
			for _, u := range all {
				fmt.Fprintf(&b, "%s  %s  %s\n", u.Name, u.Minimum, u.Note)
			}
			if len(all) == 0 {
				b.WriteString("No supplier is known here: stowright supplier NAME makes one.\n")
			}
			_, err := io.WriteString(w, b.String())
			return err
		})
	})
}

// supplyCommand shows how items are bought, or says it of one.
type supplyCommand struct {
	Item  string `arg:"" optional:"" help:"The part number; without it, all are listed."`
	From  string `help:"The supplier." placeholder:"SUPPLIER"`
	Pack  string `help:"How many are in a pack." placeholder:"NUMBER"`
	Least string `help:"The fewest that are sold." placeholder:"NUMBER"`
	Price string `help:"The price of one." placeholder:"\"0.45 USD\""`
	Spare string `help:"Spares: a share, a number, learned, or several." placeholder:"\"10 % or 2\""`
	Keep  string `help:"Never below so many." placeholder:"NUMBER"`
}

// Run changes how the item is bought, or lists all.
func (c *supplyCommand) Run(p *program) error {
	o := operation.PutSupply{Item: c.Item, Supplier: c.From, Pack: c.Pack, Least: c.Least, Price: c.Price, Spare: c.Spare, Keep: c.Keep}
	switch changes := o != (operation.PutSupply{Item: c.Item}); {
	case c.Item != "" && !changes:
		return &usageError{fmt.Errorf("say what is to be known of %s: see stowright supply --help", c.Item)}
	case changes && c.Item == "":
		return &usageError{fmt.Errorf("say which part number: it stands before the options")}
	case changes:
		return p.do(o)
	}
	return p.withShop(func(s *store.Shop) error {
		all, err := s.Supplies()
		if err != nil {
			return err
		}
		answer := struct {
			Supply []store.Supply `json:"supply"`
		}{append([]store.Supply{}, all...)}
		return p.emit(answer, func(w io.Writer) error {
			var b strings.Builder
			for _, u := range all {
				fmt.Fprintf(&b, "%s  %s  packs of %d  %s  spare %s\n", u.Item, ordering.SupplierName(u.Supplier), max(1, u.Pack), u.Price, u.SpareRule())
			}
			if len(all) == 0 {
				b.WriteString("Nobody said yet how anything is bought: stowright supply NUMBER --from SUPPLIER.\n")
			}
			_, err := io.WriteString(w, b.String())
			return err
		})
	})
}
