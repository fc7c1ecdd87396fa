package alerts

import (
	"fmt"
	"strings"

	"stowright/app/operation"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/stockdialog"
	"stowright/store"
	"stowright/store/phrase"
)

// act is one thing that is done on a page: its key, and what it asks for, or where it leads.
type act struct {
	id, label, key string
	form           func(t thing) form
	to             func(t thing) routes.Route
	lot            bool // it asks what is known of the lot in hand
}

// form is what an act asks for.
type form struct {
	title, note, yes string
	fields           []field
	do               func(typed []string) operation.Operation
}

type field struct{ label, ghost, text string }

// acts are what is done on a page, the most usual first.
func acts(part string, t thing) []act {
	add := act{id: "new", label: "New alert", key: "N", form: newForm}
	find := act{id: "find", label: "Find it", key: "F", to: func(t thing) routes.Route { return routes.Route{Screen: routes.Find, About: t.item()} }}
	describe := act{id: "describe", label: "Describe the lot", key: "E", lot: true}
	lots := act{id: "lots", label: "Its lots", key: "Enter", to: func(t thing) routes.Route { return LotsRoute(t.item(), t.lotName()) }}
	issue := act{id: "issue", label: "Later issue", key: "I", form: issueForm}
	release := act{id: "release", label: "Release lots", key: "R", form: releaseForm}
	switch {
	case part == AlertPart && t.at != nil && t.at.Place != "":
		place := act{id: "place", label: "Open the place", key: "O", to: func(t thing) routes.Route { return routes.Route{Screen: routes.Places, About: t.at.Place} }}
		return []act{lots, issue, release, place, find, add}
	case part == AlertPart && t.at != nil && t.at.Code != "":
		bench := act{id: "bench", label: "At the bench", key: "O", to: func(t thing) routes.Route {
			return routes.Route{Screen: routes.Build, Part: "bench", About: t.at.Code}
		}}
		return []act{lots, issue, release, bench, find, add}
	case part == AlertPart && t.alert != nil:
		return []act{issue, release, lots, find, add}
	case part == DatesPart && t.lot != nil:
		return []act{describe, lots, find, add}
	case part == LotsPart && t.lot != nil:
		return []act{describe, find, add}
	case part == AlertsPart && t.alert != nil:
		open := act{id: "open", label: "Open it", key: "Enter", to: func(t thing) routes.Route { return AlertRoute(t.alert.Alert.Name()) }}
		return []act{open, add, issue, release}
	}
	return []act{add}
}

// AlertRoute is the page of an alert.
func AlertRoute(name string) routes.Route {
	return routes.Route{Screen: routes.Alerts, Part: AlertPart, About: name}
}

// LotsRoute is the page of the lots of an item, at one of them; "" for the newest.
func LotsRoute(item, lot string) routes.Route {
	if lot != "" {
		item += "/" + lot
	}
	return routes.Route{Screen: routes.Alerts, Part: LotsPart, About: item}
}

func (t thing) item() string {
	switch {
	case t.lot != nil:
		return t.lot.Lot.Item
	case t.alert != nil:
		return t.alert.Alert.Newest().Item
	}
	return ""
}

func (t thing) lotName() string {
	switch {
	case t.lot != nil:
		return t.lot.Lot.Name()
	case t.at != nil:
		return t.at.Lot.Name()
	}
	return ""
}

const dayGhost = "2026-03-14"

// issueFields are those of an issue, filled in.
func issueFields(i store.Issue) []field {
	return []field{
		{"Part number", "MS21042-3", i.Item},
		{"Lots, as marked", "Q7714, Q7715, or nothing", strings.Join(i.Printed, ", ")},
		{"Sent from", dayGhost + ", or nothing", stockdialog.TypedDay(i.From)},
		{"Sent until", dayGhost + ", or nothing", stockdialog.TypedDay(i.Until)},
		{"Maker", "whoever made it", i.Maker},
		{"Day of the issue", "today without it", ""},
		{"Paper", "PA-3, or nothing", ""},
		{"Note", "", ""},
	}
}

