package building

import (
	"fmt"
	"strings"

	"stowright/app/session"
	"stowright/app/wording"
	"stowright/labels"
	"stowright/store"
)

// PullPaper is the list of a walk to take along: tick boxes, big type, and the tag of the
// first sub-assembly, by which it opens again.
func PullPaper(s *session.Session, codes []string) (labels.Document, error) {
	d, err := session.Answer(s, func(r *session.Reader) (walkData, error) { return readWalk(r, codes) })
	if err != nil {
		return labels.Document{}, err
	}
	tag, err := trayTag(s.Shop, d.list.For)
	if err != nil {
		return labels.Document{}, err
	}
	return d.paper(string(tag), wording.FullDay(s.Shop.Today())).Layout(labels.Stocks()[0])
}

// trayTag is the tag of the tray of the first of some sub-assemblies.
func trayTag(shop *store.Shop, codes []string) (store.Tag, error) {
	subs, err := shop.SubAssemblies()
	if err != nil {
		return "", err
	}
	for _, sub := range subs {
		if len(codes) > 0 && sub.Code == codes[0] {
			p, err := shop.Place(sub.Place)
			return p.Tag, err
		}
	}
	return "", nil
}

// paper is the list on paper.
func (d walkData) paper(tag, day string) labels.Paper {
	several := len(d.list.For) > 1
	p := labels.Paper{
		Title: "Pull: " + listed(d.list.For), Tag: tag, Large: true,
		Under: []string{
			day + ", " + wording.Plural(len(d.stops), "stop", "stops") + " in walking order" + forWords(d.names),
			fmt.Sprintf("Tick what is in the tray; else write how many are. Then: stowright pull %s --tick PLACE,PLACE=HOW-MANY", strings.Join(d.list.For, " ")),
			labels.Caution,
		},
	}
	table := labels.Block{Columns: []labels.PaperColumn{
		{Title: "taken", Width: 18, Tick: true}, {Title: "place", Width: 24, Mono: true}, {Title: "how many", Width: 24, Mono: true}, {Title: "take"}, {Title: "else", Width: 20, Line: true},
	}}
	for i, s := range d.stops {
		take := s.Item + "\n" + s.title
		for _, part := range s.paperWords(several) {
			take += "; " + part
		}
		about := ""
		if s.Estimate {
			about = " of about " + s.there.Number()
		}
		table.Rows = append(table.Rows, []string{fmt.Sprint(i + 1), s.Place.Name, s.Quantity.Number() + wording.ShortUnit(s.Quantity.Unit) + about, take, ""})
	}
	p.Blocks = append(p.Blocks, table)
	var rest []string
	for _, x := range d.list.Short {
		rest = append(rest, x.Code+": "+x.Sentence)
	}
	for _, q := range d.list.Ask {
		rest = append(rest, q.Sentence)
	}
	if len(rest) > 0 {
		p.Blocks = append(p.Blocks, labels.Block{Heading: "Not on this walk", Texts: rest})
	}
	return p
}

func forWords(names []string) string { return ", for " + listed(names) }

// paperWords are what stands beside a part number on paper.
func (s stopRead) paperWords(several bool) []string {
	var words []string
	if s.Called != "" {
		words = append(words, "called "+s.Called)
	}
	if s.LotName != "" {
		words = append(words, s.LotName)
	}
	if !s.Expires.IsZero() {
		words = append(words, "expires "+s.Expires.String())
	}
	if several {
		var trays []string
		for _, f := range s.For {
			trays = append(trays, trayWords(f.Quantity.Number(), f.Code, true))
		}
		words = append(words, strings.Join(trays, ", "))
	}
	for _, b := range s.Beware {
		words = append(words, "BEWARE: "+b)
	}
	return words
}
