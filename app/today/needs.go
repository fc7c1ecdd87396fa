package today

import (
	"fmt"
	"slices"
	"strings"

	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/store"
	"stowright/store/build"
)

// needs are what blocks each sub-assembly, by item, and the ones that are ready.
func needs(s *session.Reader, _ []list) (section Section, leads []routes.Route, err error) {
	err = s.Board(func(b *build.Board) error {
		section, leads = needed(s, b)
		return nil
	})
	if err != nil {
		return section, nil, err
	}
	return section.cut(leads)
}

func needed(s *session.Reader, board *build.Board) (Section, []routes.Route) {
	section := Section{ID: Needs, Title: "What blocks the build", Clear: "No sub-assembly has its needs entered yet."}
	var leads []routes.Route
	var ready []string
	var found []blocker
	statuses := board.Statuses()
	for _, status := range statuses {
		for _, b := range status.Blockers {
			found = append(found, row(s, status, b))
		}
		if status.State.Startable() {
			ready = append(ready, status.Code+" "+status.Name)
		}
	}
	slices.SortStableFunc(found, func(a, b blocker) int { return int(a.ease - b.ease) })
	for _, b := range found {
		section.Rows = append(section.Rows, b.row)
		leads = append(leads, routes.Route{Screen: routes.Build, About: b.code})
	}
	if len(ready) > 0 {
		section.Note = "ready: " + strings.Join(ready, ", ")
	}
	if len(statuses) > 0 {
		section.Clear = "Nothing: every sub-assembly has what it needs."
	}
	return section, leads
}

// blocker is an item that a sub-assembly lacks.
type blocker struct {
	code string // of the sub-assembly
	row  table.Row
	ease ease
}

// ease is how little it takes to have an item after all: what only the supplier can
// fix comes first.
type ease int

const (
	supplier  ease = iota // back-ordered, short, damaged, on no list
	delivery              // its crate has not come
	sharing               // it is here, for another sub-assembly
	checking              // it may be in a crate that is here
	reckoning             // it is here, and only not counted in the unit that is needed
)

// row is a blocker as a row of the screen.
func row(s *session.Reader, status build.Status, b *build.Blocker) blocker {
	item, title := b.Item, session.Title(store.Item{}, s.Catalog().Decode(b.Item))
	if record, err := s.Shop.Item(item); err == nil {
		title = session.Title(record, s.Catalog().Decode(item))
	}
	words, ease := why(b)
	mark := notice.Mark{Word: "not ready", Tone: notice.Stop}
	if b.CannotTell {
		mark = notice.Mark{Word: "cannot tell", Tone: notice.Warn}
		if words.Sub == aboutWords {
			mark.Word = "perhaps"
		}
	}
	cells := []table.Cell{table.Name(item, title), {Text: status.Name, Sub: status.Code}, words, {Mark: mark}}
	return blocker{status.Code, table.Row{ID: status.Code + b.Requirement, Cells: cells}, ease}
}

const aboutWords = "about: count them to be sure"

// why is what a blocker says in the two lines of its cell, and how little fixes it.
func why(b *build.Blocker) (table.Cell, ease) {
	first := b.Reasons[0]
	for _, r := range b.Reasons {
		if r.By != "" {
			first = r
			break
		}
	}
	words := table.Cell{Text: fmt.Sprintf("need %s, have %s", b.Need.Number(), b.Here.Figure()), Sub: first.Sentence}
	if i := slices.IndexFunc(b.Reasons, func(r build.Reason) bool { return r.Kind == build.Reserved }); i >= 0 && first.By == "" {
		words = table.Cell{Text: fmt.Sprintf("need %s, free %s", b.Need.Number(), b.Free.Figure()), Sub: b.Here.Figure() + " here, " + b.Reasons[i].Sentence}
	}
	switch {
	case b.CannotTell && b.Reasons[0].Quantity.Unit != b.Need.Unit: // listed by weight, needed by piece: nothing is converted unasked
		words = table.Cell{Text: fmt.Sprintf("need %s, have %s", b.Need, b.Reasons[0].Quantity), Sub: "weigh a sample to count them"}
		return words, reckoning
	case b.CannotTell:
		words.Sub = aboutWords
		return words, reckoning
	case first.By == build.BackOrdered:
		words.Sub = string(first.By)
	case first.By == build.NotCome:
		return words, delivery
	case first.By == build.NotChecked, first.By == build.Unopened:
		return words, checking
	case first.Kind == build.Reserved:
		return words, sharing
	}
	return words, supplier
}