// issueOf is the issue that was typed into those fields.
func issueOf(typed []string) operation.Alert {
	return operation.Alert{
		Item: typed[0], Lots: strings.Split(typed[1], ","), From: typed[2], Until: typed[3], Maker: typed[4], Day: typed[5], Paper: typed[6], Note: typed[7],
	}
}

const issueNote = "What is left open does not narrow it. What it will set apart is shown before anything is recorded."

// newForm asks for a new alert, on the lot in hand where there is one.
func newForm(t thing) form {
	i := store.Issue{}
	if t.lot != nil {
		i.Item = t.lot.Lot.Item
		if t.lot.Lot.Printed != "" {
			i.Printed = []string{t.lot.Lot.Printed}
		}
	}
	return form{
		title: "New alert", note: issueNote, yes: "See what it comes to",
		fields: append([]field{{"What it is called", "Nuts that crack", ""}}, issueFields(i)...),
		do: func(typed []string) operation.Operation {
			o := issueOf(typed[1:])
			o.Title = typed[0]
			return o
		},
	}
}

// issueForm asks for the next issue of an alert.
func issueForm(t thing) form {
	a := t.alert.Alert
	return form{
		title: fmt.Sprintf("%s %s, issue %d", a.Name(), a.Title, len(a.Issues)+1), yes: "See what it comes to",
		note:   "It takes the place of the issue before, which stays to be read: all that the alert names is said again. " + issueNote,
		fields: issueFields(a.Newest()),
		do: func(typed []string) operation.Operation {
			o := issueOf(typed)
			o.Alert = a.Name()
			return o
		},
	}
}

// releaseForm asks for the decision that releases lots.
func releaseForm(t thing) form {
	a := t.alert.Alert
	lots := t.lotName()
	if lots == "" && t.at != nil {
		lots = t.at.Lot.Printed
	}
	return form{
		title: "Release lots from " + a.Name() + " " + a.Title, yes: "Release them",
		note: "A decision answers the alert. What another alert names as well stays set apart by that.",
		fields: []field{
			{"Which lots", "L-17, or as marked", lots},
			{"Who decided", "a name", ""},
			{"By which paper", "letter 12, or PA-3", ""},
			{"On", "today without it", ""},
			{"Note", "", ""},
		},
		do: func(typed []string) operation.Operation {
			o := operation.ReleaseLots{Who: typed[1], Paper: typed[2], Day: typed[3], Note: typed[4]}
			o.Alert, o.Item = a.Name(), a.Newest().Item
			for _, lot := range strings.Split(typed[0], ",") {
				if strings.TrimSpace(lot) != "" {
					o.Lots = append(o.Lots, lot)
				}
			}
			return o
		},
	}
}

// preview says what an alert would come to, list by list, before it is recorded.
func preview(now, then session.Alerted) (lines []string) {
	heaps := then.Heaps()
	if len(heaps) == 0 {
		lines = append(lines, "Set apart: nothing.")
	} else {
		lines = append(lines, "Set apart: "+phrase.List(heaps)+".")
	}
	if let := now.Lets(then); len(let) > 0 {
		lines = append(lines, "Let go by this alert: "+phrase.List(let)+". What another alert names stays set apart.")
	}
	if then.Alert.Number == 0 && len(then.At) == len(then.Built()) {
		lines = append(lines, "No record here names "+then.Alert.Newest().Item+": see that the part number is right.")
	}
	for _, list := range session.AlertLists() {
		var of []string
		for _, at := range then.At {
			if at.List != list {
				continue
			}
			words := at.Where
			if at.How != "" {
				words = at.How + " in " + at.Where
			}
			if at.Kind == session.Went {
				words = at.How + " " + at.Where
			}
			of = append(of, words)
		}
		said := "none"
		if len(of) > 0 {
			said = phrase.List(of)
		}
		lines = append(lines, list.String()+": "+said+".")
	}
	return lines
}
