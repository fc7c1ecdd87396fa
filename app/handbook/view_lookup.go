package handbook

import (
	"strings"

	"fyne.io/fyne/v2"

	"stowright/app/card"
	"stowright/app/look"
	"stowright/app/session"
)

// lookUpView says what a designation means.
type lookUpView struct {
	host  Host
	model *LookUpModel

	field   *look.Entry
	title   *look.Paragraph
	family  *look.Paragraph
	notices *fyne.Container
	nearest *fyne.Container
	facts   *look.Facts
	alike   *alikes
	drawing *fyne.Container
	size    *look.KeyButton
	again   *look.KeyButton
	atTrue  bool            // pieces are drawn at true size
	known   *fyne.Container // what there is of a known piece
	empty   *look.EmptyState
	scroll  *look.Scroller
	root    *fyne.Container
	quietly bool // the field is being changed by the view
}

func newLookUpView(s *session.Session, host Host, about string) *lookUpView {
	v := &lookUpView{
		host: host, field: look.NewEntry("AN3-5A, an470 ad4-7, MS24665-132 ..."), title: look.NewTitle(""), family: look.NewQuiet(""),
		notices: look.Rows(8), nearest: look.Line(), facts: look.NewFacts(), alike: newAlikes(host), drawing: look.Rows(8),
	}
	v.size = look.NewKeyButton("", "T", v.trueSize)
	v.again = look.NewLink("Measure the screen again", "", func() { askScale(host, v.redraw) })
	v.model = NewLookUpModel(s, v.render)
	v.field.OnChanged = v.typed
	v.empty = look.NewEmptyState("What does a number mean?",
		"Type a designation as it stands on a bag, a plan or a packing list. A piece without a number can be measured.",
		look.NewPrimary("Measure a stray", "F6", func() { host.Go(card.Route{Screen: card.Handbook, Part: MeasurePart}) }),
		look.NewKeyButton("Browse the tables", "B", func() { host.Go(card.Route{Screen: card.Handbook, Part: TablesPart}) }))
	v.known = look.Rows(14, look.NewPanel(14, look.Rows(10, v.drawing, v.facts)), v.alike.rows)
	v.scroll = look.NewScroller(look.Rows(12, look.Rows(2, v.title, v.family), v.notices, v.nearest, v.known))
	v.root = look.Fill(12, v.field, v.empty, v.scroll, caution())
	v.ask(about)
	return v
}

func (v *lookUpView) object() fyne.CanvasObject { return v.root }

func (v *lookUpView) changed() { v.model.Again() }

func (v *lookUpView) query(text string) { v.ask(text) }

func (v *lookUpView) saved() any { return v.model.State().Query }

func (v *lookUpView) restore(saved any) {
	if query, ok := saved.(string); ok {
		v.ask(query)
	}
}

// typed follows the field.
func (v *lookUpView) typed(text string) {
	if !v.quietly {
		v.model.Ask(text)
	}
}

// ask looks something up that was not typed into the field.
func (v *lookUpView) ask(text string) {
	v.quietly = true
	v.field.SetText(text)
	v.quietly = false
	v.model.Ask(text)
}

func (v *lookUpView) render(s LookUpState) {
	v.title.SetText(s.Title)
	v.family.SetText(s.Family)
	v.title.Hidden, v.family.Hidden = s.Title == "", s.Family == ""
	v.renderNotices(s)
	v.facts.SetFacts(s.Facts)
	v.alike.set(s.Alike)
	v.drawing.Objects = nil
	v.renderDrawing(s)
	v.known.Hidden = s.Designation == ""
	v.empty.Hidden, v.scroll.Hidden = s.Query != "", s.Query == ""
	v.root.Refresh()
	v.scroll.ToTop()
	showPiece(v.host, s.Card, findID)
}

// trueSize draws at true size or to fit; the screen is measured first.
func (v *lookUpView) trueSize() {
	v.atTrue = !v.atTrue
	if v.atTrue && scale() <= 0 {
		v.atTrue = false
		askScale(v.host, func() {
			v.atTrue = true
			v.redraw()
		})
	}
	v.redraw()
}

func (v *lookUpView) redraw() {
	v.renderDrawing(v.model.State())
	v.root.Refresh()
}

// renderDrawing draws every view of the piece.
func (v *lookUpView) renderDrawing(s LookUpState) {
	words, label := s.Drawn, "True size"
	if v.atTrue {
		words, label = "at true size on this screen: lay the piece on it"+strings.TrimPrefix(s.Drawn, "drawn to scale"), "Larger"
	}
	views := look.Line()
	for _, p := range s.Pictures {
		picture := drawn(p, 300, 80)
		if v.atTrue {
			picture.SetTrueSize(scale())
		}
		views.Add(picture)
	}
	v.size.SetLabel(label)
	v.again.Hidden = !v.atTrue
	v.drawing.Hidden = len(s.Pictures) == 0
	v.drawing.Objects = []fyne.CanvasObject{views, look.Line(look.NewFoot(words), look.Gap(), v.again, v.size)}
}

// renderNotices shows what is to be said first, and the ways on.
func (v *lookUpView) renderNotices(s LookUpState) {
	v.nearest.Objects = nil
	list := s.Notices
	if s.Error != "" {
		list = append(list, card.Notice{Tone: card.Stop, Text: s.Error})
	}
	notices(v.notices, list)
	if s.Successor != "" {
		v.nearest.Add(look.NewKeyButton("Show "+s.Successor, "N", func() { lookUp(v.host, s.Successor) }))
	}
	for i, d := range s.Nearest {
		key := ""
		if i < 9 {
			key = string(rune('1' + i))
		}
		v.nearest.Add(look.NewKeyButton(d, key, func() { lookUp(v.host, d) }))
	}
	v.nearest.Hidden = len(v.nearest.Objects) == 0
}
