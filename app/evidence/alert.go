package evidence

import (
	"fmt"
	"slices"
	"strings"

	"stowright/app/wording"
	"stowright/store"
)

var alertColumns = []Column{{Title: "alert", Width: 14, Mono: true}, {Title: "issue", Width: 14}, {Title: "day", Width: 30}, {Title: "what it names"}, {Title: "paper", Width: 40}, {Title: "recorded by", Width: 24}}

// issueRows are all issues of an alert, and what was answered to it.
func (g *gatherer) issueRows(a store.Alert) [][]string {
	var rows [][]string
	for n, i := range a.Issues {
		var papers []string
		if i.Paper != "" {
			papers = []string{i.Paper}
		}
		rows = append(rows, []string{a.Name(), fmt.Sprint(n + 1), i.Day.String(), wording.Joined("; ", a.Title, i.Words(), i.Note), g.paperWords(papers), i.Hand})
	}
	for _, x := range a.Answers {
		rows = append(rows, []string{a.Name(), "answer", x.Day.String(), strings.Join(x.Lots, ", ") + " released by " + g.byDecision(x.Decision), "", x.Hand})
	}
	return rows
}

// alertFound is what an alert comes to by its newest issue.
func (g *gatherer) alertFound(a store.Alert) (store.AlertFound, error) {
	if f, known := g.found[a.Number]; known {
		return f, nil
	}
	f, err := g.shop.AlertFound(a.Number)
	g.found[a.Number] = f
	return f, err
}

// alertSection are the alerts on items that are called or were fitted, each with all of its
// issues, and how many of what it names may be in here.
func (g *gatherer) alertSection(p part) (Section, error) {
	s := Section{Heading: "Alerts and bulletins", Columns: alertColumns}
	for _, a := range g.alerts {
		if !slices.ContainsFunc(a.Issues, func(i store.Issue) bool { return p.has(i.Item) }) && p.Assembled == nil {
			continue
		}
		found, err := g.alertFound(a)
		if err != nil {
			return s, err
		}
		s.Rows = append(s.Rows, g.issueRows(a)...)
		for _, words := range g.inPart(found, p) {
			s.Texts = append(s.Texts, a.Name()+", as its newest issue stands: "+words)
		}
	}
	return s, nil
}

// inPart says what of a sub-assembly an alert names: four kinds that are never one.
func (g *gatherer) inPart(found store.AlertFound, p part) (words []string) {
	for _, kind := range []struct {
		list []store.Whereabouts
		says string
	}{{found.Named, "named"}, {found.CannotTell, "cannot tell, since nobody recorded what it goes by"}, {found.Near, "not named, and one digit away from what is"}} {
		for _, w := range kind.list {
			for _, at := range w.At {
				if at.SubAssembly != p.Code {
					continue
				}
				many := "may hold up to " + at.Bounds.High.Number() + " of it"
				if at.Bounds.Low == at.Bounds.High {
					many = "holds " + at.Bounds.High.Number() + " of it"
				}
				words = append(words, fmt.Sprintf("%s: %s. %s %s, among the %s fitted as %s.", w.Lot.Called(), kind.says, p.Code, many, at.All.Number(), g.lotWords(w.Lot.Item, at.In)))
			}
		}
	}
	if slices.Contains(found.Assembled, p.Code) {
		words = append(words, p.Code+" came assembled: what is inside is not known.")
	}
	if len(words) == 0 {
		words = []string{"no record here names what is fitted in " + p.Code + "."}
	}
	return words
}

// lotUnder says how an alert's newest issue stands to a lot.
func (g *gatherer) lotUnder(a store.Alert, l store.Lot) string {
	for _, x := range a.Answers {
		if slices.Contains(x.Lots, l.StockLot()) {
			return "released by " + x.Decision + " on " + x.Day.String() + "."
		}
	}
	match := a.Issues[len(a.Issues)-1].Names(l)
	switch {
	case l.Kind == store.MixLot:
		return "it was poured together; see the lots that went into it."
	case match == store.Named:
		return "named."
	case match == store.CannotTell:
		return "cannot tell: nobody recorded what it goes by."
	}
	return "its records do not name this lot."
}
