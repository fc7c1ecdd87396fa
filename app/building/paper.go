package building

import (
	"fmt"
	"strings"

	"stowright/app/drawing"
	"stowright/app/session"
	"stowright/app/wording"
	"stowright/labels"
)

// PullPaper is the list of a walk to take along: tick boxes, big type, each cabinet with
// its drawer, and a code that opens the list again.
func PullPaper(s *session.Session, codes []string) (labels.Document, error) {
	d, err := session.Answer(s, func(r *session.Reader) (walkData, error) { return readWalk(r, codes) })
	if err != nil {
		return labels.Document{}, err
	}
	return s.Lay(d.paper(wording.FullDay(s.Shop.Today())))
}

// The text that opens a list when it is scanned or typed: "PULL SA-10+SA-21".
const (
	opensPull = "PULL "
	nextPull  = "+"
)

// opener is the text that opens the list of some sub-assemblies, "" where a code cannot
// hold it.
func opener(codes []string) string {
	text := opensPull + strings.ToUpper(strings.Join(codes, nextPull))
	if !labels.Opens(text) {
		return ""
	}
	return text
}

// BeginsCode reports whether a text in upper case begins one that Opened understands.
func BeginsCode(text string) bool {
	return strings.HasPrefix(opensPull, text) || strings.HasPrefix(text, opensPull)
}

// Opened are the codes of the sub-assemblies whose list a text opens that was scanned off
// paper or typed; ok is false for any other text.
func Opened(text string) (codes []string, ok bool) {
	rest, ok := strings.CutPrefix(strings.ToUpper(strings.TrimSpace(text)), opensPull)
	if !ok {
		return nil, false
	}
	for _, code := range strings.FieldsFunc(rest, func(r rune) bool { return r == '+' || r == ',' }) {
		if code = strings.TrimSpace(code); code != "" {
			codes = append(codes, code)
		}
	}
	return codes, len(codes) > 0
}

// paper is the list on paper.
func (d walkData) paper(day string) labels.Paper {
	several := len(d.list.For) > 1
	p := labels.Paper{
		Title: "Pull: " + listed(d.list.For), Opens: opener(d.list.For), Large: true,
		Under: []string{
			day + ", " + wording.Plural(len(d.stops), "stop", "stops") + " in walking order" + forWords(d.names),
			"Tick what is in the tray; else write how many are. The code, or what stands under it typed, opens the list again: K there takes what was ticked.",
			labels.Caution,
		},
	}
	table := labels.Block{Columns: []labels.PaperColumn{
		{Title: "taken", Width: 14, Tick: true}, {Title: "place", Width: 22, Mono: true}, {Title: "drawer", Width: 22, Grid: true}, {Title: "how many", Width: 20, Mono: true}, {Title: "take"}, {Title: "else", Width: 20, Line: true},
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
		table.Grids = append(table.Grids, gridOf(s.card.Cabinet))
		table.Rows = append(table.Rows, []string{fmt.Sprint(i + 1), s.Place.Name, "", s.Quantity.Number() + wording.ShortUnit(s.Quantity.Unit) + about, take, ""})
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

// gridOf is a cabinet on paper, nothing for a place in none.
func gridOf(c *drawing.Cabinet) labels.PaperGrid {
	if c == nil {
		return labels.PaperGrid{}
	}
	return labels.PaperGrid{Rows: c.Rows, Cols: c.Cols, Lit: c.Lit()}
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
