package ordering

import (
	"io"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/bojanz/currency"

	"stowright/app/session"
	"stowright/app/wording"
	"stowright/labels"
	"stowright/store"
	"stowright/store/build"
	"stowright/store/exchange"
	"stowright/store/output"
)

// NoSupplier is where a line stands of which nobody said who sells it.
const NoSupplier = "no supplier yet"

// SupplierName is a supplier of the order list for people.
func SupplierName(name string) string {
	if name == "" {
		return NoSupplier
	}
	return name
}

// Sums are amounts of money in words: "106.50 USD", "106.50 USD + 3.00 EUR", nothing for none.
func Sums(sums []currency.Amount) string {
	var words []string
	for _, a := range sums {
		words = append(words, money(a))
	}
	return strings.Join(words, " + ")
}

func money(a currency.Amount) string { return store.Money{Amount: a}.String() }

// headings are those of the table of an order list.
var headings = []string{"supplier", "part number", "need", "spare", "have", "owed", "missing", "unit", "packs", "pack of", "order", "price", "currency", "needed by", "unblocks", "also for", "note"}

// figures are the columns of the table that hold figures.
var figures = map[int]bool{2: true, 3: true, 4: true, 5: true, 6: true, 8: true, 9: true, 10: true, 11: true}

// Rows are an order list as a table, the heading first.
func Rows(list build.OrderList) [][]string {
	rows := [][]string{headings}
	for _, s := range list.Suppliers {
		for _, l := range s.Lines {
			price, day := "", ""
			if l.Price.CurrencyCode() != "" {
				price = strings.TrimSuffix(money(l.Price), " "+l.Price.CurrencyCode())
			}
			if !l.NeededBy.IsZero() {
				day = l.NeededBy.String()
			}
			rows = append(rows, []string{
				s.Name, l.Item, l.Needed.Plain(), l.Spare.Plain(), l.Have.Plain(), l.Owed.Plain(), l.Buy.Plain(), string(l.Buy.Unit),
				strconv.FormatInt(l.Packs, 10), strconv.FormatInt(l.Pack, 10), l.Order.Plain(), price, l.Price.CurrencyCode(), day,
				strings.Join(l.Unblocks, ", "), strings.Join(l.Helps, ", "), l.Note,
			})
		}
	}
	return rows
}

// Paper is an order list as pages: a table a supplier, to be sent or to order by.
func Paper(o session.Ordering, today store.Date) labels.Paper {
	p := labels.Paper{Title: "Order list", Under: []string{
		today.String(), "What plans and requirements call for, less what is here and owed. Plans and the kit maker's instructions govern.",
	}}
	for _, s := range o.List.Suppliers {
		b := labels.Block{Heading: SupplierName(s.Name), Columns: []labels.PaperColumn{
			{Title: "part number", Width: 42, Mono: true}, {Title: "order", Width: 24}, {Title: "packs", Width: 26}, {Title: "price", Width: 26}, {Title: "for, and what to know"},
		}}
		for _, l := range s.Lines {
			b.Rows = append(b.Rows, []string{l.Item, amount(l), packs(l), priceWords(l), wording.Joined("; ", unblocks(l), l.Note)})
		}
		b.Rows = append(b.Rows, []string{"", "", "", totalWords(s), underWords(s)})
		p.Blocks = append(p.Blocks, b)
	}
	if len(o.List.Ask) > 0 {
		b := labels.Block{Heading: "To be counted first"}
		for _, q := range o.List.Ask {
			b.Texts = append(b.Texts, wording.Upper(q.Sentence)+".")
		}
		p.Blocks = append(p.Blocks, b)
	}
	if total := Sums(o.List.Totals); total != "" {
		p.Blocks = append(p.Blocks, labels.Block{Texts: []string{"Together " + total + "."}})
	}
	return p
}

// amount is how many are ordered: "10 ea".
func amount(l build.OrderLine) string { return l.Order.String() }

