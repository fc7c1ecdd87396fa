package building

import (
	"slices"
	"strings"

	"stowright/app/session"
	"stowright/app/table"
)

// offer is a paper that was named in this shop before, to be named again.
type offer struct{ text, words string } // "PA-3", "letter 1234 of the kit maker"

// mostOffers is how many papers are offered at once.
const mostOffers = 5

// papersNamed are the papers of the shop, then those that decisions name in words, the newest
// of each first.
func papersNamed(r *session.Reader) (offers []offer, err error) {
	papers, err := r.Shop.Papers()
	if err != nil {
		return nil, err
	}
	decisions, err := r.Shop.Decisions()
	if err != nil {
		return nil, err
	}
	for _, p := range slices.Backward(papers) {
		offers = append(offers, offer{p.Name(), p.Words()})
	}
	for _, d := range slices.Backward(decisions) {
		if o := (offer{d.Paper, "named by " + d.Name()}); d.Paper != "" && !slices.ContainsFunc(offers, func(x offer) bool { return x.text == d.Paper }) {
			offers = append(offers, o)
		}
	}
	return offers, nil
}

// paperField is the part of a decision that names its paper: the third, see decision.
const paperField = 3

// offered are the papers that what is typed may go on with: those with all of its words, once
// the paper is what is typed next.
func offered(offers []offer, typed string) (fit []offer) {
	parts := strings.SplitN(typed, ",", paperField)
	if len(parts) < paperField {
		return nil
	}
	words := strings.Fields(strings.ToLower(parts[paperField-1]))
	for _, o := range offers {
		all := strings.ToLower(o.text + " " + o.words)
		if len(fit) < mostOffers && !slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(all, w) }) {
			fit = append(fit, o)
		}
	}
	return fit
}

// completed is what is typed with a paper in its place.
func completed(typed string, paper offer) string {
	parts := strings.SplitN(typed, ",", paperField)
	if len(parts) < paperField {
		return typed
	}
	parts[paperField-1] = " " + paper.text
	return strings.Join(parts, ",")
}

// offerColumns are those of the papers that are offered.
func offerColumns() []table.Column {
	return []table.Column{{Kind: table.Names, Width: 200}, {Kind: table.Words}}
}

// offerRows are papers as rows.
func offerRows(offers []offer) []table.Row {
	var rows []table.Row
	for _, o := range offers {
		rows = append(rows, table.Row{ID: o.text, Cells: []table.Cell{table.Name(o.text, ""), table.T(o.words)}})
	}
	return rows
}
