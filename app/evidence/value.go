package evidence

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/bojanz/currency"

	"stowright/app/wording"
	"stowright/store"
	"stowright/store/measure"
)

// Value is what the things of a shop cost, by where they are at the end of a day. It goes by
// prices that somebody recorded; without one a thing is counted here, and worth nothing is
// never said of it. Amounts of different currencies stay apart.
type Value struct {
	Day      store.Date   `json:"day"`
	Head     store.Anchor `json:"head"`
	Sums     []Sum        `json:"sums"`
	Received []Received   `json:"received"`
	Unpriced []Unpriced   `json:"without_a_price"`
}

// Sum is what the things in one place cost in one currency: exactly where Low and High are
// the same, else at least and at most, as where lots of two prices were poured together.
type Sum struct {
	Where string      `json:"where"`
	Low   store.Money `json:"low"`
	High  store.Money `json:"high"`
}

// Received is a lot that came, and what was paid for it.
type Received struct {
	Day     store.Date   `json:"day"`
	Item    string       `json:"item"`
	Lot     string       `json:"lot"`
	Came    store.Amount `json:"came"`
	Price   store.Money  `json:"price"` // of one unit
	Source  string       `json:"price_from"`
	Paid    Sum          `json:"paid"`
	Invoice string       `json:"invoice,omitempty"`
	Papers  []string     `json:"papers,omitempty"`
}

// Unpriced is a heap whose price is not known, and why.
type Unpriced struct {
	Item   string       `json:"item"`
	Lot    string       `json:"lot"`
	Amount store.Amount `json:"amount"`
	Where  string       `json:"where"`
	Why    string       `json:"why"`
}

// The kinds of where, in the order in which they are listed.
var wheres = []string{inStock, inTrays, inAircraft, setApart, scrapped, sentBack}

const (
	inStock    = "in stock"
	inTrays    = "in trays"
	inAircraft = "in the aircraft"
	setApart   = "set apart"
	scrapped   = "scrapped"
	sentBack   = "sent back"
)

// ValueOf is the value of the shop as a reading has it.
func ValueOf(r *store.Reader) (v Value, err error) {
	err = r.Read(func(r *store.Reader) error {
		v, err = valueOf(r)
		return err
	})
	return v, err
}

func valueOf(r *store.Reader) (Value, error) {
	a := &appraiser{shop: r, trays: map[string]bool{}, papers: map[string]store.Paper{}, prices: map[string]price{}, lines: map[string]map[store.LineID]store.Line{}, sums: map[sumKey]*[2]currency.Amount{}}
	a.value = Value{Day: r.Today(), Sums: []Sum{}, Received: []Received{}, Unpriced: []Unpriced{}}
	if err := a.read(); err != nil {
		return a.value, err
	}
	if err := r.LotHeaps(a.heap); err != nil {
		return a.value, err
	}
	a.total()
	var err error
	a.value.Head, err = r.Head()
	return a.value, err
}

// appraiser adds up what things cost.
type appraiser struct {
	shop   *store.Reader
	trays  map[string]bool        // ids of places
	papers map[string]store.Paper // by name
	prices map[string]price       // by lot
	lines  map[string]map[store.LineID]store.Line
	sums   map[sumKey]*[2]currency.Amount // least and most
	value  Value
}

type sumKey struct{ where, currency string }

// price is that of one unit of a lot, or why there is none.
type price struct {
	store.Money
	unit   measure.Unit
	source string
	why    string
}

func (a *appraiser) read() error {
	subs, err := a.shop.SubAssemblies()
	if err != nil {
		return err
	}
	for _, s := range subs {
		a.trays[s.Place] = true
	}
	papers, err := a.shop.Papers()
	if err != nil {
		return err
	}
	for _, p := range papers {
		a.papers[p.Name()] = p
	}
	lots, err := a.shop.Lots("")
	if err != nil {
		return err
	}
	for _, l := range lots {
		if l.Kind == store.MixLot {
			continue
		}
		if err := a.received(l); err != nil {
			return err
		}
	}
	slices.SortStableFunc(a.value.Received, func(x, y Received) int { return y.Day.DaysUntil(x.Day) })
	return nil
}

