package operation

import (
	"cmp"
	"context"
	"regexp"
	"strconv"
	"strings"

	"stowright/app/session"
	"stowright/store"
	"stowright/store/build"
	"stowright/store/measure"
)

// None takes back what a field of PutSupplier or PutSupply said; an empty one leaves it.
const None = none

// said puts what was typed into a text, unless nothing was.
func said(to *string, typed string) {
	switch typed = strings.TrimSpace(typed); {
	case strings.EqualFold(typed, None):
		*to = ""
	case typed != "":
		*to = typed
	}
}

// PutSupplier makes a supplier, or changes what is known of it. Empty fields stay as they
// are, and those that say none are taken back.
type PutSupplier struct {
	Name     string
	Minimum  string // of one order: "20.00 USD"
	Currency string // of its prices: "USD"
	Note     string
}

// Do changes it.
func (o PutSupplier) Do(_ context.Context, s *session.Session) (Result, error) {
	u, err := supplierNamed(s, o.Name)
	if err != nil {
		return Result{}, err
	}
	said(&u.Currency, o.Currency)
	said(&u.Note, o.Note)
	switch minimum := strings.TrimSpace(o.Minimum); {
	case strings.EqualFold(minimum, None):
		u.Minimum = store.Money{}
	case minimum != "":
		if u.Minimum, err = s.ParseMoney(minimum, u.Currency); err != nil {
			return Result{}, err
		}
	}
	return did(s.Shop.PutSupplier(u))
}

// supplierNamed is the supplier of a name in any case; a new one where there is none.
func supplierNamed(s *session.Session, name string) (store.Supplier, error) {
	all, err := s.Shop.Suppliers()
	name = strings.Join(strings.Fields(name), " ")
	for _, u := range all {
		if strings.EqualFold(u.Name, name) {
			return u, err
		}
	}
	return store.Supplier{Name: name}, err
}

// PutSupply says how an item is bought. Empty fields stay as they are, and those that say
// none are taken back.
type PutSupply struct {
	Item     string
	Supplier string
	Pack     string // units in a pack
	Least    string // no fewer are sold
	Price    string // of one: "0.45 USD"; without a currency, in that of the supplier
	Spare    string // "10 %", "1", "10 % or 2", "learned", "learned or 10 %"
	Keep     string // never below so many
}

// Do records it.
func (o PutSupply) Do(_ context.Context, s *session.Session) (Result, error) {
	item := spelled(s, o.Item)
	if item == "" {
		return Result{}, invalid("Say which part number it is.")
	}
	u, err := s.Shop.SupplyOf(item)
	if err != nil {
		return Result{}, err
	}
	unit, keep, err := supplyUnit(s, item)
	if err != nil {
		return Result{}, err
	}
	said(&u.Supplier, o.Supplier)
	supplier := store.Supplier{}
	if u.Supplier != "" {
		if supplier, err = supplierNamed(s, u.Supplier); err != nil {
			return Result{}, err
		}
		u.Supplier = supplier.Name
	}
	if err := o.figures(s, &u, supplier.Currency, unit); err != nil {
		return Result{}, err
	}
	if keep, err = amountSaid(s, o.Keep, keep, unit); err != nil {
		return Result{}, err
	}
	return did(s.Shop.PutSupply(u, keep))
}

// figures reads the fields with figures in them.
func (o PutSupply) figures(s *session.Session, u *store.Supply, code string, unit measure.Unit) (err error) {
	switch pack := strings.TrimSpace(o.Pack); {
	case strings.EqualFold(pack, None):
		u.Pack = 0
	case pack != "":
		if u.Pack, err = strconv.ParseInt(pack, 10, 64); err != nil || u.Pack < 1 {
			return invalid("%q is no size of a pack: type how many are in one, such as 25.", pack)
		}
	}
	if u.Least, err = amountSaid(s, o.Least, u.Least, unit); err != nil {
		return err
	}
	switch price := strings.TrimSpace(o.Price); {
	case strings.EqualFold(price, None):
		u.Price = store.Money{}
	case price != "":
		if code == "" {
			code = currencyHere(s)
		}
		if u.Price, err = s.ParseMoney(price, code); err != nil {
			return err
		}
		u.Priced = s.Shop.Today()
	}
	return spareSaid(s, o.Spare, u, unit)
}

// currencyHere is the currency of the suppliers that the shop knows, where they have one
// and the same; else none.
func currencyHere(s *session.Session) string {
	suppliers, err := s.Shop.Suppliers()
	if err != nil {
		return ""
	}
	code := ""
	for _, u := range suppliers {
		if u.Currency != "" && code != "" && u.Currency != code {
			return ""
		}
		code = cmp.Or(u.Currency, code)
	}
	return code
}

