package operation

import (
	"cmp"
	"context"
	"strconv"
	"strings"

	"stowright/app/session"
	"stowright/store"
)

// ShipmentNamed is the packing list that a text names: by its id, its order number or
// the name of its file. An empty text names the only one that the shop has.
func ShipmentNamed(s *session.Session, list string) (store.Shipment, error) {
	all, err := s.Shop.Shipments()
	if err != nil {
		return store.Shipment{}, err
	}
	list = strings.TrimSpace(list)
	var found []store.Shipment
	var names []string
	for _, ship := range all {
		names = append(names, cmp.Or(ship.Order, ship.File))
		if list == "" || list == ship.ID || strings.EqualFold(list, ship.Order) || strings.EqualFold(list, ship.File) {
			found = append(found, ship)
		}
	}
	switch {
	case len(found) == 1:
		return found[0], nil
	case len(all) == 0:
		return store.Shipment{}, invalid("No packing list is in this shop: bring one in first.")
	case len(found) == 0:
		return store.Shipment{}, invalid("No packing list is called %q; there are %s.", list, strings.Join(names, ", "))
	}
	return store.Shipment{}, invalid("Say which packing list is meant, by its order number or its file: %s.", strings.Join(names, ", "))
}

// LineOf is the line that has a number on the packing list that a text names, as that list
// is now: a revised list may have given it another one.
func LineOf(s *session.Session, list string, number int) (store.Line, error) {
	ship, err := ShipmentNamed(s, list)
	if err != nil {
		return store.Line{}, err
	}
	return s.Shop.LineNumbered(ship.ID, number)
}

// Arrive enters the arrival of crates: the time for claims runs from that day.
type Arrive struct {
	List   string   // packing list; "": the only one
	Crates []string // that came together, as the list names them
	On     string   // the day they came; "": today
	// The days that the paperwork allows for claims; the day of arrival is day 0. Where it
	// says nothing they are empty, and no last day is known.
	DamageDays, ShortageDays string
}

// Do enters the delivery.
func (o Arrive) Do(_ context.Context, s *session.Session) (Result, error) {
	ship, err := ShipmentNamed(s, o.List)
	if err != nil {
		return Result{}, err
	}
	d, err := o.Delivery(s, s.Shop.Today())
	if err != nil {
		return Result{}, err
	}
	return did(s.Shop.Arrive(ship.ID, d))
}

// Delivery is the arrival as it would be recorded.
func (o Arrive) Delivery(s *session.Session, today store.Date) (store.Delivery, error) {
	d := store.Delivery{Crates: o.Crates}
	var err error
	if d.Arrived, err = day(s, o.On, today); err != nil {
		return d, err
	}
	if today.DaysUntil(d.Arrived) > 0 {
		return d, invalid("%s is still to come: give the day on which the crates arrived. Where it is that day, this computer's date is wrong.", d.Arrived)
	}
	if d.DamageDays, err = Days(o.DamageDays); err != nil {
		return d, err
	}
	d.ShortageDays, err = Days(o.ShortageDays)
	return d, err
}

// mostDays bounds what is typed: longer than any delivery's paperwork allows.
const mostDays = 3650

