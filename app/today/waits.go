package today

import (
	"fmt"
	"slices"
	"strings"

	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/phrase"
)

// The parts of the Unpack screen that rows lead to.
const (
	arrivalPart = "arrival"
	claimPart   = "claim"
)

// maxRows is how many rows a section shows: the first ones are what matters today.
const maxRows = 6

// deliveries are the crates that came and are not checked off or have something to claim
// that was not sent, be its day past or not, and those that have not come.
func deliveries(s *session.Reader, lists []list) (Section, []routes.Route, error) {
	section := Section{ID: Deliveries, Title: "Deliveries", Clear: "Every crate is checked off, and every claim was sent."}
	var leads []routes.Route
	today := s.Shop.Today()
	for _, l := range lists {
		for _, d := range l.ship.Deliveries {
			row, route, waits := l.came(d, today)
			if waits {
				section.Rows, leads = append(section.Rows, row), append(leads, route)
			}
		}
		if n, since := l.ship.Waits(); n > 0 {
			section.Rows = append(section.Rows, l.unanswered(n, since, today))
			leads = append(leads, routes.Route{Screen: routes.Unpack, About: l.ship.ID, Part: claimPart})
		}
		for _, c := range l.ship.Crates {
			if _, came := l.ship.Delivery(c.Name); came {
				continue
			}
			n := len(slices.DeleteFunc(slices.Clone(l.lines), func(line store.Line) bool { return line.Crate != c.Name }))
			section.Rows = append(section.Rows, table.Row{ID: "crate " + l.ship.ID + c.Name, Cells: []table.Cell{
				table.Name(c.Name, l.order()), table.T(wording.Plural(n, "line", "lines")), table.State("not come yet", notice.Quiet), {},
			}})
			leads = append(leads, routes.Route{Screen: routes.Unpack, About: l.ship.ID, Part: arrivalPart})
		}
	}
	return section.cut(leads)
}

// unanswered is a claim that was sent and not answered, as a row, with the days since.
func (l list) unanswered(lines int, since, today store.Date) table.Row {
	days := since.DaysUntil(today)
	tone := notice.Quiet
	if days >= answerLate {
		tone = notice.Warn
	}
	return table.Row{ID: "claim " + l.ship.ID, Cells: []table.Cell{
		table.Name("Claim", l.order()+", sent "+wording.Day(since)), table.T(wording.Plural(lines, "line", "lines")),
		table.State("no answer, "+wording.Plural(days, "day", "days"), tone),
		{},
	}}
}

// answerLate is after how many days without an answer a claim warns: two weeks, enough for
// a letter each way. No standard says so.
const answerLate = 14

// order names the shipment.
func (l list) order() string {
	if l.ship.Order != "" {
		return "order " + l.ship.Order
	}
	return l.ship.File
}

// came is a delivery as a row, and whether anything of it waits.
func (l list) came(d store.Delivery, today store.Date) (row table.Row, route routes.Route, waits bool) {
	due, open, claims := 0, 0, 0
	var differ []store.Line // those that there may be something to claim of
	for _, line := range l.lines {
		if !slices.Contains(d.Crates, line.Crate) {
			continue
		}
		switch l.state(line) {
		case store.BackOrder, store.NotArrived, store.OffList, store.NeverChecked:
		case store.ToCheck:
			due++
			open++
		case store.AllHere:
			due++
		default:
			due++
			differ = append(differ, line)
			if l.ship.Claims == nil || len(l.ship.Unsent([]store.Line{line})) > 0 {
				claims++
			}
		}
	}
	words := table.Cell{Text: fmt.Sprintf("%d of %d to check", open, due)}
	route = routes.Route{Screen: routes.Unpack, About: l.ship.ID}
	if open == 0 {
		words = table.Cell{Text: "all checked", Sub: wording.Plural(claims, "line", "lines") + " to claim"}
		route.Part = claimPart
	}
	row = table.Row{ID: "delivery " + l.ship.ID + d.Crates[0], Cells: []table.Cell{
		table.Name(strings.Join(d.Crates, ", "), l.order()+", came "+wording.Day(d.Arrived)), words, {}, {},
	}}
	one := store.Shipment{Deliveries: []store.Delivery{d}}
	for _, c := range one.Clocks(today) {
		at, name := 2, "damage"
		if c.For == store.ForShortage {
			at, name = 3, "shortages"
		}
		if l.ship.Settled(d, c.For, l.lines) {
			row.Cells[at] = table.State(name+": "+l.ended(), notice.OK)
			continue
		}
		row.Cells[at] = clock(name, c, l.ship.UnsentFor(c.For, d.Crates, differ))
	}
	return row, route, open > 0 || claims > 0
}

