package ordering

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/bojanz/currency"

	"stowright/app/card"
	"stowright/app/notice"
	"stowright/app/operation"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/build"
	"stowright/store/measure"
)

// Field is one thing that is said of how an item is bought, or of a supplier.
type Field int

// The fields.
const (
	SupplierField Field = iota
	PackField
	PriceField
	SpareField
	LeastField
	KeepField
	MinimumField // of the supplier
)

// Question is what is asked for a field, with a hint.
func (f Field) Question() (label, hint string) {
	switch f {
	case SupplierField:
		return "Who sells it?", "a name; nothing for nobody"
	case PackField:
		return "How many are in a pack?", "nothing where it is sold singly"
	case PriceField:
		return "What does one cost?", "as 0.45 USD, of one and not of a pack; nothing where it is unknown"
	case SpareField:
		return "How many spares?", "a share, a number, or learned from what was spoiled here: 10 %, 2, learned or 10 %"
	case LeastField:
		return "How many are sold at least?", "nothing for any number"
	case KeepField:
		return "Never below how many?", "nothing where it may run out"
	}
	return "What is the least that one order may come to?", "as 20.00 USD; nothing where none is known"
}

// Change is the operation that puts what was typed into a field; nothing takes it back.
func (f Field) Change(item, supplier, typed string) operation.Operation {
	if typed = strings.TrimSpace(typed); typed == "" {
		typed = operation.None
	}
	o := operation.PutSupply{Item: item}
	switch f {
	case SupplierField:
		o.Supplier = typed
	case PackField:
		o.Pack = typed
	case PriceField:
		o.Price = typed
	case SpareField:
		o.Spare = typed
	case LeastField:
		o.Least = typed
	case KeepField:
		o.Keep = typed
	case MinimumField:
		return operation.PutSupplier{Name: supplier, Minimum: typed}
	}
	return o
}

// typedOf is what stands in a field, as it is typed with a point for its decimal mark.
func typedOf(u store.Supply, d reading, f Field) string {
	plain := func(q measure.Quantity) string {
		if q.Sign() <= 0 {
			return ""
		}
		return q.Plain()
	}
	switch f {
	case SupplierField:
		return u.Supplier
	case PackField:
		if u.Pack > 0 {
			return strconv.FormatInt(u.Pack, 10)
		}
	case PriceField:
		return u.Price.String()
	case SpareField:
		return u.SpareRule()
	case LeastField:
		return plain(u.Least)
	case KeepField:
		return plain(d.Keep[u.Item])
	}
	return ""
}

// note is what the list comes to: "4 lines of 2 suppliers, 106.50 USD together".
func (d reading) note() string {
	lines := 0
	for _, s := range d.List.Suppliers {
		lines += len(s.Lines)
	}
	if lines == 0 {
		return ""
	}
	words := wording.Plural(lines, "line", "lines") + " of " + wording.Plural(len(d.List.Suppliers), "supplier", "suppliers")
	if sum := Sums(d.List.Totals); sum != "" {
		words += ", together " + sum
	}
	if n := d.List.Unpriced; n > 0 {
		words += "; " + wording.Plural(n, "line has", "lines have") + " no price yet"
	}
	return words
}

// mostAsked is how many questions stand over the list.
const mostAsked = 3

// ask is what has to be counted or said before the list can be trusted.
func (d reading) ask() string {
	var words []string
	for i, q := range d.List.Ask {
		if i == mostAsked {
			words = append(words, fmt.Sprintf("and %d more", len(d.List.Ask)-i))
			break
		}
		words = append(words, q.Sentence)
	}
	says := ""
	if len(words) > 0 {
		says = wording.Upper(strings.Join(words, "; ")) + "."
	}
	if n := len(d.Offers); n > 0 {
		says = strings.TrimSpace(says + " " + wording.Plural(n, "line that came", "lines that came") + " may be what was ordered: press O, and say.")
	}
	return says
}