// amountSaid reads an amount, unless nothing was typed.
func amountSaid(s *session.Session, typed string, stands measure.Quantity, unit measure.Unit) (measure.Quantity, error) {
	typed = strings.TrimSpace(typed)
	switch {
	case typed == "":
		return stands, nil
	case strings.EqualFold(typed, None):
		return measure.Quantity{}, nil
	}
	q, err := s.ParseAmount(typed, unit)
	if err == nil && q.IsZero() {
		q = measure.Quantity{}
	}
	return q, err
}

// supplyUnit is the unit that an item is bought by: that of its stock, or else that of
// those who ask for it; and how many of it are kept.
func supplyUnit(s *session.Session, item string) (unit measure.Unit, keep measure.Quantity, err error) {
	known, err := s.Shop.Item(item)
	if err == nil {
		return known.Unit, known.Minimum, nil
	}
	if store.KindOf(err) != store.NotFound {
		return "", keep, err
	}
	needs, err := s.Shop.Requirements("")
	for _, need := range needs {
		if need.Item == item && need.Needed.Unit != "" {
			return need.Needed.Unit, keep, err
		}
	}
	return measure.Each, keep, err
}

var percentForm = regexp.MustCompile(`^([0-9]{1,4}) ?%$`)

// spareSaid reads a rule for spares, unless nothing was typed.
func spareSaid(s *session.Session, typed string, u *store.Supply, unit measure.Unit) error {
	typed = strings.ToLower(strings.Join(strings.Fields(typed), " "))
	if typed == "" {
		return nil
	}
	u.Percent, u.Spare, u.ByWaste = 0, measure.Quantity{}, false
	if typed == None || typed == "0" {
		return nil
	}
	for _, part := range strings.Split(typed, " or ") {
		part = strings.TrimSpace(part)
		m := percentForm.FindStringSubmatch(part)
		switch {
		case part == "learned" && !u.ByWaste:
			u.ByWaste = true
		case m != nil && u.Percent == 0:
			u.Percent, _ = strconv.Atoi(m[1])
		case m == nil && u.Spare.IsZero() && part != "learned":
			q, err := s.ParseAmount(part, unit)
			if err != nil {
				return invalid("%q is no rule for spares: type a share such as 10 %%, a number such as 2, learned, or several with or between them.", part)
			}
			u.Spare = q
		default:
			return invalid("%q says one thing twice: type a share, a number and learned once each.", typed)
		}
	}
	return nil
}

// MarkOrdered records that what is on the order list was ordered: of one supplier, or of
// all. It is owed from then on.
type MarkOrdered struct {
	Supplier  string   // name; "": whose name is given by nobody, where All is not set
	All       bool     // of every supplier
	Items     []string // only these; none: all
	On        string   // the day; "": today
	Promised  string   // the day it is promised for; "": none was
	Reference string   // the supplier's own number of the order
}

// Do records it.
func (o MarkOrdered) Do(_ context.Context, s *session.Session) (Result, error) {
	list, err := session.Answer(s, (*session.Reader).Ordering)
	if err != nil {
		return Result{}, err
	}
	on, err := day(s, o.On, s.Shop.Today())
	if err != nil {
		return Result{}, err
	}
	promised := store.Date{}
	if strings.TrimSpace(o.Promised) != "" {
		if promised, err = s.ParseDay(strings.TrimSpace(o.Promised)); err != nil {
			return Result{}, err
		}
	}
	orders, err := o.orders(s, list.List, store.Order{Ordered: on, Reference: o.Reference}, promised)
	if err != nil {
		return Result{}, err
	}
	_, e, err := s.Shop.Order(orders...)
	return did(e, err)
}

// orders are what is on a list of what was chosen, an order a supplier.
func (o MarkOrdered) orders(s *session.Session, list build.OrderList, head store.Order, promised store.Date) ([]store.NewOrder, error) {
	chosen := map[string]bool{}
	for _, item := range o.Items {
		chosen[spelled(s, item)] = false
	}
	var orders []store.NewOrder
	for _, from := range list.Suppliers {
		if !o.All && !strings.EqualFold(from.Name, strings.TrimSpace(o.Supplier)) {
			continue
		}
		n := store.NewOrder{Order: head}
		n.Supplier = from.Name
		for _, l := range from.Lines {
			if _, wanted := chosen[l.Item]; wanted {
				chosen[l.Item] = true
			} else if len(o.Items) > 0 {
				continue
			}
			n.Lines = append(n.Lines, ordered(l, promised))
		}
		if len(n.Lines) > 0 {
			orders = append(orders, n)
		}
	}
	for item, found := range chosen {
		if !found {
			return nil, missing(item, "%s is not on the order list: see what is on it.", item)
		}
	}
	if len(orders) == 0 {
		return nil, invalid("Nothing is to be ordered there: see the order list.")
	}
	return orders, nil
}