// received notes a lot with its price.
func (a *appraiser) received(l store.Lot) error {
	p, err := a.priceOf(l)
	a.prices[l.Name()] = p
	if err != nil || p.why != "" || p.unit != l.Came.Unit {
		return err
	}
	paid, err := times(p.Money, l.Came.Low, l.Came.High)
	if err != nil {
		return err
	}
	var papers []string
	for _, name := range l.Facts.Papers {
		if a.papers[name].Kind == store.InvoicePaper {
			papers = append(papers, name+": "+a.papers[name].Words())
		}
	}
	a.value.Received = append(a.value.Received, Received{
		Day: l.Date, Item: l.Item, Lot: l.Called(), Came: l.Came, Price: p.Money, Source: p.source,
		Paid: Sum{"received", rounded(paid[0]), rounded(paid[1])}, Invoice: l.Facts.Invoice, Papers: papers,
	})
	return nil
}

// priceOf is what was recorded of a lot, or else what its packing list says.
func (a *appraiser) priceOf(l store.Lot) (price, error) {
	none := price{why: "no price is recorded"}
	if l.Facts.Price.Known() {
		return price{Money: l.Facts.Price, unit: l.Came.Unit, source: "recorded of the lot"}, nil
	}
	if l.Receipt == nil || l.Receipt.Shipment == "" {
		return none, nil
	}
	line, found, err := a.line(l.Receipt.Shipment, l.Receipt.Line)
	switch {
	case err != nil || !found || !line.Price.Known():
		return none, err
	case line.Priced != "":
		return price{why: "a price was only noted for a claim: " + line.Priced}, nil
	case line.Designation != l.Item:
		return price{why: "it came in place of another item, whose price the list has"}, nil
	case line.Listed.Unit != l.Came.Unit:
		return price{why: "its price is that of one " + string(line.Listed.Unit)}, nil
	}
	return price{Money: line.Price, unit: line.Listed.Unit, source: "packing list"}, nil
}

func (a *appraiser) line(shipment string, id store.LineID) (store.Line, bool, error) {
	if a.lines[shipment] == nil {
		lines, err := a.shop.Lines(shipment)
		if err != nil {
			return store.Line{}, false, err
		}
		byID := map[store.LineID]store.Line{}
		for _, l := range lines {
			byID[l.ID] = l
		}
		a.lines[shipment] = byID
	}
	line, found := a.lines[shipment][id]
	return line, found, nil
}

// times is a price of one, so many times: at least and at most, not rounded.
func times(p store.Money, low, high measure.Quantity) (out [2]currency.Amount, err error) {
	for i, q := range []measure.Quantity{low, high} {
		if out[i], err = p.Mul(q.Plain()); err != nil {
			return out, fmt.Errorf("%s times %s: %w", p, q, err)
		}
	}
	return out, nil
}

// heap adds one heap to the sums, or to what has no price.
func (a *appraiser) heap(h store.LotHeap) error {
	costs, why, err := a.costs(h)
	if err != nil {
		return err
	}
	where := a.where(h)
	if why != "" {
		lot := h.In
		if len(h.Of) == 1 {
			lot = h.Of[0].Lot.Called()
		}
		a.value.Unpriced = append(a.value.Unpriced, Unpriced{Item: h.Item, Lot: lot, Amount: h.All, Where: where, Why: why})
		return nil
	}
	key := sumKey{where, costs[0].CurrencyCode()}
	if a.sums[key] == nil {
		a.sums[key] = &costs
		return nil
	}
	for i := range costs {
		if a.sums[key][i], err = a.sums[key][i].Add(costs[i]); err != nil {
			return err
		}
	}
	return nil
}