// row is a line as a row of the screen.
func (d reading) row(l line) table.Row {
	switch {
	case l.supplier != nil:
		s := l.supplier
		return table.Row{ID: l.id, Cells: []table.Cell{table.Name(SupplierName(s.Name), wording.Plural(len(s.Lines), "line", "lines")), {}, {}, {}, totalCell(*s), underCell(*s)}}
	case l.item != nil:
		i := l.item
		need, have := i.Needed.Number(), i.Have.Number()
		spare, owed := string(i.Needed.Unit), string(i.Have.Unit)
		if i.Spare.Sign() > 0 {
			spare = "+" + i.Spare.Number()
		}
		if i.Owed.Sign() > 0 {
			owed = i.Owed.Number() + " owed"
		}
		return table.Row{ID: l.id, Cells: []table.Cell{
			table.Name(i.Item, d.Titles[i.Item]), table.Name(need, spare), table.Name(have, owed), table.Name(i.Order.Number(), packCell(*i)),
			priceCell(*i), unblocksCell(*i),
		}}
	case l.offer != nil:
		o := l.offer
		n := o.Line.Listed
		if o.Line.Finding != nil {
			n = o.Line.Finding.Found
		}
		return table.Row{ID: l.id, Cells: []table.Cell{
			table.Name(o.Line.Designation, d.Titles[o.Line.Designation]), table.Name(n.Number(), "came"),
			table.Name(o.Orders[0].Ref().String()+"?", fmt.Sprintf("line %d of %s", o.Line.Number(), listName(o.Ship))),
			table.State("say whether", notice.Warn),
		}}
	}
	w := l.owing
	return table.Row{ID: l.id, Cells: []table.Cell{
		table.Name(w.Item, d.Titles[w.Item]), table.Name(w.Owed.Number(), "of "+w.Quantity.Number()), table.Name(w.Ref().String(), SupplierName(w.Supplier)),
		{Mark: d.owedMark(*w)},
	}}
}

// underCell is what is missing to the minimum order of a supplier.
func underCell(s build.SupplierOrder) table.Cell {
	if s.UnderMinimum.CurrencyCode() == "" {
		return table.Cell{}
	}
	return table.Name(money(s.UnderMinimum)+" under", "the minimum order")
}

// totalCell is the total of a supplier with its currency.
func totalCell(s build.SupplierOrder) table.Cell { return moneyCell(s.Total) }

func priceCell(l build.OrderLine) table.Cell { return moneyCell(l.Price) }

func moneyCell(a currency.Amount) table.Cell {
	if a.CurrencyCode() == "" {
		return table.Name("?", "") // the card says that it is unknown: here the word is cut in the larger size
	}
	return table.Name(strings.TrimSuffix(money(a), " "+a.CurrencyCode()), a.CurrencyCode())
}

// packCell is how many packs of how many: "1 × 10".
func packCell(l build.OrderLine) string {
	if l.Pack <= 1 {
		return string(l.Order.Unit)
	}
	return fmt.Sprintf("%d × %d", l.Packs, l.Pack)
}

// unblocksCell is what a line unblocks, or is for without being enough: short, since in the larger
// size a line of the column has room for twelve letters, and below for two sub-assemblies.
func unblocksCell(l build.OrderLine) table.Cell {
	helps := wording.Joined(", ", l.Helps...)
	switch {
	case len(l.Unblocks) == 0 && len(l.Helps) == 0:
		return table.Name("nothing", l.Note)
	case len(l.Helps) == 0:
		return table.Name(strings.Join(l.Unblocks, ", "), l.Note)
	case len(l.Unblocks) > 0:
		return table.Name(strings.Join(l.Unblocks, ", "), wording.Joined("; ", helps+" in part", l.Note))
	case len(l.Helps) == 1:
		return table.Name(helps+" in part", l.Note)
	}
	return table.Name(fmt.Sprintf("%d in part", len(l.Helps)), wording.Joined("; ", helps, l.Note))
}

func promiseWords(w store.Owing) string {
	if w.Promised.IsZero() {
		return "no day promised"
	}
	return "promised for " + w.Promised.String()
}

// owedMark is how late a line of an order is.
func (d reading) owedMark(w store.Owing) notice.Mark {
	switch {
	case w.Owed.Sign() <= 0:
		return notice.Mark{Word: w.Coming.Number() + " to check", Tone: notice.Warn}
	case w.Promised.IsZero() && w.Ordered == d.today:
		return notice.Mark{Word: "ordered today", Tone: notice.Quiet}
	case w.Promised == d.today:
		return notice.Mark{Word: "due today", Tone: notice.OK}
	case w.Promised.IsZero():
		return notice.Mark{Word: wording.Plural(w.Ordered.DaysUntil(d.today), "day", "days") + " ago", Tone: notice.Quiet}
	case w.Promised.DaysUntil(d.today) > 0:
		return notice.Mark{Word: wording.Plural(w.Promised.DaysUntil(d.today), "day", "days") + " late", Tone: notice.Stop}
	}
	return notice.Mark{Word: "in " + wording.Plural(d.today.DaysUntil(w.Promised), "day", "days"), Tone: notice.OK}
}

