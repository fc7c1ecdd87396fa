package unpack

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"stowright/app/card"
	"stowright/app/photos"
	"stowright/app/session"
	"stowright/store"
	"stowright/store/measure"
)

// Claim is what is reported to the supplier of a shipment, as sections of lines.
type Claim struct {
	Order, Supplier string
	Came            []string      // one sentence a delivery, with its dates
	Crates          []store.Photo // of the crates, as they came
	Sections        []Section
}

// Section is the lines of one kind of claim.
type Section struct {
	Title string
	Lines []ClaimLine
}

// ClaimLine is one line of a claim.
type ClaimLine struct {
	Number      int
	Designation string
	Title       string
	Words       string // "listed 3, found 2: 1 short"
	Photos      []store.Photo
}

// PhotoWords is "2 photographs: P-3, P-4"; empty where there is none.
func (l ClaimLine) PhotoWords() string { return photoWords(l.Photos) }

func photoWords(list []store.Photo) string {
	if len(list) == 0 {
		return ""
	}
	var names []string
	for _, p := range list {
		names = append(names, p.Name())
	}
	return card.Plural(len(names), "photograph", "photographs") + ": " + strings.Join(names, ", ")
}

// Photos are the photographs that the claim names, each once.
func (c Claim) Photos() []store.Photo {
	list := slices.Clone(c.Crates)
	for _, s := range c.Sections {
		for _, l := range s.Lines {
			for _, p := range l.Photos {
				if !slices.Contains(list, p) { // a line can stand in two sections
					list = append(list, p)
				}
			}
		}
	}
	return list
}

// claim draws the claim of a delivery up. Each line stands for itself: left and
// right, and revisions, are never set off against each other. What was found again
// and what the list says is back-ordered is not claimed.
func (d delivery) claim() Claim {
	c := Claim{Order: d.ship.Order, Supplier: d.ship.Supplier}
	for _, came := range d.ship.Deliveries {
		words := "Crates " + strings.Join(came.Crates, ", ") + " came " + came.Arrived.String()
		if len(came.Crates) == 1 {
			words = "Crate" + strings.TrimPrefix(words, "Crates")
		}
		for _, date := range dates(came) {
			words += "; " + date
		}
		var taken []store.Photo
		for _, crate := range came.Crates {
			taken = append(taken, d.crates[crate]...)
		}
		if len(taken) > 0 {
			words += "; " + photoWords(taken)
			c.Crates = append(c.Crates, taken...)
		}
		c.Came = append(c.Came, words+".")
	}
	short, damaged, wrong, surplus := Section{Title: "Short"}, Section{Title: "Damaged"}, Section{Title: "Wrong item or revision"}, Section{Title: "Surplus"}
	for _, l := range d.lines {
		f := l.Finding
		if f == nil || partial(l) {
			continue
		}
		line := func(words string) ClaimLine {
			return ClaimLine{l.Number, l.Designation, l.Title, words, d.photos[l.Number]}
		}
		counts := fmt.Sprintf("listed %s, found %s: ", amount(l.Listed), amount(f.Found))
		switch diff := l.Difference(); {
		case l.Extra:
			surplus.Lines = append(surplus.Lines, line(amount(f.Found)+" came that the list does not have"))
		case missing(l).Sign() > 0:
			short.Lines = append(short.Lines, line(counts+amount(missing(l))+" short"))
		case diff.Sign() > 0:
			surplus.Lines = append(surplus.Lines, line(counts+amount(diff)+" over"))
		}
		if f.Damaged.Sign() > 0 {
			damaged.Lines = append(damaged.Lines, line(joined(amount(f.Damaged)+" damaged", f.Note)))
		}
		if f.Came != nil {
			wrong.Lines = append(wrong.Lines, line(cameWords(l)))
		}
	}
	for _, s := range []Section{short, damaged, wrong, surplus} {
		if len(s.Lines) > 0 {
			c.Sections = append(c.Sections, s)
		}
	}
	return c
}

// missing is what is short of a line; the same part of another revision is wrong, and
// not short as well.
func missing(l store.Line) measure.Quantity {
	short := l.Difference().Neg()
	if c := l.Finding.Came; c != nil && c.Revision {
		short.Micro -= c.Quantity.Micro
	}
	return short
}

// amount is a quantity as a letter says it: pieces are plain figures.
func amount(q measure.Quantity) string {
	if q.Unit == measure.Each {
		return q.Number()
	}
	return q.String()
}

// cameWords is "1 OQ-20-040-A came: wrong revision".
func cameWords(l store.Line) string {
	what := "wrong item"
	if l.Finding.Came.Revision {
		what = "wrong revision"
	}
	return joined(fmt.Sprintf("%s %s came: %s", amount(l.Finding.Came.Quantity), l.Finding.Came.Designation, what), l.Finding.Note)
}

