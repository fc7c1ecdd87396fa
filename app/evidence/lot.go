package evidence

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"stowright/app/wording"
	"stowright/store"
)

func sorted[T any](m map[string]T) []string { return slices.Sorted(maps.Keys(m)) }

// deliveries are lots with where each came from, on which day and by whom it was received.
func (g *gatherer) deliveries(heading string, keys []string) Section {
	s := Section{Heading: heading, Columns: []Column{
		{Title: "lot", Width: 32}, {Title: "part number", Width: 36, Mono: true}, {Title: "how many came", Width: 24}, {Title: "how it came"}, {Title: "received by", Width: 24},
	}}
	for _, key := range keys {
		l, recorded := g.lots[key]
		if !recorded {
			s.Rows = append(s.Rows, []string{key, "", "", "before lots were recorded: nothing is known of its delivery", ""})
			continue
		}
		s.Rows = append(s.Rows, []string{l.Called(), l.Item, l.Came.String(), wording.Joined("; ", g.cameWords(l), g.factWords(l)), g.came[key].Hand})
	}
	return s
}

// cameWords are how a lot came: "order OK-20731, line 48, crate C1, came on 14 March 2026".
func (g *gatherer) cameWords(l store.Lot) string {
	if l.Kind == store.MixLot {
		var parents []string
		for _, p := range l.Parents {
			parents = append(parents, p.Amount.String()+" of "+g.lotWords(l.Item, p.Lot))
		}
		return "poured together on " + l.Date.String() + " out of " + strings.Join(parents, " and ")
	}
	if l.Receipt == nil {
		return wording.Joined(", ", string(l.Kind), day("recorded on ", l.Date), "with no list or order")
	}
	words := wording.Joined(", ", before("order ", l.Receipt.Order), fmt.Sprintf("line %d", l.Receipt.Number()))
	if l.Receipt.Shipment == "" {
		return wording.Joined(", ", words, day("received on ", l.Date))
	}
	line, err := g.shop.Line(l.Receipt.Shipment, l.Receipt.Line)
	if err != nil {
		return wording.Joined(", ", words, day("received on ", l.Date))
	}
	ship := g.shipment(l.Receipt.Shipment)
	crate := before("crate ", line.Crate)
	if line.Group != "" {
		crate += ", bag " + line.Group
	}
	arrived, supplier := "", before("of ", ship.Supplier)
	if d, ok := ship.Delivery(line.Crate); ok {
		arrived = "arrived on " + d.Arrived.String()
	}
	return wording.Joined(", ", words, supplier, crate, arrived, day("received on ", l.Date))
}

func (g *gatherer) shipment(id string) store.Shipment {
	if s, known := g.ships[id]; known {
		return s
	}
	s, err := g.shop.Shipment(id)
	if err != nil {
		s = store.Shipment{}
	}
	g.ships[id] = s
	return s
}

// factWords are what was recorded of a lot; of what is not known nothing is said.
func (g *gatherer) factWords(l store.Lot) string {
	f := l.Facts
	life, expiry := "", ""
	if f.Life != nil {
		life = fmt.Sprintf("life %s (%s)", wording.Plural(f.Life.Months, "month", "months"), f.Life.Source)
	}
	switch expires := f.Expires(); {
	case f.Expiry != nil:
		expiry = fmt.Sprintf("last day %s (%s)", f.Expiry.Day, f.Expiry.Source)
	case !expires.IsZero():
		expiry = "last day " + expires.String()
	case f.Perishable:
		expiry = "its last day is not known"
	}
	return wording.Joined("; ",
		before("origin as recorded: ", string(f.Origin)), before("removed from ", f.From), before("maker ", f.Maker), day("shipped on ", f.Shipped),
		before("invoice ", f.Invoice), day("made on ", f.Made), life, expiry, day("opened on ", f.Opened), g.paperWords(f.Papers), f.Note)
}

// lotNamed is the lot that somebody means.
func (g *gatherer) lotNamed(text, item string) (store.Lot, error) {
	var found []store.Lot
	var names []string
	for _, name := range g.withParents(sorted(g.lots)) {
		l := g.lots[name]
		if l.Answers(text) && (item == "" || strings.EqualFold(item, l.Item)) {
			found, names = append(found, l), append(names, l.Name()+" of "+l.Item)
		}
	}
	switch len(found) {
	case 0:
		return store.Lot{}, missing(text, "There is no lot %q in this shop: give its number, such as L-17, or what is printed on it.", text)
	case 1:
		return found[0], nil
	}
	return store.Lot{}, invalid("%q may be any of %d lots, %s: say which by its number.", text, len(found), strings.Join(names, ", "))
}

func (g *gatherer) lotBook(text, item string) (Book, error) {
	l, err := g.lotNamed(text, item)
	if err != nil {
		return Book{}, err
	}
	lots := append(g.withParents([]string{l.Name()}), g.pouredInto(l.Name())...)
	if err := g.tell(store.About{Lots: lots}); err != nil {
		return Book{}, err
	}
	c := Chapter{Title: l.Called() + " of " + l.Item}
	err = g.lotSections(&c, l)
	c.add(timeline("Its life, in the order of the days", g.lifeRows(func(h store.Holding) bool { return slices.Contains(lots, h.Lot) })))
	return Book{Title: "Evidence: " + c.Title, Under: under, Chapters: []Chapter{c}}, err
}