// ended is how what there is to claim of a list came to its end.
func (l list) ended() string {
	for _, c := range l.ship.Claims {
		if c.GivenUp == "" {
			return "sent"
		}
	}
	return "given up"
}

// clock is a claim clock as a mark. One that has passed before its claim was sent goes on
// warning: the supplier may take it all the same.
func clock(name string, c store.Clock, unsent int) table.Cell {
	tone := session.ClaimTone(c.DaysLeft)
	switch {
	case c.DaysLeft < 0 && unsent == 0:
		return table.State(name+": past", notice.Quiet)
	case c.DaysLeft < 0:
		return table.State(name+": was due "+wording.ShortDay(c.Due), tone)
	case c.DaysLeft == 0:
		return table.State(name+": last day", tone)
	}
	return table.State(fmt.Sprintf("%s: %s", name, wording.Plural(c.DaysLeft, "day", "days")), tone)
}

// toStow are the crates and bags with checked stock that has no place yet.
func toStow(s *session.Reader, lists []list) (Section, []routes.Route, error) {
	section := Section{ID: ToStow, Title: "To put away", Clear: "Everything that was checked has its place."}
	var leads []routes.Route
	for _, l := range lists {
		seen := map[string]bool{}
		for _, line := range l.lines {
			if seen[line.Place] {
				continue
			}
			seen[line.Place] = true
			items, err := inBag(s.Shop, line.Place)
			if err != nil {
				return section, nil, err
			}
			if len(items) == 0 {
				continue
			}
			name, sub := line.Group, phrase.Crate(line.Crate)
			if name == "" {
				name, sub = line.Crate, "crate"
			}
			section.Rows = append(section.Rows, table.Row{ID: line.Place, Cells: []table.Cell{
				table.Name(name, sub), table.T(strings.Join(items, ", ")), table.State(wording.Plural(len(items), "kind", "kinds"), notice.Quiet),
			}})
			leads = append(leads, routes.Route{Screen: routes.Unpack, About: line.Place})
		}
	}
	return section.cut(leads)
}

// inBag are the items of good stock in a crate or bag.
func inBag(shop *store.Reader, place string) ([]string, error) {
	heaps, err := shop.Contents(place)
	if err != nil {
		return nil, err
	}
	var items []string
	for _, h := range heaps {
		if h.Condition == store.Good && !slices.Contains(items, h.Item) {
			items = append(items, h.Item)
		}
	}
	return items, nil
}

// cut keeps the first rows of a section, and says behind its title how many there are.
func (s Section) cut(leads []routes.Route) (Section, []routes.Route, error) {
	if n := len(s.Rows); n > maxRows {
		s.Note = wording.Joined("; ", fmt.Sprintf("the first %d of %d", maxRows, n), s.Note)
		s.Rows, leads = s.Rows[:maxRows], leads[:maxRows]
	}
	return s, leads, nil
}

// placed is a sentence about what was done in a place, with the place first: it is what one looks
// for, and must not be what is cut. Which places it may be about is given by their names.
func placed(text string, names []string) string {
	for _, name := range names {
		before, after, in := strings.Cut(text, " in "+name)
		if in && (after == "" || after[0] == ':' || after[0] == ',') {
			return name + " · " + before + after
		}
	}
	return text
}

// entryRows are the last entries: what, who and when.
func entryRows(w waiting) []table.Row {
	rows := make([]table.Row, 0, len(w.entries))
	for _, e := range w.entries {
		sub := e.At.Format("2 Jan 15:04") + ", " + e.Hand // a long name gives way
		text := placed(e.Text, w.named[e.Seq])
		switch {
		case e.Verb == store.VerbUndo:
			text = "undid: " + text
		case e.Verb == store.VerbRedo:
			text = "did again: " + text
		case w.undone[e.Seq]:
			sub += ", undone"
		}
		rows = append(rows, table.Row{ID: fmt.Sprint(e.Seq), Dim: w.undone[e.Seq], Cells: []table.Cell{{Text: text, Sub: sub}}})
	}
	return rows
}