// Days reads how many days are allowed for a claim; nil for an empty text.
func Days(text string) (*int, error) {
	text = strings.TrimSpace(text)
	if text == "" {
		return nil, nil
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 0 || n > mostDays {
		return nil, invalid("%q is not a number of days: type one such as 5.", text)
	}
	return &n, nil
}

// day reads a day; an empty text is today.
func day(s *session.Session, text string, today store.Date) (store.Date, error) {
	if strings.TrimSpace(text) == "" {
		return today, nil
	}
	return s.ParseDay(strings.TrimSpace(text))
}

// SendClaim notes that the claim of a packing list was sent, with all that was not sent
// before.
type SendClaim struct {
	List string // packing list; "": the only one
	On   string // the day it was sent; "": today
	How  string // in words; it may not be empty, as it is what proves that it was sent
}

// Do notes it.
func (o SendClaim) Do(_ context.Context, s *session.Session) (Result, error) {
	ship, err := ShipmentNamed(s, o.List)
	if err != nil {
		return Result{}, err
	}
	on, err := day(s, o.On, s.Shop.Today())
	if err != nil {
		return Result{}, err
	}
	if strings.TrimSpace(o.How) == "" {
		return Result{}, invalid("Say how the claim was sent: by mail to whom, by telephone with whom.")
	}
	return did(s.Shop.ClaimSent(ship.ID, on, o.How))
}

// GiveUpClaim notes that lines of a packing list are not claimed though they could be.
type GiveUpClaim struct {
	List  string // packing list; "": the only one
	Lines string // "7, 17"; "" or "all": all that was not sent
	Why   string
}

// Do notes it.
func (o GiveUpClaim) Do(_ context.Context, s *session.Session) (Result, error) {
	ship, err := ShipmentNamed(s, o.List)
	if err != nil {
		return Result{}, err
	}
	lines, err := linesNamed(s, ship, o.Lines)
	if err != nil {
		return Result{}, err
	}
	return did(s.Shop.ClaimGivenUp(ship.ID, lines, o.Why))
}

// PriceLine notes what one unit of a line costs, for what its claim is worth, where the
// packing list does not say.
type PriceLine struct {
	List  string // packing list; "": the only one
	Line  int
	Price string // "4.50 USD"; "": the last price that the shop knows of it
}

// Do notes it.
func (o PriceLine) Do(_ context.Context, s *session.Session) (Result, error) {
	l, err := LineOf(s, o.List, o.Line)
	if err != nil {
		return Result{}, err
	}
	known, of, err := LastPrice(s, l)
	if err != nil {
		return Result{}, err
	}
	if strings.TrimSpace(o.Price) != "" {
		price, err := s.ParseMoney(o.Price, cmp.Or(l.Price.CurrencyCode(), known.CurrencyCode()))
		if err != nil {
			return Result{}, err
		}
		return did(s.Shop.PriceLine(l.Shipment, l.ID, price, "as typed by "+cmp.Or(s.Shop.Hand(), "nobody")))
	}
	if !known.Known() {
		return Result{}, invalid("No price of %s is known from an order: type one, as in 4.50 USD.", l.Designation)
	}
	return did(s.Shop.PriceLine(l.Shipment, l.ID, known, of))
}

// LastPrice is the last price of one unit that an order or a person gave for what a line
// lists, and where it is from; none where it is sold by another unit.
func LastPrice(s *session.Session, l store.Line) (price store.Money, of string, err error) {
	item, err := s.Shop.Item(l.Designation)
	if store.KindOf(err) == store.NotFound {
		return price, "", nil
	}
	supply, err := s.Shop.SupplyOf(l.Designation)
	if err != nil || !supply.Price.Known() || item.Unit != l.Listed.Unit {
		return price, "", err
	}
	of = "the last price known"
	if supply.Supplier != "" {
		of += ", of " + supply.Supplier
	}
	if !supply.Priced.IsZero() {
		of += ", on " + supply.Priced.String()
	}
	return supply.Price, of, nil
}

// AnswerClaim notes what the supplier answered to lines of a claim that was sent.
type AnswerClaim struct {
	List   string // packing list; "": the only one
	Lines  string // "7, 17"; "" or "all": those that have no answer yet
	Answer store.Reply
	Note   string // the answer in words
	// Credited is the sum that is credited for one line, "9.00 USD"; "": none was said. Without
	// a currency it is of that of the list's price.
	Credited string
}

// Do notes it.
func (o AnswerClaim) Do(_ context.Context, s *session.Session) (Result, error) {
	ship, err := ShipmentNamed(s, o.List)
	if err != nil {
		return Result{}, err
	}
	lines, err := linesNamed(s, ship, o.Lines)
	if err != nil {
		return Result{}, err
	}
	answer := store.ClaimAnswer{Reply: o.Answer, Note: o.Note}
	if answer.Credited, err = o.sum(s, ship, lines); err != nil {
		return Result{}, err
	}
	return did(s.Shop.ClaimAnswered(ship.ID, lines, answer))
}

// sum reads what is credited.
func (o AnswerClaim) sum(s *session.Session, ship store.Shipment, lines []store.LineID) (store.Money, error) {
	code := ""
	if len(lines) == 1 && strings.TrimSpace(o.Credited) != "" {
		if l, err := s.Shop.Line(ship.ID, lines[0]); err == nil {
			code = l.Price.CurrencyCode()
		}
	}
	return s.ParseMoney(o.Credited, code)
}

// linesNamed are the lines of a packing list that a text names by the numbers that they have
// on it now: "7, 17", or "all", which is none.
func linesNamed(s *session.Session, ship store.Shipment, text string) ([]store.LineID, error) {
	numbers, err := lineNumbers(text)
	if err != nil {
		return nil, err
	}
	var lines []store.LineID
	for _, n := range numbers {
		l, err := s.Shop.LineNumbered(ship.ID, n)
		if err != nil {
			return nil, err
		}
		lines = append(lines, l.ID)
	}
	return lines, nil
}

// lineNumbers reads "7, 17" or "all", which is none.
func lineNumbers(text string) ([]int, error) {
	var numbers []int
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ' ' }) {
		if strings.EqualFold(word, "all") {
			return nil, nil
		}
		n, err := strconv.Atoi(word)
		if err != nil {
			return nil, invalid("%s is not a line: type the numbers of the lines, or all.", word)
		}
		numbers = append(numbers, n)
	}
	return numbers, nil
}