// pouredInto are the mixes that a lot went into, directly or by another.
func (g *gatherer) pouredInto(name string) []string {
	var all []string
	item := g.lots[name].Item
	for _, l := range g.byItem[item] { // by number: a mix comes after what went into it
		if slices.ContainsFunc(l.Parents, func(p store.Portion) bool { return p.Lot == name || slices.Contains(all, p.Lot) }) {
			all = append(all, l.Name())
		}
	}
	return all
}

// lotSections are how a lot came, where its pieces are, what alerts say of it, and what was
// decided.
func (g *gatherer) lotSections(c *Chapter, l store.Lot) error {
	c.add(g.deliveries("How it came", g.withParents([]string{l.Name()})))
	where, err := g.shop.Whereabouts(l.Item, l.Name())
	if err != nil {
		return err
	}
	s := Section{Heading: "Where its pieces are", Texts: []string{wording.Sentence(where.Together.String() + " together, what is gone among them")}, Columns: whereColumns}
	for _, at := range where.At {
		s.Rows = append(s.Rows, []string{at.Bounds.String(), at.All.String(), g.atWords(at), g.lotWords(l.Item, at.In)})
	}
	c.add(s)
	decided := Section{Heading: "Decisions"}
	for _, d := range g.decisions {
		if slices.Contains(d.Lots, l.Name()) {
			decided.Texts = append(decided.Texts, decisionWords(d))
		}
	}
	c.add(decided)
	alerts := Section{Heading: "Alerts and bulletins", Columns: alertColumns}
	for _, a := range g.alerts {
		if !slices.ContainsFunc(a.Issues, func(i store.Issue) bool { return i.Item == l.Item }) {
			continue
		}
		alerts.Rows = append(alerts.Rows, g.issueRows(a)...)
		alerts.Texts = append(alerts.Texts, a.Name()+" "+a.Title+", as its newest issue stands: "+g.lotUnder(a, l))
	}
	c.add(alerts)
	return nil
}

var whereColumns = []Column{{Title: "of this lot", Width: 28}, {Title: "of all there", Width: 34}, {Title: "where"}, {Title: "lies there as", Width: 44}}

// atWords is where some of a lot may be.
func (g *gatherer) atWords(at store.LotAt) string {
	switch {
	case at.SubAssembly != "":
		return "fitted in " + at.SubAssembly
	case at.Gone != "":
		return at.Gone
	}
	return wording.Joined(", ", g.place(at.Place), string(at.Condition))
}

// lifeRows are a row for each entry that moved or changed what is asked for.
func (g *gatherer) lifeRows(is func(h store.Holding) bool) [][]string {
	var rows [][]string
	for _, d := range g.done {
		told := len(rows)
		for _, f := range d.Fits {
			if is(store.Holding{StockKey: store.StockKey{Item: f.Item, Lot: f.Lot}}) {
				rows = append(rows, g.row(d, fitWords(f)+before(", in ", f.SubAssembly), g.lotWords(f.Item, f.Lot)))
			}
		}
		own := slices.DeleteFunc(slices.Clone(d.Moved), func(h store.Holding) bool { return !is(h) })
		if len(rows) > told {
			continue
		}
		if len(own) > 0 || d.About && len(d.Moved) == 0 || g.decides(d, is) {
			rows = append(rows, g.row(d, wording.Joined("; ", d.Text, g.movements(own)), g.movedLots(store.Done{Moved: own})...))
		}
	}
	return rows
}

// decides reports whether an entry made a decision on what is asked for, or an issue of an
// alert.
func (g *gatherer) decides(d store.Done, is func(h store.Holding) bool) bool {
	for _, a := range d.Alerts {
		if slices.ContainsFunc(a.Issues, func(i store.Issue) bool { return is(store.Holding{StockKey: store.StockKey{Item: i.Item}}) }) {
			return true
		}
	}
	for _, made := range d.Decisions {
		if slices.ContainsFunc(made.Lots, func(l string) bool {
			return is(store.Holding{StockKey: store.StockKey{Item: g.lots[l].Item, Lot: l}})
		}) {
			return true
		}
	}
	return false
}

// movements are what became less and more where: "-10 ea Bag H103, +10 ea A-12".
func (g *gatherer) movements(list []store.Holding) string {
	if len(list) > 6 {
		return ""
	}
	var words []string
	for _, h := range list {
		amount := "+" + h.Amount.String()
		if h.Amount.Quantity.Sign() < 0 {
			amount = "-" + h.Amount.Neg().String()
		}
		words = append(words, wording.Joined(", ", amount+" "+g.place(h.Place), string(h.Condition)))
	}
	return strings.Join(words, "; ")
}