func joined(words, note string) string {
	if note == "" {
		return words
	}
	return words + ", " + note
}

// Text is the claim as plain text to copy or to send.
func (c Claim) Text() string {
	var b strings.Builder
	b.WriteString("Claim")
	if c.Order != "" {
		b.WriteString(" for order " + c.Order)
	}
	b.WriteString("\n")
	if c.Supplier != "" {
		b.WriteString("To: " + c.Supplier + "\n")
	}
	for _, s := range c.Came {
		b.WriteString(s + "\n")
	}
	if len(c.Sections) == 0 {
		b.WriteString("\nNothing to claim.\n")
	}
	for _, s := range c.Sections {
		b.WriteString("\n" + s.Title + "\n")
		for _, l := range s.Lines {
			fmt.Fprintf(&b, "  line %d  %s  %s\n      %s\n", l.Number, l.Designation, l.Title, l.Words)
			if words := l.PhotoWords(); words != "" {
				b.WriteString("      " + words + "\n")
			}
		}
	}
	return b.String()
}

// ClaimState is what the claim page shows.
type ClaimState struct {
	Loading bool
	Title   string
	Note    string // how many lines are still to check: a claim sent now would lack them
	Claim   Claim
	Text    string
	Path    string // where Save would write it
	Said    string // what was done last
	Error   string
}

// ClaimModel shows the claim of a shipment and saves it.
type ClaimModel struct {
	session *session.Session
	about   string
	folder  string // where Save proposes to write
	show    func(ClaimState)
	state   ClaimState
	busy    bool
}

// NewClaimModel makes the model of a shipment's claim. Folder is where it is
// proposed to be saved.
func NewClaimModel(s *session.Session, shipment, folder string, show func(ClaimState)) *ClaimModel {
	return &ClaimModel{session: s, about: shipment, folder: folder, show: show, state: ClaimState{Loading: true}}
}

// State is what is shown now.
func (m *ClaimModel) State() ClaimState { return m.state }

// Load draws the claim up.
func (m *ClaimModel) Load() {
	session.Do(m.session, func() (delivery, error) { return load(m.session, m.about) }, func(d delivery, err error) {
		m.state.Loading = false
		if err != nil {
			m.state.Error = sentence(err)
		} else {
			m.take(d)
		}
		m.show(m.state)
	})
}

func (m *ClaimModel) take(d delivery) {
	m.state.Claim = d.claim()
	m.state.Text = m.state.Claim.Text()
	m.state.Title = "Claim for this delivery"
	m.state.Note = d.claimNote()
	if m.state.Path == "" {
		m.state.Path = claimPath(m.folder, d.ship.Order)
	}
}

// claimNote says what a claim that is sent now would lack: lines that are still to
// check, and photographs of what is damaged or wrong.
func (d delivery) claimNote() string {
	open := 0
	var unseen []string
	for _, l := range d.lines {
		if d.open(l) {
			open++
		}
		if d.toPhotograph(l) {
			unseen = append(unseen, fmt.Sprintf("line %d", l.Number))
		}
	}
	var words []string
	if open > 0 {
		words = append(words, card.Plural(open, "line is", "lines are")+" still to check: what they lack is not claimed here yet.")
	}
	if len(unseen) > 0 {
		words = append(words, "No photograph yet shows what came damaged or wrong of "+strings.Join(unseen, ", ")+".")
	}
	return strings.Join(words, " ")
}

// Copied notes that the text was copied.
func (m *ClaimModel) Copied() {
	m.state.Said, m.state.Error = "Copied: paste it into a letter to the supplier.", ""
	m.show(m.state)
}

// Save writes the text to a file, whole or not at all, and the photographs that it
// names into a folder beside it.
func (m *ClaimModel) Save(path string) {
	path = strings.TrimSpace(path)
	if m.busy || m.state.Loading {
		return
	}
	m.busy = true
	text, list := m.state.Text, m.state.Claim.Photos()
	session.Do(m.session, func() (string, error) {
		if err := writeText(path, text); err != nil || len(list) == 0 {
			return "Saved to " + path + ".", err
		}
		folder := strings.TrimSuffix(path, filepath.Ext(path)) + "-photographs"
		files, err := photos.Save(m.session.Shop, list, folder)
		return fmt.Sprintf("Saved to %s, with %s in %s.", path, card.Plural(len(files), "photograph", "photographs"), folder), err
	}, func(said string, err error) {
		m.busy = false
		m.state.Said, m.state.Error = said, ""
		if err != nil {
			m.state.Said, m.state.Error = "", sentence(err)
		}
		m.show(m.state)
	})
}