// ordered is a line of the order list as it is ordered.
func ordered(l build.OrderLine, promised store.Date) store.OrderLine {
	return store.OrderLine{Item: l.Item, Quantity: l.Order, Pack: l.Pack, Price: store.Money{Amount: l.Price}, Promised: promised}
}

// PromiseOrder records the day that an order is promised for.
type PromiseOrder struct {
	Order string // "O-3"
	Lines string // "1, 2"; "" or "all": every line
	Day   string // none takes it back
}

// Do records it.
func (o PromiseOrder) Do(_ context.Context, s *session.Session) (Result, error) {
	ref, err := OrderNamed(o.Order)
	if err != nil {
		return Result{}, err
	}
	lines, err := lineNumbers(o.Lines)
	if err != nil {
		return Result{}, err
	}
	promised := store.Date{}
	if !strings.EqualFold(strings.TrimSpace(o.Day), None) {
		if promised, err = s.ParseDay(strings.TrimSpace(o.Day)); err != nil {
			return Result{}, err
		}
	}
	return did(s.Shop.Promise(ref.Order, ref.of(lines), promised))
}

// CancelOrder records that what has not come of an order never will.
type CancelOrder struct {
	Order  string // "O-3", "O-3 line 2"
	Lines  string // "1, 2"; "" or "all": every line
	Reason string
}

// Do records it.
func (o CancelOrder) Do(_ context.Context, s *session.Session) (Result, error) {
	ref, err := OrderNamed(o.Order)
	if err != nil {
		return Result{}, err
	}
	lines, err := lineNumbers(o.Lines)
	if err != nil {
		return Result{}, err
	}
	return did(s.Shop.Cancel(ref.Order, ref.of(lines), o.Reason))
}

// MatchOrder says which lines of orders a line of a packing list brings.
type MatchOrder struct {
	List   string   // packing list; "": the only one
	Line   int      // of it
	Orders []string // "O-3 line 2", or "O-3" where one line of it is of that number; none: it was not ordered
}

// Do records it.
func (o MatchOrder) Do(_ context.Context, s *session.Session) (Result, error) {
	line, err := LineOf(s, o.List, o.Line)
	if err != nil {
		return Result{}, err
	}
	var refs []store.OrderRef
	for _, name := range o.Orders {
		if strings.EqualFold(strings.TrimSpace(name), None) {
			continue
		}
		ref, err := OrderNamed(name)
		if err != nil {
			return Result{}, err
		}
		if ref.Line == 0 {
			if ref.Line, err = lineFor(s, ref.Order, line.Designation); err != nil {
				return Result{}, err
			}
		}
		refs = append(refs, store.OrderRef(ref))
	}
	return did(s.Shop.Match(line.Shipment, line.ID, refs...))
}

// lineFor is the one line of an order that is of an item.
func lineFor(s *session.Session, order int, item string) (int, error) {
	lines, err := s.Shop.OrderLines(order)
	if err != nil {
		return 0, err
	}
	at := 0
	for _, l := range lines {
		if l.Item != item {
			continue
		}
		if at > 0 {
			return 0, invalid("O-%d has more than one line of %s: say which, as in O-%d line %d.", order, item, order, l.Number)
		}
		at = l.Number
	}
	if at == 0 {
		return 0, missing(item, "O-%d has no line of %s: see its lines.", order, item)
	}
	return at, nil
}

// Ordered names an order, or a line of one; Line is 0 where none is said.
type Ordered store.OrderRef

// of are the lines that were named, or the one that stands with the order.
func (o Ordered) of(lines []int) []int {
	if len(lines) == 0 && o.Line > 0 {
		return []int{o.Line}
	}
	return lines
}

var orderForm = regexp.MustCompile(`^o ?-? ?([0-9]{1,8})(?:(?: line |/| )([0-9]{1,6}))?$`)

// OrderNamed reads "O-3", "o3", "O-3 line 2" or "O-3/2".
func OrderNamed(text string) (Ordered, error) {
	m := orderForm.FindStringSubmatch(strings.ToLower(strings.Join(strings.Fields(text), " ")))
	if m == nil {
		return Ordered{}, invalid("%q is no order: write it like O-3, or O-3 line 2.", text)
	}
	order, _ := strconv.Atoi(m[1])
	line, _ := strconv.Atoi(m[2])
	return Ordered{Order: order, Line: line}, nil
}