func (a *appraiser) where(h store.LotHeap) string {
	switch {
	case h.SubAssembly != "":
		return inAircraft
	case h.Gone != "":
		return h.Gone
	case h.Condition != store.Good:
		return setApart
	case a.trays[h.Place]:
		return inTrays
	}
	return inStock
}

// costs is what a heap costs, at least and at most, or why nobody can say.
func (a *appraiser) costs(h store.LotHeap) (costs [2]currency.Amount, why string, err error) {
	var parts []portion
	for _, share := range h.Of {
		if share.High.Sign() <= 0 {
			continue
		}
		p, known := a.prices[share.Lot.Name()]
		switch {
		case !known:
			return costs, "its lot is not recorded", nil
		case p.why != "":
			return costs, p.why, nil
		case p.unit != h.All.Unit:
			return costs, "its price is that of one " + string(p.unit), nil
		case len(parts) > 0 && parts[0].price.CurrencyCode() != p.CurrencyCode():
			return costs, "lots of two currencies were poured together", nil
		}
		parts = append(parts, portion{p.Money, share.Low.Micro, share.High.Micro})
	}
	if len(parts) == 0 {
		return costs, "its lot is not recorded", nil
	}
	low, high := shareOut(parts, h.All.Low.Micro, false), shareOut(parts, h.All.High.Micro, true)
	for n := range parts {
		part, err := times(parts[n].price, measure.Quantity{Micro: low[n], Unit: h.All.Unit}, measure.Quantity{Micro: high[n], Unit: h.All.Unit})
		if err != nil {
			return costs, "", err
		}
		for i := range costs {
			if n == 0 {
				costs[i] = part[i]
			} else if costs[i], err = costs[i].Add(part[i]); err != nil {
				return costs, "", err
			}
		}
	}
	return costs, "", nil
}

// portion is how much of a heap may be of a lot, in millionths, at a price.
type portion struct {
	price     store.Money
	low, high int64
}

// shareOut shares a heap out among its lots so that it costs as little as it can, or, dear,
// as much: each gets what it has for sure, and the rest goes to the cheapest, or the dearest.
func shareOut(parts []portion, all int64, dear bool) []int64 {
	order := make([]int, len(parts))
	got := make([]int64, len(parts))
	for i, p := range parts {
		order[i], got[i] = i, min(p.low, all)
		all -= got[i]
	}
	slices.SortStableFunc(order, func(x, y int) int {
		c, err := parts[x].price.Cmp(parts[y].price.Amount)
		if err != nil { // of two currencies, which costs has refused
			return 0
		}
		if dear {
			return -c
		}
		return c
	})
	for _, i := range order {
		more := min(parts[i].high-got[i], all)
		got[i], all = got[i]+more, all-more
	}
	return got
}

func rounded(a currency.Amount) store.Money { return store.Money{Amount: a.Round()} }

// total puts the sums in order.
func (a *appraiser) total() {
	for key, sum := range a.sums {
		a.value.Sums = append(a.value.Sums, Sum{key.where, rounded(sum[0]), rounded(sum[1])})
	}
	slices.SortFunc(a.value.Sums, func(x, y Sum) int {
		return cmp.Or(cmp.Compare(slices.Index(wheres, x.Where), slices.Index(wheres, y.Where)), cmp.Compare(x.Low.CurrencyCode(), y.Low.CurrencyCode()))
	})
}

// String is "4.50 USD", or "14.40 to 16.00 USD".
func (s Sum) String() string {
	if s.Low.Equal(s.High) {
		return s.Low.String()
	}
	return strings.TrimSuffix(s.Low.String(), " "+s.Low.CurrencyCode()) + " to " + s.High.String()
}

// mostUnpriced is how many heaps without a price are listed on paper; tables have all.
const mostUnpriced = 400

