package handbook

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"stowright/app/card"
	"stowright/app/drawing"
	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/session"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/hardware"
	"stowright/store/measure"
	"stowright/store/phrase"
)

// LookUpState is what the first part shows of one designation.
type LookUpState struct {
	Query       string
	Designation string // canonical; "" when nothing is known
	Title       string
	Family      string
	Facts       []card.Fact
	Notices     []notice.Notice // successor, warnings, what is wrong
	Pictures    []drawing.Piece // every view, at true measures
	Drawn       string          // what is to be said of the drawing
	Alike       []Alike
	Nearest     []string // real designations near one that does not exist
	Successor   string   // designation, for a button
	Card        card.Card
	Error       string
}

// LookUpModel says what a designation means. Its methods are called on the
// window's goroutine.
type LookUpModel struct {
	session *session.Session
	show    func(LookUpState)
	state   LookUpState
	card    loop.Latest
}

// NewLookUpModel makes the model; show is called with every new state.
func NewLookUpModel(s *session.Session, show func(LookUpState)) *LookUpModel {
	return &LookUpModel{session: s, show: show}
}

// State is what is shown now.
func (m *LookUpModel) State() LookUpState { return m.state }

// Ask looks up what was typed.
func (m *LookUpModel) Ask(query string) {
	query = strings.TrimSpace(query)
	m.card.Drop()
	m.state = LookUpState{Query: query}
	if query == "" {
		m.show(m.state)
		return
	}
	r := m.session.Catalog().Decode(query)
	m.state.describe(r, m.session.Lengths())
	if !r.Known {
		m.show(m.state)
		return
	}
	// The page is shown with its card in one go: it must not flicker at every key.
	type known struct {
		card   card.Card
		weight card.Fact
	}
	loop.DoLatest(m.session.Loop, &m.card, func(context.Context) (known, error) {
		c, err := m.session.PieceCard(r.Designation)
		weight, weightErr := m.weight(r.Designation)
		return known{c, weight}, errors.Join(err, weightErr)
	}, func(k known, err error) {
		m.state.Card = k.card
		m.state.Facts = append(m.state.Facts, k.weight)
		if err != nil {
			m.state.Error = wording.Error(err)
		}
		m.show(m.state)
	})
}

// weight is what a piece weighs: no table here says so, but a sample may have been
// weighed.
func (m *LookUpModel) weight(designation string) (card.Fact, error) {
	item, err := m.session.Shop.Item(designation)
	if store.KindOf(err) == store.NotFound {
		err = nil
	}
	if err != nil || item.Sample == nil {
		return card.Fact{Name: "weight", Text: "unknown", Mark: "no published figure: weigh a sample", Tone: notice.Warn}, err
	}
	s := item.Sample
	return card.Fact{Name: "weight", Text: s.Piece(), Source: fmt.Sprintf("%d of them weighed %s in this shop, in steps of %s", s.Pieces, s.Net, s.Step)}, nil
}

// SaveTrueSize saves the page with the piece at its real size, and tells what to say
// of it. A name without that ending gets it; a file that is there already is written over
// only where replace says so.
func (m *LookUpModel) SaveTrueSize(path string, replace bool, done func(said string, err error)) {
	if path == "" {
		done("", &store.Error{Kind: store.Invalid, Message: "Say where it is saved: a path such as /home/me/bolt.pdf."})
		return
	}
	if !strings.EqualFold(filepath.Ext(path), ".pdf") {
		path += ".pdf"
	}
	piece := m.session.Catalog().Decode(m.state.Designation)
	session.Do(m.session, func() (string, error) {
		doc, err := session.TrueSize(piece, m.session.OfficePaper())
		if err != nil {
			return "", err
		}
		return path, m.session.SavePDF(path, doc, replace)
	}, done)
}

// Again looks the same thing up, because the shop has changed.
func (m *LookUpModel) Again() { m.Ask(m.state.Query) }

func (s *LookUpState) describe(r hardware.Result, in measure.System) {
	if !r.Known {
		s.refuse(r)
		return
	}
	s.Designation, s.Title, s.Family = r.Designation, titled(r.Title, r.Mark()), r.Family
	s.Facts, s.Alike = factsOf(r.Fields, in), alikesOf(r.LookAlikes)
	if next := r.SupersededBy; next != nil {
		s.Successor = next.Designation
		s.Notices = append(s.Notices, successorNotice(next))
	}
	for _, w := range r.Warnings {
		s.Notices = append(s.Notices, notice.Notice{Tone: notice.Warn, Lead: "Careful:", Text: w})
	}
	if outline, ok := r.Outline(); ok {
		for _, v := range outline.Views {
			s.Pictures = append(s.Pictures, drawing.PieceOfView(v, in))
		}
		s.Drawn = strings.Join(append([]string{"drawn to scale"}, outline.Notes...), "; ")
	}
}

// successorNotice names the newer number, one way, with its source.
func successorNotice(next *hardware.Successor) notice.Notice {
	text := "by " + next.Designation + ", one way: the old number may still be on the plans."
	if next.Note != "" {
		text += " " + wording.Sentence(next.Note)
	}
	return notice.Notice{Tone: notice.Quiet, Lead: "Superseded", Text: text + " Source: " + sourceWords(next.Source, next.Checked)}
}

// refuse says why nothing is known, and what is near.
func (s *LookUpState) refuse(r hardware.Result) {
	s.Nearest = r.Nearest
	if r.Problem != "" {
		s.Notices = []notice.Notice{{Tone: notice.Stop, Text: wording.Sentence(r.Problem)}}
		return
	}
	s.Notices = []notice.Notice{{Tone: notice.Warn, Text: fmt.Sprintf("“%s” is not a designation of the tables. A kit part number means what its packing list says: look for it on Find.", phrase.Clip(s.Query, longestQuoted))}}
}

// longestQuoted is how many characters of a text that was typed are quoted.
const longestQuoted = 40
