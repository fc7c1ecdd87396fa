package stockdialog

import (
	"fmt"
	"strings"

	"stowright/app"
	"stowright/app/look"
	"stowright/app/loop"
	"stowright/app/operation"
	"stowright/app/session"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/phrase"
)

// LotForm asks what is known of a lot, off its container and its papers; what is left open is
// unknown, and nothing is assumed of it.
func LotForm(s *session.Session, l store.Lot) (fields []look.FormField, describe func(typed []string) operation.DescribeLot) {
	f := l.Facts
	life, lifeSource, expires, expiresSource := "", "", "", ""
	if f.Life != nil {
		life, lifeSource = fmt.Sprintf("%d months", f.Life.Months), f.Life.Source
	}
	if f.Expiry != nil {
		expires, expiresSource = TypedDay(f.Expiry.Day), f.Expiry.Source
	}
	const day = "2026-03-14"
	fields = []look.FormField{
		{Label: "Lot or batch, as marked", Ghost: "Q7714", Text: l.Printed},
		{Label: "Origin", Ghost: "kit maker", Text: string(f.Origin)},
		{Label: "Maker", Ghost: "a name", Text: f.Maker},
		{Label: "Printed expiry", Ghost: day, Text: expires},
		{Label: "Where that is printed", Ghost: "the can", Text: expiresSource},
		{Label: "Made on", Ghost: day, Text: TypedDay(f.Made)},
		{Label: "Life after that", Ghost: "9 months", Text: life},
		{Label: "Where that is said", Ghost: "the can", Text: lifeSource},
		{Label: "Opened on", Ghost: day, Text: TypedDay(f.Opened)},
		{Label: "Sent on", Ghost: day, Text: TypedDay(f.Shipped)},
		{Label: "Price of one", Ghost: "4.50 USD", Text: s.Region.Typed(f.Price.String())},
		{Label: "Invoice", Ghost: "its number", Text: f.Invoice},
		{Label: "Another paper", Ghost: "PA-3"},
		{Label: "Note", Text: f.Note},
	}
	return fields, func(typed []string) operation.DescribeLot {
		o := operation.DescribeLot{
			Lot: l.Name(), Item: l.Item, Printed: typed[0], Origin: strings.ToLower(strings.TrimSpace(typed[1])), Maker: typed[2], Expires: typed[3], ExpiresSource: typed[4], Made: typed[5],
			Life: typed[6], LifeSource: typed[7], Opened: typed[8], Shipped: typed[9], Price: typed[10], Invoice: typed[11], Note: typed[13],
		}
		if strings.EqualFold(o.Origin, string(listedPart)) { // the one that has capitals
			o.Origin = string(listedPart)
		}
		if paper := strings.TrimSpace(typed[12]); paper != "" {
			o.Papers = []string{paper}
		}
		return o
	}
}

// listedPart is the one origin that is not written small.
const listedPart = "commercial part on a listed CPL"

// LotNote is what is said under the form of a lot.
func LotNote() string {
	var names []string
	for _, o := range store.Origins()[1:] {
		names = append(names, string(o))
	}
	return "What is emptied stays as it is; none takes it back. What is left open is unknown, and nothing is assumed. Origin: " + phrase.List(names) + "."
}

// TypedDay is a day as a field proposes it; "" for none.
func TypedDay(d store.Date) string {
	if d.IsZero() {
		return ""
	}
	return fmt.Sprintf("%04d-%02d-%02d", d.Year, d.Month, d.Day)
}

// AskLot asks what is known of a lot, and records it.
func AskLot(s *session.Session, host app.Asker, l store.Lot) {
	fields, describe := LotForm(s, l)
	var doing loop.Once
	look.AskForm(look.Form{
		Title: l.Called() + " of " + l.Item, Note: LotNote(), Yes: "Keep it", Fields: fields,
		Send: func(typed []string, back func(string)) {
			operation.Start(s, &doing, describe(typed), told(host, back))
		},
	}, host.Ask)
}

// told is what a form does with what its operation came to: it says what was done, or what is
// wrong.
func told(host app.Asker, back func(problem string)) func(operation.Result, error) {
	return func(r operation.Result, err error) {
		if err != nil {
			back(wording.Error(err))
			return
		}
		back("")
		host.Say(Done(r.Words()))
	}
}
