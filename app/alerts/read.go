package alerts

import (
	"fmt"
	"slices"
	"strings"

	"stowright/app/card"
	"stowright/app/notice"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/phrase"
)

// data is what was read for a page.
type data struct {
	title, note string
	things      []thing
}

// thing is one row with what is shown of it. What it is, is the one that is not nil.
type thing struct {
	row   table.Row
	card  card.Card
	alert *session.Alerted
	at    *session.AlertedAt // of the alert
	lot   *session.LotHere
}

// read reads a page.
func read(r *session.Reader, part, about string) (data, error) {
	switch part {
	case AlertPart:
		return readAlert(r, about)
	case DatesPart:
		return readDates(r)
	case LotsPart:
		return readLots(r, about)
	}
	d := data{title: "Alerts", note: "What bulletins and makers warn of, the newest first."}
	alerts, err := r.Shop.Alerts()
	if err != nil {
		return d, err
	}
	slices.Reverse(alerts)
	for _, a := range alerts {
		comes, err := r.Alerted(a)
		if err != nil {
			return d, err
		}
		d.things = append(d.things, alertThing(comes))
	}
	return d, nil
}

// dash stands where there is none.
func dash(text string) string {
	if text == "" {
		return "–"
	}
	return text
}

func issueDay(a store.Alert) string {
	return fmt.Sprintf("issue %d, %s", len(a.Issues), a.Newest().Day)
}

// alertThing is an alert as a row and as a card with all its issues.
func alertThing(a session.Alerted) thing {
	mark := notice.Mark{Word: "open", Tone: notice.Warn}
	switch {
	case a.SetApart() != "":
		mark.Tone = notice.Stop
	case !a.Open() && len(a.Alert.Answers) > 0:
		mark = notice.Mark{Word: "answered", Tone: notice.Quiet}
	case !a.Open():
		mark = notice.Mark{Word: "none here", Tone: notice.Quiet}
	}
	t := thing{alert: &a, card: card.Card{Designation: a.Alert.Name(), Title: a.Alert.Title, Mark: mark, Place: "of " + a.Alert.Newest().Item}}
	if apart := a.SetApart(); apart != "" {
		t.card.Quantity, t.card.Unit = apart, "set apart"
	}
	for _, x := range []struct{ words, figure string }{
		{"named and fitted", a.Fitted()}, {"cannot tell", a.Unclear()}, {"came assembled", strings.Join(a.Built(), ", ")},
	} {
		if x.figure != "" {
			t.card.Tallies = append(t.card.Tallies, card.Tally{Words: x.words, Figure: x.figure})
		}
	}
	if !a.Open() && len(a.Alert.Answers) == 0 {
		t.card.Notes = append(t.card.Notes, "no record here names it")
	}
	t.card.Notes = append(append(t.card.Notes, issues(a.Alert)...), session.Released(a.Alert)...)
	t.row = table.Row{ID: a.Alert.Name(), Dim: !a.Open(), Cells: []table.Cell{
		table.Name(a.Alert.Name(), a.Alert.Title),
		{Text: fmt.Sprintf("issue %d", len(a.Alert.Issues)), Sub: a.Alert.Newest().Day.String()},
		table.T(dash(a.SetApart())), table.T(dash(a.Fitted())), table.T(dash(a.Unclear())),
		{Mark: mark},
	}}
	return t
}

// issues are all issues of an alert as lines, the newest first.
func issues(a store.Alert) (lines []string) {
	for n, i := range a.Issues {
		line := fmt.Sprintf("issue %d, %s: %s", n+1, i.Day, i.Words())
		if i.Paper != "" {
			line += ", paper " + i.Paper
		}
		if i.Note != "" {
			line += ": " + i.Note
		}
		lines = append(lines, line+", recorded by "+i.Hand)
	}
	slices.Reverse(lines)
	return lines
}

// readAlert reads one alert: four lists under their headings.
func readAlert(r *session.Reader, name string) (data, error) {
	d := data{title: "Alert"}
	alerts, err := r.Shop.Alerts()
	number, _ := store.AlertNumber(name)
	i := slices.IndexFunc(alerts, func(a store.Alert) bool { return a.Number == number })
	if err != nil || i < 0 {
		return d, err
	}
	a, err := r.Alerted(alerts[i])
	if err != nil {
		return d, err
	}
	d.title, d.note = a.Alert.Name()+" "+a.Alert.Title, issueDay(a.Alert)+": "+a.Alert.Newest().Words()
	for _, list := range session.AlertLists() {
		head := alertThing(a)
		n := 0
		var under []thing
		for _, at := range a.At {
			if at.List == list {
				n++
				under = append(under, atThing(a, at, n))
			}
		}
		many := "none"
		if n > 0 {
			many = wording.Plural(n, "row", "rows")
		}
		head.card.Known = ""
		head.card.Notes = append([]string{list.String() + ": " + list.Says()}, head.card.Notes...)
		head.row = table.Row{ID: "list " + list.String(), Dim: n == 0, Cells: []table.Cell{{Text: list.String()}, table.T(many)}}
		d.things = append(append(d.things, head), under...)
	}
	return d, nil
}

// atThing is some of what an alert is about.
func atThing(a session.Alerted, at session.AlertedAt, n int) thing {
	mark := map[session.AlertedKind]notice.Mark{
		session.InStock:  {Word: "in stock", Tone: notice.Quiet},
		session.SetApart: {Word: "set apart", Tone: notice.Stop},
		session.FittedIn: {Word: "fitted", Tone: notice.Warn},
		session.Went:     {Word: "gone", Tone: notice.Quiet},
		session.BuiltIn:  {Word: "not known", Tone: notice.Warn},
	}[at.Kind]
	also := ""
	if len(at.By) > 0 {
		also = "also " + phrase.List(at.By)
	}
	lot, came := at.Lot.Words(), lotCame(at.Lot)
	if at.Kind == session.BuiltIn {
		lot, came = "inside not known", ""
	}
	t := thing{alert: &a, at: &at, card: card.Card{
		Designation: a.Alert.Newest().Item, Title: lot, Mark: mark, Quantity: at.How, Known: at.List.Says(), At: at.Where, Place: wording.Joined(", ", at.Path, at.Where),
	}}
	for _, note := range []string{at.Why, came} {
		if note != "" {
			t.card.Notes = append(t.card.Notes, note)
		}
	}
	if len(at.By) > 0 {
		t.card.Notes = append(t.card.Notes, "it is under "+phrase.List(at.By)+" too, and stays so when "+a.Alert.Name()+" lets it go")
	}
	sub := came
	if at.List == session.Unclear || at.List == session.NearMiss {
		sub = wording.Joined(", ", at.Why, "")
	}
	t.row = table.Row{ID: fmt.Sprintf("%s %d", at.List, n), Cells: []table.Cell{
		table.Name(at.Where, at.Path), {Text: dash(at.How), Sub: also}, {Text: lot, Sub: sub}, {Mark: mark},
	}}
	return t
}

// lotCame is the delivery of a lot: "order OK-20731, line 48, 14 March 2026".
func lotCame(l store.Lot) string {
	words := "came " + l.Date.String()
	if l.Date.IsZero() {
		words = ""
	}
	if l.Receipt != nil && l.Receipt.Order != "" {
		return wording.Joined(", ", fmt.Sprintf("%s, line %d", l.Receipt.Order, l.Receipt.Number()), words)
	}
	return words
}
