package alerts

import (
	"strings"

	"stowright/app/card"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store"
)

// mostWhere is how many places a card lists.
const mostWhere = 8

// readDates reads the lots in stock that have a life.
func readDates(r *session.Reader) (data, error) {
	d := data{title: "Dates", note: "What is here and has a life: unknown first, then what expires first."}
	lots, err := r.Dated()
	if err != nil {
		return d, err
	}
	for _, l := range lots {
		t, at, err := lotThing(r, l)
		if err != nil {
			return d, err
		}
		t.row = table.Row{ID: l.Lot.Item + "/" + l.Lot.Name(), Cells: []table.Cell{
			table.Name(l.Lot.Item, l.Lot.Called()), {Text: firstHere(l, at)}, expiryCell(l), {Mark: l.Mark},
		}}
		d.things = append(d.things, t)
	}
	return d, nil
}

// expiryCell is the last day of use, and under it where that is from.
func expiryCell(l session.LotHere) table.Cell {
	day, from, _ := strings.Cut(l.Expiry(), ", ")
	if whole, rest, made := strings.Cut(l.Expiry(), ": "); made && !strings.Contains(whole, ",") {
		day, from = whole, rest
	}
	return table.Cell{Text: day, Sub: from}
}

// firstHere is where most of a lot lies that is in stock.
func firstHere(l session.LotHere, words []string) string {
	for i, at := range l.Where.At {
		if at.Place != "" && at.Bounds.High.Sign() > 0 && i < len(words) {
			return words[i]
		}
	}
	return ""
}

// readLots reads the lots of an item.
func readLots(r *session.Reader, item string) (data, error) {
	d := data{title: "Lots of " + item, note: "What came together, the newest first: nothing is assumed of what is open."}
	lots, err := r.Lots(item)
	if err != nil {
		return d, err
	}
	for i := len(lots) - 1; i >= 0; i-- {
		l := lots[i]
		t, _, err := lotThing(r, l)
		if err != nil {
			return d, err
		}
		origin := string(l.Origin)
		if origin == "" {
			origin = "unknown"
		}
		words := l.Lot.Words()
		if strings.HasPrefix(words, l.Lot.Name()) {
			words = strings.TrimPrefix(strings.TrimPrefix(words, l.Lot.Name()), ", ")
		}
		many, by, _ := strings.Cut(l.Came, " on ")
		t.row = table.Row{ID: l.Lot.Name(), Dim: !l.Here(), Cells: []table.Cell{
			table.Name(l.Lot.Name(), words), {Text: many, Sub: by}, table.T(origin), {Mark: l.Mark},
		}}
		d.things = append(d.things, t)
	}
	return d, nil
}

// lotThing is a lot as a card, and where its pieces are.
func lotThing(r *session.Reader, l session.LotHere) (t thing, where []string, err error) {
	t = thing{lot: &l, card: card.Card{Designation: l.Lot.Item, Title: l.Lot.Called(), Known: "came: " + l.Came, Mark: l.Mark}}
	for _, at := range l.Where.At {
		words, err := r.LotAtWords(l.Lot, at)
		if err != nil {
			return t, nil, err
		}
		where = append(where, words)
	}
	shown := where[:min(len(where), mostWhere)]
	if len(shown) < len(where) {
		shown = append(shown[:len(shown):len(shown)], "and in "+wording.Plural(len(where)-len(shown), "other place", "other places"))
	}
	t.card.Notes = append(append(t.card.Notes, shown...), known(l)...)
	return t, where, nil
}

// known is what is known of a lot, as lines; what is not, is said to be unknown.
func known(l session.LotHere) []string {
	f := l.Lot.Facts
	said := func(name, text string) string {
		if text == "" {
			return name + ": not recorded"
		}
		return name + ": " + text
	}
	day := func(d store.Date) string {
		if d.IsZero() {
			return ""
		}
		return d.String()
	}
	origin := said("origin", string(l.Origin))
	if f.From != "" {
		origin += ", " + f.From
	}
	lines := []string{"expiry: " + l.Expiry(), origin, said("sent on", day(f.Shipped)), said("made on", day(f.Made)), said("maker", f.Maker)}
	if len(l.Lot.Parents) > 0 {
		var of []string
		for _, p := range l.Lot.Parents {
			of = append(of, p.Amount.Figure()+" of "+p.Lot)
		}
		lines = append(lines, "made of "+strings.Join(of, ", "))
	}
	for _, x := range []struct{ name, text string }{
		{"opened", day(f.Opened)}, {"price", f.Price.String()}, {"invoice", f.Invoice}, {"papers", strings.Join(f.Papers, ", ")}, {"note", f.Note},
	} {
		if x.text != "" {
			lines = append(lines, x.name+": "+x.text)
		}
	}
	return lines
}