// card is what is known of a line.
func (d reading) card(l line) card.Card {
	switch {
	case l.supplier != nil:
		s := l.supplier
		c := card.Card{Designation: SupplierName(s.Name), Title: wording.Plural(len(s.Lines), "line", "lines") + " to order", Quantity: totalWords(*s), Known: wording.Upper(underWords(*s))}
		u := d.suppliers[s.Name]
		minimum := u.Minimum.String()
		if minimum == "" {
			minimum = "not known"
		}
		c.Tallies = []card.Tally{{Words: "minimum of one order", Figure: minimum}}
		if u.Note != "" {
			c.Notes = []string{u.Note}
		}
		return c
	case l.item != nil:
		return d.itemCard(*l.item, l.of)
	case l.offer != nil:
		return card.Card{
			Designation: l.offer.Line.Designation, Title: d.Titles[l.offer.Line.Designation],
			Notes: []string{wording.Upper(OfferWords(*l.offer)), "Nothing is assumed: until you say, it is not counted as owed besides."},
		}
	case l.owing != nil:
		w := *l.owing
		c := card.Card{Designation: w.Item, Title: d.Titles[w.Item], Quantity: w.Owed.Number(), Unit: string(w.Owed.Unit), Known: "owed by " + SupplierName(w.Supplier)}
		c.Tallies = []card.Tally{{Words: "ordered", Figure: w.Quantity.Number()}, {Words: "came", Figure: w.Came.Number()}, {Words: "in a parcel, to check", Figure: w.Coming.Number()}}
		c.Notes = append(c.Notes, w.Ref().String()+", ordered "+w.Ordered.String(), promiseWords(w))
		return c
	}
	return card.Card{}
}

// itemCard is a line of the list with all that it was made of.
func (d reading) itemCard(l build.OrderLine, supplier string) card.Card {
	u := d.Supplies[l.Item]
	c := card.Card{Designation: l.Item, Title: d.Titles[l.Item], Quantity: l.Order.Number(), Unit: wording.ShortUnit(l.Order.Unit), Known: packs(l) + ", " + priceWords(l)}
	c.Tallies = []card.Tally{{Words: "needed, still to be pulled", Figure: l.Needed.Number()}}
	if l.Spare.Sign() > 0 || l.By != "" {
		c.Tallies = append(c.Tallies, card.Tally{Words: "spare", Figure: l.Spare.Number()})
	}
	c.Tallies = append(c.Tallies, card.Tally{Words: "here, usable by then", Figure: l.Have.Number()}, card.Tally{Words: "owed", Figure: l.Owed.Number()}, card.Tally{Words: "missing", Figure: l.Buy.Number(), Tone: notice.Warn})
	c.Notes = append(c.Notes, "From "+SupplierName(supplier)+"; one is "+orUnknown(u.Price.String())+priceDay(u)+".")
	if l.By != "" {
		c.Notes = append(c.Notes, "Spares by: "+l.By+".")
	}
	c.Notes = append(c.Notes, wording.Upper(unblocks(l))+".")
	if l.Note != "" {
		c.Notes = append(c.Notes, wording.Upper(l.Note)+".")
	}
	if !l.NeededBy.IsZero() {
		c.Notes = append(c.Notes, "Needed by "+l.NeededBy.String()+".")
	}
	for _, f := range d.Forecast {
		if strings.Contains(strings.Join(append(append([]string(nil), l.Unblocks...), l.Helps...), " "), f.Code) {
			c.Notes = append(c.Notes, forecastWords(f))
		}
	}
	return c
}

func orUnknown(text string) string {
	if text == "" {
		return "of unknown price"
	}
	return text
}

func priceDay(u store.Supply) string {
	if u.Priced.IsZero() {
		return ""
	}
	return ", priced " + u.Priced.String()
}

// forecastWords are when a sub-assembly can start as things stand: "SA-41 can start: unknown".
func forecastWords(f build.Forecast) string {
	switch {
	case f.Unknown:
		return f.Code + " as things stand: unknown (" + strings.Join(f.Reasons, "; ") + ")."
	case f.From == f.To:
		return f.Code + " can start on " + f.To.String() + " (" + strings.Join(f.Reasons, "; ") + ")."
	}
	return f.Code + " can start between " + f.From.String() + " and " + f.To.String() + " (" + strings.Join(f.Reasons, "; ") + ")."
}