// chapter is the value as a part of a book.
func (v Value) chapter(title string) Chapter {
	c := Chapter{Title: title}
	sums := Section{Heading: "What it cost, by where it is at the end of " + v.Day.String(), Columns: []Column{{Title: "where"}, {Title: "currency", Width: 30}, {Title: "cost", Width: 70, Mono: true}}}
	for _, s := range v.Sums {
		sums.Rows = append(sums.Rows, []string{s.Where, s.Low.CurrencyCode(), s.String()})
	}
	sums.Texts = []string{"By the prices that are recorded, each in its currency; currencies are not added together.", v.unpricedWords()}
	c.add(sums)
	received := Section{Heading: "Received and paid, by day", Columns: []Column{
		{Title: "day", Width: 32}, {Title: "part number", Width: 34, Mono: true}, {Title: "lot", Width: 30}, {Title: "how many", Width: 22}, {Title: "one", Width: 22}, {Title: "together", Width: 24}, {Title: "invoice, and where the price is from"},
	}}
	for _, r := range v.Received {
		received.Rows = append(received.Rows, []string{r.Day.String(), r.Item, r.Lot, r.Came.String(), r.Price.String(), r.Paid.String(), wording.Joined("; ", before("invoice ", r.Invoice), strings.Join(r.Papers, "; "), r.Source)})
	}
	c.add(received)
	left := Section{Heading: "Without a price", Columns: []Column{{Title: "part number", Width: 38, Mono: true}, {Title: "lot", Width: 36}, {Title: "how many", Width: 28}, {Title: "where", Width: 28}, {Title: "why"}}}
	for i, u := range v.Unpriced {
		if i == mostUnpriced {
			left.Texts = []string{fmt.Sprintf("The first %d of %d are listed; the table has all.", mostUnpriced, len(v.Unpriced))}
			break
		}
		left.Rows = append(left.Rows, []string{u.Item, u.Lot, u.Amount.String(), u.Where, u.Why})
	}
	c.add(left)
	return c
}

func (v Value) unpricedWords() string {
	if len(v.Unpriced) == 0 {
		return "Everything that is recorded has a price."
	}
	return wording.Plural(len(v.Unpriced), "heap", "heaps") + " without a price: not in these sums."
}

// Book is the value as a book of one chapter.
func (v Value) Book() Book {
	return Book{Title: "Value, by day", Day: v.Day, Head: v.Head, Under: []string{"What was recorded to have been received and paid, and where it is at the end of " + v.Day.String() + "."}, Chapters: []Chapter{v.chapter("Value of the shop")}}
}

// Table is the value as rows for a spreadsheet, the heading first.
func (v Value) Table() [][]string {
	rows := [][]string{{"what", "day", "part number", "lot", "quantity", "unit", "where", "price of one", "currency", "at least", "at most", "invoice", "papers", "note"}}
	figure := func(m store.Money) string { return strings.TrimSuffix(m.String(), " "+m.CurrencyCode()) }
	for _, s := range v.Sums {
		rows = append(rows, []string{"sum", iso(v.Day), "", "", "", "", s.Where, "", s.Low.CurrencyCode(), figure(s.Low), figure(s.High), "", "", ""})
	}
	for _, r := range v.Received {
		rows = append(rows, []string{"received", iso(r.Day), r.Item, r.Lot, r.Came.Plain(), string(r.Came.Unit), "", figure(r.Price), r.Price.CurrencyCode(), figure(r.Paid.Low), figure(r.Paid.High), r.Invoice, strings.Join(r.Papers, "; "), r.Source})
	}
	for _, u := range v.Unpriced {
		rows = append(rows, []string{"without a price", iso(v.Day), u.Item, u.Lot, u.Amount.Plain(), string(u.Amount.Unit), u.Where, "", "", "", "", "", "", u.Why})
	}
	return rows
}

// iso is a day as tables have it.
func iso(d store.Date) string {
	text, err := d.MarshalText()
	if err != nil {
		return ""
	}
	return string(text)
}