// packs is "1 pack of 10", or how many singly.
func packs(l build.OrderLine) string {
	if l.Pack <= 1 {
		return "singly"
	}
	return wording.Plural(int(l.Packs), "pack", "packs") + " of " + strconv.FormatInt(l.Pack, 10)
}

func priceWords(l build.OrderLine) string {
	if l.Price.CurrencyCode() == "" {
		return "price unknown"
	}
	return money(l.Price)
}

// unblocks says what a line is for: "unblocks SA-41", "for SA-40, which waits for more".
func unblocks(l build.OrderLine) string {
	var words []string
	if len(l.Unblocks) > 0 {
		words = append(words, "unblocks "+strings.Join(l.Unblocks, ", "))
	}
	if len(l.Helps) > 0 {
		words = append(words, "for "+strings.Join(l.Helps, ", ")+", not enough alone")
	}
	if len(words) == 0 {
		return "unblocks nothing"
	}
	return strings.Join(words, "; ")
}

// totalWords is what the lines of a supplier come to.
func totalWords(s build.SupplierOrder) string {
	if s.Total.CurrencyCode() == "" {
		return "total unknown"
	}
	if s.Unpriced > 0 {
		return money(s.Total) + " and " + wording.Plural(s.Unpriced, "line", "lines") + " without a price"
	}
	return money(s.Total)
}

// underWords is what is missing to the minimum order: "9.50 USD under the minimum order".
func underWords(s build.SupplierOrder) string {
	if s.UnderMinimum.CurrencyCode() == "" {
		return ""
	}
	return money(s.UnderMinimum) + " under the minimum order"
}

// Save writes the order list to a file: a PDF, a CSV or an XLSX, by its ending.
func Save(s *session.Session, path string, o output.Options) error {
	list, err := session.Answer(s, (*session.Reader).Ordering)
	if err != nil {
		return err
	}
	if len(list.List.Suppliers) == 0 {
		return &store.Error{Kind: store.Invalid, Message: "Nothing is to be ordered: there is no list to save."}
	}
	write, err := writer(s, path, list)
	if err != nil {
		return err
	}
	return output.Write(o, output.File{Path: path, Write: write})
}

// writer is what writes the list in the form that the ending of a path says.
func writer(s *session.Session, path string, list session.Ordering) (func(w io.Writer) error, error) {
	switch strings.ToLower(filepath.Ext(path)) {
	case ".csv":
		return func(w io.Writer) error { return exchange.WriteCSV(w, Rows(list.List)) }, nil
	case ".xlsx":
		return func(w io.Writer) error { return exchange.WriteXLSX(w, "Order", Rows(list.List), figures) }, nil
	case ".pdf":
		doc, err := s.Lay(Paper(list, s.Shop.Today()))
		if err != nil {
			return nil, err
		}
		return func(w io.Writer) error { return labels.PDF(w, doc, labels.PDFOptions{Made: s.Shop.Now()}) }, nil
	}
	return nil, &store.Error{Kind: store.Invalid, Where: path, Message: "An order list is saved as .pdf, .csv or .xlsx: name a file that ends so."}
}

// OfferWords ask of a line of a packing list whether it is what was ordered: "line 3 of
// F-1, 10 AN3-5A: is it O-1 line 1, of which 10 are owed?".
func OfferWords(o session.Offer) string {
	var refs []string
	for _, w := range o.Orders {
		refs = append(refs, w.Ref().String()+", of which "+w.Owed.Number()+" are owed")
	}
	n := o.Line.Listed
	if o.Line.Finding != nil {
		n = o.Line.Finding.Found
	}
	return "line " + strconv.Itoa(o.Line.Number()) + " of " + listName(o.Ship) + ", " + n.Number() + " " + o.Line.Designation + ": is it " + strings.Join(refs, ", or ") + "?"
}

// listName is a packing list for people.
func listName(ship store.Shipment) string {
	if ship.Order != "" {
		return ship.Order
	}
	return ship.File
}
