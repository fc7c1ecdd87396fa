package operation

import (
	"cmp"
	"context"
	"slices"
	"strconv"
	"strings"

	"stowright/app/session"
	"stowright/store"
	"stowright/store/build"
)

// DescribeLot records what is known of a lot. A field that is empty stays as it was
// recorded; "none" takes what was recorded away.
type DescribeLot struct {
	Lot  string // its number, L-17, or what is printed on it
	Item string // "": of any item, where only one lot answers to Lot

	Printed                            string // lot or batch, as it is marked
	Origin, From, Maker, Invoice, Note string
	Price                              string // of one unit: "4.50 USD"
	Shipped, Made, Opened              string // days
	Life                               string // "9 months", "2 years"
	LifeSource                         string // where it is said: "the can"
	Expires                            string // day, as printed
	ExpiresSource                      string
	Perishable                         bool
	Papers                             []string // are added to those that it has
}

// none takes a field away.
const none = "none"

// Do records it.
func (o DescribeLot) Do(_ context.Context, s *session.Session) (Result, error) {
	lot, err := LotNamed(s, o.Lot, o.Item)
	if err != nil {
		return Result{}, err
	}
	facts := lot.Facts
	if err := o.days(s, &facts); err != nil {
		return Result{}, err
	}
	if o.Price != "" {
		facts.Price = store.Money{}
		if o.Price != none {
			if facts.Price, err = s.ParseMoney(o.Price, ""); err != nil {
				return Result{}, err
			}
		}
	}
	for _, field := range []struct {
		text *string
		said string
	}{{&facts.From, o.From}, {&facts.Maker, o.Maker}, {&facts.Invoice, o.Invoice}, {&facts.Note, o.Note}} {
		*field.text = replaced(*field.text, field.said)
	}
	facts.Origin = build.Origin(replaced(string(facts.Origin), o.Origin))
	facts.Perishable = facts.Perishable || o.Perishable
	facts.Papers = append(slices.Clone(facts.Papers), o.Papers...)
	if strings.TrimSpace(o.Printed) == "" {
		return did(s.Shop.DescribeLot(lot.Number, facts))
	}
	return did(s.Shop.MarkLot(lot.Number, replaced(lot.Printed, o.Printed), facts))
}

// replaced is what a field is then.
func replaced(was, said string) string {
	if said = strings.TrimSpace(said); said == none {
		return ""
	}
	return cmp.Or(said, was)
}

func (o DescribeLot) days(s *session.Session, f *store.LotFacts) error {
	for _, field := range []struct {
		day  *store.Date
		said string
	}{{&f.Shipped, o.Shipped}, {&f.Made, o.Made}, {&f.Opened, o.Opened}} {
		if err := setDay(s, field.day, field.said); err != nil {
			return err
		}
	}
	if o.Life == none {
		f.Life = nil
	} else if o.Life != "" {
		months, ok := monthsOf(o.Life)
		if !ok {
			return invalid("%q is no life: write it like 9 months, or 2 years.", o.Life)
		}
		f.Life = &store.Life{Months: months, Source: o.LifeSource}
	}
	if o.Expires == none {
		f.Expiry = nil
	} else if o.Expires != "" {
		expiry := store.Expiry{Source: o.ExpiresSource}
		if err := setDay(s, &expiry.Day, o.Expires); err != nil {
			return err
		}
		f.Expiry = &expiry
	}
	return nil
}

func setDay(s *session.Session, day *store.Date, said string) (err error) {
	switch strings.TrimSpace(said) {
	case "":
		return nil
	case none:
		*day = store.Date{}
		return nil
	}
	*day, err = s.ParseDay(said)
	return err
}

// monthsOf reads "9 months" or "2 years".
func monthsOf(text string) (int, bool) {
	words := strings.Fields(strings.ToLower(text))
	if len(words) != 2 {
		return 0, false
	}
	n, err := strconv.Atoi(words[0])
	each, known := map[string]int{"month": 1, "months": 1, "year": 12, "years": 12}[words[1]]
	return n * each, err == nil && known && n > 0 && n <= 1200
}

// LotNamed is the one lot that a text names: by its number, or by what is printed on it.
// Item is the part number; "" is any.
func LotNamed(s *session.Session, text, item string) (store.Lot, error) {
	text = strings.TrimSpace(text)
	if item != "" {
		item = spelled(s, item)
	}
	lots, err := s.Shop.Lots(item)
	if err != nil {
		return store.Lot{}, err
	}
	lots = slices.DeleteFunc(lots, func(l store.Lot) bool { return !l.Answers(text) })
	switch len(lots) {
	case 0:
		return store.Lot{}, missing(text, "There is no lot %q in this shop: give its number, such as L-17, or what is printed on it.", text)
	case 1:
		return lots[0], nil
	}
	names := make([]string, 0, len(lots))
	for _, l := range lots {
		names = append(names, l.Name()+" of "+l.Item)
	}
	return store.Lot{}, invalid("%q may be any of %d lots, %s: say which by its number.", text, len(lots), strings.Join(names, ", "))
}
