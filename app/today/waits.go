package today

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"stowright/app/card"
	"stowright/app/session"
	"stowright/store"
)

// The parts of the Unpack screen that rows lead to.
const (
	arrivalPart = "arrival"
	claimPart   = "claim"
)

// maxRows is how many rows a section shows: the first ones are what matters today.
const maxRows = 6

// deliveries are the crates that came and are not checked off or whose claim clocks
// run, and those that have not come.
func deliveries(s *session.Session, lists []list) (Section, []card.Route, error) {
	section := Section{ID: Deliveries, Title: "Deliveries", Clear: "Every crate is checked off, and no claim clock runs."}
	var routes []card.Route
	today := s.Shop.Today()
	for _, l := range lists {
		for _, d := range l.ship.Deliveries {
			row, route, waits := l.came(d, today)
			if waits {
				section.Rows, routes = append(section.Rows, row), append(routes, route)
			}
		}
		for _, c := range l.ship.Crates {
			if _, came := l.ship.Delivery(c.Name); came {
				continue
			}
			n := len(slices.DeleteFunc(slices.Clone(l.lines), func(line store.Line) bool { return line.Crate != c.Name }))
			section.Rows = append(section.Rows, card.Row{ID: "crate " + l.ship.ID + c.Name, Cells: []card.Cell{
				card.Name(c.Name, l.order()), card.T(card.Plural(n, "line", "lines")), card.State("not come yet", card.Quiet), {},
			}})
			routes = append(routes, card.Route{Screen: card.Unpack, About: l.ship.ID, Part: arrivalPart})
		}
	}
	return section.cut(routes)
}

// order names the shipment.
func (l list) order() string {
	if l.ship.Order != "" {
		return "order " + l.ship.Order
	}
	return l.ship.File
}

// came is a delivery as a row, and whether anything of it waits.
func (l list) came(d store.Delivery, today store.Date) (row card.Row, route card.Route, waits bool) {
	due, open, claims := 0, 0, 0
	for _, line := range l.lines {
		if !slices.Contains(d.Crates, line.Crate) {
			continue
		}
		switch l.state(line) {
		case store.BackOrder, store.NotArrived:
		case store.ToCheck:
			due++
			open++
		case store.AllHere:
			due++
		default:
			due++
			if l.ship.Claims == nil || len(l.ship.Unsent([]store.Line{line})) > 0 {
				claims++
			}
		}
	}
	words := card.Cell{Text: fmt.Sprintf("%d of %d to check", open, due)}
	route = card.Route{Screen: card.Unpack, About: l.ship.ID}
	if open == 0 {
		words = card.Cell{Text: "all checked", Sub: card.Plural(claims, "line", "lines") + " to claim"}
		route.Part = claimPart
	}
	row = card.Row{ID: "delivery " + l.ship.ID + d.Crates[0], Cells: []card.Cell{
		card.Name(strings.Join(d.Crates, ", "), l.order()+", came "+shortDay(d.Arrived)), words, {}, {},
	}}
	running := false
	one := store.Shipment{Deliveries: []store.Delivery{d}}
	for _, c := range one.Clocks(today) {
		at, name := 2, "damage"
		if c.For == store.ForShortage {
			at, name = 3, "shortages"
		}
		if l.ship.Settled(d, c.For, l.lines) {
			row.Cells[at] = card.State(name+": sent", card.OK)
			continue
		}
		row.Cells[at] = clock(name, c.DaysLeft)
		running = running || c.DaysLeft >= 0
	}
	return row, route, open > 0 || (claims > 0 && running)
}

// soon is how many days before its end a claim clock begins to warn.
const soon = 7

// clock is a claim clock as a mark.
func clock(name string, days int) card.Cell {
	switch {
	case days < 0:
		return card.State(name+": past", card.Quiet)
	case days == 0:
		return card.State(name+": last day", card.Stop)
	case days <= soon:
		return card.State(fmt.Sprintf("%s: %s", name, card.Plural(days, "day", "days")), card.Warn)
	}
	return card.State(fmt.Sprintf("%s: %d days", name, days), card.Quiet)
}

// toStow are the crates and bags with checked stock that has no place yet.
func toStow(s *session.Session, lists []list) (Section, []card.Route, error) {
	section := Section{ID: ToStow, Title: "To put away", Clear: "Everything that was checked has its place."}
	var routes []card.Route
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
			name, sub := line.Group, "crate "+line.Crate
			if name == "" {
				name, sub = line.Crate, "crate"
			}
			section.Rows = append(section.Rows, card.Row{ID: line.Place, Cells: []card.Cell{
				card.Name(name, sub), card.T(strings.Join(items, ", ")), card.State(card.Plural(len(items), "kind", "kinds"), card.Quiet),
			}})
			routes = append(routes, card.Route{Screen: card.Unpack, About: line.Place})
		}
	}
	return section.cut(routes)
}

// inBag are the items of good stock in a crate or bag.
func inBag(shop *store.Shop, place string) ([]string, error) {
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

// cut keeps the first rows of a section, and says in its title how many there are.
func (s Section) cut(routes []card.Route) (Section, []card.Route, error) {
	if n := len(s.Rows); n > maxRows {
		s.Title += fmt.Sprintf(" · the first %d of %d", maxRows, n)
		s.Rows, routes = s.Rows[:maxRows], routes[:maxRows]
	}
	return s, routes, nil
}

// entryRows are the last entries: what, who and when.
func entryRows(w waiting) []card.Row {
	rows := make([]card.Row, 0, len(w.entries))
	for _, e := range w.entries {
		sub := e.Hand + ", " + e.At.Format("2 Jan 15:04")
		text := e.Text
		switch {
		case e.Verb == store.VerbUndo:
			text = "undid: " + text
		case e.Verb == store.VerbRedo:
			text = "did again: " + text
		case w.undone[e.Seq]:
			sub += ", undone"
		}
		rows = append(rows, card.Row{ID: fmt.Sprint(e.Seq), Dim: w.undone[e.Seq], Cells: []card.Cell{{Text: text, Sub: sub}}})
	}
	return rows
}

// dayWords is "Wednesday 18 March 2026".
func dayWords(d store.Date) string {
	return time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC).Weekday().String() + " " + d.String()
}

func shortDay(d store.Date) string { return fmt.Sprintf("%d %s", d.Day, d.Month) }
